/* practice_swipe.c - see practice_swipe.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/practice/practice_swipe.h"
#include "ui/arrow_key.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/picture_connector.h"
#include "ui/practice/practice_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define BELOW_PX 44
#define STEP 0.05 /* of the width; with Shift a fifth of it */
#define GRIP_PX 9
#define WORDS_PX 26 /* baseline */
#define SHOWN                                                                                      \
  (LAYER_ALL & ~(unsigned)(LAYER_GHOST | LAYER_KNOTS | LAYER_TITLES | LAYER_COMB | LAYER_CUTTER |  \
                           LAYER_LABELS | LAYER_LOUPE | LAYER_NECK | LAYER_BRUSH | LAYER_ROOM))

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *area;
  double share, drag_from; /* of the width that shows the start */
} Swipe;

static size_t connector_shown(Swipe *self, const Assessment *a)
{
  size_t i = session_focus(practice_desk_session(self->desk));
  return a && i < a->n_connector ? i : SIZE_MAX;
}

static char *said(const char *name, const Assessment *a, size_t connector)
{
  g_autofree char *peak = words_number(a->connector[connector].trial_peak_mpa.value, 0);
  return g_strdup_printf(_("%s: %s MPa"), name, peak);
}

/* One of the two, left or right of the line; both in the view of the start. */
static void side_draw(cairo_t *cr, int width, int height, const DrawContext *context,
                      const Assessment *a, size_t connector, View view, Box clip)
{
  ConnectorPicture picture = connector_picture(a, connector, width, height, context);
  picture.view = view;
  picture.layers = SHOWN;
  cairo_save(cr);
  cairo_rectangle(cr, clip.x, clip.y, clip.width, clip.height);
  cairo_clip(cr);
  picture_connector(cr, width, height, context, &picture);
  cairo_restore(cr);
}

static void line_draw(cairo_t *cr, const DrawContext *context, double x, int height, bool focus)
{
  ink_use(cr, context, COLOUR_ACCENT);
  ink_width(cr, context, focus ? 3 : 2);
  draw_line(cr, point(x, 0), point(x, height));
  path_circle(cr, point(x, height / 2.0), px(context, GRIP_PX));
  cairo_fill(cr);
}

static void area_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Swipe *self = data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  const Assessment *start = practice_desk_start(self->desk), *mine = practice_desk_mine(self->desk);
  size_t i = connector_shown(self, start);
  if (i == SIZE_MAX || connector_shown(self, mine) != i)
    return;
  double x = self->share * width;
  View view = connector_view_above(start, i, width, height, BELOW_PX, &context);
  side_draw(cr, width, height, &context, start, i, view, (Box){0, 0, x, height});
  side_draw(cr, width, height, &context, mine, i, view, (Box){x, 0, width - x, height});
  line_draw(cr, &context, x, height, gtk_widget_has_focus(GTK_WIDGET(area)));
  g_autofree char *left = said(_("Start"), start, i), *right = said(_("Mine"), mine, i);
  TextStyle style = {TEXT_BODY, true, true, COLOUR_TEXT, ALIGN_LEFT};
  text_draw(cr, &context, style, point(px(&context, 18), px(&context, WORDS_PX)), left);
  style.align = ALIGN_RIGHT;
  text_draw(cr, &context, style, point(width - px(&context, 18), px(&context, WORDS_PX)), right);
}

static void swipe_show(Swipe *self)
{
  const Assessment *start = practice_desk_start(self->desk), *mine = practice_desk_mine(self->desk);
  size_t i = connector_shown(self, start);
  g_autofree char *name = g_strdup(_("Before and after"));
  if (i != SIZE_MAX && connector_shown(self, mine) == i) {
    g_autofree char *left = said(_("Start"), start, i), *right = said(_("Mine"), mine, i);
    g_free(name);
    name =
        g_strdup_printf(_("Before and after. %s, left of the line; %s, right of it"), left, right);
  }
  spoken_name(self->area, name);
  g_autofree char *at = words_number(100 * self->share, 0);
  g_autofree char *where = g_strdup_printf(_("Line at %s %% of the width"), at);
  spoken_description(self->area, where);
  gtk_widget_queue_draw(self->area);
}

static void line_set(Swipe *self, double share)
{
  self->share = CLAMP(share, 0, 1);
  swipe_show(self);
}

static void drag_begin(GtkGestureDrag *drag, double x, double y, gpointer data)
{
  (void)drag, (void)y;
  Swipe *self = data;
  gtk_widget_grab_focus(self->area);
  self->drag_from = x;
  line_set(self, x / gtk_widget_get_width(self->area));
}

static void drag_update(GtkGestureDrag *drag, double x, double y, gpointer data)
{
  (void)drag, (void)y;
  Swipe *self = data;
  line_set(self, (self->drag_from + x) / gtk_widget_get_width(self->area));
}

static gboolean key_pressed(GtkEventControllerKey *keys, guint key, guint code,
                            GdkModifierType state, gpointer data)
{
  (void)keys, (void)code;
  Swipe *self = data;
  Point by;
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  if (key == GDK_KEY_Home || key == GDK_KEY_End)
    line_set(self, key == GDK_KEY_Home ? 0 : 1);
  else if (arrow_key(key, state & GDK_SHIFT_MASK ? STEP / 5 : STEP, &by) && by.y == 0)
    line_set(self, self->share + by.x);
  else
    return FALSE;
  return TRUE;
}

GtkWidget *practice_swipe_new(SoffitPracticeDesk *desk)
{
  Swipe *self = g_new0(Swipe, 1);
  self->desk = desk;
  self->share = 0.5;
  self->area = gtk_drawing_area_new();
  gtk_widget_add_css_class(self->area, "paper");
  gtk_widget_set_focusable(self->area, TRUE);
  gtk_widget_set_vexpand(self->area, TRUE);
  gtk_widget_set_cursor_from_name(self->area, "ew-resize");
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(self->area), area_draw, self, NULL);
  GtkGesture *drag = gtk_gesture_drag_new();
  g_signal_connect(drag, "drag-begin", G_CALLBACK(drag_begin), self);
  g_signal_connect(drag, "drag-update", G_CALLBACK(drag_update), self);
  gtk_widget_add_controller(self->area, GTK_EVENT_CONTROLLER(drag));
  GtkEventController *keys = gtk_event_controller_key_new();
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), self);
  gtk_widget_add_controller(self->area, keys);
  g_object_set_data_full(G_OBJECT(self->area), "swipe", self, g_free);
  GClosure *closure = g_cclosure_new_swap(G_CALLBACK(swipe_show), self, NULL);
  g_object_watch_closure(G_OBJECT(self->area), closure);
  g_signal_connect_closure(practice_desk_session(desk), "focus-changed", closure, FALSE);
  practice_follow(
      desk, self->area,
      (const char *const[]){"exercise-changed", "step-changed", "work-changed", "scored", NULL},
      G_CALLBACK(swipe_show), self);
  return self->area;
}
