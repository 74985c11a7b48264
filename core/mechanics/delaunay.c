/* delaunay.c - insertion, flips and forced edges on the integer grid.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "delaunay.h"
#include <stdlib.h>

#define GRID_HALF (1 << 24) /* the polygon spans 2^25 steps                      */
#define HULL_REACH (1 << 27)
#define MOST_POINTS 100000

void delaunay_clear(Delaunay *mesh)
{
  free(mesh->at);
  free(mesh->grid);
  free(mesh->touching);
  free(mesh->triangle);
  free(mesh->stack);
  *mesh = (Delaunay){0};
}

/* ---- exact tests: |coordinate| <= 2^27, differences <= 2^28 ---- */

/* Sign of the area of a, b, c. */
static int turn_of(const Delaunay *mesh, int32_t a, int32_t b, int32_t c)
{
  const int32_t *p = mesh->grid[a], *q = mesh->grid[b], *r = mesh->grid[c];
  int64_t cross = ((int64_t)q[0] - p[0]) * ((int64_t)r[1] - p[1]) -
                  ((int64_t)q[1] - p[1]) * ((int64_t)r[0] - p[0]);
  return (cross > 0) - (cross < 0);
}

/* d inside the circle through the counter-clockwise a, b, c. */
static bool in_circle(const Delaunay *mesh, int32_t a, int32_t b, int32_t c, int32_t d)
{
  const int32_t *o = mesh->grid[d], corner[3] = {a, b, c};
  int64_t x[3], y[3], square[3];
  for (int i = 0; i < 3; i++) {
    x[i] = (int64_t)mesh->grid[corner[i]][0] - o[0];
    y[i] = (int64_t)mesh->grid[corner[i]][1] - o[1];
    square[i] = x[i] * x[i] + y[i] * y[i];
  }
  __extension__ typedef __int128 Wide;
  Wide sum = (Wide)square[0] * (x[1] * y[2] - x[2] * y[1]) +
             (Wide)square[1] * (x[2] * y[0] - x[0] * y[2]) +
             (Wide)square[2] * (x[0] * y[1] - x[1] * y[0]);
  return sum > 0;
}

/* ---- storage ---- */

static bool grow(void **array, size_t size, size_t room)
{
  void *more = realloc(*array, size * room);
  if (more)
    *array = more;
  return more != NULL;
}

Fault delaunay_vertex_add(Delaunay *mesh, Point at, int32_t *vertex)
{
  if (mesh->n_vertex == mesh->room_vertex) {
    size_t room = mesh->room_vertex ? 2 * mesh->room_vertex : 1024;
    if (!grow((void **)&mesh->at, sizeof *mesh->at, room) ||
        !grow((void **)&mesh->grid, sizeof *mesh->grid, room) ||
        !grow((void **)&mesh->touching, sizeof *mesh->touching, room))
      return FAULT_MEMORY;
    mesh->room_vertex = room;
  }
  int32_t i = (int32_t)mesh->n_vertex++;
  double x = (at.x - mesh->origin.x) / mesh->step, y = (at.y - mesh->origin.y) / mesh->step;
  if (!(fabs(x) <= HULL_REACH && fabs(y) <= HULL_REACH))
    return FAULT_NOT_FINITE;
  mesh->at[i] = at;
  mesh->grid[i][0] = (int32_t)lrint(x);
  mesh->grid[i][1] = (int32_t)lrint(y);
  mesh->touching[i] = -1;
  *vertex = i;
  return FAULT_NONE;
}

static Fault triangles_add(Delaunay *mesh, size_t n, int32_t *first)
{
  if (mesh->n_triangle + n > mesh->room_triangle) {
    size_t room = mesh->room_triangle ? 2 * mesh->room_triangle : 2048;
    if (!grow((void **)&mesh->triangle, sizeof *mesh->triangle, room))
      return FAULT_MEMORY;
    mesh->room_triangle = room;
  }
  *first = (int32_t)mesh->n_triangle;
  mesh->n_triangle += n;
  return FAULT_NONE;
}

static Fault stack_push(Delaunay *mesh, size_t *depth, int32_t triangle)
{
  if (*depth == mesh->room_stack) {
    size_t room = mesh->room_stack ? 2 * mesh->room_stack : 256;
    if (!grow((void **)&mesh->stack, sizeof *mesh->stack, room))
      return FAULT_MEMORY;
    mesh->room_stack = room;
  }
  mesh->stack[(*depth)++] = triangle;
  return FAULT_NONE;
}

