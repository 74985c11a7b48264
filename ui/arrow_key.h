/* arrow_key.h - the way an arrow key points.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "base/vec.h"
#include <gdk/gdk.h>

/* False for other keys. */
static inline bool arrow_key(guint key, double step_mm, Point *by)
{
  switch (key) {
  case GDK_KEY_Left:
  case GDK_KEY_KP_Left:
    *by = point(-step_mm, 0);
    return true;
  case GDK_KEY_Right:
  case GDK_KEY_KP_Right:
    *by = point(step_mm, 0);
    return true;
  case GDK_KEY_Up:
  case GDK_KEY_KP_Up:
    *by = point(0, step_mm);
    return true;
  case GDK_KEY_Down:
  case GDK_KEY_KP_Down:
    *by = point(0, -step_mm);
    return true;
  default:
    return false;
  }
}
