/* step_words.h - a state of the case in the list of steps, in words.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"

/* "612 MPa (580–644)", "–" when it was never solved; to be freed. */
char *step_peak_text(Banded peak_mpa);
/* What the peak did since the last state whose peak is known: "14 % less pull", "about the same";
 * "" where one of them is not known.  To be freed. */
char *step_change_text(Banded before, Banded now);
/* The whole row as a screen reader says it; to be freed. */
char *step_sentence(SoffitSession *session, size_t i, size_t connector);
/* The last known peak before state i; NaN: none. */
Banded step_peak_before(SoffitSession *session, size_t i, size_t connector);
