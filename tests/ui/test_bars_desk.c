/* test_bars_desk.c - the Bars workspace without its window: what is typed is read, fitted, kept.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "strength/bar_break.h"
#include "ui/bars/bars_desk.h"
#include "ui/drawing/picture_notch.h"
#include "ui/drawing/picture_strength.h"
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

#define WAIT_MS 20000

typedef struct {
  GMainLoop *loop;
  int answers, notches;
} Heard;

static void answered(Heard *heard)
{
  heard->answers++;
  g_main_loop_quit(heard->loop);
}

static void notched(Heard *heard)
{
  heard->notches++;
  g_main_loop_quit(heard->loop);
}

static gboolean too_late(void *data)
{
  (void)data;
  g_test_fail_printf("no answer");
  exit(1);
}

static void wait_for(Heard *heard, int *count)
{
  int before = *count;
  guint late = g_timeout_add(WAIT_MS, too_late, NULL);
  while (*count == before)
    g_main_loop_run(heard->loop);
  g_source_remove(late);
}

static SoffitBarsDesk *desk_new(const char *folder, Heard *heard)
{
  *heard = (Heard){g_main_loop_new(NULL, FALSE), 0, 0};
  SoffitBarsDesk *desk = bars_desk_new(folder);
  g_signal_connect_swapped(desk, "answer-changed", G_CALLBACK(answered), heard);
  g_signal_connect_swapped(desk, "notch-changed", G_CALLBACK(notched), heard);
  return desk;
}

static void desk_end(SoffitBarsDesk *desk, Heard *heard)
{
  g_signal_handlers_disconnect_by_data(desk, heard);
  g_object_unref(desk);
  while (g_main_context_iteration(NULL, FALSE)) {
  }
  g_main_loop_unref(heard->loop);
}

static void test_example(void)
{
  Heard heard;
  SoffitBarsDesk *desk = desk_new("", &heard);
  bars_desk_example(desk);
  wait_for(&heard, &heard.answers);
  const BarsAnswer *a = bars_desk_answer(desk);
  g_assert_cmpuint(a->set[0].n_good, ==, 15);
  g_assert_cmpuint(a->set[1].n_good, ==, 15);
  g_assert_cmpint(a->compare_fault, ==, FAULT_NONE);
  g_assert_true(a->comparison.settled && a->comparison.gain_percent.low > 0);
  g_autofree char *none = bars_desk_messages(desk, 0, 3);
  g_assert_cmpstr(none, ==, "");
  desk_end(desk, &heard);
}

/* Faults are told in the order of their lines, the rest is used; more than asked for is counted. */
static void test_messages(void)
{
  Heard heard;
  SoffitBarsDesk *desk = desk_new("", &heard);
  bars_desk_set_text(desk, 0, "1500\n-5\nabc\n1600\n1550;4;300\n1480\nMPa\n");
  wait_for(&heard, &heard.answers);
  g_assert_cmpuint(bars_desk_answer(desk)->set[0].n_good, ==, 3);
  g_autofree char *said = bars_desk_messages(desk, 0, 3);
  g_auto(GStrv) line = g_strsplit(said, "\n", -1);
  g_assert_cmpuint(g_strv_length(line), ==, 4);
  g_assert_true(g_str_has_prefix(line[0], "line 2: "));
  g_assert_true(g_str_has_prefix(line[1], "line 3: "));
  g_assert_true(g_str_has_prefix(line[2], "line 5: "));
  g_assert_cmpstr(line[3], ==, "and 1 more");
  /* a table whose names are not understood: nothing is used, the reason is told */
  bars_desk_set_text(desk, 0, "load,b,h\n1,2,3\n");
  wait_for(&heard, &heard.answers);
  g_autofree char *why = bars_desk_messages(desk, 0, 3);
  g_assert_nonnull(strstr(why, "force_n"));
  desk_end(desk, &heard);
}

/* A record is written into the lines, read back, compared and counted; what cannot be is told. */
static void test_record(void)
{
  Heard heard;
  SoffitBarsDesk *desk = desk_new("", &heard);
  bars_desk_set_text(desk, 0, "1092\nabc\n1267\n1296\n");
  g_assert_false(bars_desk_settled(desk));
  wait_for(&heard, &heard.answers);
  g_assert_true(bars_desk_settled(desk));
  g_assert_cmpuint(bars_desk_records(desk, 0)->recorded, ==, 0);
  BarSetup setup = bars_desk_setup(desk);
  BarOrigin origin = BAR_ORIGIN_NONE;
  origin.x = 9, origin.y = 0, origin.kind = ORIGIN_DISC;
  guint line = g_array_index(bars_desk_table(desk, 0)->row, BarsRow, 1).line;
  g_assert_cmpuint(line, ==, 3);
  g_autofree char *text =
      bar_origin_write(bars_desk_input(desk)->set[0].text, &line, &setup, 4, 3, &origin, NULL);
  bars_desk_set_text(desk, 0, text);
  wait_for(&heard, &heard.answers);
  const BarsRecords *records = bars_desk_records(desk, 0);
  g_assert_cmpuint(bars_desk_answer(desk)->set[0].n_good, ==, 3);
  g_assert_cmpuint(records->recorded, ==, 1);
  g_assert_cmpuint(records->hits, ==, 0);
  g_assert_cmpfloat_with_epsilon(records->found[1].distance, 4, 1e-12);
  g_autoptr(GString) away = g_string_new(text);
  g_assert_cmpuint(g_string_replace(away, ";9;0;disc", ";99;0;disc", 1), ==, 1);
  bars_desk_set_text(desk, 0, away->str);
  wait_for(&heard, &heard.answers);
  g_assert_cmpuint(bars_desk_answer(desk)->set[0].n_good, ==, 3);
  g_autofree char *said = bars_desk_messages(desk, 0, 3);
  g_assert_true(g_str_has_prefix(said, "line 3: "));
  g_assert_nonnull(strstr(said, "line 4: origin_x_mm \"99\" lies beyond the end"));
  desk_end(desk, &heard);
}

