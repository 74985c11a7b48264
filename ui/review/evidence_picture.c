/* evidence_picture.c - see evidence_picture.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The drawing is kept as a picture of its own: pins move over it without drawing it again. */
#include "ui/review/evidence_picture.h"
#include "outline/walk.h"
#include "ui/arrow_key.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/picture_compare.h"
#include "ui/drawing/remark_pins.h"
#include "ui/parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define STEP_MM 0.1
#define FINE_MM 0.02
#define LAYERS                                                                                     \
  (LAYER_PAPER | LAYER_GRID | LAYER_GUM | LAYER_BODY | LAYER_SHADE | LAYER_CROSSES | LAYER_FLOW |  \
   LAYER_ZERO | LAYER_BRUSH | LAYER_OUTLINE | LAYER_NECK | LAYER_LOUPE | LAYER_TITLES |            \
   LAYER_GUM_LINE)

struct _SoffitEvidencePicture {
  GtkWidget parent;
  SoffitReviewDesk *desk; /* owned ref */
  cairo_surface_t *sheet; /* owned; NULL: to be drawn */
  int width, height;      /* of it */
  View view;
  Places taken; /* by its words */
  bool comparing;
  bool pinning; /* a pin is in the hand */
  Point pin;    /* mm */
  double pin_t; /* on the gum-side line; NaN: beside it */
  GtkWidget *popover, *entry, *compare;
};

G_DEFINE_FINAL_TYPE(SoffitEvidencePicture, evidence_picture, GTK_TYPE_WIDGET)

/* Of the connector in view; NULL: nothing to draw yet. */
static const Assessment *answer_of(SoffitEvidencePicture *self)
{
  return evidence_of_connector(review_desk_evidence(self->desk), review_desk_connector(self->desk));
}

static const ConnectorAssessment *connector_of(SoffitEvidencePicture *self)
{
  const Assessment *a = answer_of(self);
  return a ? &a->connector[review_desk_connector(self->desk)] : NULL;
}

/* Of then; NULL: there is none. */
static const Assessment *other_of(SoffitEvidencePicture *self)
{
  EvidenceSince since = review_desk_since(self->desk);
  const Evidence *e = review_desk_evidence(self->desk);
  return since < SINCE_N && e->a ? e->base[since].a : NULL;
}

/* ---- drawing ---- */

bool evidence_picture_can_compare(SoffitEvidencePicture *self)
{
  const ConnectorAssessment *now = connector_of(self);
  const Assessment *other = other_of(self);
  size_t k = review_desk_connector(self->desk);
  return now && now->field && other && k < other->n_connector && other->connector[k].field;
}

static void compare_draw(SoffitEvidencePicture *self, cairo_t *cr, const DrawContext *context)
{
  const Assessment *other = other_of(self);
  size_t k = review_desk_connector(self->desk);
  const ConnectorAssessment *now = connector_of(self), *then = &other->connector[k];
  Difference difference = {.most = NAN, .least = NAN};
  bool known = !difference_make(then->field, then->order, now->field, now->order, &difference);
  ComparePicture picture = {.today = answer_of(self),
                            .other = other,
                            .connector = k,
                            .difference = known ? &difference : NULL,
                            .name = review_desk_since(self->desk) == SINCE_SEEN ? _("As last seen")
                                                                                : _("As approved")};
  picture_compare(cr, self->width, self->height, context, &picture);
  difference_clear(&difference);
}

static void sheet_draw(SoffitEvidencePicture *self, const DrawContext *context)
{
  const Assessment *a = answer_of(self);
  int factor = gtk_widget_get_scale_factor(GTK_WIDGET(self));
  self->width = gtk_widget_get_width(GTK_WIDGET(self));
  self->height = gtk_widget_get_height(GTK_WIDGET(self));
  self->sheet =
      cairo_image_surface_create(CAIRO_FORMAT_ARGB32, factor * self->width, factor * self->height);
  cairo_surface_set_device_scale(self->sheet, factor, factor);
  cairo_t *cr = cairo_create(self->sheet);
  ConnectorPicture picture =
      connector_picture(a, review_desk_connector(self->desk), self->width, self->height, context);
  picture.at_order = true;
  picture.layers = LAYERS;
  picture.taken = &self->taken;
  picture.view = connector_view_above(a, picture.connector, self->width, self->height,
                                      fmin(40, 0.1 * self->height / context->scale), context);
  self->view = picture.view;
  if (self->comparing && evidence_picture_can_compare(self)) {
    places_init(&self->taken, (Box){0, 0, self->width, self->height});
    compare_draw(self, cr, context);
  } else
    picture_connector(cr, self->width, self->height, context, &picture);
  cairo_destroy(cr);
}

