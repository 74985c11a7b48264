/* explain.h - two folds below the readings: from the best connector to this one, and what drives
 * the band. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_EXPLAIN (explain_get_type())
G_DECLARE_FINAL_TYPE(SoffitExplain, explain, SOFFIT, EXPLAIN, GtkBox)

/* Both closed: nothing is solved for them until the first is opened. */
GtkWidget *explain_new(SoffitSession *session);
