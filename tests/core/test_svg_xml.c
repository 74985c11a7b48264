/* test_svg_xml.c - outlines from SVG: transforms, units, sides, messages.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/svg_xml.h"
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#define SVG "<svg xmlns=\"http://www.w3.org/2000/svg\" "

static char *drawing;

static bool load(const char *text, Outline *outline, GError **error)
{
  g_assert_true(g_file_set_contents(drawing, text, -1, NULL));
  return svg_load_silhouette(drawing, outline, error);
}

static void assert_knot(const Outline *o, size_t i, double x, double y)
{
  g_assert_cmpfloat_with_epsilon(o->knot[i].at.x, x, 1e-9);
  g_assert_cmpfloat_with_epsilon(o->knot[i].at.y, y, 1e-9);
}

/* Clockwise on the sheet is clockwise to the eye: it must come out counter-clockwise with y up. */
static void test_silhouette(void)
{
  Outline o;
  outline_init(&o);
  GError *error = NULL;
  load(SVG "><g><path d=\"M 1 1 H 5 V 3 H 1 Z\"/></g></svg>", &o, &error);
  g_assert_no_error(error);
  g_assert_true(o.closed);
  g_assert_cmpfloat_with_epsilon(outline_area(&o), 8, 1e-9);
  load(SVG "><path d=\"M 1 1 V 3 H 5 V 1 Z\"/></svg>", &o, &error);
  g_assert_no_error(error);
  g_assert_cmpfloat_with_epsilon(outline_area(&o), 8, 1e-9);
  double top = -INFINITY;
  for (size_t i = 0; i < o.n; i++)
    top = fmax(top, o.knot[i].at.y);
  g_assert_cmpfloat_with_epsilon(top, -1, 1e-9);
  outline_clear(&o);
}

/* One corner (1, 0) followed through each transform; expected by hand from the definitions of SVG.
 */
static void test_transforms(void)
{
  static const struct {
    const char *group, *path;
    double x, y; /* y up */
  } known[] = {
      {"", "", 1, 0},
      {"translate(2,3)", "", 3, -3},
      {"translate(2)", "", 3, 0},
      {"scale(2)", "", 2, 0},
      {"translate(1 1) scale(3, 2)", "translate(1,1)", 7, -3},
      {"rotate(90)", "", 0, -1},
      {"rotate(90, 1, 1)", "", 2, -1},
      {"skewX(45)", "translate(0 1)", 2, -1},
      {"skewY(45)", "", 1, -1},
      {"matrix(0 1 -1 0 5 6)", "", 5, -7},
      {" translate( 1e0 , -2 ),scale(1) ", "", 2, 2},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(known); i++) {
    Outline o;
    outline_init(&o);
    GError *error = NULL;
    char *text = g_strdup_printf(
        SVG
        "><g transform=\"%s\"><g><path transform=\"%s\" d=\"M 1 0 L 1 4 L 4 4 Z\"/></g></g></svg>",
        known[i].group, known[i].path);
    load(text, &o, &error);
    g_assert_no_error(error);
    bool found = false;
    for (size_t k = 0; k < o.n; k++)
      found = found || (fabs(o.knot[k].at.x - known[i].x) < 1e-9 &&
                        fabs(o.knot[k].at.y - known[i].y) < 1e-9);
    if (!found)
      g_error("\"%s\" then \"%s\": (%g, %g) is not there", known[i].group, known[i].path,
              known[i].x, known[i].y);
    g_free(text);
    outline_clear(&o);
  }
}

