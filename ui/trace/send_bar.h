/* send_bar.h - a returned case at the bench: by whom, why, its remarks to be settled, send again.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

/* Shown while the open case stands returned.  Its button is the action win.send. */
GtkWidget *send_bar_new(SoffitSession *session);
