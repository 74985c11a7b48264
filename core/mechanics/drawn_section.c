/* drawn_section.c - a drawn closed section: checked, scaled to four half sizes, read ray by ray.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "mechanics/drawn_section.h"
#include "base/phrase.h"
#include "base/tolerance.h"
#include "outline/cubic.h"
#include <math.h>
#include <stdlib.h>

#define CROSS_STEPS 32     /* of a piece, when its crossing of an axis is looked for        */
#define HALF_STEPS 180     /* rays of a half that both halves are held against each other by */
#define CORNER_TURN 0.26   /* rad, 15 degrees: a turn of more is a corner                   */
#define CORNER_AWAY 0.035  /* rad from the middle line                                      */
#define CORNER_APART 0.070 /* rad: of nearer ones the sharper stays                         */
#define REACH_STEPS 50     /* of a bisection                                                */

struct DrawnSection {
  Outline rim; /* unit section, cut where it crosses the axes: no piece spans more than a quarter */
  double roundness, lopsided;
};

/* ---- scaled quarters ---- */

static double of_axis(Point p, int axis, double middle)
{
  return axis ? p.y - middle : p.x;
}

/* A knot where the outline crosses z = 0 (axis 0) or its middle height (axis 1). */
static Fault axis_cut(Outline *o, int axis, double middle)
{
  for (size_t i = 0; i < outline_pieces(o); i++) {
    Point c[4];
    outline_piece(o, i, c);
    for (int k = 0; k < CROSS_STEPS; k++) {
      double a = (double)k / CROSS_STEPS, b = (k + 1.0) / CROSS_STEPS;
      double va = of_axis(cubic_at(c, a), axis, middle), vb = of_axis(cubic_at(c, b), axis, middle);
      if (!(va * vb < 0))
        continue;
      for (int it = 0; it < REACH_STEPS; it++) {
        double m = (a + b) / 2;
        if (of_axis(cubic_at(c, m), axis, middle) * va > 0)
          a = m;
        else
          b = m;
      }
      size_t knot;
      Fault fault = outline_split(o, (double)i + (a + b) / 2, &knot);
      if (fault)
        return fault;
      break; /* the rest of the piece comes next */
    }
  }
  return FAULT_NONE;
}

typedef struct {
  double left, right, low, high; /* scales of the quarters */
  double middle, y0;
} Quarters;

static Point quarter_put(const Quarters *q, Point side, Point p)
{
  double z = side.x < 0 ? q->left : q->right, y = side.y < q->middle ? q->low : q->high;
  return point(p.x * z, q->y0 + (p.y - q->middle) * y);
}

/* Each piece by the scales of the quarter it lies in. */
static Fault quarters_scale(const Outline *from, const Quarters *q, Outline *to)
{
  Outline made;
  outline_init(&made);
  Fault fault = outline_copy(&made, from);
  for (size_t i = 0; i < outline_pieces(from) && !fault; i++) {
    Point c[4];
    outline_piece(from, i, c);
    Point middle = cubic_at(c, 0.5);
    made.knot[i].at = quarter_put(q, middle, c[0]);
    made.knot[i].out = quarter_put(q, middle, c[1]);
    made.knot[(i + 1) % made.n].in = quarter_put(q, middle, c[2]);
  }
  if (fault) {
    outline_clear(&made);
    return fault;
  }
  outline_clear(to);
  *to = made;
  return FAULT_NONE;
}

/* Without a check: z = 0 must lie between the extremes. */
static Fault scale(const Outline *drawn, double half_low, double half_high, double half_buccal,
                   double half_lingual, double y0, Outline *scaled)
{
  Point low, high;
  section_box(drawn, &low, &high);
  double middle = (low.y + high.y) / 2, half = (high.y - low.y) / 2;
  Quarters q = {.left = half_lingual / -low.x,
                .right = half_buccal / high.x,
                .low = half_low / half,
                .high = half_high / half,
                .middle = middle,
                .y0 = y0};
  Outline cut;
  outline_init(&cut);
  Fault fault = outline_copy(&cut, drawn);
  if (!fault && outline_area(&cut) < 0)
    outline_reverse(&cut);
  for (int axis = 0; axis < 2 && !fault; axis++)
    fault = axis_cut(&cut, axis, middle);
  if (!fault)
    fault = quarters_scale(&cut, &q, scaled);
  outline_clear(&cut);
  return fault;
}

