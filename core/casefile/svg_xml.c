/* svg_xml.c - outlines from the paths of an SVG file.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Transforms of groups and paths are followed; what is not drawn (definitions, clips, masks)
 * is passed over. y is flipped to point up. */
#include "casefile/svg_xml.h"
#include "base/tolerance.h"
#include "casefile/case_parts.h"
#include "casefile/document_xml.h"
#include "casefile/svg_transform.h"
#include "mechanics/drawn_section.h"
#include <libxml/tree.h>
#include <string.h>

/* One <path> found while walking the tree. */
typedef struct {
  xmlNode *node;
  double matrix[6]; /* to mm, y still down */
} FoundPath;

static bool is_drawn_group(const xmlNode *node)
{
  static const char *const hidden[] = {"defs", "clipPath", "symbol", "marker", "mask", "pattern"};
  for (size_t i = 0; i < G_N_ELEMENTS(hidden); i++)
    if (strcmp(node_name(node), hidden[i]) == 0)
      return false;
  return true;
}

static bool own_transform(Reader *r, xmlNode *node, const double outer[6], double matrix[6])
{
  double own[6];
  char *text = node_attribute(node, "transform");
  bool good = svg_transform_from_text(text ? text : "", own);
  g_free(text);
  if (!good)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "the transform of <%s> cannot be read. Use matrix, translate, scale, rotate "
                       "or skew, or flatten "
                       "the transforms in the drawing program.",
                       node_name(node));
  svg_matrix_multiply(outer, own, matrix);
  return true;
}

/* The parser limits the depth of the tree to 256. */
static bool collect(Reader *r, xmlNode *group, const double outer[6], GArray *found)
{
  for (xmlNode *node = node_child(group, NULL); node; node = node_next(node, NULL)) {
    FoundPath path = {.node = node};
    if (!is_drawn_group(node))
      continue;
    if (!own_transform(r, node, outer, path.matrix))
      return false;
    if (strcmp(node_name(node), "path") == 0)
      g_array_append_val(found, path);
    else if (!collect(r, node, path.matrix, found))
      return false;
  }
  return true;
}

/* mm per user unit: unitless sizes count as mm. */
static double user_unit(xmlNode *root)
{
  char *width = node_attribute(root, "width"), *height = node_attribute(root, "height");
  char *box = node_attribute(root, "viewBox");
  double scale = svg_user_unit(width, height, box);
  g_free(width);
  g_free(height);
  g_free(box);
  return scale;
}

static bool path_outline(Reader *r, const FoundPath *path, Outline *outline)
{
  char *d = node_attribute(path->node, "d");
  long line = node_line(path->node);
  size_t bad_at = 0;
  if (!d)
    return reader_fail(r, CASE_ERROR_VALUE, line,
                       "this <path> has no data. Add d=\"M x y ...\" or delete it.");
  Fault fault = outline_from_path(outline, d, &bad_at);
  g_free(d);
  if (fault)
    return reader_fail(r, CASE_ERROR_VALUE, line,
                       "the path data is wrong at character %zu, or has a second part there. Draw "
                       "one line without breaks.",
                       bad_at + 1);
  const double flip[6] = {1, 0, 0, -1, 0, 0};
  double matrix[6];
  svg_matrix_multiply(flip, path->matrix, matrix);
  outline_transform(outline, matrix);
  fault = outline_check(outline);
  if (fault == FAULT_RANGE || fault == FAULT_NOT_FINITE)
    return reader_fail(
        r, CASE_ERROR_VALUE, line,
        "the path reaches beyond %g mm. Check the unit: width and height in mm, and the viewBox.",
        MAX_SIZE_MM);
  if (fault)
    return reader_fail(r, CASE_ERROR_VALUE, line, "%s", fault_text(fault));
  return true;
}

/* Opens the file and lists its paths; the caller frees both. */
static bool svg_open(Reader *r, const char *path, xmlDoc **doc, GArray **found)
{
  char *text;
  size_t length;
  if (!document_read_file(path, &text, &length, r->error)) {
    r->failed = true;
    return false;
  }
  *doc = document_parse(r, text, length);
  g_free(text);
  if (!*doc)
    return false;
  xmlNode *root = xmlDocGetRootElement(*doc);
  if (!root || strcmp(node_name(root), "svg") != 0)
    return reader_fail(r, CASE_ERROR_NAMESPACE, root ? node_line(root) : 0,
                       "this is no SVG drawing. Choose a file that begins with <svg>.");
  double scale = user_unit(root);
  if (!(scale > 0))
    return reader_fail(r, CASE_ERROR_VALUE, node_line(root),
                       "width, height or viewBox cannot be read. Write sizes such as "
                       "width=\"20mm\" viewBox=\"0 0 20 10\".");
  const double to_mm[6] = {scale, 0, 0, scale, 0, 0};
  *found = g_array_new(FALSE, TRUE, sizeof(FoundPath));
  return collect(r, root, to_mm, *found);
}

