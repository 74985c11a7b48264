/* plane_bridge.c - the whole bridge: one outline, one factor, supports by flexibility.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  The body is held at three pins; every support adds unit load patterns (upright,
 * couple, along the arch).  Reactions R and the rigid motion q follow from
 *   (F + 1/k) R + G q = -d,   G' R = -g
 * with F the displacements of patterns under patterns, d those under the loads, G and g the work of
 * patterns and loads in the three rigid motions.  d is read from the patterns' own displacements:
 * work of the loads there is work of the patterns under the loads (Betti). */
#include "plane_bridge.h"
#include "base/dense.h"
#include "plane_body.h"
#include "plane_bridge_body.h"
#include "plane_element.h"
#include <stdlib.h>
#include <string.h>

#define PATTERNS 3 /* of a support */
#define MOST_PATTERNS (PATTERNS * SPAN_MAX_UNITS)
#define RIGID 3
#define STIFF_MOST 1e10 /* N/mm: an infinite spring                                         */
#define SLIDE_LEAST                                                                                \
  1e-3 /* N/mm along the arch at a support that slides: holds the bridge there                     \
        */

typedef struct {
  double x, foot, wide, k[PATTERNS]; /* middle, level, half width of the stump's foot       */
  double drop;                       /* of the spring along the arch below the foot         */
} Support;

struct BridgePlane {
  PlaneMesh mesh;
  PlaneFactor *factor;
  PlaneMaterial material;
  BridgeBody body;
  size_t n_support;
  Support support[SPAN_MAX_UNITS];
  double *pattern, *moved; /* [MOST_PATTERNS][2 n_node]: forces and displacements of supports */
  double flexibility[MOST_PATTERNS][MOST_PATTERNS], motion[MOST_PATTERNS][RIGID]; /* F, G */
  double *load, *u; /* 2 n_node                                                        */
  double *force;    /* 2 n_node: load and reactions together                           */
  double reaction[MOST_PATTERNS];
  double (*stress[2])[3];
  FieldSheet sheet;
};

/* ---- load patterns ---- */

typedef struct {
  double x, wide;
  int kind; /* 0 upright, 1 couple, 2 along the arch */
} Patch;

static Point patch_traction(Point at, Point outward, const void *data)
{
  const Patch *p = data;
  (void)outward;
  double off = at.x - p->x;
  if (fabs(off) > p->wide)
    return point(0, 0);
  return p->kind == 2 ? point(1, 0) : point(0, p->kind ? off : 1);
}

static Point press_traction(Point at, Point outward, const void *data)
{
  const Patch *p = data;
  double near = 1 - fabs(at.x - p->x) / p->wide;
  if (!(outward.y > 0.1 && near > 0))
    return point(0, 0);
  return point(0, p->kind ? -near * (at.x - p->x) : -near);
}

/* Resultants of nodal forces about the origin: along, upright, couple. */
static void resultant(const BridgePlane *b, const double *force, double left_of, double sum[RIGID])
{
  sum[0] = sum[1] = sum[2] = 0;
  for (size_t i = 0; i < b->mesh.n_node; i++) {
    Point at = b->mesh.at[i];
    if (at.x >= left_of)
      continue;
    sum[0] += force[2 * i];
    sum[1] += force[2 * i + 1];
    sum[2] += at.x * force[2 * i + 1] - at.y * force[2 * i];
  }
}

static double work_of(const BridgePlane *b, const double *force, const double *u)
{
  double sum = 0;
  for (size_t i = 0; i < 2 * b->mesh.n_node; i++)
    sum += force[i] * u[i];
  return sum;
}

static void scale(BridgePlane *b, double *force, double k)
{
  for (size_t i = 0; i < 2 * b->mesh.n_node; i++)
    force[i] *= k;
}

