/* test_records_job.c - records of a folder read on a thread: rows, counts, troubles, stopping; no
 * display is opened. SPDX-License-Identifier: GPL-3.0-or-later */
#include "../core/case_files.h"
#include "ui/records_job.h"
#include <string.h>

#define WAIT_MS 60000

static void changed(void *count)
{
  ++*(int *)count;
}

static const RecordsState *wait_over(RecordsJob *job)
{
  gint64 end = g_get_monotonic_time() + WAIT_MS * 1000;
  while (!records_job_state(job)->over && g_get_monotonic_time() < end) {
    g_main_context_iteration(NULL, FALSE);
    g_usleep(500);
  }
  g_assert_true(records_job_state(job)->over);
  return records_job_state(job);
}

static void put(const char *name, const char *text)
{
  g_autofree char *path = in_folder(name);
  g_assert_true(g_file_set_contents(path, text, -1, NULL));
}

static void taken_away(const char *name)
{
  g_autofree char *path = in_folder(name);
  g_assert_cmpint(g_remove(path), ==, 0);
}

static void put_with(const char *name, const char *text, const char *from, const char *to)
{
  g_autoptr(GString) other = g_string_new(text);
  g_assert_cmpuint(g_string_replace(other, from, to, 1), ==, 1);
  put(name, other->str);
}

/* Hits, a miss, a case without a record, one that is off the sketch, one that is no case. */
static void test_rows(void)
{
  static const char *const name[] = {"a.xml", "b.xml", "c.xml", "d.xml", "e.xml", "f.txt"};
  g_autofree char *broke = shipped_text("demo/QB-10.xml"), *whole = shipped_text("demo/QB-01.xml");
  put("a.xml", broke);
  put_with("b.xml", broke, "<origin between=\"46-47\"", "<origin between=\"45-46\"");
  put("c.xml", whole);
  put_with("d.xml", broke, "x=\"0.3\" depth", "x=\"30\" depth");
  put("e.xml", "<p>no case</p>");
  put("f.txt", "not looked at");
  int changes = 0;
  RecordsJob *job = records_job_new(folder, changed, &changes);
  const RecordsState *state = wait_over(job);
  g_assert_cmpint(changes, >=, 1);
  g_assert_false(state->stopped || state->more);
  g_assert_null(state->trouble);
  g_assert_cmpuint(state->of, ==, 5);
  g_assert_cmpuint(state->sum.files, ==, 5);
  g_assert_cmpuint(state->sum.unread, ==, 2);
  g_assert_cmpuint(state->sum.tally.recorded, ==, 2);
  g_assert_cmpuint(state->sum.tally.connector_hits, ==, 1);
  g_assert_cmpuint(state->row->len, ==, 4);
  const BreakRow *hit = &g_array_index(state->row, BreakRow, 0),
                 *miss = &g_array_index(state->row, BreakRow, 1),
                 *off = &g_array_index(state->row, BreakRow, 2),
                 *none = &g_array_index(state->row, BreakRow, 3);
  g_assert_true(hit->check.zone_hit && g_str_equal(hit->broke, "46/47"));
  g_assert_true(miss->check.recorded && !miss->check.connector_hit && isnan(miss->check.distance));
  g_assert_cmpstr(miss->broke, ==, "45/46");
  g_assert_cmpstr(miss->expected, ==, "46/47");
  g_assert_nonnull(strstr(off->error->message, "off the sketch"));
  g_assert_nonnull(strstr(none->error->message, "namespace"));
  records_job_free(job);
  for (size_t i = 0; i < G_N_ELEMENTS(name); i++)
    taken_away(name[i]);
}

static void test_no_folder(void)
{
  int changes = 0;
  g_autofree char *gone = in_folder("gone");
  RecordsJob *job = records_job_new(gone, changed, &changes);
  const RecordsState *state = wait_over(job);
  g_assert_nonnull(strstr(state->trouble, "Choose another folder"));
  g_assert_cmpuint(state->row->len, ==, 0);
  records_job_free(job);
}

/* Stopped before all is read: what was read stays, and the rest is not counted. */
static void test_stop(void)
{
  g_autofree char *broke = shipped_text("demo/QB-10.xml");
  for (int i = 0; i < 40; i++) {
    g_autofree char *name = g_strdup_printf("%02d.xml", i);
    put(name, broke);
  }
  int changes = 0;
  RecordsJob *job = records_job_new(folder, changed, &changes);
  while (changes == 0)
    g_main_context_iteration(NULL, TRUE);
  records_job_stop(job);
  const RecordsState *state = wait_over(job);
  g_assert_true(state->stopped);
  g_assert_cmpuint(state->of, ==, 40);
  g_assert_cmpuint(state->sum.files, <, 40);
  g_assert_cmpuint(state->row->len, ==, state->sum.files);
  records_job_free(job);
  /* a job that is freed at once ends too */
  records_job_free(records_job_new(folder, changed, &changes));
  for (int i = 0; i < 40; i++) {
    g_autofree char *name = g_strdup_printf("%02d.xml", i);
    taken_away(name);
  }
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/records_job/rows", test_rows);
  g_test_add_func("/records_job/no_folder", test_no_folder);
  g_test_add_func("/records_job/stop", test_stop);
  return folder_run();
}
