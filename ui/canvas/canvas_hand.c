/* canvas_hand.c - mouse, pen, finger and wheel on the drawing.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * GTK hands out one motion event a frame; the points between come from its history, in surface
 * coordinates. */
#include "ui/canvas/canvas_private.h"

#define REACH_MOUSE_PX 12
#define REACH_PEN_PX 22
#define WHEEL_ZOOM 1.15

/* Surface coordinates to those of the widget. */
static Point surface_point(SoffitCanvas *self, double x, double y)
{
  GtkNative *native = gtk_widget_get_native(GTK_WIDGET(self));
  double native_x, native_y, at_x, at_y;
  gtk_native_get_surface_transform(native, &native_x, &native_y);
  if (!gtk_widget_translate_coordinates(GTK_WIDGET(native), GTK_WIDGET(self), x - native_x,
                                        y - native_y, &at_x, &at_y))
    return point(x, y);
  return point(at_x, at_y);
}

static PenPoint pen_point(SoffitCanvas *self, Point px, double time_s, double pressure)
{
  return (PenPoint){view_mm(self->hand.view, px), time_s, pressure};
}

static double event_pressure(GdkEvent *event)
{
  double pressure;
  return gdk_event_get_axis(event, GDK_AXIS_PRESSURE, &pressure) ? pressure : 1;
}

static void hand_press(SoffitCanvas *self, GdkEvent *event)
{
  double x, y;
  gdk_event_get_position(event, &x, &y);
  gtk_widget_grab_focus(GTK_WIDGET(self));
  self->hand.reach_px =
      gdk_event_get_device_tool(event) || gdk_event_get_event_type(event) == GDK_TOUCH_BEGIN
          ? REACH_PEN_PX
          : REACH_MOUSE_PX;
  self->stroke_start = gdk_event_get_time(event);
  PenPoint at = pen_point(self, surface_point(self, x, y), 0, event_pressure(event));
  if (session_has_case(self->session) && self->tool->press)
    self->tool->press(&self->hand, &at);
  canvas_invalidate(self);
}

