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

static bool same_view(View a, View b)
{
  return a.scale == b.scale && a.x == b.x && a.y == b.y;
}

/* The line moves under the hand; with room and best outline the ghost does, on the whole picture.
 */
static bool line_apart(const SoffitCanvas *self)
{
  return self->hand.busy && self->tool != &tool_room && self->tool != &tool_best;
}

/* The worker makes the whole picture. */
static bool in_motion(const SoffitCanvas *self)
{
  return line_apart(self) || self->settle != 0;
}

ConnectorPicture canvas_picture(SoffitCanvas *self, const DrawContext *context)
{
  size_t connector = session_focus(self->session);
  int width = gtk_widget_get_width(GTK_WIDGET(self)),
      height = gtk_widget_get_height(GTK_WIDGET(self));
  ConnectorPicture picture =
      connector_picture(session_assessment(self->session), connector, width, height, context);
  picture.view = self->hand.view;
  picture.layers = self->layers;
  if (self->tool == &tool_room) /* what is at hand is seen, whatever was hidden */
    picture.layers |= LAYER_ENVELOPE;
  const Advice *tried = session_previewed(self->session);
  if (tried && tried->connector == connector)
    picture.layers |= LAYER_GHOST;
  if (picture.layers & LAYER_BEFORE)
    picture.before =
        session_outline_before(self->session, connector, SIDE_GINGIVAL, &picture.before_step);
  photo_layer_picture(self, &picture);
  if (line_apart(self))
    picture.layers &= ~(unsigned)(LAYER_GUM_LINE | LAYER_KNOTS);
  picture.every_knot = self->tool == &tool_knot;
  picture.chosen_knot = picture.every_knot ? self->hand.chosen : SIZE_MAX;
  canvas_covered(self, width, picture.keep_free);
  return picture;
}

/* Asks for the shade of what is shown now, in motion for the whole drawing. */
void canvas_shade_ask(SoffitCanvas *self)
{
  const Assessment *a = session_assessment(self->session);
  int width = gtk_widget_get_width(GTK_WIDGET(self)),
      height = gtk_widget_get_height(GTK_WIDGET(self));
  size_t connector = session_focus(self->session);
  if (!a || width < 1 || height < 1 || connector >= a->n_connector ||
      !a->connector[connector].field)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  double resolution = self->hand.busy ? context.resolution * 0.5 : context.resolution;
  ShadeRequest request = {.a = (Assessment *)a,
                          .connector = connector,
                          .width = width,
                          .height = height,
                          .view = self->hand.view,
                          .palette = context.palette,
                          .scale = context.scale,
                          .resolution = resolution,
                          .context = context};
  if (in_motion(self)) {
    request.picture = canvas_picture(self, &context);
    request.has_room = !room_of(session_case(self->session), connector,
                                &a->connector[connector].form, &request.room);
    if (!request.has_room)
      room_clear(&request.room);
    if (request.picture.before && outline_copy(&request.before, request.picture.before))
      outline_clear(&request.before); /* drawn without it */
    request.drawn = shade_outlines_new(&session_case(self->session)->connector[connector]);
    g_strlcpy(request.font, font, sizeof request.font);
  }
  shade_job_request(self->job, &request);
}

static void shade_came(ShadeAnswer *answer, void *data)
{
  SoffitCanvas *self = data;
  shade_answer_free(self->answer);
  self->answer = answer;
  if (!in_motion(self))
    canvas_invalidate(self);
  else if (answer->drawing && answer->request.connector == session_focus(self->session) &&
           !(answer->request.picture.layers & LAYER_GUM_LINE) == line_apart(self)) {
    g_clear_pointer(&self->picture, gsk_render_node_unref);
    self->picture = canvas_drawing_node(answer);
    self->picture_view = answer->request.view;
    gtk_widget_queue_draw(GTK_WIDGET(self));
  }
}

/* The view that shows the whole connector; again at every change of size, neck or on request. */
static void view_fit(SoffitCanvas *self)
{
  const Assessment *a = session_assessment(self->session);
  int width = gtk_widget_get_width(GTK_WIDGET(self)),
      height = gtk_widget_get_height(GTK_WIDGET(self));
  if (!a || width < 1 || height < 1 || session_focus(self->session) >= a->n_connector)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  self->hand.view = connector_view(a, session_focus(self->session), width, height, &context);
  self->fitted = true;
}

const Advice *canvas_advice(SoffitCanvas *self)
{
  const Advice *tried = session_previewed(self->session);
  if (tried && tried->connector == session_focus(self->session))
    return tried;
  const Assessment *rest = self->school ? NULL : session_rest_assessment(self->session);
  if (!rest || !session_at_rest(self->session)) /* its figure belongs to another line */
    return NULL;
  for (size_t i = 0; i < rest->n_advice; i++)
    if (rest->advice[i].kind == ADVICE_BEST &&
        rest->advice[i].connector == session_focus(self->session))
      return &rest->advice[i];
  return NULL;
}

