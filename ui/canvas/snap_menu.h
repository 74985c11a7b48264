/* snap_menu.h - what places snap to: a button of the tool row, remembered for the next start.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/canvas/canvas.h"

SnapSettings snap_settings_kept(void); /* as last chosen on this desktop */
GtkWidget *snap_menu_new(SoffitCanvas *canvas);
/* The key: on and off. */
void snap_menu_toggle(SoffitCanvas *canvas);
