/* span.c - the whole bridge as a beam on springs: influence of a load on every support, moments by
 * statics. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The deflection line for a unit force (or moment) at a support is, by Maxwell's theorem, the
 * influence line of that support. Moment and shear anywhere then follow from equilibrium alone, so
 * a statically determinate bridge is exact. Growth of the section away from a neck is limited to
 * SPREAD: what lies outside does not carry yet. */
#include "mechanics/span.h"
#include "base/tolerance.h"
#include "mechanics/span_beam.h"
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define SPREAD 0.3      /* tan of the spread: core/SOURCES.md "span" */
#define STEP_MM 0.1     /* length of an element */
#define RIGID_N_MM 1e10 /* stands for a support that does not sink */
#define RIGID_N_MM_RAD 1e13
#define LEAST_SPRING 1.0   /* N/mm, N mm/rad: softer is as good as none */
#define LEAST_SECTION 1e-4 /* mm, mm^2, mm^4 */
#define SWEEP 240          /* places of the load in an envelope */

/* Nodal shapes for a unit action at a support, owned; NULL where that spring is 0. */
typedef enum { SHAPE_UP, SHAPE_TURN, SHAPE_ALONG, SHAPE_N } Shape;

typedef struct {
  double x;
  BeamSpring spring; /* all finite */
  double *shape[SHAPE_N];
} Support;

struct Span {
  Beam beam;
  double length;
  size_t n_neck, n_support;
  double neck_x[SPAN_MAX_UNITS - 1];
  Support support[SPAN_MAX_UNITS];
};

