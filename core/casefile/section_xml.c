/* section_xml.c - a drawn neck section from a file: accepted, or refused with its line and place.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/case_parts.h"
#include "mechanics/drawn_section.h"

bool section_accept(Reader *r, long line, const Outline *section, double shift_z, int up)
{
  Point where;
  const char *reason;
  if (section_check(section, &where, &reason))
    return true;
  return reader_fail(r, CASE_ERROR_VALUE, line, "the section at %.2f, %.2f mm: %s",
                     where.x - shift_z, up * where.y, g_dgettext("soffit", reason));
}
