/* solid_pattern.h - the quads of one section: a core and graded rings around it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to solid*.c.  Nodes are given by angle phi (0 gingival, pi occlusal, > 0 buccal) and
 * fraction f of the way from the middle to the surface.
 * Order: nodes from the gingival to the occlusal end; corners, and both kinds of nodes of an arm's
 * last layer, first the gingival end, then the occlusal one, then those between.  Equations
 * eliminated in this order leave zeros that cost nothing (solid_cut.h). */
#pragma once
#include "mechanics/loft.h"
#include <stdint.h>

#define PATTERN_CORE 0.5 /* the core reaches half way out */
#define PATTERN_NODES 900
#define PATTERN_QUADS 300
#define PATTERN_ANGLES 25 /* half steps around half a section, both ends: 2 * 3 * core + 1 */
#define PATTERN_RINGS 17  /* half steps through the rings, both ends                      */
#define PATTERN_CORNERS 400

/* The two ends share no quad: the nodes between keep them apart. */
typedef enum { END_LOW, END_HIGH, END_BETWEEN, END_N } PatternEnd;

/* A node that a layer owns: of its middle, or of its far section. */
typedef struct {
  int node; /* of the pattern */
  bool middle;
} LayerNode;

typedef struct {
  int core, rings; /* core x core quads in the middle of a half section, 3 core sectors */
  int nodes, quads, corners;
  double phi[PATTERN_NODES], f[PATTERN_NODES]; /* phi within its half, [0, pi]             */
  double ratio[PATTERN_NODES]; /* loft_section_ratio() of phi                              */
  double cosine[PATTERN_NODES], sine[PATTERN_NODES]; /* of phi */
  int twin[PATTERN_NODES]; /* an earlier node of the same angle (a corner for corners), or itself */
  int8_t half[PATTERN_NODES]; /* +1 buccal, -1 lingual, 0 on z = 0         */
  int corner[PATTERN_NODES];  /* index among the corners, or -1            */
  int corner_node[PATTERN_CORNERS];
  PatternEnd end[PATTERN_NODES];
  LayerNode last_order[PATTERN_NODES + PATTERN_CORNERS];
  int quad[PATTERN_QUADS][8];
  int8_t turn[PATTERN_QUADS];      /* orientation                                        */
  bool outer[PATTERN_QUADS];       /* edge 2-3 lies on the surface                       */
  int8_t line_edge[PATTERN_QUADS]; /* edge on z = 0 (from corner e to e + 1), or -1     */
  int grid[2][PATTERN_ANGLES][PATTERN_RINGS]; /* [lingual][angle][ring], or -1             */
} Pattern;

/* core x core quads, `rings` rings, the outermost ring as thick as asked at the gingival and at the
 * occlusal end (fractions of the way out); the lingual half too, or a half for its mirror image. */
void pattern_make(Pattern *pattern, const Loft *loft, int core, int rings, double outer_low,
                  double outer_high, bool both_halves);