void span_free(Span *span)
{
  if (!span)
    return;
  for (size_t i = 0; i < span->n_support; i++)
    for (int k = 0; k < SHAPE_N; k++)
      free(span->support[i].shape[k]);
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

static Fault unit_check(const SpanUnit *u)
{
  if (!within(u->length, MIN_NECK_MM, MAX_SIZE_MM / 2) ||
      !section_ok(u->area, u->i_z, u->shear_factor))
    return FAULT_RANGE;
  if (!u->supported)
    return FAULT_NONE;
  bool springs =
      u->spring.axial_n_mm >= 0 && u->spring.rotation_n_mm_rad >= 0 && u->lateral_n_mm >= 0;
  return springs && within(u->lever, 0, MAX_SIZE_MM) ? FAULT_NONE : FAULT_RANGE;
}

static Fault neck_check(const SpanNeck *k)
{
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
  Fault fault = FAULT_NONE;
  size_t held = 0, clamped = 0;
  for (size_t i = 0; i < in->n_unit && !fault; i++) {
    fault = unit_check(&in->unit[i]);
    const SpanSpring *s = &in->unit[i].spring;
    if (in->unit[i].supported && (pin_roller || s->axial_n_mm > LEAST_SPRING)) {
      held++;
      clamped += !pin_roller && s->rotation_n_mm_rad > LEAST_SPRING;
    }
  }
  for (size_t i = 0; i + 1 < in->n_unit && !fault; i++)
    fault = neck_check(&in->neck[i]);
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

/* Section at x: the body of the unit, weakened by the necks at its ends. */
static void section_at(const SpanInput *in, const double start[], size_t unit, double x, double *ei,
                       double *ga, double *ea)
{
  const SpanUnit *u = &in->unit[unit];
  double i_z = u->i_z, area = u->area, kappa = u->shear_factor;
  for (int end = 0; end < 2; end++) {
    if ((end == 0 && unit == 0) || (end == 1 && unit + 1 == in->n_unit))
      continue;
    const SpanNeck *neck = &in->neck[unit - (end == 0)];
    double f = grown(neck, end == 0 ? x - start[unit] : start[unit] + u->length - x);
    /* lengths grow linearly: fourth root of the second moment, square root of the area */
    double i_here = pow(pow(neck->i_z, 0.25) + f * (pow(u->i_z, 0.25) - pow(neck->i_z, 0.25)), 4);
    double a_here = pow(sqrt(neck->area) + f * (sqrt(u->area) - sqrt(neck->area)), 2);
    if (i_here < i_z)
      i_z = i_here;
    if (a_here < area) {
      area = a_here;
      kappa = neck->shear_factor + f * (u->shear_factor - neck->shear_factor);
    }
  }
  *ei = in->young_mpa * i_z;
  *ea = in->young_mpa * area;
  *ga = kappa * in->young_mpa / (2 * (1 + in->poisson)) * area;
}

static size_t node_at(const Beam *beam, double x)
{
  size_t e = beam_element(beam, x);
  return x - beam->x[e] < beam->x[e + 1] - x ? e : e + 1;
}

/* Nodes every STEP_MM, with one at every end and middle of a unit. */
static Fault beam_build(const SpanInput *in, Span *span, double start[])
{
  Beam *beam = &span->beam;
  double total = 0;
  for (size_t i = 0; i < in->n_unit; i++)
    total += in->unit[i].length;
  double step = fmax(STEP_MM, 1.05 * total / (BEAM_MAX_NODES - 4 * SPAN_MAX_UNITS));
  for (size_t i = 0; i < in->n_unit; i++) {
    start[i] = span->length;
    size_t half = (size_t)ceil(in->unit[i].length / 2 / step), n = 2 * half;
    for (size_t k = 0; k < n; k++) {
      double a = start[i] + in->unit[i].length * (double)k / (double)n,
             b = in->unit[i].length / (double)n;
      if (beam->n + 2 > BEAM_MAX_NODES)
        return FAULT_ROOM;
      beam->x[beam->n] = a;
      section_at(in, start, i, a + b / 2, &beam->ei[beam->n], &beam->ga[beam->n],
                 &beam->ea[beam->n]);
      beam->n++;
    }
    span->length += in->unit[i].length;
    if (i + 1 < in->n_unit)
      span->neck_x[span->n_neck++] = span->length;
  }
  beam->x[beam->n++] = span->length;
  return FAULT_NONE;
}

static Fault support_shapes(Span *span, Support *support)
{
  const BeamSpring *spring = &support->spring;
  size_t node = node_at(&span->beam, support->x);
  const double stiffness[SHAPE_N] = {spring->vertical, spring->rotation, spring->lateral};
  for (int k = 0; k < SHAPE_N; k++) {
    if (!(stiffness[k] > 0))
      continue;
    double *f = support->shape[k] = calloc(3 * span->beam.n, sizeof *f);
    if (!f)
      return FAULT_MEMORY;
    if (k == SHAPE_UP)
      f[3 * node + 1] = 1;
    else if (k == SHAPE_TURN)
      f[3 * node + 2] = 1;
    else
      f[3 * node] = 1, f[3 * node + 2] = spring->lever;
    beam_solve(&span->beam, f);
  }
  return FAULT_NONE;
}

/* A spring that is neither nothing nor beyond what the arithmetic can tell from rigid. */
static double stiffness_in_reach(double stiffness, double rigid)
{
  return stiffness > LEAST_SPRING ? fmin(stiffness, rigid) : 0;
}

static BeamSpring spring_of(const SpanUnit *unit, int pin_roller)
{
  if (pin_roller)
    return (BeamSpring){.vertical = RIGID_N_MM};
  return (BeamSpring){.vertical = stiffness_in_reach(unit->spring.axial_n_mm, RIGID_N_MM),
                      .rotation =
                          stiffness_in_reach(unit->spring.rotation_n_mm_rad, RIGID_N_MM_RAD),
                      .lateral = stiffness_in_reach(unit->lateral_n_mm, RIGID_N_MM),
                      .lever = unit->lever};
}

Fault span_new(const SpanInput *input, int pin_roller, Span **result)
{
  Fault fault = input_check(input, pin_roller);
  if (fault)
    return fault;
  Span *span = calloc(1, sizeof *span);
  double start[SPAN_MAX_UNITS];
  if (!span)
    return FAULT_MEMORY;
  fault = beam_build(input, span, start);
  if (!fault)
    beam_assemble(&span->beam);
  bool slides = true;
  for (size_t i = 0; i < input->n_unit && !fault; i++) {
    if (!input->unit[i].supported)
      continue;
    Support *s = &span->support[span->n_support++];
    s->x = start[i] + input->unit[i].length / 2;
    s->spring = spring_of(&input->unit[i], pin_roller);
    slides = slides && !(s->spring.lateral > 0);
    beam_spring(&span->beam, node_at(&span->beam, s->x), &s->spring);
  }
  if (!fault && slides)
    beam_hold_axis(&span->beam);
  if (!fault)
    fault = beam_factor(&span->beam);
  for (size_t i = 0; i < span->n_support && !fault; i++)
    fault = support_shapes(span, &span->support[i]);
  if (fault) {
    span_free(span);
    return fault;
  }
  *result = span;
  return FAULT_NONE;
}

double span_length(const Span *span)
{
  return span->length;
}

double span_neck_x(const Span *span, size_t neck)
{
  return neck < span->n_neck ? span->neck_x[neck] : NAN;
}

/* Moment and shear at x from one force pressing down at `at`: what stands to the left of x. */
static void action_of(const Span *span, double at, double force, double x, double *moment,
                      double *shear)
{
  for (size_t i = 0; i < span->n_support; i++) {
    const Support *s = &span->support[i];
    if (s->x > x)
      continue;
    /* what a unit force down at `at` moves at the support is -shape(at): the springs answer the
     * other way */
    double answer[SHAPE_N];
    for (int k = 0; k < SHAPE_N; k++)
      answer[k] = s->shape[k] ? force * beam_shape(&span->beam, s->shape[k], at) : 0;
    double up = s->spring.vertical * answer[SHAPE_UP];
    double couple = s->spring.rotation * answer[SHAPE_TURN] +
                    s->spring.lateral * s->spring.lever * answer[SHAPE_ALONG];
    *shear += up;
    *moment += up * (x - s->x) - couple;
  }
  if (at < x) {
    *shear -= force;
    *moment -= force * (x - at);
  }
}

static Fault place_check(const Span *span, const SpanLoad load[], size_t n, double x)
{
  if (!(x >= 0 && x <= span->length) || n > SPAN_MAX_LOADS)
    return FAULT_RANGE;
  for (size_t i = 0; i < n; i++)
    if (!isfinite(load[i].force_n) || !(load[i].x >= 0 && load[i].x <= span->length))
      return FAULT_RANGE;
  return FAULT_NONE;
}

Fault span_action(const Span *span, const SpanLoad load[], size_t n, double x, double *moment_n_mm,
                  double *shear_n)
{
  Fault fault = place_check(span, load, n, x);
  if (fault)
    return fault;
  double moment = 0, shear = 0;
  for (size_t i = 0; i < n; i++)
    action_of(span, load[i].x, load[i].force_n, x, &moment, &shear);
  *moment_n_mm = moment;
  *shear_n = shear;
  return FAULT_NONE;
}

Fault span_deflection(const Span *span, const SpanLoad load[], size_t n, double x, double *down_mm)
{
  Fault fault = place_check(span, load, n, x);
  if (fault)
    return fault;
  double *f = calloc(3 * span->beam.n, sizeof *f);
  if (!f)
    return FAULT_MEMORY;
  for (size_t i = 0; i < n; i++)
    beam_force(&span->beam, load[i].x, -load[i].force_n, f);
  beam_solve(&span->beam, f);
  *down_mm = -beam_shape(&span->beam, f, x);
  free(f);
  return FAULT_NONE;
}

Fault span_influence(const Span *span, size_t neck, size_t n, double x[], double moment[],
                     double shear[])
{
  if (neck >= span->n_neck || n < 2)
    return FAULT_RANGE;
  for (size_t i = 0; i < n; i++) {
    x[i] = span->length * (double)i / (double)(n - 1);
    moment[i] = shear[i] = 0;
    action_of(span, x[i], 1, span->neck_x[neck], &moment[i], &shear[i]);
  }
  return FAULT_NONE;
}

Fault span_envelope(const Span *span, size_t neck, double force_n, SpanEnvelope *envelope)
{
  if (neck >= span->n_neck || !isfinite(force_n))
    return FAULT_RANGE;
  SpanEnvelope e = {0};
  e.x_max = e.x_min = span->neck_x[neck];
  for (int i = 0; i <= SWEEP + 1; i++) {
    /* the kink of the line lies over the neck itself: that place is always tried */
    double at = i <= SWEEP ? span->length * i / SWEEP : span->neck_x[neck], moment = 0, shear = 0;
    action_of(span, at, force_n, span->neck_x[neck], &moment, &shear);
    if (moment > e.moment_max) {
      e.moment_max = moment;
      e.shear_at_max = shear;
      e.x_max = at;
    }
    if (moment < e.moment_min) {
      e.moment_min = moment;
      e.shear_at_min = shear;
      e.x_min = at;
    }
    e.shear_abs = fmax(e.shear_abs, fabs(shear));
  }
  *envelope = e;
  return FAULT_NONE;
}
