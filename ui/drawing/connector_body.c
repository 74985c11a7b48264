/* connector_body.c - ground, tissue, shaded material and outlines of the elevation.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline/form.h"
#include "ui/drawing/connector_layers.h"
#include "ui/drawing/gauges.h"

#define FADE_MM 0.7 /* the drawing ends softly in the middle of the units */
#define COMB_TEETH 240
#define COMB_MM 0.075 /* tooth for a curvature of 1/mm */
#define COMB_LONGEST_MM 0.6
#define ZERO_REACH 0.85 /* of the neck height, to either side of the neck */

static double x_first(const ConnectorSheet *s)
{
  const Outline *o = &s->drawn->side[SIDE_GINGIVAL];
  return o->n > 0 ? o->knot[0].at.x : 0;
}

static double x_last(const ConnectorSheet *s)
{
  const Outline *o = &s->drawn->side[SIDE_GINGIVAL];
  return o->n > 0 ? o->knot[o->n - 1].at.x : 0;
}

static void body_path(const ConnectorSheet *s)
{
  cairo_new_path(s->cr);
  path_outline_on(s->cr, s->view, &s->drawn->side[SIDE_GINGIVAL], false);
  path_outline_on(s->cr, s->view, &s->drawn->side[SIDE_OCCLUSAL], true);
  cairo_close_path(s->cr);
}

/* Grid lines of `every` mm that are not drawn by the coarser grid. */
/* Every `mm`; each `skip`-th is left out, 0: none. */
static void grid_lines(const ConnectorSheet *s, double mm, long skip, Colour colour)
{
  Point low = view_mm(s->view, point(0, s->height)), high = view_mm(s->view, point(s->width, 0));
  if (s->view.scale * mm < 4)
    return;
  ink_use(s->cr, s->context, colour);
  ink_width(s->cr, s->context, 1);
  double half = 0.5;
  for (long k = (long)ceil(low.x / mm); (double)k * mm <= high.x; k++)
    if (skip == 0 || k % skip != 0) {
      double at = floor(view_px(s->view, point((double)k * mm, 0)).x) + half;
      draw_line(s->cr, point(at, 0), point(at, s->height));
    }
  for (long k = (long)ceil(low.y / mm); (double)k * mm <= high.y; k++)
    if (skip == 0 || k % skip != 0) {
      double at = floor(view_px(s->view, point(0, (double)k * mm)).y) + half;
      draw_line(s->cr, point(0, at), point(s->width, at));
    }
}

static void draw_tissue(const ConnectorSheet *s)
{
  cairo_t *cr = s->cr;
  double y = s->view.y, papilla = s->drawn->papilla;
  cairo_rectangle(cr, 0, y, s->width, fmax(s->height - y, 0));
  ink_use(cr, s->context, COLOUR_GUM_FILL);
  cairo_fill(cr);
  draw_gum_line(cr, s->context, 0, s->width, y);
  const Outline *gum = &s->drawn->side[SIDE_GINGIVAL];
  if (!(papilla > 0) || !(gum->n > 2))
    return;
  /* the papilla: from foot to foot over its tip */
  double left = -s->answer->form.gap_circle, right = s->answer->form.gap_circle;
  for (size_t i = 0; i < gum->n; i++)
    if (gum->knot[i].at.y < 0.05) {
      if (gum->knot[i].at.x < s->answer->form.neck_x)
        left = gum->knot[i].at.x;
      else {
        right = gum->knot[i].at.x;
        break;
      }
    }
  Point l = view_px(s->view, point(left, 0)), r = view_px(s->view, point(right, 0));
  Point tip = view_px(s->view, point(s->answer->form.neck_x, papilla));
  cairo_move_to(cr, l.x, l.y);
  cairo_curve_to(cr, (l.x + tip.x) / 2, (l.y + tip.y) / 2, (l.x + 2 * tip.x) / 3, tip.y, tip.x,
                 tip.y);
  cairo_curve_to(cr, (r.x + 2 * tip.x) / 3, tip.y, (r.x + tip.x) / 2, (r.y + tip.y) / 2, r.x, r.y);
  ink_use(cr, s->context, COLOUR_GUM_FILL);
  cairo_fill_preserve(cr);
  ink_use(cr, s->context, COLOUR_GUM);
  ink_width(cr, s->context, 1.6);
  cairo_stroke(cr);
}

