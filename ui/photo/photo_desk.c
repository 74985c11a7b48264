/* photo_desk.c - life of the desk; the picture: sought, opened, decoded and made straight in
 * threads. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/photo/photo_decode.h"
#include "ui/photo/photo_desk_private.h"
#include "ui/words.h"
#include <gio/gio.h>
#include <string.h>

#define REACH_MM 0.15
#define PX_MM_LEAST 16.0 /* steps of the raster: a factor of sqrt 2 */
#define PX_MM_MOST 256.0

G_DEFINE_FINAL_TYPE(SoffitPhotoDesk, photo_desk, G_TYPE_OBJECT)

enum { SIGNAL_CHANGED, SIGNAL_TROUBLE, SIGNAL_LAST };
static guint signals[SIGNAL_LAST];

void photo_desk_tell(SoffitPhotoDesk *self)
{
  g_signal_emit(self, signals[SIGNAL_CHANGED], 0);
}

void photo_desk_trouble(SoffitPhotoDesk *self, const char *words)
{
  g_signal_emit(self, signals[SIGNAL_TROUBLE], 0, words);
}

const Photo *photo_desk_photo(SoffitPhotoDesk *self)
{
  return &session_case(self->session)->connector[session_focus(self->session)].photo;
}

bool photo_desk_map(SoffitPhotoDesk *self, PlaneMap *px_to_mm, PlaneMap *mm_to_px)
{
  const Photo *photo = photo_desk_photo(self);
  return photo_there(photo) && !photo_map(&photo->plane, px_to_mm) &&
         !plane_map_invert(px_to_mm, mm_to_px);
}

/* ---- straightening ---- */

typedef struct {
  PhotoPixels *pixels;
  PlaneMap map;
  double px_mm;
  unsigned serial;
} Raster;

static void raster_free(void *data)
{
  Raster *raster = data;
  photo_pixels_unref(raster->pixels);
  g_free(raster);
}

static void raster_run(GTask *task, void *source, void *data, GCancellable *cancellable)
{
  (void)source, (void)cancellable;
  const Raster *raster = data;
  Underlay *underlay = NULL;
  if (underlay_new(raster->pixels, &raster->map, raster->px_mm, &underlay) != FAULT_NONE)
    underlay = NULL; /* nothing of it lies on the drawing */
  g_task_return_pointer(task, underlay, (GDestroyNotify)underlay_unref);
}

static void raster_came(GObject *source, GAsyncResult *result, void *data)
{
  (void)data;
  SoffitPhotoDesk *self = SOFFIT_PHOTO_DESK(source);
  const Raster *raster = g_task_get_task_data(G_TASK(result));
  Underlay *underlay = g_task_propagate_pointer(G_TASK(result), NULL);
  self->rastering = false;
  if (raster->serial == self->serial) {
    underlay_unref(self->underlay);
    self->underlay = underlay;
    self->shown_map = raster->map;
    self->shown_px_mm = raster->px_mm;
    photo_desk_tell(self);
  } else
    underlay_unref(underlay);
  if (self->stale)
    photo_desk_raster(self);
}

static double px_mm_wanted(double px_mm)
{
  double steps = ceil(2 * log2(fmax(px_mm, 1) / PX_MM_LEAST) - 0.01);
  return fmin(PX_MM_MOST, PX_MM_LEAST * exp2(fmax(steps, 0) / 2));
}

void photo_desk_raster(SoffitPhotoDesk *self)
{
  PlaneMap map, back;
  double px_mm = px_mm_wanted(self->px_mm);
  if (!self->pixels || !photo_desk_map(self, &map, &back))
    return;
  if (self->underlay && memcmp(&map, &self->shown_map, sizeof map) == 0 &&
      px_mm <= self->shown_px_mm && px_mm >= self->shown_px_mm)
    return;
  self->stale = self->rastering; /* one at a time: the newest follows */
  if (self->rastering)
    return;
  self->rastering = true;
  Raster *raster = g_new(Raster, 1);
  *raster = (Raster){photo_pixels_ref(self->pixels), map, px_mm, self->serial};
  g_autoptr(GTask) task = g_task_new(self, NULL, raster_came, NULL);
  g_task_set_task_data(task, raster, raster_free);
  g_task_run_in_thread(task, raster_run);
}

/* ---- found again, or opened ---- */

