/* words.c - see words.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/words.h"
#include <libintl.h>
#include <locale.h>
#include <math.h>

/* Words that a place is made of; case_check puts them together. */
G_GNUC_UNUSED static const char *const place_words[] = {
    N_("bridge"),   N_("unit"),     N_("load"),   N_("bite"),
    N_("gingival"), N_("occlusal"), N_("buccal"), N_("lingual")};

/* Owned. */
static char *catalogue_dir(void)
{
  const char *told = g_getenv("SOFFIT_LOCALE_DIR");
  if (told)
    return g_strdup(told);
  g_autofree char *program = g_file_read_link("/proc/self/exe", NULL);
  g_autofree char *folder = g_path_get_dirname(program ? program : "");
  char *built = g_build_filename(folder, "..", "po", NULL);
  if (program && g_file_test(built, G_FILE_TEST_IS_DIR))
    return built;
  g_free(built);
  return g_strdup(SOFFIT_LOCALE_DIR);
}

void words_start(void)
{
  g_autofree char *folder = catalogue_dir();
  setlocale(LC_ALL, "");
  bindtextdomain(SOFFIT_DOMAIN, folder);
  bind_textdomain_codeset(SOFFIT_DOMAIN, "UTF-8");
  textdomain(SOFFIT_DOMAIN);
}

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

char *words_own_factor(const OwnFactor *own)
{
  Banded band = {own->factor, own->low, own->high};
  g_autofree char *value = words_number(own->factor, 2), *range = words_range(band, 2);
  return g_strdup_printf(_("%s: × %s (%s) of %s\n%s"), words_translate(finish_name(own->state)),
                         value, range, words_translate(finish_name(own->against)), own->source);
}

char *words_range(Banded number, int decimals)
{
  if (!isfinite(number.value) || isnan(number.low) || isnan(number.high))
    return g_strdup("");
  g_autofree char *low = words_number(number.low, decimals);
  g_autofree char *high = words_number(number.high, decimals);
  return g_strdup_printf("%s–%s", low, high);
}

char *words_banded(Banded number, int decimals, const char *unit)
{
  g_autofree char *value = words_number(number.value, decimals),
                  *band = words_range(number, decimals);
  g_autoptr(GString) all = g_string_new(value);
  if (unit)
    g_string_append_printf(all, " %s", unit);
  if (*band)
    g_string_append_printf(all, " (%s)", band);
  return g_string_free(g_steal_pointer(&all), FALSE);
}

char *words_chance(Banded percent)
{
  if (!(percent.value < 0.05))
    return words_banded(percent, percent.high < 9.95 || percent.value < 0.95 ? 1 : 0, "%");
  g_autofree char *least = words_number(0.1, 1), *band = words_range(percent, 1);
  return g_strdup_printf("< %s %% (%s)", least, band);
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

char *words_place(const char *place)
{
  g_auto(GStrv) word = g_strsplit(place, " ", -1);
  for (char **w = word; *w; w++) {
    char *own = g_strdup(words_translate(*w));
    g_free(*w);
    *w = own;
  }
  return g_strjoinv(" ", word);
}

char *words_change(const char *before, const char *after)
{
  return *before ? g_strdup_printf("%s → %s", before, *after ? after : "–") : g_strdup(after);
}
