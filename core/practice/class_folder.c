/* class_folder.c - see class_folder.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/class_folder.h"
#include "casefile/folder_files.h"

#define MOST_TRAINEES 1000

void class_row_free(gpointer data)
{
  ClassRow *row = data;
  g_free(row->file);
  progress_free(row->progress);
  g_free(row);
}

GPtrArray *class_files(const char *folder, GError **error)
{
  return folder_files(folder, PROGRESS_ENDING, MOST_TRAINEES, error);
}

ClassRow *class_row_read(const char *folder, const char *file, const GPtrArray *set, char **message)
{
  g_autofree char *path = g_build_filename(folder, file, NULL);
  g_autoptr(GError) why = NULL;
  Progress *progress = progress_load(path, message, &why);
  if (!progress) {
    *message = g_strdup(why->message);
    return NULL;
  }
  ClassRow *row = g_new0(ClassRow, 1);
  row->file = g_strdup(file);
  row->progress = progress;
  row->passed = progress_count_passed(progress, set);
  skills_of(progress, row->skill);
  progress_calibration(progress, &row->place_mm, &row->gain_points);
  return row;
}

GPtrArray *class_read(const char *folder, const GPtrArray *set, GPtrArray *message, GError **error)
{
  g_autoptr(GPtrArray) names = class_files(folder, error);
  if (!names)
    return NULL;
  GPtrArray *rows = g_ptr_array_new_with_free_func(class_row_free);
  for (guint i = 0; i < names->len; i++) {
    char *told = NULL;
    ClassRow *row = class_row_read(folder, names->pdata[i], set, &told);
    if (row)
      g_ptr_array_add(rows, row);
    if (told && message)
      g_ptr_array_add(message, told);
    else
      g_free(told);
  }
  return rows;
}
