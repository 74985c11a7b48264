/* test_mesh.c - sections, necks and outlines of surfaces whose exact shape is known.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Corners of the tessellated bodies lie on the exact surface; a section then lies inside the exact
 * one by at most the sagitta of a facet, s = r (1 - cos(pi / n)) for n facets around and alike
 * along, and its area is too small by about perimeter times 2/3 s. Tolerances are that bound. */
#include "mesh/trace.h"
#include "proof.h"
#include "surfaces.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)
static const Vec3 UP = {0, 1, 0};

/* ---- bodies ---- */

typedef struct {
  double a, b, c;
} Axes;

static Vec3 ellipsoid_point(double x, double phi, const void *data)
{
  const Axes *e = data;
  double k = sqrt(fmax(0, 1 - x * x / (e->a * e->a)));
  return (Vec3){x, e->b * k * sin(phi), e->c * k * cos(phi)};
}

/* One-sheet hyperboloid: y^2/b^2 + z^2/c^2 = 1 + x^2/a^2; least section pi b c at x = 0. */
static Vec3 hyperboloid_point(double x, double phi, const void *data)
{
  const Axes *h = data;
  double k = sqrt(1 + x * x / (h->a * h->a));
  return (Vec3){x, h->b * k * sin(phi), h->c * k * cos(phi)};
}

/* Inner side of a torus round the x axis: radius R - sqrt(r^2 - x^2); least pi (R - r)^2. */
static Vec3 torus_neck_point(double x, double phi, const void *data)
{
  const Axes *t = data; /* a = r, b = R */
  double k = t->b - sqrt(fmax(0, t->a * t->a - x * x));
  return (Vec3){x, k * sin(phi), k * cos(phi)};
}

/* A whole torus of tube radius c about the y axis at distance a; x here is the angle round it. */
static Vec3 torus_point(double u, double phi, const void *data)
{
  const Axes *t = data;
  double r = t->a + t->c * cos(phi);
  return (Vec3){r * sin(u), t->c * sin(phi), r * cos(u)};
}

static Vec3 tilted(Vec3 p, double yaw, double pitch)
{
  const MeshFrame plain = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  MeshFrame f = mesh_frame_tilted(plain, yaw, pitch);
  return mesh_frame_place(&f, p);
}

static const MeshFrame PLAIN = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
static const Vec3 ALL_LOW = {-1e3, -1e3, -1e3}, ALL_HIGH = {1e3, 1e3, 1e3};

static Slices *slices_of(const Mesh *mesh)
{
  Slices *slices = NULL;
  ok(slices_new(mesh, &PLAIN, ALL_LOW, ALL_HIGH, NULL, &slices));
  return slices;
}

/* ---- sections ---- */

static void test_ellipsoid(void)
{
  static const Axes e = {9, 4, 3};
  enum { AROUND = 180, ALONG = 400 };
  Facets s = surface_new();
  surface_tube(&s, ellipsoid_point, &e, -9, 9, ALONG, AROUND, false);
  StlReport report;
  Mesh mesh = surface_mesh(&s, &report);
  Slices *slices = slices_of(&mesh);
  double sag = 4 * (1 - cos(G_PI / AROUND));
  for (double x = -6; x <= 6; x += 2.385) {
    double k = 1 - x * x / 81;
    Slice slice;
    g_assert_true(slices_at(slices, x, &slice));
    double area = G_PI * 4 * 3 * k;
    g_autofree char *name = g_strdup_printf("section of an ellipsoid at %.3f, mm2", x);
    proof_row_between(name, (Source){"pi b c (1 - x^2/a^2); facets cut 0.02 %", EXACT}, area,
                      slice.area, area * (1 - 5e-4), area);
    g_assert_cmpfloat_with_epsilon(slice.high.y, 4 * sqrt(k), sag + 1e-3);
    g_assert_cmpfloat_with_epsilon(slice.low.x, -3 * sqrt(k), sag + 1e-3);
    Loops loops = {0};
    size_t triangle;
    ok(slices_loops(slices, x, 0, &loops, &triangle));
    g_assert_cmpuint(loops.n, ==, 1);
    g_assert_cmpfloat_with_epsilon(loops.loop[0].area, slice.area, 1e-9);
    for (size_t i = 0; i < loops.loop[0].n; i++) { /* every point near the exact ellipse */
      Point p = loops.loop[0].at[i];
      g_assert_cmpfloat_with_epsilon(hypot(p.x / 3, p.y / 4) / sqrt(k), 1, 1e-3);
    }
    loops_clear(&loops);
  }
  proof_row("volume of an ellipsoid, mm3", (Source){"4/3 pi a b c; corners on the surface", EXACT},
            4 * G_PI / 3 * 9 * 4 * 3, report.state.volume, 0.1);
  slices_free(slices);
  mesh_clear(&mesh);
}

