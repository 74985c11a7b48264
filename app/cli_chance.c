/* cli_chance.c - chance, scratch and their drivers of one connector as JSON and as lines.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli_chance.h"
#include "json_print.h"
#include "ui/words.h"
#include <stdio.h>

static void banded_json(GString *line, const char *name, const char *unit, Banded value)
{
  static const char *const end[3] = {"", "_low", "_high"};
  const double number[3] = {value.value, value.low, value.high};
  for (int i = 0; i < 3; i++) {
    g_autofree char *key = g_strdup_printf("%s%s%s", name, end[i], unit);
    json_number(line, key, number[i]);
  }
}

static void ends_json(GString *line, const char *key, const ChancePoint *at)
{
  json_open(line, key, '{');
  json_number(line, "margin", at->once.margin);
  json_number(line, "chance_percent", at->once.chance_percent);
  json_number(line, "service_margin", at->service.margin);
  json_number(line, "service_chance_percent", at->service.chance_percent);
  json_close(line, '}');
}

static void driver_json(GString *line, const ChanceDriver *driver)
{
  const ChanceInput *input = &driver->input;
  json_open(line, NULL, '{');
  json_text(line, "input", input_id(input->kind));
  if (input->kind == INPUT_FINISH)
    json_text(line, "finish", finish_id(input->state));
  json_number(line, "middle", input->range.value);
  json_number(line, "low", input->range.low);
  json_number(line, "high", input->range.high);
  json_text(line, "source", input->range.source);
  ends_json(line, "at_low", &driver->at_low);
  ends_json(line, "at_high", &driver->at_high);
  json_close(line, '}');
}

static void waterfall_json(GString *line, const Waterfall *w)
{
  json_open(line, "waterfall", '{');
  json_number(line, "best_margin", w->best);
  json_open(line, "steps", '[');
  for (int kind = 0; kind < FALL_N; kind++) {
    const FallStep *step = &w->step[kind];
    json_open(line, NULL, '{');
    json_text(line, "step", fall_id(step->kind));
    if (kind == FALL_FINISH)
      json_text(line, "finish", finish_id(step->finish));
    json_number(line, "before", step->before);
    json_number(line, "after", step->after);
    banded_json(line, "factor", "", step->factor);
    json_number(line, "margin", step->margin);
    json_close(line, '}');
  }
  json_close(line, ']');
  json_text(line, "most", fall_id(w->most));
  json_close(line, '}');
}

void chance_json(GString *line, const Assessment *a, size_t i)
{
  const ConnectorAssessment *k = &a->connector[i];
  Service service = case_service(&a->c);
  banded_json(line, "scratch", "_um", k->scratch_um);
  banded_json(line, "chance", "_percent", k->chance_percent);
  json_open(line, "service", '{');
  json_number(line, "bites_a_day", service.bites_a_day);
  json_number(line, "years", service.years);
  banded_json(line, "margin", "", k->service_margin);
  banded_json(line, "chance", "_percent", k->service_chance_percent);
  banded_json(line, "scratch", "_um", k->service_scratch_um);
  json_close(line, '}');
  json_open(line, "drivers", '[');
  for (size_t d = 0; d < k->n_driver; d++)
    driver_json(line, &k->driver[d]);
  json_close(line, ']');
  if (k->waterfall.known)
    waterfall_json(line, &k->waterfall);
}

static void waterfall_print(const Waterfall *w)
{
  g_autofree char *whole = NULL;
  Phrase phrase = waterfall_phrase(w);
  whole = words_phrase(&phrase);
  printf("  %s\n", whole);
  for (int kind = 0; kind < FALL_N; kind++) {
    const FallStep *step = &w->step[kind];
    phrase = fall_phrase(step);
    g_autofree char *text = words_phrase(&phrase);
    printf("    x %.2f (%.2f-%.2f) = %5.2f  %s\n", step->factor.value, step->factor.low,
           step->factor.high, step->margin, text);
  }
}

void chance_print(const Assessment *a, size_t i)
{
  const ConnectorAssessment *k = &a->connector[i];
  Service service = case_service(&a->c);
  printf(_("  chance in one overload %.1f %% (%.1f-%.1f); scratch %.0f um (%.0f-%.0f)\n"),
         k->chance_percent.value, k->chance_percent.low, k->chance_percent.high,
         k->scratch_um.value, k->scratch_um.low, k->scratch_um.high);
  printf(_("  after %.0f years of %.0f such bites a day: margin %.2f (%.2f-%.2f), chance %.1f %% "
           "(%.1f-%.1f), scratch %.0f um (%.0f-%.0f)\n"),
         service.years, service.bites_a_day, k->service_margin.value, k->service_margin.low,
         k->service_margin.high, k->service_chance_percent.value, k->service_chance_percent.low,
         k->service_chance_percent.high, k->service_scratch_um.value, k->service_scratch_um.low,
         k->service_scratch_um.high);
  if (k->waterfall.known)
    waterfall_print(&k->waterfall);
}
