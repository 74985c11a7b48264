/* test_lab.c - a lab folder: rows, their order, thresholds on record, the cache, the threads.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "case_files.h"
#include "lab/lab_cache.h"
#include "lab/lab_list.h"
#include "lab/lab_pool.h"
#include <string.h>
#include <utime.h>

static void put(const char *name, const char *text)
{
  g_autofree char *path = in_folder(name);
  g_assert_true(g_file_set_contents(path, text, -1, NULL));
}

static void put_demo(const char *name, const char *demo)
{
  g_autofree char *text = shipped_text(demo), *path = in_folder(name);
  struct utimbuf past = {1772000000, 1772000000}; /* long settled */
  put(name, text);
  g_assert_cmpint(g_utime(path, &past), ==, 0);
}

static void taken_away(const char *name)
{
  g_autofree char *path = in_folder(name);
  g_assert_cmpint(g_remove(path), ==, 0);
}

static Lab *lab_there(void)
{
  g_autofree char *trouble = NULL;
  Lab *lab = lab_new(folder, &trouble);
  g_assert_null(trouble);
  return lab;
}

static LabRow *row_assessed(const Lab *lab, const char *file)
{
  Assessor *assessor = NULL;
  LabRow *row = NULL;
  g_assert_cmpint(assessor_new(&assessor), ==, FAULT_NONE);
  g_assert_cmpint(lab_row_assess(lab, file, assessor, NULL, NULL, &row), ==, FAULT_NONE);
  assessor_free(assessor);
  return row;
}

/* ---- rows ---- */

/* What a list sorts by, worst first; each differs from the one before in one thing. */
static void test_order(void)
{
  static const struct {
    RowState state;
    Verdict verdict;
    double margin;
    gint64 waits;
    const char *file;
  } want[] = {{ROW_UNREADABLE, VERDICT_NONE, NAN, 0, "z"}, {ROW_READY, VERDICT_REWORK, NAN, 0, "y"},
              {ROW_READY, VERDICT_REWORK, 0.5, 0, "x"},    {ROW_READY, VERDICT_REWORK, 1.5, 0, "w"},
              {ROW_READY, VERDICT_NONE, 0.4, 0, "v"},      {ROW_READY, VERDICT_CLOSE, 1.1, 5, "u"},
              {ROW_READY, VERDICT_CLOSE, 1.1, 9, "t"},     {ROW_READY, VERDICT_CLOSE, 1.1, 0, "r"},
              {ROW_READY, VERDICT_CLOSE, 1.1, 0, "s"},     {ROW_READY, VERDICT_HOLDS, 1.1, 0, "q"},
              {ROW_READ, VERDICT_NONE, NAN, 0, "p"},       {ROW_SEEN, VERDICT_NONE, NAN, 0, "o"}};
  LabRow *row[G_N_ELEMENTS(want)];
  for (size_t i = 0; i < G_N_ELEMENTS(want); i++) {
    row[i] = lab_row_new(want[i].file);
    row[i]->state = want[i].state;
    row[i]->verdict = want[i].verdict;
    row[i]->margin.value = want[i].margin;
    row[i]->waiting_since_us = want[i].waits;
  }
  for (size_t i = 0; i < G_N_ELEMENTS(want); i++)
    for (size_t k = 0; k < G_N_ELEMENTS(want); k++) {
      int order = lab_row_compare(row[i], row[k]);
      g_assert_cmpint((order > 0) - (order < 0), ==, (i > k) - (i < k));
    }
  for (size_t i = 0; i < G_N_ELEMENTS(want); i++)
    lab_row_free(row[i]);
}

