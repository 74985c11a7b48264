/* bars_keep.c - see bars_keep.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/bars/bars_keep.h"
#include "casefile/save.h"

#define GROUP "bars"

void bars_input_keep(const BarsInput *in, const char *path)
{
  if (!path)
    return;
  g_autoptr(GKeyFile) file = g_key_file_new();
  g_key_file_set_integer(file, GROUP, "test", (int)in->test);
  g_key_file_set_double(file, GROUP, "span", in->span);
  g_key_file_set_double(file, GROUP, "width", in->width);
  g_key_file_set_double(file, GROUP, "thickness", in->thickness);
  g_key_file_set_double(file, GROUP, "piston", in->piston);
  for (int i = 0; i < BARS_SETS; i++) {
    g_autofree char *group = g_strdup_printf("set %d", i + 1);
    g_key_file_set_string(file, group, "name", in->set[i].name);
    g_key_file_set_string(file, group, "text", in->set[i].text);
    g_key_file_set_string(file, group, "finish", finish_id((FinishState)in->set[i].finish));
  }
  gsize length;
  g_autofree char *text = g_key_file_to_data(file, &length, NULL);
  g_autofree char *folder = g_path_get_dirname(path);
  g_autoptr(GError) error = NULL;
  if (g_mkdir_with_parents(folder, 0700) != 0 || !file_save(path, text, length, &error))
    g_debug("bars are not kept: %s", error ? error->message : folder);
}

static void take_number(GKeyFile *file, const char *key, double low, double high, double *value)
{
  double read = g_key_file_get_double(file, GROUP, key, NULL);
  if (read >= low && read <= high)
    *value = read;
}

void bars_input_restore(BarsInput *in, const char *path)
{
  g_autoptr(GKeyFile) file = g_key_file_new();
  if (!path || !g_key_file_load_from_file(file, path, G_KEY_FILE_NONE, NULL))
    return;
  if (g_key_file_has_key(file, GROUP, "test", NULL))
    in->test = (unsigned)CLAMP(g_key_file_get_integer(file, GROUP, "test", NULL), 0, BAR_DISC);
  take_number(file, "span", 4, 100, &in->span);
  take_number(file, "width", 0.5, 50, &in->width);
  take_number(file, "thickness", 0.2, 20, &in->thickness);
  take_number(file, "piston", 0.2, 5, &in->piston);
  for (int i = 0; i < BARS_SETS; i++) {
    g_autofree char *group = g_strdup_printf("set %d", i + 1),
                    *name = g_key_file_get_string(file, group, "name", NULL),
                    *text = g_key_file_get_string(file, group, "text", NULL),
                    *id = g_key_file_get_string(file, group, "finish", NULL);
    FinishState finish;
    if (name)
      g_free(in->set[i].name), in->set[i].name = g_steal_pointer(&name);
    if (text)
      g_free(in->set[i].text), in->set[i].text = g_steal_pointer(&text);
    if (id && finish_from_id(id, &finish))
      in->set[i].finish = finish;
  }
}
