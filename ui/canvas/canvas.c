/* canvas.c - the drawing widget: picture, view, tools; the hand's events are in canvas_hand.c, keys
 * in canvas_keys.c.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The picture is kept as a render node until something in it changes.  While a hand draws or moves
 * the view the worker makes it, without the gum-side line: that is drawn above it in the same
 * frame, and fresh ink above that. */
#include "ui/canvas/best_bar.h"
#include "ui/canvas/canvas_note.h"
#include "ui/canvas/canvas_remarks.h"
#include "ui/canvas/canvas_private.h"
#include "ui/canvas/draw_context.h"
#include "ui/canvas/overlays.h"
#include "ui/canvas/snap_menu.h"
#include "ui/canvas/mark_list.h"
#include "ui/canvas/photo_layer.h"
#include "ui/canvas/smoothing.h"
#include "ui/canvas/tool_row.h"
#include "ui/canvas/walk_slider.h"
#include "ui/canvas/walk_words.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>
#include <string.h>

#define TOOL_ROW_GAP 14

G_DEFINE_FINAL_TYPE(SoffitCanvas, canvas, GTK_TYPE_WIDGET)

/* ---- picture ---- */

void canvas_invalidate(SoffitCanvas *self)
{
  g_clear_pointer(&self->picture, gsk_render_node_unref);
  g_clear_pointer(&self->line, gsk_render_node_unref);
  gtk_widget_queue_draw(GTK_WIDGET(self));
  canvas_marks_tell(self);
}

static void canvas_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  SoffitCanvas *self = SOFFIT_CANVAS(widget);
  int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
  if (!self->picture && session_has_case(self->session)) {
    GtkSnapshot *own = gtk_snapshot_new();
    cairo_t *cr =
        gtk_snapshot_append_cairo(own, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
    canvas_picture_draw(self, cr, width, height);
    cairo_destroy(cr);
    self->picture = gtk_snapshot_free_to_node(own);
    self->picture_view = self->hand.view;
    canvas_marks_tell(self); /* where its words lie is known now */
  }
  gtk_snapshot_push_clip(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  if (self->picture)
    canvas_picture_append(self, snapshot);
  if (canvas_line_apart(self) && session_has_case(self->session))
    canvas_line_append(self, snapshot, width, height);
  canvas_ink_show(self, snapshot);
  canvas_crack_draw(self, snapshot, width, height);
  canvas_marks_draw(self, snapshot, width, height);
  photo_layer_marks(self, snapshot, width, height);
  canvas_remarks_draw(self, snapshot, width, height);
  canvas_note_draw(self, snapshot, width, height);
  gtk_snapshot_pop(snapshot);
  gtk_widget_snapshot_child(widget, self->walk, snapshot);
  gtk_widget_snapshot_child(widget, self->row, snapshot);
  gtk_widget_snapshot_child(widget, self->best, snapshot);
}

/* ---- what the session says ---- */

static void label_update(SoffitCanvas *self)
{
  const Assessment *a = session_assessment(self->session);
  size_t i = session_focus(self->session);
  g_autofree char *label = NULL;
  if (a && i < a->n_connector) {
    const ConnectorAssessment *k = &a->connector[i];
    g_autofree char *peak = words_number(k->trial_peak_mpa.value, 0),
                    *range = words_range(k->trial_peak_mpa, 0);
    label = g_strdup_printf(_("Drawing of connector %s: %s, pulled %s MPa (%s) at most"), k->name,
                            _(verdict_name(k->verdict)), peak, range);
  } else
    label = g_strdup(_("Drawing"));
  spoken_name(GTK_WIDGET(self), label);
}

static void canvas_say(void *canvas, const char *words)
{
  SoffitCanvas *self = canvas;
  spoken_description(canvas, words);
  if (self->tool == &tool_walk)
    canvas_walk_tell(self);
}

static void assessment_changed(SoffitCanvas *self)
{
  canvas_shade_ask(self);
  if (!canvas_line_apart(self)) /* else the picture comes with the shade */
    canvas_invalidate(self);
  label_update(self);
  if (self->tool == &tool_walk && walk_answered(&self->hand))
    walk_say(&self->hand);
}

static void case_changed(SoffitCanvas *self)
{
  if (canvas_line_apart(self)) { /* the line moves above the picture */
    g_clear_pointer(&self->line, gsk_render_node_unref);
    gtk_widget_queue_draw(GTK_WIDGET(self));
    return;
  }
  self->hand.trouble = NULL;
  canvas_invalidate(self);
}

static void focus_changed(SoffitCanvas *self)
{
  self->hand.chosen = SIZE_MAX;
  measure_clear(&self->hand);
  self->hand.trouble = NULL;
  self->hand.walks = false;
  self->fitted = false;
  canvas_view_fit(self);
  assessment_changed(self);
  if (self->tool == &tool_walk)
    walk_begin(&self->hand);
}

/* ---- view ---- */

void canvas_fit(SoffitCanvas *self)
{
  canvas_view_fit(self);
  canvas_shade_ask(self);
  canvas_invalidate(self);
}

static void canvas_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  (void)baseline;
  SoffitCanvas *self = SOFFIT_CANVAS(widget);
  int row_width, row_height;
  gtk_widget_measure(self->row, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &row_width, NULL, NULL);
  gtk_widget_measure(self->row, GTK_ORIENTATION_VERTICAL, row_width, NULL, &row_height, NULL, NULL);
  float x = self->folded_edge > 0 ? (float)self->folded_edge
                                  : (float)MAX(0, (width - row_width) / 2),
        y = (float)(height - row_height - TOOL_ROW_GAP);
  gtk_widget_allocate(self->row, row_width, row_height, -1,
                      gsk_transform_translate(NULL, &GRAPHENE_POINT_INIT(x, y)));
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
       child = gtk_widget_get_next_sibling(child))
    if (GTK_IS_POPOVER(child))
      gtk_popover_present(GTK_POPOVER(child));
  best_bar_place(self->best, self->folded_edge > 0 ? (int)x : -1, width);
  gtk_widget_size_allocate(self->marks, &(GtkAllocation){0, 0, width, height}, -1);
  gtk_widget_size_allocate(self->walk, &(GtkAllocation){0, 0, width, height}, -1);
  bool same = width == self->width && height == self->height && self->fitted;
  if (same) /* a figure beside the drawing took more room, or less: the drawing stands */
    return;
  self->width = width;
  self->height = height;
  canvas_view_fit(self);
  canvas_shade_ask(self);
  canvas_invalidate(self);
}

