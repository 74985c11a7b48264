/* svg_transform.c - transforms and units of SVG.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * SVG 1.1 (second edition), sections 7.6 transform, 7.7 viewBox, 4.2 lengths (from memory). */
#include "casefile/svg_transform.h"
#include "casefile/document_xml.h"
#include <math.h>
#include <string.h>

#define MM_PER_INCH 25.4
#define MOST_NUMBERS 6

void svg_matrix_multiply(const double outer[6], const double inner[6], double product[6])
{
  const double *m = outer, *n = inner;
  double made[6] = {m[0] * n[0] + m[2] * n[1],        m[1] * n[0] + m[3] * n[1],
                    m[0] * n[2] + m[2] * n[3],        m[1] * n[2] + m[3] * n[3],
                    m[0] * n[4] + m[2] * n[5] + m[4], m[1] * n[4] + m[3] * n[5] + m[5]};
  memcpy(product, made, sizeof made);
}

static void skip_separators(const char **p)
{
  while (g_ascii_isspace(**p) || **p == ',')
    (*p)++;
}

/* Numbers up to `last`; returns how many, -1 when there is something else. */
static int numbers_until(const char **p, char last, double number[MOST_NUMBERS])
{
  int n = 0;
  for (skip_separators(p); **p != last; skip_separators(p))
    if (n == MOST_NUMBERS || !number_from_text(p, &number[n++]))
      return -1;
  return n;
}

static bool one_transform(const char *name, size_t length, int n, const double v[MOST_NUMBERS],
                          double matrix[6])
{
  static const struct {
    const char *name;
    int least, most;
  } known[] = {{"matrix", 6, 6}, {"translate", 1, 2}, {"scale", 1, 2},
               {"rotate", 1, 3}, {"skewX", 1, 1},     {"skewY", 1, 1}};
  size_t kind = 0;
  while (kind < G_N_ELEMENTS(known) &&
         (strlen(known[kind].name) != length || strncmp(known[kind].name, name, length) != 0))
    kind++;
  if (kind == G_N_ELEMENTS(known) || n < known[kind].least || n > known[kind].most ||
      (kind == 3 && n == 2))
    return false;
  double a = v[0] * M_PI / 180, made[6] = {1, 0, 0, 1, 0, 0};
  switch (kind) {
  case 0:
    memcpy(made, v, sizeof made);
    break;
  case 1:
    made[4] = v[0];
    made[5] = n > 1 ? v[1] : 0;
    break;
  case 2:
    made[0] = v[0];
    made[3] = n > 1 ? v[1] : v[0];
    break;
  case 3: {
    const double c = cos(a), s = sin(a), x = n == 3 ? v[1] : 0, y = n == 3 ? v[2] : 0;
    const double turn[6] = {c, s, -s, c, x - c * x + s * y, y - s * x - c * y};
    memcpy(made, turn, sizeof made);
    break;
  }
  case 4:
    made[2] = tan(a);
    break;
  default:
    made[1] = tan(a);
  }
  memcpy(matrix, made, sizeof made);
  return true;
}

bool svg_transform_from_text(const char *text, double matrix[6])
{
  double all[6] = {1, 0, 0, 1, 0, 0};
  const char *p = text;
  for (skip_separators(&p); *p; skip_separators(&p)) {
    const char *name = p;
    while (g_ascii_isalpha(*p))
      p++;
    size_t length = (size_t)(p - name);
    while (g_ascii_isspace(*p))
      p++;
    double v[MOST_NUMBERS] = {0}, one[6];
    if (*p != '(')
      return false;
    p++;
    int n = numbers_until(&p, ')', v);
    if (n < 1 || !one_transform(name, length, n, v, one))
      return false;
    p++;
    svg_matrix_multiply(all, one, all);
  }
  memcpy(matrix, all, sizeof all);
  return true;
}

/* mm of a length with unit; unitless counts as mm; NaN if wrong, INFINITY for a percentage (says
 * nothing). */
static double length_mm(const char *text)
{
  static const struct {
    const char *name;
    double mm;
  } unit[] = {{"", 1},
              {"mm", 1},
              {"cm", 10},
              {"in", MM_PER_INCH},
              {"px", MM_PER_INCH / 96},
              {"pt", MM_PER_INCH / 72},
              {"pc", MM_PER_INCH / 6}};
  double number;
  skip_separators(&text);
  if (!number_from_text(&text, &number) || !(number > 0))
    return NAN;
  char *name = g_strstrip(g_strdup(text));
  double mm = strcmp(name, "%") == 0 ? INFINITY : NAN;
  for (size_t i = 0; i < G_N_ELEMENTS(unit); i++)
    if (strcmp(name, unit[i].name) == 0)
      mm = number * unit[i].mm;
  g_free(name);
  return mm;
}

double svg_length_user(const char *text)
{
  double number;
  const char *end = text;
  skip_separators(&end);
  if (!number_from_text(&end, &number))
    return NAN;
  while (g_ascii_isspace(*end))
    end++;
  if (*end == '\0' || number == 0)
    return number;
  g_autofree char *size = g_strdup_printf("1%s", end);
  return number * length_mm(size) / (MM_PER_INCH / 96);
}

double svg_user_unit(const char *width, const char *height, const char *view_box)
{
  if (!view_box)
    return 1;
  double box[MOST_NUMBERS];
  if (numbers_until(&view_box, '\0', box) != 4 || !(box[2] > 0) || !(box[3] > 0))
    return NAN;
  double across = width ? length_mm(width) / box[2] : INFINITY;
  double up = height ? length_mm(height) / box[3] : INFINITY;
  if (isnan(across) || isnan(up))
    return NAN;
  double scale = across < up ? across : up; /* the whole drawing is seen: the smaller scale */
  return isinf(scale) ? 1 : scale;
}
