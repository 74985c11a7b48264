/* cli_records.c - soffit-cli records: where bridges broke against where that was expected.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_break.h"
#include "casefile/case_xml.h"
#include "cli.h"
#include "json_line.h"
#include "ui/words.h"
#include <math.h>
#include <stdio.h>

static const char *connector_id(const Case *c, size_t i, char name[12])
{
  connector_name(c, i, '-', name);
  return name;
}

static void record_json(const Assessment *a, const BreakCheck *check)
{
  char name[12];
  const BreakOrigin *origin = &a->c.origin;
  GString *line = json_begin();
  json_text(line, "case", a->c.number);
  json_text(line, "expected_connector", connector_id(&a->c, check->expected, name));
  json_text(line, "expected_zone", zone_id(check->expected_zone));
  json_text(line, "broke_connector", connector_id(&a->c, check->broke, name));
  json_text(line, "broke_zone", zone_id(check->broke_zone));
  json_text(line, "kind", origin_kind_id(origin->kind));
  json_text(line, "connector_hit", check->connector_hit ? "yes" : "no");
  json_text(line, "zone_hit", check->zone_hit ? "yes" : "no");
  json_number(line, "distance_mm", check->distance);
  json_number(line, "margin", check->margin);
  json_number(line, "load_n", origin->load_n);
  json_number(line, "load_share", check->load_share);
  json_number(line, "years", origin->years);
  json_end_print(line);
}

static void record_print(const Assessment *a, const BreakCheck *check)
{
  char expected[12], broke[12];
  const char *hit = check->zone_hit        ? _("place and connector as expected")
                    : check->connector_hit ? _("connector as expected, another place")
                                           : _("another connector than expected");
  printf(_("%s: broke at %s %s (%s); expected %s %s; %s"), a->c.number,
         connector_id(&a->c, check->broke, broke), _(zone_name(check->broke_zone)),
         _(origin_kind_name(a->c.origin.kind)), connector_id(&a->c, check->expected, expected),
         _(zone_name(check->expected_zone)), hit);
  if (!isnan(check->distance))
    printf(_(", %.2f mm from the hot spot"), check->distance);
  putchar('\n');
}

static void share_json(GString *line, const char *key, size_t hits, size_t n)
{
  Banded share = hit_share_percent(hits, n);
  json_open(line, key, '{');
  json_number(line, "hits", (double)hits);
  json_number(line, "percent", share.value);
  json_number(line, "low_percent", share.low);
  json_number(line, "high_percent", share.high);
  json_close(line, '}');
}

static void tally_json(const BreakTally *tally)
{
  GString *line = json_begin();
  json_number(line, "cases", (double)tally->cases);
  json_number(line, "records", (double)tally->recorded);
  share_json(line, "connector", tally->connector_hits, tally->recorded);
  share_json(line, "zone", tally->zone_hits, tally->recorded);
  json_number(line, "mean_distance_mm", tally->distances ? tally->distance : NAN);
  json_open(line, "kinds", '{');
  for (int k = 0; k < ORIGIN_KINDS; k++)
    if (tally->kind[k])
      json_number(line, k ? origin_kind_id((OriginKind)k) : "unknown", (double)tally->kind[k]);
  json_close(line, '}');
  json_end_print(line);
}

static void tally_print(const BreakTally *tally)
{
  static const char *const row[2] = {N_("connector"), N_("connector and place")};
  printf(_("%zu records of a break in %zu cases\n"), tally->recorded, tally->cases);
  for (int i = 0; i < 2 && tally->recorded; i++) {
    size_t hits = i ? tally->zone_hits : tally->connector_hits;
    Banded share = hit_share_percent(hits, tally->recorded);
    printf(_("  as expected, %s: %zu of %zu, %.0f %% (90 %% band %.0f-%.0f)\n"), _(row[i]), hits,
           tally->recorded, share.value, share.low, share.high);
  }
  if (tally->distances)
    printf(_("  mean distance from the hot spot: %.2f mm (%zu places)\n"), tally->distance,
           tally->distances);
  for (int k = 0; k < ORIGIN_KINDS; k++)
    if (tally->kind[k])
      printf("  %s: %zu\n", _(origin_kind_name((OriginKind)k)), tally->kind[k]);
}

/* Adds one case; false after a message. */
static bool record_add(Assessor *assessor, const char *path, bool json, BreakTally *tally)
{
  g_autoptr(GError) error = NULL;
  Assessment *a = NULL;
  Case c;
  case_init(&c);
  AssessSettings settings = assess_settings_default();
  settings.grade = ASSESS_LIVE; /* no advice is asked for */
  Fault fault = FAULT_NONE;
  if (!case_load(&c, path, &error))
    cli_bad("%s", error->message);
  else if ((fault = assess(assessor, &c, &settings, &a)) != FAULT_NONE)
    cli_bad("%s: %s", path, _(fault_text(fault)));
  case_clear(&c);
  if (!a)
    return false;
  BreakCheck check = break_check(a);
  break_tally(tally, a, &check);
  if (check.recorded && json)
    record_json(a, &check);
  else if (check.recorded)
    record_print(a, &check);
  assessment_unref(a);
  return true;
}

int cli_records(int argc, char **argv)
{
  gboolean json = FALSE;
  const GOptionEntry entry[] = {
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("One JSON object a line"), NULL},
      G_OPTION_ENTRY_NULL};
  if (!cli_options("CASE.xml...",
                   _("Where bridges broke, against where Soffit expected it: a line a record, then "
                     "the hits. Cases without a record are counted and passed over."),
                   entry, &argc, &argv))
    return EXIT_BAD;
  if (argc < 2)
    return cli_bad("%s", _("no case named. Name one or more case files."));
  Assessor *assessor = NULL;
  if (assessor_new(&assessor))
    return cli_bad("%s", _(fault_text(FAULT_MEMORY)));
  BreakTally tally = {0};
  int bad = 0;
  for (int i = 1; i < argc; i++)
    bad += !record_add(assessor, argv[i], json, &tally);
  assessor_free(assessor);
  if (json)
    tally_json(&tally);
  else
    tally_print(&tally);
  return bad ? EXIT_BAD : EXIT_HOLDS;
}
