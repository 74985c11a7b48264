/* loft_section.c - the drawn section of a loft's neck and its way into the body's superellipse.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The reach of a rib is that of the superellipse whose exponent goes from the drawing's mean one to
 * the body's, times the drawing's own ratio to its mean superellipse to the power of its share: a
 * drawn superellipse is that superellipse on every rib.  A mixture's extremes may lie inside the
 * unit square; they are grown back to it, so that every rib ends on the four outlines. */
#include "loft_section.h"
#include <math.h>
#include <stdlib.h>

#define SHARES 24 /* steps of the body's share in the table of growths */
#define WAYS 180  /* of a half, for the length of its rim                */
#define CROWD 0.5 /* of the way from even cells to cells that crowd towards corners */
#define WINDOW 10 /* of the WAYS: 10 degrees, where the rim's turning is taken      */
#define RAYS 90   /* of a half, for its extremes; corners besides      */

struct LoftSection {
  DrawnSection *drawn;
  double neck, body; /* exponents */
  double grow[SHARES + 1][4];
  double corner[2][SECTION_CORNERS];
  size_t corners[2];
  double turn;             /* see loft_section_sharp() */
  double way[2][WAYS + 1]; /* length of a half's rim from the gum side, at even angles */
};

typedef struct {
  double cosine, sine, ratio;
} Ray;

/* Rays of a half; at most RAYS + 1 + SECTION_CORNERS. */
static int rays_make(const LoftSection *section, int half, Ray ray[])
{
  int n = 0;
  for (int i = 0; i <= RAYS + (int)section->corners[half]; i++) {
    double angle = i <= RAYS ? acos(-1.0) * i / RAYS : section->corner[half][i - RAYS - 1];
    ray[n++] = (Ray){cos(angle), sin(angle), loft_section_drawn_ratio(section, angle, half == 1)};
  }
  return n;
}

static void grow_make(LoftSection *section)
{
  Ray ray[2][RAYS + 1 + SECTION_CORNERS];
  int n[2] = {rays_make(section, 0, ray[0]), rays_make(section, 1, ray[1])};
  for (int k = 0; k <= SHARES; k++) {
    double body = (double)k / SHARES, far[4] = {0};
    Rib rib = {.roundness = section->neck + body * (section->body - section->neck),
               .drawn = 1 - body};
    for (int half = 0; half < 2; half++)
      for (int i = 0; i < n[half]; i++) {
        const Ray *r = &ray[half][i];
        double reach = rib_reach(&rib, r->cosine, r->sine, r->ratio);
        far[0] = fmax(far[0], reach * r->cosine);
        far[1] = fmax(far[1], -reach * r->cosine);
        far[2 + half] = fmax(far[2 + half], reach * r->sine);
      }
    /* both ends are unit sections as they stand */
    for (int i = 0; i < 4; i++)
      section->grow[k][i] = k > 0 && k < SHARES ? 1 / far[i] : 1;
  }
}

static void ways_make(LoftSection *section, int half)
{
  Point at[WAYS + 1];
  double turned[WAYS];
  for (int i = 0; i <= WAYS; i++) {
    double angle = acos(-1.0) * i / WAYS, reach = drawn_section_reach(section->drawn, angle, half);
    at[i] = point(reach * sin(angle), -reach * cos(angle));
    section->way[half][i] = i ? section->way[half][i - 1] + point_distance(at[i - 1], at[i]) : 0;
  }
  for (int i = 1; i < WAYS; i++) {
    Point a = point_sub(at[i], at[i - 1]), b = point_sub(at[i + 1], at[i]);
    turned[i] = atan2(point_cross(a, b), point_dot(a, b));
  }
  for (int i = 1; i + WINDOW <= WAYS; i++) {
    double sum = 0;
    for (int k = 0; k < WINDOW; k++)
      sum += turned[i + k];
    section->turn = fmax(section->turn, fabs(sum));
  }
}

