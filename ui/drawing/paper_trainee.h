/* paper_trainee.h - one page a trainee of the school bench: passed, understood, predicted.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "practice/class_folder.h"
#include "ui/drawing/text.h"

/* One page of this size in points, ended by cairo_show_page().  time: as shown to the reader. */
void paper_trainee(cairo_t *cr, const DrawContext *context, const ClassRow *row,
                   const GPtrArray *set, double width, double height, const char *time);
