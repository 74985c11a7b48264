/* plane.c - workspace, loads, solution of a plane body; bare silhouettes.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa.  M > 0 stretches the lower (gum) side; V = dM/dx, so an end at x carries
 * M + V (x - neck). */
#include "base/clock.h"
#include "base/tolerance.h"
#include "plane_body.h"
#include "plane_element.h"
#include <stdlib.h>
#include <string.h>

Fault plane_work_new(PlaneWork **work)
{
  PlaneWork *made = calloc(1, sizeof *made);
  if (!made)
    return FAULT_MEMORY;
  Fault fault = plane_factor_new(&made->factor);
  if (fault)
    free(made);
  else
    *work = made;
  return fault;
}

static void room_clear(PlaneWork *work)
{
  free(work->held);
  free(work->wall);
  free(work->load);
  free(work->displacement);
  for (int i = 0; i < 2 * UNIT_LOAD_N; i++)
    free(work->stress[i]);
}

void plane_work_free(PlaneWork *work)
{
  if (!work)
    return;
  plane_mesh_clear(&work->mesh);
  plane_factor_free(work->factor);
  room_clear(work);
  free(work);
}

static Fault room_make(PlaneWork *work)
{
  size_t n = work->mesh.n_node;
  if (n > work->room) {
    room_clear(work);
    work->room = 0;
    work->held = malloc(2 * n);
    work->wall = malloc(n);
    work->load = malloc(UNIT_LOAD_N * 2 * n * sizeof(double));
    work->displacement = malloc(UNIT_LOAD_N * 2 * n * sizeof(double));
    bool all = work->held && work->wall && work->load && work->displacement;
    for (int i = 0; i < 2 * UNIT_LOAD_N; i++) {
      work->stress[i] = malloc(n * sizeof *work->stress[i]);
      all = all && work->stress[i];
    }
    if (!all)
      return FAULT_MEMORY;
    work->room = n;
  }
  memset(work->held, 0, 2 * n);
  memset(work->load, 0, UNIT_LOAD_N * 2 * n * sizeof(double));
  return FAULT_NONE;
}

/* ---- loads ---- */

typedef struct {
  double area, y, second; /* of an end face: integral of t, its centroid, second moment */
} End;

static End end_of(const PlaneWork *work, const PlaneMaterial *m, Wall wall)
{
  const PlaneMesh *mesh = &work->mesh;
  End end = {0, 0, 0};
  for (int pass = 0; pass < 2; pass++) {
    for (size_t i = 0; i < mesh->n_edge; i++)
      for (int g = 0; g < EDGE_GAUSS && work->wall[i] == wall; g++) {
        EdgePoint p = edge_point(mesh, &mesh->edge[i], g);
        double dA = p.length * m->thickness(p.at, m->data);
        if (pass == 0)
          end.area += dA, end.y += dA * p.at.y;
        else
          end.second += dA * (p.at.y - end.y) * (p.at.y - end.y);
      }
    if (pass == 0)
      end.y /= end.area;
  }
  return end;
}

typedef struct {
  End end;
  double moment, shear; /* MPa-free: N mm and N of the unit load there */
} EndLoad;

static Point end_traction(Point at, Point outward, const void *data)
{
  const EndLoad *l = data;
  return point(-outward.x * l->moment * (at.y - l->end.y) / l->end.second,
               -outward.x * l->shear / l->end.area);
}

static void loads_make(PlaneWork *work, const PlaneMaterial *m, double neck_x)
{
  const PlaneMesh *mesh = &work->mesh;
  for (int side = 0; side < 2; side++) {
    Wall wall = side ? WALL_RIGHT : WALL_LEFT;
    EndLoad load = {.end = end_of(work, m, wall)};
    for (size_t i = 0; i < mesh->n_edge; i++) {
      if (work->wall[i] != wall)
        continue;
      double arm = mesh->at[mesh->edge[i].node[0]].x - neck_x;
      for (int c = 0; c < UNIT_LOAD_N; c++) {
        load.moment = c == UNIT_BEND ? 1 : arm;
        load.shear = c == UNIT_BEND ? 0 : 1;
        plane_edge_load(mesh, &mesh->edge[i], m, end_traction, &load,
                        &work->load[(size_t)c * 2 * mesh->n_node]);
      }
    }
  }
}

/* Three pins, which carry nothing: both ways at a node of the left end, upright at the right. */
static void pins_set(PlaneWork *work)
{
  const PlaneMesh *mesh = &work->mesh;
  int32_t left = -1, right = -1;
  for (size_t i = 0; i < mesh->n_edge; i++) {
    if (work->wall[i] == WALL_LEFT && left < 0)
      left = mesh->edge[i].node[0];
    if (work->wall[i] == WALL_RIGHT && right < 0)
      right = mesh->edge[i].node[0];
  }
  work->held[2 * left] = work->held[2 * left + 1] = work->held[2 * right + 1] = 1;
}

/* ---- the solution ---- */

