/* test_drawn_section.c - drawn neck sections: refusals, loft, solid against beams, plane, ellipse.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa. */
#include "base/tolerance.h"
#include "connector_solve.h"
#include "mechanics/drawn_section.h"
#include "mechanics/plane.h"
#include "mechanics/section_shape.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static const Source
    bending = {"bending of a straight bar, M c / I", EXACT},
    skew = {"skew bending of a straight bar, I_y I_z - I_yz^2", EXACT},
    twisting = {"Saint-Venant torsion of an ellipse, 2 T / (pi a b^2)", EXACT},
    triangle_twist = {"torsion of the equilateral triangle, 20 T / a^3 (Roark 10.7)", FROM_MEMORY},
    statics = {"statics", EXACT};

static Outline polygon(const Point at[], size_t n)
{
  Outline o;
  outline_init(&o);
  ok(outline_from_points(&o, at, n, true));
  return o;
}

/* A superellipse through many knots with its own tangents: cubics of Hermite, error below 5e-6. */
static Outline superellipse(double half_z, double half_y, double n, double up)
{
  enum { KNOTS = 96 };
  Outline o;
  Point p[KNOTS], d[KNOTS];
  outline_init(&o);
  for (int i = 0; i < KNOTS; i++) {
    double t = 2 * G_PI * i / KNOTS, c = cos(t), s = sin(t);
    /* by the angle seen from the middle, of the unit section */
    double sum = pow(fabs(c), n) + pow(fabs(s), n), r = pow(sum, -1 / n);
    double dsum = n * (copysign(pow(fabs(s), n - 1), s) * c - copysign(pow(fabs(c), n - 1), c) * s),
           dr = -r * dsum / (n * sum);
    p[i] = point(half_z * r * c, up + half_y * r * s);
    d[i] = point(half_z * (dr * c - r * s), half_y * (dr * s + r * c));
  }
  double third = 2 * G_PI / KNOTS / 3;
  ok(outline_move_to(&o, p[0]));
  for (int i = 0; i < KNOTS; i++) {
    int k = (i + 1) % KNOTS;
    ok(outline_curve_to(&o, point_add(p[i], point_scale(d[i], third)),
                        point_sub(p[k], point_scale(d[k], third)), p[k]));
  }
  ok(outline_close(&o));
  return o;
}

/* ---- the check ---- */

static void test_refuses(void)
{
  static const struct {
    const char *path, *reason;
  } bad[] = {
      {"M -1 -1 L 1 -1 L 1 1 L -1 1", "is open"},
      {"M -1 -1 L 1 1 L 1 -1 L -1 1 Z", "crosses itself"},
      {"M -1 0 L 1 0 L 1 0.2 L -1 0.2 Z", "thinner than 0.3 mm"},
      {"M 1 -1 L 3 -1 L 3 1 L 1 1 Z", "does not go around its middle"},
      {"M -1 -1 L 1 -1 L -1 1 Z",
       "does not go around its middle"}, /* its long side runs through the middle */
      {"M -2 -2 L 2 -2 L 2 2 L 1.5 2 L 1.5 -1 L -2 -1 Z", "does not go around its middle"},
      {"M -2 -2 L 2 -2 L 2 2 L 1 2 L 1 0.5 L 0.8 0.5 L 0.8 2 L -2 2 Z", "hides from its middle"},
      {"M -2 -2 L 0 -0.3 L 2 -2 L 2 2 L 0 0.3 L -2 2 Z", "sliver"},
      {"M 0 0 L 500 0 L 0 500 Z", "range"},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    Outline o, scaled;
    Section s = {.area = 7};
    Point where;
    const char *reason = NULL;
    size_t bad_at;
    outline_init(&o);
    outline_init(&scaled);
    ok(outline_from_path(&o, bad[i].path, &bad_at));
    g_assert_false(section_check(&o, &where, &reason));
    g_test_message("%s", reason);
    g_assert_nonnull(strstr(reason, bad[i].reason));
    g_assert_true(point_finite(where));
    g_assert_cmpint(section_scale(&o, 1, 1, 1, 1, 0, &scaled), ==, FAULT_SECTION);
    g_assert_cmpint(section_neck(&o, 1, 1, 1, 1, 2, 0, &s), ==, FAULT_SECTION);
    g_assert_cmpfloat(s.area, ==, 7);
    Connector4 c;
    connector_draw(&c, roof_shape(0.6, 0, 0), 3.2, 1.0);
    LoftInput input = connector_input(&c);
    input.section = &o;
    Loft *loft = NULL;
    g_assert_cmpint(loft_new(&input, &loft, &where), ==, FAULT_SECTION);
    connector4_clear(&c);
    outline_clear(&o);
  }
}