/* The row says what the one call says, and nothing of the folder. */
static void test_row(void)
{
  g_autofree char *newer = shipped_text("demo/QB-01.xml");
  g_autofree char *name = g_strdup("\xd0\xbc\xd0\xbe\xd1\x81\xd1\x82 \xe6\xa9\x8b.xml");
  put_demo(name, "demo/QB-02.xml");
  memcpy(strstr(newer, "version=\"1\" n"), "version=\"7\" n", 11);
  put("newer.xml", newer);
  put("half.xml", "<case xmlns=\"https://soffit.invalid/case\" versi");
  g_autoptr(Lab) lab = lab_there();
  g_autoptr(LabRow) row = row_assessed(lab, name);
  Assessor *assessor = NULL;
  Assessment *a = NULL;
  Case c;
  AssessSettings settings = assess_settings_default();
  settings.grade = ASSESS_LIVE;
  demo_load(&c, "demo/QB-02.xml");
  g_assert_cmpint(assessor_new(&assessor), ==, FAULT_NONE);
  g_assert_cmpint(assess(assessor, &c, &settings, &a), ==, FAULT_NONE);
  g_assert_cmpint(row->state, ==, ROW_READY);
  g_assert_cmpstr(row->file, ==, name);
  g_assert_cmpstr(row->number, ==, "QB-02");
  g_assert_cmpstr(row->trouble, ==, "");
  g_assert_cmpstr(row->weakest, ==, a->connector[a->weakest].name);
  g_assert_cmpint(row->verdict, ==, a->verdict);
  g_assert_cmpfloat(row->margin.value, ==, a->connector[a->weakest].margin.value);
  g_assert_cmpfloat(row->order_n, ==, 600);
  g_assert_cmpuint(row->n_unit, ==, 4);
  g_assert_cmpint(row->tooth_first, ==, 34);
  g_assert_cmpint(row->tooth_last, ==, 37);
  g_assert_cmpstr(row->author, ==, "trainee"); /* the last hand of its history */
  Phrase reason, span = lab_row_span(row);
  char said[200], want[200];
  g_assert_cmpuint(assessment_reasons(a, a->weakest, &reason, 1), ==, 1);
  phrase_format(&row->headline, NULL, ".", said, sizeof said);
  phrase_format(&reason, NULL, ".", want, sizeof want);
  g_assert_cmpstr(said, ==, want);
  g_assert_cmpstr(row->reason, ==, "margin");
  phrase_format(&span, NULL, ".", said, sizeof said);
  g_assert_cmpstr(said, ==, "4 units, 34-37");
  assessment_unref(a);
  assessor_free(assessor);
  case_clear(&c);
  g_autoptr(LabRow) later = row_assessed(lab, "newer.xml"), half = lab_row_read(lab, "half.xml"),
                    gone = lab_row_read(lab, "gone.xml");
  g_assert_cmpuint(later->troubles, ==, TROUBLE_NEWER);
  g_assert_nonnull(strstr(later->trouble, "Update Soffit"));
  g_assert_cmpuint(half->troubles, ==, TROUBLE_UNREADABLE);
  g_assert_cmpint(half->unread_code, ==, CASE_ERROR_NOT_XML);
  g_assert_true(g_str_has_prefix(half->trouble, "Line 1: "));
  g_assert_cmpint(gone->unread_code, ==, CASE_ERROR_OPEN);
  g_assert_null(strstr(half->trouble, folder));
  g_assert_null(strstr(gone->trouble, folder));
  taken_away(name);
  taken_away("newer.xml");
  taken_away("half.xml");
}

static void count(guint index, void *n)
{
  (void)index;
  ++*(int *)n;
}

