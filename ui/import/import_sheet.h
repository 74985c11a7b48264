/* import_sheet.h - the frame of both import sheets: a window with a picture, choices at its right,
 * a message and two buttons. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

typedef struct {
  GtkWidget *window, *picture, *choices; /* a drawing area; a vertical box        */
  GtkWidget *message, *progress, *stop, *take;
} ImportSheet;

/* Not shown yet; take: what "Take over" does. */
void import_sheet_build(ImportSheet *sheet, GtkWindow *parent, const char *title, GCallback take,
                        void *data);
/* NULL: nothing to say */
void import_sheet_tell(ImportSheet *sheet, const char *text);
GtkWidget *import_line(const char *text, const char *class_name); /* a wrapped label */