/* ---- the check ---- */

/* Every ray from the middle meets the rim once, and not at a glance. */
static const char *rays_check(const Polyline *line, Point *where)
{
  double turned = 0;
  for (size_t i = 0; i < line->n; i++) {
    Point a = line->at[i], b = line->at[(i + 1) % line->n];
    turned += atan2(point_cross(a, b), point_dot(a, b));
  }
  if (!(fabs(turned - 2 * acos(-1.0)) < 1e-3)) {
    *where = line->at[0];
    return N_("The section does not go around its middle: z = 0 between cheek and tongue side, "
              "half way up. Move it there.");
  }
  for (size_t i = 0; i < line->n; i++) {
    Point a = line->at[i], b = line->at[(i + 1) % line->n], along = point_sub(b, a);
    double length = point_length(along), away = point_cross(a, along);
    if (!(length > TOL_POINT_MM))
      continue;
    *where = a;
    if (away > 0 && away < SECTION_LEAST_REACH * length)
      return N_("The section is no more than a sliver here: nearer to its middle than a fifth of "
                "its half size. Make it fuller.");
    if (!(away > SECTION_LEAST_SINE * length * fmax(point_length(a), point_length(b))))
      return N_("The section has a hollow here that hides from its middle, where no rib fits. "
                "Flatten the hollow.");
  }
  return NULL;
}

bool section_check(const Outline *drawn, Point *where, const char **reason)
{
  Point low, high;
  Outline unit;
  Polyline line = {0};
  *where = drawn->n ? drawn->knot[0].at : point(0, 0);
  *reason = NULL;
  Fault fault = outline_check(drawn);
  if (fault)
    *reason = fault_text(fault);
  else if (!drawn->closed)
    *reason = N_("The section is open. Close it: its path ends with Z.");
  else if (outline_find_crossing(drawn, where))
    *reason = N_("The section crosses itself here. Draw it as one plain loop.");
  if (*reason)
    return false;
  section_box(drawn, &low, &high);
  if (!(high.y - low.y > SECTION_LEAST_MM && high.x - low.x > SECTION_LEAST_MM)) {
    *reason = N_("The section is thinner than 0.3 mm, a sliver. Draw it larger; the four outlines "
                 "rule its size.");
    return false;
  }
  if (!(low.x < -TOL_POINT_MM && high.x > TOL_POINT_MM)) {
    *reason = N_("The section does not go around its middle: z = 0 between cheek and tongue side, "
                 "half way up. Move it there.");
    return false;
  }
  outline_init(&unit);
  fault = scale(drawn, 1, 1, 1, 1, 0, &unit);
  if (!fault)
    fault = outline_flatten(&unit, TOL_FLATTEN_MM, &line);
  if (fault)
    *reason = fault_text(fault);
  else {
    Point at = {0, 0};
    *reason = rays_check(&line, &at);
    if (*reason) /* back into the drawing */
      *where = point(at.x * (at.x < 0 ? -low.x : high.x),
                     (low.y + high.y) / 2 + at.y * (high.y - low.y) / 2);
  }
  polyline_clear(&line);
  outline_clear(&unit);
  return !*reason;
}

Fault section_scale(const Outline *drawn, double half_low, double half_high, double half_buccal,
                    double half_lingual, double y0, Outline *scaled)
{
  const double size[] = {half_low, half_high, half_buccal, half_lingual};
  Point where;
  const char *reason;
  for (int i = 0; i < 4; i++)
    if (!(size[i] > 0 && size[i] < MAX_SIZE_MM))
      return FAULT_RANGE;
  if (!isfinite(y0))
    return FAULT_NOT_FINITE;
  if (!section_check(drawn, &where, &reason))
    return FAULT_SECTION;
  return scale(drawn, half_low, half_high, half_buccal, half_lingual, y0, scaled);
}

/* ---- ray by ray ---- */

/* Area of a superellipse as a share of the square around it: section.c's integral. */
static double area_share(double n)
{
  return exp(2 * lgamma(1 + 1 / n) - lgamma(1 + 2 / n));
}

static double roundness_of(double share)
{
  double low = SECTION_ROUND_LEAST, high = SECTION_ROUND_MOST;
  for (int it = 0; it < REACH_STEPS; it++) {
    double n = (low + high) / 2;
    if (area_share(n) < share)
      low = n;
    else
      high = n;
  }
  return (low + high) / 2;
}

