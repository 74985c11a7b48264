/* practice_columns.h - task, drawing and reasons side by side.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px.  The outer two take no more than they need in a small window and a share of a large one; all
 * else is the drawing's. */
#pragma once
#include <gtk/gtk.h>

#define SOFFIT_TYPE_PRACTICE_COLUMNS (practice_columns_get_type())
G_DECLARE_FINAL_TYPE(SoffitPracticeColumns, practice_columns, SOFFIT, PRACTICE_COLUMNS, GtkWidget)
GtkWidget *practice_columns_new(GtkWidget *left, GtkWidget *middle, GtkWidget *right);
