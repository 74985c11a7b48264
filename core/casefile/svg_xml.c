/* svg_xml.c - outlines from the lines of an SVG file: one silhouette, four of a connector, or all.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, y up. */
#include "casefile/svg_xml.h"
#include "casefile/case_parts.h"
#include "casefile/svg_document.h"
#include "mechanics/drawn_section.h"
#include <libxml/tree.h>
#include <string.h>

static bool silhouette_read(Reader *r, const SvgDocument *svg, Outline *outline)
{
  const GArray *found = svg->found;
  if (found->len == 0)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(xmlDocGetRootElement(svg->doc)),
                       "the drawing has no <path>. Turn the shape into a path.");
  const SvgFound *first = &g_array_index(found, SvgFound, 0);
  if (found->len > 1)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(g_array_index(found, SvgFound, 1).node),
                       "the drawing has %u paths. Keep one closed path.", found->len);
  if (!svg_document_outline(r, first, outline))
    return false;
  if (!outline->closed)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(first->node),
                       "the path is open. Close it: end it with Z.");
  if (outline_area(outline) < 0)
    outline_reverse(outline);
  return true;
}

bool svg_load_silhouette(const char *path, Outline *outline, GError **error)
{
  Reader r = {path, error, false};
  SvgDocument svg = {0};
  Outline read;
  outline_init(&read);
  if (svg_document_open(&r, path, &svg) && silhouette_read(&r, &svg, &read)) {
    outline_clear(outline);
    *outline = read;
  } else {
    outline_clear(&read);
  }
  svg_document_clear(&svg);
  return !r.failed;
}

/* ---- four outlines of a connector ---- */

/* The one line of this name, or NULL. */
static const SvgFound *line_called(Reader *r, const GArray *found, const char *name)
{
  const SvgFound *own = NULL;
  for (guint i = 0; i < found->len; i++) {
    const SvgFound *path = &g_array_index(found, SvgFound, i);
    char *id = node_attribute(path->node, "id");
    bool match = id && strcmp(id, name) == 0;
    g_free(id);
    if (match && own)
      reader_fail(r, CASE_ERROR_VALUE, node_line(path->node),
                  "two paths are called \"%s\". Delete one.", name);
    if (match)
      own = path;
  }
  return own;
}

static bool side_read(Reader *r, const SvgDocument *svg, int side, Outline *outline)
{
  const char *name = word_of(WORDS_SIDE, side);
  const SvgFound *own = line_called(r, svg->found, name);
  if (!own)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(xmlDocGetRootElement(svg->doc)),
                       "the drawing has no path with id=\"%s\". Name the four paths gingival, "
                       "occlusal, buccal and lingual.",
                       name);
  if (!svg_document_outline(r, own, outline))
    return false;
  if (outline->closed)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(own->node),
                       "the path \"%s\" is closed. Draw it open, from one unit to the other.",
                       name);
  if (outline->knot[0].at.x > outline->knot[outline->n - 1].at.x)
    outline_reverse(outline);
  return true;
}

/* z = 0 is the middle of the drawn section, wherever it stands on the sheet; without one *section
 * stays empty. */
static bool section_read(Reader *r, const SvgDocument *svg, Outline *section)
{
  const SvgFound *own = line_called(r, svg->found, "section");
  if (!own || r->failed)
    return !r->failed;
  if (!svg_document_outline(r, own, section))
    return false;
  Point low, high;
  section_box(section, &low, &high);
  double shift = -(low.x + high.x) / 2;
  outline_transform(section, (const double[6]){1, 0, 0, 1, shift, 0});
  return section_accept(r, node_line(own->node), section, shift, -1);
}

static double extreme_y(const Outline *outline, int sign)
{
  double extreme = -INFINITY;
  for (double t = 0; t <= (double)outline_pieces(outline); t += 1.0 / 32)
    extreme = fmax(extreme, sign * outline_at(outline, t).y);
  return sign * extreme;
}

static double middle_y(const Outline *outline)
{
  return (extreme_y(outline, 1) + extreme_y(outline, -1)) / 2;
}

/* A level line called SVG_PLAN_AXIS says where z = 0 is; *z is left alone without one. */
static bool plan_axis(Reader *r, const SvgDocument *svg, double *z)
{
  const SvgFound *line = line_called(r, svg->found, SVG_PLAN_AXIS);
  Outline axis;
  outline_init(&axis);
  if (line && svg_document_outline(r, line, &axis))
    *z = axis.knot[0].at.y;
  outline_clear(&axis);
  return !r->failed;
}

