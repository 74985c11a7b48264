/* bars.c - strengths of test pieces, and what is wrong with those that cannot be used.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sources: core/SOURCES.md "bars". */
#include "strength/bars.h"
#include "strength/bar_stress.h"
#include "strength/weibull_fit.h"
#include <math.h>

#define LEAST_WIDTH_MM 0.5
#define MOST_WIDTH_MM 50.0
#define LEAST_THICKNESS_MM 0.2
#define MOST_THICKNESS_MM 20.0
#define LEAST_MPA 5.0
#define MOST_MPA 5000.0
/* A force reads like a strength when it is near the strength of the other bars ... */
#define LIKE_OTHERS 1.6
/* ... and its own strength is this many times theirs, which no bar is, or below this part of it,
 * which weak bars seldom are. */
#define ABOVE_OTHERS 2.5
#define BELOW_OTHERS 0.25
/* Without other bars: strengths of dental ceramics, and what none of them reaches. */
#define CERAMIC_LEAST_MPA 100.0
#define CERAMIC_MOST_MPA 2000.0
#define LEAST_FOR_OUTLIERS 8
#define MOST_OUTLIERS 10 /* at each end */

static double inner_share(BarTest test)
{
  return test == BAR_FOUR_POINT_QUARTER ? 1 / 2.0 : test == BAR_FOUR_POINT_THIRD ? 1 / 3.0 : 0;
}

BarSetup bar_setup_default(BarTest test)
{
  BarSetup setup = {test, 20, 20 * inner_share(test), 0.25};
  if (test == BAR_DISC)
    setup.span = 11, setup.inner = 1.4;
  return setup;
}

Fault bar_setup_check(const BarSetup *s)
{
  if (!isfinite(s->span) || !isfinite(s->inner) || !isfinite(s->poisson))
    return FAULT_NOT_FINITE;
  if ((unsigned)s->test > BAR_DISC || !(s->span >= 1 && s->span <= 200))
    return FAULT_RANGE;
  if (s->test == BAR_DISC)
    return s->inner >= 0.2 && s->inner < s->span && s->poisson >= 0 && s->poisson < 0.5
               ? FAULT_NONE
               : FAULT_RANGE;
  return fabs(s->inner - inner_share(s->test) * s->span) <= 0.1 * inner_share(s->test) * s->span
             ? FAULT_NONE
             : FAULT_RANGE;
}

double bar_strength(const BarSetup *s, const Bar *bar)
{
  if (s->test == BAR_DISC)
    return bar_stress_disc(bar->force_n, bar->thickness, s->poisson, s->span / 2, s->inner / 2,
                           bar->width / 2);
  return bar_stress_four_point(bar->force_n, s->span, s->inner, bar->width, bar->thickness);
}

static BarFault size_fault(const BarSetup *s, const Bar *bar)
{
  if (!(bar->force_n > 0 && isfinite(bar->force_n)))
    return BAR_FORCE;
  if (!(bar->width >= LEAST_WIDTH_MM && bar->width <= MOST_WIDTH_MM))
    return BAR_WIDTH;
  if (!(bar->thickness >= LEAST_THICKNESS_MM && bar->thickness <= MOST_THICKNESS_MM))
    return BAR_THICKNESS;
  double reach = s->test == BAR_DISC ? bar->width : bar->length;
  if (reach < s->span && (s->test == BAR_DISC || bar->length != 0))
    return BAR_SHORT;
  return bar->thickness > s->span / 2 ? BAR_STOUT : BAR_GOOD;
}

static bool like(double a, double b, double times)
{
  return a < b * times && b < a * times;
}

/* Strengths in MPa put in the column of forces: the force is near the strength of the others, its
 * own strength is not; or, where all are so, the force is a ceramic's strength and its own is none
 * of this world.  Where 1 N makes about 1 MPa nothing can be told. */
static bool looks_mpa(double force, double strength, double middle, size_t n)
{
  if (strength > MOST_MPA / 2)
    return force > CERAMIC_LEAST_MPA && force < CERAMIC_MOST_MPA;
  return n >= 3 && like(force, middle, LIKE_OTHERS) &&
         (strength > ABOVE_OTHERS * middle || strength < BELOW_OTHERS * middle);
}

size_t bars_strengths(const BarSetup *setup, const Bar bar[], size_t n, double work[],
                      double strength[], BarFault fault[])
{
  size_t sized = 0, good = 0;
  for (size_t i = 0; i < n; i++) {
    fault[i] = size_fault(setup, &bar[i]);
    strength[i] = fault[i] ? NAN : bar_strength(setup, &bar[i]);
    if (!fault[i])
      work[sized++] = strength[i];
  }
  if (sized)
    values_sort(work, sized);
  double middle = sized ? work[sized / 2] : NAN;
  for (size_t i = 0; i < n; i++) {
    if (!fault[i] && looks_mpa(bar[i].force_n, strength[i], middle, sized))
      fault[i] = BAR_LOOKS_MPA;
    else if (!fault[i] && !(strength[i] >= LEAST_MPA && strength[i] <= MOST_MPA))
      fault[i] = BAR_ABSURD;
    if (fault[i])
      strength[i] = NAN;
    else
      good++;
  }
  return good;
}

