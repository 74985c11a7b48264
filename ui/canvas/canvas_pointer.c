/* canvas_pointer.c - what the drawing must know of an event before the tool gets it: whether Ctrl
 * is held, and whether a size was pressed. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas_private.h"
#include "ui/canvas/canvas_remarks.h"
#include "ui/size_rows.h"

void canvas_type_size(SoffitCanvas *self, SizeKind kind)
{
  Box box = self->size_box[kind];
  if (!(box.width > 0)) /* not shown: over the middle of the drawing */
    box = (Box){gtk_widget_get_width(GTK_WIDGET(self)) / 2.0,
                gtk_widget_get_height(GTK_WIDGET(self)) / 2.0, 1, 1};
  size_popover_show(
      GTK_WIDGET(self), self->session,
      &(GdkRectangle){(int)box.x, (int)box.y, (int)ceil(box.width), (int)ceil(box.height)}, kind);
}

static void size_pressed(GtkGestureClick *click, int n, double x, double y, gpointer data)
{
  (void)n;
  SoffitCanvas *self = data;
  for (SizeKind kind = 0; kind < SIZE_KINDS && !self->hand.busy; kind++) {
    Box box = self->size_box[kind];
    if (x >= box.x && x < box.x + box.width && y >= box.y && y < box.y + box.height) {
      gtk_gesture_set_state(GTK_GESTURE(click), GTK_EVENT_SEQUENCE_CLAIMED);
      canvas_type_size(self, kind);
      return;
    }
  }
  gtk_gesture_set_state(GTK_GESTURE(click), GTK_EVENT_SEQUENCE_DENIED);
}

static gboolean event_seen(GtkEventControllerLegacy *controller, GdkEvent *event, gpointer data)
{
  (void)controller;
  SoffitCanvas *self = data;
  GdkModifierType state = gdk_event_get_modifier_state(event);
  self->hand.free_hand = (state & GDK_CONTROL_MASK) != 0;
  return FALSE;
}

static void menu_pressed(GtkGestureClick *click, int n, double x, double y, gpointer data)
{
  (void)n;
  gtk_gesture_set_state(GTK_GESTURE(click), GTK_EVENT_SEQUENCE_CLAIMED);
  canvas_menu_show(data, point(x, y));
}

void canvas_pointer_attach(SoffitCanvas *self)
{
  canvas_remarks_attach(self);
  GtkEventController *first = gtk_event_controller_legacy_new();
  gtk_event_controller_set_name(first, "soffit-canvas-first");
  gtk_event_controller_set_propagation_phase(first, GTK_PHASE_CAPTURE);
  g_signal_connect(first, "event", G_CALLBACK(event_seen), self);
  gtk_widget_add_controller(GTK_WIDGET(self), first);
  GtkGesture *sizes = gtk_gesture_click_new();
  gtk_event_controller_set_name(GTK_EVENT_CONTROLLER(sizes), "soffit-canvas-sizes");
  gtk_event_controller_set_propagation_phase(GTK_EVENT_CONTROLLER(sizes), GTK_PHASE_CAPTURE);
  g_signal_connect(sizes, "pressed", G_CALLBACK(size_pressed), self);
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(sizes));
  GtkGesture *menu = gtk_gesture_click_new();
  gtk_event_controller_set_name(GTK_EVENT_CONTROLLER(menu), "soffit-canvas-menu");
  gtk_gesture_single_set_button(GTK_GESTURE_SINGLE(menu), GDK_BUTTON_SECONDARY);
  g_signal_connect(menu, "pressed", G_CALLBACK(menu_pressed), self);
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(menu));
}
