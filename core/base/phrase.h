/* phrase.h - a sentence that a person reads, kept apart from its numbers until it is shown.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Core never translates: it hands out a template (an English msgid) and its values.  The window,
 * the paper and the command line turn it into words, each with its own translator and decimal sign.
 * Placeholders: {0} {1} {2} {3} a value; {0.2} with two decimals (default 0); {0+} with its sign;
 * {place} the name of the place ("35/36"); {name} free text; {word} another template, translated,
 * whose own numbers are those of the phrase. */
#pragma once
#include <stddef.h>

#define N_(text) text /* marks a msgid for the translators; does nothing */

typedef struct {
  const char *text; /* template, static storage, English msgid; NULL = nothing to say   */
  double value[4];  /* in the unit that the template names                              */
  char place[12];   /* connector name such as "35/36", "" if none                       */
  const char *word; /* static msgid put in for {word}, or NULL; its placeholders are filled too */
  char name[64];    /* free text put in for {name}, never translated, "" if none        */
} Phrase;

typedef const char *(*PhraseTranslate)(const char *msgid);

/* Writes the sentence into buf (always ended by NUL, cut at a character border when too long).
 *   translate  in   may be NULL: English
 *   decimal    in   "." or ","; NULL means "."
 * Returns the length that the whole sentence needs, like snprintf. */
size_t phrase_format(const Phrase *phrase, PhraseTranslate translate, const char *decimal,
                     char *buf, size_t room);

/* Writes a number with fixed decimals and the given decimal sign, whatever the locale; "–" for NaN;
 * never "-0".  Returns the length. */
size_t phrase_number(double value, int decimals, const char *decimal, char *buf, size_t room);
