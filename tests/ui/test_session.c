/* test_session.c - edits, undo, files and recovery; no display is opened.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/case_xml.h"
#include "ui/keep_advice.h"
#include "ui/recovery.h"
#include "ui/session.h"
#include "ui/tick_edit.h"
#include <glib/gstdio.h>

#define WAIT_MS 5000

/* The sessions here look at no answer. */
static Fault run_nothing(Assessor *assessor, const Case *c, const AssessSettings *settings,
                         Assessment **result)
{
  (void)assessor, (void)c, (void)settings, (void)result;
  return FAULT_NO_NECK;
}

static bool wait_for(bool (*done)(void *data), void *data)
{
  gint64 end = g_get_monotonic_time() + WAIT_MS * 1000;
  while (!done(data) && g_get_monotonic_time() < end) {
    g_main_context_iteration(NULL, FALSE);
    g_usleep(500);
  }
  return done(data);
}

/* --- a case and a session --- */

static void case_make(Case *c)
{
  static const int tooth[] = {45, 46, 47};
  case_init(c);
  g_free(c->number);
  c->number = g_strdup("T-1");
  c->n_unit = 3;
  for (size_t i = 0; i < 3; i++) {
    c->unit[i] = (Unit){.tooth = tooth[i], .role = i == 1 ? ROLE_PONTIC : ROLE_ABUTMENT};
    g_assert_cmpint(
        tooth_mean_size(tooth[i], &c->unit[i].length, &c->unit[i].width, &c->unit[i].height), ==,
        FAULT_NONE);
  }
  c->order_load_n = 600;
}

static SoffitSession *session_make(const char *state_dir)
{
  Case c;
  case_make(&c);
  SoffitSession *session = session_new(state_dir, run_nothing);
  g_autoptr(GError) error = NULL;
  session_start(session, &c, &error);
  g_assert_no_error(error);
  case_clear(&c);
  return session;
}

static void load_set(SoffitSession *session, const char *name, double force)
{
  session_edit_begin(session, name)->order_load_n = force;
  g_assert_true(session_edit_end(session));
}

static double load_now(SoffitSession *session)
{
  return session_case(session)->order_load_n;
}

/* A straight line in place of an outline, `up` mm higher than another one. */
static void line_draw(SoffitSession *session, const char *name, double up)
{
  const Point at[] = {{-3, up}, {0, 1 + up}, {3, up}};
  Outline line;
  outline_init(&line);
  g_assert_cmpint(outline_from_points(&line, at, 3, false), ==, FAULT_NONE);
  g_assert_nonnull(session_edit_begin(session, name));
  g_assert_cmpint(session_set_outline(session, 1, SIDE_GINGIVAL, &line), ==, FAULT_NONE);
  session_edit_update(session);
  outline_clear(&line);
}

/* --- undo --- */

static double before_height(SoffitSession *session, const char **step)
{
  const Outline *before = session_outline_before(session, 1, SIDE_GINGIVAL, step);
  return before ? before->knot[0].at.y : NAN;
}

/* The line as it was before it was last changed, whatever else was done since. */
static void test_outline_before(void)
{
  g_autoptr(SoffitSession) session = session_make("");
  const char *step = NULL;
  g_assert_true(isnan(before_height(session, &step))); /* as it was opened */
  line_draw(session, "first", 0.1);
  g_assert_false(isnan(before_height(session, &step))); /* while the hand is down */
  g_assert_cmpstr(step, ==, "first");
  session_edit_cancel(session);
  g_assert_true(isnan(before_height(session, &step)));
  line_draw(session, "first", 0.1);
  g_assert_true(session_edit_end(session));
  line_draw(session, "second", 0.3);
  g_assert_true(session_edit_end(session));
  g_assert_cmpfloat(before_height(session, &step), ==, 0.1);
  g_assert_cmpstr(step, ==, "second");
  load_set(session, "load", 700); /* not of the line */
  g_assert_cmpfloat(before_height(session, &step), ==, 0.1);
  g_assert_cmpstr(step, ==, "second");
  g_assert_null(session_outline_before(session, 0, SIDE_GINGIVAL, &step)); /* of another neck */
  g_assert_null(session_outline_before(session, 7, SIDE_GINGIVAL, &step));
  line_draw(session, "third", 0.5);
  g_assert_cmpfloat(before_height(session, &step), ==, 0.3);
  g_assert_true(session_edit_end(session));
  g_assert_true(session_undo(session));
  g_assert_cmpfloat(before_height(session, &step), ==, 0.1);
  g_assert_true(session_undo(session)); /* the load */
  g_assert_true(session_undo(session));
  g_assert_cmpfloat(session_case(session)->connector[1].side[SIDE_GINGIVAL].knot[0].at.y, ==, 0.1);
  before_height(session, &step);
  g_assert_cmpstr(step, ==, "first");
  session_close(session);
  g_assert_null(session_outline_before(session, 1, SIDE_GINGIVAL, &step));
}

