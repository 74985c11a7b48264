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

static void draw_body(cairo_t *cr, int width, int height, const DrawContext *context, View view,
                      const Connector *c, const Shaded *shaded, double limit)
{
  plan_path(cr, view, c);
  ink_colour(cr, palette_stress(context->palette, 0));
  cairo_fill(cr);
  if (shaded) {
    double resolution = context->resolution > 0 ? context->resolution : 1;
    ShadeStyle style = shade_style(context->palette, limit, context->scale);
    style.hatch_px = 6 * context->scale;
    cairo_surface_t *shade =
        shade_surface(width, height, resolution, view, shaded->sheet, shaded->value, &style);
    plan_path(cr, view, c);
    fill_with(cr, shade);
    cairo_surface_destroy(shade);
  }
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 2);
  for (int side = SIDE_BUCCAL; side <= SIDE_LINGUAL; side++) {
    path_outline(cr, view, &c->side[side]);
    cairo_stroke(cr);
  }
}

/* The width stands beside the neck, in the open embrasure: the hot spot lies on the gum side of the
 * neck. */
static void draw_width(cairo_t *cr, const DrawContext *context, View view,
                       const ConnectorAssessment *c, double z_low, double z_high, double right)
{
  char buf[TEXT_ROOM];
  TextStyle style = {TEXT_BODY, true, true, COLOUR_TEXT, ALIGN_LEFT};
  double x = right - px(context, 34);
  Point low = view_px(view, point(0, z_low)), high = view_px(view, point(0, z_high));
  double neck = view_px(view, point(c->form.neck_x, 0)).x;
  ink_use(cr, context, COLOUR_RULE);
  ink_width(cr, context, 1);
  ink_dash(cr, context, DOT_TRACK);
  draw_line(cr, point(neck, low.y), point(x, low.y));
  draw_line(cr, point(neck, high.y), point(x, high.y));
  draw_dimension(cr, context, point(x, low.y), point(x, high.y));
  text_draw(cr, context, style, point(x + px(context, 6), (low.y + high.y) / 2 + px(context, 5)),
            say_number(context, buf, c->form.neck_width, 1));
}

static double plan_at(const Outline *outline, double x)
{
  double t = outline_nearest(outline, point(x, 0), NULL);
  return outline_at(outline, t).y;
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
  draw_body(cr, width, height, context, view, c, shaded, connector_limit(answer, at_order));
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
    draw_width(cr, context, view, answer, plan_at(&c->side[SIDE_LINGUAL], neck_x),
               plan_at(&c->side[SIDE_BUCCAL], neck_x), width);
  shaded_free(own);
}
