/* strip.c - the span strip as a widget: picture, doors, the load under the hand.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/strip.h"
#include "ui/arrow_key.h"
#include "ui/canvas/draw_context.h"
#include "ui/canvas/shade_job.h"
#include "ui/canvas/strip_words.h"
#include "ui/sign.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define DOOR_WIDTH 92
#define DOOR_HEIGHT 44
#define DOOR_GAP 6
#define REACH_PX 22
#define PLACE_STEP_MM 0.5 /* of the keys */
#define FORCE_STEP_N 25.0
#define FORCE_LEAST 5
#define FORCE_MOST 5000

typedef struct {
  GtkWidget *button, *sign, *word;
} Door;

struct _SoffitStrip {
  GtkWidget parent;
  SoffitSession *session; /* owned ref */
  ShadeJob *job;
  ShadeAnswer *answer;
  GskRenderNode *picture; /* owned; NULL = to be drawn */
  Door door[SPAN_MAX_UNITS - 1];
  size_t n_door;
  int door_width;
  bool updating, dragging;
};

G_DEFINE_FINAL_TYPE(SoffitStrip, strip, GTK_TYPE_WIDGET)

static SpanPicture picture_of(SoffitStrip *self, const Assessment *a)
{
  SpanPicture picture = span_picture(a);
  picture.chosen = session_focus(self->session);
  picture.handle = true;
  picture.doors = false;
  picture.door_width = self->door_width / text_scale(GTK_WIDGET(self));
  picture.below = DOOR_HEIGHT + 2 * DOOR_GAP;
  return picture;
}

static SpanGeometry geometry_of(SoffitStrip *self, const Assessment *a, const DrawContext *context)
{
  SpanPicture picture = picture_of(self, a);
  return span_geometry(&picture, gtk_widget_get_width(GTK_WIDGET(self)),
                       gtk_widget_get_height(GTK_WIDGET(self)), context);
}

static void strip_invalidate(SoffitStrip *self)
{
  g_clear_pointer(&self->picture, gsk_render_node_unref);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

/* What a listener is told: the load, and what is wrong with the picture. */
static void name_update(SoffitStrip *self)
{
  const Assessment *a = session_assessment(self->session);
  if (!a || a->n_connector == 0)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  g_autofree char *place = words_number(a->trial_x, 1),
                  *force = words_number(a->c.trial.force_n, 0);
  g_autofree char *text = g_strdup_printf(_("%s N at %s mm"), force, place);
  g_autofree char *trouble = self->answer ? strip_trouble_text(&context, self->answer) : NULL;
  /* GTK 4.8 hands on the values of its own ranges only: the name carries them too */
  g_autofree char *name = g_strdup_printf("%s, %s%s%s", _("Trial load along the biting edge"), text,
                                          trouble ? ". " : "", trouble ? trouble : "");
  spoken_name(GTK_WIDGET(self), name);
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_VALUE_MIN, 0.0,
                                 GTK_ACCESSIBLE_PROPERTY_VALUE_MAX, a->span_length,
                                 GTK_ACCESSIBLE_PROPERTY_VALUE_NOW, a->trial_x,
                                 GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, text, -1);
}

static void shade_came(ShadeAnswer *answer, void *data)
{
  SoffitStrip *self = data;
  bool told = self->answer && self->answer->fault;
  shade_answer_free(self->answer);
  self->answer = answer;
  if (answer->fault || told)
    name_update(self);
  strip_invalidate(self);
}

static void shade_ask(SoffitStrip *self)
{
  const Assessment *a = session_assessment(self->session);
  int width = gtk_widget_get_width(GTK_WIDGET(self)),
      height = gtk_widget_get_height(GTK_WIDGET(self));
  if (!a || width < 1 || height < 1 || a->n_connector == 0)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  ShadeRequest request = {.a = (Assessment *)a,
                          .whole_bridge = true,
                          .width = width,
                          .height = height,
                          .palette = context.palette,
                          .scale = context.scale,
                          .resolution = context.resolution};
  shade_job_request(self->job, &request);
}

