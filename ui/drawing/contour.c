/* contour.c - see contour.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/contour.h"
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
  uint64_t key; /* what the end lies on: a mesh edge (low vertex, high vertex) or a vertex */
  uint32_t segment;
  uint32_t side; /* 0, 1 */
  uint32_t mate; /* index of the end joined to this one in the sorted list, or NO_MATE    */
} End;
#define NO_MATE UINT32_MAX
#define MAX_SEGMENTS (1u << 24)

typedef struct {
  End *end; /* two a segment */
  Point *at;
  size_t n, room; /* segments */
} Segments;

void line_set_clear(LineSet *lines)
{
  if (!lines)
    return;
  free(lines->at);
  free(lines->start);
  *lines = (LineSet){0};
}

static bool segments_room(Segments *s)
{
  if (s->n < s->room)
    return true;
  size_t room = s->room ? 2 * s->room : 256;
  End *end = room <= MAX_SEGMENTS ? realloc(s->end, 2 * room * sizeof *end) : NULL;
  if (end)
    s->end = end;
  Point *at = end ? realloc(s->at, 2 * room * sizeof *at) : NULL;
  if (!at)
    return false;
  s->at = at;
  s->room = room;
  return true;
}

static bool segments_add(Segments *s, const uint64_t key[2], const Point at[2])
{
  if (!segments_room(s))
    return false;
  for (uint32_t k = 0; k < 2; k++) {
    s->end[2 * s->n + k] = (End){key[k], (uint32_t)s->n, k, NO_MATE};
    s->at[2 * s->n + k] = at[k];
  }
  s->n++;
  return true;
}

static int end_compare(const void *a, const void *b)
{
  const End *p = a, *q = b;
  if (p->key != q->key)
    return p->key < q->key ? -1 : 1;
  return p->segment != q->segment ? p->segment < q->segment ? -1 : 1 : (int)p->side - (int)q->side;
}

/* Follows joined segments from an end and writes its points; returns the number of points. */
static size_t chain_follow(const Segments *s, const uint32_t place[], bool used[], uint32_t segment,
                           uint32_t side, Point out[])
{
  size_t n = 0;
  out[n++] = s->at[2 * segment + side];
  while (!used[segment]) {
    used[segment] = true;
    uint32_t other = 1 - side;
    out[n++] = s->at[2 * segment + other];
    uint32_t mate = s->end[place[2 * segment + other]].mate;
    if (mate == NO_MATE)
      break;
    segment = s->end[mate].segment;
    side = s->end[mate].side;
  }
  return n;
}

/* Joins segments end to end into lines: open ones from their loose ends first, then the rings. */
static Fault segments_chain(Segments *s, LineSet *lines)
{
  *lines = (LineSet){0};
  if (s->n == 0)
    return FAULT_NONE;
  uint32_t *place =
      malloc(2 * s->n * sizeof *place); /* of end (segment, side) in the sorted list */
  bool *used = calloc(s->n, sizeof *used);
  LineSet made = {.at = malloc(2 * s->n * sizeof(Point)),
                  .start = malloc((s->n + 1) * sizeof(size_t))};
  if (!place || !used || !made.at || !made.start) {
    free(place);
    free(used);
    line_set_clear(&made);
    return FAULT_MEMORY;
  }
  qsort(s->end, 2 * s->n, sizeof *s->end, end_compare);
  for (uint32_t i = 0; i < 2 * s->n; i++)
    place[2 * s->end[i].segment + s->end[i].side] = i;
  for (uint32_t i = 0; i + 1 < 2 * s->n; i++)
    if (s->end[i].key == s->end[i + 1].key) {
      s->end[i].mate = i + 1;
      s->end[i + 1].mate = i;
      i++;
    }
  for (int rings = 0; rings < 2; rings++)
    for (uint32_t k = 0; k < 2 * s->n; k++) {
      bool loose = s->end[place[k]].mate == NO_MATE;
      if (used[k / 2] || (!rings && !loose))
        continue;
      made.start[made.n_line++] = made.n;
      made.n += chain_follow(s, place, used, k / 2, k % 2, made.at + made.n);
    }
  made.start[made.n_line] = made.n;
  free(place);
  free(used);
  *lines = made;
  return FAULT_NONE;
}

static void segments_clear(Segments *s)
{
  free(s->end);
  free(s->at);
}

static uint64_t edge_key(uint32_t a, uint32_t b)
{
  return a < b ? (uint64_t)a << 32 | b : (uint64_t)b << 32 | a;
}

