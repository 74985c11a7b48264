/* svg_xml.h - outlines from and to SVG files.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Paths and basic shapes are read, with the transforms of their groups; user units are mm unless
 * width/height with viewBox say otherwise.  y is flipped to point up.  Errors in domain CASE_ERROR
 * name file and line.  Nothing outside the file is fetched, no script run, no entity put in. */
#pragma once
#include "casefile/case_xml.h"

/* The one closed path of the file, counter-clockwise. */
bool svg_load_silhouette(const char *path, Outline *outline, GError **error);
/* Four open paths with ids gingival, occlusal, buccal, lingual; each made to run from small to
 * large x. The plan paths' y is flipped too: buccal z > 0. The zero of plan z is the
 * level line SVG_PLAN_AXIS where there is one, else the middle of the neck.  A fifth, closed path
 * with id section is the drawn section of the neck, cheek to the right; its middle is z = 0;
 * without it `section` stays empty (n = 0). */
bool svg_load_connector(const char *path, Outline side[SIDE_N], Outline *section, GError **error);

#define SVG_PLAN_AXIS "plan-axis"

typedef struct {
  char *id;        /* owned; NULL without one */
  Outline outline; /* owned, mm, y up         */
  long file_line;
} SvgLine;

typedef struct {
  GPtrArray *line;  /* SvgLine, as drawn, in the order of the file; at least one           */
  GPtrArray *note;  /* char *: lines that cannot be used, "FILE:LINE: what. What to do."   */
  char *passed;     /* "image, script": elements that were left out; NULL = none           */
  double plan_axis; /* y of SVG_PLAN_AXIS, NaN                                             */
} SvgDrawing;

SvgDrawing *svg_drawing_load(const char *path, GError **error); /* NULL and the error */
void svg_drawing_free(SvgDrawing *drawing);                     /* accepts NULL */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(SvgDrawing, svg_drawing_free)

/* The four outlines as a drawing in mm that svg_load_connector reads back within 1e-6 mm: width and
 * height in mm, x = 0 the neck plane, y = 0 the tissue line, the plan below.
 *   title  in  of the drawing
 *   marks  in  tissue line, neck and largest circle of the embrasure too, in a group of their own
 */
GString *svg_from_connector(const Outline side[SIDE_N], const char *title, bool marks);
