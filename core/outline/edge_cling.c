/* edge_cling.c - gradient of a smoothed picture, its ridges, and a stroke that clings to them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline/edge_cling.h"
#include <stdbool.h>
#include <stdlib.h>

#define KERNEL 5        /* px to each side: more than 3 sigma */
#define ALONG_PX 10.0   /* a hand shakes: the direction of a stroke is read over this length */
#define ALIKE_WINDOW 4  /* neighbours to each side that a move is held against */
#define ALIKE_PX 2.5    /* a move farther from the middle of its neighbours' is taken out */
#define ACROSS_STEP 1.0 /* px between the samples across a stroke */

static double pixel(const GreyPicture *p, int x, int y)
{
  x = x < 0 ? 0 : x >= p->width ? p->width - 1 : x;
  y = y < 0 ? 0 : y >= p->height ? p->height - 1 : y;
  return (double)p->grey[(size_t)y * (size_t)p->width + (size_t)x];
}

/* Gradient of the smoothed picture at a place, a px: the picture folded with the derivative of the
 * Gauss curve, which is sampled at the place itself and not at the nearest pixel. */
static Point gradient(const GreyPicture *p, Point at)
{
  int x0 = (int)floor(at.x - 0.5), y0 = (int)floor(at.y - 0.5);
  double gx[2 * KERNEL + 2], gy[2 * KERNEL + 2], sum_x = 0, sum_y = 0;
  Point sum = {0, 0};
  for (int i = -KERNEL; i <= KERNEL + 1; i++) {
    double dx = x0 + i + 0.5 - at.x, dy = y0 + i + 0.5 - at.y;
    sum_x += gx[i + KERNEL] = exp(-dx * dx / (2 * EDGE_SIGMA_PX * EDGE_SIGMA_PX));
    sum_y += gy[i + KERNEL] = exp(-dy * dy / (2 * EDGE_SIGMA_PX * EDGE_SIGMA_PX));
  }
  for (int j = -KERNEL; j <= KERNEL + 1; j++)
    for (int i = -KERNEL; i <= KERNEL + 1; i++) {
      double w = gx[i + KERNEL] * gy[j + KERNEL] * pixel(p, x0 + i, y0 + j);
      sum.x += w * (x0 + i + 0.5 - at.x);
      sum.y += w * (y0 + j + 0.5 - at.y);
    }
  return point_scale(sum, 1 / (sum_x * sum_y * EDGE_SIGMA_PX * EDGE_SIGMA_PX));
}

/* An ideal step of height h has the gradient h / (sigma sqrt(2 pi)) on its edge. */
static double least_gradient(void)
{
  return EDGE_LEAST / (EDGE_SIGMA_PX * sqrt(2 * acos(-1.0)));
}

/* The top of a parabola through three values one step apart: offset in steps, in [-0.5, 0.5]. */
static double ridge_offset(double before, double here, double after)
{
  double bend = before - 2 * here + after;
  return bend < 0 ? fmax(-0.5, fmin(0.5, (before - after) / (2 * bend))) : 0;
}

static double nearer(double distance, double reach)
{
  return 1 - 0.5 * distance * distance / (reach * reach);
}

/* Direction of the stroke at point i, from neighbours far enough apart. */
static Point along(const Point at[], size_t n, size_t i)
{
  for (size_t by = 1; by < n; by++) {
    Point a = at[i >= by ? i - by : 0], b = at[i + by < n ? i + by : n - 1];
    double length = point_distance(a, b);
    if (length >= ALONG_PX || (i < by && i + by >= n))
      return length > 0 ? point_scale(point_sub(b, a), 1 / length) : point(1, 0);
  }
  return point(1, 0);
}

/* How far across the stroke its edge lies; NaN where nothing stands out. */
static double move_across(const GreyPicture *p, Point at, Point normal, double reach)
{
  int steps = (int)floor(reach / ACROSS_STEP);
  double best = 0, move = NAN, value[3] = {0};
  for (int k = -steps - 1; k <= steps + 1; k++) { /* a window of three runs across */
    value[0] = value[1];
    value[1] = value[2];
    value[2] =
        fabs(point_dot(gradient(p, point_add(at, point_scale(normal, k * ACROSS_STEP))), normal));
    double s = (k - 1) * ACROSS_STEP;
    bool ridge = value[1] >= least_gradient() && value[1] >= value[0] && value[1] >= value[2];
    if (k - 1 < -steps || !ridge) /* NaN is no ridge */
      continue;
    double weight = value[1] * nearer(fabs(s), reach);
    if (weight > best) {
      best = weight;
      move = s + ACROSS_STEP * ridge_offset(value[0], value[1], value[2]);
    }
  }
  return move;
}

static int order(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return x < y ? -1 : x > y;
}

/* Middle of the moves known about i. */
static double neighbours(const double move[], size_t n, size_t i)
{
  double known[2 * ALIKE_WINDOW + 1];
  size_t count = 0;
  for (size_t k = i >= ALIKE_WINDOW ? i - ALIKE_WINDOW : 0; k < n && k <= i + ALIKE_WINDOW; k++)
    if (!isnan(move[k]))
      known[count++] = move[k];
  if (count == 0)
    return 0;
  qsort(known, count, sizeof *known, order);
  return count % 2 ? known[count / 2] : (known[count / 2 - 1] + known[count / 2]) / 2;
}

Fault stroke_cling(const GreyPicture *picture, const Point at[], size_t n, double reach,
                   Point clung[])
{
  if (n == 0 || !(reach > 0) || reach > EDGE_REACH_MOST_PX || picture->width < 3 ||
      picture->height < 3)
    return FAULT_RANGE;
  double *move = malloc(n * sizeof *move);
  Point *moved = malloc(n * sizeof *moved);
  Fault fault = move && moved ? FAULT_NONE : FAULT_MEMORY;
  for (size_t i = 0; !fault && i < n; i++) {
    if (!point_finite(at[i])) {
      fault = FAULT_NOT_FINITE;
      break;
    }
    Point d = along(at, n, i);
    move[i] = move_across(picture, at[i], point(-d.y, d.x), reach);
  }
  for (size_t i = 0; !fault && i < n; i++) {
    Point d = along(at, n, i);
    double middle = neighbours(move, n, i), by = move[i];
    if (isnan(by) || fabs(by - middle) > ALIKE_PX)
      by = middle;
    moved[i] = point_add(at[i], point_scale(point(-d.y, d.x), by));
  }
  for (size_t i = 0; !fault && i < n; i++)
    clung[i] = moved[i];
  free(move);
  free(moved);
  return fault;
}
