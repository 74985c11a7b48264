/* test_load_case.c - bites in the case file, on the beam, in words; sideways stress of a plain bar.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, N mm, MPa. */
#include "assess.h"
#include "casefile/case_xml.h"
#include "casefile/load_case.h"
#include "mechanics/odd_section.h"
#include "proof.h"
#include <string.h>

static const Source statics = {"statics", EXACT},
                    ellipse = {"elliptic bar: Saint-Venant (Timoshenko, Roark)", FROM_MEMORY};

#define HEAD                                                                                       \
  "<case xmlns=\"https://soffit.invalid/case\" version=\"1\" number=\"L\">\n"                      \
  "<order load=\"600\"/>\n"
#define UNITS                                                                                      \
  "<material id=\"3y\"/>\n<units>\n"                                                               \
  "<unit tooth=\"15\" role=\"abutment\" length=\"8\" width=\"9\" height=\"8\" support=\"own\" "    \
  "axial=\"rigid\" rotation=\"0\"/>\n"                                                             \
  "<unit tooth=\"16\" role=\"pontic\" length=\"10\" width=\"10\" height=\"8\"/>\n"                 \
  "<unit tooth=\"17\" role=\"abutment\" length=\"8\" width=\"10\" height=\"8\" support=\"own\" "   \
  "axial=\"rigid\" rotation=\"0\"/>\n"                                                             \
  "</units>\n</case>\n"

static bool load(Case *c, const char *loads, GError **error)
{
  g_autofree char *text = g_strconcat(HEAD, loads, UNITS, NULL);
  case_init(c);
  return case_load_memory(c, text, strlen(text), "l.xml", error);
}

/* Read, written, read again; a file without bites stays what it was. */
static void test_file(void)
{
  Case c, back;
  GError *error = NULL;
  g_assert_true(load(&c,
                     "<loads>\n<bite incline=\"30\"/>\n<bite x=\"12.5\" incline=\"-20.5\"/>\n"
                     "<bite><on tooth=\"15\"/><on tooth=\"16\" share=\"2.5\"/></bite>\n</loads>\n",
                     &error));
  g_assert_no_error(error);
  g_assert_cmpuint(c.n_load_case, ==, 3);
  g_assert_true(isnan(c.load_case[0].x) && c.load_case[0].n_on == 0);
  g_assert_cmpfloat(c.load_case[1].incline_deg, ==, -20.5);
  g_assert_cmpfloat(c.load_case[2].on[0].share, ==, 1);
  g_assert_cmpfloat(c.load_case[2].on[1].share, ==, 2.5);
  GString *text = case_to_xml(&c);
  case_init(&back);
  g_assert_true(case_load_memory(&back, text->str, text->len, "again", &error));
  g_assert_no_error(error);
  g_assert_true(case_equal(&c, &back));
  back.load_case[2].on[1].share = 3;
  g_assert_false(case_equal(&c, &back));
  g_string_free(text, TRUE);
  case_clear(&back);
  case_clear(&c);
  g_assert_true(load(&c, "", &error));
  text = case_to_xml(&c);
  g_assert_null(strstr(text->str, "loads"));
  g_assert_false(case_in_space(&c));
  g_string_free(text, TRUE);
  case_clear(&c);
}

/* The message names file, line, what is wrong and what to do. */
static void test_refused(void)
{
  static const struct {
    const char *loads, *begins, *what, *act;
  } bad[] = {
      {"<loads>\n<bite incline=\"61\"/>\n</loads>\n", "l.xml:4: bite 1", "60 degrees", "Enter"},
      {"<loads>\n<bite/>\n<bite incline=\"-75\"/>\n</loads>\n", "l.xml:5: bite 2", "60 degrees",
       "Enter"},
      {"<loads>\n<bite x=\"26.1\"/>\n</loads>\n", "l.xml:4: bite 1", "outside", "Enter"},
      {"<loads>\n<bite x=\"-1\"/>\n</loads>\n", "l.xml:4: bite 1", "outside", "Enter"},
      {"<loads>\n<bite><on tooth=\"15\" share=\"0\"/></bite>\n</loads>\n", "l.xml:4: bite 1",
       "not above zero", "Enter"},
      {"<loads>\n<bite><on tooth=\"15\" share=\"-2\"/></bite>\n</loads>\n", "l.xml:4: bite 1",
       "not above zero", "Enter"},
      {"<loads>\n<bite><on tooth=\"14\"/></bite>\n</loads>\n", "l.xml:4: bite 1", "no unit",
       "Choose"},
      {"<loads>\n<bite><on tooth=\"16\"/><on tooth=\"16\"/></bite>\n</loads>\n", "l.xml:4: bite 1",
       "twice", "Add"},
      {"<loads>\n<bite x=\"3\"><on tooth=\"16\"/></bite>\n</loads>\n", "l.xml:4: bite 1", "both",
       "Keep"},
      {"<loads>\n<bite incline=\"steep\"/>\n</loads>\n", "l.xml:4", "steep", ""},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    Case c;
    GError *error = NULL;
    g_assert_false(load(&c, bad[i].loads, &error));
    if (!g_str_has_prefix(error->message, bad[i].begins) || !strstr(error->message, bad[i].what) ||
        !strstr(error->message, bad[i].act))
      g_error("\"%s\"", error->message);
    g_clear_error(&error);
    case_clear(&c);
  }
}

