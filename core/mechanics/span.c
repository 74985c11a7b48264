/* span.c - the whole bridge as a beam on springs: the influence of a load on every support.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The deflection line for a unit force (or moment) at a support is, by Maxwell's theorem, the
 * influence line of that support; span_action.c does the rest by equilibrium. A bowed bridge stands
 * on an arc of a circle and bulges towards the cheek. Growth of the section away from a neck is
 * limited to SPREAD: what lies outside does not carry yet. */
#include "base/tolerance.h"
#include "mechanics/span_private.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SPREAD 0.3      /* tan of the spread: core/SOURCES.md "span" */
#define STEP_MM 0.1     /* length of an element */
#define RIGID_N_MM 1e10 /* stands for a support that does not sink */
#define RIGID_N_MM_RAD 1e13
#define LEAST_SPRING 1.0   /* N/mm, N mm/rad: softer is as good as none */
#define LEAST_SECTION 1e-4 /* mm, mm^2, mm^4 */

void span_free(Span *span)
{
  if (!span)
    return;
  free(span->shape);
  free(span);
}

static bool within(double value, double low, double high)
{
  return value >= low && value <= high; /* false for NaN */
}

static bool section_ok(double area, double i_z, double shear_factor)
{
  return within(area, LEAST_SECTION, MAX_SIZE_MM * MAX_SIZE_MM) &&
         within(i_z, LEAST_SECTION, pow(MAX_SIZE_MM, 4)) && within(shear_factor, 0.05, 2);
}

static bool section_space_ok(double i_y, double torsion)
{
  return within(i_y, LEAST_SECTION, pow(MAX_SIZE_MM, 4)) &&
         within(torsion, LEAST_SECTION, pow(MAX_SIZE_MM, 4));
}

static Fault unit_check(const SpanUnit *u, bool space)
{
  if (!within(u->length, MIN_NECK_MM, MAX_SIZE_MM / 2) ||
      !section_ok(u->area, u->i_z, u->shear_factor))
    return FAULT_RANGE;
  if (space && (!section_space_ok(u->i_y, u->torsion) || !within(u->edge, 0, MAX_SIZE_MM)))
    return FAULT_RANGE;
  if (!u->supported)
    return FAULT_NONE;
  bool springs =
      u->spring.axial_n_mm >= 0 && u->spring.rotation_n_mm_rad >= 0 && u->lateral_n_mm >= 0;
  springs =
      springs && (!space || (u->cheek_n_mm > 0 && u->twist_n_mm_rad > 0 && u->yaw_n_mm_rad >= 0));
  return springs && within(u->lever, 0, MAX_SIZE_MM) ? FAULT_NONE : FAULT_RANGE;
}

static Fault neck_check(const SpanNeck *k, bool space)
{
  if (space && (!section_space_ok(k->i_y, k->torsion) || !within(fabs(k->rise), 0, MAX_SIZE_MM)))
    return FAULT_RANGE;
  bool sizes = within(k->height, LEAST_SECTION, MAX_SIZE_MM) &&
               within(k->body_height, 0, MAX_SIZE_MM) && within(k->half_length, 0, MAX_SIZE_MM);
  return sizes && section_ok(k->area, k->i_z, k->shear_factor) ? FAULT_NONE : FAULT_RANGE;
}

/* Sizes, and whether anything holds the bridge: two places that do not sink, or one that does not
 * turn either. */
