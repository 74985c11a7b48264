/* exercise_dialog.h - makes an exercise, or changes one of the person's own.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/practice/practice_desk.h"
#include <gtk/gtk.h>

/* A new one from a connector of the case. */
void exercise_dialog_new(GtkWindow *parent, SoffitPracticeDesk *desk, const Case *c,
                         size_t connector);
/* One of the desk: an own one is changed, a shipped one copied. */
void exercise_dialog_edit(GtkWindow *parent, SoffitPracticeDesk *desk, const Exercise *exercise);