/* The tilted section of a cylinder is an ellipse: area pi r^2 / cos. */
static void test_cylinder_tilted(void)
{
  enum { AROUND = 256 };
  static const Axes c = {1e9, 2.385, 2.385};
  Facets s = surface_new();
  surface_tube(&s, hyperboloid_point, &c, -20, 20, 40, AROUND, false);
  StlReport report;
  Mesh mesh = surface_mesh(&s, &report);
  Slices *slices = slices_of(&mesh);
  double flat = AROUND / 2.0 * 2.385 * 2.385 * sin(2 * G_PI / AROUND);
  for (double deg = 0; deg <= 34; deg += 8.5) {
    Slice slice;
    double a = deg * G_PI / 180;
    g_assert_true(slices_tilted(slices, (Vec3){1.234, 0.1, -0.2}, a, 0, &slice));
    g_autofree char *name = g_strdup_printf("section of a cylinder tilted by %.1f deg, mm2", deg);
    proof_row(name, (Source){"area of its polygon / cos", EXACT}, flat / cos(a), slice.area, 1e-4);
    g_assert_true(slices_tilted(slices, (Vec3){1.234, 0.1, -0.2}, 0, -a, &slice));
    g_assert_cmpfloat_with_epsilon(slice.area, flat / cos(a), 1e-4);
  }
  slices_free(slices);
  mesh_clear(&mesh);
}

/* A ring cut by a plane: two loops; in its middle plane a ring with a hole. */
static void test_torus(void)
{
  enum { AROUND = 120 };
  static const Axes t = {8, 0, 2};
  Facets s = surface_new();
  surface_tube(&s, torus_point, &t, 0, 2 * G_PI, 300, AROUND, true);
  StlReport report;
  Mesh mesh = surface_mesh(&s, &report);
  g_assert_cmpuint(report.state.crowded, ==, 0);
  proof_row("volume of a torus, mm3", (Source){"2 pi^2 R r^2 (Pappus)", EXACT},
            2 * G_PI * G_PI * 8 * 4, report.state.volume, 0.1);
  Slices *slices = slices_of(&mesh);
  Loops loops = {0};
  size_t triangle;
  ok(slices_loops(slices, 0.001, 0.05, &loops, &triangle));
  g_assert_cmpuint(loops.n, ==, 2);
  for (size_t i = 0; i < 2; i++)
    proof_row_within("section of a torus across its tube, mm2",
                     (Source){"pi r^2; polygon of 120 sides takes 0.05 % off", EXACT}, 4 * G_PI,
                     loops.loop[i].area, 0.01);
  slices_free(slices);
  const MeshFrame above = {{0, 0, 0}, {0, 1, 0}, {0, 0, 1}, {1, 0, 0}};
  ok(slices_new(&mesh, &above, ALL_LOW, ALL_HIGH, NULL, &slices));
  ok(slices_loops(slices, 0.001, 0.05, &loops, &triangle));
  g_assert_cmpuint(loops.n, ==, 2);
  proof_row("middle plane of a torus, outer line, mm2", (Source){"pi (R + r)^2", EXACT}, 100 * G_PI,
            loops.loop[0].area, 0.1);
  proof_row("middle plane of a torus, its hole, mm2", (Source){"- pi (R - r)^2", EXACT}, -36 * G_PI,
            loops.loop[1].area, 0.1);
  slices_free(slices);
  loops_clear(&loops);
  mesh_clear(&mesh);
}

