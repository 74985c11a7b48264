/* lab_list.c - see lab_list.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "lab/lab_list.h"
#include "base/clock.h"
#include "casefile/case_xml.h"
#include "lab/lab_settings.h"
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>

static void file_clear(void *file)
{
  g_free(((LabFile *)file)->name);
}

static int file_compare(const void *a, const void *b)
{
  return strcmp(((const LabFile *)a)->name, ((const LabFile *)b)->name);
}

void lab_list_free(LabList *list)
{
  if (!list)
    return;
  g_array_unref(list->file);
  g_free(list);
}

static gint64 changed_us(const struct stat *about)
{
  return (gint64)about->st_mtim.tv_sec * G_USEC_PER_SEC + about->st_mtim.tv_nsec / 1000;
}

/* A number that another time, size or file changes; 0 when it is not there. */
static gint64 stamp(int folder, const char *name)
{
  struct stat about;
  if (fstatat(folder, name, &about, 0) != 0)
    return 0;
  return changed_us(&about) ^ (gint64)(about.st_size << 20) ^ (gint64)about.st_ino;
}

/* 0 or errno.  A file that goes while we look is none of the folder any more. */
static int list_read(LabList *list, DIR *dir)
{
  struct dirent *entry;
  while (errno = 0, (entry = readdir(dir)) != NULL) {
    struct stat about;
    if (entry->d_name[0] == '.' || !g_str_has_suffix(entry->d_name, ".xml"))
      continue;
    if (list->file->len >= LAB_FILES_MOST) {
      list->more = true;
      break;
    }
    if (fstatat(dirfd(dir), entry->d_name, &about, 0) != 0) {
      if (errno != ENOENT && errno != ELOOP)
        return errno;
      continue;
    }
    if (S_ISDIR(about.st_mode))
      continue;
    LabFile file = {g_strdup(entry->d_name), changed_us(&about), about.st_size, about.st_ino};
    g_array_append_val(list->file, file);
  }
  return errno;
}

LabList *lab_list_new(const char *folder, GError **error)
{
  double start = seconds_now();
  struct stat about;
  int reason = 0;
  g_autoptr(LabList) list = g_new0(LabList, 1);
  list->file = g_array_new(FALSE, FALSE, sizeof(LabFile));
  g_array_set_clear_func(list->file, file_clear);
  DIR *dir = opendir(folder);
  if (!dir || fstat(dirfd(dir), &about) != 0)
    reason = errno;
  if (!reason) {
    list->device = about.st_dev;
    list->settings =
        stamp(dirfd(dir), LAB_SETTINGS_FILE) ^ (stamp(dirfd(dir), LAB_KEYS_FOLDER) << 1);
    reason = list_read(list, dir);
  }
  if (dir)
    closedir(dir);
  if (reason) {
    g_set_error(error, CASE_ERROR, CASE_ERROR_OPEN, "%s: %s. %s", folder, g_strerror(reason),
                g_dgettext("soffit", N_("Choose another folder.")));
    return NULL;
  }
  g_array_sort(list->file, file_compare);
  list->seconds = seconds_now() - start;
  return g_steal_pointer(&list);
}
