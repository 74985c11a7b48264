/* phrase.c - templates into sentences.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/phrase.h"
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

typedef struct {
  char *buf;
  size_t room, length; /* length may pass room */
} Writer;

static void put(Writer *w, const char *text, size_t n)
{
  for (size_t i = 0; i < n; i++, w->length++)
    if (w->length + 1 < w->room)
      w->buf[w->length] = text[i];
}

/* Ends the text; a character cut in its middle is dropped whole. */
static void finish(Writer *w)
{
  if (w->room == 0)
    return;
  size_t end = w->length < w->room ? w->length : w->room - 1;
  if (w->length >= w->room) {
    size_t start = end;
    while (start > 0 && ((unsigned char)w->buf[start - 1] & 0xC0) == 0x80)
      start--;
    if (start > 0 && (unsigned char)w->buf[start - 1] >= 0xC0) {
      unsigned char lead = (unsigned char)w->buf[start - 1];
      size_t need = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
      if (end - (start - 1) < need)
        end = start - 1;
    }
  }
  w->buf[end] = '\0';
}

static void put_number(Writer *w, double value, int decimals, int sign, const char *decimal)
{
  if (!isfinite(value)) {
    const char *dash = isnan(value) ? "–" : value > 0 ? "∞" : "−∞";
    put(w, dash, strlen(dash));
    return;
  }
  decimals = decimals < 0 ? 0 : decimals > 9 ? 9 : decimals;
  /* digits by integer arithmetic where they fit: no locale can interfere */
  double scale = pow(10, decimals), rounded = nearbyint(fabs(value) * scale);
  if (rounded >= 9e15) {
    decimals = 0;
    rounded = fmin(nearbyint(fabs(value)), 9e18);
    scale = 1;
  }
  unsigned long long whole = (unsigned long long)rounded, unit = (unsigned long long)scale;
  if (value < 0 && whole > 0)
    put(w, "−", strlen("−"));
  else if (sign)
    put(w, "+", 1);
  char digits[32];
  int n = snprintf(digits, sizeof digits, "%llu", whole / unit);
  put(w, digits, (size_t)n);
  if (decimals > 0) {
    put(w, decimal, strlen(decimal));
    n = snprintf(digits, sizeof digits, "%0*llu", decimals, whole % unit);
    put(w, digits, (size_t)n);
  }
}

size_t phrase_number(double value, int decimals, const char *decimal, char *buf, size_t room)
{
  Writer w = {buf, room, 0};
  put_number(&w, value, decimals, 0, decimal ? decimal : ".");
  finish(&w);
  return w.length;
}

/* One level of words in words: a {word} may hold numbers and places, not another {word}. */
static void put_template(Writer *w, const Phrase *phrase, const char *text, bool inner,
                         PhraseTranslate translate, const char *decimal)
{
  const char *p = translate && *text ? translate(text) : text;
  while (*p) {
    const char *end = *p == '{' ? strchr(p, '}') : NULL;
    if (!end) {
      put(w, p++, 1);
      continue;
    }
    size_t n = (size_t)(end - p) - 1;
    if (n == 5 && memcmp(p + 1, "place", 5) == 0) {
      put(w, phrase->place, strlen(phrase->place));
    } else if (n == 4 && memcmp(p + 1, "name", 4) == 0) {
      put(w, phrase->name, strlen(phrase->name));
    } else if (n == 4 && memcmp(p + 1, "word", 4) == 0 && !inner) {
      if (phrase->word)
        put_template(w, phrase, phrase->word, true, translate, decimal);
    } else if (n >= 1 && p[1] >= '0' && p[1] <= '3') {
      const char *q = p + 2;
      int decimals = 0, sign = 0;
      if (q < end && *q == '.' && q + 1 < end && q[1] >= '0' && q[1] <= '9') {
        decimals = q[1] - '0';
        q += 2;
      }
      if (q < end && *q == '+')
        sign = 1;
      put_number(w, phrase->value[p[1] - '0'], decimals, sign, decimal);
    } else {
      put(w, p, n + 2); /* not a placeholder: shown as written */
    }
    p = end + 1;
  }
}

size_t phrase_format(const Phrase *phrase, PhraseTranslate translate, const char *decimal,
                     char *buf, size_t room)
{
  Writer w = {buf, room, 0};
  put_template(&w, phrase, phrase->text ? phrase->text : "", false, translate,
               decimal ? decimal : ".");
  finish(&w);
  return w.length;
}
