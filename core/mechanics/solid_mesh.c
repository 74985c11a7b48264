/* solid_mesh.c - the lofted mesh: one pattern of quads a section, layers of 20-node bricks between
 * sections. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Densities were chosen by trial against converged answers, core/SOURCES.md "solid". */
#include "solid_mesh.h"
#include <stdlib.h>
#include <string.h>

#define CORE_SIZE 0.5   /* the core reaches half way out                                        */
#define CORE_SQUARE 0.4 /* how far the core is drawn towards a rectangle                        */
#define OUTER_RING 0.8  /* outermost ring, in roof radii                                        */
#define FINE_RING 0.43  /* the fine mesh: this part of it */
#define OUTER_MIN 0.02  /* thinnest outermost ring, in fractions of the half height             */
#define LEG_FIRST 1.5   /* first leg layer, in arc layers                                       */
#define FLAT_TURN 0.03  /* rad: the roof counts as straight up to this turning                  */
#define FLAT_SHARE 0.04 /* a shorter flat needs no layer of its own                             */
#define FLAT_ALL 0.9    /* a longer one is a roof without an arc                                */
#define FLAT_LONG 0.45  /* a longer one gets two                                                */

typedef struct {
  int core, rings, arc, leg, body;
} Density;

static Density density_of(SolidGrade grade, bool mirror_z, bool sharp)
{
  if (grade == SOLID_TRIAL)
    return (Density){2, 3, 3, 2, 1};
  if (grade == SOLID_PROOF)
    return (Density){4, 8, 8, 7, 4};
  if (grade != SOLID_FINE) /* more cells around a section with corners, where a frame allows it */
    return (Density){sharp && (mirror_z || grade == SOLID_FULL) ? 3 : 2, 4, 3, 3, 1};
  return mirror_z ? (Density){4, 6, 5, 4, 2} : (Density){3, 5, 5, 4, 1};
}

/* ---- pattern of a section ---- */

typedef struct {
  double u, v; /* unit disc: u from gingival to occlusal, v to the side */
} Disc;

/* Rim of the core: a circle drawn towards the rectangle with corners at 60 and 120 degrees; on the
 * circle itself the corner quads would have a flat angle there. */
static double core_rim_fraction(double phi)
{
  double third = acos(-1.0) / 3, middle = 1.5 * third;
  double aside = middle - fabs(phi - middle); /* [0, pi/2], alike at both ends */
  double chord = aside < third ? cos(third) / cos(aside) : sin(third) / sin(aside);
  return CORE_SIZE * (1 - CORE_SQUARE + CORE_SQUARE * chord);
}

static Disc on_rim(double phi)
{
  double f = core_rim_fraction(phi);
  return (Disc){-f * cos(phi), f * sin(phi)};
}

/* The core: its four sides blended.  i towards the side, j from gingival to occlusal, in half
 * steps. */
static Disc core_place(int i, int j, int core)
{
  double pi = acos(-1.0), a = i / (2.0 * core), b = j / (2.0 * core);
  Disc bottom = on_rim(a * pi / 3), top = on_rim(pi - a * pi / 3);
  Disc right = on_rim((1 + b) * pi / 3), c10 = on_rim(pi / 3), c11 = on_rim(2 * pi / 3);
  double end = core_rim_fraction(0), left = end * (2 * b - 1);
  double u = (1 - b) * bottom.u + b * top.u + (1 - a) * left + a * right.u -
             ((1 - a) * (1 - b) * -end + a * (1 - b) * c10.u + (1 - a) * b * end + a * b * c11.u);
  double v = (1 - b) * bottom.v + b * top.v + a * right.v - (a * (1 - b) * c10.v + a * b * c11.v);
  return (Disc){u, v};
}

static int node_add(Pattern *p, double phi, double f, bool line, bool corner)
{
  int i = p->nodes++;
  p->phi[i] = phi;
  p->f[i] = f;
  p->half[i] = line ? 0 : 1;
  p->corner[i] = corner ? p->corners++ : -1;
  return i;
}

/* Fraction at half step r of the rings: the outermost ring as thick as asked, the others growing
 * inwards evenly. */
static double ring_fraction(int r, int rings, double rim, double outer)
{
  double room = 1 - rim, growth = 1, low = 1, high = 20;
  for (int it = 0; it < 60; it++) {
    growth = (low + high) / 2;
    double sum = 0;
    for (int k = 0; k < rings; k++)
      sum += outer * pow(growth, k);
    if (sum < room)
      low = growth;
    else
      high = growth;
  }
  double f = 1;
  for (int k = 0; 2 * k < 2 * rings - r; k++) {
    double share = fmin(1, (2 * rings - r - 2 * k) / 2.0);
    f -= share * outer * pow(growth, k);
  }
  return r == 0 ? rim : f;
}

