/* seen_store.c - see seen_store.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A file: a line of text for each of two looks, "soffit-seen 1 FIRST LAST LENGTH SHA256", the newer
 * first, then their bytes.  A look is a case as XML; its digest says whether two are the same. */
#include "lab/seen_store.h"
#include "casefile/case_xml.h"
#include "casefile/photo.h"
#include "casefile/save.h"
#include "casefile/variant.h"
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>

#define HEAD_ROOM 200
#define ENDING ".seen"

typedef struct {
  gint64 first_us, last_us; /* looked at in this state: first, last */
  char digest[DIGEST_ROOM];
  char *text; /* owned; NULL: no look */
  gsize length;
} Look;

typedef struct {
  Look newer, older;
} Looks;

static void looks_clear(Looks *looks)
{
  g_free(looks->newer.text);
  g_free(looks->older.text);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Looks, looks_clear)

char *seen_folder(const char *state_dir, const char *lab, const char *person)
{
  g_autofree char *whole = g_canonicalize_filename(lab, NULL),
                  *both = g_strconcat(whole, "\n", person, NULL),
                  *digest = g_compute_checksum_for_string(G_CHECKSUM_SHA256, both, -1);
  return state_dir ? g_build_filename(state_dir, digest, NULL)
                   : g_build_filename(g_get_user_state_dir(), "soffit", "seen", digest, NULL);
}

static char *file_of(const char *folder, const char *file)
{
  g_autofree char *digest = g_compute_checksum_for_string(G_CHECKSUM_SHA256, file, -1),
                  *name = g_strconcat(digest, ENDING, NULL);
  return g_build_filename(folder, name, NULL);
}

/* ---- what is kept of a case ---- */

static void connector_slim(Connector *k)
{
  g_ptr_array_set_size(k->variant, 0);
  photo_take_out(&k->photo);
  for (int side = 0; side < SIDE_N; side++)
    outline_clear(&k->approved[side]);
  outline_clear(&k->approved_section);
  k->approved_roundness_neck = k->approved_roundness_body = NAN;
}

static bool look_make(const Case *now, Look *look)
{
  Case slim;
  case_init(&slim);
  if (case_copy(&slim, now))
    return false;
  for (size_t i = 0; i + 1 < slim.n_unit; i++)
    connector_slim(&slim.connector[i]);
  g_ptr_array_set_size(slim.history, 0);
  GString *xml = case_to_xml(&slim);
  case_clear(&slim);
  look->length = xml->len;
  look->text = g_string_free(xml, FALSE);
  bytes_digest(look->text, look->length, look->digest);
  return look->length <= SEEN_CASE_MOST;
}

/* ---- files ---- */

/* Its line, and where the next begins; NULL: there is none. */
static const char *head_read(const char *at, const char *end, Look *look)
{
  const char *newline = memchr(at, '\n', (size_t)(end - at));
  char line[HEAD_ROOM];
  if (!newline || newline - at >= HEAD_ROOM)
    return NULL;
  memcpy(line, at, (size_t)(newline - at));
  line[newline - at] = '\0';
  return sscanf(line,
                "soffit-seen 1 %" G_GINT64_FORMAT " %" G_GINT64_FORMAT " %" G_GSIZE_FORMAT " %64s",
                &look->first_us, &look->last_us, &look->length, look->digest) == 4
             ? newline + 1
             : NULL;
}

static const char *text_read(const char *at, const char *end, Look *look)
{
  char digest[DIGEST_ROOM];
  if (!at || look->length > SEEN_CASE_MOST || look->length > (gsize)(end - at))
    return NULL;
  bytes_digest(at, look->length, digest);
  if (strcmp(digest, look->digest) != 0)
    return NULL;
  look->text = g_strndup(at, look->length);
  return at + look->length;
}

static Looks looks_read(const char *path)
{
  Looks looks = {0};
  g_autofree char *data = NULL;
  gsize length;
  if (!g_file_get_contents(path, &data, &length, NULL))
    return looks;
  const char *end = data + length, *at = head_read(data, end, &looks.newer),
             *second = at ? head_read(at, end, &looks.older) : NULL;
  at = text_read(second ? second : at, end, &looks.newer);
  if (second)
    text_read(at, end, &looks.older);
  return looks;
}

