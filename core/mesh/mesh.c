/* mesh.c - equal corners joined, every edge looked at.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Cost: a hash of the corners and a counting sort of the edges, both linear. */
#include "mesh/mesh.h"
#include <stdlib.h>
#include <string.h>

#define NONE UINT32_MAX
#define ASK_EVERY 65536u
#define FEWEST 4 /* triangles of a closed surface */
#define FEW_EDGES 32

void mesh_clear(Mesh *mesh)
{
  if (!mesh)
    return;
  free(mesh->at);
  free(mesh->triangle);
  free(mesh->number);
  *mesh = (Mesh){0};
}

void mesh_scale(Mesh *mesh, double factor)
{
  for (size_t i = 0; i < mesh->n_at; i++) {
    Vec3 *p = &mesh->at[i];
    *p = (Vec3){p->x * factor, p->y * factor, p->z * factor};
  }
}

/* ---- joining ---- */

typedef struct {
  uint32_t *slot; /* owned; index of a vertex or NONE */
  size_t size;    /* a power of two                   */
  Vec3 *at;       /* owned                            */
  size_t n, room;
} Weld;

static size_t corner_hash(const float p[3])
{
  uint32_t bits[3];
  memcpy(bits, p, sizeof bits);
  uint64_t h = bits[0];
  h = (h ^ (h >> 15)) * UINT64_C(0x9E3779B97F4A7C15) + bits[1];
  h = (h ^ (h >> 29)) * UINT64_C(0xBF58476D1CE4E5B9) + bits[2];
  h = (h ^ (h >> 32)) * UINT64_C(0x94D049BB133111EB);
  return (size_t)(h ^ (h >> 31));
}

static bool weld_resize(Weld *weld, size_t size)
{
  uint32_t *slot = malloc(size * sizeof *slot);
  Vec3 *at = realloc(weld->at, size / 2 * sizeof *at);
  if (at)
    weld->at = at;
  if (!slot || !at) {
    free(slot);
    return false;
  }
  memset(slot, 0xff, size * sizeof *slot);
  for (size_t i = 0; i < weld->n; i++) {
    const float p[3] = {(float)at[i].x, (float)at[i].y, (float)at[i].z};
    size_t k = corner_hash(p) & (size - 1);
    while (slot[k] != NONE)
      k = (k + 1) & (size - 1);
    slot[k] = (uint32_t)i;
  }
  free(weld->slot);
  weld->slot = slot;
  weld->size = size;
  weld->room = size / 2;
  return true;
}

/* NONE when there is no memory. */
static uint32_t weld_vertex(Weld *weld, const float corner[3])
{
  const float p[3] = {corner[0] + 0.0f, corner[1] + 0.0f, corner[2] + 0.0f}; /* -0 becomes 0 */
  if (weld->n == weld->room && !weld_resize(weld, weld->size * 2))
    return NONE;
  size_t k = corner_hash(p) & (weld->size - 1);
  for (; weld->slot[k] != NONE; k = (k + 1) & (weld->size - 1)) {
    const Vec3 *q = &weld->at[weld->slot[k]];
    if ((float)q->x == p[0] && (float)q->y == p[1] && (float)q->z == p[2])
      return weld->slot[k];
  }
  weld->slot[k] = (uint32_t)weld->n;
  weld->at[weld->n] = (Vec3){p[0], p[1], p[2]};
  return (uint32_t)weld->n++;
}

static bool is_flat(const Vec3 *at, Triangle t)
{
  if (t.v[0] == t.v[1] || t.v[1] == t.v[2] || t.v[2] == t.v[0])
    return true;
  Vec3 n = vec3_cross(vec3_sub(at[t.v[1]], at[t.v[0]]), vec3_sub(at[t.v[2]], at[t.v[0]]));
  return !(vec3_dot(n, n) > 0);
}

Fault mesh_weld(float (*corner)[3], const uint32_t *number, size_t n, const MeshWatch *watch,
                Mesh *mesh, MeshState *state)
{
  if (n > MESH_MOST_TRIANGLES)
    return FAULT_RANGE;
  if (n < FEWEST)
    return FAULT_DEGENERATE;
  Weld weld = {0};
  size_t size = 1024;
  while (size < n + n / 2) /* a closed surface has half as many vertices as triangles */
    size *= 2;
  Mesh made = {.triangle = malloc(n * sizeof *made.triangle),
               .number = malloc(n * sizeof *made.number)};
  Fault fault =
      made.triangle && made.number && weld_resize(&weld, size) ? FAULT_NONE : FAULT_MEMORY;
  *state = (MeshState){0};
  for (size_t i = 0; i < n && !fault; i++) {
    Triangle t;
    for (int k = 0; k < 3 && !fault; k++)
      if ((t.v[k] = weld_vertex(&weld, corner[3 * i + (size_t)k])) == NONE)
        fault = FAULT_MEMORY;
    uint32_t name = number ? number[i] : (uint32_t)i + 1;
    if (!fault && is_flat(weld.at, t)) {
      if (state->flat++ == 0)
        state->first_flat = name;
    } else {
      made.triangle[made.n] = t;
      made.number[made.n++] = name;
    }
    if (i % ASK_EVERY == 0 && !mesh_go_on(watch, (double)i / (double)n))
      fault = FAULT_CANCELLED;
  }
  made.at = weld.at;
  made.n_at = weld.n;
  free(weld.slot);
  if (!fault && made.n < FEWEST)
    fault = FAULT_DEGENERATE;
  if (fault) {
    mesh_clear(&made);
    return fault;
  }
  *mesh = made;
  return FAULT_NONE;
}