Fault loft_section_new(const Outline *drawn, double roundness_body, LoftSection **section)
{
  LoftSection *made = calloc(1, sizeof *made);
  if (!made)
    return FAULT_MEMORY;
  Fault fault = drawn_section_new(drawn, &made->drawn);
  if (fault) {
    loft_section_free(made);
    return fault;
  }
  made->neck = drawn_section_roundness(made->drawn);
  made->body = roundness_body;
  for (int half = 0; half < 2; half++) {
    made->corners[half] = drawn_section_corners(made->drawn, half == 1, made->corner[half]);
    ways_make(made, half);
  }
  grow_make(made);
  *section = made;
  return FAULT_NONE;
}

void loft_section_free(LoftSection *section)
{
  if (!section)
    return;
  drawn_section_free(section->drawn);
  free(section);
}

double loft_section_roundness(const LoftSection *section)
{
  return section->neck;
}

double loft_section_most_turn(const LoftSection *section)
{
  return section->turn;
}

double loft_section_lopsided(const LoftSection *section)
{
  return drawn_section_lopsided(section->drawn);
}

double loft_section_drawn_ratio(const LoftSection *section, double angle, bool lingual)
{
  const Rib mean = {.roundness = section->neck};
  return drawn_section_reach(section->drawn, angle, lingual) /
         rib_reach(&mean, cos(angle), sin(angle), 1);
}

/* The border between two cells that each of n corners takes: the nearest free one, in order. */
static void borders_find(const double corner[], int n, int cells, int border[])
{
  const double cell = acos(-1.0) / cells;
  for (int k = 0; k < n; k++)
    border[k] = (int)lround(corner[k] / cell);
  for (int k = n - 1, free = cells - 1; k >= 0; k--) {
    border[k] = border[k] < free ? border[k] : free;
    free = border[k] - 1;
  }
  for (int k = 0, free = 1; k < n; k++) {
    border[k] = border[k] > free ? border[k] : free;
    free = border[k] + 1;
  }
}

static double way_at(const double way[WAYS + 1], double angle)
{
  double at = angle / acos(-1.0) * WAYS;
  int i = (int)fmin(at, WAYS - 1);
  return way[i] + (at - i) * (way[i + 1] - way[i]);
}

static double angle_at(const double way[WAYS + 1], double length)
{
  int i = 0;
  while (i < WAYS - 1 && way[i + 1] < length)
    i++;
  return acos(-1.0) / WAYS * (i + (length - way[i]) / (way[i + 1] - way[i]));
}

/* A share of the way between two ends, crowding towards those that are corners: stress piles up
 * there where the neck is notched. */
static double crowd(double t, bool first, bool last)
{
  const double half = acos(-1.0) / 2;
  double even = t;
  if (first && last)
    t = (1 - cos(2 * half * t)) / 2;
  else if (last)
    t = sin(half * t);
  else if (first)
    t = 1 - cos(half * t);
  return even + CROWD * (t - even);
}

/* Between two corners the cells follow the length of the rim. */
double loft_section_drawn_angle(const LoftSection *section, double phi, int cells, bool lingual)
{
  const double pi = acos(-1.0), *corner = section->corner[lingual], *way = section->way[lingual];
  int n = (int)section->corners[lingual], border[SECTION_CORNERS];
  if (n == 0)
    return phi;
  n = n < cells - 1 ? n : cells - 1;
  borders_find(corner, n, cells, border);
  double phi0 = 0, angle0 = 0;
  for (int k = 0; k <= n; k++) {
    double phi1 = k < n ? pi * border[k] / cells : pi, angle1 = k < n ? corner[k] : pi;
    if (phi <= phi1) {
      double from = way_at(way, angle0), share = crowd((phi - phi0) / (phi1 - phi0), k > 0, k < n);
      return angle_at(way, from + share * (way_at(way, angle1) - from));
    }
    phi0 = phi1;
    angle0 = angle1;
  }
  return phi;
}

void loft_section_blend(const LoftSection *section, double body, Rib *rib)
{
  double at = body * SHARES;
  int k = (int)fmin(at, SHARES - 1);
  rib->drawn = 1 - body;
  for (int i = 0; i < 4; i++)
    rib->grow[i] = section->grow[k][i] + (at - k) * (section->grow[k + 1][i] - section->grow[k][i]);
}
