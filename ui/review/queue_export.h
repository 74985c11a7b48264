/* queue_export.h - what the queue shows, as a file for other programs.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The rows that are shown in their order, the columns that are shown in theirs.  A column of the
 * table is one or some of `soffit-cli lab --csv`, under the same heads: "Margin" is margin,
 * margin_low, margin_high. */
#pragma once
#include "ui/review/queue.h"

typedef enum { EXPORT_CSV, EXPORT_JSON } ExportForm; /* RFC 4180; one object (RFC 8259) a line */

/* By the ending of a name, in any case; NULL ending or another one: EXPORT_CSV. */
ExportForm export_form(const char *path);
/* Owned.
 *   column  in  n of those that the table has (not ORDER_WORST), at least one */
GString *queue_export(SoffitQueue *queue, const QueueOrder column[], size_t n, ExportForm form);