static Fault input_check(const SpanInput *in, int pin_roller)
{
  if (in->n_unit < 1 || in->n_unit > SPAN_MAX_UNITS || !within(in->young_mpa, 1, 1e7) ||
      !within(in->poisson, 0, 0.499))
    return FAULT_RANGE;
  double total = 0;
  for (size_t i = 0; i < in->n_unit; i++)
    total += in->unit[i].length;
  /* to a full turn, where the ends of the arch meet */
  bool straight = !(in->turn_1_mm < 0 || in->turn_1_mm > 0);
  if (!(straight && isfinite(in->turn_1_mm)) &&
      !(in->space && within(in->turn_1_mm * total, -2 * acos(-1.0), 2 * acos(-1.0))))
    return FAULT_RANGE;
  Fault fault = FAULT_NONE;
  size_t held = 0, clamped = 0;
  for (size_t i = 0; i < in->n_unit && !fault; i++) {
    fault = unit_check(&in->unit[i], in->space);
    const SpanSpring *s = &in->unit[i].spring;
    if (in->unit[i].supported && (pin_roller || s->axial_n_mm > LEAST_SPRING)) {
      held++;
      clamped += !pin_roller && s->rotation_n_mm_rad > LEAST_SPRING;
    }
  }
  for (size_t i = 0; i + 1 < in->n_unit && !fault; i++)
    fault = neck_check(&in->neck[i], in->space);
  if (!fault && held < 2 && clamped < 1)
    fault = FAULT_SUPPORT;
  return fault;
}

/* Part of the way from neck (0) to body (1) at a distance from the neck. */
static double grown(const SpanNeck *neck, double distance)
{
  double missing = neck->body_height - neck->height;
  if (!(missing > 0))
    return 1;
  double spread = 2 * SPREAD * distance / missing; /* above and below */
  double drawn = neck->half_length > 0 ? distance / neck->half_length : 1;
  return fmin(1, fmin(spread, drawn));
}

/* Lengths grow linearly: the fourth root of a second moment, the square root of an area. */
static double second_moment_grown(double neck, double body, double part)
{
  double low = sqrt(sqrt(neck)), length = low + part * (sqrt(sqrt(body)) - low);
  return length * length * length * length;
}

/* Section at x: the body of the unit, weakened by the necks at its ends. */
static void section_at(const SpanInput *in, const double start[], size_t unit, double x,
                       BeamElement *at)
{
  const SpanUnit *u = &in->unit[unit];
  double i_z = u->i_z, area = u->area, kappa = u->shear_factor, i_y = u->i_y, torsion = u->torsion;
  for (int end = 0; end < 2; end++) {
    if ((end == 0 && unit == 0) || (end == 1 && unit + 1 == in->n_unit))
      continue;
    const SpanNeck *neck = &in->neck[unit - (end == 0)];
    double f = grown(neck, end == 0 ? x - start[unit] : start[unit] + u->length - x);
    double i_here = second_moment_grown(neck->i_z, u->i_z, f);
    double a_here = pow(sqrt(neck->area) + f * (sqrt(u->area) - sqrt(neck->area)), 2);
    if (i_here < i_z)
      i_z = i_here;
    if (a_here < area) {
      area = a_here;
      kappa = neck->shear_factor + f * (u->shear_factor - neck->shear_factor);
    }
    if (in->space) {
      i_y = fmin(i_y, second_moment_grown(neck->i_y, u->i_y, f));
      torsion = fmin(torsion, second_moment_grown(neck->torsion, u->torsion, f));
    }
  }
  at->heading = (Heading){1, 0};
  at->ei = in->young_mpa * i_z;
  at->ea = in->young_mpa * area;
  at->ga = kappa * in->young_mpa / (2 * (1 + in->poisson)) * area;
  at->ei_plan = in->young_mpa * i_y;
  at->gj = in->young_mpa / (2 * (1 + in->poisson)) * torsion;
}

static size_t node_at(const Beam *beam, double x)
{
  size_t e = beam_element(beam, x);
  return x - beam->x[e] < beam->x[e + 1] - x ? e : e + 1;
}

/* The nodes in the plan: chords of the arc, of their arc's length (a tenth of a millimetre). */
static void plan_lay(Span *span)
{
  Beam *beam = &span->beam;
  for (size_t i = 0; i + 1 < beam->n; i++) {
    double length = beam->x[i + 1] - beam->x[i];
    Heading heading = span_heading(span, beam->x[i] + length / 2);
    beam->element[i].heading = heading;
    span->node[i + 1] =
        (PlanPoint){span->node[i].x + length * heading.c, span->node[i].z + length * heading.s};
  }
}

