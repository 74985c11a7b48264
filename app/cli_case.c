/* cli_case.c - soffit-cli assess: whole cases.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_bridge.h"
#include "case_answer.h"
#include "casefile/load_case.h"
#include "cli.h"
#include "cli_chance.h"
#include "cli_each.h"
#include "connector_csv.h"
#include "ui/words.h"
#include <math.h>
#include <stdio.h>

#define TEXT_ROOM 400

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

/* One case after the other, its connectors at once on all cores. */
static int cases_run(const AssessSettings *settings, const LineWish *line, bool json, bool csv,
                     int n, char **path)
{
  Assessor *assessor = NULL;
  if (assessor_new(&assessor))
    return cli_bad("%s", _(fault_text(FAULT_MEMORY)));
  int status = EXIT_HOLDS;
  if (csv)
    connector_csv_head_print();
  for (int i = 0; i < n; i++) {
    CaseAnswer answer;
    case_answer_said(assessor, path[i], settings, &answer);
    for (size_t k = 0; answer.a && k < answer.a->n_connector; k++) {
      if (json) {
        g_autoptr(GString) text = connector_line(answer.a, k, line);
        fputs(text->str, stdout);
      } else if (!csv) {
        connector_print(answer.a, k);
      }
    }
    if (csv) {
      g_autofree char *file = g_utf8_make_valid(path[i], -1);
      g_autoptr(GString) rows = g_string_new(NULL);
      case_answer_csv(rows, &answer, file);
      fwrite(rows->str, 1, rows->len, stdout);
    }
    status = MAX(status, case_answer_status(&answer));
    case_answer_clear(&answer);
  }
  assessor_free(assessor);
  return status;
}

int cli_assess(int argc, char **argv)
{
  gboolean json = FALSE, csv = FALSE, bridge = FALSE, fine = FALSE, live = FALSE, waterfall = FALSE;
  gboolean each = FALSE, progress = FALSE, nul = FALSE, timing = FALSE;
  int workers = 0;
  const GOptionEntry entry[] = {
      {"fine", 0, 0, G_OPTION_ARG_NONE, &fine, N_("Converged answer on a finer mesh"), NULL},
      {"live", 0, 0, G_OPTION_ARG_NONE, &live, N_("Quick answer, as while drawing; no advice"),
       NULL},
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("One JSON object a line"), NULL},
      {"csv", 0, 0, G_OPTION_ARG_NONE, &csv,
       N_("A table (RFC 4180): a row of names, then one a connector"), NULL},
      {"bridge", 0, 0, G_OPTION_ARG_NONE, &bridge,
       N_("Compare with the flat picture of the whole bridge"), NULL},
      {"waterfall", 0, 0, G_OPTION_ARG_NONE, &waterfall,
       N_("Step by step from the best connector in the room to the drawn one"), NULL},
      {"each", 0, 0, G_OPTION_ARG_NONE, &each,
       N_("Many cases at once, JSON or a table as they finish; names from standard input if none "
          "are given"),
       NULL},
      {"workers", 0, 0, G_OPTION_ARG_INT, &workers,
       N_("With --each: cases at once; else one for each core"), N_("N")},
      {"null", '0', 0, G_OPTION_ARG_NONE, &nul,
       N_("With --each: names on standard input end with NUL"), NULL},
      {"progress", 0, 0, G_OPTION_ARG_NONE, &progress,
       N_("With --each: progress on standard error, even where that is a file"), NULL},
      {"timing", 0, 0, G_OPTION_ARG_NONE, &timing,
       N_("With --each: the seconds that each case took"), NULL},
      G_OPTION_ENTRY_NULL};
  if (!cli_options("CASE.xml...", _("Assesses every connector of each case."), entry, &argc, &argv))
    return EXIT_BAD;
  if (live && fine)
    return cli_bad("%s", _("--live and --fine exclude each other. Give one of them."));
  AssessSettings settings = assess_settings_default();
  settings.figures_only = true;
  settings.whole_bridge = bridge;
  settings.waterfall = waterfall;
  settings.grade = fine ? ASSESS_FINE : live ? ASSESS_LIVE : ASSESS_REST;
  if (csv && json)
    return cli_bad("%s", _("--csv and --json exclude each other. Give one of them."));
  LineWish line = {.bridge = bridge, .seconds = timing || !each};
  if (each) {
    EachWish wish = {settings, line, csv, workers, progress, nul};
    return each_run(&wish, argc - 1, argv + 1);
  }
  if (argc < 2)
    return cli_bad("%s", _("no case named. Name one or more case files."));
  settings.threads = (int)g_get_num_processors();
  return cases_run(&settings, &line, json, csv, argc - 1, argv + 1);
}
