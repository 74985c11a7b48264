/* cli_each.c - thousands of cases on all cores, their lines as they finish.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The main thread hands out names, a few ahead of the workers; each worker has an Assessor of its
 * own and solves a case alone, so that the figures do not depend on how many there are.  The lines
 * of a case are written together.  A signal lets the cases that run end, and takes no more. */
#include "cli_each.h"
#include "case_answer.h"
#include "cli.h"
#include "connector_csv.h"
#include "json_print.h"
#include "path_list.h"
#include "ui/words.h"
#include <signal.h>
#include <stdio.h>
#include <unistd.h>

#define AHEAD 2               /* names for each worker: none waits for the disk or the pipe */
#define TOLD_EVERY_US 1000000 /* of progress in a file; a terminal is told ten times as often */

static int stopped; /* atomic: a signal came, or nobody reads the lines any more */

typedef struct {
  const EachWish *wish;
  int workers;
  GMutex lock; /* of what follows, of both outputs too */
  GCond turned;
  GQueue waiting; /* names, owned */
  bool all_named;
  int known; /* how many cases there are; -1 = not known yet */
  int done, troubled, status;
  bool terminal;
  gint64 start_us, told_us;
} Each;

static void stop_on(int signal_number)
{
  (void)signal_number;
  g_atomic_int_set(&stopped, 1);
}

/* A second signal ends it at once.  One that was ignored at the start, as in the background of a
 * shell, stays ignored. */
static void signals_take(void)
{
  static const int taken[] = {SIGINT, SIGTERM};
  struct sigaction action = {.sa_handler = stop_on, .sa_flags = (int)SA_RESETHAND}, before;
  sigemptyset(&action.sa_mask);
  for (size_t i = 0; i < G_N_ELEMENTS(taken); i++)
    if (sigaction(taken[i], NULL, &before) == 0 && before.sa_handler != SIG_IGN)
      sigaction(taken[i], &action, NULL);
  signal(SIGPIPE, SIG_DFL); /* who reads the lines may leave: no message, as of any filter */
}

/* ---- what people see ---- */

static void progress_tell(Each *each, bool last)
{
  gint64 now = g_get_monotonic_time();
  if (!(each->terminal || each->wish->progress) ||
      (!last && now - each->told_us < (each->terminal ? TOLD_EVERY_US / 10 : TOLD_EVERY_US)))
    return;
  each->told_us = now;
  double rate = (double)each->done / ((double)(now - each->start_us) / 1e6);
  g_autoptr(GString) text = g_string_new(each->terminal ? "\r\033[K" : "");
  if (each->known >= 0)
    g_string_append_printf(text, _("%d of %d cases"), each->done, each->known);
  else
    g_string_append_printf(text, words_plural("%d case", "%d cases", each->done), each->done);
  g_string_append_printf(text, _(", %.1f a second"), rate);
  if (each->troubled)
    g_string_append_printf(text, _(", %d with trouble"), each->troubled);
  fprintf(stderr, "%s%s", text->str, each->terminal && !last ? "" : "\n");
}

static void troubles_tell(const Each *each, const CaseAnswer *answer)
{
  if (each->terminal && answer->trouble->len)
    fputs("\r\033[K", stderr);
  for (guint i = 0; i < answer->trouble->len; i++)
    cli_bad("%s", (const char *)answer->trouble->pdata[i]);
}

/* ---- one case ---- */

static void trouble_line(GString *text, const char *file, const CaseAnswer *answer, guint i)
{
  g_autofree char *words = g_utf8_make_valid(answer->trouble->pdata[i], -1);
  GString *line = json_begin();
  json_text(line, "file", file);
  if (answer->a)
    json_text(line, "case", answer->a->c.number);
  json_text(line, "error", words);
  json_end(line);
  g_string_append_len(text, line->str, (gssize)line->len);
  g_string_free(line, TRUE);
}

static GString *table_rows(const char *path, const CaseAnswer *answer)
{
  g_autofree char *file = g_utf8_make_valid(path, -1);
  GString *rows = g_string_new(NULL);
  case_answer_csv(rows, answer, file);
  return rows;
}

static GString *lines_of(const Each *each, const char *path, const CaseAnswer *answer)
{
  g_autofree char *file = g_utf8_make_valid(path, -1);
  LineWish wish = each->wish->line;
  wish.file = file;
  GString *text = g_string_new(NULL);
  for (size_t k = 0; answer->a && k < answer->a->n_connector; k++) {
    GString *line = connector_line(answer->a, k, &wish);
    g_string_append_len(text, line->str, (gssize)line->len);
    g_string_free(line, TRUE);
  }
  for (guint i = 0; i < answer->trouble->len; i++)
    trouble_line(text, file, answer, i);
  return text;
}

