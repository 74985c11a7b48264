/* plane_size.c - sizes along the outline from its turning and its gaps; its vertices.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  The outline is sampled densely, each sample gets a size, the sizes are made gradual, and
 * vertices are then spread between corners in equal shares of the integral of 1/size. */
#include "plane_size.h"
#include <stdlib.h>

#define GROWTH 0.55      /* of size, mm a mm inward                                        */
#define WALL_GROWTH 0.40 /* the same from sample to sample: walls lead                     */
#define GAP_SHARE 3.0    /* elements from wall to wall                                     */
#define CONVEX_SHARE 2.2 /* elements a radius where the outline turns outward              */
#define CORNER_RAD 0.15  /* a knot that turns more is a corner and gets a vertex           */
#define SHARPEST_MM 0.02 /* radius taken at a hollow corner                                */
#define SAMPLE_TURN 0.22 /* rad between samples                                            */
#define MOST_WALL 20000

typedef struct WallSample {
  Point at, inward;
  double t, size;
  bool corner;
} WallSample;

static double turn_between(Point a, Point b)
{
  return atan2(point_cross(a, b), point_dot(a, b));
}

static Fault sample_add(PlaneMesh *mesh, WallSample sample)
{
  if (mesh->n_sample == mesh->room_sample) {
    size_t room = mesh->room_sample ? 2 * mesh->room_sample : 512;
    WallSample *more = realloc(mesh->sample, room * sizeof *more);
    if (!more)
      return FAULT_MEMORY;
    mesh->sample = more;
    mesh->room_sample = room;
  }
  mesh->sample[mesh->n_sample++] = sample;
  return FAULT_NONE;
}

/* Direction of a piece at its start or end; the control points may coincide. */
static Point piece_direction(const Point c[4], bool at_end)
{
  for (int i = 1; i < 4; i++) {
    Point d = at_end ? point_sub(c[3], c[3 - i]) : point_sub(c[i], c[0]);
    if (point_length(d) > 1e-12)
      return d;
  }
  return point(1, 0);
}

/* Size that the turning asks for at t. */
static double turning_size(const Outline *o, double t, double fineness, double most)
{
  double k = outline_curvature(o, t);
  if (!isfinite(k) || fabs(k) < 1e-9)
    return most;
  double radius = fmax(1 / fabs(k), SHARPEST_MM);
  return fmin(most, radius / (k < 0 ? fineness : fmin(CONVEX_SHARE, fineness)));
}

static Fault samples_make(PlaneMesh *mesh, const Outline *o, double fineness, double most)
{
  size_t pieces = outline_pieces(o);
  mesh->n_sample = 0;
  for (size_t i = 0; i < pieces; i++) {
    Point c[4], before[4];
    outline_piece(o, i, c);
    outline_piece(o, (i + pieces - 1) % pieces, before);
    double corner = turn_between(piece_direction(before, true), piece_direction(c, false));
    double turn = fabs(turn_between(point_sub(c[1], c[0]), point_sub(c[2], c[1]))) +
                  fabs(turn_between(point_sub(c[2], c[1]), point_sub(c[3], c[2])));
    double length =
        point_distance(c[0], c[1]) + point_distance(c[1], c[2]) + point_distance(c[2], c[3]);
    int n = (int)fmin(200, 1 + ceil(turn / SAMPLE_TURN) + ceil(length / most));
    for (int k = 0; k < n; k++) {
      double t = (double)i + (double)k / n;
      Point d;
      outline_derivatives(o, t, &d, NULL);
      if (!(point_length(d) > 0))
        d = piece_direction(c, false);
      double length_d = point_length(d);
      WallSample s = {outline_at(o, t), point(-d.y / length_d, d.x / length_d), t, most, false};
      /* just beside the knots: curvature jumps there */
      s.size = turning_size(o, (double)i + fmax(1e-6, (double)k / n), fineness, most);
      if (k == 0) {
        double last = (double)((i + pieces - 1) % pieces) + 1 - 1e-6;
        s.size = fmin(s.size, turning_size(o, last, fineness, most));
        s.corner = fabs(corner) > CORNER_RAD;
        if (s.corner && corner < 0)
          s.size = fmin(s.size, SHARPEST_MM / fineness * 2);
      }
      Fault fault = sample_add(mesh, s);
      if (fault)
        return fault;
    }
  }
  return FAULT_NONE;
}

/* Walls near each other across the material, then growth from sample to sample. */
static void sizes_settle(PlaneMesh *mesh)
{
  size_t n = mesh->n_sample;
  WallSample *sample = mesh->sample;
  for (size_t i = 0; i < n; i++)
    for (size_t k = 0; k < n; k++) {
      Point v = point_sub(sample[k].at, sample[i].at);
      double reach = sample[i].size * GAP_SHARE, square = point_dot(v, v);
      if (square >= reach * reach || !(square > 0))
        continue;
      double gap = sqrt(square);
      if (point_dot(v, sample[i].inward) > 0.7 * gap &&
          point_dot(sample[k].inward, sample[i].inward) < -0.3)
        sample[i].size = gap / GAP_SHARE;
    }
  for (size_t i = 0; i < n; i++)
    for (size_t k = 0; k < n; k++) {
      double room = (sample[i].size - sample[k].size) / WALL_GROWTH;
      if (room <= 0)
        continue;
      Point v = point_sub(sample[k].at, sample[i].at);
      double square = point_dot(v, v);
      if (square < room * room)
        sample[i].size = sample[k].size + WALL_GROWTH * sqrt(square);
    }
}