typedef struct {
  Photo photo;                           /* sought; its file is empty when a new one is opened */
  char *case_path, *store, *path, *name; /* path: of the new one */
  GBytes *bytes;                         /* of the new one, when it has no path; then: what came */
  PhotoFound found;
  PhotoPixels *pixels;
  unsigned serial;
} Load;

static void load_free(void *data)
{
  Load *load = data;
  photo_clear(&load->photo);
  g_free(load->case_path);
  g_free(load->store);
  g_free(load->path);
  g_free(load->name);
  g_clear_pointer(&load->bytes, g_bytes_unref);
  photo_pixels_unref(load->pixels);
  g_free(load);
}

static Load *load_new(SoffitPhotoDesk *self)
{
  Load *load = g_new0(Load, 1);
  photo_init(&load->photo);
  load->case_path = g_strdup(session_path(self->session));
  load->store = g_strdup(session_photo_store(self->session));
  load->serial = ++self->serial;
  return load;
}

static void seek_run(GTask *task, void *source, void *data, GCancellable *cancellable)
{
  (void)source, (void)cancellable;
  Load *load = data;
  GError *error = NULL;
  load->found = photo_find(&load->photo, load->case_path, load->store, &load->path, &load->bytes);
  if (load->found == PHOTO_FOUND) {
    gsize n;
    const void *bytes = g_bytes_get_data(load->bytes, &n);
    load->pixels = photo_decode(bytes, n, load->path, &error);
  }
  if (error)
    g_task_return_error(task, error);
  else
    g_task_return_boolean(task, load->found == PHOTO_FOUND);
}

static void lost(SoffitPhotoDesk *self, const char *why)
{
  self->state = PHOTO_LOST;
  g_free(self->why);
  self->why = g_strdup(why);
  photo_desk_trouble(self, why);
  photo_desk_tell(self);
}

static void pixels_take(SoffitPhotoDesk *self, PhotoPixels *pixels)
{
  photo_pixels_unref(self->pixels);
  self->pixels = photo_pixels_ref(pixels);
  self->state = PHOTO_SHOWN;
  g_clear_pointer(&self->underlay, underlay_unref);
  photo_desk_raster(self);
  photo_desk_tell(self);
}

static void seek_came(GObject *source, GAsyncResult *result, void *data)
{
  (void)data;
  SoffitPhotoDesk *self = SOFFIT_PHOTO_DESK(source);
  Load *load = g_task_get_task_data(G_TASK(result));
  g_autoptr(GError) error = NULL;
  bool found = g_task_propagate_boolean(G_TASK(result), &error);
  if (load->serial != self->serial)
    return;
  if (found) {
    pixels_take(self, load->pixels);
    return;
  }
  g_autofree char *why =
      error ? g_strdup(error->message)
      : load->found == PHOTO_CHANGED
          ? g_strdup_printf(_("%s: this is not the picture any more that was marked. Put the old "
                              "one back, or open the photo again and mark it. Line, scale and "
                              "numbers stay."),
                            load->path)
          : g_strdup_printf(_("%s: the photo is not there. Put it back, or open it again. Line, "
                              "scale and numbers stay."),
                            load->path);
  lost(self, why);
}

void photo_desk_look(SoffitPhotoDesk *self)
{
  const Photo *photo = photo_desk_photo(self);
  size_t connector = session_focus(self->session);
  bool there = session_has_case(self->session) && photo_there(photo);
  g_autofree char *sha = there ? g_strconcat(photo->sha256, " ", photo->file, NULL) : g_strdup("");
  bool other = connector != self->connector;
  if (other) {
    self->mode = PHOTO_REST;
    self->n_mark = 0;
    self->has_cross = false;
    self->connector = connector;
  }
  if (strcmp(sha, self->sha) != 0 || other) {
    g_free(self->sha);
    self->sha = g_steal_pointer(&sha);
    g_clear_pointer(&self->pixels, photo_pixels_unref);
    g_clear_pointer(&self->underlay, underlay_unref);
    g_clear_pointer(&self->why, g_free);
    self->why = g_strdup("");
    self->state = there ? PHOTO_COMING : PHOTO_NONE;
    self->serial++;
    if (there) {
      Load *load = load_new(self);
      photo_clear(&load->photo);
      load->photo = photo_copy(photo);
      g_autoptr(GTask) task = g_task_new(self, NULL, seek_came, NULL);
      g_task_set_task_data(task, load, load_free);
      g_task_run_in_thread(task, seek_run);
    } else
      self->mode = PHOTO_REST;
  } else
    photo_desk_raster(self);
  photo_desk_tell(self);
}

