/* test_calculix.c - the same meshes through a general-purpose solver: CalculiX, program ccx.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  Mesh, supports and nodal loads of Soffit are written as a job; displacements and
 * nodal stresses come back from its result file.  Built only where ccx is installed. */
#include "calculix_job.h"
#include "connector_solve.h"
#include "mesh_bricks.h"
#include "mechanics/odd_section.h"
#include "mechanics/plane.h"
#include "mechanics/plane_solve.h"
#include "mechanics/solid_factor.h"
#include "mechanics/solid_recover.h"
#include "notched_bar.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static const Source ccx = {"CalculiX on the same mesh, loads and supports", SOLVER},
                    ccx_odd = {"CalculiX, the whole load on the same mesh", SOLVER};

/* ---- the comparison ---- */

/* Largest displacement, and the largest difference at any node as a part of it; largest pull. */
static void compare(const char *what, const Job *job, const double u[][3], const double stress[][6],
                    double percent_u, double percent_stress, double seconds)
{
  double largest = 0, ours = 0, apart = 0, peak = 0, our_peak = 0, stress_apart = 0;
  for (size_t i = 0; i < job->n; i++) {
    double d[3], size[2] = {0, 0};
    for (int k = 0; k < 3; k++) {
      d[k] = u[i][k] - job->u[i][k];
      size[0] += job->u[i][k] * job->u[i][k];
      size[1] += u[i][k] * u[i][k];
    }
    largest = fmax(largest, sqrt(size[0]));
    ours = fmax(ours, sqrt(size[1]));
    apart = fmax(apart, sqrt(d[0] * d[0] + d[1] * d[1] + d[2] * d[2]));
    double a = stress_first(job->stress[i]), b = stress_first(stress[i]);
    peak = fmax(peak, a);
    our_peak = fmax(our_peak, b);
    stress_apart = fmax(stress_apart, fabs(a - b));
  }
  g_test_message("%s: %zu nodes; largest difference of displacements %.4f %% of the largest, of "
                 "pull %.4f %% of the peak; %.3f s against %.3f s, ratio %.0f",
                 what, job->n, 100 * apart / largest, 100 * stress_apart / peak, seconds,
                 job->seconds, job->seconds / seconds);
  g_autofree char *first = g_strdup_printf("%s, largest displacement", what),
                  *second = g_strdup_printf("%s, peak (extrapolated)", what);
  proof_row(first, ccx, largest, ours, percent_u);
  proof_row(second, ccx, peak, our_peak, percent_stress);
  g_assert_cmpfloat(apart, <=, percent_u / 100 * largest);
  g_assert_cmpfloat(stress_apart, <=, percent_stress / 100 * peak);
}

/* ---- plane ---- */

/* ccx makes wedges of plane triangles and lets their faces part by a displacement across the
 * thickness: at 1 mm its slopes cost energy (0.4 % of the displacements), thin they do not. */
#define THICKNESS 0.01

static double thin(Point at, const void *data)
{
  (void)at, (void)data;
  return THICKNESS;
}

typedef struct {
  double depth, end; /* strip from x = -end to end */
} Strip;

/* Bending of unit moment at both ends; the lower edge is stretched. */
static Point bend(Point at, Point outward, const void *data)
{
  const Strip *s = data;
  double second = THICKNESS * pow(s->depth, 3) / 12;
  return point(fabs(fabs(at.x) - s->end) < 1e-9 ? -outward.x * (at.y - s->depth / 2) / second : 0,
               0);
}

static size_t corner_at(const PlaneMesh *mesh, Point at)
{
  size_t best = 0;
  for (size_t i = 1; i < mesh->n_corner; i++)
    if (point_distance(mesh->at[i], at) < point_distance(mesh->at[best], at))
      best = i;
  return best;
}

