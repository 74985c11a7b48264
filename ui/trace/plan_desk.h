/* plan_desk.h - the connector from the gum side as the hand shapes it: cheek and tongue outline,
 * point by point. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

/* A window over `parent` for the connector in view; every change is an edit of the session, so the
 * answer follows, and its stress is shown on what is shaped. */
void plan_desk_open(GtkWindow *parent, SoffitSession *session);