static void look_head(GString *out, const Look *look)
{
  g_string_append_printf(
      out, "soffit-seen 1 %" G_GINT64_FORMAT " %" G_GINT64_FORMAT " %" G_GSIZE_FORMAT " %s\n",
      look->first_us, look->last_us, look->length, look->digest);
}

static void looks_write(const char *path, const Looks *looks)
{
  g_autoptr(GString) out = g_string_new(NULL);
  look_head(out, &looks->newer);
  if (looks->older.text)
    look_head(out, &looks->older);
  g_string_append_len(out, looks->newer.text, (gssize)looks->newer.length);
  if (looks->older.text)
    g_string_append_len(out, looks->older.text, (gssize)looks->older.length);
  file_save(path, out->str, out->len, NULL); /* what is lost is a look */
}

/* ---- bounds ---- */

typedef struct {
  char *path; /* owned */
  gint64 changed;
  goffset size;
} Kept;

static void kept_clear(void *data)
{
  g_free(((Kept *)data)->path);
}

static int longest_ago(const void *a, const void *b)
{
  gint64 x = ((const Kept *)a)->changed, y = ((const Kept *)b)->changed;
  return (x > y) - (x < y);
}

static void folder_bound(const char *folder)
{
  g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
  g_autoptr(GArray) all = g_array_new(FALSE, FALSE, sizeof(Kept));
  g_array_set_clear_func(all, kept_clear);
  goffset bytes = 0;
  for (const char *name; dir && (name = g_dir_read_name(dir));) {
    Kept kept = {.path = g_build_filename(folder, name, NULL)};
    GStatBuf on_disk;
    if (g_stat(kept.path, &on_disk) == 0) {
      kept.changed = on_disk.st_mtime;
      kept.size = on_disk.st_size;
    }
    bytes += kept.size;
    g_array_append_val(all, kept);
  }
  guint left = all->len;
  if (left <= SEEN_FILES_MOST && bytes <= SEEN_BYTES_MOST)
    return;
  g_array_sort(all, longest_ago);
  for (guint i = 0; i < all->len && (left > SEEN_FILES_MOST * 9 / 10 ||
                                     bytes > SEEN_BYTES_MOST * 9 / 10); /* not again at once */
       i++, left--) {
    const Kept *kept = &g_array_index(all, Kept, i);
    bytes -= kept->size;
    g_remove(kept->path);
  }
}

/* ---- looks ---- */

SeenState seen_look_back(const char *folder, const char *file, const Case *now, gint64 now_us,
                         Case *before, gint64 *looked_us)
{
  g_autofree char *path = file_of(folder, file);
  g_auto(Looks) looks = looks_read(path);
  g_auto(Looks) today = {0};
  if (!looks.newer.text || !look_make(now, &today.newer))
    return SEEN_NEVER;
  bool same = strcmp(today.newer.digest, looks.newer.digest) == 0;
  bool sitting = ABS(now_us - looks.newer.first_us) < SEEN_SITTING_US;
  const Look *from = !same ? &looks.newer : sitting && looks.older.text ? &looks.older : NULL;
  if (!from) {
    *looked_us = looks.newer.last_us;
    return SEEN_SAME;
  }
  if (!case_load_memory(before, from->text, from->length, file, NULL))
    return SEEN_NEVER;
  *looked_us = from->last_us;
  return SEEN_OTHER;
}

void seen_keep(const char *folder, const char *file, const Case *now, gint64 now_us)
{
  g_autofree char *path = file_of(folder, file);
  g_auto(Looks) looks = looks_read(path);
  Look today = {.first_us = now_us, .last_us = now_us};
  if (!look_make(now, &today)) {
    g_free(today.text);
    return;
  }
  bool fresh = !looks.newer.text;
  if (!fresh && strcmp(today.digest, looks.newer.digest) == 0) {
    g_free(today.text);
    looks.newer.last_us = now_us;
  } else {
    if (!fresh) {
      g_free(looks.older.text);
      looks.older = looks.newer;
    }
    looks.newer = today;
  }
  g_mkdir_with_parents(folder, 0700);
  looks_write(path, &looks);
  if (fresh)
    folder_bound(folder);
}