static void read_fail(Load *load, const char *why, GError **error)
{
  g_set_error(error, PHOTO_ERROR, PHOTO_ERROR_READ,
              _("%s: the photo cannot be read (%s). Look whether it is still there."), load->name,
              why);
}

static void open_run(GTask *task, void *source, void *data, GCancellable *cancellable)
{
  (void)source, (void)cancellable;
  Load *load = data;
  GError *error = NULL;
  if (!load->bytes) {
    g_autoptr(GFile) file = g_file_new_for_path(load->path);
    g_autoptr(GError) why = NULL;
    g_autoptr(GFileInfo) info = g_file_query_info(
        file, G_FILE_ATTRIBUTE_STANDARD_SIZE "," G_FILE_ATTRIBUTE_STANDARD_TYPE, 0, NULL, &why);
    if (info && g_file_info_get_file_type(info) != G_FILE_TYPE_REGULAR)
      read_fail(load, _("no regular file"), &error);
    else if (info && g_file_info_get_size(info) > (goffset)PHOTO_BYTES_MOST)
      read_fail(load, _("larger than 256 MB"), &error);
    else if (info)
      load->bytes = g_file_load_bytes(file, NULL, NULL, &why);
    if (!error && !load->bytes)
      read_fail(load, why ? why->message : "", &error);
  }
  if (!error) {
    gsize n;
    const void *bytes = g_bytes_get_data(load->bytes, &n);
    load->pixels = photo_decode(bytes, n, load->name, &error);
    if (load->pixels) {
      g_free(load->photo.sha256);
      load->photo.sha256 = photo_sha256(bytes, n);
    }
  }
  if (error)
    g_task_return_error(task, error);
  else
    g_task_return_boolean(task, TRUE);
}

void photo_desk_lay(const Case *c, size_t connector, double width, double height, PhotoPlane *plane)
{
  Neighbours around = case_neighbours(c, connector);
  double wide = around.length[0] + around.length[1],
         high = fmax(around.height[0], around.height[1]);
  photo_plane_init(plane, width, height, wide, point(0, high / 2));
}

static void open_came(GObject *source, GAsyncResult *result, void *data)
{
  (void)data;
  SoffitPhotoDesk *self = SOFFIT_PHOTO_DESK(source);
  Load *load = g_task_get_task_data(G_TASK(result));
  g_autoptr(GError) error = NULL;
  bool good = g_task_propagate_boolean(G_TASK(result), &error);
  if (load->serial != self->serial)
    return;
  size_t connector = session_focus(self->session);
  if (good) {
    g_free(load->photo.file);
    load->photo.file =
        photo_file_name(session_case(self->session), connector, load->photo.sha256, load->name);
    good = load->store ? photo_store(load->store, &load->photo, load->bytes, &error) : true;
  }
  Case *c = good ? session_edit_begin(self->session, N_("Open photo")) : NULL;
  if (!c) { /* what was there stays */
    self->state = self->pixels                          ? PHOTO_SHOWN
                  : photo_there(photo_desk_photo(self)) ? PHOTO_LOST
                                                        : PHOTO_NONE;
    if (error)
      photo_desk_trouble(self, error->message);
    photo_desk_tell(self);
    return;
  }
  Photo *photo = &c->connector[connector].photo;
  bool same = strcmp(photo->sha256, load->photo.sha256) == 0; /* found again: all marks stay */
  if (!same) {
    photo_desk_lay(c, connector, load->pixels->full_width, load->pixels->full_height,
                   &load->photo.plane);
    photo_clear(photo);
    *photo = photo_copy(&load->photo);
  }
  g_free(self->sha); /* the pixels are here already: nothing to be sought */
  self->sha = g_strconcat(photo->sha256, " ", photo->file, NULL);
  self->connector = connector;
  session_edit_end(self->session);
  pixels_take(self, load->pixels);
}

static void open_start(SoffitPhotoDesk *self, Load *load)
{
  self->state = PHOTO_COMING;
  self->mode = PHOTO_REST;
  self->active = true; /* however it came: the card leads on */
  g_autoptr(GTask) task = g_task_new(self, NULL, open_came, NULL);
  g_task_set_task_data(task, load, load_free);
  g_task_run_in_thread(task, open_run);
  photo_desk_tell(self);
}