/* The place of a remark on this sheet; false when it belongs elsewhere. */
static bool remark_tip(SoffitEvidencePicture *self, const Remark *remark, Point *tip)
{
  *tip = view_px(self->view, remark->at);
  return remark->connector == review_desk_connector(self->desk) && point_finite(remark->at);
}

static void pins_draw(SoffitEvidencePicture *self, cairo_t *cr, const DrawContext *context)
{
  const Evidence *e = review_desk_evidence(self->desk);
  const GPtrArray *group[] = {e->c.remark, review_desk_remarks(self->desk)};
  Places places = self->taken;
  unsigned number = 0;
  for (int k = 0; k < 2; k++)
    for (guint i = 0; i < group[k]->len; i++) {
      const Remark *remark = group[k]->pdata[i];
      Point tip;
      number++;
      if (!remark_tip(self, remark, &tip) || remark->settled == ANSWER_YES)
        continue;
      draw_pin(cr, context, tip, number, k == 1);
      draw_pin_words(cr, context, &places, tip, *remark->initials ? remark->initials : NULL,
                     remark->text);
    }
  if (self->pinning)
    draw_pin(cr, context, view_px(self->view, self->pin), number + 1, true);
}

static void picture_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  SoffitEvidencePicture *self = SOFFIT_EVIDENCE_PICTURE(widget);
  int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
  if (answer_of(self) && width > 8 && height > 8) {
    char font[64];
    DrawContext context = draw_context_for(widget, font);
    if (!self->sheet || self->width != width || self->height != height) {
      g_clear_pointer(&self->sheet, cairo_surface_destroy);
      sheet_draw(self, &context);
    }
    cairo_t *cr =
        gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
    cairo_set_source_surface(cr, self->sheet, 0, 0);
    cairo_paint(cr);
    pins_draw(self, cr, &context);
    cairo_destroy(cr);
  }
  if (gtk_widget_get_visible(self->compare))
    gtk_widget_snapshot_child(widget, self->compare, snapshot);
}

/* ---- words ---- */

static void name_show(SoffitEvidencePicture *self)
{
  const ConnectorAssessment *k = connector_of(self);
  if (!k) {
    spoken_name(GTK_WIDGET(self), _("Drawing: nothing to show yet"));
    return;
  }
  g_autofree char *peak = words_number(k->peak_mpa.value, 0), *range = words_range(k->peak_mpa, 0),
                  *x = words_number(self->pin.x, 1), *y = words_number(self->pin.y, 1);
  g_autofree char *name =
      self->pinning
          ? g_strdup_printf(_("Pin at x %s, y %s mm on connector %s"), x, y, k->name)
          : g_strdup_printf(_("Connector %s at the order’s load: %s MPa (%s) at the hot spot"),
                            k->name, peak, range);
  spoken_name(GTK_WIDGET(self), name);
}

/* ---- pins ---- */

