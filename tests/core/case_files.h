/* case_files.h - a folder of its own for a test program, and the shipped demo cases.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/case_xml.h"
#include "casefile/shipped.h"
#include <glib/gstdio.h>

static char *folder; /* set by folder_run() */

static inline char *in_folder(const char *name)
{
  return g_build_filename(folder, name, NULL);
}

/* g_test_run() with a folder, which must be empty again at the end. */
static inline int folder_run(void)
{
  folder = g_dir_make_tmp("soffit-XXXXXX", NULL);
  int status = g_test_run();
  if (status == 0)
    g_assert_cmpint(g_rmdir(folder), ==, 0);
  g_free(folder);
  return status;
}

/* A folder with all that lies in it. */
static inline void folder_drop(const char *path)
{
  g_autoptr(GDir) dir = g_dir_open(path, 0, NULL);
  for (const char *name; dir && (name = g_dir_read_name(dir));) {
    g_autofree char *one = g_build_filename(path, name, NULL);
    if (g_file_test(one, G_FILE_TEST_IS_DIR))
      folder_drop(one);
    else
      g_remove(one);
  }
  g_rmdir(path);
}

/* The text of a shipped file, to be freed. */
static inline char *shipped_text(const char *name)
{
  GBytes *bytes = shipped_file(name);
  g_assert_nonnull(bytes);
  char *text = g_strndup(g_bytes_get_data(bytes, NULL), g_bytes_get_size(bytes));
  g_bytes_unref(bytes);
  return text;
}

static inline void demo_load(Case *c, const char *name)
{
  g_autofree char *text = shipped_text(name);
  GError *error = NULL;
  case_init(c);
  case_load_memory(c, text, strlen(text), name, &error);
  g_assert_no_error(error);
}
