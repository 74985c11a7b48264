/* canvas_hand.c - mouse, pen, finger and wheel on the drawing.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * GTK hands out one motion event a frame; the points between come from its history, in surface
 * coordinates. */
#include "ui/canvas/canvas_pin.h"
#include "ui/canvas/draw_context.h"
#include "ui/canvas/smoothing.h"
#include "ui/canvas/canvas_note.h"
#include "ui/canvas/tool_row.h"
#include "ui/parts.h"
#include <math.h>

#define REACH_MOUSE_PX 12
#define REACH_PEN_PX 22
#define WHEEL_ZOOM 1.15
#define GLIDE_S 0.32      /* a trackpad's pan slows down by 1/e in this time */
#define GLIDE_LEAST_PX 20 /* a second: it stands */

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

static gint64 frame_time(SoffitCanvas *self)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock(GTK_WIDGET(self));
  return clock ? gdk_frame_clock_get_frame_time(clock) : g_get_monotonic_time();
}

/* ---- ink ---- */

static gboolean ink_fades(GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  (void)data;
  SoffitCanvas *self = SOFFIT_CANVAS(widget);
  gtk_widget_queue_draw(widget);
  return canvas_ink_blending(self->ink, gdk_frame_clock_get_frame_time(clock));
}

void canvas_ink_show(SoffitCanvas *self, GtkSnapshot *snapshot)
{
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  double band = self->acting == &tool_eraser ? eraser_reach(&self->hand)
                : self->acting == &tool_pen  ? self->hand.smoothing_mm
                                             : 0;
  if (self->hand.busy)
    canvas_ink_follow(self->ink, &self->hand, &context, band * self->hand.view.scale);
  canvas_ink_snapshot(self->ink, snapshot, frame_time(self));
}

double canvas_smoothing(SoffitCanvas *self)
{
  return self->hand.smoothing_mm;
}

void canvas_set_smoothing(SoffitCanvas *self, double mm)
{
  mm = fmin(fmax(round(mm / 0.01) * 0.01, 0), SMOOTHING_MOST_MM);
  self->hand.smoothing_mm = mm;
  smoothing_keep(mm);
  tool_row_update(self->row);
  canvas_note_say(self, smoothing_words(mm));
}

/* ---- press, move, release ---- */

void canvas_press(SoffitCanvas *self, HandKind kind, const PenPoint *at)
{
  canvas_cancel(self);
  if (canvas_pin_press(self, at->at))
    return;
  self->hand.reach_px = kind == HAND_MOUSE ? REACH_MOUSE_PX : REACH_PEN_PX;
  self->acting = kind == HAND_ERASER ? &tool_eraser : self->tool;
  self->by_finger = kind == HAND_FINGER;
  canvas_ink_drop(self->ink);
  if (session_has_case(self->session) && self->acting->press)
    self->acting->press(&self->hand, at);
  if (self->hand.busy)
    canvas_motion_begin(self);
  else
    canvas_invalidate(self);
}

