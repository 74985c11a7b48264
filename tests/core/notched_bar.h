/* notched_bar.h - a strip with a notch, shared by the plane tests and the cross-check.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm. */
#pragma once
#include "outline/outline.h"
#include <glib.h>
#include <math.h>

/* A strip of depth D, 4 D long, with a notch of depth h, root radius r and flank angle (included,
 * degrees) in the lower edge, or in both. */
static inline void notched_bar(Outline *o, double h, double r, double D, double open_deg, bool both)
{
  double turn = (90 - open_deg / 2) * G_PI / 180, half = r * sin(turn), rise = r * (1 - cos(turn));
  double foot = half + (h - rise) * tan(open_deg / 2 * G_PI / 180);
  outline_init(o);
  g_assert_cmpint(outline_move_to(o, point(-2 * D, 0)), ==, FAULT_NONE);
  for (int side = 0; side < (both ? 2 : 1); side++) {
    double s = side ? -1 : 1, base = side ? D : 0;
    if (side) {
      g_assert_cmpint(outline_line_to(o, point(2 * D, 0)), ==, FAULT_NONE);
      g_assert_cmpint(outline_line_to(o, point(2 * D, D)), ==, FAULT_NONE);
    }
    g_assert_cmpint(outline_line_to(o, point(-s * foot, base)), ==, FAULT_NONE);
    if (h > rise + 1e-9)
      g_assert_cmpint(outline_line_to(o, point(-s * half, base + s * (h - rise))), ==, FAULT_NONE);
    g_assert_cmpint(outline_arc_to(o, point(0, base + s * (h - r)), -2 * turn), ==, FAULT_NONE);
    if (h > rise + 1e-9)
      g_assert_cmpint(outline_line_to(o, point(s * foot, base)), ==, FAULT_NONE);
  }
  if (!both) {
    g_assert_cmpint(outline_line_to(o, point(2 * D, 0)), ==, FAULT_NONE);
    g_assert_cmpint(outline_line_to(o, point(2 * D, D)), ==, FAULT_NONE);
  }
  g_assert_cmpint(outline_line_to(o, point(-2 * D, D)), ==, FAULT_NONE);
  g_assert_cmpint(outline_close(o), ==, FAULT_NONE);
}
