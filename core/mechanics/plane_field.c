/* plane_field.c - picture, surface and places of the peak of a plane solution.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, MPa per N mm and per N.  The plane stress of a place stands for the whole thickness there: a
 * point of the real surface takes the stress of its place in the elevation. */
#include "plane_field.h"
#include "plane_element.h"
#include <stdlib.h>
#include <string.h>

#define ROOF_SHARE 0.4     /* of the depth, from the top: the same rule as in the solid          */
#define END_SHARE 0.08     /* of the length: no peak is read that near to the loaded ends        */
#define EDGE_SHARE 0.5     /* connectors without ribs: of the thickness that counts as gum side  */
#define MEAN_DEPTH_MM 0.10 /* inwards */
#define ALONG 4            /* surface cells in each part of a rib's way, per side                */
#define AROUND 8           /* per half of a rib                                                  */

typedef float UnitStress[UNIT_LOAD_N][6];

typedef double (*const Recovery[UNIT_LOAD_N])[3];

/* The factor at a level: the gum side's below the neck, the biting side's above it. */
static double correction_at(const PlaneCorrection *c, double y)
{
  double up = c->high_y > c->low_y ? (y - c->low_y) / (c->high_y - c->low_y) : 0;
  return c->low + fmin(fmax(up, 0), 1) * (c->high - c->low);
}

/* Mean of two recoveries (or one, given twice), corrected, as a tensor. */
static void node_stress(const PlaneSolution *in, Recovery one, Recovery two, int32_t node,
                        UnitStress stress)
{
  static const int to[3] = {0, 1, 3};
  double correction = correction_at(&in->correction, in->mesh->at[node].y);
  memset(stress, 0, sizeof(UnitStress));
  for (int c = 0; c < UNIT_LOAD_N; c++)
    for (int k = 0; k < 3; k++)
      stress[c][to[k]] = (float)(correction * 0.5 * (one[c][node][k] + two[c][node][k]));
}

static void node_unit(const PlaneSolution *in, int32_t node, UnitStress stress)
{
  node_stress(in, in->direct, in->extrapolated, node, stress);
}

static void mix_add(UnitStress to, UnitStress from, double weight)
{
  for (int c = 0; c < UNIT_LOAD_N; c++)
    for (int k = 0; k < 6; k++)
      to[c][k] += (float)(weight * (double)from[c][k]);
}

static Fault place_unit(const PlaneSolution *in, Point at, UnitStress stress)
{
  PlanePlace place;
  Fault fault = plane_mesh_find(in->mesh, at, &place);
  if (fault)
    return fault;
  memset(stress, 0, sizeof(UnitStress));
  for (int i = 0; i < 6; i++) {
    UnitStress node;
    node_unit(in, in->mesh->element[place.element].node[i], node);
    mix_add(stress, node, place.n[i]);
  }
  return FAULT_NONE;
}

/* ---- picture ---- */

Fault plane_sheet_shape(const PlaneMesh *mesh, FieldSheet *sheet)
{
  static const int part[4][3] = {{0, 3, 5}, {3, 1, 4}, {5, 4, 2}, {3, 4, 5}};
  sheet->at = malloc(mesh->n_node * sizeof *sheet->at);
  sheet->stress = calloc(mesh->n_node, sizeof *sheet->stress);
  sheet->corner = malloc(4 * mesh->n_element * sizeof *sheet->corner);
  if (!sheet->at || !sheet->stress || !sheet->corner)
    return FAULT_MEMORY;
  sheet->n_vertex = mesh->n_node;
  memcpy(sheet->at, mesh->at, mesh->n_node * sizeof *sheet->at);
  for (size_t e = 0; e < mesh->n_element; e++)
    for (int p = 0; p < 4; p++) {
      for (int k = 0; k < 3; k++)
        sheet->corner[sheet->n_triangle][k] = (uint32_t)mesh->element[e].node[part[p][k]];
      sheet->n_triangle++;
    }
  return FAULT_NONE;
}

static Fault sheet_fill(const PlaneSolution *in, FieldSheet *sheet)
{
  Fault fault = plane_sheet_shape(in->mesh, sheet);
  for (size_t i = 0; i < in->mesh->n_node && !fault; i++)
    node_unit(in, (int32_t)i, sheet->stress[i]);
  return fault;
}

/* ---- zones of the lower edge ---- */

typedef struct {
  Point top;
  double foot[2]; /* lowest level on either side of the top */
  double x0, x1;  /* ends of the body                       */
} Roof;

