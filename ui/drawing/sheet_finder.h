/* sheet_finder.h - in which triangle of a flat sheet a place lies.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  One thread at a time: it remembers the last triangle, for the next place is near. */
#pragma once
#include "mechanics/field.h"

typedef struct SheetFinder SheetFinder;
/* The sheet must outlive it.  FAULT_DEGENERATE without triangles or area, FAULT_NOT_FINITE,
 * FAULT_MEMORY. */
MUST_CHECK Fault sheet_finder_new(const FieldSheet *sheet, SheetFinder **finder);
void sheet_finder_free(SheetFinder *finder); /* accepts NULL */
/* False outside the mesh.
 *   corner  out  the three vertices of the triangle, borrowed
 *   weight  out  of each, their sum is 1 */
bool sheet_finder_at(SheetFinder *finder, Point p, const uint32_t **corner, double weight[3]);
