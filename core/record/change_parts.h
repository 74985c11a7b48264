/* change_parts.h - members of a case compared by tables, and said in words.  Private to
 * core/record. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "record/change.h"
#include <stddef.h>

/* How a member is said. */
typedef enum {
  SAID_MM,
  SAID_NEWTON,
  SAID_DEGREE,
  SAID_MPA,
  SAID_PERCENT,
  SAID_NUMBER,  /* a double without unit */
  SAID_STIFF,   /* N/mm */
  SAID_TURN,    /* N mm/rad */
  SAID_NUMBERS, /* kinds above: doubles */
  SAID_WHOLE,   /* int */
  SAID_TEXT,    /* char *    */
  SAID_CHARS,   /* char[]    */
  SAID_FINISH,  /* the rest: enumerations */
  SAID_ZONE,    /* FinishZone + 1 */
  SAID_YES_NO,
  SAID_CHECK,
  SAID_FIT,
  SAID_SADDLE,
  SAID_ROLE,
  SAID_SUPPORT,
  SAID_STEP,
  SAID_EVENT,
  SAID_ORIGIN,
  SAID_WATER,
  SAID_REMOVED,
  SAID_BAR,
  SAID_CONFIDENCE
} SaidAs;

typedef struct {
  const char *name; /* msgid */
  size_t at;        /* offset of the member */
  SaidAs as;
} ChangeRow;

/* Where a change belongs; what.text holds {word} for the name of the member. */
typedef struct {
  GArray *out;
  CasePart part;
  size_t connector;
  Phrase what;
} ChangePlace;

ChangePlace place_bridge(GArray *out, CasePart part);
ChangePlace place_connector(GArray *out, CasePart part, const Case *c, size_t connector);

/* One change; before, after: NULL = was not there. */
void change_add(const ChangePlace *place, const char *name, const Phrase *before,
                const Phrase *after);
/* All rows that differ; false when none does. */
bool rows_compare(const ChangePlace *place, const ChangeRow row[], size_t n, const void *before,
                  const void *after);
/* Free words, cut to what a phrase holds around the first place where they differ from `other`. */
Phrase words_cut(const char *text, const char *other);
const char *said_word(SaidAs as, int value); /* NULL: not recorded */

void connector_changes(GArray *out, const Case *before, size_t i, const Case *after, size_t j);