bool svg_load_connector(const char *path, Outline side[SIDE_N], Outline *section, GError **error)
{
  Reader r = {path, error, false};
  SvgDocument svg = {0};
  Outline read[SIDE_N], drawn;
  outline_init(&drawn);
  for (int i = 0; i < SIDE_N; i++)
    outline_init(&read[i]);
  bool good = svg_document_open(&r, path, &svg);
  for (int i = 0; i < SIDE_N && good; i++)
    good = side_read(&r, &svg, i, &read[i]);
  good = good && section_read(&r, &svg, &drawn);
  if (good && !(middle_y(&read[SIDE_GINGIVAL]) < middle_y(&read[SIDE_OCCLUSAL])))
    good = reader_fail(&r, CASE_ERROR_VALUE, 0,
                       "the gingival path does not lie below the occlusal one. Exchange their ids "
                       "or turn the drawing.");
  if (good && !(middle_y(&read[SIDE_LINGUAL]) < middle_y(&read[SIDE_BUCCAL])))
    good = reader_fail(&r, CASE_ERROR_VALUE, 0,
                       "the lingual path does not lie below the buccal one. Exchange their ids or "
                       "turn the drawing.");
  if (good) {
    /* z = 0: the drawn axis, or the middle of the neck wherever the plan was drawn on the sheet */
    double middle = (extreme_y(&read[SIDE_BUCCAL], -1) + extreme_y(&read[SIDE_LINGUAL], 1)) / 2;
    good = plan_axis(&r, &svg, &middle);
    const double shift[6] = {1, 0, 0, 1, 0, -middle};
    outline_transform(&read[SIDE_BUCCAL], shift);
    outline_transform(&read[SIDE_LINGUAL], shift);
  }
  for (int i = 0; i < SIDE_N; i++) {
    if (good) {
      outline_clear(&side[i]);
      side[i] = read[i];
    } else {
      outline_clear(&read[i]);
    }
  }
  outline_clear(good ? section : &drawn);
  if (good)
    *section = drawn;
  svg_document_clear(&svg);
  return good;
}

/* ---- all lines, for a person to say which is which ---- */

static void line_free(void *data)
{
  SvgLine *line = data;
  outline_clear(&line->outline);
  g_free(line->id);
  g_free(line);
}

void svg_drawing_free(SvgDrawing *drawing)
{
  if (!drawing)
    return;
  g_ptr_array_unref(drawing->line);
  g_ptr_array_unref(drawing->note);
  g_free(drawing->passed);
  g_free(drawing);
}

SvgDrawing *svg_drawing_load(const char *path, GError **error)
{
  Reader r = {path, error, false};
  SvgDocument svg = {0};
  SvgDrawing *drawing = g_new0(SvgDrawing, 1);
  drawing->line = g_ptr_array_new_with_free_func(line_free);
  drawing->note = g_ptr_array_new_with_free_func(g_free);
  drawing->plan_axis = NAN;
  bool good = svg_document_open(&r, path, &svg) && plan_axis(&r, &svg, &drawing->plan_axis);
  for (guint i = 0; good && i < svg.found->len; i++) {
    const SvgFound *found = &g_array_index(svg.found, SvgFound, i);
    g_autoptr(GError) why = NULL;
    Reader own = {path, &why, false};
    SvgLine *line = g_new0(SvgLine, 1);
    line->id = node_attribute(found->node, "id");
    line->file_line = node_line(found->node);
    if (line->id && strcmp(line->id, SVG_PLAN_AXIS) == 0) {
      line_free(line);
    } else if (svg_document_outline(&own, found, &line->outline)) {
      g_ptr_array_add(drawing->line, line);
    } else { /* the others are still of use */
      g_ptr_array_add(drawing->note, g_strdup(why->message));
      line_free(line);
    }
  }
  if (good && svg.passed->len > 0) {
    g_ptr_array_add(svg.passed, NULL);
    drawing->passed = g_strjoinv(", ", (char **)svg.passed->pdata);
  }
  if (good && drawing->line->len == 0)
    good = drawing->note->len > 0
               ? reader_fail(&r, CASE_ERROR_VALUE, 0, "no line of it can be used. The first: %s",
                             (const char *)g_ptr_array_index(drawing->note, 0))
               : reader_fail(&r, CASE_ERROR_VALUE, node_line(xmlDocGetRootElement(svg.doc)),
                             "the drawing has no line. Turn the shape into a path.");
  svg_document_clear(&svg);
  if (!good) {
    svg_drawing_free(drawing);
    return NULL;
  }
  return drawing;
}
