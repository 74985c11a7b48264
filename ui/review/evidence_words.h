/* evidence_words.h - the evidence of a case in words.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Owned by the caller, in the user's language. */
#pragma once
#include "ui/review/evidence.h"

/* "Passed by V. Sand on 3 Mar 2026, 10:20.", "Reopened: Roof radius 0.75 mm → 0.60 mm" */
char *evidence_words_standing(const Evidence *evidence);
/* Chain and signature: what holds, what does not; "" when nothing is chained or decided yet. */
char *evidence_words_record(const Evidence *evidence, bool *wrong);
/* "Changed since you looked at it, 3 Mar 2026, 10:20"; "" for SINCE_N. */
char *evidence_words_since(const Evidence *evidence, EvidenceSince since);
/* "Roof radius 35/36: 0.75 mm → 0.60 mm", a line each; "" without changes. */
char *evidence_words_changes(const Evidence *evidence, EvidenceSince since);
char *evidence_words_facts(const Evidence *evidence); /* material, order, brush, finish: lines */
char *evidence_words_list(const Evidence *evidence);  /* "List: 4 of 11 done, next: …" */
char *words_time(const char *iso); /* "3 Mar 2026, 10:20"; free words of old files stay */
