/* key_table.h - the window that lists the keys.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <gtk/gtk.h>

void key_table_show(GtkWindow *parent);