/* A traction on all edges of one side of the outline. */
static void side_load(BridgePlane *b, const Patch *patch, bool upper, double *force)
{
  const PlaneMesh *mesh = &b->mesh;
  double reach = 1.5 * patch->wide; /* an edge that bulges over its ends is within */
  memset(force, 0, 2 * mesh->n_node * sizeof *force);
  for (size_t i = 0; i < mesh->n_edge; i++) {
    Point p = mesh->at[mesh->edge[i].node[0]], q = mesh->at[mesh->edge[i].node[1]];
    bool leftward = q.x < p.x; /* counter-clockwise: the biting side runs back */
    if (fmin(p.x, q.x) > patch->x + reach || fmax(p.x, q.x) < patch->x - reach)
      continue;
    if (leftward == upper && fabs(q.x - p.x) > 1e-9)
      plane_edge_load(mesh, &mesh->edge[i], &b->material, upper ? press_traction : patch_traction,
                      patch, force);
  }
}

static double *pattern_of(const BridgePlane *b, double *array, size_t i)
{
  return array + i * 2 * b->mesh.n_node;
}

static void add(const BridgePlane *b, double *to, double k, const double *from)
{
  for (size_t i = 0; i < 2 * b->mesh.n_node; i++)
    to[i] += k * from[i];
}

/* Couple, counter-clockwise, of nodal forces about a place. */
static double couple_about(const double sum[RIGID], Point at)
{
  return sum[2] - at.x * sum[1] + at.y * sum[0];
}

/* The three patterns of a support, each of weight 1: an upright force through the middle of the
 * foot, a pure couple, a force along the arch at the level of its spring. */
static Fault support_patterns(BridgePlane *b, size_t s)
{
  const Support *support = &b->support[s];
  Point foot = {support->x, support->foot};
  double *force[PATTERNS], sum[RIGID];
  for (int kind = 0; kind < PATTERNS; kind++) {
    Patch patch = {support->x, support->wide, kind};
    force[kind] = pattern_of(b, b->pattern, PATTERNS * s + (size_t)kind);
    side_load(b, &patch, false, force[kind]);
    if (kind == 1)
      continue;
    resultant(b, force[kind], INFINITY, sum);
    double weight = sum[kind == 0];
    if (!(fabs(weight) > 0))
      return FAULT_SUPPORT;
    scale(b, force[kind], 1 / weight);
  }
  resultant(b, force[1], INFINITY, sum);
  add(b, force[1], -sum[1], force[0]);
  resultant(b, force[1], INFINITY, sum);
  if (!(fabs(sum[2]) > 0))
    return FAULT_SUPPORT;
  scale(b, force[1], 1 / sum[2]);
  resultant(b, force[0], INFINITY, sum);
  add(b, force[0], -couple_about(sum, foot), force[1]);
  resultant(b, force[2], INFINITY, sum);
  add(b, force[2], -sum[1], force[0]);
  resultant(b, force[2], INFINITY, sum);
  add(b, force[2], support->drop - couple_about(sum, foot), force[1]);
  return FAULT_NONE;
}

static Fault patterns_make(BridgePlane *b)
{
  Fault fault = FAULT_NONE;
  for (size_t s = 0; s < b->n_support && !fault; s++)
    fault = support_patterns(b, s);
  size_t n = PATTERNS * b->n_support;
  if (!fault)
    fault = plane_factor_solve(b->factor, n, b->pattern, b->moved);
  for (size_t i = 0; i < n && !fault; i++) {
    const double *force = pattern_of(b, b->pattern, i);
    resultant(b, force, INFINITY, b->motion[i]);
    for (size_t j = 0; j < n; j++)
      b->flexibility[i][j] = work_of(b, force, pattern_of(b, b->moved, j));
  }
  return fault;
}

/* ---- making ---- */

static Fault supports_make(BridgePlane *b)
{
  for (size_t i = 0; i < b->body.n_unit; i++) {
    const BridgeUnit *u = &b->body.unit[i];
    if (!u->supported)
      continue;
    double half = (u->x1 - u->x0) / 2;
    double wide = fmax(half - SHELL_MM, 0.5 * half);
    b->support[b->n_support++] = (Support){
        .x = bridge_middle(u),
        .foot = u->low,
        .wide = wide,
        .k = {u->spring.axial_n_mm, u->spring.rotation_n_mm_rad,
              fmax(u->lateral_n_mm, SLIDE_LEAST)},
        .drop = u->lever - (u->high - u->low) / 2,
    };
  }
  return b->n_support ? FAULT_NONE : FAULT_SUPPORT;
}

