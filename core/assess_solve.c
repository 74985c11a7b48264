/* assess_solve.c - the bodies of one bridge solved and judged, and their trials right behind them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_solve.h"
#include "casefile/load_case.h"
#include <glib.h>
#include <math.h>

#define MAX_TASK (MAX_CONNECTOR * (TRIAL_MAX + 4))
#define EVEN_MM 0.1  /* an embrasure is even when roof and feet stand as near to its neck */
#define EVEN_DEG 5.0 /* and its legs lean as much alike: measured on the demo cases */

/* What a task solves: an answer that is not wanted after all, the answer, today's shape on the mesh
 * of trials, all changes at once, else the trial of that number. */
typedef enum {
  PART_ROUGH = -3,
  PART_ANSWER = -2,
  PART_TODAY = -1,
  PART_JOINED = TRIAL_MAX
} TaskPart;

size_t bridge_weakest(const Assessment *a)
{
  size_t weakest = 0;
  double worst = INFINITY;
  for (size_t i = 0; i < a->n_connector; i++) {
    if (isnan(a->connector[i].trace_percent)) /* nobody knows */
      continue;
    double margin = a->connector[i].field ? a->connector[i].margin.value : 0;
    if (margin < worst) {
      worst = margin;
      weakest = i;
    }
  }
  return weakest;
}

static NeckLoad trial_load(const Assessment *a, const Span *span, size_t connector)
{
  SpanLoad load = {.x = a->trial_x, .force_n = a->c.trial.force_n};
  NeckLoad at = {0};
  if (span_action(span, &load, 1, a->neck_x[connector], &at))
    at = (NeckLoad){0};
  return at;
}

static void task_add(Bridge *b, size_t connector, int part, Body body)
{
  b->list.task[b->list.n++] = (Task){.body = body, .connector = connector, .part = part};
}

static Body answer_body(const Bridge *b, size_t i, SolidGrade grade)
{
  Body body = body_of(&b->a->c, i, b->a->connector[i].form.neck_x, grade);
  body.bare = b->settings->figures_only;
  body.compared = b->settings->compared;
  return body;
}

int trial_side(const ConnectorAssessment *k)
{
  const Form *f = &k->form;
  double feet = (f->foot[0].x + f->foot[1].x) / 2 - f->neck_x, roof = f->roof_centre_x - f->neck_x;
  if (fabs(feet) > EVEN_MM || fabs(roof) > EVEN_MM ||
      fabs(f->leg_lean_left_deg - f->leg_lean_right_deg) > EVEN_DEG)
    return 0;
  return k->peak.at.x > f->neck_x ? 1 : -1;
}

/* The answer at rest is too wide, or the plane stood in for it: one on the fine mesh takes its
 * place. */
static bool answer_rough(const Bridge *b, const Task *task)
{
  const Field *field = task->solved.field;
  return b->a->grade == ASSESS_FINE && task->body.grade != SOLID_FINE &&
         !(field && field->answer == ANSWER_SOLID &&
           field->band_percent <= b->settings->fine_above_percent);
}

static Fault order_judge(const Bridge *b, size_t i)
{
  Assessment *a = b->a;
  SupportSpans spans = {b->beams->soft, b->beams->stiff};
  Fault fault = connector_judge(&a->c, i, b->beams->span, b->beams->pin, &a->connector[i]);
  return fault ? fault
               : connector_chance(&a->c, i, &spans, a->grade == ASSESS_LIVE, &a->connector[i]);
}

static Fault trial_load_judge(const Bridge *b, size_t i)
{
  Assessment *a = b->a;
  SupportSpans spans = {b->beams->soft, b->beams->stiff};
  Fault fault = connector_judge_trial(&a->c, i, trial_load(a, b->beams->span, i), &a->connector[i]);
  return fault ? fault
               : connector_chance_trial(&a->c, i, &spans, a->trial_x, a->grade == ASSESS_LIVE,
                                        &a->connector[i]);
}

/* Only the trial load was moved: all else of the answer before stands. */
static void answers_take(Bridge *b)
{
  Assessment *a = b->a;
  for (size_t i = 0; i < a->n_connector; i++) {
    ConnectorAssessment *k = &a->connector[i];
    *k = b->last->connector[i];
    if (!k->field)
      continue;
    field_ref(k->field);
    Fault judged = k->fault ? FAULT_NONE : trial_load_judge(b, i);
    if (judged)
      k->fault = judged;
  }
}

