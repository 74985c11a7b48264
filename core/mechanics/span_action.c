/* span_action.c - bending, shear and twist anywhere, by statics from the answers of the supports.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What stands to the left of a place is summed there: so a statically determinate bridge is exact,
 * and equilibrium holds whatever the stiffnesses are. */
#include "mechanics/span_private.h"
#include <math.h>
#include <stdlib.h>

#define SWEEP 240 /* places of the load in an envelope */

static PlanPoint place_at(const Span *span, double x)
{
  if (span->beam.dofs == BEAM_FLAT)
    return (PlanPoint){x, 0};
  size_t e = beam_element(&span->beam, x);
  double on = x - span->beam.x[e], heading = span->beam.element[e].heading;
  return (PlanPoint){span->node[e].x + on * cos(heading), span->node[e].z + on * sin(heading)};
}

/* How far the biting edge lies above the axis. */
static double edge_at(const Span *span, double x)
{
  size_t unit = 0;
  while (unit + 1 < span->n_unit && x >= span->start[unit + 1])
    unit++;
  return span->edge[unit];
}

/* Where actions are summed: a place, its heading, how far above the axis. */
typedef struct {
  PlanPoint at;
  double heading, rise;
} Cut;

/* Forces and couples in the frame of the arch where they stand. */
typedef struct {
  double up, along, cheek; /* N */
  double turn, twist, yaw; /* N mm, about the axis */
} Push;

/* Adds what a push to the left of the cut does there.  In a straight bridge every term but the
 * first of each sum is nil. */
static void carry(const Cut *cut, PlanPoint from, double heading, const Push *p, NeckLoad *sum)
{
  double dx = cut->at.x - from.x, dz = cut->at.z - from.z;
  double c = cos(cut->heading), s = sin(cut->heading);
  double ahead = c * dx + s * dz, aside = c * dz - s * dx; /* from the push to the cut */
  double cd = cos(heading - cut->heading), sd = sin(heading - cut->heading);
  double along = cd * p->along - sd * p->cheek, cheek = sd * p->along + cd * p->cheek,
         twist = cd * p->twist - sd * p->turn, turn = sd * p->twist + cd * p->turn;
  sum->shear_n += p->up;
  sum->moment_n_mm += p->up * ahead - turn;
  sum->lateral_shear_n -= cheek;
  sum->lateral_n_mm -= cheek * ahead - along * aside + p->yaw;
  /* about a point above the axis a push towards the cheek stands lower */
  sum->torsion_n_mm -= p->up * aside + twist - cut->rise * cheek;
}

static Push answer_of(const Span *span, const Support *s, const SpanLoad *load)
{
  const Beam *beam = &span->beam;
  double answer[WAY_N] = {0}, heading = span_heading(span, load->x);
  for (int way = 0; way < WAY_N; way++) {
    if (!s->shape[way])
      continue;
    /* what a unit force down at `at` moves at the support is -shape(at): the springs answer the
     * other way */
    answer[way] = load->force_n * beam_shape(beam, s->shape[way], load->x, WAY_UP, heading);
    if (beam->dofs == BEAM_SPACE)
      answer[way] -=
          load->cheek_n *
          (beam_shape(beam, s->shape[way], load->x, WAY_CHEEK, heading) +
           edge_at(span, load->x) * beam_shape(beam, s->shape[way], load->x, WAY_TWIST, heading));
  }
  const double *k = s->spring.stiffness, lever = s->spring.lever;
  return (Push){.up = k[WAY_UP] * answer[WAY_UP],
                .along = k[WAY_ALONG] * answer[WAY_ALONG],
                .cheek = k[WAY_CHEEK] * answer[WAY_CHEEK],
                .turn = k[WAY_TURN] * answer[WAY_TURN] + k[WAY_ALONG] * lever * answer[WAY_ALONG],
                .twist =
                    k[WAY_TWIST] * answer[WAY_TWIST] - k[WAY_CHEEK] * lever * answer[WAY_CHEEK],
                .yaw = k[WAY_YAW] * answer[WAY_YAW]};
}

static Cut cut_at(const Span *span, double x)
{
  Cut cut = {place_at(span, x), span_heading(span, x), 0};
  for (size_t i = 0; i < span->n_neck; i++)
    if (fabs(x - span->neck_x[i]) < 1e-9 * span->length)
      cut.rise = span->rise[i];
  return cut;
}

static void action_of(const Span *span, const SpanLoad *load, double x, const Cut *cut,
                      NeckLoad *sum)
{
  for (size_t i = 0; i < span->n_support; i++) {
    const Support *s = &span->support[i];
    if (s->x > x)
      continue;
    Push push = answer_of(span, s, load);
    carry(cut, place_at(span, s->x), s->heading, &push, sum);
  }
  if (load->x < x) {
    Push push = {.up = -load->force_n,
                 .cheek = load->cheek_n,
                 .twist = load->cheek_n * edge_at(span, load->x)};
    carry(cut, place_at(span, load->x), span_heading(span, load->x), &push, sum);
  }
}

static bool sideways(double cheek_n)
{
  return cheek_n < 0 || cheek_n > 0;
}

