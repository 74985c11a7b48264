/* picture_span.c - see picture_span.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_span.h"
#include "ui/drawing/gauges.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/signs.h"
#include "ui/drawing/silhouette.h"

typedef struct {
  cairo_t *cr;
  int width, height;
  const DrawContext *context;
  const SpanPicture *picture;
  const Assessment *a;
  SpanGeometry g;
} SpanSheet;

cairo_surface_t *span_shade(const SpanPicture *picture, int width, int height,
                            const DrawContext *context)
{
  double resolution = context->resolution > 0 ? context->resolution : 1;
  SpanGeometry g = span_geometry(picture, width, height, context);
  cairo_surface_t *surface = shade_surface_plain(width, height, resolution, context->palette);
  const float *share = NULL;
  const FieldSheet *sheet = picture->flat ? flat_bridge_sheet(picture->flat, &share) : NULL;
  if (surface && sheet) {
    ShadeStyle style = shade_style(context->palette, 1, context->scale);
    style.hatch_px = 6 * context->scale;
    shade_onto(surface, g.view, sheet, share, &style);
  }
  return surface;
}

static void draw_bodies(const SpanSheet *s)
{
  cairo_t *cr = s->cr;
  cairo_new_path(cr);
  path_silhouette(cr, s->g.view, s->a);
  ink_colour(cr, palette_stress(s->context->palette, 0));
  cairo_fill_preserve(cr);
  cairo_surface_t *shade = s->picture->shade
                               ? cairo_surface_reference(s->picture->shade)
                               : span_shade(s->picture, s->width, s->height, s->context);
  fill_with(cr, shade);
  if (s->picture->old) { /* what was: half way back to the bare body */
    path_silhouette(cr, s->g.view, s->a);
    ink_colour(cr, palette_faded(palette_stress(s->context->palette, 0), 0.55));
    cairo_fill(cr);
  }
  if (shade)
    cairo_surface_destroy(shade);
  cairo_new_path(cr);
  for (size_t i = 0; i < s->a->c.n_unit; i++)
    path_die(cr, s->g.view, s->a, i);
  ink_use(cr, s->context, COLOUR_RULE);
  ink_width(cr, s->context, 1.4);
  ink_dash(cr, s->context, DASH_DIE);
  cairo_stroke(cr);
  path_silhouette(cr, s->g.view, s->a);
  ink_use(cr, s->context, COLOUR_INK);
  ink_width(cr, s->context, 1.8);
  cairo_stroke(cr);
}

static void draw_teeth(const SpanSheet *s)
{
  TextStyle style = {TEXT_TITLE, true, false, COLOUR_TEXT, ALIGN_CENTRE};
  for (size_t i = 0; i < s->a->c.n_unit; i++) {
    char number[TEXT_ROOM];
    Point at = view_px(s->g.view, point(silhouette_middle(s->a, i), 0.33 * s->a->c.unit[i].height));
    g_snprintf(number, sizeof number, "%d", s->a->c.unit[i].tooth);
    if (text_width(s->cr, s->context, style, number) <
        0.9 * s->a->c.unit[i].length * s->g.view.scale)
      text_draw(s->cr, s->context, style, point(at.x, at.y + px(s->context, 3)), number);
  }
}

/* Load, its words and the track it runs on. */
static void draw_load(const SpanSheet *s)
{
  const SpanGeometry *g = &s->g;
  if (!(g->load_n > 0))
    return;
  char buf[TEXT_ROOM];
  TextStyle style = {TEXT_BODY, true, false, COLOUR_TEXT, ALIGN_LEFT};
  say(s->context, buf, s->picture->at_order ? N_("order {0} N") : N_("trial load {0} N"), g->load_n,
      0, 0, 0);
  double width = text_width(s->cr, s->context, style, buf),
         gap = px(s->context, LOAD_HANDLE_RADIUS + 8);
  bool right = g->handle.x + gap + width < s->width ||
               g->handle.x - gap - width < 0; /* else cut by nobody */
  double x = right ? fmin(g->handle.x + gap, s->width - width) : g->handle.x - gap - width;
  if (s->picture->handle && !s->picture->at_order) {
    ink_use(s->cr, s->context, COLOUR_RULE);
    ink_width(s->cr, s->context, 1);
    ink_dash(s->cr, s->context, DOT_TRACK);
    double from = right ? g->handle.x : x, to = right ? x + width : g->handle.x;
    if (g->left < from - gap)
      draw_line(s->cr, point(g->left, g->track_y),
                point(from - px(s->context, right ? 18 : 6), g->track_y));
    if (g->right > to + gap)
      draw_line(s->cr, point(to + px(s->context, right ? 6 : 18), g->track_y),
                point(g->right, g->track_y));
  }
  draw_load_handle(s->cr, s->context, g->handle, g->tip,
                   s->picture->handle && !s->picture->at_order);
  text_draw(s->cr, s->context, style, point(x, g->track_y + px(s->context, 5)), buf);
}

static void draw_curve(const SpanSheet *s)
{
  cairo_t *cr = s->cr;
  const Assessment *a = s->a;
  if (a->n_curve < 2 || s->picture->at_order)
    return;
  Point first = span_geometry_curve(&s->g, a->curve_x[0], 0),
        last = span_geometry_curve(&s->g, a->curve_x[a->n_curve - 1], 0);
  cairo_new_path(cr);
  cairo_move_to(cr, first.x, first.y);
  for (size_t i = 0; i < a->n_curve; i++) {
    Point p = span_geometry_curve(&s->g, a->curve_x[i], a->curve_moment[i]);
    cairo_line_to(cr, p.x, p.y);
  }
  cairo_line_to(cr, last.x, last.y);
  ink_colour(cr, palette_faded(palette_colour(s->context->palette, COLOUR_ACCENT), 0.14));
  cairo_fill_preserve(cr);
  ink_use(cr, s->context, COLOUR_ACCENT);
  ink_width(cr, s->context, 1.4);
  cairo_stroke(cr);
  ink_use(cr, s->context, COLOUR_RULE);
  ink_width(cr, s->context, 1.4);
  draw_line(cr, first, last);
}

