/* solid_factor.c - the chain of layers factored by dense blocks, and the equations solved to double
 * precision. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Column-major blocks, lower halves.  A layer owns the unknowns of its middle and of its far
 * section, in this order; the section nearer to the neck belongs to the layer before it. */
#include "solid_factor.h"
#include "blas.h"
#include "solid_layer.h"
#include <cblas.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <threads.h>

#define STEPS_MAX 40 /* steps of conjugate gradients: 2 or 3 are usual                          */
#define RESIDUAL_TOP                                                                               \
  1e-4 /* a larger relative residual at the end is no answer                     */

#define WIDE_PAGE ((size_t)2 << 20)

/* Memory on pages of 2 MB where the system has them: a panel's columns lie on as many small pages
 * as it has columns, and touching those for the first time took a third of a first answer. */
static void *wide_pages(size_t bytes)
{
  bytes = (bytes + WIDE_PAGE - 1) / WIDE_PAGE * WIDE_PAGE;
  void *at = aligned_alloc(WIDE_PAGE, bytes);
#ifdef MADV_HUGEPAGE
  if (at)
    madvise(at, bytes, MADV_HUGEPAGE); /* a wish: refused, small pages do as well */
#endif
  return at;
}

static Fault room_make(LayerFactor *f, const SolidMesh *mesh)
{
  size_t section = (size_t)mesh->section_dofs, own = (size_t)layer_own(mesh), layers = 0;
  for (int a = 0; a < mesh->arms; a++)
    layers += (size_t)mesh->arm[a].layers;
  size_t block = layers * own * (own + section), dofs = (size_t)mesh->dofs;
  if (block > f->room_block) {
    free(f->block);
    f->block = wide_pages(block * sizeof *f->block);
    f->room_block = f->block ? block : 0;
  }
  if (section > f->room_neck) {
    free(f->neck);
    f->neck = malloc(2 * section * section * sizeof *f->neck);
    f->room_neck = f->neck ? section : 0;
    for (int c = 0; c < UNIT_LOAD_N; c++) {
      free(f->neck_case[c]);
      free(f->free[c]);
      free(f->held[c]);
      f->neck_case[c] = malloc(section * section * sizeof *f->neck);
      f->free[c] = malloc(section * sizeof(int));
      f->held[c] = malloc(section * sizeof(bool));
      if (!f->neck_case[c] || !f->free[c] || !f->held[c])
        f->room_neck = 0;
    }
  }
  if (dofs > f->room_vector) {
    free(f->rhs);
    f->rhs = malloc(UNIT_LOAD_N * dofs * sizeof *f->rhs);
    f->room_vector = f->rhs ? dofs : 0;
    for (int i = 0; i < 6; i++)
      for (int c = 0; c < UNIT_LOAD_N; c++) {
        free(f->vector[i][c]);
        f->vector[i][c] = malloc(dofs * sizeof(double));
        if (!f->vector[i][c])
          f->room_vector = 0;
      }
  }
  float *at = f->block;
  for (int a = 0; a < mesh->arms && at; a++)
    for (int k = 0; k < mesh->arm[a].layers; k++, at += own * (own + section))
      f->panel[a][k] = at;
  return f->room_block && f->room_neck && f->room_vector ? FAULT_NONE : FAULT_MEMORY;
}

void layer_factor_clear(LayerFactor *f)
{
  free(f->block);
  free(f->neck);
  free(f->rhs);
  for (int c = 0; c < UNIT_LOAD_N; c++) {
    free(f->neck_case[c]);
    free(f->free[c]);
    free(f->held[c]);
    for (int i = 0; i < 6; i++)
      free(f->vector[i][c]);
  }
  *f = (LayerFactor){0};
}

