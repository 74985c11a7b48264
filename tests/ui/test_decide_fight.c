/* test_decide_fight.c - two processes decide on one case over and over, a third reads it all the
 * while: nothing that was told as written is lost, the history hangs together, no file is left.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The program starts itself: --decide PATH INITIALS N decides N times, as a window would. */
#include "../core/case_files.h"
#include "record/chain.h"
#include "ui/review/decide.h"
#include "wait_for.h"
#include <string.h>

#define EACH 40
#define WAIT_S 120

static const char *program;

typedef struct {
  bool over;
  DecideOutcome outcome;
} Told;

static void told(const Decision *decision, DecideOutcome outcome, const char *said, void *data)
{
  Told *it = data;
  (void)decision, (void)said;
  it->outcome = outcome;
  it->over = true;
}

static Decision *decision_make(const char *path, const char *initials, int i)
{
  Case c;
  g_autoptr(GError) error = NULL;
  Decision *d = g_new0(Decision, 1);
  case_init(&c);
  case_load_seen(&c, path, d->seen, &error); /* whole, however often the other writes */
  g_assert_no_error(error);
  case_clear(&c);
  d->folder = g_path_get_dirname(path);
  d->file = g_path_get_basename(path);
  d->kind = i % 2 ? ENTRY_RETURN : ENTRY_PASS;
  d->reason = g_strdup_printf("%s %d", initials, i);
  d->limits = (VerdictLimits){1, 1.25};
  d->by = (Person){g_strdup(initials), g_strdup("supervisor"), g_strdup(initials)};
  d->remark = g_ptr_array_new_with_free_func((GDestroyNotify)remark_free);
  Remark *remark = remark_new();
  remark->connector = 0;
  remark->at = point(0.1 * i, 1);
  g_free(remark->text);
  remark->text = g_strdup(d->reason);
  g_ptr_array_add(d->remark, remark);
  return d;
}

/* Until each of n was told as written; the status is how often the other was in the way, at most
 * 100. */
static int decide_all(const char *path, const char *initials, int n)
{
  g_autoptr(GObject) owner = g_object_new(G_TYPE_OBJECT, NULL);
  int refused = 0;
  for (int i = 0; i < n;) {
    Told it = {false, DECIDE_FAILED};
    decision_write(decision_make(path, initials, i), owner, told, &it);
    WAIT_FOR(it.over, WAIT_S);
    g_assert_cmpint(it.outcome, !=, DECIDE_FAILED);
    if (it.outcome == DECIDED)
      i++;
    else
      refused++;
  }
  return MIN(refused, 100);
}

static GSubprocess *decider(const char *path, const char *initials)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *n = g_strdup_printf("%d", EACH);
  GSubprocess *one = g_subprocess_new(G_SUBPROCESS_FLAGS_NONE, &error, program, "--decide", path,
                                      initials, n, NULL);
  g_assert_no_error(error);
  return one;
}

static void ended(GObject *one, GAsyncResult *result, void *data)
{
  g_assert_true(g_subprocess_wait_finish(G_SUBPROCESS(one), result, NULL));
  ++*(int *)data;
}

static guint entries_of(const Case *c, const char *reason)
{
  guint n = 0;
  for (guint i = 0; i < c->history->len; i++) {
    const HistoryEntry *entry = c->history->pdata[i];
    n += (entry->kind == ENTRY_PASS || entry->kind == ENTRY_RETURN) &&
         strcmp(entry->text, reason) == 0;
  }
  return n;
}

static guint remarks_of(const Case *c, const char *text)
{
  guint n = 0;
  for (guint i = 0; i < c->remark->len; i++)
    n += strcmp(((const Remark *)c->remark->pdata[i])->text, text) == 0;
  return n;
}

static void all_there(const Case *c, const char *initials)
{
  for (int i = 0; i < EACH; i++) {
    g_autofree char *words = g_strdup_printf("%s %d", initials, i);
    g_assert_cmpuint(entries_of(c, words), ==, 1);
    g_assert_cmpuint(remarks_of(c, words), ==, 1);
  }
}

static void folder_has(const char *only)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  for (const char *name; (name = g_dir_read_name(dir)) != NULL;)
    g_assert_cmpstr(name, ==, only);
}

static void nothing_is_lost(void)
{
  g_autofree char *path = in_folder("one.xml");
  g_autoptr(GError) error = NULL;
  Case c;
  demo_load(&c, "demo/QB-01.xml");
  const guint before = c.history->len, remarks = c.remark->len;
  g_assert_true(case_save(&c, path, &error));
  case_clear(&c);
  g_autoptr(GSubprocess) anna = decider(path, "AA"), bert = decider(path, "BB");
  int over = 0;
  guint reads = 0, longest = before;
  g_subprocess_wait_async(anna, NULL, ended, &over);
  g_subprocess_wait_async(bert, NULL, ended, &over);
  while (over < 2) { /* a reader without any lock: whole each time, and never shorter */
    while (g_main_context_iteration(NULL, FALSE))
      ;
    case_init(&c);
    case_load(&c, path, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(c.history->len, >=, longest);
    longest = c.history->len;
    case_clear(&c);
    reads++;
    g_usleep(1000);
  }
  g_assert_true(g_subprocess_get_if_exited(anna) && g_subprocess_get_if_exited(bert));
  int refused[2] = {g_subprocess_get_exit_status(anna), g_subprocess_get_exit_status(bert)};
  g_test_message("read %u times; refused %d and %d times", reads, refused[0], refused[1]);
  g_assert_cmpint(refused[0] + refused[1], >, 0); /* they did meet */
  g_assert_cmpint(MAX(refused[0], refused[1]), <=, 100);
  case_init(&c);
  case_load(&c, path, &error);
  g_assert_no_error(error);
  all_there(&c, "AA");
  all_there(&c, "BB");
  g_assert_cmpuint(c.remark->len, ==, remarks + 2 * EACH);
  g_assert_cmpuint(c.history->len, ==, before + 2 * EACH);
  g_assert_cmpint(chain_check(&c).state, ==, CHAIN_WHOLE);
  case_clear(&c);
  folder_has("one.xml");
  g_unlink(path);
}

int main(int argc, char **argv)
{
  if (argc == 5 && strcmp(argv[1], "--decide") == 0)
    return decide_all(argv[2], argv[3], atoi(argv[4]));
  program = argv[0];
  g_autofree char *state = g_dir_make_tmp("soffit-XXXXXX", NULL); /* what was seen is kept there */
  g_setenv("XDG_STATE_HOME", state, TRUE);
  g_setenv("XDG_CONFIG_HOME", state, TRUE);
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/decide/fight", nothing_is_lost);
  int status = folder_run();
  folder_drop(state);
  return status;
}
