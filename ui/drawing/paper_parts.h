/* paper_parts.h - pieces of the pages: heads, tables, rules, columns of words.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/drawing/paper.h"

#define PAPER_COLUMNS 10

extern const TextStyle paper_note, paper_body, paper_strong, paper_head;

void paper_page_begin(Paper *paper);
void paper_page_end(Paper *paper);
/* Starts a new page unless `need` pt are left. */
void paper_need(Paper *paper, double need);
double paper_left(void);
double paper_right(const Paper *paper);
void paper_heading(Paper *paper, const char *msgid, const char *aside_msgid);
void paper_rule(Paper *paper);
/* Words over the whole width or a part of it; moves y below them. */
void paper_words(Paper *paper, TextStyle style, double x, double width, const char *words);
/* One line of a table: cell k begins (or ends, for right alignment) at x[k]; NULL cells stay empty.
 */
void paper_row(Paper *paper, size_t n, const double x[], const TextStyle style[],
               const char *const cell[]);
void paper_verdict(Paper *paper, Verdict verdict, Point at, double size);

/* the pages */
void paper_bridge(Paper *paper);
void paper_connector(Paper *paper, size_t connector);
void paper_why(Paper *paper, size_t connector); /* none without an answer */
void paper_list(Paper *paper);
/* Advices of one connector, at most five and no more than the page has room for.
 *   named  in  says which connector it is: on the page of the bridge */
void paper_advice(Paper *paper, size_t connector, bool named);
