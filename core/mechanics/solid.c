/* solid.c - the connector as a solid: mesh, loads, solution, field.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  M > 0 stretches the gingival side; V = dM/dx, so the end faces carry M + V x. */
#include "solid.h"
#include "base/clock.h"
#include "base/dense.h"
#include "base/tolerance.h"
#include "blas.h"
#include "solid_recover.h"
#include <stdlib.h>
#include <string.h>

struct SolidWork {
  BrickTable table;
  SolidMesh mesh;
  Brick *brick;
  size_t room_brick;
  LayerFactor factor;
  NodeStress stress;
};

Fault solid_work_new(SolidWork **work)
{
  SolidWork *made = calloc(1, sizeof *made);
  if (!made)
    return FAULT_MEMORY;
  brick_table_init(&made->table);
  blas_start();
  *work = made;
  return FAULT_NONE;
}

void solid_work_free(SolidWork *work)
{
  if (!work)
    return;
  solid_mesh_clear(&work->mesh);
  free(work->brick);
  layer_factor_clear(&work->factor);
  node_stress_clear(&work->stress);
  free(work);
}

void solid_work_hands(SolidWork *work, int hands)
{
  work->factor.hands = hands;
}

/* ---- loads ---- */

#define LOAD_SHAPES 6 /* traction fields: three forces, bending about z and y, twist */

/* Traction of field i at a place (x, y, z from the centre of the face). */
static Vec3 traction(int i, double y, double z)
{
  switch (i) {
  case 0:
    return (Vec3){1, 0, 0};
  case 1:
    return (Vec3){0, 1, 0};
  case 2:
    return (Vec3){-y, 0, 0};
  case 3:
    return (Vec3){0, 0, 1};
  case 4:
    return (Vec3){z, 0, 0};
  default:
    return (Vec3){0, -z, y};
  }
}

/* Node weights of an end face: integral of each shape function times the traction fields, by 3 x 3
 * Gauss. */
typedef struct {
  double force[LOAD_SHAPES][PATTERN_NODES][3];
} FaceLoads;

static void face_loads(const SolidMesh *mesh, int arm, double y0, double z0, FaceLoads *loads)
{
  static const double at[3] = {-0.774596669241483377, 0, 0.774596669241483377},
                      weight[3] = {5.0 / 9, 8.0 / 9, 5.0 / 9};
  const Pattern *p = &mesh->pattern;
  memset(loads, 0, sizeof *loads);
  for (int q = 0; q < p->quads; q++)
    for (int g = 0; g < 9; g++) {
      double n[8], dx[8], dy[8], y = 0, z = 0, j[4] = {0};
      face_shape(at[g % 3], at[g / 3], n, dx, dy);
      for (int i = 0; i < 8; i++) {
        Vec3 v = mesh->at[solid_section_node(mesh, arm, mesh->arm[arm].layers, p->quad[q][i])];
        y += n[i] * v.y, z += n[i] * v.z;
        j[0] += dx[i] * v.y, j[1] += dx[i] * v.z, j[2] += dy[i] * v.y, j[3] += dy[i] * v.z;
      }
      double area = fabs(j[0] * j[3] - j[1] * j[2]) * weight[g % 3] * weight[g / 3];
      for (int k = 0; k < LOAD_SHAPES; k++) {
        Vec3 t = traction(k, y - y0, z - z0);
        for (int i = 0; i < 8; i++) {
          double *f = loads->force[k][p->quad[q][i]];
          f[0] += n[i] * area * t.x, f[1] += n[i] * area * t.y, f[2] += n[i] * area * t.z;
        }
      }
    }
}

/* End tractions with exactly the wanted resultants about the neck's middle.  A half model takes the
 * three fields of its pair's symmetry. */
