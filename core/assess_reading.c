/* assess_reading.c - what needs no field: the readings of every connector, and the beams.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * While the hand drags the load or one line, most of the bridge is the one of the call before: what
 * rests on unchanged parts is taken over from the answer that was given then. */
#include "assess_solve.h"
#include <glib.h>
#include <math.h>

void beams_free(Beams *beams)
{
  if (!beams)
    return;
  span_free(beams->span);
  span_free(beams->pin);
  span_free(beams->soft);
  span_free(beams->stiff);
  g_free(beams);
}

static Fault beams_new(const Case *c, const Form form[], Beams **result)
{
  Beams *beams = g_try_new0(Beams, 1);
  if (!beams)
    return FAULT_MEMORY;
  Fault fault = case_span_input(c, form, &beams->input);
  if (!fault)
    fault = span_new(&beams->input, 0, &beams->span);
  if (!fault && span_new(&beams->input, 1, &beams->pin))
    beams->pin = NULL; /* e.g. a single abutment: hinges alone do not hold it */
  if (!fault) {
    SpanInput other = beams->input;
    case_span_supports(c, SUPPORT_SOFT, &other);
    fault = span_new(&other, 0, &beams->soft);
    case_span_supports(c, SUPPORT_STIFF, &other);
    if (!fault)
      fault = span_new(&other, 0, &beams->stiff);
  }
  if (fault)
    beams_free(beams);
  else
    *result = beams;
  return fault;
}

/* Everything not known stays NaN, never a plausible zero. */
static void connector_blank(ConnectorAssessment *k)
{
  Banded none = {NAN, NAN, NAN};
  k->peak_mpa = k->trial_peak_mpa = k->strength_mpa = k->margin = k->trial_margin = k->carries_n =
      none;
  k->chance_percent = k->trial_chance_percent = k->scratch_um = k->trial_scratch_um = none;
  k->bridge = (BridgeMoment){NAN, NAN, NAN, NAN};
  k->service_margin = k->service_chance_percent = k->trial_service_chance_percent = none;
  k->service_scratch_um = k->trial_service_scratch_um = none;
  k->nominal_mpa = k->pin_moment_n_mm = k->bench_multiplier = NAN;
  k->form = (Form){.neck_height = NAN,
                   .neck_width = NAN,
                   .roof_radius = none,
                   .gap_circle = NAN,
                   .room_to_round = NAN,
                   .groove_radius = NAN};
  k->section = (Section){.area = NAN, .width = NAN};
}

/* The readings of the call before, where the connector is still the same. */
static bool reading_take(const Bridge *b, size_t i, ConnectorAssessment *k)
{
  const ConnectorAssessment *was = b->last ? &b->last->connector[i] : NULL;
  if (!was || was->fault || !case_alike(&b->last->c, &b->a->c, i))
    return false;
  g_strlcpy(k->name, was->name, sizeof k->name);
  k->form = was->form;
  k->section = was->section;
  k->limits = was->limits;
  k->trace_percent = was->trace_percent;
  k->roof_doubt_percent = was->roof_doubt_percent;
  k->cutter_shortfall = was->cutter_shortfall;
  k->bench_multiplier = was->bench_multiplier;
  return true;
}

/* Every connector of the call before was solved, and its answer stands for its shape. */
static bool answers_whole(const Assessment *last)
{
  for (size_t i = 0; i < last->n_connector; i++)
    if ((last->connector[i].field != NULL) == (last->connector[i].fault != FAULT_NONE))
      return false;
  return true;
}

/* Bridge-wide faults stop here. */
Fault bridge_read(Bridge *b, const Assessor *assessor)
{
  Assessment *a = b->a;
  b->last = assessor->last;
  a->n_connector = a->c.n_unit > 0 ? a->c.n_unit - 1 : 0;
  Form form[MAX_CONNECTOR];
  Fault fault = FAULT_NONE;
  for (size_t i = 0; i < a->n_connector; i++) {
    ConnectorAssessment *k = &a->connector[i];
    connector_blank(k);
    Fault read = reading_take(b, i, k) ? FAULT_NONE : connector_read(&a->c, i, k);
    if (read == FAULT_MEMORY)
      return read;
    form[i] = k->form;
    if (!fault && !(k->form.neck_height > 0)) /* without this neck there is no beam */
      fault = read;
  }
  if (fault)
    return fault;
  if (assessor->beams && case_alike(&b->last->c, &a->c, SIZE_MAX)) {
    b->beams = assessor->beams;
    b->still = b->last->grade == a->grade && answers_whole(b->last);
    return FAULT_NONE;
  }
  return beams_new(&a->c, form, &b->beams);
}

void bridge_keep(Bridge *b, Assessor *assessor, Fault fault)
{
  if (fault) { /* what was kept belongs together still */
    if (b->beams != assessor->beams)
      beams_free(b->beams);
    return;
  }
  if (b->beams != assessor->beams)
    beams_free(assessor->beams);
  assessor->beams = b->beams;
  if (assessor->last)
    assessment_unref(assessor->last);
  assessor->last = assessment_ref(b->a);
}
