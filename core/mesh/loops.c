/* loops.c - the cut edges of a section joined to closed lines.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A cut triangle is left through the edge by which its neighbour is entered: followed by edge, not
 * by place, so nothing depends on a tolerance while the surface is closed. */
#include "mesh/slices_parts.h"
#include "base/tolerance.h"
#include <stdlib.h>
#include <string.h>

typedef struct {
  Crossed edge;
  Point a, b;
  uint32_t number;
  bool used, entered; /* some other piece leads here */
} Piece;

void loops_clear(Loops *loops)
{
  for (size_t i = 0; loops && i < loops->n; i++)
    free(loops->loop[i].at);
  if (loops) {
    free(loops->loop);
    *loops = (Loops){0};
  }
}

static int edge_order(const uint32_t a[2], const uint32_t b[2])
{
  return a[0] != b[0] ? (a[0] > b[0]) - (a[0] < b[0]) : (a[1] > b[1]) - (a[1] < b[1]);
}

static int by_entry(const void *a, const void *b)
{
  return edge_order(((const Piece *)a)->edge.in, ((const Piece *)b)->edge.in);
}

/* The first unused piece that is entered by the edge, or n. */
static size_t piece_behind(const Piece piece[], size_t n, const uint32_t edge[2])
{
  size_t low = 0, high = n;
  while (low < high) {
    size_t middle = (low + high) / 2;
    if (edge_order(piece[middle].edge.in, edge) < 0)
      low = middle + 1;
    else
      high = middle;
  }
  while (low < n && edge_order(piece[low].edge.in, edge) == 0 && piece[low].used)
    low++;
  return low < n && edge_order(piece[low].edge.in, edge) == 0 ? low : n;
}

/* A line as far as it leads. */
typedef struct {
  size_t first, n; /* in the points that all lines share */
  uint32_t number;
  bool closed, taken;
} Chain;

typedef struct {
  Piece *piece;
  size_t n;
  Point *at;
  size_t n_at;
  Chain *chain;
  size_t n_chain;
} Join;

static void chain_follow(Join *join, size_t start)
{
  Chain *chain = &join->chain[join->n_chain++];
  *chain = (Chain){.first = join->n_at, .number = join->piece[start].number};
  size_t i = start;
  const uint32_t *home = join->piece[start].edge.in;
  join->at[join->n_at++] = join->piece[start].a;
  while (i < join->n) {
    Piece *p = &join->piece[i];
    p->used = true;
    if (point_distance(join->at[join->n_at - 1], p->b) > TOL_POINT_MM)
      join->at[join->n_at++] = p->b;
    if (edge_order(p->edge.out, home) == 0) {
      chain->closed = true;
      break;
    }
    i = piece_behind(join->piece, join->n, p->edge.out);
  }
  chain->n = join->n_at - chain->first;
  Point *at = join->at + chain->first;
  if (chain->closed && chain->n > 1 && point_distance(at[0], at[chain->n - 1]) <= TOL_POINT_MM)
    chain->n--;
}

/* Takes up the open chains one after the other, each time the one whose start is nearest to the end
 * so far, or the own start. */
static bool chains_bridge(Join *join, size_t first, double bridge, Point *at, size_t *n,
                          double *gap)
{
  size_t k = first;
  *n = 0;
  *gap = 0;
  for (;;) {
    Chain *chain = &join->chain[k];
    chain->taken = true;
    memcpy(at + *n, join->at + chain->first, chain->n * sizeof *at);
    *n += chain->n;
    double near = point_distance(at[*n - 1], at[0]);
    size_t next = first;
    for (size_t i = 0; i < join->n_chain && !join->chain[first].closed; i++) {
      double way = point_distance(at[*n - 1], join->at[join->chain[i].first]);
      if (!join->chain[i].taken && !join->chain[i].closed && way < near) {
        near = way;
        next = i;
      }
    }
    if (!join->chain[first].closed && near > bridge)
      return false;
    if (!join->chain[first].closed)
      *gap = fmax(*gap, near);
    if (next == first)
      return true;
    k = next;
  }
}

static double loop_area(const Point at[], size_t n)
{
  double area = 0;
  for (size_t i = 1; i + 1 < n; i++)
    area += point_cross(point_sub(at[i], at[0]), point_sub(at[i + 1], at[0])) / 2;
  return area;
}

static int by_area(const void *a, const void *b)
{
  double x = fabs(((const Loop *)a)->area), y = fabs(((const Loop *)b)->area);
  return (x < y) - (x > y);
}

static Fault loops_make(Join *join, double bridge, Loops *loops, size_t *triangle)
{
  Point *at = malloc((join->n_at + 1) * sizeof *at);
  loops->loop = malloc((join->n_chain + 1) * sizeof *loops->loop);
  Fault fault = at && loops->loop ? FAULT_NONE : FAULT_MEMORY;
  for (size_t i = 0; i < join->n_chain && !fault; i++) {
    Loop loop = {.triangle = join->chain[i].number};
    if (join->chain[i].taken)
      continue;
    if (!chains_bridge(join, i, bridge, at, &loop.n, &loop.gap)) {
      *triangle = loop.triangle;
      fault = FAULT_MESH;
    } else if (loop.n >= 3) {
      loop.at = malloc(loop.n * sizeof *loop.at);
      if (!loop.at) {
        fault = FAULT_MEMORY;
        break;
      }
      memcpy(loop.at, at, loop.n * sizeof *at);
      loop.area = loop_area(loop.at, loop.n);
      loops->loop[loops->n++] = loop;
    }
  }
  free(at);
  if (!fault)
    qsort(loops->loop, loops->n, sizeof *loops->loop, by_area);
  return fault;
}

Fault slices_loops(const Slices *s, double x, double bridge_mm, Loops *loops, size_t *triangle)
{
  const uint32_t *list;
  size_t n;
  slices_bin(s, x, &list, &n);
  Join join = {.piece = malloc((n + 1) * sizeof *join.piece),
               .at = malloc((2 * n + 1) * sizeof *join.at),
               .chain = malloc((n + 1) * sizeof *join.chain)};
  Loops made = {0};
  Fault fault = join.piece && join.at && join.chain ? FAULT_NONE : FAULT_MEMORY;
  for (size_t i = 0; i < n && !fault; i++) {
    const uint32_t *v = s->corner[list[i]].v;
    const Vec3 p[3] = {s->at[v[0]], s->at[v[1]], s->at[v[2]]};
    Piece piece = {.number = s->number[list[i]]};
    if (triangle_cut(p, v, x, s->left_handed, &piece.a, &piece.b, &piece.edge))
      join.piece[join.n++] = piece;
  }
  if (!fault) {
    qsort(join.piece, join.n, sizeof *join.piece, by_entry);
    for (size_t i = 0; i < join.n; i++) {
      size_t k = piece_behind(join.piece, join.n, join.piece[i].edge.out);
      if (k < join.n)
        join.piece[k].entered = true;
    }
    for (int closed = 0; closed < 2; closed++) /* open lines from their beginning first */
      for (size_t i = 0; i < join.n; i++)
        if (!join.piece[i].used && (closed || !join.piece[i].entered))
          chain_follow(&join, i);
    fault = loops_make(&join, bridge_mm, &made, triangle);
  }
  free(join.piece);
  free(join.at);
  free(join.chain);
  if (fault) {
    loops_clear(&made);
    return fault;
  }
  loops_clear(loops);
  *loops = made;
  return FAULT_NONE;
}
