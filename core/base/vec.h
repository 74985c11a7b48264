/* vec.h - points in the plane and in space.  Lengths mm.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <math.h>
#include <stdbool.h>

typedef struct {
  double x, y;
} Point;

typedef struct {
  double x, y, z;
} Vec3;

static inline Point point(double x, double y)
{
  return (Point){x, y};
}
static inline Point point_add(Point a, Point b)
{
  return (Point){a.x + b.x, a.y + b.y};
}
static inline Point point_sub(Point a, Point b)
{
  return (Point){a.x - b.x, a.y - b.y};
}
static inline Point point_scale(Point a, double k)
{
  return (Point){a.x * k, a.y * k};
}
/* a + t (b - a) */
static inline Point point_mix(Point a, Point b, double t)
{
  return (Point){a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
}
static inline double point_dot(Point a, Point b)
{
  return a.x * b.x + a.y * b.y;
}
/* z part of a x b: > 0 when b lies to the left of a */
static inline double point_cross(Point a, Point b)
{
  return a.x * b.y - a.y * b.x;
}
static inline double point_length(Point a)
{
  return sqrt(a.x * a.x + a.y * a.y); /* hypot() is slow, mm never overflow */
}
static inline double point_distance(Point a, Point b)
{
  return point_length(point_sub(a, b));
}
static inline bool point_finite(Point a)
{
  return isfinite(a.x) && isfinite(a.y);
}
static inline Vec3 vec3_add(Vec3 a, Vec3 b)
{
  return (Vec3){a.x + b.x, a.y + b.y, a.z + b.z};
}
static inline Vec3 vec3_sub(Vec3 a, Vec3 b)
{
  return (Vec3){a.x - b.x, a.y - b.y, a.z - b.z};
}
static inline Vec3 vec3_scale(Vec3 a, double k)
{
  return (Vec3){k * a.x, k * a.y, k * a.z};
}
static inline double vec3_dot(Vec3 a, Vec3 b)
{
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
static inline Vec3 vec3_cross(Vec3 a, Vec3 b)
{
  return (Vec3){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
static inline double vec3_length(Vec3 a)
{
  return sqrt(vec3_dot(a, a));
}
