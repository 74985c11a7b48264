/* test_stl.c - STL files, whole and spoiled.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "proof.h"
#include "surfaces.h"
#include <locale.h>

static Vec3 tube_point(double x, double phi, const void *data)
{
  double r = *(const double *)data;
  return (Vec3){x, r * sin(phi), r * cos(phi)};
}

static const double R = 3;
#define AROUND 64

static Facets cylinder(bool open_ends)
{
  Facets s = surface_new();
  surface_tube(&s, tube_point, &R, 0, 20, 10, AROUND, open_ends);
  return s;
}

static Fault read_file(GString *file, StlUnit unit, Mesh *mesh, StlReport *report)
{
  Fault fault = stl_read(file->str, file->len, unit, NULL, mesh, report);
  g_string_free(file, TRUE);
  return fault;
}

static void check_whole(const Mesh *mesh, const StlReport *report)
{
  const MeshState *s = &report->state;
  g_assert_cmpuint(mesh->n, ==, 2 * AROUND * 10 + 2 * AROUND);
  g_assert_cmpuint(mesh->n_at, ==, AROUND * 11 + 2);
  g_assert_cmpuint(s->flat + s->open + s->crowded + s->turned, ==, 0);
  g_assert_false(s->inside_out);
  g_assert_cmpuint(report->n_note, ==, 0);
  /* the volume of the prism that the tessellation is, exactly */
  double prism = 20 * AROUND / 2.0 * R * R * sin(2 * G_PI / AROUND);
  proof_row("volume of a tessellated cylinder, mm3",
            (Source){"prism: n/2 r^2 sin(2 pi/n) times its length", EXACT}, prism, s->volume, 1e-4);
}

static void test_binary(void)
{
  Facets s = cylinder(false);
  Mesh mesh = {0};
  StlReport report;
  GString *file = surface_binary(&s);
  memcpy(file->str, "solid but binary", 16); /* as many programs write it */
  g_assert_cmpint(read_file(file, STL_UNIT_GUESS, &mesh, &report), ==, FAULT_NONE);
  g_assert_false(report.text);
  g_assert_cmpint(report.unit, ==, STL_UNIT_MM);
  check_whole(&mesh, &report);
  mesh_clear(&mesh);
  surface_free(&s);
}

static void test_text(void)
{
  Facets s = cylinder(false);
  Mesh mesh = {0};
  StlReport report;
  g_assert_cmpint(read_file(surface_text(&s), STL_UNIT_GUESS, &mesh, &report), ==, FAULT_NONE);
  g_assert_true(report.text);
  check_whole(&mesh, &report);
  GString *odd = surface_text(&s); /* capitals, tabs, other line ends, a mark in front */
  g_string_ascii_up(odd);
  for (char *c = odd->str; *c; c++)
    *c = *c == ' ' ? '\t' : *c == '\n' ? '\r' : *c;
  g_string_prepend(odd, "\xef\xbb\xbf  ");
  for (char *c = odd->str; (c = strstr(c, "TEST\r")); c += 4)
    c[4] = '\n'; /* a name ends with its line */
  g_assert_cmpint(read_file(odd, STL_UNIT_GUESS, &mesh, &report), ==, FAULT_NONE);
  check_whole(&mesh, &report);
  const char *had = setlocale(LC_NUMERIC, NULL);
  g_autofree char *before = g_strdup(had);
  setlocale(LC_NUMERIC, "de_DE.UTF-8"); /* where there is one */
  g_assert_cmpint(read_file(surface_text(&s), STL_UNIT_GUESS, &mesh, &report), ==, FAULT_NONE);
  check_whole(&mesh, &report);
  setlocale(LC_NUMERIC, before);
  mesh_clear(&mesh);
  surface_free(&s);
}

/* Numbers of the text form against the C library's, to the last bit of a float. */
static void test_numbers(void)
{
  static const char *const number[] = {"1.5",
                                       "-2.385e+01",
                                       "3E-3",
                                       "0.1",
                                       "123456.78",
                                       "1e-7",
                                       "-.25",
                                       "7.",
                                       "+4.5",
                                       "0.000000000000000000001",
                                       "16777217.0e-3",
                                       "1.17549435e-7",
                                       "0.30000001192092896"};
  for (size_t i = 0; i < G_N_ELEMENTS(number); i++) {
    Facets s = cylinder(false);
    GString *file = surface_text(&s);
    surface_free(&s);
    char *first = strstr(file->str, "vertex ");
    char *end = strchr(first + 7, ' ');
    size_t at = (size_t)(first + 7 - file->str);
    g_string_erase(file, (gssize)at, end - (first + 7));
    g_string_insert(file, (gssize)at, number[i]);
    Mesh mesh = {0};
    StlReport report;
    Fault fault = read_file(file, STL_UNIT_MM, &mesh, &report);
    float want = (float)g_ascii_strtod(number[i], NULL);
    if (fabsf(want) > 300) {
      g_assert_cmpint(fault, ==, FAULT_RANGE);
      continue;
    }
    g_assert_cmpint(fault, ==, FAULT_NONE);
    g_assert_cmpfloat((float)mesh.at[mesh.triangle[0].v[0]].x, ==, want);
    mesh_clear(&mesh);
  }
}

