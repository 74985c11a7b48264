/* shade_job.c - one thread, one waiting place.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/shade_job.h"
#include "ui/wake.h"
#include "ui/worker.h"
#include <glib.h>
#include <math.h>

struct ShadeJob {
  ShadeDeliver deliver;
  void *data;
  Wake *wake;
  GThread *thread;
  GMutex mutex; /* guards all below */
  GCond moved;
  ShadeRequest *waiting; /* owned; NULL = nothing asked */
  ShadeAnswer *answer;   /* owned; newest not yet delivered */
  bool quit, forget;
};

Connector *shade_outlines_new(const Connector *from)
{
  Connector *drawn = g_new0(Connector, 1);
  connector_init(drawn);
  if (connector_copy(drawn, from) == FAULT_NONE)
    return drawn;
  connector_clear(drawn);
  g_free(drawn);
  return NULL;
}

static void request_free(ShadeRequest *request)
{
  if (!request)
    return;
  if (request->drawn)
    connector_clear(request->drawn);
  g_free(request->drawn);
  underlay_unref((Underlay *)request->picture.underlay);
  if (request->has_room)
    room_clear(&request->room);
  outline_clear(&request->before);
  assessment_unref(request->a);
  g_free(request);
}

void shade_answer_free(ShadeAnswer *answer)
{
  if (!answer)
    return;
  connector_ink_free(answer->ink);
  if (answer->shade)
    cairo_surface_destroy(answer->shade);
  if (answer->drawing)
    cairo_surface_destroy(answer->drawing);
  assessment_unref(answer->request.a);
  g_free(answer);
}

/* The whole bridge as it is, or as it was when it can be calculated no more. */
static void bridge_answer(const ShadeRequest *request, FlatBridge *flat, ShadeAnswer *answer)
{
  DrawContext context = {
      .palette = request->palette, .scale = request->scale, .resolution = request->resolution};
  const float *share;
  SpanPicture picture = span_picture(request->a);
  picture.flat = flat;
  answer->fault =
      flat ? flat_bridge_show(flat, request->a, false, &answer->fault_at) : FAULT_MEMORY;
  answer->old = answer->fault && flat && flat_bridge_sheet(flat, &share);
  answer->shade = span_shade(&picture, request->width, request->height, &context);
}

/* The whole drawing; pango keeps the fonts of each thread apart. */
static cairo_surface_t *drawing_surface(const ShadeRequest *request, const ShadeAnswer *answer)
{
  DrawContext context = request->context;
  context.font = request->font;
  int pixels_x = (int)ceil(request->width * context.resolution),
      pixels_y = (int)ceil(request->height * context.resolution);
  cairo_surface_t *surface = cairo_image_surface_create(CAIRO_FORMAT_ARGB32, pixels_x, pixels_y);
  cairo_surface_set_device_scale(surface, context.resolution, context.resolution);
  ConnectorPicture picture = request->picture;
  picture.a = request->a;
  picture.drawn = request->drawn;
  picture.advice = NULL;
  picture.ink = answer->ink;
  picture.shade = answer->shade;
  picture.room = request->has_room ? &request->room : NULL;
  picture.before = request->before.n ? &request->before : NULL;
  cairo_t *cr = cairo_create(surface);
  picture_connector(cr, request->width, request->height, &context, &picture);
  cairo_destroy(cr);
  cairo_surface_flush(surface);
  return surface;
}

/* *flat: the thread's own, made when it is first needed. */
static ShadeAnswer *request_answer(const ShadeRequest *request, FlatBridge **flat)
{
  ShadeAnswer *answer = g_new0(ShadeAnswer, 1);
  answer->request = *request;
  answer->request.drawn = NULL;
  answer->request.picture.underlay = NULL;
  answer->request.has_room = false;
  answer->request.before = (Outline){0};
  answer->request.picture.before = NULL;
  assessment_ref(request->a);
  if (request->whole_bridge) {
    if (!*flat)
      *flat = flat_bridge_new();
    bridge_answer(request, *flat, answer);
    return answer;
  }
  if (connector_ink_new(request->a, request->connector, false, &answer->ink) != FAULT_NONE)
    return answer;
  double limit = connector_limit(&request->a->connector[request->connector], false);
  ShadeStyle style = shade_style(request->palette, limit, request->scale);
  answer->shade = shade_surface(request->width, request->height, request->resolution, request->view,
                                answer->ink->shaded->sheet, answer->ink->shaded->value, &style);
  if (request->drawn)
    answer->drawing = drawing_surface(request, answer);
  return answer;
}

static void *worker_run(void *data)
{
  worker_stand_back();
  ShadeJob *job = data;
  FlatBridge *flat = NULL;
  g_mutex_lock(&job->mutex);
  for (;;) {
    while (!job->waiting && !job->quit)
      g_cond_wait(&job->moved, &job->mutex);
    if (job->quit)
      break;
    ShadeRequest *request = g_steal_pointer(&job->waiting);
    if (job->forget)
      g_clear_pointer(&flat, flat_bridge_free);
    job->forget = false;
    g_mutex_unlock(&job->mutex);
    ShadeAnswer *answer = request_answer(request, &flat);
    request_free(request);
    g_mutex_lock(&job->mutex);
    shade_answer_free(job->answer);
    job->answer = answer;
    wake_ring(job->wake);
  }
  g_mutex_unlock(&job->mutex);
  flat_bridge_free(flat);
  return NULL;
}

static gboolean job_deliver(void *data)
{
  ShadeJob *job = data;
  g_mutex_lock(&job->mutex);
  ShadeAnswer *answer = g_steal_pointer(&job->answer);
  g_mutex_unlock(&job->mutex);
  if (answer)
    job->deliver(answer, job->data);
  return G_SOURCE_CONTINUE;
}

ShadeJob *shade_job_new(ShadeDeliver deliver, void *data)
{
  ShadeJob *job = g_new0(ShadeJob, 1);
  job->deliver = deliver;
  job->data = data;
  job->wake = wake_new(job_deliver, job);
  g_mutex_init(&job->mutex);
  g_cond_init(&job->moved);
  job->thread = g_thread_new("soffit-shade", worker_run, job);
  return job;
}

void shade_job_free(ShadeJob *job)
{
  if (!job)
    return;
  g_mutex_lock(&job->mutex);
  job->quit = true;
  g_cond_signal(&job->moved);
  g_mutex_unlock(&job->mutex);
  g_thread_join(job->thread);
  wake_free(job->wake);
  request_free(job->waiting);
  shade_answer_free(job->answer);
  g_mutex_clear(&job->mutex);
  g_cond_clear(&job->moved);
  g_free(job);
}

void shade_job_forget(ShadeJob *job)
{
  g_mutex_lock(&job->mutex);
  job->forget = true;
  g_mutex_unlock(&job->mutex);
}

void shade_job_request(ShadeJob *job, const ShadeRequest *request)
{
  ShadeRequest *copy = g_memdup2(request, sizeof *request);
  assessment_ref(copy->a);
  if (copy->picture.underlay)
    underlay_ref((Underlay *)copy->picture.underlay);
  g_mutex_lock(&job->mutex);
  request_free(job->waiting);
  job->waiting = copy;
  g_cond_signal(&job->moved);
  g_mutex_unlock(&job->mutex);
}
