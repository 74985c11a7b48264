/* service.c - slow crack growth over years, as a factor on the strength of the bars.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Equal damage: a bar pulled up to its strength in TEST_S at an even rate spends as much of its
 * flaw as TEST_S / (n + 1) at the full stress; a chewing cycle of period T spends T g(n). */
#include "strength/service.h"
#include "base/phrase.h"
#include "strength/crack.h"
#include <math.h>

#define TEST_S 10.0      /* a bar test lasts 5 to 15 s                               */
#define BITE_S (1 / 1.4) /* period of a chewing cycle                                */
#define DAYS_A_YEAR 365.25
#define BITES_SPREAD 3.0 /* habits differ by as much either way                      */
#define LEAST_EXPONENT 2.0
/* K_I0 of 3Y is 3.1 to 3.5 where K_Ic is 5.5; the card's K_Ic of 5.0 is from elsewhere: the share
 * is taken as in the papers that gave the threshold, the safe side */
#define THRESHOLD_PART 0.91
#define THRESHOLD_LOW 0.85
#define THRESHOLD_HIGH 0.97

static const char exponent_other[] =
    N_("n of this class not known: range of dental frameworks, read; no threshold counted on");
static const char bites_habit[] =
    N_("1.2 million bites stand for five years in chewing machines: common practice, no source");

static const char *source_of(const Material *m, CardFigure figure)
{
  return m->of[figure].source[0] ? m->of[figure].source : m->source;
}

Growth growth_of(const Material *m)
{
  Growth growth = {{25, 19, 36, exponent_other}, {0, 0, 0, exponent_other}};
  if (m->growth_n > 0 && m->growth_low > 0 && m->growth_high > 0)
    growth.exponent =
        (Range){m->growth_n, m->growth_low, m->growth_high, source_of(m, FIGURE_GROWTH)};
  double share = m->threshold / m->toughness;
  if (share > 0 && share < 1) /* the two come from different papers */
    growth.threshold = (Range){THRESHOLD_PART * share, THRESHOLD_LOW * share,
                               THRESHOLD_HIGH * share, source_of(m, FIGURE_THRESHOLD)};
  return growth;
}

Range service_bites(const Service *s)
{
  double bites = s->bites_a_day * DAYS_A_YEAR * s->years;
  return (Range){bites, bites / BITES_SPREAD, bites * BITES_SPREAD, bites_habit};
}

double service_factor(double exponent, double threshold, double bites)
{
  if (!(exponent >= LEAST_EXPONENT) || !(bites >= 0) || !(threshold >= 0))
    return NAN;
  if (!(bites > 0))
    return 1;
  double damage = bites * BITE_S * crack_cycle_g(exponent) * (exponent + 1) / TEST_S;
  double left = crack_static_factor(exponent, damage);
  return fmin(1, fmax(left, threshold));
}
