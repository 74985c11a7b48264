/* trace_page.c - own size rule, folding, and the keys that work anywhere on the page.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px at the look's text size; larger text scales them.  Measures: look.md "Grid and measures" and
 * "Folding". */
#include "ui/trace/trace_page.h"
#include "ui/parts.h"
#include "ui/trace/advice_list.h"
#include "ui/trace/photo_card.h"
#include "ui/trace/side_column.h"
#include "ui/trace/views.h"
#include "ui/words.h"
#include "ui/canvas/canvas.h"
#include "ui/canvas/depth.h"
#include "ui/canvas/draw_context.h"
#include "ui/canvas/strip.h"

#define FOLD_WIDTH 1240
#define FOLD_HEIGHT 732 /* 780 less the header */
#define OVERLAY_WIDTH 1000
#define SIDE_OPEN 368
#define SIDE_FOLDED 322
#define STRIP_OPEN 252
#define STRIP_FOLDED 196
#define VIEWS_WIDE 200
#define PHOTO_WIDE 298 /* its card, where the side column has no place */
#define LEAST_WIDTH 640
#define LEAST_HEIGHT 520

typedef enum { FOLD_NONE, FOLD_PAGES, FOLD_OVERLAY } Fold;

struct _SoffitTracePage {
  GtkWidget parent;
  SoffitSession *session; /* owned ref */
  GtkWidget *strip, *canvas, *depth, *views, *side, *photo;
  Fold fold;
  bool side_sent_away; /* F9 while the column has its own place         */
  bool side_over;      /* F9 while it has none: lies over the drawing    */
  int drawing;         /* px, its width                                  */
  guint refold, enter; /* idle sources                                   */
};

G_DEFINE_FINAL_TYPE(SoffitTracePage, trace_page, GTK_TYPE_WIDGET)

static bool side_shown(const SoffitTracePage *self)
{
  return self->fold == FOLD_OVERLAY ? self->side_over : !self->side_sent_away;
}

/* The card of the photo lies beside the drawing, never on it: in the side column below the verdict,
 * or, where that has no place of its own, in a column for itself. */
static bool photo_in_side(const SoffitTracePage *self)
{
  return self->fold != FOLD_OVERLAY && side_shown(self);
}

static bool photo_alone(const SoffitTracePage *self)
{
  return gtk_widget_get_visible(self->photo) && !photo_in_side(self);
}

/* The views lie on the drawing, in the same place. */
static void plates_tell(SoffitTracePage *self)
{
  Box plate[CANVAS_PLATES] = {{0, 0, 0, 0}, {0, 0, 0, 0}};
  if (gtk_widget_get_visible(self->views))
    views_plates(SOFFIT_VIEWS(self->views), plate);
  canvas_set_plates(SOFFIT_CANVAS(self->canvas), plate);
}

/* The views lie on the drawing. */
static bool views_cover(const SoffitTracePage *self)
{
  return self->fold != FOLD_NONE && gtk_widget_get_visible(self->views);
}

/* For the row of tools: beside the key of the shade, where that lies on the drawing. */
static int tools_room(const SoffitTracePage *self)
{
  int key =
      views_cover(self) ? VIEWS_EDGE + (int)(text_scale(GTK_WIDGET(self)) * VIEWS_CARD_WIDTH) : 0;
  return self->drawing - 2 * VIEWS_EDGE - key;
}

