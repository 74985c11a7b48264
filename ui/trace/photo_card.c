/* photo_card.c - four short pages; what they do is ui/photo's.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/trace/photo_card.h"
#include "ui/canvas/photo_take.h"
#include "ui/case_form.h"
#include "ui/parts.h"
#include "ui/photo/photo_words.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define CARD_CHARS 34
#define TURN_DEG 0.5
#define ZOOM_STEP 1.02
#define REACH_LEAST_MM 0.02
#define REACH_MOST_MM 0.5

typedef enum { PAGE_OPEN, PAGE_STRAIGHT, PAGE_SCALE, PAGE_TRACE, PAGE_N } CardPage;

struct _SoffitPhotoCard {
  GtkBox parent;
  SoffitCanvas *canvas;  /* borrowed */
  SoffitPhotoDesk *desk; /* owned ref */
  GtkWidget *stack, *page[PAGE_N];
  GtkWidget *status, *seen, *strength, *move, *hold, *inside, *placing, *remove;
  GtkWidget *corners, *corner_words, *straight_off;
  GtkWidget *ticks, *tick_words, *scale_off, *apart;
  GtkWidget *scale_words, *traced, *cling, *draw;
  double width, height, side_error, distance, distance_error, reach;
  bool updating;
};

G_DEFINE_FINAL_TYPE(SoffitPhotoCard, photo_card, GTK_TYPE_BOX)

/* ---- parts ---- */

static GtkWidget *words_new(const char *class_name)
{
  GtkWidget *label = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_label_set_wrap_mode(GTK_LABEL(label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_width_chars(GTK_LABEL(label), CARD_CHARS);
  gtk_label_set_max_width_chars(GTK_LABEL(label), CARD_CHARS);
  gtk_widget_add_css_class(label, class_name);
  return label;
}

static GtkWidget *row_new(GtkWidget *first, GtkWidget *second)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_box_append(GTK_BOX(row), first);
  if (second)
    gtk_box_append(GTK_BOX(row), second);
  return row;
}

static GtkWidget *field_row(const char *name, GtkWidget *field, const char *unit)
{
  GtkWidget *label = gtk_label_new(name), *after = gtk_label_new(unit);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_widget_set_hexpand(label, TRUE);
  gtk_widget_add_css_class(after, "dim");
  GtkWidget *row = row_new(label, field);
  gtk_box_append(GTK_BOX(row), after);
  return row;
}

static GtkWidget *check_new(SoffitPhotoCard *self, const char *text,
                            void (*toggled)(SoffitPhotoCard *))
{
  GtkWidget *check = gtk_check_button_new_with_label(text);
  g_signal_connect_swapped(check, "toggled", G_CALLBACK(toggled), self);
  return check;
}

static bool on(GtkWidget *check)
{
  return gtk_check_button_get_active(GTK_CHECK_BUTTON(check));
}

static void to_drawing(SoffitPhotoCard *self)
{
  gtk_widget_grab_focus(GTK_WIDGET(self->canvas));
}

/* ---- open ---- */

static void open_clicked(SoffitPhotoCard *self)
{
  photo_take_choose(GTK_WIDGET(self), self->desk);
}

static void paste_clicked(SoffitPhotoCard *self)
{
  photo_take_paste(GTK_WIDGET(self), self->desk);
}

static void remove_clicked(SoffitPhotoCard *self)
{
  photo_desk_remove(self->desk);
  to_drawing(self);
}

static void reset_clicked(SoffitPhotoCard *self)
{
  photo_desk_reset(self->desk);
}

static void seen_toggled(SoffitPhotoCard *self)
{
  if (!self->updating)
    photo_desk_set_hidden(self->desk, !on(self->seen));
}

static void hold_toggled(SoffitPhotoCard *self)
{
  if (!self->updating)
    photo_desk_set_locked(self->desk, on(self->hold));
}

static void inside_toggled(SoffitPhotoCard *self)
{
  if (!self->updating)
    photo_desk_set_inside(self->desk, on(self->inside));
}

static void strength_changed(SoffitPhotoCard *self)
{
  if (!self->updating)
    photo_desk_set_opacity(self->desk, gtk_range_get_value(GTK_RANGE(self->strength)) / 100);
}

static void move_toggled(SoffitPhotoCard *self)
{
  if (self->updating)
    return;
  bool moves = gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(self->move));
  photo_desk_set_mode(self->desk, moves ? PHOTO_MOVE : PHOTO_REST);
  to_drawing(self);
}

