/* picture_shape.c - see picture_shape.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_shape.h"
#include "ui/drawing/ink.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/picture_plan.h"
#include "ui/drawing/text.h"
#include "ui/words.h"

#define POINT_PX 8.0

static void box_draw(cairo_t *cr, const DrawContext *context, View view, NeckHalves neck)
{
  Point low = view_px(view, point(-neck.lingual, -neck.height)),
        high = view_px(view, point(neck.buccal, neck.height));
  ink_use(cr, context, COLOUR_RULE);
  ink_width(cr, context, 1);
  ink_dash(cr, context, DASH_NECK);
  path_box(cr, (Box){low.x, high.y, high.x - low.x, low.y - high.y}, 0);
  cairo_stroke(cr);
  ink_dash(cr, context, DOT_TRACK);
  draw_line(cr, point(view.x, low.y), point(view.x, high.y));
  draw_line(cr, point(low.x, view.y), point(high.x, view.y));
  TextStyle left = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT},
            middle = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_CENTRE};
  double gap = px(context, 8), aside = px(context, POINT_PX + 8);
  text_draw(cr, context, middle, point(view.x, low.y + 3.6 * gap),
            text_word(context, N_("gum side")));
  text_draw(cr, context, middle, point(view.x, high.y - 2 * gap),
            text_word(context, N_("biting side")));
  text_draw(cr, context, left, point(high.x + aside, view.y + gap / 2),
            text_word(context, N_("cheek")));
  const char *tongue = text_word(context, N_("tongue"));
  text_draw(cr, context, left,
            point(fmax(2, low.x - aside - text_width(cr, context, left, tongue)), view.y), tongue);
}

static void points_draw(cairo_t *cr, const DrawContext *context, View view, const Outline *section,
                        size_t knot)
{
  ink_dash(cr, context, (const double[]){0});
  for (size_t i = 0; i < section->n; i++) {
    Point at = view_px(view, section->knot[i].at);
    bool chosen = i == knot;
    path_circle(cr, at, px(context, chosen ? POINT_PX + 2 : POINT_PX));
    ink_use(cr, context, chosen ? COLOUR_ACCENT : COLOUR_CARD);
    cairo_fill_preserve(cr);
    ink_use(cr, context, chosen ? COLOUR_INK : COLOUR_ACCENT);
    ink_width(cr, context, chosen ? 2.5 : 2);
    cairo_stroke(cr);
  }
}

void section_picture(cairo_t *cr, const DrawContext *context, View view, NeckHalves neck,
                     const Outline *section, bool points, size_t knot)
{
  box_draw(cr, context, view, neck);
  cairo_new_path(cr);
  path_outline(cr, view, section);
  cairo_close_path(cr);
  ink_colour(cr, palette_stress(context->palette, 0));
  cairo_fill_preserve(cr);
  ink_dash(cr, context, (const double[]){0});
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 2.2);
  cairo_stroke(cr);
  if (points)
    points_draw(cr, context, view, section, knot);
}

/* ---- the plan ---- */

#define PLAN_SIDE_PX 46.0  /* to the left of it, for the words cheek and tongue */
#define PLAN_WIDTH_PX 54.0 /* to the right, for the width */
#define PLAN_EDGE_PX 30.0  /* above and below */

View plan_shape_view(int width, int height, const DrawContext *context, const Connector *c)
{
  double low = INFINITY, high = -INFINITY, most = 0.5;
  for (int side = SIDE_BUCCAL; side <= SIDE_LINGUAL; side++)
    for (size_t i = 0; i < c->side[side].n; i++) {
      Point at = c->side[side].knot[i].at;
      low = fmin(low, at.x);
      high = fmax(high, at.x);
      most = fmax(most, fabs(at.y));
    }
  if (!(high > low))
    return (View){1, width / 2.0, height / 2.0};
  double left = px(context, PLAN_SIDE_PX), right = width - px(context, PLAN_WIDTH_PX);
  View view = {
      fmin((right - left) / (high - low), (height - 2 * px(context, PLAN_EDGE_PX)) / (2 * most)), 0,
      height / 2.0};
  view.scale = fmax(view.scale, 1);
  view.x = (left + right) / 2 - view.scale * (low + high) / 2;
  return view;
}

/* Between which teeth, and which side is which: beside the body, where no point stands. */
static void plan_words(cairo_t *cr, int width, int height, const DrawContext *context, View view,
                       const PlanShape *plan)
{
  char buf[TEXT_ROOM];
  TextStyle note = {TEXT_NOTE, false, true, COLOUR_DIM, ALIGN_CENTRE},
            tooth = {TEXT_BODY, true, true, COLOUR_TEXT, ALIGN_CENTRE};
  double neck = view.x + view.scale * (isfinite(plan->neck_x) ? plan->neck_x : 0);
  text_draw(cr, context, note, point(neck, px(context, 18)), text_word(context, N_("cheek")));
  text_draw(cr, context, note, point(neck, height - px(context, 8)),
            text_word(context, N_("tongue")));
  for (int i = 0; i < 2; i++) {
    const Outline *cheek = &plan->drawn->side[SIDE_BUCCAL];
    double end = view_px(view, cheek->knot[i ? cheek->n - 1 : 0].at).x;
    double x = i ? fmin(end, width) - px(context, 26) : fmax(end, 0) + px(context, 26);
    text_draw(cr, context, tooth, point(x, view.y + px(context, 5)),
              say_number(context, buf, plan->tooth[i], 0));
  }
  if (plan->unshaded)
    text_draw(cr, context, note, point(neck, view.y - px(context, 12)),
              text_word(context, UNSHADED_WORDS));
}

static void plan_trouble(cairo_t *cr, const DrawContext *context, int height, double x)
{
  static const double dashes[] = {3, 4, 0};
  ink_use(cr, context, COLOUR_TEXT);
  ink_width(cr, context, 2);
  ink_dash(cr, context, dashes);
  draw_line(cr, point(x, px(context, PLAN_EDGE_PX)), point(x, height - px(context, PLAN_EDGE_PX)));
}

void plan_shape_picture(cairo_t *cr, int width, int height, const DrawContext *context, View view,
                        const PlanShape *plan)
{
  const Connector *c = plan->drawn;
  if (c->side[SIDE_BUCCAL].n < 2 || c->side[SIDE_LINGUAL].n < 2)
    return;
  plan_body(cr, context, view, c, plan->shade, plan->late ? 0.5 : 1);
  ink_use(cr, context, COLOUR_RULE);
  ink_width(cr, context, 1);
  ink_dash(cr, context, DOT_TRACK);
  draw_line(cr, point(0, view.y), point(width, view.y));
  if (isfinite(plan->neck_x)) {
    double x = view_px(view, point(plan->neck_x, 0)).x;
    ink_dash(cr, context, DASH_NECK);
    draw_line(cr, point(x, px(context, PLAN_EDGE_PX)),
              point(x, height - px(context, PLAN_EDGE_PX)));
    if (plan->neck_width > 0)
      plan_width(cr, context, view, c, plan->neck_x, plan->neck_width, width - px(context, 14));
  }
  plan_words(cr, width, height, context, view, plan);
  if (isfinite(plan->trouble_x))
    plan_trouble(cr, context, height, view_px(view, point(plan->trouble_x, 0)).x);
  points_draw(cr, context, view, &c->side[SIDE_BUCCAL], plan->knot[0]);
  points_draw(cr, context, view, &c->side[SIDE_LINGUAL], plan->knot[1]);
}