void photo_desk_open(SoffitPhotoDesk *self, const char *path)
{
  if (!session_has_case(self->session))
    return;
  Load *load = load_new(self);
  load->path = g_strdup(path);
  load->name = g_path_get_basename(path);
  open_start(self, load);
}

void photo_desk_open_bytes(SoffitPhotoDesk *self, GBytes *bytes, const char *name)
{
  if (!session_has_case(self->session))
    return;
  Load *load = load_new(self);
  load->bytes = g_bytes_ref(bytes);
  load->name = g_strdup(name);
  open_start(self, load);
}

bool photo_name_known(const char *path)
{
  static const char *const ending[] = {".png", ".jpg", ".jpeg", ".jpe", ".tif", ".tiff"};
  const char *dot = path ? strrchr(path, '.') : NULL;
  for (size_t i = 0; dot && i < G_N_ELEMENTS(ending); i++)
    if (g_ascii_strcasecmp(dot, ending[i]) == 0)
      return true;
  return false;
}

/* ---- what is asked ---- */

PhotoState photo_desk_state(SoffitPhotoDesk *self)
{
  return self->state;
}

const char *photo_desk_why(SoffitPhotoDesk *self)
{
  return self->why;
}

const Underlay *photo_desk_underlay(SoffitPhotoDesk *self)
{
  return self->hidden || self->state != PHOTO_SHOWN ? NULL : self->underlay;
}

void photo_desk_set_scale(SoffitPhotoDesk *self, double px_mm)
{
  self->px_mm = px_mm;
  photo_desk_raster(self);
}

void photo_desk_set_hidden(SoffitPhotoDesk *self, bool hidden)
{
  self->hidden = hidden;
  photo_desk_tell(self);
}

bool photo_desk_hidden(SoffitPhotoDesk *self)
{
  return self->hidden;
}

void photo_desk_set_active(SoffitPhotoDesk *self, bool active)
{
  if (active == self->active)
    return;
  self->active = active;
  self->mode = PHOTO_REST;
  photo_desk_tell(self);
}

bool photo_desk_active(SoffitPhotoDesk *self)
{
  return self->active;
}

/* ---- life ---- */

static void photo_desk_dispose(GObject *object)
{
  SoffitPhotoDesk *self = SOFFIT_PHOTO_DESK(object);
  if (self->session)
    g_signal_handlers_disconnect_by_data(self->session, self);
  g_clear_object(&self->session);
  G_OBJECT_CLASS(photo_desk_parent_class)->dispose(object);
}

static void photo_desk_finalize(GObject *object)
{
  SoffitPhotoDesk *self = SOFFIT_PHOTO_DESK(object);
  photo_pixels_unref(self->pixels);
  underlay_unref(self->underlay);
  g_free(self->why);
  g_free(self->sha);
  G_OBJECT_CLASS(photo_desk_parent_class)->finalize(object);
}

static void photo_desk_class_init(SoffitPhotoDeskClass *class)
{
  G_OBJECT_CLASS(class)->dispose = photo_desk_dispose;
  G_OBJECT_CLASS(class)->finalize = photo_desk_finalize;
  signals[SIGNAL_CHANGED] = g_signal_new("changed", SOFFIT_TYPE_PHOTO_DESK, G_SIGNAL_RUN_LAST, 0,
                                         NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_TROUBLE] = g_signal_new("trouble", SOFFIT_TYPE_PHOTO_DESK, G_SIGNAL_RUN_LAST, 0,
                                         NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void photo_desk_init(SoffitPhotoDesk *self)
{
  self->why = g_strdup("");
  self->sha = g_strdup("");
  self->px_mm = 64;
  self->chosen = SIZE_MAX;
  self->reach_mm = REACH_MM;
}

SoffitPhotoDesk *photo_desk_new(SoffitSession *session)
{
  SoffitPhotoDesk *self = g_object_new(SOFFIT_TYPE_PHOTO_DESK, NULL);
  self->session = g_object_ref(session);
  static const char *const watch[] = {"case-opened", "case-changed", "focus-changed"};
  for (size_t i = 0; i < G_N_ELEMENTS(watch); i++)
    g_signal_connect_swapped(session, watch[i], G_CALLBACK(photo_desk_look), self);
  photo_desk_look(self);
  return self;
}
