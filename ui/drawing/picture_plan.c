/* picture_plan.c - see picture_plan.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_plan.h"
#include "base/tolerance.h"
#include "ui/drawing/picture_connector.h"

#define HALF_SHOWN_MM 3.2 /* to either side of the neck */

static void plan_path(cairo_t *cr, View view, const Connector *c)
{
  cairo_new_path(cr);
  path_outline_on(cr, view, &c->side[SIDE_BUCCAL], false);
  path_outline_on(cr, view, &c->side[SIDE_LINGUAL], true);
  cairo_close_path(cr);
}

static double widest(const Connector *c)
{
  double half = 1;
  for (int side = SIDE_BUCCAL; side <= SIDE_LINGUAL; side++)
    for (size_t i = 0; i < c->side[side].n; i++)
      half = fmax(half, fabs(c->side[side].knot[i].at.y));
  return fmin(half, MAX_SIZE_MM);
}

cairo_surface_t *plan_shade(int width, int height, const DrawContext *context, View view,
                            const Shaded *shaded, double limit)
{
  double resolution = context->resolution > 0 ? context->resolution : 1;
  ShadeStyle style = shade_style(context->palette, limit, context->scale);
  style.hatch_px = 6 * context->scale;
  return shade_surface(width, height, resolution, view, shaded->sheet, shaded->value, &style);
}

void plan_body(cairo_t *cr, const DrawContext *context, View view, const Connector *c,
               cairo_surface_t *shade, double alpha)
{
  plan_path(cr, view, c);
  ink_colour(cr, palette_stress(context->palette, 0));
  cairo_fill(cr);
  if (shade) {
    if (alpha < 1)
      cairo_push_group(cr);
    plan_path(cr, view, c);
    fill_with(cr, shade);
    if (alpha < 1) {
      cairo_pop_group_to_source(cr);
      cairo_paint_with_alpha(cr, alpha);
    }
  }
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 2);
  for (int side = SIDE_BUCCAL; side <= SIDE_LINGUAL; side++) {
    path_outline(cr, view, &c->side[side]);
    cairo_stroke(cr);
  }
}

static double plan_at(const Outline *outline, double x)
{
  double t = outline_nearest(outline, point(x, 0), NULL);
  return outline_at(outline, t).y;
}

/* The width stands beside the neck, in the open embrasure: the hot spot lies on the gum side of the
 * neck. */
void plan_width(cairo_t *cr, const DrawContext *context, View view, const Connector *c,
                double neck_x, double neck_width, double right)
{
  char buf[TEXT_ROOM];
  TextStyle style = {TEXT_BODY, true, true, COLOUR_TEXT, ALIGN_LEFT};
  double x = right - px(context, 34);
  Point low = view_px(view, point(neck_x, plan_at(&c->side[SIDE_LINGUAL], neck_x))),
        high = view_px(view, point(neck_x, plan_at(&c->side[SIDE_BUCCAL], neck_x)));
  double neck = low.x;
  ink_use(cr, context, COLOUR_RULE);
  ink_width(cr, context, 1);
  ink_dash(cr, context, DOT_TRACK);
  draw_line(cr, point(neck, low.y), point(x, low.y));
  draw_line(cr, point(neck, high.y), point(x, high.y));
  draw_dimension(cr, context, point(x, low.y), point(x, high.y));
  text_draw(cr, context, style, point(x + px(context, 6), (low.y + high.y) / 2 + px(context, 5)),
            say_number(context, buf, neck_width, 1));
}

void picture_plan(cairo_t *cr, int width, int height, const DrawContext *context,
                  const Assessment *a, size_t connector, bool at_order, const Shaded *shaded,
                  const Advice *advice)
{
  if (width <= 0 || height <= 0 || connector >= a->n_connector)
    return;
  const ConnectorAssessment *answer = &a->connector[connector];
  const Connector *c = &a->c.connector[connector];
  if (c->side[SIDE_BUCCAL].n < 2 || c->side[SIDE_LINGUAL].n < 2)
    return;
  Shaded *own = NULL;
  if (!shaded && answer->field &&
      shaded_new(answer->field, SHEET_GUM_SIDE, at_order ? answer->order : answer->trial, &own) ==
          FAULT_NONE)
    shaded = own;
  double words = fmin(px(context, 19), height / 8.0), side = px(context, 34), half = widest(c);
  double neck_x = isfinite(answer->form.neck_x) ? answer->form.neck_x : 0;
  View view = {fmin((width - side) / (2 * HALF_SHOWN_MM), (height - 2 * words) / (2 * half + 0.2)),
               0, height / 2.0};
  view.scale = fmax(view.scale, 1);
  double left = 0, right = width - side;
  view.x = (left + right) / 2 - view.scale * neck_x;
  cairo_save(cr);
  cairo_rectangle(cr, left, words, right - left, height - 2 * words);
  cairo_clip(cr);
  cairo_surface_t *shade =
      shaded ? plan_shade(width, height, context, view, shaded, connector_limit(answer, at_order))
             : NULL;
  plan_body(cr, context, view, c, shade, 1);
  cairo_surface_destroy(shade);
  if (advice && advice->kind == ADVICE_WIDEN && advice->ghost.n >= 2) {
    ink_use(cr, context, COLOUR_ACCENT);
    ink_width(cr, context, 2.2);
    ink_dash(cr, context, DASH_GHOST);
    path_outline(cr, view, &advice->ghost);
    cairo_stroke(cr);
  }
  cairo_restore(cr);
  TextStyle note = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT};
  TextStyle centred = {TEXT_NOTE, false, true, COLOUR_DIM, ALIGN_CENTRE};
  if (!shaded && answer->field)
    text_draw(cr, context, centred, point((left + right) / 2, height / 2.0 + px(context, 4)),
              text_word(context, UNSHADED_WORDS));
  if (height > px(context, 80)) {
    text_draw(cr, context, note, point(0, px(context, 12)), text_word(context, N_("cheek")));
    text_draw(cr, context, note, point(0, height - px(context, 5)),
              text_word(context, N_("tongue")));
  }
  if (answer->form.neck_width > 0 && width > px(context, 90))
    plan_width(cr, context, view, c, neck_x, answer->form.neck_width, width);
  shaded_free(own);
}