static void test_duplicates(void)
{
  static const char *const number[] = {"7", "8", "7", "", "", "7"};
  int changed = 0;
  g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func((GDestroyNotify)lab_row_free);
  for (size_t i = 0; i < G_N_ELEMENTS(number); i++) {
    g_autofree char *file = g_strdup_printf("%zu.xml", i);
    LabRow *row = lab_row_new(file);
    g_free(row->number);
    row->number = g_strdup(number[i]);
    g_ptr_array_add(rows, row);
  }
  LabRow **row = (LabRow **)rows->pdata;
  lab_rows_mark_duplicates(rows, count, &changed);
  g_assert_cmpint(changed, ==, 3);
  g_assert_nonnull(strstr(row[0]->trouble, "2.xml has the same case number"));
  g_assert_nonnull(strstr(row[2]->trouble, "0.xml has"));
  g_assert_nonnull(strstr(row[5]->trouble, "0.xml has"));
  g_assert_cmpuint(row[1]->troubles | row[3]->troubles | row[4]->troubles, ==, 0);
  g_free(row[2]->number);
  row[2]->number = g_strdup("9");
  lab_rows_mark_duplicates(rows, count, &changed);
  g_assert_cmpint(changed, ==, 5); /* 2 is free of it, 0 has another twin */
  g_assert_cmpstr(row[2]->trouble, ==, "");
  g_assert_cmpstr(row[0]->twin, ==, "5.xml");
}

/* A file of next year is read and told; it does not stop anybody. */
static void test_clock(void)
{
  put_demo("a.xml", "demo/QB-01.xml");
  g_autofree char *path = in_folder("a.xml");
  time_t next = time(NULL) + 365 * 24 * 3600;
  struct utimbuf times = {next, next};
  g_assert_cmpint(g_utime(path, &times), ==, 0);
  g_autoptr(Lab) lab = lab_there();
  g_autoptr(LabRow) row = lab_row_read(lab, "a.xml");
  g_assert_cmpint(row->state, ==, ROW_READ);
  g_assert_cmpuint(row->troubles, ==, TROUBLE_FUTURE);
  g_assert_nonnull(strstr(row->trouble, "clock"));
  taken_away("a.xml");
}

static void save(const Case *c, const char *name)
{
  g_autofree char *path = in_folder(name);
  GError *error = NULL;
  case_save(c, path, &error);
  g_assert_no_error(error);
}

static void put_with(const char *name, const char *from, const char *to)
{
  g_autofree char *path = in_folder(name), *text = NULL;
  g_assert_true(g_file_get_contents(path, &text, NULL, NULL));
  g_autoptr(GString) other = g_string_new(text);
  g_assert_cmpuint(g_string_replace(other, from, to, 1), ==, 1);
  put(name, other->str);
}

