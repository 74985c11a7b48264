/* assess.c - the one call: case in, assessment out.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Order of work: read every connector; solve today's bodies and, at rest, every trial, on a few
 * threads; then judge, apply the rules, rank the advices.  Nothing here computes mechanics itself.
 */
#include "assess.h"
#include "assess_advice.h"
#include "assess_cache.h"
#include <glib.h>
#include <math.h>
#include <string.h>

#define MAX_CONNECTOR (SPAN_MAX_UNITS - 1)
#define MAX_JOB (MAX_CONNECTOR * (TRIAL_MAX + 2))
#define MAX_THREADS 16
#define CURVE_POINTS 161

struct Assessor {
  FieldCache *cache;
  Solver solver[MAX_THREADS];
  int n_solver;
};

Fault assessor_new(Assessor **assessor)
{
  Assessor *a = g_try_new0(Assessor, 1);
  if (a)
    a->cache = field_cache_new();
  if (!a || !a->cache) {
    assessor_free(a);
    return FAULT_MEMORY;
  }
  *assessor = a;
  return FAULT_NONE;
}

void assessor_free(Assessor *assessor)
{
  if (!assessor)
    return;
  for (int i = 0; i < assessor->n_solver; i++)
    solver_clear(&assessor->solver[i]);
  field_cache_free(assessor->cache);
  g_free(assessor);
}

AssessSettings assess_settings_default(void)
{
  return (AssessSettings){
      .grade = ASSESS_REST, .limits = verdict_limits_default(), .threads = 1, .focus = SIZE_MAX};
}

/* One body to solve. */
typedef struct {
  Body body;
  Solved solved;
} Job;

typedef struct {
  Job *job;
  size_t n;
  gint next; /* atomic */
  FieldCache *cache;
} Queue;

typedef struct {
  Queue *queue;
  Solver *solver;
} Hand;

static gpointer hand_work(gpointer data)
{
  Hand *hand = data;
  for (;;) {
    size_t i = (size_t)g_atomic_int_add(&hand->queue->next, 1);
    if (i >= hand->queue->n)
      return NULL;
    Job *job = &hand->queue->job[i];
    job->solved = field_cache_solve(hand->queue->cache, hand->solver, &job->body);
  }
}

/* Solves all jobs; FAULT_CANCELLED or FAULT_MEMORY if any met it. */
static Fault jobs_run(Assessor *assessor, const AssessSettings *settings, Job *job, size_t n)
{
  int threads = CLAMP(settings->threads, 1, MAX_THREADS);
  threads = MIN(threads, (int)MAX(n, 1));
  for (; assessor->n_solver < threads; assessor->n_solver++) {
    Fault fault = solver_init(&assessor->solver[assessor->n_solver]);
    if (fault)
      return fault;
  }
  Queue queue = {job, n, 0, assessor->cache};
  Hand hand[MAX_THREADS];
  GThread *thread[MAX_THREADS] = {NULL};
  for (int i = 0; i < threads; i++) {
    assessor->solver[i].cancelled = settings->cancelled;
    assessor->solver[i].cancel_data = settings->cancel_data;
    hand[i] = (Hand){&queue, &assessor->solver[i]};
    if (i > 0)
      thread[i] =
          g_thread_try_new("soffit-solve", hand_work, &hand[i], NULL); /* fewer hands if refused */
  }
  hand_work(&hand[0]);
  for (int i = 1; i < threads; i++)
    if (thread[i])
      g_thread_join(thread[i]);
  for (size_t i = 0; i < n; i++)
    if (job[i].solved.fault == FAULT_CANCELLED || job[i].solved.fault == FAULT_MEMORY)
      return job[i].solved.fault;
  return FAULT_NONE;
}

static Assessment *assessment_new(void)
{
  Assessment *a = g_new0(Assessment, 1);
  a->refs = 1;
  case_init(&a->c);
  a->together_n = a->carries_n = banded(NAN, NAN, NAN);
  return a;
}

Assessment *assessment_ref(Assessment *assessment)
{
  g_atomic_int_inc(&assessment->refs);
  return assessment;
}

void assessment_unref(Assessment *assessment)
{
  if (!assessment || !g_atomic_int_dec_and_test(&assessment->refs))
    return;
  for (size_t i = 0; i < assessment->n_connector; i++)
    field_unref(assessment->connector[i].field);
  for (size_t i = 0; i < assessment->n_advice; i++)
    outline_clear(&assessment->advice[i].ghost);
  g_free(assessment->advice);
  g_free(assessment->curve_x);
  g_free(assessment->curve_moment);
  if (assessment->fired)
    g_array_unref(assessment->fired);
  if (assessment->worklist)
    g_array_unref(assessment->worklist);
  case_clear(&assessment->c);
  g_free(assessment);
}

