/* test_surface_case.c - a surface in its file and in its case.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/surface_case.h"
#include "mechanics/drawn_section.h"
#include "case_files.h"
#include "casefile/stl_file.h"
#include "proof.h"
#include "surfaces.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

/* Which way round teeth lie, seen from the cheek with the biting side up: the lower left row runs
 * from the midline to the right; every change of side, jaw or direction exchanges front and back.
 */
static void test_cheek(void)
{
  static const struct {
    int tooth[2];
    bool behind;
  } row[] = {{{34, 35}, false}, {{35, 34}, true},  {{45, 46}, true}, {{46, 45}, false},
             {{14, 15}, false}, {{15, 14}, true},  {{24, 25}, true}, {{25, 24}, false},
             {{12, 11}, true},  {{11, 12}, false}, {{32, 31}, true}, {{42, 41}, false}};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    Case c;
    case_init(&c);
    c.n_unit = 2;
    for (int k = 0; k < 2; k++)
      c.unit[k].tooth = row[i].tooth[k];
    if (case_cheek_behind(&c) != row[i].behind)
      g_error("%d-%d", row[i].tooth[0], row[i].tooth[1]);
    case_clear(&c);
  }
}

static void test_shares(void)
{
  Case c;
  double share[SPAN_MAX_UNITS - 1];
  demo_load(&c, "demo/QB-02.xml"); /* 7, 7, 11, 10.5 mm */
  case_connector_shares(&c, share);
  g_assert_cmpfloat_with_epsilon(share[0], 7 / 35.5, 1e-12);
  g_assert_cmpfloat_with_epsilon(share[2], 25 / 35.5, 1e-12);
  case_clear(&c);
}

/* Roof radii of the row: y'' = 2.2 (pi / mouth)^2 / 2 at the neck.  The line is stiff: small ones
 * come out too large, as SOURCES says. */
static void test_roof(void)
{
  static const struct {
    double mouth, most_percent;
  } row[] = {{2.4, 4}, {1.8, 5}, {1.5, 8}, {1.2, 18}};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    Row own = ROW_SOUND;
    own.mouth = row[i].mouth;
    Facets s = surface_new();
    surface_tube(&s, row_point, &own, -9, 9, 720, 80, false);
    StlReport report;
    Mesh mesh = surface_mesh(&s, &report);
    const MeshFrame plain = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    MeshSpan *span = g_new0(MeshSpan, 1);
    ok(span_find(&mesh, &plain, NULL, span));
    g_assert_cmpuint(span->n_neck, ==, 1);
    TraceSettings settings = {{4.5, 4.5}, TRACE_TOLERANCE_MM, 0.05};
    Trace trace;
    Form form;
    trace_init(&trace);
    ok(trace_connector(&mesh, &span->neck[0], &settings, NULL, &trace));
    ok(form_read(&trace.gingival, &trace.occlusal, &trace.buccal, &trace.lingual, NULL, &form,
                 NULL));
    double exact = 2 / (own.neck_low * pow(G_PI / own.mouth, 2));
    g_autofree char *name =
        g_strdup_printf("roof radius of a traced row, embrasure %.1f mm", own.mouth);
    proof_row_between(name, (Source){"1 / y'' of the row of units", EXACT}, exact,
                      form.roof_radius.value, 0.98 * exact,
                      (1 + row[i].most_percent / 100) * exact);
    trace_clear(&trace);
    mesh_clear(&mesh);
    g_free(span);
  }
}

/* From a file to the outlines of a case, and through a case file. */
static void test_take(void)
{
  g_autofree char *path = in_folder("row.stl"), *saved = in_folder("row.xml");
  Facets s = surface_new();
  surface_tube(&s, row_point, &ROW_SOUND, -9, 9, 360, 120, false);
  GString *file = surface_binary(&s);
  g_assert_true(g_file_set_contents(path, file->str, (gssize)file->len, NULL));
  g_string_free(file, TRUE);
  surface_free(&s);
  Mesh mesh = {0};
  StlReport report;
  g_autoptr(GError) error = NULL;
  stl_load(path, STL_UNIT_GUESS, NULL, &mesh, &report, &error);
  g_assert_no_error(error);
  MeshFrame frame;
  MeshSpan *span = g_new0(MeshSpan, 1);
  ok(mesh_frame_guess(&mesh, (Vec3){0, 1, 0}, false, &frame));
  ok(span_find(&mesh, &frame, NULL, span));
  g_assert_cmpuint(span->n_neck, ==, 1);
  TraceSettings settings = {{4.5, 4.5}, TRACE_TOLERANCE_MM, 0.05};
  Trace trace;
  trace_init(&trace);
  ok(trace_connector(&mesh, &span->neck[0], &settings, NULL, &trace));
  Case c, back;
  case_init(&back);
  demo_load(&c, "demo/QB-01.xml");
  ok(case_take_trace(&c, 0, &trace));
  g_assert_cmpint(case_take_trace(&c, c.n_unit - 1, &trace), ==, FAULT_RANGE);
  for (int side = 0; side < SIDE_N; side++)
    g_assert_true(c.connector[0].drawn[side]);
  g_assert_true(outline_equal(&c.connector[0].side[SIDE_LINGUAL], &trace.lingual, 0));
  ok(case_complete(&c));
  case_save(&c, saved, &error);
  g_assert_no_error(error);
  case_load(&back, saved, &error);
  g_assert_no_error(error);
  g_assert_true(outline_equal(&back.connector[0].side[SIDE_GINGIVAL], &trace.gingival, 2e-6));
  Form form;
  const Outline *side = back.connector[0].side;
  ok(form_read(&side[0], &side[1], &side[2], &side[3], NULL, &form, NULL));
  g_assert_cmpfloat_with_epsilon(form.neck_height, ROW_SOUND.neck_high - ROW_SOUND.neck_low, 0.02);
  g_assert_cmpfloat_with_epsilon(form.neck_width, 2 * ROW_SOUND.neck_half, 0.02);
  g_unlink(path);
  g_unlink(saved);
  trace_clear(&trace);
  case_clear(&c);
  case_clear(&back);
  mesh_clear(&mesh);
  g_free(span);
}

