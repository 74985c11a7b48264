/* assess_job.c - one worker, one waiting place, one rest timer.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every request has a number.  Answers carry the number of the request they answer; a forget()
 * draws a line below which answers are dropped. */
#include "ui/assess_job.h"
#include "ui/history.h"
#include "ui/wake.h"
#include "ui/worker.h"

typedef struct {
  Case *c; /* owned; NULL = nothing asked */
  size_t focus;
  guint64 number;
  AssessGrade grade;
  bool waterfall, compared;
} Request;

typedef struct {
  Assessment *result; /* owned ref or NULL */
  Fault fault;
  guint64 number;
  AssessGrade grade;
} Answered;

struct AssessJob {
  AssessRun run;
  AssessDeliver deliver;
  void *data;
  Wake *wake;
  GThread *thread;
  guint rest_timer;
  Case *asked; /* owned: the last request, for its rest answer; NULL once that is handed over */
  size_t asked_focus;
  bool waterfall;          /* rest answers tell it */
  bool compared;           /* with others like it  */
  guint64 last, forgotten; /* numbers: of the last request, of the last forgotten one */
  GMutex mutex;            /* guards all below */
  GCond moved;
  Request waiting;
  GArray *answer; /* Answered, oldest first */
  bool running, quit;
  AssessGrade running_grade;
  gint cancel; /* atomic: what runs is of no use */
};

static bool job_cancelled(void *data)
{
  AssessJob *job = data;
  return g_atomic_int_get(&job->cancel) != 0;
}

static Answered request_answer(AssessJob *job, Assessor *assessor, const Request *request)
{
  AssessSettings settings = assess_settings_default();
  settings.grade = request->grade;
  settings.focus = request->focus;
  settings.whole_bridge = true;
  settings.fine_above_percent = ASSESS_JOB_WIDE_PERCENT;
  settings.waterfall = request->waterfall;
  settings.compared = request->compared;
  settings.cancelled = job_cancelled;
  settings.cancel_data = job;
  Answered answered = {.number = request->number, .grade = request->grade};
  answered.fault = job->run(assessor, request->c, &settings, &answered.result);
  return answered;
}

/* A figure whose band is so wide that the fine mesh is worth its time; a plane answer may stand in
 * for a solid one that was wider. */
static bool answer_wide(const Answered *answered)
{
  const Assessment *a = answered->result;
  for (size_t i = 0; a && answered->grade == ASSESS_REST && i < a->n_connector; i++)
    if (a->connector[i].field && (a->connector[i].field->answer == ANSWER_PLANE ||
                                  a->connector[i].field->band_percent > ASSESS_JOB_WIDE_PERCENT))
      return true;
  return false;
}

static void *worker_run(void *data)
{
  worker_stand_back();
  AssessJob *job = data;
  Assessor *assessor = NULL;
  Fault fault = assessor_new(&assessor);
  g_mutex_lock(&job->mutex);
  for (;;) {
    while (job->waiting.c == NULL && !job->quit)
      g_cond_wait(&job->moved, &job->mutex);
    if (job->quit)
      break;
    Request request = job->waiting;
    job->waiting.c = NULL;
    job->running = true;
    job->running_grade = request.grade;
    g_atomic_int_set(&job->cancel, 0);
    g_mutex_unlock(&job->mutex);
    Answered answered = {.fault = fault, .number = request.number, .grade = request.grade};
    if (fault == FAULT_NONE)
      answered = request_answer(job, assessor, &request);
    g_mutex_lock(&job->mutex);
    job->running = false;
    if (answer_wide(&answered) && job->waiting.c == NULL && !g_atomic_int_get(&job->cancel)) {
      request.grade = ASSESS_FINE;
      job->waiting = request;
    } else
      case_heap_free(request.c);
    g_array_append_val(job->answer, answered);
    wake_ring(job->wake);
  }
  g_mutex_unlock(&job->mutex);
  assessor_free(assessor);
  return NULL;
}

static void answered_clear(void *data)
{
  Answered *answered = data;
  if (answered->result)
    assessment_unref(answered->result);
}

