/* side_column.h - the column at the right: verdict, readings, what helps most, finishing list.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Open: all below each other in one scrolled column.  Folded: three pages, the two best advices
 * always below. */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_SIDE_COLUMN (side_column_get_type())
G_DECLARE_FINAL_TYPE(SoffitSideColumn, side_column, SOFFIT, SIDE_COLUMN, GtkBox)

GtkWidget *side_column_new(SoffitSession *session);
void side_column_fold(SoffitSideColumn *column, bool folded);
/* Only the verdict is left, for something that takes the place of what lies below it. */
void side_column_cover(SoffitSideColumn *column, bool covered);
int side_column_head(SoffitSideColumn *column); /* height of the verdict, px */
