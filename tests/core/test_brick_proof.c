/* test_brick_proof.c - the product's brick against exact solutions and benchmarks of others.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa (LE10: m and MPa).  Stress components xx yy zz xy yz zx. */
#include "brick_mesh.h"
#include "proof.h"

static int far_of(const BrickMesh *m, int axis)
{
  return 2 * m->n[axis];
}

/* Holds `axis` of every node of the lattice plane where index `of` has the value `at`. */
static void plane_hold(BrickMesh *m, int of, int at, int axis)
{
  for (int i = 0; i <= far_of(m, 0); i++)
    for (int j = 0; j <= far_of(m, 1); j++)
      for (int k = 0; k <= far_of(m, 2); k++) {
        int node = brick_mesh_node(m, i, j, k);
        if ((int[]){i, j, k}[of] == at && node >= 0)
          brick_mesh_hold(m, node, axis, 0);
      }
}

/* ---- patch test ---- */

/* 27 bricks with straight edges in the unit cube; the inner one has the corners of MacNeal and
 * Harder's patch for solids (from memory). */
static Vec3 cube_corner(int i, int j, int k)
{
  static const Vec3 inner[2][2][2] = {{{{0.249, 0.342, 0.192}, {0.320, 0.186, 0.643}},
                                       {{0.273, 0.750, 0.230}, {0.165, 0.745, 0.702}}},
                                      {{{0.826, 0.288, 0.288}, {0.677, 0.305, 0.683}},
                                       {{0.850, 0.649, 0.263}, {0.788, 0.693, 0.644}}}};
  bool inside = i % 3 && j % 3 && k % 3;
  return inside ? inner[i - 1][j - 1][k - 1] : (Vec3){i / 3.0, j / 3.0, k / 3.0};
}

static Vec3 cube(double a, double b, double c)
{
  double place[3] = {3 * a, 3 * b, 3 * c};
  int cell[3];
  Vec3 p = {0, 0, 0};
  for (int d = 0; d < 3; d++)
    cell[d] = MIN((int)place[d], 2);
  for (int corner = 0; corner < 8; corner++) {
    double share = 1;
    int at[3];
    for (int d = 0; d < 3; d++) {
      double in = place[d] - cell[d];
      at[d] = cell[d] + (corner >> d & 1);
      share *= corner >> d & 1 ? in : 1 - in;
    }
    Vec3 v = cube_corner(at[0], at[1], at[2]);
    p.x += share * v.x, p.y += share * v.y, p.z += share * v.z;
  }
  return p;
}

static void test_patch(void)
{
  static const double b[3][3] = {{0.41, 0.13, -0.22}, {0.35, -0.27, 0.19}, {0.11, -0.08, 0.33}};
  const double nu = 0.3, l = nu / ((1 + nu) * (1 - 2 * nu)), mu = 0.5 / (1 + nu);
  double trace = l * (0.41 - 0.27 + 0.33);
  double expected[6] = {trace + 2 * mu * 0.41, trace - 2 * mu * 0.27, trace + 2 * mu * 0.33,
                        mu * (0.13 + 0.35),    mu * (0.19 - 0.08),    mu * (0.11 - 0.22)};
  static const char *const name[6] = {"xx", "yy", "zz", "xy", "yz", "zx"};
  BrickMesh m;
  brick_mesh_init(&m, 3, 3, 3, cube);
  for (int i = 0; i <= 6; i++)
    for (int j = 0; j <= 6; j++)
      for (int k = 0; k <= 6; k++) {
        int node = brick_mesh_node(&m, i, j, k);
        bool rim = i % 6 == 0 || j % 6 == 0 || k % 6 == 0;
        for (int d = 0; d < 3 && rim && node >= 0; d++) {
          Vec3 p = m.at[node];
          brick_mesh_hold(&m, node, d, b[d][0] * p.x + b[d][1] * p.y + b[d][2] * p.z);
        }
      }
  brick_mesh_solve(&m, 1, nu);
  for (int i = 0; i < 6; i++) {
    double worst = m.stress[0][i];
    for (int n = 0; n < m.nodes; n++)
      if (fabs(m.stress[n][i] - expected[i]) > fabs(worst - expected[i]))
        worst = m.stress[n][i];
    g_autofree char *what = g_strdup_printf("patch of 27 skew bricks, constant stress %s", name[i]);
    proof_row(what, (Source){"patch test: linear displacement is met exactly", EXACT}, expected[i],
              worst, 0.01);
  }
  brick_mesh_clear(&m);
}

