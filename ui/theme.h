/* theme.h - light, dark or as the desktop says, with the desktop's high contrast; text never
 * smaller than the look asks for. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The choice in force is GtkSettings' gtk-application-prefer-dark-theme: own drawings watch that
 * property, which is also told anew when the contrast changes. */
#pragma once
#include <gtk/gtk.h>
#include <stdbool.h>

typedef enum { THEME_DESKTOP, THEME_LIGHT, THEME_DARK, THEME_N } ThemeChoice;

void theme_start(void); /* once, when the display is open */
ThemeChoice theme_choice(void);
void theme_choose(ThemeChoice choice); /* kept for the next start */
const char *theme_id(ThemeChoice choice);
bool theme_from_id(const char *id, ThemeChoice *choice);
bool theme_dark(void);
bool theme_contrast(void);