/* The one crossing of a ray with a piece that spans less than half a turn. */
static double piece_reach(const Point c[4], Point ray)
{
  double low = 0, high = 1;
  for (int it = 0; it < REACH_STEPS; it++) {
    double t = (low + high) / 2;
    if (point_cross(ray, cubic_at(c, t)) < 0)
      low = t;
    else
      high = t;
  }
  return point_length(cubic_at(c, (low + high) / 2));
}

double drawn_section_reach(const DrawnSection *section, double angle, bool lingual)
{
  Point ray = point(lingual ? -sin(angle) : sin(angle), -cos(angle));
  const Outline *rim = &section->rim;
  for (size_t i = 0; i < rim->n; i++) {
    Point a = rim->knot[i].at, b = rim->knot[(i + 1) % rim->n].at;
    if (point_cross(a, ray) < 0 || point_cross(ray, b) < 0 || point_dot(point_add(a, b), ray) < 0)
      continue;
    Point c[4];
    outline_piece(rim, i, c);
    return piece_reach(c, ray);
  }
  return 1; /* not reached: the pieces go all the way round */
}

Fault drawn_section_new(const Outline *drawn, DrawnSection **section)
{
  DrawnSection *made = calloc(1, sizeof *made);
  if (!made)
    return FAULT_MEMORY;
  outline_init(&made->rim);
  Fault fault = section_scale(drawn, 1, 1, 1, 1, 0, &made->rim);
  if (fault) {
    drawn_section_free(made);
    return fault;
  }
  made->roundness = roundness_of(outline_area(&made->rim) / 4);
  for (int i = 1; i < HALF_STEPS; i++) {
    double angle = acos(-1.0) * i / HALF_STEPS;
    made->lopsided = fmax(made->lopsided, fabs(drawn_section_reach(made, angle, false) -
                                               drawn_section_reach(made, angle, true)));
  }
  *section = made;
  return FAULT_NONE;
}

void drawn_section_free(DrawnSection *section)
{
  if (!section)
    return;
  outline_clear(&section->rim);
  free(section);
}

double drawn_section_roundness(const DrawnSection *section)
{
  return section->roundness;
}

double drawn_section_lopsided(const DrawnSection *section)
{
  return section->lopsided;
}

static Point unit_of(Point p)
{
  return point_scale(p, 1 / point_length(p));
}

/* How far the rim turns at a knot, rad. */
static double turn_at(const Outline *rim, size_t i)
{
  Point before[4], after[4];
  outline_piece(rim, (i + rim->n - 1) % rim->n, before);
  outline_piece(rim, i, after);
  Point in = {0, 0}, out = {0, 0};
  for (int k = 2; k >= 0 && !(point_length(in) > TOL_POINT_MM); k--)
    in = point_sub(before[3], before[k]);
  for (int k = 1; k <= 3 && !(point_length(out) > TOL_POINT_MM); k++)
    out = point_sub(after[k], after[0]);
  in = unit_of(in), out = unit_of(out);
  return fabs(atan2(point_cross(in, out), point_dot(in, out)));
}

size_t drawn_section_corners(const DrawnSection *section, bool lingual,
                             double angle[SECTION_CORNERS])
{
  const Outline *rim = &section->rim;
  double turn[SECTION_CORNERS];
  size_t n = 0;
  for (size_t i = 0; i < rim->n && n < SECTION_CORNERS; i++) {
    Point p = rim->knot[i].at;
    double at = atan2(lingual ? -p.x : p.x, -p.y), sharp = turn_at(rim, i);
    if (!(at > CORNER_AWAY && at < acos(-1.0) - CORNER_AWAY && sharp > CORNER_TURN))
      continue;
    size_t k = n++;
    for (; k > 0 && angle[k - 1] > at; k--) {
      angle[k] = angle[k - 1];
      turn[k] = turn[k - 1];
    }
    angle[k] = at;
    turn[k] = sharp;
  }
  for (size_t i = 1; i < n;) {
    if (angle[i] - angle[i - 1] >= CORNER_APART) {
      i++;
      continue;
    }
    size_t off = turn[i] > turn[i - 1] ? i - 1 : i;
    n--;
    for (size_t k = off; k < n; k++) {
      angle[k] = angle[k + 1];
      turn[k] = turn[k + 1];
    }
  }
  return n;
}
