/* stl_file.c - a surface from a file on disk.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/stl_file.h"
#include "casefile/document_xml.h"

bool stl_load(const char *path, StlUnit unit, const MeshWatch *watch, Mesh *mesh, StlReport *report,
              GError **error)
{
  static const ReadLimit limit = {
      (int64_t)STL_LARGEST_BYTES,
      N_("the file is larger than 1 GiB. Save it as binary STL, or coarser."),
      N_("the file is empty. Export the surface again.")};
  Reader r = {path, error, false};
  char *bytes = NULL;
  size_t n = 0;
  *report = (StlReport){0};
  if (!document_read_whole(&r, path, &limit, &bytes, &n))
    return false;
  Fault fault = stl_read(bytes, n, unit, watch, mesh, report);
  g_free(bytes);
  if (fault == FAULT_NONE)
    return true;
  if (report->wrong.text) {
    Phrase said = report->wrong;
    said.text = g_dgettext("soffit", said.text);
    size_t room = phrase_format(&said, NULL, NULL, NULL, 0) + 1;
    g_autofree char *words = g_malloc(room);
    phrase_format(&said, NULL, NULL, words, room);
    reader_fail(&r, CASE_ERROR_VALUE, (long)report->line, "%s", words);
  } else if (fault != FAULT_CANCELLED) {
    reader_fail(&r, CASE_ERROR_VALUE, 0, "%s", fault_text(fault));
  }
  return false;
}