static void test_undo_without_limit(void)
{
  g_autoptr(SoffitSession) session = session_make("");
  g_assert_null(session_undo_name(session));
  for (int i = 1; i <= 1000; i++)
    load_set(session, i % 2 ? "odd" : "even", 600 + i);
  g_assert_cmpstr(session_undo_name(session), ==, "even");
  for (int i = 999; i >= 0; i--) {
    g_assert_true(session_undo(session));
    g_assert_cmpfloat(load_now(session), ==, 600 + i);
  }
  g_assert_false(session_undo(session));
  g_assert_cmpstr(session_redo_name(session), ==, "odd");
  for (int i = 1; i <= 1000; i++)
    g_assert_true(session_redo(session));
  g_assert_false(session_redo(session));
  g_assert_cmpfloat(load_now(session), ==, 1600);
}

static void test_new_edit_forgets_redo(void)
{
  g_autoptr(SoffitSession) session = session_make("");
  load_set(session, "first", 700);
  session_undo(session);
  load_set(session, "second", 800);
  g_assert_null(session_redo_name(session));
  session_undo(session);
  g_assert_cmpfloat(load_now(session), ==, 600);
}

static void count_up(SoffitSession *session, int *n)
{
  (void)session;
  (*n)++;
}

static void test_stream_is_one_step(void)
{
  g_autoptr(SoffitSession) session = session_make("");
  int n_changed = 0;
  g_signal_connect(session, "case-changed", G_CALLBACK(count_up), &n_changed);
  Case *c = session_edit_begin(session, "drag");
  for (int i = 1; i <= 50; i++) {
    c->order_load_n = 600 + i;
    session_edit_update(session);
  }
  g_assert_true(session_edit_end(session));
  g_assert_cmpint(n_changed, ==, 51);
  g_assert_true(session_undo(session));
  g_assert_cmpfloat(load_now(session), ==, 600);
  g_assert_null(session_undo_name(session));
}

static void test_series_is_one_step(void)
{
  g_autoptr(SoffitSession) session = session_make("");
  for (int i = 1; i <= 5; i++) {
    session_edit_begin_series(session, "arrow")->order_load_n = 600 + i;
    session_edit_end(session);
  }
  load_set(session, "other", 900);
  session_edit_begin_series(session, "arrow")->order_load_n = 901;
  session_edit_end(session);
  session_undo(session);
  g_assert_cmpfloat(load_now(session), ==, 900);
  session_undo(session);
  g_assert_cmpfloat(load_now(session), ==, 605);
  session_undo(session);
  g_assert_cmpfloat(load_now(session), ==, 600);
}

static void test_cancel_and_empty_edit(void)
{
  g_autoptr(SoffitSession) session = session_make("");
  session_edit_begin(session, "wrong")->order_load_n = 1;
  session_edit_update(session);
  session_edit_cancel(session);
  g_assert_cmpfloat(load_now(session), ==, 600);
  session_edit_begin(session, "nothing");
  g_assert_false(session_edit_end(session));
  g_assert_null(session_undo_name(session));
  g_assert_false(session_edit_end(session)); /* none is open */
}

static void test_outline_edit(void)
{
  g_autoptr(SoffitSession) session = session_make("");
  Outline drawn, before;
  outline_init(&drawn);
  outline_init(&before);
  const Outline *now = &session_case(session)->connector[1].side[SIDE_GINGIVAL];
  g_assert_cmpint(outline_copy(&before, now), ==, FAULT_NONE);
  g_assert_cmpint(outline_copy(&drawn, now), ==, FAULT_NONE);
  drawn.knot[drawn.n / 2].at.y -= 0.385;
  session_edit_begin(session, "draw");
  g_assert_cmpint(session_set_outline(session, 1, SIDE_GINGIVAL, &drawn), ==, FAULT_NONE);
  g_assert_cmpint(session_set_outline(session, 7, SIDE_GINGIVAL, &drawn), ==, FAULT_RANGE);
  g_assert_true(session_edit_end(session));
  g_assert_true(
      outline_equal(&session_case(session)->connector[1].side[SIDE_GINGIVAL], &drawn, 1e-12));
  g_assert_true(session_case(session)->connector[1].drawn[SIDE_GINGIVAL]);
  session_undo(session);
  g_assert_true(
      outline_equal(&session_case(session)->connector[1].side[SIDE_GINGIVAL], &before, 1e-12));
  g_assert_cmpuint(session_focus(session), ==, 1); /* the eye follows */
  outline_clear(&drawn);
  outline_clear(&before);
}