static Fault end_load(const SolidMesh *mesh, int arm, FaceLoads *loads, double *load[UNIT_LOAD_N])
{
  int first = mesh->mirror_z && mesh->pair == PAIR_ODD ? 3 : 0,
      n = mesh->mirror_z ? 3 : LOAD_SHAPES, last = mesh->arm[arm].layers,
      side = mesh->arm[arm].side;
  double share = mesh->mirror_z ? 0.5 : 1, y0 = mesh->y0, z0 = 0;
  face_loads(mesh, arm, y0, z0, loads);
  double a[LOAD_SHAPES][LOAD_SHAPES] = {0}, reach = 0;
  for (int k = 0; k < LOAD_SHAPES; k++)
    for (int i = 0; i < mesh->pattern.nodes; i++) {
      Vec3 at = mesh->at[solid_section_node(mesh, arm, last, i)];
      double x = at.x - mesh->neck_x, y = at.y - y0, z = at.z - z0;
      double *f = loads->force[k][i];
      reach = x;
      /* rows: forces x, y; moment about z; force z; moments about y and x */
      a[0][k] += f[0], a[1][k] += f[1], a[2][k] += x * f[1] - y * f[0];
      a[3][k] += f[2], a[4][k] += z * f[0] - x * f[2], a[5][k] += y * f[2] - z * f[1];
    }
  if (!(fabs(reach) > 0))
    return FAULT_DEGENERATE;
  /* the row that a unit load fills, and how much: at the far face the vectors of M, of sideways
   * bending and of twist point along +z, +y and +x; V has no moment at the neck, M(x) = V x */
  static const int row[2][UNIT_LOAD_N] = {{2, 1}, {4, 5}};
  for (int c = 0; c < UNIT_LOAD_N; c++) {
    double m[LOAD_SHAPES * LOAD_SHAPES], b[LOAD_SHAPES] = {0};
    for (int i = 0; i < n; i++)
      memcpy(&m[i * n], &a[first + i][first], (size_t)n * sizeof m[0]);
    bool shear = mesh->pair == PAIR_EVEN && c == UNIT_SHEAR;
    b[row[mesh->pair][c] - first] = shear ? -side * share : side * share;
    Fault fault = dense_solve((size_t)n, m, b);
    if (fault)
      return fault;
    for (int i = 0; i < mesh->pattern.nodes; i++)
      for (int k = 0; k < n; k++)
        for (int d = 0; d < 3; d++) {
          int dof = mesh->dof[solid_section_node(mesh, arm, last, i)][d];
          if (dof >= 0)
            load[c][dof] += b[k] * loads->force[first + k][i][d];
        }
  }
  return FAULT_NONE;
}

/* ---- bricks ---- */

static Fault bricks_make(SolidWork *work, double *thinnest, Vec3 *where)
{
  const SolidMesh *mesh = &work->mesh;
  size_t n = (size_t)mesh->elements;
  if (n > work->room_brick) {
    free(work->brick);
    work->brick = malloc(n * sizeof *work->brick);
    work->room_brick = work->brick ? n : 0;
    if (!work->brick)
      return FAULT_MEMORY;
  }
  Brick *brick = work->brick;
  *thinnest = 1;
  for (int arm = 0; arm < mesh->arms; arm++)
    for (int k = 0; k < mesh->arm[arm].layers; k++)
      for (int q = 0; q < mesh->pattern.quads; q++, brick++) {
        int node[BRICK_NODES], worst;
        double at[20][4];
        solid_brick(mesh, arm, k, q, node);
        for (int a = 0; a < 20; a++) {
          Vec3 p = mesh->at[node[a]];
          at[a][0] = p.x, at[a][1] = p.y, at[a][2] = p.z, at[a][3] = 0;
        }
        double turn = mesh->pattern.turn[q] * mesh->arm[arm].side;
        double ratio = brick_init(brick, &work->table, at, turn, &worst);
        if (!(ratio > 0)) {
          if (where)
            *where = mesh->at[node[worst]];
          return FAULT_FOLD;
        }
        *thinnest = fmin(*thinnest, ratio);
      }
  return FAULT_NONE;
}

/* ---- the call ---- */

#define TOL_LIVE 1e-5 /* relative residual: stresses then stand to about 1e-4     */
#define TOL_REST 1e-9
#define TOL_TRIAL 1e-4     /* one step stops at 1e-3, and a sharp roof's peak 2 % off */
#define BAND_BASE 3.0      /* percent                                              */
#define BAND_FINE 1.0      /* percent: the base of the fine mesh                   */
#define BAND_TRIAL 2.0     /* percent more for the coarser mesh                    */
#define BAND_RECOVERY 0.15 /* of the difference of the recoveries                  */
#define BAND_REPAIRED 1.0  /* percent: plan points paired by x                     */
#define BAND_THIN 2.0      /* percent: a brick's smallest Jacobian below THIN_BRICK  */
#define THIN_BRICK 0.05    /* of its mean                                          */
#define BAND_SHARP 70.0    /* percent per mm that the roof is sharper than SHARP_MM  */
#define SHARP_MM 0.20
#define FINE_SHARP 0.25   /* of that on the fine mesh: half the size, a quarter of the error */
#define BAND_CORNERS 12.0 /* percent: a section with corners ...                   */
#define FINE_CORNERS 6.0  /* ... on the fine mesh                                  */
#define BAND_TURN 20.0    /* percent per rad that a layer turns more than this    */
#define LAYER_TURN 0.65