static Roof roof_of(const PlaneSolution *in)
{
  Roof roof = {.top = {0, -INFINITY}, .foot = {INFINITY, INFINITY}};
  const PlaneMesh *mesh = in->mesh;
  plane_mesh_reach(mesh, &roof.x0, &roof.x1);
  for (size_t i = 0; i < mesh->n_edge; i++) {
    Point p = mesh->at[mesh->edge[i].node[0]];
    if (in->wall[i] == WALL_LOWER && p.y > roof.top.y)
      roof.top = p;
  }
  for (size_t i = 0; i < mesh->n_edge; i++) {
    Point p = mesh->at[mesh->edge[i].node[0]];
    double *foot = &roof.foot[p.x > roof.top.x];
    if (in->wall[i] == WALL_LOWER)
      *foot = fmin(*foot, p.y);
  }
  return roof;
}

static SurfaceZone lower_zone(const Roof *roof, Point p)
{
  double foot = fmin(roof->foot[p.x > roof->top.x], roof->top.y);
  return p.y >= roof->top.y - ROOF_SHARE * (roof->top.y - foot) ? SURFACE_ROOF : SURFACE_LEGS;
}

/* ---- surface ---- */

static Fault surface_flat(const PlaneSolution *in, const Roof *roof, Field *field)
{
  const PlaneMesh *mesh = in->mesh;
  const PlaneMaterial *m = in->material;
  size_t room = EDGE_GAUSS * mesh->n_edge + 2 * TRIANGLE_GAUSS * mesh->n_element;
  field->surface = malloc(room * sizeof *field->surface);
  if (!field->surface)
    return FAULT_MEMORY;
  double share = in->correction.low == 1 ? 1 : EDGE_SHARE;
  for (size_t i = 0; i < mesh->n_edge; i++) {
    if (in->wall[i] != WALL_LOWER && in->wall[i] != WALL_UPPER)
      continue;
    for (int g = 0; g < EDGE_GAUSS; g++) {
      EdgePoint p = edge_point(mesh, &mesh->edge[i], g);
      SurfacePoint *to = &field->surface[field->n_surface++];
      *to = (SurfacePoint){.at = {p.at.x, p.at.y, 0},
                           .area = (float)(share * p.length * m->thickness(p.at, m->data))};
      to->zone = (uint8_t)(in->wall[i] == WALL_UPPER ? SURFACE_GROOVE : lower_zone(roof, p.at));
      for (int k = 0; k < 3; k++) {
        UnitStress node;
        node_unit(in, mesh->edge[i].node[k], node);
        mix_add(to->stress, node, p.n[k]);
      }
    }
  }
  for (size_t e = 0; e < mesh->n_element; e++)
    for (int g = 0; g < TRIANGLE_GAUSS; g++) {
      TrianglePoint p = triangle_point(mesh, &mesh->element[e], g);
      UnitStress stress;
      Fault fault = place_unit(in, p.at, stress);
      if (fault)
        return fault;
      for (int side = 0; side < 2; side++) {
        SurfacePoint *to = &field->surface[field->n_surface++];
        double half = m->thickness(p.at, m->data) / 2;
        *to = (SurfacePoint){.at = {p.at.x, p.at.y, side ? -half : half}, .area = (float)p.area};
        to->zone = side ? SURFACE_LINGUAL : SURFACE_BUCCAL;
        memcpy(to->stress, stress, sizeof stress);
      }
    }
  return FAULT_NONE;
}

/* Corner of a surface cell: angle runs from the gum side (0) to the biting side (pi). */
static Vec3 surface_corner(const Loft *loft, const Rib *rib, double angle, bool lingual)
{
  double c = cos(angle), s = fabs(sin(angle)),
         reach = rib_reach(rib, c, s, loft_section_ratio(loft, angle, lingual));
  return loft_place(rib, loft_y0(loft), -reach * c, lingual ? -reach * s : reach * s, false);
}

