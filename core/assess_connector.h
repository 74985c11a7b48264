/* assess_connector.h - one connector: its shape into a field, the field into margin and chance.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/assess*.c.  mm, N, MPa. */
#pragma once
#include "assess.h"
#include "mechanics/plane.h"
#include "mechanics/solid.h"

/* What a field depends on: nothing else changes it. */
typedef struct {
  const Outline *side[SIDE_N]; /* borrowed */
  double roundness_neck, roundness_body;
  const Outline *section; /* drawn, borrowed; NULL: by roundness */
  double young_mpa, poisson;
  double neck_x;
  SolidGrade grade;
  bool space;    /* sideways bending and twist are wanted as well */
  bool compared; /* with bodies alike: solved by the solid where it can, however wide its band */
  bool bare;     /* nobody will draw it: no sheets */
  int mirrored;  /* -1, 1: this side of the neck stands for both; 0: both as drawn */
} Body;

typedef struct { /* one thread's buffers */
  SolidWork *solid;
  PlaneWork *plane;
  bool (*cancelled)(void *data);
  void *cancel_data;
} Solver;
MUST_CHECK Fault solver_init(Solver *solver);
void solver_clear(Solver *solver);

Body body_of(const Case *c, size_t connector, double neck_x, SolidGrade grade);

/* *averaged: buccal and lingual were averaged. */
MUST_CHECK Fault body_solve(Solver *solver, const Body *body, Field **field, bool *averaged,
                            Point *where);

/* Scales of the surface zones, low / best / high, MPa mm^(2/m). */
typedef struct {
  double low[SURFACE_N], best[SURFACE_N], high[SURFACE_N];
  double modulus;
} Scales;
Scales scales_of(const Material *material, const ZoneSurface surface[ZONE_NECK_N]);
/* Whether the card says enough to judge by. */
bool scales_usable(const Scales *scales);

/* Load factor at which 5 of 100 would break, with the band of surface and field. */
Banded margin_of(const Field *field, const Peak *peak, NeckLoad load, const Scales *scales);

/* The governing load of a connector at the order's force: the worst of the envelope. */
typedef struct {
  NeckLoad load;
  double x;
  size_t load_case;
  Peak peak;
  Banded margin;
  Answer answer; /* of the field it was found in */
} Governing;
MUST_CHECK Fault governing_find(const Field *field, const SpanEnvelope *envelope,
                                const Scales *scales, Governing *governing);

/* Readings that need no field: form, neck section, limits, cutter. */
MUST_CHECK Fault connector_read(const Case *c, size_t connector, ConnectorAssessment *out);
/* Everything that needs the field: at the order's load, and at the trial load. */
MUST_CHECK Fault connector_judge(const Case *c, size_t connector, const Span *span, const Span *pin,
                                 ConnectorAssessment *out);
MUST_CHECK Fault connector_judge_trial(const Case *c, size_t connector, NeckLoad trial,
                                       ConnectorAssessment *out);
