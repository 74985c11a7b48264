/* attribute_table.c - reads, writes and compares the members of a struct by a table of attributes.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * See attribute_xml.h. */
#include "casefile/attribute_xml.h"
#include <math.h>
#include <string.h>

#define LONG_LINE 100 /* an attribute that would begin behind it goes to the next line */
#define SET_SIGNS " \t\n\r"

static void *member(void *object, const Attribute *a)
{
  return (char *)object + a->at;
}

static const void *member_const(const void *object, const Attribute *a)
{
  return (const char *)object + a->at;
}

/* ---- reading ---- */

static void read_whole(Reader *r, struct _xmlNode *node, const Attribute *a, int *value)
{
  double number = *value;
  read_number(r, node, a->name, a->low, a->high, &number);
  if (number == floor(number))
    *value = (int)number;
  else
    reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                "%s of <%s> is no whole number. Write one such as %.0f.", a->name, node_name(node),
                a->high);
}

static void read_set(Reader *r, struct _xmlNode *node, const Attribute *a, unsigned *value)
{
  g_autofree char *text = node_attribute(node, a->name);
  if (!text)
    return;
  unsigned set = 0;
  g_auto(GStrv) word = g_strsplit_set(text, SET_SIGNS, -1);
  for (char **w = word; *w; w++) {
    int bit;
    if (!**w)
      continue;
    if (!word_find(a->list, *w, &bit)) {
      g_autofree char *known = words_joined(a->list);
      reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                  "\"%.40s\" in %s of <%s> is not known. Write some of: %s.", *w, a->name,
                  node_name(node), known);
      return;
    }
    set |= 1u << bit;
  }
  *value = set;
}

void attributes_read(Reader *r, struct _xmlNode *node, const Element *element, void *object)
{
  for (size_t i = 0; i < element->n && !r->failed; i++) {
    const Attribute *a = &element->attribute[i];
    void *at = member(object, a);
    switch (a->kind) {
    case ATTRIBUTE_NUMBER:
      read_number(r, node, a->name, a->low, a->high, at);
      break;
    case ATTRIBUTE_WHOLE:
      read_whole(r, node, a, at);
      break;
    case ATTRIBUTE_WORD:
      read_word(r, node, a->name, a->list, at);
      break;
    case ATTRIBUTE_SET:
      read_set(r, node, a, at);
      break;
    case ATTRIBUTE_TEXT:
      read_text(r, node, a->name, at);
      break;
    case ATTRIBUTE_SHORT:
      read_short_text(r, node, a->name, at, a->room);
      break;
    }
  }
}

/* ---- writing ---- */

static void write_set(GString *out, const Attribute *a, unsigned set)
{
  g_autoptr(GString) words = g_string_new(NULL);
  for (int bit = 0; bit < 32; bit++) {
    const char *word = set & 1u << bit ? word_of(a->list, bit) : NULL;
    if (word)
      g_string_append_printf(words, "%s%s", words->len ? " " : "", word);
  }
  write_text(out, a->name, words->str);
}

static void write_one(GString *out, const Attribute *a, const void *object)
{
  const void *at = member_const(object, a);
  switch (a->kind) {
  case ATTRIBUTE_NUMBER:
    write_number(out, a->name, *(const double *)at);
    break;
  case ATTRIBUTE_WHOLE:
    write_number(out, a->name, *(const int *)at);
    break;
  case ATTRIBUTE_WORD:
    write_word(out, a->name, a->list, *(const int *)at);
    break;
  case ATTRIBUTE_SET:
    write_set(out, a, *(const unsigned *)at);
    break;
  case ATTRIBUTE_TEXT:
    write_text(out, a->name, *(char *const *)at);
    break;
  case ATTRIBUTE_SHORT:
    write_text(out, a->name, at);
    break;
  }
}

void attributes_write(GString *out, const Element *element, const void *object)
{
  size_t line = out->len;
  while (line > 0 && out->str[line - 1] != '\n')
    line--;
  for (size_t i = 0; i < element->n; i++) {
    size_t before = out->len;
    write_one(out, &element->attribute[i], object);
    if (before - line > LONG_LINE && out->len > before) {
      g_string_insert(out, (gssize)before, "\n   ");
      line = before + 1;
    }
  }
}

void element_write(GString *out, const char *indent, const Element *element, const void *object)
{
  size_t before = out->len;
  g_string_append_printf(out, "%s<%s", indent, element->name);
  size_t begun = out->len;
  attributes_write(out, element, object);
  if (out->len == begun)
    g_string_truncate(out, before);
  else
    g_string_append(out, "/>\n");
}

/* ---- comparing ---- */

static bool one_equal(const Attribute *a, const void *p, const void *q)
{
  double x, y;
  switch (a->kind) {
  case ATTRIBUTE_NUMBER:
    x = *(const double *)p, y = *(const double *)q;
    return x == y || (isnan(x) && isnan(y));
  case ATTRIBUTE_WHOLE:
  case ATTRIBUTE_WORD:
  case ATTRIBUTE_SET:
    return *(const int *)p == *(const int *)q;
  case ATTRIBUTE_TEXT:
    return strcmp(*(char *const *)p, *(char *const *)q) == 0;
  case ATTRIBUTE_SHORT:
    return strcmp(p, q) == 0;
  }
  return false;
}

bool attributes_equal(const Element *element, const void *a, const void *b)
{
  for (size_t i = 0; i < element->n; i++)
    if (!one_equal(&element->attribute[i], member_const(a, &element->attribute[i]),
                   member_const(b, &element->attribute[i])))
      return false;
  return true;
}
