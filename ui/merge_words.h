/* merge_words.h - what the merge dialog says of each part.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Everything returned is owned. */
#pragma once
#include "ui/session.h"

/* "46/47: drawing", "Order"; c: a case with that connector. */
char *merge_part_words(const Case *c, const MergeRow *row);
/* What one side has made of it, held against `base` (NULL: not known) or the other side: a line a
 * change, "as it was" when that side has not changed it. */
char *merge_side_words(const Case *base, const Case *side, const Case *other, const MergeRow *row,
                       bool changed);
