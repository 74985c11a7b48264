/* test_form.c - readings of a connector against the worked figures of the trade exercises.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm, angles degrees.  Source of the table: the practice exercises and demo cases of the
 * trade notes (invented data; their figures were computed from the corners, given to 0.01 mm and 1
 * degree). */
#include <glib.h>
#include "outline/form.h"

#define BODY 7.0
#define CORNERS_MAX 9

typedef enum { FLAT, PAPILLA_34, RIDGE_46, PAPILLA_05, PAPILLA_09 } Tissue;

typedef struct {
  const char *name, *corners;
  double groove_y, roof, radius, gap, lean_left, lean_right, neck;
  Tissue tissue;
} Row;

/* corners as "x y r" triples; groove y; roof, radius, gap circle, leg leans, neck height as
 * published */
/* clang-format off */
static const Row rows[] = {
    {"1.1 start", "-1.5 0 0  0 2.8 0.2  1.5 0 0", 6.2, 2.58, 0.20, 1.79, 28, 28, 3.62, FLAT},
    {"1.1 one good answer", "-1.5 0 0  -1.1 2.4 0.9  1.1 2.4 0.9  1.5 0 0",
     6.2, 2.40, 0.90, 2.40, 9, 9, 3.80, FLAT},
    {"1.2 A", "-1.4 0 0  0 2.6 0.15  1.4 0 0", 6.4, 2.43, 0.15, 1.67, 28, 28, 3.97, FLAT},
    {"1.2 B", "-1.2 0 0  -0.85 2 0.75  0.85 2 0.75  1.2 0 0",
     5.2, 2.00, 0.75, 2.00, 10, 10, 3.20, FLAT},
    {"1.2 C", "-0.6 0 0  -0.45 1.3 0.4  0.45 1.3 0.4  0.6 0 0",
     5.4, 1.30, 0.40, 1.07, 7, 7, 4.10, FLAT},
    {"1.3 34/35", "-1.4 0 0  -1 2.4 0.6  1 2.4 0.6  1.4 0 0",
     5.4, 2.40, 0.60, 2.37, 9, 9, 3.00, FLAT},
    {"1.3 35/36", "-1.4 0 0  -1 2.2 0.6  1 2.2 0.6  1.4 0 0",
     5.7, 2.20, 0.60, 2.20, 10, 10, 3.50, FLAT},
    {"1.3 36/37", "-1.4 0 0  -1 2.2 0.6  1 2.2 0.6  1.4 0 0",
     5.6, 2.20, 0.60, 2.20, 10, 10, 3.40, FLAT},
    {"1.3 35/36 answer", "-1.4 0 0  -1 1.5 0.6  1 1.5 0.6  1.4 0 0",
     5.7, 1.50, 0.60, 1.50, 15, 15, 4.20, FLAT},
    {"1.4 start", "-2 0 0  -0.9 2.3 0.3  0.4 2.4 0.5  1.1 0 0",
     6.1, 2.37, 0.30, 2.12, 26, 16, 3.73, FLAT},
    {"1.4 one good answer", "-1.5 0 0  -1 2.35 0.8  1 2.35 0.8  1.5 0 0",
     6.1, 2.35, 0.80, 2.35, 12, 12, 3.75, FLAT},
    {"1.5 45/46", "-1.3 0 0  -0.95 2.2 0.8  0.95 2.2 0.8  1.3 0 0",
     5.8, 2.20, 0.80, 2.20, 9, 9, 3.60, FLAT},
    {"1.5 46/47", "-1.4 0 0  0 2.7 0.25  1.4 0 0", 5.8, 2.41, 0.25, 1.70, 27, 27, 3.39, FLAT},
    {"1.6 start", "-0.7 0 0  -0.5 1 0.45  0.5 1 0.45  0.7 0 0",
     5.4, 1.00, 0.45, 1.00, 11, 11, 4.40, FLAT},
    {"1.6 one good answer", "-1.2 0 0  -0.9 1.7 0.7  0.9 1.7 0.7  1.2 0 0",
     5.4, 1.70, 0.70, 1.70, 10, 10, 3.70, FLAT},
    {"2.1 tall", "-1.4 0 0  -1 2.2 0.8  1 2.2 0.8  1.4 0 0",
     6.2, 2.20, 0.80, 2.20, 10, 10, 4.00, FLAT},
    {"2.1 wide", "-1.4 0 0  -1 2.2 0.8  1 2.2 0.8  1.4 0 0",
     5.07, 2.20, 0.80, 2.20, 10, 10, 2.87, FLAT},
    {"2.1 one good answer", "-1.4 0 0  -1 2.2 0.8  1 2.2 0.8  1.4 0 0",
     6.25, 2.20, 0.80, 2.20, 10, 10, 4.05, FLAT},
    {"2.2 round", "-1.4 0 0  -1.05 2.3 0.9  1.05 2.3 0.9  1.4 0 0",
     5.8, 2.30, 0.90, 2.30, 9, 9, 3.50, FLAT},
    {"2.2 sharp", "-1.4 0 0  0 2.56 0.25  1.4 0 0", 5.8, 2.29, 0.25, 1.66, 29, 29, 3.51, FLAT},
    {"2.2 one good answer", "-1.4 0 0  -1 2.25 0.8  1 2.25 0.8  1.4 0 0",
     5.8, 2.25, 0.80, 2.25, 10, 10, 3.55, FLAT},
    {"2.3 start", "-1.5 0 0  -1.1 2.6 0.8  1.1 2.6 0.8  1.5 0 0",
     6, 2.60, 0.80, 2.57, 9, 9, 3.40, FLAT},
    {"2.3 one good answer", "-1.5 0 0  -1.1 1.6 0.75  1.1 1.6 0.75  1.5 0 0",
     6, 1.60, 0.75, 1.60, 14, 14, 4.40, FLAT},
    {"2.4 start", "-1.1 0 0  -0.8 1.6 0.5  0.8 1.6 0.5  1.1 0 0",
     4.4, 1.60, 0.50, 1.60, 11, 11, 2.80, FLAT},
    {"2.4 one good answer", "-1.1 0 0  -0.85 1.2 0.5  0.85 1.2 0.5  1.1 0 0",
     4.4, 1.20, 0.50, 1.20, 12, 12, 3.20, FLAT},
    {"2.5 start", "-1.1 0 0  -0.8 2.2 0.15  0.8 2.2 0.15  1.1 0 0",
     6, 2.20, 0.15, 1.92, 8, 8, 3.80, FLAT},
    {"2.5 one good answer", "-1.1 0 0  -0.85 2.1 0.7  0.85 2.1 0.7  1.1 0 0",
     6, 2.10, 0.70, 1.95, 7, 7, 3.90, FLAT},
    {"2.6 start (soft state)", "-1.86 0 0  -1.3 2.73 0.62  1.3 2.73 0.62  1.86 0 0",
     7.32, 2.73, 0.62, 2.73, 12, 12, 4.59, FLAT},
    {"2.6 one good answer (soft state)", "-1.86 0 0  -1.36 2.42 1.05  1.36 2.42 1.05  1.86 0 0",
     7.32, 2.42, 1.05, 2.42, 12, 12, 4.90, FLAT},
    {"3.1 start", "-1.5 0 0  -1.1 2.1 0.6  0.25 2.1 0  0.35 2.49 0.04  "
     "0.45 2.1 0  1.1 2.1 0.6  1.5 0 0",
     6.1, 2.37, 0.04, 2.10, 11, 11, 3.73, FLAT},
    {"3.1 one good answer", "-1.5 0 0  -1.15 2.45 0.8  1.15 2.45 0.8  1.5 0 0",
     6.1, 2.45, 0.80, 2.45, 8, 8, 3.65, FLAT},
    {"3.2 biting groove", "-1.2 0 0  0 1.4 0.15  1.2 0 0",
     5.4, 1.32, 0.15, 1.10, 41, 41, 4.08, FLAT},
    {"3.2 one good answer", "-1.5 0 0  0 1 1  1.5 0 0", 5.4, 0.80, 1.00, 0.79, 56, 56, 4.60, FLAT},
    {"3.3 start", "-0.7 0 0  0 1.9 0.15  0.7 0 0", 5.2, 1.62, 0.15, 0.97, 20, 20, 3.58, FLAT},
    {"3.3 one good answer", "-0.75 0 0  -0.6 1.35 0.5  0.6 1.35 0.5  0.75 0 0",
     5.2, 1.35, 0.50, 1.34, 6, 6, 3.85, FLAT},
    {"3.4 start", "-1.6 0 0  -0.9 1.7 0.6  0.9 1.7 0.6  1.6 0 0",
     6.2, 1.70, 0.60, 0.98, 22, 22, 4.50, PAPILLA_34},
    {"3.4 one good answer", "-1.6 0 0  -1.25 2.4 0.95  1.25 2.4 0.95  1.6 0 0",
     6.2, 2.40, 0.95, 1.50, 8, 8, 3.80, PAPILLA_34},
    {"3.5 35/36", "-1.4 0 0  -1 2.4 0.45  1 2.4 0.45  1.4 0 0",
     5.9, 2.40, 0.45, 2.37, 9, 9, 3.50, FLAT},
    {"3.5 36/37", "-1.4 0 0  -1 2.5 0.5  1 2.5 0.5  1.4 0 0",
     5.9, 2.50, 0.50, 2.39, 9, 9, 3.40, FLAT},
    {"3.5 35/36 answer", "-1.4 0 0  -1.05 1.8 0.9  1.05 1.8 0.9  1.4 0 0",
     5.9, 1.80, 0.90, 1.80, 11, 11, 4.10, FLAT},
    {"3.5 36/37 answer", "-1.4 0 0  -1.05 1.8 0.9  1.05 1.8 0.9  1.4 0 0",
     5.9, 1.80, 0.90, 1.80, 11, 11, 4.10, FLAT},
    {"3.6 35/36", "-1.5 0 0  -1.1 1.7 0.9  1.1 1.7 0.9  1.5 0 0",
     6, 1.70, 0.90, 1.70, 13, 13, 4.30, FLAT},
    {"4.1 44/45", "-1.4 0 0  0 2.6 0.2  1.4 0 0", 5.9, 2.38, 0.20, 1.67, 28, 28, 3.52, FLAT},
    {"4.1 45/46", "-1.5 0 0  0 2.8 0.2  1.5 0 0", 6, 2.58, 0.20, 1.79, 28, 28, 3.42, FLAT},
    {"4.1 46/47", "-1.4 0 0  0 2.5 0.3  1.4 0 0", 5.7, 2.19, 0.30, 1.64, 29, 29, 3.51, FLAT},
    {"4.1 44/45 answer", "-1.4 0 0  -1 1.9 0.75  1 1.9 0.75  1.4 0 0",
     5.9, 1.90, 0.75, 1.90, 12, 12, 4.00, FLAT},
    {"4.1 45/46 answer", "-1.5 0 0  -1.1 1.6 0.75  1.1 1.6 0.75  1.5 0 0",
     6, 1.60, 0.75, 1.60, 14, 14, 4.40, FLAT},
    {"4.1 46/47 answer", "-1.4 0 0  -1 1.7 0.75  1 1.7 0.75  1.4 0 0",
     5.7, 1.70, 0.75, 1.70, 13, 13, 4.00, FLAT},
    {"4.2 13/12", "-0.85 0 0  -0.7 1.5 0.55  0.7 1.5 0.55  0.85 0 0",
     5.4, 1.50, 0.55, 1.50, 6, 6, 3.90, FLAT},
    {"4.2 12/11", "-0.85 0 0  -0.7 1.9 0.5  0.7 1.9 0.5  0.85 0 0",
     5, 1.90, 0.50, 1.57, 5, 5, 3.10, FLAT},
    {"4.2 11/21", "-0.8 0 0  0 2 0.2  0.8 0 0", 6.1, 1.66, 0.20, 1.08, 22, 22, 4.44, FLAT},
    {"4.2 21/22", "-0.85 0 0  -0.7 1.4 0.5  0.7 1.4 0.5  0.85 0 0",
     5.2, 1.40, 0.50, 1.40, 6, 6, 3.80, FLAT},
    {"4.2 22/23", "-0.85 0 0  -0.7 1.5 0.55  0.7 1.5 0.55  0.85 0 0",
     5.3, 1.50, 0.55, 1.50, 6, 6, 3.80, FLAT},
    {"4.2 12/11 answer", "-0.85 0 0  -0.7 1.25 0.55  0.7 1.25 0.55  0.85 0 0",
     5, 1.25, 0.55, 1.25, 7, 7, 3.75, FLAT},
    {"4.2 11/21 answer", "-0.85 0 0  -0.7 1.7 0.55  0.7 1.7 0.55  0.85 0 0",
     6.1, 1.70, 0.55, 1.56, 5, 5, 4.40, FLAT},
    {"4.3 36/37", "-1.6 0 0  -0.5 2.9 0.35  0.5 2.9 0.35  1.6 0 0",
     6.5, 2.90, 0.35, 2.21, 21, 21, 3.60, FLAT},
    {"4.3 one good answer", "-1.6 0 0  -1.15 2.3 0.95  1.15 2.3 0.95  1.6 0 0",
     6.5, 2.30, 0.95, 2.30, 11, 11, 4.20, FLAT},
    {"4.4 25/26", "-1.4 0 0  -1 2.3 0.8  1 2.3 0.8  1.4 0 0",
     5.9, 2.30, 0.80, 2.30, 10, 10, 3.60, FLAT},
    {"4.4 26/27", "-1.7 0 0  -0.6 2.4 0.35  1 2.4 0.8  1.3 0 0",
     5.9, 2.40, 0.35, 2.23, 25, 7, 3.50, FLAT},
    {"4.5 46/47 as drawn", "-1.4 0 0  -1 2.2 0.45  1 2.2 0.45  1.4 0 0",
     5.8, 2.20, 0.45, 2.20, 10, 10, 3.60, FLAT},
    {"4.5 one good answer", "-1.4 0 0  -1.05 2.1 0.9  1.05 2.1 0.9  1.4 0 0",
     5.8, 2.10, 0.90, 2.10, 9, 9, 3.70, FLAT},
    {"4.6 26/27", "-1.6 0 0  -0.2 2.2 0.2  1.2 0 0", 4.9, 2.03, 0.20, 1.28, 32, 32, 2.87, RIDGE_46},
    {"4.6 one good answer", "-1.5 0 0  -1.05 1.5 0.65  1.05 1.5 0.65  1.5 0 0",
     4.9, 1.50, 0.65, 1.23, 17, 17, 3.40, RIDGE_46},
    {"QB-01 45/46", "-1.45 0 0  -1.05 2 0.95  1.05 2 0.95  1.45 0 0",
     6.1, 2.00, 0.95, 2.00, 11, 11, 4.10, FLAT},
    {"QB-01 46/47", "-1.45 0 0  -1.05 1.9 0.95  1.05 1.9 0.95  1.45 0 0",
     6, 1.90, 0.95, 1.90, 12, 12, 4.10, FLAT},
    {"QB-02 34/35", "-1.4 0 0  0 2.9 0.2  1.4 0 0", 6, 2.64, 0.20, 1.76, 26, 26, 3.36, FLAT},
    {"QB-02 35/36", "-1.5 0 0  0 3 0.2  1.5 0 0", 6, 2.75, 0.20, 1.85, 27, 27, 3.25, FLAT},
    {"QB-02 36/37", "-1.4 0 0  0 2.7 0.25  1.4 0 0", 5.7, 2.41, 0.25, 1.70, 27, 27, 3.29, FLAT},
    {"QB-03 44/45", "-1.4 0 0  -1 2 0.8  1 2 0.8  1.4 0 0",
     6, 2.00, 0.80, 2.00, 11, 11, 4.00, FLAT},
    {"QB-03 45/46", "-1.4 0 0  -1 2 0.8  1 2 0.8  1.4 0 0",
     6.1, 2.00, 0.80, 2.00, 11, 11, 4.10, FLAT},
    {"QB-04 13/12", "-0.85 0 0  -0.7 1.8 0.5  0.7 1.8 0.5  0.85 0 0",
     5.6, 1.80, 0.50, 1.31, 5, 5, 3.80, PAPILLA_05},
    {"QB-04 12/11", "-0.8 0 0  -0.65 1.9 0.45  0.65 1.9 0.45  0.8 0 0",
     5.2, 1.90, 0.45, 1.40, 5, 5, 3.30, PAPILLA_05},
    {"QB-04 11/21", "-0.8 0 0  -0.65 1.8 0.5  0.65 1.8 0.5  0.8 0 0",
     6, 1.80, 0.50, 1.30, 5, 5, 4.20, PAPILLA_05},
    {"QB-04 21/22", "-0.8 0 0  -0.65 1.7 0.5  0.65 1.7 0.5  0.8 0 0",
     5.5, 1.70, 0.50, 1.21, 5, 5, 3.80, PAPILLA_05},
    {"QB-04 22/23", "-0.85 0 0  -0.7 1.8 0.5  0.7 1.8 0.5  0.85 0 0",
     5.5, 1.80, 0.50, 1.31, 5, 5, 3.70, PAPILLA_05},
    {"QB-05 35/36", "-1.4 0 0  -1 2.3 0.5  1 2.3 0.5  1.4 0 0",
     5.9, 2.30, 0.50, 2.30, 10, 10, 3.60, FLAT},
    {"QB-05 36/37", "-1.4 0 0  -1 2.4 0.5  1 2.4 0.5  1.4 0 0",
     5.8, 2.40, 0.50, 2.37, 9, 9, 3.40, FLAT},
    {"QB-06 14/15", "-1.4 0 0  -1 2 0.8  1 2 0.8  1.4 0 0",
     6.2, 2.00, 0.80, 2.00, 11, 11, 4.20, FLAT},
    {"QB-06 15/16", "-1.4 0 0  -1 2 0.85  1 2 0.85  1.4 0 0",
     6.1, 2.00, 0.85, 2.00, 11, 11, 4.10, FLAT},
    {"QB-07 35/36", "-1.5 0 0  -1.1 2.2 0.95  1.1 2.2 0.95  1.5 0 0",
     6.5, 2.20, 0.95, 2.20, 10, 10, 4.30, FLAT},
    {"QB-07 36/37", "-1.5 0 0  -1.1 2.2 0.95  1.1 2.2 0.95  1.5 0 0",
     6.5, 2.20, 0.95, 2.20, 10, 10, 4.30, FLAT},
    {"QB-08 25/26", "-1.4 0 0  -1 2 0.85  1 2 0.85  1.4 0 0",
     5.9, 2.00, 0.85, 2.00, 11, 11, 3.90, FLAT},
    {"QB-08 26/27", "-1.4 0 0  -1 2 0.7  0.2 2 0  0.3 2.33 0.04  0.4 2 0  1 2 0.5  1.4 0 0",
     5.8, 2.23, 0.04, 2.00, 11, 11, 3.57, FLAT},
    {"QB-09 15/16", "-1.8 0 0  -0.8 2 0.35  0.7 2.1 0.6  1.1 0 0",
     6, 2.07, 0.35, 2.04, 27, 11, 3.93, FLAT},
    {"QB-09 16/17", "-1.1 0 0  -0.8 1.3 0.55  0.8 1.3 0.55  1.1 0 0",
     5.5, 1.30, 0.55, 0.66, 13, 13, 4.20, PAPILLA_09},
    {"QB-10 45/46", "-1.4 0 0  -1 2.2 0.6  1 2.2 0.6  1.4 0 0",
     5.8, 2.20, 0.60, 2.20, 10, 10, 3.60, FLAT},
    {"QB-10 46/47", "-1.2 0 0  -0.8 2.3 0.35  0.8 2.3 0.35  1.2 0 0",
     5.6, 2.30, 0.35, 2.02, 10, 10, 3.30, FLAT},
};
/* clang-format on */