/* ---- flips ---- */

static int corner_of(const Triangle *t, int32_t vertex)
{
  return t->v[0] == vertex ? 0 : t->v[1] == vertex ? 1 : 2;
}

static int edge_to(const Triangle *t, int32_t neighbour)
{
  return t->n[0] == neighbour ? 0 : t->n[1] == neighbour ? 1 : 2;
}

static void triangle_set(Delaunay *mesh, int32_t t, const int32_t v[3], const int32_t n[3],
                         const bool fixed[3], bool inside)
{
  Triangle *to = &mesh->triangle[t];
  for (int i = 0; i < 3; i++) {
    to->v[i] = v[i], to->n[i] = n[i], to->fixed[i] = fixed[i];
    mesh->touching[v[i]] = t;
  }
  to->inside = inside;
  to->settled = false;
}

static void neighbour_swap(Delaunay *mesh, int32_t of, int32_t from, int32_t to)
{
  if (of >= 0)
    mesh->triangle[of].n[edge_to(&mesh->triangle[of], from)] = to;
}

/* Turns the edge opposite corner i of t: (a b c)(d c b) become (a b d)(a d c). */
static void flip(Delaunay *mesh, int32_t t, int i)
{
  Triangle one = mesh->triangle[t];
  int32_t u = one.n[i];
  Triangle two = mesh->triangle[u];
  int j = edge_to(&two, t), i1 = (i + 1) % 3, i2 = (i + 2) % 3, j1 = (j + 1) % 3, j2 = (j + 2) % 3;
  int32_t a = one.v[i], b = one.v[i1], c = one.v[i2], d = two.v[j];
  int32_t na = one.n[i1], nb = one.n[i2], nc = two.n[j1], nd = two.n[j2];
  triangle_set(mesh, t, (int32_t[]){a, b, d}, (int32_t[]){nc, u, nb},
               (bool[]){two.fixed[j1], false, one.fixed[i2]}, one.inside);
  triangle_set(mesh, u, (int32_t[]){a, d, c}, (int32_t[]){nd, na, t},
               (bool[]){two.fixed[j2], one.fixed[i1], false}, one.inside);
  neighbour_swap(mesh, nc, u, t);
  neighbour_swap(mesh, na, t, u);
}

/* Flips around a new vertex until its surroundings are Delaunay; the stack holds its triangles. */
static Fault legalise(Delaunay *mesh, int32_t vertex, size_t depth)
{
  while (depth > 0) {
    int32_t t = mesh->stack[--depth];
    int i = corner_of(&mesh->triangle[t], vertex);
    int32_t u = mesh->triangle[t].n[i];
    if (u < 0 || mesh->triangle[t].fixed[i])
      continue;
    const Triangle *other = &mesh->triangle[u], *own = &mesh->triangle[t];
    if (!in_circle(mesh, own->v[0], own->v[1], own->v[2], other->v[edge_to(other, t)]))
      continue;
    flip(mesh, t, i);
    Fault fault = stack_push(mesh, &depth, t);
    if (!fault)
      fault = stack_push(mesh, &depth, u);
    if (fault)
      return fault;
  }
  return FAULT_NONE;
}

/* ---- insertion ---- */

int32_t delaunay_locate(Delaunay *mesh, int32_t vertex)
{
  int32_t t = mesh->last, from = -1;
  for (size_t step = 0; step < mesh->n_triangle; step++) {
    const Triangle *at = &mesh->triangle[t];
    int32_t next = -1;
    for (int i = 0; i < 3 && next < 0; i++)
      if (at->n[i] >= 0 && at->n[i] != from &&
          turn_of(mesh, at->v[(i + 1) % 3], at->v[(i + 2) % 3], vertex) < 0)
        next = at->n[i];
    if (next < 0) { /* perhaps back where it came from */
      for (int i = 0; i < 3 && next < 0; i++)
        if (at->n[i] >= 0 && at->n[i] == from &&
            turn_of(mesh, at->v[(i + 1) % 3], at->v[(i + 2) % 3], vertex) < 0)
          next = at->n[i];
      if (next < 0) {
        mesh->last = t;
        return t;
      }
    }
    from = t;
    t = next;
  }
  for (size_t k = 0; k < mesh->n_triangle; k++) { /* forced edges may lead a walk in circles */
    const int32_t *v = mesh->triangle[k].v;
    if (turn_of(mesh, v[0], v[1], vertex) >= 0 && turn_of(mesh, v[1], v[2], vertex) >= 0 &&
        turn_of(mesh, v[2], v[0], vertex) >= 0)
      return mesh->last = (int32_t)k;
  }
  return -1;
}

