/* test_bars_origin.c - the record of a broken bar: kept in its table, refused, compared with where
 * the stress was largest. SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_bars.h"
#include "proof.h"
#include <string.h>

static const Source chi2 = {"upper 10 % point of chi-square, 4 degrees of freedom, 7.779 (tables)",
                            EXACT},
                    lump = {"risk of height alone: (1/10)^(1/(m + 1))", EXACT},
                    sum = {"sum of (share)^m over 4 million small cells of the bar", EXACT},
                    iso = {"ISO 6872:2015, four-point bending, 3 F (L - l) / (2 w b^2), by hand",
                           FROM_MEMORY};

static const char table_text[] = "lot;thickness_mm;force_n;width_mm\r\n"
                                 "\"a;b\";3;1000;4\r\n"
                                 "\r\n"
                                 "0418;3;abc;4\r\n"
                                 "0419;3;1100,5;4";

static BarsTable *table_of(const char *text)
{
  GError *error = NULL;
  BarsTable *table = bars_typed_read(text, "bars.csv", BAR_FOUR_POINT_QUARTER, 4, 3, &error);
  g_assert_no_error(error);
  return table;
}

static BarOrigin read_good(const BarsTable *table, guint row, const BarSetup *setup)
{
  BarOrigin origin;
  GError *error = NULL;
  g_assert_true(bar_origin_read(table, row, setup, &origin, &error));
  g_assert_no_error(error);
  return origin;
}

static BarOrigin sample(void)
{
  BarOrigin origin = BAR_ORIGIN_NONE;
  origin.x = -1.25;
  origin.y = 0.05;
  origin.kind = ORIGIN_PORE;
  g_strlcpy(origin.photo, "lot 7/face; \"left\".jpg", sizeof origin.photo);
  return origin;
}

/* Only its line and the names change; bad lines, other columns and line ends stay. */
static void test_table(void)
{
  BarSetup setup = bar_setup_default(BAR_FOUR_POINT_QUARTER);
  BarOrigin origin = sample();
  GError *error = NULL;
  guint line = 2;
  g_autofree char *text = bar_origin_write(table_text, &line, &setup, 4, 3, &origin, &error);
  g_assert_no_error(error);
  g_assert_true(g_str_has_prefix(text, "lot;thickness_mm;force_n;width_mm;origin_x_mm;origin_y_mm;"
                                       "origin_kind;origin_photo\r\n\"a;b\";3;1000;4;-1.25;0.05;"
                                       "pore;"));
  g_assert_nonnull(strstr(text, "\r\n\r\n0418;3;abc;4\r\n0419;3;1100,5;4"));
  g_autoptr(BarsTable) table = table_of(text);
  g_assert_cmpuint(table->row->len, ==, 2);
  g_assert_cmpuint(table->message->len, ==, 1);
  BarOrigin back = read_good(table, 0, &setup), none = read_good(table, 1, &setup);
  g_assert_cmpfloat(back.x, ==, origin.x);
  g_assert_cmpfloat(back.y, ==, origin.y);
  g_assert_cmpint((int)back.kind, ==, ORIGIN_PORE);
  g_assert_cmpstr(back.photo, ==, origin.photo);
  g_assert_false(back.notched);
  g_assert_false(bar_origin_recorded(&none));
  /* through the table's own writer as well */
  g_autofree char *again = bars_csv_write(table, BAR_FOUR_POINT_QUARTER);
  g_autoptr(BarsTable) third = table_of(again);
  BarOrigin kept = read_good(third, 0, &setup);
  g_assert_cmpfloat(kept.x, ==, origin.x);
  g_assert_cmpstr(kept.photo, ==, origin.photo);
  /* taken back: the columns stay, empty */
  g_autofree char *empty = bar_origin_write(text, &line, &setup, 4, 3, &BAR_ORIGIN_NONE, &error);
  g_autoptr(BarsTable) fourth = table_of(empty);
  BarOrigin gone = read_good(fourth, 0, &setup);
  g_assert_false(bar_origin_recorded(&gone));
  g_assert_cmpuint(fourth->row->len, ==, 2);
}

/* Lines without names become a table; each keeps its place and its fault. */
static void test_typed(void)
{
  BarSetup setup = bar_setup_default(BAR_FOUR_POINT_QUARTER);
  BarOrigin origin = sample();
  origin.notched = true;
  origin.notch_x = 2;
  origin.notch = (NotchedBar){3, 4, 0.36, 0.06, 40};
  GError *error = NULL;
  guint line = 3;
  g_autofree char *text =
      bar_origin_write("1092\nabc\n1267 4,1 3\n", &line, &setup, 4, 3, &origin, &error);
  g_assert_no_error(error);
  g_autoptr(BarsTable) table = table_of(text);
  g_assert_cmpuint(table->row->len, ==, 2);
  g_assert_cmpuint(table->message->len, ==, 1);
  const BarsRow *row = &g_array_index(table->row, BarsRow, 1);
  g_assert_cmpuint(row->line, ==, 4);
  g_assert_cmpuint(line, ==, 4);
  g_assert_cmpfloat(row->bar.force_n, ==, 1267);
  g_assert_cmpfloat(row->bar.width, ==, 4.1);
  BarOrigin back = read_good(table, 1, &setup), none = read_good(table, 0, &setup);
  g_assert_true(back.notched);
  g_assert_cmpfloat(back.notch_x, ==, 2);
  g_assert_cmpfloat(back.notch.depth, ==, 0.36);
  g_assert_cmpfloat(back.notch.radius, ==, 0.06);
  g_assert_cmpfloat(back.notch.open_deg, ==, 40);
  g_assert_cmpfloat(back.notch.width, ==, 4.1);
  g_assert_false(bar_origin_recorded(&none));
}

