/* solid_picture.c - sheets, surface points and peak candidates of a solved mesh.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, MPa.  Symmetric halves are unfolded, so that a field is always the whole connector. */
#include "solid_recover.h"
#include <stdlib.h>
#include <string.h>

#define MEAN_DEPTH_MM 0.10    /* depth of the mean beside each peak                             */
#define ROOF_SHARE 0.4        /* the roof is the top 40 % of the embrasure                      */
#define ANGLE_GINGIVAL 1.0472 /* rad from the lowest fibre: gum side up to here (60 degrees) */
#define ANGLE_GROOVE 2.3562   /* rad: groove from here on (the occlusal quarter)                */
#define CUT_MAX 4
#define SKIN_CUT 3 /* everywhere: unlike neighbours would leave cracks */

/* One unfolded copy: mirrored about the neck plane and / or about z = 0. */
typedef struct {
  bool x, z;
} Mirror;

static size_t mirrors_of(const SolidMesh *mesh, bool want_x, bool want_z, Mirror out[4])
{
  size_t n = 0;
  for (int x = 0; x <= (want_x && mesh->mirror_x); x++)
    for (int z = 0; z <= (want_z && mesh->mirror_z); z++)
      out[n++] = (Mirror){x, z};
  return n;
}

static Vec3 mirror_point(const SolidMesh *mesh, Mirror m, Vec3 p)
{
  return (Vec3){m.x ? 2 * mesh->neck_x - p.x : p.x, p.y, m.z ? -p.z : p.z};
}

static void mirror_stress(Mirror m, LoadPair pair, float s[UNIT_LOAD_N][6])
{
  for (int c = 0; c < UNIT_LOAD_N; c++)
    for (int k = 0; k < 6; k++) {
      bool crossing_x = k == 3 || k == 5, crossing_z = k == 4 || k == 5;
      bool flip = (m.x && crossing_x) != (m.z && crossing_z);
      if (m.x && c == 1) /* the second load of a pair is odd across the neck */
        flip = !flip;
      if (m.z && pair == PAIR_ODD)
        flip = !flip;
      if (flip)
        s[c][k] = -s[c][k];
    }
}

/* A face of bricks: 8 nodes in the order of face_shape. */
typedef struct {
  int node[8];
  int arm, layer;
} Face;

/* The face over edge e of a quad, between two sections. */
static Face edge_face(const SolidMesh *mesh, int arm, int layer, int quad, int e)
{
  const int *q = mesh->pattern.quad[quad];
  int b = (e + 1) % 4;
  Face f = {.arm = arm, .layer = layer};
  f.node[0] = solid_section_node(mesh, arm, layer, q[e]);
  f.node[1] = solid_section_node(mesh, arm, layer, q[b]);
  f.node[2] = solid_section_node(mesh, arm, layer + 1, q[b]);
  f.node[3] = solid_section_node(mesh, arm, layer + 1, q[e]);
  f.node[4] = solid_section_node(mesh, arm, layer, q[4 + e]);
  f.node[5] = solid_middle_node(mesh, arm, layer, mesh->pattern.corner[q[b]]);
  f.node[6] = solid_section_node(mesh, arm, layer + 1, q[4 + e]);
  f.node[7] = solid_middle_node(mesh, arm, layer, mesh->pattern.corner[q[e]]);
  return f;
}

static void face_stress(const NodeStress *stress, const Face *face, const double n[8],
                        float out[UNIT_LOAD_N][6])
{
  double sum[12] = {0};
  for (int i = 0; i < 8; i++)
    for (int k = 0; k < 12; k++)
      sum[k] += n[i] * (double)(&stress->stress[face->node[i]][0][0])[k];
  for (int k = 0; k < 12; k++)
    (&out[0][0])[k] = (float)sum[k];
}

static Vec3 face_place(const SolidMesh *mesh, const Face *face, const double n[8])
{
  Vec3 p = {0, 0, 0};
  for (int i = 0; i < 8; i++) {
    Vec3 v = mesh->at[face->node[i]];
    p.x += n[i] * v.x, p.y += n[i] * v.y, p.z += n[i] * v.z;
  }
  return p;
}

/* ---- sheets ---- */

typedef struct {
  const SolidMesh *mesh;
  const NodeStress *stress;
  FieldSheet *sheet;
  SheetKind kind;
} SheetPen;

