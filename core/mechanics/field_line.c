/* field_line.c - see field_line.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "mechanics/field_line.h"

#define ON_LINE_MM 0.05 /* a node lies on its outline, but for the mesh's own chords */
#define MIDDLE_MM 1e-6  /* of z = 0 */
#define SAME_MM 1e-3    /* a place this near to a node is the node */

typedef struct {
  double t, way; /* place on the line, mm from the place asked for */
  const PeakCandidate *node;
} Neighbour;

/* The nodes next to t on either side, on the middle of the gum side. */
static void neighbours(const Field *field, const Outline *line, double t, Neighbour side[2])
{
  Point place = outline_at(line, t);
  side[0] = (Neighbour){-INFINITY, INFINITY, NULL};
  side[1] = (Neighbour){INFINITY, INFINITY, NULL};
  for (size_t i = 0; i < field->n_candidate; i++) {
    const PeakCandidate *node = &field->candidate[i];
    if ((node->zone != SURFACE_ROOF && node->zone != SURFACE_LEGS) || fabs(node->at.z) > MIDDLE_MM)
      continue;
    double away;
    Point at = point(node->at.x, node->at.y);
    double on = outline_nearest(line, at, &away);
    if (away > ON_LINE_MM)
      continue;
    Neighbour here = {on, point_distance(place, at), node};
    for (int k = 0; k < 2; k++) /* a node at the place itself is both */
      if (here.way <= SAME_MM || (k ? on >= t && on < side[k].t : on <= t && on > side[k].t))
        side[k] = here;
    if (here.way <= SAME_MM)
      return;
  }
}

static void node_stress(const PeakCandidate *node, NeckLoad load, double s[6])
{
  PeakCandidate at = *node; /* stress_combine takes plain arrays */
  double other[6];
  stress_combine(at.direct, at.odd, load, s);
  stress_combine(at.extrapolated, at.odd, load, other);
  for (int i = 0; i < 6; i++)
    s[i] = (s[i] + other[i]) / 2;
}

static double ruling(const double s[6])
{
  double first = stress_first(s), third = stress_third(s);
  return first >= -third ? first : third;
}

Fault field_stress_at(const Field *field, NeckLoad load, const Outline *line, double t, Banded *mpa)
{
  Peak peak;
  Fault fault = field_peak(field, load, &peak);
  if (fault)
    return fault;
  if (!isfinite(t))
    return FAULT_NOT_FINITE;
  Neighbour side[2];
  neighbours(field, line, t, side);
  if (!side[0].node || !side[1].node)
    return FAULT_RANGE;
  double a[6], b[6], s[6], both = side[0].way + side[1].way, w = both > 0 ? side[0].way / both : 0;
  node_stress(side[0].node, load, a);
  node_stress(side[1].node, load, b);
  for (int i = 0; i < 6; i++)
    s[i] = (1 - w) * a[i] + w * b[i];
  double first = stress_first(s), third = stress_third(s),
         half =
             peak.band_percent / 100 * fabs(peak.mpa) + w * (1 - w) * fabs(ruling(a) - ruling(b));
  *mpa = banded(ruling(s), ruling(s) - half, ruling(s) + half);
  if (fabs(first + third) < 2 * half) /* which of the two rules is not sure */
    *mpa = banded(ruling(s), third - half, first + half);
  return FAULT_NONE;
}
