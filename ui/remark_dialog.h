/* remark_dialog.h - a few words about the open case, pinned to it: by its holder or by a reader.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

void remark_dialog_new(GtkWindow *parent, SoffitSession *session);