/* ---- scaled to the outlines ---- */

static const Point trapezoid_at[4] = {{-2, 0}, {2, 0}, {1, 3}, {-1, 3}};

static void test_scaled(void)
{
  Outline o = polygon(trapezoid_at, 4), scaled;
  Section as_drawn, s;
  outline_init(&scaled);
  /* to its own size: itself, wherever it stood */
  ok(section_scale(&o, 1.5, 1.5, 2, 2, 7, &scaled));
  ok(section_from_outline(&o, &as_drawn));
  ok(section_from_outline(&scaled, &s));
  g_assert_cmpfloat_with_epsilon(s.area, as_drawn.area, 1e-9);
  g_assert_cmpfloat_with_epsilon(s.y, as_drawn.y + 5.5, 1e-9);
  g_assert_cmpfloat_with_epsilon(s.i_z, as_drawn.i_z, 1e-9);
  g_assert_cmpfloat_with_epsilon(s.torsion, as_drawn.torsion, 1e-3 * s.torsion);
  /* twice as high, half as wide on the tongue side */
  ok(section_neck(&o, 3, 3, 2, 1, 2, 0, &s));
  g_assert_cmpfloat_with_epsilon(s.area, 2 * as_drawn.area * 0.75, 1e-9);
  g_assert_cmpfloat_with_epsilon(s.height, 6, 1e-9);
  g_assert_cmpfloat_with_epsilon(s.width, 3, 1e-9);
  g_assert_cmpfloat_with_epsilon(s.i_z, 8 * as_drawn.i_z * 0.75, 1e-9);
  /* the other way round is the same */
  outline_reverse(&o);
  Section turned;
  ok(section_neck(&o, 3, 3, 2, 1, 2, 0, &turned));
  g_assert_cmpfloat_with_epsilon(turned.i_yz, s.i_yz, 1e-9);
  outline_clear(&o);
  outline_clear(&scaled);
}

static void test_rays(void)
{
  Outline o = polygon(trapezoid_at, 4), round = superellipse(1.3, 0.8, 4, 2);
  DrawnSection *d = NULL;
  double corner[SECTION_CORNERS];
  ok(drawn_section_new(&o, &d));
  g_assert_cmpfloat_with_epsilon(drawn_section_reach(d, 0, false), 1, 1e-9);
  g_assert_cmpfloat_with_epsilon(drawn_section_reach(d, G_PI / 2, false), 0.75, 1e-9);
  g_assert_cmpfloat_with_epsilon(drawn_section_reach(d, G_PI / 4, true), sqrt(2), 1e-9);
  g_assert_cmpfloat_with_epsilon(drawn_section_lopsided(d), 0, 1e-9);
  g_assert_cmpuint(drawn_section_corners(d, true, corner), ==, 2);
  g_assert_cmpfloat_with_epsilon(corner[0], G_PI / 4, 1e-9);
  g_assert_cmpfloat_with_epsilon(corner[1], G_PI - atan(0.5), 1e-9);
  drawn_section_free(d);
  ok(drawn_section_new(&round, &d));
  g_assert_cmpfloat_with_epsilon(drawn_section_roundness(d), 4, 1e-4);
  g_assert_cmpuint(drawn_section_corners(d, false, corner), ==, 0);
  for (int i = 0; i <= 90; i++) {
    double a = G_PI * i / 90, exact = pow(pow(fabs(cos(a)), 4) + pow(fabs(sin(a)), 4), -0.25);
    g_assert_cmpfloat_with_epsilon(drawn_section_reach(d, a, i % 2), exact, 5e-6);
  }
  drawn_section_free(d);
  outline_clear(&o);
  outline_clear(&round);
}

