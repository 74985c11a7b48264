/* photo_window.c - see photo_window.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/photo_window.h"
#include "ui/dialog_window.h"
#include "ui/parts.h"
#include "ui/photo/photo_look.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define LARGE_PX 1600
#define SHARE 0.9 /* of its parent */

/* ---- which photos ---- */

static void case_photo_clear(void *data)
{
  CasePhoto *one = data;
  photo_clear(&one->photo);
  g_free(one->about);
}

static void photos_add(GArray *photos, Photo photo, const char *about)
{
  CasePhoto one = {photo, g_strdup(about)};
  g_array_append_val(photos, one);
}

GArray *case_photos(const Case *c)
{
  GArray *photos = g_array_new(FALSE, FALSE, sizeof(CasePhoto));
  g_array_set_clear_func(photos, case_photo_clear);
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    char name[12];
    connector_name(c, i, '/', name);
    if (photo_there(&c->connector[i].photo))
      photos_add(photos, photo_copy(&c->connector[i].photo), name);
  }
  if (*c->origin.photo) {
    Photo broken;
    photo_init(&broken);
    g_free(broken.file);
    broken.file = g_strdup(c->origin.photo);
    photos_add(photos, broken, _("Break"));
  }
  return photos;
}

/* ---- fetching ---- */

typedef struct {
  Photo photo;
  char *case_path;
  int most_px;
  PhotoCame came;
  void *data;
} Fetch;

static void fetch_free(void *data)
{
  Fetch *fetch = data;
  photo_clear(&fetch->photo);
  g_free(fetch->case_path);
  g_free(fetch);
}

static void pixels_done(void *pixels)
{
  photo_pixels_unref(pixels);
}

static void fetch_run(GTask *task, void *source, void *data, GCancellable *stop)
{
  (void)source;
  const Fetch *fetch = data;
  GError *error = NULL;
  if (g_cancellable_set_error_if_cancelled(stop, &error)) {
    g_task_return_error(task, error);
    return;
  }
  PhotoPixels *pixels = photo_look(&fetch->photo, fetch->case_path, fetch->most_px, &error);
  if (!pixels) {
    g_task_return_error(task, error);
    return;
  }
  size_t row = 3 * (size_t)pixels->width;
  g_autoptr(GBytes) bytes =
      g_bytes_new_with_free_func(pixels->rgb, row * (size_t)pixels->height, pixels_done, pixels);
  g_task_return_pointer(
      task, gdk_memory_texture_new(pixels->width, pixels->height, GDK_MEMORY_R8G8B8, bytes, row),
      g_object_unref);
}

