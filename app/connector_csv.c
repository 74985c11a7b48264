/* connector_csv.c - see connector_csv.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "connector_csv.h"
#include "connector_line.h"
#include "csv_line.h"
#include <math.h>
#include <stddef.h>
#include <stdio.h>

#define TEXT_ROOM 400
#define REASONS 24

static const struct {
  const char *name, *unit; /* of the column; a band has three: name, name_low, name_high */
  size_t at;               /* of the double or Banded in the ConnectorAssessment */
  bool banded;
} column[] = {
    {"neck_height", "_mm", offsetof(ConnectorAssessment, form.neck_height), false},
    {"neck_width", "_mm", offsetof(ConnectorAssessment, section.width), false},
    {"neck_area", "_mm2", offsetof(ConnectorAssessment, section.area), false},
    {"roof_radius", "_mm", offsetof(ConnectorAssessment, form.roof_radius), true},
    {"room", "_mm", offsetof(ConnectorAssessment, form.gap_circle), false},
    {"moment", "_n_mm", offsetof(ConnectorAssessment, order.moment_n_mm), false},
    {"shear", "_n", offsetof(ConnectorAssessment, order.shear_n), false},
    {"lateral", "_n_mm", offsetof(ConnectorAssessment, order.lateral_n_mm), false},
    {"torsion", "_n_mm", offsetof(ConnectorAssessment, order.torsion_n_mm), false},
    {"pin_moment", "_n_mm", offsetof(ConnectorAssessment, pin_moment_n_mm), false},
    {"nominal", "_mpa", offsetof(ConnectorAssessment, nominal_mpa), false},
    {"peak", "_mpa", offsetof(ConnectorAssessment, peak_mpa), true},
    {"strength", "_mpa", offsetof(ConnectorAssessment, strength_mpa), true},
    {"margin", "", offsetof(ConnectorAssessment, margin), true},
    {"carries", "_n", offsetof(ConnectorAssessment, carries_n), true},
    {"scratch", "_um", offsetof(ConnectorAssessment, scratch_um), true},
    {"chance", "_percent", offsetof(ConnectorAssessment, chance_percent), true},
    {"service_margin", "", offsetof(ConnectorAssessment, service_margin), true},
    {"service_chance", "_percent", offsetof(ConnectorAssessment, service_chance_percent), true},
    {"service_scratch", "_um", offsetof(ConnectorAssessment, service_scratch_um), true},
};

static const char *const first[] = {"file",    "case", "title", "connector",
                                    "verdict", "form", "answer"},
                         *const last[] = {"reasons", "advice", "error"};

void connector_csv_head_print(void)
{
  g_autoptr(GString) rows = g_string_new(NULL);
  static const char *const end[] = {"", "_low", "_high"};
  for (size_t i = 0; i < G_N_ELEMENTS(first); i++)
    csv_text(rows, first[i]);
  for (size_t i = 0; i < G_N_ELEMENTS(column); i++)
    for (int k = 0; k < (column[i].banded ? 3 : 1); k++) {
      g_autofree char *name = g_strconcat(column[i].name, end[k], column[i].unit, NULL);
      csv_text(rows, name);
    }
  for (size_t i = 0; i < G_N_ELEMENTS(last); i++)
    csv_text(rows, last[i]);
  csv_end(rows);
  fwrite(rows->str, 1, rows->len, stdout);
}

static void phrase_add(GString *text, const Phrase *phrase)
{
  char words[TEXT_ROOM];
  phrase_format(phrase, NULL, ".", words, sizeof words);
  g_string_append_printf(text, "%s%s", text->len ? "; " : "", words);
}

static void connector_row(GString *rows, const Assessment *a, size_t i, const char *file)
{
  const ConnectorAssessment *k = &a->connector[i];
  g_autoptr(GString) reasons = g_string_new(NULL);
  g_autoptr(GString) advice = g_string_new(NULL);
  Phrase reason[REASONS];
  char name[12];
  connector_name(&a->c, i, '-', name);
  const char *const text[G_N_ELEMENTS(first)] = {file,
                                                 a->c.number,
                                                 a->c.title,
                                                 name,
                                                 verdict_id(k->verdict),
                                                 form_id(k->form.kind),
                                                 answer_id(k->field)};
  for (size_t c = 0; c < G_N_ELEMENTS(first); c++)
    csv_text(rows, text[c]);
  for (size_t c = 0; c < G_N_ELEMENTS(column); c++) {
    const char *at = (const char *)k + column[c].at;
    Banded value = {*(const double *)(const void *)at, 0, 0};
    if (column[c].banded)
      value = *(const Banded *)(const void *)at;
    csv_number(rows, value.value);
    if (column[c].banded) {
      csv_number(rows, value.low);
      csv_number(rows, value.high);
    }
  }
  size_t n = assessment_reasons(a, i, reason, REASONS);
  for (size_t r = 0; r < n && r < REASONS; r++)
    phrase_add(reasons, &reason[r]);
  for (size_t r = 0; r < a->n_advice; r++)
    if (a->advice[r].connector == i)
      phrase_add(advice, &a->advice[r].act);
  csv_text(rows, reasons->str);
  csv_text(rows, advice->str);
  csv_text(rows, "");
  csv_end(rows);
}

/* Every column but file, case and the last is empty. */
static void trouble_row(GString *rows, const CaseAnswer *answer, const char *file,
                        const char *trouble)
{
  g_autofree char *words = g_utf8_make_valid(trouble, -1);
  csv_text(rows, file);
  csv_text(rows, answer->a ? answer->a->c.number : "");
  for (size_t i = 2; i < G_N_ELEMENTS(first); i++)
    csv_text(rows, "");
  for (size_t i = 0; i < G_N_ELEMENTS(column); i++)
    for (int k = 0; k < (column[i].banded ? 3 : 1); k++)
      csv_number(rows, NAN);
  for (size_t i = 1; i < G_N_ELEMENTS(last); i++)
    csv_text(rows, "");
  csv_text(rows, words);
  csv_end(rows);
}

void case_answer_csv(GString *rows, const CaseAnswer *answer, const char *file)
{
  for (size_t k = 0; answer->a && k < answer->a->n_connector; k++)
    connector_row(rows, answer->a, k, file);
  for (guint i = 0; i < answer->trouble->len; i++)
    trouble_row(rows, answer, file, answer->trouble->pdata[i]);
}
