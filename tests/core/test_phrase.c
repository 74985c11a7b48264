/* test_phrase.c - sentences from templates.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/fault.h"
#include "base/phrase.h"
#include <glib.h>
#include <locale.h>
#include <math.h>
#include <string.h>

static void says(const Phrase *phrase, PhraseTranslate translate, const char *decimal,
                 const char *wanted)
{
  char buf[256];
  size_t n = phrase_format(phrase, translate, decimal, buf, sizeof buf);
  g_assert_cmpstr(buf, ==, wanted);
  g_assert_cmpuint(n, ==, strlen(wanted));
}

static void number(double value, int decimals, const char *decimal, const char *wanted)
{
  char buf[64];
  size_t n = phrase_number(value, decimals, decimal, buf, sizeof buf);
  g_assert_cmpstr(buf, ==, wanted);
  g_assert_cmpuint(n, ==, strlen(wanted));
}

static void test_numbers(void)
{
  number(2.385, 2, ".", "2.38"); /* the double lies below the tie */
  number(2.375, 2, ".", "2.38"); /* a true tie goes to the even digit */
  number(2.385, 1, ",", "2,4");
  number(-2.385, 1, NULL, "−2.4"); /* the minus sign, not a hyphen */
  number(0.05, 2, ".", "0.05");
  number(12.005, 0, ".", "12");
  number(999.96, 1, ".", "1000.0"); /* carry into the whole */
  number(1234567, 0, ".", "1234567");
  number(3, 3, ",", "3,000");
}

static void test_no_minus_zero(void)
{
  number(-0.0, 1, ".", "0.0");
  number(-0.04, 1, ".", "0.0");
  number(-0.4, 0, ".", "0");
}

static void test_strange_numbers(void)
{
  number(NAN, 2, ".", "–");
  number(INFINITY, 2, ".", "∞");
  number(-INFINITY, 2, ".", "−∞");
  number(1, 99, ".", "1.000000000"); /* at most nine */
  number(2, -3, ".", "2");
  char buf[64];
  g_assert_cmpuint(phrase_number(1e300, 2, ".", buf, sizeof buf), <, sizeof buf);
  g_assert_cmpuint(phrase_number(-9e15, 2, ".", buf, sizeof buf), <, sizeof buf);
  g_assert_true(g_utf8_validate(buf, -1, NULL));
}

static void test_placeholders(void)
{
  Phrase p = {.text = "Round the roof of {place} from {0.2} to {1.2} mm ({2+} %, {3.1}).",
              .value = {0.2, 0.945, 31.4, -7.25},
              .place = "35/36"};
  says(&p, NULL, ".", "Round the roof of 35/36 from 0.20 to 0.94 mm (+31 %, −7.2).");
  says(&p, NULL, ",", "Round the roof of 35/36 from 0,20 to 0,94 mm (+31 %, −7,2).");
  p = (Phrase){.text = "{0+} {1.1+} {2+}", .value = {-3, 2.25, 0}};
  says(&p, NULL, NULL, "−3 +2.2 +0");
}

static void test_words(void)
{
  Phrase p = {.text = "{name}: {word} at {place}",
              .word = "sharp roof {0.1}",
              .name = "J. B.",
              .place = "11/21",
              .value = {0.25}};
  says(&p, NULL, ",", "J. B.: sharp roof 0,2 at 11/21"); /* a word's own numbers are filled too */
  p.word = NULL;
  says(&p, NULL, ".", "J. B.:  at 11/21");
  p.word = "loop {word}"; /* no word within a word: no endless sentence */
  says(&p, NULL, ".", "J. B.: loop {word} at 11/21");
  Phrase empty = {0};
  says(&empty, NULL, ".", "");
}

static const char *backwards(const char *msgid)
{
  if (strcmp(msgid, "{word} on {place}") == 0)
    return "{place}: {word}";
  return strcmp(msgid, "polish") == 0 ? "polieren" : msgid;
}

/* The translator gets templates and words, never names; it may turn the order round. */
static void test_translated(void)
{
  Phrase p = {.text = "{word} on {place}", .word = "polish", .place = "35/36"};
  says(&p, backwards, ",", "35/36: polieren");
  p = (Phrase){.text = "{name}", .name = "polish"};
  says(&p, backwards, ",", "polish");
  p = (Phrase){.text = ""};
  says(&p, backwards, ",", "");
}

static void test_not_placeholders(void)
{
  Phrase p = {.text = "{4} {} {x} {places} 100 % } {", .value = {1}};
  says(&p, NULL, ".", "{4} {} {x} {places} 100 % } {");
  p.text = "{0.}{0"; /* decimals left out, brace left open */
  says(&p, NULL, ".", "1{0");
}

/* What does not fit is cut at a character border; the length needed is told. */
static void test_cut(void)
{
  Phrase p = {.text = "Größe ± {0} µm – €𝄞", .value = {-15}};
  char whole[64];
  size_t n = phrase_format(&p, NULL, ".", whole, sizeof whole);
  g_assert_cmpuint(n, ==, strlen(whole));
  for (size_t room = 1; room <= n + 1; room++) {
    char *buf = g_malloc(room); /* a byte too many would be seen by the sanitizer */
    g_assert_cmpuint(phrase_format(&p, NULL, ".", buf, room), ==, n);
    g_assert_true(g_utf8_validate(buf, -1, NULL));
    g_assert_cmpuint(strlen(buf), <, room);
    g_assert_cmpuint(strlen(buf) + 4, >=,
                     room < n ? room : n); /* never more than one character is lost */
    g_assert_true(strncmp(buf, whole, strlen(buf)) == 0);
    g_free(buf);
  }
  g_assert_cmpuint(phrase_format(&p, NULL, ".", NULL, 0), ==, n);
}

/* Whatever the locale's decimal sign, ours is used. */
static void test_locale(void)
{
  char *kept = g_strdup(setlocale(LC_NUMERIC, NULL));
  const char *comma[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "de_DE.utf8"};
  for (size_t i = 0; i < G_N_ELEMENTS(comma); i++)
    if (setlocale(LC_NUMERIC, comma[i]))
      break;
  number(1.5, 1, ".", "1.5");
  number(1.5, 1, ",", "1,5");
  setlocale(LC_NUMERIC, kept);
  g_free(kept);
}

/* Every fault has its own short name and a sentence that ends. */
static void test_faults(void)
{
  for (int i = 0; i < FAULT_N; i++) {
    g_assert_cmpuint(strlen(fault_name((Fault)i)), >, 2);
    g_assert_true(g_str_has_suffix(fault_text((Fault)i), "."));
    for (int k = 0; k < i; k++)
      g_assert_cmpstr(fault_name((Fault)i), !=, fault_name((Fault)k));
  }
  g_assert_nonnull(fault_text((Fault)-1));
  g_assert_cmpstr(fault_name((Fault)99), ==, "unknown");
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/phrase/numbers", test_numbers);
  g_test_add_func("/phrase/no_minus_zero", test_no_minus_zero);
  g_test_add_func("/phrase/strange_numbers", test_strange_numbers);
  g_test_add_func("/phrase/placeholders", test_placeholders);
  g_test_add_func("/phrase/words", test_words);
  g_test_add_func("/phrase/translated", test_translated);
  g_test_add_func("/phrase/not_placeholders", test_not_placeholders);
  g_test_add_func("/phrase/cut", test_cut);
  g_test_add_func("/phrase/locale", test_locale);
  g_test_add_func("/phrase/faults", test_faults);
  return g_test_run();
}