static Point flat(SheetKind kind, Vec3 p)
{
  return kind == SHEET_GUM_SIDE ? point(p.x, p.z)
         : kind == SHEET_NECK   ? point(p.z, p.y)
                                : point(p.x, p.y);
}

static Fault sheet_room(FieldSheet *sheet, size_t vertices, size_t triangles)
{
  sheet->at = malloc(vertices * sizeof *sheet->at);
  sheet->stress = malloc(vertices * sizeof *sheet->stress);
  sheet->corner = malloc(triangles * sizeof *sheet->corner);
  return sheet->at && sheet->stress && sheet->corner ? FAULT_NONE : FAULT_MEMORY;
}

static Vec3 face_normal(const SolidMesh *mesh, const Face *face, const double dx[8],
                        const double dy[8])
{
  Vec3 u = face_place(mesh, face, dx), v = face_place(mesh, face, dy);
  return (Vec3){u.y * v.z - u.z * v.y, u.z * v.x - u.x * v.z, u.x * v.y - u.y * v.x};
}

static SkinVertex skin_vertex(const SolidMesh *mesh, Mirror mirror, Vec3 at, Vec3 normal)
{
  double length = sqrt(normal.x * normal.x + normal.y * normal.y + normal.z * normal.z),
         scale = length > 0 ? 1 / length : 0;
  return (SkinVertex){(float)mirror_point(mesh, mirror, at).z,
                      {(float)(mirror.x ? -normal.x * scale : normal.x * scale),
                       (float)(normal.y * scale),
                       (float)(mirror.z ? -normal.z * scale : normal.z * scale)}};
}

static void face_draw(SheetPen *pen, const Face *face, int cut, Mirror mirror)
{
  FieldSheet *sheet = pen->sheet;
  uint32_t first = (uint32_t)sheet->n_vertex, row = (uint32_t)cut + 1;
  for (int j = 0; j <= cut; j++)
    for (int i = 0; i <= cut; i++) {
      double n[8], dx[8], dy[8];
      face_shape(2.0 * i / cut - 1, 2.0 * j / cut - 1, n, dx, dy);
      Vec3 at = face_place(pen->mesh, face, n);
      sheet->at[sheet->n_vertex] = flat(pen->kind, mirror_point(pen->mesh, mirror, at));
      if (sheet->skin)
        sheet->skin[sheet->n_vertex] =
            skin_vertex(pen->mesh, mirror, at, face_normal(pen->mesh, face, dx, dy));
      face_stress(pen->stress, face, n, sheet->stress[sheet->n_vertex]);
      mirror_stress(mirror, pen->mesh->pair, sheet->stress[sheet->n_vertex]);
      sheet->n_vertex++;
    }
  for (uint32_t j = 0; j < (uint32_t)cut; j++)
    for (uint32_t i = 0; i < (uint32_t)cut; i++) {
      uint32_t a = first + j * row + i,
               corner[2][3] = {{a, a + 1, a + row + 1}, {a, a + row + 1, a + row}};
      memcpy(sheet->corner[sheet->n_triangle], corner, sizeof corner);
      sheet->n_triangle += 2;
    }
}

/* Cuts of a face: finer beside the roof. */
static int cut_of(const SolidMesh *mesh, const Face *face, bool surface)
{
  double s = mesh->arm[face->arm].s[2 * face->layer];
  return s < 1 ? (surface ? CUT_MAX : 3) : s < 2 && surface ? 3 : 2;
}

static size_t layers_of(const SolidMesh *mesh)
{
  size_t n = 0;
  for (int a = 0; a < mesh->arms; a++)
    n += (size_t)mesh->arm[a].layers;
  return n;
}

static Fault sheet_neck(SheetPen *pen)
{
  const Pattern *p = &pen->mesh->pattern;
  Mirror mirror[4];
  size_t n = mirrors_of(pen->mesh, false, true, mirror), faces = n * (size_t)p->quads;
  Fault fault = sheet_room(pen->sheet, faces * 9, faces * 8);
  for (size_t k = 0; k < n && !fault; k++)
    for (int q = 0; q < p->quads; q++) {
      Face face = {.arm = 0, .layer = 0};
      memcpy(face.node, p->quad[q], sizeof face.node);
      face_draw(pen, &face, 2, mirror[k]);
    }
  return fault;
}

