/* connector_line.c - one connector of an assessed case as a line of JSON.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "connector_line.h"
#include "casefile/load_case.h"
#include "cli_chance.h"
#include "json_print.h"
#include <math.h>

#define TEXT_ROOM 400

const char *form_id(FormKind kind)
{
  static const char *const id[] = {"none", "U", "between", "V"};
  return (unsigned)kind <= FORM_V ? id[kind] : "none";
}

const char *answer_id(const Field *field)
{
  return !field ? "none" : field->answer == ANSWER_SOLID ? "solid" : "plane";
}

static const char *grade_id(AssessGrade grade)
{
  return grade == ASSESS_FINE ? "fine" : grade == ASSESS_REST ? "rest" : "live";
}

GString *connector_line(const Assessment *a, size_t i, const LineWish *wish)
{
  const ConnectorAssessment *k = &a->connector[i];
  char name[12], text[TEXT_ROOM];
  connector_name(&a->c, i, '-', name);
  GString *line = json_begin();
  if (wish->file)
    json_text(line, "file", wish->file);
  json_text(line, "case", a->c.number);
  json_text(line, "connector", name);
  json_number(line, "neck_height_mm", k->form.neck_height);
  json_number(line, "neck_width_mm", k->section.width);
  json_number(line, "neck_area_mm2", k->section.area);
  json_number(line, "roof_radius_mm", k->form.roof_radius.value);
  json_text(line, "form", form_id(k->form.kind));
  json_number(line, "moment_n_mm", k->order.moment_n_mm);
  json_number(line, "shear_n", k->order.shear_n);
  json_number(line, "lateral_n_mm", k->order.lateral_n_mm);
  json_number(line, "lateral_shear_n", k->order.lateral_shear_n);
  json_number(line, "torsion_n_mm", k->order.torsion_n_mm);
  Phrase bite = load_case_phrase(&a->c, k->load_case, k->order_x);
  phrase_format(&bite, NULL, ".", text, sizeof text);
  json_number(line, "load_case", k->field ? (double)k->load_case : NAN);
  json_text(line, "load_case_words", k->field ? text : "");
  json_number(line, "pin_moment_n_mm", k->pin_moment_n_mm);
  if (wish->bridge) {
    json_number(line, "bridge_moment_n_mm", k->bridge.order_n_mm);
    json_number(line, "bridge_differs_percent", k->bridge.differs_percent);
  }
  json_number(line, "nominal_mpa", k->nominal_mpa);
  json_number(line, "peak_mpa", k->peak_mpa.value);
  json_number(line, "band_percent", k->field ? connector_band_percent(k, &k->peak) : NAN);
  if (k->trace_percent > 0 || isnan(k->trace_percent)) /* the line was traced on a photo */
    json_number(line, "photo_scale_percent", k->trace_percent);
  if (k->roof_doubt_percent > 0)
    json_number(line, "roof_drawn_percent", k->roof_doubt_percent);
  json_text(line, "answer", answer_id(k->field));
  json_text(line, "sideways_answer",
            !k->field                   ? "none"
            : !neck_load_odd(&k->order) ? "nil"
            : k->peak.by_section        ? "section"
                                        : "solid");
  json_text(line, "grade", grade_id(a->grade));
  if (wish->seconds)
    json_number(line, "seconds", a->seconds);
  json_number(line, "strength_mpa", k->strength_mpa.value);
  json_number(line, "margin", k->margin.value);
  json_number(line, "margin_low", k->margin.low);
  json_number(line, "margin_high", k->margin.high);
  json_number(line, "carries_n", k->carries_n.value);
  chance_json(line, a, i);
  json_text(line, "verdict", verdict_id(k->verdict));
  Phrase reason[24];
  size_t n = assessment_reasons(a, i, reason, G_N_ELEMENTS(reason));
  json_open(line, "reasons", '[');
  for (size_t r = 0; r < n; r++) {
    phrase_format(&reason[r], NULL, ".", text, sizeof text);
    json_item(line, text);
  }
  json_close(line, ']');
  json_open(line, "advice", '[');
  for (size_t r = 0; r < a->n_advice; r++) {
    if (a->advice[r].connector != i)
      continue;
    phrase_format(&a->advice[r].act, NULL, ".", text, sizeof text);
    g_autofree char *item = g_strdup_printf("%s: +%.0f %%", text, a->advice[r].gain_percent.value);
    json_item(line, item);
  }
  json_close(line, ']');
  json_end(line);
  return line;
}
