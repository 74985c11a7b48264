/* assess.c - the one call: case in, assessment out.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Order of work: read every connector; solve today's bodies on a few threads, judge each and, at
 * rest, solve its trials right behind it; then apply the rules, rank the advices.  Nothing here
 * computes mechanics itself.
 */
#include "assess.h"
#include "assess_change.h"
#include "assess_solve.h"
#include <glib.h>
#include <math.h>
#include <string.h>

#define CURVE_POINTS 161

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
  whole_bridge_free(assessor->whole);
  beams_free(assessor->beams);
  if (assessor->last)
    assessment_unref(assessor->last);
  g_free(assessor);
}

void assessor_forget(Assessor *assessor)
{
  field_cache_forget(assessor->cache);
}

AssessSettings assess_settings_default(void)
{
  return (AssessSettings){.grade = ASSESS_REST,
                          .limits = verdict_limits_default(),
                          .threads = 1,
                          .focus = SIZE_MAX,
                          .only = SIZE_MAX};
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

static double trial_place(const Assessment *a, const Span *span, size_t focus)
{
  double x = a->c.trial.x;
  if (isfinite(x))
    return CLAMP(x, 0, a->span_length);
  double worst = 0, place = a->span_length / 2;
  for (size_t i = 0; i < a->n_connector; i++) {
    SpanEnvelope e = {0};
    if ((focus < a->n_connector && i != focus) || span_sweep(span, i, 1, 0, 0, &e))
      continue;
    double sag = fabs(e.at[0].load.moment_n_mm), hog = fabs(e.at[1].load.moment_n_mm);
    if (fmax(sag, hog) > worst) {
      worst = fmax(sag, hog);
      place = sag >= hog ? e.at[0].x : e.at[1].x;
    }
  }
  return place;
}

static Fault curve_make(Assessment *a, const Span *span)
{
  SpanLoad load = {.x = a->trial_x, .force_n = a->c.trial.force_n};
  a->n_curve = CURVE_POINTS;
  a->curve_x = g_new(double, a->n_curve);
  a->curve_moment = g_new(double, a->n_curve);
  for (size_t i = 0; i < a->n_curve; i++) {
    NeckLoad at;
    a->curve_x[i] = a->span_length * (double)i / (double)(a->n_curve - 1);
    Fault fault = span_action(span, &load, 1, a->curve_x[i], &at);
    if (fault)
      return fault;
    a->curve_moment[i] = at.moment_n_mm;
  }
  return FAULT_NONE;
}

/* What is left of the neck, mm and mm^2: after disc marks have been ground out as a wide hollow
 * 0.05 mm past the deepest (NaN without a mark), and after the cut-back of the cheek side. */
static void rescue_facts(const Case *c, size_t i, const ConnectorAssessment *k,
                         ConnectorFacts *facts)
{
  double bottom = connector_mark_bottom(&c->connector[i]);
  facts->rescue_height = facts->rescue_area = NAN;
  facts->cut_back_area = NAN;
  if (k->section.width > 0)
    facts->cut_back_area = k->section.area * (1 - c->connector[i].cut_back / k->section.width);
  if (isnan(bottom) || !(k->form.neck_height > 0))
    return;
  facts->rescue_height = CLAMP(k->form.groove_y - (bottom + 0.05), 0, k->form.neck_height);
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

/* The verdict of the bridge is its worst connector's; it is held back with that of a connector of
 * unknown size, unless another must be reworked anyhow. */
static void verdicts_give(Assessment *a, const VerdictLimits *limits, size_t only)
{
  bool held_back = false;
  a->verdict = VERDICT_NONE;
  for (size_t i = 0; i < a->n_connector; i++) {
    ConnectorAssessment *k = &a->connector[i];
    bool unscaled = isnan(k->trace_percent);
    k->verdict = unscaled                ? VERDICT_NONE
                 : k->fault && !k->field ? VERDICT_REWORK
                                         : verdict_for(k->margin.value, a->fired, i, limits);
    a->verdict = MAX(a->verdict, k->verdict);
    held_back = held_back || unscaled;
  }
  if (held_back && a->verdict != VERDICT_REWORK)
    a->verdict = VERDICT_NONE;
  a->weakest = bridge_weakest(a);
  if (only < a->n_connector) {
    a->weakest = only;
    a->verdict = VERDICT_NONE;
  }
  if (a->n_connector)
    a->carries_n = a->connector[a->weakest].carries_n;
}

/* Moments of the whole bridge in the plane; that it has none is no fault of the answer. */
static Fault bridge_compare(Bridge *b, Assessor *assessor)
{
  Assessment *a = b->a;
  if (!b->settings->whole_bridge || a->grade == ASSESS_LIVE || !b->beams)
    return FAULT_NONE;
  Fault fault = assessor->whole ? FAULT_NONE : whole_bridge_new(&assessor->whole);
  if (!fault)
    a->bridge_fault = whole_bridge_compare(assessor->whole, a, b->beams->span, &a->bridge_fault_at);
  return a->bridge_fault == FAULT_MEMORY ? FAULT_MEMORY : fault;
}

Fault assess(Assessor *assessor, const Case *c, const AssessSettings *settings, Assessment **result)
{
  gint64 start = g_get_monotonic_time();
  Assessment *a = assessment_new();
  Bridge bridge = {.a = a, .settings = settings};
  a->grade = settings->grade;
  Fault fault = case_copy(&a->c, c);
  if (!fault)
    fault = case_complete(&a->c);
  if (!fault) {
    a->fault = bridge_read(&bridge, assessor);
    fault = a->fault == FAULT_MEMORY ? a->fault : FAULT_NONE;
  }
  const Span *span = bridge.beams ? bridge.beams->span : NULL;
  for (size_t i = 0; i < a->c.n_unit && !fault; i++) { /* places stand without a beam, too */
    a->span_length += a->c.unit[i].length;
    if (i + 1 < a->c.n_unit)
      a->neck_x[i] = a->span_length;
  }
  a->trial_x = isfinite(a->c.trial.x) ? CLAMP(a->c.trial.x, 0, a->span_length) : a->span_length / 2;
  if (!fault && span) {
    if (!(a->c.trial.force_n > 0))
      a->c.trial.force_n = a->c.order_load_n;
    a->trial_x = trial_place(a, span, settings->focus);
    if (curve_make(a, span))
      a->n_curve = 0;
  }
  if (!fault)
    fault = bridge_solve(&bridge, assessor);
  if (!fault)
    fault = bridge_compare(&bridge, assessor);
  if (!fault && settings->waterfall && a->grade != ASSESS_LIVE)
    fault = bridge_waterfalls(&bridge, assessor);
  if (!fault) {
    facts_make(a);
    a->fired = rules_apply(&a->facts);
    a->worklist = worklist_make(&a->facts, a->fired);
    verdicts_give(a, &settings->limits, settings->only);
    worklist_judge(a);
    if (a->fault)
      a->verdict = VERDICT_REWORK;
    bridge_advise(&bridge);
  }
  bridge_clear(&bridge);
  bridge_keep(&bridge, assessor, fault);
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
