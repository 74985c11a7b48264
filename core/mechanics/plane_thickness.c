/* plane_thickness.c - thickness by rib or by upright line.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "plane_thickness.h"
#include "base/tolerance.h"

#define PLAN_STEPS 48 /* samples of a plan outline's piece */

static double width_by_rib(const Thickness *t, Point at)
{
  double neck = (rib_x(&t->rib[0][0], t->y0, at.y) + rib_x(&t->rib[1][0], t->y0, at.y)) / 2;
  int side = at.x >= neck;
  double sign = side ? 1 : -1;
  const Rib *rib = t->rib[side];
  int low = 0, high = THICKNESS_RIBS - 1;
  while (high - low > 1) {
    int middle = (low + high) / 2;
    if (sign * (at.x - rib_x(&rib[middle], t->y0, at.y)) >= 0)
      low = middle;
    else
      high = middle;
  }
  double a = rib_x(&rib[low], t->y0, at.y), b = rib_x(&rib[high], t->y0, at.y);
  double share = fabs(b - a) > TOL_POINT_MM ? (at.x - a) / (b - a) : 0;
  share = fmin(1, fmax(0, share));
  double thin = rib[low].buccal + rib[low].lingual, thick = rib[high].buccal + rib[high].lingual;
  return thin + share * (thick - thin);
}

double thickness_at(Point at, const void *thickness)
{
  const Thickness *t = thickness;
  if (t->by_rib)
    return width_by_rib(t, at);
  double place = (at.x - t->x0) / (t->x1 - t->x0) * THICKNESS_STEPS;
  place = fmin(fmax(place, 0), THICKNESS_STEPS);
  int i = (int)fmin(place, THICKNESS_STEPS - 1);
  return t->width[i] + (place - i) * (t->width[i + 1] - t->width[i]);
}

/* Narrowest half width of a plan outline at each upright line. */
static void half_widths(const Outline *plan, const Thickness *t, double half[])
{
  double step = (t->x1 - t->x0) / THICKNESS_STEPS;
  for (int i = 0; i <= THICKNESS_STEPS; i++)
    half[i] = INFINITY;
  size_t n = PLAN_STEPS * outline_pieces(plan);
  Point a = outline_at(plan, 0);
  for (size_t k = 1; k <= n; k++) {
    Point b = outline_at(plan, (double)k / PLAN_STEPS);
    double low = fmin(a.x, b.x), high = fmax(a.x, b.x);
    double first = fmax(0, ceil((low - t->x0) / step - 1e-9)),
           last = fmin(THICKNESS_STEPS, floor((high - t->x0) / step + 1e-9));
    for (int i = (int)first; i <= (int)last; i++) {
      double x = t->x0 + step * i;
      double share = fabs(b.x - a.x) > TOL_POINT_MM ? (x - a.x) / (b.x - a.x) : 0;
      half[i] = fmin(half[i], fabs(a.y + fmin(1, fmax(0, share)) * (b.y - a.y)));
    }
    a = b;
  }
}

Fault thickness_make(Thickness *t, const LoftInput *input, const Loft *loft, double x0, double x1)
{
  t->by_rib = loft != NULL;
  t->x0 = x0, t->x1 = x1;
  if (loft) {
    t->y0 = loft_y0(loft);
    for (int side = 0; side < 2; side++)
      for (int i = 0; i < THICKNESS_RIBS; i++)
        t->rib[side][i] = loft_rib(loft, side ? 1 : -1, 3.0 * i / (THICKNESS_RIBS - 1));
    return FAULT_NONE;
  }
  double buccal[THICKNESS_STEPS + 1], lingual[THICKNESS_STEPS + 1], last = NAN;
  half_widths(input->buccal, t, buccal);
  half_widths(input->lingual, t, lingual);
  for (int i = 0; i <= THICKNESS_STEPS; i++) { /* beyond a plan outline's end: its last width */
    double width = buccal[i] + lingual[i];
    if (isfinite(width)) {
      for (int k = i - 1; k >= 0 && isnan(last); k--)
        t->width[k] = width;
      last = width;
    }
    t->width[i] = last;
  }
  for (int i = 0; i <= THICKNESS_STEPS; i++)
    if (!(t->width[i] > MIN_NECK_MM))
      return FAULT_NO_NECK;
  return FAULT_NONE;
}