/* ---- ribs ---- */

/* Each rib reaches its four outlines and does not pass them. */
static void test_ribs(void)
{
  static const char *const path[] = {
      "M -2 0 L 2 0 L 1 3 L -1 3 Z", "M -2 0 L 2 0 L 0 3 Z", "M -1 0 L 1 0 L 2 3 L -2 2 Z",
      "M -1.2 -1 C 0 -2 1.5 -1.5 1.5 0 C 1.5 2 0 2.4 -0.6 2 C -1.6 1.4 -2 0 -1.2 -1 Z"};
  for (size_t k = 0; k < G_N_ELEMENTS(path); k++) {
    Outline o;
    size_t bad_at;
    outline_init(&o);
    ok(outline_from_path(&o, path[k], &bad_at));
    Connector4 c;
    connector_draw(&c, roof_shape(0.6, 0, 20), 3.2, 1.0);
    LoftInput input = connector_input(&c);
    input.section = &o;
    Loft *loft = NULL;
    Point where;
    ok(loft_new(&input, &loft, &where));
    g_assert_cmpint(loft_section_even(loft), ==, k < 2);
    g_assert_cmpint(loft_mirror_z(loft), ==, k < 2);
    for (int i = 0; i <= 30; i++) {
      Rib rib = loft_rib(loft, 1, i / 10.0);
      double low = INFINITY, high = -INFINITY, left = INFINITY, right = -INFINITY;
      for (int a = 0; a <= 720; a++) {
        bool lingual = a > 360;
        double angle = lingual ? (a - 360) * G_PI / 360 : a * G_PI / 360, s = sin(angle),
               reach = rib_reach(&rib, cos(angle), s, loft_section_ratio(loft, angle, lingual));
        Vec3 p = loft_place(&rib, loft_y0(loft), -reach * cos(angle),
                            lingual ? -reach * s : reach * s, false);
        low = fmin(low, p.y), high = fmax(high, p.y);
        left = fmin(left, p.z), right = fmax(right, p.z);
      }
      g_assert_cmpfloat_with_epsilon(low, rib.gingival.y, 0.01);
      g_assert_cmpfloat_with_epsilon(high, rib.occlusal.y, 0.01);
      g_assert_cmpfloat_with_epsilon(right, rib.buccal, 0.012);
      g_assert_cmpfloat_with_epsilon(left, -rib.lingual, 0.012);
    }
    loft_free(loft);
    connector4_clear(&c);
    outline_clear(&o);
  }
}

/* ---- the same as by roundness ---- */

static double peak_of(const Field *field, NeckLoad load)
{
  Peak peak;
  ok(field_peak(field, load, &peak));
  return peak.mpa;
}

/* Every answer of a drawn superellipse is that of its exponent. */
static void test_same_as_round(void)
{
  const double exponent[] = {2, 4};
  for (size_t k = 0; k < G_N_ELEMENTS(exponent); k++)
    for (int grade = SOLID_LIVE; grade <= (k ? SOLID_FULL : SOLID_FINE); grade++) {
      Connector4 c;
      connector_draw(&c, roof_shape(0.4, 0, 30), 3.2, 1.0);
      outline_transform(&c.buccal, (const double[6]){1, 0, 0, 1, 0, 0.15});
      Outline drawn = superellipse(1.3, 0.8, exponent[k], 5);
      LoftInput round = connector_input(&c), own = round;
      round.roundness_neck = exponent[k];
      own.section = &drawn;
      Field *by_round = connector_solid(&round, (SolidGrade)grade),
            *by_drawing = connector_solid(&own, (SolidGrade)grade);
      g_assert_cmpuint(by_round->unknowns, ==, by_drawing->unknowns);
      for (int up = -1; up <= 1; up += 2) {
        double wanted = peak_of(by_round, (NeckLoad){up * 1000, up * 20}),
               got = peak_of(by_drawing, (NeckLoad){up * 1000, up * 20});
        g_assert_cmpfloat_with_epsilon(got, wanted, 1e-4 * wanted);
      }
      g_assert_cmpfloat_with_epsilon(by_drawing->band_percent, by_round->band_percent, 0.01);
      field_unref(by_round);
      field_unref(by_drawing);
      Section by_n, by_outline;
      ok(section_neck(NULL, 2, 2, 1.75, 1.6, exponent[k], 0.3, &by_n));
      ok(section_neck(&drawn, 2, 2, 1.75, 1.6, 7, 0.3, &by_outline));
      g_assert_cmpfloat_with_epsilon(by_outline.area, by_n.area, 1e-5 * by_n.area);
      g_assert_cmpfloat_with_epsilon(by_outline.i_z, by_n.i_z, 1e-5 * by_n.i_z);
      g_assert_cmpfloat_with_epsilon(by_outline.i_y, by_n.i_y, 1e-5 * by_n.i_y);
      g_assert_cmpfloat_with_epsilon(by_outline.w_gingival, by_n.w_gingival,
                                     1e-5 * by_n.w_gingival);
      g_assert_cmpfloat_with_epsilon(by_outline.torsion, by_n.torsion, 4e-3 * by_n.torsion);
      outline_clear(&drawn);
      connector4_clear(&c);
    }
}