Fault contour_find(const FieldSheet *sheet, const float value[], double level, LineSet *lines)
{
  Segments s = {0};
  Fault fault = FAULT_NONE;
  for (size_t i = 0; i < sheet->n_triangle && fault == FAULT_NONE; i++) {
    const uint32_t *corner = sheet->corner[i];
    double v[3];
    for (int k = 0; k < 3; k++)
      v[k] = (double)value[corner[k]] - level;
    if (!isfinite(v[0] + v[1] + v[2]))
      continue;
    uint64_t key[3];
    Point at[3];
    int n = 0;
    for (int k = 0; k < 3; k++) {
      int m = (k + 1) % 3;
      if ((v[k] >= 0) == (v[m] >= 0))
        continue;
      /* from the lower vertex number, so that both triangles get the same point */
      bool swap = corner[k] > corner[m];
      int p = swap ? m : k, q = swap ? k : m;
      key[n] = edge_key(corner[k], corner[m]);
      at[n++] = point_mix(sheet->at[corner[p]], sheet->at[corner[q]], v[p] / (v[p] - v[q]));
    }
    if (n == 2 && !segments_add(&s, key, at))
      fault = FAULT_MEMORY;
  }
  if (fault == FAULT_NONE)
    fault = segments_chain(&s, lines);
  segments_clear(&s);
  return fault;
}

static int key_compare(const void *a, const void *b)
{
  uint64_t p = *(const uint64_t *)a, q = *(const uint64_t *)b;
  return p < q ? -1 : p > q;
}

/* Faces of a sheet may bring their own vertices: those at the same place count as one. */
#define WELD_MM 1e-5

typedef struct {
  double x, y; /* in steps of WELD_MM */
  uint32_t vertex;
} Spot;

static int spot_compare(const void *pa, const void *pb)
{
  const Spot *a = pa, *b = pb;
  if (a->x != b->x)
    return a->x < b->x ? -1 : 1;
  return a->y < b->y ? -1 : a->y > b->y;
}

/* For every vertex the one that stands for all at its place; NULL without memory. */
static uint32_t *vertices_weld(const FieldSheet *sheet)
{
  uint32_t *same = malloc(sheet->n_vertex * sizeof *same);
  Spot *spot = malloc(sheet->n_vertex * sizeof *spot);
  if (same && spot) {
    for (size_t i = 0; i < sheet->n_vertex; i++)
      spot[i] = (Spot){rint(sheet->at[i].x / WELD_MM), rint(sheet->at[i].y / WELD_MM), (uint32_t)i};
    qsort(spot, sheet->n_vertex, sizeof *spot, spot_compare);
    for (size_t i = 0; i < sheet->n_vertex; i++) {
      bool joined = i > 0 && spot_compare(&spot[i - 1], &spot[i]) == 0;
      same[spot[i].vertex] = joined ? same[spot[i - 1].vertex] : spot[i].vertex;
    }
  } else {
    free(same);
    same = NULL;
  }
  free(spot);
  return same;
}

Fault contour_rim(const FieldSheet *sheet, LineSet *lines)
{
  size_t n = 3 * sheet->n_triangle;
  if (n == 0) {
    *lines = (LineSet){0};
    return FAULT_NONE;
  }
  uint64_t *edge = malloc(n * sizeof *edge);
  uint32_t *same_place = vertices_weld(sheet);
  if (!edge || !same_place) {
    free(edge);
    free(same_place);
    return FAULT_MEMORY;
  }
  for (size_t i = 0; i < n; i++)
    edge[i] = edge_key(same_place[sheet->corner[i / 3][i % 3]],
                       same_place[sheet->corner[i / 3][(i + 1) % 3]]);
  free(same_place);
  qsort(edge, n, sizeof *edge, key_compare);
  Segments s = {0};
  Fault fault = FAULT_NONE;
  for (size_t i = 0, same; i < n && fault == FAULT_NONE; i += same) {
    for (same = 1; i + same < n && edge[i + same] == edge[i];)
      same++;
    if (same > 1)
      continue;
    uint64_t key[2] = {edge[i] >> 32, edge[i] & UINT32_MAX};
    if (key[0] == key[1])
      continue;
    Point at[2] = {sheet->at[key[0]], sheet->at[key[1]]};
    if (!segments_add(&s, key, at))
      fault = FAULT_MEMORY;
  }
  if (fault == FAULT_NONE)
    fault = segments_chain(&s, lines);
  segments_clear(&s);
  free(edge);
  return fault;
}