static Job plane_job(const PlaneMesh *mesh, const PlaneMaterial *m, const unsigned char held[],
                     const double load[])
{
  g_autoptr(GString) job = g_string_new("*NODE\n"), supports = g_string_new(""),
                     loads = g_string_new("");
  for (size_t i = 0; i < mesh->n_node; i++) {
    node_put(job, i, mesh->at[i].x, mesh->at[i].y, 0);
    for (int axis = 0; axis < 2; axis++) {
      if (held[2 * i + (size_t)axis])
        g_string_append_printf(supports, "%zu, %d, %d\n", i + 1, axis + 1, axis + 1);
      double f = load[2 * i + (size_t)axis];
      if (fabs(f) > 0)
        g_string_append_printf(loads, "%zu, %d, %.12g\n", i + 1, axis + 1, f);
    }
  }
  g_string_append(job, "*ELEMENT, TYPE=CPS6, ELSET=ALL\n");
  for (size_t e = 0; e < mesh->n_element; e++) {
    const int32_t *k = mesh->element[e].node;
    g_string_append_printf(job, "%zu, %d, %d, %d, %d, %d, %d\n", e + 1, k[0] + 1, k[1] + 1,
                           k[2] + 1, k[3] + 1, k[4] + 1, k[5] + 1);
  }
  g_string_append_printf(job,
                         "*MATERIAL, NAME=M\n*ELASTIC\n%.12g, %.12g\n"
                         "*SOLID SECTION, ELSET=ALL, MATERIAL=M\n%.12g\n",
                         m->young_mpa, m->poisson, THICKNESS);
  job_end(job, supports, loads, ", OUTPUT=2D");
  return job_run(job, mesh->n_node);
}

static void plane_compare(double h, double r, double depth)
{
  Outline o;
  PlaneMesh mesh = {0};
  PlaneFactor *factor = NULL;
  PlaneMaterial m = {205000, 0.31, thin, NULL};
  Strip strip = {depth, 2 * depth};
  Point where;
  notched_bar(&o, h, r, depth, 0, false);
  ok(plane_mesh_make(&mesh, &o, PLANE_FINENESS, &where));
  size_t n = mesh.n_node;
  g_autofree unsigned char *held = g_new0(unsigned char, 2 * n);
  g_autofree double *load = g_new0(double, 2 * n), *u = g_new0(double, 2 * n);
  double(*direct)[3] = g_malloc0(n * sizeof *direct);
  double(*extrapolated)[3] = g_malloc0(n * sizeof *extrapolated);
  for (size_t i = 0; i < mesh.n_edge; i++)
    plane_edge_load(&mesh, &mesh.edge[i], &m, bend, &strip, load);
  size_t left = corner_at(&mesh, point(-strip.end, 0)),
         right = corner_at(&mesh, point(strip.end, 0));
  held[2 * left] = held[2 * left + 1] = held[2 * right + 1] = 1;
  double seconds = -seconds_now();
  ok(plane_factor_new(&factor));
  ok(plane_factor_make(factor, &mesh, &m, held));
  ok(plane_factor_solve(factor, 1, load, u));
  ok(plane_stress(&mesh, &m, u, direct, extrapolated));
  seconds += seconds_now();
  Job job = plane_job(&mesh, &m, held, load);
  double(*moved)[3] = g_malloc0(n * sizeof *moved), (*stress)[6] = g_malloc0(n * sizeof *stress);
  for (size_t i = 0; i < n; i++) {
    moved[i][0] = u[2 * i], moved[i][1] = u[2 * i + 1];
    job.u[i][2] = 0; /* the middle plane stays */
    stress[i][0] = extrapolated[i][0], stress[i][1] = extrapolated[i][1];
    stress[i][3] = extrapolated[i][2];
  }
  g_autofree char *what = g_strdup_printf("plane strip, notch %g r %g depth %g", h, r, depth);
  compare(what, &job, (const double(*)[3])moved, (const double(*)[6])stress, 0.1, 0.5, seconds);
  job_clear(&job);
  plane_factor_free(factor);
  plane_mesh_clear(&mesh);
  outline_clear(&o);
  g_free(direct), g_free(extrapolated), g_free(moved), g_free(stress);
}

static void test_plane(void)
{
  plane_compare(2.5, 0.6, 5.5);
  plane_compare(1, 0.5, 10);
}

/* ---- solid ---- */