/* ---- necks ---- */

static void test_hyperboloid(void)
{
  enum { AROUND = 180, ALONG = 301 }; /* odd: no station at the neck */
  static const Axes h = {3, 2.2, 1.7};
  double yaw = 0.21, pitch = -0.13;
  Facets s = surface_new();
  surface_tube(&s, hyperboloid_point, &h, -8, 8, ALONG, AROUND, false);
  float *c = (float *)(void *)s.corner->data;
  for (size_t i = 0; i < s.corner->len; i++) { /* lies askew in the file */
    Vec3 p = tilted((Vec3){c[3 * i], c[3 * i + 1], c[3 * i + 2]}, yaw, pitch);
    c[3 * i] = (float)p.x + 31, c[3 * i + 1] = (float)p.y - 12, c[3 * i + 2] = (float)p.z + 5;
  }
  StlReport report;
  Mesh mesh = surface_mesh(&s, &report);
  MeshFrame across = PLAIN; /* not along the body: the tilt has to be found */
  across.origin = (Vec3){31, -12, 5};
  static MeshSpan span;
  ok(span_find(&mesh, &across, NULL, &span));
  g_assert_cmpuint(span.n_neck, ==, 1);
  const Neck *neck = &span.neck[0];
  double area = G_PI * 2.2 * 1.7;
  proof_row_between("narrowest section of a hyperboloid, mm2",
                    (Source){"pi b c at the waist; facets take up to 0.05 % off", EXACT}, area,
                    neck->area, area * (1 - 1e-3), area * (1 + 1e-4));
  Vec3 axis = tilted((Vec3){1, 0, 0}, yaw, pitch);
  g_assert_cmpfloat(vec3_dot(axis, neck->frame.x), >, cos(0.5 * G_PI / 180));
  g_assert_cmpfloat(vec3_length(vec3_sub(neck->frame.origin, across.origin)), <, 0.02);
  g_assert_cmpfloat_with_epsilon(neck->height, 4.4, 0.02);
  g_assert_cmpfloat_with_epsilon(neck->width, 3.4, 0.02);
  /* its own main axis is found as well, up kept nearest to the file's */
  MeshFrame guess;
  ok(mesh_frame_guess(&mesh, UP, false, &guess));
  g_assert_cmpfloat(fabs(vec3_dot(guess.x, axis)), >, cos(0.5 * G_PI / 180));
  g_assert_cmpfloat(guess.y.y, >, 0.9);
  mesh_clear(&mesh);
}

static void test_torus_neck(void)
{
  static const Axes t = {3, 4.5, 0};
  Facets s = surface_new();
  surface_tube(&s, torus_neck_point, &t, -2.9, 2.9, 201, 200, false);
  StlReport report;
  Mesh mesh = surface_mesh(&s, &report);
  static MeshSpan span;
  ok(span_find(&mesh, &PLAIN, NULL, &span));
  g_assert_cmpuint(span.n_neck, ==, 1);
  double area = G_PI * 1.5 * 1.5;
  proof_row_between("narrowest section inside a torus, mm2",
                    (Source){"pi (R - r)^2; facets take up to 0.05 % off", EXACT}, area,
                    span.neck[0].area, area * (1 - 1e-3), area * (1 + 1e-4));
  g_assert_cmpfloat_with_epsilon(span.neck[0].x, 0, 0.01);
  /* by hand, 1 mm beside it */
  Neck neck;
  ok(span_neck_at(&mesh, &span, 1, 0, 0, &neck));
  double r = 4.5 - sqrt(8);
  g_assert_cmpfloat_with_epsilon(neck.area, G_PI * r * r, 0.02);
  g_assert_cmpint(span_neck_at(&mesh, &span, 0, 1, 0, &neck), ==, FAULT_RANGE);
  g_assert_cmpint(span_neck_at(&mesh, &span, NAN, 0, 0, &neck), ==, FAULT_RANGE);
  mesh_clear(&mesh);
}