/* Everything not known stays NaN, never a plausible zero. */
static void connector_blank(ConnectorAssessment *k)
{
  Banded none = {NAN, NAN, NAN};
  k->peak_mpa = k->trial_peak_mpa = k->strength_mpa = k->margin = k->trial_margin = k->carries_n =
      none;
  k->chance_percent = k->trial_chance_percent = k->scratch_um = k->trial_scratch_um = none;
  k->nominal_mpa = k->pin_moment_n_mm = k->bench_multiplier = NAN;
}

/* Reads all connectors and factors the beam; bridge-wide faults stop here. */
static Fault bridge_read(Assessment *a, Span **span, Span **pin)
{
  a->n_connector = a->c.n_unit > 0 ? a->c.n_unit - 1 : 0;
  Form form[MAX_CONNECTOR];
  Fault fault = FAULT_NONE;
  for (size_t i = 0; i < a->n_connector; i++) {
    ConnectorAssessment *k = &a->connector[i];
    connector_blank(k);
    Fault read = connector_read(&a->c, i, k);
    if (read == FAULT_MEMORY)
      return read;
    form[i] = k->form;
    if (!fault && !(k->form.neck_height > 0)) /* without this neck there is no beam */
      fault = read;
  }
  SpanInput input;
  if (!fault)
    fault = case_span_input(&a->c, form, &input);
  if (!fault)
    fault = span_new(&input, 0, span);
  if (!fault && span_new(&input, 1, pin))
    *pin = NULL; /* e.g. a single abutment: hinges alone do not hold it */
  return fault;
}

/* Where the trial load stands: as set, else where it governs the given connector. */
static NeckLoad trial_load(const Assessment *a, const Span *span, size_t connector)
{
  SpanLoad load = {a->trial_x, a->c.trial.force_n};
  NeckLoad at = {0, 0};
  if (span_action(span, &load, 1, a->neck_x[connector], &at.moment_n_mm, &at.shear_n))
    at = (NeckLoad){0, 0};
  return at;
}

static double trial_place(const Assessment *a, const Span *span, size_t focus)
{
  double x = a->c.trial.x;
  if (isfinite(x))
    return CLAMP(x, 0, a->span_length);
  double worst = 0, place = a->span_length / 2;
  for (size_t i = 0; i < a->n_connector; i++) {
    SpanEnvelope e;
    if ((focus < a->n_connector && i != focus) || span_envelope(span, i, 1, &e))
      continue;
    double sag = fabs(e.moment_max), hog = fabs(e.moment_min);
    if (fmax(sag, hog) > worst) {
      worst = fmax(sag, hog);
      place = sag >= hog ? e.x_max : e.x_min;
    }
  }
  return place;
}

static Fault curve_make(Assessment *a, const Span *span)
{
  SpanLoad load = {a->trial_x, a->c.trial.force_n};
  a->n_curve = CURVE_POINTS;
  a->curve_x = g_new(double, a->n_curve);
  a->curve_moment = g_new(double, a->n_curve);
  for (size_t i = 0; i < a->n_curve; i++) {
    double shear;
    a->curve_x[i] = a->span_length * (double)i / (double)(a->n_curve - 1);
    Fault fault = span_action(span, &load, 1, a->curve_x[i], &a->curve_moment[i], &shear);
    if (fault)
      return fault;
  }
  return FAULT_NONE;
}

/* After a disc mark has been ground out 0.05 mm past its bottom, mm and mm^2; NaN without a mark.
 */
static void rescue_facts(const Case *c, size_t i, const ConnectorAssessment *k,
                         ConnectorFacts *facts)
{
  facts->rescue_height = facts->rescue_area = NAN;
  bool mark = c->connector[i].finish[ZONE_ROOF] == FINISH_DISC_CUT ||
              c->connector[i].finish[ZONE_LEGS] == FINISH_DISC_CUT;
  if (!mark || !(k->form.neck_height > 0.05))
    return;
  facts->rescue_height = k->form.neck_height - 0.05;
  facts->rescue_area = k->section.area * facts->rescue_height / k->form.neck_height;
}

