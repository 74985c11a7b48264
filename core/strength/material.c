/* material.c - checks of a material card, and the effective surface of its bars.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "strength/material.h"
#include "base/phrase.h"
#include "strength/bars_scatter.h"
#include "strength/surface.h"
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

/* Told one after the other: what is wrong, what to do. */
#define FAIL_UNLESS(holds, words)                                                                  \
  do {                                                                                             \
    if (!(holds)) {                                                                                \
      *reason = words;                                                                             \
      return FAULT_RANGE;                                                                          \
    }                                                                                              \
  } while (0)

static bool recorded(double value)
{
  return !(isnan(value) || value == 0);
}

static Fault texts_check(const Material *m, const char **reason)
{
  bool ends = text_ends(m->id, sizeof m->id) && text_ends(m->name, sizeof m->name) &&
              text_ends(m->bar_finish, sizeof m->bar_finish) &&
              text_ends(m->source, sizeof m->source) && text_ends(m->date, sizeof m->date) &&
              text_ends(m->lot, sizeof m->lot) && text_ends(m->who, sizeof m->who);
  for (int i = 0; i < FIGURE_N && ends; i++)
    ends = text_ends(m->of[i].source, sizeof m->of[i].source) &&
           (unsigned)m->of[i].confidence < CONFIDENCE_N;
  ends = ends && (unsigned)m->confidence < CONFIDENCE_N && (unsigned)m->state <= CARD_PUBLISHED;
  FAIL_UNLESS(ends,
              N_("A text of the card has no end, or a word of it is not known. Write the card "
                 "anew."));
  FAIL_UNLESS(m->id[0], N_("The card has no id. Give it a short one of its own."));
  return FAULT_NONE;
}

static Fault figures_check(const Material *m, const char **reason)
{
  FAIL_UNLESS(within(m->young_mpa, 1e4, 1e6),
              N_("The stiffness is no ceramic's. Give E in MPa, 10000 to 1000000 (205 GPa is "
                 "205000)."));
  FAIL_UNLESS(within(m->poisson, 0, 0.49),
              N_("Poisson's ratio lies between 0 and 0.49. Correct it."));
  FAIL_UNLESS(within(m->toughness, 0.3, 20) && within(m->toughness_percent, 0, 90),
              N_("The toughness is no ceramic's. Give K_Ic in MPa√m, 0.3 to 20, and its band in "
                 "percent, 0 to 90."));
  FAIL_UNLESS(!recorded(m->threshold) || within(m->threshold, 0.1, m->toughness),
              N_("The threshold lies above the toughness or below 0.1 MPa√m. Correct it or leave "
                 "it out."));
  FAIL_UNLESS(within(m->strength_mpa, 20, 5000) && within(m->strength_percent, 0, 90),
              N_("The strength is no ceramic's. Give it in MPa, 20 to 5000, and its band in "
                 "percent, 0 to 90."));
  FAIL_UNLESS(within(m->weibull, 1, 100), N_("The modulus m lies between 1 and 100. Correct it."));
  FAIL_UNLESS(
      !recorded(m->growth_n) ||
          (within(m->growth_low, 5, 200) && within(m->growth_n, m->growth_low, 200) &&
           within(m->growth_high, m->growth_n, 200)),
      N_("The exponent n of slow crack growth lies between 5 and 200, inside its own range. "
         "Correct n and its range, or leave them out."));
  FAIL_UNLESS(m->iso_class >= 0 && m->iso_class <= 5,
              N_("ISO 6872 knows the classes 1 to 5. Correct the class."));
  FAIL_UNLESS(
      within(m->polish_gain_top, 1, 3),
      N_("The upper limit of the polish gain lies between 1 and 3. Correct it; 1 is none."));
  return FAULT_NONE;
}

static Fault bars_check(const Material *m, const char **reason)
{
  FinishState finish;
  FAIL_UNLESS((unsigned)m->bar <= BAR_DISC && within(m->bar_span, 1, 200) &&
                  within(m->bar_width, 0.5, 50) && within(m->bar_thickness, 0.2, 20) &&
                  (m->bar != BAR_DISC || m->bar_width < m->bar_span),
              N_("The sizes of the bars are not those of a strength test. Give test, span, width "
                 "and thickness in mm (disc: support circle, piston, thickness)."));
  FAIL_UNLESS(finish_from_id(m->bar_finish, &finish),
              N_("The finish of the bars is not known. Give bar-finish: a strength holds for one "
                 "surface only."));
  FAIL_UNLESS(m->bar_count >= 0 && m->bar_count <= 100000,
              N_("The number of bars is absurd. Correct it or leave it out."));
  return FAULT_NONE;
}

/* Absent figures need no source. */
static bool figure_stated(const Material *m, CardFigure figure)
{
  return figure == FIGURE_THRESHOLD ? recorded(m->threshold)
         : figure == FIGURE_GROWTH  ? recorded(m->growth_n)
         : figure == FIGURE_CLASS   ? m->iso_class > 0
                                    : true;
}

