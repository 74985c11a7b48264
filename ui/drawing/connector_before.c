/* connector_before.c - the gum-side line as it was before its last change, and what changed it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * It could be so again by one undo, so it is dashed as what could be; grey, thin and in short
 * strokes, where the ghost of an advice is coloured, wide and in long ones. */
#include "ui/drawing/connector_layers.h"

#define CANDIDATES 40

static const TextStyle label = {TEXT_NOTE, false, true, COLOUR_TEXT, ALIGN_LEFT};

void draw_before(const ConnectorSheet *s)
{
  if (!s->picture->before || s->picture->before->n < 2)
    return;
  cairo_save(s->cr); /* where bodies stand on the tissue nothing changes */
  cairo_rectangle(s->cr, 0, 0, s->width, fmax(s->view.y - px(s->context, 2), 0));
  cairo_clip(s->cr);
  path_outline(s->cr, s->view, s->picture->before);
  ink_use(s->cr, s->context, COLOUR_PAPER);
  ink_width(s->cr, s->context, 3.2);
  cairo_stroke_preserve(s->cr);
  ink_use(s->cr, s->context, COLOUR_DIM);
  ink_width(s->cr, s->context, 1.4);
  ink_dash(s->cr, s->context, DASH_BEFORE);
  cairo_stroke(s->cr);
  cairo_restore(s->cr);
}

/* "before: Move knot", with a leader from where the two lines lie furthest apart. */
void draw_before_label(const ConnectorSheet *s, Places *places)
{
  const Outline *before = s->picture->before, *now = &s->drawn->side[SIDE_GINGIVAL];
  if (!before || before->n < 2 || now->n < 2)
    return;
  Point tip = point(NAN, NAN);
  int side = 0;
  double widest = GHOST_TAKEN_MM, away;
  for (int k = 1; k >= -1; k -= 2) {
    Point place = outline_widest(before, now, s->answer->form.neck_x, k);
    outline_nearest(now, place, &away);
    if (away > widest) {
      widest = away;
      tip = view_px(s->view, place);
      side = k;
    }
  }
  if (side == 0)
    return;
  char words[TEXT_ROOM];
  const char *step = s->picture->before_step;
  if (step)
    g_snprintf(words, sizeof words, "%s: %s", text_word(s->context, N_("line before")),
               text_word(s->context, step));
  else
    g_strlcpy(words, text_word(s->context, N_("line before")), sizeof words);
  double width = text_width(s->cr, s->context, label, words), height = px(s->context, 20);
  static const double far[] = {30, 60, 110, 170}, up[] = {0.9, -1.2, 2.4, -2.6, -4};
  Box candidate[CANDIDATES];
  for (int k = 0; k < CANDIDATES; k++) {
    int right = k % 2 ? -side : side;
    double gap = px(s->context, far[k / 10]), y = tip.y + up[k / 2 % 5] * height;
    candidate[k] =
        (Box){right > 0 ? tip.x + gap : tip.x - gap - width, y - height / 2, width, height};
  }
  int found = places_find(places, candidate, CANDIDATES);
  if (found < 0)
    return;
  Box box = candidate[found];
  bool right = box.x > tip.x;
  ink_use(s->cr, s->context, COLOUR_DIM);
  ink_width(s->cr, s->context, 1);
  draw_line(s->cr, tip,
            point(right ? box.x - px(s->context, 5) : box.x + width + px(s->context, 5),
                  box.y + height / 2));
  text_draw(s->cr, s->context, label, point(box.x, box.y + px(s->context, 14.5)), words);
}
