/* proof.h - the book of proof: a check against a value from the world outside is a row of a table.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Tests call proof_open() once after g_test_init(), then proof_row() in place of a bare assert
 * wherever the expected value comes from outside this program.  Rows go to <program>.tsv in the
 * folder of SOFFIT_PROOF_DIR (the build folder's proof/; no file when unset), tab separated under
 * PROOF_COLUMNS; `soffit-cli proof` shows them.  A row outside its tolerance fails the test. */
#pragma once
#include <errno.h>
#include <glib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define PROOF_COLUMNS                                                                              \
  "test\tquantity\tsource\tknown\texpected\tgot\terror_percent\ttolerance_percent\tok\n"

/* Where a value comes from, and how well that is known. */
typedef struct {
  const char *text, *known;
} Source;
#define READ "read"               /* seen in the named publication                             */
#define FROM_MEMORY "from memory" /* of the named publication, not seen again                  */
#define EXACT "exact"             /* follows from mathematics or statics                       */
#define SOLVER "solver"           /* an independent program                                    */
#define PRACTICE "common practice"

static inline void proof_write(const char *mode, const char *text)
{
  const char *place = g_getenv("SOFFIT_PROOF_DIR");
  if (!place || !*place)
    return;
  g_autofree char *program = g_path_get_basename(g_get_prgname());
  g_autofree char *path = g_strdup_printf("%s/%s.tsv", place, program);
  FILE *file = g_mkdir_with_parents(place, 0777) == 0 ? g_fopen(path, mode) : NULL;
  gboolean written = file && fputs(text, file) >= 0;
  if (!file || fclose(file) != 0 || !written)
    g_error("%s: %s", path, g_strerror(errno));
}

/* Begins the program's file anew. */
static inline void proof_open(void)
{
  proof_write("w", PROOF_COLUMNS);
}

/* got must lie from low to high; expected is the value of the source, not nil. */
static inline void proof_row_between(const char *quantity, Source source, double expected,
                                     double got, double low, double high)
{
  g_assert_true(isfinite(expected) && fabs(expected) > 0);
  g_assert_null(strpbrk(quantity, "\t\n"));
  g_assert_null(strpbrk(source.text, "\t\n"));
  double error = 100 * (got - expected) / fabs(expected),
         room = 100 * (got > expected ? high - expected : expected - low) / fabs(expected);
  gboolean ok = got >= low && got <= high;
  g_autofree char *row =
      g_strdup_printf("%s\t%s\t%s\t%s\t%.10g\t%.10g\t%.4g\t%.4g\t%s\n", g_test_get_path(), quantity,
                      source.text, source.known, expected, got, error, room, ok ? "yes" : "no");
  proof_write("a", row);
  if (!ok)
    g_test_fail_printf("%s: %.10g, wanted %.10g (%s): off by %.4g %%, tolerance %.4g %%", quantity,
                       got, expected, source.text, error, room);
}

/* Tolerance in the unit of the quantity. */
static inline void proof_row_within(const char *quantity, Source source, double expected,
                                    double got, double tolerance)
{
  proof_row_between(quantity, source, expected, got, expected - tolerance, expected + tolerance);
}

static inline void proof_row(const char *quantity, Source source, double expected, double got,
                             double tolerance_percent)
{
  proof_row_within(quantity, source, expected, got, tolerance_percent / 100 * fabs(expected));
}
