/* svg_shape.c - the basic shapes of SVG as path data.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * SVG 1.1 (second edition), chapter 9 (from memory): start, direction and corners are those of the
 * text. */
#include "casefile/svg_document.h"
#include "casefile/svg_transform.h"
#include <libxml/tree.h>
#include <string.h>

static const char *const shape_name[] = {"path", "line",   "polyline", "polygon",
                                         "rect", "circle", "ellipse"};

bool svg_is_shape(const char *name)
{
  for (size_t i = 0; i < G_N_ELEMENTS(shape_name); i++)
    if (strcmp(shape_name[i], name) == 0)
      return true;
  return false;
}

/* Absent: 0, or NaN where that means something else. */
static bool length_read(Reader *r, xmlNode *node, const char *name, double absent, double *value)
{
  g_autofree char *text = node_attribute(node, name);
  *value = absent;
  if (!text)
    return true;
  *value = svg_length_user(text);
  if (isfinite(*value))
    return true;
  return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                     "%s=\"%.40s\" is no length. Write a number such as %s=\"2.5\".", name, text,
                     name);
}

static void put(GString *d, const char *format, const double v[], int n)
{
  char number[32];
  for (int i = 0; *format; format++) {
    if (*format != '#')
      g_string_append_c(d, *format);
    else if (i < n)
      g_string_append(d, number_to_text(v[i++], number));
  }
}

static char *ellipse_path(double cx, double cy, double rx, double ry)
{
  const double v[] = {cx + rx, cy, rx, ry, cx,      cy + ry, rx, ry,      cx - rx,
                      cy,      rx, ry, cx, cy - ry, rx,      ry, cx + rx, cy};
  GString *d = g_string_new(NULL);
  put(d, "M # # A # # 0 0 1 # # A # # 0 0 1 # # A # # 0 0 1 # # A # # 0 0 1 # # Z", v,
      G_N_ELEMENTS(v));
  return g_string_free(d, FALSE);
}

static char *rect_path(double x, double y, double w, double h, double rx, double ry)
{
  rx = fmin(isnan(rx) ? (isnan(ry) ? 0 : ry) : rx, w / 2);
  ry = fmin(isnan(ry) ? rx : ry, h / 2);
  GString *d = g_string_new(NULL);
  if (!(rx > 0 && ry > 0)) {
    const double v[] = {x, y, x + w, y + h, x};
    put(d, "M # # H # V # H # Z", v, G_N_ELEMENTS(v));
  } else {
    const double v[] = {x + rx,     y,      x + w - rx, rx,    ry,     x + w, y + ry, y + h - ry,
                        rx,         ry,     x + w - rx, y + h, x + rx, rx,    ry,     x,
                        y + h - ry, y + ry, rx,         ry,    x + rx, y};
    put(d,
        "M # # H # A # # 0 0 1 # # V # A # # 0 0 1 # # H # A # # 0 0 1 # # V # A # # 0 0 1 # # Z",
        v, G_N_ELEMENTS(v));
  }
  return g_string_free(d, FALSE);
}

static char *no_size(Reader *r, xmlNode *node)
{
  reader_fail(r, CASE_ERROR_VALUE, node_line(node),
              "this <%s> has no size. Give it one or delete it.", node_name(node));
  return NULL;
}

char *svg_shape_path(Reader *r, xmlNode *node)
{
  const char *name = node_name(node);
  double v[6];
  bool good = true;
  if (strcmp(name, "path") == 0) {
    char *d = node_attribute(node, "d");
    if (!d)
      reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                  "this <path> has no data. Add d=\"M x y ...\" or delete it.");
    return d;
  }
  if (g_str_has_prefix(name, "poly")) {
    g_autofree char *points = node_attribute(node, "points");
    if (points)
      return g_strdup_printf("M %s%s", points, strcmp(name, "polygon") == 0 ? " Z" : "");
    return no_size(r, node);
  }
  static const char *const attribute[][6] = {{"x1", "y1", "x2", "y2"},
                                             {"x", "y", "width", "height", "rx", "ry"},
                                             {"cx", "cy", "r"},
                                             {"cx", "cy", "rx", "ry"}};
  int kind = strcmp(name, "line") == 0     ? 0
             : strcmp(name, "rect") == 0   ? 1
             : strcmp(name, "circle") == 0 ? 2
                                           : 3;
  for (size_t i = 0; i < 6 && attribute[kind][i] && good; i++)
    good = length_read(r, node, attribute[kind][i], kind == 1 && i > 3 ? NAN : 0, &v[i]);
  if (!good)
    return NULL;
  if (kind == 0) {
    GString *d = g_string_new(NULL);
    put(d, "M # # L # #", v, 4);
    return g_string_free(d, FALSE);
  }
  if (!(v[2] > 0) || (kind != 2 && !(v[3] > 0)))
    return no_size(r, node);
  return kind == 1   ? rect_path(v[0], v[1], v[2], v[3], v[4], v[5])
         : kind == 2 ? ellipse_path(v[0], v[1], v[2], v[2])
                     : ellipse_path(v[0], v[1], v[2], v[3]);
}