static Fault split_triangle(Delaunay *mesh, int32_t vertex, int32_t t)
{
  int32_t first;
  Fault fault = triangles_add(mesh, 2, &first);
  if (fault)
    return fault;
  Triangle old = mesh->triangle[t];
  int32_t part[3] = {t, first, first + 1};
  size_t depth = 0;
  for (int i = 0; i < 3 && !fault; i++) {
    int32_t b = old.v[(i + 1) % 3], c = old.v[(i + 2) % 3];
    triangle_set(mesh, part[i], (int32_t[]){vertex, b, c},
                 (int32_t[]){old.n[i], part[(i + 1) % 3], part[(i + 2) % 3]},
                 (bool[]){old.fixed[i], false, false}, old.inside);
    neighbour_swap(mesh, old.n[i], t, part[i]);
    fault = stack_push(mesh, &depth, part[i]);
  }
  return fault ? fault : legalise(mesh, vertex, depth);
}

/* The vertex lies on the edge opposite corner i of t, which is not forced. */
static Fault split_edge(Delaunay *mesh, int32_t vertex, int32_t t, int i)
{
  int32_t first, u = mesh->triangle[t].n[i];
  Fault fault = u < 0 ? FAULT_MESH : triangles_add(mesh, 2, &first);
  if (fault)
    return fault;
  Triangle one = mesh->triangle[t], two = mesh->triangle[u];
  int j = edge_to(&two, t), i1 = (i + 1) % 3, i2 = (i + 2) % 3, j1 = (j + 1) % 3, j2 = (j + 2) % 3;
  int32_t a = one.v[i], b = one.v[i1], c = one.v[i2], d = two.v[j], w = first, x = first + 1;
  /* around the vertex: t (v a b), u (v b d), w (v d c), x (v c a) */
  triangle_set(mesh, t, (int32_t[]){vertex, a, b}, (int32_t[]){one.n[i2], u, x},
               (bool[]){one.fixed[i2], false, false}, one.inside);
  triangle_set(mesh, u, (int32_t[]){vertex, b, d}, (int32_t[]){two.n[j1], w, t},
               (bool[]){two.fixed[j1], false, false}, one.inside);
  triangle_set(mesh, w, (int32_t[]){vertex, d, c}, (int32_t[]){two.n[j2], x, u},
               (bool[]){two.fixed[j2], false, false}, one.inside);
  triangle_set(mesh, x, (int32_t[]){vertex, c, a}, (int32_t[]){one.n[i1], t, w},
               (bool[]){one.fixed[i1], false, false}, one.inside);
  neighbour_swap(mesh, two.n[j2], u, w);
  neighbour_swap(mesh, one.n[i1], t, x);
  size_t depth = 0;
  int32_t part[4] = {t, u, w, x};
  for (int k = 0; k < 4 && !fault; k++)
    fault = stack_push(mesh, &depth, part[k]);
  return fault ? fault : legalise(mesh, vertex, depth);
}

/* *done = false when the vertex falls on another one or on a forced edge. */
Fault delaunay_vertex_insert(Delaunay *mesh, int32_t vertex, int32_t t, bool *done)
{
  const Triangle *at = &mesh->triangle[t];
  int on = -1, zeros = 0;
  for (int i = 0; i < 3; i++)
    if (turn_of(mesh, at->v[(i + 1) % 3], at->v[(i + 2) % 3], vertex) == 0) {
      on = i;
      zeros++;
    }
  *done = zeros == 0 || (zeros == 1 && !at->fixed[on]);
  if (!*done)
    return FAULT_NONE;
  return zeros ? split_edge(mesh, vertex, t, on) : split_triangle(mesh, vertex, t);
}

/* ---- forced edges ---- */

/* The triangle with the directed edge a -> b, and the corner opposite; -1 if there is none. */
static int32_t edge_find(const Delaunay *mesh, int32_t a, int32_t b, int *opposite)
{
  int32_t start = mesh->touching[a], t = start;
  do {
    const Triangle *at = &mesh->triangle[t];
    int i = corner_of(at, a);
    if (at->v[(i + 1) % 3] == b) {
      *opposite = (i + 2) % 3;
      return t;
    }
    t = at->n[(i + 1) % 3]; /* across the edge from the third corner to a */
  } while (t >= 0 && t != start);
  return -1;
}

