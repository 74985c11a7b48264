/* strip.h - the whole bridge above the drawing: load to drag, bending below, each neck a door.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_STRIP (strip_get_type())
G_DECLARE_FINAL_TYPE(SoffitStrip, strip, SOFFIT, STRIP, GtkWidget)

GtkWidget *soffit_strip_new(SoffitSession *session);
