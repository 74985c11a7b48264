/* canvas_keys.c - keys on the drawing.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/arrow_key.h"
#include "ui/canvas/canvas_pin.h"
#include "ui/canvas/overlays.h"
#include "ui/canvas/photo_layer.h"
#include "ui/canvas/smoothing.h"
#include "ui/canvas/snap_menu.h"
#include "ui/canvas/tool_row.h"

#define NUDGE_MM 0.1 /* arrows; a tenth of it with Shift, ten times with Alt */

static double nudge_mm(GdkModifierType state)
{
  return state & GDK_ALT_MASK ? NUDGE_MM * 10 : state & GDK_SHIFT_MASK ? NUDGE_MM / 10 : NUDGE_MM;
}

static bool knot_key(Hand *hand, guint key)
{
  switch (key) {
  case GDK_KEY_n:
    return knot_step(hand, 1);
  case GDK_KEY_p:
    return knot_step(hand, -1);
  case GDK_KEY_a:
  case GDK_KEY_Insert:
    return knot_add_after(hand);
  case GDK_KEY_t:
    return knot_turn(hand);
  case GDK_KEY_i:
    return knot_choose_part(hand, KNOT_IN);
  case GDK_KEY_o:
    return knot_choose_part(hand, KNOT_OUT);
  case GDK_KEY_Delete:
  case GDK_KEY_BackSpace:
    return knot_remove(hand);
  default:
    return false;
  }
}

static bool measure_key(Hand *hand, guint key)
{
  switch (key) {
  case GDK_KEY_Return:
  case GDK_KEY_KP_Enter:
  case GDK_KEY_space:
    measure_next(hand);
    return true;
  case GDK_KEY_Escape:
  case GDK_KEY_Delete:
  case GDK_KEY_BackSpace:
    return measure_clear(hand);
  default:
    return false;
  }
}

/* Keys that the chosen tool takes. */
static bool tool_key(SoffitCanvas *self, guint key, GdkModifierType state)
{
  Point by;
  bool knots = self->tool == &tool_knot, measuring = self->tool == &tool_measure;
  if (!knots && !measuring)
    return false;
  if (arrow_key(key, nudge_mm(state), &by)) {
    if (measuring)
      measure_nudge(&self->hand, by.x, by.y);
    else if (!knot_nudge(&self->hand, by.x, by.y))
      knot_step(&self->hand, 1);
    return true;
  }
  if (state & (GDK_ALT_MASK | GDK_SHIFT_MASK))
    return false;
  return measuring ? measure_key(&self->hand, key) : knot_key(&self->hand, key);
}

static bool row_key(SoffitCanvas *self, guint key, bool shift)
{
  size_t n;
  const Tool *const *tool = tool_row_tools(&n);
  const Overlay *overlay = overlay_of_key(key, shift);
  if (overlay)
    canvas_toggle_overlay(self, overlay);
  for (size_t i = 0; i < n && !overlay && !shift; i++)
    if (gdk_keyval_to_lower(key) == tool[i]->key) {
      canvas_set_tool(self, tool[i]);
      return true;
    }
  return overlay != NULL;
}

/* Where the chosen knot stands, else `otherwise`. */
static Point chosen_px(const SoffitCanvas *self, Point otherwise)
{
  const Outline *outline = hand_outline(&self->hand);
  return self->tool == &tool_knot && self->hand.chosen < outline->n
             ? view_px(self->hand.view, outline->knot[self->hand.chosen].at)
             : otherwise;
}

static gboolean key_pressed(GtkEventControllerKey *controller, guint key, guint code,
                            GdkModifierType state, gpointer data)
{
  (void)controller, (void)code;
  SoffitCanvas *self = data;
  Point middle = point(gtk_widget_get_width(GTK_WIDGET(self)) / 2.0,
                       gtk_widget_get_height(GTK_WIDGET(self)) / 2.0);
  if (state & (GDK_CONTROL_MASK | GDK_SUPER_MASK) || !session_has_case(self->session))
    return FALSE;
  if (canvas_pin_key(self, key, state))
    return TRUE;
  if (!(state & GDK_ALT_MASK) && photo_layer_key(self, key, state & GDK_SHIFT_MASK)) {
    canvas_walk_follow(self);
    return TRUE;
  }
  if (tool_key(self, key, state)) {
    canvas_invalidate(self);
    return TRUE;
  }
  if (state & GDK_ALT_MASK)
    return FALSE;
  if (row_key(self, key, state & GDK_SHIFT_MASK))
    return TRUE;
  switch (key) {
  case GDK_KEY_F10:
    if (!(state & GDK_SHIFT_MASK))
      return FALSE;
    /* fallthrough */
  case GDK_KEY_Menu:
    canvas_menu_show(self, chosen_px(self, middle));
    return TRUE;
  case GDK_KEY_e:
    canvas_type_size(self, SIZE_RADIUS);
    return TRUE;
  case GDK_KEY_g: /* no button in the row: the eye has no use for it */
    canvas_set_tool(self, &tool_walk);
    return TRUE;
  case GDK_KEY_h:
    snap_menu_toggle(self);
    return TRUE;
  case GDK_KEY_x:
  case GDK_KEY_X:
    knot_mirror(&self->hand, key == GDK_KEY_x ? -1 : 1);
    canvas_invalidate(self);
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
  case GDK_KEY_Escape:
    return canvas_cancel(self);
  case GDK_KEY_bracketleft:
  case GDK_KEY_bracketright:
    canvas_set_smoothing(self, self->hand.smoothing_mm +
                                   (key == GDK_KEY_bracketleft ? -1 : 1) * SMOOTHING_STEP_MM);
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
