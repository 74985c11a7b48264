/* test_case_bridge.c - the demo cases as flat bridges: what goes in, statics, faults with a place,
 * and the moments beside the beam's. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, N mm.  Expected values follow from the sizes in the case files and from statics. */
#include "assess_bridge.h"
#include "case_files.h"
#include "proof.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)
static const Source statics = {"equilibrium of a free end: force times its distance", EXACT};

static Assessment *assessed(const Case *c, AssessGrade grade)
{
  Assessor *assessor = NULL;
  Assessment *a = NULL;
  AssessSettings settings = assess_settings_default();
  settings.grade = grade;
  settings.focus = 0;
  settings.whole_bridge = true;
  ok(assessor_new(&assessor));
  ok(assess(assessor, c, &settings, &a));
  assessor_free(assessor);
  return a;
}

static Assessment *demo(int number, AssessGrade grade)
{
  g_autofree char *name = g_strdup_printf("demo/QB-%02d.xml", number);
  Case c;
  demo_load(&c, name);
  Assessment *a = assessed(&c, grade);
  case_clear(&c);
  return a;
}

static WholeBridge *whole_new(void)
{
  WholeBridge *whole = NULL;
  ok(whole_bridge_new(&whole));
  return whole;
}

static BridgeInput input_of(const Assessment *a)
{
  Form form[SPAN_MAX_UNITS - 1];
  BridgeInput in;
  for (size_t i = 0; i < a->n_connector; i++)
    form[i] = a->connector[i].form;
  ok(case_bridge_input(&a->c, form, &in));
  return in;
}

/* Every unit stands where the lengths before it end, abutments and implants on what carries them.
 */
static void test_mapping(void)
{
  for (int number = 1; number <= 10; number++) {
    Assessment *a = demo(number, ASSESS_LIVE);
    BridgeInput in = input_of(a);
    double x = 0;
    g_assert_cmpuint(in.n_unit, ==, a->c.n_unit);
    for (size_t i = 0; i < in.n_unit; i++) {
      const Unit *u = &a->c.unit[i];
      bool stands = u->role == ROLE_ABUTMENT || u->role == ROLE_IMPLANT;
      g_assert_cmpfloat_with_epsilon(in.unit[i].x0, x, 1e-12);
      x += u->length;
      g_assert_cmpfloat_with_epsilon(in.unit[i].x1, x, 1e-12);
      g_assert_cmpfloat_with_epsilon(in.unit[i].high, u->height, 1e-12);
      g_assert_true(in.unit[i].supported == stands);
      if (stands) {
        SpanSpring spring = support_spring(u->support, u->role);
        g_assert_cmpfloat_with_epsilon(in.unit[i].spring.axial_n_mm, spring.axial_n_mm, 1e-9);
        g_assert_cmpfloat(in.unit[i].stump_mpa, ==,
                          u->role == ROLE_IMPLANT ? STUMP_TITANIUM_MPA : STUMP_DENTINE_MPA);
      }
      if (i + 1 < in.n_unit) {
        g_assert_cmpfloat_with_epsilon(in.neck[i].neck_x, x, 1e-12);
        g_assert_true(in.neck[i].outline.gingival == &a->c.connector[i].side[SIDE_GINGIVAL]);
      }
    }
    g_assert_cmpfloat_with_epsilon(a->span_length, x, 1e-9);
    assessment_unref(a);
  }
}

