/* section_shape.c - moves on a drawn section: begun from roundness, a knot moved, fitted to the
 * neck. SPDX-License-Identifier: GPL-3.0-or-later */
#include "mechanics/section_shape.h"
#include "base/tolerance.h"
#include "outline/knot.h"
#include <math.h>
#include <stdint.h>

#define ON_MIDDLE_MM 1e-3 /* a knot that near to z = 0 is on it             */
#define IMAGE_MM 0.25     /* the image of a knot is looked for within that  */
#define SLOPE_STEP 1e-4   /* rad, of a difference quotient                  */

static void take(Outline *made, Outline *fresh)
{
  outline_clear(made);
  *made = *fresh;
}

static Point polar(double reach, double angle, NeckHalves neck)
{
  double z = reach * cos(angle), y = reach * sin(angle);
  return point(z * (z > 0 ? neck.buccal : neck.lingual), y * neck.height);
}

typedef double (*Reach)(double angle, const void *data); /* counter-clockwise from the cheek */

/* Knots at even angles with the rim's own tangents. */
static Fault round_draw(Reach reach, const void *data, NeckHalves neck, Outline *made)
{
  const double step = 2 * acos(-1.0) / SECTION_KNOTS;
  Point at[SECTION_KNOTS], along[SECTION_KNOTS];
  for (int i = 0; i < SECTION_KNOTS; i++) {
    double a = i * step;
    at[i] = polar(reach(a, data), a, neck);
    Point before = polar(reach(a - SLOPE_STEP, data), a - SLOPE_STEP, neck),
          after = polar(reach(a + SLOPE_STEP, data), a + SLOPE_STEP, neck);
    along[i] = point_scale(point_sub(after, before), step / (3 * 2 * SLOPE_STEP));
  }
  Outline fresh;
  outline_init(&fresh);
  Fault fault = outline_move_to(&fresh, at[0]);
  for (int i = 0; i < SECTION_KNOTS && !fault; i++) {
    int k = (i + 1) % SECTION_KNOTS;
    fault = outline_curve_to(&fresh, point_add(at[i], along[i]), point_sub(at[k], along[k]), at[k]);
  }
  if (!fault)
    fault = outline_close(&fresh);
  if (fault)
    outline_clear(&fresh);
  else
    take(made, &fresh);
  return fault;
}

static double superellipse_reach(double angle, const void *data)
{
  double n = *(const double *)data;
  return pow(pow(fabs(cos(angle)), n) + pow(fabs(sin(angle)), n), -1 / n);
}

Fault section_from_roundness(double n, NeckHalves neck, Outline *made)
{
  if (!(n >= 1 && n <= 50))
    return FAULT_RANGE;
  return round_draw(superellipse_reach, &n, neck, made);
}

static double even_reach(double angle, const void *data)
{
  /* from the gum side, over one half */
  double from_gum = acos(-sin(angle));
  return (drawn_section_reach(data, from_gum, false) + drawn_section_reach(data, from_gum, true)) /
         2;
}

Fault section_make_even(const Outline *from, NeckHalves neck, Outline *made)
{
  DrawnSection *drawn = NULL;
  Fault fault = drawn_section_new(from, &drawn);
  if (!fault)
    fault = round_draw(even_reach, drawn, neck, made);
  drawn_section_free(drawn);
  return fault;
}

static void knot_shift(Knot *knot, Point by)
{
  knot->at = point_add(knot->at, by);
  knot->in = point_add(knot->in, by);
  knot->out = point_add(knot->out, by);
}

/* The knot nearest to the mirror image of another; that one itself on the middle line. */
static size_t image_of(const Outline *o, size_t knot)
{
  return knot_near(o, point(-o->knot[knot].at.x, o->knot[knot].at.y), IMAGE_MM, NULL);
}

Fault section_move_knot(const Outline *from, size_t knot, Point to, bool even, Outline *made)
{
  if (knot >= from->n)
    return FAULT_RANGE;
  if (!point_finite(to))
    return FAULT_NOT_FINITE;
  Outline fresh;
  outline_init(&fresh);
  Fault fault = outline_copy(&fresh, from);
  if (fault)
    return fault;
  Point at = from->knot[knot].at;
  if (even && fabs(at.x) < ON_MIDDLE_MM)
    to.x = at.x;
  size_t image = even ? image_of(from, knot) : knot;
  knot_shift(&fresh.knot[knot], point_sub(to, at));
  if (image != knot && image != SIZE_MAX)
    knot_shift(&fresh.knot[image], point_sub(point(-to.x, to.y), from->knot[image].at));
  take(made, &fresh);
  return FAULT_NONE;
}

Fault section_fit(const Outline *from, NeckHalves neck, Outline *made)
{
  Point low, high;
  section_box(from, &low, &high);
  if (!(low.x < 0 && high.x > 0 && high.y - low.y > TOL_POINT_MM))
    return FAULT_SECTION;
  double middle = (low.y + high.y) / 2, up = 2 * neck.height / (high.y - low.y);
  Outline fresh;
  outline_init(&fresh);
  Fault fault = outline_copy(&fresh, from);
  for (size_t i = 0; i < fresh.n && !fault; i++) {
    Point *const p[] = {&fresh.knot[i].at, &fresh.knot[i].in, &fresh.knot[i].out};
    double wide = p[0]->x > 0 ? neck.buccal / high.x : neck.lingual / -low.x;
    for (int k = 0; k < 3; k++)
      *p[k] = point(p[k]->x * wide, (p[k]->y - middle) * up);
  }
  if (!fault)
    take(made, &fresh);
  return fault;
}