/* ---- bars ---- */

/* Straight, h high and w wide, so long that the body's section does not reach the middle. */
static void bar_draw(Connector4 *c, double h, double w)
{
  const double level[4] = {-h / 2, h / 2, w / 2, -w / 2};
  Outline *outline[4] = {&c->gingival, &c->occlusal, &c->buccal, &c->lingual};
  for (int k = 0; k < 4; k++) {
    outline_init(outline[k]);
    ok(outline_move_to(outline[k], point(-24, level[k])));
    ok(outline_line_to(outline[k], point(24, level[k])));
  }
}

/* Largest pull of the neck's section: candidates near the middle. */
static double neck_pull(const Field *field, NeckLoad load)
{
  double most = 0;
  for (size_t i = 0; i < field->n_candidate; i++) {
    PeakCandidate *p = &field->candidate[i];
    if (fabs(p->at.x) > 0.01)
      continue;
    double a[6], b[6];
    stress_combine(p->direct, NULL, load, a);
    stress_combine(p->extrapolated, NULL, load, b);
    most = fmax(most, (stress_first(a) + stress_first(b)) / 2);
  }
  return most;
}

typedef struct {
  const char *name, *path;
  double h, w, w_low, w_high; /* section moduli of gum side and biting side */
} Bar;

static void test_bars(void)
{
  static const Bar bar[] = {
      /* trapezoid 4, 2, height 3: I 6.5, centroid 4/3 up; handbook */
      {"trapezoid 4, 2, height 3", "M -2 0 L 2 0 L 1 3 L -1 3 Z", 3, 4, 6.5 / (4.0 / 3),
       6.5 / (5.0 / 3)},
      {"trapezoid upside down", "M -1 0 L 1 0 L 2 3 L -2 3 Z", 3, 4, 6.5 / (5.0 / 3),
       6.5 / (4.0 / 3)},
      /* triangle 3 x 4: b h^2 / 12 and / 24 */
      {"triangle 3 x 4, base down", "M -1.5 0 L 1.5 0 L 0 4 Z", 4, 3, 4, 2},
      {"rectangle 3 x 4", "M -1.5 0 L 1.5 0 L 1.5 4 L -1.5 4 Z", 4, 3, 8, 8},
  };
  for (size_t k = 0; k < G_N_ELEMENTS(bar); k++) {
    Connector4 c;
    Outline o;
    size_t bad_at;
    outline_init(&o);
    ok(outline_from_path(&o, bar[k].path, &bad_at));
    bar_draw(&c, bar[k].h, bar[k].w);
    LoftInput input = connector_input(&c);
    input.section = &o;
    for (int grade = SOLID_LIVE; grade <= (k % 2 ? SOLID_LIVE : SOLID_FINE); grade += 2) {
      Field *field = connector_solid(&input, (SolidGrade)grade);
      const char *mesh = grade == SOLID_FINE ? "fine" : "live";
      g_autofree char *low = g_strdup_printf("bar, drawn %s, stretched below, %s mesh", bar[k].name,
                                             mesh),
                      *high = g_strdup_printf("bar, drawn %s, stretched above, %s mesh",
                                              bar[k].name, mesh);
      proof_row(low, bending, 1000 / bar[k].w_low, neck_pull(field, (NeckLoad){1000, 0}), 1);
      proof_row(high, bending, 1000 / bar[k].w_high, neck_pull(field, (NeckLoad){-1000, 0}), 1);
      field_unref(field);
    }
    connector4_clear(&c);
    outline_clear(&o);
  }
}

