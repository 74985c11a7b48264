/* frame.c - which way a surface lies: its main axes, turned by hand.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Main axes of the surface itself, each triangle with its exact second moment: independent of how
 * finely it is divided. */
#include "mesh/mesh.h"

#define SWEEPS 30

static Vec3 unit(Vec3 a)
{
  return vec3_scale(a, 1 / vec3_length(a));
}

/* Jacobi rotations of a symmetric 3 x 3 matrix: columns of v become its main axes. */
static void main_axes(double m[3][3], double v[3][3])
{
  for (int i = 0; i < 3; i++)
    for (int k = 0; k < 3; k++)
      v[i][k] = i == k;
  for (int sweep = 0; sweep < SWEEPS; sweep++)
    for (int p = 0; p < 2; p++)
      for (int q = p + 1; q < 3; q++) {
        if (fabs(m[p][q]) < 1e-300)
          continue;
        double theta = 0.5 * atan2(2 * m[p][q], m[q][q] - m[p][p]), c = cos(theta), s = sin(theta);
        for (int k = 0; k < 3; k++) {
          double a = m[k][p], b = m[k][q], e = v[k][p], f = v[k][q];
          m[k][p] = c * a - s * b;
          m[k][q] = s * a + c * b;
          v[k][p] = c * e - s * f;
          v[k][q] = s * e + c * f;
        }
        for (int k = 0; k < 3; k++) {
          double a = m[p][k], b = m[q][k];
          m[p][k] = c * a - s * b;
          m[q][k] = s * a + c * b;
        }
      }
}

/* Area, centre and second moment about the centre. */
static double surface_moment(const Mesh *mesh, Vec3 *centre, double m[3][3])
{
  double area = 0;
  Vec3 sum = {0, 0, 0}, zero = mesh->at[0];
  for (int i = 0; i < 9; i++)
    m[i / 3][i % 3] = 0;
  for (size_t i = 0; i < mesh->n; i++) {
    Vec3 p[4];
    for (int k = 0; k < 3; k++)
      p[k] = vec3_add(mesh->at[mesh->triangle[i].v[k]], vec3_scale(zero, -1));
    p[3] = vec3_add(vec3_add(p[0], p[1]), p[2]); /* three times its middle */
    Vec3 n = vec3_cross(vec3_add(p[1], vec3_scale(p[0], -1)), vec3_add(p[2], vec3_scale(p[0], -1)));
    double a = sqrt(vec3_dot(n, n)) / 2;
    area += a;
    sum = vec3_add(sum, vec3_scale(p[3], a / 3));
    for (int k = 0; k < 4; k++) {
      const double w[3] = {p[k].x, p[k].y, p[k].z};
      for (int r = 0; r < 3; r++)
        for (int c = 0; c < 3; c++)
          m[r][c] += a / 12 * w[r] * w[c];
    }
  }
  if (!(area > 0))
    return 0;
  Vec3 c = vec3_scale(sum, 1 / area);
  const double w[3] = {c.x, c.y, c.z};
  for (int i = 0; i < 9; i++)
    m[i / 3][i % 3] -= area * w[i / 3] * w[i % 3];
  *centre = vec3_add(zero, c);
  return area;
}

Fault mesh_frame_guess(const Mesh *mesh, Vec3 up, bool left_handed, MeshFrame *frame)
{
  double m[3][3], v[3][3];
  Vec3 centre;
  if (mesh->n == 0 || !(surface_moment(mesh, &centre, m) > 0))
    return FAULT_DEGENERATE;
  main_axes(m, v);
  int longest = 0;
  for (int k = 1; k < 3; k++)
    if (m[k][k] > m[longest][longest])
      longest = k;
  Vec3 axis[3];
  for (int k = 0; k < 3; k++)
    axis[k] = (Vec3){v[0][k], v[1][k], v[2][k]};
  int a = (longest + 1) % 3, b = (longest + 2) % 3;
  MeshFrame f = {.origin = centre, .x = unit(axis[longest])};
  f.y = unit(fabs(vec3_dot(axis[a], up)) >= fabs(vec3_dot(axis[b], up)) ? axis[a] : axis[b]);
  if (vec3_dot(f.y, up) < 0)
    f.y = vec3_scale(f.y, -1);
  const double x[3] = {f.x.x, f.x.y, f.x.z};
  int large = fabs(x[0]) >= fabs(x[1]) && fabs(x[0]) >= fabs(x[2]) ? 0
              : fabs(x[1]) >= fabs(x[2])                           ? 1
                                                                   : 2;
  if (x[large] < 0) /* along the file's own axis */
    f.x = vec3_scale(f.x, -1);
  f.z = vec3_scale(vec3_cross(f.x, f.y), left_handed ? -1 : 1);
  *frame = f;
  return FAULT_NONE;
}

MeshFrame mesh_frame_turned(MeshFrame f, int quarters, bool end_for_end)
{
  for (int i = ((quarters % 4) + 4) % 4; i > 0; i--) {
    Vec3 y = f.y;
    f.y = vec3_scale(f.z, -1);
    f.z = y;
  }
  if (end_for_end) {
    f.x = vec3_scale(f.x, -1);
    f.z = vec3_scale(f.z, -1);
  }
  return f;
}

MeshFrame mesh_frame_tilted(MeshFrame f, double yaw, double pitch)
{
  bool left = vec3_dot(vec3_cross(f.x, f.y), f.z) < 0;
  Vec3 ahead = vec3_add(vec3_scale(f.x, cos(yaw)), vec3_scale(f.z, sin(yaw)));
  Vec3 x = unit(vec3_add(vec3_scale(ahead, cos(pitch)), vec3_scale(f.y, sin(pitch))));
  Vec3 y = unit(vec3_add(f.y, vec3_scale(x, -vec3_dot(f.y, x))));
  return (MeshFrame){f.origin, x, y, vec3_scale(vec3_cross(x, y), left ? -1 : 1)};
}

Vec3 mesh_frame_local(const MeshFrame *f, Vec3 p)
{
  Vec3 d = vec3_add(p, vec3_scale(f->origin, -1));
  return (Vec3){vec3_dot(d, f->x), vec3_dot(d, f->y), vec3_dot(d, f->z)};
}

Vec3 mesh_frame_place(const MeshFrame *f, Vec3 p)
{
  return vec3_add(vec3_add(f->origin, vec3_scale(f->x, p.x)),
                  vec3_add(vec3_scale(f->y, p.y), vec3_scale(f->z, p.z)));
}