static void strip_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  SoffitStrip *self = SOFFIT_STRIP(widget);
  const Assessment *a = session_assessment(self->session);
  int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
  if (!self->picture && a && a->n_connector > 0) {
    char font[64];
    DrawContext context = draw_context_for(widget, font);
    SpanPicture picture = picture_of(self, a);
    if (self->answer && self->answer->request.width == width &&
        self->answer->request.height == height &&
        self->answer->request.palette == context.palette) {
      picture.shade = self->answer->shade;
      picture.old = self->answer->old;
    }
    GtkSnapshot *own = gtk_snapshot_new();
    cairo_t *cr =
        gtk_snapshot_append_cairo(own, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
    SpanGeometry geometry = geometry_of(self, a, &context);
    picture_span(cr, width, height, &context, &picture);
    if (self->answer && self->answer->fault)
      strip_trouble(cr, width, &context, self->answer, &geometry);
    else
      strip_words(cr, width, height, &context, a, &geometry);
    cairo_destroy(cr);
    self->picture = gtk_snapshot_free_to_node(own);
  }
  if (self->picture)
    gtk_snapshot_append_node(snapshot, self->picture);
  for (size_t i = 0; i < self->n_door; i++)
    gtk_widget_snapshot_child(widget, self->door[i].button, snapshot);
}

/* ---- doors ---- */

static void door_toggled(GtkToggleButton *button, gpointer data)
{
  SoffitStrip *self = data;
  if (self->updating)
    return;
  for (size_t i = 0; i < self->n_door; i++)
    if (self->door[i].button == GTK_WIDGET(button))
      session_set_focus(self->session, i);
  self->updating = true; /* a door stays open until another is opened */
  gtk_toggle_button_set_active(button, TRUE);
  self->updating = false;
}

static void door_add(SoffitStrip *self, const char *name)
{
  Door *door = &self->door[self->n_door++];
  door->button = gtk_toggle_button_new();
  GtkWidget *column = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 5);
  GtkWidget *title = gtk_label_new(name);
  door->sign = sign_new(15);
  door->word = gtk_label_new("");
  gtk_widget_add_css_class(title, "door-name");
  gtk_widget_set_halign(row, GTK_ALIGN_CENTER);
  gtk_box_append(GTK_BOX(row), door->sign);
  gtk_box_append(GTK_BOX(row), door->word);
  gtk_box_append(GTK_BOX(column), title);
  gtk_box_append(GTK_BOX(column), row);
  gtk_button_set_child(GTK_BUTTON(door->button), column);
  gtk_widget_add_css_class(door->button, "door");
  gtk_widget_set_size_request(door->button, -1, DOOR_HEIGHT);
  g_signal_connect(door->button, "toggled", G_CALLBACK(door_toggled), self);
  gtk_widget_set_parent(door->button, GTK_WIDGET(self));
}

static void doors_clear(SoffitStrip *self)
{
  for (size_t i = 0; i < self->n_door; i++)
    gtk_widget_unparent(self->door[i].button);
  self->n_door = 0;
}

/* The width that the longest verdict of the language needs: doors stay as wide while verdicts
 * change. */
static int door_widest(const Door *door)
{
  int natural, shown, longest = 0;
  gtk_widget_measure(door->button, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  gtk_widget_measure(door->word, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &shown, NULL, NULL);
  g_autoptr(PangoLayout) layout = gtk_widget_create_pango_layout(door->word, NULL);
  for (Verdict verdict = VERDICT_NONE; verdict <= VERDICT_REWORK; verdict++) {
    int width;
    pango_layout_set_text(layout, _(verdict_name(verdict)), -1);
    pango_layout_get_pixel_size(layout, &width, NULL);
    longest = MAX(longest, width);
  }
  return MAX(DOOR_WIDTH, natural - shown + longest);
}

static void doors_update(SoffitStrip *self)
{
  const Assessment *a = session_assessment(self->session);
  size_t n = a ? a->n_connector : 0;
  if (n != self->n_door || !a) {
    doors_clear(self);
    for (size_t i = 0; i < n; i++)
      door_add(self, a->connector[i].name);
  }
  self->updating = true;
  self->door_width = n > 0 ? door_widest(&self->door[0]) : DOOR_WIDTH;
  for (size_t i = 0; i < n; i++) {
    const ConnectorAssessment *k = &a->connector[i];
    const char *word = _(verdict_name(k->verdict));
    g_autofree char *label = g_strdup_printf("%s: %s", k->name, word);
    sign_set(SOFFIT_SIGN(self->door[i].sign), k->verdict);
    gtk_label_set_text(GTK_LABEL(self->door[i].word), word);
    spoken_name(self->door[i].button, label);
    gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->door[i].button),
                                 i == session_focus(self->session));
  }
  self->updating = false;
  gtk_widget_queue_allocate(GTK_WIDGET(self));
}

