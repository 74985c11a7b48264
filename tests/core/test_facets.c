/* test_facets.c - roof radii taken off surfaces of small and large triangles.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Connectors whose gum-side line is known exactly are cut into rings of triangles, evenly and
 * unevenly, and traced.  The radius that is read must lie inside the band that goes with it. */
#include "casefile/drawn.h"
#include "mesh/facets.h"
#include "mesh/trace.h"
#include "outline/form.h"
#include "proof.h"
#include "surfaces.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)
#define AROUND 64
#define RINGS_MOST 700

typedef struct {
  Point low[RINGS_MOST]; /* gum-side places, one a ring */
} RingSet;

/* Sections as wide as a crown below, as a connector at the roof. */
static Vec3 ring_set_point(double ring, double phi, const void *data)
{
  Point low = ((const RingSet *)data)->low[(int)(ring + 0.5)];
  double high = 6.5, half = 4 - 0.7 * low.y;
  return (Vec3){low.x, (low.y + high) / 2 + (high - low.y) / 2 * sin(phi), half * cos(phi)};
}

/* Rings `side` apart along the line, or up to half of that more or less. */
static Mesh loft_mesh(const Outline *outline, double side, bool uneven, guint32 seed)
{
  RingSet *set = g_new0(RingSet, 1);
  GRand *rand = g_rand_new_with_seed(seed);
  Polyline line = {0};
  ok(outline_flatten(outline, 1e-5, &line));
  double length = line.s[line.n - 1], half = fmin(5.5, length / 2 - 0.01),
         way = length / 2 - half + side * g_rand_double(rand);
  size_t k = 0;
  int n = 0;
  for (; way < length / 2 + half && n < RINGS_MOST; n++) {
    while (k + 2 < line.n && line.s[k + 1] < way)
      k++;
    set->low[n] =
        point_mix(line.at[k], line.at[k + 1], (way - line.s[k]) / (line.s[k + 1] - line.s[k]));
    way += uneven ? side * g_rand_double_range(rand, 0.5, 1.5) : side;
  }
  Facets s = surface_new();
  surface_tube(&s, ring_set_point, set, 0, n - 1, n - 1, AROUND, false);
  StlReport report;
  Mesh mesh = surface_mesh(&s, &report);
  polyline_clear(&line);
  g_rand_free(rand);
  g_free(set);
  return mesh;
}

