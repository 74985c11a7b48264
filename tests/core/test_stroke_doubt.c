/* test_stroke_doubt.c - seeded strokes over roofs of known radius: how often the truth lies in the
 * band that is shown. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  V, U and box (with a flat between its corners), r 0.2 to 1.2, 60 to 200 Hz, jitter
 * 0.05 to 0.15 mm, 8 mm/s.  Bands are ends at 5 and 95 of 100. */
#include <glib.h>
#include "casefile/drawn.h"
#include "outline/form.h"
#include "outline/stroke_doubt.h"
#include "proof.h"
#include "synthetic_pen.h"

typedef enum { SHAPE_V, SHAPE_U, SHAPE_BOX, SHAPES } Shape;
static const char *const shape_name[SHAPES] = {"V", "U", "box"};
static const double radii[] = {0.2, 0.3, 0.5, 0.9, 1.2}, jitters[] = {0.05, 0.10, 0.15};
static const Source BAND = {"a band of 90 of 100; seeded noise, least wanted", EXACT};
#define STROKES 5        /* a shape, size, rate and jitter; 2 unless the mode is slow */
#define FIRST_SEED 52000 /* none that the constants of stroke_doubt.c were set on */

static void shape_make(Shape shape, double r, Outline *outline)
{
  double lean = 8 * M_PI / 180, top = 2.5 + r * (1 / sin(lean) - 1), foot = top * tan(lean),
         h = r < 1 ? 1 : 1.3; /* half of the top of a box: there is a flat between its corners */
  Corner v[] = {{-4, 0, 0}, {-1.5, 0, 0.3}, {0, 2.8, r}, {1.5, 0, 0.3}, {4, 0, 0}},
         u[] = {{-4, 0, 0}, {-foot, 0, 0.3}, {0, top, r}, {foot, 0, 0.3}, {4, 0, 0}},
         box[] = {{-4, 0, 0},  {-h - 0.4, 0, 0.3}, {-h, 2.2, r},
                  {h, 2.2, r}, {h + 0.4, 0, 0.3},  {4, 0, 0}};
  const Corner *from = shape == SHAPE_V ? v : shape == SHAPE_U ? u : box;
  g_assert_cmpint(outline_from_corners(outline, from, shape == SHAPE_BOX ? 6 : 5), ==, FAULT_NONE);
}

typedef struct {
  int strokes, inside, unsafe; /* unsafe: the truth is sharper than the band */
  double percent;              /* sum */
} Count;

/* Counts the stroke of n points in the pen. */
static void stroke_read(size_t n, double r, Count *count)
{
  Outline fit = {0};
  Form form;
  double percent = NAN;
  g_assert_cmpint(stroke_fit(pen, n, NULL, &fit, NULL), ==, FAULT_NONE);
  g_assert_cmpint(stroke_roof_doubt(pen, n, &fit, &percent), ==, FAULT_NONE);
  g_assert_cmpint(form_roof_read(&fit, &form), ==, FAULT_NONE);
  g_assert_true(percent > 0 && percent <= STROKE_DOUBT_MOST);
  Banded band = drawn_radius(form.roof_radius, percent);
  count->strokes++;
  count->inside += band.low <= r && r <= band.high;
  count->unsafe += r < band.low;
  count->percent += percent;
  outline_clear(&fit);
}

static void stroke_count(const Outline *truth, double r, double rate, double jitter, guint32 seed,
                         Count *count)
{
  stroke_read(follow(truth, SPEED / rate, rate, jitter, seed % 2, FIRST_SEED + seed), r, count);
}

/* Of every shape and size at least 90 of 100; of no shape more than 1 of 20 sharper than the band,
 * in the slow mode of no size either. */