static GArray *answers_new(void)
{
  GArray *answers = g_array_new(FALSE, FALSE, sizeof(Answered));
  g_array_set_clear_func(answers, answered_clear);
  return answers;
}

static gboolean job_deliver(void *data)
{
  AssessJob *job = data;
  g_mutex_lock(&job->mutex);
  g_autoptr(GArray) answers = job->answer;
  job->answer = answers_new();
  g_mutex_unlock(&job->mutex);
  for (guint i = 0; i < answers->len; i++) {
    Answered *answered = &g_array_index(answers, Answered, i);
    if (answered->number > job->forgotten && answered->fault != FAULT_CANCELLED)
      job->deliver(answered->result, answered->fault, answered->number == job->last, job->data);
  }
  return G_SOURCE_CONTINUE;
}

AssessJob *assess_job_new(AssessRun run, AssessDeliver deliver, void *data)
{
  AssessJob *job = g_new0(AssessJob, 1);
  job->run = run ? run : assess;
  job->deliver = deliver;
  job->data = data;
  job->answer = answers_new();
  g_mutex_init(&job->mutex);
  g_cond_init(&job->moved);
  job->wake = wake_new(job_deliver, job);
  job->thread = g_thread_new("soffit-assess", worker_run, job);
  return job;
}

void assess_job_free(AssessJob *job)
{
  if (job == NULL)
    return;
  g_mutex_lock(&job->mutex);
  job->quit = true;
  g_atomic_int_set(&job->cancel, 1);
  g_cond_broadcast(&job->moved);
  g_mutex_unlock(&job->mutex);
  g_thread_join(job->thread);
  wake_free(job->wake);
  g_clear_handle_id(&job->rest_timer, g_source_remove);
  case_heap_free(job->asked);
  case_heap_free(job->waiting.c);
  g_array_unref(job->answer);
  g_mutex_clear(&job->mutex);
  g_cond_clear(&job->moved);
  g_free(job);
}

/* Takes c over. */
static void job_queue(AssessJob *job, Case *c, AssessGrade grade)
{
  g_mutex_lock(&job->mutex);
  case_heap_free(job->waiting.c);
  job->waiting = (Request){c, job->asked_focus, job->last, grade, job->waterfall, job->compared};
  g_cond_broadcast(&job->moved);
  g_mutex_unlock(&job->mutex);
}

static gboolean job_rest(void *data)
{
  AssessJob *job = data;
  job->rest_timer = 0;
  job_queue(job, g_steal_pointer(&job->asked), ASSESS_REST);
  return G_SOURCE_REMOVE;
}

void assess_job_request(AssessJob *job, const Case *c, size_t focus)
{
  Case *live = case_heap_copy(c), *rest = case_heap_copy(c);
  job->last++;
  job->asked_focus = focus;
  case_heap_free(job->asked);
  job->asked = rest;
  g_mutex_lock(&job->mutex);
  if (job->running && job->running_grade != ASSESS_LIVE)
    g_atomic_int_set(&job->cancel, 1);
  g_mutex_unlock(&job->mutex);
  if (live)
    job_queue(job, live, ASSESS_LIVE);
  g_clear_handle_id(&job->rest_timer, g_source_remove);
  if (rest)
    job->rest_timer = g_timeout_add(ASSESS_JOB_REST_MS, job_rest, job);
}

void assess_job_waterfall(AssessJob *job, bool wanted)
{
  job->waterfall = wanted;
}

void assess_job_compare(AssessJob *job, bool compared)
{
  job->compared = compared;
}

void assess_job_forget(AssessJob *job)
{
  job->forgotten = job->last;
  g_clear_handle_id(&job->rest_timer, g_source_remove);
  case_heap_free(g_steal_pointer(&job->asked));
  g_mutex_lock(&job->mutex);
  case_heap_free(g_steal_pointer(&job->waiting.c));
  if (job->running)
    g_atomic_int_set(&job->cancel, 1);
  g_mutex_unlock(&job->mutex);
}

bool assess_job_busy(AssessJob *job)
{
  g_mutex_lock(&job->mutex);
  bool busy = job->running || job->waiting.c != NULL || job->rest_timer != 0;
  g_mutex_unlock(&job->mutex);
  return busy;
}