/* ---- straight bars ---- */

#define BAR_LONG 12.0

static Vec3 bar_rectangle(double a, double b, double c)
{
  return (Vec3){1.2 * a, 1.5 * (2 * b - 1), BAR_LONG * c};
}

/* A square onto the disc, its sides onto four arcs. */
static void disc(double p, double q, double *x, double *y)
{
  *x = p * sqrt(1 - q * q / 2);
  *y = q * sqrt(1 - p * p / 2);
}

static Vec3 bar_ellipse(double a, double b, double c)
{
  double x, y;
  disc(a, 2 * b - 1, &x, &y);
  return (Vec3){1.2 * x, 1.5 * y, BAR_LONG * c};
}

static Vec3 bend(Vec3 p)
{
  return (Vec3){0, 0, p.y};
}

/* Half a bar, cut along x = 0, bent about x by tractions linear in y: M c / I at the cut z = 0. */
static void bar_check(const char *what, BrickMap map, double i_half, double tolerance)
{
  BrickMesh m;
  brick_mesh_init(&m, 4, 6, 6, map);
  plane_hold(&m, 2, 0, 2);
  plane_hold(&m, 0, 0, 0);
  brick_mesh_hold(&m, brick_mesh_node(&m, 0, far_of(&m, 1) / 2, 0), 1, 0);
  brick_mesh_load(&m, bend);
  brick_mesh_solve(&m, 1, 0.31);
  double moment = 0;
  for (int n = 0; n < m.nodes; n++)
    moment += m.force[3 * n + 2] * m.at[n].y;
  const Source beam = {"bending of a straight bar: M c / I, M L^2 / (2 E I)", EXACT};
  g_autofree char *stress = g_strdup_printf("%s, stress", what),
                  *rise = g_strdup_printf("%s, deflection", what);
  proof_row(stress, beam, moment * 1.5 / i_half,
            m.stress[brick_mesh_node(&m, 0, far_of(&m, 1), 0)][2], tolerance);
  proof_row(rise, beam, -moment * BAR_LONG * BAR_LONG / (2 * i_half),
            m.u[3 * brick_mesh_node(&m, 0, far_of(&m, 1) / 2, far_of(&m, 2)) + 1], tolerance);
  brick_mesh_clear(&m);
}

static void test_bars(void)
{
  bar_check("rectangular bar 3 x 2.4 of bricks", bar_rectangle, 1.2 * 27 / 12, 0.1);
  bar_check("elliptic bar 3 x 2.4 of bricks", bar_ellipse, G_PI * 1.2 * 1.5 * 1.5 * 1.5 / 8, 1);
}

/* ---- round bar with a hyperbolic groove ---- */

#define NECK 1.0 /* radius a of the neck; a / rho = 4 */
#define FAR 3.0  /* confocal coordinate of the loaded end: ten neck radii wide */

#define CORE 0.03 /* of the neck: a hole along the axis, where neither load pulls */

/* 0 .. 1, dense at 0; each step longer by the same ratio, so that mid-edge nodes stay in the
 * middle. */
static double graded(double t)
{
  return expm1(2.5 * t) / expm1(2.5);
}

/* Oblate spheroidal coordinates: radius c cosh u sin v, height c sinh u cos v; v is constant on the
 * groove.  rho = b^2 / a, c^2 = a^2 + b^2.  A quarter of the section, finer towards the groove. */
static Vec3 groove(double a, double b, double k)
{
  double focus = NECK * sqrt(1.25), u = FAR * graded(k), phi = b * G_PI / 2;
  double v = asin(NECK / focus) * (1 - (1 - CORE) * graded(1 - a)), r = focus * cosh(u) * sin(v);
  return (Vec3){r * cos(phi), r * sin(phi), focus * sinh(u) * cos(v)};
}

