/* span_action.c - bending, shear and twist anywhere, by statics from the answers of the supports.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What stands to the left of a place is summed there: so a statically determinate bridge is exact,
 * and equilibrium holds whatever the stiffnesses are. */
#include "mechanics/span_private.h"
#include <math.h>
#include <stdlib.h>

static PlanPoint place_at(const Span *span, double x)
{
  if (span->beam.dofs == BEAM_FLAT)
    return (PlanPoint){x, 0};
  size_t e = beam_element(&span->beam, x);
  double on = x - span->beam.x[e];
  Heading heading = span->beam.element[e].heading;
  return (PlanPoint){span->node[e].x + on * heading.c, span->node[e].z + on * heading.s};
}

/* How far the biting edge lies above the axis. */
static double edge_at(const Span *span, double x)
{
  size_t unit = 0;
  while (unit + 1 < span->n_unit && x >= span->start[unit + 1])
    unit++;
  return span->edge[unit];
}

/* Forces and couples at a place, in the frame of the arch there. */
typedef struct {
  PlanPoint from;
  Heading heading;
  double up, along, cheek; /* N */
  double turn, twist, yaw; /* N mm, about the axis */
} Push;

/* A load, and how the supports answer it. */
typedef struct {
  double x;
  Push load, answer[SUPPORT_MOST];
} Pushed;

/* Adds what a push to the left of the cut does there.  In a straight bridge every term but the
 * first of each sum is nil. */
static void carry(const Cut *cut, const Push *p, NeckLoad *sum)
{
  double dx = cut->at.x - p->from.x, dz = cut->at.z - p->from.z;
  double c = cut->heading.c, s = cut->heading.s;
  double ahead = c * dx + s * dz, aside = c * dz - s * dx; /* from the push to the cut */
  double cd = c * p->heading.c + s * p->heading.s, sd = c * p->heading.s - s * p->heading.c;
  double along = cd * p->along - sd * p->cheek, cheek = sd * p->along + cd * p->cheek,
         twist = cd * p->twist - sd * p->turn, turn = sd * p->twist + cd * p->turn;
  sum->shear_n += p->up;
  sum->moment_n_mm += p->up * ahead - turn;
  sum->lateral_shear_n -= cheek;
  sum->lateral_n_mm -= cheek * ahead - along * aside + p->yaw;
  /* about a point above the axis a push towards the cheek stands lower */
  sum->torsion_n_mm -= p->up * aside + twist - cut->rise * cheek;
}

/* What the springs of a support do when its held point moves so. */
static Push answer_of(const Span *span, const Support *s, const double move[])
{
  double answer[WAY_N], lever = s->spring.lever;
  for (int way = 0; way < WAY_N; way++)
    answer[way] = s->shape[way] < 0 ? 0 : s->spring.stiffness[way] * move[s->shape[way]];
  return (Push){.from = place_at(span, s->x),
                .heading = s->heading,
                .up = answer[WAY_UP],
                .along = answer[WAY_ALONG],
                .cheek = answer[WAY_CHEEK],
                .turn = answer[WAY_TURN] + lever * answer[WAY_ALONG],
                .twist = answer[WAY_TWIST] - lever * answer[WAY_CHEEK],
                .yaw = answer[WAY_YAW]};
}

static void push_make(const Span *span, SpanLoad load, Pushed *pushed)
{
  const Beam *beam = &span->beam;
  const size_t m = span->n_shape;
  double move[SHAPES_MOST], cheek[SHAPES_MOST], twist[SHAPES_MOST], edge = edge_at(span, load.x);
  Heading heading = span_heading(span, load.x);
  /* what a unit force down at x moves at a support is -shape(x): the springs answer the other way
   */
  beam_shapes(beam, m, span->shape, load.x, WAY_UP, heading, move);
  for (size_t j = 0; j < m; j++)
    move[j] *= load.force_n;
  if (beam->dofs == BEAM_SPACE) {
    beam_shapes(beam, m, span->shape, load.x, WAY_CHEEK, heading, cheek);
    beam_shapes(beam, m, span->shape, load.x, WAY_TWIST, heading, twist);
    for (size_t j = 0; j < m; j++)
      move[j] -= load.cheek_n * (cheek[j] + edge * twist[j]);
  }
  pushed->x = load.x;
  pushed->load = (Push){.from = place_at(span, load.x),
                        .heading = heading,
                        .up = -load.force_n,
                        .cheek = load.cheek_n,
                        .twist = load.cheek_n * edge};
  for (size_t i = 0; i < span->n_support; i++)
    pushed->answer[i] = answer_of(span, &span->support[i], move);
}

