/* stroke_tremor.c - a stroke of a hand that trembles slowly: the line that it trembles about.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Neighbouring points of a slow tremor lie off together, so it is no noise to the fit
 * and would be followed as a row of notches.  It is told from a shape by what a line does that
 * follows it: it turns to and fro many times more often than legs and arcs that explain the points
 * inside the band. */
#include "outline/chain.h"
#include "outline/stroke_parts.h"
#include "outline/turning.h"
#include <stdlib.h>

#define LOUDEST 1     /* share of the band that a tremor is taken to scatter by: first ... */
#define QUIETEST 0.25 /* ... in steps of this, and at least                              */
#define OWN_MM 0.15   /* means over this length: the pen's own noise is mostly gone        */
#define OUTSIDE 0.1   /* share of the means that may lie outside the band                  */
#define TURNS 4       /* more turns to and fro than the legs and arcs have                 */
#define TURN (8 * M_PI / 180) /* a smaller one does not count                              */

/* How often the line turns back by TURN or more. */
static Fault turns_of(const Outline *line, size_t *turns)
{
  Turning turning = {0};
  Fault fault = turning_of(line, false, &turning);
  *turns = 0;
  if (fault)
    return fault;
  double high = turning.place[0].theta, low = high;
  int side = 0; /* of the turn at hand */
  for (size_t i = 0; i < turning.n; i++) {
    double theta = turning.place[i].theta;
    bool left = side <= 0 && theta > low + TURN, right = side >= 0 && theta < high - TURN;
    if (left || right) {
      side = left ? 1 : -1;
      *turns += 1;
      low = high = theta;
    }
    low = fmin(low, theta);
    high = fmax(high, theta);
  }
  turning_clear(&turning);
  return FAULT_NONE;
}

/* Share of the means over OWN_MM that lie outside of the band about the line; off[n + 1]. */
static double outside(const Point p[], size_t n, const Outline *line, double band, double off[])
{
  size_t reach = (size_t)(OWN_MM / 2 * (double)n / fmax(outline_length(line), OWN_MM)),
         wide = 2 * reach + 1, count = 0;
  off[0] = 0;
  for (size_t i = 0; i < n; i++) { /* running sums */
    Point along;
    double t = outline_nearest(line, p[i], NULL);
    outline_derivatives(line, t, &along, NULL);
    off[i + 1] = off[i] + point_cross(along, point_sub(p[i], outline_at(line, t))) /
                              fmax(point_length(along), 1e-12);
  }
  for (size_t i = 0; i + wide <= n; i++)
    count += fabs(off[i + wide] - off[i]) > band * (double)wide;
  return wide <= n ? (double)count / (double)(n - wide + 1) : 1;
}

Fault stroke_tremor(const Point p[], size_t n, double noise, double band, Outline *followed,
                    double *worst)
{
  size_t turns;
  double *off = malloc((n + 1) * sizeof *off);
  Fault fault = off ? turns_of(followed, &turns) : FAULT_MEMORY;
  bool found = false;
  for (double loud = LOUDEST; loud >= QUIETEST && !fault && !found && turns > TURNS;
       loud -= QUIETEST) {
    Chain chain;
    Outline line = {0};
    size_t own = 0;
    if (loud * band <= noise)
      continue;
    fault = chain_fit(p, n, loud * band, &chain);
    if (!fault)
      fault = chain_outline(&chain, &line);
    if (!fault)
      fault = turns_of(&line, &own);
    if (!fault && turns >= own + TURNS && outside(p, n, &line, band, off) <= OUTSIDE) {
      found = true;
      outline_clear(followed);
      *followed = line;
      line = (Outline){0};
      *worst = chain.off;
    }
    outline_clear(&line);
    fault = fault == FAULT_NO_CONVERGENCE ? FAULT_NONE : fault;
  }
  free(off);
  return fault;
}
