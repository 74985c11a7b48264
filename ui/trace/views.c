/* views.c - three plates, placed in a column or as card and key.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px.  The pictures are ui/drawing's; here they get their place and their name. */
#include "ui/trace/views.h"
#include "ui/trace/plan_desk.h"
#include "ui/trace/section_desk.h"
#include "ui/trace/view_pictures.h"
#include "ui/canvas/draw_context.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define GUM_HEIGHT 250
#define SECTION_HEIGHT 198
#define KEY_WIDTH 186
#define KEY_HEIGHT 74
#define ROW_WIDTH 540    /* of the tools on the drawing, folded, with a gap */
#define ROW_HEIGHT 60    /* that they take above the lower edge           */
#define LEAST_PICTURE 24 /* of the card, more than its words need       */

typedef enum { PLATE_GUM, PLATE_SECTION, PLATE_KEY, PLATE_N } PlateKind;

struct _SoffitViews {
  GtkWidget parent;
  SoffitSession *session; /* owned ref */
  GtkWidget *plate[PLATE_N], *title[PLATE_N], *picture[PLATE_N];
  GtkWidget *change[PLATE_N]; /* folded: shows the other view; none on the key */
  GtkWidget *depth;           /* asks for the picture in depth */
  bool folded, gum_shown;
};

G_DEFINE_FINAL_TYPE(SoffitViews, views, GTK_TYPE_WIDGET)

static void plate_place(GtkWidget *plate, int x, int y, int width, int height)
{
  GskTransform *transform = gsk_transform_translate(NULL, &GRAPHENE_POINT_INIT((float)x, (float)y));
  int least;
  gtk_widget_measure(plate, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  width = MAX(width, least);
  gtk_widget_measure(plate, GTK_ORIENTATION_VERTICAL, width, &least, NULL, NULL, NULL);
  gtk_widget_allocate(plate, width, MAX(height, least), -1, transform);
}

static void views_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  (void)baseline;
  SoffitViews *self = SOFFIT_VIEWS(widget);
  GtkWidget *gum = self->plate[PLATE_GUM], *section = self->plate[PLATE_SECTION],
            *key = self->plate[PLATE_KEY];
  double scale = text_scale(widget);
  if (self->folded) {
    GtkWidget *card = self->gum_shown ? gum : section;
    int card_width = (int)(scale * VIEWS_CARD_WIDTH), key_width = (int)(scale * KEY_WIDTH),
        key_height = (int)(scale * KEY_HEIGHT);
    int above = width < ROW_WIDTH + key_width + VIEWS_EDGE ? ROW_HEIGHT : 0,
        key_y = height - key_height - VIEWS_EDGE - above, least;
    gtk_widget_measure(card, GTK_ORIENTATION_VERTICAL, card_width, &least, NULL, NULL, NULL);
    bool both = key_y - 2 * VIEWS_EDGE >= least + LEAST_PICTURE;
    int under = both                                          ? height - key_y
                : width < ROW_WIDTH + card_width + VIEWS_EDGE ? ROW_HEIGHT
                                                              : 0,
        card_height = MIN((int)(scale * VIEWS_CARD_HEIGHT), height - under - 2 * VIEWS_EDGE);
    plate_place(card, width - card_width - VIEWS_EDGE, VIEWS_EDGE, card_width, card_height);
    gtk_widget_set_child_visible(key, both); /* large text, small window: the view comes first */
    if (both)
      plate_place(key, width - key_width - VIEWS_EDGE, key_y, key_width, key_height);
  } else {
    int gum_height = (int)(scale * GUM_HEIGHT), section_height = (int)(scale * SECTION_HEIGHT);
    gtk_widget_set_child_visible(key, true);
    plate_place(gum, 0, 0, width, gum_height);
    plate_place(section, 0, gum_height, width, section_height);
    plate_place(key, 0, gum_height + section_height, width, height - gum_height - section_height);
  }
  g_signal_emit_by_name(self, "placed");
}

