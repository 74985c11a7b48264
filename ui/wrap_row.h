/* wrap_row.h - small parts in a row that goes on below where it is full.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px.  A part that expands takes what its line leaves; no wider than the widest part is needed. */
#pragma once
#include <gtk/gtk.h>

#define SOFFIT_TYPE_WRAP_ROW (wrap_row_get_type())
G_DECLARE_FINAL_TYPE(SoffitWrapRow, wrap_row, SOFFIT, WRAP_ROW, GtkWidget)
GtkWidget *wrap_row_new(int spacing, int line_spacing);
void wrap_row_append(SoffitWrapRow *row, GtkWidget *part);
