/* document_xml.h - XML files read safely, and their attributes as numbers and words.  Private to
 * core/casefile. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * No network, no entities of the file's own, no file above 64 MiB.  Errors read "FILE:LINE: what is
 * wrong. What to do." in domain CASE_ERROR. */
#pragma once
#include "casefile/case_words.h"
#include "casefile/case_xml.h"

struct _xmlDoc;
struct _xmlNode;

/* Where messages come from and go to; the first one stays. */
typedef struct {
  const char *file; /* as the user named it */
  GError **error;   /* may be NULL          */
  bool failed;
} Reader;

/* What a kind of file may be; sentences are English msgids. */
typedef struct {
  int64_t bytes; /* at most */
  const char *too_large, *empty;
} ReadLimit;

/* A whole regular file within the limit; *text is owned by the caller and ends in NUL. */
bool document_read_whole(Reader *r, const char *path, const ReadLimit *limit, char **text,
                         size_t *length);
/* The same for XML files; *text is owned by the caller and ends in NUL. */
bool document_read_file(const char *path, char **text, size_t *length, GError **error);
/* NULL and the error set when it is no well-formed XML. */
struct _xmlDoc *document_parse(Reader *r, const char *text, size_t length);
void document_free(struct _xmlDoc *doc); /* accepts NULL */
/* Takes out every element and attribute of a namespace that is not `ours`. */
void document_strip_foreign(struct _xmlDoc *doc, const char *ours);
/* Root name, namespace and version 1, with the message for each. */
bool document_check_root(Reader *r, struct _xmlDoc *doc, const char *root, const char *name_space);
/* Against a shipped RELAX NG schema. */
bool document_validate(Reader *r, struct _xmlDoc *doc, const char *schema);

/* Sets the error unless one is set; line 0 = no line.  Always returns false. */
bool reader_fail(Reader *r, CaseErrorCode code, long line, const char *format, ...)
    G_GNUC_PRINTF(4, 5);
long node_line(struct _xmlNode *node);
const char *node_name(const struct _xmlNode *node);
/* The first child element / the next sibling element with this name; any name when NULL. */
struct _xmlNode *node_child(const struct _xmlNode *node, const char *name);
struct _xmlNode *node_next(const struct _xmlNode *node, const char *name);
/* Newly allocated; NULL if there is no such attribute. */
char *node_attribute(struct _xmlNode *node, const char *name);
char *node_content(struct _xmlNode *node); /* spaces at both ends taken off */

/* Each leaves *value alone when the attribute is absent or empty; range [low, high]. */
void read_number(Reader *r, struct _xmlNode *node, const char *name, double low, double high,
                 double *value);
void read_word(Reader *r, struct _xmlNode *node, const char *name, WordList list, int *value);
void read_text(Reader *r, struct _xmlNode *node, const char *name,
               char **value); /* replaces *value */
/* Into a fixed array, cut never: too long is an error. */
void read_short_text(Reader *r, struct _xmlNode *node, const char *name, char *value, size_t room);
/* An attribute that must be there. */
bool read_required(Reader *r, struct _xmlNode *node, const char *name, const char *example);

/* A plain decimal number, '.' always; moves *text behind it.  No "nan", "inf" or hexadecimal. */
bool number_from_text(const char **text, double *value);
/* The shortest text that reads back as the same number; "" for NaN. */
const char *number_to_text(double value, char buf[32]);