static void facts_make(Assessment *a)
{
  a->facts.c = &a->c;
  for (size_t i = 0; i < a->n_connector; i++) {
    const ConnectorAssessment *k = &a->connector[i];
    a->facts.connector[i] = (ConnectorFacts){.form = k->form,
                                             .neck_area = k->section.area,
                                             .limits = k->limits,
                                             .peak_mpa = k->peak_mpa.value,
                                             .strength_mpa = k->strength_mpa.value,
                                             .carries_n = k->carries_n.value};
    rescue_facts(&a->c, i, k, &a->facts.connector[i]);
  }
}

/* The verdict of the bridge is its worst connector's. */
static void verdicts_give(Assessment *a, const VerdictLimits *limits)
{
  a->weakest = 0;
  a->verdict = VERDICT_NONE;
  double worst = INFINITY;
  for (size_t i = 0; i < a->n_connector; i++) {
    ConnectorAssessment *k = &a->connector[i];
    k->verdict =
        k->fault && !k->field ? VERDICT_REWORK : verdict_for(k->margin.value, a->fired, i, limits);
    a->verdict = MAX(a->verdict, k->verdict);
    double margin = k->field ? k->margin.value : 0;
    if (margin < worst) {
      worst = margin;
      a->weakest = i;
    }
  }
  if (a->n_connector)
    a->carries_n = a->connector[a->weakest].carries_n;
}

static int advice_order(const void *pa, const void *pb)
{
  const Advice *a = pa, *b = pb;
  return a->gain_percent.value > b->gain_percent.value
             ? -1
             : a->gain_percent.value < b->gain_percent.value;
}

typedef struct {
  Trial trial[TRIAL_MAX];
  size_t n;
  Trial joined;
  bool has_joined;
  size_t first_job; /* of this connector's: today live, trials with shape, joined */
} Trials;

/* Solves and ranks the changes of the connectors asked for. */
static Fault advices_make(Assessor *assessor, const AssessSettings *settings, Assessment *a,
                          const Span *span)
{
  g_autofree Job *job = g_new0(Job, MAX_JOB);
  g_autofree Trials *trials = g_new0(Trials, MAX_CONNECTOR);
  size_t n_job = 0, total = 0;
  for (size_t i = 0; i < a->n_connector; i++) {
    Trials *t = &trials[i];
    const ConnectorAssessment *k = &a->connector[i];
    if (!k->field || (settings->focus < a->n_connector && settings->focus != i && a->weakest != i))
      continue;
    t->n = trials_propose(&a->c, k, i, t->trial);
    t->has_joined = t->n && trials_join(&a->c, t->trial, t->n, &t->joined);
    t->first_job = n_job;
    job[n_job++].body = body_of(&a->c, i, k->form.neck_x, SOLID_LIVE);
    for (size_t m = 0; m < t->n; m++)
      if (t->trial[m].replaces[0] >= 0)
        job[n_job++].body = trial_body(&t->trial[m], &a->c, k->form.neck_x);
    if (t->has_joined)
      job[n_job++].body = trial_body(&t->joined, &a->c, k->form.neck_x);
    total += t->n;
  }
  Fault fault = jobs_run(assessor, settings, job, n_job);
  a->advice = g_new0(Advice, MAX(total, 1));
  for (size_t turn = 0; turn < a->n_connector; turn++) {
    /* the weakest connector first, then the others in their order */
    size_t i = turn == 0 ? a->weakest : turn <= a->weakest ? turn - 1 : turn;
    Trials *t = &trials[i];
    if (!t->n)
      continue;
    size_t next = t->first_job, first_advice = a->n_advice;
    SpanEnvelope envelope;
    Field *today = job[next++].solved.field;
    bool usable = !fault && today && !span_envelope(span, i, a->c.order_load_n, &envelope);
    for (size_t m = 0; m < t->n; m++) {
      Trial *trial = &t->trial[m];
      bool solved = true;
      if (trial->replaces[0] >= 0) {
        trial->field = g_steal_pointer(&job[next].solved.field);
        solved = trial->field != NULL;
        next++;
      }
      Banded carries;
      if (usable && solved &&
          trial_judge(&a->c, trial, &envelope, today, &a->advice[a->n_advice], &carries))
        a->n_advice++;
    }
    if (t->has_joined) {
      Advice unused;
      Banded carries;
      t->joined.field = g_steal_pointer(&job[next].solved.field);
      if (usable && t->joined.field && i == a->weakest &&
          trial_judge(&a->c, &t->joined, &envelope, today, &unused, &carries)) {
        a->together_n = carries;
        outline_clear(&unused.ghost);
      }
    }
    qsort(a->advice + first_advice, a->n_advice - first_advice, sizeof *a->advice, advice_order);
  }
  for (size_t i = 0; i < a->n_connector; i++) {
    for (size_t m = 0; m < trials[i].n; m++)
      trial_clear(&trials[i].trial[m]);
    if (trials[i].has_joined)
      trial_clear(&trials[i].joined);
  }
  for (size_t i = 0; i < n_job; i++)
    field_unref(job[i].solved.field);
  return fault;
}

