/* chain.h - noisy points as the fewest straight legs and round corners that explain them.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm, angles rad, left turns positive.  A chain runs straight, turns on an arc, runs
 * straight, and so on, without kinks.  Internal to core/outline (stroke.c).  Method and limits:
 * core/SOURCES.md "stroke". */
#pragma once
#include "outline/outline.h"

#define CHAIN_CORNERS 10 /* at most */

typedef struct {
  double turn;   /* rad, |turn| < 2 pi                                   */
  double radius; /* >= 0                                                 */
  double leg;    /* straight way behind it, >= 0; of the last: to the end */
  double doubt;  /* standard error of the radius, mm                     */
} ChainCorner;

typedef struct {
  Point start;
  double heading; /* of the first leg */
  double leg;     /* its length       */
  ChainCorner corner[CHAIN_CORNERS];
  size_t n;
  double off; /* largest distance of a point from it */
} Chain;

/* Fits a chain to points in the order of the stroke.
 *   noise    in   standard deviation of the points across the line, > 0
 * FAULT_NO_CONVERGENCE when no chain explains the points as well as noise allows; FAULT_MEMORY.
 * Cost: n points, about 100 rounds of O(n) with a small matrix: milliseconds. */
MUST_CHECK Fault chain_fit(const Point p[], size_t n, double noise, Chain *chain);
/* No radius is made smaller than this: with such noise nobody can tell it from a sharp corner. */
double chain_sharpest(double noise);
/* Appends it: moves to the start when the outline is empty, else goes on from its last knot. */
MUST_CHECK Fault chain_outline(const Chain *chain, Outline *outline);