static Cut cut_at(const Span *span, double x)
{
  Cut cut = {place_at(span, x), span_heading(span, x), 0};
  for (size_t i = 0; i < span->n_neck; i++)
    if (fabs(x - span->neck_x[i]) < 1e-9 * span->length)
      cut.rise = span->rise[i];
  return cut;
}

/* Adds what everything to the left of x does there. */
static void action_add(const Span *span, const Pushed *pushed, double x, const Cut *cut,
                       NeckLoad *sum)
{
  for (size_t i = 0; i < span->n_support; i++)
    if (!(span->support[i].x > x))
      carry(cut, &pushed->answer[i], sum);
  if (pushed->x < x)
    carry(cut, &pushed->load, sum);
}

double span_sweep_x(const Span *span, size_t neck, int i)
{
  return i <= SWEEP ? span->length * i / SWEEP : span->neck_x[neck];
}

static void influence_make(const Span *span, const Pushed *down, const Pushed *cheek, size_t neck,
                           const Cut *cut, Influence *influence)
{
  *influence = (Influence){0};
  action_add(span, down, span->neck_x[neck], cut, &influence->down);
  if (span->beam.dofs == BEAM_SPACE)
    action_add(span, cheek, span->neck_x[neck], cut, &influence->cheek);
}

void span_influences_make(Span *span)
{
  Cut cut[SPAN_MAX_UNITS - 1];
  Pushed down, cheek;
  for (size_t k = 0; k < span->n_neck; k++)
    cut[k] = cut_at(span, span->neck_x[k]);
  for (int i = 0; i <= SWEEP + (int)span->n_neck; i++) {
    bool even = i <= SWEEP; /* one place for all necks; then each neck's own */
    size_t own = even ? 0 : (size_t)(i - SWEEP - 1);
    double x = span_sweep_x(span, own, even ? i : SWEEP + 1);
    push_make(span, (SpanLoad){.x = x, .force_n = 1}, &down);
    if (span->beam.dofs == BEAM_SPACE)
      push_make(span, (SpanLoad){.x = x, .cheek_n = 1}, &cheek);
    for (size_t k = even ? 0 : own; k < (even ? span->n_neck : own + 1); k++)
      influence_make(span, &down, &cheek, k, &cut[k], &span->influence[k][even ? i : SWEEP + 1]);
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
  for (size_t i = 0; i < n; i++) {
    Pushed pushed;
    push_make(span, load[i], &pushed);
    action_add(span, &pushed, x, &cut, &sum);
  }
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
    Heading heading = span_heading(span, load[i].x);
    beam_force(beam, load[i].x, WAY_UP, heading, -load[i].force_n, f);
    if (!sideways(load[i].cheek_n))
      continue;
    beam_force(beam, load[i].x, WAY_CHEEK, heading, load[i].cheek_n, f);
    beam_force(beam, load[i].x, WAY_TWIST, heading, load[i].cheek_n * edge_at(span, load[i].x), f);
  }
  beam_solve(beam, 1, f);
  Heading heading = span_heading(span, x);
  *move = (SpanMove){0};
  beam_shapes(beam, 1, f, x, WAY_UP, heading, &move->down_mm);
  move->down_mm *= -1;
  if (beam->dofs == BEAM_SPACE) {
    beam_shapes(beam, 1, f, x, WAY_CHEEK, heading, &move->cheek_mm);
    beam_shapes(beam, 1, f, x, WAY_TWIST, heading, &move->twist_rad);
  }
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
    Pushed pushed;
    x[i] = span->length * (double)i / (double)(n - 1);
    push_make(span, (SpanLoad){.x = x[i], .force_n = 1}, &pushed);
    action_add(span, &pushed, span->neck_x[neck], &cut, &sum);
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

static void load_add(NeckLoad *sum, const NeckLoad *unit, double force)
{
  sum->moment_n_mm += force * unit->moment_n_mm;
  sum->shear_n += force * unit->shear_n;
  sum->lateral_n_mm += force * unit->lateral_n_mm;
  sum->lateral_shear_n += force * unit->lateral_shear_n;
  sum->torsion_n_mm += force * unit->torsion_n_mm;
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
  for (int i = 0; i <= SWEEP + 1; i++) {
    const Influence *of = &span->influence[neck][i];
    NeckLoad sum = {0};
    load_add(&sum, &of->down, force_n);
    if (space)
      load_add(&sum, &of->cheek, cheek_n);
    const double here[] = {sum.moment_n_mm, sum.lateral_n_mm, sum.torsion_n_mm};
    for (size_t k = 0; k < n; k++) {
      const double best[] = {e[k].load.moment_n_mm, e[k].load.lateral_n_mm, e[k].load.torsion_n_mm};
      if (k % 2 == 0 ? here[k / 2] > best[k / 2] : here[k / 2] < best[k / 2])
        e[k].load = sum, e[k].x = span_sweep_x(span, neck, i);
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
