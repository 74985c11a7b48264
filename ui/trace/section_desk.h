/* section_desk.h - the neck's section as the hand shapes it: by roundness, or point by point.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

/* A window over `parent` for the connector in view; every change is an edit of the session, so the
 * answer behind it follows. */
void section_desk_open(GtkWindow *parent, SoffitSession *session);
