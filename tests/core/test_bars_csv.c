/* test_bars_csv.c - tables of strength tests: separators, decimal signs, bad rows named, good ones
 * kept. SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/bars_csv.h"
#include "casefile/case_xml.h"
#include <string.h>

static BarsTable *table_of(const char *text, BarTest test)
{
  GError *error = NULL;
  BarsTable *table = bars_csv_read(text, strlen(text), "bars.csv", test, &error);
  g_assert_no_error(error);
  return table;
}

static const BarsRow *row(const BarsTable *table, guint i)
{
  g_assert_cmpuint(i, <, table->row->len);
  return &g_array_index(table->row, BarsRow, i);
}

static void bar_is(const BarsTable *table, guint i, guint line, double force, double width,
                   double thickness, double length)
{
  const BarsRow *r = row(table, i);
  g_assert_cmpuint(r->line, ==, line);
  g_assert_cmpfloat(r->bar.force_n, ==, force);
  g_assert_cmpfloat(r->bar.width, ==, width);
  g_assert_cmpfloat(r->bar.thickness, ==, thickness);
  g_assert_cmpfloat(r->bar.length, ==, length);
}

static void test_kinds(void)
{
  static const char *const same[] = {
      "force_n,width_mm,thickness_mm\n812.5,4.02,1.21\n640,3.98,1.2\n",
      "force_n;width_mm;thickness_mm\n812,5;4,02;1,21\n640;3,98;1,2\n",
      "force_n\twidth_mm\tthickness_mm\n812,5\t4.02\t1,21\n640\t3,98\t1.2\n",
      ("\xEF\xBB\xBF"
       "force_n;width_mm;thickness_mm\r\n812,5;4,02;1,21\r\n640;3,98;1,2\r\n"),
      "force_n,width_mm,thickness_mm\r812.5,4.02,1.21\r640,3.98,1.2",
      "Force_N, Width_mm ,thickness_mm\n \"812,5\" , 4.02 ,1.21\n\"640\",\"3,98\",1.2\n",
  };
  for (size_t i = 0; i < G_N_ELEMENTS(same); i++) {
    g_autoptr(BarsTable) table = table_of(same[i], BAR_THREE_POINT);
    g_assert_cmpuint(table->row->len, ==, 2);
    g_assert_cmpuint(table->message->len, ==, 0);
    bar_is(table, 0, 2, 812.5, 4.02, 1.21, 0);
    bar_is(table, 1, 3, 640, 3.98, 1.2, 0);
  }
}

static void test_order_and_further(void)
{
  g_autoptr(BarsTable) table = table_of("lot;thickness_mm;length_mm;force_n;remark;width_mm\n"
                                        "0417;3;45;900;\"edge; \"\"left\"\"\";4\n"
                                        ";;;;;\n\n"
                                        "0418;3;;950;;4\n",
                                        BAR_FOUR_POINT_QUARTER);
  g_assert_cmpuint(table->row->len, ==, 2);
  bar_is(table, 0, 2, 900, 4, 3, 45);
  bar_is(table, 1, 5, 950, 4, 3, 0);
  g_assert_cmpuint(table->further->len, ==, 2);
  g_assert_cmpstr(g_ptr_array_index(table->further, 0), ==, "lot");
  g_assert_cmpstr(row(table, 0)->further[1], ==, "edge; \"left\"");
  g_assert_cmpstr(row(table, 1)->further[0], ==, "0418");
  /* written and read back: the same */
  g_autofree char *text = bars_csv_write(table, BAR_FOUR_POINT_QUARTER);
  g_autoptr(BarsTable) again = table_of(text, BAR_FOUR_POINT_QUARTER);
  bar_is(again, 0, 2, 900, 4, 3, 45);
  bar_is(again, 1, 3, 950, 4, 3, 0);
  g_assert_cmpstr(row(again, 0)->further[1], ==, "edge; \"left\"");
  g_autoptr(BarsTable) disc = table_of("diameter_mm,force_n,thickness_mm\n14,700,1.2\n", BAR_DISC);
  bar_is(disc, 0, 2, 700, 14, 1.2, 0);
}

static void message_is(const BarsTable *table, guint i, const char *start, const char *part)
{
  g_assert_cmpuint(i, <, table->message->len);
  const char *message = g_ptr_array_index(table->message, i);
  g_assert_true(g_str_has_prefix(message, start));
  if (!strstr(message, part))
    g_error("\"%s\" does not say \"%s\"", message, part);
}

static void test_bad_rows(void)
{
  g_autoptr(BarsTable) table = table_of("force_n,width_mm,thickness_mm\n"
                                        "812,4,3\n"
                                        "812,5,4,3\n"
                                        "812 MPa,4,3\n"
                                        ",4,3\n"
                                        "nan,4,3\n"
                                        "0x20,4,3\n"
                                        "\"1.234,5\",4,3\n"
                                        "812,4\n"
                                        "812,wide,3\n"
                                        "-5,4,3\n"
                                        "900,4,3\n",
                                        BAR_THREE_POINT);
  g_assert_cmpuint(table->row->len, ==, 3); /* -5 is a number: bars_strengths names it */
  bar_is(table, 2, 12, 900, 4, 3, 0);
  g_assert_cmpuint(table->message->len, ==, 8);
  message_is(table, 0, "bars.csv:3: ", "4 cells for 3 columns");
  message_is(table, 1, "bars.csv:4: ", "is a strength");
  message_is(table, 2, "bars.csv:5: ", "force_n is empty");
  message_is(table, 3, "bars.csv:6: ", "nan");
  message_is(table, 4, "bars.csv:7: ", "0x20");
  message_is(table, 5, "bars.csv:8: ", "1.234,5");
  message_is(table, 6, "bars.csv:9: ", "thickness_mm is empty");
  message_is(table, 7, "bars.csv:10: ", "width_mm");
}