/* A section without any symmetry bends askew: sigma = M (I_yz z - I_y y) / (I_y I_z - I_yz^2). */
static void test_skew_bar(void)
{
  const Point at[4] = {{-1, -1.5}, {1, -1.5}, {2, 1.5}, {-2, 0.8}};
  Outline o = polygon(at, 4);
  Section s;
  ok(section_from_outline(&o, &s));
  double most = 0, det = s.i_y * s.i_z - s.i_yz * s.i_yz;
  for (int i = 0; i < 4; i++)
    most = fmax(most, 1000 * (s.i_yz * (at[i].x - s.z) - s.i_y * (at[i].y - s.y)) / det);
  Connector4 c;
  bar_draw(&c, 3, 4);
  LoftInput input = connector_input(&c);
  input.section = &o;
  for (int grade = SOLID_LIVE; grade <= SOLID_FINE; grade += 2) {
    Field *field = connector_solid(&input, (SolidGrade)grade);
    proof_row(grade ? "bar without symmetry, fine mesh" : "bar without symmetry, live mesh", skew,
              most, neck_pull(field, (NeckLoad){1000, 0}), 1);
    field_unref(field);
  }
  connector4_clear(&c);
  outline_clear(&o);
}

static Field *solve_odd(const LoftInput *input, SolidGrade grade)
{
  Loft *loft = NULL;
  SolidWork *work = NULL;
  Field *field = NULL;
  SolidSettings settings = {205000, 0.31, grade, NULL, NULL};
  ok(loft_new(input, &loft, NULL));
  ok(solid_work_new(&work));
  ok(solid_solve_odd(work, loft, &settings, &field, NULL));
  loft_free(loft);
  solid_work_free(work);
  return field;
}

static void test_twisted_bars(void)
{
  const Point equal[3] = {{-2, 0}, {2, 0}, {0, 2 * sqrt(3)}}; /* side 4 */
  Outline o[2] = {superellipse(1.5, 1.2, 2, 0), polygon(equal, 3)};
  for (int k = 0; k < 2; k++) {
    Connector4 c;
    bar_draw(&c, k ? 2 * sqrt(3) : 2.4, k ? 4 : 3);
    LoftInput input = connector_input(&c);
    input.section = &o[k];
    Field *field = solve_odd(&input, SOLID_FINE);
    double got = neck_pull(field, (NeckLoad){0, 1000});
    if (k == 0)
      proof_row("bar, drawn ellipse 3 x 2.4, twisted", twisting, 2000 / (G_PI * 1.5 * 1.44), got,
                1);
    else
      proof_row("bar, drawn triangle side 4, twisted", triangle_twist, 20 * 1000 / 64.0, got, 3);
    field_unref(field);
    outline_clear(&o[k]);
    connector4_clear(&c);
  }
}

/* ---- plane beside solid ---- */

static void test_plane(void)
{
  static const char *const path[] = {
      "M -2 0 L 2 0 L 1 3 L -1 3 Z", "M -1.6 0 L 1.6 0 L 2 3 L -2 3 Z",
      "M -1 0 L 1 0 L 2 3 L -2 2 Z", "M -1.5 0 L 1.5 0 L 0.5 4 L -0.5 4 Z"};
  PlaneWork *work = NULL;
  ok(plane_work_new(&work));
  for (size_t k = 0; k < G_N_ELEMENTS(path); k++) {
    Connector4 c;
    Outline o;
    size_t bad_at;
    PlaneReading reading;
    Point where;
    Field *flat = NULL;
    PlaneSettings settings = {205000, 0.31, PLANE_FINENESS};
    outline_init(&o);
    ok(outline_from_path(&o, path[k], &bad_at));
    connector_draw(&c, roof_shape(0.4, 0, 30), 3.2, 1.0);
    LoftInput input = connector_input(&c);
    input.section = &o;
    ok(plane_connector(work, &input, &settings, &flat, &reading, &where));
    Field *solid = connector_solid(&input, SOLID_FINE);
    for (int up = -1; up <= 1; up += 2) {
      NeckLoad load = {up * 1000, 0};
      double fine = peak_of(solid, load), plane = peak_of(flat, load);
      g_test_message("section %zu, bent %s: plane %.1f (band %.0f %%), solid %.1f (band %.1f %%), "
                     "%.1f %% apart",
                     k, up > 0 ? "down" : "up", plane, flat->band_percent, fine,
                     solid->band_percent, 100 * (plane / fine - 1));
      g_assert_cmpfloat(fabs(plane / fine - 1) * 100, <=, flat->band_percent);
    }
    field_unref(flat);
    field_unref(solid);
    connector4_clear(&c);
    outline_clear(&o);
  }
  plane_work_free(work);
}

