/* depth.c - see depth.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A drag over the width turns by a half turn.  The session's answer is shown as it comes, so the
 * picture follows a line that is drawn and a load that is moved. */
#include "ui/canvas/depth.h"
#include "ui/arrow_key.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/picture_depth.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define KEY_STEP (M_PI / 24)
#define ZOOM_STEP 1.15
#define ZOOM_LEAST 0.5
#define ZOOM_MOST 12.0

struct _SoffitDepth {
  GtkWidget parent;
  SoffitSession *session; /* owned ref */
  DepthEye eye, grip;     /* now, and when the hand came down */
  double zoom_start;
  bool turning;
  int covered; /* px at the right edge */
};

G_DEFINE_FINAL_TYPE(SoffitDepth, depth, GTK_TYPE_WIDGET)

static void name_update(SoffitDepth *self)
{
  const Assessment *a = session_assessment(self->session);
  size_t i = session_focus(self->session);
  const char *words[2];
  if (!a || i >= a->n_connector)
    return;
  const ConnectorAssessment *k = &a->connector[i];
  depth_words(a, i, self->eye, words);
  g_autofree char *peak = words_number(k->trial_peak_mpa.value, 0);
  g_autofree char *label =
      g_strdup_printf(_("Connector %s in depth, seen %s %s: pulled %s MPa at most"), k->name,
                      _(words[0]), *words[1] ? _(words[1]) : "", peak);
  spoken_name(GTK_WIDGET(self), label);
}