static Vec3 groove_bend(Vec3 p)
{
  return (Vec3){0, 0, p.x};
}

static Vec3 groove_twist(Vec3 p)
{
  return (Vec3){-p.y, p.x, 0};
}

static void test_groove(void)
{
  const Source neuber = {"Neuber, deep hyperbolic groove in a round bar, nu 0.3, a / rho 4 (exact "
                         "solution, evaluated)",
                         EXACT};
  for (int twist = 0; twist < 2; twist++) {
    BrickMesh m;
    brick_mesh_init(&m, 10, 6, 14, groove);
    /* x = 0 is odd for both loads, y = 0 even in bending, the neck z = 0 as well */
    plane_hold(&m, 1, far_of(&m, 1), 1);
    plane_hold(&m, 1, far_of(&m, 1), 2);
    if (twist) {
      plane_hold(&m, 1, 0, 0);
      plane_hold(&m, 1, 0, 2);
      plane_hold(&m, 2, 0, 0);
      plane_hold(&m, 2, 0, 1);
    } else {
      plane_hold(&m, 1, 0, 1);
      plane_hold(&m, 2, 0, 2);
      brick_mesh_hold(&m, brick_mesh_node(&m, 0, 0, 0), 0, 0);
    }
    brick_mesh_load(&m, twist ? groove_twist : groove_bend);
    brick_mesh_solve(&m, 1, 0.3);
    double moment = 0;
    for (int n = 0; n < m.nodes; n++) {
      const double *f = &m.force[3 * n];
      moment += 4 * (twist ? m.at[n].x * f[1] - m.at[n].y * f[0] : m.at[n].x * f[2]);
    }
    const double *s = m.stress[brick_mesh_node(&m, far_of(&m, 0), 0, 0)];
    double cube_a = G_PI * NECK * NECK * NECK;
    if (twist)
      proof_row("round bar with a deep groove, torsion factor", neuber, 1.4353,
                s[4] / (2 * moment / cube_a), 3);
    else
      proof_row("round bar with a deep groove, bending factor", neuber, 1.8400,
                s[2] / (4 * moment / cube_a), 2);
    brick_mesh_clear(&m);
  }
}

/* ---- NAFEMS LE10 ---- */

/* Thick plate between two ellipses; m. */
static Vec3 plate(double a, double b, double c)
{
  double t = b * G_PI / 2, x = cos(t), y = sin(t);
  return (Vec3){(2 + 1.25 * a) * x, (1 + 1.75 * a) * y, 0.6 * c - 0.3};
}

static Vec3 press(Vec3 p)
{
  (void)p;
  return (Vec3){0, 0, -1};
}

static void test_le10(void)
{
  BrickMesh m;
  brick_mesh_init(&m, 6, 8, 4, plate);
  plane_hold(&m, 1, 0, 1);
  plane_hold(&m, 1, far_of(&m, 1), 0);
  plane_hold(&m, 0, far_of(&m, 0), 0);
  plane_hold(&m, 0, far_of(&m, 0), 1);
  for (int j = 0; j <= far_of(&m, 1); j++) {
    int node = brick_mesh_node(&m, far_of(&m, 0), j, m.n[2]);
    if (node >= 0)
      brick_mesh_hold(&m, node, 2, 0);
  }
  brick_mesh_load(&m, press);
  brick_mesh_solve(&m, 210000, 0.3);
  proof_row("LE10 thick plate, stress yy at D", (Source){"NAFEMS benchmark LE10", READ}, -5.38,
            m.stress[brick_mesh_node(&m, 0, 0, far_of(&m, 2))][1], 3);
  brick_mesh_clear(&m);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/brick/patch", test_patch);
  g_test_add_func("/brick/bars", test_bars);
  g_test_add_func("/brick/groove", test_groove);
  g_test_add_func("/brick/le10", test_le10);
  return g_test_run();
}
