/* case_xml.c - opens and saves a case.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Order: bytes, well-formed tree, root and version, values (they have the best messages), schema.
 */
#include "casefile/case_parts.h"
#include "casefile/save.h"
#include <libxml/tree.h>
#include <string.h>

bool case_load_memory(Case *c, const char *text, size_t length, const char *name, GError **error)
{
  Reader r = {name, error, false};
  xmlDoc *doc = document_parse(&r, text, length);
  if (!doc)
    return false;
  Case read;
  case_init(&read);
  bool good = document_check_root(&r, doc, "case", CASE_NAMESPACE);
  if (good) {
    document_strip_foreign(doc, CASE_NAMESPACE);
    good = case_read_tree(&r, xmlDocGetRootElement(doc), &read) &&
           document_validate(&r, doc, "schema/case.rng");
  }
  document_free(doc);
  if (!good) {
    case_clear(&read);
    return false;
  }
  case_clear(c);
  *c = read;
  return true;
}

bool case_load_seen(Case *c, const char *path, char seen[65], GError **error)
{
  char *text;
  size_t length;
  if (!document_read_file(path, &text, &length, error))
    return false;
  bool good = case_load_memory(c, text, length, path, error);
  if (good)
    bytes_digest(text, length, seen);
  g_free(text);
  return good;
}

bool case_load(Case *c, const char *path, GError **error)
{
  char seen[DIGEST_ROOM];
  return case_load_seen(c, path, seen, error);
}

bool case_save_over(const Case *c, const char *path, const char *seen, char digest[65],
                    GError **error)
{
  GString *text = case_to_xml(c);
  g_string_truncate(text, text->len - strlen(CASE_END)); /* what is read by people comes first */
  write_pictures(text, c);
  g_string_append(text, CASE_END);
  bool good = seen ? file_save_over(path, text->str, text->len, seen, error)
                   : file_save(path, text->str, text->len, error);
  if (good && digest)
    bytes_digest(text->str, text->len, digest);
  g_string_free(text, TRUE);
  return good;
}

bool case_save(const Case *c, const char *path, GError **error)
{
  return case_save_over(c, path, NULL, NULL, error);
}
