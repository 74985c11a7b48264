/* words.h - numbers and sentences of the core in the language and with the decimal sign of the
 * desktop. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Everything returned is UTF-8, owned by the caller unless it says otherwise. */
#pragma once
#include "base/banded.h"
#include "base/phrase.h"
#include "strength/material.h"
#include <glib.h>

#define SOFFIT_DOMAIN "soffit"
#define _(text) g_dgettext(SOFFIT_DOMAIN, text)
#define words_plural(one, many, n) g_dngettext(SOFFIT_DOMAIN, one, many, (gulong)(n))

/* Takes the language of the environment.  The catalogue lies, in this order: where
 * SOFFIT_LOCALE_DIR says, beside a program in its build folder, where it was installed.  Once, at
 * the start of a program. */
void words_start(void);

const char *words_decimal(void);                /* borrowed: "." or "," ...                      */
const char *words_translate(const char *msgid); /* borrowed; "" stays "" (a PhraseTranslate)     */
char *words_number(double value, int decimals); /* "–" for NaN                                   */
/* "0.60 mm → 0.20 mm"; what came to be alone where nothing was before, "0.60 mm → –" where nothing
 * is left. */
char *words_change(const char *before, const char *after);
/* "high gloss: × 1.57 (1.47–1.67) of milled only", and its source on a line of its own. */
char *words_own_factor(const OwnFactor *own);
char *words_range(Banded number, int decimals); /* "0.72–0.87"; "" when nothing is known         */
/* "0.23 (0.21–0.25)", "440 µm (400–480)"; unit NULL: none. */
char *words_banded(Banded number, int decimals, const char *unit);
/* A chance is never nought: "44 % (19–75)", "< 0.1 % (0.0–0.2)". */
char *words_chance(Banded percent);
char *words_phrase(const Phrase *phrase);
char *words_place(const char *place); /* of case_check: "34/35 gingival", "unit 2"; word by word */