static void case_write(Each *each, const char *path, const CaseAnswer *answer)
{
  GString *text = each->wish->csv ? table_rows(path, answer) : lines_of(each, path, answer);
  g_mutex_lock(&each->lock);
  troubles_tell(each, answer);
  bool written = fwrite(text->str, 1, text->len, stdout) == text->len && fflush(stdout) == 0;
  if (!written) /* cli.c says so at the end */
    g_atomic_int_set(&stopped, 1);
  each->done++;
  each->troubled += answer->bad;
  each->status = MAX(each->status, case_answer_status(answer));
  progress_tell(each, false);
  g_mutex_unlock(&each->lock);
  g_string_free(text, TRUE);
}

/* ---- names from the main thread to the workers ---- */

static char *name_get(Each *each)
{
  g_mutex_lock(&each->lock);
  while (g_queue_is_empty(&each->waiting) && !each->all_named)
    g_cond_wait(&each->turned, &each->lock);
  char *name = g_atomic_int_get(&stopped) ? NULL : g_queue_pop_head(&each->waiting);
  g_cond_broadcast(&each->turned);
  g_mutex_unlock(&each->lock);
  return name;
}

static void name_put(Each *each, char *name)
{
  g_mutex_lock(&each->lock);
  while (g_queue_get_length(&each->waiting) >= (guint)(AHEAD * each->workers) &&
         !g_atomic_int_get(&stopped))
    g_cond_wait(&each->turned, &each->lock);
  g_queue_push_tail(&each->waiting, name);
  g_cond_broadcast(&each->turned);
  g_mutex_unlock(&each->lock);
}

static gpointer work(gpointer data)
{
  Each *each = data;
  Assessor *assessor = NULL;
  Fault fault = assessor_new(&assessor);
  for (char *path; !fault && (path = name_get(each));) {
    CaseAnswer answer;
    case_answer(assessor, path, &each->wish->settings, &answer);
    case_write(each, path, &answer);
    case_answer_clear(&answer);
    assessor_forget(assessor); /* no other case has these shapes */
    g_free(path);
  }
  assessor_free(assessor);
  return GINT_TO_POINTER(fault);
}

/* Signals are the main thread's: the others begin with them held back. */
static void workers_begin(Each *each, GThread *worker[])
{
  sigset_t held, before;
  sigemptyset(&held);
  sigaddset(&held, SIGINT);
  sigaddset(&held, SIGTERM);
  pthread_sigmask(SIG_BLOCK, &held, &before);
  for (int i = 0; i < each->workers; i++)
    worker[i] = g_thread_new("case", work, each);
  pthread_sigmask(SIG_SETMASK, &before, NULL);
}

int each_run(const EachWish *wish, int n, char **name)
{
  int workers = wish->workers ? wish->workers : (int)g_get_num_processors();
  if (workers < 1 || workers > EACH_WORKERS_MOST)
    return cli_bad(_("%d workers: 1 to %d."), workers, EACH_WORKERS_MOST);
  PathList list;
  path_list_init(&list, n, name, wish->nul ? '\0' : '\n', &stopped);
  Each each = {.wish = wish,
               .workers = workers,
               .known = path_list_known(&list),
               .status = EXIT_HOLDS,
               .terminal = isatty(STDERR_FILENO),
               .start_us = g_get_monotonic_time()};
  g_mutex_init(&each.lock);
  g_cond_init(&each.turned);
  g_queue_init(&each.waiting);
  signals_take();
  if (wish->csv)
    connector_csv_head_print();
  g_autofree GThread **worker = g_new(GThread *, workers);
  workers_begin(&each, worker);
  for (char *path; (path = path_list_next(&list));)
    name_put(&each, path);
  g_mutex_lock(&each.lock);
  each.all_named = true;
  g_cond_broadcast(&each.turned);
  g_mutex_unlock(&each.lock);
  Fault fault = FAULT_NONE;
  for (int i = 0; i < workers; i++)
    fault = MAX(fault, (Fault)GPOINTER_TO_INT(g_thread_join(worker[i])));
  progress_tell(&each, true);
  int status = each.status;
  if (fault)
    status = cli_bad("%s", _(fault_text(fault)));
  if (list.error)
    status = cli_bad(_("the list of files cannot be read: %s."), g_strerror(list.error));
  if (g_atomic_int_get(&stopped))
    status = EXIT_STOPPED;
  g_queue_clear_full(&each.waiting, g_free);
  g_cond_clear(&each.turned);
  g_mutex_clear(&each.lock);
  path_list_clear(&list);
  return status;
}