/* Two triangles of the cell's corners. */
static double cell_area(const Vec3 p[4])
{
  double sum = 0;
  for (int i = 1; i < 3; i++) {
    Vec3 a = {p[i].x - p[0].x, p[i].y - p[0].y, p[i].z - p[0].z},
         b = {p[i + 1].x - p[0].x, p[i + 1].y - p[0].y, p[i + 1].z - p[0].z};
    Vec3 n = {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
    sum += 0.5 * sqrt(n.x * n.x + n.y * n.y + n.z * n.z);
  }
  return sum;
}

#define GUM_ANGLE (acos(-1.0) / 4) /* the gum side ends where the flank begins */

static Fault surface_ribs(const PlaneSolution *in, const Roof *roof, Field *field)
{
  const double half_turn = acos(-1.0);
  const Loft *loft = in->loft;
  field->surface = malloc((size_t)(2 * 2 * 3 * ALONG * 2 * AROUND) * sizeof *field->surface);
  if (!field->surface)
    return FAULT_MEMORY;
  for (int arm = -1; arm <= 1; arm += 2)
    for (int i = 0; i < 3 * ALONG; i++) {
      Rib a = loft_rib(loft, arm, (double)i / ALONG),
          b = loft_rib(loft, arm, (double)(i + 1) / ALONG),
          middle = loft_rib(loft, arm, (i + 0.5) / ALONG);
      for (int k = 0; k < 2 * 2 * AROUND; k++) {
        bool lingual = k >= 2 * AROUND;
        double from = half_turn * (k % (2 * AROUND)) / (2 * AROUND),
               step = half_turn / (2 * AROUND);
        Vec3 corner[4] = {surface_corner(loft, &a, from, lingual),
                          surface_corner(loft, &b, from, lingual),
                          surface_corner(loft, &b, from + step, lingual),
                          surface_corner(loft, &a, from + step, lingual)};
        Vec3 at = surface_corner(loft, &middle, from + step / 2, lingual);
        SurfacePoint *to = &field->surface[field->n_surface++];
        *to = (SurfacePoint){.at = at, .area = (float)cell_area(corner)};
        double angle = from + step / 2;
        to->zone = (uint8_t)(angle < GUM_ANGLE               ? lower_zone(roof, middle.gingival)
                             : angle > half_turn - GUM_ANGLE ? SURFACE_GROOVE
                             : lingual                       ? SURFACE_LINGUAL
                                                             : SURFACE_BUCCAL);
        Fault fault = place_unit(in, point(at.x, at.y), to->stress);
        if (fault)
          return fault;
      }
    }
  return FAULT_NONE;
}

/* ---- places of the peak ---- */

/* Simpson's rule over three depths. */
static Fault mean_inwards(const PlaneSolution *in, int32_t node, Point inward, UnitStress mean)
{
  Point at = in->mesh->at[node];
  UnitStress wall, half, full;
  node_unit(in, node, wall);
  Fault fault = place_unit(in, point_add(at, point_scale(inward, MEAN_DEPTH_MM / 2)), half);
  if (!fault)
    fault = place_unit(in, point_add(at, point_scale(inward, MEAN_DEPTH_MM)), full);
  if (fault)
    return fault;
  memset(mean, 0, sizeof(UnitStress));
  mix_add(mean, wall, 1.0 / 6);
  mix_add(mean, half, 4.0 / 6);
  mix_add(mean, full, 1.0 / 6);
  return FAULT_NONE;
}

static Fault candidates_fill(const PlaneSolution *in, const Roof *roof, Field *field)
{
  const PlaneMesh *mesh = in->mesh;
  field->candidate = malloc(2 * mesh->n_edge * sizeof *field->candidate);
  if (!field->candidate)
    return FAULT_MEMORY;
  double end = END_SHARE * (roof->x1 - roof->x0);
  for (size_t i = 0; i < mesh->n_edge; i++) {
    const PlaneEdge *edge = &mesh->edge[i];
    if (in->wall[i] != WALL_LOWER && in->wall[i] != WALL_UPPER)
      continue;
    Point along = point_sub(mesh->at[edge->node[1]], mesh->at[edge->node[0]]);
    Point inward = point_scale(point(-along.y, along.x), 1 / point_length(along));
    for (int k = 0; k < 2; k++) {
      int32_t node = edge->node[k ? 2 : 0];
      Point at = mesh->at[node];
      if (at.x < roof->x0 + end || at.x > roof->x1 - end)
        continue;
      PeakCandidate *to = &field->candidate[field->n_candidate++];
      to->at = (Vec3){at.x, at.y, 0};
      to->zone = (uint8_t)(in->wall[i] == WALL_UPPER ? SURFACE_GROOVE : lower_zone(roof, at));
      node_stress(in, in->direct, in->direct, node, to->direct);
      node_stress(in, in->extrapolated, in->extrapolated, node, to->extrapolated);
      Fault fault = mean_inwards(in, node, inward, to->mean);
      if (fault)
        return fault;
    }
  }
  return field->n_candidate ? FAULT_NONE : FAULT_DEGENERATE;
}

Fault plane_field_fill(const PlaneSolution *solution, Field *field)
{
  Roof roof = roof_of(solution);
  Fault fault = sheet_fill(solution, &field->sheet[SHEET_ELEVATION]);
  if (!fault)
    fault = solution->loft ? surface_ribs(solution, &roof, field)
                           : surface_flat(solution, &roof, field);
  return fault ? fault : candidates_fill(solution, &roof, field);
}