/* Sent, passed, tampered with: standing, since when it waits, and the limits it was judged by. */
static void test_record(void)
{
  const Person bench = {(char *)"Ana Ko", (char *)"bench technician", (char *)"AK"};
  const Person lead = {(char *)"Vera So", (char *)"supervisor", (char *)"VS"};
  const VerdictLimits limits = {1.1, 1.6};
  Case c;
  demo_load(&c, "demo/QB-01.xml");
  g_autoptr(Lab) lab = lab_there();
  gint64 before = g_get_real_time() / G_USEC_PER_SEC * G_USEC_PER_SEC;
  g_assert_cmpint(case_decide(&c, ENTRY_SENT, &bench, NULL, 0, &limits, NULL), ==, FAULT_NONE);
  save(&c, "a.xml");
  g_autoptr(LabRow) sent = lab_row_read(lab, "a.xml");
  g_assert_cmpint(sent->standing, ==, STANDING_WAITS);
  g_assert_cmpint(sent->waiting_since_us, >=, before);
  g_assert_cmpint(sent->waiting_since_us, <=, g_get_real_time());
  g_assert_cmpstr(sent->author, ==, "AK");
  g_assert_cmpint(sent->chain, ==, CHAIN_WHOLE);
  g_assert_cmpfloat(sent->limits.holds_margin, ==, 1.25); /* the lab's */
  g_assert_cmpint(case_decide(&c, ENTRY_PASS, &lead, "seen", 0, &limits, NULL), ==, FAULT_NONE);
  save(&c, "a.xml");
  g_autoptr(LabRow) passed = lab_row_read(lab, "a.xml");
  g_assert_cmpint(passed->standing, ==, STANDING_PASSED);
  g_assert_cmpint(passed->waiting_since_us, ==, 0);
  g_assert_cmpint(passed->signature, ==, SIGNED_NOT);
  g_assert_cmpfloat(passed->limits.close_margin, ==, 1.1);
  g_assert_cmpfloat(passed->limits.holds_margin, ==, 1.6);
  g_assert_cmpuint(passed->troubles, ==, 0);
  put_with("a.xml", "order load=\"600\"", "order load=\"590\"");
  g_autoptr(LabRow) changed = lab_row_read(lab, "a.xml");
  g_assert_cmpint(changed->standing, ==, STANDING_REOPENED);
  g_assert_cmpint(changed->waiting_since_us, ==, changed->changed_us);
  g_assert_cmpuint(changed->troubles, ==, TROUBLE_OUTSIDE);
  g_assert_cmpstr(changed->digest, !=, passed->digest);
  g_assert_cmpfloat(changed->limits.holds_margin, ==, 1.25);
  save(&c, "a.xml");
  put_with("a.xml", ">seen<", ">not seen<");
  g_autoptr(LabRow) broken = lab_row_read(lab, "a.xml");
  g_assert_cmpint(broken->chain, ==, CHAIN_BROKEN);
  g_assert_cmpuint(broken->troubles & TROUBLE_CHAIN, !=, 0);
  g_assert_nonnull(strstr(broken->trouble, "history was changed from outside"));
  g_assert_cmpint(broken->standing, ==, STANDING_REOPENED);
  case_clear(&c);
  taken_away("a.xml");
}

/* ---- the folder ---- */

