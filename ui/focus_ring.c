/* focus_ring.c - see focus_ring.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * GTK takes the ring away three seconds after the last key.  Who works without a mouse and looks
 * away for a moment would search for it; so it goes when a mouse, pen or finger is pressed. */
#include "ui/focus_ring.h"
#include <gtk/gtk.h>
#include <stdbool.h>

#define KEYBOARD "soffit-keyboard-in-use"

/* Kept with the display: a dialog that a key opens shows its ring at once. */
static bool keyboard_used(GtkWindow *window)
{
  return g_object_get_data(G_OBJECT(gtk_widget_get_display(GTK_WIDGET(window))), KEYBOARD) != NULL;
}

static void keyboard_set(GtkWindow *window, bool used)
{
  GdkDisplay *display = gtk_widget_get_display(GTK_WIDGET(window));
  g_object_set_data(G_OBJECT(display), KEYBOARD, used ? display : NULL);
  gtk_window_set_focus_visible(window, used);
}

static gboolean input_seen(GtkEventControllerLegacy *controller, GdkEvent *event, void *data)
{
  (void)controller;
  GdkEventType type = gdk_event_get_event_type(event);
  if (type == GDK_KEY_PRESS)
    keyboard_set(data, true);
  else if (type == GDK_BUTTON_PRESS || type == GDK_TOUCH_BEGIN)
    keyboard_set(data, false);
  return FALSE;
}

static void ring_changed(GtkWindow *window)
{
  if (!gtk_window_get_focus_visible(window) && keyboard_used(window))
    gtk_window_set_focus_visible(window, TRUE);
}

static void windows_changed(GListModel *windows, guint at, guint removed, guint added)
{
  (void)removed;
  for (guint i = at; i < at + added; i++) {
    g_autoptr(GtkWindow) window = g_list_model_get_item(windows, i);
    GtkEventController *input = gtk_event_controller_legacy_new();
    gtk_event_controller_set_name(input, "soffit-focus-ring");
    gtk_event_controller_set_propagation_phase(input, GTK_PHASE_CAPTURE);
    g_signal_connect(input, "event", G_CALLBACK(input_seen), window);
    gtk_widget_add_controller(GTK_WIDGET(window), input);
    g_signal_connect(window, "notify::focus-visible", G_CALLBACK(ring_changed), NULL);
    gtk_window_set_focus_visible(window, keyboard_used(window));
  }
}

void focus_ring_start(void)
{
  GListModel *windows = gtk_window_get_toplevels();
  g_signal_connect(windows, "items-changed", G_CALLBACK(windows_changed), NULL);
  windows_changed(windows, 0, 0, g_list_model_get_n_items(windows));
}
