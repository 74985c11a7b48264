/* cli_case.c - soffit-cli assess and report: whole cases.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_bridge.h"
#include "casefile/case_xml.h"
#include "casefile/load_case.h"
#include "cli.h"
#include "cli_chance.h"
#include "json_line.h"
#include "report_pdf.h"
#include "ui/words.h"
#include <locale.h>
#include <math.h>
#include <stdio.h>

#define TEXT_ROOM 400

static const char *form_id(FormKind kind)
{
  static const char *const id[] = {"none", "U", "between", "V"};
  return (unsigned)kind <= FORM_V ? id[kind] : "none";
}

static const char *answer_id(const Field *field)
{
  return !field ? "none" : field->answer == ANSWER_SOLID ? "solid" : "plane";
}

static const char *grade_id(AssessGrade grade)
{
  return grade == ASSESS_FINE ? "fine" : grade == ASSESS_REST ? "rest" : "live";
}

static void connector_json(const Assessment *a, size_t i, bool bridge)
{
  const ConnectorAssessment *k = &a->connector[i];
  char name[12], text[TEXT_ROOM];
  connector_name(&a->c, i, '-', name);
  GString *line = json_begin();
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
  if (bridge) {
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
  json_end_print(line);
}

static void connector_print(const Assessment *a, size_t i)
{
  const ConnectorAssessment *k = &a->connector[i];
  char text[TEXT_ROOM];
  printf("%s %s: %s\n", a->c.number, k->name, _(verdict_name(k->verdict)));
  if (k->field) {
    printf(_("  neck %.2f x %.2f mm, %.1f mm2; roof radius %.2f mm, form %s\n"),
           k->form.neck_height, k->section.width, k->section.area, k->form.roof_radius.value,
           form_id(k->form.kind));
  }
  if (k->field && !isnan(k->peak_mpa.value)) { /* without a beam there is the shape alone */
    printf(_("  peak %.0f MPa +-%.0f %% (%s) at %.0f N; surface carries %.0f (%.0f-%.0f) MPa\n"),
           k->peak_mpa.value, connector_band_percent(k, &k->peak), answer_id(k->field),
           a->c.order_load_n, k->strength_mpa.value, k->strength_mpa.low, k->strength_mpa.high);
    Phrase bite = load_case_phrase(&a->c, k->load_case, k->order_x);
    phrase_format(&bite, words_translate, ".", text, sizeof text);
    printf(_("  governed by: %s\n"), text);
    if (neck_load_odd(&k->order))
      printf(k->peak.by_section ? _("  sideways bending %.0f N mm, twist %.0f N mm: by section "
                                    "formulas, wider band\n")
                                : _("  sideways bending %.0f N mm, twist %.0f N mm\n"),
             k->order.lateral_n_mm, k->order.torsion_n_mm);
    printf(_("  margin %.2f (%.2f-%.2f), carries %.0f N (%.0f-%.0f)\n"), k->margin.value,
           k->margin.low, k->margin.high, k->carries_n.value, k->carries_n.low, k->carries_n.high);
    chance_print(a, i);
  }
  Phrase reason[24];
  size_t n = assessment_reasons(a, i, reason, G_N_ELEMENTS(reason));
  if (bridge_differs_phrase(a, i, &reason[n < G_N_ELEMENTS(reason) ? n : n - 1]))
    n = MIN(n + 1, G_N_ELEMENTS(reason));
  for (size_t r = 0; r < n; r++) {
    phrase_format(&reason[r], words_translate, ".", text, sizeof text);
    printf("  - %s\n", text);
  }
  for (size_t r = 0; r < a->n_advice; r++)
    if (a->advice[r].connector == i) {
      phrase_format(&a->advice[r].act, words_translate, ".", text, sizeof text);
      printf("  > %s: +%.0f %% (%.0f-%.0f)\n", text, a->advice[r].gain_percent.value,
             a->advice[r].gain_percent.low, a->advice[r].gain_percent.high);
    }
}

static AssessSettings settings_at_rest(void)
{
  AssessSettings settings = assess_settings_default();
  settings.threads = (int)g_get_num_processors();
  return settings;
}

/* Loads and assesses; NULL after a message. Faults of single connectors are told and counted in
 * *bad. */