/* Adds the node forces of a traction (slope * (level - y), up, 0) over the far end of an arm. */
static void end_load(const SolidMesh *mesh, int arm, double slope, double level, double up,
                     double *load)
{
  static const double at[3] = {-0.774596669241483377, 0, 0.774596669241483377},
                      weight[3] = {5.0 / 9, 8.0 / 9, 5.0 / 9};
  for (int q = 0; q < mesh->pattern.quads; q++)
    for (int g = 0; g < 9; g++) {
      double n[8], dx[8], dy[8], y = 0, j[4] = {0};
      int node[8];
      face_shape(at[g % 3], at[g / 3], n, dx, dy);
      for (int i = 0; i < 8; i++) {
        node[i] = solid_section_node(mesh, arm, mesh->arm[arm].layers, mesh->pattern.quad[q][i]);
        Vec3 v = mesh->at[node[i]];
        y += n[i] * v.y;
        j[0] += dx[i] * v.y, j[1] += dx[i] * v.z, j[2] += dy[i] * v.y, j[3] += dy[i] * v.z;
      }
      double area = fabs(j[0] * j[3] - j[1] * j[2]) * weight[g % 3] * weight[g / 3];
      for (int i = 0; i < 8; i++) {
        load[mesh->dof[node[i]][0]] += n[i] * area * slope * (level - y);
        load[mesh->dof[node[i]][1]] += n[i] * area * up;
      }
    }
}

/* Sums of node forces: along x, along y, moment about the middle of the neck. */
static void sums_of(const SolidMesh *mesh, const double *load, double sum[3])
{
  sum[0] = sum[1] = sum[2] = 0;
  for (int i = 0; i < mesh->nodes; i++) {
    Vec3 p = mesh->at[i];
    double x = load[mesh->dof[i][0]], y = load[mesh->dof[i][1]];
    sum[0] += x, sum[1] += y;
    sum[2] += (p.x - mesh->neck_x) * y - (p.y - mesh->y0) * x;
  }
}

/* Height of an end's centroid; work: mesh->dofs, nil before and after. */
static double end_level(const SolidMesh *mesh, int arm, double *work)
{
  double sum[3];
  end_load(mesh, arm, -1, 0, 1, work);
  sums_of(mesh, work, sum);
  memset(work, 0, (size_t)mesh->dofs * sizeof *work);
  return sum[0] / sum[1];
}

/* Unit bending without a force along the bridge, and unit shear without moment at the neck, which
 * the other arm holds. */
static void arm_loads(const SolidMesh *mesh, int arm, double *load[UNIT_LOAD_N])
{
  size_t bytes = (size_t)mesh->dofs * sizeof(double);
  double bend[3], shear[3], side = mesh->arm[arm].side, *work = g_malloc0(bytes);
  double level = end_level(mesh, arm, work);
  end_load(mesh, arm, 1, level, 0, work);
  sums_of(mesh, work, bend);
  memset(work, 0, bytes);
  end_load(mesh, arm, 0, level, 1, work);
  sums_of(mesh, work, shear);
  end_load(mesh, arm, side / bend[2], level, 0, load[UNIT_BEND]);
  end_load(mesh, arm, -side * shear[2] / shear[1] / bend[2], level, side / shear[1],
           load[UNIT_SHEAR]);
  g_free(work);
}

/* Soffit drops what a mirror plane forbids; the solver does not know of mirrors. */
static void mirrors_clean(const SolidMesh *mesh, UnitLoad load, double (*stress)[6])
{
  for (int i = 0; i < mesh->nodes; i++)
    for (int k = 0; k < 6; k++) {
      bool neck = mesh->mirror_x && i < mesh->pattern.nodes, crosses_x = k == 3 || k == 5,
           crosses_z = k == 4 || k == 5;
      if ((neck && crosses_x == (load == UNIT_BEND)) || (mesh->dof[i][2] < 0 && crosses_z))
        stress[i][k] = 0;
    }
}