/* Live against fine on drawn necks of every kind: inside the band. */
static void test_live_band(void)
{
  static const char *const path[] = {
      "M -2 0 L 2 0 L 1 3 L -1 3 Z", "M -1.5 0 L 1.5 0 L 0 4 Z", "M -1 0 L 1 0 L 2 3 L -2 2 Z",
      "M -1.2 -1 C 0 -2 1.5 -1.5 1.5 0 C 1.5 2 0 2.4 -0.6 2 C -1.6 1.4 -2 0 -1.2 -1 Z",
      "M -1 -2 L 1 -2 L 1.5 0 L 1 2 L -1 2 L -1.5 0 Z"};
  for (size_t k = 0; k < G_N_ELEMENTS(path); k++)
    for (int sharp = k % 2; sharp < (k == 0 ? 2 : 1 + (int)k % 2); sharp++) { /* fine is slow */
      Connector4 c;
      Outline o;
      size_t bad_at;
      outline_init(&o);
      ok(outline_from_path(&o, path[k], &bad_at));
      connector_draw(&c, roof_shape(sharp ? 0.25 : 0.6, 0, 40), 3.2, 1.0);
      LoftInput input = connector_input(&c);
      input.section = &o;
      Field *live = connector_solid(&input, SOLID_LIVE),
            *fine = connector_solid(&input, SOLID_FINE);
      for (int up = -1; up <= 1; up += 2) {
        NeckLoad load = {up * 1000, 0};
        double a = peak_of(live, load), b = peak_of(fine, load);
        g_test_message("section %zu, roof %s, bent %s: live %.1f (%.1f %%, %.0f ms), fine %.1f "
                       "(%.1f %%): %.2f %%",
                       k, sharp ? "0.25" : "0.6", up > 0 ? "down" : "up", a, live->band_percent,
                       1000 * live->seconds, b, fine->band_percent, 100 * (a / b - 1));
        g_assert_cmpfloat(fabs(a / b - 1) * 100, <=, live->band_percent);
      }
      field_unref(live);
      field_unref(fine);
      connector4_clear(&c);
      outline_clear(&o);
    }
}