static Fault published_check(const Material *m, const char **reason)
{
  for (int i = 0; i < FIGURE_N; i++) {
    if (!figure_stated(m, (CardFigure)i))
      continue;
    FAIL_UNLESS(*material_source(m, (CardFigure)i),
                N_("A figure without a source cannot be published. Name the source of each figure, "
                   "or keep the card as a draft."));
    FAIL_UNLESS(material_confidence(m, (CardFigure)i) != CONFIDENCE_NONE,
                N_("A published card says how well each figure is known. Choose read, from memory, "
                   "own or common practice, or keep the card as a draft."));
  }
  return FAULT_NONE;
}

Fault material_check(const Material *m, const char **reason)
{
  const char *unread;
  reason = reason ? reason : &unread;
  Fault fault = texts_check(m, reason);
  if (!fault)
    fault = figures_check(m, reason);
  if (!fault)
    fault = bars_check(m, reason);
  if (!fault)
    fault = own_factors_check(m, reason);
  if (!fault && m->date[0])
    FAIL_UNLESS(card_day_valid(m->date),
                N_("The day of the card is no day of the calendar. Write it like 2026-11-25."));
  return fault || m->state != CARD_PUBLISHED ? fault : published_check(m, reason);
}

Fault material_check_own(const Material *m, const char **reason)
{
  const char *unread;
  reason = reason ? reason : &unread;
  Fault fault = material_check(m, reason);
  if (fault)
    return fault;
  FAIL_UNLESS(m->name[0], N_("The card has no name. Give it one that says what was tested."));
  FAIL_UNLESS(m->date[0], N_("The card has no day. Write it like 2026-11-25."));
  FAIL_UNLESS(m->who[0], N_("The card does not say who entered it. Give initials or a role."));
  FAIL_UNLESS(m->lot[0] || material_confidence(m, FIGURE_STRENGTH) != CONFIDENCE_OWN,
              N_("Own bars come from a lot. Write its number from the label of the blank."));
  return FAULT_NONE;
}

const char *material_source(const Material *m, CardFigure figure)
{
  const FigureSource *of = &m->of[(unsigned)figure < FIGURE_N ? figure : FIGURE_STRENGTH];
  return of->source[0] ? of->source : m->source;
}

Confidence material_confidence(const Material *m, CardFigure figure)
{
  const FigureSource *of = &m->of[(unsigned)figure < FIGURE_N ? figure : FIGURE_STRENGTH];
  return of->confidence ? of->confidence : m->confidence;
}

const char *card_figure_name(CardFigure figure)
{
  static const char *const name[FIGURE_N] = {
      [FIGURE_YOUNG] = N_("stiffness E"),        [FIGURE_POISSON] = N_("Poisson's ratio"),
      [FIGURE_TOUGHNESS] = N_("toughness K_Ic"), [FIGURE_THRESHOLD] = N_("threshold K_I0"),
      [FIGURE_STRENGTH] = N_("strength"),        [FIGURE_WEIBULL] = N_("spread m"),
      [FIGURE_GROWTH] = N_("crack growth n"),    [FIGURE_CLASS] = N_("ISO 6872 class"),
      [FIGURE_GAIN] = N_("polish gain"),
  };
  return (unsigned)figure < FIGURE_N ? name[figure] : "";
}

const char *confidence_name(Confidence confidence)
{
  static const char *const name[CONFIDENCE_N] = {N_("not said"), N_("read"), N_("from memory"),
                                                 N_("own bars"), N_("common practice, no source")};
  return (unsigned)confidence < CONFIDENCE_N ? name[confidence] : name[CONFIDENCE_NONE];
}

/* Two digits; -1 when they are none. */
static int two_digits(const char *text)
{
  bool digits = text[0] >= '0' && text[0] <= '9' && text[1] >= '0' && text[1] <= '9';
  return digits ? 10 * (text[0] - '0') + text[1] - '0' : -1;
}

bool card_day_valid(const char *day)
{
  static const int days[] = {31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  if (strlen(day) != 10 || day[4] != '-' || day[7] != '-')
    return false;
  int century = two_digits(day), year = two_digits(day + 2), month = two_digits(day + 5),
      last = two_digits(day + 8);
  if (century < 19 || year < 0 || month < 1 || month > 12 || last < 1)
    return false;
  int full = 100 * century + year;
  bool leap = full % 4 == 0 && (full % 100 != 0 || full % 400 == 0);
  return last <= days[month - 1] - (month == 2 && !leap);
}

int material_bars(const Material *m)
{
  return m->bar_count > 0 ? m->bar_count : BARS_NOT_STATED;
}

Banded material_strength(const Material *m)
{
  double value = m->strength_mpa, band = m->strength_percent / 100;
  Banded bars = bars_scale_ratio(material_bars(m), m->weibull);
  return banded(value, value * fmin(fmax(0.1, 1 - band), bars.low),
                value * fmax(1 + band, bars.high));
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