typedef struct {
  int32_t a, b;
} Edge;

/* The edges that the segment a -> b crosses, in order along it. */
static Fault crossed_find(const Delaunay *mesh, int32_t a, int32_t b, Edge edge[], size_t room,
                          size_t *n)
{
  int32_t start = mesh->touching[a], t = start;
  int i = 0;
  bool found = false;
  do {
    const Triangle *at = &mesh->triangle[t];
    i = corner_of(at, a);
    int right = turn_of(mesh, a, b, at->v[(i + 1) % 3]),
        left = turn_of(mesh, a, b, at->v[(i + 2) % 3]);
    found = right < 0 && left > 0;
    if (!found)
      t = at->n[(i + 1) % 3];
  } while (!found && t >= 0 && t != start);
  *n = 0;
  if (!found)
    return FAULT_CROSSING; /* a vertex lies on the segment */
  for (;;) {
    const Triangle *at = &mesh->triangle[t];
    if (at->fixed[i] || at->n[i] < 0 || *n == room)
      return FAULT_CROSSING;
    edge[(*n)++] = (Edge){at->v[(i + 1) % 3], at->v[(i + 2) % 3]};
    int32_t right = at->v[(i + 1) % 3], u = at->n[i];
    const Triangle *over = &mesh->triangle[u];
    int j = edge_to(over, t);
    int32_t d = over->v[j];
    if (d == b)
      return FAULT_NONE;
    int turn = turn_of(mesh, a, b, d);
    if (turn == 0)
      return FAULT_CROSSING; /* a vertex on the segment: the outline touches itself */
    /* go on over the edge that the segment leaves by: opposite the corner on d's side */
    i = turn > 0 ? (over->v[(j + 1) % 3] == right ? (j + 2) % 3 : (j + 1) % 3)
                 : corner_of(over, right);
    t = u;
  }
}

static bool crosses(const Delaunay *mesh, Edge e, int32_t a, int32_t b)
{
  if (e.a == a || e.a == b || e.b == a || e.b == b)
    return false;
  return turn_of(mesh, a, b, e.a) * turn_of(mesh, a, b, e.b) < 0 &&
         turn_of(mesh, e.a, e.b, a) * turn_of(mesh, e.a, e.b, b) < 0;
}

#define MOST_CROSSED 512

/* Makes a -> b an edge of the mesh by flips (Sloan 1993), then forces it. */
static Fault edge_force(Delaunay *mesh, int32_t a, int32_t b)
{
  int opposite, other;
  int32_t t = edge_find(mesh, a, b, &opposite);
  if (t < 0) {
    Edge queue[2 * MOST_CROSSED];
    size_t n = 0, head = 0, tail, room = 2 * MOST_CROSSED;
    Fault fault = crossed_find(mesh, a, b, queue, MOST_CROSSED, &n);
    if (fault)
      return fault;
    tail = n;
    for (size_t turns = 0; n > 0; turns++) {
      if (turns > 100 * MOST_CROSSED)
        return FAULT_MESH;
      Edge e = queue[head];
      head = (head + 1) % room, n--;
      int32_t at = edge_find(mesh, e.a, e.b, &opposite);
      if (at < 0)
        return FAULT_MESH;
      int32_t p = mesh->triangle[at].v[opposite], u = mesh->triangle[at].n[opposite];
      int32_t q = mesh->triangle[u].v[edge_to(&mesh->triangle[u], at)];
      bool convex = turn_of(mesh, p, q, e.a) * turn_of(mesh, p, q, e.b) < 0;
      if (convex) {
        flip(mesh, at, opposite);
        e = (Edge){p, q};
      }
      if (crosses(mesh, e, a, b)) {
        queue[tail] = e;
        tail = (tail + 1) % room, n++;
      }
    }
    t = edge_find(mesh, a, b, &opposite);
    if (t < 0)
      return FAULT_MESH;
  }
  int32_t u = mesh->triangle[t].n[opposite];
  other = edge_to(&mesh->triangle[u], t);
  mesh->triangle[t].fixed[opposite] = mesh->triangle[u].fixed[other] = true;
  return FAULT_NONE;
}