static Fault place_check(const Span *span, const SpanLoad load[], size_t n, double x)
{
  if (!(x >= 0 && x <= span->length) || n > SPAN_MAX_LOADS)
    return FAULT_RANGE;
  for (size_t i = 0; i < n; i++)
    if (!isfinite(load[i].force_n) || !isfinite(load[i].cheek_n) ||
        !(load[i].x >= 0 && load[i].x <= span->length) ||
        (sideways(load[i].cheek_n) && span->beam.dofs == BEAM_FLAT))
      return FAULT_RANGE;
  return FAULT_NONE;
}

Fault span_action(const Span *span, const SpanLoad load[], size_t n, double x, NeckLoad *action)
{
  Fault fault = place_check(span, load, n, x);
  if (fault)
    return fault;
  NeckLoad sum = {0};
  Cut cut = cut_at(span, x);
  for (size_t i = 0; i < n; i++)
    action_of(span, &load[i], x, &cut, &sum);
  *action = sum;
  return FAULT_NONE;
}

Fault span_deflection(const Span *span, const SpanLoad load[], size_t n, double x, SpanMove *move)
{
  Fault fault = place_check(span, load, n, x);
  if (fault)
    return fault;
  const Beam *beam = &span->beam;
  double *f = calloc(beam->dofs * beam->n, sizeof *f);
  if (!f)
    return FAULT_MEMORY;
  for (size_t i = 0; i < n; i++) {
    double heading = span_heading(span, load[i].x);
    beam_force(beam, load[i].x, WAY_UP, heading, -load[i].force_n, f);
    if (!sideways(load[i].cheek_n))
      continue;
    beam_force(beam, load[i].x, WAY_CHEEK, heading, load[i].cheek_n, f);
    beam_force(beam, load[i].x, WAY_TWIST, heading, load[i].cheek_n * edge_at(span, load[i].x), f);
  }
  beam_solve(beam, f);
  bool space = beam->dofs == BEAM_SPACE;
  double heading = span_heading(span, x);
  *move = (SpanMove){.down_mm = -beam_shape(beam, f, x, WAY_UP, heading),
                     .cheek_mm = space ? beam_shape(beam, f, x, WAY_CHEEK, heading) : 0,
                     .twist_rad = space ? beam_shape(beam, f, x, WAY_TWIST, heading) : 0};
  free(f);
  return FAULT_NONE;
}

Fault span_influence(const Span *span, size_t neck, size_t n, double x[], double moment[],
                     double shear[])
{
  if (neck >= span->n_neck || n < 2)
    return FAULT_RANGE;
  Cut cut = cut_at(span, span->neck_x[neck]);
  for (size_t i = 0; i < n; i++) {
    NeckLoad sum = {0};
    x[i] = span->length * (double)i / (double)(n - 1);
    action_of(span, &(SpanLoad){.x = x[i], .force_n = 1}, span->neck_x[neck], &cut, &sum);
    moment[i] = sum.moment_n_mm;
    shear[i] = sum.shear_n;
  }
  return FAULT_NONE;
}

static Fault envelope_check(const Span *span, size_t neck, size_t more, const SpanEnvelope *e)
{
  bool room = e->n + more <= sizeof e->at / sizeof *e->at;
  return neck >= span->n_neck ? FAULT_RANGE : room ? FAULT_NONE : FAULT_ROOM;
}

Fault span_sweep(const Span *span, size_t neck, double force_n, double cheek_n, size_t load_case,
                 SpanEnvelope *envelope)
{
  bool space = span->beam.dofs == BEAM_SPACE;
  const size_t n = space ? SPAN_EXTREMES : 2;
  Fault fault = envelope_check(span, neck, n, envelope);
  if (!fault && (!isfinite(force_n) || !isfinite(cheek_n) || (sideways(cheek_n) && !space)))
    fault = FAULT_RANGE;
  if (fault)
    return fault;
  SpanExtreme *e = envelope->at + envelope->n;
  for (size_t k = 0; k < n; k++)
    e[k] = (SpanExtreme){.x = span->neck_x[neck], .load_case = load_case};
  Cut cut = cut_at(span, span->neck_x[neck]);
  for (int i = 0; i <= SWEEP + 1; i++) {
    /* the kink of the line lies over the neck itself: that place is always tried */
    double at = i <= SWEEP ? span->length * i / SWEEP : span->neck_x[neck];
    NeckLoad sum = {0};
    SpanLoad load = {.x = at, .force_n = force_n, .cheek_n = cheek_n};
    action_of(span, &load, span->neck_x[neck], &cut, &sum);
    const double here[] = {sum.moment_n_mm, sum.lateral_n_mm, sum.torsion_n_mm};
    for (size_t k = 0; k < n; k++) {
      const double best[] = {e[k].load.moment_n_mm, e[k].load.lateral_n_mm, e[k].load.torsion_n_mm};
      if (k % 2 == 0 ? here[k / 2] > best[k / 2] : here[k / 2] < best[k / 2])
        e[k].load = sum, e[k].x = at;
    }
  }
  envelope->n += n;
  return FAULT_NONE;
}

Fault span_stand(const Span *span, size_t neck, const SpanLoad load[], size_t n, size_t load_case,
                 SpanEnvelope *envelope)
{
  Fault fault = envelope_check(span, neck, 1, envelope);
  SpanExtreme e = {.load_case = load_case, .x = n ? load[0].x : 0};
  if (!fault)
    fault = span_action(span, load, n, span->neck_x[neck], &e.load);
  if (!fault)
    envelope->at[envelope->n++] = e;
  return fault;
}