/* Radius with the band that a case would say. */
static Banded radius_traced(const Mesh *mesh, double reach)
{
  const Neck neck = {.frame = {{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
  const TraceSettings settings = {{reach, reach}, TRACE_TOLERANCE_MM, 0.05};
  Trace trace;
  Form form;
  trace_init(&trace);
  ok(trace_connector(mesh, &neck, &settings, NULL, &trace));
  ok(form_roof_read(&trace.gingival, &form));
  Banded radius =
      drawn_radius(form.roof_radius, surface_roof_doubt(form.roof_radius.value, trace.roof_turn));
  trace_clear(&trace);
  return radius;
}

static void radius_check(const char *what, const Mesh *mesh, double reach, double truth,
                         double side)
{
  Banded read = radius_traced(mesh, reach);
  g_autofree char *name =
      g_strdup_printf("roof radius of %s off triangles of %.2f mm, mm", what, side);
  g_test_message("%s: %.4f (%.4f to %.4f), true %.4f", name, read.value, read.low, read.high,
                 truth);
  bool fine = side <= 0.05 && truth >= 0.3;
  g_assert_true(read.low <= truth && truth <= read.high);
  proof_row_between(name, (Source){"the arc that was cut into triangles", EXACT}, truth, read.value,
                    fine ? 0.95 * truth : fmin(read.value, truth),
                    fine ? 1.05 * truth : fmax(read.value, truth));
}

static void test_arcs(void)
{
  static const double radii[] = {0.2, 0.3, 0.5, 0.7, 1.2}, sides[] = {0.02, 0.05, 0.1, 0.2};
  for (size_t i = 0; i < G_N_ELEMENTS(radii); i++)
    for (size_t k = 1 - i % 2; k < G_N_ELEMENTS(sides); k += 2) {
      bool box = (i + k / 2) % 2 && radii[i] < 1;
      Corner v[] = {{-7, 0, 0}, {-1.5, 0, 0.3}, {0, 2.8, radii[i]}, {1.5, 0, 0.3}, {7, 0, 0}},
             u[] = {{-7, 0, 0},         {-1.4, 0, 0.3}, {-1, 2.4, radii[i]},
                    {1, 2.4, radii[i]}, {1.4, 0, 0.3},  {7, 0, 0}};
      Outline line = {0};
      ok(box ? outline_from_corners(&line, u, 6) : outline_from_corners(&line, v, 5));
      Mesh mesh = loft_mesh(&line, sides[k], k > 1, (guint32)(10 * i + k));
      g_autofree char *what = g_strdup_printf("a %s, r %.1f,", box ? "U" : "V", radii[i]);
      radius_check(what, &mesh, 3, radii[i], sides[k]);
      mesh_clear(&mesh);
      outline_clear(&line);
    }
}

/* Inner side of a torus about the span's axis. */
typedef struct {
  double tube, far;
} Ring;

static Vec3 ring_point(double angle, double phi, const void *data)
{
  const Ring *r = data;
  double k = r->far - r->tube * cos(angle);
  return (Vec3){r->tube * sin(angle), k * sin(phi), k * cos(phi)};
}

static void test_torus(void)
{
  static const double tubes[] = {1.2, 2}, sides[] = {0.03, 0.2};
  for (size_t i = 0; i < G_N_ELEMENTS(tubes); i++)
    for (size_t k = 0; k < G_N_ELEMENTS(sides); k++) {
      const Ring ring = {tubes[i], tubes[i] + 2};
      const double most = 75 * G_PI / 180;
      Facets s = surface_new();
      surface_tube(&s, ring_point, &ring, -most, most, (int)(2 * most * tubes[i] / sides[k]), 160,
                   false);
      StlReport report;
      Mesh mesh = surface_mesh(&s, &report);
      radius_check("a torus", &mesh, fmax(1, 0.9 * tubes[i]), tubes[i], sides[k]);
      mesh_clear(&mesh);
    }
}

/* Corners on a circle: the curve through them is the circle; a straight line stays one. */
static void test_curve(void)
{
  Point at[2001];
  FacetLine facets = {0};
  const int sides = 10;
  for (int i = 0; i <= 2000; i++) { /* along a polygon in a circle of radius 1 */
    double place = (double)sides * i / 2000, corner = floor(fmin(place, sides - 1e-9)),
           from = G_PI * corner / sides, to = G_PI * (corner + 1) / sides;
    at[i] = point_mix(point(cos(from), sin(from)), point(cos(to), sin(to)), place - corner);
  }
  ok(facets_find(at, 2001, &facets));
  g_assert_cmpuint(facets.n, ==, sides + 1);
  double most = 0, chord = 1 - cos(G_PI / sides / 2);
  for (double way = 0.05; way < facets.way[facets.n - 1]; way += 0.05)
    if (way > facets.way[1] && way < facets.way[sides - 1])
      most = fmax(most, fabs(point_length(facets_at(&facets, way)) - 1));
  proof_row("curve through the corners of a polygon, largest distance from its circle, shares of "
            "the sagitta",
            (Source){"the circle; an arc taken as a parabola", EXACT}, 1, 1 + most / chord, 1);
  proof_row("turn at a corner of a polygon in a circle, rad", (Source){"pi / 10", EXACT},
            G_PI / sides, facets_turn(&facets, point(0, 1)), 1e-6);
  facets_clear(&facets);
  ok(facets_find((const Point[]){{0, 0}, {1, 1}, {2, 2}}, 3, &facets));
  g_assert_cmpuint(facets.n, ==, 2);
  g_assert_cmpfloat_with_epsilon(facets_at(&facets, sqrt(2)).x, 1, 1e-12);
  facets_clear(&facets);
  g_assert_cmpint(facets_find((const Point[]){{1, 1}, {1, 1}}, 2, &facets), ==, FAULT_DEGENERATE);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/facets/curve", test_curve);
  g_test_add_func("/facets/arcs", test_arcs);
  g_test_add_func("/facets/torus", test_torus);
  return g_test_run();
}
