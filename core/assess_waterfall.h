/* assess_waterfall.h - from the best connector for a room to the one that is drawn, step by step.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Margins are load factors at which 5 of 100 break (assess.h).  Each step changes one thing, the
 * connector is judged anew, and the factor is the margin after over the margin before: their
 * product is the whole, exactly.  Rules of the best connector: core/SOURCES.md "waterfall". */
#pragma once
#include "base/banded.h"
#include "base/phrase.h"
#include "strength/finish.h"
#include <stdbool.h>

typedef enum {
  FALL_HEIGHT,  /* before, after: neck height, mm                       */
  FALL_WIDTH,   /* neck width, mm                                       */
  FALL_RADIUS,  /* roof radius, mm: the best outline against the drawn  */
  FALL_SECTION, /* exponent of the neck section; sides and groove too   */
  FALL_FINISH,  /* high gloss all over against the state at the hot spot */
  FALL_LOAD,    /* usual bite against the order's, N                    */
  FALL_TIME,    /* one bite against so many years of service            */
  FALL_N
} FallKind;
const char *fall_id(FallKind kind);   /* "height": JSON           */
const char *fall_name(FallKind kind); /* bench word, English msgid */

typedef struct {
  FallKind kind;
  double before, after;
  FinishState finish; /* FALL_FINISH: after */
  double bites_a_day; /* FALL_TIME          */
  double margin;      /* after this step    */
  Banded factor;      /* margin over that of the step before; above 1: better than the best of its
                         rule, e.g. a neck that leaves the brush no room                        */
} FallStep;

typedef struct {
  bool known;  /* false: not asked for, or no answer */
  double best; /* margin of the best connector: usual bite, one overload, high gloss */
  FallStep step[FALL_N];
  FallKind most; /* the step of shape or surface that loses most */
} Waterfall;

/* "Height 3.25 instead of 4.10 mm" */
Phrase fall_phrase(const FallStep *step);
/* "Of the margin 2.31 of the best connector in this room 0.18 is left, most lost by the finish." */
Phrase waterfall_phrase(const Waterfall *waterfall);