/* Part of the drawn stretch over which it ends softly. */
static double fade_part(double x0, double x1, double scale)
{
  return x1 > x0 ? fmin(FADE_MM * scale / (x1 - x0), 0.45) : 0.45;
}

/* A colour that vanishes at both ends of the drawn stretch. */
static cairo_pattern_t *fading(const ConnectorSheet *s, Rgba colour)
{
  double x0 = s->view.x + s->view.scale * x_first(s), x1 = s->view.x + s->view.scale * x_last(s);
  double part = fade_part(x0, x1, s->view.scale);
  const double stop[4] = {0, part, 1 - part, 1};
  cairo_pattern_t *fade = cairo_pattern_create_linear(x0, 0, x1, 0);
  for (int i = 0; i < 4; i++)
    cairo_pattern_add_color_stop_rgba(fade, stop[i], colour.r, colour.g, colour.b,
                                      i == 0 || i == 3 ? 0 : colour.a);
  return fade;
}

/* ---- over a photo ---- */

#define PHOTO_SEEN 0.75 /* of a full photo, through what is drawn above it */

/* Draws so that a photo is still seen through it; `fades`: the ends vanish on it, no paper does. */
static void over_photo(const ConnectorSheet *s, void (*draw)(const ConnectorSheet *sheet),
                       bool fades)
{
  if (!s->picture->underlay) {
    draw(s);
    return;
  }
  double alpha = 1 - PHOTO_SEEN * s->picture->underlay_opacity;
  cairo_push_group(s->cr);
  draw(s);
  cairo_pop_group_to_source(s->cr);
  if (fades) {
    cairo_pattern_t *ramp = fading(s, (Rgba){0, 0, 0, alpha});
    cairo_mask(s->cr, ramp);
    cairo_pattern_destroy(ramp);
  } else {
    cairo_paint_with_alpha(s->cr, alpha);
  }
}

void draw_ground(const ConnectorSheet *s)
{
  if (layer(s, LAYER_PAPER)) {
    ink_use(s->cr, s->context, COLOUR_PAPER);
    cairo_paint(s->cr);
  }
  if (s->picture->underlay)
    underlay_draw(s->cr, s->view, s->picture->underlay, s->picture->underlay_opacity);
  if (layer(s, LAYER_GRID)) {
    double mm = 1 / soft_enlargement(s); /* of the piece that is shown */
    grid_lines(s, mm, 5, COLOUR_GRID);
    grid_lines(s, 5 * mm, 0, COLOUR_GRID5);
  }
  if (layer(s, LAYER_GUM))
    over_photo(s, draw_tissue, false);
}

/* The material turns into paper at its ends: they are cuts through the middle of the units. */
static void draw_fading_ends(const ConnectorSheet *s)
{
  double x0 = s->view.x + s->view.scale * x_first(s), x1 = s->view.x + s->view.scale * x_last(s);
  double wide = fade_part(x0, x1, s->view.scale) * (x1 - x0);
  Rgba paper = palette_colour(s->context->palette, COLOUR_PAPER);
  for (int right = 0; right < 2; right++) {
    double from = right ? x1 : x0, to = right ? x1 - wide : x0 + wide;
    cairo_pattern_t *fade = cairo_pattern_create_linear(from, 0, to, 0);
    cairo_pattern_add_color_stop_rgba(fade, 0, paper.r, paper.g, paper.b, 1);
    cairo_pattern_add_color_stop_rgba(fade, 1, paper.r, paper.g, paper.b, 0);
    cairo_save(s->cr);
    cairo_rectangle(s->cr, fmin(from, to), 0, wide, s->height);
    cairo_clip(s->cr);
    body_path(s);
    cairo_set_source(s->cr, fade);
    cairo_fill_preserve(s->cr);
    ink_width(s->cr, s->context, 1); /* the soft rim of the material too */
    cairo_stroke(s->cr);
    cairo_restore(s->cr);
    cairo_pattern_destroy(fade);
  }
}

