/* paper_parts.h - pieces of the pages: heads, tables, rules, columns of words.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/drawing/paper.h"

#define PAPER_COLUMNS 10

typedef struct {
  cairo_t *cr; /* of the page at hand */
  const PaperJob *job;
  const DrawContext *context; /* of what is drawn              */
  const DrawContext *edge;    /* of the head and foot of pages */
  const Assessment *a;        /* of the job                    */
  double width, height;       /* of a page                     */
  double y;                   /* where the next thing goes     */
  int page, pages;            /* pages = 0: not known yet      */
  bool counting;              /* lays out without drawing pictures */
  GPtrArray *sheets;          /* each page onto a recording of its own; NULL: all onto cr */
} Paper;

extern const TextStyle paper_note, paper_body, paper_strong, paper_head;

void paper_page_begin(Paper *paper);
void paper_page_end(Paper *paper);
/* Starts a new page unless `need` pt are left; true when it did. */
bool paper_need(Paper *paper, double need);
double paper_left(void);
double paper_right(const Paper *paper);
double paper_room(const Paper *paper); /* left to the foot */
TextStyle paper_aligned(TextStyle style, Align align);
/* The large words at the top of a page. */
void paper_big(Paper *paper, const char *words);
void paper_heading(Paper *paper, const char *msgid, const char *aside_msgid);
void paper_rule(Paper *paper);
/* A faint line below an entry of a list. */
void paper_part_line(Paper *paper);
/* Words over the whole width or a part of it; moves y below them.  Goes on on the next page where
 * it must, with no line left alone. */
void paper_words(Paper *paper, TextStyle style, double x, double width, const char *words);
/* One line of a table: cell k begins (or ends, for right alignment) at x[k]; NULL cells stay empty.
 */
void paper_row(Paper *paper, size_t n, const double x[], const TextStyle style[],
               const char *const cell[]);
void paper_verdict(Paper *paper, Verdict verdict, Point at, double size);
/* A box to tick, or ticked. */
void paper_box(const Paper *paper, double x, double y, double size, bool done);
/* A line to write on, or what is filled in. */
void paper_blank(const Paper *paper, double x0, double x1, double y, const char *filled);
/* "2026-03-02T10:20:00Z" as the reader writes it, in the time of this place; other words as they
 * are.  Owned. */
char *paper_time(const DrawContext *context, const char *iso);
/* "VS, supervisor", "Vera Sommer, supervisor", "": whatever is known; owned. */
char *paper_person(const DrawContext *context, const char *name, const char *initials,
                   const char *role);

/* the pages */
void paper_bridge(Paper *paper);
void paper_connector(Paper *paper, size_t connector);
void paper_why(Paper *paper, size_t connector); /* none without an answer */
void paper_list(Paper *paper);
void paper_cautions(Paper *paper);
void paper_record(Paper *paper);
void paper_bench(Paper *paper);
void paper_day(Paper *paper);
/* Advices of one connector, at most five and no more than the page has room for.
 *   named  in  says which connector it is: on the page of the bridge */
void paper_advice(Paper *paper, size_t connector, bool named);

/* paper_remarks.c: numbered over the whole case, on the sketch and in words. */
void paper_remark_pins(const Paper *paper, size_t connector, View view, Box bounds);
void paper_remarks(Paper *paper, size_t connector); /* SIZE_MAX: of the bridge */