static void quad_add(Pattern *p, const int node[8], int turn, bool outer, int line_edge)
{
  int i = p->quads++;
  memcpy(p->quad[i], node, 8 * sizeof(int));
  p->turn[i] = (int8_t)turn;
  p->outer[i] = outer;
  p->line_edge[i] = (int8_t)line_edge;
}

static void core_add(Pattern *p, int id[PATTERN_ANGLES][PATTERN_ANGLES])
{
  int n = 2 * p->core;
  for (int i = 0; i <= n; i++)
    for (int j = 0; j <= n; j++) {
      id[i][j] = -1;
      if (i % 2 && j % 2)
        continue;
      Disc d = core_place(i, j, p->core);
      double f = hypot(d.u, d.v);
      id[i][j] = node_add(p, f > 1e-12 ? atan2(d.v, -d.u) : 0, f, i == 0, i % 2 == 0 && j % 2 == 0);
    }
  for (int i = 0; i < n; i += 2)
    for (int j = 0; j < n; j += 2) {
      int quad[8] = {id[i][j],     id[i + 2][j],     id[i + 2][j + 2], id[i][j + 2],
                     id[i + 1][j], id[i + 2][j + 1], id[i + 1][j + 2], id[i][j + 1]};
      quad_add(p, quad, -1, false, i == 0 ? 3 : -1);
    }
}

/* The core's boundary node at half step a around. */
static int core_rim(int id[PATTERN_ANGLES][PATTERN_ANGLES], int a, int core)
{
  int n = 2 * core;
  return a <= n ? id[a][0] : a <= 2 * n ? id[n][a - n] : id[3 * n - a][n];
}

static void rings_add(Pattern *p, int id[PATTERN_ANGLES][PATTERN_ANGLES], double outer_low,
                      double outer_high)
{
  double pi = acos(-1.0);
  int around = 6 * p->core, out = 2 * p->rings;
  for (int a = 0; a <= around; a++)
    for (int r = 0; r <= out; r++) {
      p->grid[0][a][r] = -1;
      if (a % 2 && r % 2)
        continue;
      double phi = pi * a / around, c = cos(phi);
      double rim = core_rim_fraction(phi), even = (1 - rim) / p->rings;
      double outer = even - fmax(c, 0) * (even - outer_low) - fmax(-c, 0) * (even - outer_high);
      /* the graded rings fade into even ones towards the side */
      p->grid[0][a][r] = r == 0 ? core_rim(id, a, p->core)
                                : node_add(p, phi, ring_fraction(r, p->rings, rim, outer),
                                           a == 0 || a == around, a % 2 == 0 && r % 2 == 0);
    }
  int(*g)[PATTERN_RINGS] = p->grid[0];
  for (int a = 0; a < around; a += 2)
    for (int r = 0; r < out; r += 2) {
      int quad[8] = {g[a][r],     g[a + 2][r],     g[a + 2][r + 2], g[a][r + 2],
                     g[a + 1][r], g[a + 2][r + 1], g[a + 1][r + 2], g[a][r + 1]};
      quad_add(p, quad, 1, r + 2 == out, a == 0 ? 3 : a + 2 == around ? 1 : -1);
    }
}

/* The lingual half as the mirror image of the buccal one. */
static void pattern_double(Pattern *p)
{
  int image[PATTERN_NODES], n = p->nodes, q = p->quads;
  for (int i = 0; i < n; i++) {
    image[i] = i;
    if (p->half[i] == 0)
      continue;
    image[i] = node_add(p, p->phi[i], p->f[i], false, p->corner[i] >= 0);
    p->half[image[i]] = -1;
  }
  for (int k = 0; k < q; k++) {
    int node[8];
    for (int i = 0; i < 8; i++)
      node[i] = image[p->quad[k][i]];
    quad_add(p, node, -p->turn[k], p->outer[k], -1);
  }
  for (int a = 0; a <= 6 * p->core; a++)
    for (int r = 0; r <= 2 * p->rings; r++)
      p->grid[1][a][r] = p->grid[0][a][r] < 0 ? -1 : image[p->grid[0][a][r]];
}

/* Angles and drawn ratios of the loft's section: its corners move the borders of the cells; both
 * fade towards the middle. */
static void pattern_turn(Pattern *p, const Loft *loft)
{
  for (int i = 0; i < p->nodes; i++) {
    bool lingual = p->half[i] < 0;
    double moved = loft_section_angle(loft, p->phi[i], 3 * p->core, lingual) - p->phi[i];
    p->phi[i] += moved * fmin(1, p->f[i] / (CORE_SIZE * (1 - CORE_SQUARE)));
    p->ratio[i] = pow(loft_section_ratio(loft, p->phi[i], lingual), p->f[i]);
  }
}