static void test_list(void)
{
  g_autofree char *sub = in_folder("b.xml"), *gone = in_folder("gone");
  g_autoptr(GError) error = NULL;
  g_assert_cmpint(g_mkdir(sub, 0777), ==, 0);
  put("c.xml", "123");
  put("a.xml", "");
  put(".hidden.xml", "");
  put("d.txt", "");
  g_autoptr(LabList) list = lab_list_new(folder, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(list->file->len, ==, 2);
  g_assert_cmpstr(g_array_index(list->file, LabFile, 0).name, ==, "a.xml");
  g_assert_cmpstr(g_array_index(list->file, LabFile, 1).name, ==, "c.xml");
  g_assert_cmpint(g_array_index(list->file, LabFile, 1).size, ==, 3);
  put(LAB_SETTINGS_FILE, "[lab]\n");
  g_autoptr(LabList) again = lab_list_new(folder, NULL);
  g_assert_cmpint(again->settings, !=, list->settings);
  g_assert_null(lab_list_new(gone, &error));
  g_assert_error(error, CASE_ERROR, CASE_ERROR_OPEN);
  g_assert_cmpint(g_rmdir(sub), ==, 0);
  taken_away("c.xml");
  taken_away("a.xml");
  taken_away(".hidden.xml");
  taken_away("d.txt");
  taken_away(LAB_SETTINGS_FILE);
}

/* ---- thresholds ---- */

static void assert_thresholds(guint i, double close, double holds, const char *by, gint64 since)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(LabSettings) settings = lab_settings_load(folder, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(settings->thresholds->len, >, i);
  const LabThresholds *t = &g_array_index(settings->thresholds, LabThresholds, i);
  g_assert_cmpfloat(t->limits.close_margin, ==, close);
  g_assert_cmpfloat(t->limits.holds_margin, ==, holds);
  g_assert_cmpstr(t->by, ==, by);
  g_assert_cmpint(t->since_us / G_USEC_PER_SEC, ==, since);
}

static void test_thresholds(void)
{
  const Person by = {(char *)"Vera \xc5\xa0", (char *)"supervisor", (char *)"VS"}, nobody = {0};
  const VerdictLimits first = {1.1, 1.4}, second = {1.0, 1.3}, wrong = {1.5, 1.2};
  const gint64 day = 1772446800; /* 2026-03-02T10:20:00Z by date -u -d @1772446800 */
  g_autoptr(GError) error = NULL;
  assert_thresholds(0, 1.0, 1.25, "", 0);
  put(LAB_SETTINGS_FILE, "# kept by hand\n[lab]\nname=North bench\n");
  g_assert_true(lab_settings_set_limits(folder, &first, &by, day * G_USEC_PER_SEC, &error));
  g_assert_true(lab_settings_set_limits(folder, &first, &by, day * G_USEC_PER_SEC, &error));
  /* a clock that was put back does not change the order */
  g_assert_true(lab_settings_set_limits(folder, &second, &by, (day - 99) * G_USEC_PER_SEC, &error));
  g_assert_no_error(error);
  assert_thresholds(0, 1.0, 1.25, "", 0);
  assert_thresholds(1, 1.1, 1.4, "Vera \xc5\xa0, supervisor", day);
  assert_thresholds(2, 1.0, 1.3, "Vera \xc5\xa0, supervisor", day);
  g_assert_false(lab_settings_set_limits(folder, &wrong, &by, 0, &error));
  g_assert_nonnull(strstr(error->message, "smaller one first"));
  g_clear_error(&error);
  g_assert_false(lab_settings_set_limits(folder, &first, &nobody, 0, &error));
  g_clear_error(&error);
  g_assert_true(lab_settings_set(folder, "South bench", true, &error));
  g_autofree char *path = in_folder(LAB_SETTINGS_FILE), *text = NULL;
  g_assert_true(g_file_get_contents(path, &text, NULL, NULL));
  g_assert_true(g_str_has_prefix(text, "# kept by hand\n"));
  g_assert_nonnull(strstr(text, "[thresholds 1]\nclose-margin=1.10\nholds-margin=1.40\n"));
  g_autoptr(LabSettings) settings = lab_settings_load(folder, NULL);
  g_assert_cmpuint(settings->thresholds->len, ==, 3);
  g_assert_cmpstr(settings->name, ==, "South bench");
  g_assert_true(settings->by_technician);
  taken_away(LAB_SETTINGS_FILE);
}

/* Each bad value with its line, none taken by half. */
static void test_bad_settings(void)
{
  static const struct {
    const char *text;
    int line;
    const char *says;
  } bad[] = {
      {"[lab]\n\n[thresholds 1]\nclose-margin=1\nholds-margin = much\n", 5, "number is needed"},
      {"[thresholds 1]\nclose-margin=1\n", 1, "number is needed"},
      {"[thresholds 1]\nclose-margin=1\nholds-margin=0.9\n", 3, "smaller one first"},
      {"[thresholds 1]\nclose-margin=0\nholds-margin=9\n", 3, "outside 0.5 to 5"},
      {"[thresholds 1]\nclose-margin=1\nholds-margin=2\nsince=noon\n", 4, "no time"},
      {"#\n[lab]\nfigures-by-technician=perhaps\n", 3, "true or false"},
      {"[lab]\nname=\xff\n", 2, "UTF-8"}};
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    g_autoptr(GError) error = NULL;
    g_autofree char *line = g_strdup_printf("lab.ini:%d: ", bad[i].line), *trouble = NULL;
    put(LAB_SETTINGS_FILE, bad[i].text);
    g_assert_null(lab_settings_load(folder, &error));
    g_assert_nonnull(strstr(error->message, line));
    g_assert_nonnull(strstr(error->message, bad[i].says));
    g_autoptr(Lab) lab = lab_new(folder, &trouble); /* the lab opens with the usual values */
    g_assert_cmpstr(trouble, ==, error->message);
    g_assert_cmpfloat(lab_settings_now(lab->settings)->limits.holds_margin, ==, 1.25);
  }
  g_autoptr(GError) error = NULL;
  put(LAB_SETTINGS_FILE, "no group\n");
  g_assert_null(lab_settings_load(folder, &error));
  g_assert_nonnull(strstr(error->message, "no settings file"));
  taken_away(LAB_SETTINGS_FILE);
}