static void refused(const char *text, size_t length, BarTest test, const char *part)
{
  GError *error = NULL;
  g_assert_null(bars_csv_read(text, length, "bars.csv", test, &error));
  g_assert_nonnull(error);
  g_assert_true(error->domain == CASE_ERROR);
  if (!strstr(error->message, part))
    g_error("\"%s\" does not say \"%s\"", error->message, part);
  g_error_free(error);
}

static void test_refused(void)
{
  refused("", 0, BAR_THREE_POINT, "empty");
  refused("\n\n", 2, BAR_THREE_POINT, "empty");
  refused("812,4,3\n", 8, BAR_THREE_POINT, "bars.csv:1: there is no column force_n");
  const char *pipes = "force_n|width_mm|thickness_mm\n812|4|3\n";
  refused(pipes, strlen(pipes), BAR_THREE_POINT, "comma, semicolon or tab");
  const char *bars = "force_n,width_mm,thickness_mm\n812,4,3\n";
  refused(bars, strlen(bars), BAR_DISC, "diameter_mm");
  const char *twice = "force_n,width_mm,thickness_mm,width_mm\n812,4,3,4\n";
  refused(twice, strlen(twice), BAR_THREE_POINT, "twice");
  refused("force_n\0,width_mm", 17, BAR_THREE_POINT, "UTF-8");
  refused("\xFF\xFE"
          "f\0o\0",
          6, BAR_THREE_POINT, "UTF-8");
  GError *error = NULL;
  g_assert_null(bars_csv_load("no-such-file.csv", BAR_THREE_POINT, &error));
  g_assert_nonnull(strstr(error->message, "no-such-file.csv"));
  g_error_free(error);
}

static void test_typed(void)
{
  GError *error = NULL;
  g_autoptr(BarsTable) table = bars_typed_read("812,5\n640;3,9;1,2\n\n 700.5  4 3 45\n700.5,4.1,3\n"
                                               "701\t4,2\t3\nx\n12;1;2;3;4\n",
                                               "here", BAR_THREE_POINT, 4, 3, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(table->row->len, ==, 5);
  bar_is(table, 0, 1, 812.5, 4, 3, 0);
  bar_is(table, 1, 2, 640, 3.9, 1.2, 0);
  bar_is(table, 2, 4, 700.5, 4, 3, 45);
  bar_is(table, 3, 5, 700.5, 4.1, 3, 0);
  bar_is(table, 4, 6, 701, 4.2, 3, 0);
  g_assert_cmpuint(table->message->len, ==, 2);
  message_is(table, 0, "here:7: ", "x");
  message_is(table, 1, "here:8: ", "5 cells");
  g_autoptr(BarsTable) named = bars_typed_read("thickness_mm;force_n;width_mm\n3;812,5;4\n", "here",
                                               BAR_THREE_POINT, 4, 3, NULL);
  bar_is(named, 0, 2, 812.5, 4, 3, 0);
  g_autoptr(BarsTable) none = bars_typed_read("", "here", BAR_DISC, 12, 1.2, NULL);
  g_assert_cmpuint(none->row->len, ==, 0);
}

/* Anything at all: no crash, and every row is taken or named. */
static void test_noise(void)
{
  GRand *rand = g_rand_new_with_seed(2385);
  static const char letter[] = "0123456789.,;\t\"\n\r -eNax";
  for (int round = 0; round < 3000; round++) {
    g_autoptr(GString) text = g_string_new("force_n;width_mm;thickness_mm\n");
    int n = g_rand_int_range(rand, 0, 120);
    for (int i = 0; i < n; i++)
      g_string_append_c(text, letter[g_rand_int_range(rand, 0, sizeof letter - 1)]);
    g_autoptr(BarsTable) table =
        bars_csv_read(text->str, text->len, "noise", BAR_THREE_POINT, NULL);
    g_assert_nonnull(table);
    for (guint i = 0; i < table->row->len; i++)
      g_assert_cmpuint(row(table, i)->line, >, 1);
  }
  g_rand_free(rand);
}

static void test_many(void)
{
  g_autoptr(GString) text = g_string_new("force_n;width_mm;thickness_mm;lot\n");
  for (int i = 0; i < 100000; i++)
    g_string_append_printf(text, "%d,5;4,01;3,02;a\n", 600 + i % 500);
  gint64 start = g_get_monotonic_time();
  g_autoptr(BarsTable) table = table_of(text->str, BAR_THREE_POINT);
  g_test_message("100 000 rows: %.0f ms", (double)(g_get_monotonic_time() - start) / 1e3);
  g_assert_cmpuint(table->row->len, ==, 100000);
  bar_is(table, 99999, 100001, 1099.5, 4.01, 3.02, 0);
  for (int i = 0; i < 100001; i++)
    g_string_append(text, "700;4;3;b\n");
  refused(text->str, text->len, BAR_THREE_POINT, "more than 200000 rows");
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/bars_csv/kinds", test_kinds);
  g_test_add_func("/bars_csv/order_and_further", test_order_and_further);
  g_test_add_func("/bars_csv/bad_rows", test_bad_rows);
  g_test_add_func("/bars_csv/refused", test_refused);
  g_test_add_func("/bars_csv/typed", test_typed);
  g_test_add_func("/bars_csv/noise", test_noise);
  g_test_add_func("/bars_csv/many", test_many);
  return g_test_run();
}