/* ---- edges ---- */

typedef struct {
  uint32_t other;    /* the larger vertex                                     */
  uint32_t triangle; /* twice its index; odd: runs from the larger vertex     */
} Edge;

static void note(size_t *count, size_t *first, size_t number)
{
  if ((*count)++ == 0 || number < *first)
    *first = number;
}

static int by_other(const void *a, const void *b)
{
  const Edge *p = a, *q = b;
  return p->other != q->other ? (p->other > q->other) - (p->other < q->other)
                              : (p->triangle > q->triangle) - (p->triangle < q->triangle);
}

/* Most vertices have some six edges. */
static void edges_sort(Edge *edge, size_t n)
{
  if (n > FEW_EDGES) {
    qsort(edge, n, sizeof *edge, by_other);
    return;
  }
  for (size_t i = 1; i < n; i++) {
    Edge e = edge[i];
    size_t k = i;
    for (; k > 0 && by_other(&edge[k - 1], &e) > 0; k--)
      edge[k] = edge[k - 1];
    edge[k] = e;
  }
}

/* All edges of one vertex. */
static void edges_look(const Mesh *mesh, Edge *edge, size_t n, MeshState *state)
{
  edges_sort(edge, n);
  for (size_t i = 0, same; i < n; i += same) {
    for (same = 1; i + same < n && edge[i + same].other == edge[i].other;)
      same++;
    size_t number = mesh->number[edge[i].triangle / 2];
    if (same == 1)
      note(&state->open, &state->first_open, number);
    else if (same > 2)
      note(&state->crowded, &state->first_crowded, number);
    else if (((edge[i].triangle ^ edge[i + 1].triangle) & 1) == 0)
      note(&state->turned, &state->first_turned, number);
  }
}

static void box_and_volume(Mesh *mesh, MeshState *state)
{
  Vec3 lo = mesh->at[0], hi = lo;
  for (size_t i = 1; i < mesh->n_at; i++) {
    Vec3 p = mesh->at[i];
    lo = (Vec3){fmin(lo.x, p.x), fmin(lo.y, p.y), fmin(lo.z, p.z)};
    hi = (Vec3){fmax(hi.x, p.x), fmax(hi.y, p.y), fmax(hi.z, p.z)};
  }
  double volume = 0;
  for (size_t i = 0; i < mesh->n; i++) {
    const uint32_t *v = mesh->triangle[i].v;
    Vec3 a = vec3_sub(mesh->at[v[0]], lo), b = vec3_sub(mesh->at[v[1]], lo),
         c = vec3_sub(mesh->at[v[2]], lo);
    volume += vec3_dot(a, vec3_cross(b, c)) / 6;
  }
  state->inside_out = volume < 0;
  for (size_t i = 0; i < mesh->n && state->inside_out; i++) {
    uint32_t *v = mesh->triangle[i].v, keep = v[1];
    v[1] = v[2];
    v[2] = keep;
  }
  state->low = lo;
  state->high = hi;
  state->volume = fabs(volume);
}

Fault mesh_look(Mesh *mesh, const MeshWatch *watch, MeshState *state)
{
  size_t *start = calloc(mesh->n_at + 2, sizeof *start);
  Edge *edge = malloc(3 * mesh->n * sizeof *edge);
  Fault fault = start && edge ? FAULT_NONE : FAULT_MEMORY;
  for (int fill = 0; fill < 2 && !fault; fill++) {
    for (size_t i = 0; i < mesh->n && !fault; i++) {
      for (size_t k = 0; k < 3; k++) {
        uint32_t a = mesh->triangle[i].v[k], b = mesh->triangle[i].v[(k + 1) % 3];
        size_t low = a < b ? a : b;
        if (fill)
          edge[start[low + 1]++] = (Edge){a < b ? b : a, (uint32_t)(2 * i + (a > b))};
        else
          start[low + 2]++;
      }
      if (i % ASK_EVERY == 0 && !mesh_go_on(watch, 0.5 * fill + 0.4 * (double)i / (double)mesh->n))
        fault = FAULT_CANCELLED;
    }
    for (size_t v = 2; v < mesh->n_at + 2 && !fill; v++)
      start[v] += start[v - 1];
  }
  if (!fault) { /* filling moved start[v + 1] to the end of vertex v */
    state->open = state->crowded = state->turned = 0;
    state->first_open = state->first_crowded = state->first_turned = 0;
    for (size_t v = 0; v < mesh->n_at; v++)
      edges_look(mesh, edge + start[v], start[v + 1] - start[v], state);
    box_and_volume(mesh, state);
  }
  free(start);
  free(edge);
  return fault;
}
