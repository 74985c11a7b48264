/* who_dialog.h - who works at this desktop, and the key that signs for him.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <gtk/gtk.h>

void who_dialog_new(GtkWindow *parent);