/* Its order: corners of one section, corners of the other, mid-edges of both, edges between. */
static Job solid_job_of(const SolidMesh *mesh, const GString *supports, const GString *loads)
{
  static const int near_first[20] = {0, 1, 2,  3,  8,  9,  10, 11, 4,  5,
                                     6, 7, 12, 13, 14, 15, 16, 17, 18, 19},
                   far_first[20] = {8,  9,  10, 11, 0, 1, 2,  3,  12, 13,
                                    14, 15, 4,  5,  6, 7, 16, 17, 18, 19};
  g_autoptr(GString) job = g_string_new("*NODE\n");
  for (int i = 0; i < mesh->nodes; i++)
    node_put(job, (size_t)i, mesh->at[i].x, mesh->at[i].y, mesh->at[i].z);
  g_string_append(job, "*ELEMENT, TYPE=C3D20R, ELSET=ALL\n");
  int number = 0;
  for (int arm = 0; arm < mesh->arms; arm++)
    for (int k = 0; k < mesh->arm[arm].layers; k++)
      for (int q = 0; q < mesh->pattern.quads; q++) {
        int node[BRICK_NODES];
        solid_brick(mesh, arm, k, q, node);
        const int *order = mesh->pattern.turn[q] * mesh->arm[arm].side > 0 ? near_first : far_first;
        g_string_append_printf(job, "%d", ++number);
        for (int a = 0; a < 20; a++)
          g_string_append_printf(job, a == 14 ? ",\n%d" : ", %d", node[order[a]] + 1);
        g_string_append_c(job, '\n');
      }
  g_string_append(job, "*MATERIAL, NAME=M\n*ELASTIC\n1., 0.31\n"
                       "*SOLID SECTION, ELSET=ALL, MATERIAL=M\n");
  job_end(job, supports, loads, "");
  return job_run(job, (size_t)mesh->nodes);
}

static Job solid_job(const SolidMesh *mesh, const bool *held, const double *load)
{
  g_autoptr(GString) supports = g_string_new(""), loads = g_string_new("");
  for (int i = 0; i < mesh->nodes; i++)
    for (int k = 0; k < 3; k++) {
      int dof = mesh->dof[i][k];
      if (dof < 0 || (dof < mesh->section_dofs && held[dof]))
        g_string_append_printf(supports, "%d, %d, %d\n", i + 1, k + 1, k + 1);
      else if (fabs(load[dof]) > 0)
        g_string_append_printf(loads, "%d, %d, %.12g\n", i + 1, k + 1, load[dof]);
    }
  return solid_job_of(mesh, supports, loads);
}

/* Soffit solves both unit loads in the time that is told, ccx one. */
static void solid_compare(const char *what, const Connector4 *c, const Outline *section,
                          SolidGrade grade, bool quarter)
{
  LoftInput input = connector_input(c);
  input.section = section;
  Loft *loft = NULL;
  SolidMesh mesh = {0};
  BrickTable table;
  LayerFactor factor = {0};
  NodeStress recovered = {0};
  const double nu = 0.31;
  const Elastic elastic = {nu / ((1 + nu) * (1 - 2 * nu)), 0.5 / (1 + nu)}; /* E = 1 */
  const SolidSettings settings = {1, nu, grade, NULL, NULL};
  double *load[UNIT_LOAD_N], *u[UNIT_LOAD_N], residual;
  ok(loft_new(&input, &loft, NULL));
  ok(solid_mesh_make(&mesh, loft, grade, PAIR_EVEN));
  g_assert_cmpint(mesh.arms, ==, quarter ? 1 : 2);
  g_assert_true(mesh.mirror_z == quarter);
  brick_table_init(&table);
  for (int k = 0; k < UNIT_LOAD_N; k++) {
    load[k] = g_new0(double, mesh.dofs);
    u[k] = g_new0(double, mesh.dofs);
  }
  for (int arm = 0; arm < mesh.arms; arm++)
    arm_loads(&mesh, arm, load);
  double seconds = -seconds_now();
  Brick *brick = mesh_bricks_new(&mesh, &table);
  ok(layer_factor_hold(&factor, &mesh));
  ok(layer_factor_make(&factor, &mesh, brick, elastic, &settings));
  ok(layer_factor_solve(&factor, &mesh, brick, elastic, 1e-9, load, u, &residual));
  ok(node_stress_make(&recovered, &mesh, &table, brick, elastic, u));
  seconds += seconds_now();
  size_t n = (size_t)mesh.nodes;
  double(*moved)[3] = g_malloc0(n * sizeof *moved), (*stress)[6] = g_malloc0(n * sizeof *stress);
  for (int k = 0; k < UNIT_LOAD_N; k++) {
    Job job = solid_job(&mesh, factor.held[k], load[k]);
    mirrors_clean(&mesh, (UnitLoad)k, job.stress);
    for (size_t i = 0; i < n; i++) {
      for (int d = 0; d < 3; d++)
        moved[i][d] = mesh.dof[i][d] < 0 ? 0 : u[k][mesh.dof[i][d]];
      for (int d = 0; d < 6; d++)
        stress[i][d] = (double)recovered.extrapolated[i][k][d];
    }
    g_autofree char *name =
        g_strdup_printf("%s, unit %s", what, k == UNIT_BEND ? "bending" : "shear");
    compare(name, &job, (const double(*)[3])moved, (const double(*)[6])stress, 0.1, 0.5, seconds);
    job_clear(&job);
    g_free(load[k]), g_free(u[k]);
  }
  g_free(moved), g_free(stress), g_free(brick);
  node_stress_clear(&recovered);
  layer_factor_clear(&factor);
  solid_mesh_clear(&mesh);
  loft_free(loft);
}