/* Corners with the straight bodies of both units at the height of the feet. */
static void with_bodies(const Corner corner[], size_t n, Outline *outline)
{
  Corner all[12];
  all[0] = (Corner){-BODY, corner[0].y, 0};
  for (size_t i = 0; i < n; i++)
    all[i + 1] = corner[i];
  all[n + 1] = (Corner){BODY, corner[n - 1].y, 0};
  g_assert_cmpint(outline_from_corners(outline, all, n + 2), ==, FAULT_NONE);
}

static void level(double y, Outline *outline)
{
  Point line[2] = {{-BODY, y}, {BODY, y}};
  g_assert_cmpint(outline_from_points(outline, line, 2, false), ==, FAULT_NONE);
}

static size_t corners_of(const Row *row, Corner corner[])
{
  size_t n = 0;
  char *rest = (char *)row->corners, *from;
  do {
    from = rest;
    Corner next = {.x = g_ascii_strtod(rest, &rest)};
    next.y = g_ascii_strtod(rest, &rest);
    next.r = g_ascii_strtod(rest, &rest);
    if (rest != from)
      corner[n++] = next;
  } while (rest != from && n < CORNERS_MAX);
  return n;
}

static void tissue_of(const Row *row, double left, double right, Outline *tissue)
{
  Point papilla[5] = {{-1.6, 0}, {-0.5, 0.5}, {0, 1.1}, {0.5, 0.5}, {1.6, 0}};
  Point ridge[3] = {{-1.5, 0}, {0, 0.4}, {1.5, 0}};
  Point tip[3] = {{left, 0}, {0, row->tissue == PAPILLA_05 ? 0.5 : 0.9}, {right, 0}};
  Fault fault = FAULT_NONE;
  if (row->tissue == PAPILLA_34)
    fault = outline_from_points(tissue, papilla, 5, false);
  else if (row->tissue == RIDGE_46)
    fault = outline_from_points(tissue, ridge, 3, false);
  else if (row->tissue != FLAT)
    fault = outline_from_points(tissue, tip, 3, false);
  g_assert_cmpint(fault, ==, FAULT_NONE);
}

