/* step_list.h - the steps of the case as a list: what each did to the peak; choosing one goes
 * there. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

/* A button for the header, whose popover holds the list. */
GtkWidget *step_list_button_new(SoffitSession *session);
/* By a key: the focus goes back to where it was when the list is closed. */
void step_list_open(GtkWidget *button);
