/* solid_mesh.c - the lofted mesh: one pattern of quads a section, layers of 20-node bricks between
 * sections. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Densities were chosen by trial against converged answers, core/SOURCES.md "solid". */
#include "solid_mesh.h"
#include <stdlib.h>
#include <string.h>

#define OUTER_RING 0.8  /* outermost ring, in roof radii                                        */
#define FINE_RING 0.43  /* the fine mesh: this part of it */
#define OUTER_MIN 0.02  /* thinnest outermost ring, in fractions of the half height             */
#define LEG_FIRST 1.5   /* first leg layer, in arc layers                                       */
#define LEG_SHORT 4     /* lean: a leg of fewer first layers than these has two, behind an arc  */
#define FLAT_TURN 0.03  /* rad: the roof counts as straight up to this turning                  */
#define FLAT_SHARE 0.04 /* a shorter flat needs no layer of its own                             */
#define FLAT_ALL 0.9    /* a longer one is a roof without an arc                                */
#define FLAT_LONG 0.45  /* a longer one gets two                                                */

/* lean: arcs behind a flat graded towards it, short legs in two layers; the fine meshes keep even
 * ones. */
typedef struct {
  int core, rings, arc, leg, body;
  bool lean;
} Density;

static Density density_of(SolidGrade grade, bool mirror_z, bool sharp)
{
  if (grade == SOLID_TRIAL)
    return (Density){2, 3, 3, 2, 1, true};
  if (grade == SOLID_PROOF)
    return (Density){4, 8, 8, 7, 4, false};
  if (grade != SOLID_FINE) /* more cells around a section with corners, where a frame allows it */
    return (Density){sharp && (mirror_z || grade == SOLID_FULL) ? 3 : 2, 4, 3, 3, 1, true};
  return mirror_z ? (Density){4, 6, 5, 4, 2, false} : (Density){3, 5, 5, 4, 1, false};
}

/* ---- layers ---- */

/* Share of the roof arc that is straight. */
static double arc_flat(const Loft *loft, int side)
{
  double flat = 0, first = loft_gingival_turn(loft, side, 0);
  for (int i = 1; i <= 64; i++)
    if (fabs(loft_gingival_turn(loft, side, i / 64.0) - first) < FLAT_TURN)
      flat = i / 64.0;
    else
      break;
  return flat;
}

/* Section places on the roof arc: even in s, but a flat roof gets layers of its own. */
static int arc_layers(double flat, Density d, double s[])
{
  static const double lean[] = {0.25, 0.55, 1}; /* of the arc: the pull peaks where it begins */
  int arc = d.arc;
  if (flat < FLAT_SHARE || flat > FLAT_ALL) {
    for (int i = 1; i <= arc; i++)
      s[i] = (double)i / arc;
    return arc;
  }
  int n = flat < FLAT_LONG ? 1 : 2;
  if (arc > 3)
    n *= 2;
  for (int i = 1; i <= n; i++)
    s[i] = flat * i / n;
  if (d.lean) {
    for (size_t i = 0; i < sizeof lean / sizeof *lean; i++)
      s[++n] = flat + (1 - flat) * lean[i];
    return n;
  }
  /* the pull peaks just behind the place where the flat ends: half a layer there */
  s[++n] = flat + (1 - flat) / (2 * arc);
  for (int i = 1; i <= arc; i++)
    s[++n] = flat + (1 - flat) * i / arc;
  return n;
}

/* Leg: the first layer follows the arc's, the others grow evenly. */
static void leg_layers(double first_mm, double leg_mm, int leg, double s[])
{
  double first = fmin(first_mm / leg_mm, 1.0 / leg), low = 1, high = 50, growth = 1;
  for (int it = 0; it < 60; it++) {
    growth = (low + high) / 2;
    double sum = 0;
    for (int k = 0; k < leg; k++)
      sum += first * pow(growth, k);
    if (sum < 1)
      low = growth;
    else
      high = growth;
  }
  double sum = 0, at = 0;
  for (int k = 0; k < leg; k++)
    sum += pow(growth, k);
  for (int k = 1; k <= leg; k++) {
    at += pow(growth, k - 1) / sum;
    s[k] = 1 + at;
  }
  s[leg] = 2;
}

