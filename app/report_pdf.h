/* report_pdf.h - a case as an A4 PDF file.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The pages are ui/drawing's; fonts are embedded; cairo writes no tags, so this is not an
 * accessible PDF. */
#pragma once
#include "assess.h"
#include <stdbool.h>

/*   title_time  in  date and time as the reader shall see them; NULL = none
 *   translate   in  NULL = English
 *   decimal     in  "." or ","; NULL = "."
 * The file is made whole in memory, written beside `path` and renamed: never half written. */
bool report_write_pdf(const Assessment *a, const char *path, const char *title_time,
                      PhraseTranslate translate, const char *decimal, GError **error);
