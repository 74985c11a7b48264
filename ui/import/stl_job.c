/* stl_job.c - one GTask at a time; cancel and progress are atomic numbers.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/import/stl_job.h"
#include "ui/words.h"
#include <gio/gio.h>

#define FAR_LEANING 0.03 /* of the material to the gum side: turned upside down */
#define CLEARLY 0.8      /* the other end fits better than this                 */
#define PARTS 1000

typedef struct {
  StlTask task;
  char *path; /* owned */
  StlUnit unit;
  bool cheek_behind;
  double share[SPAN_MAX_UNITS - 1];
  size_t n;
  Surface *surface; /* owned ref */
  MeshFrame frame;
  MeshSpan *span; /* owned */
  size_t connector;
  double x, yaw, pitch;
  bool wanted[SPAN_MAX_UNITS - 1];
  Neck neck[SPAN_MAX_UNITS - 1];
  double reach[SPAN_MAX_UNITS - 1][2];
  StlJob *job;       /* owned ref */
  int cancel;        /* atomic */
  double from, part; /* of the progress of this step */
} Request;

struct StlJob {
  StlDone done; /* NULL after stl_job_free */
  void *data;
  Request *running, *waiting; /* running: borrowed from its task; waiting: owned */
  int progress;               /* atomic, of PARTS */
};

static void surface_end(void *data)
{
  mesh_clear(&((Surface *)data)->mesh);
}

Surface *surface_ref(Surface *surface)
{
  return g_atomic_rc_box_acquire(surface);
}

void surface_unref(Surface *surface)
{
  if (surface)
    g_atomic_rc_box_release_full(surface, surface_end);
}

static void request_free(void *data)
{
  Request *request = data;
  if (!request)
    return;
  g_free(request->path);
  surface_unref(request->surface);
  g_free(request->span);
  g_atomic_rc_box_release(request->job);
  g_free(request);
}

static void answer_free(void *data)
{
  StlAnswer *answer = data;
  g_free(answer->message);
  surface_unref(answer->surface);
  g_free(answer->span);
  for (size_t i = 0; i < G_N_ELEMENTS(answer->trace); i++)
    trace_clear(&answer->trace[i]);
  g_free(answer);
}

/* ---- on the thread ---- */

static bool step(void *data, double done)
{
  Request *request = data;
  g_atomic_int_set(&request->job->progress,
                   (int)(PARTS * (request->from + request->part * CLAMP(done, 0, 1))));
  return g_atomic_int_get(&request->cancel) == 0;
}

static Fault span_of(Request *request, const Mesh *mesh, const MeshFrame *frame, MeshSpan *span)
{
  const MeshWatch watch = {step, request};
  return span_find(mesh, frame, &watch, span);
}

/* Which end comes first, and which side is up, as far as that can be told. */
static Fault lay(Request *request, const Mesh *mesh, MeshSpan *span)
{
  MeshFrame frame;
  size_t neck[SPAN_MAX_UNITS - 1];
  Fault fault = mesh_frame_guess(mesh, (Vec3){0, 0, 1}, request->cheek_behind, &frame);
  if (!fault)
    fault = span_of(request, mesh, &frame, span);
  if (fault)
    return fault;
  bool upside_down = span->lean < -FAR_LEANING;
  bool reversed = span_match(span, request->share, request->n, true, neck) <
                  CLEARLY * span_match(span, request->share, request->n, false, neck);
  request->from += request->part;
  if (!upside_down && !reversed)
    return FAULT_NONE;
  frame = mesh_frame_turned(frame, upside_down ? 2 : 0, reversed);
  return span_of(request, mesh, &frame, span);
}

static void run_load(Request *request, StlAnswer *answer)
{
  g_autoptr(GError) error = NULL;
  const MeshWatch watch = {step, request};
  answer->surface = g_atomic_rc_box_new0(Surface);
  request->part = 0.6;
  if (!stl_load(request->path, request->unit, &watch, &answer->surface->mesh,
                &answer->surface->report, &error)) {
    answer->fault = error ? FAULT_MESH : FAULT_CANCELLED;
    answer->message = error ? g_strdup(error->message) : NULL;
    return;
  }
  request->from = 0.6;
  request->part = 0.2;
  answer->span = g_new0(MeshSpan, 1);
  answer->fault = lay(request, &answer->surface->mesh, answer->span);
}

static void run_trace(Request *request, StlAnswer *answer)
{
  const MeshWatch watch = {step, request};
  for (size_t i = 0; i < request->n && !answer->fault; i++) {
    request->from = (double)i / (double)request->n;
    request->part = 1.0 / (double)request->n;
    if (!request->wanted[i])
      continue;
    answer->connector = i;
    const TraceSettings settings = {
        {request->reach[i][0], request->reach[i][1]}, TRACE_TOLERANCE_MM, 0.05};
    answer->fault = trace_connector(&request->surface->mesh, &request->neck[i], &settings, &watch,
                                    &answer->trace[i]);
  }
}

