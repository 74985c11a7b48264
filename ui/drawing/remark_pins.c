/* remark_pins.c - see remark_pins.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/remark_pins.h"

#define RADIUS_PX 12.0
#define HANG_PX 27.0 /* tip to the middle of the drop */
#define PLATE_PX 190.0
#define PLATE_LINES 4

Point pin_middle(const DrawContext *context, Point tip)
{
  return point(tip.x, tip.y + px(context, HANG_PX));
}

bool pin_hit(const DrawContext *context, Point tip, Point at)
{
  return point_distance(pin_middle(context, tip), at) <= px(context, PIN_REACH_PX);
}

char *pin_words(unsigned number, const char *initials, const char *text)
{
  return *initials ? g_strdup_printf("%u · %s: %s", number, initials, text)
                   : g_strdup_printf("%u · %s", number, text);
}

void draw_pin(cairo_t *cr, const DrawContext *context, Point tip, unsigned number, bool strong)
{
  Point middle = pin_middle(context, tip);
  double r = px(context, RADIUS_PX), lean = asin(RADIUS_PX / HANG_PX);
  cairo_new_path(cr);
  cairo_move_to(cr, tip.x, tip.y);
  cairo_arc(cr, middle.x, middle.y, r, -lean, M_PI + lean);
  cairo_close_path(cr);
  ink_use(cr, context, strong ? COLOUR_ACCENT : COLOUR_CARD);
  cairo_fill_preserve(cr);
  ink_use(cr, context, strong ? COLOUR_CARD : COLOUR_INK);
  ink_width(cr, context, 1.6);
  cairo_stroke(cr);
  char buf[TEXT_ROOM];
  TextStyle style = {TEXT_NOTE, true, false, strong ? COLOUR_ON_ACCENT : COLOUR_TEXT, ALIGN_CENTRE};
  g_snprintf(buf, sizeof buf, "%u", number);
  text_draw(cr, context, style, point(middle.x, middle.y + px(context, 4.5)), buf);
}

bool draw_pin_words(cairo_t *cr, const DrawContext *context, Places *places, Point tip,
                    const char *head, const char *words)
{
  const TextStyle note = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT},
                  plain = {TEXT_BODY, false, false, COLOUR_TEXT, ALIGN_LEFT};
  double inset = px(context, 10), width = px(context, PLATE_PX), line = px(context, 20),
         above = head ? line : 0,
         tall = text_column(cr, context, plain, tip, width - 2 * inset, PLATE_LINES, true, words);
  double height = above + tall + px(context, 12);
  Point middle = pin_middle(context, tip);
  static const double far[] = {70, 130, 30, 200}, up[] = {0.2, 0.8, 0.5, 1.1};
  Box candidate[32];
  int n = 0;
  for (int k = 0; k < 4; k++)
    for (int u = 0; u < 4; u++)
      for (int side = -1; side <= 1; side += 2) {
        double gap = px(context, far[k]);
        candidate[n++] = (Box){side > 0 ? middle.x + gap : middle.x - gap - width,
                               middle.y - up[u] * height, width, height};
      }
  int found = places_find(places, candidate, (size_t)n);
  if (found < 0)
    return false;
  Box box = candidate[found];
  bool right = box.x > middle.x;
  ink_use(cr, context, COLOUR_ACCENT);
  ink_width(cr, context, 1.6);
  draw_line(cr, point(middle.x + (right ? 1 : -1) * px(context, RADIUS_PX), middle.y),
            point(right ? box.x : box.x + width, fmin(fmax(middle.y, box.y), box.y + height)));
  draw_plate(cr, context, box, palette_colour(context->palette, COLOUR_ACCENT), 1.6);
  if (head)
    text_draw(cr, context, note, point(box.x + inset, box.y + px(context, 19)), head);
  text_column(cr, context, plain, point(box.x + inset, box.y + above + px(context, 20)),
              width - 2 * inset, PLATE_LINES, false, words);
  return true;
}