static void test_kept(void)
{
  g_autofree char *folder = g_dir_make_tmp("soffit-bars-XXXXXX", NULL);
  Heard heard;
  SoffitBarsDesk *desk = desk_new(folder, &heard);
  bars_desk_set_name(desk, 1, "polished; \"lot 7\"");
  bars_desk_input(desk)->span = 30;
  bars_desk_set_text(desk, 1, "1500\n1600\n\n1550;4,1;3\n");
  wait_for(&heard, &heard.answers);
  desk_end(desk, &heard);
  desk = desk_new(folder, &heard);
  const BarsInput *in = bars_desk_input(desk);
  g_assert_cmpstr(in->set[1].name, ==, "polished; \"lot 7\"");
  g_assert_cmpstr(in->set[1].text, ==, "1500\n1600\n\n1550;4,1;3\n");
  g_assert_cmpfloat(in->span, ==, 30);
  wait_for(&heard, &heard.answers);
  g_assert_cmpuint(bars_desk_answer(desk)->set[1].n_good, ==, 3);
  desk_end(desk, &heard);
  g_autofree char *file = g_build_filename(folder, "bars.ini", NULL);
  g_assert_cmpint(g_remove(file), ==, 0);
  g_assert_cmpint(g_rmdir(folder), ==, 0);
}

/* The latest notch wins. */
static void test_notch(void)
{
  Heard heard;
  SoffitBarsDesk *desk = desk_new("", &heard);
  for (int i = 1; i <= 30; i++) {
    bars_desk_input(desk)->notch.depth = 0.02 * i;
    bars_desk_changed(desk);
  }
  while (!bars_desk_notch(desk) || bars_desk_notch(desk)->bar.depth < 0.595)
    wait_for(&heard, &heard.notches);
  g_assert_cmpint(heard.notches, <, 10);
  g_assert_cmpfloat(bars_desk_notch(desk)->answer->times, >, 3);
  g_assert_nonnull(bars_desk_notch(desk)->shaded);
  desk_end(desk, &heard);
}

/* Every size and every sort of set: no crash, something is drawn. */
static void test_pictures(void)
{
  Heard heard;
  SoffitBarsDesk *desk = desk_new("", &heard);
  const char *const text[] = {"", "1500\n", "1500\n1500\n1500\n", "1500\n1600\n1700\n1100\n"};
  for (size_t i = 0; i <= G_N_ELEMENTS(text); i++) {
    if (i < G_N_ELEMENTS(text))
      bars_desk_set_text(desk, 0, text[i]);
    else
      bars_desk_example(desk);
    if (i > 0)
      wait_for(&heard, &heard.answers);
    for (int size = 10; size < 1500; size = size * 2 + 7)
      for (int palette = 0; palette < PALETTE_N; palette++) {
        cairo_surface_t *surface =
            cairo_image_surface_create(CAIRO_FORMAT_ARGB32, size, size * 2 / 3);
        cairo_t *cr = cairo_create(surface);
        DrawContext context = {.palette = (Palette)palette, .scale = 1};
        const char *const name[BARS_SETS] = {"as milled", "high gloss"};
        picture_weibull(cr, size, size * 2 / 3, &context, bars_desk_answer(desk), name,
                        bars_desk_book(desk));
        picture_histogram(cr, size, size * 2 / 3, &context, bars_desk_answer(desk), name);
        BarSetup setup = bars_desk_setup(desk);
        const NotchShown *shown = bars_desk_notch(desk);
        NotchPicture picture = {.setup = &setup,
                                .bar = &bars_desk_input(desk)->notch,
                                .answer = shown ? shown->answer : NULL,
                                .shaded = shown ? shown->shaded : NULL,
                                .place = -3,
                                .reference_mpa = 200,
                                .limit_mpa = 600};
        picture_notch(cr, size, size * 2 / 3, &context, &picture);
        g_assert_cmpint(cairo_status(cr), ==, CAIRO_STATUS_SUCCESS);
        cairo_destroy(cr);
        cairo_surface_destroy(surface);
      }
  }
  BarSetup three = {BAR_THREE_POINT, 20, 0, 0.25}, four = {BAR_FOUR_POINT_QUARTER, 20, 10, 0.25};
  g_assert_cmpfloat(bar_bending_share(&three, 0), ==, 1);
  g_assert_cmpfloat(bar_bending_share(&three, -5), ==, 0.5);
  g_assert_cmpfloat(bar_bending_share(&three, 12), ==, 0);
  g_assert_cmpfloat(bar_bending_share(&four, 5), ==, 1);
  g_assert_cmpfloat(bar_bending_share(&four, 7.5), ==, 0.5);
  desk_end(desk, &heard);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/bars_desk/example", test_example);
  g_test_add_func("/bars_desk/messages", test_messages);
  g_test_add_func("/bars_desk/record", test_record);
  g_test_add_func("/bars_desk/kept", test_kept);
  g_test_add_func("/bars_desk/notch", test_notch);
  g_test_add_func("/bars_desk/pictures", test_pictures);
  return g_test_run();
}