static void run(GTask *task, void *source, void *data, GCancellable *cancellable)
{
  (void)source, (void)cancellable;
  Request *request = data;
  StlAnswer *answer = g_new0(StlAnswer, 1);
  answer->task = request->task;
  answer->connector = request->connector;
  request->part = 1;
  switch (request->task) {
  case STL_LOAD:
    run_load(request, answer);
    break;
  case STL_TURN:
    answer->span = g_new0(MeshSpan, 1);
    answer->fault = span_of(request, &request->surface->mesh, &request->frame, answer->span);
    break;
  case STL_PLANE:
    answer->fault = span_neck_at(&request->surface->mesh, request->span, request->x, request->yaw,
                                 request->pitch, &answer->neck);
    break;
  case STL_TRACE:
    run_trace(request, answer);
    break;
  }
  if (answer->fault && answer->fault != FAULT_CANCELLED && !answer->message)
    answer->message = g_strdup(words_translate(fault_text(answer->fault)));
  g_task_return_pointer(task, answer, answer_free);
}

/* ---- on the main thread ---- */

static void start(StlJob *job, Request *request);

static void ready(GObject *source, GAsyncResult *result, void *data)
{
  (void)source;
  StlJob *job = data;
  StlAnswer *answer = g_task_propagate_pointer(G_TASK(result), NULL);
  Request *next = g_steal_pointer(&job->waiting);
  job->running = NULL;
  if (next && job->done)
    start(job, next);
  else
    request_free(next);
  if (job->done)
    job->done(answer, job->data);
  answer_free(answer);
  g_atomic_rc_box_release(job);
}

static void start(StlJob *job, Request *request)
{
  job->running = request;
  g_atomic_int_set(&job->progress, 0);
  GTask *task = g_task_new(NULL, NULL, ready, g_atomic_rc_box_acquire(job));
  g_task_set_task_data(task, request, request_free);
  g_task_run_in_thread(task, run);
  g_object_unref(task);
}

static void ask(StlJob *job, Request *request)
{
  if (!job->running) {
    start(job, request);
    return;
  }
  if (request->task != STL_PLANE)
    g_atomic_int_set(&job->running->cancel, 1);
  request_free(job->waiting);
  job->waiting = request;
}

StlJob *stl_job_new(StlDone done, void *data)
{
  StlJob *job = g_atomic_rc_box_new0(StlJob);
  job->done = done;
  job->data = data;
  return job;
}

void stl_job_stop(StlJob *job)
{
  if (job->running)
    g_atomic_int_set(&job->running->cancel, 1);
}

void stl_job_free(StlJob *job)
{
  if (!job)
    return;
  stl_job_stop(job);
  job->done = NULL;
  g_atomic_rc_box_release(job);
}

bool stl_job_busy(const StlJob *job)
{
  return (job->running && job->running->task != STL_PLANE) ||
         (job->waiting && job->waiting->task != STL_PLANE);
}

double stl_job_progress(const StlJob *job)
{
  return (double)g_atomic_int_get(&job->progress) / PARTS;
}

static Request *request_new(StlJob *job, StlTask task, Surface *surface)
{
  Request *request = g_new0(Request, 1);
  request->task = task;
  request->job = g_atomic_rc_box_acquire(job);
  request->surface = surface ? surface_ref(surface) : NULL;
  return request;
}

void stl_job_load(StlJob *job, const char *path, StlUnit unit, bool cheek_behind,
                  const double share[], size_t n)
{
  Request *request = request_new(job, STL_LOAD, NULL);
  request->path = g_strdup(path);
  request->unit = unit;
  request->cheek_behind = cheek_behind;
  request->n = MIN(n, G_N_ELEMENTS(request->share));
  memcpy(request->share, share, request->n * sizeof *share);
  ask(job, request);
}

void stl_job_turn(StlJob *job, Surface *surface, const MeshFrame *frame)
{
  Request *request = request_new(job, STL_TURN, surface);
  request->frame = *frame;
  ask(job, request);
}

void stl_job_plane(StlJob *job, Surface *surface, const MeshSpan *span, size_t connector, double x,
                   double yaw, double pitch)
{
  Request *request = request_new(job, STL_PLANE, surface);
  request->span = g_memdup2(span, sizeof *span);
  request->connector = connector;
  request->x = x;
  request->yaw = yaw;
  request->pitch = pitch;
  ask(job, request);
}

void stl_job_trace(StlJob *job, Surface *surface, const bool wanted[], const Neck neck[],
                   double reach[][2], size_t n)
{
  Request *request = request_new(job, STL_TRACE, surface);
  request->n = MIN(n, G_N_ELEMENTS(request->wanted));
  for (size_t i = 0; i < request->n; i++) {
    request->wanted[i] = wanted[i];
    request->neck[i] = neck[i];
    request->reach[i][0] = reach[i][0];
    request->reach[i][1] = reach[i][1];
  }
  ask(job, request);
}
