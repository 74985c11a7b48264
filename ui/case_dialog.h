/* case_dialog.h - a new case, or the data of the open one: units, material, order, job, finish.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N.  Edits are made on a copy; "Take over" makes them one undo step (or the new case). */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

void case_dialog_new(GtkWindow *parent, SoffitSession *session);
void case_dialog_edit(GtkWindow *parent, SoffitSession *session);
