/* test_print.c - a print job against what poppler reads: pages, sizes, words of the PDF and of what
 * a printer gets. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Needs a display (xvfb-run) and pdfinfo, pdftotext.  No printer: GTK exports the operation. */
#include "fake_assessment.h"
#include "on_screen.h"
#include "ui/print_job.h"
#include <glib/gstdio.h>
#include <stdio.h>

typedef struct {
  int pages;
  double width, height; /* pt, of the first page */
} Pdf;

static char *tool(const char *const argv[])
{
  char *out = NULL;
  int status = -1;
  g_autoptr(GError) error = NULL;
  g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, NULL, &status,
               &error);
  g_assert_no_error(error);
  g_assert_true(g_spawn_check_wait_status(status, &error));
  return out;
}

static Pdf pdf_read(const char *path)
{
  Pdf pdf = {0};
  g_autofree char *info = tool((const char *const[]){"pdfinfo", path, NULL});
  const char *pages = strstr(info, "Pages:"), *size = strstr(info, "Page size:");
  g_assert_nonnull(pages);
  g_assert_nonnull(size);
  g_assert_cmpint(sscanf(pages, "Pages: %d", &pdf.pages), ==, 1);
  g_assert_cmpint(sscanf(size, "Page size: %lf x %lf", &pdf.width, &pdf.height), ==, 2);
  return pdf;
}

static PrintJob *job_make(PaperKind kind, PaperSize size)
{
  static Assessment *a; /* shared by all jobs, and left to the end of the program */
  if (!a)
    a = fake_assessment_new();
  return print_job_new(a, NULL, kind, size);
}

/* ISO 216: 210 x 297 mm; ANSI/ASME Y14.1 size A: 8.5 x 11 in. */
static const struct {
  double width, height;
} expected[PAPER_SIZE_N] = {
    [PAPER_A4] = {210 / 25.4 * 72, 297 / 25.4 * 72}, [PAPER_LETTER] = {8.5 * 72, 11 * 72}};

static char *file_in(const char *folder, const char *name)
{
  return g_build_filename(folder, name, NULL);
}

/* A mark on the sheet: anything but transparent. */
static bool sheet_is_drawn(cairo_surface_t *sheet)
{
  double x, y, width, height;
  cairo_recording_surface_ink_extents(sheet, &x, &y, &width, &height);
  return width > 300 && height > 300;
}

static void test_sheets(gconstpointer data)
{
  PaperKind kind = (PaperKind)GPOINTER_TO_INT(data);
  g_autofree char *folder = g_dir_make_tmp("soffit-print-XXXXXX", NULL),
                  *path = file_in(folder, "out.pdf");
  for (PaperSize size = 0; size < PAPER_SIZE_N; size++) {
    g_autoptr(PrintJob) job = job_make(kind, size);
    g_autoptr(GError) error = NULL;
    print_job_save(job, path, &error);
    g_assert_no_error(error);
    Pdf pdf = pdf_read(path);
    const GPtrArray *sheets = print_job_sheets(job);
    g_assert_nonnull(sheets);
    g_assert_cmpuint(sheets->len, ==, (guint)pdf.pages);
    g_assert_true(print_job_sheets(job) == sheets); /* drawn once */
    g_assert_cmpfloat_with_epsilon(pdf.width, expected[size].width, 0.01);
    g_assert_cmpfloat_with_epsilon(pdf.height, expected[size].height, 0.01);
    for (guint i = 0; i < sheets->len; i++) {
      cairo_rectangle_t page;
      g_assert_true(cairo_recording_surface_get_extents(sheets->pdata[i], &page));
      g_assert_cmpfloat_with_epsilon(page.width, expected[size].width, 0.01);
      g_assert_cmpfloat_with_epsilon(page.height, expected[size].height, 0.01);
      g_assert_true(sheet_is_drawn(sheets->pdata[i]));
    }
  }
  g_unlink(path);
  g_rmdir(folder);
}

static int by_word(const void *a, const void *b)
{
  return strcmp(*(char *const *)a, *(char *const *)b);
}

