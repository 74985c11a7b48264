/* test_svg_drawing.c - all lines of an SVG drawing, and a connector written and read back.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shapes, transforms and lengths: W3C SVG 1.1 (second edition), chapters 7 and 9 (from memory). */
#include "casefile/svg_xml.h"
#include "casefile/shipped.h"
#include "proof.h"
#include <glib/gstdio.h>
#include <locale.h>

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)
#define HEAD                                                                                       \
  "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" "

static char *drawing;

static SvgDrawing *load(const char *text, GError **error)
{
  g_assert_true(g_file_set_contents(drawing, text, -1, NULL));
  return svg_drawing_load(drawing, error);
}

static SvgDrawing *loaded(const char *text)
{
  GError *error = NULL;
  SvgDrawing *read = load(text, &error);
  g_assert_no_error(error);
  return read;
}

static const SvgLine *line_of(const SvgDrawing *read, guint i)
{
  g_assert_cmpuint(i, <, read->line->len);
  return g_ptr_array_index(read->line, i);
}

static void test_shapes(void)
{
  g_autoptr(SvgDrawing) read =
      loaded(HEAD "><line x1=\"1\" y1=\"2\" x2=\"4\" y2=\"-2\"/>"
                  "<polyline points=\"0,0 3,0 3,4\"/><polygon points=\"0 0 3 0 3 4\"/>"
                  "<rect x=\"1\" y=\"2\" width=\"6\" height=\"4\"/>"
                  "<rect x=\"1\" y=\"2\" width=\"6\" height=\"4\" rx=\"1\"/>"
                  "<rect width=\"6\" height=\"4\" rx=\"9\" ry=\"9\"/>"
                  "<circle cx=\"1\" cy=\"1\" r=\"2.385\"/><ellipse rx=\"3\" ry=\"2\"/></svg>");
  const struct {
    bool closed;
    double length, area;
  } exact[] = {{false, 5, 0},
               {false, 7, 0},
               {true, 12, 6},
               {true, 20, 24},
               {true, 20 - 8 + 2 * G_PI, 24 - 4 + G_PI},
               {true, NAN, 6 * G_PI},
               {true, 2 * G_PI * 2.385, G_PI * 2.385 * 2.385},
               {true, NAN, 6 * G_PI}};
  g_assert_cmpuint(read->line->len, ==, G_N_ELEMENTS(exact));
  for (guint i = 0; i < G_N_ELEMENTS(exact); i++) {
    const Outline *o = &line_of(read, i)->outline;
    g_assert_true(o->closed == exact[i].closed);
    if (isfinite(exact[i].length))
      g_assert_cmpfloat_with_epsilon(outline_length(o), exact[i].length, 1e-4);
    if (o->closed)
      g_assert_cmpfloat_with_epsilon(fabs(outline_area(o)), exact[i].area, 1e-4);
  }
  g_assert_cmpfloat(line_of(read, 0)->outline.knot[1].at.y, ==, 2); /* y up */
}

/* One user unit in mm: CSS 2.1, 4.3.2: 96 px, 72 pt, 6 pc an inch of 25.4 mm. */
static void test_units(void)
{
  static const struct {
    const char *size, *name;
    double mm;
  } row[] = {{"10mm", "mm", 1},    {"1cm", "cm", 1},     {"1in", "in", 2.54},
             {"96px", "px", 2.54}, {"72pt", "pt", 2.54}, {"6pc", "pc", 2.54}};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    g_autofree char *text = g_strdup_printf(
        HEAD "width=\"%s\" viewBox=\"0 0 10 5\"><path d=\"M0 0H7\"/></svg>", row[i].size);
    g_autoptr(SvgDrawing) read = loaded(text);
    g_autofree char *name = g_strdup_printf("one user unit of a drawing %s wide, mm", row[i].size);
    proof_row(name, (Source){"CSS 2.1 4.3.2 lengths", FROM_MEMORY}, row[i].mm,
              outline_length(&line_of(read, 0)->outline) / 7, 1e-9);
  }
  /* lengths of shapes carry units of their own, in px of the user's own units */
  g_autoptr(SvgDrawing) read =
      loaded(HEAD "><line x2=\"1in\"/><line x2=\"10mm\"/><line x2=\"96px\"/></svg>");
  for (guint i = 0; i < 3; i++)
    g_assert_cmpfloat_with_epsilon(outline_length(&line_of(read, i)->outline),
                                   i == 1 ? 10 / 25.4 * 96 : 96, 1e-9);
}

