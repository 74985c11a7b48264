/* compare_window.h - the current connector and a pinned variant of it under the same load.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

/* Stays open beside the drawing and follows it. */
void compare_window_new(GtkWindow *parent, SoffitSession *session);
