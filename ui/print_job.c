/* print_job.c - see print_job.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/print_job.h"
#include "record/signing.h"
#include "ui/drawing/paper_pdf.h"
#include "ui/words.h"

struct PrintJob {
  Assessment *a;    /* owned ref */
  PublicKeys *keys; /* owned; NULL = none known */
  char *time;       /* owned */
  char *folder;     /* owned: of the case; NULL = none */
  DrawContext context;
  PaperJob paper;
  PaperSize size;
  GPtrArray *sheets; /* owned; NULL: not drawn yet */
};

PrintJob *print_job_new(const Assessment *a, const char *lab, PaperKind kind, PaperSize size)
{
  PrintJob *job = g_rc_box_new0(PrintJob);
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  job->a = assessment_ref((Assessment *)a); /* counting alone changes it */
  job->keys = lab ? public_keys_load(lab, NULL) : NULL;
  job->folder = g_strdup(lab);
  job->time = g_date_time_format(now, _("%Y-%m-%d %H:%M"));
  job->context = paper_context(words_translate, words_decimal());
  job->paper = (PaperJob){.kind = kind, .a = job->a, .keys = job->keys, .time = job->time};
  job->size = size;
  paper_size_points(size, &job->paper.width, &job->paper.height);
  return job;
}

PrintJob *print_job_ref(PrintJob *job)
{
  return g_rc_box_acquire(job);
}

static void job_clear(void *data)
{
  PrintJob *job = data;
  g_clear_pointer(&job->sheets, g_ptr_array_unref);
  assessment_unref(job->a);
  public_keys_free(job->keys);
  g_free(job->time);
  g_free(job->folder);
}

void print_job_unref(PrintJob *job)
{
  g_rc_box_release_full(job, job_clear);
}

const PaperJob *print_job_paper(const PrintJob *job)
{
  return &job->paper;
}

char *print_job_title(const PrintJob *job)
{
  return paper_title(&job->paper, &job->context);
}

char *print_job_file(const PrintJob *job)
{
  const char *number = job->a->c.number;
  char *name = g_strdup_printf("%s%s.pdf", *number ? number : _("case"),
                               job->paper.kind == PAPER_BENCH ? _("-list") : "");
  return g_strdelimit(name, "/ ", '-');
}

const GPtrArray *print_job_sheets(PrintJob *job)
{
  if (!job->sheets)
    job->sheets = paper_sheets(&job->context, &job->paper);
  return job->sheets;
}

bool print_job_save(const PrintJob *job, const char *path, GError **error)
{
  return paper_write_pdf(&job->paper, &job->context, path, error);
}

/* --- a printer --- */

static void page_draw(GtkPrintOperation *operation, GtkPrintContext *print, int page, gpointer data)
{
  (void)operation;
  PrintJob *job = data;
  cairo_t *cr = gtk_print_context_get_cairo_context(print);
  double scale = MIN(gtk_print_context_get_width(print) / job->paper.width,
                     gtk_print_context_get_height(print) / job->paper.height);
  cairo_scale(cr, scale, scale);
  cairo_set_source_surface(cr, job->sheets->pdata[page], 0, 0);
  cairo_paint(cr);
}

GtkPrintOperation *print_job_operation(PrintJob *job)
{
  if (!print_job_sheets(job))
    return NULL;
  GtkPrintOperation *operation = gtk_print_operation_new();
  g_autoptr(GtkPageSetup) setup = gtk_page_setup_new();
  g_autoptr(GtkPrintSettings) settings = gtk_print_settings_new();
  GtkPaperSize *paper =
      gtk_paper_size_new(job->size == PAPER_LETTER ? GTK_PAPER_NAME_LETTER : GTK_PAPER_NAME_A4);
  g_autofree char *title = print_job_title(job), *file = print_job_file(job);
  gtk_page_setup_set_paper_size(setup, paper);
  gtk_print_settings_set_paper_size(settings, paper);
  /* "Print to File": beside the case, not where the program was started; GTK adds the ending */
  *strrchr(file, '.') = '\0';
  gtk_print_settings_set(settings, GTK_PRINT_SETTINGS_OUTPUT_BASENAME, file);
  if (job->folder) {
    g_autofree char *whole = g_canonicalize_filename(job->folder, NULL);
    gtk_print_settings_set(settings, GTK_PRINT_SETTINGS_OUTPUT_DIR, whole);
  }
  gtk_paper_size_free(paper);
  gtk_print_operation_set_default_page_setup(operation, setup);
  gtk_print_operation_set_print_settings(operation, settings);
  gtk_print_operation_set_use_full_page(operation, TRUE); /* the pages have margins of their own */
  gtk_print_operation_set_unit(operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_n_pages(operation, (int)job->sheets->len);
  gtk_print_operation_set_job_name(operation, title);
  gtk_print_operation_set_allow_async(operation, TRUE);
  g_signal_connect(operation, "draw-page", G_CALLBACK(page_draw), job);
  g_object_set_data_full(G_OBJECT(operation), "soffit-print-job", print_job_ref(job),
                         (GDestroyNotify)print_job_unref);
  return operation;
}
