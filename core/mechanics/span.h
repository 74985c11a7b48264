/* span.h - the whole bridge as a beam on springs.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, N mm, MPa.  x along the arch from the far end of the first unit; y up.  Timoshenko beam of
 * variable section with limited spread away from the necks; abutments on vertical and rotational
 * springs; springs along the arch below the axis add the thrust of an arch.  M > 0 stretches the
 * gum side; V at x is the sum of upward forces to the left: dM/dx = V.  Source: core/SOURCES.md
 * "span". */
#pragma once
#include "base/fault.h"
#include <stddef.h>

#define SPAN_MAX_UNITS 16
#define SPAN_MAX_LOADS 16

typedef struct {
  double axial_n_mm;        /* vertical spring, N/mm; INFINITY = rigid                */
  double rotation_n_mm_rad; /* N mm/rad; 0 = hinge, INFINITY = clamped                */
} SpanSpring;

typedef struct {
  double length;       /* along the arch                                         */
  double area, i_z;    /* section of the body of the unit                        */
  double shear_factor; /* Timoshenko kappa of it, about 0.85                     */
  int supported;       /* 1 = spring at the middle of the unit                   */
  SpanSpring spring;
  double lateral_n_mm; /* spring along the arch, N/mm; 0 = free to slide                 */
  double lever;        /* how far below the axis of the beam it holds, mm                */
} SpanUnit;

typedef struct {
  double area, i_z, shear_factor; /* neck section                                      */
  double height;                  /* neck height                                       */
  double body_height;             /* height that the spread may reach                  */
  double half_length;             /* half length of the notch along x (mouth half-width) */
} SpanNeck;

typedef struct {
  size_t n_unit;
  SpanUnit unit[SPAN_MAX_UNITS];
  SpanNeck neck[SPAN_MAX_UNITS - 1];
  double young_mpa, poisson;
} SpanInput;

typedef struct Span Span; /* factored; immutable; shareable */
/* pin_roller: ignore the spring values: every support a hinge that does not sink (the envelope on
 * the safe side). */
MUST_CHECK Fault span_new(const SpanInput *input, int pin_roller, Span **span);
void span_free(Span *span);
double span_length(const Span *span);
double span_neck_x(const Span *span, size_t neck);

typedef struct {
  double x, force_n; /* force_n > 0 presses down (toward the gum) */
} SpanLoad;

/* Moment and shear at any place under loads. */
MUST_CHECK Fault span_action(const Span *span, const SpanLoad load[], size_t n, double x,
                             double *moment_n_mm, double *shear_n);
MUST_CHECK Fault span_deflection(const Span *span, const SpanLoad load[], size_t n, double x,
                                 double *down_mm);
/* Influence line of a neck: moment and shear there for 1 N at n even places from 0 to length. */
MUST_CHECK Fault span_influence(const Span *span, size_t neck, size_t n, double x[],
                                double moment[], double shear[]);

typedef struct {
  double moment_max, shear_at_max, x_max; /* most gum-side tension, load at x_max       */
  double moment_min, shear_at_min, x_min; /* most biting-side tension (<= 0)            */
  double shear_abs;                       /* largest |V|                                */
} SpanEnvelope;
/* One force swept along the biting edge. */
MUST_CHECK Fault span_envelope(const Span *span, size_t neck, double force_n,
                               SpanEnvelope *envelope);
