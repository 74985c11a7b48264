/* bar_break.c - see bar_break.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "strength/bar_break.h"
#include <math.h>

#define BELOW 0.1 /* of all breaks begin below the least share */

double bar_bending_share(const BarSetup *s, double x)
{
  double half = s->span / 2, inner = s->inner / 2, at = fabs(x);
  return at >= half ? 0 : at <= inner ? 1 : (half - at) / (half - inner);
}

/* Risk of all places whose share of the largest stress is below s, by (share)^m over the stretched
 * half: under the inner rollers the share falls with height alone, beside them also along. */
static double risk_below(double s, double inner, double flanks, double m)
{
  double n = m + 1;
  return s > 0 ? pow(s, n) * (inner / n + flanks * (1 / n - log(s)) / n) : 0;
}

double bar_break_least_share(const BarSetup *setup, double modulus)
{
  double inner = setup->inner, flanks = setup->span - setup->inner, low = 0, high = 1;
  double wanted = BELOW * risk_below(1, inner, flanks, modulus);
  for (int i = 0; i < 60; i++) {
    double middle = (low + high) / 2;
    if (risk_below(middle, inner, flanks, modulus) < wanted)
      low = middle;
    else
      high = middle;
  }
  return high;
}

Fault bar_break_check(const BarSetup *setup, const Bar *bar, Point found, double modulus,
                      const NotchedBar *notch, double notch_x, double times, BarBreak *result)
{
  double h = bar->thickness, mpa = bar_strength(setup, bar);
  if (setup->test == BAR_DISC || !(h > 0) || !(mpa > 0))
    return FAULT_RANGE;
  if (!isfinite(found.x) || !isfinite(found.y))
    return FAULT_NOT_FINITE;
  BarBreak b = {.x_low = -setup->inner / 2, .x_high = setup->inner / 2, .largest_mpa = mpa};
  double at_root = notch ? bar_bending_share(setup, notch_x) * times : 0;
  b.least_share = bar_break_least_share(setup, modulus > 0 ? modulus : BAR_BREAK_MODULUS);
  if (notch && notch->depth > 0 && at_root > 1) {
    b.at_notch = true;
    b.x_low = b.x_high = notch_x;
    b.y = notch->depth;
    b.largest_mpa *= at_root;
  }
  double beside = fmax(fmax(b.x_low - found.x, found.x - b.x_high), 0);
  b.distance = hypot(beside, found.y - b.y);
  if (b.at_notch) {
    b.share = NAN; /* beam theory does not hold there */
    b.hit = b.distance <= notch->radius + BAR_PLACE_MM;
  } else {
    b.share = bar_bending_share(setup, found.x) * fmax(1 - 2 * found.y / h, 0);
    double near = bar_bending_share(setup, fmax(fabs(found.x) - BAR_PLACE_MM, 0)) *
                  (1 - 2 * fmax(found.y - BAR_PLACE_MM, 0) / h);
    b.hit = near >= b.least_share;
  }
  *result = b;
  return FAULT_NONE;
}
