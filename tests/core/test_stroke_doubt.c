/* test_stroke_doubt.c - seeded strokes over roofs of known radius: how often the truth lies in the
 * band that is shown. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  V, U and box, r 0.2 to 1.2, 60 to 200 Hz, jitter 0.05 to 0.15 mm, 8 mm/s. */
#include <glib.h>
#include "casefile/drawn.h"
#include "outline/form.h"
#include "outline/stroke_doubt.h"
#include "proof.h"
#include "synthetic_pen.h"
#include <stdlib.h>

typedef enum { SHAPE_V, SHAPE_U, SHAPE_BOX, SHAPES } Shape;
static const char *const shape_name[SHAPES] = {"V", "U", "box"};
static const double radii[] = {0.2, 0.3, 0.5, 0.9, 1.2}, jitters[] = {0.05, 0.10, 0.15};

static void shape_make(Shape shape, double r, Outline *outline)
{
  double lean = 8 * M_PI / 180, top = 2.5 + r * (1 / sin(lean) - 1), foot = top * tan(lean),
         h = r < 1 ? 1 : 1.3; /* half of the top of a box: there is a flat between its corners */
  Corner v[] = {{-4, 0, 0}, {-1.5, 0, 0.3}, {0, 2.8, r}, {1.5, 0, 0.3}, {4, 0, 0}},
         u[] = {{-4, 0, 0}, {-foot, 0, 0.3}, {0, top, r}, {foot, 0, 0.3}, {4, 0, 0}};
  Corner box[] = {{-4, 0, 0}, {-h - 0.4, 0, 0.3}, {-h, 2.2, r},
                  {h, 2.2, r}, {h + 0.4, 0, 0.3}, {4, 0, 0}};
  const Corner *from = shape == SHAPE_V ? v : shape == SHAPE_U ? u : box;
  g_assert_cmpint(outline_from_corners(outline, from, shape == SHAPE_BOX ? 6 : 5), ==, FAULT_NONE);
}

static int by_value(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

int main(void)
{
  int all = 0, in = 0;
  double tsum=0;
  for (int sh = 0; sh < (int)SHAPES; sh++)
    for (size_t i = 0; i < 5; i++)
      for (size_t h = 0; h < 3; h++)
        for (size_t j = 0; j < 3; j++) {
          Outline truth = {0}, fit = {0};
          shape_make((Shape)sh, radii[i], &truth);
          int m = 0, lowm = 0, N = 24;
          double d[64], rr[64];
          for (guint32 seed = 1; seed <= (guint32)N; seed++) {
            size_t n = follow(&truth, SPEED / rates[h], rates[h], jitters[j], seed % 2, 3000 + seed);
            g_assert_cmpint(stroke_fit(pen, n, NULL, &fit, NULL), ==, FAULT_NONE);
            double percent = NAN;
            gint64 t0 = g_get_monotonic_time();
            g_assert_cmpint(stroke_roof_doubt(pen, n, &fit, &percent), ==, FAULT_NONE);
            tsum += 1e-3 * (double)(g_get_monotonic_time() - t0);
            Form f;
            Outline groove = {0};
            Corner g[] = {{-4, 6, 0}, {0, 5, 1}, {4, 6, 0}};
            g_assert_cmpint(outline_from_corners(&groove, g, 3), ==, FAULT_NONE);
            g_assert_cmpint(form_read(&fit, &groove, NULL, NULL, NULL, &f, NULL), ==, FAULT_NONE);
            outline_clear(&groove);
            g_assert_true(isfinite(percent));
            Banded b = drawn_radius(f.roof_radius, percent);
            m += b.low <= radii[i] && radii[i] <= b.high;
            lowm += radii[i] < b.low;
            d[seed - 1] = percent; rr[seed-1] = f.roof_radius.value / radii[i];
          }
          qsort(d, (size_t)N, sizeof *d, by_value); qsort(rr, (size_t)N, sizeof *rr, by_value);
          g_print("%s r %.1f %3.0f Hz j %.2f: in %2d/%d unsafe miss %d doubt %.0f [%.0f %.0f] read %.2f [%.2f %.2f]\n", shape_name[sh], radii[i], rates[h], jitters[j], m, N, lowm, d[N/2], d[2], d[N-3], rr[N/2], rr[2], rr[N-3]);
          all += N; in += m;
          outline_clear(&truth); outline_clear(&fit);
        }
  g_print("all %d/%d %.3f ms %.2f\n", in, all, (double)in/all, tsum/all);
}
