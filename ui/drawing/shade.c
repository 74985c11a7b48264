/* shade.c - scan conversion of triangles with a table of colours.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Crossings of an edge with a row are computed from the same two end points in the same order
 * whichever triangle asks, so neighbours agree to the last bit.  Inside a span the place in the
 * colour table runs in 16.16 fixed point. */
#include "ui/drawing/shade.h"
#include <math.h>
#include <stdlib.h>

#define TABLE 1024
#define RATIO_LOW (-0.9)
#define RATIO_HIGH 1.4
#define RATIO_FAR 12.0 /* beyond, colours are saturated and fixed point could overflow */
#define PHASES 256
#define ONE 65536

typedef struct {
  const PixelGrid *grid;
  uint32_t colour[TABLE];
  uint8_t hatch[PHASES]; /* cover of the hatch over one pitch        */
  uint32_t hatch_step;   /* phase a pixel, 1/65536 of a pitch        */
  int limit;             /* fixed point place of the limit           */
  uint32_t hatch_colour, edge_colour;
  double edge_half;
} Painter;

typedef struct {
  double x, y, v; /* px, px, fixed point place */
} Vertex;

typedef struct {
  double x, y, slope;
} Edge;

static uint32_t blend(uint32_t under, uint32_t over, uint32_t cover) /* cover 0..255 */
{
  uint32_t k = cover + (cover >> 7), keep = 256 - k;
  uint32_t rb = ((under & 0xFF00FF) * keep + (over & 0xFF00FF) * k) >> 8 & 0xFF00FF;
  uint32_t ag = ((under >> 8 & 0xFF00FF) * keep + (over >> 8 & 0xFF00FF) * k) & 0xFF00FF00;
  return rb | ag;
}

ShadeStyle shade_style(Palette palette, double limit_mpa, double scale)
{
  return (ShadeStyle){palette, limit_mpa, 9 * scale, 1.2 * scale};
}

static double table_place(double ratio)
{
  return (ratio - RATIO_LOW) / (RATIO_HIGH - RATIO_LOW) * (TABLE - 1) * ONE;
}

static void painter_init(Painter *p, const PixelGrid *grid, const ShadeStyle *style)
{
  p->grid = grid;
  for (int i = 0; i < TABLE; i++)
    p->colour[i] = palette_argb(
        palette_stress(style->palette, RATIO_LOW + (RATIO_HIGH - RATIO_LOW) * i / (TABLE - 1)));
  p->limit = (int)table_place(1);
  p->hatch_colour = palette_argb(palette_colour(style->palette, COLOUR_HATCH));
  p->edge_colour = palette_argb(palette_stretched_step(style->palette, 8));
  p->edge_half = style->edge_px / 2;
  double pitch = style->hatch_px, line = fmax(pitch * 1.7 / 9, 0.6);
  p->hatch_step = pitch > 0 ? (uint32_t)(ONE / (pitch * M_SQRT2)) : 0;
  for (int i = 0; i < PHASES; i++) {
    double away = fabs((i + 0.5) / PHASES - 0.5) * pitch,
           cover = line / 2 - away + 0.5; /* px from the line's middle */
    p->hatch[i] = (uint8_t)(pitch > 0 ? 255 * fmin(fmax(cover, 0), 1) : 0);
  }
}

static Vertex vertex_make(View view, Point at, double ratio)
{
  ratio = ratio > RATIO_FAR ? RATIO_FAR : ratio < -RATIO_FAR ? -RATIO_FAR : ratio;
  return (Vertex){view.x + view.scale * at.x, view.y - view.scale * at.y, table_place(ratio)};
}

/* The edge from the upper end: both triangles beside it get the same numbers. */
static Edge edge_make(const Vertex *a, const Vertex *b)
{
  double rise = b->y - a->y; /* 0: no row has its middle on it */
  return (Edge){a->x, a->y, rise > 0 ? (b->x - a->x) / rise : 0};
}

static inline double edge_x(const Edge *e, double y)
{
  return e->x + (y - e->y) * e->slope;
}

/* First pixel whose centre is at or beyond x, limited to [0, top]. */
static inline int first_pixel(double x, int top)
{
  x -= 0.5;
  if (!(x > 0)) /* also NaN */
    return 0;
  if (x >= top)
    return top;
  int k = (int)x;
  return k + (x > k);
}

static inline int place_clamped(int place)
{
  int i = place >> 16;
  return i < 0 ? 0 : i >= TABLE ? TABLE - 1 : i;
}

