/* test_stl_job.c - the worker of surfaces: answers, stopping, the last plane wins; no display.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "../core/surfaces.h"
#include "ui/import/stl_job.h"
#include <glib/gstdio.h>

#define WAIT_US (20 * G_USEC_PER_SEC)

static struct {
  int n;
  StlTask task;
  Fault fault;
  char *message;
  Surface *surface;
  MeshSpan *span;
  Neck neck;
  Trace trace;
} got;

static void done(StlAnswer *answer, void *data)
{
  g_assert_true(data == &got);
  got.n++;
  got.task = answer->task;
  got.fault = answer->fault;
  g_free(got.message);
  got.message = g_steal_pointer(&answer->message);
  if (answer->surface && !answer->fault) {
    surface_unref(got.surface);
    got.surface = g_steal_pointer(&answer->surface);
  }
  if (answer->span && !answer->fault) {
    g_free(got.span);
    got.span = g_steal_pointer(&answer->span);
  }
  got.neck = answer->neck;
  if (answer->task == STL_TRACE) {
    trace_clear(&got.trace);
    got.trace = answer->trace[0];
    trace_init(&answer->trace[0]);
  }
}

static void wait_for(int n)
{
  gint64 end = g_get_monotonic_time() + WAIT_US;
  while (got.n < n && g_get_monotonic_time() < end)
    if (!g_main_context_iteration(NULL, FALSE))
      g_usleep(1000);
  g_assert_cmpint(got.n, ==, n);
}

/* A row of three units along -y of its file, biting side to -z when upside down. */
static char *row_file(int along)
{
  Facets s = surface_new();
  char *path = NULL;
  surface_tube(&s, row_point, &ROW_SOUND, -9, 18, along, 60, false);
  float *c = (float *)(void *)s.corner->data;
  for (size_t i = 0; i < s.corner->len; i++) {
    const float x = c[3 * i], y = c[3 * i + 1], z = c[3 * i + 2];
    c[3 * i] = z;
    c[3 * i + 1] = x;
    c[3 * i + 2] = y;
  }
  GString *file = surface_binary(&s);
  int handle = g_file_open_tmp("soffit-XXXXXX.stl", &path, NULL);
  g_assert_cmpint(handle, >=, 0);
  g_close(handle, NULL);
  g_assert_true(g_file_set_contents(path, file->str, (gssize)file->len, NULL));
  g_string_free(file, TRUE);
  surface_free(&s);
  return path;
}

static const double SHARE[2] = {1 / 3.0, 2 / 3.0};

static void test_work(void)
{
  g_autofree char *path = row_file(240);
  StlJob *job = stl_job_new(done, &got);
  got.n = 0;
  stl_job_load(job, path, STL_UNIT_GUESS, false, SHARE, 2);
  g_assert_true(stl_job_busy(job));
  wait_for(1);
  g_assert_false(stl_job_busy(job));
  g_assert_cmpint(got.fault, ==, FAULT_NONE);
  g_assert_cmpuint(got.span->n_neck, ==, 2);
  /* many planes at once: the first and the last are answered */
  for (int i = 0; i < 50; i++)
    stl_job_plane(job, got.surface, got.span, 1, got.span->neck[0].x + 0.01 * i, 0, 0);
  g_assert_false(stl_job_busy(job));
  wait_for(3);
  g_assert_cmpint(got.task, ==, STL_PLANE);
  g_assert_cmpfloat_with_epsilon(got.neck.x, got.span->neck[0].x + 0.49, 0.02);
  const bool wanted[2] = {true, false};
  double reach[2][2] = {{4, 4}, {4, 4}};
  stl_job_trace(job, got.surface, wanted, got.span->neck, reach, 2);
  wait_for(4);
  g_assert_cmpint(got.task, ==, STL_TRACE);
  g_assert_cmpint(got.fault, ==, FAULT_NONE);
  g_assert_true(got.trace.section.closed);
  MeshFrame frame = mesh_frame_turned(got.span->frame, 0, true);
  stl_job_turn(job, got.surface, &frame);
  wait_for(5);
  g_assert_cmpuint(got.span->n_neck, ==, 2);
  g_assert_cmpfloat_with_epsilon(got.span->frame.x.y, frame.x.y, 1e-12);
  stl_job_free(job);
  g_unlink(path);
}

static void test_wrong(void)
{
  StlJob *job = stl_job_new(done, &got);
  got.n = 0;
  stl_job_load(job, "/nowhere/at all.stl", STL_UNIT_GUESS, false, SHARE, 2);
  wait_for(1);
  g_assert_cmpint(got.fault, !=, FAULT_NONE);
  g_assert_nonnull(strstr(got.message, "/nowhere/at all.stl"));
  stl_job_free(job);
}

/* Stopped in the middle: said without a message; given up: never heard of again. */
static void test_stop(void)
{
  g_autofree char *path = row_file(4000);
  StlJob *job = stl_job_new(done, &got);
  got.n = 0;
  stl_job_load(job, path, STL_UNIT_GUESS, false, SHARE, 2);
  stl_job_stop(job);
  wait_for(1);
  g_assert_cmpint(got.fault, ==, FAULT_CANCELLED);
  g_assert_null(got.message);
  stl_job_load(job, path, STL_UNIT_MM, false, SHARE, 2);
  stl_job_load(job, path, STL_UNIT_GUESS, false, SHARE, 2); /* the first is stopped for it */
  wait_for(3);
  g_assert_cmpint(got.fault, ==, FAULT_NONE);
  stl_job_load(job, path, STL_UNIT_GUESS, false, SHARE, 2);
  stl_job_free(job);
  for (int i = 0; i < 300; i++) {
    g_main_context_iteration(NULL, FALSE);
    g_usleep(1000);
  }
  g_assert_cmpint(got.n, ==, 3);
  g_unlink(path);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/stl_job/work", test_work);
  g_test_add_func("/stl_job/wrong", test_wrong);
  g_test_add_func("/stl_job/stop", test_stop);
  int status = g_test_run();
  surface_unref(got.surface);
  g_free(got.span);
  g_free(got.message);
  trace_clear(&got.trace);
  return status;
}
