/* evidence_picture.c - see evidence_picture.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The drawing is kept as a picture of its own: pins move over it without drawing it again. */
#include "ui/canvas/draw_context.h"
#include "ui/drawing/picture_compare.h"
#include "ui/review/evidence_picture_private.h"
#include "ui/words.h"

#define LAYERS                                                                                     \
  (LAYER_PAPER | LAYER_GRID | LAYER_GUM | LAYER_BODY | LAYER_SHADE | LAYER_CROSSES | LAYER_FLOW |  \
   LAYER_ZERO | LAYER_BRUSH | LAYER_OUTLINE | LAYER_NECK | LAYER_LOUPE | LAYER_TITLES |            \
   LAYER_GUM_LINE)

G_DEFINE_FINAL_TYPE(SoffitEvidencePicture, evidence_picture, GTK_TYPE_WIDGET)

const Assessment *picture_answer(SoffitEvidencePicture *self)
{
  return evidence_of_connector(review_desk_evidence(self->desk), review_desk_connector(self->desk));
}

const ConnectorAssessment *picture_neck(SoffitEvidencePicture *self)
{
  const Assessment *a = picture_answer(self);
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
  const ConnectorAssessment *now = picture_neck(self);
  const Assessment *other = other_of(self);
  size_t k = review_desk_connector(self->desk);
  return now && now->field && other && k < other->n_connector && other->connector[k].field;
}

static void compare_draw(SoffitEvidencePicture *self, cairo_t *cr, const DrawContext *context)
{
  const Assessment *other = other_of(self);
  size_t k = review_desk_connector(self->desk);
  const ConnectorAssessment *now = picture_neck(self), *then = &other->connector[k];
  Difference difference = {.most = NAN, .least = NAN};
  bool known = !difference_make(then->field, then->order, now->field, now->order, &difference);
  ComparePicture picture = {.today = picture_answer(self),
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
  const Assessment *a = picture_answer(self);
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

static void picture_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  SoffitEvidencePicture *self = SOFFIT_EVIDENCE_PICTURE(widget);
  int width = gtk_widget_get_width(widget), height = gtk_widget_get_height(widget);
  if (picture_answer(self) && width > 8 && height > 8) {
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
    picture_pins_draw(self, cr, &context);
    cairo_destroy(cr);
  }
  if (gtk_widget_get_visible(self->compare))
    gtk_widget_snapshot_child(widget, self->compare, snapshot);
}

/* ---- the widget ---- */

static void picture_fresh(SoffitEvidencePicture *self)
{
  g_clear_pointer(&self->sheet, cairo_surface_destroy);
  gtk_widget_set_visible(self->compare, evidence_picture_can_compare(self));
  gtk_button_set_label(GTK_BUTTON(self->compare), review_desk_since(self->desk) == SINCE_SEEN
                                                      ? _("Against what you saw last")
                                                      : _("Against the approved"));
  picture_name_show(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

static void desk_selected(SoffitEvidencePicture *self)
{
  picture_pins_drop(self);
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

static void evidence_picture_init(SoffitEvidencePicture *self)
{
  gtk_widget_set_focusable(GTK_WIDGET(self), TRUE);
  self->compare = gtk_toggle_button_new_with_label(_("Against the approved"));
  gtk_widget_add_css_class(self->compare, "chip");
  gtk_widget_set_parent(self->compare, GTK_WIDGET(self));
  g_signal_connect(self->compare, "toggled", G_CALLBACK(compare_toggled), self);
  picture_pins_init(self);
  g_signal_connect_object(gtk_settings_get_default(), "notify::gtk-application-prefer-dark-theme",
                          G_CALLBACK(picture_fresh), self, G_CONNECT_SWAPPED);
}

GtkWidget *evidence_picture_new(SoffitReviewDesk *desk)
{
  SoffitEvidencePicture *self = g_object_new(SOFFIT_TYPE_EVIDENCE_PICTURE, NULL);
  self->desk = g_object_ref(desk);
  g_signal_connect_object(desk, "selected", G_CALLBACK(desk_selected), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(desk, "evidence", G_CALLBACK(picture_fresh), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(desk, "draft", G_CALLBACK(picture_pins_fresh), self, G_CONNECT_SWAPPED);
  picture_fresh(self);
  return GTK_WIDGET(self);
}
