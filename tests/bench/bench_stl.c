/* bench_stl.c - two million triangles read, joined, looked at, cut; beside plain reading of the
 * same bytes. SPDX-License-Identifier: GPL-3.0-or-later */
#include "../core/surfaces.h"
#include "mesh/trace.h"
#include "timing.h"
#include <stdio.h>

#define TURNS 3

/* What nothing can be faster than: every byte looked at once. */
static double plain(const GString *file)
{
  gint64 start = g_get_monotonic_time();
  volatile guint64 sum = 0;
  guint64 own = 0;
  for (size_t i = 0; i + 8 <= file->len; i += 8) {
    guint64 word;
    memcpy(&word, file->str + i, 8);
    own += word;
  }
  sum = own;
  (void)sum;
  return milliseconds_since(start);
}

static bool measure(const char *name, const GString *file, Mesh *mesh)
{
  double ms[TURNS], bytes[TURNS];
  StlReport report = {0};
  for (int i = 0; i < TURNS; i++) {
    bytes[i] = plain(file);
    gint64 start = g_get_monotonic_time();
    if (stl_read(file->str, file->len, STL_UNIT_MM, NULL, mesh, &report))
      return false;
    ms[i] = milliseconds_since(start);
  }
  double median = timing_median(ms, TURNS), floor = timing_median(bytes, TURNS);
  printf(
      "%-8s %9zu triangles %7.1f MB %8.0f ms %7.0f ns each, %5.0f times plain reading (%.1f ms)\n",
      name, report.triangles, (double)file->len / 1e6, median,
      1e6 * median / (double)report.triangles, median / floor, floor);
  return true;
}

int main(void)
{
  static const struct {
    int along, around;
  } size[] = {{400, 250}, {1000, 998}};
  for (size_t k = 0; k < G_N_ELEMENTS(size); k++) {
    Facets s = surface_new();
    surface_tube(&s, row_point, &ROW_SOUND, -18, 27, size[k].along, size[k].around, false);
    GString *binary = surface_binary(&s), *text = surface_text(&s);
    Mesh mesh = {0};
    MeshFrame frame;
    static MeshSpan span;
    surface_free(&s);
    bool good = measure("binary", binary, &mesh) && measure("text", text, &mesh);
    gint64 start = g_get_monotonic_time();
    good = good && !mesh_frame_guess(&mesh, (Vec3){0, 1, 0}, false, &frame) &&
           !span_find(&mesh, &frame, NULL, &span);
    printf("necks    %zu found in %.0f ms\n", good ? span.n_neck : 0, milliseconds_since(start));
    start = g_get_monotonic_time();
    for (size_t i = 0; good && i < span.n_neck; i++) {
      TraceSettings settings = {{4, 4}, TRACE_TOLERANCE_MM, 0.05};
      Trace trace;
      trace_init(&trace);
      good = !trace_connector(&mesh, &span.neck[i], &settings, NULL, &trace);
      trace_clear(&trace);
    }
    printf("outlines of %zu connectors in %.0f ms\n", span.n_neck, milliseconds_since(start));
    g_string_free(binary, TRUE);
    g_string_free(text, TRUE);
    mesh_clear(&mesh);
    if (!good)
      return 1;
  }
  return 0;
}
