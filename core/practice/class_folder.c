/* class_folder.c - see class_folder.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/class_folder.h"
#include "casefile/folder_files.h"

#define MOST_TRAINEES 1000

static void row_free(gpointer data)
{
  ClassRow *row = data;
  g_free(row->file);
  progress_free(row->progress);
  g_free(row);
}

GPtrArray *class_read(const char *folder, const GPtrArray *set, GPtrArray *message, GError **error)
{
  g_autoptr(GPtrArray) names = folder_files(folder, PROGRESS_ENDING, MOST_TRAINEES, error);
  if (!names)
    return NULL;
  GPtrArray *rows = g_ptr_array_new_with_free_func(row_free);
  for (guint i = 0; i < names->len; i++) {
    g_autofree char *path = g_build_filename(folder, names->pdata[i], NULL), *mended = NULL;
    g_autoptr(GError) why = NULL;
    Progress *progress = progress_load(path, &mended, &why);
    if (message && (mended || !progress))
      g_ptr_array_add(message, progress ? g_steal_pointer(&mended) : g_strdup(why->message));
    if (!progress)
      continue;
    ClassRow *row = g_new0(ClassRow, 1);
    row->file = g_strdup(names->pdata[i]);
    row->progress = progress;
    row->passed = progress_count_passed(progress, set);
    skills_of(progress, row->skill);
    progress_calibration(progress, &row->place_mm, &row->gain_points);
    g_ptr_array_add(rows, row);
  }
  return rows;
}