static void test_quarter(void)
{
  Connector4 c;
  connector_table_draw(&connector_table[1], &c);
  solid_compare("quarter connector", &c, NULL, SOLID_LIVE, true);
  connector4_clear(&c);
}

/* Mesial unlike distal, buccal unlike lingual. */
static void test_whole(void)
{
  Connector4 c;
  const double aside[6] = {1, 0, 0, 1, 0, 0.3};
  connector_draw(&c, (NotchShape){-2, -1, 0.6, 0, 10, 30, 2.5, 7, 8}, 3.2, 1.0);
  outline_transform(&c.buccal, aside);
  solid_compare("whole uneven connector", &c, NULL, SOLID_FULL, false);
  connector4_clear(&c);
}

/* The neck leans, moved apart by 20 degrees. */
static void test_tilted(void)
{
  Connector4 c;
  connector_draw(&c, roof_shape(0.6, 0, 20), 3.2, 1.0);
  double aside = 2 * tan(20 * G_PI / 180);
  outline_transform(&c.gingival, (const double[6]){1, 0, 0, 1, -aside, 0});
  outline_transform(&c.occlusal, (const double[6]){1, 0, 0, 1, aside, 0});
  outline_transform(&c.buccal, (const double[6]){1, 0, 0, 1, 0, 0.3});
  solid_compare("tilted connector", &c, NULL, SOLID_FULL, false);
  connector4_clear(&c);
}

/* A drawn section without any symmetry. */
static void test_drawn(void)
{
  Connector4 c;
  Outline section;
  const Point at[4] = {{-1, -1.5}, {1, -1.5}, {2, 1.5}, {-2, 0.8}};
  outline_init(&section);
  ok(outline_from_points(&section, at, 4, true));
  connector_draw(&c, (NotchShape){-2, -1, 0.6, 0, 10, 30, 2.5, 7, 8}, 3.2, 1.0);
  solid_compare("connector with a drawn section", &c, &section, SOLID_FULL, false);
  outline_clear(&section);
  connector4_clear(&c);
}

/* ---- sideways bending and twist ---- */

/* Node forces of a traction over the far end of the arm of a quarter: (z, 0, 0) bends sideways,
 * (0, -z, y - level) twists. */
static void odd_load(const SolidMesh *mesh, OddLoad odd, double level, double (*force)[3])
{
  static const double at[2] = {-0.577350269189625765, 0.577350269189625765};
  for (int q = 0; q < mesh->pattern.quads; q++)
    for (int g = 0; g < 4; g++) {
      double n[8], dx[8], dy[8], y = 0, z = 0, j[4] = {0};
      int node[8];
      face_shape(at[g % 2], at[g / 2], n, dx, dy);
      for (int i = 0; i < 8; i++) {
        node[i] = solid_section_node(mesh, 0, mesh->arm[0].layers, mesh->pattern.quad[q][i]);
        Vec3 v = mesh->at[node[i]];
        y += n[i] * v.y, z += n[i] * v.z;
        j[0] += dx[i] * v.y, j[1] += dx[i] * v.z, j[2] += dy[i] * v.y, j[3] += dy[i] * v.z;
      }
      double area = fabs(j[0] * j[3] - j[1] * j[2]);
      for (int i = 0; i < 8; i++)
        if (odd == ODD_LATERAL)
          force[node[i]][0] += n[i] * area * z;
        else
          force[node[i]][1] -= n[i] * area * z, force[node[i]][2] += n[i] * area * (y - level);
    }
}