/* Today's bodies of all readable connectors. */
static Fault bodies_solve(Assessor *assessor, const AssessSettings *settings, Assessment *a)
{
  Job job[MAX_CONNECTOR] = {0};
  size_t of[MAX_CONNECTOR], n = 0;
  SolidGrade grade = settings->grade == ASSESS_REST ? SOLID_FULL : SOLID_LIVE;
  for (size_t i = 0; i < a->n_connector; i++)
    if (!a->connector[i].fault) {
      of[n] = i;
      job[n++].body = body_of(&a->c, i, a->connector[i].form.neck_x, grade);
    }
  Fault fault = jobs_run(assessor, settings, job, n);
  for (size_t m = 0; m < n; m++) {
    ConnectorAssessment *k = &a->connector[of[m]];
    k->field = job[m].solved.field;
    k->sides_averaged = job[m].solved.averaged;
    k->fault = job[m].solved.fault;
    if (k->fault)
      k->fault_at = job[m].solved.where;
  }
  return fault;
}

Fault assess(Assessor *assessor, const Case *c, const AssessSettings *settings, Assessment **result)
{
  gint64 start = g_get_monotonic_time();
  Span *span = NULL, *pin = NULL;
  Assessment *a = assessment_new();
  a->grade = settings->grade;
  Fault fault = case_copy(&a->c, c);
  if (!fault)
    fault = case_complete(&a->c);
  if (!fault) {
    a->fault = bridge_read(a, &span, &pin);
    fault = a->fault == FAULT_MEMORY ? a->fault : FAULT_NONE;
  }
  if (!fault)
    fault = bodies_solve(assessor, settings, a);
  if (!fault && span) {
    a->span_length = span_length(span);
    for (size_t i = 0; i < a->n_connector; i++)
      a->neck_x[i] = span_neck_x(span, i);
    if (!(a->c.trial.force_n > 0))
      a->c.trial.force_n = a->c.order_load_n;
    a->trial_x = trial_place(a, span, settings->focus);
    for (size_t i = 0; i < a->n_connector; i++)
      if (a->connector[i].field) {
        Fault judged =
            connector_judge(&a->c, i, span, pin, trial_load(a, span, i), &a->connector[i]);
        if (judged)
          a->connector[i].fault = judged;
      }
    if (curve_make(a, span))
      a->n_curve = 0;
  }
  if (!fault) {
    facts_make(a);
    a->fired = rules_apply(&a->facts);
    a->worklist = worklist_make(&a->facts, a->fired);
    verdicts_give(a, &settings->limits);
    if (a->fault)
      a->verdict = VERDICT_REWORK;
  }
  if (!fault && span && settings->grade == ASSESS_REST)
    fault = advices_make(assessor, settings, a, span);
  span_free(span);
  span_free(pin);
  if (fault) {
    assessment_unref(a);
    return fault;
  }
  a->seconds = (double)(g_get_monotonic_time() - start) / 1e6;
  *result = a;
  return FAULT_NONE;
}

size_t assessment_reasons(const Assessment *a, size_t connector, Phrase reason[], size_t room)
{
  size_t n = 0;
  const ConnectorAssessment *k = &a->connector[connector];
  Phrase phrase = {0};
  g_strlcpy(phrase.place, k->name, sizeof phrase.place);
  if (k->fault && n < room) {
    phrase.text = fault_text(k->fault);
    reason[n++] = phrase;
  } else if (k->margin.value < 1 && n < room) {
    phrase.text = N_("Carries {0} N; the order asks for {1} N");
    phrase.value[0] = k->carries_n.value;
    phrase.value[1] = a->c.order_load_n;
    reason[n++] = phrase;
  }
  for (guint i = 0; a->fired && i < a->fired->len && n < room; i++) {
    const FiredRule *fired = &g_array_index(a->fired, FiredRule, i);
    if (fired->connector == connector || fired->connector == SIZE_MAX)
      reason[n++] = fired_rule_phrase(fired, &a->facts, fired->rule->what);
  }
  return n;
}