static Assessment *case_assess(Assessor *assessor, const char *path, AssessSettings settings,
                               int *bad)
{
  g_autoptr(GError) error = NULL;
  Assessment *a = NULL;
  Case c;
  case_init(&c);
  if (!case_load(&c, path, &error)) {
    cli_bad("%s", error->message);
    case_clear(&c);
    return NULL;
  }
  Fault fault = assess(assessor, &c, &settings, &a);
  case_clear(&c);
  if (fault) {
    cli_bad("%s: %s", path, _(fault_text(fault)));
    return NULL;
  }
  int before = *bad;
  char place[32] = "";
  const char *reason = fault_text(a->fault);
  bool sound = case_check(&a->c, place, &reason);
  for (size_t i = 0; i < a->n_connector; i++)
    if (a->connector[i].fault && !a->connector[i].field) {
      const ConnectorAssessment *k = &a->connector[i];
      long line = a->c.connector[i].file_line;
      g_autofree char *where = line ? g_strdup_printf("%s:%ld", path, line) : g_strdup(path);
      const char *name = !sound && g_str_has_prefix(place, k->name) ? place : k->name;
      cli_bad(_("%s: connector %s at x %.2f, y %.2f: %s"), where, name, k->fault_at.x,
              k->fault_at.y, _(fault_text(k->fault)));
      ++*bad;
    }
  if (a->bridge_fault) /* asked for beside the answer, which stands */
    cli_bad(_("%s: whole bridge at x %.2f, y %.2f: %s"), path, a->bridge_fault_at.x,
            a->bridge_fault_at.y, _(fault_text(a->bridge_fault)));
  if (*bad > before) /* said, with its line */
    return a;
  if (!sound)
    cli_bad("%s: %s: %s", path, place, _(reason));
  else if (a->fault)
    cli_bad("%s: %s", path, _(reason));
  *bad += !sound || a->fault;
  return a;
}

int cli_assess(int argc, char **argv)
{
  gboolean json = FALSE, bridge = FALSE, fine = FALSE, waterfall = FALSE;
  const GOptionEntry entry[] = {
      {"fine", 0, 0, G_OPTION_ARG_NONE, &fine, N_("Converged answer on a finer mesh"), NULL},
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("One JSON object a line"), NULL},
      {"bridge", 0, 0, G_OPTION_ARG_NONE, &bridge,
       N_("Compare with the flat picture of the whole bridge"), NULL},
      {"waterfall", 0, 0, G_OPTION_ARG_NONE, &waterfall,
       N_("Step by step from the best connector in the room to the drawn one"), NULL},
      G_OPTION_ENTRY_NULL};
  if (!cli_options("CASE.xml...", _("Assesses every connector of each case."), entry, &argc, &argv))
    return EXIT_BAD;
  if (argc < 2)
    return cli_bad("%s", _("no case named. Name one or more case files."));
  Assessor *assessor = NULL;
  if (assessor_new(&assessor))
    return cli_bad("%s", _(fault_text(FAULT_MEMORY)));
  AssessSettings settings = settings_at_rest();
  settings.whole_bridge = bridge;
  settings.waterfall = waterfall;
  if (fine)
    settings.grade = ASSESS_FINE;
  int status = EXIT_HOLDS, bad = 0;
  for (int i = 1; i < argc; i++) {
    Assessment *a = case_assess(assessor, argv[i], settings, &bad);
    if (!a) {
      bad++;
      continue;
    }
    for (size_t k = 0; k < a->n_connector; k++) {
      if (json)
        connector_json(a, k, bridge);
      else
        connector_print(a, k);
    }
    if (a->verdict != VERDICT_HOLDS)
      status = EXIT_NOT;
    assessment_unref(a);
  }
  assessor_free(assessor);
  return bad ? EXIT_BAD : status;
}

int cli_report(int argc, char **argv)
{
  g_autofree char *out = NULL;
  const GOptionEntry entry[] = {
      {"output", 'o', 0, G_OPTION_ARG_FILENAME, &out, N_("The PDF to write"), "FILE.pdf"},
      G_OPTION_ENTRY_NULL};
  if (!cli_options("CASE.xml -o FILE.pdf", _("Writes one case on paper."), entry, &argc, &argv))
    return EXIT_BAD;
  if (argc != 2 || !out)
    return cli_bad("%s", _("report needs one case and -o FILE.pdf."));
  Assessor *assessor = NULL;
  if (assessor_new(&assessor))
    return cli_bad("%s", _(fault_text(FAULT_MEMORY)));
  int bad = 0, status = EXIT_BAD;
  AssessSettings settings = settings_at_rest();
  settings.waterfall = true;
  Assessment *a = case_assess(assessor, argv[1], settings, &bad);
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  setlocale(LC_NUMERIC, ""); /* a person reads the paper */
  g_autofree char *time = g_date_time_format(now, _("%Y-%m-%d %H:%M"));
  g_autoptr(GError) error = NULL;
  if (a && report_write_pdf(a, out, time, words_translate, words_decimal(), &error))
    status = bad ? EXIT_BAD : a->verdict == VERDICT_HOLDS ? EXIT_HOLDS : EXIT_NOT;
  else if (error)
    cli_bad("%s", error->message);
  assessment_unref(a);
  assessor_free(assessor);
  return status;
}
