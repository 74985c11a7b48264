/* bench_shade.c - time of the shade at 1200 x 800, full and half resolution, and of the lines drawn
 * with it. SPDX-License-Identifier: GPL-3.0-or-later */
#include "../ui/fake_assessment.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/picture_span.h"
#include <stdio.h>

#define RUNS 40

typedef void (*Work)(const Assessment *a, const ConnectorInk *ink, double resolution);

static void raster(const Assessment *a, const ConnectorInk *ink, double resolution)
{
  DrawContext context = {.palette = PALETTE_LIGHT, .scale = 1};
  View view = connector_view(a, 1, 1200, 800, &context);
  ShadeStyle style = shade_style(PALETTE_LIGHT, 480, 1);
  view.scale *= 1.5; /* the material fills the picture */
  cairo_surface_destroy(
      shade_surface(1200, 800, resolution, view, ink->shaded->sheet, ink->shaded->value, &style));
}

static void lines(const Assessment *a, const ConnectorInk *ink, double resolution)
{
  (void)ink, (void)resolution;
  ConnectorInk *made;
  if (connector_ink_new(a, 1, false, &made) == FAULT_NONE)
    connector_ink_free(made);
}

static void ink_only(const Assessment *a, const ConnectorInk *ink, double resolution)
{
  DrawContext context = {.palette = PALETTE_LIGHT, .scale = 1, .resolution = resolution};
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, 1200, 800);
  cairo_t *cr = cairo_create(surface);
  ConnectorPicture picture = connector_picture(a, 1, 1200, 800, &context);
  picture.layers &= ~(unsigned)LAYER_SHADE;
  picture.ink = ink;
  picture_connector(cr, 1200, 800, &context, &picture);
  cairo_destroy(cr);
  cairo_surface_destroy(surface);
}

static void span(const Assessment *a, const ConnectorInk *ink, double resolution)
{
  (void)ink;
  DrawContext context = {.palette = PALETTE_LIGHT, .scale = 1, .resolution = resolution};
  SpanPicture picture = span_picture(a);
  cairo_surface_destroy(span_shade(&picture, 1072, 252, &context));
}

static int compare(const void *a, const void *b)
{
  gint64 p = *(const gint64 *)a, q = *(const gint64 *)b;
  return p < q ? -1 : p > q;
}

static void measure(const char *name, Work work, const Assessment *a, const ConnectorInk *ink,
                    double resolution)
{
  gint64 took[RUNS];
  for (int i = 0; i < RUNS; i++) {
    gint64 start = g_get_monotonic_time();
    work(a, ink, resolution);
    took[i] = g_get_monotonic_time() - start;
  }
  qsort(took, RUNS, sizeof *took, compare);
  printf("%-34s median %6.2f ms, best %6.2f ms\n", name, (double)took[RUNS / 2] / 1000,
         (double)took[0] / 1000);
}

int main(void)
{
  Assessment *a = fake_assessment_new();
  ConnectorInk *ink;
  if (connector_ink_new(a, 1, false, &ink) != FAULT_NONE)
    return 1;
  printf("%zu vertices, %zu triangles\n", ink->shaded->sheet->n_vertex,
         ink->shaded->sheet->n_triangle);
  measure("shade 1200 x 800", raster, a, ink, 1);
  measure("shade 1200 x 800, half resolution", raster, a, ink, 0.5);
  measure("stress, zero line, flow lines", lines, a, ink, 1);
  measure("ink of the connector, cairo", ink_only, a, ink, 1);
  measure("shade of the span 1072 x 252", span, a, ink, 1);
  connector_ink_free(ink);
  fake_assessment_free(a);
  return 0;
}