static void eye_set(SoffitDepth *self, DepthEye eye)
{
  self->eye =
      (DepthEye){remainder(eye.turn, 2 * M_PI), CLAMP(eye.tilt, -DEPTH_TILT_MOST, DEPTH_TILT_MOST),
                 CLAMP(eye.zoom, ZOOM_LEAST, ZOOM_MOST)};
  name_update(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void depth_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  SoffitDepth *self = SOFFIT_DEPTH(widget);
  const Assessment *a = session_assessment(self->session);
  int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
  char font[64];
  DrawContext context = draw_context_for(widget, font);
  cairo_t *cr =
      gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  ink_use(cr, &context, COLOUR_PAPER);
  cairo_paint(cr);
  if (a)
    picture_depth(cr, width - self->covered, height, &context, a, session_focus(self->session),
                  self->eye, !self->turning && !session_following(self->session));
  cairo_destroy(cr);
}

static void depth_changed(SoffitDepth *self)
{
  if (!gtk_widget_get_visible(GTK_WIDGET(self)))
    return;
  name_update(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

void depth_set_covered(SoffitDepth *self, int width)
{
  self->covered = width;
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

/* ---- hand and keys ---- */

static void drag_begin(GtkGestureDrag *drag, double x, double y, SoffitDepth *self)
{
  (void)drag, (void)x, (void)y;
  gtk_widget_grab_focus(GTK_WIDGET(self));
  self->grip = self->eye;
  self->turning = true;
}

static void drag_end(GtkGestureDrag *drag, double x, double y, SoffitDepth *self)
{
  (void)drag, (void)x, (void)y;
  self->turning = false;
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void drag_update(GtkGestureDrag *drag, double dx, double dy, SoffitDepth *self)
{
  (void)drag;
  double half_turn = fmax(200, gtk_widget_get_width(GTK_WIDGET(self)));
  eye_set(self, (DepthEye){self->grip.turn + M_PI * dx / half_turn,
                           self->grip.tilt + M_PI * dy / half_turn, self->eye.zoom});
}

static gboolean scrolled(GtkEventControllerScroll *scroll, double dx, double dy, SoffitDepth *self)
{
  (void)scroll, (void)dx;
  eye_set(self, (DepthEye){self->eye.turn, self->eye.tilt, self->eye.zoom * pow(ZOOM_STEP, -dy)});
  return TRUE;
}

static void pinch_begin(GtkGesture *gesture, GdkEventSequence *sequence, SoffitDepth *self)
{
  (void)gesture, (void)sequence;
  self->zoom_start = self->eye.zoom;
}

static void pinched(GtkGestureZoom *gesture, double scale, SoffitDepth *self)
{
  (void)gesture;
  eye_set(self, (DepthEye){self->eye.turn, self->eye.tilt, self->zoom_start * scale});
}

static gboolean key_pressed(GtkEventControllerKey *controller, guint key, guint code,
                            GdkModifierType state, SoffitDepth *self)
{
  (void)controller, (void)code;
  DepthEye eye = self->eye;
  Point by = {0, 0};
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK))
    return FALSE;
  bool turned = arrow_key(key, KEY_STEP, &by);
  eye.turn += by.x;
  eye.tilt -= by.y;
  switch (key) {
  case GDK_KEY_plus:
  case GDK_KEY_KP_Add:
    eye.zoom *= ZOOM_STEP;
    break;
  case GDK_KEY_minus:
  case GDK_KEY_KP_Subtract:
    eye.zoom /= ZOOM_STEP;
    break;
  case GDK_KEY_0:
  case GDK_KEY_KP_0:
    eye = DEPTH_EYE_START;
    break;
  default:
    if (!turned)
      return FALSE;
  }
  eye_set(self, eye);
  return TRUE;
}

static void depth_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *least,
                          int *natural, int *least_baseline, int *natural_baseline)
{
  (void)widget, (void)orientation, (void)for_size;
  *least = *natural = 100;
  *least_baseline = *natural_baseline = -1;
}

static void depth_dispose(GObject *object)
{
  g_clear_object(&SOFFIT_DEPTH(object)->session);
  G_OBJECT_CLASS(depth_parent_class)->dispose(object);
}

static void depth_class_init(SoffitDepthClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
  G_OBJECT_CLASS(class)->dispose = depth_dispose;
  widget_class->snapshot = depth_snapshot;
  widget_class->measure = depth_measure;
  gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void depth_init(SoffitDepth *self)
{
  GtkWidget *widget = GTK_WIDGET(self);
  self->eye = DEPTH_EYE_START;
  gtk_widget_set_focusable(widget, TRUE);
  gtk_widget_set_visible(widget, FALSE);
  gtk_widget_set_cursor_from_name(widget, "grab");
  GtkEventController *keys = gtk_event_controller_key_new();
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), self);
  gtk_widget_add_controller(widget, keys);
  GtkGesture *drag = gtk_gesture_drag_new();
  g_signal_connect(drag, "drag-begin", G_CALLBACK(drag_begin), self);
  g_signal_connect(drag, "drag-update", G_CALLBACK(drag_update), self);
  g_signal_connect(drag, "drag-end", G_CALLBACK(drag_end), self);
  gtk_widget_add_controller(widget, GTK_EVENT_CONTROLLER(drag));
  GtkGesture *pinch = gtk_gesture_zoom_new();
  g_signal_connect(pinch, "begin", G_CALLBACK(pinch_begin), self);
  g_signal_connect(pinch, "scale-changed", G_CALLBACK(pinched), self);
  gtk_widget_add_controller(widget, GTK_EVENT_CONTROLLER(pinch));
  GtkEventController *scroll =
      gtk_event_controller_scroll_new(GTK_EVENT_CONTROLLER_SCROLL_VERTICAL);
  g_signal_connect(scroll, "scroll", G_CALLBACK(scrolled), self);
  gtk_widget_add_controller(widget, scroll);
}

GtkWidget *depth_new(SoffitSession *session)
{
  SoffitDepth *self = g_object_new(SOFFIT_TYPE_DEPTH, NULL);
  self->session = g_object_ref(session);
  static const char *const when[] = {"assessment-changed", "focus-changed"};
  for (size_t i = 0; i < G_N_ELEMENTS(when); i++)
    g_signal_connect_object(session, when[i], G_CALLBACK(depth_changed), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(gtk_settings_get_default(), "notify::gtk-application-prefer-dark-theme",
                          G_CALLBACK(depth_changed), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET(self);
}
