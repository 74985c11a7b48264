/* connector_sizes.c - sizes of the embrasure on the elevation: thin lines with their labels, which
 * keep clear of each other and of the hot spot. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/connector_layers.h"

#define LEAST_OPENING_DEG 4 /* flatter legs meet too far away for an arc */
#define ARC_SHARE 0.22      /* of the depth: how high above the feet the arc of the angle stands */
#define STEPS 5             /* up and down, for each distance and side */
#define CANDIDATES (4 * 2 * STEPS)

static const TextStyle name = {TEXT_NOTE, false, false, COLOUR_TEXT, ALIGN_LEFT};
static const TextStyle figure = {TEXT_NOTE, true, false, COLOUR_ACCENT, ALIGN_LEFT};

static void thin(const ConnectorSheet *s)
{
  ink_use(s->cr, s->context, COLOUR_DIM);
  ink_width(s->cr, s->context, 1);
}

/* Where a line from `from` meets the edge of the box. */
static Point box_edge(Box box, Point from)
{
  return point(fmin(fmax(from.x, box.x), box.x + box.width),
               fmin(fmax(from.y, box.y), box.y + box.height));
}

/* The label of a size at the first free place round `at`; `side`: -1 rather left, +1 rather right.
 * A leader when it stands off. */
static void label_draw(const ConnectorSheet *s, Places *places, SizeKind kind, Point at, int side)
{
  char words[TEXT_ROOM], number[TEXT_ROOM];
  static const char *const word[SIZE_KINDS] = {[SIZE_RADIUS] = N_("radius"),
                                               [SIZE_DEPTH] = N_("depth"),
                                               [SIZE_OPENING] = N_("opening"),
                                               [SIZE_MOUTH] = N_("mouth")};
  g_snprintf(words, sizeof words, "%s ", text_word(s->context, word[kind]));
  say(s->context, number, size_is_angle(kind) ? N_("{0.1}°") : N_("{0.2} mm"),
      size_of_form(&s->answer->form, kind), 0, 0, 0);
  double pad = px(s->context, 6), first = text_width(s->cr, s->context, name, words),
         width = first + text_width(s->cr, s->context, figure, number) + 2 * pad,
         height = px(s->context, 22);
  static const double far[] = {0, 26, 54, 96}, up[STEPS] = {0, -1.25, 1.25, -2.5, 2.5};
  Box candidate[CANDIDATES];
  int n = 0;
  for (size_t f = 0; f < G_N_ELEMENTS(far); f++)
    for (int turn = 0; turn < 2; turn++)
      for (size_t u = 0; u < STEPS; u++) {
        double gap = px(s->context, 5 + far[f]);
        bool right = (side > 0) == (turn == 0);
        candidate[n++] = (Box){right ? at.x + gap : at.x - gap - width,
                               at.y + up[u] * height - height / 2, width, height};
      }
  int found = places_find_off_line(s, places, candidate, (size_t)n);
  if (found < 0)
    return;
  Box box = candidate[found];
  thin(s);
  if (found >= 2 * STEPS || found % STEPS)
    draw_line(s->cr, at, box_edge(box, at));
  draw_plate(s->cr, s->context, box, palette_colour(s->context->palette, COLOUR_LINE), 1);
  text_draw(s->cr, s->context, name, point(box.x + pad, box.y + px(s->context, 15.5)), words);
  text_draw(s->cr, s->context, figure, point(box.x + pad + first, box.y + px(s->context, 15.5)),
            number);
  if (s->picture->size_box)
    s->picture->size_box[kind] = box;
}

/* Beside the left foot: from the level of the roof down to that of the feet. */
static void draw_depth(const ConnectorSheet *s, Places *places)
{
  const Form *form = &s->answer->form;
  Point roof = view_px(s->view, form->roof), left = view_px(s->view, form->foot[0]);
  double x = left.x - px(s->context, 26), low = roof.y + form->depth * s->view.scale;
  thin(s);
  ink_dash(s->cr, s->context, DOT_ROOM);
  draw_line(s->cr, point(x - px(s->context, 4), roof.y),
            point(roof.x - px(s->context, 20), roof.y));
  draw_dimension(s->cr, s->context, point(x, roof.y), point(x, low));
  label_draw(s, places, SIZE_DEPTH, point(x, (roof.y + 2 * low) / 3), -1);
}

/* Below the gum line, from foot to foot. */
static void draw_mouth(const ConnectorSheet *s, Places *places)
{
  const Form *form = &s->answer->form;
  Point left = view_px(s->view, form->foot[0]), right = view_px(s->view, form->foot[1]);
  double y = fmax(left.y, right.y) + px(s->context, 9);
  draw_dimension(s->cr, s->context, point(left.x, y), point(right.x, y));
  label_draw(s, places, SIZE_MOUTH, point(right.x, y), 1);
}

static void draw_radius(const ConnectorSheet *s, Places *places)
{
  Point at = view_px(s->view, s->answer->form.roof_sharpest);
  if (point_finite(at))
    label_draw(s, places, SIZE_RADIUS, at, -1);
}

/* An arc from leg to leg about the place where they would meet. */
void draw_opening(const ConnectorSheet *s, Places *places)
{
  const Form *form = &s->answer->form;
  double a = tan(form->leg_lean_left_deg * M_PI / 180),
         b = tan(form->leg_lean_right_deg * M_PI / 180);
  Point foot[2] = {form->foot[0], form->foot[1]};
  double level = (foot[0].y + foot[1].y) / 2 + ARC_SHARE * form->depth;
  Point end = view_px(s->view, point(foot[1].x - (level - foot[1].y) * b, level));
  if (form->opening_deg >= LEAST_OPENING_DEG && a + b > 0) {
    /* up from the left foot the left leg is at x0 + a h, the right one at x1 - b h */
    double h = (foot[1].x - foot[0].x) / (a + b);
    Point apex = view_px(s->view, point(foot[0].x + a * h, foot[0].y + h));
    double radius = point_distance(apex, end), right = atan2(end.y - apex.y, end.x - apex.x);
    thin(s);
    ink_dash(s->cr, s->context, DOT_CUTTER);
    cairo_new_sub_path(s->cr);
    cairo_arc(s->cr, apex.x, apex.y, radius, right, right + form->opening_deg * M_PI / 180);
    cairo_stroke(s->cr);
  }
  label_draw(s, places, SIZE_OPENING, end, 1);
}

void draw_sizes(const ConnectorSheet *s, Places *places)
{
  if (s->answer->form.kind == FORM_NONE)
    return;
  draw_depth(s, places);
  draw_mouth(s, places);
  draw_radius(s, places);
  draw_opening(s, places);
}
