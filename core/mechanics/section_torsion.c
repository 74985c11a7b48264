/* section_torsion.c - torsion constant by the direct boundary element method.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The conjugate warping function psi is harmonic and equals r^2/2 on the rim; Prandtl's function is
 * psi - r^2/2 and J = I_p - 1/2 * integral over the rim of r^2 dpsi/dn  (Green's second identity
 * with r^2/4). Constant elements, exact integrals of ln r over straight pieces; unknown dpsi/dn.
 * Any simple outline, with holes in its convexity or not.  Lengths are divided by twice the extent:
 * the logarithm has no null space there. */
#include "mechanics/section_torsion.h"
#include <math.h>
#include <stdlib.h>

#define THINNEST 0.01 /* J / I_p of a strip of about 1 : 18 */

typedef struct {
  Point middle, along; /* centre, unit tangent (material on the left) */
  double half;         /* half length */
} Element;

/* Integral of ln r over the element, and the angle under which it is seen, from a point. */
static void element_integrals(const Element *e, Point from, double *log_r, double *angle)
{
  Point d = point_sub(e->middle, from);
  double t = point_dot(d, e->along),
         away = point_cross(d, e->along); /* distance along the outward normal */
  double a = t - e->half, b = t + e->half;
  double ra = a * a + away * away, rb = b * b + away * away;
  *angle = atan2(away * (b - a), a * b + away * away);
  if (fabs(away) < 1e-14)
    *angle = 0; /* on its own line */
  *log_r =
      (rb > 0 ? b * log(rb) / 2 : 0) - (ra > 0 ? a * log(ra) / 2 : 0) - (b - a) + away * *angle;
}

/* Solves the full system in place by elimination with row pivots. */
static Fault solve_full(double *a, double *x, size_t n)
{
  for (size_t k = 0; k < n; k++) {
    size_t best = k;
    for (size_t i = k + 1; i < n; i++)
      if (fabs(a[i * n + k]) > fabs(a[best * n + k]))
        best = i;
    if (!(fabs(a[best * n + k]) > 1e-14))
      return FAULT_SINGULAR;
    if (best != k) {
      for (size_t j = k; j < n; j++) {
        double swap = a[k * n + j];
        a[k * n + j] = a[best * n + j];
        a[best * n + j] = swap;
      }
      double swap = x[k];
      x[k] = x[best];
      x[best] = swap;
    }
    for (size_t i = k + 1; i < n; i++) {
      double f = a[i * n + k] / a[k * n + k];
      for (size_t j = k + 1; j < n; j++)
        a[i * n + j] -= f * a[k * n + j];
      x[i] -= f * x[k];
    }
  }
  for (size_t k = n; k-- > 0;) {
    for (size_t j = k + 1; j < n; j++)
      x[k] -= a[k * n + j] * x[j];
    x[k] /= a[k * n + k];
  }
  return FAULT_NONE;
}

/* Fills the elements, lengths divided by *scale and measured from the centroid; area and polar
 * moment of the polygon so scaled. */
static Fault elements_make(const Point rim[], size_t n, Element element[], double *scale,
                           double *area, double *polar)
{
  double twice = 0, sx = 0, sy = 0, reach = 0;
  for (size_t i = 0; i < n; i++) {
    Point a = point_sub(rim[i], rim[0]), b = point_sub(rim[(i + 1) % n], rim[0]);
    double c = point_cross(a, b);
    twice += c;
    sx += c * (a.x + b.x) / 3;
    sy += c * (a.y + b.y) / 3;
    reach = fmax(reach, point_length(a));
  }
  if (!(twice > 1e-9 * reach * reach) || !isfinite(twice))
    return FAULT_DEGENERATE;
  Point centre = point_add(rim[0], point(sx / twice, sy / twice));
  *scale = 2 * reach;
  *area = *polar = 0;
  for (size_t i = 0; i < n; i++) {
    Point a = point_scale(point_sub(rim[i], centre), 1 / *scale);
    Point b = point_scale(point_sub(rim[(i + 1) % n], centre), 1 / *scale);
    double length = point_distance(a, b), c = point_cross(a, b);
    if (!(length > 1e-12))
      return FAULT_DEGENERATE;
    element[i] =
        (Element){point_mix(a, b, 0.5), point_scale(point_sub(b, a), 1 / length), length / 2};
    *area += c / 2;
    *polar += c * (point_dot(a, a) + point_dot(a, b) + point_dot(b, b)) / 12;
  }
  return FAULT_NONE;
}

Fault section_torsion(const Point rim[], size_t n, double area, double *torsion)
{
  if (n < 8 || n > TORSION_MOST)
    return FAULT_RANGE;
  Element *element = malloc(n * sizeof *element);
  double *matrix = malloc(n * n * sizeof *matrix), *flux = calloc(n, sizeof *flux);
  double scale = 1, polygon = 0, polar = 0;
  Fault fault = element && matrix && flux ? FAULT_NONE : FAULT_MEMORY;
  if (!fault)
    fault = elements_make(rim, n, element, &scale, &polygon, &polar);
  for (size_t i = 0; i < n && !fault; i++) {
    Point from = element[i].middle;
    double here = point_dot(from, from) / 2;
    for (size_t j = 0; j < n; j++) {
      double angle;
      element_integrals(&element[j], from, &matrix[i * n + j], &angle);
      flux[i] += (point_dot(element[j].middle, element[j].middle) / 2 - here) * angle;
    }
  }
  if (!fault)
    fault = solve_full(matrix, flux, n);
  if (!fault) {
    double sum = 0;
    for (size_t j = 0; j < n; j++) {
      double square =
          point_dot(element[j].middle, element[j].middle) + element[j].half * element[j].half / 3;
      sum += square * flux[j] * 2 * element[j].half;
    }
    double j = polar - sum / 2, true_area = area / (scale * scale), grow = true_area / polygon;
    /* J is a small difference in a sliver; no section beats the circle (Polya) */
    if (!(j > THINNEST * polar && j < 1.02 * polygon * polygon / (2 * acos(-1.0))))
      fault = FAULT_DEGENERATE;
    else
      *torsion = j * grow * grow * pow(scale, 4);
  }
  free(flux);
  free(matrix);
  free(element);
  return fault;
}
