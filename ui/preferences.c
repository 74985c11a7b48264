/* preferences.c - read at each question, written at each change: the file is tiny and rarely asked.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/preferences.h"
#include <glib.h>
#include <glib/gstdio.h>

#define GROUP "window"

static char *preferences_path(void)
{
  return g_build_filename(g_get_user_config_dir(), "soffit", "window.ini", NULL);
}

static GKeyFile *preferences_read(void)
{
  GKeyFile *file = g_key_file_new();
  g_autofree char *path = preferences_path();
  g_key_file_load_from_file(file, path, G_KEY_FILE_KEEP_COMMENTS, NULL);
  return file;
}

static void preferences_write(GKeyFile *file)
{
  g_autofree char *path = preferences_path();
  g_autofree char *folder = g_path_get_dirname(path);
  g_autoptr(GError) error = NULL;
  g_mkdir_with_parents(folder, 0700);
  if (!g_key_file_save_to_file(file, path, &error))
    g_message("%s", error->message);
}

bool preference_flag(const char *key, bool otherwise)
{
  g_autoptr(GKeyFile) file = preferences_read();
  g_autoptr(GError) error = NULL;
  bool on = g_key_file_get_boolean(file, GROUP, key, &error);
  return error ? otherwise : on;
}

void preference_flag_set(const char *key, bool on)
{
  g_autoptr(GKeyFile) file = preferences_read();
  g_key_file_set_boolean(file, GROUP, key, on);
  preferences_write(file);
}

char *preference_word(const char *key)
{
  g_autoptr(GKeyFile) file = preferences_read();
  return g_key_file_get_string(file, GROUP, key, NULL);
}

void preference_word_set(const char *key, const char *word)
{
  g_autoptr(GKeyFile) file = preferences_read();
  g_key_file_set_string(file, GROUP, key, word);
  preferences_write(file);
}
