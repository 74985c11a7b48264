/* crossing.c - where an outline crosses itself or another one.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Units mm.  Works on polylines of chord error TOL_FLATTEN_MM.  A tree of boxes over consecutive
 * segments keeps the pairs that can meet few; the decision itself is the sign of a determinant with
 * the bound of its rounding error, so that touching counts as crossing and nothing is missed. */
#include "outline/outline.h"
#include "base/tolerance.h"
#include <float.h>
#include <stdlib.h>

typedef struct {
  double x0, y0, x1, y1;
} Box;

/* Boxes as a heap: node k has the children 2k and 2k + 1; leaf of segment i is `leaves` + i. */
typedef struct {
  const Polyline *line;
  Box *box;
  size_t leaves, n; /* a power of two >= n segments */
} Tree;

static Box box_empty(void)
{
  return (Box){INFINITY, INFINITY, -INFINITY, -INFINITY};
}

static Fault tree_build(Tree *tree, const Polyline *line)
{
  size_t n = line->n - 1, leaves = 1;
  while (leaves < n)
    leaves *= 2;
  Box *box = malloc(2 * leaves * sizeof *box);
  if (!box)
    return FAULT_MEMORY;
  box[0] = box_empty();
  for (size_t i = 0; i < leaves; i++) {
    box[leaves + i] = box_empty();
    if (i < n) {
      Point a = line->at[i], b = line->at[i + 1];
      box[leaves + i] = (Box){fmin(a.x, b.x), fmin(a.y, b.y), fmax(a.x, b.x), fmax(a.y, b.y)};
    }
  }
  for (size_t k = leaves - 1; k > 0; k--) {
    Box a = box[2 * k], b = box[2 * k + 1];
    box[k] = (Box){fmin(a.x0, b.x0), fmin(a.y0, b.y0), fmax(a.x1, b.x1), fmax(a.y1, b.y1)};
  }
  *tree = (Tree){line, box, leaves, n};
  return FAULT_NONE;
}

/* Side of c seen along a -> b: -1, 0, 1; 0 when rounding leaves it open (error bound: Shewchuk
 * 1997). */
static int side(Point a, Point b, Point c)
{
  double left = (b.x - a.x) * (c.y - a.y), right = (b.y - a.y) * (c.x - a.x);
  double det = left - right, bound = 4 * DBL_EPSILON * (fabs(left) + fabs(right));
  return det > bound ? 1 : det < -bound ? -1 : 0;
}

/* Do a-b and c-d meet?  *u: where on a-b, in [0, 1]. */
static bool segments_meet(Point a, Point b, Point c, Point d, double *u)
{
  int sc = side(a, b, c), sd = side(a, b, d), sa = side(c, d, a), sb = side(c, d, b);
  if (sc * sd > 0 || sa * sb > 0)
    return false;
  Point ab = point_sub(b, a), cd = point_sub(d, c);
  double across = point_cross(ab, cd), length2 = point_dot(ab, ab);
  if (sc == 0 && sd == 0) { /* on one line: overlap along it (the boxes overlap already) */
    double uc = point_dot(point_sub(c, a), ab) / length2;
    double ud = point_dot(point_sub(d, a), ab) / length2;
    *u = fmax(0, fmin(uc, ud));
    return fmin(uc, ud) <= 1 && fmax(uc, ud) >= 0;
  }
  *u = across != 0 ? fmin(1, fmax(0, point_cross(point_sub(c, a), cd) / across)) : 0;
  return true;
}

typedef struct {
  const Tree *a, *b;
  bool self;
  double best; /* smallest place on a that meets b: segment + fraction */
} Search;

/* Neighbours share a point, which is no crossing unless the second folds back on the first. */
static bool neighbours_fold(const Polyline *line, size_t i, size_t j)
{
  Point shared = line->at[j];
  Point back = point_sub(line->at[i], shared), on = point_sub(line->at[j + 1], shared);
  return side(line->at[i], shared, line->at[j + 1]) == 0 && point_dot(back, on) > 0;
}

static bool closed_line(const Polyline *line)
{
  Point a = line->at[0], b = line->at[line->n - 1];
  return a.x == b.x && a.y == b.y;
}

static void leaves_test(Search *s, size_t i, size_t j)
{
  const Polyline *a = s->a->line, *b = s->b->line;
  double u = 0;
  if (s->self) {
    if (j <= i)
      return;
    if (j == i + 1) {
      if (neighbours_fold(a, i, j))
        s->best = fmin(s->best, (double)j);
      return;
    }
    if (i == 0 && j + 1 == s->a->n && closed_line(a)) /* first and last share the closing point */
      return;
  }
  if (segments_meet(a->at[i], a->at[i + 1], b->at[j], b->at[j + 1], &u))
    s->best = fmin(s->best, (double)i + u);
}

/* Recursion is as deep as the two trees: at most 40. */
static void nodes_test(Search *s, size_t p, size_t q)
{
  const Box *a = &s->a->box[p], *b = &s->b->box[q];
  if (a->x0 > b->x1 || b->x0 > a->x1 || a->y0 > b->y1 || b->y0 > a->y1)
    return;
  size_t first = p, last = q;
  while (first < s->a->leaves)
    first *= 2;
  if ((double)(first - s->a->leaves) > s->best) /* all of it lies behind what is found */
    return;
  if (s->self) { /* each pair once: nothing where all of q lies before p */
    while (last < s->b->leaves)
      last = 2 * last + 1;
    if (last < first)
      return;
  }
  bool leaf_p = p >= s->a->leaves, leaf_q = q >= s->b->leaves;
  if (leaf_p && leaf_q) {
    leaves_test(s, p - s->a->leaves, q - s->b->leaves);
  } else if (leaf_q || (!leaf_p && p <= q)) {
    nodes_test(s, 2 * p, q);
    nodes_test(s, 2 * p + 1, q);
  } else {
    nodes_test(s, p, 2 * q);
    nodes_test(s, p, 2 * q + 1);
  }
}

static Fault search(const Tree *a, const Tree *b, bool self, Point *where)
{
  Search s = {a, b, self, INFINITY};
  nodes_test(&s, 1, 1);
  if (!isfinite(s.best))
    return FAULT_NONE;
  size_t i = (size_t)s.best < a->n ? (size_t)s.best : a->n - 1;
  if (where)
    *where = point_mix(a->line->at[i], a->line->at[i + 1], s.best - (double)i);
  return FAULT_CROSSING;
}

Fault outline_find_crossing(const Outline *outline, Point *where)
{
  Polyline line = {0};
  Tree tree = {0};
  Fault fault = outline_flatten(outline, TOL_FLATTEN_MM, &line);
  if (!fault)
    fault = tree_build(&tree, &line);
  if (!fault)
    fault = search(&tree, &tree, true, where);
  free(tree.box);
  polyline_clear(&line);
  return fault;
}

Fault outlines_find_crossing(const Outline *a, const Outline *b, Point *where)
{
  Polyline line_a = {0}, line_b = {0};
  Tree tree_a = {0}, tree_b = {0};
  Fault fault = outline_flatten(a, TOL_FLATTEN_MM, &line_a);
  if (!fault)
    fault = outline_flatten(b, TOL_FLATTEN_MM, &line_b);
  if (!fault)
    fault = tree_build(&tree_a, &line_a);
  if (!fault)
    fault = tree_build(&tree_b, &line_b);
  if (!fault)
    fault = search(&tree_a, &tree_b, false, where);
  free(tree_a.box);
  free(tree_b.box);
  polyline_clear(&line_a);
  polyline_clear(&line_b);
  return fault;
}
