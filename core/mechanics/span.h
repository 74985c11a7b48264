/* span.h - the whole bridge as a beam on springs.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, N mm, MPa.  x along the arch from the far end of the first unit; y up; z towards the
 * cheek.  Timoshenko beam of variable section with limited spread away from the necks; abutments on
 * springs; springs along the arch below the axis add the thrust of an arch.  M > 0 stretches the
 * gum side; V at x is the sum of upward forces to the left: dM/dx = V; all signs in neck_load.h. A
 * flat span (straight, pressed straight down) bends in the elevation only; a bowed one, or one that
 * is pressed sideways, is a beam in space.  Sources: core/SOURCES.md "span", "span in space".
 */
#pragma once
#include "base/fault.h"
#include "mechanics/neck_load.h"
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
  /* in space only */
  double i_y, torsion;   /* bending in the plan; Saint-Venant's constant                   */
  double cheek_n_mm;     /* spring towards cheek and tongue, at the lever as well           */
  double twist_n_mm_rad; /* about the line of the arch                                      */
  double yaw_n_mm_rad;   /* about the axis of the tooth; 0 = free                           */
  double edge;           /* biting edge above the axis of the beam                          */
} SpanUnit;

typedef struct {
  double area, i_z, shear_factor; /* neck section                                      */
  double height;                  /* neck height                                       */
  double body_height;             /* height that the spread may reach                  */
  double half_length;             /* half length of the notch along x (mouth half-width) */
  double i_y, torsion;            /* in space only                                        */
  double rise; /* centroid of the neck above the axis of the beam: torsion is about it    */
} SpanNeck;

typedef struct {
  size_t n_unit;
  SpanUnit unit[SPAN_MAX_UNITS];
  SpanNeck neck[SPAN_MAX_UNITS - 1];
  double young_mpa, poisson;
  bool space;       /* a beam in space; else flat: bow and sideways loads are refused     */
  double turn_1_mm; /* the arch turns by so much a mm, bulging towards the cheek: 1 over
                       its radius; 0 = straight                                          */
} SpanInput;

/* 1 / radius of the arc of which the middles at[0 .. n-1] (along the arc, rising) lie bow beside
 * the line between its first and last, at most.  FAULT_RANGE beyond a half circle or below zero. */
MUST_CHECK Fault span_turn_of_bow(const double at[], size_t n, double bow, double *turn_1_mm);

typedef struct Span Span; /* factored; immutable; shareable */
/* pin_roller: ignore the spring values: every support a hinge that does not sink (the envelope on
 * the safe side). */
MUST_CHECK Fault span_new(const SpanInput *input, int pin_roller, Span **span);
void span_free(Span *span);
double span_length(const Span *span);
double span_neck_x(const Span *span, size_t neck);

typedef struct {
  double x, force_n; /* force_n > 0 presses down (toward the gum)                         */
  double cheek_n;    /* > 0 pushes the biting edge towards the cheek; space only          */
} SpanLoad;

/* What the beam carries at any place under loads; about the neck's centroid where x is a neck.
 * FAULT_RANGE: a place off the bridge, or a sideways load on a flat span. */
MUST_CHECK Fault span_action(const Span *span, const SpanLoad load[], size_t n, double x,
                             NeckLoad *action);
typedef struct {
  double down_mm, cheek_mm, twist_rad;
} SpanMove;
MUST_CHECK Fault span_deflection(const Span *span, const SpanLoad load[], size_t n, double x,
                                 SpanMove *move);
/* Influence line of a neck: moment and shear there for 1 N at n even places from 0 to length. */
MUST_CHECK Fault span_influence(const Span *span, size_t neck, size_t n, double x[],
                                double moment[], double shear[]);

/* What a neck may carry, and where the load stands for it. */
typedef struct {
  NeckLoad load;
  double x;
  size_t load_case; /* whose it is: the caller's number */
} SpanExtreme;
#define SPAN_EXTREMES 6 /* of one swept load */
#define SPAN_LOAD_CASES 12
typedef struct {
  size_t n;
  SpanExtreme at[SPAN_EXTREMES * (SPAN_LOAD_CASES + 1)];
} SpanEnvelope;
/* One load swept along the biting edge, its extremes numbered load_case and put behind what is
 * there: the most (>= 0) and the least (<= 0) bending in the elevation, each with what goes with
 * it; in space bending in the plan and twist alike. */
MUST_CHECK Fault span_sweep(const Span *span, size_t neck, double force_n, double cheek_n,
                            size_t load_case, SpanEnvelope *envelope);
/* The same for loads that stand still: one extreme. */
MUST_CHECK Fault span_stand(const Span *span, size_t neck, const SpanLoad load[], size_t n,
                            size_t load_case, SpanEnvelope *envelope);
