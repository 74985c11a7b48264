/* test_notched_bar.c - the teaching view's bar: plain and notched.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "mechanics/notched_bar.h"
#include "proof.h"

static const Source beam = {"beam theory", EXACT},
                    table = {"notched bars by an independent finite-element run, error below 0.5 %",
                             SOLVER};

static double times(NotchedBar bar)
{
  NotchedBarAnswer *answer;
  g_assert_cmpint(notched_bar_solve(&bar, &answer), ==, FAULT_NONE);
  double t = answer->times;
  g_assert_cmpfloat(answer->band_percent, >, 0);
  notched_bar_answer_free(answer);
  return t;
}

static void test_plain(void)
{
  proof_row("bar 3 x 4 without a notch, times 6 M / (w h^2)", beam, 1,
            times((NotchedBar){3, 4, 0, 0, 0}), 1);
}

/* One-sided U, x = t / H, y = t / r; the table's factor is on the net section. */
static void test_notches(void)
{
  static const double known[][3] = {
      {0.1, 4, 3.984}, {0.3, 4, 2.561}, {0.3, 2, 1.943}, {0.3, 10, 3.850}};
  for (size_t i = 0; i < G_N_ELEMENTS(known); i++) {
    double h = 3, x = known[i][0], depth = x * h;
    NotchedBar bar = {h, 4, depth, depth / known[i][1], 0};
    g_autofree char *what =
        g_strdup_printf("U-notch in a bar, t/H %g, t/r %g, on the net section", x, known[i][1]);
    proof_row(what, table, known[i][2], times(bar) * (1 - x) * (1 - x), 2);
  }
}

static void test_refused(void)
{
  NotchedBarAnswer *answer;
  const NotchedBar bad[] = {{0, 4, 0, 0, 0},      {3, NAN, 0, 0, 0},  {3, 4, 2.5, 0.1, 30},
                            {3, 4, 0.3, 0.4, 30}, {3, 4, 0.3, 0, 30}, {3, 4, -1, 0.1, 30}};
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++)
    g_assert_cmpint(notched_bar_solve(&bad[i], &answer), ==, FAULT_RANGE);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/notched_bar/plain", test_plain);
  g_test_add_func("/notched_bar/notches", test_notches);
  g_test_add_func("/notched_bar/refused", test_refused);
  return g_test_run();
}
