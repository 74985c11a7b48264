/* stl_file.h - a surface from a file on disk, with the message a person reads.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/case_xml.h"
#include "mesh/stl.h"

/* Reads a whole STL file.  Errors in domain CASE_ERROR name the file, in the text form its line,
 * what is wrong and what to do; none is set when the watch stopped it (report->wrong is empty then
 * as well).
 *   mesh    out  untouched on failure
 *   report  out  always filled */
bool stl_load(const char *path, StlUnit unit, const MeshWatch *watch, Mesh *mesh, StlReport *report,
              GError **error);
