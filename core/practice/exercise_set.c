/* exercise_set.c - see exercise_set.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/exercise_set.h"
#include "base/phrase.h"
#include "casefile/exercise_xml.h"
#include "casefile/folder_files.h"
#include "casefile/shipped.h"
#include <stdlib.h>
#include <string.h>

#define FOLDER "exercises"
#define MOST_FILES 1000

/* By their numbers, then by their letters. */
static int id_compare(const char *a, const char *b)
{
  while (*a && *b) {
    if (g_ascii_isdigit(*a) && g_ascii_isdigit(*b)) {
      char *end_a, *end_b;
      guint64 x = g_ascii_strtoull(a, &end_a, 10), y = g_ascii_strtoull(b, &end_b, 10);
      if (x != y)
        return x < y ? -1 : 1;
      a = end_a, b = end_b;
    } else if (*a != *b)
      return (unsigned char)*a < (unsigned char)*b ? -1 : 1;
    else
      a++, b++;
  }
  return (*a != '\0') - (*b != '\0');
}

/* Those of the folder behind the shipped ones. */
static int exercise_compare(const void *a, const void *b)
{
  const Exercise *const *x = a, *const *y = b;
  int own = (*(*x)->file != '\0') - (*(*y)->file != '\0');
  return own ? own : id_compare((*x)->id, (*y)->id);
}

const Exercise *exercise_find(const GPtrArray *set, const char *id)
{
  for (guint i = 0; i < set->len; i++) {
    const Exercise *e = set->pdata[i];
    if (strcmp(e->id, id) == 0)
      return e;
  }
  return NULL;
}

guint exercises_counted(const GPtrArray *set)
{
  guint n = 0;
  for (guint i = 0; i < set->len; i++)
    n += exercise_counts(set->pdata[i]) ? 1 : 0;
  return n;
}

static void tell(GPtrArray *message, const char *text)
{
  if (message)
    g_ptr_array_add(message, g_strdup(text));
}

static void add_shipped(GPtrArray *set)
{
  g_auto(GStrv) name = shipped_names(FOLDER);
  for (char **n = name; *n; n++) {
    GBytes *bytes = shipped_file(*n);
    gsize length;
    const char *text = g_bytes_get_data(bytes, &length);
    Exercise *e = exercise_load_memory(text, length, *n, true, NULL);
    if (e) /* a test reads each of them */
      g_ptr_array_add(set, e);
    g_bytes_unref(bytes);
  }
}

GPtrArray *exercises_all(const char *folder, GPtrArray *message)
{
  GPtrArray *set = g_ptr_array_new_with_free_func(exercise_free);
  add_shipped(set);
  g_autoptr(GPtrArray) names = folder ? folder_files(folder, ".xml", MOST_FILES, NULL) : NULL;
  for (guint i = 0; names && i < names->len; i++) {
    g_autofree char *path = g_build_filename(folder, names->pdata[i], NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(Exercise) e = exercise_load(path, &error);
    if (!e) {
      tell(message, error->message);
    } else if (exercise_find(set, e->id)) {
      g_autofree char *text = g_strdup_printf(
          g_dgettext("soffit",
                     N_("%s: there is an exercise \"%s\" already. Give this one another id.")),
          path, e->id);
      tell(message, text);
    } else
      g_ptr_array_add(set, g_steal_pointer(&e));
  }
  g_ptr_array_sort(set, exercise_compare);
  return set;
}