static Fault wall_add(PlaneMesh *mesh, const Outline *o, double t, double size)
{
  if (mesh->n_wall == mesh->room_wall) {
    size_t room = mesh->room_wall ? 2 * mesh->room_wall : 256;
    if (room > MOST_WALL)
      return FAULT_MESH;
    Point *wall = realloc(mesh->wall, room * sizeof *wall);
    if (wall)
      mesh->wall = wall;
    double *sizes = realloc(mesh->wall_size, room * sizeof *sizes);
    if (sizes)
      mesh->wall_size = sizes;
    double *places = realloc(mesh->wall_t, room * sizeof *places);
    if (places)
      mesh->wall_t = places;
    if (!wall || !sizes || !places)
      return FAULT_MEMORY;
    mesh->room_wall = room;
  }
  mesh->wall[mesh->n_wall] = outline_at(o, t);
  mesh->wall_size[mesh->n_wall] = size;
  mesh->wall_t[mesh->n_wall++] = t;
  return FAULT_NONE;
}

/* Elements that fit between two samples: the integral of 1/size, which is linear between them. */
static double share_of(const WallSample *a, const WallSample *b)
{
  double length = point_distance(a->at, b->at), mean = (a->size + b->size) / 2;
  double slope = b->size - a->size;
  return fabs(slope) < 1e-6 * mean ? length / mean : length * log(b->size / a->size) / slope;
}

/* Where, in [0, 1], the part `at` of that integral is reached. */
static double share_place(const WallSample *a, const WallSample *b, double at)
{
  double mean = (a->size + b->size) / 2, slope = b->size - a->size;
  if (fabs(slope) < 1e-6 * mean)
    return at;
  return a->size * expm1(at * log(b->size / a->size)) / slope;
}

/* Vertices on the stretch of samples from..to (to may exceed n: it wraps), the first included. */
static Fault stretch_spread(PlaneMesh *mesh, const Outline *o, size_t from, size_t to)
{
  const WallSample *sample = mesh->sample;
  size_t n = mesh->n_sample;
  double pieces = (double)outline_pieces(o), total = 0;
  for (size_t i = from; i < to; i++)
    total += share_of(&sample[i % n], &sample[(i + 1) % n]);
  double least = to - from >= n ? 3 : 1;
  double count = fmax(least, ceil(total - 0.02)), step = total / count, next = 0, sum = 0;
  if (!(count < MOST_WALL))
    return FAULT_MESH;
  int placed = 0;
  for (size_t i = from; i < to; i++) {
    const WallSample *a = &sample[i % n], *b = &sample[(i + 1) % n];
    double share = share_of(a, b);
    while (placed < (int)count && next <= sum + share) {
      double f = share_place(a, b, share > 0 ? (next - sum) / share : 0);
      f = fmin(1, fmax(0, f));
      double t1 = b->t > a->t ? b->t : b->t + pieces, t = a->t + f * (t1 - a->t);
      double size = a->size + f * (b->size - a->size);
      Fault fault = wall_add(mesh, o, outline_wrap(o, t), size);
      if (fault)
        return fault;
      next = step * ++placed;
    }
    sum += share;
  }
  return FAULT_NONE;
}

Fault plane_walls_make(PlaneMesh *mesh, const Outline *closed, double fineness)
{
  if (!closed->closed || !(fineness >= 2 && fineness <= 40))
    return FAULT_RANGE;
  Fault fault = outline_check(closed);
  if (fault)
    return fault;
  double area = outline_area(closed);
  if (!(area > 0))
    return FAULT_DEGENERATE;
  double most = sqrt(area) / 5 * 6 / fmax(fineness, 6);
  fault = samples_make(mesh, closed, fineness, most);
  if (fault)
    return fault;
  sizes_settle(mesh);
  mesh->n_wall = 0;
  size_t n = mesh->n_sample, first = 0;
  while (first < n && !mesh->sample[first].corner)
    first++;
  if (first == n) /* no corner at all: one round stretch */
    return stretch_spread(mesh, closed, 0, n);
  for (size_t i = first; i < first + n && !fault;) {
    size_t end = i + 1;
    while (!mesh->sample[end % n].corner)
      end++;
    fault = stretch_spread(mesh, closed, i, end);
    i = end;
  }
  return fault;
}

double plane_size_at(Point at, const void *data)
{
  const PlaneMesh *mesh = data;
  double best = INFINITY;
  for (size_t i = 0; i < mesh->n_wall; i++) {
    double room = (best - mesh->wall_size[i]) / GROWTH; /* within which this vertex matters */
    double x = mesh->wall[i].x - at.x, y = mesh->wall[i].y - at.y, square = x * x + y * y;
    if (room > 0 && square < room * room)
      best = mesh->wall_size[i] + GROWTH * sqrt(square);
  }
  return best;
}
