/* stl_text.c - the text form of STL: words and numbers, one pass, lines counted.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Words in any case, any white space.  Normals are passed over: the order of the corners says which
 * way a triangle faces.  Numbers: up to 19 digits, '.' whatever the locale. */
#include "mesh/stl_parts.h"
#include <string.h>
#include <strings.h>

#define ASK_EVERY 4096u

typedef struct {
  const char *at, *end, *begin;
  size_t line;
} Text;

static bool is_space(char c)
{
  return c == ' ' || (c >= '\t' && c <= '\r');
}

static void skip_space(Text *t)
{
  for (; t->at < t->end && is_space(*t->at); t->at++)
    t->line += *t->at == '\n';
}

static void skip_line(Text *t)
{
  const char *end = memchr(t->at, '\n', (size_t)(t->end - t->at));
  t->at = end ? end : t->end;
}

/* Takes the word when it comes next; `word` in small letters. */
static bool word(Text *t, const char *name)
{
  skip_space(t);
  const char *c = t->at;
  for (; *name; name++, c++)
    if (c == t->end || (*c | 0x20) != *name)
      return false;
  if (c < t->end && !is_space(*c))
    return false;
  t->at = c;
  return true;
}

/* Powers of ten that a double holds exactly. */
static double power_of_ten(int power)
{
  static const double ten[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                               1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                               1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
  return power <= 22 ? ten[power] : pow(10, power);
}

/* NaN for "nan", "inf" and numbers beyond a float: the triangle is spoiled, the file goes on. */
static bool number(Text *t, float *value)
{
  skip_space(t);
  const char *c = t->at;
  bool minus = c < t->end && *c == '-';
  if (c < t->end && (*c == '-' || *c == '+'))
    c++;
  uint64_t mantissa = 0;
  int power = 0, digits = 0;
  for (bool fraction = false; c < t->end; c++) {
    if (*c == '.' && !fraction) {
      fraction = true;
    } else if (*c >= '0' && *c <= '9') {
      if (mantissa < UINT64_C(1000000000000000000)) {
        mantissa = mantissa * 10 + (uint64_t)(*c - '0');
        power -= fraction;
      } else {
        power += !fraction;
      }
      digits++;
    } else {
      break;
    }
  }
  if (digits == 0) {
    const char *start = c;
    while (c < t->end && !is_space(*c) && c - start < 16)
      c++;
    bool word =
        c - start >= 3 && (strncasecmp(start, "nan", 3) == 0 || strncasecmp(start, "inf", 3) == 0 ||
                           memchr(start, '#', (size_t)(c - start)));
    *value = NAN;
    if (word)
      t->at = c;
    return word;
  }
  if (c < t->end && (*c | 0x20) == 'e') {
    const char *d = c + 1;
    bool less = d < t->end && *d == '-';
    if (d < t->end && (*d == '-' || *d == '+'))
      d++;
    int exponent = 0, n = 0;
    for (; d < t->end && *d >= '0' && *d <= '9'; d++, n++)
      exponent = exponent < 10000 ? exponent * 10 + (*d - '0') : exponent;
    if (n > 0) {
      power += less ? -exponent : exponent;
      c = d;
    }
  }
  if (c < t->end && !is_space(*c) && *c != '#')
    return false; /* "1,5" is no number here */
  double size = (double)mantissa;
  if (mantissa > 0)
    size = power < -60  ? 0
           : power > 60 ? INFINITY
           : power < 0  ? size / power_of_ten(-power)
                        : size * power_of_ten(power);
  *value = size < 1e30 ? (float)(minus ? -size : size) : NAN;
  t->at = c;
  return true;
}

/* "facet normal x y z outer loop vertex ... endloop endfacet", the first word taken already. */
static bool facet(Text *t, float corner[3][3])
{
  float normal;
  if (!word(t, "normal") || !number(t, &normal) || !number(t, &normal) || !number(t, &normal) ||
      !word(t, "outer") || !word(t, "loop"))
    return false;
  for (int k = 0; k < 3; k++)
    if (!word(t, "vertex") || !number(t, &corner[k][0]) || !number(t, &corner[k][1]) ||
        !number(t, &corner[k][2]))
      return false;
  return word(t, "endloop") && word(t, "endfacet");
}

/* The rest of the file is one short line: it was cut off there. */
static bool last_line(const Text *t)
{
  size_t left = (size_t)(t->end - t->at);
  return left < 80 && memchr(t->at, '\n', left) == NULL;
}

static Fault foreign(StlReport *report, const Soup *soup)
{
  return stl_fail(
      report, FAULT_RANGE,
      N_("after {0} triangles something stands here that a text STL does not have. Save "
         "the surface again as binary STL."),
      (double)(soup->n + report->spoiled), 0);
}

Fault stl_text_read(const char *bytes, size_t n, const MeshWatch *watch, Soup *soup,
                    StlReport *report)
{
  Text t = {bytes, bytes + n, bytes, 1};
  if (n >= 3 && memcmp(bytes, "\xef\xbb\xbf", 3) == 0)
    t.at += 3;
  bool inside = false;
  Fault fault = FAULT_NONE;
  for (size_t i = 0; !fault; i++) {
    if (i % ASK_EVERY == 0 && !mesh_go_on(watch, (double)(t.at - t.begin) / (double)n))
      return FAULT_CANCELLED;
    float corner[3][3];
    skip_space(&t);
    report->line = t.line;
    if (t.at == t.end)
      break;
    if (word(&t, "facet")) {
      bool good = facet(&t, corner);
      report->line = t.line;
      if (good)
        fault = soup_add(soup, corner, report);
      else if (soup->n < 4 || !last_line(&t))
        fault = foreign(report, soup);
      else /* cut off in the middle of a triangle */
        break;
    } else if (word(&t, "endsolid")) {
      inside = false;
      skip_line(&t); /* its name */
    } else if (word(&t, "solid")) {
      inside = true;
      skip_line(&t);
    } else if (soup->n >= 4 && last_line(&t)) {
      break;
    } else {
      fault = foreign(report, soup);
    }
  }
  if (!fault && inside && report->n_note < STL_NOTES)
    report->note[report->n_note++] = (Phrase){
        .text = N_("The file ends early, after {0} triangles: the rest is missing. What is "
                   "there is used; look for holes, or save it again."),
        .value = {(double)soup->n}};
  return fault;
}
