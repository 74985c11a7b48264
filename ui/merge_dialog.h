/* merge_dialog.h - mine and what others saved, side by side: one row a part, a choice each.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

/* Reads the file as it is now.  What only one has changed is chosen already; where both have,
 * theirs until somebody chooses. */
void merge_dialog_new(GtkWindow *parent, SoffitSession *session);
