/* svg_document.h - the drawn lines of an SVG file, before they become outlines.  Private to
 * core/casefile. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/document_xml.h"

#define SVG_LINES_MOST 2000u
#define SVG_PATH_BYTES_MOST ((size_t)4 << 20)

/* One line found while walking the tree. */
typedef struct {
  struct _xmlNode *node;
  double matrix[6]; /* to mm, y still down */
} SvgFound;

typedef struct {
  struct _xmlDoc *doc;
  GArray *found;     /* SvgFound, in the order of the file                         */
  GPtrArray *passed; /* names of elements that draw but are not read, each once    */
} SvgDocument;

/* Opens the file and lists its lines; cleared by the caller also after a failure. */
bool svg_document_open(Reader *r, const char *path, SvgDocument *svg);
void svg_document_clear(SvgDocument *svg);
/* mm, y up; checked. */
bool svg_document_outline(Reader *r, const SvgFound *found, Outline *outline);
/* "path", "line", "polyline", "polygon", "rect", "circle", "ellipse". */
bool svg_is_shape(const char *name);
/* Path data of a shape, owned; NULL after a message. */
char *svg_shape_path(Reader *r, struct _xmlNode *node);
