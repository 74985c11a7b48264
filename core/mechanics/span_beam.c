/* span_beam.c - Timoshenko elements, band Cholesky.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Two-node element with exact shape functions (Przemieniecki, Theory of Matrix Structural Analysis,
 * from memory): phi = 12 EI / (kappa GA L^2). */
#include "mechanics/span_beam.h"
#include <math.h>

#define LOOSE 1e-15 /* a pivot this small beside its row: nothing holds that way */

/* Unknowns of an element that bend it: up and rotation of its two nodes. */
static const size_t bending[4] = {1, 2, 4, 5};

static double phi_of(const Beam *beam, size_t e)
{
  double length = beam->x[e + 1] - beam->x[e];
  return 12 * beam->ei[e] / (beam->ga[e] * length * length);
}

void beam_assemble(Beam *beam)
{
  for (size_t i = 0; i < 3 * beam->n; i++)
    for (int d = 0; d <= BEAM_HALF_BAND; d++)
      beam->band[i][d] = 0; /* band[i][d] = K(i, i - d) */
  for (size_t e = 0; e + 1 < beam->n; e++) {
    double l = beam->x[e + 1] - beam->x[e], phi = phi_of(beam, e);
    double c = beam->ei[e] / (l * l * l * (1 + phi)), along = beam->ea[e] / l;
    double k[4][4] = {{12, 6 * l, -12, 6 * l},
                      {6 * l, (4 + phi) * l * l, -6 * l, (2 - phi) * l * l},
                      {-12, -6 * l, 12, -6 * l},
                      {6 * l, (2 - phi) * l * l, -6 * l, (4 + phi) * l * l}};
    for (size_t r = 0; r < 4; r++)
      for (size_t s = 0; s <= r; s++) {
        size_t row = 3 * e + bending[r], column = 3 * e + bending[s];
        beam->band[row][row - column] += c * k[r][s];
      }
    beam->band[3 * e][0] += along;
    beam->band[3 * e + 3][0] += along;
    beam->band[3 * e + 3][3] -= along;
  }
}

void beam_spring(Beam *beam, size_t node, const BeamSpring *spring)
{
  double h = spring->lever; /* the held point moves along by u + h rotation */
  beam->band[3 * node][0] += spring->lateral;
  beam->band[3 * node + 1][0] += spring->vertical;
  beam->band[3 * node + 2][0] += spring->rotation + spring->lateral * h * h;
  beam->band[3 * node + 2][2] += spring->lateral * h;
}

void beam_hold_axis(Beam *beam)
{
  beam->band[0][0] += beam->ea[0];
}

Fault beam_factor(Beam *beam)
{
  const size_t w = BEAM_HALF_BAND, n = 3 * beam->n;
  for (size_t i = 0; i < n; i++) {
    double before = beam->band[i][0];
    for (size_t j = i >= w ? i - w : 0; j <= i; j++) {
      double sum = beam->band[i][i - j];
      for (size_t k = i >= w ? i - w : 0; k < j; k++)
        if (j - k <= w)
          sum -= beam->band[i][i - k] * beam->band[j][j - k];
      if (j < i)
        beam->band[i][i - j] = sum / beam->band[j][0];
      else if (!(sum > LOOSE * before))
        return FAULT_SUPPORT;
      else
        beam->band[i][0] = sqrt(sum);
    }
  }
  return FAULT_NONE;
}

void beam_solve(const Beam *beam, double f[])
{
  const size_t w = BEAM_HALF_BAND, n = 3 * beam->n;
  for (size_t i = 0; i < n; i++) {
    for (size_t d = 1; d <= w && d <= i; d++)
      f[i] -= beam->band[i][d] * f[i - d];
    f[i] /= beam->band[i][0];
  }
  for (size_t i = n; i-- > 0;) {
    for (size_t d = 1; d <= w && i + d < n; d++)
      f[i] -= beam->band[i + d][d] * f[i + d];
    f[i] /= beam->band[i][0];
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

/* Weights of the four nodal values of element e at x. */
static void shape_at(const Beam *beam, size_t e, double x, double n[4])
{
  double l = beam->x[e + 1] - beam->x[e], phi = phi_of(beam, e), t = (x - beam->x[e]) / l,
         s = 1 / (1 + phi);
  n[0] = s * (1 - 3 * t * t + 2 * t * t * t + phi * (1 - t));
  n[1] = s * l * (t - 2 * t * t + t * t * t + phi / 2 * (t - t * t));
  n[2] = s * (3 * t * t - 2 * t * t * t + phi * t);
  n[3] = s * l * (-t * t + t * t * t - phi / 2 * (t - t * t));
}

double beam_shape(const Beam *beam, const double u[], double x)
{
  size_t e = beam_element(beam, x);
  double n[4], sum = 0;
  shape_at(beam, e, x, n);
  for (size_t k = 0; k < 4; k++)
    sum += n[k] * u[3 * e + bending[k]];
  return sum;
}

void beam_force(const Beam *beam, double x, double force, double f[])
{
  size_t e = beam_element(beam, x);
  double n[4];
  shape_at(beam, e, x, n);
  for (size_t k = 0; k < 4; k++)
    f[3 * e + bending[k]] += force * n[k];
}
