/* attribute_xml.h - attributes of XML elements: read, written and compared by one table.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/casefile.  A row says which attribute holds which member of a struct; nothing is
 * written for "", NaN, an empty set and a value without a word, and what is absent stays as it was.
 */
#pragma once
#include "casefile/document_xml.h"
#include <stddef.h>

typedef enum {
  ATTRIBUTE_NUMBER, /* double, in [low, high]                       */
  ATTRIBUTE_WHOLE,  /* int, in [low, high]                          */
  ATTRIBUTE_WORD,   /* enumeration, one word of `list`              */
  ATTRIBUTE_SET,    /* unsigned, bit k = the word k of `list`       */
  ATTRIBUTE_TEXT,   /* char *, owned                                */
  ATTRIBUTE_SHORT   /* char[room]                                   */
} AttributeKind;

typedef struct {
  const char *name;
  AttributeKind kind;
  size_t at; /* offset of the member */
  double low, high;
  WordList list;
  size_t room;
} Attribute;

/* An element whose attributes all stand in one table. */
typedef struct {
  const char *name;
  const Attribute *attribute;
  size_t n;
} Element;

/* Rows; a member of another size does not compile. */
#define MEMBER_AT(type, member, kind)                                                              \
  (offsetof(type, member) + 0 * sizeof(char[sizeof(((type *)0)->member) == sizeof(kind) ? 1 : -1]))
#define NUMBER_ROW(name, type, member, low, high)                                                  \
  {                                                                                                \
    name, ATTRIBUTE_NUMBER, MEMBER_AT(type, member, double), low, high, WORDS_N, 0                 \
  }
#define WHOLE_ROW(name, type, member, low, high)                                                   \
  {                                                                                                \
    name, ATTRIBUTE_WHOLE, MEMBER_AT(type, member, int), low, high, WORDS_N, 0                     \
  }
#define WORD_ROW(name, type, member, list)                                                         \
  {                                                                                                \
    name, ATTRIBUTE_WORD, MEMBER_AT(type, member, int), 0, 0, list, 0                              \
  }
#define SET_ROW(name, type, member, list)                                                          \
  {                                                                                                \
    name, ATTRIBUTE_SET, MEMBER_AT(type, member, unsigned), 0, 0, list, 0                          \
  }
#define TEXT_ROW(name, type, member)                                                               \
  {                                                                                                \
    name, ATTRIBUTE_TEXT, MEMBER_AT(type, member, char *), 0, 0, WORDS_N, 0                        \
  }
#define SHORT_ROW(name, type, member)                                                              \
  {                                                                                                \
    name, ATTRIBUTE_SHORT, offsetof(type, member), 0, 0, WORDS_N, sizeof(((type *)0)->member)      \
  }

void attributes_read(Reader *r, struct _xmlNode *node, const Element *element, void *object);
/* Long lines are broken between attributes. */
void attributes_write(GString *out, const Element *element, const void *object);
bool attributes_equal(const Element *element, const void *a, const void *b);
/* "<name .../>" on a line of its own, or nothing when nothing is recorded. */
void element_write(GString *out, const char *indent, const Element *element, const void *object);

void write_text(GString *out, const char *name, const char *text);
void write_number(GString *out, const char *name, double value);
void write_word(GString *out, const char *name, WordList list, int value);
void write_escaped(GString *out, const char *text);