static void left_clicked(SoffitPhotoCard *self)
{
  photo_desk_turn(self->desk, TURN_DEG);
}

static void right_clicked(SoffitPhotoCard *self)
{
  photo_desk_turn(self->desk, -TURN_DEG);
}

static void larger_clicked(SoffitPhotoCard *self)
{
  photo_desk_zoom(self->desk, ZOOM_STEP);
}

static void smaller_clicked(SoffitPhotoCard *self)
{
  photo_desk_zoom(self->desk, 1 / ZOOM_STEP);
}

static GtkWidget *small_new(SoffitPhotoCard *self, const char *sign, const char *name,
                            void (*clicked)(SoffitPhotoCard *))
{
  GtkWidget *button = part_button(sign, "quiet", G_CALLBACK(clicked), self);
  gtk_widget_add_css_class(button, "step");
  spoken_name(button, name);
  spoken_tooltip(button, name);
  return button;
}

static GtkWidget *open_page(SoffitPhotoCard *self)
{
  GtkWidget *page = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  self->status = words_new("note");
  gtk_box_append(GTK_BOX(page), self->status);
  gtk_box_append(GTK_BOX(page),
                 row_new(part_button(_("Open…"), "quiet", G_CALLBACK(open_clicked), self),
                         part_button(_("Paste"), "quiet", G_CALLBACK(paste_clicked), self)));
  self->strength = gtk_scale_new_with_range(GTK_ORIENTATION_HORIZONTAL, 10, 100, 5);
  gtk_widget_set_size_request(self->strength, 150, 44);
  spoken_name(self->strength, _("Strength of the photo"));
  g_signal_connect_swapped(self->strength, "value-changed", G_CALLBACK(strength_changed), self);
  self->seen = check_new(self, _("Show (Shift+F)"), seen_toggled);
  self->hold = check_new(self, _("Hold fast"), hold_toggled);
  self->placing = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *checks = row_new(self->seen, self->hold);
  gtk_box_set_spacing(GTK_BOX(checks), 16);
  gtk_box_append(GTK_BOX(self->placing), checks);
  gtk_box_append(GTK_BOX(self->placing), field_row(_("Opacity"), self->strength, ""));
  self->move = gtk_toggle_button_new_with_label(_("Move"));
  gtk_widget_add_css_class(self->move, "quiet");
  spoken_tooltip(self->move, _("Drag on the drawing, or arrows, finer with Shift"));
  g_signal_connect_swapped(self->move, "toggled", G_CALLBACK(move_toggled), self);
  GtkWidget *row = row_new(self->move, small_new(self, "↶", _("Turn to the left"), left_clicked));
  gtk_box_set_spacing(GTK_BOX(row), 2); /* no wider than the words */
  gtk_box_append(GTK_BOX(row), small_new(self, "↷", _("Turn to the right"), right_clicked));
  gtk_box_append(GTK_BOX(row), small_new(self, "−", _("Smaller"), smaller_clicked));
  gtk_box_append(GTK_BOX(row), small_new(self, "+", _("Larger"), larger_clicked));
  gtk_box_append(GTK_BOX(self->placing), row);
  self->remove = row_new(part_button(_("As opened"), "quiet", G_CALLBACK(reset_clicked), self),
                         part_button(_("Remove"), "quiet", G_CALLBACK(remove_clicked), self));
  gtk_box_append(GTK_BOX(self->placing), self->remove);
  self->inside = check_new(self, _("Keep it inside of the case"), inside_toggled);
  spoken_tooltip(self->inside, _("One file to send; else the photo lies beside it"));
  gtk_box_append(GTK_BOX(self->placing), self->inside);
  gtk_box_append(GTK_BOX(page), self->placing);
  return page;
}

