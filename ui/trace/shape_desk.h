/* shape_desk.h - what the windows share in which a connector is shaped by hand: section and plan.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/drawing/context.h"
#include "ui/session.h"
#include <gtk/gtk.h>

/* A window over `parent` for the current connector; undo and redo work in it, and where they lead
 * to another connector it follows.  title: format with the connector's name; *box takes the
 * content. */
GtkWidget *shape_window_new(GtkWindow *parent, SoffitSession *session, const char *title,
                            GtkWidget **box);
/* Calls `fill` for each change of case, answer or connector as long as there is one, closes the
 * window when there is none, and gives `desk` to `free` with the window. */
void shape_window_follow(GtkWidget *window, SoffitSession *session, void (*fill)(void *desk),
                         void *desk, void (*free)(void *desk));

/* What the hand does on the picture; `data` is the desk. */
typedef struct {
  GtkDrawingAreaDrawFunc draw;
  void (*press)(GtkGestureDrag *gesture, double x, double y, gpointer data);
  void (*drag)(GtkGestureDrag *gesture, double dx, double dy, gpointer data);
  void (*release)(GtkGestureDrag *gesture, double dx, double dy, gpointer data);
  gboolean (*key)(GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state,
                  gpointer data);
} ShapeHand;
GtkWidget *shape_picture_new(const char *name, int width, int height, const ShapeHand *hand,
                             gpointer desk);
/* How near to a point a pen must come: 44 px across. */
double shape_reach_mm(GtkWidget *picture, View view);

GtkWidget *shape_note_new(const char *text);
void shape_tell(GtkWidget *message, const char *text); /* a note that is spoken; "" clears it */
/* Area of the neck and its pull, or why there is no answer. */
void shape_figures_show(GtkWidget *note, SoffitSession *session);
/* Sensitive or not; the focus goes on where it would be lost. */
void shape_able(GtkWidget *widget, bool able);
GtkWidget *shape_undo_new(SoffitSession *session); /* a button that says what it takes back */