static double tolerance_of(SolidGrade grade)
{
  return grade == SOLID_TRIAL ? TOL_TRIAL : grade == SOLID_LIVE ? TOL_LIVE : TOL_REST;
}

/* Difference of the two recoveries where bending pulls most, percent. */
static double recovery_read(Field *field)
{
  double best = 0, percent = 0;
  for (size_t i = 0; i < field->n_candidate; i++) {
    double direct[6], extrapolated[6];
    for (int k = 0; k < 6; k++) {
      direct[k] = (double)field->candidate[i].direct[UNIT_BEND][k];
      extrapolated[k] = (double)field->candidate[i].extrapolated[UNIT_BEND][k];
    }
    double a = stress_first(direct), b = stress_first(extrapolated);
    if ((a + b) / 2 > best) {
      best = (a + b) / 2;
      percent = 100 * fabs(a - b) / best;
    }
  }
  return percent;
}

/* Largest turning of the gingival outline inside one layer of the arc, rad, back and forth added
 * up. */
static double layer_turn(const SolidMesh *mesh, const Loft *loft)
{
  double worst = 0;
  for (int a = 0; a < mesh->arms; a++)
    for (int k = 0; k < mesh->arm[a].layers && mesh->arm[a].s[2 * k] < 1; k++) {
      double from = mesh->arm[a].s[2 * k], step = (mesh->arm[a].s[2 * k + 2] - from) / 16, sum = 0;
      for (int i = 0; i < 16; i++)
        sum += fabs(loft_gingival_turn(loft, mesh->arm[a].side, from + (i + 1) * step) -
                    loft_gingival_turn(loft, mesh->arm[a].side, from + i * step));
      worst = fmax(worst, sum);
    }
  return worst;
}

/* Honest band of the peak: base, recoveries, pairing, thin bricks, and roofs sharper than those
 * that the mesh was tried on (core/SOURCES.md "solid, band"). */
static double band_of(const SolidMesh *mesh, const Loft *loft, SolidGrade grade, double thinnest,
                      const Field *field)
{
  bool fine = grade == SOLID_FINE || grade == SOLID_PROOF;
  double band = (fine ? BAND_FINE : BAND_BASE) + BAND_RECOVERY * field->recovery_percent;
  if (grade == SOLID_TRIAL)
    band += BAND_TRIAL;
  if (loft_repaired(loft))
    band += BAND_REPAIRED;
  if (loft_section_sharp(loft))
    band += fine ? FINE_CORNERS : BAND_CORNERS;
  if (thinnest < THIN_BRICK)
    band += BAND_THIN;
  double radius = fmin(loft_gingival_radius(loft, -1), loft_gingival_radius(loft, 1));
  band += (fine ? FINE_SHARP : 1) * BAND_SHARP * fmax(0, SHARP_MM - radius);
  band += BAND_TURN * fmax(0, layer_turn(mesh, loft) - LAYER_TURN);
  return band;
}

static Fault settings_check(const SolidSettings *s)
{
  if (!isfinite(s->young_mpa) || !isfinite(s->poisson))
    return FAULT_NOT_FINITE;
  if (!(s->young_mpa > 0 && s->young_mpa < 1e9) || s->poisson < 0 || s->poisson > 0.49 ||
      s->grade < SOLID_LIVE || s->grade > SOLID_PROOF)
    return FAULT_RANGE;
  return FAULT_NONE;
}

static Fault loads_make(SolidWork *work)
{
  SolidMesh *mesh = &work->mesh;
  double **load = work->factor.vector[4];
  for (int c = 0; c < UNIT_LOAD_N; c++)
    memset(load[c], 0, (size_t)mesh->dofs * sizeof(double));
  FaceLoads *faces = malloc(sizeof *faces);
  Fault fault = faces ? FAULT_NONE : FAULT_MEMORY;
  for (int arm = 0; arm < mesh->arms && !fault; arm++)
    fault = end_load(mesh, arm, faces, load);
  free(faces);
  return fault;
}

/* The equations of both loads, from bricks and loads to u. */
static Fault equations_solve(SolidWork *work, Elastic elastic, const SolidSettings *settings,
                             double *u[UNIT_LOAD_N], double *residual)
{
  if (!blas_enter())
    return FAULT_CANCELLED;
  Fault fault = layer_factor_make(&work->factor, &work->mesh, work->brick, elastic, settings);
  if (!fault)
    fault = layer_factor_solve(&work->factor, &work->mesh, work->brick, elastic,
                               tolerance_of(settings->grade), work->factor.vector[4], u, residual);
  blas_leave();
  return fault;
}

