/* lab_row.h - one case of a lab, as a list shows it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "assess.h"
#include "record/decision.h"

typedef enum {
  ROW_SEEN, /* its name is known, nothing else */
  ROW_READ, /* read, not assessed yet */
  ROW_READY,
  ROW_UNREADABLE
} RowState;

/* Plain data, owned; texts "" when unknown. */
typedef struct {
  char *file; /* name in the folder */
  gint64 changed_us, size;
  RowState state;
  char *trouble; /* unreadable, duplicate number, broken chain ...: what is wrong, what to do */
  char *number, *title, *span; /* span: "three units 25-27" as a Phrase text is made by the view */
  char *material;
  char *author;            /* initials of the last hand, or its role */
  gint64 waiting_since_us; /* unix; 0 = does not wait */
  StandingState standing;
  SignedState signature;
  ChainState chain;
  size_t n_unit;
  int tooth_first, tooth_last;
  /* of the weakest connector */
  char weakest[12];
  size_t weakest_index;
  Verdict verdict; /* of the bridge */
  Banded margin, chance_percent, carries_n;
  FinishState finish;
  double roof_radius_mm, area_mm2, peak_mpa;
  guint stops, looks, notes;
  char *headline; /* first reason, English phrase text filled in (ids of Phrase: see lab_row.c) */
  char digest[65];
  bool broken; /* a fracture is recorded */
} LabRow;
LabRow *lab_row_new(const char *file);
LabRow *lab_row_copy(const LabRow *row);
void lab_row_free(LabRow *row);
/* Worst first: unreadable, then rework, close, holds; within them the smaller margin; then the one
 * that waits longer; then the name. */
int lab_row_compare(const LabRow *a, const LabRow *b);
