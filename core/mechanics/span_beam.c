/* span_beam.c - Timoshenko elements in space, band Cholesky.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Two-node element with exact shape functions (Przemieniecki, Theory of Matrix Structural Analysis,
 * from memory): phi = 12 EI / (kappa GA L^2), in the elevation and in the plan; Saint-Venant's
 * torsion.  Flat and space beams have the same first three unknowns and the same arithmetic. */
#include "mechanics/span_beam.h"
#include <math.h>
#include <stdbool.h>

#define LOOSE 1e-15 /* a pivot this small beside its row: nothing holds that way */

/* Unknowns of an element that bend it in the elevation, and in the plan: deflection and rotation of
 * its two nodes. */
static const size_t bending[2][4] = {{WAY_UP, WAY_TURN, WAY_N + WAY_UP, WAY_N + WAY_TURN},
                                     {WAY_CHEEK, WAY_YAW, WAY_N + WAY_CHEEK, WAY_N + WAY_YAW}};
/* The slope is the rotation in the elevation, minus it in the plan. */
static const double slope_sign[2] = {1, -1};

static double stiffness_of(const BeamElement *e, int plan)
{
  return plan ? e->ei_plan : e->ei;
}

static double phi_of(const Beam *beam, size_t e, int plan)
{
  double length = beam->x[e + 1] - beam->x[e];
  return 12 * stiffness_of(&beam->element[e], plan) / (beam->element[e].ga * length * length);
}

static size_t half_band(const Beam *beam)
{
  return 2 * beam->dofs - 1;
}

/* K(i, i - d) */
static double *entry(Beam *beam, size_t i, size_t d)
{
  return &beam->band[i * 2 * beam->dofs + d];
}

static double entry_of(const Beam *beam, size_t i, size_t d)
{
  return beam->band[i * 2 * beam->dofs + d];
}

/* The six values of a node from the arch's frame into that of the span: t and n are x and z turned
 * by the heading.  The transpose turns back. */
static void node_turn(double v[WAY_N], Heading heading)
{
  double c = heading.c, s = heading.s;
  double along = v[WAY_ALONG], cheek = v[WAY_CHEEK], twist = v[WAY_TWIST], turn = v[WAY_TURN];
  v[WAY_ALONG] = c * along - s * cheek;
  v[WAY_CHEEK] = s * along + c * cheek;
  v[WAY_TWIST] = c * twist - s * turn;
  v[WAY_TURN] = s * twist + c * turn;
}

/* Adds the lower part of a matrix of `nodes` nodes (1 or 2), given in the frame of the heading. */
static void add_block(Beam *beam, size_t node, size_t nodes, Heading heading,
                      double k[2 * WAY_N][2 * WAY_N])
{
  const size_t n = nodes * WAY_N;
  if (beam->dofs == BEAM_SPACE)
    for (int pass = 0; pass < 2; pass++) { /* rows, then columns: K = T k T' */
      for (size_t i = 0; i < n; i++)
        for (size_t a = 0; a < nodes; a++)
          node_turn(&k[i][a * WAY_N], heading);
      for (size_t i = 0; i < n; i++)
        for (size_t j = 0; j < i; j++) {
          double swap = k[i][j];
          k[i][j] = k[j][i];
          k[j][i] = swap;
        }
    }
  for (size_t i = 0; i < nodes * beam->dofs; i++)
    for (size_t j = 0; j <= i; j++) {
      size_t a = i / beam->dofs, b = j / beam->dofs, row = node * beam->dofs + i;
      *entry(beam, row, i - j) += k[a * WAY_N + i % beam->dofs][b * WAY_N + j % beam->dofs];
    }
}

static void rod(double k[2 * WAY_N][2 * WAY_N], BeamWay way, double stiffness)
{
  k[way][way] = k[WAY_N + way][WAY_N + way] = stiffness;
  k[way][WAY_N + way] = k[WAY_N + way][way] = -stiffness;
}

