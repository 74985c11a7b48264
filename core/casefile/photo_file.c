/* photo_file.c - photos as files: their names, beside the case and in the store of unsaved work.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/phrase.h"
#include "casefile/case_xml.h"
#include "casefile/photo.h"
#include "casefile/save.h"
#include <errno.h>
#include <glib/gstdio.h>
#include <sys/stat.h>
#include <string.h>

#define FOLDER "photos"
#define SHA_SHOWN 12 /* hex digits in a name: no two photos of a lab share them */

bool photo_file_check(const char *file, const char **reason)
{
  if (!g_path_is_absolute(file) && !strstr(file, "..") && !strchr(file, '\\'))
    return true;
  *reason = N_("The photo leaves the folder of the case. Put it beside the case and write its "
               "name.");
  return false;
}

char *photo_sha256(const void *bytes, size_t n)
{
  return g_compute_checksum_for_data(G_CHECKSUM_SHA256, bytes, n);
}

char *photo_file_name(const Case *c, size_t connector, const char *sha, const char *name)
{
  char between[12], ending[8] = "";
  connector_name(c, connector, '-', between);
  const char *dot = name ? strrchr(name, '.') : NULL;
  for (size_t i = 0; dot && dot[i] && i + 1 < sizeof ending; i++)
    if (i == 0 || g_ascii_isalnum(dot[i]))
      ending[i] = g_ascii_tolower(dot[i]);
    else
      break;
  return g_strdup_printf(FOLDER "/%s-%.*s%s", between, SHA_SHOWN, sha, ending);
}

static char *beside(const char *case_path, const char *file)
{
  g_autofree char *folder = g_path_get_dirname(case_path);
  return g_build_filename(folder, file, NULL);
}

static char *stored(const char *store, const Photo *photo)
{
  g_autofree char *name = g_path_get_basename(photo->file);
  return g_build_filename(store, name, NULL);
}

static PhotoFound try_place(const char *path, const char *sha, GBytes **bytes)
{
  GStatBuf on_disk;
  char *text;
  size_t n;
  if (g_stat(path, &on_disk) != 0 || !S_ISREG(on_disk.st_mode))
    return PHOTO_MISSING;
  if ((size_t)on_disk.st_size > PHOTO_BYTES_MOST || !g_file_get_contents(path, &text, &n, NULL))
    return PHOTO_CHANGED;
  g_autofree char *is = photo_sha256(text, n);
  if (*sha && strcmp(is, sha) != 0) {
    g_free(text);
    return PHOTO_CHANGED;
  }
  *bytes = g_bytes_new_take(text, n);
  return PHOTO_FOUND;
}

PhotoFound photo_find(const Photo *photo, const char *case_path, const char *store, char **path,
                      GBytes **bytes)
{
  const char *reason;
  *path = NULL;
  *bytes = NULL;
  if (!photo_there(photo) || !photo_file_check(photo->file, &reason))
    return PHOTO_MISSING;
  if (photo->inside) {
    *path = g_strdup(photo->file);
    *bytes = g_bytes_ref(photo->inside);
    return PHOTO_FOUND;
  }
  PhotoFound found = PHOTO_MISSING;
  if (case_path) {
    *path = beside(case_path, photo->file);
    found = try_place(*path, photo->sha256, bytes);
  }
  if (found != PHOTO_FOUND && store) {
    g_autofree char *kept = stored(store, photo);
    if (try_place(kept, photo->sha256, bytes) == PHOTO_FOUND) {
      g_free(*path);
      *path = g_steal_pointer(&kept);
      return PHOTO_FOUND;
    }
  }
  if (!*path)
    *path = g_strdup(photo->file);
  return found;
}

static bool folder_make(const char *path, GError **error)
{
  g_autofree char *folder = g_path_get_dirname(path);
  if (g_mkdir_with_parents(folder, 0777) == 0)
    return true;
  g_set_error(error, CASE_ERROR, CASE_ERROR_SAVE,
              g_dgettext("soffit", N_("%s: the folder for the photo cannot be made (%s). Save to "
                                      "another folder.")),
              folder, g_strerror(errno));
  return false;
}

bool photo_store(const char *store, const Photo *photo, GBytes *bytes, GError **error)
{
  g_autofree char *path = stored(store, photo);
  size_t n;
  const char *text = g_bytes_get_data(bytes, &n);
  return folder_make(path, error) && file_save(path, text, n, error);
}

bool photos_save(const Case *c, const char *to, const char *from, const char *store, GError **error)
{
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    const Photo *photo = &c->connector[i].photo;
    g_autofree char *there = NULL, *path = NULL;
    g_autoptr(GBytes) bytes = NULL, same = NULL;
    if (!photo_there(photo) || photo->inside ||
        photo_find(photo, to, NULL, &there, &same) != PHOTO_MISSING ||
        photo_find(photo, from, store, &path, &bytes) != PHOTO_FOUND)
      continue;
    size_t n;
    const char *text = g_bytes_get_data(bytes, &n);
    if (!folder_make(there, error) || !file_save(there, text, n, error))
      return false;
  }
  return true;
}