static bool has_note(const StlReport *report, const char *words, double value0)
{
  for (size_t i = 0; i < report->n_note; i++)
    if (strstr(report->note[i].text, words) && fabs(report->note[i].value[0] - value0) < 1e-6)
      return true;
  return false;
}

static void test_units(void)
{
  const struct {
    double k;
    StlUnit unit;
    const char *words;
  } row[] = {{1, STL_UNIT_MM, NULL},
             {1 / 25.4, STL_UNIT_INCH, "inches"},
             {1e-3, STL_UNIT_METRE, "metres"}};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    Facets s = cylinder(false);
    Mesh mesh = {0};
    StlReport report;
    float *c = (float *)(void *)s.corner->data;
    for (size_t k = 0; k < 3 * s.corner->len; k++)
      c[k] = (float)(c[k] * row[i].k);
    g_assert_cmpint(read_file(surface_binary(&s), STL_UNIT_GUESS, &mesh, &report), ==, FAULT_NONE);
    g_assert_cmpint(report.unit, ==, row[i].unit);
    g_assert_cmpfloat_with_epsilon(report.state.high.x - report.state.low.x, 20, 1e-4);
    if (row[i].words)
      g_assert_nonnull(strstr(report.note[0].text, row[i].words));
    Fault as_mm = read_file(surface_binary(&s), STL_UNIT_MM, &mesh, &report);
    g_assert_cmpint(as_mm, ==, i == 0 ? FAULT_NONE : FAULT_RANGE);
    if (as_mm)
      g_assert_nonnull(strstr(report.wrong.text, "set the unit"));
    mesh_clear(&mesh);
    surface_free(&s);
  }
}

/* What is wrong with the surface is counted and the first triangle named. */
static void test_states(void)
{
  Facets s = cylinder(false);
  StlReport report;
  Mesh mesh = {0};
  float *c = (float *)(void *)s.corner->data;
  const float keep[9] = {c[9 * 4],     c[9 * 4 + 1], c[9 * 4 + 2], c[9 * 4 + 3], c[9 * 4 + 4],
                         c[9 * 4 + 5], c[9 * 4 + 6], c[9 * 4 + 7], c[9 * 4 + 8]};
  memcpy(&c[9 * 4 + 3], &c[9 * 4], 3 * sizeof *c); /* the fifth without area */
  c[9 * 100] = NAN;
  g_assert_cmpint(read_file(surface_binary(&s), STL_UNIT_GUESS, &mesh, &report), ==, FAULT_NONE);
  g_assert_cmpuint(report.state.flat, ==, 1);
  g_assert_cmpuint(report.state.first_flat, ==, 5);
  g_assert_cmpuint(report.spoiled, ==, 1);
  g_assert_cmpuint(report.first_spoiled, ==, 101);
  g_assert_cmpuint(report.state.open, ==, 6);
  g_assert_true(has_note(&report, "no area", 1) && has_note(&report, "no numbers", 1) &&
                has_note(&report, "open at", 6));
  g_assert_cmpuint(mesh.n, ==, surface_size(&s) - 2);
  g_assert_cmpuint(mesh.number[98], ==, 100);
  g_assert_cmpuint(mesh.number[99], ==, 102); /* numbers are those of the file */
  memcpy(&c[9 * 4], keep, sizeof keep);
  c[9 * 100] = c[9 * 101];
  surface_free(&s);

  s = cylinder(false);
  c = (float *)(void *)s.corner->data;
  float swap[3];
  memcpy(swap, c, sizeof swap); /* the first faces inwards */
  memcpy(c, c + 3, sizeof swap);
  memcpy(c + 3, swap, sizeof swap);
  g_assert_cmpint(read_file(surface_binary(&s), STL_UNIT_GUESS, &mesh, &report), ==, FAULT_NONE);
  g_assert_cmpuint(report.state.turned, ==, 3);
  g_assert_cmpuint(report.state.first_turned, ==, 1);
  g_array_append_vals(s.corner, c + 90, 3); /* one triangle twice */
  g_assert_cmpint(read_file(surface_binary(&s), STL_UNIT_GUESS, &mesh, &report), ==, FAULT_NONE);
  g_assert_cmpuint(report.state.crowded, ==, 3);
  surface_free(&s);

  s = cylinder(false);
  c = (float *)(void *)s.corner->data;
  for (size_t i = 0; i < surface_size(&s); i++) {
    memcpy(swap, c + 9 * i, sizeof swap);
    memcpy(c + 9 * i, c + 9 * i + 3, sizeof swap);
    memcpy(c + 9 * i + 3, swap, sizeof swap);
  }
  g_assert_cmpint(read_file(surface_binary(&s), STL_UNIT_GUESS, &mesh, &report), ==, FAULT_NONE);
  g_assert_true(report.state.inside_out);
  g_assert_cmpuint(report.state.turned, ==, 0);
  mesh_clear(&mesh);
  surface_free(&s);
}

