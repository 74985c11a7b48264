/* material.c - checks of a material card, and the effective surface of its bars.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "strength/material.h"
#include "strength/finish.h"
#include "strength/weibull.h"
#include <math.h>
#include <stdbool.h>
#include <string.h>

static bool within(double value, double low, double high)
{
  return value >= low && value <= high; /* false for NaN */
}

static bool text_ends(const char text[], size_t room)
{
  return memchr(text, 0, room) != NULL;
}

Fault material_check(const Material *m)
{
  bool texts = text_ends(m->id, sizeof m->id) && text_ends(m->name, sizeof m->name) &&
               text_ends(m->bar_finish, sizeof m->bar_finish) &&
               text_ends(m->source, sizeof m->source) &&
               text_ends(m->confidence, sizeof m->confidence);
  bool numbers = within(m->young_mpa, 1e4, 1e6) && within(m->poisson, 0, 0.49) &&
                 within(m->toughness, 0.3, 20) && within(m->toughness_percent, 0, 90) &&
                 within(m->strength_mpa, 20, 5000) && within(m->strength_percent, 0, 90) &&
                 within(m->weibull, 1, 100) && m->iso_class >= 0 && m->iso_class <= 5 &&
                 within(m->polish_gain_top, 1, 3);
  bool bars = (unsigned)m->bar <= BAR_DISC && within(m->bar_span, 1, 200) &&
              within(m->bar_width, 0.5, 50) && within(m->bar_thickness, 0.2, 20) &&
              (m->bar != BAR_DISC || m->bar_width < m->bar_span);
  FinishState finish;
  if (!texts || !numbers || !bars || !finish_from_id(m->bar_finish, &finish))
    return FAULT_RANGE;
  /* a card without a source cannot be told from a guess */
  return m->id[0] && m->source[0] ? FAULT_NONE : FAULT_RANGE;
}

double material_bar_surface(const Material *m)
{
  switch (m->bar) {
  case BAR_THREE_POINT:
    return bar_surface_three_point(m->bar_span, m->bar_width, m->bar_thickness, m->weibull);
  case BAR_FOUR_POINT_QUARTER:
    return bar_surface_four_point_quarter(m->bar_span, m->bar_width, m->bar_thickness, m->weibull);
  case BAR_FOUR_POINT_THIRD:
    return bar_surface_four_point_third(m->bar_span, m->bar_width, m->bar_thickness, m->weibull);
  case BAR_DISC:
  default:
    return bar_surface_disc(m->bar_span, m->bar_width, m->poisson, m->weibull);
  }
}