static void test_no_neck(void)
{
  static const Axes e = {9, 4, 3};
  Facets s = surface_new();
  surface_tube(&s, ellipsoid_point, &e, -8, 8, 100, 60, false);
  StlReport report;
  Mesh mesh = surface_mesh(&s, &report);
  static MeshSpan span;
  ok(span_find(&mesh, &PLAIN, NULL, &span));
  g_assert_cmpuint(span.n_neck, ==, 0);
  mesh_clear(&mesh);
}

/* ---- a bridge of four units ---- */

static Mesh bridge(StlReport *report)
{
  Facets s = surface_new();
  surface_tube(&s, row_point, &ROW_SOUND, -18, 27, 720, 160, false);
  return surface_mesh(&s, report);
}

/* Largest distance of a drawn line from y(x), inside the reach. */
static double line_off(const Outline *o, double (*exact)(double x, int side), int side,
                       double shift)
{
  double off = 0;
  for (double t = 0; t <= (double)outline_pieces(o); t += 0.05) {
    Point p = outline_at(o, t);
    double slope = (exact(p.x + 1e-4, side) - exact(p.x - 1e-4, side)) / 2e-4;
    off = fmax(off, fabs(p.y - exact(p.x, side) - shift) / sqrt(1 + slope * slope));
  }
  return off;
}

static double row_line(double x, int side)
{
  const Row *r = &ROW_SOUND;
  double k = row_swing(r, x);
  switch (side) {
  case 0:
    return r->neck_low + k * (r->body_low - r->neck_low);
  case 1:
    return r->neck_high + k * (r->body_high - r->neck_high);
  default:
    return (side == 2 ? 1 : -1) * (r->neck_half + k * (r->body_half - r->neck_half));
  }
}

static void test_bridge(void)
{
  StlReport report;
  Mesh mesh = bridge(&report);
  MeshFrame frame;
  ok(mesh_frame_guess(&mesh, UP, false, &frame));
  static MeshSpan span;
  ok(span_find(&mesh, &frame, NULL, &span));
  g_assert_cmpuint(span.n_neck, ==, 4);
  const Row *r = &ROW_SOUND;
  double area = G_PI * (r->neck_high - r->neck_low) / 2 * r->neck_half;
  for (size_t i = 0; i < span.n_neck; i++) {
    TraceSettings settings = {{0, 0}, TRACE_TOLERANCE_MM, 0.05};
    trace_reach(&span, i, settings.reach);
    g_assert_cmpfloat_with_epsilon(settings.reach[0], 4.5, i == 0 ? 0.1 : 0.05);
    Trace trace;
    trace_init(&trace);
    ok(trace_connector(&mesh, &span.neck[i], &settings, NULL, &trace));
    g_assert_cmpfloat(trace.worst_mm, <=, TRACE_TOLERANCE_MM);
    proof_row_within("area of a traced neck, mm2",
                     (Source){"ellipse pi/4 h w of the row of units", EXACT}, area,
                     outline_area(&trace.section), area * 0.005);
    g_assert_cmpfloat_with_epsilon(trace.area, area, area * 0.001);
    g_assert_cmpuint(trace.n_note, ==, 0);
    /* the four lines against the functions that made the body; y = 0 is the body's lowest place */
    const Outline *line[4] = {&trace.gingival, &trace.occlusal, &trace.buccal, &trace.lingual};
    for (int side = 0; side < 4; side++) {
      double off = line_off(line[side], row_line, side, 0);
      g_test_message("neck %zu side %d off by %.4f mm, %zu knots", i, side, off, line[side]->n);
      g_assert_cmpfloat(off, <, TRACE_TOLERANCE_MM + 0.01);
      g_assert_cmpfloat(line[side]->knot[0].at.x, <, -4.3);
      g_assert_cmpfloat(line[side]->knot[line[side]->n - 1].at.x, >, 4.3);
      g_assert_cmpuint(line[side]->n, <, 40);
    }
    trace_clear(&trace);
  }
  mesh_clear(&mesh);
}

