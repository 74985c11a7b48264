/* class_folder.c - see class_folder.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/class_folder.h"
#include "casefile/folder_files.h"

#define MOST_TRAINEES 1000

static void row_clear(gpointer data)
{
  ClassRow *row = data;
  g_free(row->file);
  progress_free(row->progress);
}

ClassRow *class_row_ref(ClassRow *row)
{
  return g_atomic_rc_box_acquire(row);
}

void class_row_unref(gpointer row)
{
  g_atomic_rc_box_release_full(row, row_clear);
}

static ClassRow *row_read(const char *folder, const char *file, const GPtrArray *set,
                          char **message)
{
  g_autofree char *path = g_build_filename(folder, file, NULL);
  g_autoptr(GError) why = NULL;
  Progress *progress = progress_load(path, message, &why);
  if (!progress) {
    *message = g_strdup(why->message);
    return NULL;
  }
  ClassRow *row = g_atomic_rc_box_new0(ClassRow);
  row->file = g_strdup(file);
  row->progress = progress;
  row->passed = progress_count_passed(progress, set);
  skills_of(progress, row->skill);
  progress_calibration(progress, &row->place_mm, &row->gain_points);
  return row;
}

bool class_walk(const char *folder, const GPtrArray *set, ClassTell tell, void *data,
                GError **error)
{
  g_autoptr(GPtrArray) names = folder_files(folder, PROGRESS_ENDING, MOST_TRAINEES, error);
  if (!names)
    return false;
  bool more = tell(NULL, NULL, 0, names->len, data);
  for (guint i = 0; i < names->len && more; i++) {
    char *message = NULL;
    ClassRow *row = row_read(folder, names->pdata[i], set, &message);
    more = tell(row, message, i + 1, names->len, data);
  }
  return true;
}

typedef struct {
  GPtrArray *row, *message; /* message NULL: not asked for */
} ClassLists;

static bool list_add(ClassRow *row, char *message, guint done, guint of, void *data)
{
  (void)done, (void)of;
  ClassLists *lists = data;
  if (row)
    g_ptr_array_add(lists->row, row);
  if (message && lists->message)
    g_ptr_array_add(lists->message, message);
  else
    g_free(message);
  return true;
}

GPtrArray *class_read(const char *folder, const GPtrArray *set, GPtrArray *message, GError **error)
{
  ClassLists lists = {g_ptr_array_new_with_free_func(class_row_unref), message};
  if (!class_walk(folder, set, list_add, &lists, error))
    g_clear_pointer(&lists.row, g_ptr_array_unref);
  return lists.row;
}