Fault layer_factor_hold(LayerFactor *f, const SolidMesh *mesh)
{
  Fault fault = room_make(f, mesh);
  if (fault)
    return fault;
  const Pattern *p = &mesh->pattern;
  int around = 6 * p->core, out = 2 * p->rings;
  int low = p->grid[0][0][out], high = p->grid[0][around][out], aside = p->grid[0][around / 2][out];
  for (int c = 0; c < UNIT_LOAD_N; c++) {
    memset(f->held[c], 0, (size_t)mesh->section_dofs * sizeof(bool));
    for (int i = 0; i < p->nodes && mesh->mirror_x; i++)
      for (int k = 0; k < 3; k++)
        if (mesh->dof[i][k] >= 0)
          f->held[c][mesh->dof[i][k]] = (k == 0) == (c == 0);
    /* three points stop every rigid motion that the symmetries leave */
    const int pin[6][2] = {{low, 0}, {low, 1}, {low, 2}, {high, 0}, {high, 2}, {aside, 0}};
    for (int i = 0; i < (mesh->mirror_z && mesh->pair == PAIR_EVEN ? 5 : 6); i++)
      if (mesh->dof[pin[i][0]][pin[i][1]] >= 0)
        f->held[c][mesh->dof[pin[i][0]][pin[i][1]]] = true;
    f->n_free[c] = 0;
    for (int i = 0; i < mesh->section_dofs; i++)
      if (!f->held[c][i])
        f->free[c][f->n_free[c]++] = i;
  }
  return FAULT_NONE;
}

/* ---- factor ---- */

static const CutList *layer_cuts(const LayerFactor *f, const SolidMesh *mesh, int arm, int k)
{
  return k == mesh->arm[arm].layers - 1 ? &f->cuts_last : &f->cuts;
}

/* One arm eliminated from its far end to the neck.  Arms share nothing before they meet there. */
typedef struct {
  LayerFactor *f;
  const SolidMesh *mesh;
  int arm;
  const Brick *brick; /* of the arm */
  Elastic elastic;
  const SolidSettings *settings;
  float *neck; /* what it leaves to the neck section, lower half */
  Fault fault;
} ArmTask;

static Fault arm_factor(const ArmTask *t)
{
  const SolidMesh *mesh = t->mesh;
  int section = mesh->section_dofs, layers = mesh->arm[t->arm].layers, ld = t->f->cuts.ld;
  float **panel = t->f->panel[t->arm];
  for (int j = 0; j < section; j++)
    memset(t->neck + (size_t)j * (size_t)(section + 1), 0, (size_t)(section - j) * sizeof *t->neck);
  cuts_clear(&t->f->cuts_last, panel[layers - 1]);
  for (int k = layers - 1; k >= 0; k--) {
    if (blas_ending() ||
        (t->settings->cancelled && t->settings->cancelled(t->settings->cancel_data)))
      return FAULT_CANCELLED;
    float *before = t->neck;
    int ld_before = section;
    if (k > 0) {
      cuts_clear(&t->f->cuts, panel[k - 1]);
      before = panel[k - 1] + (size_t)mesh->middle_dofs * (size_t)(ld + 1);
      ld_before = ld;
    }
    layer_assemble(mesh, t->arm, k, t->brick + k * mesh->pattern.quads, t->elastic, panel[k],
                   before, ld_before);
    Fault fault = cuts_eliminate(layer_cuts(t->f, mesh, t->arm, k), panel[k], before, ld_before);
    if (fault)
      return fault;
  }
  return FAULT_NONE;
}

static int arm_work(void *data)
{
  ArmTask *task = data;
  task->fault = arm_factor(task);
  return 0;
}

