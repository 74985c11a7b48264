/* depth.h - the connector in depth, laid over the drawing: turned with pen, mouse, finger, keys.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_DEPTH (depth_get_type())
G_DECLARE_FINAL_TYPE(SoffitDepth, depth, SOFFIT, DEPTH, GtkWidget)

GtkWidget *depth_new(SoffitSession *session); /* hidden at first */
/* The right edge, px, where card and key lie: the picture keeps to the rest. */
void depth_set_covered(SoffitDepth *depth, int width);