/* Nodes every STEP_MM, with one at every end and middle of a unit. */
static Fault beam_build(const SpanInput *in, Span *span)
{
  Beam *beam = &span->beam;
  double total = 0, *start = span->start;
  for (size_t i = 0; i < in->n_unit; i++)
    total += in->unit[i].length;
  double step = fmax(STEP_MM, 1.05 * total / (BEAM_MAX_NODES - 4 * SPAN_MAX_UNITS));
  beam->dofs = in->space ? BEAM_SPACE : BEAM_FLAT;
  span->total = total;
  span->turn_1_mm = in->turn_1_mm;
  for (size_t i = 0; i < in->n_unit; i++) {
    start[i] = span->length;
    span->edge[i] = in->unit[i].edge;
    size_t half = (size_t)ceil(in->unit[i].length / 2 / step), n = 2 * half;
    for (size_t k = 0; k < n; k++) {
      double a = start[i] + in->unit[i].length * (double)k / (double)n,
             b = in->unit[i].length / (double)n;
      if (beam->n + 2 > BEAM_MAX_NODES)
        return FAULT_ROOM;
      beam->x[beam->n] = a;
      section_at(in, start, i, a + b / 2, &beam->element[beam->n]);
      beam->n++;
    }
    span->length += in->unit[i].length;
    if (i + 1 < in->n_unit) {
      span->rise[span->n_neck] = in->neck[i].rise;
      span->neck_x[span->n_neck++] = span->length;
    }
  }
  span->n_unit = in->n_unit;
  beam->x[beam->n++] = span->length;
  if (in->space)
    plan_lay(span);
  return FAULT_NONE;
}

/* What a unit action on each spring does to the beam. */
static Fault shapes_make(Span *span)
{
  Beam *beam = &span->beam;
  for (size_t i = 0; i < span->n_support; i++)
    for (BeamWay way = 0; way < WAY_N; way++) {
      bool held = way < (BeamWay)beam->dofs && span->support[i].spring.stiffness[way] > 0;
      span->support[i].shape[way] = held ? (int)span->n_shape++ : -1;
    }
  span->shape = calloc(beam->dofs * beam->n * span->n_shape, sizeof *span->shape);
  if (!span->shape)
    return FAULT_MEMORY;
  for (size_t i = 0; i < span->n_support; i++) {
    const Support *s = &span->support[i];
    for (BeamWay way = 0; way < (BeamWay)beam->dofs; way++)
      if (s->shape[way] >= 0)
        beam_spring_push(beam, node_at(beam, s->x), s->heading, way, s->spring.lever, span->n_shape,
                         (size_t)s->shape[way], span->shape);
  }
  beam_solve(beam, span->n_shape, span->shape);
  return FAULT_NONE;
}

/* A spring that is neither nothing nor beyond what the arithmetic can tell from rigid. */
static double stiffness_in_reach(double stiffness, double rigid)
{
  return stiffness > LEAST_SPRING ? fmin(stiffness, rigid) : 0;
}

/* pin_roller: a fork that neither sinks nor gives way sideways nor lets the bridge twist. */
static BeamSpring spring_of(const SpanUnit *unit, int pin_roller, bool space)
{
  BeamSpring s = {.lever = pin_roller ? 0 : unit->lever};
  double *k = s.stiffness;
  k[WAY_UP] = pin_roller ? RIGID_N_MM : stiffness_in_reach(unit->spring.axial_n_mm, RIGID_N_MM);
  if (space) {
    k[WAY_CHEEK] = pin_roller ? RIGID_N_MM : stiffness_in_reach(unit->cheek_n_mm, RIGID_N_MM);
    k[WAY_TWIST] =
        pin_roller ? RIGID_N_MM_RAD : stiffness_in_reach(unit->twist_n_mm_rad, RIGID_N_MM_RAD);
  }
  if (pin_roller)
    return s;
  k[WAY_TURN] = stiffness_in_reach(unit->spring.rotation_n_mm_rad, RIGID_N_MM_RAD);
  k[WAY_ALONG] = stiffness_in_reach(unit->lateral_n_mm, RIGID_N_MM);
  k[WAY_YAW] = space ? stiffness_in_reach(unit->yaw_n_mm_rad, RIGID_N_MM_RAD) : 0;
  return s;
}