void canvas_fold(SoffitCanvas *self, int edge, int room)
{
  self->folded_edge = edge;
  tool_row_fit(self->row, room, gtk_widget_get_height(GTK_WIDGET(self)), edge > 0);
  self->fitted = false;
  gtk_widget_queue_resize(GTK_WIDGET(self));
}

void canvas_set_plates(SoffitCanvas *self, const Box plate[CANVAS_PLATES])
{
  if (memcmp(self->plate, plate, sizeof self->plate) == 0)
    return;
  memcpy(self->plate, plate, sizeof self->plate);
  canvas_invalidate(self);
}

static void canvas_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *least,
                           int *natural, int *least_baseline, int *natural_baseline)
{
  (void)for_size;
  SoffitCanvas *self = SOFFIT_CANVAS(widget);
  gtk_widget_measure(self->row, orientation, -1, least, natural, NULL, NULL);
  *natural = MAX(*natural, orientation == GTK_ORIENTATION_HORIZONTAL ? 872 : 600);
  *least_baseline = *natural_baseline = -1;
}

/* ---- walking ---- */

/* While one walks the slider has the focus in place of the drawing. */
static gboolean canvas_grab_focus(GtkWidget *widget)
{
  SoffitCanvas *self = SOFFIT_CANVAS(widget);
  return gtk_widget_get_visible(self->walk)
             ? gtk_widget_grab_focus(self->walk)
             : GTK_WIDGET_CLASS(canvas_parent_class)->grab_focus(widget);
}

void canvas_walk_tell(SoffitCanvas *self)
{
  GtkWidget *widget = GTK_WIDGET(self);
  bool walking = self->tool == &tool_walk,
       focused = gtk_widget_get_focus_child(widget) == self->walk;
  gtk_widget_set_focusable(widget, !walking);
  walk_slider_tell(self->walk, &self->hand, walking);
  if (walking ? gtk_widget_is_focus(widget) : focused)
    gtk_widget_grab_focus(widget);
}

/* ---- tools, layers ---- */

const Tool *canvas_tool(SoffitCanvas *self)
{
  return self->tool;
}

void canvas_set_school(SoffitCanvas *self, bool school)
{
  self->school = school;
  tool_row_leave_out(self->row, school ? &tool_best : NULL);
  canvas_invalidate(self);
}

void canvas_set_tool(SoffitCanvas *self, const Tool *tool)
{
  canvas_cancel(self);
  if (self->school && tool == &tool_best)
    return;
  if (tool->act)
    tool->act(&self->hand);
  else {
    self->tool = tool;
    photo_desk_set_active(self->photo, self->tool == &tool_photo);
    if (tool->enter)
      tool->enter(&self->hand);
  }
  gtk_widget_set_cursor_from_name(GTK_WIDGET(self),
                                  self->tool == &tool_knot ? "default" : "crosshair");
  canvas_walk_tell(self);
  tool_row_update(self->row);
  canvas_invalidate(self);
}

SoffitPhotoDesk *canvas_photo(SoffitCanvas *self)
{
  return self->photo;
}

unsigned canvas_layers(SoffitCanvas *self)
{
  return self->layers;
}

