/* attribute_xml.c - attributes of an XML element as numbers, words and texts, each with its
 * message. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Numbers never depend on the locale. */
#include "casefile/attribute_xml.h"
#include <libxml/tree.h>
#include <string.h>

long node_line(xmlNode *node)
{
  return xmlGetLineNo(node);
}

const char *node_name(const xmlNode *node)
{
  return (const char *)node->name;
}

static xmlNode *element_from(xmlNode *node, const char *name)
{
  while (node &&
         (node->type != XML_ELEMENT_NODE || (name && strcmp((const char *)node->name, name) != 0)))
    node = node->next;
  return node;
}

xmlNode *node_child(const xmlNode *node, const char *name)
{
  return node ? element_from(node->children, name) : NULL;
}

xmlNode *node_next(const xmlNode *node, const char *name)
{
  return element_from(node->next, name);
}

static char *taken(xmlChar *text)
{
  char *copy = text ? g_utf8_make_valid((const char *)text, -1) : NULL;
  xmlFree(text);
  return copy;
}

char *node_attribute(xmlNode *node, const char *name)
{
  return taken(xmlGetNoNsProp(node, (const xmlChar *)name));
}

char *node_content(xmlNode *node)
{
  char *text = taken(xmlNodeGetContent(node));
  return text ? g_strstrip(text) : g_strdup("");
}

bool read_required(Reader *r, xmlNode *node, const char *name, const char *example)
{
  char *text = node_attribute(node, name);
  if (!text)
    reader_fail(r, CASE_ERROR_VALUE, node_line(node), "<%s> has no %s. Add %s=\"%s\".",
                node_name(node), name, name, example);
  bool there = text != NULL;
  g_free(text);
  return there;
}

void read_number(Reader *r, xmlNode *node, const char *name, double low, double high, double *value)
{
  char *text = node_attribute(node, name);
  const char *end = text;
  double number;
  if (!text)
    return;
  g_strstrip(text);
  char from[32], to[32];
  if (!number_from_text(&end, &number) || *end != '\0')
    reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                "%s=\"%.40s\" of <%s> is not a number. Write a plain number such as 7.5.", name,
                text, node_name(node));
  else if (!(number >= low && number <= high))
    reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                "%s=\"%.40s\" of <%s> is absurd. Write a number from %s to %s.", name, text,
                node_name(node), number_to_text(low, from), number_to_text(high, to));
  else
    *value = number;
  g_free(text);
}

void read_word(Reader *r, xmlNode *node, const char *name, WordList list, int *value)
{
  char *text = node_attribute(node, name);
  if (text && !word_find(list, text, value)) {
    char *known = words_joined(list);
    reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                "%s=\"%.40s\" of <%s> is not known. Write one of: %s.", name, text, node_name(node),
                known);
    g_free(known);
  }
  g_free(text);
}

void read_text(Reader *r, xmlNode *node, const char *name, char **value)
{
  (void)r;
  char *text = node_attribute(node, name);
  if (!text)
    return;
  g_free(*value);
  *value = text;
}

void read_short_text(Reader *r, xmlNode *node, const char *name, char *value, size_t room)
{
  char *text = node_attribute(node, name);
  if (!text)
    return;
  if (strlen(text) >= room)
    reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                "%s of <%s> is too long. Write at most %zu characters.", name, node_name(node),
                room - 1);
  else
    g_strlcpy(value, text, room);
  g_free(text);
}

/* ---- numbers ---- */

bool number_from_text(const char **text, double *value)
{
  const char *p = *text;
  p += *p == '-' || *p == '+';
  if (!g_ascii_isdigit(*p) && !(*p == '.' && g_ascii_isdigit(p[1])))
    return false;
  if (p[0] == '0' && (p[1] == 'x' || p[1] == 'X'))
    return false;
  char *end;
  double number = g_ascii_strtod(*text, &end);
  if (!isfinite(number))
    return false;
  *text = end;
  *value = number;
  return true;
}

const char *number_to_text(double value, char buf[32])
{
  buf[0] = '\0';
  if (isnan(value))
    return buf;
  for (int digits = 15; digits <= 17; digits++) {
    char format[8];
    g_snprintf(format, sizeof format, "%%.%dg", digits);
    g_ascii_formatd(buf, 32, format, value);
    if (g_ascii_strtod(buf, NULL) == value)
      break;
  }
  return buf;
}

/* ---- writing ---- */

static bool sign_kept(gunichar sign)
{
  bool line = sign == '\n' || sign == '\t' || sign == '\r';
  return (sign >= 0x20 || line) && sign != 0xFFFE && sign != 0xFFFF;
}

char *text_kept(const char *text)
{
  char *valid = g_utf8_make_valid(text ? text : "", -1);
  const char *p = valid;
  while (*p && sign_kept(g_utf8_get_char(p)))
    p = g_utf8_next_char(p);
  if (!*p) /* nearly always */
    return valid;
  GString *kept = g_string_new_len(valid, p - valid);
  for (; *p; p = g_utf8_next_char(p))
    g_string_append_unichar(kept, sign_kept(g_utf8_get_char(p)) ? g_utf8_get_char(p) : ' ');
  g_free(valid);
  return g_string_free(kept, FALSE);
}

/* Line ends and tabs survive in attributes. */
void write_escaped(GString *out, const char *text)
{
  g_autofree char *kept = text_kept(text);
  for (const char *p = kept; *p; p++) {
    if (*p == '&')
      g_string_append(out, "&amp;");
    else if (*p == '<')
      g_string_append(out, "&lt;");
    else if (*p == '>')
      g_string_append(out, "&gt;");
    else if (*p == '"')
      g_string_append(out, "&quot;");
    else if (*p == '\n' || *p == '\t' || *p == '\r')
      g_string_append_printf(out, "&#%d;", *p);
    else
      g_string_append_c(out, *p);
  }
}

void write_text(GString *out, const char *name, const char *text)
{
  if (!text || !*text)
    return;
  g_string_append_printf(out, " %s=\"", name);
  write_escaped(out, text);
  g_string_append_c(out, '"');
}

void write_number(GString *out, const char *name, double value)
{
  char buf[32];
  if (isfinite(value))
    g_string_append_printf(out, " %s=\"%s\"", name, number_to_text(value, buf));
}

void write_word(GString *out, const char *name, WordList list, int value)
{
  write_text(out, name, word_of(list, value));
}