/* A decision is judged by the limits it was taken by, whatever the lab says today. */
static void test_not_retroactive(void)
{
  g_autoptr(LabSettings) settings = lab_settings_new();
  Standing standing = {.state = STANDING_PASSED};
  Case c;
  case_init(&c);
  HistoryEntry *entry = history_entry_new();
  entry->kind = ENTRY_PASS;
  g_free(entry->limits);
  entry->limits = g_strdup("1.10 1.60");
  g_ptr_array_add(c.history, entry);
  VerdictLimits limits = lab_settings_limits(settings, &c, &standing);
  g_assert_cmpfloat(limits.close_margin, ==, 1.1);
  g_assert_cmpfloat(limits.holds_margin, ==, 1.6);
  standing.state = STANDING_REOPENED;
  g_assert_cmpfloat(lab_settings_limits(settings, &c, &standing).holds_margin, ==, 1.25);
  standing.state = STANDING_PASSED;
  entry->limits[0] = '?'; /* written by another hand: the lab's */
  g_assert_cmpfloat(lab_settings_limits(settings, &c, &standing).holds_margin, ==, 1.25);
  case_clear(&c);
}

/* ---- the cache ---- */

static guint cached(const char *path, const Lab *lab)
{
  g_autoptr(GHashTable) rows = lab_cache_load(path, lab);
  return g_hash_table_size(rows);
}

/* What is kept comes back whole; what is damaged, foreign or of other thresholds does not. */
static void test_cache(void)
{
  g_autofree char *dir = in_folder("cache"), *path = lab_cache_path(dir, folder), *data = NULL;
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func((GDestroyNotify)lab_row_free);
  gsize length;
  put_demo("a.xml", "demo/QB-02.xml");
  put_demo("b.xml", "demo/QB-04.xml");
  g_autoptr(Lab) lab = lab_there();
  g_ptr_array_add(rows, row_assessed(lab, "a.xml"));
  g_ptr_array_add(rows, row_assessed(lab, "b.xml"));
  g_ptr_array_add(rows, lab_row_new("seen.xml"));
  LabRow *fresh = lab_row_copy(rows->pdata[0]); /* it may change again within the same tick */
  fresh->changed_us = fresh->read_us - 1000;
  g_free(fresh->file);
  fresh->file = g_strdup("fresh.xml");
  g_ptr_array_add(rows, fresh);
  g_autoptr(GBytes) packed = lab_cache_pack(rows, lab);
  g_assert_cmpuint(cached(path, lab), ==, 0);
  g_assert_true(lab_cache_save(path, packed, &error));
  g_assert_no_error(error);
  g_autoptr(GHashTable) back = lab_cache_load(path, lab);
  g_assert_cmpuint(g_hash_table_size(back), ==, 2);
  for (guint i = 0; i < 2; i++) {
    const LabRow *was = rows->pdata[i], *is = g_hash_table_lookup(back, was->file);
    for (size_t k = 0; k < lab_row_texts; k++)
      g_assert_cmpstr(LAB_ROW_TEXT(is, k), ==, LAB_ROW_TEXT(was, k));
    g_assert_cmpstr(is->headline.text, ==, was->headline.text);
    g_assert_cmpint(lab_row_compare(is, was), ==, 0);
    g_assert_cmpfloat(is->chance_percent.high, ==, was->chance_percent.high);
    g_assert_cmpstr(is->weakest, ==, was->weakest);
  }
  g_assert_true(g_file_get_contents(path, &data, &length, NULL));
  for (size_t i = 0; i < length; i += 1 + length / 200) { /* a byte anywhere */
    data[i] ^= 4;
    g_assert_true(g_file_set_contents(path, data, (gssize)length, NULL));
    g_assert_cmpuint(cached(path, lab), ==, 0);
    data[i] ^= 4;
  }
  g_assert_true(g_file_set_contents(path, data, (gssize)length / 2, NULL));
  g_assert_cmpuint(cached(path, lab), ==, 0);
  g_assert_true(lab_cache_save(path, packed, NULL)); /* written anew */
  g_assert_cmpuint(cached(path, lab), ==, 2);
  g_array_index(lab->settings->thresholds, LabThresholds, 0).limits.holds_margin = 1.3;
  g_assert_cmpuint(cached(path, lab), ==, 0);
  g_assert_cmpint(g_remove(path), ==, 0);
  g_assert_cmpint(g_rmdir(dir), ==, 0);
  taken_away("a.xml");
  taken_away("b.xml");
}