/* An implant's post is stiffer than a tooth's stump, and a stiffer support draws more moment. */
static void test_implant(void)
{
  Case c;
  demo_load(&c, "demo/QB-01.xml");
  c.unit[0].role = ROLE_IMPLANT;
  Assessment *a = assessed(&c, ASSESS_LIVE);
  BridgeInput in = input_of(a);
  g_assert_cmpfloat(in.unit[0].stump_mpa, ==, STUMP_TITANIUM_MPA);
  g_assert_cmpfloat(in.unit[2].stump_mpa, ==, STUMP_DENTINE_MPA);
  g_assert_cmpfloat(in.unit[0].spring.axial_n_mm, >, 5 * in.unit[2].spring.axial_n_mm);
  /* the stump counts: with a softer one the crown over it gives way more */
  double moment[2], shear;
  Point where;
  for (int soft = 0; soft < 2; soft++) {
    BridgePlane *plane = NULL;
    SpanLoad load = {.x = in.neck[0].neck_x, .force_n = 500};
    in.unit[0].stump_mpa = soft ? 100 : STUMP_TITANIUM_MPA;
    ok(bridge_plane_new(&in, &plane, &where));
    ok(bridge_plane_press(plane, &load, 1));
    bridge_plane_action(plane, in.neck[0].neck_x, 5, &moment[soft], &shear);
    bridge_plane_free(plane);
  }
  g_assert_cmpfloat(fabs(moment[0] - moment[1]), >, 1);
  assessment_unref(a);
  case_clear(&c);
}

/* All demo cases at rest: an answer for every neck; where nothing but a free end hangs beyond a
 * neck, its moment is the force times the distance whatever the model. */
static void test_moments(void)
{
  for (int number = 1; number <= 10; number++) {
    Assessment *a = demo(number, ASSESS_REST);
    ok(a->bridge_fault);
    for (size_t i = 0; i < a->n_connector; i++) {
      const BridgeMoment *m = &a->connector[i].bridge;
      Phrase phrase;
      g_assert_true(isfinite(m->order_n_mm) && isfinite(m->trial_n_mm));
      g_assert_cmpfloat(m->differs_percent, >=, 0);
      g_assert_true(m->differs_x >= 0 && m->differs_x <= a->span_length);
      g_assert_true(bridge_differs_phrase(a, i, &phrase) == (m->differs_percent > 10));
    }
    if (number == 3) {
      double force = a->c.order_load_n, arm = a->c.unit[0].length - a->connector[0].order_x;
      g_assert_cmpint(a->c.unit[0].role, ==, ROLE_HANGING);
      proof_row("QB-03 44/45: moment by the whole bridge in the plane, N mm", statics, -force * arm,
                a->connector[0].bridge.order_n_mm, 1);
    }
    assessment_unref(a);
  }
}

static float *stress_of(const FieldSheet *sheet)
{
  float *stress = g_new(float, sheet->n_vertex);
  for (size_t i = 0; i < sheet->n_vertex; i++)
    stress[i] = sheet->stress[i][UNIT_BEND][0];
  return stress;
}

/* The influence needs no solution, and is that of the solution. */
static void test_press(void)
{
  Assessment *a = demo(2, ASSESS_LIVE);
  BridgeInput in = input_of(a);
  BridgePlane *plane = NULL;
  Point where;
  ok(bridge_plane_new(&in, &plane, &where));
  for (double x = 1.7; x < a->span_length - 1; x += 4.3) {
    SpanLoad load[2] = {{.x = x, .force_n = 320}, {.x = a->span_length / 2, .force_n = 90}};
    double pressed, loaded, shear;
    ok(bridge_plane_press(plane, load, 2));
    bridge_plane_action(plane, in.neck[1].neck_x, 4, &pressed, &shear);
    ok(bridge_plane_load(plane, load, 2));
    bridge_plane_action(plane, in.neck[1].neck_x, 4, &loaded, &shear);
    g_assert_cmpfloat_with_epsilon(pressed, loaded, 1e-6 * (1 + fabs(loaded)));
    bridge_plane_action(plane, 1e3, 4, &loaded, &shear); /* beyond all: nothing is left over */
    g_assert_cmpfloat(fabs(loaded), <, 0.05);
    g_assert_cmpfloat(fabs(shear), <, 1e-5);
  }
  bridge_plane_free(plane);
  assessment_unref(a);
}

