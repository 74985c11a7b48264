/* views.h - beside the drawing: the gum side from below, the neck section, the key to the shade.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Open: three plates below each other.  Folded: one card (section or gum side, a button changes
 * them) at the upper right of the drawing and the key at its lower right; the rest of the widget
 * lets the pen through. */
#pragma once
#include "ui/drawing/text.h"
#include "ui/session.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_VIEWS (views_get_type())
G_DECLARE_FINAL_TYPE(SoffitViews, views, SOFFIT, VIEWS, GtkWidget)

/* The card of the folded views at the upper right, px at the look's text size. */
#define VIEWS_CARD_WIDTH 190
#define VIEWS_CARD_HEIGHT 196
#define VIEWS_EDGE 12

GtkWidget *views_new(SoffitSession *session);
void views_fold(SoffitViews *views, bool folded);
/* Where card and key lie, px in the widget; open: nowhere, 0 x 0.  Signal "placed": they may have
 * moved. */
void views_plates(SoffitViews *views, Box plate[2]);
/* Signal "depth-wanted": the picture in depth was asked for, or the drawing back. */
void views_depth_shown(SoffitViews *views, bool shown);
