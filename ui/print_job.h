/* print_job.h - one case sheet or bench list on its way to paper: pages, a PDF file, a printer.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Keeps the answer it was made from: what is printed does not change while the work goes on. */
#pragma once
#include "ui/drawing/paper.h"
#include <gtk/gtk.h>

typedef struct PrintJob PrintJob;

/* Words and decimal sign of the desktop, the time of now.
 *   a     in  shared: the job has a reference of its own
 *   lab   in  folder whose public keys tell who signed; NULL = none known
 *   kind  in  PAPER_CASE or PAPER_BENCH */
PrintJob *print_job_new(const Assessment *a, const char *lab, PaperKind kind, PaperSize size);
PrintJob *print_job_ref(PrintJob *job);
void print_job_unref(PrintJob *job);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(PrintJob, print_job_unref)

const PaperJob *print_job_paper(const PrintJob *job); /* borrowed: kind, size in points */
char *print_job_title(const PrintJob *job);           /* owned, "QB-02 – Four units" */
char *print_job_file(const PrintJob *job);            /* owned, "QB-02.pdf": a name to offer */
/* cairo_surface_t of the page's size, drawn when first asked for; borrowed, NULL without memory. */
const GPtrArray *print_job_sheets(PrintJob *job);
/* The same file as soffit-cli report writes. */
bool print_job_save(const PrintJob *job, const char *path, GError **error);
/* Ready to run, with the pages and the paper of the job; keeps the job.  On other paper, chosen in
 * the printer's own dialog, the pages are made to fit.  NULL without memory; owned. */
GtkPrintOperation *print_job_operation(PrintJob *job);
