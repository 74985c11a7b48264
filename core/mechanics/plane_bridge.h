/* plane_bridge.h - the whole bridge in plane stress on its supports.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, N mm, MPa.  x along the arch from the far end of the first unit, y up; M > 0 stretches the
 * gum side.  One mesh of all units and connectors, thickness along the ribs, the softer stump
 * inside each abutment; supports are springs on the stump's foot, put in by their flexibility, so
 * that a moved load needs one back-substitution.  Source: core/SOURCES.md "whole bridge". */
#pragma once
#include "mechanics/field.h"
#include "mechanics/loft.h"
#include "mechanics/span.h"

typedef struct {
  double x0, x1, low, high; /* along the span; levels of gum side and biting side             */
  bool supported;
  SpanSpring spring;
  double lateral_n_mm, lever; /* spring along the arch, so far below the middle of the crown   */
  double stump_mpa;           /* supported: modulus of the stump inside the crown, > 0         */
} BridgeUnit;

typedef struct {
  double neck_x;     /* along the span: where x = 0 of the outlines lies                    */
  LoftInput outline; /* borrowed during bridge_plane_new only                               */
} BridgeNeck;

typedef struct {
  size_t n_unit; /* 2 .. SPAN_MAX_UNITS                                                */
  BridgeUnit unit[SPAN_MAX_UNITS];
  BridgeNeck neck[SPAN_MAX_UNITS - 1];
  double young_mpa, poisson;
  double fineness; /* elements a roof radius, 2 .. 40                                    */
} BridgeInput;
#define BRIDGE_FINENESS 3.0
#define STUMP_DENTINE_MPA 18000.0   /* core/SOURCES.md "whole bridge" */
#define STUMP_TITANIUM_MPA 110000.0 /* post of an implant              */
#define BRIDGE_PRESS_MM 0.8         /* half width of the place a load is pressed on */

typedef struct BridgePlane BridgePlane; /* one thread at a time */
/* Mesh, factor, supports.  FAULT_SUPPORT when nothing holds it; FAULT_RANGE, FAULT_NO_NECK,
 * FAULT_CROSSING, FAULT_MESH with *where along the span (NaN: nowhere in particular). */
MUST_CHECK Fault bridge_plane_new(const BridgeInput *input, BridgePlane **bridge, Point *where);
void bridge_plane_free(BridgePlane *bridge); /* accepts NULL */

/* Presses the loads on the biting edge.  Fills the stress of the sheet. */
MUST_CHECK Fault bridge_plane_load(BridgePlane *bridge, const SpanLoad load[], size_t n);

/* Of the last load.  The sheet's stress stands under UNIT_BEND, MPa; UNIT_SHEAR is nil: shade with
 * NeckLoad {1, 0}.  Borrowed, until the next call. */
const FieldSheet *bridge_plane_sheet(const BridgePlane *bridge);
/* Loads and reactions alone, no stress: what bridge_plane_action then reads.  By the reciprocity of
 * Maxwell and Betti no equations are solved, so a whole influence line costs little. */
MUST_CHECK Fault bridge_plane_press(BridgePlane *bridge, const SpanLoad load[], size_t n);
/* Moment and shear at an upright cut, by statics from loads and reactions left of it; axis_y is the
 * level that the moment is taken about.  Of the last load or press. */
void bridge_plane_action(const BridgePlane *bridge, double x, double axis_y, double *moment_n_mm,
                         double *shear_n);
size_t bridge_plane_nodes(const BridgePlane *bridge);
