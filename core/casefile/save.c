/* save.c - whole files or none.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Written beside the target, synced, renamed over it, folder synced: at every moment the old or the
 * new file is whole. On a failure the new file is taken away again. */
#include "casefile/save.h"
#include "base/phrase.h"
#include "casefile/case_xml.h"
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool save_fail(const char *path, int reason, GError **error)
{
  const char *act;
  switch (reason) {
  case ENOSPC:
  case EDQUOT:
    act = N_("The disk is full: make room, or save to another place");
    break;
  case EFBIG:
    act = N_("The file is larger than this place allows: save to another place");
    break;
  case EACCES:
  case EPERM:
  case EROFS:
    act = N_("You may not write here: save to another folder");
    break;
  case ENOENT:
  case ENOTDIR:
    act = N_("The folder is not there: choose another folder");
    break;
  case EISDIR:
    act = N_("This is a folder: add a file name");
    break;
  case EINVAL:
    act = N_("This is no regular file: choose another name");
    break;
  case ENAMETOOLONG:
    act = N_("The name is too long: choose a shorter one");
    break;
  default:
    act = N_("Save to another place and have the disk checked");
  }
  g_set_error(
      error, CASE_ERROR, CASE_ERROR_SAVE,
      g_dgettext("soffit",
                 N_("%s: the file was not saved (%s). %s. What was there before is unchanged.")),
      path, g_strerror(reason), g_dgettext("soffit", act));
  return false;
}

static int write_all(int file, const char *text, size_t length)
{
  while (length > 0) {
    ssize_t put = write(file, text, length);
    if (put < 0 && errno == EINTR)
      continue;
    if (put < 0)
      return errno;
    if (put == 0)
      return ENOSPC;
    text += put;
    length -= (size_t)put;
  }
  return 0;
}

/* Text, mode and sync into the open file; closes it.  Returns 0 or errno. */
static int fill(int file, const char *text, size_t length, const struct stat *old)
{
  int reason = write_all(file, text, length);
  if (!reason && old && fchmod(file, old->st_mode & 07777) != 0)
    reason = errno;
  if (!reason && fsync(file) != 0)
    reason = errno;
  if (close(file) != 0 && !reason)
    reason = errno;
  return reason;
}

/* Makes the new name last; a file system that cannot sync a folder is no failure: the file itself
 * is on disk. */
static void folder_sync(const char *folder)
{
  int file = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (file < 0)
    return;
  (void)fsync(file);
  close(file);
}

void bytes_digest(const char *data, size_t length, char sha256[DIGEST_ROOM])
{
  g_autofree char *hex =
      g_compute_checksum_for_data(G_CHECKSUM_SHA256, (const guchar *)data, length);
  g_strlcpy(sha256, hex, DIGEST_ROOM);
}

/* Whether the file is still the one that was seen; a file that cannot be read is not. */
static bool unchanged(const char *path, bool exists, const char *seen)
{
  char *text, now[DIGEST_ROOM];
  gsize length;
  if (!exists || !*seen)
    return !exists && !*seen && access(path, F_OK) != 0;
  if (!g_file_get_contents(path, &text, &length, NULL))
    return false;
  bytes_digest(text, length, now);
  g_free(text);
  return strcmp(now, seen) == 0;
}

static bool changed_fail(const char *path, GError **error)
{
  g_set_error(error, CASE_ERROR, CASE_ERROR_CHANGED,
              g_dgettext("soffit", N_("%s: the file has changed since it was opened. It was left "
                                      "as it is.")),
              path);
  return false;
}

/* seen NULL: over whatever is there. */
static bool save(const char *path, const char *text, size_t length, const char *seen,
                 GError **error)
{
  struct stat old;
  bool exists = stat(path, &old) == 0;
  if (!exists && errno != ENOENT)
    return save_fail(path, errno, error);
  if (exists && !S_ISREG(old.st_mode))
    return save_fail(path, S_ISDIR(old.st_mode) ? EISDIR : EINVAL, error);
  if (exists && access(path, W_OK) != 0)
    return save_fail(path, errno, error); /* a rename would go round the file's own protection */
  char *target = exists ? realpath(path, NULL) : strdup(path); /* a link stays a link */
  if (!target)
    return save_fail(path, errno, error);
  char *folder = g_path_get_dirname(target);
  char *beside = g_strconcat(folder, "/.soffit-XXXXXX", NULL);
  int file = g_mkstemp_full(beside, O_WRONLY | O_CLOEXEC, 0666);
  int reason = file < 0 ? errno : fill(file, text, length, exists ? &old : NULL);
  bool other = !reason && seen && !unchanged(target, exists, seen);
  if (!reason && !other && rename(beside, target) != 0)
    reason = errno;
  if ((reason || other) && file >= 0)
    unlink(beside);
  if (!reason && !other)
    folder_sync(folder);
  g_free(beside);
  g_free(folder);
  free(target);
  if (other)
    return changed_fail(path, error);
  return reason ? save_fail(path, reason, error) : true;
}

bool file_save(const char *path, const char *text, size_t length, GError **error)
{
  return save(path, text, length, NULL, error);
}

bool file_save_over(const char *path, const char *text, size_t length, const char *seen,
                    GError **error)
{
  return save(path, text, length, seen, error);
}
