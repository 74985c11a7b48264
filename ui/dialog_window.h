/* dialog_window.h - a window above another one: Escape closes it, Ctrl+Q ends the program from it
 * too. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <gtk/gtk.h>

/* Modal, goes with its parent; in px; width 0: as large as its content, height -1: as high. */
GtkWidget *dialog_window_new(GtkWindow *parent, const char *title, int width, int height);
/* A button with words.  class_name: "strong" or "quiet"; clicked NULL: it closes the window. */
GtkWidget *dialog_button_new(const char *text, const char *class_name, GCallback clicked,
                             gpointer data);
/* A list of pages beside a stack.  Once all pages are there, its rows get their names. */
GtkWidget *dialog_pages_new(GtkWidget *stack);
void dialog_page_add(GtkWidget *stack, GtkWidget *page, const char *name, const char *title);
void dialog_pages_name(GtkWidget *pages);
