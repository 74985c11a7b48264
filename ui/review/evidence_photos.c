/* evidence_photos.c - the photos of a case, small; one opens large.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Fetched one after the other, in threads, once somebody stays at the case. */
#include "ui/parts.h"
#include "ui/review/photo_window.h"
#include "ui/review/review_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define STAY_MS 120
#define SMALL_WIDTH 88
#define SMALL_HEIGHT 64

typedef struct {
  SoffitReviewDesk *desk; /* owned ref */
  GtkWidget *block, *row;
  GArray *photos;     /* CasePhoto, owned; NULL: none */
  char *path;         /* of the case they are of */
  char shown[65];     /* digest of its file; "" = nothing is shown */
  guint next, timer;  /* to be fetched */
  GCancellable *stop; /* owned */
} Photos;

static void photo_pressed(GtkButton *button, Photos *self)
{
  guint at = GPOINTER_TO_UINT(g_object_get_data(G_OBJECT(button), "photo"));
  photo_window_show(GTK_WINDOW(gtk_widget_get_root(self->block)), self->photos, at, self->path);
}

static void fetch_next(Photos *self);

static void photo_came(GObject *owner, GdkTexture *texture, const GError *error, void *data)
{
  Photos *self = data;
  GtkWidget *button = GTK_WIDGET(owner),
            *frame = gtk_widget_get_first_child(gtk_button_get_child(GTK_BUTTON(button))),
            *words = g_object_get_data(G_OBJECT(button), "words");
  const CasePhoto *one = &g_array_index(self->photos, CasePhoto, self->next - 1);
  if (texture) {
    GtkWidget *picture = gtk_picture_new_for_paintable(GDK_PAINTABLE(texture));
    gtk_picture_set_content_fit(GTK_PICTURE(picture), GTK_CONTENT_FIT_COVER);
    gtk_overlay_add_overlay(GTK_OVERLAY(frame), picture);
    gtk_widget_set_visible(words, FALSE);
  } else {
    g_autofree char *spoken = g_strdup_printf(_("Photo of %s: %s"), one->about, error->message);
    gtk_label_set_text(GTK_LABEL(words), _("cannot be shown"));
    gtk_widget_add_css_class(words, "wrong");
    spoken_tooltip(button, error->message);
    spoken_name(button, spoken);
  }
  fetch_next(self);
}

static GtkWidget *button_at(Photos *self, guint at)
{
  GtkWidget *child = gtk_widget_get_first_child(self->row);
  for (; child && at > 0; at--)
    child = gtk_widget_get_next_sibling(child);
  return child ? gtk_flow_box_child_get_child(GTK_FLOW_BOX_CHILD(child)) : NULL;
}

static void fetch_next(Photos *self)
{
  GtkWidget *button = button_at(self, self->next);
  if (!button)
    return;
  const CasePhoto *one = &g_array_index(self->photos, CasePhoto, self->next++);
  int factor = gtk_widget_get_scale_factor(self->row);
  photo_fetch(G_OBJECT(button), &one->photo, self->path, factor * SMALL_WIDTH, self->stop,
              photo_came, self);
}

static gboolean fetch_begin(void *data)
{
  Photos *self = data;
  self->timer = 0;
  fetch_next(self);
  return G_SOURCE_REMOVE;
}

static GtkWidget *small_new(Photos *self, guint i)
{
  const CasePhoto *one = &g_array_index(self->photos, CasePhoto, i);
  GtkWidget *button = gtk_button_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2),
            *frame = gtk_overlay_new(), *room = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *words = gtk_label_new(_("coming"));
  g_autofree char *about =
      one->photo.plane.straightened
          ? g_strdup_printf(_("Photo of %s, straightened. Press to see it large"), one->about)
          : g_strdup_printf(_("Photo of %s. Press to see it large"), one->about);
  gtk_label_set_wrap(GTK_LABEL(words), TRUE);
  gtk_label_set_justify(GTK_LABEL(words), GTK_JUSTIFY_CENTER);
  gtk_widget_add_css_class(words, "note");
  /* all are of one size, whatever the photo's is */
  gtk_widget_set_size_request(room, SMALL_WIDTH, SMALL_HEIGHT);
  gtk_overlay_set_child(GTK_OVERLAY(frame), room);
  gtk_overlay_add_overlay(GTK_OVERLAY(frame), words);
  gtk_widget_set_overflow(frame, GTK_OVERFLOW_HIDDEN);
  GtkWidget *name = gtk_label_new(one->about);
  gtk_widget_add_css_class(name, "note");
  gtk_box_append(GTK_BOX(box), frame);
  gtk_box_append(GTK_BOX(box), name);
  gtk_button_set_child(GTK_BUTTON(button), box);
  gtk_widget_add_css_class(button, "photo-small");
  gtk_widget_set_halign(button, GTK_ALIGN_START);
  gtk_widget_set_valign(button, GTK_ALIGN_START);
  spoken_tooltip(button, about);
  spoken_name(button, about);
  g_object_set_data(G_OBJECT(button), "photo", GUINT_TO_POINTER(i));
  g_object_set_data(G_OBJECT(button), "words", words);
  g_signal_connect(button, "clicked", G_CALLBACK(photo_pressed), self);
  return button;
}