static void element_add(Beam *beam, size_t e)
{
  const BeamElement *at = &beam->element[e];
  double k[2 * WAY_N][2 * WAY_N] = {{0}}, l = beam->x[e + 1] - beam->x[e];
  for (int plan = 0; plan <= (beam->dofs == BEAM_SPACE); plan++) {
    double phi = phi_of(beam, e, plan), sign = slope_sign[plan];
    double c = stiffness_of(at, plan) / (l * l * l * (1 + phi));
    double b[4][4] = {{12, 6 * l, -12, 6 * l},
                      {6 * l, (4 + phi) * l * l, -6 * l, (2 - phi) * l * l},
                      {-12, -6 * l, 12, -6 * l},
                      {6 * l, (2 - phi) * l * l, -6 * l, (4 + phi) * l * l}};
    for (size_t r = 0; r < 4; r++)
      for (size_t s = 0; s < 4; s++)
        k[bending[plan][r]][bending[plan][s]] = (r % 2 == s % 2 ? 1 : sign) * (c * b[r][s]);
  }
  rod(k, WAY_ALONG, at->ea / l);
  if (beam->dofs == BEAM_SPACE)
    rod(k, WAY_TWIST, at->gj / l);
  add_block(beam, e, 2, at->heading, k);
}

void beam_assemble(Beam *beam)
{
  for (size_t i = 0; i < beam->n * beam->dofs; i++)
    for (size_t d = 0; d <= half_band(beam); d++)
      *entry(beam, i, d) = 0;
  for (size_t e = 0; e + 1 < beam->n; e++)
    element_add(beam, e);
}

void beam_spring(Beam *beam, size_t node, Heading heading, const BeamSpring *spring)
{
  const double *s = spring->stiffness, h = spring->lever;
  double k[2 * WAY_N][2 * WAY_N] = {{0}};
  for (int way = 0; way < WAY_N; way++)
    k[way][way] = s[way];
  /* the held point moves along by u + h turn, towards the cheek by w - h twist */
  k[WAY_TURN][WAY_TURN] += s[WAY_ALONG] * h * h;
  k[WAY_TURN][WAY_ALONG] = k[WAY_ALONG][WAY_TURN] = s[WAY_ALONG] * h;
  k[WAY_TWIST][WAY_TWIST] += s[WAY_CHEEK] * h * h;
  k[WAY_TWIST][WAY_CHEEK] = k[WAY_CHEEK][WAY_TWIST] = -s[WAY_CHEEK] * h;
  add_block(beam, node, 1, heading, k);
}

void beam_spring_push(const Beam *beam, size_t node, Heading heading, BeamWay way, double lever,
                      size_t m, size_t j, double f[])
{
  double v[WAY_N] = {0};
  v[way] = 1;
  if (way == WAY_ALONG)
    v[WAY_TURN] = lever;
  if (way == WAY_CHEEK)
    v[WAY_TWIST] = -lever;
  if (beam->dofs == BEAM_SPACE)
    node_turn(v, heading);
  for (size_t i = 0; i < beam->dofs; i++)
    f[(beam->dofs * node + i) * m + j] += v[i];
}

void beam_hold_axis(Beam *beam)
{
  *entry(beam, 0, 0) += beam->element[0].ea;
}

Fault beam_factor(Beam *beam)
{
  const size_t w = half_band(beam), n = beam->dofs * beam->n;
  for (size_t i = 0; i < n; i++) {
    double before = *entry(beam, i, 0);
    for (size_t j = i >= w ? i - w : 0; j <= i; j++) {
      double sum = *entry(beam, i, i - j);
      for (size_t k = i >= w ? i - w : 0; k < j; k++)
        if (j - k <= w)
          sum -= *entry(beam, i, i - k) * *entry(beam, j, j - k);
      if (j < i)
        *entry(beam, i, i - j) = sum / *entry(beam, j, 0);
      else if (!(sum > LOOSE * before))
        return FAULT_SUPPORT;
      else
        *entry(beam, i, 0) = sqrt(sum);
    }
  }
  return FAULT_NONE;
}

/* row -= by * other, m wide */
static void row_less(double *restrict row, const double *restrict other, double by, size_t m)
{
  for (size_t j = 0; j < m; j++)
    row[j] -= by * other[j];
}

