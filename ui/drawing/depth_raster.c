/* depth_raster.c - see depth_raster.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Triangles by their edge functions, one value, light and depth a pixel; then a line of ink where
 * the depth jumps.  A few thousand triangles: some milliseconds. */
#include "ui/drawing/depth_raster.h"
#include <math.h>
#include <stdlib.h>

#define TURNED_AWAY 0.34 /* part of ink in a face seen edge on                    */
#define JUMP_MM 0.5      /* a step of depth that gets a line                      */
#define BEHIND_MM 0.12   /* a place this far behind the nearest is hidden         */
#define LINE_PX 1.2
#define HATCH_SHARE (1.7 / 9)

typedef struct {
  double x, y;              /* pixels */
  float near, value, light; /* mm, MPa, 0..1: edge on to facing */
} Corner3;

DepthPlace depth_place(const DepthView *view, Vec3 at)
{
  double x = at.x - view->about.x, y = at.y - view->about.y, z = at.z - view->about.z;
  double ct = cos(view->turn), st = sin(view->turn), cl = cos(view->tilt), sl = sin(view->tilt);
  double right = x * ct - z * st, ahead = x * st + z * ct;
  return (DepthPlace){point(view->centre.x + view->scale * right,
                            view->centre.y - view->scale * (y * cl - ahead * sl)),
                      y * sl + ahead * cl};
}

static Corner3 *corners_make(const DepthView *view, double resolution, const Shaded *shaded)
{
  const FieldSheet *sheet = shaded->sheet;
  Corner3 *corner = malloc(sheet->n_vertex * sizeof *corner);
  double ct = cos(view->turn), st = sin(view->turn), cl = cos(view->tilt), sl = sin(view->tilt);
  for (size_t i = 0; i < sheet->n_vertex && corner; i++) {
    const SkinVertex *skin = &sheet->skin[i];
    DepthPlace p = depth_place(view, (Vec3){sheet->at[i].x, sheet->at[i].y, (double)skin->z});
    double facing = (double)skin->normal[1] * sl +
                    ((double)skin->normal[0] * st + (double)skin->normal[2] * ct) * cl;
    corner[i] = (Corner3){p.px.x * resolution, p.px.y * resolution, (float)p.near, shaded->value[i],
                          (float)fmin(1, fabs(facing))};
  }
  return corner;
}

typedef struct {
  DepthRaster *raster;
  const ShadeStyle *style;
  uint32_t *pixel;
  int stride;
  Rgba ink, dark, hatch; /* dark: of a face that turns away, in both themes */
} Pen3;

static bool hatched(const Pen3 *pen, int x, int y)
{
  double pitch = pen->style->hatch_px * pen->raster->resolution * M_SQRT2;
  if (!(pitch > 0))
    return false;
  double phase = fmod(x + y, pitch) / pitch;
  return phase < HATCH_SHARE;
}

static uint32_t colour_of(const Pen3 *pen, double value, double light, int x, int y)
{
  double limit = pen->style->limit_mpa, ratio = limit > 0 && isfinite(limit) ? value / limit : 0;
  Rgba colour = palette_stress(pen->style->palette, ratio);
  double away = 1 - light;
  colour = palette_mix(colour, pen->dark, TURNED_AWAY * away * away);
  if (ratio > 1 && hatched(pen, x, y))
    colour = palette_mix(colour, pen->hatch, 0.8);
  return palette_argb(colour);
}

static void triangle_draw(const Pen3 *pen, const Corner3 *a, const Corner3 *b, const Corner3 *c)
{
  DepthRaster *raster = pen->raster;
  double area = (b->x - a->x) * (c->y - a->y) - (b->y - a->y) * (c->x - a->x);
  if (!(fabs(area) > 1e-9) || isnan(a->value) || isnan(b->value) || isnan(c->value))
    return;
  int x0 = (int)fmax(0, floor(fmin(a->x, fmin(b->x, c->x)))),
      x1 = (int)fmin(raster->width - 1, ceil(fmax(a->x, fmax(b->x, c->x)))),
      y0 = (int)fmax(0, floor(fmin(a->y, fmin(b->y, c->y)))),
      y1 = (int)fmin(raster->height - 1, ceil(fmax(a->y, fmax(b->y, c->y))));
  for (int y = y0; y <= y1; y++)
    for (int x = x0; x <= x1; x++) {
      double px = x + 0.5, py = y + 0.5;
      double wa = ((b->x - px) * (c->y - py) - (b->y - py) * (c->x - px)) / area,
             wb = ((c->x - px) * (a->y - py) - (c->y - py) * (a->x - px)) / area, wc = 1 - wa - wb;
      if (wa < -1e-9 || wb < -1e-9 || wc < -1e-9)
        continue;
      float near = (float)(wa * (double)a->near + wb * (double)b->near + wc * (double)c->near);
      float *before = &raster->near[(size_t)y * (size_t)raster->width + (size_t)x];
      if (near <= *before)
        continue;
      *before = near;
      pen->pixel[y * pen->stride + x] =
          colour_of(pen, wa * (double)a->value + wb * (double)b->value + wc * (double)c->value,
                    wa * (double)a->light + wb * (double)b->light + wc * (double)c->light, x, y);
    }
}

