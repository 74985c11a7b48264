/* focus_ring.c - see focus_ring.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * GTK takes the ring away three seconds after the last key.  Who works without a mouse and looks
 * away for a moment would search for it; so it goes when a mouse, pen or finger is pressed. */
#include "ui/focus_ring.h"
#include <gtk/gtk.h>

#define KEYBOARD "soffit-keyboard-in-use"

static gboolean input_seen(GtkEventControllerLegacy *controller, GdkEvent *event, void *data)
{
  (void)controller;
  GtkWindow *window = data;
  GdkEventType type = gdk_event_get_event_type(event);
  if (type == GDK_KEY_PRESS) {
    g_object_set_data(G_OBJECT(window), KEYBOARD, window);
    gtk_window_set_focus_visible(window, TRUE);
  } else if (type == GDK_BUTTON_PRESS || type == GDK_TOUCH_BEGIN) {
    g_object_set_data(G_OBJECT(window), KEYBOARD, NULL);
    gtk_window_set_focus_visible(window, FALSE);
  }
  return FALSE;
}

static void ring_changed(GtkWindow *window)
{
  if (!gtk_window_get_focus_visible(window) && g_object_get_data(G_OBJECT(window), KEYBOARD))
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
  }
}

void focus_ring_start(void)
{
  GListModel *windows = gtk_window_get_toplevels();
  g_signal_connect(windows, "items-changed", G_CALLBACK(windows_changed), NULL);
  windows_changed(windows, 0, 0, g_list_model_get_n_items(windows));
}