static void pattern_make(Pattern *p, const Loft *loft, Density d, double outer_low,
                         double outer_high, bool both_halves)
{
  int id[PATTERN_ANGLES][PATTERN_ANGLES];
  p->core = d.core;
  p->rings = d.rings;
  p->nodes = p->quads = p->corners = 0;
  core_add(p, id);
  rings_add(p, id, outer_low, outer_high);
  if (both_halves)
    pattern_double(p);
  pattern_turn(p, loft);
  for (int i = 0; i < p->nodes; i++) {
    p->cosine[i] = cos(p->phi[i]);
    p->sine[i] = sin(p->phi[i]);
    p->twin[i] = i;
    for (int k = 0; k < i && p->twin[i] == i; k++)
      if (p->phi[k] == p->phi[i] && p->ratio[k] == p->ratio[i] &&
          (p->corner[k] >= 0 || p->corner[i] < 0))
        p->twin[i] = k;
  }
}

/* ---- layers ---- */

/* Section places on the roof arc: even in s, but a flat roof gets layers of its own. */
static int arc_layers(const Loft *loft, int side, int arc, double s[])
{
  double flat = 0, first = loft_gingival_turn(loft, side, 0);
  for (int i = 1; i <= 64; i++)
    if (fabs(loft_gingival_turn(loft, side, i / 64.0) - first) < FLAT_TURN)
      flat = i / 64.0;
    else
      break;
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
  int n = arc_layers(loft, arm->side, d.arc, s);
  double last = loft_gingival_length(loft, arm->side, s[n - 1], s[n]);
  leg_layers(LEG_FIRST * last, fmax(loft_gingival_length(loft, arm->side, 1, 2), 1e-9), d.leg,
             s + n);
  n += d.leg;
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

static int node_place(SolidMesh *mesh, int node, int i, const Rib *rib, double scale[], int dof)
{
  const Pattern *p = &mesh->pattern;
  double r = p->f[i] * scale[i], q = -r * p->cosine[i], zeta = p->half[i] * r * p->sine[i];
  mesh->at[node] = loft_place(rib, mesh->y0, q, zeta, mesh->mean_sides);
  mesh->phi[node] = (float)p->phi[i];
  mesh->roof_y[node] = (float)rib->gingival.y;
  bool line = mesh->mirror_z && p->half[i] == 0;
  for (int k = 0; k < 3; k++)
    mesh->dof[node][k] = line && (k == 2) == (mesh->pair == PAIR_EVEN) ? -1 : dof++;
  return dof;
}

/* Places one station: all nodes of a section, or the corners of a layer's middle. */
static int station_place(SolidMesh *mesh, const Loft *loft, int side, double s, bool corners,
                         int node, int dof)
{
  const Pattern *p = &mesh->pattern;
  Rib rib = loft_rib(loft, side, s);
  double scale[PATTERN_NODES];
  for (int i = 0; i < p->nodes; i++)
    if (!corners || p->corner[i] >= 0) {
      int twin = p->twin[i]; /* of the same angle: the powers are dear */
      scale[i] = twin < i ? scale[twin] : rib_reach(&rib, p->cosine[i], p->sine[i], p->ratio[i]);
      dof = node_place(mesh, corners ? node + p->corner[i] : node + i, i, &rib, scale, dof);
    }
  return dof;
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
  double even = (1 - CORE_SIZE) / rings, wanted = OUTER_RING * radius / half;
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
  pattern_make(p, loft, d, outer, outer_fraction(high, half, d.rings, grade), !mesh->mirror_z);
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
  mesh->section_dofs = station_place(mesh, loft, 1, 0, false, 0, 0);
  mesh->roof_top = neck.gingival.y;
  int dof = mesh->section_dofs;
  for (int a = 0; a < mesh->arms; a++) {
    Arm *arm = &mesh->arm[a];
    arm->first_dof = dof;
    mesh->foot[a] = loft_rib(loft, arm->side, 2).gingival.y;
    for (int k = 0; k < arm->layers; k++) {
      int before = dof;
      dof = station_place(mesh, loft, arm->side, arm->s[2 * k + 1], true,
                          solid_middle_node(mesh, a, k, 0), dof);
      mesh->middle_dofs = dof - before;
      dof = station_place(mesh, loft, arm->side, arm->s[2 * k + 2], false,
                          solid_section_node(mesh, a, k + 1, 0), dof);
      mesh->roof_top =
          fmax(mesh->roof_top, (double)mesh->roof_y[solid_section_node(mesh, a, k + 1, 0)]);
    }
  }
  mesh->dofs = dof;
  return FAULT_NONE;
}
