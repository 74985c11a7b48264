/* stl_hand.c - the picture of the surface: planes dragged with pointer or keys.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Near its middle a plane is moved along the span; farther out it is tilted.  Keys: Page Up and
 * Page Down choose, arrows move, up and down tilt in the elevation, with Ctrl in the plan. */
#include "ui/arrow_key.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/picture_surface.h"
#include "ui/import/stl_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define REACH_PX 14.0
#define MIDDLE_MM 2.2 /* within: moves; beyond: tilts */
#define STEP_MM 0.05
#define FINE_MM 0.01
#define STEP_TILT (0.5 * G_PI / 180)

typedef struct {
  StlSheet *sheet;
  bool held, plan, tilts;
  double x, yaw, pitch; /* when it was taken */
  Point start;          /* mm                */
} Hand;

static Vec3 middle_of(const StlSheet *sheet, size_t i)
{
  return mesh_frame_local(&sheet->span->frame, sheet->plane[i].frame.origin);
}

static SurfaceViews views_of(const StlSheet *sheet)
{
  char font[64];
  GtkWidget *picture = sheet->sheet.picture;
  DrawContext context = draw_context_for(picture, font);
  return surface_views(gtk_widget_get_width(picture), gtk_widget_get_height(picture), &context,
                       sheet->span);
}

static void draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, void *data)
{
  StlSheet *sheet = data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  if (!sheet->span) {
    TextStyle style = {TEXT_BODY, false, false, COLOUR_DIM, ALIGN_CENTRE};
    ink_use(cr, &context, COLOUR_PAPER);
    cairo_paint(cr);
    text_draw(cr, &context, style, point(width / 2.0, height / 2.0),
              text_word(&context, stl_job_busy(sheet->job) ? N_("The surface is being read …")
                                                           : N_("No surface to show")));
    return;
  }
  const SurfacePicture picture = {sheet->span, sheet->plane, sheet->used,
                                  sheet->name, sheet->n,     sheet->chosen};
  picture_surface(cr, width, height, &context, &picture);
}

/* ---- pointer ---- */

/* The nearest plane in reach of a place; the view it lies in. */
static bool plane_near(const StlSheet *sheet, Point at, size_t *nearest, bool *plan, double *off)
{
  SurfaceViews views = views_of(sheet);
  *plan = at.y > views.parting;
  View view = *plan ? views.plan : views.up;
  Point mm = view_mm(view, at);
  double best = REACH_PX / view.scale;
  bool found = false;
  for (size_t i = 0; i < sheet->n; i++) {
    Vec3 middle = middle_of(sheet, i);
    double tilt = *plan ? sheet->plane[i].yaw : sheet->plane[i].pitch;
    Point d = point_sub(mm, point(middle.x, *plan ? middle.z : middle.y));
    double across = fabs(d.x * cos(tilt) + d.y * sin(tilt));
    if (across < best) {
      best = across;
      *nearest = i;
      *off = fabs(-d.x * sin(tilt) + d.y * cos(tilt));
      found = true;
    }
  }
  return found;
}

static void drag_begin(GtkGestureDrag *gesture, double x, double y, Hand *hand)
{
  StlSheet *sheet = hand->sheet;
  size_t i = 0;
  double off = 0;
  hand->held = sheet->span && !stl_job_busy(sheet->job) &&
               plane_near(sheet, point(x, y), &i, &hand->plan, &off);
  if (!hand->held) {
    gtk_gesture_set_state(GTK_GESTURE(gesture), GTK_EVENT_SEQUENCE_DENIED);
    return;
  }
  SurfaceViews views = views_of(sheet);
  hand->start = view_mm(hand->plan ? views.plan : views.up, point(x, y));
  hand->tilts = off > MIDDLE_MM;
  hand->x = sheet->plane[i].x;
  hand->yaw = sheet->plane[i].yaw;
  hand->pitch = sheet->plane[i].pitch;
  stl_sheet_choose(sheet, i);
  gtk_widget_grab_focus(sheet->sheet.picture);
}

static void drag_update(GtkGestureDrag *gesture, double dx, double dy, Hand *hand)
{
  (void)gesture;
  StlSheet *sheet = hand->sheet;
  if (!hand->held || !sheet->span)
    return;
  SurfaceViews views = views_of(sheet);
  View view = hand->plan ? views.plan : views.up;
  Point mm = point_add(hand->start, point(dx / view.scale, -dy / view.scale));
  double x = hand->x, yaw = hand->yaw, pitch = hand->pitch;
  if (hand->tilts) {
    Vec3 middle = middle_of(sheet, sheet->chosen);
    Point d = point_sub(mm, point(middle.x, hand->plan ? middle.z : middle.y));
    double tilt = d.y >= 0 ? atan2(-d.x, d.y) : atan2(d.x, -d.y);
    tilt = CLAMP(tilt, -NECK_TILT_MAX, NECK_TILT_MAX);
    *(hand->plan ? &yaw : &pitch) = tilt;
  } else {
    x += mm.x - hand->start.x;
  }
  stl_sheet_move(sheet, sheet->chosen, x, yaw, pitch);
}

/* ---- keys ---- */

static gboolean key_pressed(GtkEventControllerKey *keys, guint key, guint code,
                            GdkModifierType state, Hand *hand)
{
  (void)keys, (void)code;
  StlSheet *sheet = hand->sheet;
  if (!sheet->span || stl_job_busy(sheet->job) || sheet->n == 0)
    return FALSE;
  const Neck *plane = &sheet->plane[sheet->chosen];
  double x = plane->x, yaw = plane->yaw, pitch = plane->pitch;
  double way = state & GDK_SHIFT_MASK ? FINE_MM : STEP_MM;
  double tilt = state & GDK_SHIFT_MASK ? STEP_TILT / 5 : STEP_TILT;
  Point by;
  switch (key) {
  case GDK_KEY_Page_Up:
    stl_sheet_choose(sheet, sheet->chosen ? sheet->chosen - 1 : 0);
    return TRUE;
  case GDK_KEY_Page_Down:
    stl_sheet_choose(sheet, MIN(sheet->chosen + 1, sheet->n - 1));
    return TRUE;
  default:
    if (!arrow_key(key, 1, &by))
      return FALSE;
  }
  x += by.x * way;
  *(state & GDK_CONTROL_MASK ? &yaw : &pitch) += by.y * tilt;
  stl_sheet_move(sheet, sheet->chosen, x, CLAMP(yaw, -NECK_TILT_MAX, NECK_TILT_MAX),
                 CLAMP(pitch, -NECK_TILT_MAX, NECK_TILT_MAX));
  return TRUE;
}

void stl_hand_attach(StlSheet *sheet)
{
  GtkWidget *picture = sheet->sheet.picture;
  Hand *hand = g_new0(Hand, 1);
  hand->sheet = sheet;
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(picture), draw, sheet, NULL);
  gtk_widget_set_focusable(picture, TRUE);
  spoken_name(picture, _("Bridge from the cheek and from above, with the planes of its necks"));
  GtkGesture *drag = gtk_gesture_drag_new();
  g_signal_connect(drag, "drag-begin", G_CALLBACK(drag_begin), hand);
  g_signal_connect(drag, "drag-update", G_CALLBACK(drag_update), hand);
  gtk_widget_add_controller(picture, GTK_EVENT_CONTROLLER(drag));
  GtkEventController *keys = gtk_event_controller_key_new();
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), hand);
  gtk_widget_add_controller(picture, keys);
  g_object_set_data_full(G_OBJECT(picture), "hand", hand, g_free);
}