static void test_units(void)
{
  static const struct {
    const char *root;
    double area; /* of a 2 by 2 square in user units */
  } known[] = {
      {"", 4},
      {"viewBox=\"0 0 20 10\"", 4},
      {"width=\"20\" height=\"10\"", 4},
      {"width=\"20mm\" height=\"10mm\"", 4},
      {"width=\"20mm\" height=\"10mm\" viewBox=\"0 0 20 10\"", 4},
      {"width=\"20mm\" height=\"10mm\" viewBox=\"0 0 200 100\"", 0.04},
      {"width=\"20\" height=\"10\" viewBox=\"0,0,40,20\"", 1},
      {"width=\"2cm\" viewBox=\"0 0 20 10\"", 4},
      {"width=\"1in\" height=\"1in\" viewBox=\"0 0 25.4 25.4\"", 4},
      {"width=\"96px\" height=\"96px\" viewBox=\"0 0 25.4 25.4\"", 4},
      {"width=\"72pt\" height=\"6pc\" viewBox=\"0 0 25.4 25.4\"", 4},
      {"width=\"100%\" height=\"100%\" viewBox=\"0 0 20 10\"", 4},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(known); i++) {
    Outline o;
    outline_init(&o);
    GError *error = NULL;
    char *text = g_strdup_printf(SVG "%s><path d=\"M 1 1 H 3 V 3 H 1 Z\"/></svg>", known[i].root);
    load(text, &o, &error);
    g_assert_no_error(error);
    g_assert_cmpfloat_with_epsilon(outline_area(&o), known[i].area, 1e-9);
    g_free(text);
    outline_clear(&o);
  }
}

static void test_passed_over(void)
{
  Outline o;
  outline_init(&o);
  GError *error = NULL;
  load("<?xml version=\"1.0\"?>\n<!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" "
       "\"http://example.invalid/svg11.dtd\">\n" SVG
       "xmlns:k=\"http://example.invalid/k\"><defs><path d=\"M 0 0 H 1\"/></defs><clipPath><path "
       "d=\"M0 0H1\"/></clipPath>"
       "<k:view k:zoom=\"3\"/><text>10</text><path d=\"M 1 1 H 3 V 3 Z\"/></svg>",
       &o, &error);
  g_assert_no_error(error);
  g_assert_cmpfloat_with_epsilon(outline_area(&o), 2, 1e-9);
  outline_clear(&o);
}

static void assert_refused(bool loaded, GError *error, long line, const char *what, const char *act)
{
  g_assert_false(loaded);
  g_assert_nonnull(error);
  g_test_message("%s", error->message);
  g_assert_true(error->domain == CASE_ERROR);
  char *start =
      line ? g_strdup_printf("%s:%ld: ", drawing, line) : g_strdup_printf("%s: ", drawing);
  if (!g_str_has_prefix(error->message, start) || !strstr(error->message, what) ||
      !strstr(error->message, act))
    g_error("\"%s\" does not begin with \"%s\" or lacks \"%s\" or \"%s\"", error->message, start,
            what, act);
  g_free(start);
  g_error_free(error);
}