static void test_refused(void)
{
  static const struct {
    const char *name, *cell, *words;
  } row[] = {
      {"origin_x_mm", "99", "bars.csv:2: origin_x_mm \"99\" lies beyond the end of the bar"},
      {"origin_x_mm", "left", "bars.csv:2: origin_x_mm \"left\" is no plain number"},
      {"origin_y_mm", "-0.1", "lies outside the bar"},
      {"origin_y_mm", "3.1", "lies outside the bar"},
      {"origin_kind", "bite", "is not known. Write one of: scratch"},
      {"origin_photo", "../face.jpg", "leaves the folder"},
      {"origin_photo", "/tmp/face.jpg", "leaves the folder"},
      {"notch_depth_mm", "2.5", "is no notch of this bar"},
  };
  BarSetup setup = bar_setup_default(BAR_FOUR_POINT_QUARTER);
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    g_autofree char *text = g_strdup_printf(
        "force_n,width_mm,thickness_mm,notch_x_mm,%s\n1000,4,3,0,%s\n", row[i].name, row[i].cell);
    g_autoptr(BarsTable) table = table_of(text);
    g_autoptr(GError) error = NULL;
    BarOrigin origin;
    g_assert_false(bar_origin_read(table, 0, &setup, &origin, &error));
    g_test_message("%s", error->message);
    g_assert_nonnull(strstr(error->message, row[i].words));
    g_assert_false(bar_origin_recorded(&origin));
  }
  BarOrigin away = sample();
  g_strlcpy(away.photo, "../x.jpg", sizeof away.photo);
  guint line = 2, beyond = 40;
  g_autoptr(GError) error = NULL, lost = NULL, open = NULL;
  g_assert_null(bar_origin_write(table_text, &line, &setup, 4, 3, &away, &error));
  g_assert_nonnull(strstr(error->message, "leaves the folder"));
  BarOrigin good = sample();
  g_assert_null(bar_origin_write(table_text, &beyond, &setup, 4, 3, &good, &lost));
  g_assert_nonnull(strstr(lost->message, "no such bar"));
  g_assert_null(bar_origin_write("force_n,width_mm,thickness_mm,note\n1000,4,3,\"two\nlines\"\n",
                                 &line, &setup, 4, 3, &good, &open));
  g_assert_nonnull(strstr(open->message, "several lines"));
}

static double brute_share(const BarSetup *setup, double m)
{
  enum { ACROSS = 2000, UP = 2000, BINS = 4000 };
  static double risk[BINS];
  double all = 0, below = 0;
  memset(risk, 0, sizeof risk);
  for (int i = 0; i < ACROSS; i++)
    for (int k = 0; k < UP; k++) {
      double x = setup->span / 2 * (i + 0.5) / ACROSS, v = (k + 0.5) / UP;
      double along = fmin(1, (setup->span / 2 - x) / ((setup->span - setup->inner) / 2));
      double share = along * v;
      risk[(int)(share * BINS)] += pow(share, m);
    }
  for (int i = 0; i < BINS; i++)
    all += risk[i];
  int at = 0;
  while (below < 0.1 * all)
    below += risk[at++];
  return (at - 0.5) / BINS;
}

static void test_least_share(void)
{
  BarSetup three = bar_setup_default(BAR_THREE_POINT),
           quarter = bar_setup_default(BAR_FOUR_POINT_QUARTER), even = quarter;
  even.inner = even.span;
  proof_row("least share, three points, m 10", chi2, exp(-7.77944 / 2 / 11),
            bar_break_least_share(&three, 10), 0.01);
  proof_row("least share, even bending, m 10", lump, pow(0.1, 1.0 / 11),
            bar_break_least_share(&even, 10), 0.01);
  proof_row("least share, four points 1/4, m 7", sum, brute_share(&quarter, 7),
            bar_break_least_share(&quarter, 7), 0.1);
  g_assert_cmpfloat(bar_break_least_share(&three, 20), >, bar_break_least_share(&three, 10));
}

static BarBreak check_of(const BarSetup *setup, Point found, const NotchedBar *notch, double at,
                         double times)
{
  const Bar bar = {1000, 4, 3, 0};
  BarBreak result;
  g_assert_cmpint((int)bar_break_check(setup, &bar, found, 10, notch, at, times, &result), ==,
                  FAULT_NONE);
  return result;
}