/* The body ends there, or goes on behind. */
static bool edge_at(const DepthRaster *raster, int x, int y, int dx, int dy)
{
  int ax = x + dx, ay = y + dy;
  if (ax < 0 || ay < 0 || ax >= raster->width || ay >= raster->height)
    return false; /* the picture ends, not the body */
  float here = raster->near[y * raster->width + x], ahead = raster->near[ay * raster->width + ax];
  return isinf(ahead) || (double)(here - ahead) > JUMP_MM;
}

static void edges_draw(const Pen3 *pen)
{
  const DepthRaster *raster = pen->raster;
  int reach = (int)fmax(1, round(LINE_PX * raster->resolution));
  uint32_t ink = palette_argb(pen->ink);
  for (int y = 0; y < raster->height; y++)
    for (int x = 0; x < raster->width; x++) {
      if (isinf(raster->near[y * raster->width + x]))
        continue;
      if (edge_at(raster, x, y, reach, 0) || edge_at(raster, x, y, -reach, 0) ||
          edge_at(raster, x, y, 0, reach) || edge_at(raster, x, y, 0, -reach))
        pen->pixel[y * pen->stride + x] = ink;
    }
}

void depth_raster_clear(DepthRaster *raster)
{
  if (raster->surface)
    cairo_surface_destroy(raster->surface);
  free(raster->near);
  *raster = (DepthRaster){0};
}

Fault depth_raster_new(int width, int height, double resolution, const DepthView *view,
                       const Shaded *shaded, const ShadeStyle *style, DepthRaster *raster)
{
  const FieldSheet *sheet = shaded->sheet;
  if (!sheet->skin || !sheet->n_triangle)
    return FAULT_DEGENERATE;
  DepthRaster made = {.width = (int)fmin(fmax(ceil(width * resolution), 1), 8192),
                      .height = (int)fmin(fmax(ceil(height * resolution), 1), 8192),
                      .resolution = resolution};
  size_t pixels = (size_t)made.width * (size_t)made.height;
  made.surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, made.width, made.height);
  made.near = malloc(pixels * sizeof *made.near);
  Corner3 *corner = corners_make(view, resolution, shaded);
  bool good = corner && made.near && cairo_surface_status(made.surface) == CAIRO_STATUS_SUCCESS;
  if (good) {
    for (size_t i = 0; i < pixels; i++)
      made.near[i] = -INFINITY;
    cairo_surface_flush(made.surface);
    Pen3 pen = {
        &made,
        style,
        (uint32_t *)(void *)cairo_image_surface_get_data(made.surface),
        cairo_image_surface_get_stride(made.surface) / 4,
        palette_colour(style->palette, COLOUR_INK),
        palette_colour(style->palette, palette_dark(style->palette) ? COLOUR_PAPER : COLOUR_INK),
        palette_colour(style->palette, COLOUR_HATCH)};
    for (size_t t = 0; t < sheet->n_triangle; t++)
      triangle_draw(&pen, &corner[sheet->corner[t][0]], &corner[sheet->corner[t][1]],
                    &corner[sheet->corner[t][2]]);
    edges_draw(&pen);
    cairo_surface_mark_dirty(made.surface);
    cairo_surface_set_device_scale(made.surface, resolution, resolution);
  }
  free(corner);
  if (!good) {
    depth_raster_clear(&made);
    return FAULT_MEMORY;
  }
  *raster = made;
  return FAULT_NONE;
}

bool depth_raster_sees(const DepthRaster *raster, DepthPlace place)
{
  int x = (int)floor(place.px.x * raster->resolution),
      y = (int)floor(place.px.y * raster->resolution);
  if (x < 0 || y < 0 || x >= raster->width || y >= raster->height)
    return false;
  return place.near >= (double)raster->near[y * raster->width + x] - BEHIND_MM;
}