static Form read_row(const Row *row)
{
  Outline gum = {0}, groove = {0}, tissue = {0};
  Form form;
  Corner corner[CORNERS_MAX];
  size_t n = corners_of(row, corner);
  g_assert_cmpuint(n, >=, 3);
  with_bodies(corner, n, &gum);
  level(row->groove_y, &groove);
  tissue_of(row, corner[0].x, corner[n - 1].x, &tissue);
  g_assert_cmpint(form_read(&gum, &groove, NULL, NULL, tissue.n ? &tissue : NULL, &form, NULL), ==,
                  FAULT_NONE);
  outline_clear(&gum);
  outline_clear(&groove);
  outline_clear(&tissue);
  return form;
}

static void test_trade_figures(void)
{
  for (size_t i = 0; i < G_N_ELEMENTS(rows); i++) {
    const Row *row = &rows[i];
    Form form = read_row(row);
    g_assert_cmpfloat_with_epsilon(form.roof.y, row->roof, 0.02);
    g_assert_cmpfloat_with_epsilon(form.roof_radius.value, row->radius, 0.01 * row->radius);
    g_assert_cmpfloat_with_epsilon(form.gap_circle, row->gap, 0.02);
    g_assert_cmpfloat_with_epsilon(form.leg_lean_left_deg, row->lean_left, 1);
    g_assert_cmpfloat_with_epsilon(form.leg_lean_right_deg, row->lean_right, 1);
    g_assert_cmpfloat_with_epsilon(form.neck_height, row->neck, 0.02);
    g_assert_true(form.roof_radius.low <= form.roof_radius.value &&
                  form.roof_radius.value <= form.roof_radius.high);
    g_assert_true(isnan(form.neck_width));
  }
}

