/* photo_take.h - ways a picture comes in: chosen, dropped, pasted.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/photo/photo_desk.h"
#include <gtk/gtk.h>

/* Drop target and Ctrl+V of the drawing.  A file that is no picture is opened as a case, as it is
 * everywhere else on the window. */
void photo_take_attach(GtkWidget *canvas, SoffitPhotoDesk *desk);
void photo_take_choose(GtkWidget *widget, SoffitPhotoDesk *desk); /* a file chooser */
void photo_take_paste(GtkWidget *widget, SoffitPhotoDesk *desk);