const char *bar_fault_name(BarFault fault)
{
  static const char *const name[BAR_FAULT_N] = {
      "", "force", "width", "thickness", "too-short", "too-thick", "looks-like-mpa", "absurd"};
  return (unsigned)fault < BAR_FAULT_N ? name[fault] : "";
}

Phrase bar_fault_phrase(BarFault fault, const BarSetup *s, const Bar *bar)
{
  double strength = bar_strength(s, bar);
  switch (fault) {
  case BAR_FORCE:
    return (Phrase){.text = N_("the force is {0.1} N; it must be above 0. Put in the force that "
                               "broke the bar."),
                    .value = {bar->force_n}};
  case BAR_WIDTH:
    return (Phrase){.text = s->test == BAR_DISC
                                ? N_("a diameter of {0.2} mm is no test disc. Diameters are in mm.")
                                : N_("a width of {0.2} mm is no test bar. Widths are in mm."),
                    .value = {bar->width}};
  case BAR_THICKNESS:
    return (Phrase){.text = N_("a thickness of {0.2} mm is no test piece. Thicknesses are in mm."),
                    .value = {bar->thickness}};
  case BAR_SHORT:
    return s->test == BAR_DISC
               ? (Phrase){.text = N_("the disc of {0.2} mm is smaller than its support circle of "
                                     "{1.2} mm. Look at both."),
                          .value = {bar->width, s->span}}
               : (Phrase){.text = N_("the bar of {0.2} mm is shorter than the span of {1.2} mm. "
                                     "Look at both."),
                          .value = {bar->length, s->span}};
  case BAR_STOUT:
    return (Phrase){.text = N_("{0.2} mm are too thick for a span of {1.2} mm: at most half of it. "
                               "Look at both."),
                    .value = {bar->thickness, s->span}};
  case BAR_LOOKS_MPA:
    return (Phrase){.text = N_("{0.1} looks like a strength in MPa, not a force in N: as a force "
                               "it would make {1} MPa. Put in the force."),
                    .value = {bar->force_n, strength}};
  case BAR_ABSURD:
    return (Phrase){.text = N_("{0.1} N would make {1} MPa: no ceramic has that. Look at the force "
                               "and the sizes."),
                    .value = {bar->force_n, strength}};
  case BAR_GOOD:
  case BAR_FAULT_N:
  default:
    return (Phrase){.text = NULL};
  }
}

/* --- outliers --- */

/* How small the chance of so far an end must be, as -ln: sound sets of n bars are troubled once in
 * 100.  A fit of few bars knows the far ends badly, the strong end least: fitted to our own
 * simulation of 20 000 sets of 8 to 300 bars. */
static double outlier_needs(size_t n_bar, bool high)
{
  double n = (double)n_bar;
  return high ? 5.3 + 150 / n + 60000 / (n * n * n) : 5.2 + 50 / n;
}

/* Of n rising logarithms, how many of the lowest (or, mirrored, of the highest) are out of line. */
static size_t ends_out(const double l[], size_t n, bool high)
{
  size_t out = 0;
  for (size_t k = 1; k <= n / 5 && k <= MOST_OUTLIERS; k++) {
    size_t rest = n - k;
    const double *others = high ? l : l + k;
    WeibullPair fit;
    if (weibull_fit_logs(others, rest, 1e-9, &fit))
      return out;
    /* the innermost of the k, as the outermost of rest + 1 bars; logarithms: chances below 1e-300
     */
    double z = exp(fit.modulus * (l[high ? rest : k - 1] - fit.log_scale));
    double beyond = high ? -z : log(-expm1(-z));
    if (beyond + log((double)(rest + 1)) < -outlier_needs(n, high))
      out = k;
  }
  return out;
}

Fault bars_outliers(const double strength[], size_t n, double work[], bool outlier[])
{
  for (size_t i = 0; i < n; i++) {
    if (!(strength[i] > 0 && isfinite(strength[i])))
      return FAULT_RANGE;
    outlier[i] = false;
    work[i] = log(strength[i]);
  }
  if (n < LEAST_FOR_OUTLIERS)
    return FAULT_NONE;
  values_sort(work, n);
  size_t low = ends_out(work, n, false), high = ends_out(work, n, true);
  double least = work[low], most = work[n - 1 - high];
  for (size_t i = 0; i < n; i++)
    outlier[i] = log(strength[i]) < least || log(strength[i]) > most;
  return FAULT_NONE;
}