/* A hole in the neck: the four outlines stand, the section says which triangle. */
static void test_hole(void)
{
  Facets s = surface_new();
  surface_tube(&s, row_point, &ROW_SOUND, -4.5, 4.5, 240, 96, false);
  float *c = (float *)(void *)s.corner->data;
  size_t taken = 0;
  for (size_t i = 0; i + 9 <= 3 * (size_t)s.corner->len; i += 9)
    if (fabsf(c[i]) < 0.3f && c[i + 2] > 1 && fabsf(c[i + 1] - 4) < 0.8f) {
      memset(c + i, 0, 9 * sizeof *c);
      taken++;
    }
  g_assert_cmpuint(taken, >, 10);
  StlReport report;
  Mesh mesh = surface_mesh(&s, &report);
  g_assert_cmpuint(report.state.flat, ==, taken);
  g_assert_cmpuint(report.state.open, >, 10);
  MeshSpan *span = g_new0(MeshSpan, 1);
  ok(span_find(&mesh, &PLAIN, NULL, span));
  Neck neck;
  ok(span_neck_at(&mesh, span, 0, 0, 0, &neck));
  TraceSettings settings = {{4, 4}, TRACE_TOLERANCE_MM, 0.05};
  Trace trace;
  trace_init(&trace);
  ok(trace_connector(&mesh, &neck, &settings, NULL, &trace));
  g_assert_cmpuint(trace.section.n, ==, 0);
  g_assert_cmpuint(trace.n_note, ==, 1);
  g_assert_nonnull(strstr(trace.note[0].text, "stays open near triangle"));
  g_assert_cmpfloat(trace.note[0].value[0], >, 1);
  g_assert_cmpuint(trace.gingival.n, >, 3);
  settings.bridge_mm = 1; /* the hole is 1.6 mm wide */
  trace_clear(&trace);
  ok(trace_connector(&mesh, &neck, &settings, NULL, &trace));
  g_assert_cmpuint(trace.section.n, ==, 0);
  trace_clear(&trace);
  g_free(span);
  mesh_clear(&mesh);
}

/* A section like an eight. */
static Vec3 eight_point(double x, double phi, const void *data)
{
  (void)data;
  double k = 1 + x * x / 16;
  return (Vec3){x, 2 * k * sin(phi), 2 * k * sin(2 * phi + 0.4)};
}

static void test_self_crossing(void)
{
  Facets s = surface_new();
  surface_tube(&s, eight_point, NULL, -6, 6, 120, 120, false);
  StlReport report;
  Mesh mesh = surface_mesh(&s, &report);
  MeshSpan *span = g_new0(MeshSpan, 1);
  ok(span_find(&mesh, &PLAIN, NULL, span));
  Neck neck;
  Fault fault = span_neck_at(&mesh, span, 0.01, 0, 0, &neck);
  if (fault == FAULT_NONE) {
    TraceSettings settings = {{4, 4}, TRACE_TOLERANCE_MM, 0.05};
    Trace trace;
    trace_init(&trace);
    ok(trace_connector(&mesh, &neck, &settings, NULL, &trace));
    g_assert_cmpuint(trace.section.n, ==, 0);
    g_assert_nonnull(strstr(trace.note[trace.n_note - 1].text, "crosses itself"));
    trace_clear(&trace);
  } else {
    g_assert_cmpint(fault, ==, FAULT_NO_NECK);
  }
  g_free(span);
  mesh_clear(&mesh);
}

static void test_frames(void)
{
  MeshFrame f = {{1, 2, 3}, {0, 0, 1}, {1, 0, 0}, {0, 1, 0}};
  for (int hand = 0; hand < 2; hand++) {
    if (hand)
      f.z = vec3_scale(f.z, -1);
    double sense = vec3_dot(vec3_cross(f.x, f.y), f.z);
    for (int k = -2; k < 6; k++)
      for (int end = 0; end < 2; end++) {
        MeshFrame t = mesh_frame_turned(f, k, end);
        g_assert_cmpfloat_with_epsilon(vec3_dot(vec3_cross(t.x, t.y), t.z), sense, 1e-12);
        MeshFrame u = mesh_frame_tilted(t, 0.3, -0.2);
        g_assert_cmpfloat_with_epsilon(vec3_dot(vec3_cross(u.x, u.y), u.z), sense, 1e-12);
        Vec3 p = mesh_frame_place(&u, (Vec3){1, -2, 0.5}), q = mesh_frame_local(&u, p);
        g_assert_cmpfloat_with_epsilon(q.x, 1, 1e-12);
        g_assert_cmpfloat_with_epsilon(q.y, -2, 1e-12);
      }
    MeshFrame full = mesh_frame_turned(f, 4, false);
    g_assert_cmpfloat_with_epsilon(vec3_dot(full.y, f.y), 1, 1e-12);
  }
}