/* Pixels that may be over the limit: hatch, and a line of even width along the limit. */
static void span_over(const Painter *p, uint32_t *row, int y, int x0, int x1, int place, int step,
                      double px_per_place)
{
  for (int x = x0; x < x1; x++, place += step) {
    uint32_t c = p->colour[place_clamped(place)];
    double from_limit = (double)(place - p->limit) * px_per_place;
    if (from_limit > 0)
      c = blend(c, p->hatch_colour, p->hatch[((uint32_t)(x + y) * p->hatch_step & (ONE - 1)) >> 8]);
    double cover = p->edge_half - fabs(from_limit) + 0.5;
    if (p->edge_half > 0 && cover > 0)
      c = blend(c, p->edge_colour, (uint32_t)(255 * fmin(cover, 1)));
    row[x] = c;
  }
}

static void span_plain(const Painter *p, uint32_t *row, int x0, int x1, int place, int step)
{
  int last = place + (x1 - 1 - x0) * step;
  if (place_clamped(place) == place >> 16 && place_clamped(last) == last >> 16)
    for (int x = x0; x < x1; x++, place += step)
      row[x] = p->colour[place >> 16];
  else
    for (int x = x0; x < x1; x++, place += step)
      row[x] = p->colour[place_clamped(place)];
}

/* Without the calls that fmin and fmax are; NaN: low. */
static inline double limited(double x, double low, double high)
{
  return !(x > low) ? low : x > high ? high : x;
}

/* A vertex stands before another when it is higher, then when it is further left: one order for all
 * triangles. */
static bool vertex_before(const Vertex *a, const Vertex *b)
{
  return a->y < b->y || (a->y == b->y && a->x < b->x);
}

static void order(const Vertex **a, const Vertex **b)
{
  if (vertex_before(*b, *a)) {
    const Vertex *keep = *a;
    *a = *b;
    *b = keep;
  }
}

static void triangle_paint(const Painter *p, const Vertex *a, const Vertex *b, const Vertex *c)
{
  order(&a, &b);
  order(&b, &c);
  order(&a, &b);
  const PixelGrid *grid = p->grid;
  if (!(c->y > 0 && a->y < grid->height) || c->y == a->y)
    return;
  int y_top = first_pixel(a->y, grid->height), y_bend = first_pixel(b->y, grid->height);
  int y_end = first_pixel(c->y, grid->height);
  if (y_top == y_end)
    return; /* between two rows of pixels */
  double cross =
      (b->x - a->x) * (c->y - a->y) - (c->x - a->x) * (b->y - a->y); /* > 0: b right of a-c */
  if (cross == 0)
    return;
  double v_x = ((b->v - a->v) * (c->y - a->y) - (c->v - a->v) * (b->y - a->y)) / cross;
  double v_y = ((c->v - a->v) * (b->x - a->x) - (b->v - a->v) * (c->x - a->x)) / cross;
  double rise = sqrt(v_x * v_x + v_y * v_y), px_per_place = rise > 0 ? 1 / rise : 1e9;
  double v_low = a->v < b->v ? a->v : b->v, v_high = a->v < b->v ? b->v : a->v;
  v_low = c->v < v_low ? c->v : v_low;
  v_high = c->v > v_high ? c->v : v_high;
  bool over = v_high > p->limit - rise * (p->edge_half + 1);
  int step = (int)limited(v_x, -8e8, 8e8);
  Edge far = edge_make(a, c), upper = edge_make(a, b), lower = edge_make(b, c);

  for (int y = y_top; y < y_end; y++) {
    double yc = y + 0.5;
    double x_far = edge_x(&far, yc), x_near = edge_x(y < y_bend ? &upper : &lower, yc);
    int x0 = first_pixel(cross > 0 ? x_far : x_near, grid->width);
    int x1 = first_pixel(cross > 0 ? x_near : x_far, grid->width);
    if (x0 >= x1)
      continue;
    double v = a->v + v_x * (x0 + 0.5 - a->x) + v_y * (yc - a->y);
    double v_last = v + v_x * (x1 - 1 - x0);
    /* slivers have no sound slope: one colour */
    int k = v_last >= v_low - ONE && v_last <= v_high + ONE ? step : 0;
    int place = (int)limited(v, v_low, v_high);
    uint32_t *row = grid->pixel + (size_t)y * (size_t)grid->stride;
    if (over)
      span_over(p, row, y, x0, x1, place, k, px_per_place);
    else
      span_plain(p, row, x0, x1, place, k);
  }
}