/* The answer of a connector is there: load, margin, and the changes worth trying. */
static void answer_judge(Bridge *b, Task *task)
{
  Assessment *a = b->a;
  size_t i = task->connector;
  ConnectorAssessment *k = &a->connector[i];
  Trials *t = &b->trials[i];
  k->field = g_steal_pointer(&task->solved.field);
  k->sides_averaged = task->solved.averaged;
  k->fault = task->solved.fault;
  if (k->fault)
    k->fault_at = task->solved.where;
  if (!k->field || !b->beams)
    return;
  Fault judged = order_judge(b, i);
  if (!judged)
    judged = trial_load_judge(b, i);
  if (judged)
    k->fault = judged;
  if (judged || a->grade == ASSESS_LIVE || case_envelope(&a->c, b->beams->span, i, &t->envelope))
    return;
  t->now = (Governing){k->order, k->order_x, k->load_case, k->peak, k->margin, k->field->answer};
  t->n = trials_propose(&a->c, k, i, t->trial);
  for (size_t m = 0; m < t->n; m++)
    if (t->trial[m].replaces[0] < 0)
      trial_judge(&a->c, &t->trial[m], &t->envelope, k->field);
}

/* The envelope of a connector whose shape is tried: a stiffer neck draws more moment to itself. */
static Fault trial_envelope(const Bridge *b, size_t i, const Body *body, SpanEnvelope *envelope)
{
  const Case *c = &b->a->c;
  SpanInput beam = b->beams->input;
  Form neck = {0};
  Span *span = NULL;
  Point where;
  Fault fault = form_neck_read(body->side[SIDE_GINGIVAL], body->side[SIDE_OCCLUSAL],
                               body->side[SIDE_BUCCAL], body->side[SIDE_LINGUAL], &neck, &where);
  if (!fault)
    fault = case_span_neck(c, i, body->side[SIDE_GINGIVAL], body->side[SIDE_OCCLUSAL], &neck,
                           &beam.neck[i]);
  if (!fault)
    fault = span_new(&beam, 0, &span);
  if (!fault)
    fault = case_envelope(c, span, i, envelope);
  span_free(span);
  return fault;
}

static void task_judge(void *data, Task *task)
{
  Bridge *b = data;
  const Case *c = &b->a->c;
  Trials *t = &b->trials[task->connector];
  const Field *field = task->solved.field;
  if (task->part == PART_ANSWER && answer_rough(b, task))
    task->part = PART_ROUGH;
  else if (task->part == PART_ANSWER)
    answer_judge(b, task);
  else if (!field)
    return;
  else if (task->part == PART_TODAY) {
    ZoneSurface surface[ZONE_NECK_N];
    connector_surfaces_now(&c->connector[task->connector], surface);
    Scales scales = scales_of(&c->material, surface);
    t->has_today = !governing_find(field, &t->envelope, &scales, &t->today);
  } else {
    SpanEnvelope envelope;
    if (!trial_envelope(b, task->connector, &task->body, &envelope))
      trial_judge(c, task->part == PART_JOINED ? &t->joined : &t->trial[task->part], &envelope,
                  field);
  }
}

static void trials_start(Bridge *b, size_t i)
{
  const Case *c = &b->a->c;
  const ConnectorAssessment *k = &b->a->connector[i];
  Trials *t = &b->trials[i];
  if (t->started || !t->n)
    return;
  t->started = true;
  task_add(b, i, PART_TODAY, today_body(c, i, k->form.neck_x, trial_side(k)));
  for (size_t m = 0; m < t->n; m++)
    if (t->trial[m].replaces[0] >= 0)
      task_add(b, i, (int)m, trial_body(&t->trial[m], c, k->form.neck_x, trial_side(k)));
}

/* Advice is wanted of the focus and of the weakest connector; all changes at once of the latter. */
static void task_follow(void *data, Task *task)
{
  Bridge *b = data;
  Assessment *a = b->a;
  size_t i = task->connector;
  if (task->part == PART_ROUGH)
    task_add(b, i, PART_ANSWER, answer_body(b, i, SOLID_FINE));
  if (task->part != PART_ANSWER)
    return;
  if (b->settings->focus >= a->n_connector || b->settings->focus == i)
    trials_start(b, i);
  if (--b->left > 0)
    return;
  size_t weakest = bridge_weakest(a);
  const ConnectorAssessment *k = &a->connector[weakest];
  Trials *t = &b->trials[weakest];
  trials_start(b, weakest);
  t->has_joined = t->n && trials_join(&a->c, t->trial, t->n, &t->joined);
  if (t->has_joined)
    task_add(b, weakest, PART_JOINED, trial_body(&t->joined, &a->c, k->form.neck_x, trial_side(k)));
}