/* Two hinges 18 mm apart, necks 4 mm inside of them: moments by statics.  Over all units together
 * each presses on its middle; what stands on a support bends nothing. */
static void test_statics(void)
{
  Case c;
  GError *error = NULL;
  g_assert_true(load(&c,
                     "<loads>\n<bite x=\"10\"/>\n"
                     "<bite><on tooth=\"15\" share=\"1\"/><on tooth=\"16\" share=\"2\"/>"
                     "<on tooth=\"17\" share=\"1\"/></bite>\n"
                     "<bite incline=\"30\"><on tooth=\"16\"/></bite>\n</loads>\n",
                     &error));
  g_assert_no_error(error);
  g_assert_cmpint(case_complete(&c), ==, FAULT_NONE);
  Form form[2];
  for (size_t i = 0; i < 2; i++) {
    const Outline *s = c.connector[i].side;
    g_assert_cmpint(form_read(&s[0], &s[1], &s[2], &s[3], NULL, &form[i], NULL), ==, FAULT_NONE);
  }
  SpanInput in;
  Span *span = NULL;
  SpanEnvelope e;
  g_assert_cmpint(case_span_input(&c, form, &in), ==, FAULT_NONE);
  g_assert_cmpint(span_new(&in, 0, &span), ==, FAULT_NONE);
  g_assert_cmpint(case_envelope(&c, span, 0, &e), ==, FAULT_NONE);
  g_assert_cmpuint(e.n, ==, SPAN_EXTREMES + 3);
  const NeckLoad *at = NULL;
  for (size_t k = 1; k <= 3; k++) {
    g_assert_cmpuint(e.at[SPAN_EXTREMES + k - 1].load_case, ==, k);
    at = &e.at[SPAN_EXTREMES + k - 1].load;
    if (k == 1)
      proof_row("bite at 10 mm, M", statics, 600.0 * 12 / 18 * 4, at->moment_n_mm, 0.1);
    if (k == 2)
      proof_row("bite over three units, M", statics, 300 / 2.0 * 4, at->moment_n_mm, 0.1);
  }
  proof_row("bite leaning 30 degrees, M", statics, 600 * cos(G_PI / 6) / 2 * 4, at->moment_n_mm,
            0.1);
  proof_row("bite leaning 30 degrees, Q", statics, 600 * sin(G_PI / 6) / 2, at->lateral_shear_n,
            0.1);
  Phrase phrase = load_case_phrase(&c, 3, 13);
  char text[120];
  phrase_format(&phrase, NULL, ".", text, sizeof text);
  g_assert_cmpstr(text, ==, "bite on 16, 30 degrees towards the cheek");
  phrase = load_case_phrase(&c, 0, 1);
  phrase_format(&phrase, NULL, ".", text, sizeof text);
  g_assert_cmpstr(text, ==, "bite on 15, straight down");
  span_free(span);
  case_clear(&c);
}