static void fetch_done(GObject *owner, GAsyncResult *result, void *data)
{
  (void)data;
  const Fetch *fetch = g_task_get_task_data(G_TASK(result));
  g_autoptr(GError) error = NULL;
  g_autoptr(GdkTexture) texture = g_task_propagate_pointer(G_TASK(result), &error);
  if (!g_error_matches(error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    fetch->came(owner, texture, error, fetch->data);
}

void photo_fetch(GObject *owner, const Photo *photo, const char *case_path, int most_px,
                 GCancellable *stop, PhotoCame came, void *data)
{
  Fetch *fetch = g_new0(Fetch, 1);
  fetch->photo = photo_copy(photo);
  fetch->case_path = g_strdup(case_path);
  fetch->most_px = most_px;
  fetch->came = came;
  fetch->data = data;
  g_autoptr(GTask) task = g_task_new(owner, stop, fetch_done, NULL);
  g_task_set_task_data(task, fetch, fetch_free);
  g_task_run_in_thread(task, fetch_run);
}

/* ---- the window ---- */

typedef struct {
  GtkWidget *window, *picture, *words, *caption;
  GArray *photos; /* owned */
  guint at;
  char *case_path;
  GCancellable *stop;
} Large;

static void large_free(void *data)
{
  Large *self = data;
  g_cancellable_cancel(self->stop);
  g_object_unref(self->stop);
  g_array_unref(self->photos);
  g_free(self->case_path);
  g_free(self);
}

static void large_came(GObject *owner, GdkTexture *texture, const GError *error, void *data)
{
  (void)owner;
  Large *self = data;
  gtk_picture_set_paintable(GTK_PICTURE(self->picture), GDK_PAINTABLE(texture));
  gtk_label_set_text(GTK_LABEL(self->words), error ? error->message : "");
  gtk_widget_set_visible(self->words, error != NULL);
  gtk_widget_set_visible(self->picture, error == NULL);
}

static void large_show(Large *self)
{
  const CasePhoto *one = &g_array_index(self->photos, CasePhoto, self->at);
  g_autofree char *of = g_strdup_printf(_("%u of %u"), self->at + 1, self->photos->len),
                  *name = g_strdup_printf(_("Photo of %s"), one->about),
                  *title =
                      self->photos->len > 1 ? g_strdup_printf("%s, %s", name, of) : g_strdup(name);
  gtk_window_set_title(GTK_WINDOW(self->window), title);
  spoken_name(self->picture, title);
  g_autofree char *what = one->photo.plane.straightened
                              ? g_strdup_printf(_("%s, straightened"), title)
                              : g_strdup(title),
                  *caption = g_strdup_printf(self->photos->len > 1
                                                 ? _("%s · Left, Right: the others · Escape: back")
                                                 : _("%s · Escape: back"),
                                             what);
  gtk_label_set_text(GTK_LABEL(self->caption), caption);
  gtk_label_set_text(GTK_LABEL(self->words), _("coming"));
  gtk_widget_set_visible(self->words, TRUE);
  g_cancellable_cancel(self->stop);
  g_object_unref(self->stop);
  self->stop = g_cancellable_new();
  photo_fetch(G_OBJECT(self->window), &one->photo, self->case_path, LARGE_PX, self->stop,
              large_came, self);
}

static gboolean large_key(GtkEventControllerKey *controller, guint key, guint code,
                          GdkModifierType state, Large *self)
{
  (void)controller, (void)code, (void)state;
  int by = key == GDK_KEY_Right ? 1 : key == GDK_KEY_Left ? -1 : 0;
  int to = (int)self->at + by;
  if (by == 0 || to < 0 || to >= (int)self->photos->len)
    return FALSE;
  self->at = (guint)to;
  large_show(self);
  return TRUE;
}

void photo_window_show(GtkWindow *parent, const GArray *photos, guint at, const char *case_path)
{
  Large *self = g_new0(Large, 1);
  GtkWidget *over = gtk_overlay_new(), *all = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  self->photos = g_array_copy((GArray *)photos);
  g_array_set_clear_func(self->photos, case_photo_clear);
  for (guint i = 0; i < self->photos->len; i++) {
    CasePhoto *one = &g_array_index(self->photos, CasePhoto, i);
    *one = (CasePhoto){photo_copy(&one->photo), g_strdup(one->about)};
  }
  self->at = at;
  self->case_path = g_strdup(case_path);
  self->stop = g_cancellable_new();
  self->window =
      dialog_window_new(parent, "", (int)(SHARE * gtk_widget_get_width(GTK_WIDGET(parent))),
                        (int)(SHARE * gtk_widget_get_height(GTK_WIDGET(parent))));
  self->picture = gtk_picture_new();
  self->words = gtk_label_new("");
  gtk_label_set_wrap(GTK_LABEL(self->words), TRUE);
  gtk_widget_set_focusable(self->picture, TRUE);
  gtk_widget_set_hexpand(self->picture, TRUE);
  gtk_widget_set_vexpand(self->picture, TRUE);
  gtk_overlay_set_child(GTK_OVERLAY(over), self->picture);
  gtk_overlay_add_overlay(GTK_OVERLAY(over), self->words);
  gtk_widget_add_css_class(over, "paper");
  GtkEventController *keys = gtk_event_controller_key_new();
  g_signal_connect(keys, "key-pressed", G_CALLBACK(large_key), self);
  gtk_widget_add_controller(self->window, keys);
  self->caption = gtk_label_new("");
  gtk_widget_add_css_class(self->caption, "photo-caption");
  gtk_box_append(GTK_BOX(all), over);
  gtk_box_append(GTK_BOX(all), self->caption);
  gtk_window_set_child(GTK_WINDOW(self->window), all);
  g_object_set_data_full(G_OBJECT(self->window), "soffit-photo-window", self, large_free);
  large_show(self);
  gtk_window_present(GTK_WINDOW(self->window));
  gtk_widget_grab_focus(self->picture);
}