/* A unit load on both halves: what is odd about z = 0 neither stretches nor sinks that plane; about
 * the neck sideways bending is even, twist is odd. */
static Job odd_job(const SolidMesh *mesh, OddLoad odd)
{
  g_autoptr(GString) supports = g_string_new(""), loads = g_string_new("");
  double(*force)[3] = g_malloc0((size_t)mesh->nodes * sizeof *force), whole = 0;
  g_autofree double *work = g_new0(double, mesh->dofs);
  odd_load(mesh, odd, end_level(mesh, 0, work), force); /* a couple, no push aside */
  for (int i = 0; i < mesh->nodes; i++) {
    Vec3 p = mesh->at[i];
    whole +=
        odd == ODD_LATERAL ? 2 * p.z * force[i][0] : 2 * (p.y * force[i][2] - p.z * force[i][1]);
  }
  bool pinned = false;
  for (int i = 0; i < mesh->nodes; i++) {
    bool neck = i < mesh->pattern.nodes, plane = mesh->dof[i][2] < 0, held[3] = {plane, plane};
    if (neck && odd == ODD_LATERAL) {
      held[0] = true;
      held[2] = plane && !pinned; /* it may not slide sideways */
      pinned = pinned || plane;
    } else if (neck)
      held[1] = held[2] = true;
    for (int k = 0; k < 3; k++) {
      if (held[k])
        g_string_append_printf(supports, "%d, %d, %d\n", i + 1, k + 1, k + 1);
      else if (fabs(force[i][k]) > 0)
        g_string_append_printf(loads, "%d, %d, %.12g\n", i + 1, k + 1, force[i][k] / whole);
    }
  }
  g_free(force);
  return solid_job_of(mesh, supports, loads);
}

/* Component k of a node's stress, nil where the symmetry of its load forbids it: on the planes of
 * symmetry CalculiX carries stress to the nodes from one side alone. */
static double allowed(const SolidMesh *mesh, const Job *job, int i, int k, bool odd_x, bool odd_z)
{
  bool neck = i < mesh->pattern.nodes, line = solid_on_line(mesh, i), crossing_x = k == 3 || k == 5,
       crossing_z = k == 4 || k == 5;
  return (neck && crossing_x != odd_x) || (line && crossing_z != odd_z) ? 0 : job->stress[i][k];
}

/* Largest pull of M, L and T together at a node within 4 mm of the neck, on either side of z = 0.
 */
static double pull_of(const SolidMesh *mesh, const Job *even, double bend, const Job *aside,
                      double lateral, const Job *twist, double torsion)
{
  double most = 0;
  for (int i = 0; i < mesh->nodes; i++)
    for (int sign = -1; sign <= 1 && fabs(mesh->at[i].x - mesh->neck_x) < 4; sign += 2) {
      double s[6];
      for (int k = 0; k < 6; k++)
        s[k] = bend / 2 * allowed(mesh, even, i, k, false, false) + /* a unit on each half */
               sign * (lateral * allowed(mesh, aside, i, k, false, true) +
                       torsion * allowed(mesh, twist, i, k, true, true));
      most = fmax(most, stress_first(s));
    }
  return most;
}

/* The solid's own answer to both pairs, as CalculiX recovers stress: carried to the nodes alone. */
static Field *pairs_solid(const Loft *loft, SolidGrade grade)
{
  SolidWork *work = NULL;
  Field *even = NULL, *odd = NULL;
  const SolidSettings settings = {1, 0.31, grade, NULL, NULL};
  ok(solid_work_new(&work));
  ok(solid_solve(work, loft, &settings, &even, NULL));
  ok(solid_solve_odd(work, loft, &settings, &odd, NULL));
  g_assert_cmpuint(even->n_candidate, ==, odd->n_candidate);
  for (size_t i = 0; i < even->n_candidate; i++) {
    PeakCandidate *to = &even->candidate[i], *from = &odd->candidate[i];
    memcpy(to->direct, to->extrapolated, sizeof to->direct);
    memcpy(to->odd[ODD_LATERAL], from->extrapolated[UNIT_SIDEWAYS], sizeof to->odd[0]);
    memcpy(to->odd[ODD_TORSION], from->extrapolated[UNIT_TWIST], sizeof to->odd[0]);
  }
  even->odd_band_percent = odd->band_percent;
  field_unref(odd);
  solid_work_free(work);
  return even;
}