/* Filled, not clipped: many times faster where the clip is a curve. */
static void draw_shade(const ConnectorSheet *s)
{
  cairo_surface_t *shade = s->picture->shade;
  double resolution = s->context->resolution > 0 ? s->context->resolution : 1;
  ShadeStyle style = shade_style(s->context->palette, s->limit_mpa, s->context->scale);
  shade = shade ? cairo_surface_reference(shade)
                : shade_surface(s->width, s->height, resolution, s->view, s->ink->shaded->sheet,
                                s->ink->shaded->value, &style);
  if (!shade)
    return;
  body_path(s);
  cairo_set_source_surface(s->cr, shade, 0, 0);
  cairo_fill(s->cr);
  if (s->picture->late) { /* at half strength */
    ink_colour(s->cr, palette_faded(palette_stress(s->context->palette, 0), 0.5));
    body_path(s);
    cairo_fill(s->cr);
  }
  cairo_surface_destroy(shade);
}

static void draw_crosses(const ConnectorSheet *s)
{
  Point low = view_mm(s->view, point(0, s->height)), high = view_mm(s->view, point(s->width, 0));
  double arm = px(s->context, 3);
  if (s->view.scale < px(s->context, 18))
    return;
  ink_width(s->cr, s->context, 1);
  ink_colour(s->cr, palette_faded(palette_colour(s->context->palette, COLOUR_RULE), 0.55));
  for (double x = ceil(fmax(low.x, x_first(s) + FADE_MM)); x <= fmin(high.x, x_last(s) - FADE_MM);
       x++)
    for (double y = ceil(fmax(low.y, 0.5)); y <= fmin(high.y, 30); y++) {
      Point at = view_px(s->view, point(x, y));
      draw_line(s->cr, point(at.x - arm, at.y), point(at.x + arm, at.y));
      draw_line(s->cr, point(at.x, at.y - arm), point(at.x, at.y + arm));
    }
}

static void draw_flow(const ConnectorSheet *s)
{
  size_t n = s->ink->flow.n_line;
  for (size_t i = 0; i < n; i++) {
    double strong =
        n > 1 ? 1 - (double)i / (double)(n - 1) : 1; /* the first lies next to the roof */
    LineSet one = s->ink->flow;
    one.start += i;
    one.n_line = 1;
    ink_width(s->cr, s->context, 0.7 + 0.6 * strong);
    ink_colour(s->cr, palette_soft(s->context->palette, COLOUR_INK, 0.52 + 0.22 * strong));
    path_lines(s->cr, s->view, &one);
    cairo_stroke(s->cr);
  }
}

static void draw_zero(const ConnectorSheet *s)
{
  const Form *form = &s->answer->form;
  double reach = ZERO_REACH * form->neck_height;
  if (!(reach > 0))
    return;
  Point low = view_px(s->view, point(form->neck_x - reach, form->neck_low.y));
  Point high = view_px(s->view, point(form->neck_x + reach, form->neck_high.y));
  cairo_save(s->cr);
  cairo_rectangle(s->cr, low.x, high.y, high.x - low.x, low.y - high.y);
  cairo_clip(s->cr);
  ink_use(s->cr, s->context, COLOUR_INK);
  ink_width(s->cr, s->context, 1.3);
  ink_dash(s->cr, s->context, DOT_ZERO);
  path_lines(s->cr, s->view, &s->ink->zero);
  cairo_stroke(s->cr);
  cairo_restore(s->cr);
}

static void draw_body(const ConnectorSheet *s)
{
  cairo_t *cr = s->cr;
  if (s->drawn->side[SIDE_GINGIVAL].n < 2 || s->drawn->side[SIDE_OCCLUSAL].n < 2)
    return;
  bool shaded = layer(s, LAYER_SHADE) && s->ink;
  if (layer(s, LAYER_BODY) && !shaded) {
    body_path(s);
    ink_colour(cr, palette_stress(s->context->palette, 0));
    cairo_fill(cr);
  }
  if (shaded)
    draw_shade(s);
  if (layer(s, LAYER_BODY) && !s->picture->underlay) /* else all of it fades */
    draw_fading_ends(s);
  if (layer(s, LAYER_CROSSES)) {
    cairo_save(cr);
    body_path(s);
    cairo_clip(cr);
    draw_crosses(s);
    cairo_restore(cr);
  }
  if (layer(s, LAYER_FLOW) && s->ink)
    draw_flow(s);
  if (layer(s, LAYER_ZERO) && s->ink)
    draw_zero(s);
}