void beam_solve(const Beam *beam, size_t m, double f[])
{
  const size_t w = half_band(beam), n = beam->dofs * beam->n;
  for (size_t i = 0; i < n; i++) {
    for (size_t d = 1; d <= w && d <= i; d++)
      row_less(&f[i * m], &f[(i - d) * m], entry_of(beam, i, d), m);
    for (size_t j = 0; j < m; j++)
      f[i * m + j] /= entry_of(beam, i, 0);
  }
  for (size_t i = n; i-- > 0;) {
    for (size_t d = 1; d <= w && i + d < n; d++)
      row_less(&f[i * m], &f[(i + d) * m], entry_of(beam, i + d, d), m);
    for (size_t j = 0; j < m; j++)
      f[i * m + j] /= entry_of(beam, i, 0);
  }
}

size_t beam_element(const Beam *beam, double x)
{
  size_t low = 0, high = beam->n - 1;
  while (high - low > 1) {
    size_t mid = (low + high) / 2;
    if (beam->x[mid] <= x)
      low = mid;
    else
      high = mid;
  }
  return low;
}

/* Weights of the deflections and slopes of the two nodes in the elevation or the plan. */
static void bend_at(const Beam *beam, size_t e, double t, int plan, double scale,
                    double n[2 * WAY_N])
{
  double l = beam->x[e + 1] - beam->x[e], phi = phi_of(beam, e, plan), s = scale / (1 + phi),
         sign = slope_sign[plan];
  n[bending[plan][0]] = s * (1 - 3 * t * t + 2 * t * t * t + phi * (1 - t));
  n[bending[plan][1]] = sign * (s * l * (t - 2 * t * t + t * t * t + phi / 2 * (t - t * t)));
  n[bending[plan][2]] = s * (3 * t * t - 2 * t * t * t + phi * t);
  n[bending[plan][3]] = sign * (s * l * (-t * t + t * t * t - phi / 2 * (t - t * t)));
}

/* Weights of the values of the two nodes of element e, in the frame of the span, that give the
 * movement at x along a way of the heading. */
static void shape_at(const Beam *beam, size_t e, double x, BeamWay way, Heading heading,
                     double n[2 * WAY_N])
{
  double t = (x - beam->x[e]) / (beam->x[e + 1] - beam->x[e]);
  Heading axis = beam->element[e].heading; /* c, s: from it to the heading */
  double c = heading.c * axis.c + heading.s * axis.s, s = heading.s * axis.c - heading.c * axis.s;
  for (size_t k = 0; k < 2 * WAY_N; k++)
    n[k] = 0;
  if (way == WAY_UP)
    bend_at(beam, e, t, 0, 1, n);
  else {
    bool twist = way == WAY_TWIST;
    size_t straight = twist ? WAY_TWIST : WAY_ALONG;
    if (!twist)
      bend_at(beam, e, t, 1, c, n);
    double along = twist ? c : -s;
    n[straight] = along * (1 - t);
    n[WAY_N + straight] = along * t;
    if (twist) {
      n[WAY_TURN] = s * (1 - t);
      n[WAY_N + WAY_TURN] = s * t;
    }
  }
  if (beam->dofs == BEAM_SPACE)
    for (size_t a = 0; a < 2; a++)
      node_turn(n + a * WAY_N, beam->element[e].heading);
}

void beam_shapes(const Beam *beam, size_t m, const double u[], double x, BeamWay way,
                 Heading heading, double movement[])
{
  size_t e = beam_element(beam, x);
  double n[2 * WAY_N];
  shape_at(beam, e, x, way, heading, n);
  for (size_t j = 0; j < m; j++)
    movement[j] = 0;
  for (size_t a = 0; a < 2; a++)
    for (size_t k = 0; k < beam->dofs; k++)
      row_less(movement, &u[((e + a) * beam->dofs + k) * m], -n[a * WAY_N + k], m);
}

void beam_force(const Beam *beam, double x, BeamWay way, Heading heading, double force, double f[])
{
  size_t e = beam_element(beam, x);
  double n[2 * WAY_N];
  shape_at(beam, e, x, way, heading, n);
  for (size_t a = 0; a < 2; a++)
    for (size_t k = 0; k < beam->dofs; k++)
      f[(e + a) * beam->dofs + k] += force * n[a * WAY_N + k];
}
