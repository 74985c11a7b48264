/* shipped.c - the data files built into the program.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The resource is asked for by its own function: a constructor of a static library may never be
 * linked. */
#include "casefile/shipped.h"
#include "casefile_resource.h"
#include <gio/gio.h>
#include <stdlib.h>
#include <string.h>

#define PREFIX "/soffit/data/"

GBytes *shipped_file(const char *name)
{
  char *path = g_strconcat(PREFIX, name, NULL);
  GBytes *bytes =
      g_resource_lookup_data(casefile_get_resource(), path, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  g_free(path);
  return bytes;
}

static int name_compare(const void *a, const void *b)
{
  return strcmp(*(char *const *)a, *(char *const *)b);
}

char **shipped_names(const char *folder)
{
  g_autofree char *path = g_strconcat(PREFIX, folder, NULL);
  char **name = g_resource_enumerate_children(casefile_get_resource(), path,
                                              G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  if (!name)
    return g_new0(char *, 1);
  qsort(name, g_strv_length(name), sizeof *name, name_compare);
  for (char **n = name; *n; n++) {
    char *full = g_strconcat(folder, "/", *n, NULL);
    g_free(*n);
    *n = full;
  }
  return name;
}

char **shipped_demos(void)
{
  return shipped_names("demo");
}
