/* criterion_words.c - criteria and what they lack, in words.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/criterion.h"
#include <glib.h>
#include <math.h>

/* What is asked, how a figure reads, and what to do where it is not met: {0} the figure, {1} the
 * limit.  NULL for a limit that makes no sense. */
typedef struct {
  const char *least, *most, *figure;
  const char *too_small, *too_large;
} MeasureWords;

static const MeasureWords measure_words[MEASURES] = {
    [MEASURE_ROOF_RADIUS] = {N_("Roof radius at least {0.2}"), N_("Roof radius at most {0.2}"),
                             "{0.2}",
                             N_("Your roof radius is {0.2} mm, {1.2} is asked. Spread the top "
                                "corners, then round them."),
                             N_("Your roof radius is {0.2} mm, {1.2} is enough.")},
    [MEASURE_ROOF] = {N_("Roof at least {0.2} high"), N_("Roof no higher than {0.2}"), "{0.2}",
                      N_("Your roof lies at {0.2}. Lift it to {1.2} at least."),
                      N_("Your roof lies at {0.2}. Bring it down to {1.2}: the neck gains what the "
                         "roof gives.")},
    [MEASURE_ROOF_CENTRE] = {NULL, N_("Roof within {0.2} of the middle"), "{0.2}", NULL,
                             N_("The middle of your roof is {0.2} off. Bring it over the neck.")},
    [MEASURE_GAP] =
        {N_("Gap circle at least {0.2}"), N_("Gap circle at most {0.2}"), "{0.2}",
         N_("Only a circle of {0.2} mm passes, {1.2} is needed. Go wider before you go higher."),
         N_("Your gap is {0.2} mm wide, {1.2} is enough. The neck could have the rest.")},
    [MEASURE_FEET] = {NULL, N_("Feet stay, within {0.2}"), "{0.2}", NULL,
                      N_("A foot has moved by {0.2}. Put it back where it stood.")},
    [MEASURE_LEAN] = {N_("Legs lean {0}° or more on both sides"), NULL, "{0}°",
                      N_("One leg leans {0}° only. Below {1}° neither cutter nor brush gets in."),
                      NULL},
    [MEASURE_LEAN_DIFFERS] = {NULL, N_("Legs lean alike, within {0}°"), "{0}°", NULL,
                              N_("The legs differ by {0}°. Draw one side well, then mirror it.")},
    [MEASURE_NECK_HEIGHT] =
        {N_("Neck height at least {0.2}"), N_("Neck height at most {0.2}"), "{0.2}",
         N_("Your neck is {0.2} mm high, {1.2} is needed. Lower the roof or raise the groove."),
         N_("Your neck is {0.2} mm high, {1.2} is allowed.")},
    [MEASURE_NECK_WIDTH] = {N_("Neck width at least {0.2}"), N_("Neck width at most {0.2}"),
                            "{0.2}", N_("Your neck is {0.2} mm wide, {1.2} is needed."),
                            N_("Your neck is {0.2} mm wide, {1.2} is allowed.")},
    [MEASURE_NECK_AREA] =
        {N_("Neck area at least {0.1} mm²"), N_("Neck area at most {0.1} mm²"), "{0.1}",
         N_("Your neck has {0.1} mm², {1.1} is needed. Height first, then width."),
         N_("Your neck has {0.1} mm², {1.1} is allowed. Take it from the width.")},
    [MEASURE_SECTION_VALUE] = {N_("Section value W at least {0.2} mm³"), NULL, "{0.2}",
                               N_("W is {0.2}, {1.2} is needed. Height counts twice, width once."),
                               NULL},
    [MEASURE_GROOVE_RADIUS] =
        {N_("Groove radius at least {0.2}"), NULL, "{0.2}",
         N_("Your biting groove has a radius of {0.2}, {1.2} is asked. Make it shallow and round."),
         NULL},
    [MEASURE_PAPILLA] =
        {N_("Papilla at least {0.2} away"), NULL, "{0.2}",
         N_("Your outline comes within {0.2} mm of the papilla, {1.2} is asked. Lift the roof."),
         NULL},
    [MEASURE_PEAK] = {NULL, N_("Peak at most {0} % of the start's"), "{0} %", NULL,
                      N_("Your peak is still {0} % of the start's, {1} % is asked.")},
    [MEASURE_ABOVE_BEST] =
        {NULL, N_("Peak within {0} % of the best"), "{0+} %", NULL,
         N_("Your peak is {0} % above the best in this room. {1} % is near enough.")},
    [MEASURE_MOVED] = {NULL, N_("Gum side unchanged, within {0.2}"), "{0.2}", NULL,
                       N_("Your gum side changed by {0.2}. It was good: put it back.")},
    [MEASURE_CHANGED] = {NULL, N_("Outlines unchanged, within {0.2}"), "{0.2}", NULL,
                         N_("Your outlines changed by {0.2}. They were good: put them back.")},
    [MEASURE_CUTTER_SHORT] =
        {NULL, N_("Cutter reaches the roof"), "{0.2}", NULL,
         N_("The cutter stops {0.2} mm short of your roof. Round it to what the cutter makes.")},
    [MEASURE_RADII_DIFFER] =
        {NULL, N_("Roof radii alike, within {0.2}"), "{0.2}", NULL,
         N_("The roof radii differ by {0.2}. Draw one U, then draw it again at each neck.")},
    [MEASURE_STROKES] = {NULL, N_("At most {0} strokes"), "{0}", NULL,
                         N_("You took {0} strokes. {1} are enough.")},
};

