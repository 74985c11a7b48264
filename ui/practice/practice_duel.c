/* practice_duel.c - free play: the pull of the drawing against that of the best outline in the same
 * room, while it is drawn. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa.  The room is the start's; another width or groove makes it another one, and the best is
 * looked for anew in a thread.  Until that is found the one before stands. */
#include "ui/history.h"
#include "ui/practice/practice_private.h"
#include <math.h>

#define THREADS 2

typedef struct {
  GPtrArray *set;           /* owned ref */
  const Exercise *exercise; /* of it */
  Case drawn;               /* owned */
  Assessment *best;         /* owned ref; NULL: none */
} Duel;

static void duel_free(gpointer data)
{
  Duel *duel = data;
  g_ptr_array_unref(duel->set);
  case_clear(&duel->drawn);
  assessment_unref(duel->best);
  g_free(duel);
}

static bool cancelled(void *data)
{
  return g_cancellable_is_cancelled(data);
}

static void duel_work(GTask *task, gpointer desk, gpointer data, GCancellable *cancel)
{
  (void)desk;
  Duel *duel = data;
  Assessor *assessor = NULL;
  Case best;
  BestSettings search = {.threads = THREADS, .cancelled = cancelled, .cancel_data = cancel};
  AssessSettings settings = assess_settings_default();
  settings.threads = THREADS;
  settings.focus = duel->exercise->focus;
  settings.cancelled = cancelled;
  settings.cancel_data = cancel;
  case_init(&best);
  Fault fault = assessor_new(&assessor);
  if (!fault)
    fault = work_best(assessor, duel->exercise, &duel->drawn, &search, &best);
  if (!fault)
    fault = assess(assessor, &best, &settings, &duel->best);
  case_clear(&best);
  assessor_free(assessor);
  g_task_return_boolean(task, !fault);
}

static void duel_came(GObject *source, GAsyncResult *result, gpointer data)
{
  SoffitPracticeDesk *self = SOFFIT_PRACTICE_DESK(source);
  Duel *duel = g_task_get_task_data(G_TASK(result));
  if (self->duel_search != data) /* a newer one runs, or none is wanted */
    return;
  g_clear_object(&self->duel_search);
  if (duel->best) {
    assessment_unref(self->duel);
    self->duel = g_steal_pointer(&duel->best);
  }
  practice_emit(self, PRACTICE_WORK_CHANGED);
}

static void duel_stop(SoffitPracticeDesk *self)
{
  if (self->duel_search)
    g_cancellable_cancel(self->duel_search);
  g_clear_object(&self->duel_search);
}

void practice_duel_end(SoffitPracticeDesk *self)
{
  duel_stop(self);
  g_clear_pointer(&self->duel, assessment_unref);
  g_clear_pointer(&self->duel_room, case_heap_free);
}

void practice_duel_follow(SoffitPracticeDesk *self)
{
  const Case *drawn = session_case(self->session);
  Case room;
  if (!practice_desk_plays(self) || !session_has_case(self->session) ||
      drawn->n_unit != self->exercise->start.n_unit)
    return;
  case_init(&room);
  bool none = work_room(self->exercise, drawn, &room) != FAULT_NONE;
  if (!none) /* the line is the start's again: no pen drew it */
    room.connector[self->exercise->focus].roof_doubt_percent = NAN;
  bool known = none || (self->duel_room && case_alike(&room, self->duel_room, SIZE_MAX));
  if (known) {
    case_clear(&room);
    return;
  }
  duel_stop(self);
  g_clear_pointer(&self->duel_room, case_heap_free);
  self->duel_room = case_heap_copy(&room);
  Duel *duel = g_new0(Duel, 1);
  duel->set = g_ptr_array_ref(self->home);
  duel->exercise = self->exercise;
  duel->drawn = room;
  self->duel_search = g_cancellable_new();
  GTask *task = g_task_new(self, self->duel_search, duel_came, self->duel_search);
  g_task_set_task_data(task, duel, duel_free);
  g_task_set_check_cancellable(task, FALSE);
  g_task_run_in_thread(task, duel_work);
  g_object_unref(task);
}

bool practice_desk_plays(SoffitPracticeDesk *self)
{
  return self->exercise && !exercise_counts(self->exercise);
}

static Banded peak_of(SoffitPracticeDesk *self, const Assessment *a)
{
  size_t focus = self->exercise->focus;
  return a && focus < a->n_connector && a->connector[focus].field
             ? a->connector[focus].trial_peak_mpa
             : banded(NAN, NAN, NAN);
}

Banded practice_desk_duel_mine(SoffitPracticeDesk *self)
{
  return peak_of(self, session_assessment(self->session));
}

/* Pulls grow with the load. */
Banded practice_desk_duel_best(SoffitPracticeDesk *self)
{
  Banded peak = peak_of(self, self->duel);
  double share =
      self->duel ? session_case(self->session)->trial.force_n / self->duel->c.trial.force_n : NAN;
  return banded(peak.value * share, peak.low * share, peak.high * share);
}

bool practice_desk_duel_searching(SoffitPracticeDesk *self)
{
  return self->duel_search != NULL;
}
