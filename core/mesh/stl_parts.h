/* stl_parts.h - what the two forms of STL share: triangles as they come.  Private to core/mesh.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "mesh/stl.h"

typedef struct {
  float (*corner)[3]; /* owned, 3 n                        */
  uint32_t *number;   /* owned, n: place in the file, from 1 */
  size_t n, room;
} Soup;

MUST_CHECK Fault soup_room(Soup *soup, size_t n);
/* Keeps a triangle, or counts it as spoiled; FAULT_NOT_FINITE once there are too many, or
 * FAULT_RANGE beyond the most. */
MUST_CHECK Fault soup_add(Soup *soup, float corner[3][3], StlReport *report);
/* Fails with a sentence. */
Fault stl_fail(StlReport *report, Fault fault, const char *text, double value0, double value1);

MUST_CHECK Fault stl_text_read(const char *bytes, size_t n, const MeshWatch *watch, Soup *soup,
                               StlReport *report);
