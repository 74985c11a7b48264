/* assess_best.h - the best outline of a connector in its room, decided in the solid.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Roofs of one family (outline/roof_family.h) are solved on the mesh of trials under
 * the load that governs the connector; the best ones are solved again on the mesh of an answer at
 * rest, beside today's, and that decides.  What is handed back keeps to its room: envelope, cutter,
 * brush, neck height.  The same question has the same answer, whatever the threads. */
#pragma once
#include "assess_room.h"

typedef struct {
  size_t connector;
  RoomBreach breach; /* outline.n == 0: what stands against every roof, or ROOM_KEPT: today's is as
                        good */
  Outline outline;   /* owned: the whole gum-side outline; n = 0: none better was found */
  NeckLoad load;     /* both peaks are at this load */
  double today_mpa, best_mpa;
  Banded fall_percent; /* how much lower the pull is */
  bool confirmed;      /* by the mesh of an answer at rest; false while the search runs */
  int solves, of;      /* bodies solved so far, and at most */
  double seconds;
} BestOutline;
void best_outline_init(BestOutline *best);
void best_outline_clear(BestOutline *best);

typedef struct {
  int threads;      /* 1 .. 16 */
  bool take_height; /* the roof may come down as far as the brush allows; else the neck keeps its
                       height */
  bool (*cancelled)(
      void *data); /* may be NULL; asked between layers of a solution, by any thread */
  void *cancel_data;
  /* The best so far; borrowed.  On any thread, one call at a time.  May be NULL. */
  void (*progress)(const BestOutline *so_far, void *data);
  void *progress_data;
} BestSettings;

/* Half of the pull below which a search ends; ours. */
#define BEST_LEAST_PERCENT 1.0
/* *best is replaced.  FAULT_CANCELLED, FAULT_MEMORY, or what keeps the connector from an answer
 * (FAULT_RANGE: no embrasure, no room). */
MUST_CHECK Fault assess_best(Assessor *assessor, const Case *c, size_t connector,
                             const BestSettings *settings, BestOutline *best);
