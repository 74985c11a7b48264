/* folder_files.c - see folder_files.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/folder_files.h"
#include "base/phrase.h"
#include "casefile/case_xml.h"
#include <string.h>

static int name_compare(const void *a, const void *b)
{
  return strcmp(*(char *const *)a, *(char *const *)b);
}

GPtrArray *folder_files(const char *folder, const char *ending, guint most, GError **error)
{
  g_autoptr(GError) why = NULL;
  GDir *dir = g_dir_open(folder, 0, &why);
  if (!dir) {
    g_set_error(error, CASE_ERROR, CASE_ERROR_OPEN, "%s: %s. %s", folder, why->message,
                g_dgettext("soffit", N_("Choose another folder.")));
    return NULL;
  }
  GPtrArray *names = g_ptr_array_new_with_free_func(g_free);
  const char *name;
  while (names->len < most && (name = g_dir_read_name(dir)) != NULL)
    if (g_str_has_suffix(name, ending))
      g_ptr_array_add(names, g_strdup(name));
  g_dir_close(dir);
  g_ptr_array_sort(names, name_compare);
  return names;
}
