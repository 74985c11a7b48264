/* test_brush_size.c - the brush that passes a gap, against the sizes of ISO 16409.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Size 1 (0.7 to 0.8) is read, the others are from memory. */
#include "proof.h"
#include "verdict/brush_size.h"

/* Smallest and largest passage hole of each size; size 0 ends at 0.6, size 7 begins at 2.4. */
static void test_sizes(void)
{
  static const struct {
    int size;
    double least, most;
  } row[] = {{0, 0.6, 0.6}, {1, 0.7, 0.8}, {2, 0.9, 1.0}, {3, 1.1, 1.2},
             {4, 1.3, 1.5}, {5, 1.6, 1.8}, {6, 1.9, 2.3}, {7, 2.4, 9.9}};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    double least = NAN, most = NAN;
    for (int tenth = 1; tenth < 100; tenth++)
      if (brush_size_through(tenth / 10.0).size == row[i].size) {
        least = isnan(least) ? tenth / 10.0 : least;
        most = tenth / 10.0;
      }
    Source source = {"ISO 16409, passage hole diameter", row[i].size == 1 ? READ : FROM_MEMORY};
    g_autofree char *from = g_strdup_printf("smallest passage hole of size %d, mm", row[i].size);
    g_autofree char *to = g_strdup_printf("largest passage hole of size %d, mm", row[i].size);
    if (row[i].size > 0)
      proof_row_within(from, source, row[i].least, least, 1e-9);
    if (row[i].size < 7)
      proof_row_within(to, source, row[i].most, most, 1e-9);
  }
}

/* A brush must pass: never the size above the gap, whatever the gap. */
static void test_passes(void)
{
  int before = BRUSH_SIZE_NONE;
  for (double gap = 0; gap < 6; gap += 0.00371) {
    BrushSize brush = brush_size_through(gap);
    g_assert_cmpint(brush.size, >=, before);
    before = brush.size;
    if (brush.size == BRUSH_SIZE_NONE) {
      g_assert_cmpfloat(gap, <, 0.6);
      g_assert_true(isnan(brush.passage));
    } else {
      g_assert_cmpfloat(brush.passage, <=, gap + 2e-6);
      g_assert_cmpfloat(brush.passage, >, gap - 0.1 - 1e-6);
    }
  }
  g_assert_cmpint(before, ==, 7);
  g_assert_cmpint(brush_size_through(0.85).size, ==, 1); /* between the sizes: the smaller */
  const double absurd[] = {NAN, INFINITY, -INFINITY, -1, 0};
  for (size_t i = 0; i < G_N_ELEMENTS(absurd); i++)
    g_assert_cmpint(brush_size_through(absurd[i]).size, ==, BRUSH_SIZE_NONE);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/brush-size/sizes", test_sizes);
  g_test_add_func("/brush-size/passes", test_passes);
  return g_test_run();
}
