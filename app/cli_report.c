/* cli_report.c - soffit-cli report: a case, its list for the bench, or a day of decisions on paper.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "case_answer.h"
#include "cli.h"
#include "day_table.h"
#include "json_print.h"
#include "report_json.h"
#include "ui/drawing/paper_pdf.h"
#include "ui/words.h"
#include <locale.h>
#include <stdio.h>

/* Writes the job; false after a message. */
static bool job_write(PaperJob *job, PaperSize size, const char *out)
{
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  g_autofree char *time = g_date_time_format(now, _("%Y-%m-%d %H:%M"));
  g_autoptr(GError) error = NULL;
  setlocale(LC_NUMERIC, ""); /* a person reads the paper */
  DrawContext context = paper_context(words_translate, words_decimal());
  paper_size_points(size, &job->width, &job->height);
  job->time = time;
  if (paper_write_pdf(job, &context, out, &error))
    return true;
  cli_bad("%s", error->message);
  return false;
}

/* The public keys of the lab that a case lies in; never NULL. */
static PublicKeys *keys_beside(const char *folder)
{
  GPtrArray *trouble = NULL;
  PublicKeys *keys = public_keys_load(folder, &trouble);
  for (guint i = 0; trouble && i < trouble->len; i++)
    cli_bad("%s", (const char *)trouble->pdata[i]);
  g_clear_pointer(&trouble, g_ptr_array_unref);
  return keys;
}

/* As it is written: on paper, or for other programs on standard output. */
typedef enum { FORM_PDF, FORM_JSON, FORM_CSV } ReportForm;

static void text_print(GString *text)
{
  fwrite(text->str, 1, text->len, stdout);
  g_string_free(text, TRUE);
}

/* Prints the list, remarks and decision; false after a message. */
static bool json_print(const Assessment *a, const PublicKeys *keys)
{
  GString *line;
  Fault fault = report_json(a, keys, &line);
  if (fault)
    cli_bad("%s", _(fault_text(fault)));
  else
    json_end_print(line);
  return !fault;
}

static int case_report(Assessor *assessor, const char *path, PaperKind kind, ReportForm form,
                       PaperSize size, const char *out)
{
  AssessSettings settings = assess_settings_default();
  settings.threads = (int)g_get_num_processors();
  settings.waterfall = form == FORM_PDF && kind == PAPER_CASE;
  CaseAnswer answer;
  int status = EXIT_BAD;
  case_answer_said(assessor, path, &settings, &answer);
  if (answer.a) {
    g_autofree char *folder = g_path_get_dirname(path);
    PublicKeys *keys = keys_beside(folder);
    PaperJob job = {.kind = kind, .a = answer.a, .keys = keys};
    if (form == FORM_CSV)
      text_print(report_list_csv(answer.a));
    if (form == FORM_PDF    ? job_write(&job, size, out)
        : form == FORM_JSON ? json_print(answer.a, keys)
                            : true)
      status = case_answer_status(&answer);
    public_keys_free(keys);
  }
  case_answer_clear(&answer);
  return status;
}

static int day_report(const char *folder, const char *date, ReportForm form, PaperSize size,
                      const char *out)
{
  g_autoptr(GError) error = NULL;
  AssessSettings settings = assess_settings_default();
  settings.threads = (int)g_get_num_processors();
  PublicKeys *keys = keys_beside(folder);
  g_autoptr(LabDay) day = lab_day_read(folder, date, keys, &settings, &error);
  public_keys_free(keys);
  if (!day)
    return cli_bad("%s", error->message);
  for (guint i = 0; i < day->trouble->len; i++)
    cli_bad("%s", (const char *)day->trouble->pdata[i]);
  PaperJob job = {.kind = PAPER_DAY, .day = day};
  if (form == FORM_PDF && !job_write(&job, size, out))
    return EXIT_BAD;
  if (form != FORM_PDF)
    text_print(form == FORM_JSON ? day_json(day) : day_csv(day));
  return day->trouble->len ? EXIT_BAD : EXIT_HOLDS;
}

int cli_report(int argc, char **argv)
{
  g_autofree char *out = NULL, *paper = NULL, *date = NULL;
  gboolean bench = FALSE, json = FALSE, csv = FALSE;
  const GOptionEntry entry[] = {
      {"output", 'o', 0, G_OPTION_ARG_FILENAME, &out, N_("The PDF to write"), "FILE.pdf"},
      {"bench", 0, 0, G_OPTION_ARG_NONE, &bench,
       N_("The finishing list alone, readable at arm's length"), NULL},
      {"json", 0, 0, G_OPTION_ARG_NONE, &json,
       N_("Instead of a PDF: list, remarks and decision of a case as one JSON object, the "
          "decisions "
          "of a day as one a line"),
       NULL},
      {"csv", 0, 0, G_OPTION_ARG_NONE, &csv,
       N_("Instead of a PDF: the list of a case or the decisions of a day as a table (RFC 4180)"),
       NULL},
      {"day", 0, 0, G_OPTION_ARG_STRING, &date,
       N_("The decisions of a day in a folder of cases, such as 2026-03-02"), N_("DATE")},
      {"paper", 0, 0, G_OPTION_ARG_STRING, &paper, N_("a4 or letter; else what this place uses"),
       "a4|letter"},
      G_OPTION_ENTRY_NULL};
  if (!cli_options(
          "CASE.xml|FOLDER -o FILE.pdf | CASE.xml --json|--csv | --day DATE FOLDER --json|--csv",
          _("Writes one case, its finishing list, or the decisions of a day on paper."), entry,
          &argc, &argv))
    return EXIT_BAD;
  PaperSize size = paper_size_default();
  if (argc != 2 || (!out && !json && !csv))
    return cli_bad("%s", _("report needs one case and -o FILE.pdf, or --json."));
  if ((json || csv) && (out || bench || paper))
    return cli_bad("%s", _("--json and --csv write no paper: give them without -o, --bench and "
                           "--paper."));
  if (csv && json)
    return cli_bad("%s", _("--csv and --json exclude each other. Give one of them."));
  if (paper && !paper_size_from_id(paper, &size))
    return cli_bad(_("no paper \"%s\". Use a4 or letter."), paper);
  if (bench && date)
    return cli_bad("%s", _("--bench and --day exclude each other. Give one of them."));
  ReportForm form = json ? FORM_JSON : csv ? FORM_CSV : FORM_PDF;
  if (date)
    return day_report(argv[1], date, form, size, out);
  Assessor *assessor = NULL;
  if (assessor_new(&assessor))
    return cli_bad("%s", _(fault_text(FAULT_MEMORY)));
  int status = case_report(assessor, argv[1], bench ? PAPER_BENCH : PAPER_CASE, form, size, out);
  assessor_free(assessor);
  return status;
}