static Form read_corners(const Corner corner[], size_t n, double groove_y)
{
  Outline gum = {0}, groove = {0};
  Form form;
  with_bodies(corner, n, &gum);
  level(groove_y, &groove);
  g_assert_cmpint(form_read(&gum, &groove, NULL, NULL, NULL, &form, NULL), ==, FAULT_NONE);
  outline_clear(&gum);
  outline_clear(&groove);
  return form;
}

/* Words of the trade: V = pointed top, U = wide round top. */
static void test_kind(void)
{
  Corner v[3] = {{-1.5, 0, 0}, {0, 2.8, 0.2}, {1.5, 0, 0}};
  Corner u[4] = {{-1.5, 0, 0}, {-1.1, 2.4, 0.9}, {1.1, 2.4, 0.9}, {1.5, 0, 0}};
  Corner box[4] = {{-1.1, 0, 0}, {-0.8, 2.2, 0.15}, {0.8, 2.2, 0.15}, {1.1, 0, 0}};
  Corner flat[2] = {{-1, 0, 0}, {1, 0, 0}};
  Form form = read_corners(v, 3, 6.2);
  g_assert_cmpint(form.kind, ==, FORM_V);
  g_assert_cmpfloat(form.roundness, <, 0.2);
  form = read_corners(u, 4, 6.2);
  g_assert_cmpint(form.kind, ==, FORM_U);
  g_assert_cmpfloat(form.roundness, >, 0.6);
  form = read_corners(box, 4, 6);
  g_assert_cmpint(form.kind, ==, FORM_BETWEEN);
  form = read_corners(flat, 2, 6);
  g_assert_cmpint(form.kind, ==, FORM_NONE);
  g_assert_cmpfloat(form.depth, ==, 0);
  g_assert_cmpfloat(form.roof_radius.value, ==, 200);
  g_assert_cmpfloat(form.gap_circle, ==, 0);
}