static void svg_close(xmlDoc *doc, GArray *found)
{
  if (found)
    g_array_unref(found);
  document_free(doc);
}

static bool silhouette_read(Reader *r, xmlDoc *doc, const GArray *found, Outline *outline)
{
  if (found->len == 0)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(xmlDocGetRootElement(doc)),
                       "the drawing has no <path>. Turn the shape into a path.");
  const FoundPath *first = &g_array_index(found, FoundPath, 0);
  if (found->len > 1)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(g_array_index(found, FoundPath, 1).node),
                       "the drawing has %u paths. Keep one closed path.", found->len);
  if (!path_outline(r, first, outline))
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
  xmlDoc *doc = NULL;
  GArray *found = NULL;
  Outline read;
  outline_init(&read);
  if (svg_open(&r, path, &doc, &found) && silhouette_read(&r, doc, found, &read)) {
    outline_clear(outline);
    *outline = read;
  } else {
    outline_clear(&read);
  }
  svg_close(doc, found);
  return !r.failed;
}

/* ---- four outlines of a connector ---- */

/* The one path with this id; NULL where there is none.  False when there are two. */
static bool path_find(Reader *r, const GArray *found, const char *name, const FoundPath **own)
{
  *own = NULL;
  for (guint i = 0; i < found->len; i++) {
    const FoundPath *path = &g_array_index(found, FoundPath, i);
    g_autofree char *id = node_attribute(path->node, "id");
    bool match = id && strcmp(id, name) == 0;
    if (match && *own)
      return reader_fail(r, CASE_ERROR_VALUE, node_line(path->node),
                         "two paths are called \"%s\". Delete one.", name);
    if (match)
      *own = path;
  }
  return true;
}

static bool side_read(Reader *r, xmlDoc *doc, const GArray *found, int side, Outline *outline)
{
  const char *name = word_of(WORDS_SIDE, side);
  const FoundPath *own;
  if (!path_find(r, found, name, &own))
    return false;
  if (!own)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(xmlDocGetRootElement(doc)),
                       "the drawing has no path with id=\"%s\". Name the four paths gingival, "
                       "occlusal, buccal and lingual.",
                       name);
  if (!path_outline(r, own, outline))
    return false;
  if (outline->closed)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(own->node),
                       "the path \"%s\" is closed. Draw it open, from one unit to the other.",
                       name);
  if (outline->knot[0].at.x > outline->knot[outline->n - 1].at.x)
    outline_reverse(outline);
  return true;
}

/* z = 0 is the middle of the drawn section, wherever it stands on the sheet. */
static bool section_read(Reader *r, const GArray *found, Outline *section)
{
  const FoundPath *own;
  if (!path_find(r, found, "section", &own))
    return false;
  if (!own)
    return true;
  if (!path_outline(r, own, section))
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

bool svg_load_connector(const char *path, Outline side[SIDE_N], Outline *section, GError **error)
{
  Reader r = {path, error, false};
  xmlDoc *doc = NULL;
  GArray *found = NULL;
  Outline read[SIDE_N], drawn;
  outline_init(&drawn);
  for (int i = 0; i < SIDE_N; i++)
    outline_init(&read[i]);
  bool good = svg_open(&r, path, &doc, &found);
  for (int i = 0; i < SIDE_N && good; i++)
    good = side_read(&r, doc, found, i, &read[i]);
  good = good && section_read(&r, found, &drawn);
  if (good && !(middle_y(&read[SIDE_GINGIVAL]) < middle_y(&read[SIDE_OCCLUSAL])))
    good = reader_fail(&r, CASE_ERROR_VALUE, 0,
                       "the gingival path does not lie below the occlusal one. Exchange their ids "
                       "or turn the drawing.");
  if (good && !(middle_y(&read[SIDE_LINGUAL]) < middle_y(&read[SIDE_BUCCAL])))
    good = reader_fail(&r, CASE_ERROR_VALUE, 0,
                       "the lingual path does not lie below the buccal one. Exchange their ids or "
                       "turn the drawing.");
  if (good) {
    /* z = 0 is the middle of the neck, wherever the plan was drawn on the sheet */
    double middle = (extreme_y(&read[SIDE_BUCCAL], -1) + extreme_y(&read[SIDE_LINGUAL], 1)) / 2;
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
  svg_close(doc, found);
  return good;
}
