/* cli_best.c - soffit-cli best: the best outline of a connector in its room.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_best.h"
#include "casefile/case_xml.h"
#include "cli.h"
#include "json_print.h"
#include "ui/words.h"
#include <stdio.h>

static char *path_of(const Outline *outline)
{
  if (outline->n == 0)
    return g_strdup("");
  size_t need = outline_to_path(outline, NULL, 0);
  char *d = g_malloc(need + 1);
  outline_to_path(outline, d, need + 1);
  return d;
}

static void best_json(const Case *c, const BestOutline *best, bool take_height)
{
  char name[12];
  g_autofree char *d = path_of(&best->outline);
  connector_name(c, best->connector, '-', name);
  GString *line = json_begin();
  json_text(line, "case", c->number);
  json_text(line, "connector", name);
  json_text(line, "height", take_height ? "taken" : "kept");
  json_number(line, "fall_percent", best->fall_percent.value);
  json_number(line, "fall_low_percent", best->fall_percent.low);
  json_number(line, "fall_high_percent", best->fall_percent.high);
  json_number(line, "today_mpa", best->today_mpa);
  json_number(line, "best_mpa", best->best_mpa);
  json_number(line, "moment_n_mm", best->load.moment_n_mm);
  json_number(line, "shear_n", best->load.shear_n);
  json_text(line, "outline", d);
  json_text(line, "hindered", best->breach ? room_breach_text(best->breach) : "");
  json_number(line, "solves", best->solves);
  json_number(line, "seconds", best->seconds);
  json_end_print(line);
}

static void best_print(const Case *c, const BestOutline *best)
{
  char name[12];
  connector_name(c, best->connector, '/', name);
  if (best->breach)
    printf("%s %s: %s\n", c->number, name, _(room_breach_text(best->breach)));
  else if (best->outline.n == 0)
    printf(_("%s %s: the outline as drawn is as good as any in this room\n"), c->number, name);
  else {
    g_autofree char *d = path_of(&best->outline);
    printf(_("%s %s: %.0f %% lower in the same room (%.0f-%.0f); %.0f instead of %.0f MPa\n"),
           c->number, name, best->fall_percent.value, best->fall_percent.low,
           best->fall_percent.high, best->best_mpa, best->today_mpa);
    printf("  %s\n", d);
  }
  printf(_("  %d solids, %.2f s\n"), best->solves, best->seconds);
}

int cli_best(int argc, char **argv)
{
  gboolean json = FALSE, take = FALSE;
  const GOptionEntry entry[] = {
      {"take-height", 0, 0, G_OPTION_ARG_NONE, &take,
       N_("Roof down as far as the brush allows; else the neck keeps its height"), NULL},
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("One JSON object a line"), NULL},
      G_OPTION_ENTRY_NULL};
  if (!cli_options("CASE.xml CONNECTOR",
                   _("Best outline in the room of a connector such as 35-36."), entry, &argc,
                   &argv))
    return EXIT_BAD;
  if (argc != 3)
    return cli_bad("%s", _("best needs one case file and a connector such as 35-36."));
  g_autoptr(GError) error = NULL;
  Case c;
  case_init(&c);
  Assessor *assessor = NULL;
  BestOutline best;
  best_outline_init(&best);
  int status = EXIT_HOLDS;
  if (!case_load(&c, argv[1], &error)) {
    status = cli_bad("%s", error->message);
    goto out;
  }
  size_t connector = connector_named(&c, argv[2]);
  if (connector == SIZE_MAX) {
    char first[12];
    connector_name(&c, 0, '-', first);
    status = cli_bad(_("%s has no connector \"%s\". Name two neighbours, such as %s."), argv[1],
                     argv[2], first);
    goto out;
  }
  BestSettings settings = {.threads = (int)MIN(g_get_num_processors(), 4), .take_height = take};
  Fault fault = assessor_new(&assessor);
  if (!fault)
    fault = assess_best(assessor, &c, connector, &settings, &best);
  if (fault) {
    status = cli_bad("%s: %s: %s", argv[1], argv[2],
                     fault == FAULT_RANGE
                         ? _("there is no embrasure here whose outline could change. Draw one, or "
                             "draw the room higher and wider.")
                         : _(fault_text(fault)));
    goto out;
  }
  if (json)
    best_json(&c, &best, take);
  else
    best_print(&c, &best);
  status = best.outline.n ? EXIT_HOLDS : EXIT_NOT;
out:
  best_outline_clear(&best);
  assessor_free(assessor);
  case_clear(&c);
  return status;
}
