/* svg_document.c - an SVG file opened, its groups followed, its lines listed.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Transforms of groups and lines are followed; what is not drawn (definitions, clips, masks,
 * display="none") is passed over.  Nothing outside the file is ever fetched, no script run, no
 * entity put in: elements that would need that are named and left out.  y is flipped to point up.
 */
#include "casefile/svg_document.h"
#include "base/tolerance.h"
#include "casefile/svg_transform.h"
#include <libxml/tree.h>
#include <string.h>

static bool one_of(const char *name, const char *const list[], size_t n)
{
  for (size_t i = 0; i < n; i++)
    if (strcmp(name, list[i]) == 0)
      return true;
  return false;
}

static bool is_drawn(xmlNode *node)
{
  static const char *const hidden[] = {"defs", "clipPath", "symbol", "marker", "mask", "pattern"};
  if (one_of(node_name(node), hidden, G_N_ELEMENTS(hidden)))
    return false;
  g_autofree char *display = node_attribute(node, "display"),
                  *style = node_attribute(node, "style");
  return !(display && strcmp(display, "none") == 0) &&
         !(style && (strstr(style, "display:none") || strstr(style, "display: none")));
}

/* Elements that draw, or do, what is not read here. */
static bool is_foreign(const char *name)
{
  static const char *const foreign[] = {"script", "image", "use", "foreignObject", "text"};
  return one_of(name, foreign, G_N_ELEMENTS(foreign));
}

static void pass_over(SvgDocument *svg, const char *name)
{
  for (guint i = 0; i < svg->passed->len; i++)
    if (strcmp(g_ptr_array_index(svg->passed, i), name) == 0)
      return;
  g_ptr_array_add(svg->passed, g_strdup(name));
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
static bool collect(Reader *r, xmlNode *group, const double outer[6], SvgDocument *svg)
{
  for (xmlNode *node = node_child(group, NULL); node; node = node_next(node, NULL)) {
    SvgFound found = {.node = node};
    const char *name = node_name(node);
    if (!is_drawn(node))
      continue;
    if (is_foreign(name)) {
      pass_over(svg, name);
      continue;
    }
    if (!own_transform(r, node, outer, found.matrix))
      return false;
    if (!svg_is_shape(name)) {
      if (!collect(r, node, found.matrix, svg))
        return false;
    } else if (svg->found->len == SVG_LINES_MOST) {
      return reader_fail(r, CASE_ERROR_TOO_LARGE, node_line(node),
                         "the drawing has more than %u lines. Keep those of one connector.",
                         SVG_LINES_MOST);
    } else {
      g_array_append_val(svg->found, found);
    }
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

bool svg_document_open(Reader *r, const char *path, SvgDocument *svg)
{
  char *text;
  size_t length;
  svg->found = g_array_new(FALSE, TRUE, sizeof(SvgFound));
  svg->passed = g_ptr_array_new_with_free_func(g_free);
  if (!document_read_file(path, &text, &length, r->error)) {
    r->failed = true;
    return false;
  }
  svg->doc = document_parse(r, text, length);
  g_free(text);
  if (!svg->doc)
    return false;
  xmlNode *root = xmlDocGetRootElement(svg->doc);
  if (!root || strcmp(node_name(root), "svg") != 0)
    return reader_fail(r, CASE_ERROR_NAMESPACE, root ? node_line(root) : 0,
                       "this is no SVG drawing. Choose a file that begins with <svg>.");
  double scale = user_unit(root);
  if (!(scale > 0))
    return reader_fail(r, CASE_ERROR_VALUE, node_line(root),
                       "width, height or viewBox cannot be read. Write sizes such as "
                       "width=\"20mm\" viewBox=\"0 0 20 10\".");
  const double to_mm[6] = {scale, 0, 0, scale, 0, 0};
  return collect(r, root, to_mm, svg);
}

void svg_document_clear(SvgDocument *svg)
{
  g_clear_pointer(&svg->found, g_array_unref);
  g_clear_pointer(&svg->passed, g_ptr_array_unref);
  document_free(svg->doc);
  svg->doc = NULL;
}

bool svg_document_outline(Reader *r, const SvgFound *found, Outline *outline)
{
  long line = node_line(found->node);
  size_t bad_at = 0;
  g_autofree char *d = svg_shape_path(r, found->node);
  if (!d)
    return false;
  if (strlen(d) > SVG_PATH_BYTES_MOST)
    return reader_fail(r, CASE_ERROR_TOO_LARGE, line,
                       "this line has more than %zu MiB of data. Simplify it in the drawing "
                       "program.",
                       SVG_PATH_BYTES_MOST >> 20);
  Fault fault = outline_from_path(outline, d, &bad_at);
  if (fault == FAULT_RANGE && strcmp(node_name(found->node), "path") != 0)
    return reader_fail(r, CASE_ERROR_VALUE, line,
                       "the points of this <%s> cannot be read. Write pairs of numbers, such as "
                       "points=\"0,0 2,1\".",
                       node_name(found->node));
  if (fault)
    return reader_fail(r, CASE_ERROR_VALUE, line,
                       "the path data is wrong at character %zu, or has a second part there. Draw "
                       "one line without breaks.",
                       bad_at + 1);
  const double flip[6] = {1, 0, 0, -1, 0, 0};
  double matrix[6];
  svg_matrix_multiply(flip, found->matrix, matrix);
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