/* ---- straighten ---- */

static void corners_toggled(SoffitPhotoCard *self)
{
  if (self->updating)
    return;
  bool marks = gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(self->corners));
  photo_desk_set_mode(self->desk, marks ? PHOTO_CORNERS : PHOTO_REST);
  to_drawing(self);
}

static void straighten_clicked(SoffitPhotoCard *self)
{
  Fault fault = photo_desk_straighten(self->desk, self->width, self->height, self->side_error);
  if (fault)
    gtk_label_set_text(GTK_LABEL(self->corner_words), photo_corner_trouble(self->desk, fault));
  else
    to_drawing(self);
}

static void straight_off_clicked(SoffitPhotoCard *self)
{
  if (photo_desk_straighten_off(self->desk))
    gtk_label_set_text(GTK_LABEL(self->corner_words), _("The photo is as it was taken."));
}

static GtkWidget *straight_page(SoffitPhotoCard *self)
{
  GtkWidget *page = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  self->corner_words = words_new("note");
  self->corners = gtk_toggle_button_new_with_label(_("Mark corners"));
  gtk_widget_add_css_class(self->corners, "quiet");
  g_signal_connect_swapped(self->corners, "toggled", G_CALLBACK(corners_toggled), self);
  gtk_box_append(GTK_BOX(page), self->corner_words);
  gtk_box_append(GTK_BOX(page), row_new(self->corners, NULL));
  gtk_box_append(GTK_BOX(page), field_row(_("Width"),
                                          field_number(_("Width of the rectangle"), &self->width,
                                                       0.1, 200, 0.1, 2),
                                          _("mm")));
  gtk_box_append(GTK_BOX(page), field_row(_("Height"),
                                          field_number(_("Height of the rectangle"), &self->height,
                                                       0.1, 200, 0.1, 2),
                                          _("mm")));
  GtkWidget *error = field_number(_("Known to ±; empty: only the ratio is known"),
                                  &self->side_error, 0, 5, 0.01, 2);
  spoken_tooltip(error, _("Empty: only the ratio of the sides is known"));
  gtk_box_append(GTK_BOX(page), field_row(_("Known to ±"), error, _("mm")));
  self->straight_off = part_button(_("As taken"), "quiet", G_CALLBACK(straight_off_clicked), self);
  gtk_box_append(GTK_BOX(page), row_new(part_button(_("Straighten"), "strong",
                                                    G_CALLBACK(straighten_clicked), self),
                                        self->straight_off));
  return page;
}

/* ---- scale ---- */

static void ticks_toggled(SoffitPhotoCard *self)
{
  if (self->updating)
    return;
  bool marks = gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(self->ticks));
  photo_desk_set_mode(self->desk, marks ? PHOTO_TICKS : PHOTO_REST);
  to_drawing(self);
}

static void scale_clicked(SoffitPhotoCard *self)
{
  double error = isnan(self->distance_error) ? 0 : self->distance_error;
  Fault fault = photo_desk_scale(self->desk, self->distance, error);
  if (fault)
    gtk_label_set_text(GTK_LABEL(self->tick_words), photo_tick_trouble(self->desk, fault));
  else
    to_drawing(self);
}

static void scale_off_clicked(SoffitPhotoCard *self)
{
  if (photo_desk_scale_off(self->desk))
    gtk_label_set_text(GTK_LABEL(self->tick_words), _("The photo has no scale."));
}

