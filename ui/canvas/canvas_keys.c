/* canvas_keys.c - keys on the drawing.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas_private.h"
#include "ui/canvas/tool_row.h"

static gboolean key_pressed(GtkEventControllerKey *controller, guint key, guint code,
                            GdkModifierType state, gpointer data)
{
  (void)controller, (void)code;
  SoffitCanvas *self = data;
  bool shift = state & GDK_SHIFT_MASK;
  double step = shift ? 0.01 : 0.05; /* mm */
  Point middle = point(gtk_widget_get_width(GTK_WIDGET(self)) / 2.0,
                       gtk_widget_get_height(GTK_WIDGET(self)) / 2.0);
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK) ||
      !session_has_case(self->session))
    return FALSE;
  size_t n;
  const ToolRowItem *item = tool_row_items(&n);
  for (size_t i = 0; i < n; i++) {
    if (item[i].tool && !shift && gdk_keyval_to_lower(key) == item[i].tool->key) {
      canvas_set_tool(self, item[i].tool);
      return TRUE;
    }
    if (!item[i].tool && shift && gdk_keyval_to_upper(key) == item[i].key) {
      canvas_toggle_layer(self, item[i].layer);
      return TRUE;
    }
  }
  switch (key) {
  case GDK_KEY_q:
    canvas_toggle_layer(self, LAYER_LOUPE);
    return TRUE;
  case GDK_KEY_0:
  case GDK_KEY_KP_0:
    canvas_fit(self);
    return TRUE;
  case GDK_KEY_plus:
  case GDK_KEY_KP_Add:
    canvas_zoom(self, 1.25, middle);
    return TRUE;
  case GDK_KEY_minus:
  case GDK_KEY_KP_Subtract:
    canvas_zoom(self, 0.8, middle);
    return TRUE;
  case GDK_KEY_Left:
  case GDK_KEY_Right:
  case GDK_KEY_Up:
  case GDK_KEY_Down: {
    double dx = key == GDK_KEY_Left ? -step : key == GDK_KEY_Right ? step : 0;
    double dy = key == GDK_KEY_Down ? -step : key == GDK_KEY_Up ? step : 0;
    if (self->tool != &tool_knot)
      return FALSE;
    if (!knot_nudge(&self->hand, dx, dy))
      knot_step(&self->hand, 1);
    canvas_invalidate(self);
    return TRUE;
  }
  case GDK_KEY_n:
  case GDK_KEY_p:
    if (self->tool == &tool_knot && knot_step(&self->hand, key == GDK_KEY_n ? 1 : -1)) {
      canvas_invalidate(self);
      return TRUE;
    }
    return FALSE;
  case GDK_KEY_Delete:
  case GDK_KEY_BackSpace:
    return self->tool == &tool_knot && knot_remove(&self->hand);
  case GDK_KEY_Escape:
    if (!self->hand.busy || !self->tool->cancel)
      return FALSE;
    self->tool->cancel(&self->hand);
    canvas_invalidate(self);
    return TRUE;
  default:
    return FALSE;
  }
}

void canvas_keys_attach(SoffitCanvas *self)
{
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_name(keys, "soffit-canvas-keys");
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), self);
  gtk_widget_add_controller(GTK_WIDGET(self), keys);
}
