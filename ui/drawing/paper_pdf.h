/* paper_pdf.h - paper as a PDF file.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Fonts are embedded, text can be searched and taken out; cairo writes no tags, so this is not an
 * accessible PDF. */
#pragma once
#include "ui/drawing/paper.h"
#include <glib.h>

/* For paper.h: light palette, PAPER_SCALE.
 *   translate   in  NULL = English
 *   decimal     in  "." or ","; NULL = "." */
DrawContext paper_context(PhraseTranslate translate, const char *decimal);
/* The file is made whole in memory, written beside `path` and renamed: never half written. */
bool paper_write_pdf(const PaperJob *job, const DrawContext *context, const char *path,
                     GError **error);
/* After each page; false: stop, nothing is written. */
typedef bool (*PaperTell)(guint pages, void *data);
/* A class of the school bench, one page a trainee.  On any thread.
 *   rows  in  of ClassRow (practice/class_folder.h), at least one
 *   set   in  of Exercise
 *   time  in  as shown to the reader; NULL = none
 *   tell  in  may be NULL */
bool paper_write_class(const GPtrArray *rows, const GPtrArray *set, PaperSize size,
                       const char *time, const DrawContext *context, PaperTell tell, void *data,
                       const char *path, GError **error);
