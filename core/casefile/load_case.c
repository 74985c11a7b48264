/* load_case.c - bites: checked, pressed on the beam, put into words.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/load_case.h"
#include <math.h>
#include <string.h>

void load_case_init(LoadCase *bite)
{
  *bite = (LoadCase){.x = NAN};
}

static bool same(double a, double b)
{
  return (isnan(a) && isnan(b)) || (a <= b && a >= b);
}

bool load_case_equal(const LoadCase *a, const LoadCase *b)
{
  if (!same(a->x, b->x) || !same(a->incline_deg, b->incline_deg) || a->n_on != b->n_on)
    return false;
  for (size_t i = 0; i < a->n_on; i++)
    if (a->on[i].tooth != b->on[i].tooth || !same(a->on[i].share, b->on[i].share))
      return false;
  return true;
}

static double length_of(const Case *c)
{
  double length = 0;
  for (size_t i = 0; i < c->n_unit; i++)
    length += c->unit[i].length;
  return length;
}

/* Middle of the biting face of a tooth, along the span; NaN when it is no unit of the bridge. */
static double middle_of(const Case *c, int tooth)
{
  double start = 0;
  for (size_t i = 0; i < c->n_unit; start += c->unit[i++].length)
    if (c->unit[i].tooth == tooth)
      return start + c->unit[i].length / 2;
  return NAN;
}

static bool shares_check(const Case *c, const LoadCase *bite, const char **reason)
{
  for (size_t i = 0; i < bite->n_on; i++) {
    if (!(bite->on[i].share > 0 && isfinite(bite->on[i].share))) {
      *reason = N_("A share of this bite is not above zero. Enter a positive share for every tooth "
                   "it presses on, or take the tooth out.");
      return false;
    }
    if (isnan(middle_of(c, bite->on[i].tooth))) {
      *reason = N_("This bite presses on a tooth that is no unit of the bridge. Choose one of its "
                   "units.");
      return false;
    }
    for (size_t k = 0; k < i; k++)
      if (bite->on[k].tooth == bite->on[i].tooth) {
        *reason = N_("This bite names a tooth twice. Add its shares up into one.");
        return false;
      }
  }
  return true;
}

bool load_case_check(const Case *c, const LoadCase *bite, const char **reason)
{
  if (!(fabs(bite->incline_deg) <= INCLINE_MOST_DEG)) {
    *reason = N_("This bite leans more than 60 degrees from the axis of the tooth. Enter -60 "
                 "(tongue) to 60 (cheek).");
    return false;
  }
  if (!isnan(bite->x) && bite->n_on > 0) {
    *reason = N_("This bite has both a place and teeth with shares. Keep one of the two.");
    return false;
  }
  if (!isnan(bite->x) && !(bite->x >= 0 && bite->x <= length_of(c))) {
    *reason = N_("This bite stands outside the bridge. Enter a place between 0 and the length of "
                 "all units in mm.");
    return false;
  }
  return shares_check(c, bite, reason);
}

static bool leans(const LoadCase *bite)
{
  return bite->incline_deg < 0 || bite->incline_deg > 0;
}

bool case_in_space(const Case *c)
{
  bool space = c->arch_bow > 0;
  for (size_t i = 0; i < c->n_load_case; i++)
    space = space || leans(&c->load_case[i]);
  return space;
}

static Fault bite_add(const Case *c, size_t number, const Span *span, size_t neck,
                      SpanEnvelope *envelope)
{
  const LoadCase *bite = &c->load_case[number - 1];
  const char *reason;
  if (!load_case_check(c, bite, &reason))
    return FAULT_RANGE;
  double lean = bite->incline_deg * acos(-1.0) / 180, whole = 0;
  double down = c->order_load_n * cos(lean), cheek = leans(bite) ? c->order_load_n * sin(lean) : 0;
  if (bite->n_on == 0 && isnan(bite->x))
    return span_sweep(span, neck, down, cheek, number, envelope);
  SpanLoad load[SPAN_MAX_UNITS];
  if (bite->n_on == 0) {
    load[0] = (SpanLoad){.x = bite->x, .force_n = down, .cheek_n = cheek};
    return span_stand(span, neck, load, 1, number, envelope);
  }
  for (size_t i = 0; i < bite->n_on; i++)
    whole += bite->on[i].share;
  for (size_t i = 0; i < bite->n_on; i++) {
    double part = bite->on[i].share / whole;
    load[i] = (SpanLoad){
        .x = middle_of(c, bite->on[i].tooth), .force_n = part * down, .cheek_n = part * cheek};
  }
  return span_stand(span, neck, load, bite->n_on, number, envelope);
}

Fault case_envelope(const Case *c, const Span *span, size_t neck, SpanEnvelope *envelope)
{
  SpanEnvelope all = {0};
  Fault fault = span_sweep(span, neck, c->order_load_n, 0, 0, &all);
  for (size_t number = 1; number <= c->n_load_case && !fault; number++)
    fault = bite_add(c, number, span, neck, &all);
  if (!fault)
    *envelope = all;
  return fault;
}

/* "46" or "45, 46, 47". */
static void teeth_write(const Case *c, const LoadCase *bite, double x, char *name, size_t room)
{
  size_t used = 0;
  name[0] = '\0';
  for (size_t i = 0; i < bite->n_on && used + 8 < room; i++)
    used += (size_t)g_snprintf(name + used, room - used, "%s%d", i ? ", " : "",
                               bite->on[i].tooth % 1000);
  if (bite->n_on > 0)
    return;
  size_t unit = 0;
  double end = c->n_unit ? c->unit[0].length : 0;
  while (unit + 1 < c->n_unit && x >= end)
    end += c->unit[++unit].length;
  g_snprintf(name, room, "%d", c->unit[unit].tooth % 1000);
}

Phrase load_case_phrase(const Case *c, size_t number, double x)
{
  const LoadCase down = {.x = NAN},
                 *bite = number > 0 && number <= c->n_load_case ? &c->load_case[number - 1] : &down;
  Phrase phrase = {.value = {fabs(bite->incline_deg)}};
  teeth_write(c, bite, x, phrase.name, sizeof phrase.name);
  phrase.text = bite->incline_deg > 0   ? N_("bite on {name}, {0} degrees towards the cheek")
                : bite->incline_deg < 0 ? N_("bite on {name}, {0} degrees towards the tongue")
                                        : N_("bite on {name}, straight down");
  return phrase;
}
