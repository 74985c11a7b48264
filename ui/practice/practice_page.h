/* practice_page.h - the Practice workspace: the school bench.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/practice/practice_desk.h"
#include <gtk/gtk.h>

/* data_dir as practice_desk_new(). */
GtkWidget *practice_page_new(const char *data_dir);
SoffitPracticeDesk *practice_page_desk(GtkWidget *page); /* borrowed */
char *practice_page_title(GtkWidget *page);              /* "1.1 From V to U" */
void practice_page_enter(GtkWidget *page);               /* it came into view: the focus */