/* What the beam stands on. */
static void supports_place(const SpanInput *in, int pin_roller, Span *span)
{
  bool slides = true;
  for (size_t i = 0; i < in->n_unit; i++) {
    if (!in->unit[i].supported)
      continue;
    Support *s = &span->support[span->n_support++];
    s->x = span->start[i] + in->unit[i].length / 2;
    s->heading = span_heading(span, s->x);
    s->spring = spring_of(&in->unit[i], pin_roller, in->space);
    slides = slides && !(s->spring.stiffness[WAY_ALONG] > 0);
  }
  if (slides && !in->space)
    beam_hold_axis(&span->beam);
  else if (slides) /* in space the hold carries: a support like the others */
    span->support[span->n_support++] = (Support){
        .heading = span_heading(span, 0), .spring.stiffness[WAY_ALONG] = span->beam.element[0].ea};
  for (size_t i = 0; i < span->n_support; i++) {
    const Support *s = &span->support[i];
    beam_spring(&span->beam, node_at(&span->beam, s->x), s->heading, &s->spring);
  }
}

Fault span_new(const SpanInput *input, int pin_roller, Span **result)
{
  Fault fault = input_check(input, pin_roller);
  if (fault)
    return fault;
  Span *span = calloc(1, sizeof *span);
  if (!span)
    return FAULT_MEMORY;
  fault = beam_build(input, span);
  if (!fault) {
    beam_assemble(&span->beam);
    supports_place(input, pin_roller, span);
    fault = beam_factor(&span->beam);
  }
  if (!fault)
    fault = shapes_make(span);
  if (fault) {
    span_free(span);
    return fault;
  }
  span_influences_make(span);
  *result = span;
  return FAULT_NONE;
}

/* Distance from the line between the first and the last of the places on an arc. */
static double bow_of(const double at[], size_t n, double turn)
{
  double middle = (at[0] + at[n - 1]) / 2, half = (at[n - 1] - at[0]) / 2, most = 0;
  for (size_t i = 1; i + 1 < n; i++)
    most = fmax(most, (cos(turn * (at[i] - middle)) - cos(turn * half)) / turn);
  return most;
}

Fault span_turn_of_bow(const double at[], size_t n, double bow, double *turn_1_mm)
{
  if (n < 2 || !(at[n - 1] > at[0]) || !(bow >= 0))
    return FAULT_RANGE;
  if (n == 2 || !(bow > 0)) {
    *turn_1_mm = 0;
    return FAULT_NONE;
  }
  double low = 1e-9, high = acos(-1.0) / (at[n - 1] - at[0]); /* half a circle */
  if (bow > bow_of(at, n, high))
    return FAULT_RANGE;
  for (int i = 0; i < 60; i++) {
    double middle = (low + high) / 2;
    if (bow_of(at, n, middle) < bow)
      low = middle;
    else
      high = middle;
  }
  *turn_1_mm = (low + high) / 2;
  return FAULT_NONE;
}

/* The arch leaves its first end towards the cheek and comes back: symmetric about its middle. */
Heading span_heading(const Span *span, double x)
{
  double angle = span->turn_1_mm * (span->total / 2 - x);
  return span->beam.dofs == BEAM_SPACE ? (Heading){cos(angle), sin(angle)} : (Heading){1, 0};
}

double span_length(const Span *span)
{
  return span->length;
}

double span_neck_x(const Span *span, size_t neck)
{
  return neck < span->n_neck ? span->neck_x[neck] : NAN;
}