static void arm_divide(Arm *arm, const Loft *loft, Density d)
{
  double s[LAYERS_MAX + 1] = {0};
  double flat = arc_flat(loft, arm->side);
  int n = arc_layers(flat, d, s);
  double first = LEG_FIRST * loft_gingival_length(loft, arm->side, s[n - 1], s[n]),
         leg_mm = fmax(loft_gingival_length(loft, arm->side, 1, 2), 1e-9);
  int leg = d.lean && flat <= FLAT_ALL && leg_mm < LEG_SHORT * first ? 2 : d.leg;
  leg_layers(first, leg_mm, leg, s + n);
  n += leg;
  for (int k = 1; k <= d.body; k++)
    s[n + k] = 2 + (double)k / d.body;
  arm->layers = n + d.body;
  for (int i = 0; i < arm->layers; i++) {
    arm->s[2 * i] = s[i];
    arm->s[2 * i + 1] = (s[i] + s[i + 1]) / 2;
  }
  arm->s[2 * arm->layers] = s[arm->layers];
}

/* ---- nodes ---- */

int solid_section_node(const SolidMesh *mesh, int arm, int section, int node)
{
  const Pattern *p = &mesh->pattern;
  return section == 0 ? node
                      : mesh->arm[arm].first_node + (section - 1) * (p->corners + p->nodes) +
                            p->corners + node;
}

int solid_middle_node(const SolidMesh *mesh, int arm, int layer, int corner)
{
  return mesh->arm[arm].first_node + layer * (mesh->pattern.corners + mesh->pattern.nodes) + corner;
}

void solid_brick(const SolidMesh *mesh, int arm, int layer, int quad, int node[BRICK_NODES])
{
  const int *q = mesh->pattern.quad[quad];
  for (int i = 0; i < 8; i++) {
    node[i] = solid_section_node(mesh, arm, layer, q[i]);
    node[8 + i] = solid_section_node(mesh, arm, layer + 1, q[i]);
  }
  for (int i = 0; i < 4; i++)
    node[16 + i] = solid_middle_node(mesh, arm, layer, mesh->pattern.corner[q[i]]);
}

static void node_place(SolidMesh *mesh, int node, int i, const Rib *rib, double scale)
{
  const Pattern *p = &mesh->pattern;
  double r = p->f[i] * scale, q = -r * p->cosine[i], zeta = p->half[i] * r * p->sine[i];
  mesh->at[node] = loft_place(rib, mesh->y0, q, zeta, mesh->mean_sides);
  mesh->phi[node] = (float)p->phi[i];
  mesh->roof_y[node] = (float)rib->gingival.y;
}

/* Places one station: all nodes of a section, or the corners of a layer's middle. */
static void station_place(SolidMesh *mesh, const Loft *loft, int side, double s, bool corners,
                          int node)
{
  const Pattern *p = &mesh->pattern;
  Rib rib = loft_rib(loft, side, s);
  double scale[PATTERN_NODES];
  for (int i = 0; i < p->nodes; i++)
    if (!corners || p->corner[i] >= 0) {
      int twin = p->twin[i]; /* of the same angle: the powers are dear */
      scale[i] = twin < i ? scale[twin] : rib_reach(&rib, p->cosine[i], p->sine[i], p->ratio[i]);
      node_place(mesh, node + (corners ? p->corner[i] : i), i, &rib, scale[i]);
    }
}

/* ---- unknowns ---- */

static int node_number(SolidMesh *mesh, int node, int i, int dof)
{
  bool line = mesh->mirror_z && mesh->pattern.half[i] == 0;
  for (int k = 0; k < 3; k++)
    mesh->dof[node][k] = line && (k == 2) == (mesh->pair == PAIR_EVEN) ? -1 : dof++;
  return dof;
}

/* The neck, then layer by layer its middle and its far section; in the last layer of an arm both at
 * once, end by end. */
static void unknowns_number(SolidMesh *mesh)
{
  const Pattern *p = &mesh->pattern;
  int dof = 0;
  for (int i = 0; i < p->nodes; i++)
    dof = node_number(mesh, i, i, dof);
  mesh->section_dofs = dof;
  for (int a = 0; a < mesh->arms; a++) {
    int last = mesh->arm[a].layers - 1;
    mesh->arm[a].first_dof = dof;
    for (int k = 0; k < last; k++) {
      int before = dof;
      for (int c = 0; c < p->corners; c++)
        dof = node_number(mesh, solid_middle_node(mesh, a, k, c), p->corner_node[c], dof);
      mesh->middle_dofs = dof - before;
      for (int i = 0; i < p->nodes; i++)
        dof = node_number(mesh, solid_section_node(mesh, a, k + 1, i), i, dof);
    }
    for (int n = 0; n < p->nodes + p->corners; n++) {
      int i = p->last_order[n].node;
      int node = p->last_order[n].middle ? solid_middle_node(mesh, a, last, p->corner[i])
                                         : solid_section_node(mesh, a, last + 1, i);
      dof = node_number(mesh, node, i, dof);
    }
  }
  mesh->dofs = dof;
}

