/* compare_list.h - the pinned variants of the current connector: pin, rename, show, take, remove.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

/* show: called with the number of the variant to show, G_MAXUINT when there is none. */
GtkWidget *compare_list_new(SoffitSession *session, void (*show)(guint variant, void *data),
                            void *data);