/* A moved load keeps the mesh; the same load again is the same picture. */
static void test_kept(void)
{
  Assessment *a = demo(2, ASSESS_LIVE);
  WholeBridge *whole = whole_new();
  Point where;
  g_assert_null(whole_bridge_sheet(whole));
  ok(whole_bridge_load(whole, a, (SpanLoad){.x = 12, .force_n = 400}, &where));
  const FieldSheet *sheet = whole_bridge_sheet(whole);
  const Point *at = sheet->at;
  size_t n = sheet->n_vertex;
  g_autofree float *first = stress_of(sheet);
  ok(whole_bridge_load(whole, a, (SpanLoad){.x = 20, .force_n = 400}, &where));
  g_autofree float *second = stress_of(whole_bridge_sheet(whole));
  g_assert_true(whole_bridge_sheet(whole)->at == at);
  g_assert_cmpint(memcmp(first, second, n * sizeof *first), !=, 0);
  ok(whole_bridge_load(whole, a, (SpanLoad){.x = 12, .force_n = 400}, &where));
  g_autofree float *again = stress_of(whole_bridge_sheet(whole));
  g_assert_cmpint(memcmp(first, again, n * sizeof *first), ==, 0);
  whole_bridge_free(whole);
  assessment_unref(a);
}

/* Folded, missing, loose: a fault with its place; the picture before stays while the units are the
 * same ones. */
static void test_bad(void)
{
  Assessment *good = demo(2, ASSESS_LIVE);
  WholeBridge *whole = whole_new();
  SpanLoad load = {.x = 12, .force_n = 400};
  Point where;
  ok(whole_bridge_load(whole, good, load, &where));
  size_t n = whole_bridge_sheet(whole)->n_vertex;
  Case c;
  demo_load(&c, "demo/QB-02.xml");
  ok(case_complete(&c));
  Outline *gum = &c.connector[1].side[SIDE_GINGIVAL];
  outline_clear(gum);
  ok(outline_from_corners(
      gum,
      (Corner[]){
          {-3.5, 0, 0}, {-1.5, 0, 0}, {1.2, 3, 0.2}, {-1.2, 3, 0.2}, {1.5, 0, 0}, {5.5, 0, 0}},
      6)); /* a loop */
  c.connector[1].drawn[SIDE_GINGIVAL] = true;
  Assessment *looped = assessed(&c, ASSESS_REST);
  g_assert_cmpint(whole_bridge_load(whole, looped, load, &where), ==, FAULT_CROSSING);
  g_test_message("crossing at %.2f, %.2f", where.x, where.y);
  g_assert_cmpfloat(fabs(where.x - 14), <, 2); /* 35/36: 7 + 7 mm from the end */
  g_assert_true(where.y > 0 && where.y < 4);
  g_assert_nonnull(whole_bridge_sheet(whole));
  g_assert_cmpuint(whole_bridge_sheet(whole)->n_vertex, ==, n);
  assessment_unref(looped);

  BridgeInput in = input_of(good);
  BridgePlane *plane = NULL;
  Outline nothing;
  outline_init(&nothing);
  in.neck[2].outline.occlusal = &nothing;
  g_assert_cmpint(bridge_plane_new(&in, &plane, &where), ==, FAULT_NO_NECK);
  g_assert_cmpfloat_with_epsilon(where.x, 25, 1e-9); /* 36/37 */
  in = input_of(good);
  in.unit[3].stump_mpa = NAN;
  g_assert_cmpint(bridge_plane_new(&in, &plane, &where), ==, FAULT_RANGE);
  g_assert_cmpfloat_with_epsilon(where.x, 30.25, 1e-9); /* middle of 37 */
  g_assert_null(plane);

  for (size_t i = 0; i < c.n_unit; i++) { /* other units, and nothing to stand on */
    c.unit[i].length += 1;
    c.unit[i].role = ROLE_PONTIC;
  }
  Assessment *loose = assessed(&c, ASSESS_LIVE);
  g_assert_cmpint(whole_bridge_load(whole, loose, load, &where), !=, FAULT_NONE);
  g_assert_null(whole_bridge_sheet(whole));
  assessment_unref(loose);
  whole_bridge_free(whole);
  case_clear(&c);
  assessment_unref(good);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/case-bridge/mapping", test_mapping);
  g_test_add_func("/case-bridge/implant", test_implant);
  g_test_add_func("/case-bridge/moments", test_moments);
  g_test_add_func("/case-bridge/press", test_press);
  g_test_add_func("/case-bridge/kept", test_kept);
  g_test_add_func("/case-bridge/bad", test_bad);
  return g_test_run();
}