/* A U with parallel legs, radius 0.6, 2.5 deep (the notch of the solid check cases): nothing can be
 * rounder. Then by hand: half distance 1.4, depth 2.2, legs at least 5 degrees: (1.4 cos 5 - 2.2
 * sin 5)/(1 - sin 5). */
static void test_room_to_round(void)
{
  Corner parallel[4] = {{-0.6, 0, 0}, {-0.6, 2.5, 0.6}, {0.6, 2.5, 0.6}, {0.6, 0, 0}};
  Form form = read_corners(parallel, 4, 6.5);
  g_assert_cmpfloat_with_epsilon(form.roof_radius.value, 0.6, 0.006);
  g_assert_cmpfloat_with_epsilon(form.opening_deg, 0, 0.01);
  g_assert_cmpfloat_with_epsilon(form.roundness, 1, 0.01);
  g_assert_cmpfloat_with_epsilon(form.room_to_round, 0, 0.006);
  Corner u[4] = {{-1.4, 0, 0}, {-1, 2.2, 0.6}, {1, 2.2, 0.6}, {1.4, 0, 0}};
  form = read_corners(u, 4, 5.7);
  g_assert_cmpfloat_with_epsilon(form.room_to_round, 1.3178 - 0.6, 0.006);
  /* and that roof can indeed be drawn: its tangent points lie on the legs above the feet */
  double r = 1.317, x = r * cos(5 * M_PI / 180), y = 2.2 - r * (1 - sin(5 * M_PI / 180));
  Corner round[4] = {{-1.4, 0, 0},
                     {-1.4 + 2.2 * tan(5 * M_PI / 180), 2.2, r * 0.999},
                     {1.4 - 2.2 * tan(5 * M_PI / 180), 2.2, r * 0.999},
                     {1.4, 0, 0}};
  g_assert_cmpfloat_with_epsilon(1.4 - y * tan(5 * M_PI / 180), x, 0.002);
  Outline drawn = {0};
  g_assert_cmpint(outline_from_corners(&drawn, round, 4), ==, FAULT_NONE);
  outline_clear(&drawn);
}

