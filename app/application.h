/* application.h - the window program as one GtkApplication: its actions, keys and recent files.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <gtk/gtk.h>

#define SOFFIT_TYPE_APPLICATION (application_get_type())
G_DECLARE_FINAL_TYPE(SoffitApplication, application, SOFFIT, APPLICATION, GtkApplication)

SoffitApplication *application_new(void);