static Fault pair_solve(SolidWork *work, const Loft *loft, const SolidSettings *settings,
                        LoadPair pair, Field **field, Vec3 *where)
{
  double start = seconds_now(), thinnest = 1, residual = 1;
  Fault fault = settings_check(settings);
  if (fault)
    return fault;
  /* stiffness is scaled to E = 1: the stresses of given loads do not depend on it */
  double nu = settings->poisson;
  Elastic elastic = {nu / ((1 + nu) * (1 - 2 * nu)), 0.5 / (1 + nu)};
  fault = solid_mesh_make(&work->mesh, loft, settings->grade, pair);
  if (!fault)
    fault = bricks_make(work, &thinnest, where);
  if (!fault)
    fault = layer_factor_hold(&work->factor, &work->mesh);
  if (!fault)
    fault = loads_make(work);
  double **u = work->factor.vector[5];
  if (!fault)
    fault = equations_solve(work, elastic, settings, u, &residual);
  if (!fault)
    fault = node_stress_make(&work->stress, &work->mesh, &work->table, work->brick, elastic, u);
  if (fault)
    return fault;
  Field *made = field_new();
  if (!made)
    return FAULT_MEMORY;
  fault = solid_picture(&work->mesh, &work->stress,
                        settings->grade != SOLID_TRIAL && !settings->bare, made);
  if (fault) {
    field_unref(made);
    return fault;
  }
  made->answer = ANSWER_SOLID;
  made->pair = pair;
  made->unknowns = (size_t)(work->factor.n_free[0] + work->mesh.dofs - work->mesh.section_dofs);
  made->residual = residual;
  made->recovery_percent = recovery_read(made);
  made->band_percent = band_of(&work->mesh, loft, settings->grade, thinnest, made);
  made->seconds = seconds_now() - start;
  *field = made;
  return FAULT_NONE;
}

Fault solid_solve(SolidWork *work, const Loft *loft, const SolidSettings *settings, Field **field,
                  Vec3 *where)
{
  return pair_solve(work, loft, settings, PAIR_EVEN, field, where);
}

Fault solid_solve_odd(SolidWork *work, const Loft *loft, const SolidSettings *settings,
                      Field **field, Vec3 *where)
{
  return pair_solve(work, loft, settings, PAIR_ODD, field, where);
}

/* The stresses of the odd loads at a point from those of the odd pair.  Sideways shear Q bends the
 * place at x by Q x more than the neck; its own shear stress adds no pull where bending pulls. */
static void odd_put(float pair[UNIT_LOAD_N][6], double away, float odd[ODD_LOAD_N][6])
{
  for (int k = 0; k < 6; k++) {
    odd[ODD_LATERAL][k] = pair[UNIT_SIDEWAYS][k];
    odd[ODD_LATERAL_SHEAR][k] = (float)(away * (double)pair[UNIT_SIDEWAYS][k]);
    odd[ODD_TORSION][k] = pair[UNIT_TWIST][k];
  }
}

Fault solid_odd_add(SolidWork *work, const Loft *loft, const SolidSettings *settings, Field *field)
{
  Field *pair = NULL;
  Fault fault = solid_solve_odd(work, loft, settings, &pair, NULL);
  if (fault)
    return fault;
  if (pair->n_candidate != field->n_candidate || pair->n_surface != field->n_surface)
    fault = FAULT_DEGENERATE;
  for (size_t i = 0; i < field->n_surface && !fault; i++)
    odd_put(pair->surface[i].stress, field->surface[i].at.x - work->mesh.neck_x,
            field->surface[i].odd);
  for (size_t i = 0; i < field->n_candidate && !fault; i++) {
    PeakCandidate *to = &field->candidate[i], *from = &pair->candidate[i];
    float mean[UNIT_LOAD_N][6];
    for (int c = 0; c < UNIT_LOAD_N; c++)
      for (int k = 0; k < 6; k++)
        mean[c][k] = (from->direct[c][k] + from->extrapolated[c][k]) / 2;
    odd_put(mean, to->at.x - work->mesh.neck_x, to->odd);
  }
  if (!fault) {
    field->odd_band_percent = pair->band_percent;
    field->odd_by_section = false;
    field->seconds += pair->seconds;
  }
  field_unref(pair);
  return fault;
}