/* Nested groups: SVG 1.1, 7.5: "translate(50,90), rotate(-45), translate(130,160)" are the matrices
 * of its example. */
static void test_nested(void)
{
  g_autoptr(SvgDrawing) read =
      loaded(HEAD "><g transform=\"scale(.1) translate(50,90) scale(.1)\"><g transform=\"scale(10) "
                  "rotate(-45)\"><g "
                  "transform=\"translate(130 160)\"><path d=\"M0 0L1 0\"/></g></g></g></svg>");
  const Outline *o = &line_of(read, 0)->outline;
  proof_row_within("nested transforms, e",
                   (Source){"50 + 290 cos 45: matrices of the example in SVG 1.1, 7.5", EXACT},
                   50 + 290 * sqrt(0.5), 10 * o->knot[0].at.x, 1e-9);
  proof_row_within("nested transforms, f",
                   (Source){"90 + 30 cos 45: matrices of the example in SVG 1.1, 7.5", EXACT},
                   90 + 30 * sqrt(0.5), -10 * o->knot[0].at.y, 1e-9);
}

static void test_left_out(void)
{
  g_autoptr(SvgDrawing) read = loaded(
      HEAD
      "><script xlink:href=\"http://host.invalid/a.js\">while (true);</script>\n"
      "<image xlink:href=\"file:///etc/hostname\" width=\"9\" height=\"9\"/>\n"
      "<defs><path id=\"p\" d=\"M0 0H9\"/></defs><use xlink:href=\"#p\"/><use "
      "xlink:href=\"http://host.invalid/b.svg#p\"/>\n"
      "<g style=\"display:none\"><path d=\"M0 0H8\"/></g><path display=\"none\" d=\"M0 0H8\"/>\n"
      "<path d=\"M0 0H3M0 1H3\"/>\n<path id=\"good\" d=\"M0 0H4\"/><circle r=\"-1\"/></svg>");
  g_assert_cmpuint(read->line->len, ==, 1);
  g_assert_cmpstr(line_of(read, 0)->id, ==, "good");
  g_assert_cmpstr(read->passed, ==, "script, image, use");
  g_assert_cmpuint(read->note->len, ==, 2);
  const char *first = g_ptr_array_index(read->note, 0);
  g_assert_nonnull(strstr(first, ".svg:5: "));
  g_assert_nonnull(strstr(first, "one line without breaks"));
}

static void refused(const char *text, const char *words)
{
  GError *error = NULL;
  g_assert_null(load(text, &error));
  g_assert_error(error, CASE_ERROR, error->code);
  if (!strstr(error->message, words))
    g_error("\"%s\" lacks \"%s\"", error->message, words);
  g_assert_true(g_str_has_prefix(error->message, drawing));
  g_error_free(error);
}

static void test_refused(void)
{
  refused(HEAD "/>", "has no line");
  refused(HEAD "><path d=\"M0 0Q\"/></svg>", "no line of it can be used");
  refused(HEAD "><polyline points=\"0,0 1\"/></svg>", "pairs of numbers");
  refused(HEAD "><line x1=\"wide\"/></svg>", "is no length");
  refused("<!DOCTYPE svg [<!ENTITY a \"ha\"><!ENTITY b \"&a;&a;&a;&a;\"><!ENTITY c "
          "\"&b;&b;&b;&b;\">]>\n" HEAD "><path d=\"&c;\"/></svg>",
          "entities");
  refused("<!DOCTYPE svg [<!ENTITY e SYSTEM \"file:///etc/hostname\">]>\n" HEAD
          "><path d=\"&e;\"/></svg>",
          "entities");
  GString *many = g_string_new(HEAD ">");
  for (int i = 0; i < 2001; i++)
    g_string_append(many, "<path d=\"M0 0H1\"/>");
  g_string_append(many, "</svg>");
  refused(many->str, "more than 2000 lines");
  g_string_assign(many, HEAD "><path d=\"M0 0");
  while (many->len < (5 << 20))
    g_string_append(many, "l1 1-1-1");
  g_string_append(many, "\"/></svg>");
  refused(many->str, "MiB of data");
  g_string_free(many, TRUE);
}

