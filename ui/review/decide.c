/* decide.c - see decide.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/decide.h"
#include "casefile/case_xml.h"
#include "lab/case_lock.h"
#include "lab/seen_store.h"
#include "ui/person_profile.h"
#include "ui/words.h"
#include <string.h>

typedef struct {
  Decision *decision;
  DecideOutcome outcome;
  char *said;
  DecideDone done;
  void *data;
} Work;

void decision_free(Decision *decision)
{
  if (!decision)
    return;
  g_free(decision->folder);
  g_free(decision->file);
  g_free(decision->reason);
  person_clear(&decision->by);
  if (decision->remark)
    g_ptr_array_unref(decision->remark);
  g_free(decision);
}

static void work_free(void *data)
{
  Work *work = data;
  decision_free(work->decision);
  g_free(work->said);
  g_free(work);
}

static void text_set(char **text, const char *to)
{
  g_free(*text);
  *text = g_strdup(to ? to : "");
}

static DecideOutcome outcome(Work *work, DecideOutcome which, const char *said)
{
  work->said = g_strdup(said);
  return which;
}

Remark *remark_copy(const Remark *from)
{
  Remark *to = remark_new();
  to->connector = from->connector;
  to->at = from->at;
  text_set(&to->text, from->text);
  return to;
}

static Remark *remark_of(const Remark *from, const Person *by, const char *time)
{
  Remark *to = remark_copy(from);
  text_set(&to->time, time);
  text_set(&to->role, by->role);
  text_set(&to->initials, by->initials);
  return to;
}

/* The remarks of the decision behind those that are there. */
static void remarks_add(Case *c, const Decision *d)
{
  g_autoptr(GDateTime) now = g_date_time_new_now_utc();
  g_autofree char *time = g_date_time_format(now, "%Y-%m-%dT%H:%M:%SZ");
  for (guint i = 0; d->remark && i < d->remark->len; i++)
    g_ptr_array_add(c->remark, remark_of(d->remark->pdata[i], &d->by, time));
}

static DecideOutcome case_write(Work *work, CaseLock *lock, const char *path, Case *c)
{
  const Decision *d = work->decision;
  g_autoptr(GError) error = NULL;
  char seen[65];
  if (!case_load_seen(c, path, seen, &error))
    return outcome(work, DECIDE_FAILED, error->message);
  if (*d->seen && strcmp(seen, d->seen) != 0)
    return outcome(work, DECIDE_CHANGED,
                   _("The file was changed while you looked at it. Look at it again."));
  remarks_add(c, d);
  g_autofree char *unsigned_why = NULL;
  SigningKey *key = person_signing_key(&d->by, &unsigned_why);
  Fault fault = case_decide(c, d->kind, &d->by, d->reason, d->stops, &d->limits, key);
  signing_key_free(key);
  if (fault)
    return outcome(work, DECIDE_FAILED, _(fault_text(fault)));
  bool gate = case_lock_gate(lock);
  bool saved = case_save_over(c, path, seen, NULL, &error);
  if (gate)
    case_lock_ungate(lock);
  if (saved) { /* what he wrote himself is nothing new to him */
    g_autofree char *mine = seen_folder(NULL, d->folder, d->by.name);
    seen_keep(mine, d->file, c, g_get_real_time());
  }
  return saved ? outcome(work, DECIDED, unsigned_why)
               : outcome(work, error->code == CASE_ERROR_CHANGED ? DECIDE_CHANGED : DECIDE_FAILED,
                         error->message);
}

static DecideOutcome decide(Work *work)
{
  const Decision *d = work->decision;
  g_autofree char *path = g_build_filename(d->folder, d->file, NULL);
  CaseLock *lock = case_lock_new(path, &d->by);
  LockState state = d->take_over ? case_lock_take_over(lock) : case_lock_take(lock);
  DecideOutcome which;
  if (state == LOCK_OTHERS) {
    const LockHolder *holder = case_lock_holder(lock);
    g_autofree char *said = g_strdup_printf(
        _("%s has this case open on %s. Ask, or take it over: the other window is told."),
        holder && *holder->name ? holder->name : _("Somebody"),
        holder && *holder->host ? holder->host : "?");
    which = outcome(work, DECIDE_HELD, said);
  } else {
    Case c;
    case_init(&c);
    which = case_write(work, lock, path, &c);
    case_clear(&c);
  }
  case_lock_free(lock);
  return which;
}

static void work_run(GTask *task, void *source, void *data, GCancellable *stop)
{
  (void)source, (void)stop;
  Work *work = data;
  work->outcome = decide(work);
  g_task_return_boolean(task, TRUE);
}

static void work_done(GObject *owner, GAsyncResult *result, void *data)
{
  (void)owner, (void)data;
  Work *work = g_task_get_task_data(G_TASK(result));
  work->done(work->decision, work->outcome, work->said, work->data);
}

void decision_write(Decision *decision, GObject *owner, DecideDone done, void *data)
{
  Work *work = g_new0(Work, 1);
  work->decision = decision;
  work->done = done;
  work->data = data;
  g_autoptr(GTask) task = g_task_new(owner, NULL, work_done, NULL);
  g_task_set_task_data(task, work, work_free);
  g_task_run_in_thread(task, work_run);
}