static GtkWidget *scale_page(SoffitPhotoCard *self)
{
  GtkWidget *page = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  self->tick_words = words_new("note");
  self->ticks = gtk_toggle_button_new_with_label(_("Mark places"));
  gtk_widget_add_css_class(self->ticks, "quiet");
  g_signal_connect_swapped(self->ticks, "toggled", G_CALLBACK(ticks_toggled), self);
  gtk_box_append(GTK_BOX(page), self->tick_words);
  gtk_box_append(GTK_BOX(page), row_new(self->ticks, NULL));
  self->apart =
      field_number(_("Distance of neighbouring marks"), &self->distance, 0.01, 200, 0.1, 2);
  gtk_box_append(GTK_BOX(page), field_row(_("Apart"), self->apart, _("mm")));
  gtk_box_append(GTK_BOX(page), field_row(_("Known to ±"),
                                          field_number(_("Distance known to ±"),
                                                       &self->distance_error, 0, 5, 0.01, 2),
                                          _("mm")));
  self->scale_off = part_button(_("Take away"), "quiet", G_CALLBACK(scale_off_clicked), self);
  gtk_box_append(GTK_BOX(page),
                 row_new(part_button(_("Set scale"), "strong", G_CALLBACK(scale_clicked), self),
                         self->scale_off));
  return page;
}

/* ---- trace ---- */

static void traced_toggled(SoffitPhotoCard *self)
{
  if (!self->updating)
    photo_desk_set_traced(self->desk, on(self->traced));
}

static void cling_changed(SoffitPhotoCard *self)
{
  if (!self->updating)
    photo_desk_set_cling(self->desk, on(self->cling), self->reach);
}

static void reach_changed(GtkSpinButton *field, SoffitPhotoCard *self)
{
  if (!self->updating)
    photo_desk_set_cling(self->desk, on(self->cling), gtk_spin_button_get_value(field));
}

static void draw_clicked(SoffitPhotoCard *self)
{
  canvas_set_tool(self->canvas, &tool_pen);
  to_drawing(self);
}

static GtkWidget *trace_page_build(SoffitPhotoCard *self)
{
  GtkWidget *page = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  self->scale_words = words_new("note");
  gtk_box_append(GTK_BOX(page), self->scale_words);
  self->cling = check_new(self, _("The stroke clings to edges"), cling_changed);
  gtk_box_append(GTK_BOX(page), self->cling);
  GtkWidget *reach =
      field_number(_("Edges within"), &self->reach, REACH_LEAST_MM, REACH_MOST_MM, 0.01, 2);
  g_signal_connect(reach, "value-changed", G_CALLBACK(reach_changed), self);
  gtk_box_append(GTK_BOX(page), field_row(_("Edges within"), reach, _("mm")));
  self->traced = check_new(self, _("The line was traced on this photo"), traced_toggled);
  gtk_box_append(GTK_BOX(page), self->traced);
  self->draw = part_button(_("Draw with the pen (D)"), "strong", G_CALLBACK(draw_clicked), self);
  gtk_box_append(GTK_BOX(page), row_new(self->draw, NULL));
  return page;
}

/* ---- what the desk says ---- */

static void photo_card_update(SoffitPhotoCard *self)
{
  const Photo *photo = photo_desk_photo(self->desk);
  PhotoState state = photo_desk_state(self->desk);
  bool shown = state == PHOTO_SHOWN, known = photo->plane.width > 0;
  PhotoMode mode = photo_desk_mode(self->desk);
  gtk_widget_set_visible(GTK_WIDGET(self), photo_desk_active(self->desk));
  if (!photo_desk_active(self->desk))
    return;
  self->updating = true;
  g_autofree char *status = photo_status_text(self->desk), *scale = photo_scale_text(self->desk),
                  *corners = photo_corner_text(self->desk), *ticks = photo_tick_text(self->desk);
  gtk_label_set_text(GTK_LABEL(self->status), status);
  gtk_label_set_text(GTK_LABEL(self->scale_words), scale);
  gtk_widget_set_visible(self->placing, photo_there(photo));
  gtk_widget_set_sensitive(self->page[PAGE_STRAIGHT], shown);
  gtk_widget_set_sensitive(self->page[PAGE_SCALE], shown);
  gtk_widget_set_sensitive(self->page[PAGE_TRACE], known);
  gtk_widget_set_visible(self->straight_off, photo->plane.straightened);
  gtk_widget_set_visible(self->scale_off, photo->plane.n_mark > 0);
  gtk_check_button_set_active(GTK_CHECK_BUTTON(self->seen), !photo_desk_hidden(self->desk));
  gtk_check_button_set_active(GTK_CHECK_BUTTON(self->hold), photo->locked == ANSWER_YES);
  gtk_check_button_set_active(GTK_CHECK_BUTTON(self->inside), photo->inside != NULL);
  gtk_check_button_set_active(GTK_CHECK_BUTTON(self->traced), photo->traced == ANSWER_YES);
  gtk_check_button_set_active(GTK_CHECK_BUTTON(self->cling), photo_desk_cling(self->desk));
  gtk_range_set_value(GTK_RANGE(self->strength), 100 * photo->opacity);
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->corners), mode == PHOTO_CORNERS);
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->ticks), mode == PHOTO_TICKS);
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->move), mode == PHOTO_MOVE);
  gtk_widget_set_sensitive(self->draw, shown);
  if (isnan(self->distance) && isfinite(photo->plane.distance)) /* as it was the last time */
    gtk_spin_button_set_value(GTK_SPIN_BUTTON(self->apart), photo->plane.distance);
  gtk_label_set_text(GTK_LABEL(self->corner_words), corners);
  gtk_label_set_text(GTK_LABEL(self->tick_words), ticks);
  self->updating = false;
}