void draw_material(const ConnectorSheet *s)
{
  over_photo(s, draw_body, true);
}

void draw_outlines(const ConnectorSheet *s)
{
  cairo_pattern_t *fade = fading(s, palette_colour(s->context->palette, COLOUR_INK));
  cairo_new_path(s->cr);
  for (int k = 0; k < 2; k++) {
    if (!layer(s, k == 0 ? LAYER_OUTLINE : LAYER_GUM_LINE))
      continue;
    ink_width(s->cr, s->context, k == 0 ? 1.4 : 2.6);
    cairo_set_source(s->cr, fade);
    path_outline(s->cr, s->view, &s->drawn->side[k == 0 ? SIDE_OCCLUSAL : SIDE_GINGIVAL]);
    cairo_stroke(s->cr);
  }
  cairo_pattern_destroy(fade);
}

void draw_ghost_line(cairo_t *cr, const DrawContext *context)
{
  ink_stroke_haloed(cr, context, palette_colour(context->palette, COLOUR_ACCENT), 2.2, DASH_GHOST);
}

void draw_ghost(const ConnectorSheet *s)
{
  const Advice *advice = s->picture->advice;
  if (!advice || advice->ghost.n < 2 || advice->kind == ADVICE_WIDEN)
    return;
  cairo_save(s->cr); /* where bodies stand on the tissue nothing changes */
  cairo_rectangle(s->cr, 0, 0, s->width, fmax(s->view.y - px(s->context, 2), 0));
  cairo_clip(s->cr);
  path_outline(s->cr, s->view, &advice->ghost);
  draw_ghost_line(s->cr, s->context);
  cairo_restore(s->cr);
}

void draw_comb(const ConnectorSheet *s)
{
  Point at[COMB_TEETH], normal[COMB_TEETH];
  double kappa[COMB_TEETH];
  if (curvature_comb(&s->drawn->side[SIDE_GINGIVAL], COMB_TEETH, at, normal, kappa) != FAULT_NONE)
    return;
  ink_width(s->cr, s->context, 1);
  ink_colour(s->cr, palette_soft(s->context->palette, COLOUR_ACCENT, COMB_ALPHA));
  for (int i = 1; i + 1 < COMB_TEETH; i++) {
    Point along = point_sub(at[i + 1], at[i - 1]);
    double length = point_length(along), tooth = fmin(COMB_MM * fabs(kappa[i]), COMB_LONGEST_MM);
    if (!(length > 0) || !(tooth > 0.02))
      continue;
    /* the outline has its material on the left, the open side is on the right */
    Point tip = point_add(at[i], point_scale(point(along.y, -along.x), tooth / length));
    draw_line(s->cr, view_px(s->view, at[i]), view_px(s->view, tip));
  }
}

void draw_knots(const ConnectorSheet *s)
{
  const Outline *outline = &s->drawn->side[SIDE_GINGIVAL];
  const double apart = px(s->context, 15), clear = px(s->context, 22);
  Point hot = s->peak ? view_px(s->view, point(s->peak->at.x, s->peak->at.y)) : point(-1e6, -1e6);
  Point last = point(-1e6, -1e6);
  for (size_t i = 1; i + 1 < outline->n; i++) {
    Point at = view_px(s->view, outline->knot[i].at);
    bool chosen = i == s->picture->chosen_knot;
    /* the pieces of one rounding count as one; the hot spot stays free */
    if (!chosen && !s->picture->every_knot &&
        (point_distance(at, last) < apart || point_distance(at, hot) < clear))
      continue;
    draw_knot(s->cr, s->context, at, chosen);
    last = at;
  }
}