static void test_coverage(void)
{
  const guint32 strokes = g_test_slow() ? STROKES : 2;
  for (int shape = 0; shape < (int)SHAPES; shape++) {
    Count all = {0};
    for (size_t i = 0; i < G_N_ELEMENTS(radii); i++) {
      Outline truth = {0};
      Count count = {0};
      shape_make((Shape)shape, radii[i], &truth);
      for (size_t h = 0; h < G_N_ELEMENTS(rates); h++)
        for (size_t j = 0; j < G_N_ELEMENTS(jitters); j++)
          for (guint32 seed = 1; seed <= strokes; seed++)
            stroke_count(&truth, radii[i], rates[h], jitters[j], seed, &count);
      g_test_message("%s r %.1f: %d of %d inside, %d sharper than the band, mean doubt %.0f %%",
                     shape_name[shape], radii[i], count.inside, count.strokes, count.unsafe,
                     count.percent / count.strokes);
      g_assert_cmpint(10 * count.inside, >=, 9 * count.strokes);
      if (g_test_slow())
        g_assert_cmpint(20 * count.unsafe, <=, count.strokes);
      all.strokes += count.strokes;
      all.inside += count.inside;
      all.unsafe += count.unsafe;
      outline_clear(&truth);
    }
    g_assert_cmpint(20 * all.unsafe, <=, all.strokes);
    g_autofree char *name = g_strdup_printf("strokes of a %s, r 0.2 to 1.2: true radius in the "
                                            "band, of 100 (90 or more wanted)",
                                            shape_name[shape]);
    proof_row(name, BAND, 95, 100.0 * all.inside / all.strokes, 5.3);
  }
}

/* Both a quiet pen and a loud one say something; a stroke elsewhere says nothing; bad strokes are
 * refused. */
static void test_sense(void)
{
  Outline truth = {0};
  Count quiet = {0}, loud = {0};
  shape_make(SHAPE_V, 0.5, &truth);
  for (guint32 seed = 1; seed <= 10; seed++) {
    stroke_count(&truth, 0.5, 120, 0.02, seed, &quiet);
    stroke_count(&truth, 0.5, 120, 0.15, seed, &loud);
  }
  g_assert_cmpint(quiet.inside, ==, 10);
  g_assert_cmpfloat(quiet.percent, <, 10 * 25);
  g_assert_cmpfloat(loud.percent, <, 10 * 40);
  double percent = 7;
  PenPoint away[12];
  for (int i = 0; i < 12; i++)
    away[i] = (PenPoint){point(-4 + 0.1 * i, 0.01 * (i % 2)), 0.01 * i, 1};
  g_assert_cmpint(stroke_roof_doubt(away, 12, &truth, &percent), ==, FAULT_NONE);
  g_assert_true(isnan(percent));
  g_assert_cmpint(stroke_roof_doubt(away, 1, &truth, &percent), ==, FAULT_DEGENERATE);
  away[3].at.x = NAN;
  g_assert_cmpint(stroke_roof_doubt(away, 12, &truth, &percent), ==, FAULT_NOT_FINITE);
  outline_clear(&truth);
}

/* A slow tremor that is no noise: the band reaches to the truth, whether the line goes through the
 * middle of it or follows it and reads too sharp. */
static void test_tremor(void)
{
  static const double swings[] = {0.03, 0.06}, sizes[] = {0.3, 0.5, 0.9};
  Count all = {0};
  for (int shape = 0; shape < (int)SHAPES; shape++)
    for (size_t j = 0; j < G_N_ELEMENTS(swings); j++)
      for (size_t k = 0; k < G_N_ELEMENTS(sizes); k++)
        for (guint32 phase = 0; phase < 4; phase++) {
          Outline truth = {0};
          shape_make((Shape)shape, sizes[k], &truth);
          size_t n = follow(&truth, SPEED / 120, 120, 0.02, false, 7000 + phase);
          tremble(n, SPEED / 120, swings[j], phase);
          stroke_read(n, sizes[k], &all);
          outline_clear(&truth);
        }
  g_test_message("tremor: %d of %d inside, %d sharper than the band, mean doubt %.0f %%",
                 all.inside, all.strokes, all.unsafe, all.percent / all.strokes);
  g_assert_cmpint(10 * all.inside, >=, 9 * all.strokes);
  g_assert_cmpint(20 * all.unsafe, <=, all.strokes);
}

int main(int argc, char *argv[])
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/stroke-doubt/coverage", test_coverage);
  g_test_add_func("/stroke-doubt/sense", test_sense);
  g_test_add_func("/stroke-doubt/tremor", test_tremor);
  return g_test_run();
}