void canvas_covered(SoffitCanvas *self, int width, Box over[2])
{
  graphene_rect_t row;
  over[0] = over[1] = (Box){0, 0, 0, 0};
  if (self->card_width > 0)
    over[1] = (Box){width - self->card_width - self->card_edge, self->card_edge, self->card_width,
                    self->card_height};
  if (gtk_widget_compute_bounds(self->row, GTK_WIDGET(self), &row))
    over[0] = (Box){row.origin.x, row.origin.y, row.size.width, row.size.height};
}

static void picture_draw(SoffitCanvas *self, cairo_t *cr, int width, int height)
{
  const Assessment *a = session_assessment(self->session);
  size_t connector = session_focus(self->session);
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  if (!a || connector >= a->n_connector)
    return;
  if (!self->fitted)
    view_fit(self);
  ConnectorPicture picture = canvas_picture(self, &context);
  picture.drawn = &session_case(self->session)->connector[connector];
  picture.late = session_following(self->session) && !self->hand.busy;
  picture.advice =
      self->hand.busy && !session_best_shown(self->session) ? NULL : canvas_advice(self);
  Room room;
  room_init(&room);
  if (!room_of(session_case(self->session), connector, &a->connector[connector].form, &room))
    picture.room = &room;
  const ShadeAnswer *answer = self->answer; /* may be the one before, until the worker is done */
  if (answer && answer->request.connector == connector) {
    picture.ink = answer->ink;
    if (same_view(answer->request.view, picture.view) && answer->request.palette == context.palette)
      picture.shade = answer->shade;
  }
  memset(self->size_box, 0, sizeof self->size_box);
  picture.size_box = self->size_box;
  picture.taken = &self->taken;
  picture_connector(cr, width, height, &context, &picture);
  room_clear(&room);
}

static void canvas_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  SoffitCanvas *self = SOFFIT_CANVAS(widget);
  int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
  if (!self->picture && session_has_case(self->session)) {
    GtkSnapshot *own = gtk_snapshot_new();
    cairo_t *cr =
        gtk_snapshot_append_cairo(own, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
    picture_draw(self, cr, width, height);
    cairo_destroy(cr);
    self->picture = gtk_snapshot_free_to_node(own);
    self->picture_view = self->hand.view;
  }
  gtk_snapshot_push_clip(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  if (self->picture)
    canvas_picture_append(self, snapshot);
  if (line_apart(self) && session_has_case(self->session))
    canvas_line_append(self, snapshot, width, height);
  canvas_ink_show(self, snapshot);
  canvas_crack_draw(self, snapshot, width, height);
  canvas_marks_draw(self, snapshot, width, height);
  photo_layer_marks(self, snapshot, width, height);
  canvas_remarks_draw(self, snapshot, width, height);
  canvas_note_draw(self, snapshot, width, height);
  gtk_snapshot_pop(snapshot);
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
  spoken_description(canvas, words);
}

static void assessment_changed(SoffitCanvas *self)
{
  canvas_shade_ask(self);
  if (!line_apart(self)) /* else the picture comes with the shade */
    canvas_invalidate(self);
  label_update(self);
  if (self->tool == &tool_walk && walk_answered(&self->hand))
    walk_say(&self->hand);
}

static void case_changed(SoffitCanvas *self)
{
  if (line_apart(self)) { /* the line moves above the picture */
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
  view_fit(self);
  assessment_changed(self);
  if (self->tool == &tool_walk)
    walk_begin(&self->hand);
}

/* ---- view ---- */

void canvas_fit(SoffitCanvas *self)
{
  view_fit(self);
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
  float x = self->card_width > 0 ? (float)self->card_edge : (float)MAX(0, (width - row_width) / 2),
        y = (float)(height - row_height - TOOL_ROW_GAP);
  gtk_widget_allocate(self->row, row_width, row_height, -1,
                      gsk_transform_translate(NULL, &GRAPHENE_POINT_INIT(x, y)));
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
       child = gtk_widget_get_next_sibling(child))
    if (GTK_IS_POPOVER(child))
      gtk_popover_present(GTK_POPOVER(child));
  best_bar_place(self->best, self->card_width > 0 ? (int)x : -1, width);
  gtk_widget_size_allocate(self->marks, &(GtkAllocation){0, 0, width, height}, -1);
  if (width != self->width || height != self->height)
    self->fitted = false;
  self->width = width;
  self->height = height;
  if (!self->fitted)
    view_fit(self);
  canvas_shade_ask(self);
  canvas_invalidate(self);
}

void canvas_set_card(SoffitCanvas *self, int width, int height, int edge)
{
  self->card_width = width;
  self->card_height = height;
  self->card_edge = edge;
  tool_row_fold(self->row, width > 0); /* the key of the shade stands beside it */
  self->fitted = false;
  gtk_widget_queue_resize(GTK_WIDGET(self));
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
  self->row = self->best = self->marks = NULL;
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
  self->job = shade_job_new(shade_came, self);
  self->hand.snaps = snap_settings_kept();
  self->row = tool_row_new(self);
  gtk_widget_set_parent(self->row, GTK_WIDGET(self));
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
