/* chain_parts.h - what chain.c and chain_find.c share: points, places, and the settling of a chain.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Internal to core/outline. */
#pragma once
#include "outline/chain.h"

#define CHAIN_NUMBERS (2 + 3 * CHAIN_CORNERS)
#define TURN_LEAST 0.01 /* rad */
#define FULL (2 * M_PI)

typedef struct {
  const Point *p; /* borrowed */
  size_t n;
  double noise;
  Point *mean;     /* n: means of neighbours */
  double *off;     /* n: distance to the left of the chain */
  double *way;     /* n + 1: running sums of the way along it */
  double sharpest; /* radius that can still be told, mm */
  size_t reach;    /* neighbours to each side that share a place */
} Cloud;

typedef struct {
  size_t part;
  Point q, d; /* place and direction there */
} Where;

/* Points with their means and room for their places; n > 0, noise > 0. */
MUST_CHECK Fault cloud_make(const Point p[], size_t n, double noise, Cloud *cloud);
void cloud_clear(Cloud *cloud); /* accepts cleared ones */

/* Where the parts of a chain lie. */
typedef struct {
  Point from[2 * CHAIN_CORNERS + 1]; /* start of leg, arc, leg ...     */
  Point along[2 * CHAIN_CORNERS + 1];
  Point centre[CHAIN_CORNERS];
} Course;

void chain_course(const Chain *chain, Course *course);
size_t chain_numbers(const Chain *chain); /* of a chain with that many corners, free to change */
/* Settles the chain on the points; where[n] and the cloud's distances are those of the result.
 * Returns the sum of squares, mm^2. */
double chain_settle(const Cloud *cloud, Chain *chain, Where where[], int rounds);
/* Standard errors of the radii of a settled chain. */
void chain_doubts(const Cloud *cloud, Chain *chain, const Where where[]);
/* What a settled chain costs, in variances: misfit (sum) and its numbers. */
double chain_cost(const Cloud *cloud, const Chain *chain, const Where where[], double sum);
/* Corner k and the next one become one arc; arc k becomes two with a leg between (one more corner:
 * at most CHAIN_CORNERS). */
Chain chain_joined(const Chain *chain, size_t k);
Chain chain_parted(const Chain *chain, size_t k);
