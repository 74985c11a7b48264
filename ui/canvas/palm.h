/* palm.h - the hand that rests on the screen while the pen draws is no finger.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Times are those of the events, ms, and may wrap. */
#pragma once
#include <stdbool.h>
#include <stdint.h>

#define PALM_AFTER_MS 500 /* touch counts again this long after the pen went away: ours */
#define PALM_LOST_MS                                                                               \
  5000 /* a pen that says nothing for this long is gone, whatever it last said                     \
        */

typedef struct {
  bool seen; /* a pen was here, at least once */
  bool near; /* and it is still over the drawing */
  uint32_t last_ms;
} PalmGuard;

/* The pen was heard of: over the drawing, or just gone. */
static inline void palm_pen(PalmGuard *guard, bool near, uint32_t time_ms)
{
  guard->seen = true;
  guard->near = near;
  guard->last_ms = time_ms;
}

/* A touch at this time is the palm. */
static inline bool palm_rests(const PalmGuard *guard, uint32_t time_ms)
{
  uint32_t ago = time_ms - guard->last_ms;
  return guard->seen && ago < (guard->near ? PALM_LOST_MS : PALM_AFTER_MS);
}
