/* lab_day.h - the decisions of one day in a lab folder, read from the histories of its cases.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "assess.h"
#include "record/decision.h"

/* One decision; owned texts, "" when unknown. */
typedef struct {
  char *number, *title;
  char *time, *name, *initials, *role, *reason; /* of the entry */
  EntryKind kind;                               /* pass, return or wait */
  int tooth_first, tooth_last;
  size_t n_unit;
  SignedState signature;
  bool since; /* the case is not what was decided on: verdict and margin are of today's */
  char weakest[12];
  Verdict verdict; /* by the thresholds that the decision was taken by */
  Banded margin;   /* of the weakest connector; NaN without an answer */
} DayDecision;

typedef struct {
  char *date;          /* owned: "2026-03-02" */
  char *folder;        /* owned: its name, without the way to it */
  GPtrArray *decision; /* DayDecision, owned, in order of their time */
  guint cases;         /* read */
  GPtrArray *trouble;  /* owned texts: files that could not be read, and why */
} LabDay;

/* A case is assessed only where a decision of the day is in it; a file that cannot be read is told
 * in `trouble` and stops nothing.
 *   date    in  "2026-03-02", a day of the calendar as this place counts its hours
 *   keys    in  NULL = the lab has none
 * NULL and an error for a folder or a date that cannot be read. */
LabDay *lab_day_read(const char *folder, const char *date, const PublicKeys *keys,
                     const AssessSettings *settings, GError **error);
void lab_day_free(LabDay *day); /* accepts NULL */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LabDay, lab_day_free)
