/* size_rows.h - entries for exact sizes, in a popover: type, Enter, the outline follows.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/size_edit.h"
#include <gtk/gtk.h>

/* Rows "Roof radius [0.55] mm" for these sizes of the current connector, and a line below that says
 * what is wrong. */
GtkWidget *size_rows_new(SoffitSession *session, const SizeKind kind[], size_t n);
/* All sizes in a popover over `parent`, pointing at `at` (its coordinates); the entry of `kind` has
 * the focus. */
void size_popover_show(GtkWidget *parent, SoffitSession *session, const GdkRectangle *at,
                       SizeKind kind);