static void test_check(void)
{
  BarSetup three = bar_setup_default(BAR_THREE_POINT),
           quarter = bar_setup_default(BAR_FOUR_POINT_QUARTER), disc = bar_setup_default(BAR_DISC);
  BarBreak inside = check_of(&quarter, point(4, 0), NULL, 0, 1),
           beside = check_of(&quarter, point(-8, 0), NULL, 0, 1),
           high = check_of(&quarter, point(0, 1), NULL, 0, 1),
           near = check_of(&three, point(2, 0.1), NULL, 0, 1);
  proof_row("bar of 4 x 3 mm at 1000 N, largest stress, MPa", iso, 416.6667, inside.largest_mpa,
            0.001);
  g_assert_true(inside.hit && inside.distance == 0 && inside.share == 1);
  g_assert_cmpfloat(inside.x_low, ==, -5);
  g_assert_cmpfloat(inside.x_high, ==, 5);
  g_assert_false(beside.hit);
  g_assert_cmpfloat_with_epsilon(beside.distance, 3, 1e-12);
  g_assert_cmpfloat_with_epsilon(beside.share, 0.4, 1e-12);
  g_assert_false(high.hit);
  g_assert_cmpfloat_with_epsilon(high.share, 1.0 / 3, 1e-12);
  g_assert_true(near.hit);
  g_assert_cmpfloat_with_epsilon(near.distance, hypot(2, 0.1), 1e-12);
  NotchedBar notch = {3, 4, 0.36, 0.06, 40};
  BarBreak root = check_of(&three, point(2.05, 0.35), &notch, 2, 4),
           away = check_of(&three, point(0, 0), &notch, 2, 4),
           weak = check_of(&three, point(0, 0), &notch, 9, 4); /* near the roller: 0.1 x 4 < 1 */
  g_assert_true(root.at_notch && root.hit && isnan(root.share));
  g_assert_cmpfloat_with_epsilon(root.largest_mpa / near.largest_mpa, 0.8 * 4, 1e-12);
  g_assert_true(away.at_notch && !away.hit);
  g_assert_true(!weak.at_notch && weak.hit);
  Bar bar = {1000, 14, 1.2, 0};
  BarBreak none;
  g_assert_cmpint((int)bar_break_check(&disc, &bar, point(0, 0), 10, NULL, 0, 1, &none), ==,
                  FAULT_RANGE);
  g_assert_cmpint((int)bar_break_check(&three, &bar, point(NAN, 0), 10, NULL, 0, 1, &none), ==,
                  FAULT_NOT_FINITE);
}

/* Counted over a set; what cannot be is told in the order of the lines, and the bar stays. */
static void test_records(void)
{
  BarSetup setup = bar_setup_default(BAR_THREE_POINT);
  g_autoptr(BarsTable) table =
      table_of("force_n,width_mm,thickness_mm,origin_x_mm,origin_y_mm,origin_kind,notch_x_mm,"
               "notch_depth_mm,notch_radius_mm,notch_open_deg\n"
               "1000,4,3,0.5,0,pore,,,,\n"
               "1000,4,3,9,0,disc,,,,\n"
               "1000,4,3,99,0,disc,,,,\n"
               "bad,4,3,0,0,disc,,,,\n"
               "1000,4,3,,,scratch,,,,\n"
               "1000,4,3,2,0.35,scratch,2,0.36,0.06,40\n"
               "1000,4,3,0,0,scratch,2,0.36,0.06,40\n"
               "1000,4,3,,,,,,,\n");
  BarsRecords records;
  g_assert_cmpint((int)bars_records(table, &setup, 10, NULL, NULL, &records), ==, FAULT_NONE);
  g_assert_cmpuint(table->row->len, ==, 7);
  g_assert_cmpuint(records.recorded, ==, 5);
  g_assert_cmpuint(records.placed, ==, 4);
  g_assert_cmpuint(records.hits, ==, 2);
  g_assert_cmpuint(records.kind[ORIGIN_SCRATCH], ==, 3);
  g_assert_true(records.found[0].hit && !records.found[1].hit && records.found[4].at_notch);
  g_assert_cmpfloat(records.found[3].largest_mpa, ==, 0);
  bars_records_clear(&records);
  g_assert_cmpuint(table->message->len, ==, 2);
  const char *first = g_ptr_array_index(table->message, 0),
             *second = g_ptr_array_index(table->message, 1);
  g_assert_true(g_str_has_prefix(first, "bars.csv:4: origin_x_mm"));
  g_assert_nonnull(strstr(first, "The bar is used, its record is not."));
  g_assert_true(g_str_has_prefix(second, "bars.csv:5: "));
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/bars_origin/table", test_table);
  g_test_add_func("/bars_origin/typed", test_typed);
  g_test_add_func("/bars_origin/refused", test_refused);
  g_test_add_func("/bars_origin/least_share", test_least_share);
  g_test_add_func("/bars_origin/check", test_check);
  g_test_add_func("/bars_origin/records", test_records);
  return g_test_run();
}