static void demo_open(const char *name, Case *c)
{
  gsize size;
  GBytes *bytes = shipped_file(name);
  GError *error = NULL;
  const char *text = g_bytes_get_data(bytes, &size);
  case_init(c);
  case_load_memory(c, text, size, name, &error);
  g_assert_no_error(error);
  g_bytes_unref(bytes);
}

/* Written, read back: every place within 1e-4 mm, asked for; 1e-6 reached. */
static void test_round_trip(void)
{
  g_auto(GStrv) demo = shipped_demos();
  int n = 0;
  for (char **name = demo; *name; name++) {
    Case c;
    demo_open(*name, &c);
    for (size_t i = 0; i + 1 < c.n_unit; i++, n++) {
      Outline *side = c.connector[i].side, back[SIDE_N], section = {0};
      for (int k = 0; k < SIDE_N; k++)
        outline_init(&back[k]);
      /* cheek and tongue side unlike: the plan's zero is not its middle */
      outline_transform(&side[SIDE_BUCCAL], (const double[6]){1, 0, 0, 1.07, 0, 0.123});
      g_autoptr(GError) error = NULL;
      GString *svg = svg_from_connector(side, "QB-02 35/36 <plan & more>", n % 2);
      g_assert_true(g_file_set_contents(drawing, svg->str, -1, NULL));
      svg_load_connector(drawing, back, &section, &error);
      g_assert_no_error(error);
      g_assert_cmpuint(section.n, ==, 0);
      for (int k = 0; k < SIDE_N; k++) {
        g_assert_cmpuint(side[k].n, ==, back[k].n);
        g_assert_true(outline_equal(&side[k], &back[k], 2e-6));
        outline_clear(&back[k]);
      }
      g_autoptr(SvgDrawing) all = svg_drawing_load(drawing, &error);
      g_assert_no_error(error);
      g_assert_cmpuint(all->line->len, >=, n % 2 ? 5 : 4);
      g_assert_true(isfinite(all->plan_axis));
      g_string_free(svg, TRUE);
    }
    case_clear(&c);
  }
  g_assert_cmpint(n, >, 4);
}

/* width and height say mm, and are those of the viewBox, in every locale. */
static void test_true_size(void)
{
  Case c;
  demo_open("demo/QB-02.xml", &c);
  const Outline *side = c.connector[0].side;
  g_autofree char *before = g_strdup(setlocale(LC_NUMERIC, NULL));
  setlocale(LC_NUMERIC, "de_DE.UTF-8");
  GString *svg = svg_from_connector(side, "", true);
  setlocale(LC_NUMERIC, before);
  double w = 0, h = 0, box[4];
  g_assert_cmpint(sscanf(strstr(svg->str, "width="),
                         "width=\"%lfmm\" height=\"%lfmm\" viewBox=\"%lf %lf %lf %lf\"", &w, &h,
                         &box[0], &box[1], &box[2], &box[3]),
                  ==, 6);
  g_assert_cmpfloat(w, ==, box[2]);
  g_assert_cmpfloat(h, ==, box[3]);
  g_assert_cmpfloat(w, >=, side[0].knot[side[0].n - 1].at.x - side[0].knot[0].at.x + 2);
  g_assert_nonnull(strstr(svg->str, "id=\"tissue\""));
  g_string_free(svg, TRUE);
  case_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  char *folder = g_dir_make_tmp("soffit-XXXXXX", NULL);
  drawing = g_build_filename(folder, "drawing.svg", NULL);
  g_test_add_func("/svg_drawing/shapes", test_shapes);
  g_test_add_func("/svg_drawing/units", test_units);
  g_test_add_func("/svg_drawing/nested", test_nested);
  g_test_add_func("/svg_drawing/left out", test_left_out);
  g_test_add_func("/svg_drawing/refused", test_refused);
  g_test_add_func("/svg_drawing/round trip", test_round_trip);
  g_test_add_func("/svg_drawing/true size", test_true_size);
  int status = g_test_run();
  g_unlink(drawing);
  g_rmdir(folder);
  g_free(drawing);
  g_free(folder);
  return status;
}