/* Flips every free edge that is not Delaunay, until none is left. */
static void smooth_edges(Delaunay *mesh)
{
  bool changed = true;
  for (int sweep = 0; changed && sweep < 64; sweep++) {
    changed = false;
    for (int32_t t = 0; t < (int32_t)mesh->n_triangle; t++)
      for (int i = 0; i < 3; i++) {
        const Triangle *one = &mesh->triangle[t];
        if (one->fixed[i] || one->n[i] < t)
          continue;
        const Triangle *two = &mesh->triangle[one->n[i]];
        int32_t d = two->v[edge_to(two, t)];
        int32_t a = one->v[i], b = one->v[(i + 1) % 3], c = one->v[(i + 2) % 3];
        if (in_circle(mesh, a, b, c, d) && turn_of(mesh, a, b, d) > 0 &&
            turn_of(mesh, a, d, c) > 0) {
          flip(mesh, t, i);
          changed = true;
        }
      }
  }
}

/* Marks what the forced edges enclose: everything that cannot be reached from the hull. */
static Fault inside_mark(Delaunay *mesh)
{
  for (size_t i = 0; i < mesh->n_triangle; i++)
    mesh->triangle[i].inside = true;
  size_t depth = 0;
  Fault fault = stack_push(mesh, &depth, mesh->touching[0]);
  mesh->triangle[mesh->touching[0]].inside = false;
  while (depth > 0 && !fault) {
    int32_t t = mesh->stack[--depth];
    for (int i = 0; i < 3 && !fault; i++) {
      int32_t u = mesh->triangle[t].n[i];
      if (u < 0 || mesh->triangle[t].fixed[i] || !mesh->triangle[u].inside)
        continue;
      mesh->triangle[u].inside = false;
      fault = stack_push(mesh, &depth, u);
    }
  }
  return fault;
}

static Fault hull_start(Delaunay *mesh, const Point at[], size_t n)
{
  Point low = at[0], high = at[0];
  for (size_t i = 0; i < n; i++) {
    if (!point_finite(at[i]))
      return FAULT_NOT_FINITE;
    low = point(fmin(low.x, at[i].x), fmin(low.y, at[i].y));
    high = point(fmax(high.x, at[i].x), fmax(high.y, at[i].y));
  }
  double reach = fmax(high.x - low.x, high.y - low.y);
  if (!(reach > 0) || !isfinite(reach))
    return FAULT_DEGENERATE;
  mesh->origin = point_mix(low, high, 0.5);
  mesh->step = reach / 2 / GRID_HALF;
  mesh->n_vertex = mesh->n_triangle = 0;
  mesh->last = 0;
  double far = HULL_REACH * mesh->step * 0.999;
  const Point corner[3] = {{-far, -far}, {far, -far}, {0, far}};
  int32_t vertex, first;
  Fault fault = triangles_add(mesh, 1, &first);
  for (int i = 0; i < 3 && !fault; i++)
    fault = delaunay_vertex_add(mesh, point_add(mesh->origin, corner[i]), &vertex);
  if (!fault)
    triangle_set(mesh, 0, (int32_t[]){0, 1, 2}, (int32_t[]){-1, -1, -1},
                 (bool[]){false, false, false}, false);
  return fault;
}

Fault delaunay_polygon(Delaunay *mesh, const Point at[], size_t n, Point *where)
{
  if (n < 3 || n > MOST_POINTS)
    return FAULT_RANGE;
  Fault fault = hull_start(mesh, at, n);
  for (size_t i = 0; i < n && !fault; i++) {
    int32_t vertex = -1;
    bool done = false;
    fault = delaunay_vertex_add(mesh, at[i], &vertex);
    if (fault)
      break;
    int32_t t = delaunay_locate(mesh, vertex);
    fault = t < 0 ? FAULT_MESH : delaunay_vertex_insert(mesh, vertex, t, &done);
    if (!fault && !done)
      fault = FAULT_DEGENERATE;
    if (fault)
      *where = at[i];
  }
  for (size_t i = 0; i < n && !fault; i++) {
    fault = edge_force(mesh, DELAUNAY_HULL + (int32_t)i, DELAUNAY_HULL + (int32_t)((i + 1) % n));
    if (fault)
      *where = at[i];
  }
  if (fault)
    return fault;
  smooth_edges(mesh);
  return inside_mark(mesh);
}