/* A sharp corner reads 0, not infinite; a kink that breaks the direction by 10 degrees in a radius
 * of 0.8 neither fakes a sharp roof nor goes unseen. */
static void test_corner_and_kink(void)
{
  Corner v[3] = {{-1.5, 0, 0}, {0, 2.8, 0}, {1.5, 0, 0}};
  Form form = read_corners(v, 3, 6.2);
  g_assert_cmpfloat(form.roof_radius.value, <, 1e-6);
  g_assert_cmpfloat_with_epsilon(form.kink_deg, 2 * 61.8214, 0.01); /* 2 atan(2.8 / 1.5) */
  g_assert_cmpfloat_with_epsilon(form.kink_at.y, 2.8, 0.03);
  g_assert_cmpint(form.kind, ==, FORM_V);
  Outline gum = {0}, groove = {0};
  Corner u[4] = {{-1.4, 0, 0}, {-1, 2.2, 0.8}, {1, 2.2, 0.8}, {1.4, 0, 0}};
  with_bodies(u, 4, &gum);
  level(6, &groove);
  for (size_t i = 1; i + 1 < gum.n; i++) /* turn one handle of a knot on the left roof corner */
    if (gum.knot[i].at.x < -0.5 && gum.knot[i].at.y > 1.7 && gum.knot[i].at.y < 2.15) {
      Point arm = point_sub(gum.knot[i].out, gum.knot[i].at);
      double c = cos(10 * M_PI / 180), s = sin(10 * M_PI / 180);
      gum.knot[i].out =
          point_add(gum.knot[i].at, point(arm.x * c + arm.y * s, arm.y * c - arm.x * s));
      break;
    }
  g_assert_cmpint(form_read(&gum, &groove, NULL, NULL, NULL, &form, NULL), ==, FAULT_NONE);
  g_test_message("kink %.2f radius %.3f [%.3f %.3f]", form.kink_deg, form.roof_radius.value,
                 form.roof_radius.low, form.roof_radius.high);
  g_assert_cmpfloat_with_epsilon(form.kink_deg, 10, 2);
  g_assert_cmpfloat(form.roof_radius.value, >, 0.25); /* half of the window is the kink */
  g_assert_cmpfloat(form.roof_radius.high, >, 0.5);
  g_assert_cmpfloat(form.roof_radius.low, <, 0.2);
  outline_clear(&gum);
  outline_clear(&groove);
}