static void hand_move(SoffitCanvas *self, GdkEvent *event)
{
  guint n = 0;
  g_autofree GdkTimeCoord *history = gdk_event_get_history(event, &n);
  g_autofree PenPoint *at = g_new(PenPoint, n + 1);
  size_t count = 0;
  for (guint i = 0; i < n; i++) {
    if (!(history[i].flags & GDK_AXIS_FLAG_X) || !(history[i].flags & GDK_AXIS_FLAG_Y))
      continue;
    double pressure =
        history[i].flags & GDK_AXIS_FLAG_PRESSURE ? history[i].axes[GDK_AXIS_PRESSURE] : 1;
    double time_s = (double)(guint32)(history[i].time - (guint32)self->stroke_start) / 1000;
    at[count++] = pen_point(
        self, surface_point(self, history[i].axes[GDK_AXIS_X], history[i].axes[GDK_AXIS_Y]), time_s,
        pressure);
  }
  double x, y;
  gdk_event_get_position(event, &x, &y);
  double time_s = (double)(guint32)(gdk_event_get_time(event) - (guint32)self->stroke_start) / 1000;
  at[count++] = pen_point(self, surface_point(self, x, y), time_s, event_pressure(event));
  if (self->tool->move)
    self->tool->move(&self->hand, at, count);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void hand_release(SoffitCanvas *self)
{
  if (self->hand.busy && self->tool->release)
    self->tool->release(&self->hand);
  canvas_invalidate(self);
}

static gboolean hand_event(GtkEventControllerLegacy *controller, GdkEvent *event, gpointer data)
{
  (void)controller;
  SoffitCanvas *self = data;
  double x = 0, y = 0;
  GdkEventType type = gdk_event_get_event_type(event);
  switch (type) {
  case GDK_BUTTON_PRESS:
    gdk_event_get_position(event, &x, &y);
    if (gdk_button_event_get_button(event) == GDK_BUTTON_PRIMARY) {
      hand_press(self, event);
      return TRUE;
    }
    if (gdk_button_event_get_button(event) == GDK_BUTTON_MIDDLE) {
      self->panning = true;
      self->pan_from = surface_point(self, x, y);
      return TRUE;
    }
    return FALSE;
  case GDK_TOUCH_BEGIN:
    hand_press(self, event);
    return TRUE;
  case GDK_MOTION_NOTIFY:
  case GDK_TOUCH_UPDATE:
    if (self->panning) {
      gdk_event_get_position(event, &x, &y);
      Point to = surface_point(self, x, y);
      canvas_pan(self, to.x - self->pan_from.x, to.y - self->pan_from.y);
      self->pan_from = to;
      return TRUE;
    }
    if (!self->hand.busy)
      return FALSE;
    hand_move(self, event);
    return TRUE;
  case GDK_BUTTON_RELEASE:
  case GDK_TOUCH_END:
    if (self->panning && type == GDK_BUTTON_RELEASE &&
        gdk_button_event_get_button(event) == GDK_BUTTON_MIDDLE) {
      self->panning = false;
      return TRUE;
    }
    if (!self->hand.busy)
      return FALSE;
    hand_release(self);
    return TRUE;
  case GDK_TOUCH_CANCEL:
  case GDK_GRAB_BROKEN:
    if (self->hand.busy && self->tool->cancel)
      self->tool->cancel(&self->hand);
    self->panning = false;
    canvas_invalidate(self);
    return FALSE;
  default:
    return FALSE;
  }
}

/* A wheel zooms about the pointer; a trackpad pans, with Ctrl it zooms. */
static gboolean scrolled(GtkEventControllerScroll *controller, double dx, double dy, gpointer data)
{
  SoffitCanvas *self = data;
  GdkEvent *event = gtk_event_controller_get_current_event(GTK_EVENT_CONTROLLER(controller));
  bool control = gtk_event_controller_get_current_event_state(GTK_EVENT_CONTROLLER(controller)) &
                 GDK_CONTROL_MASK;
  double x = 0, y = 0;
  bool wheel = gtk_event_controller_scroll_get_unit(controller) == GDK_SCROLL_UNIT_WHEEL;
  if (!event || !gdk_event_get_position(event, &x, &y))
    return FALSE;
  if (wheel || control)
    canvas_zoom(self, pow(WHEEL_ZOOM, -dy), surface_point(self, x, y));
  else
    canvas_pan(self, -dx, -dy);
  return TRUE;
}

static void pinch_begin(GtkGesture *gesture, GdkEventSequence *sequence, gpointer data)
{
  (void)gesture, (void)sequence;
  SoffitCanvas *self = data;
  if (self->hand.busy && self->tool->cancel) /* the first finger was no stroke */
    self->tool->cancel(&self->hand);
  self->zoom_start = self->hand.view.scale;
}

static void pinched(GtkGestureZoom *gesture, double scale, gpointer data)
{
  SoffitCanvas *self = data;
  double x, y;
  if (gtk_gesture_get_bounding_box_center(GTK_GESTURE(gesture), &x, &y) && self->zoom_start > 0)
    canvas_zoom(self, self->zoom_start * scale / self->hand.view.scale, point(x, y));
}

void canvas_hand_attach(SoffitCanvas *self)
{
  GtkEventController *hand = gtk_event_controller_legacy_new();
  gtk_event_controller_set_name(hand, "soffit-canvas-hand");
  g_signal_connect(hand, "event", G_CALLBACK(hand_event), self);
  gtk_widget_add_controller(GTK_WIDGET(self), hand);
  GtkEventController *scroll =
      gtk_event_controller_scroll_new(GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);
  g_signal_connect(scroll, "scroll", G_CALLBACK(scrolled), self);
  gtk_widget_add_controller(GTK_WIDGET(self), scroll);
  GtkGesture *pinch = gtk_gesture_zoom_new();
  g_signal_connect(pinch, "begin", G_CALLBACK(pinch_begin), self);
  g_signal_connect(pinch, "scale-changed", G_CALLBACK(pinched), self);
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(pinch));
}