static void photos_drop(Photos *self)
{
  g_clear_handle_id(&self->timer, g_source_remove);
  if (self->stop)
    g_cancellable_cancel(self->stop);
  g_clear_object(&self->stop);
  for (GtkWidget *child; (child = gtk_widget_get_first_child(self->row));)
    gtk_flow_box_remove(GTK_FLOW_BOX(self->row), child);
  g_clear_pointer(&self->photos, g_array_unref);
  g_clear_pointer(&self->path, g_free);
  *self->shown = '\0';
  gtk_widget_set_visible(self->block, FALSE);
}

static void photos_show(Photos *self)
{
  const Evidence *e = review_desk_evidence(self->desk);
  if (!e || e->unread) {
    photos_drop(self);
    return;
  }
  if (strcmp(self->shown, e->seen) == 0)
    return;
  photos_drop(self);
  g_strlcpy(self->shown, e->seen, sizeof self->shown);
  self->photos = case_photos(&e->c);
  self->path = g_build_filename(lab_desk_folder(review_desk_lab(self->desk)), e->file, NULL);
  self->stop = g_cancellable_new();
  self->next = 0;
  for (guint i = 0; i < self->photos->len; i++) {
    gtk_flow_box_append(GTK_FLOW_BOX(self->row), small_new(self, i));
    gtk_widget_set_focusable(gtk_widget_get_last_child(self->row), FALSE); /* its button is */
  }
  gtk_widget_set_visible(self->block, self->photos->len > 0);
  if (self->photos->len > 0)
    self->timer = g_timeout_add(STAY_MS, fetch_begin, self);
}

static void photos_free(void *data)
{
  Photos *self = data;
  g_signal_handlers_disconnect_by_data(self->desk, self);
  g_clear_handle_id(&self->timer, g_source_remove);
  if (self->stop)
    g_cancellable_cancel(self->stop);
  g_clear_object(&self->stop);
  g_clear_pointer(&self->photos, g_array_unref);
  g_free(self->path);
  g_object_unref(self->desk);
  g_free(self);
}

GtkWidget *evidence_photos_new(SoffitReviewDesk *desk)
{
  Photos *self = g_new0(Photos, 1);
  self->desk = g_object_ref(desk);
  self->block = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4);
  self->row = gtk_flow_box_new();
  gtk_flow_box_set_selection_mode(GTK_FLOW_BOX(self->row), GTK_SELECTION_NONE);
  gtk_flow_box_set_min_children_per_line(GTK_FLOW_BOX(self->row), 3);
  gtk_flow_box_set_max_children_per_line(GTK_FLOW_BOX(self->row), 3);
  gtk_flow_box_set_column_spacing(GTK_FLOW_BOX(self->row), 6);
  gtk_flow_box_set_row_spacing(GTK_FLOW_BOX(self->row), 6);
  gtk_widget_add_css_class(self->block, "panel");
  gtk_box_append(GTK_BOX(self->block), part_label(_("Photos"), "title"));
  gtk_box_append(GTK_BOX(self->block), self->row);
  g_object_set_data_full(G_OBJECT(self->block), "soffit-evidence-photos", self, photos_free);
  g_signal_connect_swapped(desk, "selected", G_CALLBACK(photos_show), self);
  g_signal_connect_swapped(desk, "evidence", G_CALLBACK(photos_show), self);
  photos_show(self);
  return self->block;
}
