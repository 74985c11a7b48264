/* approval.c - the outlines that the supervisor has seen, and how far a drawing has left them.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  An approval holds only for the shape that was seen: proposed outlines are kept as well. */
#include "casefile/case.h"

#define CHORD_MM 0.005 /* between the points that are compared */

Fault case_approve(Case *c)
{
  Fault fault = case_complete(c);
  for (size_t i = 0; i + 1 < c->n_unit && !fault; i++)
    for (int side = 0; side < SIDE_N && !fault; side++)
      fault = outline_copy(&c->connector[i].approved[side], &c->connector[i].side[side]);
  return fault;
}

/* The largest distance of points of `from` to `to`; NaN without memory. */
static double distance_one_way(const Outline *from, const Outline *to, double enough_mm)
{
  Polyline line = {0};
  if (outline_flatten(from, CHORD_MM, &line))
    return NAN;
  double most = 0;
  for (size_t i = 0; i < line.n && most <= enough_mm; i++) {
    double distance;
    outline_nearest(to, line.at[i], &distance);
    most = fmax(most, distance);
  }
  polyline_clear(&line);
  return most;
}

double connector_changed(const Connector *connector, double enough_mm)
{
  double most = NAN;
  for (int side = 0; side < SIDE_N && !(most > enough_mm); side++) {
    const Outline *now = &connector->side[side], *seen = &connector->approved[side];
    if (now->n < 2 || seen->n < 2)
      continue;
    if (outline_equal(now, seen, CHORD_MM)) {
      most = fmax(most, 0);
      continue;
    }
    double there = distance_one_way(now, seen, enough_mm);
    most =
        fmax(most, there > enough_mm ? there : fmax(there, distance_one_way(seen, now, enough_mm)));
  }
  return most;
}