static void strip_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  (void)baseline, (void)width, (void)height;
  SoffitStrip *self = SOFFIT_STRIP(widget);
  const Assessment *a = session_assessment(self->session);
  if (a && a->n_connector == self->n_door && self->n_door > 0) {
    char font[64];
    DrawContext context = draw_context_for(widget, font);
    SpanGeometry geometry = geometry_of(self, a, &context);
    for (size_t i = 0; i < self->n_door; i++) {
      float x = (float)(geometry.door_x[i] - self->door_width / 2.0);
      gtk_widget_allocate(
          self->door[i].button, self->door_width, (int)geometry.door_height, -1,
          gsk_transform_translate(NULL, &GRAPHENE_POINT_INIT(x, (float)geometry.door_y)));
    }
  }
  shade_ask(self);
  strip_invalidate(self);
}

static void strip_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *least,
                          int *natural, int *least_baseline, int *natural_baseline)
{
  SoffitStrip *self = SOFFIT_STRIP(widget);
  *least = *natural = orientation == GTK_ORIENTATION_VERTICAL ? 196 : 300;
  for (size_t i = 0; i < self->n_door;
       i++) { /* GTK wants children measured before they are placed */
    int unused;
    gtk_widget_measure(self->door[i].button, orientation, for_size, &unused, NULL, NULL, NULL);
  }
  *least_baseline = *natural_baseline = -1;
}

/* ---- the load under the hand ---- */

static void load_to(SoffitStrip *self, double x_px)
{
  const Assessment *a = session_assessment(self->session);
  if (!a)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  SpanGeometry geometry = geometry_of(self, a, &context);
  session_set_trial(self->session, span_geometry_mm(&geometry, x_px), a->c.trial.force_n);
}

static void drag_begin(GtkGestureDrag *gesture, double x, double y, gpointer data)
{
  SoffitStrip *self = data;
  const Assessment *a = session_assessment(self->session);
  if (!a)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  SpanGeometry geometry = geometry_of(self, a, &context);
  gtk_widget_grab_focus(GTK_WIDGET(self));
  self->dragging = span_geometry_on_handle(&geometry, point(x, y), REACH_PX);
  if (!self->dragging) {
    size_t neck = span_geometry_neck(&geometry, point(x, y));
    if (neck != SIZE_MAX)
      session_set_focus(self->session, neck);
    return;
  }
  gtk_gesture_set_state(GTK_GESTURE(gesture), GTK_EVENT_SEQUENCE_CLAIMED);
}

static void drag_update(GtkGestureDrag *gesture, double dx, double dy, gpointer data)
{
  (void)dy;
  SoffitStrip *self = data;
  double x, y;
  if (self->dragging && gtk_gesture_drag_get_start_point(gesture, &x, &y))
    load_to(self, x + dx);
}

static void drag_end(GtkGestureDrag *gesture, double dx, double dy, gpointer data)
{
  drag_update(gesture, dx, dy, data);
  SOFFIT_STRIP(data)->dragging = false;
}

/* Ctrl+arrows anywhere in the window: place by 0.5 mm, load by 25 N; with Shift finer. */
static gboolean load_key(GtkWidget *widget, GVariant *args, gpointer data)
{
  (void)data;
  SoffitStrip *self = SOFFIT_STRIP(widget);
  const Assessment *a = session_assessment(self->session);
  GtkWidget *focus = gtk_root_get_focus(gtk_widget_get_root(widget));
  if (!a || GTK_IS_EDITABLE(focus)) /* there they go by words */
    return FALSE;
  double dx, dforce;
  g_variant_get(args, "(dd)", &dx, &dforce);
  /* keys come faster than answers: from where the case has it */
  const CaseLoad *asked = &session_case(self->session)->trial;
  double x = isfinite(asked->x) ? asked->x : a->trial_x,
         force = asked->force_n > 0 ? asked->force_n : a->c.trial.force_n;
  session_set_trial(self->session, CLAMP(x + dx, 0, a->span_length),
                    CLAMP(force + dforce, FORCE_LEAST, FORCE_MOST));
  return TRUE;
}