static Fault room_make(BridgePlane *b)
{
  size_t n = b->mesh.n_node, patterns = PATTERNS * b->n_support;
  b->pattern = calloc(patterns * 2 * n, sizeof(double));
  b->moved = calloc(patterns * 2 * n, sizeof(double));
  b->load = calloc(2 * n, sizeof(double));
  b->u = calloc(2 * n, sizeof(double));
  b->force = calloc(2 * n, sizeof(double));
  b->stress[0] = calloc(n, sizeof *b->stress[0]);
  b->stress[1] = calloc(n, sizeof *b->stress[1]);
  bool all = b->pattern && b->moved && b->load && b->u && b->force && b->stress[0] && b->stress[1];
  return all ? plane_sheet_shape(&b->mesh, &b->sheet) : FAULT_MEMORY;
}

/* Three pins at the gum side's ends. */
static Fault pins_factor(BridgePlane *b)
{
  size_t left = 0, right = 0;
  unsigned char *held = calloc(2 * b->mesh.n_node, 1);
  if (!held)
    return FAULT_MEMORY;
  for (size_t i = 0; i < b->mesh.n_edge; i++) {
    Point p = b->mesh.at[i];
    if (p.x + p.y < b->mesh.at[left].x + b->mesh.at[left].y)
      left = i;
    if (p.x - p.y > b->mesh.at[right].x - b->mesh.at[right].y)
      right = i;
  }
  held[2 * left] = held[2 * left + 1] = held[2 * right + 1] = 1;
  Fault fault = plane_factor_make(b->factor, &b->mesh, &b->material, held);
  free(held);
  return fault;
}

Fault bridge_plane_new(const BridgeInput *input, BridgePlane **bridge, Point *where)
{
  BridgePlane *b = calloc(1, sizeof *b);
  if (!b)
    return FAULT_MEMORY;
  Outline outline;
  outline_init(&outline);
  *where = point(NAN, NAN);
  Fault fault = plane_factor_new(&b->factor);
  if (!fault)
    fault = bridge_body_make(&b->body, input, &outline, where);
  b->material = (PlaneMaterial){input->young_mpa, input->poisson, bridge_body_thickness, &b->body};
  if (!fault)
    fault = plane_mesh_make(&b->mesh, &outline, input->fineness, where);
  if (!fault)
    fault = supports_make(b);
  if (!fault)
    fault = room_make(b);
  if (!fault)
    fault = pins_factor(b);
  if (!fault)
    fault = patterns_make(b);
  outline_clear(&outline);
  if (fault)
    bridge_plane_free(b);
  else
    *bridge = b;
  return fault;
}

void bridge_plane_free(BridgePlane *b)
{
  if (!b)
    return;
  plane_mesh_clear(&b->mesh);
  plane_factor_free(b->factor);
  free(b->pattern);
  free(b->moved);
  free(b->load);
  free(b->u);
  free(b->force);
  free(b->stress[0]);
  free(b->stress[1]);
  free(b->sheet.at);
  free(b->sheet.stress);
  free(b->sheet.corner);
  free(b);
}

/* ---- loads ---- */

/* Reactions of the springs that hold, from the flexibility. */
static Fault reactions(BridgePlane *b)
{
  size_t holds[MOST_PATTERNS], n = 0;
  for (size_t i = 0; i < PATTERNS * b->n_support; i++) {
    b->reaction[i] = 0;
    if (b->support[i / PATTERNS].k[i % PATTERNS] > 0)
      holds[n++] = i;
  }
  size_t size = n + RIGID;
  double a[(MOST_PATTERNS + RIGID) * (MOST_PATTERNS + RIGID)] = {0}, x[MOST_PATTERNS + RIGID] = {0},
                                                      sum[RIGID];
  for (size_t i = 0; i < n; i++) {
    double k = fmin(b->support[holds[i] / PATTERNS].k[holds[i] % PATTERNS], STIFF_MOST);
    for (size_t j = 0; j < n; j++)
      a[i * size + j] = b->flexibility[holds[i]][holds[j]] + (i == j ? 1 / k : 0);
    for (size_t r = 0; r < RIGID; r++)
      a[i * size + n + r] = a[(n + r) * size + i] = b->motion[holds[i]][r];
    x[i] = -work_of(b, b->load, pattern_of(b, b->moved, holds[i]));
  }
  resultant(b, b->load, INFINITY, sum);
  for (size_t r = 0; r < RIGID; r++)
    x[n + r] = -sum[r];
  Fault fault = dense_solve(size, a, x);
  for (size_t i = 0; i < size && !fault; i++)
    fault = isfinite(x[i]) ? FAULT_NONE : FAULT_SUPPORT;
  for (size_t i = 0; i < n; i++)
    b->reaction[holds[i]] = x[i];
  return fault == FAULT_SINGULAR ? FAULT_SUPPORT : fault;
}