/* Elevation: faces on z = 0.  Gum side: surface faces of the lower half. */
static Fault sheet_along(SheetPen *pen)
{
  const SolidMesh *mesh = pen->mesh;
  const Pattern *p = &mesh->pattern;
  bool gum = pen->kind == SHEET_GUM_SIDE;
  Mirror mirror[4];
  size_t n = mirrors_of(mesh, true, gum, mirror), per_layer = 0;
  int edge[PATTERN_QUADS];
  for (int q = 0; q < p->quads; q++) {
    const int *v = p->quad[q];
    bool low = p->outer[q] && p->phi[v[6]] < acos(-1.0) / 2;
    edge[q] = gum ? (low ? 2 : -1) : p->line_edge[q];
    per_layer += edge[q] >= 0;
  }
  size_t faces = n * per_layer * layers_of(mesh), cells = CUT_MAX * CUT_MAX,
         corners = (CUT_MAX + 1) * (CUT_MAX + 1);
  Fault fault = sheet_room(pen->sheet, faces * corners, 2 * faces * cells);
  for (size_t k = 0; k < n && !fault; k++)
    for (int arm = 0; arm < mesh->arms; arm++)
      for (int layer = 0; layer < mesh->arm[arm].layers; layer++)
        for (int q = 0; q < p->quads; q++)
          if (edge[q] >= 0) {
            Face face = edge_face(mesh, arm, layer, q, edge[q]);
            face_draw(pen, &face, cut_of(mesh, &face, gum || p->outer[q]), mirror[k]);
          }
  return fault;
}

/* A section as it was cut off: drawn without stress, for that of the far ends is the loads'. */
static void cap_draw(SheetPen *pen, int arm, Mirror mirror)
{
  const SolidMesh *mesh = pen->mesh;
  const Pattern *p = &mesh->pattern;
  FieldSheet *sheet = pen->sheet;
  size_t first = sheet->n_vertex;
  for (int q = 0; q < p->quads; q++) {
    Face face = {.arm = arm, .layer = mesh->arm[arm].layers};
    for (int i = 0; i < 8; i++)
      face.node[i] = solid_section_node(mesh, arm, face.layer, p->quad[q][i]);
    face_draw(pen, &face, SKIN_CUT, mirror);
  }
  memset(&sheet->stress[first], 0, (sheet->n_vertex - first) * sizeof *sheet->stress);
}

static Fault sheet_skin(SheetPen *pen)
{
  const SolidMesh *mesh = pen->mesh;
  const Pattern *p = &mesh->pattern;
  Mirror mirror[4];
  size_t n = mirrors_of(mesh, true, true, mirror), outer = 0;
  for (int q = 0; q < p->quads; q++)
    outer += p->outer[q];
  size_t faces = n * outer * layers_of(mesh), caps = n * (size_t)(mesh->arms * p->quads);
  size_t corners = (SKIN_CUT + 1) * (SKIN_CUT + 1), vertices = faces * corners + caps * corners;
  Fault fault = sheet_room(pen->sheet, vertices, (faces + caps) * 2 * SKIN_CUT * SKIN_CUT);
  if (!fault && !(pen->sheet->skin = malloc(vertices * sizeof *pen->sheet->skin)))
    fault = FAULT_MEMORY;
  for (size_t k = 0; k < n && !fault; k++)
    for (int arm = 0; arm < mesh->arms; arm++) {
      for (int layer = 0; layer < mesh->arm[arm].layers; layer++)
        for (int q = 0; q < p->quads; q++)
          if (p->outer[q]) {
            Face face = edge_face(mesh, arm, layer, q, 2);
            face_draw(pen, &face, SKIN_CUT, mirror[k]);
          }
      cap_draw(pen, arm, mirror[k]);
    }
  return fault;
}

/* ---- surface ---- */

static SurfaceZone zone_of(const SolidMesh *mesh, int arm, double phi, double gingival_y,
                           bool lingual)
{
  double roof_low = mesh->roof_top - ROOF_SHARE * (mesh->roof_top - mesh->foot[arm]);
  if (phi < ANGLE_GINGIVAL)
    return gingival_y >= roof_low ? SURFACE_ROOF : SURFACE_LEGS;
  if (phi > ANGLE_GROOVE)
    return SURFACE_GROOVE;
  return lingual ? SURFACE_LINGUAL : SURFACE_BUCCAL;
}

