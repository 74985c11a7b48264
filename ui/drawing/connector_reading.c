/* connector_reading.c - U or V as measured on the line: the legs, their opening, the circle of the
 * roof radius, and the word. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Dotted: a measuring aid.  The circle has a spoke from its middle to the roof, as neither cutter
 * nor room has. */
#include "ui/drawing/connector_layers.h"

#define LEG_SHARE 0.55      /* of the depth: how high above the feet the legs are drawn */
#define FLAT_RADIUS_MM 9.99 /* larger ones are no figure (ui/trace/reading_text.c)      */
#define LEAST_CIRCLE_PX 2.0
#define CANDIDATES 84

static const TextStyle word_style = {TEXT_TITLE, true, false, COLOUR_TEXT, ALIGN_LEFT};
static const TextStyle note = {TEXT_NOTE, false, false, COLOUR_TEXT, ALIGN_LEFT};

const char *form_word(FormKind kind)
{
  static const char *const word[] = {N_("flat"), N_("U shape"), N_("between U and V"),
                                     N_("V shape")};
  return (unsigned)kind <= FORM_V ? word[kind] : "";
}

static void dotted(const ConnectorSheet *s, double width)
{
  ink_use(s->cr, s->context, COLOUR_INK);
  ink_width(s->cr, s->context, width);
  ink_dash(s->cr, s->context, DOT_CUTTER);
}

/* From each foot as steep as its leg leans. */
static void draw_legs(const ConnectorSheet *s)
{
  const Form *form = &s->answer->form;
  double up = LEG_SHARE * form->depth, in[2] = {tan(form->leg_lean_left_deg * M_PI / 180),
                                                -tan(form->leg_lean_right_deg * M_PI / 180)};
  dotted(s, 1.2);
  for (int k = 0; k < 2; k++)
    draw_line(s->cr, view_px(s->view, form->foot[k]),
              view_px(s->view, point(form->foot[k].x + in[k] * up, form->foot[k].y + up)));
}

/* The circle that touches the roof where it is sharpest, from the open side; of a flat roof the arc
 * as wide as the embrasure.  *beside: px, where its label belongs. */
static void draw_roof_circle(const ConnectorSheet *s, Point *beside)
{
  const Form *form = &s->answer->form;
  const Outline *line = &s->drawn->side[SIDE_GINGIVAL];
  Point roof = form->roof_sharpest, along = {0, 0};
  *beside = view_px(s->view, roof);
  if (line->n < 2 || !point_finite(roof) || !(form->roof_radius.value > 0))
    return;
  outline_derivatives(line, outline_nearest(line, roof, NULL), &along, NULL);
  double length = point_length(along), radius = form->roof_radius.value;
  /* material is on the left of the line, the open side on the right */
  Point open = length > 0 ? point_scale(point(along.y, -along.x), 1 / length) : point(0, -1);
  Point centre = view_px(s->view, point_add(roof, point_scale(open, radius))), top = *beside;
  double r = fmax(radius * s->view.scale, px(s->context, LEAST_CIRCLE_PX)),
         wide = (form->foot[1].x - form->foot[0].x) / 2,
         middle = atan2(top.y - centre.y, top.x - centre.x);
  dotted(s, 1.4);
  if (radius < wide) {
    path_circle(s->cr, centre, r);
    cairo_stroke(s->cr);
    ink_width(s->cr, s->context, 1);
    draw_line(s->cr, centre, top);
    path_circle(s->cr, centre, px(s->context, 2));
    cairo_fill(s->cr);
    return;
  }
  double half = fmin(wide / radius, M_PI / 2);
  cairo_new_sub_path(s->cr);
  cairo_arc(s->cr, centre.x, centre.y, r, middle - half, middle + half);
  cairo_stroke(s->cr);
}

/* "V shape" above "roof radius 0.42 mm (0.38–0.47)". */
static void draw_form_plate(const ConnectorSheet *s, Places *places, Point at)
{
  const Form *form = &s->answer->form;
  const char *word = text_word(s->context, form_word(form->kind));
  char radius[TEXT_ROOM];
  const Banded *r = &form->roof_radius;
  if (r->value > FLAT_RADIUS_MM)
    say(s->context, radius, N_("roof radius above {0} mm"), FLAT_RADIUS_MM, 0, 0, 0);
  else
    say(s->context, radius, N_("roof radius {0.2} mm ({1.2}–{2.2})"), r->value, r->low, r->high, 0);
  double pad = px(s->context, 10), height = px(s->context, 46),
         width = fmax(text_width(s->cr, s->context, word_style, word),
                      text_width(s->cr, s->context, note, radius)) +
                 2 * pad;
  static const double far[] = {70, 40, 110, 160, 220, 280}, up[] = {0, -1.3, 1.3, -0.7, 0.7, 2, -2};
  Box candidate[CANDIDATES];
  for (int k = 0; k < CANDIDATES; k++) {
    double gap = px(s->context, far[k / 14]), y = at.y + up[k / 2 % 7] * height;
    candidate[k] = (Box){k % 2 ? at.x + gap : at.x - gap - width, y - height / 2, width, height};
  }
  int found = places_find_off_line(s, places, candidate, CANDIDATES);
  if (found < 0)
    return;
  Box box = candidate[found];
  ink_use(s->cr, s->context, COLOUR_INK);
  ink_width(s->cr, s->context, 1);
  draw_line(s->cr, at,
            point(box.x > at.x ? box.x : box.x + box.width,
                  fmin(fmax(at.y, box.y + pad), box.y + box.height - pad)));
  draw_plate(s->cr, s->context, box, palette_colour(s->context->palette, COLOUR_RULE), 1);
  text_draw(s->cr, s->context, word_style, point(box.x + pad, box.y + px(s->context, 20)), word);
  text_draw(s->cr, s->context, note, point(box.x + pad, box.y + px(s->context, 38)), radius);
}

void draw_reading(const ConnectorSheet *s, Places *places)
{
  Point roof;
  if (s->answer->form.kind == FORM_NONE)
    return;
  draw_legs(s);
  draw_roof_circle(s, &roof);
  if (!layer(s, LAYER_SIZES)) /* they show it already */
    draw_opening(s, places);
  draw_form_plate(s, places, roof);
}
