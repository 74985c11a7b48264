/* lab_row.h - one case of a lab, as a list shows it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, mm^2, MPa, percent; times are microseconds since 1970, UTC.  Plain data that holds nothing
 * of the case itself: ten thousand rows take a few megabytes. */
#pragma once
#include "assess.h"
#include "record/decision.h"

typedef enum {
  ROW_SEEN, /* its name is known, nothing else */
  ROW_READ, /* read, not assessed yet */
  ROW_READY,
  ROW_UNREADABLE
} RowState;

/* What is wrong with a row; several may be. */
typedef enum {
  TROUBLE_UNREADABLE = 1 << 0,
  TROUBLE_NEWER = 1 << 1,     /* made by a newer Soffit */
  TROUBLE_GROWING = 1 << 2,   /* cannot be read yet: it is still being copied */
  TROUBLE_DUPLICATE = 1 << 3, /* another file has the same case number */
  TROUBLE_CHAIN = 1 << 4,     /* the history does not hang together */
  TROUBLE_FUTURE = 1 << 5,    /* file or history is of a time that has not come yet */
  TROUBLE_AWAY = 1 << 6,      /* the folder cannot be reached */
  TROUBLE_FAULT = 1 << 7,     /* there was no memory to assess it */
  TROUBLE_OUTSIDE = 1 << 8    /* the case was changed without an entry in its history */
} RowTrouble;

/* Owned; texts are never NULL, "" when unknown. */
typedef struct {
  char *file; /* name in the folder, as the file system has it (g_filename_display_name) */
  gint64 changed_us, size; /* of the file that was read */
  gint64 read_us;          /* when it was read; 0 = not yet */
  RowState state;
  guint troubles;  /* set of RowTrouble */
  char *trouble;   /* the same in words, in the language of the user: what is wrong, what to do */
  char *unread;    /* why it cannot be read */
  int unread_code; /* the same as a CaseErrorCode; -1: it can */
  char *twin;      /* the other file with the same number */
  char *number, *title;
  char *material;          /* name of the card, English msgid or free text */
  char *author;            /* initials of the last hand, or its role */
  gint64 waiting_since_us; /* 0 = does not wait */
  gint64 last_us;          /* of the newest entry of the history; 0 = no time known */
  StandingState standing;
  SignedState signature;
  ChainState chain;
  size_t n_unit;
  int tooth_first, tooth_last;
  double order_n; /* the order's load */
  JobStep step;
  /* of the weakest connector */
  char weakest[12]; /* "34/35" */
  size_t weakest_index;
  Verdict verdict;      /* of the bridge */
  VerdictLimits limits; /* that it was judged by */
  Banded margin, chance_percent, carries_n;
  FinishState finish;
  double roof_radius_mm, area_mm2, peak_mpa;
  guint stops, looks, notes; /* rules that fired, of the bridge */
  Phrase headline;           /* first reason; .text NULL: none.  Its texts are interned */
  char reason[40];           /* the same for files: id of the rule or fault, "margin"; "" = none */
  char digest[65];
  bool broken; /* a fracture is recorded */
} LabRow;

LabRow *lab_row_new(const char *file); /* ROW_SEEN */
LabRow *lab_row_copy(const LabRow *row);
void lab_row_free(LabRow *row); /* accepts NULL */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LabRow, lab_row_free)

/* Worst first: unreadable, then rework, without a verdict, close, holds, then what is not assessed
 * yet; within them the smaller margin; then the one that waits longer; then the name. */
int lab_row_compare(const LabRow *a, const LabRow *b);

/* "{0} units, {name}": "4 units, 34-37". */
Phrase lab_row_span(const LabRow *row);

/* Makes row->trouble of row->troubles, unread and twin. */
void lab_row_tell(LabRow *row);
/* Marks every row whose number another one has, takes the mark from the others, and tells those
 * that changed.
 *   row      in  LabRow, sorted or not
 *   changed  in  called with the index of each that changed; may be NULL */
void lab_rows_mark_duplicates(const GPtrArray *row, void (*changed)(guint index, void *data),
                              void *data);

/* The owned texts of a row by their place, for copying and keeping. */
extern const size_t lab_row_text[];
extern const size_t lab_row_texts;
#define LAB_ROW_TEXT(row, i) (*(char **)((char *)(row) + lab_row_text[i]))

const char *row_state_id(RowState state); /* "ready": files */
