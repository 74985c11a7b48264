/* canvas.c - the drawing widget: picture, view, keys; the hand's events are in canvas_hand.c.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The picture is kept as a render node until something in it changes; fresh ink is drawn above it.
 */
#include "ui/canvas/best_bar.h"
#include "ui/canvas/canvas_private.h"
#include "ui/canvas/draw_context.h"
#include "ui/canvas/tool_row.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define TOOL_ROW_GAP 14
#define ZOOM_LEAST 4.0 /* px per mm */
#define ZOOM_MOST 600.0

G_DEFINE_FINAL_TYPE(SoffitCanvas, canvas, GTK_TYPE_WIDGET)

/* ---- picture ---- */

void canvas_invalidate(SoffitCanvas *self)
{
  g_clear_pointer(&self->picture, gsk_render_node_unref);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

static bool same_view(View a, View b)
{
  return a.scale == b.scale && a.x == b.x && a.y == b.y;
}

/* Asks for the shade of what is shown now. */
static void shade_ask(SoffitCanvas *self)
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
                          .resolution = resolution};
  shade_job_request(self->job, &request);
}

static void shade_came(ShadeAnswer *answer, void *data)
{
  SoffitCanvas *self = data;
  shade_answer_free(self->answer);
  self->answer = answer;
  canvas_invalidate(self);
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

static const Advice *advice_shown(SoffitCanvas *self)
{
  const Advice *tried = session_previewed(self->session);
  if (tried && tried->connector == session_focus(self->session))
    return tried;
  const Assessment *rest = session_rest_assessment(self->session);
  if (!rest || !session_at_rest(self->session)) /* its figure belongs to another line */
    return NULL;
  for (size_t i = 0; i < rest->n_advice; i++)
    if (rest->advice[i].kind == ADVICE_BEST &&
        rest->advice[i].connector == session_focus(self->session))
      return &rest->advice[i];
  return NULL;
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
  ConnectorPicture picture = connector_picture(a, connector, width, height, &context);
  picture.view = self->hand.view;
  picture.layers = self->layers;
  picture.drawn = &session_case(self->session)->connector[connector];
  picture.late = session_following(self->session) && !self->hand.busy;
  picture.advice =
      self->hand.busy && !session_best_shown(self->session) ? NULL : advice_shown(self);
  Room room;
  room_init(&room);
  if (!room_of(session_case(self->session), connector, &a->connector[connector].form, &room))
    picture.room = &room;
  picture.chosen_knot = self->tool == &tool_knot ? self->hand.chosen : SIZE_MAX;
  graphene_rect_t row;
  if (self->card_width > 0)
    picture.keep_free[1] = (Box){width - self->card_width - self->card_edge, self->card_edge,
                                 self->card_width, self->card_height};
  if (gtk_widget_compute_bounds(self->row, GTK_WIDGET(self), &row))
    picture.keep_free[0] = (Box){row.origin.x, row.origin.y, row.size.width, row.size.height};
  const ShadeAnswer *answer = self->answer; /* may be the one before, until the worker is done */
  if (answer && answer->request.connector == connector) {
    picture.ink = answer->ink;
    if (same_view(answer->request.view, picture.view) && answer->request.palette == context.palette)
      picture.shade = answer->shade;
  }
  picture_connector(cr, width, height, &context, &picture);
  room_clear(&room);
}

static void ink_draw(SoffitCanvas *self, GtkSnapshot *snapshot, int width, int height)
{
  const GArray *pen = self->hand.pen;
  if (pen->len < 2 && !self->hand.trouble)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  cairo_t *cr =
      gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  if (pen->len >= 2) {
    ink_use(cr, &context, COLOUR_ACCENT);
    ink_width(cr, &context, 2.6);
    for (guint i = 0; i < pen->len; i++) {
      Point p = view_px(self->hand.view, g_array_index(pen, PenPoint, i).at);
      cairo_line_to(cr, p.x, p.y);
    }
    cairo_stroke(cr);
  }
  if (self->hand.trouble) {
    Point p = isfinite(self->hand.trouble_at.x) ? view_px(self->hand.view, self->hand.trouble_at)
                                                : point(width / 2.0, height / 3.0);
    ink_colour(cr, palette_verdict(context.palette, VERDICT_REWORK));
    ink_width(cr, &context, 2);
    path_circle(cr, p, px(&context, 14));
    cairo_stroke(cr);
    const char *words = text_word(&context, self->hand.trouble);
    TextStyle style = {TEXT_BODY, true, false, COLOUR_TEXT, ALIGN_CENTRE};
    double half = text_width(cr, &context, style, words) / 2 + px(&context, 12);
    double x = CLAMP(p.x, half + 6, fmax(half + 6, width - half - 6)),
           y = fmax(px(&context, 36), p.y - px(&context, 30));
    draw_plate(cr, &context, (Box){x - half, y - px(&context, 21), 2 * half, px(&context, 32)},
               palette_verdict(context.palette, VERDICT_REWORK), 1.6);
    text_draw(cr, &context, style, point(x, y), words);
  }
  cairo_destroy(cr);
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
  }
  gtk_snapshot_push_clip(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  if (self->picture)
    gtk_snapshot_append_node(snapshot, self->picture);
  ink_draw(self, snapshot, width, height);
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

static void assessment_changed(SoffitCanvas *self)
{
  shade_ask(self);
  canvas_invalidate(self);
  label_update(self);
}

static void case_changed(SoffitCanvas *self)
{
  if (!self->hand.busy)
    self->hand.trouble = NULL;
  canvas_invalidate(self);
}

static void focus_changed(SoffitCanvas *self)
{
  self->hand.chosen = SIZE_MAX;
  self->hand.trouble = NULL;
  self->fitted = false;
  view_fit(self);
  assessment_changed(self);
}

/* ---- view ---- */

void canvas_zoom(SoffitCanvas *self, double factor, Point about_px)
{
  View *view = &self->hand.view;
  Point mm = view_mm(*view, about_px);
  view->scale = CLAMP(view->scale * factor, ZOOM_LEAST, ZOOM_MOST);
  view->x = about_px.x - view->scale * mm.x;
  view->y = about_px.y + view->scale * mm.y;
  shade_ask(self);
  canvas_invalidate(self);
}

void canvas_pan(SoffitCanvas *self, double dx, double dy)
{
  self->hand.view.x += dx;
  self->hand.view.y += dy;
  shade_ask(self);
  canvas_invalidate(self);
}

void canvas_fit(SoffitCanvas *self)
{
  view_fit(self);
  shade_ask(self);
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
  best_bar_place(self->best, self->card_width > 0 ? (int)x : -1, width);
  self->fitted = false;
  view_fit(self);
  shade_ask(self);
  canvas_invalidate(self);
}

void canvas_set_card(SoffitCanvas *self, int width, int height, int edge)
{
  self->card_width = width;
  self->card_height = height;
  self->card_edge = edge;
  tool_row_fold(self->row, width > 0); /* the key of the shade stands beside it */
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

/* ---- tools, layers, keys ---- */

const Tool *canvas_tool(SoffitCanvas *self)
{
  return self->tool;
}

void canvas_set_tool(SoffitCanvas *self, const Tool *tool)
{
  if (self->hand.busy && self->tool->cancel)
    self->tool->cancel(&self->hand);
  if (tool->act)
    tool->act(&self->hand);
  else {
    self->tool = tool;
    if (tool->enter)
      tool->enter(&self->hand);
  }
  gtk_widget_set_cursor_from_name(GTK_WIDGET(self),
                                  self->tool == &tool_knot ? "default" : "crosshair");
  tool_row_update(self->row);
  canvas_invalidate(self);
}

unsigned canvas_layers(SoffitCanvas *self)
{
  return self->layers;
}

void canvas_toggle_layer(SoffitCanvas *self, unsigned layer)
{
  bool shown = (self->layers & layer) != 0;
  if (layer == LAYER_SOFT && !canvas_soft(self, !shown))
    return;
  self->layers = shown ? self->layers & ~layer : self->layers | layer;
  tool_row_update(self->row);
  canvas_invalidate(self);
}

static gboolean key_pressed(GtkEventControllerKey *controller, guint key, guint code,
                            GdkModifierType state, gpointer data)
{
  (void)controller, (void)code;
  SoffitCanvas *self = data;
  bool shift = state & GDK_SHIFT_MASK;
  double step = shift ? 0.01 : 0.05; /* mm */
  Point middle = point(gtk_widget_get_width(GTK_WIDGET(self)) / 2.0,
                       gtk_widget_get_height(GTK_WIDGET(self)) / 2.0);
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK) ||
      !session_has_case(self->session))
    return FALSE;
  if (self->tool->key_pressed && !shift && self->tool->key_pressed(&self->hand, key)) {
    canvas_invalidate(self);
    return TRUE;
  }
  size_t n;
  const ToolRowItem *item = tool_row_items(&n);
  for (size_t i = 0; i < n; i++) {
    if (item[i].tool && !shift && gdk_keyval_to_lower(key) == item[i].tool->key) {
      canvas_set_tool(self, item[i].tool);
      return TRUE;
    }
    if (!item[i].tool && shift && gdk_keyval_to_upper(key) == item[i].key) {
      canvas_toggle_layer(self, item[i].layer);
      return TRUE;
    }
  }
  switch (key) {
  case GDK_KEY_q:
    canvas_toggle_layer(self, LAYER_LOUPE);
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
  case GDK_KEY_Left:
  case GDK_KEY_Right:
  case GDK_KEY_Up:
  case GDK_KEY_Down: {
    double dx = key == GDK_KEY_Left ? -step : key == GDK_KEY_Right ? step : 0;
    double dy = key == GDK_KEY_Down ? -step : key == GDK_KEY_Up ? step : 0;
    if (self->tool != &tool_knot)
      return FALSE;
    if (!knot_nudge(&self->hand, dx, dy))
      knot_step(&self->hand, 1);
    canvas_invalidate(self);
    return TRUE;
  }
  case GDK_KEY_n:
  case GDK_KEY_p:
    if (self->tool == &tool_knot && knot_step(&self->hand, key == GDK_KEY_n ? 1 : -1)) {
      canvas_invalidate(self);
      return TRUE;
    }
    return FALSE;
  case GDK_KEY_Delete:
  case GDK_KEY_BackSpace:
    return self->tool == &tool_knot && knot_remove(&self->hand);
  case GDK_KEY_Escape:
    if (!self->hand.busy || !self->tool->cancel)
      return FALSE;
    self->tool->cancel(&self->hand);
    canvas_invalidate(self);
    return TRUE;
  default:
    return FALSE;
  }
}

static void canvas_dispose(GObject *object)
{
  SoffitCanvas *self = SOFFIT_CANVAS(object);
  g_clear_pointer(&self->job, shade_job_free);
  g_clear_pointer(&self->answer, shade_answer_free);
  g_clear_pointer(&self->picture, gsk_render_node_unref);
  g_clear_pointer(&self->row, gtk_widget_unparent);
  g_clear_pointer(&self->best, gtk_widget_unparent);
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
  gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void canvas_init(SoffitCanvas *self)
{
  self->tool = &tool_pen;
  self->layers = LAYER_ALL & ~(unsigned)LAYER_COMB;
  self->hand.pen = g_array_new(FALSE, FALSE, sizeof(PenPoint));
  self->hand.chosen = SIZE_MAX;
  self->hand.reach_px = 12;
  self->hand.view = (View){60, 400, 500};
  outline_init(&self->hand.before);
  self->job = shade_job_new(shade_came, self);
  self->row = tool_row_new(self);
  gtk_widget_set_parent(self->row, GTK_WIDGET(self));
  gtk_widget_set_focusable(GTK_WIDGET(self), TRUE);
  gtk_widget_set_cursor_from_name(GTK_WIDGET(self), "crosshair");
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_name(keys, "soffit-canvas-keys");
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), self);
  gtk_widget_add_controller(GTK_WIDGET(self), keys);
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
  self->best = best_bar_new(session, gtk_widget_queue_resize, GTK_WIDGET(self));
  gtk_widget_set_parent(self->best, GTK_WIDGET(self));
  label_update(self);
  return GTK_WIDGET(self);
}
