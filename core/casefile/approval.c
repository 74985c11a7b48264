/* approval.c - what the supervisor has seen, and how far a drawing has left it.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  An approval holds only for the shape that was seen: proposed outlines are kept as well, and
 * how the body is rounded between them. */
#include "casefile/case.h"
#include "mechanics/section_shape.h"

#define CHORD_MM 0.005       /* between the points that are compared */
#define ROUNDNESS_SAME 0.005 /* half of what a file keeps with two decimals */

static Fault connector_approve(Connector *k)
{
  Fault fault = outline_copy(&k->approved_section, &k->section);
  for (int side = 0; side < SIDE_N && !fault; side++)
    fault = outline_copy(&k->approved[side], &k->side[side]);
  k->approved_roundness_neck = k->roundness_neck;
  k->approved_roundness_body = k->roundness_body;
  return fault;
}

Fault case_approve(Case *c)
{
  Fault fault = case_complete(c);
  for (size_t i = 0; i + 1 < c->n_unit && !fault; i++)
    fault = connector_approve(&c->connector[i]);
  return fault;
}

/* The largest distance of points of `from` to `to`; NaN without memory. */
static double distance_one_way(const Outline *from, const Outline *to, double enough_mm)
{
  Polyline line = {0};
  if (outline_flatten(from, CHORD_MM, &line))
    return NAN;
  double most = 0;
  for (size_t i = 0; i < line.n && most <= enough_mm; i++) {
    double distance;
    outline_nearest(to, line.at[i], &distance);
    most = fmax(most, distance);
  }
  polyline_clear(&line);
  return most;
}

double outlines_apart(const Outline *now, const Outline *seen, double enough_mm)
{
  if (outline_equal(now, seen, CHORD_MM))
    return 0;
  double there = distance_one_way(now, seen, enough_mm);
  return there > enough_mm ? there : fmax(there, distance_one_way(seen, now, enough_mm));
}

/* Between two sections stretched to the same size; `drawn` may be empty: by roundness then. */
static double section_distance(const Outline *now, double now_roundness, const Outline *seen,
                               double seen_roundness, NeckHalves halves, double enough_mm)
{
  Outline a, b;
  outline_init(&a);
  outline_init(&b);
  Fault fault =
      now->n > 0 ? section_fit(now, halves, &a) : section_from_roundness(now_roundness, halves, &a);
  if (!fault)
    fault = seen->n > 0 ? section_fit(seen, halves, &b)
                        : section_from_roundness(seen_roundness, halves, &b);
  double distance = fault ? INFINITY : outlines_apart(&a, &b, enough_mm);
  outline_clear(&a);
  outline_clear(&b);
  return distance;
}

/* Half sizes of the larger body, where its outlines end. */
static NeckHalves body_halves(const Outline side[SIDE_N])
{
  NeckHalves most = {0, 0, 0};
  for (int end = 0; end < 2; end++) {
    double v[SIDE_N];
    for (int s = 0; s < SIDE_N; s++)
      v[s] = side[s].knot[end ? side[s].n - 1 : 0].at.y;
    most.height = fmax(most.height, (v[SIDE_OCCLUSAL] - v[SIDE_GINGIVAL]) / 2);
    most.buccal = fmax(most.buccal, v[SIDE_BUCCAL]);
    most.lingual = fmax(most.lingual, -v[SIDE_LINGUAL]);
  }
  return most;
}

/* How far the rounding of neck and bodies has gone from what was seen, at the size that was seen:
 * what the outlines changed is measured on them.  NaN if it was never seen, or can be measured on
 * nothing. */
static double rounding_changed(const Connector *k, double enough_mm)
{
  static const Outline none = {0};
  const Outline *side = k->approved;
  Form form;
  for (int s = 0; s < SIDE_N; s++)
    if (side[s].n < 2)
      return NAN;
  if (isnan(k->approved_roundness_neck) || isnan(k->approved_roundness_body))
    return NAN;
  bool drawn = k->section.n > 0 || k->approved_section.n > 0;
  bool neck = drawn ? !outline_equal(&k->section, &k->approved_section, CHORD_MM)
                    : fabs(k->roundness_neck - k->approved_roundness_neck) > ROUNDNESS_SAME;
  bool body = fabs(k->roundness_body - k->approved_roundness_body) > ROUNDNESS_SAME;
  double most = 0;
  if (neck && form_neck_read(&side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], &side[SIDE_BUCCAL],
                             &side[SIDE_LINGUAL], &form, NULL) == FAULT_NONE) {
    NeckHalves halves = {form.neck_height / 2, form.neck_buccal, form.neck_lingual};
    most = section_distance(&k->section, k->roundness_neck, &k->approved_section,
                            k->approved_roundness_neck, halves, enough_mm);
  }
  if (body && most <= enough_mm)
    most = fmax(most, section_distance(&none, k->roundness_body, &none, k->approved_roundness_body,
                                       body_halves(side), enough_mm));
  return most;
}

double connector_changed(const Connector *connector, double enough_mm)
{
  double most = NAN;
  for (int side = 0; side < SIDE_N && !(most > enough_mm); side++) {
    const Outline *now = &connector->side[side], *seen = &connector->approved[side];
    if (now->n >= 2 && seen->n >= 2)
      most = fmax(most, outlines_apart(now, seen, enough_mm));
  }
  return most > enough_mm ? most : fmax(most, rounding_changed(connector, enough_mm));
}