static void face_points(const SolidMesh *mesh, const NodeStress *stress, const Face *face,
                        const Mirror mirror[], size_t n_mirror, Field *field)
{
  static const double at[3] = {-0.774596669241483377, 0, 0.774596669241483377},
                      weight[3] = {5.0 / 9, 8.0 / 9, 5.0 / 9};
  for (int g = 0; g < 9; g++) {
    double n[8], dx[8], dy[8], phi = 0, level = 0;
    face_shape(at[g % 3], at[g / 3], n, dx, dy);
    Vec3 p = face_place(mesh, face, n), normal = face_normal(mesh, face, dx, dy);
    double area = sqrt(normal.x * normal.x + normal.y * normal.y + normal.z * normal.z) *
                  weight[g % 3] * weight[g / 3];
    for (int i = 0; i < 8; i++) {
      phi += n[i] * (double)mesh->phi[face->node[i]];
      level += n[i] * (double)mesh->roof_y[face->node[i]];
    }
    for (size_t k = 0; k < n_mirror; k++) {
      SurfacePoint *to = &field->surface[field->n_surface++];
      to->at = mirror_point(mesh, mirror[k], p);
      to->area = (float)area;
      to->zone = (uint8_t)zone_of(mesh, face->arm, phi, level, to->at.z < 0);
      face_stress(stress, face, n, to->stress);
      mirror_stress(mirror[k], mesh->pair, to->stress);
    }
  }
}

static Fault surface_make(const SolidMesh *mesh, const NodeStress *stress, Field *field)
{
  const Pattern *p = &mesh->pattern;
  Mirror mirror[4];
  size_t n = mirrors_of(mesh, true, true, mirror), outer = 0;
  for (int q = 0; q < p->quads; q++)
    outer += p->outer[q];
  field->surface = malloc(n * outer * layers_of(mesh) * 9 * sizeof *field->surface);
  if (!field->surface)
    return FAULT_MEMORY;
  for (int arm = 0; arm < mesh->arms; arm++)
    for (int layer = 0; layer < mesh->arm[arm].layers; layer++)
      for (int q = 0; q < p->quads; q++)
        if (p->outer[q]) {
          Face face = edge_face(mesh, arm, layer, q, 2);
          face_points(mesh, stress, &face, mirror, n, field);
        }
  return FAULT_NONE;
}

/* ---- candidates ---- */

/* Node of the pattern at ring r below the surface at half step a: a section's or a layer middle's,
 * or -1. */
static int grid_node(const SolidMesh *mesh, int arm, int station, int half, int a, int r)
{
  int node = mesh->pattern.grid[half][a][r];
  if (node < 0)
    return -1;
  if (station % 2 == 0)
    return solid_section_node(mesh, arm, station / 2, node);
  return mesh->pattern.corner[node] < 0
             ? -1
             : solid_middle_node(mesh, arm, station / 2, mesh->pattern.corner[node]);
}

/* Weights of three nodes at depths 0 < b < c for the mean over [0, d] of the parabola through them.
 */
static void mean_weights(double b, double c, double d, double w[3])
{
  w[1] = (d * d / 3 - c * d / 2) / (b * (b - c));
  w[2] = (d * d / 3 - b * d / 2) / (c * (c - b));
  w[0] = 1 - w[1] - w[2];
}

/* A place in the rings: stress of both unit loads and position. */
typedef struct {
  double value[2 * 6 + 3];
} RingPlace;

typedef struct {
  const SolidMesh *mesh;
  const NodeStress *stress;
  int arm, half;
} RingReader;

static bool ring_node(const RingReader *in, int station, int a, int r, double weight,
                      RingPlace *sum)
{
  int node = grid_node(in->mesh, in->arm, station, in->half, a, r);
  if (node < 0)
    return false;
  Vec3 at = in->mesh->at[node];
  const double place[3] = {at.x, at.y, at.z};
  for (int k = 0; k < 12; k++)
    sum->value[k] += weight * (double)(&in->stress->stress[node][0][0])[k];
  for (int k = 0; k < 3; k++)
    sum->value[12 + k] += weight * place[k];
  return true;
}

/* Half steps without a node are the middles of 8-node faces: half the mid-edges less a quarter of
 * the corners. */
static RingPlace ring_place(const RingReader *in, int station, int a, int r)
{
  RingPlace sum = {{0}};
  if (ring_node(in, station, a, r, 1, &sum))
    return sum;
  int along = station % 2, around = along ? 0 : 1;
  for (int side = -1; side <= 1; side += 2) {
    ring_node(in, station, a, r + side, 0.5, &sum);
    ring_node(in, station + side * along, a + side * around, r, 0.5, &sum);
    ring_node(in, station + side * along, a + side * around, r + 1, -0.25, &sum);
    ring_node(in, station + side * along, a + side * around, r - 1, -0.25, &sum);
  }
  return sum;
}

