/* words.c - see words.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/words.h"
#include <locale.h>
#include <math.h>

const char *words_decimal(void)
{
  const struct lconv *convention = localeconv();
  return convention && *convention->decimal_point ? convention->decimal_point : ".";
}

const char *words_translate(const char *msgid)
{
  return msgid && *msgid ? g_dgettext(SOFFIT_DOMAIN, msgid) : "";
}

char *words_number(double value, int decimals)
{
  char text[64];
  phrase_number(value, decimals, words_decimal(), text, sizeof text);
  return g_strdup(text);
}

char *words_range(Banded number, int decimals)
{
  if (!isfinite(number.value) || isnan(number.low) || isnan(number.high))
    return g_strdup("");
  g_autofree char *low = words_number(number.low, decimals);
  g_autofree char *high = words_number(number.high, decimals);
  return g_strdup_printf("%s–%s", low, high);
}

char *words_phrase(const Phrase *phrase)
{
  if (phrase->text == NULL)
    return g_strdup("");
  size_t room = phrase_format(phrase, words_translate, words_decimal(), NULL, 0) + 1;
  char *text = g_malloc(room);
  phrase_format(phrase, words_translate, words_decimal(), text, room);
  return text;
}
