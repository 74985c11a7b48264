/* case_answer.c - a case file assessed, and in words what is wrong with it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "case_answer.h"
#include "casefile/case_xml.h"
#include "cli.h"
#include "ui/words.h"

static void trouble_add(CaseAnswer *answer, const char *format, ...) G_GNUC_PRINTF(2, 3);
static void trouble_add(CaseAnswer *answer, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  g_ptr_array_add(answer->trouble, g_strdup_vprintf(format, args));
  va_end(args);
}

/* Connectors without an answer, each with its line; then, if there are none, what is wrong with the
 * case. */
static void faults_tell(const char *path, CaseAnswer *answer)
{
  const Assessment *a = answer->a;
  char place[32] = "";
  const char *reason = fault_text(a->fault);
  bool sound = case_check(&a->c, place, &reason);
  for (size_t i = 0; i < a->n_connector; i++)
    if (a->connector[i].fault && !a->connector[i].field) {
      const ConnectorAssessment *k = &a->connector[i];
      long line = a->c.connector[i].file_line;
      g_autofree char *where = line ? g_strdup_printf("%s:%ld", path, line) : g_strdup(path);
      const char *name = !sound && g_str_has_prefix(place, k->name) ? place : k->name;
      trouble_add(answer, _("%s: connector %s at x %.2f, y %.2f: %s"), where, name, k->fault_at.x,
                  k->fault_at.y, _(fault_text(k->fault)));
      answer->bad = true;
    }
  if (a->bridge_fault) /* asked for beside the answer, which stands */
    trouble_add(answer, _("%s: whole bridge at x %.2f, y %.2f: %s"), path, a->bridge_fault_at.x,
                a->bridge_fault_at.y, _(fault_text(a->bridge_fault)));
  if (answer->bad) /* said, with its line */
    return;
  if (!sound)
    trouble_add(answer, "%s: %s: %s", path, place, _(reason));
  else if (a->fault)
    trouble_add(answer, "%s: %s", path, _(reason));
  answer->bad = !sound || a->fault;
}

void case_answer(Assessor *assessor, const char *path, const AssessSettings *settings,
                 CaseAnswer *answer)
{
  *answer = (CaseAnswer){.trouble = g_ptr_array_new_with_free_func(g_free)};
  g_autoptr(GError) error = NULL;
  Case c;
  case_init(&c);
  Fault fault = FAULT_NONE;
  if (!case_load(&c, path, &error))
    trouble_add(answer, "%s", error->message);
  else if ((fault = assess(assessor, &c, settings, &answer->a)))
    trouble_add(answer, "%s: %s", path, _(fault_text(fault)));
  case_clear(&c);
  if (answer->a)
    faults_tell(path, answer);
  else
    answer->bad = true;
}

void case_answer_said(Assessor *assessor, const char *path, const AssessSettings *settings,
                      CaseAnswer *answer)
{
  case_answer(assessor, path, settings, answer);
  for (guint i = 0; i < answer->trouble->len; i++)
    cli_bad("%s", (const char *)answer->trouble->pdata[i]);
}

void case_answer_clear(CaseAnswer *answer)
{
  assessment_unref(answer->a);
  g_clear_pointer(&answer->trouble, g_ptr_array_unref);
  *answer = (CaseAnswer){0};
}

int case_answer_status(const CaseAnswer *answer)
{
  return answer->bad ? EXIT_BAD : answer->a->verdict == VERDICT_HOLDS ? EXIT_HOLDS : EXIT_NOT;
}
