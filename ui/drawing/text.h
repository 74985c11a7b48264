/* text.h - letters: the interface font in the sizes of the look, tabular figures, a halo of paper
 * where needed. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px; y is the baseline.  Words come in as English msgids or phrases and are translated here. */
#pragma once
#include "base/banded.h"
#include "ui/drawing/ink.h"

#define TEXT_ROOM 256

typedef enum { TEXT_NOTE, TEXT_BODY, TEXT_TITLE, TEXT_FIGURE, TEXT_VERDICT, TEXT_SIZE_N } TextSize;
typedef enum { ALIGN_LEFT, ALIGN_CENTRE, ALIGN_RIGHT } Align;

typedef struct {
  TextSize size;
  bool bold;
  bool halo; /* of COLOUR_PAPER, for words on shaded material */
  Colour colour;
  Align align;
} TextStyle;

double text_px(const DrawContext *context, TextSize size); /* height of the em */
const char *text_word(const DrawContext *context, const char *msgid);
double text_width(cairo_t *cr, const DrawContext *context, TextStyle style, const char *words);
/* Draws and returns the width.  `words` are shown as they are. */
double text_draw(cairo_t *cr, const DrawContext *context, TextStyle style, Point at,
                 const char *words);
/* Several lines in a column `width` wide, broken between words; y is the first baseline.  Returns
 * the height used, line height included; lines beyond max_lines are cut with an ellipsis (0 = no
 * limit). measure: draws nothing. */
double text_column(cairo_t *cr, const DrawContext *context, TextStyle style, Point at, double width,
                   int max_lines, bool measure, const char *words);
/* The same column, of it the lines [first, first + n), the first of them on the baseline at.y: for
 * words that go on in another column or page.  Returns how many lines it has in all. */
int text_column_lines(cairo_t *cr, const DrawContext *context, TextStyle style, Point at,
                      double width, int first, int n, const char *words);
double text_line_height(const DrawContext *context, TextSize size);
/* Box that text_draw covers. */
Box text_box(cairo_t *cr, const DrawContext *context, TextStyle style, Point at, const char *words);

/* Numbers and sentences into buf[TEXT_ROOM]; they return buf. */
char *say_number(const DrawContext *context, char *buf, double value, int decimals);
char *say_phrase(const DrawContext *context, char *buf, Phrase phrase);
/* A template with up to four values: say(context, buf, N_("{0.2} mm"), 3.25, 0, 0, 0). */
char *say(const DrawContext *context, char *buf, const char *text, double v0, double v1, double v2,
          double v3);
/* "137 (126–152)"; "–" when the value is not known. */
char *say_banded(const DrawContext *context, char *buf, Banded banded, int decimals);
/* "± 2 %", rounded up; the ends where one is cut off at nil: "0–1300". */
char *say_spread(const DrawContext *context, char *buf, Banded banded);
