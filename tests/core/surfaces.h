/* surfaces.h - surfaces of triangles whose exact shape is known, for tests.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  A tube surface: for each station along the span a closed section given by a function; its
 * ends are closed with fans.  Corners lie on the exact surface, so a chord stays inside by at most
 * r (1 - cos(pi / n)) of the local radius r: the tessellation error that checks allow for. */
#pragma once
#include <glib.h>
#include <math.h>
#include <string.h>
#include "mesh/stl.h"

typedef struct {
  GArray *corner; /* float[3] */
} Facets;

static inline Facets surface_new(void)
{
  return (Facets){g_array_new(FALSE, FALSE, 3 * sizeof(float))};
}

static inline void surface_free(Facets *s)
{
  g_array_unref(s->corner);
}

static inline size_t surface_size(const Facets *s)
{
  return s->corner->len / 3;
}

static inline void surface_corner(Facets *s, Vec3 p)
{
  const float c[3] = {(float)p.x, (float)p.y, (float)p.z};
  g_array_append_vals(s->corner, c, 1);
}

static inline void surface_triangle(Facets *s, Vec3 a, Vec3 b, Vec3 c)
{
  surface_corner(s, a);
  surface_corner(s, b);
  surface_corner(s, c);
}

/* The point of the section at x in [x0, x1] and angle phi (from z towards y). */
typedef Vec3 (*TubePoint)(double x, double phi, const void *data);

/* Outward while x, y, z of the function are right-handed; closed by fans unless open_ends. */
static inline void surface_tube(Facets *s, TubePoint at, const void *data, double x0, double x1,
                                int along, int around, bool open_ends)
{
  for (int i = 0; i < along; i++) {
    double a = x0 + (x1 - x0) * i / along, b = x0 + (x1 - x0) * (i + 1) / along;
    for (int k = 0; k < around; k++) {
      double p = 2 * G_PI * k / around, q = 2 * G_PI * ((k + 1) % around) / around;
      Vec3 ap = at(a, p, data), aq = at(a, q, data), bp = at(b, p, data), bq = at(b, q, data);
      surface_triangle(s, ap, bp, bq);
      surface_triangle(s, ap, bq, aq);
    }
  }
  for (int end = 0; end < 2 && !open_ends; end++) {
    double x = end ? x1 : x0;
    Vec3 middle = {0, 0, 0};
    for (int k = 0; k < around; k++)
      middle = vec3_add(middle, vec3_scale(at(x, 2 * G_PI * k / around, data), 1.0 / around));
    for (int k = 0; k < around; k++) {
      Vec3 p = at(x, 2 * G_PI * k / around, data),
           q = at(x, 2 * G_PI * ((k + 1) % around) / around, data);
      if (end)
        surface_triangle(s, middle, q, p);
      else
        surface_triangle(s, middle, p, q);
    }
  }
}

/* A row of units as a bridge has them: half height and half width along the span swing between
 * neck and body; the gum side of the body lies lower. */
typedef struct {
  double pitch;               /* from neck to neck                          */
  double neck_low, neck_high; /* y of the section at a neck                 */
  double body_low, body_high;
  double neck_half, body_half; /* half widths                                */
  double mouth;                /* x half length of the embrasure             */
} Row;

/* 0 at a neck, 1 away from it: a smooth step of the distance. */
static inline double row_swing(const Row *row, double x)
{
  double d = fabs(remainder(x, row->pitch)) / row->mouth;
  return d >= 1 ? 1 : (1 - cos(G_PI * d)) / 2;
}

static inline Vec3 row_point(double x, double phi, const void *data)
{
  const Row *row = data;
  double k = row_swing(row, x);
  double low = row->neck_low + k * (row->body_low - row->neck_low);
  double high = row->neck_high + k * (row->body_high - row->neck_high);
  double half = row->neck_half + k * (row->body_half - row->neck_half);
  return (Vec3){x, (low + high) / 2 + (high - low) / 2 * sin(phi), half * cos(phi)};
}

static const Row ROW_SOUND = {9, 2.2, 6.1, 0, 7.5, 1.9, 4, 2.6};

/* ---- as a file ---- */

static inline void put32(GString *file, uint32_t value)
{
  for (int k = 0; k < 4; k++)
    g_string_append_c(file, (char)(value >> (8 * k) & 0xff));
}

static inline GString *surface_binary(const Facets *s)
{
  GString *file = g_string_new("tessellated for a test");
  while (file->len < 80)
    g_string_append_c(file, ' ');
  put32(file, (uint32_t)surface_size(s));
  for (size_t i = 0; i < surface_size(s); i++) {
    for (int k = 0; k < 3; k++)
      put32(file, 0);
    for (size_t k = 0; k < 9; k++) {
      uint32_t bits;
      memcpy(&bits, s->corner->data + (9 * i + k) * sizeof(float), sizeof bits);
      put32(file, bits);
    }
    g_string_append_len(file, "\0\0", 2);
  }
  return file;
}

static inline GString *surface_text(const Facets *s)
{
  GString *file = g_string_new("solid tessellated for a test\n");
  char number[3][G_ASCII_DTOSTR_BUF_SIZE];
  for (size_t i = 0; i < surface_size(s); i++) {
    g_string_append(file, "  facet normal 0 0 0\n    outer loop\n");
    for (size_t k = 0; k < 3; k++) {
      const float *c = &((const float *)(void *)s->corner->data)[3 * (3 * i + k)];
      for (int m = 0; m < 3; m++)
        g_ascii_formatd(number[m], sizeof number[m], "%.9g", (double)c[m]);
      g_string_append_printf(file, "      vertex %s %s %s\n", number[0], number[1], number[2]);
    }
    g_string_append(file, "    endloop\n  endfacet\n");
  }
  g_string_append(file, "endsolid tessellated for a test\n");
  return file;
}

/* Read as if from a file; the surface is given up. */
static inline Mesh surface_mesh(Facets *s, StlReport *report)
{
  Mesh mesh = {0};
  GString *file = surface_binary(s);
  Fault fault = stl_read(file->str, file->len, STL_UNIT_MM, NULL, &mesh, report);
  g_assert_cmpint(fault, ==, FAULT_NONE);
  g_string_free(file, TRUE);
  surface_free(s);
  return mesh;
}
