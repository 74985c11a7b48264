/* practice_own.c - the person's own exercises: their folder read anew, one taken away and back.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What was taken away is kept as it was until another one goes, or the program ends. */
#include "ui/practice/practice_private.h"
#include "ui/words.h"
#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>

struct PracticeDeleted {
  char *path, *text, *name; /* owned */
  gsize length;
};

void practice_deleted_free(PracticeDeleted *deleted)
{
  if (!deleted)
    return;
  g_free(deleted->path);
  g_free(deleted->text);
  g_free(deleted->name);
  g_free(deleted);
}

char *practice_desk_folder(SoffitPracticeDesk *self)
{
  return g_build_filename(self->data_dir, "exercises", NULL);
}

void practice_set_read(SoffitPracticeDesk *self)
{
  g_autofree char *own = practice_desk_folder(self);
  g_clear_pointer(&self->set, g_ptr_array_unref); /* the exercise at hand keeps its own */
  g_ptr_array_set_size(self->left_out, 0);
  self->set = exercises_all(own, self->left_out);
}

void practice_desk_reload(SoffitPracticeDesk *self, const char *id)
{
  g_autofree char *before = g_strdup(self->exercise ? self->exercise->id : "");
  practice_set_read(self);
  if (!practice_desk_open(self, id) && !practice_desk_open(self, before))
    practice_open_first(self);
}

bool practice_desk_delete(SoffitPracticeDesk *self, const char *id, GError **error)
{
  const Exercise *e = exercise_find(self->set, id);
  if (!e || !*e->file)
    return false;
  PracticeDeleted *deleted = g_new0(PracticeDeleted, 1);
  deleted->path = g_strdup(e->file);
  deleted->name = g_strdup_printf("%s  %s", e->id, e->title);
  bool here = strcmp(self->exercise->id, id) == 0,
       gone = g_file_get_contents(deleted->path, &deleted->text, &deleted->length, error);
  if (gone && g_remove(deleted->path) != 0) {
    int why = errno;
    g_set_error(error, G_FILE_ERROR, (int)g_file_error_from_errno(why),
                _("%s cannot be deleted: %s"), deleted->path, g_strerror(why));
    gone = false;
  }
  if (!gone) {
    practice_deleted_free(deleted);
    return false;
  }
  practice_deleted_free(self->deleted);
  self->deleted = deleted;
  practice_set_read(self);
  if (here)
    practice_open_first(self);
  practice_emit(self, PRACTICE_PROGRESS_CHANGED);
  return true;
}

const char *practice_desk_deleted(SoffitPracticeDesk *self)
{
  return self->deleted ? self->deleted->name : NULL;
}

bool practice_desk_undelete(SoffitPracticeDesk *self, GError **error)
{
  PracticeDeleted *deleted = self->deleted;
  if (!deleted)
    return false;
  if (g_file_test(deleted->path, G_FILE_TEST_EXISTS)) {
    g_set_error(error, G_FILE_ERROR, G_FILE_ERROR_EXIST,
                _("%s is there again: somebody wrote it anew. It was left alone."), deleted->path);
    return false;
  }
  if (!g_file_set_contents(deleted->path, deleted->text, (gssize)deleted->length, error))
    return false;
  g_clear_pointer(&self->deleted, practice_deleted_free);
  practice_set_read(self);
  practice_emit(self, PRACTICE_PROGRESS_CHANGED);
  return true;
}