void views_plates(SoffitViews *self, Box plate[2])
{
  GtkWidget *const over[2] = {self->plate[self->gum_shown ? PLATE_GUM : PLATE_SECTION],
                              self->plate[PLATE_KEY]};
  for (int i = 0; i < 2; i++) {
    graphene_rect_t at;
    bool lies = self->folded && gtk_widget_get_child_visible(over[i]) &&
                gtk_widget_compute_bounds(over[i], GTK_WIDGET(self), &at) && at.size.width > 0;
    plate[i] =
        lies ? (Box){at.origin.x, at.origin.y, at.size.width, at.size.height} : (Box){0, 0, 0, 0};
  }
}

static void views_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *least,
                          int *natural, int *least_baseline, int *natural_baseline)
{
  (void)widget, (void)orientation, (void)for_size;
  *least = *natural = 100;
  *least_baseline = *natural_baseline = -1;
}

/* Folded, only the card and the key take the pen. */
static gboolean views_contains(GtkWidget *widget, double x, double y)
{
  return !SOFFIT_VIEWS(widget)->folded &&
         GTK_WIDGET_CLASS(views_parent_class)->contains(widget, x, y);
}

static void plates_show(SoffitViews *self)
{
  bool open = !self->folded;
  gtk_widget_set_visible(self->plate[PLATE_GUM], open || self->gum_shown);
  gtk_widget_set_visible(self->plate[PLATE_SECTION], open || !self->gum_shown);
  gtk_widget_set_visible(self->title[PLATE_KEY], open);
  for (int i = 0; i < PLATE_N; i++) {
    (open ? gtk_widget_remove_css_class : gtk_widget_add_css_class)(self->plate[i], "floating");
    if (self->change[i])
      gtk_widget_set_visible(self->change[i], self->folded);
  }
  (open ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(GTK_WIDGET(self), "views");
  gtk_widget_queue_resize(GTK_WIDGET(self));
}

void views_fold(SoffitViews *self, bool folded)
{
  if (folded == self->folded)
    return;
  self->folded = folded;
  plates_show(self);
}

static void view_change(GtkButton *button, SoffitViews *self)
{
  (void)button;
  self->gum_shown = !self->gum_shown;
  plates_show(self);
  gtk_widget_grab_focus(self->change[self->gum_shown ? PLATE_GUM : PLATE_SECTION]);
}

static void depth_clicked(SoffitViews *self)
{
  g_signal_emit_by_name(self, "depth-wanted");
}

void views_depth_shown(SoffitViews *self, bool shown)
{
  gtk_button_set_label(GTK_BUTTON(self->depth), shown ? _("Back to the drawing") : _("In depth"));
}

static void section_shape(GtkButton *button, SoffitViews *self)
{
  GtkRoot *root = gtk_widget_get_root(GTK_WIDGET(button));
  section_desk_open(GTK_WINDOW(root), self->session);
}

static void plan_shape(GtkButton *button, SoffitViews *self)
{
  GtkRoot *root = gtk_widget_get_root(GTK_WIDGET(button));
  plan_desk_open(GTK_WINDOW(root), self->session);
}

/* Opens the window in which the hand shapes what the plate shows. */
static void shape_button_add(SoffitViews *self, GtkWidget *box, const char *name, GCallback clicked)
{
  GtkWidget *shape = gtk_button_new_with_label(_("Shape…"));
  gtk_widget_add_css_class(shape, "plain");
  gtk_widget_add_css_class(shape, "note");
  spoken_tooltip(shape, name);
  spoken_name(shape, name);
  g_signal_connect(shape, "clicked", clicked, self);
  gtk_box_append(GTK_BOX(box), shape);
}

static void views_redraw(SoffitViews *self)
{
  for (int i = 0; i < PLATE_N; i++)
    gtk_widget_queue_draw(self->picture[i]);
}

/* While a hand draws the pictures come with the answers. */
static void views_case_changed(SoffitViews *self)
{
  if (!session_editing(self->session))
    views_redraw(self);
}

static void views_dispose(GObject *object)
{
  SoffitViews *self = SOFFIT_VIEWS(object);
  for (int i = 0; i < PLATE_N; i++)
    g_clear_pointer(&self->plate[i], gtk_widget_unparent);
  g_clear_object(&self->session);
  G_OBJECT_CLASS(views_parent_class)->dispose(object);
}

static void views_class_init(SoffitViewsClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
  G_OBJECT_CLASS(class)->dispose = views_dispose;
  widget_class->size_allocate = views_size_allocate;
  widget_class->measure = views_measure;
  widget_class->contains = views_contains;
  g_signal_new("depth-wanted", G_TYPE_FROM_CLASS(class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
               G_TYPE_NONE, 0);
  g_signal_new("placed", G_TYPE_FROM_CLASS(class), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
               G_TYPE_NONE, 0);
}

static void views_init(SoffitViews *self)
{
  gtk_widget_add_css_class(GTK_WIDGET(self), "views");
}

static void plate_build(SoffitViews *self, PlateKind kind, const char *title, const char *change,
                        GtkDrawingAreaDrawFunc draw)
{
  self->title[kind] = gtk_label_new(title);
  gtk_label_set_xalign(GTK_LABEL(self->title[kind]), 0);
  gtk_widget_add_css_class(self->title[kind], "title");
  GtkWidget *picture = self->picture[kind] = gtk_drawing_area_new();
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(picture), draw, self->session, NULL);
  gtk_widget_set_vexpand(picture, TRUE);
  gtk_accessible_update_property(GTK_ACCESSIBLE(picture), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
  GtkWidget *plate = self->plate[kind] = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_add_css_class(plate, "view");
  GtkWidget *head = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_widget_set_hexpand(self->title[kind], TRUE);
  gtk_box_append(GTK_BOX(head), self->title[kind]);
  if (kind == PLATE_SECTION)
    shape_button_add(self, head, _("Shape: roundness or drawn section of the neck"),
                     G_CALLBACK(section_shape));
  gtk_box_append(GTK_BOX(plate), head);
  gtk_box_append(GTK_BOX(plate), picture);
  if (change) {
    self->change[kind] = gtk_button_new_with_label(change);
    gtk_widget_add_css_class(self->change[kind], "plain");
    gtk_widget_add_css_class(self->change[kind], "note");
    g_signal_connect(self->change[kind], "clicked", G_CALLBACK(view_change), self);
    gtk_box_append(GTK_BOX(plate), self->change[kind]);
  }
  gtk_widget_set_parent(plate, GTK_WIDGET(self));
}

GtkWidget *views_new(SoffitSession *session)
{
  SoffitViews *self = g_object_new(SOFFIT_TYPE_VIEWS, NULL);
  self->session = g_object_ref(session);
  plate_build(self, PLATE_GUM, _("From the gum side"), _("Show the section"), view_gum_draw);
  plate_build(self, PLATE_SECTION, _("Neck section"), _("Show the gum side"), view_section_draw);
  plate_build(self, PLATE_KEY, _("Shade"), NULL, view_key_draw);
  self->depth = gtk_button_new_with_label(_("In depth"));
  gtk_widget_add_css_class(self->depth, "plain");
  gtk_widget_add_css_class(self->depth, "note");
  spoken_tooltip(self->depth, _("Turn the connector in depth (S)"));
  g_signal_connect_object(self->depth, "clicked", G_CALLBACK(depth_clicked), self,
                          G_CONNECT_SWAPPED);
  GtkWidget *more = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_widget_set_hexpand(self->depth, TRUE);
  gtk_box_append(GTK_BOX(more), self->depth);
  shape_button_add(self, more, _("Shape: cheek and tongue outline"), G_CALLBACK(plan_shape));
  gtk_box_append(GTK_BOX(self->plate[PLATE_GUM]), more);
  plates_show(self);
  static const char *const when[] = {"assessment-changed", "focus-changed", "preview-changed"};
  for (size_t i = 0; i < G_N_ELEMENTS(when); i++)
    g_signal_connect_object(session, when[i], G_CALLBACK(views_redraw), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(session, "case-changed", G_CALLBACK(views_case_changed), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(gtk_settings_get_default(), "notify::gtk-application-prefer-dark-theme",
                          G_CALLBACK(views_redraw), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET(self);
}