Fault solvers_hold(Assessor *assessor, int threads, int hands, bool (*cancelled)(void *data),
                   void *cancel_data)
{
  for (; assessor->n_solver < threads; assessor->n_solver++) {
    Fault fault = solver_init(&assessor->solver[assessor->n_solver]);
    if (fault)
      return fault;
  }
  for (int i = 0; i < threads; i++) {
    solid_work_hands(assessor->solver[i].solid, hands);
    assessor->solver[i].cancelled = cancelled;
    assessor->solver[i].cancel_data = cancel_data;
  }
  return FAULT_NONE;
}

Fault bridge_solve(Bridge *b, Assessor *assessor)
{
  Assessment *a = b->a;
  if (b->still && a->grade == ASSESS_LIVE) {
    answers_take(b);
    return FAULT_NONE;
  }
  bool all_fine = a->grade == ASSESS_FINE && !(b->settings->fine_above_percent > 0);
  SolidGrade grade = a->grade == ASSESS_LIVE ? SOLID_LIVE : all_fine ? SOLID_FINE : SOLID_FULL;
  b->trials = g_new0(Trials, MAX_CONNECTOR);
  b->list = (TaskList){.task = g_new0(Task, MAX_TASK),
                       .cache = assessor->cache,
                       .solver = assessor->solver,
                       .judge = task_judge,
                       .follow = task_follow,
                       .data = b};
  for (size_t i = 0; i < a->n_connector && b->beams; i++)
    a->connector[i].trial = trial_load(a, b->beams->span, i);
  for (size_t i = 0; i < a->n_connector; i++)
    if (!a->connector[i].fault && (b->settings->only >= a->n_connector || b->settings->only == i))
      task_add(b, i, PART_ANSWER, answer_body(b, i, grade));
  b->left = b->list.n;
  if (b->left == 0)
    return FAULT_NONE;
  int most = a->grade == ASSESS_LIVE ? (int)b->left : SOLVERS_MAX;
  b->list.threads = CLAMP(b->settings->threads, 1, MIN(most, SOLVERS_MAX));
  /* while the pen moves one connector changes: its two sides are then the parallel work */
  int hands = a->grade == ASSESS_LIVE && b->settings->threads > 1 ? 2 : 1;
  Fault fault = solvers_hold(assessor, b->list.threads, hands, b->settings->cancelled,
                             b->settings->cancel_data);
  return fault ? fault : tasks_run(&b->list);
}

SolidGrade bridge_grade(const Bridge *b, size_t connector)
{
  for (size_t t = 0; t < b->list.n; t++)
    if (b->list.task[t].connector == connector && b->list.task[t].part == PART_ANSWER)
      return b->list.task[t].body.grade;
  return SOLID_FULL;
}

static int advice_order(const void *pa, const void *pb)
{
  const Advice *a = pa, *b = pb;
  return a->gain_percent.value > b->gain_percent.value
             ? -1
             : a->gain_percent.value < b->gain_percent.value;
}

static void connector_advise(Assessment *a, size_t i, const Trials *t)
{
  const ConnectorAssessment *k = &a->connector[i];
  size_t first = a->n_advice;
  for (size_t m = 0; m < t->n; m++)
    if (trial_advice(&a->c, &t->trial[m], t->trial[m].replaces[0] >= 0 ? &t->today : &t->now,
                     &a->advice[a->n_advice]))
      a->n_advice++;
  qsort(a->advice + first, a->n_advice - first, sizeof *a->advice, advice_order);
  bool alike = t->has_joined && t->joined.judged && t->joined.after.answer == t->today.answer;
  double more = alike ? t->joined.after.margin.value / t->today.margin.value : 0;
  if (more > 1)
    a->together_n =
        banded(more * k->carries_n.value, more * k->carries_n.low, more * k->carries_n.high);
}

void bridge_advise(Bridge *b)
{
  Assessment *a = b->a;
  a->advice = g_new0(Advice, MAX_CONNECTOR * TRIAL_MAX);
  for (size_t turn = 0; b->trials && turn < a->n_connector; turn++) {
    /* the weakest connector first, then the others in their order */
    size_t i = turn == 0 ? a->weakest : turn <= a->weakest ? turn - 1 : turn;
    if (b->trials[i].started && b->trials[i].has_today)
      connector_advise(a, i, &b->trials[i]);
  }
}

void bridge_clear(Bridge *b)
{
  for (size_t i = 0; b->trials && i < MAX_CONNECTOR; i++) {
    for (size_t m = 0; m < b->trials[i].n; m++)
      trial_clear(&b->trials[i].trial[m]);
    if (b->trials[i].has_joined)
      trial_clear(&b->trials[i].joined);
  }
  tasks_clear(&b->list);
  g_free(b->list.task);
  g_free(b->trials);
}