void canvas_move(SoffitCanvas *self, const PenPoint at[], size_t n)
{
  if (self->hand.busy && self->acting->move)
    self->acting->move(&self->hand, at, n);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

void canvas_release(SoffitCanvas *self)
{
  if (!self->hand.busy)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  if (self->acting->release) {
    if (self->hand.pen->len > 1) /* what came after the last frame */
      canvas_ink_follow(self->ink, &self->hand, &context,
                        self->acting == &tool_pen
                            ? self->hand.smoothing_mm * self->hand.view.scale
                            : eraser_reach(&self->hand) * self->hand.view.scale);
    self->acting->release(&self->hand);
  }
  canvas_ink_lift(self->ink, frame_time(self), part_motion(GTK_WIDGET(self)));
  if (canvas_ink_strength(self->ink, frame_time(self)) > 0)
    gtk_widget_add_tick_callback(GTK_WIDGET(self), ink_fades, NULL, NULL);
  canvas_invalidate(self);
}

bool canvas_cancel(SoffitCanvas *self)
{
  if (!self->hand.busy || !self->acting || !self->acting->cancel)
    return false;
  self->acting->cancel(&self->hand);
  canvas_ink_drop(self->ink);
  canvas_invalidate(self);
  return true;
}

/* ---- palm and fingers ---- */

void canvas_pen_near(SoffitCanvas *self, bool near, guint32 time_ms)
{
  palm_pen(&self->palm, near, time_ms);
  if (self->by_finger)
    canvas_cancel(self);
}

bool canvas_finger_down(SoffitCanvas *self, guint32 time_ms)
{
  bool pen_draws = self->hand.busy && !self->by_finger;
  if (palm_rests(&self->palm, time_ms) || pen_draws)
    return false;
  self->fingers++;
  return self->fingers == 1 && !self->pinching;
}

void canvas_finger_up(SoffitCanvas *self)
{
  self->fingers = MAX(self->fingers - 1, 0);
  if (self->fingers == 0)
    self->pinching = false;
}

/* ---- events ---- */

static HandKind event_kind(GdkEvent *event)
{
  GdkDeviceTool *tool = gdk_event_get_device_tool(event);
  if (tool)
    return gdk_device_tool_get_tool_type(tool) == GDK_DEVICE_TOOL_TYPE_ERASER ? HAND_ERASER
                                                                              : HAND_PEN;
  return gdk_event_get_event_type(event) == GDK_TOUCH_BEGIN ? HAND_FINGER : HAND_MOUSE;
}

static void hand_press(SoffitCanvas *self, GdkEvent *event)
{
  double x, y;
  gdk_event_get_position(event, &x, &y);
  gtk_widget_grab_focus(GTK_WIDGET(self));
  self->stroke_start = gdk_event_get_time(event);
  PenPoint at = pen_point(self, surface_point(self, x, y), 0, event_pressure(event));
  canvas_press(self, event_kind(event), &at);
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
  canvas_move(self, at, count);
}

/* Middle button: the view is moved. */
static bool pan_event(SoffitCanvas *self, GdkEvent *event, GdkEventType type)
{
  double x = 0, y = 0;
  bool middle = (type == GDK_BUTTON_PRESS || type == GDK_BUTTON_RELEASE) &&
                gdk_button_event_get_button(event) == GDK_BUTTON_MIDDLE;
  if (!middle && !(self->panning && type == GDK_MOTION_NOTIFY))
    return false;
  if (type == GDK_BUTTON_RELEASE) {
    bool was = self->panning;
    self->panning = false;
    return was;
  }
  gdk_event_get_position(event, &x, &y);
  Point to = surface_point(self, x, y);
  if (type == GDK_MOTION_NOTIFY)
    canvas_pan(self, to.x - self->pan_from.x, to.y - self->pan_from.y);
  self->panning = true;
  self->pan_from = to;
  return true;
}

static gboolean hand_event(GtkEventControllerLegacy *controller, GdkEvent *event, gpointer data)
{
  (void)controller;
  SoffitCanvas *self = data;
  GdkEventType type = gdk_event_get_event_type(event);
  guint32 time_ms = gdk_event_get_time(event);
  if (type == GDK_PROXIMITY_IN || type == GDK_PROXIMITY_OUT) {
    canvas_pen_near(self, type == GDK_PROXIMITY_IN, time_ms);
    return FALSE;
  }
  double x, y;
  if (type == GDK_MOTION_NOTIFY && gdk_event_get_position(event, &x, &y))
    self->pointer = surface_point(self, x, y);
  if (gdk_event_get_device_tool(event)) /* heard of, also where no proximity is told */
    canvas_pen_near(self, self->palm.near, time_ms);
  if (pan_event(self, event, type))
    return TRUE;
  switch (type) {
  case GDK_BUTTON_PRESS:
    if (gdk_button_event_get_button(event) != GDK_BUTTON_PRIMARY)
      return FALSE;
    hand_press(self, event);
    return TRUE;
  case GDK_TOUCH_BEGIN:
    if (canvas_finger_down(self, time_ms))
      hand_press(self, event);
    return TRUE;
  case GDK_MOTION_NOTIFY:
  case GDK_TOUCH_UPDATE:
    if (!self->hand.busy || self->by_finger != (type == GDK_TOUCH_UPDATE))
      return FALSE;
    hand_move(self, event);
    return TRUE;
  case GDK_BUTTON_RELEASE:
  case GDK_TOUCH_END:
    if (type == GDK_TOUCH_END)
      canvas_finger_up(self);
    if (!self->hand.busy || self->by_finger != (type == GDK_TOUCH_END))
      return FALSE;
    canvas_release(self);
    return TRUE;
  case GDK_TOUCH_CANCEL:
    canvas_finger_up(self);
    if (self->by_finger)
      canvas_cancel(self);
    return FALSE;
  case GDK_GRAB_BROKEN:
    canvas_cancel(self);
    self->panning = false;
    return FALSE;
  default:
    return FALSE;
  }
}

/* ---- view ---- */

static gboolean gliding(GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  (void)data;
  SoffitCanvas *self = SOFFIT_CANVAS(widget);
  gint64 now = gdk_frame_clock_get_frame_time(clock);
  double dt = (double)(now - self->glide_us) / 1e6;
  self->glide_us = now;
  canvas_pan(self, self->glide.x * dt, self->glide.y * dt);
  self->glide = point_scale(self->glide, exp(-dt / GLIDE_S));
  if (point_length(self->glide) > GLIDE_LEAST_PX && !self->hand.busy)
    return G_SOURCE_CONTINUE;
  self->kinetic = 0;
  return G_SOURCE_REMOVE;
}

static void glide_stop(SoffitCanvas *self)
{
  if (self->kinetic != 0)
    gtk_widget_remove_tick_callback(GTK_WIDGET(self), self->kinetic);
  self->kinetic = 0;
}

/* Fingers left the trackpad in motion: px a second. */
static void decelerate(GtkEventControllerScroll *controller, double vx, double vy, gpointer data)
{
  (void)controller;
  SoffitCanvas *self = data;
  glide_stop(self);
  if (!part_motion(GTK_WIDGET(self)))
    return;
  self->glide = point(-vx, -vy);
  self->glide_us = frame_time(self);
  self->kinetic = gtk_widget_add_tick_callback(GTK_WIDGET(self), gliding, NULL, NULL);
}

/* A wheel zooms about the pointer; a trackpad pans, with Ctrl it zooms. */
static gboolean scrolled(GtkEventControllerScroll *controller, double dx, double dy, gpointer data)
{
  SoffitCanvas *self = data;
  bool control = gtk_event_controller_get_current_event_state(GTK_EVENT_CONTROLLER(controller)) &
                 GDK_CONTROL_MASK;
  bool wheel = gtk_event_controller_scroll_get_unit(controller) == GDK_SCROLL_UNIT_WHEEL;
  glide_stop(self);
  if (wheel || control)
    canvas_zoom(self, pow(WHEEL_ZOOM, -dy), self->pointer);
  else
    canvas_pan(self, -dx, -dy);
  return TRUE;
}

/* Two fingers: the first one was no stroke. */
static void pinch_begin(GtkGesture *gesture, GdkEventSequence *sequence, gpointer data)
{
  (void)sequence;
  SoffitCanvas *self = data;
  if (palm_rests(&self->palm,
                 gtk_event_controller_get_current_event_time(GTK_EVENT_CONTROLLER(gesture))) ||
      (self->hand.busy && !self->by_finger)) {
    gtk_gesture_set_state(gesture, GTK_EVENT_SEQUENCE_DENIED);
    return;
  }
  canvas_cancel(self);
  self->pinching = true;
  self->zoom_start = self->hand.view.scale;
  gtk_gesture_get_bounding_box_center(gesture, &self->pinch_at.x, &self->pinch_at.y);
}

/* The view follows both fingers: apart and along. */
static void pinched(GtkGesture *gesture, GdkEventSequence *sequence, gpointer data)
{
  (void)sequence;
  SoffitCanvas *self = data;
  Point at;
  if (!self->pinching || !(self->zoom_start > 0) ||
      !gtk_gesture_get_bounding_box_center(gesture, &at.x, &at.y))
    return;
  double scale = gtk_gesture_zoom_get_scale_delta(GTK_GESTURE_ZOOM(gesture));
  canvas_pan(self, at.x - self->pinch_at.x, at.y - self->pinch_at.y);
  self->pinch_at = at;
  canvas_zoom(self, self->zoom_start * scale / self->hand.view.scale, at);
}

void canvas_hand_attach(SoffitCanvas *self)
{
  GtkEventController *hand = gtk_event_controller_legacy_new();
  gtk_event_controller_set_name(hand, "soffit-canvas-hand");
  g_signal_connect(hand, "event", G_CALLBACK(hand_event), self);
  gtk_widget_add_controller(GTK_WIDGET(self), hand);
  GtkEventController *scroll = gtk_event_controller_scroll_new(
      GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES | GTK_EVENT_CONTROLLER_SCROLL_KINETIC);
  g_signal_connect(scroll, "scroll", G_CALLBACK(scrolled), self);
  g_signal_connect(scroll, "decelerate", G_CALLBACK(decelerate), self);
  gtk_widget_add_controller(GTK_WIDGET(self), scroll);
  GtkGesture *pinch = gtk_gesture_zoom_new();
  g_signal_connect(pinch, "begin", G_CALLBACK(pinch_begin), self);
  g_signal_connect(pinch, "update", G_CALLBACK(pinched), self);
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(pinch));
}