/* Adds a force that presses down at x: a hat on the biting edge, leaning so that its resultant goes
 * through x whatever the mesh and the thickness. */
static Fault press_add(BridgePlane *b, double x, double force_n)
{
  double *hat[2] = {b->u, b->force}, sum[2][RIGID]; /* even, leaning; both are free until solved */
  for (int kind = 0; kind < 2; kind++) {
    Patch press = {x, BRIDGE_PRESS_MM, kind};
    side_load(b, &press, true, hat[kind]);
    resultant(b, hat[kind], INFINITY, sum[kind]);
  }
  double even = couple_about(sum[0], point(x, 0)), lean = couple_about(sum[1], point(x, 0));
  double weight = lean * sum[0][1] - even * sum[1][1];
  if (!(fabs(weight) > 0))
    return FAULT_DEGENERATE;
  add(b, b->load, -force_n * lean / weight, hat[0]);
  add(b, b->load, force_n * even / weight, hat[1]);
  return FAULT_NONE;
}

Fault bridge_plane_press(BridgePlane *b, const SpanLoad load[], size_t n)
{
  size_t size = 2 * b->mesh.n_node;
  double start = b->body.unit[0].x0 + BRIDGE_PRESS_MM,
         end = b->body.unit[b->body.n_unit - 1].x1 - BRIDGE_PRESS_MM;
  memset(b->load, 0, size * sizeof *b->load);
  for (size_t i = 0; i < n; i++) {
    if (!isfinite(load[i].x) || !isfinite(load[i].force_n))
      return FAULT_NOT_FINITE;
    Fault fault = press_add(b, fmin(fmax(load[i].x, start), end), load[i].force_n);
    if (fault)
      return fault;
  }
  Fault fault = reactions(b);
  if (fault)
    return fault;
  memcpy(b->force, b->load, size * sizeof *b->force);
  for (size_t i = 0; i < PATTERNS * b->n_support; i++)
    add(b, b->force, b->reaction[i], pattern_of(b, b->pattern, i));
  return FAULT_NONE;
}

Fault bridge_plane_load(BridgePlane *b, const SpanLoad load[], size_t n)
{
  Fault fault = bridge_plane_press(b, load, n);
  if (!fault)
    fault = plane_factor_solve(b->factor, 1, b->load, b->u);
  for (size_t i = 0; i < PATTERNS * b->n_support && !fault; i++)
    add(b, b->u, b->reaction[i], pattern_of(b, b->moved, i));
  if (!fault)
    fault = plane_stress(&b->mesh, &b->material, b->u, b->stress[0], b->stress[1]);
  for (size_t i = 0; i < b->mesh.n_node && !fault; i++) {
    float *s = b->sheet.stress[i][UNIT_BEND];
    s[0] = (float)((b->stress[0][i][0] + b->stress[1][i][0]) / 2);
    s[1] = (float)((b->stress[0][i][1] + b->stress[1][i][1]) / 2);
    s[3] = (float)((b->stress[0][i][2] + b->stress[1][i][2]) / 2);
  }
  return fault;
}

const FieldSheet *bridge_plane_sheet(const BridgePlane *b)
{
  return &b->sheet;
}

size_t bridge_plane_nodes(const BridgePlane *b)
{
  return b->mesh.n_node;
}

void bridge_plane_action(const BridgePlane *b, double x, double axis_y, double *moment_n_mm,
                         double *shear_n)
{
  double sum[RIGID];
  resultant(b, b->force, x, sum);
  *shear_n = sum[1];
  /* clockwise about the cut */
  *moment_n_mm = x * sum[1] - axis_y * sum[0] - sum[2];
}