/* ---- threads ---- */

typedef struct {
  GMutex mutex;
  GCond moved;
  bool go;
  GString *order;
} Held;

/* The first row waits until everything is asked for. */
static void row_done(LabRow *row, guint64 number, void *data)
{
  Held *held = data;
  (void)number;
  g_mutex_lock(&held->mutex);
  while (!held->go)
    g_cond_wait(&held->moved, &held->mutex);
  g_string_append_c(held->order, row->file[0]);
  g_mutex_unlock(&held->mutex);
  lab_row_free(row);
}

static void test_pool(void)
{
  g_autoptr(Lab) lab = lab_there(); /* the files are not there: rows all the same */
  Held held = {.order = g_string_new("")};
  g_mutex_init(&held.mutex);
  g_cond_init(&held.moved);
  LabPool *pool = lab_pool_new(lab, 1, NULL, row_done, &held);
  lab_pool_ask(pool, "1", LAB_READ, URGENCY_SEEN);
  lab_pool_ask(pool, "2", LAB_READ, URGENCY_DRAWN);
  lab_pool_ask(pool, "3", LAB_READ, URGENCY_DRAWN);
  lab_pool_ask(pool, "4", LAB_READ, URGENCY_WAITS);
  lab_pool_ask(pool, "5", LAB_READ, URGENCY_DRAWN);
  lab_pool_ask(pool, "6", LAB_READ, URGENCY_DRAWN);
  lab_pool_ask(pool, "6", LAB_READ, URGENCY_DRAWN); /* once */
  lab_pool_hurry(pool, "5", URGENCY_SEEN);
  lab_pool_hurry(pool, "4", URGENCY_DECIDED); /* nothing becomes less urgent */
  lab_pool_forget(pool, "2");
  g_mutex_lock(&held.mutex);
  held.go = true;
  g_cond_signal(&held.moved);
  g_mutex_unlock(&held.mutex);
  lab_pool_wait(pool);
  g_assert_cmpuint(lab_pool_waiting(pool), ==, 0);
  lab_pool_free(pool);
  /* 5 became as urgent as 1, which was asked for before */
  g_assert_cmpstr(held.order->str, ==, "15436");
  g_string_free(held.order, TRUE);
  g_mutex_clear(&held.mutex);
  g_cond_clear(&held.moved);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/lab/order", test_order);
  g_test_add_func("/lab/row", test_row);
  g_test_add_func("/lab/duplicates", test_duplicates);
  g_test_add_func("/lab/clock", test_clock);
  g_test_add_func("/lab/record", test_record);
  g_test_add_func("/lab/list", test_list);
  g_test_add_func("/lab/thresholds", test_thresholds);
  g_test_add_func("/lab/bad_settings", test_bad_settings);
  g_test_add_func("/lab/not_retroactive", test_not_retroactive);
  g_test_add_func("/lab/cache", test_cache);
  g_test_add_func("/lab/pool", test_pool);
  return folder_run();
}