/* A leaning bite can only be worse than none, and is named when it governs. */
static void test_governs(void)
{
  Case c;
  GError *error = NULL;
  Assessor *assessor = NULL;
  Assessment *plain, *leaning;
  AssessSettings settings = assess_settings_default();
  settings.grade = ASSESS_LIVE;
  g_assert_cmpint(assessor_new(&assessor), ==, FAULT_NONE);
  g_assert_true(load(&c, "", &error));
  g_assert_cmpint(assess(assessor, &c, &settings, &plain), ==, FAULT_NONE);
  load_case_init(&c.load_case[c.n_load_case++]);
  c.load_case[0].incline_deg = 40;
  g_assert_cmpint(assess(assessor, &c, &settings, &leaning), ==, FAULT_NONE);
  for (size_t i = 0; i < 2; i++) {
    const ConnectorAssessment *a = &plain->connector[i], *b = &leaning->connector[i];
    g_assert_cmpuint(a->load_case, ==, 0);
    g_assert_false(a->peak.by_section || neck_load_odd(&a->order));
    g_assert_cmpuint(b->load_case, ==, 1);
    g_assert_false(b->peak.by_section);
    g_assert_cmpfloat(b->margin.value, <, a->margin.value);
    g_assert_cmpfloat(b->peak.band_percent, >, a->peak.band_percent);
  }
  assessment_unref(plain);
  assessment_unref(leaning);
  assessor_free(assessor);
  case_clear(&c);
}

static Outline line(double x0, double y0, double x1, double y1)
{
  Outline o;
  outline_init(&o);
  g_assert_cmpint(outline_move_to(&o, point(x0, y0)), ==, FAULT_NONE);
  g_assert_cmpint(outline_line_to(&o, point((x0 + x1) / 2, (y0 + y1) / 2)), ==, FAULT_NONE);
  g_assert_cmpint(outline_line_to(&o, point(x1, y1)), ==, FAULT_NONE);
  return o;
}

/* A plain elliptic bar, half axes a (z) and b (y): L a / I, twist 2 T / (pi a^2 b) at the flatter
 * places (z = a when a < b), 2 T / (pi a b^2) at the others. */
static void test_ellipse(void)
{
  const double a = 1.6, b = 2.1;
  Outline side[4] = {line(-6, -b, 6, -b), line(-6, b, 6, b), line(-6, a, 6, a),
                     line(-6, -a, 6, -a)};
  Field *field = field_new();
  field->n_surface = 72 * 25;
  field->surface = g_new0(SurfacePoint, field->n_surface);
  for (size_t i = 0; i < field->n_surface; i++) {
    double angle = (double)(i % 72) * G_PI / 36, x = -6 + 0.5 * (double)(i / 72);
    field->surface[i].at = (Vec3){x, b * sin(angle), a * cos(angle)};
  }
  OddInput in = {{&side[0], &side[1], &side[2], &side[3]}, 0, 2, 0.3};
  g_assert_cmpint(odd_section_add(&in, field), ==, FAULT_NONE);
  g_assert_cmpfloat(field->odd_band_percent, ==, ODD_BAND_PERCENT);
  const SurfacePoint *cheek = &field->surface[12 * 72], *biting = &field->surface[12 * 72 + 18];
  proof_row("elliptic bar, sideways bending at the cheek side", ellipse,
            1000 * 4 / (G_PI * b * a * a), 1000 * (double)cheek->odd[ODD_LATERAL][0], 0.01);
  proof_row("elliptic bar, twist at the cheek side", ellipse, -1000 * 2 / (G_PI * a * a * b),
            1000 * (double)cheek->odd[ODD_TORSION][3], 0.01);
  proof_row("elliptic bar, twist at the biting side", ellipse, 1000 * 2 / (G_PI * a * b * b),
            1000 * (double)biting->odd[ODD_TORSION][5], 0.01);
  /* no traction on the free surface */
  for (size_t i = 0; i < field->n_surface; i++) {
    const SurfacePoint *p = &field->surface[i];
    for (int odd = 0; odd < ODD_LOAD_N; odd++) {
      double out =
          (double)p->odd[odd][3] * p->at.y / (b * b) + (double)p->odd[odd][5] * p->at.z / (a * a);
      g_assert_cmpfloat(fabs(out), <, 1e-6);
    }
  }
  field_unref(field);
  for (int i = 0; i < 4; i++)
    outline_clear(&side[i]);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/load-case/file", test_file);
  g_test_add_func("/load-case/refused", test_refused);
  g_test_add_func("/load-case/statics", test_statics);
  g_test_add_func("/load-case/governs", test_governs);
  g_test_add_func("/load-case/ellipse", test_ellipse);
  return g_test_run();
}