void canvas_toggle_overlay(SoffitCanvas *self, const Overlay *overlay)
{
  bool show = !(self->layers & overlay->layers);
  if (overlay->layers == LAYER_SOFT && !canvas_soft(self, show)) {
    tool_row_update(self->row);
    return;
  }
  self->layers = show ? self->layers | overlay->layers : self->layers & ~overlay->layers;
  overlay_keep(overlay, show);
  g_autofree char *words =
      g_strdup_printf(show ? _("%s: shown") : _("%s: hidden"), _(overlay->name));
  canvas_say(self, words);
  tool_row_update(self->row);
  canvas_invalidate(self);
}

static void canvas_dispose(GObject *object)
{
  SoffitCanvas *self = SOFFIT_CANVAS(object);
  g_clear_pointer(&self->job, shade_job_free);
  g_clear_pointer(&self->answer, shade_answer_free);
  g_clear_pointer(&self->picture, gsk_render_node_unref);
  g_clear_pointer(&self->line, gsk_render_node_unref);
  g_clear_pointer(&self->ink, canvas_ink_free);
  g_clear_handle_id(&self->settle, g_source_remove);
  g_clear_handle_id(&self->note_end, g_source_remove);
  for (GtkWidget *child; (child = gtk_widget_get_first_child(GTK_WIDGET(self)));)
    gtk_widget_unparent(child); /* the tool row, the slider, and a popover that is still open */
  self->row = self->best = self->marks = self->walk = NULL;
  g_clear_handle_id(&self->marks_ask, g_source_remove);
  photo_layer_detach(self);
  if (self->session) {
    g_signal_handlers_disconnect_by_data(self->session, self);
    g_signal_handlers_disconnect_by_data(gtk_widget_get_settings(GTK_WIDGET(self)), self);
  }
  g_clear_object(&self->session);
  G_OBJECT_CLASS(canvas_parent_class)->dispose(object);
}

static void canvas_finalize(GObject *object)
{
  SoffitCanvas *self = SOFFIT_CANVAS(object);
  outline_clear(&self->hand.before);
  g_free(self->note);
  g_array_unref(self->hand.pen);
  G_OBJECT_CLASS(canvas_parent_class)->finalize(object);
}

static void canvas_class_init(SoffitCanvasClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
  G_OBJECT_CLASS(class)->dispose = canvas_dispose;
  G_OBJECT_CLASS(class)->finalize = canvas_finalize;
  widget_class->snapshot = canvas_snapshot;
  widget_class->size_allocate = canvas_size_allocate;
  widget_class->measure = canvas_measure;
  widget_class->grab_focus = canvas_grab_focus;
  canvas_menu_install(widget_class);
  gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void canvas_init(SoffitCanvas *self)
{
  self->tool = &tool_pen;
  self->layers = overlays_kept();
  self->hand.pen = g_array_new(FALSE, FALSE, sizeof(PenPoint));
  self->hand.chosen = SIZE_MAX;
  self->hand.reach_px = 12;
  self->hand.view = (View){60, 400, 500};
  outline_init(&self->hand.before);
  self->hand.smoothing_mm = smoothing_kept();
  self->ink = canvas_ink_new();
  self->job = shade_job_new(canvas_shade_came, self);
  self->hand.snaps = snap_settings_kept();
  self->row = tool_row_new(self);
  gtk_widget_set_parent(self->row, GTK_WIDGET(self));
  self->walk = walk_slider_new(self);
  gtk_widget_insert_after(self->walk, GTK_WIDGET(self),
                          NULL); /* before the tools for the Tab key */
  self->marks = mark_list_new();
  gtk_widget_set_parent(self->marks, GTK_WIDGET(self));
  gtk_widget_set_focusable(GTK_WIDGET(self), TRUE);
  gtk_widget_set_cursor_from_name(GTK_WIDGET(self), "crosshair");
  self->hand.say = canvas_say;
  self->hand.say_to = self;
  canvas_pointer_attach(self);
  canvas_keys_attach(self);
  canvas_hand_attach(self);
}

GtkWidget *soffit_canvas_new(SoffitSession *session)
{
  SoffitCanvas *self = g_object_new(SOFFIT_TYPE_CANVAS, NULL);
  self->session = self->hand.session = g_object_ref(session);
  static const struct {
    const char *signal;
    void (*run)(SoffitCanvas *);
  } watch[] = {{"case-opened", focus_changed},
               {"case-changed", case_changed},
               {"assessment-changed", assessment_changed},
               {"focus-changed", focus_changed},
               {"preview-changed", case_changed}};
  for (size_t i = 0; i < G_N_ELEMENTS(watch); i++)
    g_signal_connect_swapped(session, watch[i].signal, G_CALLBACK(watch[i].run), self);
  g_signal_connect_swapped(gtk_widget_get_settings(GTK_WIDGET(self)),
                           "notify::gtk-application-prefer-dark-theme",
                           G_CALLBACK(assessment_changed), self);
  photo_layer_attach(self);
  self->best = best_bar_new(session, gtk_widget_queue_resize, GTK_WIDGET(self));
  gtk_widget_set_parent(self->best, GTK_WIDGET(self));
  label_update(self);
  return GTK_WIDGET(self);
}
