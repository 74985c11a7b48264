/* practice_cross.c - where will it pull most?  A cross on the bare drawing, and how far it missed.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/arrow_key.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/picture_connector.h"
#include "ui/practice/practice_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define BARE                                                                                       \
  (LAYER_PAPER | LAYER_GRID | LAYER_GUM | LAYER_BODY | LAYER_CROSSES | LAYER_OUTLINE |             \
   LAYER_GUM_LINE)
#define STEP_MM 0.1
#define STEP_FINE_MM 0.02
#define ARM_PX 8
#define SMALL_HEIGHT 200

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *area;
  bool small;
  bool early; /* pressed at `early_px` before the hidden answer was there: not lost */
  Point early_px;
} CrossView;

static const Assessment *answer_of(CrossView *self)
{
  return practice_desk_start(self->desk);
}

static View view_of(CrossView *self, const Assessment *a, size_t connector, int width, int height,
                    const DrawContext *context)
{
  return connector_view_above(a, connector, width, height, self->small ? 40 : 78, context);
}

static size_t connector_shown(CrossView *self)
{
  return session_focus(practice_desk_session(self->desk));
}

static void cross_draw(cairo_t *cr, const DrawContext *context, Point at)
{
  ink_use(cr, context, COLOUR_ACCENT);
  ink_width(cr, context, 3);
  double arm = ARM_PX * context->scale;
  cairo_move_to(cr, at.x - arm, at.y - arm);
  cairo_line_to(cr, at.x + arm, at.y + arm);
  cairo_move_to(cr, at.x + arm, at.y - arm);
  cairo_line_to(cr, at.x - arm, at.y + arm);
  cairo_stroke(cr);
}

/* The hot spot and how near is a hit, once it may be seen. */
static void hit_draw(CrossView *self, cairo_t *cr, const DrawContext *context, View view,
                     const Assessment *a, size_t connector)
{
  Point hot = {a->connector[connector].trial_peak.at.x, a->connector[connector].trial_peak.at.y};
  if (practice_desk_step(self->desk) == PRACTICE_PREDICT || isnan(hot.x))
    return;
  Point px = view_px(view, hot);
  double dash[] = {3, 3};
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 1.3);
  cairo_set_dash(cr, dash, 2, 0);
  cairo_new_path(cr);
  cairo_arc(cr, px.x, px.y, view.scale * PREDICTION_HIT_MM, 0, 2 * G_PI);
  cairo_stroke(cr);
  cairo_set_dash(cr, NULL, 0, 0);
  cairo_arc(cr, px.x, px.y, 2, 0, 2 * G_PI);
  cairo_fill(cr);
}

static void area_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  CrossView *self = data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  const Assessment *a = answer_of(self);
  size_t connector = connector_shown(self), on;
  Point at;
  if (!a || connector >= a->n_connector)
    return;
  ConnectorPicture picture = connector_picture(a, connector, width, height, &context);
  picture.view = view_of(self, a, connector, width, height, &context);
  picture.layers = BARE;
  picture_connector(cr, width, height, &context, &picture);
  hit_draw(self, cr, &context, picture.view, a, connector);
  if (practice_desk_cross(self->desk, &on, &at) && on == connector)
    cross_draw(cr, &context, view_px(picture.view, at));
}

static void cross_put(CrossView *self, const Assessment *a, Point at_px)
{
  char font[64];
  DrawContext context = draw_context_for(self->area, font);
  size_t connector = connector_shown(self);
  if (practice_desk_step(self->desk) != PRACTICE_PREDICT || connector >= a->n_connector)
    return;
  View view = view_of(self, a, connector, gtk_widget_get_width(self->area),
                      gtk_widget_get_height(self->area), &context);
  practice_desk_set_cross(self->desk, connector, view_mm(view, at_px));
}

static void said(CrossView *self)
{
  if (self->early && answer_of(self)) {
    self->early = false;
    cross_put(self, answer_of(self), self->early_px);
  }
  size_t on;
  Point at;
  char name[12];
  const Exercise *e = practice_desk_exercise(self->desk);
  connector_name(&e->start, connector_shown(self), '/', name);
  g_autofree char *text = g_strdup_printf(
      _("Drawing of %s without its answer. Mark where it will be pulled most."), name);
  spoken_name(self->area, text);
  bool has = practice_desk_cross(self->desk, &on, &at);
  g_autofree char *x = words_number(at.x, 2), *y = words_number(at.y, 2);
  g_autofree char *where = has ? g_strdup_printf(_("Cross at x %s, y %s mm"), x, y)
                               : g_strdup(_("No cross yet. Arrow keys place it."));
  spoken_description(self->area, where);
  gtk_widget_queue_draw(self->area);
}

static void pressed(GtkGestureClick *click, int n, double x, double y, gpointer data)
{
  (void)click, (void)n;
  CrossView *self = data;
  const Assessment *a = answer_of(self);
  gtk_widget_grab_focus(self->area);
  self->early = !a;
  self->early_px = point(x, y);
  if (a)
    cross_put(self, a, point(x, y));
}

static gboolean key_pressed(GtkEventControllerKey *keys, guint key, guint code,
                            GdkModifierType state, gpointer data)
{
  (void)keys, (void)code;
  CrossView *self = data;
  size_t connector = connector_shown(self), on;
  Point at, by;
  const Assessment *a = answer_of(self);
  if (!a || practice_desk_step(self->desk) != PRACTICE_PREDICT ||
      !arrow_key(key, state & GDK_SHIFT_MASK ? STEP_FINE_MM : STEP_MM, &by))
    return FALSE;
  if (!practice_desk_cross(self->desk, &on, &at) || on != connector) {
    at = point(0, a->connector[connector].form.groove_y / 2); /* away from any answer */
    by = point(0, 0);
  }
  practice_desk_set_cross(self->desk, connector, point(at.x + by.x, at.y + by.y));
  return TRUE;
}

GtkWidget *practice_cross_new(SoffitPracticeDesk *desk, bool small)
{
  CrossView *self = g_new0(CrossView, 1);
  self->desk = desk;
  self->small = small;
  self->area = gtk_drawing_area_new();
  gtk_widget_add_css_class(self->area, "paper");
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(self->area), area_draw, self, NULL);
  if (small) {
    gtk_drawing_area_set_content_height(GTK_DRAWING_AREA(self->area), SMALL_HEIGHT);
  } else {
    gtk_widget_set_focusable(self->area, TRUE);
    gtk_widget_set_vexpand(self->area, TRUE);
    GtkGesture *click = gtk_gesture_click_new();
    g_signal_connect(click, "pressed", G_CALLBACK(pressed), self);
    gtk_widget_add_controller(self->area, GTK_EVENT_CONTROLLER(click));
    GtkEventController *keys = gtk_event_controller_key_new();
    g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), self);
    gtk_widget_add_controller(self->area, keys);
  }
  g_object_set_data_full(G_OBJECT(self->area), "cross", self, g_free);
  g_signal_connect_object(practice_desk_session(desk), "focus-changed",
                          G_CALLBACK(gtk_widget_queue_draw), self->area, G_CONNECT_SWAPPED);
  practice_follow(desk, self->area,
                  (const char *const[]){"exercise-changed", "step-changed", "work-changed", NULL},
                  G_CALLBACK(said), self);
  return self->area;
}