Fault layer_factor_make(LayerFactor *f, const SolidMesh *mesh, const Brick brick[], Elastic elastic,
                        const SolidSettings *settings)
{
  int section = mesh->section_dofs;
  size_t square = (size_t)section * (size_t)section;
  ArmTask task[2];
  cuts_make(&f->cuts, mesh, false);
  cuts_make(&f->cuts_last, mesh, true);
  for (int a = 0; a < mesh->arms; a++)
    task[a] = (ArmTask){f,
                        mesh,
                        a,
                        brick + (a ? mesh->elements_arm[0] : 0),
                        elastic,
                        settings,
                        f->neck + (size_t)a * square,
                        FAULT_NONE};
  thrd_t other;
  bool apart =
      mesh->arms == 2 && f->hands > 1 && thrd_create(&other, arm_work, &task[1]) == thrd_success;
  arm_work(&task[0]);
  if (apart)
    thrd_join(other, NULL);
  else if (mesh->arms == 2 && !task[0].fault)
    arm_work(&task[1]);
  for (int a = 0; a < mesh->arms; a++)
    if (task[a].fault)
      return task[a].fault;
  for (int j = 0; j < section && mesh->arms == 2; j++)
    for (size_t i = (size_t)j * (size_t)(section + 1); i < (size_t)(j + 1) * (size_t)section; i++)
      f->neck[i] += f->neck[square + i];
  for (int c = 0; c < UNIT_LOAD_N; c++) {
    int n = f->n_free[c];
    if (c > 0 && !mesh->mirror_x) { /* both loads hold the same there */
      memcpy(f->neck_case[c], f->neck_case[0], (size_t)n * (size_t)n * sizeof *f->neck);
      continue;
    }
    for (int j = 0; j < n; j++)
      for (int i = j; i < n; i++)
        f->neck_case[c][(size_t)j * (size_t)n + (size_t)i] =
            f->neck[(size_t)f->free[c][j] * (size_t)section + (size_t)f->free[c][i]];
    if (!block_cholesky(f->neck_case[c], n, n))
      return FAULT_SINGULAR;
  }
  return FAULT_NONE;
}

/* ---- solution ---- */

static void neck_solve(LayerFactor *f, int c, float *x, int section)
{
  int n = f->n_free[c];
  float *packed = f->neck; /* free again after the factor is made */
  for (int i = 0; i < n; i++)
    packed[i] = x[f->free[c][i]];
  cblas_strsv(CblasColMajor, CblasLower, CblasNoTrans, CblasNonUnit, n, f->neck_case[c], n, packed,
              1);
  cblas_strsv(CblasColMajor, CblasLower, CblasTrans, CblasNonUnit, n, f->neck_case[c], n, packed,
              1);
  memset(x, 0, (size_t)section * sizeof *x);
  for (int i = 0; i < n; i++)
    x[f->free[c][i]] = packed[i];
}

/* The right-hand sides of a layer and of the section before it. */
typedef struct {
  float *mine[UNIT_LOAD_N], *before[UNIT_LOAD_N];
} LayerVectors;

static LayerVectors layer_vectors(const LayerFactor *f, const SolidMesh *mesh, int arm, int k)
{
  LayerVectors at;
  for (int c = 0; c < UNIT_LOAD_N; c++) {
    float *x = f->rhs + (size_t)c * (size_t)mesh->dofs;
    at.mine[c] = x + mesh->arm[arm].first_dof + k * layer_own(mesh);
    at.before[c] = x + layer_before(mesh, arm, k);
  }
  return at;
}

/* z = (single precision factor)^-1 r */
static void precondition(LayerFactor *f, const SolidMesh *mesh, double *r[UNIT_LOAD_N],
                         double *z[UNIT_LOAD_N])
{
  int section = mesh->section_dofs;
  size_t n = (size_t)mesh->dofs;
  double scale[UNIT_LOAD_N];
  for (int c = 0; c < UNIT_LOAD_N; c++) {
    double top = 0;
    for (size_t i = 0; i < n; i++)
      top = fmax(top, fabs(r[c][i]));
    scale[c] = top > 0 ? top : 1;
    for (size_t i = 0; i < n; i++)
      f->rhs[(size_t)c * n + i] = (float)(r[c][i] / scale[c]);
  }
  for (int a = 0; a < mesh->arms; a++)
    for (int k = mesh->arm[a].layers - 1; k >= 0; k--) {
      LayerVectors x = layer_vectors(f, mesh, a, k);
      layer_down(layer_cuts(f, mesh, a, k), f->panel[a][k], x.mine, x.before);
    }
  for (int c = 0; c < UNIT_LOAD_N; c++)
    neck_solve(f, c, f->rhs + (size_t)c * n, section);
  for (int a = 0; a < mesh->arms; a++)
    for (int k = 0; k < mesh->arm[a].layers; k++) {
      LayerVectors x = layer_vectors(f, mesh, a, k);
      layer_up(layer_cuts(f, mesh, a, k), f->panel[a][k], x.mine, x.before);
    }
  for (int c = 0; c < UNIT_LOAD_N; c++)
    for (size_t i = 0; i < n; i++)
      z[c][i] = scale[c] * (double)f->rhs[(size_t)c * n + i];
}

