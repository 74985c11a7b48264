/* canvas_pointer.c - what the drawing must know of an event before the tool gets it: whether Ctrl
 * is held, and whether a size was pressed. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas_private.h"

static gboolean event_seen(GtkEventControllerLegacy *controller, GdkEvent *event, gpointer data)
{
  (void)controller;
  SoffitCanvas *self = data;
  GdkModifierType state = gdk_event_get_modifier_state(event);
  self->hand.free_hand = (state & GDK_CONTROL_MASK) != 0;
  return FALSE;
}

void canvas_pointer_attach(SoffitCanvas *self)
{
  GtkEventController *first = gtk_event_controller_legacy_new();
  gtk_event_controller_set_name(first, "soffit-canvas-first");
  gtk_event_controller_set_propagation_phase(first, GTK_PHASE_CAPTURE);
  g_signal_connect(first, "event", G_CALLBACK(event_seen), self);
  gtk_widget_add_controller(GTK_WIDGET(self), first);
}
