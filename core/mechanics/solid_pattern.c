/* solid_pattern.c - the quads of one section: a core and graded rings around it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "solid_pattern.h"
#include "base/vec.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define CORE_SQUARE 0.4 /* how far the core is drawn towards a rectangle                        */

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
  return PATTERN_CORE * (1 - CORE_SQUARE + CORE_SQUARE * chord);
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
      sum = sum * growth + outer;
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

/* ---- order ---- */

#define KEY_SAME 1e-6

typedef struct {
  double key, then;
  int index;
} Keyed;

static int keyed_compare(const void *pa, const void *pb)
{
  const Keyed *a = pa, *b = pb;
  if (a->key != b->key)
    return a->key > b->key ? 1 : -1;
  return a->then != b->then ? (a->then > b->then ? 1 : -1) : a->index - b->index;
}

/* Where a node stands on the way from the gingival to the occlusal end, 0 half way; the core's
 * inner nodes stand between its rim and half way. */
static double node_key(const Pattern *p, int i)
{
  return (p->phi[i] - acos(-1.0) / 2) * fmin(1, p->f[i] / core_rim_fraction(p->phi[i]));
}

static void nodes_order(Pattern *p)
{
  Keyed keyed[PATTERN_NODES];
  int place[PATTERN_NODES];
  Pattern before = *p;
  for (int i = 0; i < p->nodes; i++)
    keyed[i] = (Keyed){node_key(p, i), 0, i};
  qsort(keyed, (size_t)p->nodes, sizeof *keyed, keyed_compare);
  for (int i = 0; i < p->nodes; i++) {
    int old = keyed[i].index;
    place[old] = i;
    p->phi[i] = before.phi[old];
    p->f[i] = before.f[old];
    p->half[i] = before.half[old];
    p->corner[i] = before.corner[old];
  }
  for (int q = 0; q < p->quads; q++)
    for (int k = 0; k < 8; k++)
      p->quad[q][k] = place[p->quad[q][k]];
  for (int lingual = 0; lingual < 2; lingual++)
    for (int a = 0; a <= 6 * p->core; a++)
      for (int r = 0; r <= 2 * p->rings; r++)
        if (p->grid[lingual][a][r] >= 0)
          p->grid[lingual][a][r] = place[p->grid[lingual][a][r]];
}

/* Ends, and in each of them first the nodes whose quads reach the least way to the middle. */
static void ends_order(Pattern *p)
{
  Keyed keyed[PATTERN_NODES];
  double key[PATTERN_NODES], from[PATTERN_NODES], to[PATTERN_NODES];
  for (int i = 0; i < p->nodes; i++) {
    key[i] = from[i] = to[i] = node_key(p, i);
    p->end[i] = key[i] < -KEY_SAME ? END_LOW : END_HIGH;
  }
  for (int q = 0; q < p->quads; q++) {
    double low = INFINITY, high = -INFINITY;
    for (int k = 0; k < 8; k++) {
      low = fmin(low, key[p->quad[q][k]]);
      high = fmax(high, key[p->quad[q][k]]);
    }
    for (int k = 0; k < 8; k++) {
      int i = p->quad[q][k];
      from[i] = fmin(from[i], low);
      to[i] = fmax(to[i], high);
      if (p->end[i] == END_HIGH && low < -KEY_SAME)
        p->end[i] = END_BETWEEN;
    }
  }
  for (int i = 0; i < p->nodes; i++)
    keyed[i] = (Keyed){p->end[i],
                       p->end[i] == END_LOW    ? to[i]
                       : p->end[i] == END_HIGH ? -from[i]
                                               : key[i],
                       i};
  qsort(keyed, (size_t)p->nodes, sizeof *keyed, keyed_compare);
  int n = 0;
  p->corners = 0;
  for (int k = 0; k < p->nodes; k++) {
    int i = keyed[k].index;
    if (p->corner[i] >= 0) {
      p->corner[i] = p->corners;
      p->corner_node[p->corners++] = i;
      p->last_order[n++] = (LayerNode){i, true};
    }
    p->last_order[n++] = (LayerNode){i, false};
  }
}

/* Angles and drawn ratios of the loft's section: its corners move the borders of the cells; both
 * fade towards the middle. */
static void pattern_turn(Pattern *p, const Loft *loft)
{
  for (int i = 0; i < p->nodes; i++) {
    bool lingual = p->half[i] < 0;
    double moved = loft_section_angle(loft, p->phi[i], 3 * p->core, lingual) - p->phi[i];
    p->phi[i] += moved * fmin(1, p->f[i] / (PATTERN_CORE * (1 - CORE_SQUARE)));
    p->ratio[i] = pow(loft_section_ratio(loft, p->phi[i], lingual), p->f[i]);
  }
}

void pattern_make(Pattern *p, const Loft *loft, int core, int rings, double outer_low,
                  double outer_high, bool both_halves)
{
  int id[PATTERN_ANGLES][PATTERN_ANGLES];
  p->core = core;
  p->rings = rings;
  p->nodes = p->quads = p->corners = 0;
  core_add(p, id);
  rings_add(p, id, outer_low, outer_high);
  if (both_halves)
    pattern_double(p);
  nodes_order(p);
  ends_order(p);
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