static bool never(void *data, double done)
{
  (void)data, (void)done;
  return false;
}

static void test_messages(void)
{
  g_autofree char *path = in_folder("bad.stl");
  static const struct {
    const char *text, *starts, *has;
  } bad[] = {{"", ": ", "file is empty"},
             {"garbage", ": ", "7 bytes"},
             {"solid x\n facet normal 0 0 1\n outer loop\n vertex 0 0 0\n vertex 1,5 0 0\n",
              ":5: ", "binary STL"}};
  Mesh mesh = {0};
  StlReport report;
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    GError *error = NULL;
    g_assert_true(g_file_set_contents(path, bad[i].text, -1, NULL));
    g_assert_false(stl_load(path, STL_UNIT_GUESS, NULL, &mesh, &report, &error));
    g_autofree char *start = g_strconcat(path, bad[i].starts, NULL);
    g_assert_true(g_str_has_prefix(error->message, start));
    g_assert_nonnull(strstr(error->message, bad[i].has));
    g_error_free(error);
  }
  const MeshWatch watch = {never, NULL};
  GError *error = NULL;
  g_assert_true(g_file_set_contents(path, bad[2].text, -1, NULL));
  g_assert_false(stl_load(path, STL_UNIT_GUESS, &watch, &mesh, &report, &error));
  g_assert_no_error(error); /* stopped is no error */
  g_unlink(path);
  g_assert_false(stl_load(path, STL_UNIT_GUESS, NULL, &mesh, &report, &error));
  g_assert_error(error, CASE_ERROR, CASE_ERROR_OPEN);
  g_clear_error(&error);
  g_assert_false(stl_load(folder, STL_UNIT_GUESS, NULL, &mesh, &report, &error));
  g_assert_nonnull(strstr(error->message, "folder"));
  g_error_free(error);
}

/* An oval section is told by its roundness; any other is kept as drawn, with its middle at z = 0.
 */
static void test_section(void)
{
  static const Point flat[] = {{-1, -1.5}, {2, -1.5}, {1.2, 1.5}, {-0.2, 1.5}};
  Case c;
  Trace trace;
  case_init(&c);
  c.n_unit = 2;
  trace_init(&trace);
  const Connector *joint = &c.connector[0];
  Outline *const side[] = {&trace.gingival, &trace.occlusal, &trace.buccal, &trace.lingual};
  for (int i = 0; i < 4; i++) {
    ok(outline_move_to(side[i], point(-3, i)));
    ok(outline_line_to(side[i], point(3, i)));
  }
  ok(case_take_trace(&c, 0, &trace)); /* no section: nothing but the outlines */
  g_assert_cmpuint(joint->section.n, ==, 0);
  ok(outline_move_to(&trace.section, point(1.6, 0)));
  ok(outline_arc_to(&trace.section, point(0, 0), 2 * acos(-1.0)));
  ok(outline_close(&trace.section));
  outline_transform(&trace.section, (const double[6]){1, 0, 0, 1.2, 0.4, 3});
  ok(case_take_trace(&c, 0, &trace));
  g_assert_cmpuint(joint->section.n, ==, 0);
  g_assert_cmpfloat(fabs(joint->roundness_neck - 2), <, 0.05);
  outline_clear(&trace.section);
  ok(outline_from_points(&trace.section, flat, 4, true));
  ok(case_take_trace(&c, 0, &trace));
  Point low, high;
  g_assert_cmpuint(joint->section.n, >, 3);
  section_box(&joint->section, &low, &high);
  g_assert_cmpfloat(fabs(low.x + high.x), <, 1e-9);
  trace_clear(&trace);
  case_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/surface_case/cheek", test_cheek);
  g_test_add_func("/surface_case/shares", test_shares);
  g_test_add_func("/surface_case/roof", test_roof);
  g_test_add_func("/surface_case/take", test_take);
  g_test_add_func("/surface_case/section", test_section);
  g_test_add_func("/surface_case/messages", test_messages);
  return folder_run();
}
