/* trace.h - the outlines of one connector, taken off a surface.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Frame of a connector: x = 0 the neck plane, y up from the mean of the lowest places on both
 * sides (where the units come down to the gum), z = 0 the middle of the neck, cheek > 0.  Outlines
 * run from small to large x.  Method and limits: core/SOURCES.md "surfaces". */
#pragma once
#include "mesh/neck.h"
#include "outline/outline.h"

#define TRACE_TOLERANCE_MM                                                                         \
  0.03 /* a drawn line stays this near to the surface's own; own choice                            \
        */
#define TRACE_NOTES 6

typedef struct {
  double reach[2];     /* how far to both sides of the neck, mm, 1 .. 30                        */
  double tolerance_mm; /* 0.005 .. 0.2                                                          */
  double bridge_mm;    /* gaps of the section up to this are closed with a straight line        */
} TraceSettings;

typedef struct {
  Outline gingival, occlusal, buccal, lingual; /* owned; highest and lowest, outermost places */
  Outline section; /* owned; closed, Point.x = z, counter-clockwise; n = 0 when it cannot be used */
  double worst_mm; /* farthest that the surface's own line lies from a drawn one               */
  double roof_turn; /* largest turn at one corner of the triangles near the sharpest place of the
                       roof, rad: how coarse they are there                                   */
  double area;      /* of the section's outer line as cut, mm^2                                 */
  double height, width;
  MeshFrame frame; /* of the outlines                                                          */
  Phrase note[TRACE_NOTES];
  size_t n_note;
} Trace;

void trace_init(Trace *trace);
void trace_clear(Trace *trace); /* accepts NULL and cleared ones */
/* How far to both sides: half way to the next neck, or the middle of the last unit. */
void trace_reach(const MeshSpan *span, size_t neck, double reach[2]);
/* FAULT_RANGE for the settings; FAULT_NO_NECK where the plane meets nothing; FAULT_CROSSING or
 * FAULT_MESH never: a section that crosses itself or stays open is left out, with a note that names
 * a triangle; the outlines are still there. */
MUST_CHECK Fault trace_connector(const Mesh *mesh, const Neck *neck, const TraceSettings *settings,
                                 const MeshWatch *watch, Trace *trace);