/* Section formulas beside the solid, and the solid's own answer, against CalculiX: each load and
 * some together. */
static void odd_compare(const TableRow *row, SolidGrade grade)
{
  static const double mix[][3] = {
      {0, 1000, 0}, {0, 0, 1000}, {1000, 500, 0}, {1000, 0, 700}, {700, 400, -300}}; /* M, L, T */
  Connector4 c;
  connector_table_draw(row, &c);
  LoftInput input = connector_input(&c);
  Loft *loft = NULL;
  SolidMesh mesh = {0};
  LayerFactor factor = {0};
  ok(loft_new(&input, &loft, NULL));
  ok(solid_mesh_make(&mesh, loft, grade, PAIR_EVEN));
  g_assert_true(mesh.arms == 1 && mesh.mirror_z && mesh.mirror_x);
  double *load[UNIT_LOAD_N];
  for (int k = 0; k < UNIT_LOAD_N; k++)
    load[k] = g_new0(double, mesh.dofs);
  arm_loads(&mesh, 0, load);
  ok(layer_factor_hold(&factor, &mesh));
  Job even = solid_job(&mesh, factor.held[UNIT_BEND], load[UNIT_BEND]);
  Job aside = odd_job(&mesh, ODD_LATERAL), twist = odd_job(&mesh, ODD_TORSION);
  Field *field = connector_solid(&input, grade);
  OddInput odd = {{&c.gingival, &c.occlusal, &c.buccal, &c.lingual}, 0, 2, 0.31};
  ok(odd_section_add(&odd, field));
  Field *pairs = pairs_solid(loft, grade);
  for (size_t i = 0; i < G_N_ELEMENTS(mix); i++) {
    Peak peak;
    ok(field_peak(field, (NeckLoad){mix[i][0], 0, mix[i][1], 0, mix[i][2]}, &peak));
    double wanted = pull_of(&mesh, &even, mix[i][0], &aside, mix[i][1], &twist, mix[i][2]);
    g_autofree char *what =
        g_strdup_printf("roof %g, width %g, plan %g: peak at M %g, L %g, T %g", row->radius,
                        row->width, row->plan_radius, mix[i][0], mix[i][1], mix[i][2]);
    proof_row(what, ccx_odd, wanted, peak.mpa, peak.band_percent);
    g_assert_true(peak.by_section);
    ok(field_peak(pairs, (NeckLoad){mix[i][0], 0, mix[i][1], 0, mix[i][2]}, &peak));
    g_autofree char *solid = g_strdup_printf("%s, by the solid", what);
    proof_row(solid, ccx_odd, wanted, peak.mpa, 0.1);
    g_assert_false(peak.by_section);
  }
  field_unref(pairs);
  field_unref(field);
  job_clear(&even), job_clear(&aside), job_clear(&twist);
  for (int k = 0; k < UNIT_LOAD_N; k++)
    g_free(load[k]);
  layer_factor_clear(&factor);
  solid_mesh_clear(&mesh);
  loft_free(loft);
  connector4_clear(&c);
}

static void test_odd(void)
{
  /* shapes that had no part in the choice of the notch factors; the first two had */
  static const TableRow fresh[] = {{0.3, 30, 3.6, 1.2, 0},
                                   {0.8, 45, 2.8, 1.4, 0},
                                   {0.5, 80, 4.0, 1.0, 0},
                                   {0.25, 0, 2.6, 1.5, 0}};
  odd_compare(&connector_table[0], SOLID_LIVE); /* all four, fine: core/SOURCES.md */
  odd_compare(&connector_table[3], SOLID_LIVE);
  for (size_t i = 0; i < G_N_ELEMENTS(fresh); i++)
    odd_compare(&fresh[i], SOLID_LIVE);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_setenv("OMP_NUM_THREADS", "1", TRUE);
  g_test_add_func("/calculix/plane", test_plane);
  g_test_add_func("/calculix/quarter", test_quarter);
  g_test_add_func("/calculix/whole", test_whole);
  g_test_add_func("/calculix/solid tilted", test_tilted);
  g_test_add_func("/calculix/solid drawn section", test_drawn);
  g_test_add_func("/calculix/odd", test_odd);
  return g_test_run();
}