static void refused(GString *file, Fault fault, const char *words, size_t line)
{
  Mesh mesh = {0};
  StlReport report;
  Fault got = read_file(file, STL_UNIT_GUESS, &mesh, &report);
  g_assert_cmpint(got, ==, fault);
  g_assert_nonnull(report.wrong.text);
  if (!strstr(report.wrong.text, words))
    g_error("\"%s\" lacks \"%s\"", report.wrong.text, words);
  if (report.line != line)
    g_error("%s: line %zu, not %zu", words, report.line, line);
  g_assert_null(mesh.at);
}

static void test_refused(void)
{
  refused(g_string_new(""), FAULT_RANGE, "empty", 0);
  refused(g_string_new("hello"), FAULT_RANGE, "bytes", 0);
  refused(g_string_new("solid nothing\nendsolid\n"), FAULT_DEGENERATE, "too few", 0);
  refused(g_string_new("solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0\nendloop\n"),
          FAULT_RANGE, "text STL", 5);
  Facets s = cylinder(false);
  GString *file = surface_text(&s);
  char *at = strstr(file->str + 3000, "vertex");
  memcpy(at, "corner", 6);
  size_t line = 1;
  for (char *c = file->str; c < at; c++)
    line += *c == '\n';
  refused(file, FAULT_RANGE, "text STL", line);
  file = surface_text(&s); /* decimal commas */
  for (char *c = file->str; *c; c++)
    *c = *c == '.' ? ',' : *c;
  line = 1;
  for (char *c = file->str; c < strchr(file->str, ','); c++)
    line += *c == '\n';
  refused(file, FAULT_RANGE, "text STL", line);
  surface_free(&s);
  /* garbage behind an unlikely head */
  GRand *rand = g_rand_new_with_seed(3);
  file = g_string_new(NULL);
  for (int i = 0; i < 500000; i++)
    g_string_append_c(file, (char)g_rand_int(rand));
  refused(file, FAULT_NOT_FINITE, "no numbers", 0);
  g_rand_free(rand);
  s = surface_new(); /* all in one line */
  for (int i = 0; i < 20; i++)
    surface_triangle(&s, (Vec3){i, 0, 0}, (Vec3){i + 1, 0, 0}, (Vec3){i + 2, 0, 0});
  refused(surface_binary(&s), FAULT_DEGENERATE, "too few", 0);
  surface_free(&s);
}

/* A file that ends early or has the wrong count: what is there is used, and that is said. */
static void test_cut_off(void)
{
  Facets s = cylinder(false);
  Mesh mesh = {0};
  StlReport report;
  size_t n = surface_size(&s);
  GString *file = surface_binary(&s);
  g_string_truncate(file, 84 + 50 * (n - 100) + 13);
  g_assert_cmpint(read_file(file, STL_UNIT_GUESS, &mesh, &report), ==, FAULT_NONE);
  g_assert_cmpuint(mesh.n, ==, n - 100);
  g_assert_true(has_note(&report, "ends after", (double)n));
  file = surface_binary(&s);
  memset(file->str + 80, 0, 4); /* no count at all */
  g_assert_cmpint(read_file(file, STL_UNIT_GUESS, &mesh, &report), ==, FAULT_NONE);
  g_assert_cmpuint(mesh.n, ==, n);
  g_assert_true(has_note(&report, "long enough", 0));
  file = surface_text(&s);
  for (size_t cut = 1; cut < 200; cut += 7) {
    GString *part = g_string_new_len(file->str, (gssize)(file->len - 2000 - cut));
    g_assert_cmpint(read_file(part, STL_UNIT_GUESS, &mesh, &report), ==, FAULT_NONE);
    g_assert_cmpuint(mesh.n, >, n - 20);
    g_assert_true(has_note(&report, "ends early", (double)report.triangles));
  }
  g_string_free(file, TRUE);
  mesh_clear(&mesh);
  surface_free(&s);
}

static bool stop_at(void *data, double done)
{
  g_assert_cmpfloat(done, >=, 0);
  g_assert_cmpfloat(done, <=, 1);
  return done < *(double *)data;
}

static void test_cancel(void)
{
  Facets s = cylinder(false);
  for (double at = 0; at < 0.8; at += 0.3)
    for (int text = 0; text < 2; text++) {
      Mesh mesh = {0};
      StlReport report;
      const MeshWatch watch = {stop_at, &at};
      GString *file = text ? surface_text(&s) : surface_binary(&s);
      g_assert_cmpint(stl_read(file->str, file->len, STL_UNIT_MM, &watch, &mesh, &report), ==,
                      FAULT_CANCELLED);
      g_assert_null(mesh.at);
      g_string_free(file, TRUE);
    }
  surface_free(&s);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/stl/binary", test_binary);
  g_test_add_func("/stl/text", test_text);
  g_test_add_func("/stl/numbers", test_numbers);
  g_test_add_func("/stl/units", test_units);
  g_test_add_func("/stl/states", test_states);
  g_test_add_func("/stl/refused", test_refused);
  g_test_add_func("/stl/cut off", test_cut_off);
  g_test_add_func("/stl/cancel", test_cancel);
  return g_test_run();
}