static double ring_distance(const RingPlace *a, const RingPlace *b)
{
  return hypot(hypot(b->value[12] - a->value[12], b->value[13] - a->value[13]),
               b->value[14] - a->value[14]);
}

/* Mean of the stress down to MEAN_DEPTH_MM below a surface node: the parabola through it and two
 * half steps under it, the first pair that reaches that depth. */
static void mean_inwards(const RingReader *in, int station, int a, float mean[UNIT_LOAD_N][6])
{
  int out = 2 * in->mesh->pattern.rings;
  RingPlace place[3] = {ring_place(in, station, a, out), {{0}}, {{0}}};
  double depth[3] = {0};
  for (int r = out - 1; r > 0 && depth[2] < MEAN_DEPTH_MM; r--) {
    place[1] = ring_place(in, station, a, r);
    place[2] = ring_place(in, station, a, r - 1);
    depth[1] = ring_distance(&place[0], &place[1]);
    depth[2] = ring_distance(&place[0], &place[2]);
  }
  double w[3] = {1, 0, 0};
  if (depth[1] > 0 && depth[2] > depth[1])
    mean_weights(depth[1], depth[2], fmin(MEAN_DEPTH_MM, depth[2]), w);
  for (int k = 0; k < 12; k++)
    (&mean[0][0])[k] =
        (float)(w[0] * place[0].value[k] + w[1] * place[1].value[k] + w[2] * place[2].value[k]);
}

static void candidate_add(const SolidMesh *mesh, const NodeStress *stress, int arm, int station,
                          int half, int a, Field *field)
{
  int node = grid_node(mesh, arm, station, half, a, 2 * mesh->pattern.rings);
  if (node < 0)
    return;
  Mirror mirror[4];
  size_t n = mirrors_of(mesh, station > 0, !solid_on_line(mesh, node), mirror);
  PeakCandidate own;
  memcpy(own.direct, stress->direct[node], sizeof own.direct);
  memcpy(own.extrapolated, stress->extrapolated[node], sizeof own.extrapolated);
  mean_inwards(&(RingReader){mesh, stress, arm, half}, station, a, own.mean);
  for (size_t k = 0; k < n; k++) {
    PeakCandidate *to = &field->candidate[field->n_candidate++];
    *to = own;
    to->at = mirror_point(mesh, mirror[k], mesh->at[node]);
    to->zone = (uint8_t)zone_of(mesh, arm, (double)mesh->phi[node], (double)mesh->roof_y[node],
                                to->at.z < 0);
    mirror_stress(mirror[k], mesh->pair, to->direct);
    mirror_stress(mirror[k], mesh->pair, to->extrapolated);
    mirror_stress(mirror[k], mesh->pair, to->mean);
  }
}

/* Surface nodes from the neck to the feet; beyond them the loads come in. */
static Fault candidates_make(const SolidMesh *mesh, const NodeStress *stress, Field *field)
{
  int halves = mesh->mirror_z ? 1 : 2, around = 6 * mesh->pattern.core;
  size_t room = 2 * (2 * layers_of(mesh) + 2) * (size_t)(2 * (around + 1));
  field->candidate = malloc(room * sizeof *field->candidate);
  if (!field->candidate)
    return FAULT_MEMORY;
  for (int arm = 0; arm < mesh->arms; arm++)
    for (int station = arm ? 1 : 0; station <= 2 * mesh->arm[arm].layers; station++)
      for (int half = 0; half < halves && mesh->arm[arm].s[station] <= 2; half++)
        for (int a = half ? 1 : 0; a <= around - half; a++)
          candidate_add(mesh, stress, arm, station, half, a, field);
  return FAULT_NONE;
}

Fault solid_picture(const SolidMesh *mesh, NodeStress *stress, bool sheets, Field *field)
{
  for (int kind = 0; kind < SHEET_N && sheets; kind++) {
    SheetPen pen = {mesh, stress, &field->sheet[kind], (SheetKind)kind};
    Fault fault = kind == SHEET_NECK   ? sheet_neck(&pen)
                  : kind == SHEET_SKIN ? sheet_skin(&pen)
                                       : sheet_along(&pen);
    if (fault)
      return fault;
  }
  Fault fault = surface_make(mesh, stress, field);
  return fault ? fault : candidates_make(mesh, stress, field);
}
