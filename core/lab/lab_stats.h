/* lab_stats.h - figures of a lab over many cases: plain samples in, counts and bands out.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, mm^2, percent; bands hold 90 of 100 (score interval of Wilson, assess_break.h).  Nothing here
 * reads files, allocates in the samples' stead or knows a person's name unless it is asked to.
 * Sources: core/SOURCES.md "figures of the lab". */
#pragma once
#include "base/banded.h"
#include "base/phrase.h"
#include "verdict/verdict.h"
#include <glib.h>

/* What a return was about: the part that its reason names. */
typedef enum {
  CAUSE_ROOF,
  CAUSE_NECK,
  CAUSE_GROOVE,
  CAUSE_SIDES,
  CAUSE_FINISH,
  CAUSE_MARK,
  CAUSE_BRUSH,
  CAUSE_FIT,
  CAUSE_MATERIAL,
  CAUSE_LOAD,
  CAUSE_OTHER, /* none of these is named */
  CAUSE_N
} ReturnCause;
const char *return_cause_name(ReturnCause cause); /* English msgid, "roof" */
const char *return_cause_id(ReturnCause cause);   /* the same for files */
/* Set of 1u << ReturnCause, never empty.  The words are looked for in English and, when translate
 * is not NULL, in its language too. */
guint return_causes(const char *reason, PhraseTranslate translate);

/* One case.  NaN = not known. */
typedef struct {
  gint64 at_us;    /* when it was first sent, else its first dated entry; 0 = not known     */
  Verdict verdict; /* of the bridge, today                                                  */
  guint returns, cause[CAUSE_N];   /* a return may name several                               */
  double roof_radius_mm, area_mm2; /* of the weakest connector                              */
  double chance_percent;  /* of it, over its years of service                                */
  bool delivered, broken; /* broken: a fracture is recorded; it was delivered then          */
  char hand[24];          /* who drew it: initials, else the role                           */
} LabSample;

#define STATS_VERDICTS 4 /* Verdict */
#define STATS_MONTHS 24  /* the newest */
#define STATS_COLUMNS 24
#define STATS_AGAIN 4 /* returned never, once, twice, more often */
#define STATS_BINS 5
#define STATS_FEW 10 /* fewer than this tell nothing: own choice, as of bars */

typedef struct {
  int year, month; /* 1 .. 12, UTC */
  guint cases, verdict[STATS_VERDICTS];
} LabMonth;

/* Quantiles by straight lines between the ordered values. */
typedef struct {
  size_t n;                              /* 0: all else is NaN or nil */
  double least, low, median, high, most; /* low, high: a tenth lies below, above            */
  double first, step;                    /* columns of equal width                          */
  guint column[STATS_COLUMNS];
  size_t n_column;
} Spread;

typedef enum { CALIBRATION_FEW, CALIBRATION_AS, CALIBRATION_FEWER, CALIBRATION_MORE } Calibration;
/* "more broke than predicted" when the mean predicted chance lies below the band of those seen. */
const char *calibration_name(Calibration calibration); /* English msgid */
const char *calibration_id(Calibration calibration);

typedef struct {
  double from, to; /* percent, of the predicted chance            */
  size_t n, broken;
  double predicted; /* percent, mean; NaN without a case */
  Banded observed;  /* percent                           */
  Calibration says;
} CalibrationBin;

typedef struct {
  char hand[24];
  guint cases, verdict[STATS_VERDICTS], returns;
} HandRow;

typedef struct {
  size_t cases, undated, before; /* before: of months that are not shown                    */
  guint verdict[STATS_VERDICTS];
  LabMonth month[STATS_MONTHS]; /* without gaps                                             */
  size_t n_month;
  guint returns, cause[CAUSE_N];
  guint again[STATS_AGAIN];
  Spread radius, area;
  size_t delivered, broken;
  CalibrationBin bin[STATS_BINS], all; /* all: of every delivered case with a chance        */
  GArray *hand; /* HandRow, owned, by the hand's name; NULL unless asked for                */
} LabStats;

/*   by_technician  in  false: nothing is told of single hands */
void lab_stats_make(const LabSample sample[], size_t n, bool by_technician, LabStats *stats);
void lab_stats_clear(LabStats *stats);

/* value[0 .. n - 1] is sorted; q in 0 .. 1; NaN when n is 0. */
double sorted_quantile(const double value[], size_t n, double q);
