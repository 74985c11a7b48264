/* lab_cache.c - see lab_cache.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Key of 64 hex digits, digest of all that follows, number of rows, then the rows: texts as length
 * and bytes, the rest of a row as it lies in memory.  The key says what would make that another
 * thing: program, build of the mechanics, layout of a row, thresholds, public keys. */
#include "lab/lab_cache.h"
#include "casefile/save.h"
#include "lab/mechanics_build.h"
#include <glib/gstdio.h>
#include <string.h>

#define FORMAT 1 /* of this file and of what the rows mean: one more with each change */
#define DIGEST_HEX 64
#define HEAD (2 * DIGEST_HEX)
#define TEXT_MOST (1024 * 1024)
/* File systems keep times in steps of up to two seconds. */
#define FRESH_US (2 * (gint64)G_USEC_PER_SEC)

char *lab_cache_path(const char *cache_dir, const char *folder)
{
  g_autofree char *whole = g_canonicalize_filename(folder, NULL);
  g_autofree char *digest = g_compute_checksum_for_string(G_CHECKSUM_SHA256, whole, -1);
  g_autofree char *name = g_strconcat("lab-", digest, NULL);
  return cache_dir ? g_build_filename(cache_dir, name, NULL)
                   : g_build_filename(g_get_user_cache_dir(), "soffit", name, NULL);
}

/* 64 hex digits, owned. */
static char *cache_key(const Lab *lab)
{
  g_autofree char *limits = verdict_limits_to_text(&lab_settings_now(lab->settings)->limits);
  g_autofree char *text =
      g_strdup_printf("%d %s %s %zu %zu %d %s %s", FORMAT, SOFFIT_VERSION, MECHANICS_BUILD,
                      sizeof(LabRow), lab_row_texts, G_BYTE_ORDER, limits, lab->keys_digest);
  return g_compute_checksum_for_string(G_CHECKSUM_SHA256, text, -1);
}

/* ---- writing ---- */

static void pack_text(GByteArray *out, const char *text)
{
  guint32 length = text ? (guint32)strlen(text) : 0;
  g_byte_array_append(out, (const guint8 *)&length, sizeof length);
  g_byte_array_append(out, (const guint8 *)text, length);
}

static void pack_row(GByteArray *out, const LabRow *row)
{
  LabRow plain = *row;
  for (size_t i = 0; i < lab_row_texts; i++)
    LAB_ROW_TEXT(&plain, i) = NULL; /* an address means nothing in a file */
  plain.headline.text = plain.headline.word = NULL;
  g_byte_array_append(out, (const guint8 *)&plain, sizeof plain);
  for (size_t i = 0; i < lab_row_texts; i++)
    pack_text(out, LAB_ROW_TEXT(row, i));
  pack_text(out, row->headline.text);
  pack_text(out, row->headline.word);
}

GBytes *lab_cache_pack(const GPtrArray *row, const Lab *lab)
{
  g_autofree char *key = cache_key(lab);
  GByteArray *out = g_byte_array_sized_new(row->len * 800);
  guint32 n = 0;
  g_byte_array_set_size(out, HEAD);
  g_byte_array_append(out, (const guint8 *)&n, sizeof n);
  for (guint i = 0; i < row->len; i++) {
    const LabRow *one = row->pdata[i];
    if (one->state != ROW_READY || one->changed_us > one->read_us - FRESH_US)
      continue;
    pack_row(out, one);
    n++;
  }
  memcpy(out->data + HEAD, &n, sizeof n);
  g_autofree char *digest =
      g_compute_checksum_for_data(G_CHECKSUM_SHA256, out->data + HEAD, out->len - HEAD);
  memcpy(out->data, key, DIGEST_HEX);
  memcpy(out->data + DIGEST_HEX, digest, DIGEST_HEX);
  return g_byte_array_free_to_bytes(out);
}

bool lab_cache_save(const char *path, GBytes *packed, GError **error)
{
  gsize length;
  const char *data = g_bytes_get_data(packed, &length);
  g_autofree char *folder = g_path_get_dirname(path);
  g_mkdir_with_parents(folder, 0700); /* what fails here fails in the next line, with its reason */
  return file_save(path, data, length, error);
}

/* ---- reading ---- */

typedef struct {
  const char *at;
  gsize left;
} Unpack;

static bool unpack(Unpack *from, void *to, gsize length)
{
  if (length > from->left)
    return false;
  memcpy(to, from->at, length);
  from->at += length;
  from->left -= length;
  return true;
}

static bool unpack_text(Unpack *from, char **text)
{
  guint32 length;
  if (!unpack(from, &length, sizeof length) || length > TEXT_MOST || length > from->left)
    return false;
  *text = g_strndup(from->at, length);
  from->at += length;
  from->left -= length;
  return true;
}

/* Msgids live as long as the program. */
static bool unpack_msgid(Unpack *from, const char **text)
{
  g_autofree char *read = NULL;
  if (!unpack_text(from, &read))
    return false;
  *text = *read ? g_intern_string(read) : NULL;
  return true;
}

static LabRow *unpack_row(Unpack *from)
{
  LabRow *row = g_new0(LabRow, 1);
  bool whole = unpack(from, row, sizeof *row);
  row->headline.text = row->headline.word = NULL;
  row->troubles &= ~(guint)(TROUBLE_AWAY | TROUBLE_DUPLICATE | TROUBLE_GROWING);
  for (size_t i = 0; i < lab_row_texts; i++)
    LAB_ROW_TEXT(row, i) = NULL; /* whatever the file says */
  for (size_t i = 0; i < lab_row_texts && whole; i++)
    whole = unpack_text(from, &LAB_ROW_TEXT(row, i));
  if (whole && unpack_msgid(from, &row->headline.text) && unpack_msgid(from, &row->headline.word)) {
    g_free(row->twin);
    row->twin = g_strdup("");
    lab_row_tell(row); /* in today's language */
    return row;
  }
  lab_row_free(row);
  return NULL;
}

static bool cache_good(const char *data, gsize length, const Lab *lab)
{
  if (length < HEAD + sizeof(guint32))
    return false;
  g_autofree char *key = cache_key(lab);
  if (memcmp(data, key, DIGEST_HEX) != 0)
    return false;
  g_autofree char *digest =
      g_compute_checksum_for_data(G_CHECKSUM_SHA256, (const guchar *)data + HEAD, length - HEAD);
  return memcmp(data + DIGEST_HEX, digest, DIGEST_HEX) == 0;
}

GHashTable *lab_cache_load(const char *path, const Lab *lab)
{
  GHashTable *rows =
      g_hash_table_new_full(g_str_hash, g_str_equal, NULL, (GDestroyNotify)lab_row_free);
  g_autofree char *data = NULL;
  gsize length;
  if (!g_file_get_contents(path, &data, &length, NULL) || !cache_good(data, length, lab))
    return rows;
  Unpack from = {data + HEAD, length - HEAD};
  guint32 n;
  LabRow *row;
  for (bool more = unpack(&from, &n, sizeof n); more && n > 0 && (row = unpack_row(&from)); n--)
    g_hash_table_insert(rows, row->file, row);
  return rows;
}

LabRow *lab_cache_take(GHashTable *kept, const LabFile *file)
{
  LabRow *row = g_hash_table_lookup(kept, file->name);
  if (!row || row->changed_us != file->changed_us || row->size != file->size)
    return NULL;
  g_hash_table_steal(kept, file->name);
  return row;
}
