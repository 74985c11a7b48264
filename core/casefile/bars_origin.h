/* bars_origin.h - where a bar of a table broke: further columns of that table.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm; x from the middle of the span, y up from the stretched edge.  Columns origin_x_mm,
 * origin_y_mm, origin_kind (as in cases), origin_photo (a path beside the table); for a bar that
 * was notched notch_x_mm, notch_depth_mm, notch_radius_mm, notch_open_deg. */
#pragma once
#include "casefile/bars_csv.h"
#include "casefile/case.h"
#include "strength/bar_break.h"

typedef struct {
  double x, y; /* NaN = not recorded */
  OriginKind kind;
  char photo[200];
  bool notched;
  double notch_x;
  NotchedBar notch; /* height and width are those of the bar */
} BarOrigin;
#define BAR_ORIGIN_NONE ((BarOrigin){.x = NAN, .y = NAN, .notch_x = NAN})

bool bar_origin_recorded(const BarOrigin *origin); /* a place, a kind or a photo */
/* The record of one row.  false and CASE_ERROR "FILE:LINE: ...": a cell of it cannot be; *origin is
 * then without a record. */
bool bar_origin_read(const BarsTable *table, guint row, const BarSetup *setup, BarOrigin *origin,
                     GError **error);
/* The text of the table with the record of the bar on this line; owned.  NULL: see bars_text.h, or
 * the record cannot be.
 *   line  inout  where the bar stands then: a table may have been made of lines without names */
char *bar_origin_write(const char *text, guint *line, const BarSetup *setup, double width,
                       double thickness, const BarOrigin *origin, GError **error);