static double first_of(const double s[3])
{
  return (s[0] + s[1]) / 2 + hypot((s[0] - s[1]) / 2, s[2]);
}

/* Difference of the recoveries where bending pulls most, percent: the error of their mean stays
 * below 1.3 times it (core/SOURCES.md "plane"). */
#define ERROR_SHARE 1.5
#define ERROR_LEAST 0.1

static double recovery_percent(const PlaneWork *work)
{
  double best = 0, percent = 0;
  for (size_t i = 0; i < work->mesh.n_edge; i++) {
    if (work->wall[i] == WALL_LEFT || work->wall[i] == WALL_RIGHT)
      continue;
    int32_t node = work->mesh.edge[i].node[0];
    double a = first_of(work->stress[UNIT_BEND][node]),
           b = first_of(work->stress[UNIT_LOAD_N + UNIT_BEND][node]);
    if ((a + b) / 2 > best) {
      best = (a + b) / 2;
      percent = 100 * fabs(a - b) / best;
    }
  }
  return percent;
}

Fault plane_settings_check(const PlaneSettings *s)
{
  if (!isfinite(s->young_mpa) || !isfinite(s->poisson) || !isfinite(s->fineness))
    return FAULT_NOT_FINITE;
  bool right = s->young_mpa > 0 && s->young_mpa < 1e9 && s->poisson >= 0 && s->poisson <= 0.49 &&
               s->fineness >= 2 && s->fineness <= 40;
  return right ? FAULT_NONE : FAULT_RANGE;
}

/* Mesh, walls and readings of the closed outline. */
Fault plane_body_make(PlaneWork *work, const Outline *closed, double fineness,
                      PlaneReading *reading, Point *where)
{
  Fault fault = plane_mesh_make(&work->mesh, closed, fineness, where);
  if (!fault)
    fault = room_make(work);
  if (!fault)
    fault = plane_walls_name(work, where);
  if (fault)
    return fault;
  plane_reading_make(work, closed, reading);
  return FAULT_NONE;
}

/* Solves both unit loads and fills a new field. */
Fault plane_body_solve(PlaneWork *work, const PlaneMaterial *m, double neck_x, const Loft *loft,
                       PlaneCorrection correction, Field **field, PlaneReading *reading)
{
  size_t n = work->mesh.n_node;
  pins_set(work);
  loads_make(work, m, neck_x);
  Fault fault = plane_factor_make(work->factor, &work->mesh, m, work->held);
  if (!fault)
    fault = plane_factor_solve(work->factor, UNIT_LOAD_N, work->load, work->displacement);
  for (size_t c = 0; c < UNIT_LOAD_N && !fault; c++)
    fault = plane_stress(&work->mesh, m, &work->displacement[c * 2 * n], work->stress[c],
                         work->stress[UNIT_LOAD_N + c]);
  if (fault)
    return fault;
  PlaneSolution solution = {.mesh = &work->mesh,
                            .material = m,
                            .wall = work->wall,
                            .loft = loft,
                            .correction = correction};
  for (int c = 0; c < UNIT_LOAD_N; c++) {
    solution.direct[c] = work->stress[c];
    solution.extrapolated[c] = work->stress[UNIT_LOAD_N + c];
  }
  Field *made = field_new();
  if (!made)
    return FAULT_MEMORY;
  fault = plane_field_fill(&solution, made);
  if (fault) {
    field_unref(made);
    return fault;
  }
  made->answer = ANSWER_PLANE;
  made->unknowns = reading->unknowns;
  made->correction = correction.low;
  made->recovery_percent = recovery_percent(work);
  bool sharp = reading->roof_radius < MIN_ROOF_RADIUS_MM; /* grows without limit as it is refined */
  reading->error_percent = sharp ? 100 : fmax(ERROR_LEAST, ERROR_SHARE * made->recovery_percent);
  made->band_percent = reading->error_percent;
  *field = made;
  return FAULT_NONE;
}

static double constant_thickness(Point at, const void *data)
{
  (void)at;
  return *(const double *)data;
}

Fault plane_silhouette(PlaneWork *work, const Outline *silhouette, double thickness,
                       const PlaneSettings *settings, Field **field, PlaneReading *reading,
                       Point *where)
{
  double start = seconds_now();
  Fault fault = plane_settings_check(settings);
  if (!fault && !(thickness > 0 && thickness < MAX_SIZE_MM))
    fault = FAULT_RANGE;
  PlaneReading read = {0};
  if (!fault)
    fault = plane_body_make(work, silhouette, settings->fineness, &read, where);
  if (fault)
    return fault;
  read.nominal_per_n_mm = 6 / (thickness * read.neck_height * read.neck_height);
  PlaneMaterial m = {settings->young_mpa, settings->poisson, constant_thickness, &thickness};
  fault =
      plane_body_solve(work, &m, read.neck_x, NULL, (PlaneCorrection){1, 1, 0, 0}, field, &read);
  if (fault)
    return fault;
  (*field)->seconds = seconds_now() - start;
  *reading = read;
  return FAULT_NONE;
}