/* Places in shares of a span of 100; each connector takes the nearest neck, in order. */
static void test_match(void)
{
  MeshSpan *span = g_new0(MeshSpan, 1);
  const double x[] = {20, 31, 70};
  span->high = 100;
  for (size_t i = 0; i < 3; i++)
    span->neck[span->n_neck++].x = x[i];
  size_t neck[4];
  const double two[] = {0.3, 0.72}, four[] = {0.2, 0.3, 0.5, 0.7}, turned[] = {0.3, 0.69, 0.8};
  g_assert_cmpfloat_with_epsilon(span_match(span, two, 2, false, neck), 0.015, 1e-12);
  g_assert_cmpuint(neck[0], ==, 1);
  g_assert_cmpuint(neck[1], ==, 2);
  g_assert_cmpfloat_with_epsilon(span_match(span, four, 4, false, neck), (0.01 + 1) / 4, 1e-12);
  g_assert_cmpuint(neck[0], ==, 0);
  g_assert_cmpuint(neck[1], ==, 1);
  g_assert_cmpuint(neck[2], ==, NECK_NONE);
  g_assert_cmpuint(neck[3], ==, 2);
  g_assert_cmpfloat_with_epsilon(span_match(span, turned, 3, true, neck), 0, 1e-12);
  g_assert_cmpuint(neck[2], ==, 2);
  g_assert_cmpfloat(span_match(span, turned, 3, false, neck), >, 0.1);
  span->n_neck = 0;
  g_assert_cmpfloat(span_match(span, two, 2, false, neck), ==, 1);
  g_assert_cmpuint(neck[0], ==, NECK_NONE);
  g_free(span);
}

static bool stop_at(void *data, double done)
{
  return done < *(double *)data;
}

static void test_cancel(void)
{
  StlReport report;
  Mesh mesh = bridge(&report);
  double at = 0.4;
  const MeshWatch watch = {stop_at, &at};
  MeshSpan *span = g_new0(MeshSpan, 1);
  g_assert_cmpint(span_find(&mesh, &PLAIN, &watch, span), ==, FAULT_CANCELLED);
  g_assert_cmpuint(span->n_neck, ==, 0);
  ok(span_find(&mesh, &PLAIN, NULL, span));
  TraceSettings settings = {{4, 4}, TRACE_TOLERANCE_MM, 0.05};
  Trace trace;
  trace_init(&trace);
  g_assert_cmpint(trace_connector(&mesh, &span->neck[0], &settings, &watch, &trace), ==,
                  FAULT_CANCELLED);
  settings.reach[0] = 0;
  g_assert_cmpint(trace_connector(&mesh, &span->neck[0], &settings, NULL, &trace), ==, FAULT_RANGE);
  g_assert_cmpuint(trace.gingival.n, ==, 0);
  g_free(span);
  mesh_clear(&mesh);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/mesh/ellipsoid", test_ellipsoid);
  g_test_add_func("/mesh/cylinder tilted", test_cylinder_tilted);
  g_test_add_func("/mesh/torus", test_torus);
  g_test_add_func("/mesh/hyperboloid", test_hyperboloid);
  g_test_add_func("/mesh/torus neck", test_torus_neck);
  g_test_add_func("/mesh/no neck", test_no_neck);
  g_test_add_func("/mesh/bridge", test_bridge);
  g_test_add_func("/mesh/hole", test_hole);
  g_test_add_func("/mesh/self crossing", test_self_crossing);
  g_test_add_func("/mesh/match", test_match);
  g_test_add_func("/mesh/frames", test_frames);
  g_test_add_func("/mesh/cancel", test_cancel);
  return g_test_run();
}