/* Values at the necks; the last one names the unit. */
static void draw_values(const SpanSheet *s)
{
  const Assessment *a = s->a;
  TextStyle style = {TEXT_NOTE, false, false, COLOUR_TEXT, ALIGN_LEFT};
  char buf[SPAN_MAX_UNITS][TEXT_ROOM];
  double wide[SPAN_MAX_UNITS];
  Box value[SPAN_MAX_UNITS];
  if (s->picture->at_order || a->n_curve < 2)
    return;
  for (size_t i = 0; i < a->n_connector; i++) {
    say(s->context, buf[i], i + 1 == a->n_connector ? N_("{0} N·mm") : "{0}",
        a->connector[i].trial.moment_n_mm, 0, 0, 0);
    wide[i] = text_width(s->cr, s->context, style, buf[i]);
  }
  span_geometry_values(&s->g, a, s->context, s->width, wide, value);
  for (size_t i = 0; i < a->n_connector; i++) {
    Point p = span_geometry_curve(&s->g, a->neck_x[i], a->connector[i].trial.moment_n_mm);
    if (value[i].width > 0)
      text_draw(s->cr, s->context, style, point(value[i].x, value[i].y + value[i].height), buf[i]);
    path_circle(s->cr, p, px(s->context, 3.4));
    ink_use(s->cr, s->context, COLOUR_CARD);
    cairo_fill_preserve(s->cr);
    ink_use(s->cr, s->context, COLOUR_ACCENT);
    ink_width(s->cr, s->context, 1.6);
    cairo_stroke(s->cr);
  }
}

/* From each roof down to its door; an elbow where the door had to move aside. */
static void draw_stems(const SpanSheet *s)
{
  for (size_t i = 0; i < s->a->n_connector; i++) {
    bool chosen = i == s->picture->chosen;
    double roof = s->a->connector[i].form.roof.y;
    Point from = view_px(s->g.view, point(s->a->neck_x[i], isfinite(roof) ? fmax(roof, 0) : 0));
    double elbow = s->g.door_y - px(s->context, 9), to = s->g.door_x[i];
    if (fabs(to - from.x) < px(s->context, s->picture->door_width / 2 - 14))
      to = from.x; /* still above its door */
    ink_use(s->cr, s->context, chosen ? COLOUR_ACCENT : COLOUR_RULE);
    ink_width(s->cr, s->context, chosen ? 2 : 1);
    if (!chosen)
      ink_dash(s->cr, s->context, DOT_ZERO);
    cairo_move_to(s->cr, from.x, from.y + px(s->context, 2));
    cairo_line_to(s->cr, from.x, elbow);
    cairo_line_to(s->cr, to, to < from.x || to > from.x ? elbow + px(s->context, 5) : elbow);
    cairo_line_to(s->cr, to, s->g.door_y);
    cairo_stroke(s->cr);
  }
}

static void draw_doors(const SpanSheet *s)
{
  TextStyle name = {TEXT_BODY, true, false, COLOUR_TEXT, ALIGN_CENTRE};
  TextStyle word = {TEXT_BODY, false, false, COLOUR_TEXT, ALIGN_LEFT};
  double width = px(s->context, s->picture->door_width), sign = px(s->context, 16);
  for (size_t i = 0; i < s->a->n_connector; i++) {
    const ConnectorAssessment *c = &s->a->connector[i];
    bool chosen = i == s->picture->chosen;
    Box box = {s->g.door_x[i] - width / 2, s->g.door_y, width, s->g.door_height};
    draw_plate(s->cr, s->context, box,
               palette_colour(s->context->palette, chosen ? COLOUR_ACCENT : COLOUR_RULE),
               chosen ? 2 : 1);
    text_draw(s->cr, s->context, name, point(s->g.door_x[i], box.y + px(s->context, 18)), c->name);
    const char *verdict = text_word(s->context, verdict_name(c->verdict));
    double all = sign + px(s->context, 5) + text_width(s->cr, s->context, word, verdict);
    double x = s->g.door_x[i] - all / 2, y = box.y + px(s->context, 36);
    cairo_save(s->cr);
    cairo_translate(s->cr, x, y - px(s->context, 13));
    draw_verdict(s->cr, c->verdict, sign, palette_verdict(s->context->palette, c->verdict));
    cairo_restore(s->cr);
    text_draw(s->cr, s->context, word, point(x + sign + px(s->context, 5), y), verdict);
  }
}

void picture_span(cairo_t *cr, int width, int height, const DrawContext *context,
                  const SpanPicture *picture)
{
  const Assessment *a = picture->a;
  if (width <= 0 || height <= 0 || a->c.n_unit == 0)
    return;
  SpanSheet s = {
      cr, width, height, context, picture, a, span_geometry(picture, width, height, context)};
  cairo_save(cr);
  cairo_new_path(cr);
  draw_gum_line(cr, context, fmax(s.g.left - px(context, 20), 0),
                fmin(s.g.right + px(context, 20), width), s.g.view.y);
  draw_bodies(&s);
  draw_teeth(&s);
  draw_stems(&s);
  draw_curve(&s);
  draw_values(&s);
  draw_load(&s);
  if (picture->doors)
    draw_doors(&s);
  cairo_restore(cr);
}