static const MeasureWords *words_of(Measure measure)
{
  static const MeasureWords none = {"", "", "", "", ""};
  return measure < MEASURES ? &measure_words[measure] : &none;
}

static Phrase of_place(const char *text, double a, double b, const Case *c, size_t connector)
{
  Phrase phrase = {.text = text, .value = {a, b}};
  if (connector < c->n_unit && connector + 1 < c->n_unit)
    connector_name(c, connector, '/', phrase.place);
  return phrase;
}

Phrase criterion_phrase(const Criterion *criterion, const Case *c)
{
  const MeasureWords *words = words_of(criterion->measure);
  bool least = !isnan(criterion->least), most = !isnan(criterion->most);
  if (least && most && criterion->measure == MEASURE_NECK_AREA)
    return of_place(N_("Neck area {0.1} to {1.1} mm²"), criterion->least, criterion->most, c,
                    criterion->connector);
  if (least && most) {
    Phrase both = of_place(N_("{word}, at most {1.2}"), criterion->least, criterion->most, c,
                           criterion->connector);
    both.word = words->least;
    return both;
  }
  return of_place(least ? words->least : words->most, least ? criterion->least : criterion->most, 0,
                  c, criterion->connector);
}

Phrase measure_phrase(Measure measure, double value)
{
  return (Phrase){.text = words_of(measure)->figure, .value = {value}};
}

/* What Soffit would do about the roof here, and how much lower the pull would be. */
static const Advice *roof_advice(const Assessment *a, size_t connector)
{
  for (size_t i = 0; i < a->n_advice; i++)
    if (a->advice[i].kind == ADVICE_ROUND && a->advice[i].connector == connector &&
        a->advice[i].gain_percent.value > 0)
      return &a->advice[i];
  return NULL;
}

Phrase criterion_reason(const Criterion *criterion, const Work *work, size_t connector,
                        double value)
{
  const Case *c = &work->mine->c;
  if (isnan(value))
    return of_place(criterion->measure == MEASURE_STROKES ||
                            criterion->measure == MEASURE_ABOVE_BEST
                        ? N_("This is not known here.")
                        : N_("This drawing has no answer yet: the line is open or crosses itself."),
                    0, 0, c, connector);
  bool small = !isnan(criterion->least) && value < criterion->least;
  const Advice *round = small && criterion->measure == MEASURE_ROOF_RADIUS
                            ? roof_advice(work->mine, connector)
                            : NULL;
  if (round && round->target > value + 0.02) {
    double gain = round->gain_percent.value / 100;
    Phrase phrase =
        of_place(N_("Your roof radius is {0.2} mm: {1.2} would fit and lower the peak by {2} %."),
                 value, round->target, c, connector);
    phrase.value[2] = 100 * gain / (1 + gain);
    return phrase;
  }
  const MeasureWords *words = words_of(criterion->measure);
  return of_place(small ? words->too_small : words->too_large, value,
                  small ? criterion->least : criterion->most, c, connector);
}