/* Tilted neck, by hand: lines y = 0.2 x + 1 and y = 4 around a V groove tip at (0.5, 4): the
 * distance of the tip from the line is (4 - 1.1)/sqrt(1.04).  Plan: half widths 1.5 and 1.8 at the
 * neck. */
static void test_neck(void)
{
  Outline gum = {0}, groove = {0}, buccal = {0}, lingual = {0};
  Point low[2] = {{-7, -0.4}, {7, 2.4}}, tip[3] = {{-7, 8}, {0.5, 4}, {7, 8}};
  Point cheek[3] = {{-7, 4}, {0, 1.5}, {7, 4}}, tongue[3] = {{-7, -4}, {0, -1.8}, {7, -4}};
  Form form;
  g_assert_cmpint(outline_from_points(&gum, low, 2, false), ==, FAULT_NONE);
  g_assert_cmpint(outline_from_points(&groove, tip, 3, false), ==, FAULT_NONE);
  g_assert_cmpint(outline_from_points(&buccal, cheek, 3, false), ==, FAULT_NONE);
  g_assert_cmpint(outline_from_points(&lingual, tongue, 3, false), ==, FAULT_NONE);
  g_assert_cmpint(form_read(&gum, &groove, &buccal, &lingual, NULL, &form, NULL), ==, FAULT_NONE);
  g_assert_cmpfloat_with_epsilon(form.neck_height, 2.9 / sqrt(1.04), 1e-3);
  g_assert_cmpfloat_with_epsilon(form.neck_high.x, 0.5, 0.02);
  g_assert_cmpfloat_with_epsilon(form.neck_width, 3.3, 1e-6);
  g_assert_cmpfloat_with_epsilon(form.groove_y, 4, 1e-6);
  g_assert_cmpfloat(form.groove_radius, <, 1e-6);
  g_assert_cmpint(form.kind, ==, FORM_NONE); /* it only rises */
  Corner round[3] = {{-7, 8, 0}, {0, 4, 0.6}, {7, 8, 0}};
  g_assert_cmpint(outline_from_corners(&groove, round, 3), ==, FAULT_NONE);
  g_assert_cmpint(form_read(&gum, &groove, NULL, &lingual, NULL, &form, NULL), ==, FAULT_NONE);
  g_assert_cmpfloat_with_epsilon(form.groove_radius, 0.6, 0.006);
  g_assert_true(isnan(form.neck_width));
  outline_clear(&gum);
  outline_clear(&groove);
  outline_clear(&buccal);
  outline_clear(&lingual);
}