static void test_tick(void)
{
  g_autoptr(SoffitSession) session = session_make("");
  g_assert_false(tick_step(session, "fire", ""));
  g_assert_false(tick_step(session, "fire", "much too long"));
  g_assert_true(tick_step(session, "fire", "ÄB"));
  g_assert_false(tick_step(session, "fire", "CD")); /* recorded already */
  const Tick *tick = g_ptr_array_index(session_case(session)->tick, 0);
  g_assert_cmpstr(tick->step, ==, "fire");
  g_assert_cmpstr(tick->initials, ==, "ÄB");
  g_autoptr(GDateTime) time = g_date_time_new_from_iso8601(tick->time, NULL);
  g_assert_nonnull(time);
  g_assert_true(session_undo(session));
  g_assert_cmpuint(session_case(session)->tick->len, ==, 0);
  session_redo(session);
  g_assert_true(untick_step(session, "fire"));
  g_assert_cmpuint(session_case(session)->tick->len, ==, 0);
}

/* --- files --- */

static char *folder_make(void)
{
  g_autoptr(GError) error = NULL;
  char *dir = g_dir_make_tmp("soffit-session-XXXXXX", &error);
  g_assert_no_error(error);
  return dir;
}

static void folder_remove(char *dir)
{
  g_autoptr(GDir) folder = g_dir_open(dir, 0, NULL);
  const char *name;
  while ((name = g_dir_read_name(folder)) != NULL) {
    g_autofree char *path = g_build_filename(dir, name, NULL);
    g_unlink(path);
  }
  g_rmdir(dir);
  g_free(dir);
}

static int folder_count(const char *dir, const char *suffix)
{
  g_autoptr(GDir) folder = g_dir_open(dir, 0, NULL);
  const char *name;
  int n = 0;
  while ((name = g_dir_read_name(folder)) != NULL)
    n += g_str_has_suffix(name, suffix);
  return n;
}

static void test_save_and_modified(void)
{
  char *dir = folder_make();
  g_autofree char *path = g_build_filename(dir, "a.xml", NULL);
  g_autoptr(SoffitSession) session = session_make("");
  g_autoptr(GError) error = NULL;
  g_assert_true(session_modified(session)); /* never saved */
  g_assert_true(session_save(session, path, &error));
  g_assert_no_error(error);
  g_assert_false(session_modified(session));
  load_set(session, "load", 750);
  g_assert_true(session_modified(session));
  session_undo(session);
  g_assert_false(session_modified(session)); /* as in the file again */
  load_set(session, "load", 755);
  g_assert_true(session_save(session, NULL, &error));
  g_autoptr(SoffitSession) second = session_new("", run_nothing);
  g_assert_true(session_open(second, path, &error));
  g_assert_cmpfloat(load_now(second), ==, 755);
  g_assert_false(session_modified(second));
  g_assert_false(session_save(second, "/proc/no/such/folder.xml", &error));
  g_assert_error(error, CASE_ERROR, CASE_ERROR_SAVE);
  g_clear_error(&error);
  g_assert_false(session_open(second, "/proc/none.xml", &error));
  g_assert_nonnull(error);
  g_assert_cmpfloat(load_now(second), ==, 755); /* untouched */
  folder_remove(dir);
}

static bool file_there(void *dir)
{
  return folder_count(dir, ".xml") == 1;
}

static bool recovery_has_load(void *dir)
{
  g_autoptr(GDir) folder = g_dir_open(dir, 0, NULL);
  const char *name;
  bool has = false;
  while (!has && (name = g_dir_read_name(folder)) != NULL) {
    if (!g_str_has_suffix(name, ".xml"))
      continue;
    g_autofree char *path = g_build_filename(dir, name, NULL);
    Case c;
    case_init(&c);
    has = case_load(&c, path, NULL) && c.order_load_n == 777;
    case_clear(&c);
  }
  return has;
}

static void test_recovery_written_and_removed(void)
{
  char *dir = folder_make();
  SoffitSession *session = session_make(dir);
  g_assert_true(wait_for(file_there, dir));
  session_edit_begin(session, "drag")->order_load_n = 777;
  session_edit_update(session); /* the pen is still down */
  g_assert_true(wait_for(recovery_has_load, dir));
  g_autoptr(GPtrArray) left = recovery_left_over(dir);
  g_assert_cmpuint(left->len, ==, 0); /* its owner lives */
  session_close(session);
  g_assert_cmpint(folder_count(dir, ".xml"), ==, 0);
  g_assert_cmpint(folder_count(dir, ".note"), ==, 0);
  g_object_unref(session);
  folder_remove(dir);
}

