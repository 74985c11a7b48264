/* cli_records.c - soffit-cli records: where bridges broke against where that was expected.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_records.h"
#include "casefile/folder_files.h"
#include "cli.h"
#include "json_print.h"
#include "ui/words.h"
#include <math.h>
#include <stdio.h>

/* "46/47" as files and JSON name it. */
static const char *connector_id(const char *name, char id[12])
{
  g_strlcpy(id, name, 12);
  return g_strdelimit(id, "/", '-');
}

static void record_json(const BreakRow *row)
{
  char id[12];
  const BreakCheck *check = &row->check;
  GString *line = json_begin();
  json_text(line, "case", row->number);
  json_text(line, "expected_connector", connector_id(row->expected, id));
  json_text(line, "expected_zone", zone_id(check->expected_zone));
  json_text(line, "broke_connector", connector_id(row->broke, id));
  json_text(line, "broke_zone", zone_id(check->broke_zone));
  json_text(line, "kind", origin_kind_id(row->kind));
  json_text(line, "connector_hit", check->connector_hit ? "yes" : "no");
  json_text(line, "zone_hit", check->zone_hit ? "yes" : "no");
  json_number(line, "distance_mm", check->distance);
  json_number(line, "margin", check->margin);
  json_number(line, "load_n", row->load_n);
  json_number(line, "load_share", check->load_share);
  json_number(line, "years", row->years);
  json_end_print(line);
}

static void record_print(const BreakRow *row)
{
  char expected[12], broke[12];
  const BreakCheck *check = &row->check;
  const char *hit = check->zone_hit        ? _("place and connector as expected")
                    : check->connector_hit ? _("connector as expected, another place")
                                           : _("another connector than expected");
  printf(_("%s: broke at %s %s (%s); expected %s %s; %s"), row->number,
         connector_id(row->broke, broke), _(zone_name(check->broke_zone)),
         _(origin_kind_name(row->kind)), connector_id(row->expected, expected),
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

/* Adds one case and says what its record says. */
static void record_add(Assessor *assessor, const char *path, bool json, BreakSum *sum)
{
  BreakRow row;
  Fault fault = break_row_read(assessor, path, NULL, NULL, &row, sum);
  if (row.error)
    cli_bad("%s", row.error->message);
  else if (fault || row.fault)
    cli_bad("%s: %s", path, _(fault_text(fault ? fault : row.fault)));
  else if (row.check.recorded && json)
    record_json(&row);
  else if (row.check.recorded)
    record_print(&row);
  sum->unread += fault != FAULT_NONE; /* not counted by the row itself */
  break_row_clear(&row);
}

/* A case, or all cases of a folder. */
static void argument_add(Assessor *assessor, const char *path, bool json, BreakSum *sum)
{
  if (!g_file_test(path, G_FILE_TEST_IS_DIR)) {
    record_add(assessor, path, json, sum);
    return;
  }
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) names = folder_files(path, ".xml", RECORDS_MOST, &error);
  if (!names) {
    cli_bad("%s", error->message);
    sum->unread++;
  }
  for (guint i = 0; names && i < names->len; i++) {
    g_autofree char *file = g_build_filename(path, names->pdata[i], NULL);
    record_add(assessor, file, json, sum);
  }
}

int cli_records(int argc, char **argv)
{
  gboolean json = FALSE;
  const GOptionEntry entry[] = {
      {"json", 0, 0, G_OPTION_ARG_NONE, &json, N_("One JSON object a line"), NULL},
      G_OPTION_ENTRY_NULL};
  if (!cli_options("CASE.xml|FOLDER...",
                   _("Where bridges broke, against where Soffit expected it: a line a record, then "
                     "the hits. Cases without a record are counted and passed over."),
                   entry, &argc, &argv))
    return EXIT_BAD;
  if (argc < 2)
    return cli_bad("%s", _("no case named. Name case files or folders of them."));
  Assessor *assessor = NULL;
  if (assessor_new(&assessor))
    return cli_bad("%s", _(fault_text(FAULT_MEMORY)));
  BreakSum sum = {0};
  for (int i = 1; i < argc; i++)
    argument_add(assessor, argv[i], json, &sum);
  assessor_free(assessor);
  if (json)
    tally_json(&sum.tally);
  else
    tally_print(&sum.tally);
  return sum.unread ? EXIT_BAD : EXIT_HOLDS;
}
