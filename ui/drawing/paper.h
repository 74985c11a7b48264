/* paper.h - what goes on paper: the sheet of a case, the finishing list for the bench, the
 * decisions of a day. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Points (1/72 inch).  Pages are drawn one after the other, each ended by cairo_show_page(): any
 * paged surface will do; or each onto a recording of its own, for a screen or a printer that takes
 * them one by one. */
#pragma once
#include "assess.h"
#include "lab/lab_day.h"
#include "ui/drawing/text.h"

typedef enum {
  PAPER_CASE,  /* the bridge, a page a connector and why, finishing list, record */
  PAPER_BENCH, /* the finishing list, readable at arm's length                   */
  PAPER_DAY    /* the decisions of one day in a lab                              */
} PaperKind;

typedef enum { PAPER_A4, PAPER_LETTER, PAPER_SIZE_N } PaperSize;

#define PAPER_SCALE 0.66 /* of a screen: 8.6 pt notes and 10 pt text */
#define PAPER_BENCH_SCALE 1.1
#define PAPER_MARGIN 45.0
#define PAPER_FOOT 62.0 /* lowest place for content, above the bottom */

/* Borrowed; both sides must outlive the drawing. */
typedef struct {
  PaperKind kind;
  double width, height;   /* of a page, paper_size_points()                    */
  const Assessment *a;    /* PAPER_CASE, PAPER_BENCH                           */
  const PublicKeys *keys; /* of the lab; NULL = none: what is signed is by a key unknown here */
  const LabDay *day;      /* PAPER_DAY                                         */
  const char *time;       /* as shown to the reader; NULL = none               */
} PaperJob;

void paper_size_points(PaperSize size, double *width, double *height);
PaperSize paper_size_default(void);                       /* of the locale (LC_PAPER) */
bool paper_size_from_id(const char *id, PaperSize *size); /* "a4", "letter"           */
/* "QB-02 – Four units", "Decisions of a day"; owned. */
char *paper_title(const PaperJob *job, const DrawContext *context);

/* All pages; returns their number.
 *   context   in  light palette, scale PAPER_SCALE
 *   pages     in  shown in the feet; 0 = not known yet
 *   counting  in  lays out without drawing pictures */
int paper_draw(cairo_t *cr, const DrawContext *context, const PaperJob *job, int pages,
               bool counting);
/* The same as recordings, cairo_surface_t of job->width x job->height; owned.  NULL without memory.
 */
GPtrArray *paper_sheets(const DrawContext *context, const PaperJob *job);