/* All words of one page, sorted: poppler puts what stands on one line in either order when the
 * coordinates were rounded otherwise. */
static char *words_of(const char *path, int page)
{
  g_autofree char *number = g_strdup_printf("%d", page);
  g_autofree char *text =
      tool((const char *const[]){"pdftotext", "-f", number, "-l", number, path, "-", NULL});
  g_auto(GStrv) word = g_strsplit_set(text, " \n\f", -1);
  qsort(word, g_strv_length(word), sizeof *word, by_word);
  char **first = word;
  while (*first && !**first)
    first++; /* of empty lines */
  return g_strjoinv(" ", first);
}

/* What a printer gets is the page of the file: the same words on the same pages. */
static void test_printer(gconstpointer data)
{
  PaperSize size = (PaperSize)GPOINTER_TO_INT(data);
  g_autofree char *folder = g_dir_make_tmp("soffit-print-XXXXXX", NULL),
                  *saved = file_in(folder, "saved.pdf"), *printed = file_in(folder, "printed.pdf");
  g_autoptr(PrintJob) job = job_make(PAPER_CASE, size);
  g_autoptr(GError) error = NULL;
  print_job_save(job, saved, &error);
  g_assert_no_error(error);
  g_autoptr(GtkPrintOperation) operation = print_job_operation(job);
  g_assert_nonnull(operation);
  gtk_print_operation_set_allow_async(operation, FALSE);
  gtk_print_operation_set_export_filename(operation, printed);
  gtk_print_operation_run(operation, GTK_PRINT_OPERATION_ACTION_EXPORT, NULL, &error);
  g_assert_no_error(error);
  Pdf want = pdf_read(saved), got = pdf_read(printed);
  g_assert_cmpint(got.pages, ==, want.pages);
  g_assert_cmpfloat_with_epsilon(got.width, expected[size].width, 0.5);
  g_assert_cmpfloat_with_epsilon(got.height, expected[size].height, 0.5);
  for (int page = 1; page <= want.pages; page++) {
    g_autofree char *in_file = words_of(saved, page), *on_paper = words_of(printed, page);
    g_assert_cmpuint(strlen(in_file), >, 100);
    g_assert_cmpstr(on_paper, ==, in_file);
  }
  g_unlink(saved);
  g_unlink(printed);
  g_rmdir(folder);
}

static void test_words(void)
{
  g_autoptr(PrintJob) sheet = job_make(PAPER_CASE, PAPER_A4),
                      bench = job_make(PAPER_BENCH, PAPER_A4);
  g_autofree char *title = print_job_title(sheet), *one = print_job_file(sheet),
                  *other = print_job_file(bench);
  const char *number = print_job_paper(sheet)->a->c.number;
  g_assert_true(g_str_has_prefix(title, number));
  g_assert_true(g_str_has_prefix(one, number) && g_str_has_suffix(one, ".pdf"));
  g_assert_cmpstr(one, !=, other);
  g_assert_null(strpbrk(other, "/ "));
}

static void test_no_place(void)
{
  g_autoptr(PrintJob) job = job_make(PAPER_BENCH, PAPER_A4);
  g_autoptr(GError) error = NULL;
  g_assert_false(print_job_save(job, "/nonexistent/folder/out.pdf", &error));
  g_assert_nonnull(error);
  g_assert_nonnull(strstr(error->message, "out.pdf"));
}

int main(int argc, char **argv)
{
  on_screen();
  gtk_test_init(&argc, &argv, NULL);
  g_test_add_data_func("/print/sheets/case", GINT_TO_POINTER(PAPER_CASE), test_sheets);
  g_test_add_data_func("/print/sheets/bench", GINT_TO_POINTER(PAPER_BENCH), test_sheets);
  g_test_add_data_func("/print/printer/a4", GINT_TO_POINTER(PAPER_A4), test_printer);
  g_test_add_data_func("/print/printer/letter", GINT_TO_POINTER(PAPER_LETTER), test_printer);
  g_test_add_func("/print/words", test_words);
  g_test_add_func("/print/no-place", test_no_place);
  return g_test_run();
}
