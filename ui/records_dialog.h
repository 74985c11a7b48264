/* records_dialog.h - where bridges broke against where that was expected, over a folder of cases.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <gtk/gtk.h>

/* folder: to begin with when none was chosen before; may be NULL.  A row opens its case in the
 * parent by "app.open-recent". */
void records_dialog_new(GtkWindow *parent, const char *folder);
