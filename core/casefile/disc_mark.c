/* disc_mark.c - how deep a disc has cut into the gum side, by the drawing and by the gauge.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, y up. */
#include "casefile/case.h"

#define BESIDE_MM                                                                                  \
  0.3             /* from the middle of a mark to sound surface: discs are thinner than 0.6 mm */
#define STEPS 500 /* of the search along the outline */

/* The highest place of the outline within `reach` of x; NaN if there is none. */
static double highest(const Outline *gum, double x, double reach)
{
  double high = NAN, last = (double)outline_pieces(gum);
  for (int i = 0; i <= STEPS; i++) {
    Point p = outline_at(gum, last * i / STEPS);
    if (fabs(p.x - x) <= reach)
      high = fmax(high, p.y);
  }
  return high;
}

/* The outline's height at x, between two places of the search. */
static double height_at(const Outline *gum, double x)
{
  double high = NAN, last = (double)outline_pieces(gum);
  Point before = outline_at(gum, 0);
  for (int i = 1; i <= STEPS; i++) {
    Point p = outline_at(gum, last * i / STEPS);
    if (p.x != before.x && (before.x - x) * (p.x - x) <= 0)
      high = fmax(high, before.y + (p.y - before.y) * (x - before.x) / (p.x - before.x));
    before = p;
  }
  return high;
}

double connector_mark_bottom(const Connector *connector)
{
  const Outline *gum = &connector->side[SIDE_GINGIVAL];
  double bottom = NAN;
  if (gum->n < 2)
    return NAN;
  double roof = highest(gum, 0, INFINITY);
  if (connector->finish[ZONE_ROOF] == FINISH_DISC_CUT ||
      connector->finish[ZONE_LEGS] == FINISH_DISC_CUT)
    bottom = roof; /* as drawn: the mark reaches the roof, or is no higher */
  for (guint i = 0; i < connector->event->len; i++) {
    const SurfaceEvent *event = &g_array_index(connector->event, SurfaceEvent, i);
    if (event->kind != EVENT_DISC)
      continue;
    double x = event->at_x;
    bool placed = isfinite(x);
    double drawn = placed ? highest(gum, x, BESIDE_MM / 2) : roof;
    double sound =
        placed ? (height_at(gum, x - BESIDE_MM) + height_at(gum, x + BESIDE_MM)) / 2 : roof;
    bottom = fmax(bottom, fmax(drawn, sound + event->depth));
  }
  return bottom;
}