static void test_bad_silhouettes(void)
{
  static const struct {
    const char *text;
    long line;
    const char *what, *act;
  } bad[] = {
      {"", 0, "empty", "backup"},
      {"<svg", 1, "no whole XML", "mend"},
      {"<html/>", 1, "no SVG", "Choose"},
      {SVG "/>", 1, "no <path>", "Turn"},
      {SVG ">\n<path/></svg>", 2, "no data", "Add d="},
      {SVG ">\n<path d=\"M 0 0 L 1 1 K 2 2\"/></svg>", 2, "wrong at character 13", "Draw one line"},
      {SVG ">\n<path d=\"M 0 0 H 1 V 1 Z M 3 3 H 4 V 4 Z\"/></svg>", 2, "second part",
       "without breaks"},
      {SVG ">\n<path d=\"M 0 0 H 1 V 1\"/></svg>", 2, "open", "Z"},
      {SVG ">\n<path d=\"M 0 0 H 1 V 1 Z\"/>\n<path d=\"M 0 0 H 1 V 1 Z\"/></svg>", 3, "2 paths",
       "Keep one"},
      {SVG ">\n<path d=\"M 0 0 H 900 V 1 Z\"/></svg>", 2, "200 mm", "viewBox"},
      {SVG ">\n<path d=\"M 0 0 H nan V 1 Z\"/></svg>", 2, "wrong at character", "Draw"},
      {SVG ">\n<g transform=\"turn(3)\"><path d=\"M 0 0 H 1 V 1 Z\"/></g></svg>", 2,
       "transform of <g>", "flatten"},
      {SVG ">\n<g transform=\"rotate(1,2)\"><path d=\"M 0 0 H 1 V 1 Z\"/></g></svg>", 2,
       "transform of <g>", "flatten"},
      {SVG ">\n<g transform=\"scale(1e300)\"><path d=\"M 0 0 H 1 V 1 Z\"/></g></svg>", 2, "200 mm",
       "viewBox"},
      {SVG ">\n<g transform=\"scale(0)\"><path d=\"M 0 0 H 1 V 1 Z\"/></g></svg>", 2, "too short",
       "again"},
      {SVG "viewBox=\"0 0 0 0\"><path d=\"M 0 0 H 1 V 1 Z\"/></svg>", 1, "viewBox", "Write sizes"},
      {SVG "width=\"wide\" viewBox=\"0 0 1 1\"><path d=\"M 0 0 H 1 V 1 Z\"/></svg>", 1, "width",
       "Write sizes"},
      {"<!DOCTYPE svg [<!ENTITY a \"b\">]>\n" SVG "><path d=\"&a;\"/></svg>", 0, "entities",
       "plain XML"},
  };
  Outline o;
  outline_init(&o);
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    GError *error = NULL;
    bool loaded = load(bad[i].text, &o, &error);
    assert_refused(loaded, error, bad[i].line, bad[i].what, bad[i].act);
    g_assert_cmpuint(o.n, ==, 0);
  }
  outline_clear(&o);
}

/* ---- connectors ---- */

#define ELEVATION                                                                                  \
  "<path id=\"gingival\" d=\"M 8 10 L 5 8 L 2 10\"/>\n<path id=\"occlusal\" d=\"M 2 2 L 5 4 L 8 "  \
  "2\"/>\n"

#define PLAN                                                                                       \
  "<path id=\"buccal\" d=\"M 2 21 L 5 23.4 L 8 21\"/><path id=\"lingual\" d=\"M 2 30 L 5 26.6 L "  \
  "8 "                                                                                             \
  "30\"/>\n"

static bool load_connector(const char *paths, Outline side[SIDE_N], Outline *section,
                           GError **error)
{
  char *text = g_strconcat(SVG ">\n", paths, "</svg>", NULL);
  g_assert_true(g_file_set_contents(drawing, text, -1, NULL));
  g_free(text);
  return svg_load_connector(drawing, side, section, error);
}