/* What the hand does to a section. */
static void test_moves(void)
{
  const NeckHalves neck = {2, 1.6, 1.4};
  Outline o;
  Section s, exact;
  DrawnSection *d = NULL;
  Point low, high, where;
  const char *reason;
  outline_init(&o);
  for (int n = 2; n <= 4; n += 2) {
    ok(section_from_roundness(n, neck, &o));
    g_assert_cmpuint(o.n, ==, SECTION_KNOTS);
    ok(section_from_outline(&o, &s));
    ok(section_quarters(2, 2, 1.6, 1.4, n, 0, &exact));
    g_assert_cmpfloat_with_epsilon(s.area, exact.area, 0.02 * exact.area);
    g_assert_cmpfloat_with_epsilon(s.w_gingival, exact.w_gingival, 0.02 * exact.w_gingival);
  }
  g_assert_cmpint(section_from_roundness(NAN, neck, &o), ==, FAULT_RANGE);
  /* a point and its image; one on the middle line stays on it */
  const NeckHalves even = {2, 1.6, 1.6};
  ok(section_from_roundness(2, even, &o));
  ok(section_move_knot(&o, 1, point(1.5, 1.6), true, &o));
  g_assert_cmpfloat_with_epsilon(o.knot[1].at.x, 1.5, 1e-12);
  g_assert_cmpfloat_with_epsilon(o.knot[3].at.x, -1.5, 1e-12);
  g_assert_cmpfloat_with_epsilon(o.knot[3].at.y, 1.6, 1e-12);
  ok(section_move_knot(&o, 2, point(0.7, 1.7), true, &o));
  g_assert_cmpfloat_with_epsilon(o.knot[2].at.x, 0, 1e-9);
  g_assert_cmpfloat_with_epsilon(o.knot[2].at.y, 1.7, 1e-12);
  ok(drawn_section_new(&o, &d));
  g_assert_cmpfloat_with_epsilon(drawn_section_lopsided(d), 0, 1e-6);
  drawn_section_free(d);
  /* one side alone, then both alike again */
  ok(section_move_knot(&o, 1, point(1.0, 1.2), false, &o));
  ok(drawn_section_new(&o, &d));
  g_assert_cmpfloat(drawn_section_lopsided(d), >, 0.1);
  drawn_section_free(d);
  ok(section_make_even(&o, even, &o));
  ok(drawn_section_new(&o, &d));
  g_assert_cmpfloat_with_epsilon(drawn_section_lopsided(d), 0, 1e-3);
  drawn_section_free(d);
  /* stretched to the neck */
  ok(section_fit(&o, neck, &o));
  section_box(&o, &low, &high);
  g_assert_cmpfloat_with_epsilon(high.x, 1.6, 0.02);
  g_assert_cmpfloat_with_epsilon(low.x, -1.4, 0.02);
  g_assert_cmpfloat_with_epsilon(high.y - low.y, 4, 1e-9);
  g_assert_true(section_check(&o, &where, &reason));
  g_assert_cmpint(section_move_knot(&o, 99, point(0, 0), false, &o), ==, FAULT_RANGE);
  g_assert_cmpint(section_move_knot(&o, 0, point(NAN, 0), false, &o), ==, FAULT_NOT_FINITE);
  outline_clear(&o);
}

/* Moment over the neck's picture. */
static void test_resultant(void)
{
  const Point at[4] = {{-1, -1.5}, {1, -1.5}, {2, 1.5}, {-2, 0.8}};
  Outline o = polygon(at, 4);
  Connector4 c;
  connector_draw(&c, roof_shape(0.6, 0, 20), 3.2, 1.0);
  LoftInput input = connector_input(&c);
  input.section = &o;
  Field *field = connector_solid(&input, SOLID_FINE);
  const FieldSheet *sheet = &field->sheet[SHEET_NECK];
  double moment = 0;
  for (size_t i = 0; i < sheet->n_triangle; i++) {
    const uint32_t *k = sheet->corner[i];
    Point p = sheet->at[k[0]], q = sheet->at[k[1]], r = sheet->at[k[2]];
    double size = fabs(point_cross(point_sub(q, p), point_sub(r, p))) / 2;
    for (int j = 0; j < 3; j++)
      moment -= size / 3 * (double)sheet->stress[k[j]][UNIT_BEND][0] * sheet->at[k[j]].y;
  }
  proof_row("neck without symmetry, moment over its section", statics, 1, moment, 4);
  field_unref(field);
  connector4_clear(&c);
  outline_clear(&o);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/drawn_section/refuses", test_refuses);
  g_test_add_func("/drawn_section/scaled", test_scaled);
  g_test_add_func("/drawn_section/rays", test_rays);
  g_test_add_func("/drawn_section/ribs", test_ribs);
  g_test_add_func("/drawn_section/same as round", test_same_as_round);
  g_test_add_func("/drawn_section/bars", test_bars);
  g_test_add_func("/drawn_section/skew bar", test_skew_bar);
  g_test_add_func("/drawn_section/twisted bars", test_twisted_bars);
  g_test_add_func("/drawn_section/plane", test_plane);
  g_test_add_func("/drawn_section/live band", test_live_band);
  g_test_add_func("/drawn_section/moves", test_moves);
  g_test_add_func("/drawn_section/resultant", test_resultant);
  return g_test_run();
}
