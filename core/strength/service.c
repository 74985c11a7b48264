/* service.c - slow crack growth over years, as a factor on the strength of the bars.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Equal damage: a bar pulled up to its strength in TEST_S at an even rate spends as much of its
 * flaw as TEST_S / (n + 1) at the full stress; a chewing cycle of period T spends T g(n). */
#include "strength/service.h"
#include "base/phrase.h"
#include "strength/crack.h"
#include <math.h>
#include <string.h>

#define TEST_S 10.0      /* a bar test lasts 5 to 15 s                               */
#define BITE_S (1 / 1.4) /* period of a chewing cycle                                */
#define DAYS_A_YEAR 365.25
#define BITES_SPREAD 3.0 /* habits differ by as much either way                      */
#define LEAST_EXPONENT 2.0

static const char exponent_3y[] =
    N_("n of 3Y in water: 28.5 and 30.2 in one paper, 76 in another (Dent Mater 2011), read");
static const char threshold_3y[] =
    N_("threshold of 3Y 3.1 to 3.5 of 5.5 MPa√m (Chevalier 1999, De Aza 2002), from memory");
static const char exponent_other[] =
    N_("n of this class not known: range of dental frameworks, read; no threshold counted on");
static const char bites_habit[] =
    N_("1.2 million bites stand for five years in chewing machines: common practice, no source");

Growth growth_of(const Material *m)
{
  if (strcmp(m->id, "3y") == 0)
    return (Growth){{30, 20, 60, exponent_3y}, {0.6, 0.56, 0.64, threshold_3y}};
  return (Growth){{25, 19, 36, exponent_other}, {0, 0, 0, exponent_other}};
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
