/* class_dialog.h - the teacher's view: a folder of progress files as a table, and on paper.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/practice/practice_desk.h"
#include <gtk/gtk.h>

void class_dialog_new(GtkWindow *parent, SoffitPracticeDesk *desk);