static void load_keys_add(SoffitStrip *self)
{
  static const guint arrow[] = {GDK_KEY_Left,    GDK_KEY_Right,    GDK_KEY_Up,    GDK_KEY_Down,
                                GDK_KEY_KP_Left, GDK_KEY_KP_Right, GDK_KEY_KP_Up, GDK_KEY_KP_Down};
  GtkEventController *keys = gtk_shortcut_controller_new();
  gtk_shortcut_controller_set_scope(GTK_SHORTCUT_CONTROLLER(keys), GTK_SHORTCUT_SCOPE_GLOBAL);
  /* before the window takes them to move the focus */
  gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE);
  for (size_t i = 0; i < G_N_ELEMENTS(arrow); i++)
    for (int fine = 0; fine < 2; fine++) {
      Point by;
      if (!arrow_key(arrow[i], fine ? 0.2 : 1, &by))
        continue;
      GdkModifierType modifier = fine ? GDK_CONTROL_MASK | GDK_SHIFT_MASK : GDK_CONTROL_MASK;
      GtkShortcut *shortcut = gtk_shortcut_new(gtk_keyval_trigger_new(arrow[i], modifier),
                                               gtk_callback_action_new(load_key, NULL, NULL));
      gtk_shortcut_set_arguments(shortcut,
                                 g_variant_new("(dd)", PLACE_STEP_MM * by.x, FORCE_STEP_N * by.y));
      gtk_shortcut_controller_add_shortcut(GTK_SHORTCUT_CONTROLLER(keys), shortcut);
    }
  gtk_widget_add_controller(GTK_WIDGET(self), keys);
}

/* ---- life ---- */

static void assessment_changed(SoffitStrip *self)
{
  doors_update(self);
  shade_ask(self);
  strip_invalidate(self);
  name_update(self);
}

static void case_opened(SoffitStrip *self)
{
  shade_job_forget(self->job);
  g_clear_pointer(&self->answer, shade_answer_free);
  assessment_changed(self);
}

static void strip_dispose(GObject *object)
{
  SoffitStrip *self = SOFFIT_STRIP(object);
  g_clear_pointer(&self->job, shade_job_free);
  g_clear_pointer(&self->answer, shade_answer_free);
  g_clear_pointer(&self->picture, gsk_render_node_unref);
  doors_clear(self);
  if (self->session) {
    g_signal_handlers_disconnect_by_data(self->session, self);
    g_signal_handlers_disconnect_by_data(gtk_widget_get_settings(GTK_WIDGET(self)), self);
  }
  g_clear_object(&self->session);
  G_OBJECT_CLASS(strip_parent_class)->dispose(object);
}

static void strip_class_init(SoffitStripClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
  G_OBJECT_CLASS(class)->dispose = strip_dispose;
  widget_class->snapshot = strip_snapshot;
  widget_class->size_allocate = strip_size_allocate;
  widget_class->measure = strip_measure;
  gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_SLIDER);
}

static void strip_init(SoffitStrip *self)
{
  self->door_width = DOOR_WIDTH;
  self->job = shade_job_new(shade_came, self);
  gtk_widget_set_focusable(GTK_WIDGET(self), TRUE);
  gtk_accessible_update_property(GTK_ACCESSIBLE(self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Trial load along the biting edge"), -1);
  GtkGesture *drag = gtk_gesture_drag_new();
  g_signal_connect(drag, "drag-begin", G_CALLBACK(drag_begin), self);
  g_signal_connect(drag, "drag-update", G_CALLBACK(drag_update), self);
  g_signal_connect(drag, "drag-end", G_CALLBACK(drag_end), self);
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(drag));
  load_keys_add(self);
}

GtkWidget *soffit_strip_new(SoffitSession *session)
{
  SoffitStrip *self = g_object_new(SOFFIT_TYPE_STRIP, NULL);
  self->session = g_object_ref(session);
  g_signal_connect_swapped(session, "case-opened", G_CALLBACK(case_opened), self);
  g_signal_connect_swapped(session, "assessment-changed", G_CALLBACK(assessment_changed), self);
  g_signal_connect_swapped(session, "focus-changed", G_CALLBACK(assessment_changed), self);
  g_signal_connect_swapped(gtk_widget_get_settings(GTK_WIDGET(self)),
                           "notify::gtk-application-prefer-dark-theme",
                           G_CALLBACK(assessment_changed), self);
  return GTK_WIDGET(self);
}
