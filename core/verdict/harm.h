/* harm.h - steps of the finishing list that would harm the piece in the state it is in.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Wrong orders of the trade (core/SOURCES.md "wrong orders").  Private to core/verdict. */
#pragma once
#include "base/phrase.h"
#include "verdict/facts.h"

/* The warning to give before the step is ticked; .text NULL = none. */
Phrase harm_of(const char *step, const Facts *facts);