/* ---- life ---- */

static void photo_card_dispose(GObject *object)
{
  SoffitPhotoCard *self = SOFFIT_PHOTO_CARD(object);
  if (self->desk)
    g_signal_handlers_disconnect_by_data(self->desk, self);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(photo_card_parent_class)->dispose(object);
}

static void photo_card_class_init(SoffitPhotoCardClass *class)
{
  G_OBJECT_CLASS(class)->dispose = photo_card_dispose;
  gtk_widget_class_set_accessible_role(GTK_WIDGET_CLASS(class), GTK_ACCESSIBLE_ROLE_GROUP);
}

static void photo_card_init(SoffitPhotoCard *self)
{
  gtk_orientable_set_orientation(GTK_ORIENTABLE(self), GTK_ORIENTATION_VERTICAL);
  self->width = 3;
  self->height = 2;
  self->side_error = self->distance = self->distance_error = NAN;
  self->reach = 0.15;
}

GtkWidget *photo_card_new(SoffitCanvas *canvas)
{
  static const char *const title[PAGE_N] = {N_("Photo"), N_("Straighten"), N_("Scale"),
                                            N_("Trace")};
  static GtkWidget *(*const build[PAGE_N])(SoffitPhotoCard *) = {open_page, straight_page,
                                                                 scale_page, trace_page_build};
  SoffitPhotoCard *self = g_object_new(SOFFIT_TYPE_PHOTO_CARD, NULL);
  self->canvas = canvas;
  self->desk = g_object_ref(canvas_photo(canvas));
  gtk_widget_add_css_class(GTK_WIDGET(self), "photo-card");
  self->stack = gtk_stack_new();
  gtk_stack_set_vhomogeneous(GTK_STACK(self->stack), FALSE);
  gtk_stack_set_hhomogeneous(GTK_STACK(self->stack), FALSE); /* pages are as wide by their words */
  GtkWidget *switcher = gtk_stack_switcher_new();
  gtk_widget_add_css_class(switcher, "kinds");
  gtk_stack_switcher_set_stack(GTK_STACK_SWITCHER(switcher), GTK_STACK(self->stack));
  for (int i = 0; i < PAGE_N; i++) {
    self->page[i] = build[i](self);
    gtk_stack_add_titled(GTK_STACK(self->stack), self->page[i], NULL, _(title[i]));
  }
  gtk_box_append(GTK_BOX(self), switcher);
  GtkWidget *scroller = gtk_scrolled_window_new(); /* low windows, large letters */
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), self->stack);
  gtk_widget_set_vexpand(scroller, TRUE);
  gtk_box_append(GTK_BOX(self), scroller);
  spoken_name(GTK_WIDGET(self), _("Photo below the drawing"));
  g_signal_connect_swapped(self->desk, "changed", G_CALLBACK(photo_card_update), self);
  photo_card_update(self);
  return GTK_WIDGET(self);
}