void shade_raster(const PixelGrid *grid, View view, const FieldSheet *sheet, const float value[],
                  const ShadeStyle *style)
{
  if (!grid->pixel || grid->width <= 0 || grid->height <= 0)
    return;
  Painter painter;
  painter_init(&painter, grid, style);
  double per_limit = style->limit_mpa > 0 && isfinite(style->limit_mpa) ? 1 / style->limit_mpa : 0;
  for (size_t i = 0; i < sheet->n_triangle; i++) {
    Vertex v[3];
    bool finite = true;
    for (int k = 0; k < 3; k++) {
      uint32_t at = sheet->corner[i][k];
      double ratio = (double)value[at] * per_limit;
      finite = finite && isfinite(ratio) && point_finite(sheet->at[at]);
      v[k] = vertex_make(view, sheet->at[at], ratio);
    }
    if (finite)
      triangle_paint(&painter, &v[0], &v[1], &v[2]);
  }
}

cairo_surface_t *shade_surface_plain(int width, int height, double resolution, Palette palette)
{
  int w = (int)fmin(fmax(ceil(width * resolution), 1), 16384);
  int h = (int)fmin(fmax(ceil(height * resolution), 1), 16384);
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, w, h);
  if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS) {
    cairo_surface_destroy(surface);
    return NULL;
  }
  Rgba plain = palette_stress(palette, 0);
  cairo_t *cr = cairo_create(surface);
  cairo_set_source_rgb(cr, plain.r, plain.g, plain.b);
  cairo_paint(cr);
  cairo_destroy(cr);
  cairo_surface_set_device_scale(surface, resolution, resolution);
  return surface;
}

void shade_onto(cairo_surface_t *surface, View view, const FieldSheet *sheet, const float value[],
                const ShadeStyle *style)
{
  double resolution, ignored;
  cairo_surface_get_device_scale(surface, &resolution, &ignored);
  cairo_surface_flush(surface);
  PixelGrid grid = {(uint32_t *)(void *)cairo_image_surface_get_data(surface),
                    cairo_image_surface_get_width(surface), cairo_image_surface_get_height(surface),
                    cairo_image_surface_get_stride(surface) / 4};
  View scaled = {view.scale * resolution, view.x * resolution, view.y * resolution};
  ShadeStyle fine = *style;
  fine.hatch_px *= resolution;
  fine.edge_px *= resolution;
  shade_raster(&grid, scaled, sheet, value, &fine);
  cairo_surface_mark_dirty(surface);
}

cairo_surface_t *shade_surface(int width, int height, double resolution, View view,
                               const FieldSheet *sheet, const float value[],
                               const ShadeStyle *style)
{
  cairo_surface_t *surface = shade_surface_plain(width, height, resolution, style->palette);
  if (surface)
    shade_onto(surface, view, sheet, value, style);
  return surface;
}

Fault shaded_new(Field *field, SheetKind kind, NeckLoad load, Shaded **shaded)
{
  const FieldSheet *sheet = &field->sheet[kind];
  if (sheet->n_triangle == 0 || sheet->n_vertex == 0)
    return FAULT_DEGENERATE;
  if (!isfinite(load.moment_n_mm) || !isfinite(load.shear_n))
    return FAULT_NOT_FINITE;
  Shaded *s = calloc(1, sizeof *s);
  if (!s)
    return FAULT_MEMORY;
  s->value = malloc(sheet->n_vertex * sizeof *s->value);
  s->angle = malloc(sheet->n_vertex * sizeof *s->angle);
  s->balance = malloc(sheet->n_vertex * sizeof *s->balance);
  if (!s->value || !s->angle || !s->balance) {
    shaded_free(s);
    return FAULT_MEMORY;
  }
  s->field = field_ref(field);
  s->sheet = sheet;
  field_shade(sheet, load, s->value, s->angle);
  for (size_t i = 0; i < sheet->n_vertex; i++) {
    double stress[6];
    for (int k = 0; k < 6; k++)
      stress[k] = load.moment_n_mm * (double)sheet->stress[i][UNIT_BEND][k] +
                  load.shear_n * (double)sheet->stress[i][UNIT_SHEAR][k];
    s->balance[i] = (float)(stress_first(stress) + stress_third(stress));
  }
  *shaded = s;
  return FAULT_NONE;
}

void shaded_free(Shaded *shaded)
{
  if (!shaded)
    return;
  field_unref(shaded->field);
  free(shaded->value);
  free(shaded->angle);
  free(shaded->balance);
  free(shaded);
}