/* Circle in a triangle: area over half the perimeter (school geometry). */
static void test_gap_circle(void)
{
  Corner v[3] = {{-1.3, 0, 0}, {0.4, 3.1, 0}, {1.7, 0, 0}};
  Outline gum = {0}, tissue = {0};
  Point centre;
  double diameter, a = 3.0, b = hypot(1.7, 3.1), c = hypot(1.3, 3.1);
  with_bodies(v, 3, &gum);
  g_assert_cmpint(gap_circle_find(&gum, NULL, &centre, &diameter), ==, FAULT_NONE);
  g_assert_cmpfloat_with_epsilon(diameter, 2 * 3.0 * 3.1 / (a + b + c), 0.005);
  g_assert_cmpfloat_with_epsilon(centre.y, diameter / 2, 0.02);
  Point gum_line[2] = {{-5, 0.35}, {5, 0.35}}, high[2] = {{-5, 3.5}, {5, 3.5}};
  g_assert_cmpint(outline_from_points(&tissue, gum_line, 2, false), ==, FAULT_NONE);
  g_assert_cmpint(gap_circle_find(&gum, &tissue, &centre, &diameter), ==, FAULT_NONE);
  double k = (3.1 - 0.35) / 3.1; /* the triangle above the gum line is smaller by this */
  g_assert_cmpfloat_with_epsilon(diameter, k * 2 * 3.0 * 3.1 / (a + b + c), 0.005);
  g_assert_cmpint(outline_from_points(&tissue, high, 2, false), ==, FAULT_NONE);
  g_assert_cmpint(gap_circle_find(&gum, &tissue, &centre, &diameter), ==, FAULT_NONE);
  g_assert_cmpfloat(diameter, ==, 0); /* the gum fills it */
  outline_clear(&gum);
  outline_clear(&tissue);
}

static void test_faults(void)
{
  Outline gum = {0}, groove = {0}, empty = {0};
  Corner u[4] = {{-1.4, 0, 0}, {-1, 2.2, 0.8}, {1, 2.2, 0.8}, {1.4, 0, 0}};
  Form form = {.neck_height = 77};
  Point where = {99, 99};
  with_bodies(u, 4, &gum);
  level(2.4, &groove);
  g_assert_cmpint(form_read(&gum, &groove, NULL, NULL, NULL, &form, &where), ==, FAULT_NO_NECK);
  g_assert_cmpfloat_with_epsilon(where.y, 2.3, 0.01);
  level(1.1, &groove);
  g_assert_cmpint(form_read(&gum, &groove, NULL, NULL, NULL, &form, &where), ==, FAULT_CROSSING);
  g_assert_cmpfloat_with_epsilon(where.y, 1.1, 0.01);
  level(-2, &groove);
  g_assert_cmpint(form_read(&gum, &groove, NULL, NULL, NULL, &form, NULL), ==, FAULT_NO_NECK);
  g_assert_cmpint(form_read(&gum, &empty, NULL, NULL, NULL, &form, NULL), ==, FAULT_DEGENERATE);
  level(6, &groove);
  gum.knot[2].at.x = NAN;
  g_assert_cmpint(form_read(&gum, &groove, NULL, NULL, NULL, &form, NULL), ==, FAULT_NOT_FINITE);
  g_assert_cmpfloat(form.neck_height, ==, 77);
  outline_clear(&gum);
  outline_clear(&groove);
}

int main(int argc, char *argv[])
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/form/trade-figures", test_trade_figures);
  g_test_add_func("/form/kind", test_kind);
  g_test_add_func("/form/room-to-round", test_room_to_round);
  g_test_add_func("/form/corner-and-kink", test_corner_and_kink);
  g_test_add_func("/form/neck", test_neck);
  g_test_add_func("/form/gap-circle", test_gap_circle);
  g_test_add_func("/form/faults", test_faults);
  return g_test_run();
}
