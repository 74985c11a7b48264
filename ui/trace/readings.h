/* readings.h - the verdict of the bridge, and the six readings of the current connector.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Each reading is a button: a click, Enter or F2 opens its band and source. */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_READINGS (readings_get_type())
G_DECLARE_FINAL_TYPE(SoffitReadings, readings, SOFFIT, READINGS, GtkBox)

GtkWidget *readings_new(SoffitSession *session);
void readings_fold(SoffitReadings *readings,
                   bool folded); /* folded: one column, figures at the right */