static void pin_leave(SoffitEvidencePicture *self)
{
  self->pinning = false;
  name_show(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

static const Outline *gum_line(SoffitEvidencePicture *self)
{
  return &answer_of(self)->c.connector[review_desk_connector(self->desk)].side[SIDE_GINGIVAL];
}

static void pin_to(SoffitEvidencePicture *self, double t)
{
  self->pin_t = t;
  self->pin = outline_at(gum_line(self), t);
  self->pinning = true;
  name_show(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

void evidence_picture_pin(SoffitEvidencePicture *self)
{
  const ConnectorAssessment *k = connector_of(self);
  if (!k)
    return;
  Point at = k->field ? point(k->peak.at.x, k->peak.at.y) : k->form.roof;
  gtk_widget_grab_focus(GTK_WIDGET(self));
  review_desk_set_connector(self->desk, review_desk_connector(self->desk)); /* it stays */
  pin_to(self, point_finite(at) ? outline_nearest(gum_line(self), at, NULL)
                                : (double)outline_pieces(gum_line(self)) / 2);
}

/* The next landmark of the line in this direction. */
static void pin_jump(SoffitEvidencePicture *self, int by)
{
  const ConnectorAssessment *k = connector_of(self);
  Landmark mark[LANDMARK_N];
  Point hot = k->field ? point(k->peak.at.x, k->peak.at.y) : point(NAN, NAN);
  size_t n = walk_landmarks(gum_line(self), &k->form, hot, mark);
  for (size_t i = 0; i < n; i++) {
    double t = mark[by > 0 ? i : n - 1 - i].t;
    if (by * (t - self->pin_t) > WALK_SAME_MM) {
      pin_to(self, t);
      return;
    }
  }
}

static void pin_ask(SoffitEvidencePicture *self)
{
  Point p = view_px(self->view, self->pin);
  GdkRectangle at = {(int)p.x, (int)p.y, 1, 1};
  gtk_popover_set_pointing_to(GTK_POPOVER(self->popover), &at);
  gtk_editable_set_text(GTK_EDITABLE(self->entry), "");
  gtk_popover_popup(GTK_POPOVER(self->popover));
  gtk_widget_grab_focus(self->entry);
}

static void pin_said(SoffitEvidencePicture *self)
{
  g_autofree char *text = g_strdup(gtk_editable_get_text(GTK_EDITABLE(self->entry)));
  gtk_popover_popdown(GTK_POPOVER(self->popover));
  if (*g_strstrip(text))
    review_desk_pin(self->desk, review_desk_connector(self->desk), self->pin, text);
  pin_leave(self);
  gtk_widget_grab_focus(GTK_WIDGET(self));
}

static gboolean key_pressed(GtkEventControllerKey *controller, guint key, guint code,
                            GdkModifierType state, SoffitEvidencePicture *self)
{
  (void)controller, (void)code;
  Point by;
  if (!self->pinning || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)))
    return FALSE;
  if (key == GDK_KEY_Return || key == GDK_KEY_KP_Enter) {
    pin_ask(self);
    return TRUE;
  }
  if (key == GDK_KEY_Escape) {
    pin_leave(self);
    return TRUE;
  }
  if (!arrow_key(key, state & GDK_SHIFT_MASK ? FINE_MM : STEP_MM, &by))
    return FALSE;
  double to;
  if (by.y > 0 || by.y < 0)
    pin_jump(self, by.y > 0 ? 1 : -1);
  else if (walk_step(gum_line(self), self->pin_t, by.x, &to) == FAULT_NONE)
    pin_to(self, to);
  return TRUE;
}

static void pressed(GtkGestureClick *click, int n, double x, double y, SoffitEvidencePicture *self)
{
  (void)click, (void)n;
  bool begun = self->pinning;
  gtk_widget_grab_focus(GTK_WIDGET(self));
  if (!answer_of(self) || (self->comparing && evidence_picture_can_compare(self)) || !self->sheet)
    return;
  self->pin = view_mm(self->view, point(x, y));
  if (!begun && n < 2) /* a click alone takes the focus; pointing is N, or a double click */
    return;
  self->pin_t = outline_nearest(gum_line(self), self->pin, NULL);
  self->pinning = true;
  pin_ask(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

/* ---- the widget ---- */

static void picture_fresh(SoffitEvidencePicture *self)
{
  g_clear_pointer(&self->sheet, cairo_surface_destroy);
  gtk_widget_set_visible(self->compare, evidence_picture_can_compare(self));
  gtk_button_set_label(GTK_BUTTON(self->compare), review_desk_since(self->desk) == SINCE_SEEN
                                                      ? _("Against what you saw last")
                                                      : _("Against the approved"));
  name_show(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void desk_selected(SoffitEvidencePicture *self)
{
  self->pinning = false;
  picture_fresh(self);
}

void evidence_picture_compare(SoffitEvidencePicture *self, bool on)
{
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->compare), on);
}

static void compare_toggled(GtkToggleButton *button, SoffitEvidencePicture *self)
{
  self->comparing = gtk_toggle_button_get_active(button);
  picture_fresh(self);
}

static void picture_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *least,
                            int *natural, int *least_baseline, int *natural_baseline)
{
  SoffitEvidencePicture *self = SOFFIT_EVIDENCE_PICTURE(widget);
  int unused;
  gtk_widget_measure(self->compare, orientation, for_size, &unused, NULL, NULL, NULL);
  *least = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 240 : 160;
  *least_baseline = *natural_baseline = -1;
}

static void picture_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  SoffitEvidencePicture *self = SOFFIT_EVIDENCE_PICTURE(widget);
  int wide, tall;
  (void)baseline;
  gtk_widget_measure(self->compare, GTK_ORIENTATION_HORIZONTAL, -1, &wide, NULL, NULL, NULL);
  gtk_widget_measure(self->compare, GTK_ORIENTATION_VERTICAL, wide, &tall, NULL, NULL, NULL);
  if (gtk_widget_should_layout(self->compare))
    gtk_widget_allocate(
        self->compare, wide, tall, -1,
        gsk_transform_translate(
            NULL, &GRAPHENE_POINT_INIT((float)(width - wide - 12), (float)(height - tall - 10))));
  gtk_popover_present(GTK_POPOVER(self->popover));
}

static void evidence_picture_dispose(GObject *object)
{
  SoffitEvidencePicture *self = SOFFIT_EVIDENCE_PICTURE(object);
  g_clear_pointer(&self->popover, gtk_widget_unparent);
  g_clear_pointer(&self->compare, gtk_widget_unparent);
  g_clear_pointer(&self->sheet, cairo_surface_destroy);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(evidence_picture_parent_class)->dispose(object);
}

static void evidence_picture_class_init(SoffitEvidencePictureClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
  G_OBJECT_CLASS(class)->dispose = evidence_picture_dispose;
  widget_class->snapshot = picture_snapshot;
  widget_class->measure = picture_measure;
  widget_class->size_allocate = picture_allocate;
  gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

/* A pin tells its words under the pointer, also where there was no room to write them. */
static gboolean tip_asked(SoffitEvidencePicture *self, int x, int y, gboolean keyboard,
                          GtkTooltip *tooltip)
{
  (void)keyboard;
  const Evidence *e = review_desk_evidence(self->desk);
  if (!answer_of(self) || !self->sheet)
    return FALSE;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  const GPtrArray *group[] = {e->c.remark, review_desk_remarks(self->desk)};
  unsigned number = 0;
  for (int k = 0; k < 2; k++)
    for (guint i = 0; i < group[k]->len; i++) {
      const Remark *remark = group[k]->pdata[i];
      Point tip;
      number++;
      if (!remark_tip(self, remark, &tip) || remark->settled == ANSWER_YES ||
          !pin_hit(&context, tip, point(x, y)))
        continue;
      g_autofree char *words = pin_words(number, remark->initials, remark->text);
      gtk_tooltip_set_text(tooltip, words);
      return TRUE;
    }
  return FALSE;
}

static void evidence_picture_init(SoffitEvidencePicture *self)
{
  GtkEventController *keys = gtk_event_controller_key_new();
  GtkGesture *click = gtk_gesture_click_new();
  gtk_widget_set_focusable(GTK_WIDGET(self), TRUE);
  gtk_widget_set_has_tooltip(GTK_WIDGET(self), TRUE);
  g_signal_connect(self, "query-tooltip", G_CALLBACK(tip_asked), NULL);
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), self);
  g_signal_connect(click, "pressed", G_CALLBACK(pressed), self);
  gtk_widget_add_controller(GTK_WIDGET(self), keys);
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(click));
  self->compare = gtk_toggle_button_new_with_label(_("Against the approved"));
  gtk_widget_add_css_class(self->compare, "chip");
  gtk_widget_set_parent(self->compare, GTK_WIDGET(self));
  g_signal_connect(self->compare, "toggled", G_CALLBACK(compare_toggled), self);
  self->popover = gtk_popover_new();
  self->entry = gtk_entry_new();
  gtk_editable_set_width_chars(GTK_EDITABLE(self->entry), 32);
  gtk_entry_set_placeholder_text(GTK_ENTRY(self->entry), _("what is to be changed here"));
  spoken_name(self->entry, _("Words of the remark"));
  g_signal_connect_swapped(self->entry, "activate", G_CALLBACK(pin_said), self);
  gtk_popover_set_child(GTK_POPOVER(self->popover), self->entry);
  gtk_popover_set_position(GTK_POPOVER(self->popover), GTK_POS_BOTTOM);
  gtk_widget_set_parent(self->popover, GTK_WIDGET(self));
  g_signal_connect_object(gtk_settings_get_default(), "notify::gtk-application-prefer-dark-theme",
                          G_CALLBACK(picture_fresh), self, G_CONNECT_SWAPPED);
}

GtkWidget *evidence_picture_new(SoffitReviewDesk *desk)
{
  SoffitEvidencePicture *self = g_object_new(SOFFIT_TYPE_EVIDENCE_PICTURE, NULL);
  self->desk = g_object_ref(desk);
  g_signal_connect_object(desk, "selected", G_CALLBACK(desk_selected), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(desk, "evidence", G_CALLBACK(picture_fresh), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(desk, "draft", G_CALLBACK(gtk_widget_queue_draw), self,
                          G_CONNECT_SWAPPED);
  picture_fresh(self);
  return GTK_WIDGET(self);
}