/* Parts change their own structure outside of the allocation. */
static gboolean refold_now(void *data)
{
  SoffitTracePage *self = data;
  double scale = text_scale(GTK_WIDGET(self));
  self->refold = 0;
  side_column_fold(SOFFIT_SIDE_COLUMN(self->side), self->fold != FOLD_NONE);
  side_column_cover(SOFFIT_SIDE_COLUMN(self->side),
                    gtk_widget_get_visible(self->photo) && photo_in_side(self));
  views_fold(SOFFIT_VIEWS(self->views), self->fold != FOLD_NONE);
  gtk_widget_set_visible(self->views, self->fold == FOLD_NONE ||
                                          !gtk_widget_get_visible(self->photo)); /* lies on it */
  canvas_fold(SOFFIT_CANVAS(self->canvas), views_cover(self) ? VIEWS_EDGE : 0, tools_room(self));
  plates_tell(self);
  depth_set_covered(SOFFIT_DEPTH(self->depth),
                    self->fold != FOLD_NONE ? (int)(scale * VIEWS_CARD_WIDTH) + VIEWS_EDGE : 0);
  gtk_widget_set_visible(self->side, side_shown(self));
  (self->fold == FOLD_OVERLAY ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(self->side,
                                                                                        "overlay");
  gtk_widget_queue_resize(GTK_WIDGET(self));
  return G_SOURCE_REMOVE;
}

static void refold_soon(SoffitTracePage *self)
{
  if (self->refold == 0)
    self->refold = g_idle_add_full(GDK_PRIORITY_REDRAW - 20, refold_now, self, NULL);
}

static int photo_card_width(const SoffitTracePage *self)
{
  int least;
  gtk_widget_measure(self->photo, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  return MAX(least, (int)(text_scale(GTK_WIDGET(self)) * PHOTO_WIDE));
}

static void trace_page_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  (void)baseline;
  SoffitTracePage *self = SOFFIT_TRACE_PAGE(widget);
  double scale = text_scale(widget), across = width / scale, down = height / scale;
  Fold fold = across < OVERLAY_WIDTH                      ? FOLD_OVERLAY
              : across < FOLD_WIDTH || down < FOLD_HEIGHT ? FOLD_PAGES
                                                          : FOLD_NONE;
  if (fold != self->fold) {
    self->fold = fold;
    refold_soon(self);
  }
  bool folded = fold != FOLD_NONE;
  int least, side = (int)(scale * (folded ? SIDE_FOLDED : SIDE_OPEN)),
             strip = (int)(scale * (folded ? STRIP_FOLDED : STRIP_OPEN)),
             views = (int)(scale * VIEWS_WIDE);
  gtk_widget_measure(self->side, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  side = MAX(side, least); /* long words, large letters */
  int rest = fold == FOLD_OVERLAY || !side_shown(self) ? width : width - side;
  int column = photo_alone(self) ? photo_card_width(self) : 0, drawing = rest - column;
  if (!folded)
    drawing -= views;
  if (drawing != self->drawing && scale > 1)
    refold_soon(self); /* the tools are as large as the text, where there is room */
  self->drawing = drawing;
  part_place(self->strip, 0, 0, rest, strip);
  part_place(self->canvas, 0, strip, drawing, height - strip);
  if (gtk_widget_should_layout(self->depth)) /* over the drawing */
    part_place(self->depth, 0, strip, drawing, height - strip);
  if (!gtk_widget_should_layout(self->views))
    ;
  else if (folded) /* a card and the key on the drawing */
    part_place(self->views, 0, strip, drawing, height - strip);
  else
    part_place(self->views, drawing, strip, views, height - strip);
  if (gtk_widget_should_layout(self->photo) && column > 0)
    part_place(self->photo, rest - column, strip, column, height - strip);
  if (gtk_widget_should_layout(self->side))
    part_place(self->side, width - side, 0, side, height);
  if (gtk_widget_should_layout(self->photo) && column == 0) {
    int head = side_column_head(SOFFIT_SIDE_COLUMN(self->side));
    part_place(self->photo, width - side, head, side, height - head);
  }
}

static void trace_page_measure(GtkWidget *widget, GtkOrientation orientation, int for_size,
                               int *least, int *natural, int *least_baseline, int *natural_baseline)
{
  (void)widget, (void)for_size;
  *least = orientation == GTK_ORIENTATION_HORIZONTAL ? LEAST_WIDTH : LEAST_HEIGHT;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 1440 : 852;
  *least_baseline = *natural_baseline = -1;
}

/* GTK finds the first field by its place, and that is known only after the allocation. */
static gboolean enter_side(void *data)
{
  SoffitTracePage *self = data;
  self->enter = 0;
  gtk_widget_child_focus(self->side, GTK_DIR_TAB_FORWARD);
  return G_SOURCE_REMOVE;
}

void trace_page_toggle_side(SoffitTracePage *self)
{
  if (self->fold == FOLD_OVERLAY)
    self->side_over = !self->side_over;
  else
    self->side_sent_away = !self->side_sent_away;
  gtk_widget_set_visible(self->side, side_shown(self));
  refold_soon(self);
  g_clear_handle_id(&self->enter, g_source_remove);
  if (side_shown(self) && self->fold == FOLD_OVERLAY)
    self->enter = g_idle_add_full(GDK_PRIORITY_REDRAW + 10, enter_side, self, NULL);
  else if (!side_shown(self))
    gtk_widget_grab_focus(self->canvas);
}

static void depth_show(SoffitTracePage *self, bool shown)
{
  gtk_widget_set_visible(self->depth, shown);
  gtk_widget_set_visible(self->canvas, !shown);
  gtk_widget_grab_focus(shown ? self->depth : self->canvas);
  views_depth_shown(SOFFIT_VIEWS(self->views), shown);
}

static void depth_wanted(SoffitTracePage *self)
{
  depth_show(self, !gtk_widget_get_visible(self->depth));
}

void trace_page_best_outline(SoffitTracePage *self)
{
  gtk_widget_grab_focus(self->canvas);
  canvas_set_tool(SOFFIT_CANVAS(self->canvas), &tool_best);
}

GtkWidget *trace_page_canvas(SoffitTracePage *self)
{
  return self->canvas;
}

/* --- keys --- */

/* The places of the page in the order of Tab and F6; GTK alone goes by the upper edge. */
static bool place_next(SoffitTracePage *self, GtkDirectionType direction, bool around)
{
  GtkWidget *const order[] = {self->strip, self->canvas, self->depth,
                              self->photo, self->views,  self->side};
  GtkWidget *at = gtk_widget_get_focus_child(GTK_WIDGET(self));
  int n = (int)G_N_ELEMENTS(order), by = direction == GTK_DIR_TAB_BACKWARD ? -1 : 1;
  int place = by > 0 ? -1 : n;
  for (int i = 0; i < n; i++)
    if (order[i] == at)
      place = i;
  for (int step = 1; step <= n; step++) {
    int next = place + step * by;
    if (!around && (next < 0 || next >= n))
      return false;
    GtkWidget *child = order[(next % n + n) % n];
    if (child != at && gtk_widget_get_visible(child) && gtk_widget_child_focus(child, direction))
      return true;
  }
  return false;
}

void trace_page_next_place(SoffitTracePage *self)
{
  place_next(self, GTK_DIR_TAB_FORWARD, true);
}

static gboolean trace_page_focus(GtkWidget *widget, GtkDirectionType direction)
{
  if (direction != GTK_DIR_TAB_FORWARD && direction != GTK_DIR_TAB_BACKWARD)
    return GTK_WIDGET_CLASS(trace_page_parent_class)->focus(widget, direction);
  GtkWidget *at = gtk_widget_get_focus_child(widget);
  return (at && gtk_widget_child_focus(at, direction)) ||
         place_next(SOFFIT_TRACE_PAGE(widget), direction, false);
}

static void neck_step(SoffitTracePage *self, int by)
{
  size_t focus = session_focus(self->session);
  if (by < 0 && focus == 0)
    return;
  session_set_focus(self->session, by < 0 ? focus - 1 : focus + 1);
}

static bool digit_pressed(SoffitTracePage *self, guint key)
{
  guint digit = key >= GDK_KEY_KP_1 && key <= GDK_KEY_KP_5 ? key - GDK_KEY_KP_1 : key - GDK_KEY_1;
  return digit < ADVICE_SHOWN && advice_try(self->session, digit);
}

/* Enter keeps the advice that is tried from the drawing and from the list of advices; anywhere else
 * it belongs to what has the focus, such as a step to tick. */
static bool keeps_here(SoffitTracePage *self)
{
  GtkWidget *focus = gtk_root_get_focus(gtk_widget_get_root(GTK_WIDGET(self)));
  return focus == NULL || focus == self->canvas ||
         gtk_widget_get_ancestor(focus, SOFFIT_TYPE_ADVICE_LIST) != NULL;
}

#define COMMAND_KEYS (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)

static gboolean key_pressed(GtkEventControllerKey *controller, guint key, guint code,
                            GdkModifierType state, void *data)
{
  (void)controller, (void)code;
  SoffitTracePage *self = data;
  if (state & COMMAND_KEYS)
    return FALSE;
  switch (key) {
  case GDK_KEY_Return:
  case GDK_KEY_KP_Enter:
    return keeps_here(self) && session_preview_keep(self->session);
  case GDK_KEY_Escape:
    if (session_previewed(self->session)) {
      session_preview(self->session, NULL);
      return TRUE;
    }
    if (self->fold == FOLD_OVERLAY && self->side_over) {
      trace_page_toggle_side(self);
      return TRUE;
    }
    if (gtk_widget_get_visible(self->depth)) {
      depth_show(self, false);
      return TRUE;
    }
    return FALSE;
  case GDK_KEY_s:
    depth_show(self, !gtk_widget_get_visible(self->depth));
    return TRUE;
  case GDK_KEY_c:
    return session_has_case(self->session) &&
           gtk_widget_activate_action(GTK_WIDGET(self), "win.compare", NULL);
  default:
    return digit_pressed(self, key);
  }
}

/* These mean the same wherever the focus is; lists and scrollers would take them. */
static gboolean key_captured(GtkEventControllerKey *controller, guint key, guint code,
                             GdkModifierType state, void *data)
{
  (void)controller, (void)code;
  SoffitTracePage *self = data;
  if (state & COMMAND_KEYS)
    return FALSE;
  switch (key) {
  case GDK_KEY_Page_Up:
  case GDK_KEY_KP_Page_Up:
    neck_step(self, -1);
    return TRUE;
  case GDK_KEY_Page_Down:
  case GDK_KEY_KP_Page_Down:
    neck_step(self, 1);
    return TRUE;
  default:
    return FALSE;
  }
}

static void trace_page_dispose(GObject *object)
{
  SoffitTracePage *self = SOFFIT_TRACE_PAGE(object);
  g_clear_handle_id(&self->refold, g_source_remove);
  g_clear_handle_id(&self->enter, g_source_remove);
  g_clear_pointer(&self->strip, gtk_widget_unparent);
  g_clear_pointer(&self->canvas, gtk_widget_unparent);
  g_clear_pointer(&self->depth, gtk_widget_unparent);
  g_clear_pointer(&self->views, gtk_widget_unparent);
  g_clear_pointer(&self->photo, gtk_widget_unparent);
  g_clear_pointer(&self->side, gtk_widget_unparent);
  g_clear_object(&self->session);
  G_OBJECT_CLASS(trace_page_parent_class)->dispose(object);
}

static void trace_page_class_init(SoffitTracePageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
  G_OBJECT_CLASS(class)->dispose = trace_page_dispose;
  widget_class->measure = trace_page_measure;
  widget_class->size_allocate = trace_page_size_allocate;
  widget_class->focus = trace_page_focus;
  gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void trace_page_init(SoffitTracePage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_name(keys, "soffit-trace-keys");
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), self);
  gtk_widget_add_controller(GTK_WIDGET(self), keys);
  GtkEventController *first = gtk_event_controller_key_new();
  gtk_event_controller_set_name(first, "soffit-trace-first-keys");
  gtk_event_controller_set_propagation_phase(first, GTK_PHASE_CAPTURE);
  g_signal_connect(first, "key-pressed", G_CALLBACK(key_captured), self);
  gtk_widget_add_controller(GTK_WIDGET(self), first);
}

GtkWidget *trace_page_new(SoffitSession *session)
{
  SoffitTracePage *self = g_object_new(SOFFIT_TYPE_TRACE_PAGE, NULL);
  self->session = g_object_ref(session);
  self->canvas = soffit_canvas_new(session);
  self->strip = soffit_strip_new(session);
  self->depth = depth_new(session);
  self->views = views_new(session);
  g_signal_connect_object(self->views, "depth-wanted", G_CALLBACK(depth_wanted), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(self->views, "placed", G_CALLBACK(plates_tell), self, G_CONNECT_SWAPPED);
  self->photo = photo_card_new(SOFFIT_CANVAS(self->canvas));
  g_signal_connect_object(self->photo, "notify::visible", G_CALLBACK(refold_soon), self,
                          G_CONNECT_SWAPPED);
  self->side = side_column_new(session);
  gtk_widget_add_css_class(self->strip, "strip");
  gtk_widget_add_css_class(self->canvas, "paper");
  gtk_widget_set_parent(self->strip, GTK_WIDGET(self));
  gtk_widget_set_parent(self->canvas, GTK_WIDGET(self));
  gtk_widget_set_parent(self->depth, GTK_WIDGET(self));
  gtk_widget_set_parent(self->views, GTK_WIDGET(self));
  gtk_widget_set_parent(self->side, GTK_WIDGET(self));
  gtk_widget_set_parent(self->photo, GTK_WIDGET(self)); /* above the column */
  return GTK_WIDGET(self);
}
