/* case_words.h - the words that stand for enumerations in a case file.  Private to core/casefile.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Words are stable: old files are read for ever.  Value 0 that means "not recorded" is never
 * written. */
#pragma once
#include <stdbool.h>

typedef enum {
  WORDS_ROLE,
  WORDS_SUPPORT,
  WORDS_SADDLE,
  WORDS_STEP,
  WORDS_YES_NO,
  WORDS_CHECK,
  WORDS_FIT,
  WORDS_EVENT,
  WORDS_SIDE,
  WORDS_FINISH,
  WORDS_POLISH,
  WORDS_ZONE, /* FinishZone + 1 */
  WORDS_BAR,
  WORDS_CONFIDENCE,
  WORDS_FIGURE,
  WORDS_CARD,
  WORDS_ORIGIN,
  WORDS_ENTRY,
  WORDS_EXERCISE,
  WORDS_SKILL,
  WORDS_MEASURE,
  WORDS_QUESTION,
  WORDS_FIND,
  WORDS_N
} WordList;

/* NULL when the list has no such value. */
const char *word_of(WordList list, int value);
bool word_find(WordList list, const char *word, int *value);
/* "no, yes" for messages; newly allocated. */
char *words_joined(WordList list);