static Fault room_make(SolidMesh *mesh, int nodes)
{
  size_t n = (size_t)nodes;
  mesh->nodes = nodes;
  if (n <= mesh->room)
    return FAULT_NONE;
  solid_mesh_clear(mesh);
  mesh->at = malloc(n * sizeof *mesh->at);
  mesh->dof = malloc(n * sizeof *mesh->dof);
  mesh->phi = malloc(n * sizeof *mesh->phi);
  mesh->roof_y = malloc(n * sizeof *mesh->roof_y);
  if (!mesh->at || !mesh->dof || !mesh->phi || !mesh->roof_y) {
    solid_mesh_clear(mesh);
    return FAULT_MEMORY;
  }
  mesh->room = n;
  return FAULT_NONE;
}

void solid_mesh_clear(SolidMesh *mesh)
{
  free(mesh->at);
  free(mesh->dof);
  free(mesh->phi);
  free(mesh->roof_y);
  mesh->at = NULL;
  mesh->dof = NULL;
  mesh->phi = mesh->roof_y = NULL;
  mesh->room = 0;
}

static double outer_fraction(double radius, double half, int rings, SolidGrade grade)
{
  double even = (1 - PATTERN_CORE) / rings, wanted = OUTER_RING * radius / half;
  return fmax(fmin(even, grade == SOLID_FINE || grade == SOLID_PROOF ? wanted * FINE_RING : wanted),
              OUTER_MIN);
}

Fault solid_mesh_make(SolidMesh *mesh, const Loft *loft, SolidGrade grade, LoadPair pair)
{
  mesh->pair = pair;
  Pattern *p = &mesh->pattern;
  mesh->mirror_x = loft_mirror_x(loft);
  bool averages = grade == SOLID_LIVE || grade == SOLID_TRIAL;
  mesh->mirror_z = (averages && loft_section_even(loft)) || loft_mirror_z(loft);
  mesh->mean_sides = mesh->mirror_z;
  mesh->arms = mesh->mirror_x ? 1 : 2;
  mesh->y0 = loft_y0(loft);
  Density d = density_of(grade, mesh->mirror_z, loft_section_sharp(loft));
  Rib neck = loft_rib(loft, 1, 0);
  mesh->neck_x = neck.x_plan;
  double half = mesh->y0 - neck.gingival.y;
  double low = fmin(loft_gingival_radius(loft, -1), loft_gingival_radius(loft, 1));
  double high = fmin(loft_occlusal_radius(loft, -1), loft_occlusal_radius(loft, 1));
  double outer = outer_fraction(low, half, d.rings, grade);
  mesh->outer_mm = outer * half;
  pattern_make(p, loft, d.core, d.rings, outer, outer_fraction(high, half, d.rings, grade),
               !mesh->mirror_z);
  int nodes = p->nodes;
  mesh->elements = 0;
  for (int a = 0; a < mesh->arms; a++) {
    Arm *arm = &mesh->arm[a];
    arm->side = a == 0 ? 1 : -1;
    arm_divide(arm, loft, d);
    arm->first_node = nodes;
    nodes += arm->layers * (p->nodes + p->corners);
    mesh->elements_arm[a] = arm->layers * p->quads;
    mesh->elements += mesh->elements_arm[a];
  }
  Fault fault = room_make(mesh, nodes);
  if (fault)
    return fault;
  station_place(mesh, loft, 1, 0, false, 0);
  mesh->roof_top = neck.gingival.y;
  for (int a = 0; a < mesh->arms; a++) {
    Arm *arm = &mesh->arm[a];
    mesh->foot[a] = loft_rib(loft, arm->side, 2).gingival.y;
    for (int k = 0; k < arm->layers; k++) {
      station_place(mesh, loft, arm->side, arm->s[2 * k + 1], true,
                    solid_middle_node(mesh, a, k, 0));
      station_place(mesh, loft, arm->side, arm->s[2 * k + 2], false,
                    solid_section_node(mesh, a, k + 1, 0));
      mesh->roof_top =
          fmax(mesh->roof_top, (double)mesh->roof_y[solid_section_node(mesh, a, k + 1, 0)]);
    }
  }
  unknowns_number(mesh);
  return FAULT_NONE;
}
