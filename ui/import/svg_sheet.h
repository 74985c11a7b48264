/* svg_sheet.h - outlines of the current connector from an SVG drawing.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

/* A drawing whose four ids say all is taken over at once, one undo step; otherwise a sheet asks
 * what is what.  False and the error when the file cannot be used. */
bool svg_sheet_show(GtkWindow *parent, SoffitSession *session, const char *path, GError **error);
