/* public_keys.c - the lab's folder of public keys: one small text file each.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/phrase.h"
#include "record/signing_parts.h"
#include <errno.h>
#include <glib/gstdio.h>
#include <sodium.h>
#include <string.h>

#define FOLDER "keys"
#define GROUP "public key"
#define ENDING ".key"
#define FILE_MOST 65536 /* bytes; one of ours has 200 */

struct PublicKeys {
  GPtrArray *key; /* PublicKey, in the order of their files */
};

static void public_key_free(gpointer data)
{
  PublicKey *key = data;
  g_free(key->name);
  g_free(key->role);
  g_free(key->initials);
  g_free(key);
}

bool public_key_write(const PublicKey *key, const char *lab_folder, GError **error)
{
  g_autofree char *folder = g_build_filename(lab_folder, FOLDER, NULL);
  g_autofree char *name = g_strconcat(key->id, ENDING, NULL);
  g_autofree char *file = g_build_filename(folder, name, NULL);
  g_autofree char *half = g_base64_encode(key->key, sizeof key->key);
  if (g_mkdir(folder, 0777) != 0 && errno != EEXIST) {
    g_set_error(error, SIGNING_ERROR, SIGNING_ERROR_FILE, "%s: %s", folder, g_strerror(errno));
    return false;
  }
  g_autoptr(GKeyFile) text = g_key_file_new();
  g_key_file_set_string(text, GROUP, "name", key->name);
  g_key_file_set_string(text, GROUP, "role", key->role);
  g_key_file_set_string(text, GROUP, "initials", key->initials);
  g_key_file_set_string(text, GROUP, "ed25519", half);
  g_key_file_set_comment(text, NULL, NULL,
                         " Public half of a signing key of Soffit: decisions are checked by it.",
                         NULL);
  return g_key_file_save_to_file(text, file, error);
}

/* NULL and a static msgid in *why. */
static PublicKey *public_key_read(const char *file, const char **why)
{
  GStatBuf info;
  g_autofree char *text = NULL;
  gsize length = 0;
  *why = N_("cannot be read. Ask for the right to read it.");
  if (g_stat(file, &info) != 0 || info.st_size > FILE_MOST || !S_ISREG(info.st_mode) ||
      !g_file_get_contents(file, &text, &length, NULL))
    return NULL;
  *why = N_("is no public key. Have its owner publish it again.");
  g_autoptr(GKeyFile) fields = g_key_file_new();
  if (!g_key_file_load_from_data(fields, text, length, G_KEY_FILE_NONE, NULL))
    return NULL;
  g_autofree char *name = g_key_file_get_string(fields, GROUP, "name", NULL);
  g_autofree char *role = g_key_file_get_string(fields, GROUP, "role", NULL);
  g_autofree char *initials = g_key_file_get_string(fields, GROUP, "initials", NULL);
  g_autofree char *half = g_key_file_get_string(fields, GROUP, "ed25519", NULL);
  PublicKey key = {0};
  size_t n = 0;
  if (!name || !*name || !role || !half || sodium_init() < 0 ||
      sodium_base642bin(key.key, sizeof key.key, half, strlen(half), NULL, &n, NULL,
                        sodium_base64_VARIANT_ORIGINAL) != 0 ||
      n != sizeof key.key || !crypto_core_ed25519_is_valid_point(key.key))
    return NULL;
  public_key_id(key.key, key.id);
  PublicKey *found = g_new(PublicKey, 1);
  *found = key;
  found->name = g_steal_pointer(&name);
  found->role = g_steal_pointer(&role);
  found->initials = initials ? g_steal_pointer(&initials) : g_strdup("");
  return found;
}

static gint by_name(gconstpointer a, gconstpointer b)
{
  return strcmp(*(char *const *)a, *(char *const *)b);
}

static GPtrArray *files_of(const char *folder)
{
  GPtrArray *file = g_ptr_array_new_with_free_func(g_free);
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  for (const char *name; dir && (name = g_dir_read_name(dir));)
    if (g_str_has_suffix(name, ENDING) && name[0] != '.')
      g_ptr_array_add(file, g_build_filename(folder, name, NULL));
  g_ptr_array_sort(file, by_name);
  return file;
}

PublicKeys *public_keys_load(const char *lab_folder, GPtrArray **trouble)
{
  PublicKeys *keys = g_new(PublicKeys, 1);
  keys->key = g_ptr_array_new_with_free_func(public_key_free);
  g_autofree char *folder = g_build_filename(lab_folder, FOLDER, NULL);
  g_autoptr(GPtrArray) file = files_of(folder);
  g_autoptr(GPtrArray) bad = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; i < file->len; i++) {
    const char *why = NULL;
    PublicKey *key = public_key_read(file->pdata[i], &why);
    if (key && public_keys_find(keys, key->id)) {
      why = N_("holds a key that another file holds already. Delete one of them.");
      g_clear_pointer(&key, public_key_free);
    }
    if (key)
      g_ptr_array_add(keys->key, key);
    else
      g_ptr_array_add(bad,
                      g_strdup_printf("%s: %s", (char *)file->pdata[i], g_dgettext("soffit", why)));
  }
  if (trouble)
    *trouble = g_steal_pointer(&bad);
  return keys;
}

void public_keys_free(PublicKeys *keys)
{
  if (!keys)
    return;
  g_ptr_array_unref(keys->key);
  g_free(keys);
}

size_t public_keys_count(const PublicKeys *keys)
{
  return keys->key->len;
}

const PublicKey *public_keys_find(const PublicKeys *keys, const char *id)
{
  for (guint i = 0; i < keys->key->len; i++) {
    const PublicKey *key = keys->key->pdata[i];
    if (strcmp(key->id, id) == 0)
      return key;
  }
  return NULL;
}