void brick_gather(const SolidMesh *mesh, const int node[BRICK_NODES], double *vector[UNIT_LOAD_N],
                  NodeValues u)
{
  for (int a = 0; a < 20; a++) {
    u[a][6] = u[a][7] = 0;
    for (int i = 0; i < 3; i++) {
      int d = mesh->dof[node[a]][i];
      for (int c = 0; c < UNIT_LOAD_N; c++)
        u[a][3 * c + i] = d < 0 ? 0 : vector[c][d];
    }
  }
}

/* y = K x, brick by brick in double precision; held unknowns give 0. */
static void stiffness_times(const LayerFactor *f, const SolidMesh *mesh, const Brick brick[],
                            Elastic elastic, double *x[UNIT_LOAD_N], double *y[UNIT_LOAD_N])
{
  for (int c = 0; c < UNIT_LOAD_N; c++)
    memset(y[c], 0, (size_t)mesh->dofs * sizeof(double));
  for (int arm = 0; arm < mesh->arms; arm++)
    for (int k = 0; k < mesh->arm[arm].layers; k++)
      for (int q = 0; q < mesh->pattern.quads; q++, brick++) {
        int node[BRICK_NODES];
        NodeValues u, force = {{0}};
        solid_brick(mesh, arm, k, q, node);
        brick_gather(mesh, node, x, u);
        brick_forces(brick, elastic, u, force);
        for (int a = 0; a < 20; a++)
          for (int i = 0; i < 3; i++)
            if (mesh->dof[node[a]][i] >= 0)
              for (int c = 0; c < UNIT_LOAD_N; c++)
                y[c][mesh->dof[node[a]][i]] += force[a][3 * c + i];
      }
  for (int c = 0; c < UNIT_LOAD_N; c++)
    for (int i = 0; i < mesh->section_dofs; i++)
      if (f->held[c][i])
        y[c][i] = 0;
}

static double dot(const double *a, const double *b, int n)
{
  double sum = 0;
  for (int i = 0; i < n; i++)
    sum += a[i] * b[i];
  return sum;
}

Fault layer_factor_solve(LayerFactor *f, const SolidMesh *mesh, const Brick brick[],
                         Elastic elastic, double tolerance, double *load[UNIT_LOAD_N],
                         double *u[UNIT_LOAD_N], double *residual)
{
  double **r = f->vector[0], **z = f->vector[1], **p = f->vector[2], **w = f->vector[3];
  double size[UNIT_LOAD_N], rz[UNIT_LOAD_N];
  int n = mesh->dofs;
  for (int c = 0; c < UNIT_LOAD_N; c++) {
    memcpy(r[c], load[c], (size_t)n * sizeof(double));
    for (int i = 0; i < mesh->section_dofs; i++)
      if (f->held[c][i])
        r[c][i] = 0;
    memset(u[c], 0, (size_t)n * sizeof(double));
    size[c] = sqrt(dot(r[c], r[c], n));
    if (!(size[c] > 0))
      return FAULT_SINGULAR;
  }
  for (int step = 0; step < STEPS_MAX; step++) {
    precondition(f, mesh, r, z);
    for (int c = 0; c < UNIT_LOAD_N; c++) {
      double next = dot(r[c], z[c], n), beta = step ? next / rz[c] : 0;
      rz[c] = next;
      for (int i = 0; i < n; i++)
        p[c][i] = z[c][i] + (step ? beta * p[c][i] : 0);
    }
    stiffness_times(f, mesh, brick, elastic, p, w);
    double worst = 0;
    for (int c = 0; c < UNIT_LOAD_N; c++) {
      double curve = dot(p[c], w[c], n), alpha = curve > 0 ? rz[c] / curve : 0;
      for (int i = 0; i < n; i++) {
        u[c][i] += alpha * p[c][i];
        r[c][i] -= alpha * w[c][i];
      }
      worst = fmax(worst, sqrt(dot(r[c], r[c], n)) / size[c]);
    }
    if (!isfinite(worst))
      return FAULT_NO_CONVERGENCE;
    *residual = worst;
    if (worst < tolerance)
      return FAULT_NONE;
  }
  return *residual < RESIDUAL_TOP ? FAULT_NONE : FAULT_NO_CONVERGENCE;
}