static void test_recovery_after_crash(void)
{
  char *dir = folder_make();
  SoffitSession *lost = session_make(dir);
  load_set(lost, "load", 777);
  g_assert_true(wait_for(recovery_has_load, dir));
  g_object_unref(lost); /* gone without closing its case */
  g_autoptr(GPtrArray) left = recovery_left_over(dir);
  g_assert_cmpuint(left->len, ==, 1);
  const LeftOver *over = g_ptr_array_index(left, 0);
  g_assert_cmpstr(over->number, ==, "T-1");
  g_autoptr(SoffitSession) session = session_new(dir, run_nothing);
  g_autoptr(GError) error = NULL;
  g_assert_true(session_recover(session, over->path, &error));
  g_assert_no_error(error);
  g_assert_cmpfloat(load_now(session), ==, 777);
  g_assert_true(session_modified(session));
  g_assert_false(
      g_file_test(over->path, G_FILE_TEST_EXISTS)); /* now in a file of the living session */
  g_assert_cmpint(folder_count(dir, ".xml"), ==, 1);
  session_close(session);
  folder_remove(dir);
}

static void failure_noted(SoffitSession *session, bool *failed)
{
  (void)session;
  *failed = true;
}

static bool is_set(void *flag)
{
  return *(bool *)flag;
}

static void test_recovery_fails_loudly(void)
{
  bool failed = false;
  g_test_expect_message(NULL, G_LOG_LEVEL_WARNING, "recovery file:*");
  g_autoptr(SoffitSession) session = session_make("/proc/no-folder-here");
  g_signal_connect(session, "autosave-failed", G_CALLBACK(failure_noted), &failed);
  g_assert_true(wait_for(is_set, &failed));
  g_test_assert_expected_messages();
}

/* An advice says which side and which zones it changes; nothing else does. */
static void test_keep_advice(void)
{
  g_autoptr(SoffitSession) session = session_make("");
  Case c;
  case_init(&c);
  g_assert_cmpint((int)case_copy(&c, session_case(session)), ==, FAULT_NONE);
  g_assert_cmpint((int)case_complete(&c), ==, FAULT_NONE);
  Connector *joint = &c.connector[0];
  Advice advice = {.kind = ADVICE_WIDEN, .side = SIDE_LINGUAL};
  memcpy(advice.finish, joint->finish, sizeof advice.finish);
  advice.finish[ZONE_GROOVE] = FINISH_HIGH_POLISH;
  outline_init(&advice.ghost);
  g_assert_cmpint((int)keep_advice(&c, &advice), ==, FAULT_RANGE); /* a side without its line */
  g_assert_cmpint((int)outline_copy(&advice.ghost, &joint->side[SIDE_LINGUAL]), ==, FAULT_NONE);
  outline_transform(&advice.ghost, (const double[6]){1, 0, 0, 1, 0, -0.4});
  g_assert_cmpint((int)keep_advice(&c, &advice), ==, FAULT_NONE);
  g_assert_true(outline_equal(&joint->side[SIDE_LINGUAL], &advice.ghost, 1e-9));
  g_assert_true(joint->drawn[SIDE_LINGUAL]);
  g_assert_cmpint((int)joint->finish[ZONE_GROOVE], ==, FINISH_HIGH_POLISH);
  double load = c.order_load_n;
  advice.kind = ADVICE_LOAD, advice.side = -1, advice.target = load - 60;
  g_assert_cmpint((int)keep_advice(&c, &advice), ==, FAULT_NONE);
  g_assert_cmpfloat(c.order_load_n, ==, load - 60);
  advice.connector = c.n_unit - 1;
  g_assert_cmpint((int)keep_advice(&c, &advice), ==, FAULT_RANGE);
  outline_clear(&advice.ghost);
  case_clear(&c);
}

int main(int argc, char *argv[])
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/session/keep-advice", test_keep_advice);
  g_test_add_func("/session/undo-without-limit", test_undo_without_limit);
  g_test_add_func("/session/new-edit-forgets-redo", test_new_edit_forgets_redo);
  g_test_add_func("/session/stream-is-one-step", test_stream_is_one_step);
  g_test_add_func("/session/series-is-one-step", test_series_is_one_step);
  g_test_add_func("/session/cancel-and-empty-edit", test_cancel_and_empty_edit);
  g_test_add_func("/session/outline-edit", test_outline_edit);
  g_test_add_func("/session/outline-before", test_outline_before);
  g_test_add_func("/session/tick", test_tick);
  g_test_add_func("/session/save-and-modified", test_save_and_modified);
  g_test_add_func("/session/recovery-written-and-removed", test_recovery_written_and_removed);
  g_test_add_func("/session/recovery-after-crash", test_recovery_after_crash);
  g_test_add_func("/session/recovery-fails-loudly", test_recovery_fails_loudly);
  return g_test_run();
}