static void test_connector(void)
{
  Outline side[SIDE_N], section;
  outline_init(&section);
  for (int i = 0; i < SIDE_N; i++)
    outline_init(&side[i]);
  GError *error = NULL;
  /* the plan drawn 20 below the elevation: middle of the neck at 25 */
  load_connector(ELEVATION "<path id=\"buccal\" d=\"M 2 21 L 5 23.4 L 8 21\"/><path id=\"lingual\" "
                           "d=\"M 2 30 L 5 26.6 L 8 30\"/>",
                 side, &section, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(section.n, ==, 0);
  assert_knot(&side[SIDE_GINGIVAL], 0, 2, -10); /* turned to run from small to large x */
  assert_knot(&side[SIDE_GINGIVAL], 1, 5, -8);
  assert_knot(&side[SIDE_OCCLUSAL], 1, 5, -4);
  assert_knot(&side[SIDE_BUCCAL], 1, 5, 1.6);
  assert_knot(&side[SIDE_BUCCAL], 0, 2, 4);
  assert_knot(&side[SIDE_LINGUAL], 1, 5, -1.6);
  assert_knot(&side[SIDE_LINGUAL], 2, 8, -5);
  /* a section anywhere on the sheet: cheek to the right, biting side up, its middle z = 0 */
  load_connector(ELEVATION PLAN "<path id=\"section\" d=\"M 20 8 H 24 L 23 4 H 21 Z\"/>", side,
                 &section, &error);
  g_assert_no_error(error);
  g_assert_true(section.closed);
  g_assert_cmpuint(section.n, ==, 4);
  assert_knot(&section, 0, -2, -8);
  assert_knot(&section, 2, 1, -4);
  outline_clear(&section);
  for (int i = 0; i < SIDE_N; i++)
    outline_clear(&side[i]);
}

static void test_bad_connectors(void)
{
  static const struct {
    const char *paths;
    long line;
    const char *what, *act;
  } bad[] = {
      {ELEVATION "<path id=\"buccal\" d=\"M 2 1 L 8 1\"/>", 1, "id=\"lingual\"",
       "Name the four paths"},
      {ELEVATION
       "<path id=\"buccal\" d=\"M 2 1 L 8 1\"/>\n<path id=\"lingual\" d=\"M 2 5 H 8 V 8 Z\"/>",
       5, "closed", "Draw it open"},
      {ELEVATION "<path id=\"buccal\" d=\"M 2 1 L 8 1\"/>\n<path id=\"gingival\" d=\"M 2 5 H 8\"/>",
       5, "two paths", "Delete"},
      {ELEVATION "<path id=\"buccal\" d=\"M 2 5 L 8 5\"/><path id=\"lingual\" d=\"M 2 1 L 8 1\"/>",
       0, "lingual", "Exchange"},
      {"<path id=\"occlusal\" d=\"M 8 10 L 5 8 L 2 10\"/><path id=\"gingival\" d=\"M 2 2 L 5 4 L 8 "
       "2\"/>"
       "<path id=\"buccal\" d=\"M 2 1 L 8 1\"/><path id=\"lingual\" d=\"M 2 5 L 8 5\"/>",
       0, "gingival", "Exchange"},
      {ELEVATION PLAN "<path id=\"section\" d=\"M 20 8 H 24 L 23 4 H 21\"/>", 5, "is open",
       "Close it"},
      {ELEVATION PLAN "<path id=\"section\" d=\"M 20 8 L 24 4 L 24 8 L 20 4 Z\"/>", 5,
       "crosses itself", "one plain loop"},
      {ELEVATION PLAN "<path id=\"section\" d=\"M 20 8 H 24 L 20 4 Z\"/>", 5,
       "at 20.00, 8.00 mm: The section does not go around its middle", "Move it"},
      {ELEVATION PLAN "<path id=\"section\" d=\"M 20 8 H 24 V 4 H 23.5 V 7.5 H 20 Z\"/>", 5,
       "its middle", "Move it"},
      {ELEVATION PLAN "<path id=\"section\" d=\"M 20 8 H 24 L 20 4 Z\"/>\n<path id=\"section\" "
                      "d=\"M 20 8 H 24 L 22 4 Z\"/>",
       6, "two paths", "Delete"},
  };
  Outline side[SIDE_N], section;
  outline_init(&section);
  for (int i = 0; i < SIDE_N; i++)
    outline_init(&side[i]);
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    GError *error = NULL;
    bool loaded = load_connector(bad[i].paths, side, &section, &error);
    g_assert_cmpuint(section.n, ==, 0);
    assert_refused(loaded, error, bad[i].line, bad[i].what, bad[i].act);
    for (int k = 0; k < SIDE_N; k++)
      g_assert_cmpuint(side[k].n, ==, 0);
  }
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  char *folder = g_dir_make_tmp("soffit-XXXXXX", NULL);
  drawing = g_build_filename(folder, "drawing.svg", NULL);
  g_test_add_func("/svg_xml/silhouette", test_silhouette);
  g_test_add_func("/svg_xml/transforms", test_transforms);
  g_test_add_func("/svg_xml/units", test_units);
  g_test_add_func("/svg_xml/passed over", test_passed_over);
  g_test_add_func("/svg_xml/bad silhouettes", test_bad_silhouettes);
  g_test_add_func("/svg_xml/connector", test_connector);
  g_test_add_func("/svg_xml/bad connectors", test_bad_connectors);
  int status = g_test_run();
  g_unlink(drawing);
  g_rmdir(folder);
  g_free(drawing);
  g_free(folder);
  return status;
}
