/* test_assess_job.c - the worker's queue: the latest request wins; no display is opened.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/assess_job.h"

#define WAIT_MS 5000

/* --- a run function that counts, and holds until it is let go --- */

static struct {
  GMutex mutex;
  GCond moved;
  int n_live, n_rest, n_cancelled;
  double last_force;
  bool hold;
} run;

static void run_reset(bool hold)
{
  g_mutex_lock(&run.mutex);
  run.n_live = run.n_rest = run.n_cancelled = 0;
  run.last_force = NAN;
  run.hold = hold;
  g_mutex_unlock(&run.mutex);
}

static void run_let_go(void)
{
  g_mutex_lock(&run.mutex);
  run.hold = false;
  g_cond_broadcast(&run.moved);
  g_mutex_unlock(&run.mutex);
}

static int run_count(void)
{
  g_mutex_lock(&run.mutex);
  int n = run.n_live + run.n_rest + run.n_cancelled;
  g_mutex_unlock(&run.mutex);
  return n;
}

static Fault run_counted(Assessor *assessor, const Case *c, const AssessSettings *settings,
                         Assessment **result)
{
  (void)assessor;
  g_mutex_lock(&run.mutex);
  run.last_force = c->order_load_n;
  while (run.hold && !settings->cancelled(settings->cancel_data))
    g_cond_wait_until(&run.moved, &run.mutex, g_get_monotonic_time() + 1000);
  bool cancelled = settings->cancelled(settings->cancel_data);
  if (cancelled)
    run.n_cancelled++;
  else if (settings->grade == ASSESS_LIVE)
    run.n_live++;
  else
    run.n_rest++;
  g_mutex_unlock(&run.mutex);
  if (cancelled)
    return FAULT_CANCELLED;
  /* the deliver function below looks at no more than that there is something; sessions see no
   * result */
  *result = NULL;
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

static void case_make(Case *c)
{
  case_init(c);
  c->order_load_n = 600;
}

/* --- the queue --- */

typedef struct {
  AssessJob *job;
  int n, n_current;
} Delivered;

static void delivered(Assessment *result, Fault fault, bool current, void *data)
{
  Delivered *got = data;
  g_assert_null(result);
  g_assert_cmpint(fault, ==, FAULT_NO_NECK);
  got->n++;
  got->n_current += current;
}

static bool job_done(void *data)
{
  return !assess_job_busy(((Delivered *)data)->job);
}

static bool job_began(void *data)
{
  (void)data;
  g_mutex_lock(&run.mutex);
  bool began = !isnan(run.last_force);
  g_mutex_unlock(&run.mutex);
  return began;
}

static void test_latest_wins(void)
{
  run_reset(true);
  Delivered got = {0};
  got.job = assess_job_new(run_counted, delivered, &got);
  Case c;
  case_make(&c);
  assess_job_request(got.job, &c, 0);
  g_assert_true(wait_for(job_began, NULL)); /* the first one runs and is held */
  for (int i = 1; i < 100; i++) {
    c.order_load_n = 600 + i;
    assess_job_request(got.job, &c, 0);
  }
  run_let_go();
  g_assert_true(wait_for(job_done, &got));
  while (g_main_context_iteration(NULL, FALSE))
    ;
  /* the first, the last, and the rest answer of the last: 97 were replaced */
  g_assert_cmpint(run.n_live, ==, 2);
  g_assert_cmpint(run.n_rest, ==, 1);
  g_assert_cmpfloat(run.last_force, ==, 699);
  g_assert_cmpint(got.n, ==, 3);
  g_assert_cmpint(got.n_current, ==, 2);
  assess_job_free(got.job);
  case_clear(&c);
}

static bool rest_began(void *data)
{
  (void)data;
  return run_count() == 1 && !isnan(run.last_force);
}

static void test_rest_is_cancelled(void)
{
  run_reset(false);
  Delivered got = {0};
  got.job = assess_job_new(run_counted, delivered, &got);
  Case c;
  case_make(&c);
  assess_job_request(got.job, &c, 0);
  g_assert_true(wait_for(rest_began, NULL)); /* live answered */
  g_mutex_lock(&run.mutex);
  run.hold = true;
  run.last_force = NAN;
  g_mutex_unlock(&run.mutex);
  g_assert_true(wait_for(job_began, NULL)); /* the rest answer runs, held */
  assess_job_request(got.job, &c, 0);
  run_let_go();
  g_assert_true(wait_for(job_done, &got));
  g_assert_cmpint(run.n_cancelled + run.n_rest, >=, 1);
  g_assert_cmpint(run.n_live, ==, 2);
  assess_job_free(got.job);
  case_clear(&c);
}

static void test_forgotten_is_dropped(void)
{
  run_reset(true);
  Delivered got = {0};
  got.job = assess_job_new(run_counted, delivered, &got);
  Case c;
  case_make(&c);
  assess_job_request(got.job, &c, 0);
  g_assert_true(wait_for(job_began, NULL));
  assess_job_forget(got.job);
  run_let_go();
  g_assert_true(wait_for(job_done, &got));
  while (g_main_context_iteration(NULL, FALSE))
    ;
  g_assert_cmpint(got.n, ==, 0);
  assess_job_free(got.job);
  case_clear(&c);
}

/* --- a wide band is refined --- */

/* Holds at ASSESS_FINE until it is let go; the band is wide until then. */
static Fault run_wide(Assessor *assessor, const Case *c, const AssessSettings *settings,
                      Assessment **result)
{
  (void)assessor;
  bool fine = settings->grade == ASSESS_FINE;
  g_mutex_lock(&run.mutex);
  run.last_force = c->order_load_n;
  while (fine && run.hold && !settings->cancelled(settings->cancel_data))
    g_cond_wait_until(&run.moved, &run.mutex, g_get_monotonic_time() + 1000);
  bool cancelled = settings->cancelled(settings->cancel_data);
  run.n_cancelled += cancelled && fine;
  g_mutex_unlock(&run.mutex);
  if (cancelled)
    return FAULT_CANCELLED;
  Assessment *a = g_new0(Assessment, 1);
  case_init(&a->c);
  a->refs = 1;
  a->grade = settings->grade;
  a->n_connector = 1;
  a->c.order_load_n = c->order_load_n;
  a->connector[0].field = field_new();
  double wide = ASSESS_JOB_WIDE_PERCENT + (c->order_load_n > 650 ? 1 : -1);
  a->connector[0].field->band_percent = fine ? 2 : wide;
  g_assert_cmpfloat(settings->fine_above_percent, ==, ASSESS_JOB_WIDE_PERCENT);
  *result = a;
  return FAULT_NONE;
}

typedef struct {
  AssessJob *job;
  int n_of[ASSESS_FINE + 1];
  double last_band, last_force;
} Refined;

static void refined(Assessment *result, Fault fault, bool current, void *data)
{
  Refined *got = data;
  g_assert_cmpint(fault, ==, FAULT_NONE);
  if (result->grade == ASSESS_FINE)
    g_assert_true(current);
  got->n_of[result->grade]++;
  got->last_band = result->connector[0].field->band_percent;
  got->last_force = result->c.order_load_n;
}

static bool refined_done(void *data)
{
  return !assess_job_busy(((Refined *)data)->job);
}

static bool rest_delivered(void *data)
{
  return ((Refined *)data)->n_of[ASSESS_REST] == 1;
}

static void settle(Refined *got)
{
  g_assert_true(wait_for(refined_done, got));
  while (g_main_context_iteration(NULL, FALSE))
    ;
}

static void test_wide_is_refined(void)
{
  run_reset(false);
  Refined got = {0};
  got.job = assess_job_new(run_wide, refined, &got);
  Case c;
  case_make(&c);
  assess_job_request(got.job, &c, 0); /* 600 N: narrow, left alone */
  settle(&got);
  g_assert_cmpint(got.n_of[ASSESS_REST], ==, 1);
  g_assert_cmpint(got.n_of[ASSESS_FINE], ==, 0);
  c.order_load_n = 700;
  assess_job_request(got.job, &c, 0);
  settle(&got);
  g_assert_cmpint(got.n_of[ASSESS_REST], ==, 2);
  g_assert_cmpint(got.n_of[ASSESS_FINE], ==, 1);
  g_assert_cmpfloat(got.last_band, ==, 2);
  assess_job_free(got.job);
  case_clear(&c);
}

/* The pen moves on while the fine answer is made: only the new line's is delivered. */
static void test_refining_is_cancelled(void)
{
  run_reset(true);
  Refined got = {0};
  got.job = assess_job_new(run_wide, refined, &got);
  Case c;
  case_make(&c);
  c.order_load_n = 700;
  assess_job_request(got.job, &c, 0);
  g_assert_true(wait_for(rest_delivered, &got));
  g_assert_true(assess_job_busy(got.job)); /* the fine answer is held */
  c.order_load_n = 710;
  assess_job_request(got.job, &c, 0);
  run_let_go();
  settle(&got);
  g_assert_cmpint(run.n_cancelled, <=, 1); /* or it never began */
  g_assert_cmpint(got.n_of[ASSESS_FINE], ==, 1);
  g_assert_cmpfloat(got.last_force, ==, 710);
  g_assert_cmpfloat(got.last_band, ==, 2);
  /* forgotten while it is refined: nothing comes */
  run_reset(true);
  got.n_of[ASSESS_REST] = 0;
  assess_job_request(got.job, &c, 0);
  g_assert_true(wait_for(rest_delivered, &got));
  assess_job_forget(got.job);
  settle(&got);
  g_assert_cmpint(got.n_of[ASSESS_FINE], ==, 1);
  assess_job_free(got.job);
  case_clear(&c);
}

int main(int argc, char *argv[])
{
  g_test_init(&argc, &argv, NULL);
  g_mutex_init(&run.mutex);
  g_cond_init(&run.moved);
  g_test_add_func("/assess-job/latest-wins", test_latest_wins);
  g_test_add_func("/assess-job/rest-is-cancelled", test_rest_is_cancelled);
  g_test_add_func("/assess-job/forgotten-is-dropped", test_forgotten_is_dropped);
  g_test_add_func("/assess-job/wide-is-refined", test_wide_is_refined);
  g_test_add_func("/assess-job/refining-is-cancelled", test_refining_is_cancelled);
  return g_test_run();
}
