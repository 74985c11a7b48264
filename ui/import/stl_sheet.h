/* stl_sheet.h - outlines of connectors taken off a scanned or designed bridge.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

/* Opens the sheet for an STL file; "Take over" is one undo step of the open case. */
void stl_sheet_show(GtkWindow *parent, SoffitSession *session, const char *path);
