/* case_span.c - a case as a beam on springs.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, N/mm, N mm/rad, MPa.  Bodies are superellipses n = 4 of unit width and height; the neck is
 * read from the outlines at its thinnest place. */
#include "base/tolerance.h"
#include "casefile/load_case.h"
#include "mechanics/section.h"
#include "outline/form.h"

#define BODY_ROUNDNESS 4.0
#define SHEAR_FACTOR_BODY 0.85 /* rectangle, Cowper, core/SOURCES.md "span" */
#define SHEAR_FACTOR_NECK 0.89 /* ellipse near a circle, Cowper             */
#define IMPLANT_STIFFER 10.0
#define LEVER_MM                                                                                   \
  12.0 /* middle of the root below the middle of the crown: core/SOURCES.md "span"                 \
        */
#define MOUTH_RISE_MM 0.1 /* an outline this far from its body has entered the notch */

SpanSpring support_spring(SupportKind kind, UnitRole role)
{
  SpanSpring spring = {3000, 50e3};
  if (kind == SUPPORT_SOFT)
    spring = (SpanSpring){1000, 10e3};
  else if (kind == SUPPORT_STIFF)
    spring = (SpanSpring){10000, 200e3};
  if (role == ROLE_IMPLANT) {
    spring.axial_n_mm *= IMPLANT_STIFFER;
    spring.rotation_n_mm_rad *= IMPLANT_STIFFER;
  }
  return spring;
}

/* Spring along the arch at the middle of the root: the thrust that relieves a bridge pressed down
 * between its abutments. A support with springs of its own has none: the safe side. */
static double support_lateral(SupportKind kind)
{
  static const double lateral[] = {
      [SUPPORT_MID] = 1000, [SUPPORT_SOFT] = 300, [SUPPORT_STIFF] = 3000, [SUPPORT_OWN] = 0};
  return (unsigned)kind < G_N_ELEMENTS(lateral) ? lateral[kind] : 0;
}

static bool stands(const Unit *unit)
{
  return unit->role == ROLE_ABUTMENT || unit->role == ROLE_IMPLANT;
}

Fault case_turn(const Case *c, double *turn_1_mm)
{
  double middle[SPAN_MAX_UNITS], start = 0;
  size_t n = 0, up_to_last = 0;
  for (size_t i = 0; i < c->n_unit; start += c->unit[i++].length) {
    if (n == 0 && !stands(&c->unit[i]))
      continue; /* hangs before the first abutment */
    middle[n++] = start + c->unit[i].length / 2;
    if (stands(&c->unit[i]))
      up_to_last = n;
  }
  *turn_1_mm = 0;
  return up_to_last > 2 && c->arch_bow > 0
             ? span_turn_of_bow(middle, up_to_last, c->arch_bow, turn_1_mm)
             : FAULT_NONE;
}

/* Sideways: the same tooth stands as firmly towards cheek and tongue as along the arch, and turns
 * about the line of the arch and its own axis as in the elevation; a hinge of its own is one in the
 * elevation alone.  Common practice, no source: core/SOURCES.md "span in space". */
static void support_sideways(const Unit *unit, SupportKind kind, SpanUnit *made)
{
  double least = support_spring(SUPPORT_MID, unit->role).rotation_n_mm_rad;
  bool own = kind == SUPPORT_OWN;
  made->cheek_n_mm = own ? made->spring.axial_n_mm / 3 : support_lateral(kind);
  if (!own && unit->role == ROLE_IMPLANT)
    made->cheek_n_mm *= IMPLANT_STIFFER;
  made->twist_n_mm_rad = made->yaw_n_mm_rad =
      own ? fmax(least, made->spring.rotation_n_mm_rad) : made->spring.rotation_n_mm_rad;
}

/* What stands under a unit, middle hold taken as `mid`. */
static void support_put(const Unit *u, SupportKind mid, SpanUnit *beam)
{
  beam->supported = stands(u);
  if (!beam->supported)
    return;
  SupportKind kind = u->support == SUPPORT_MID ? mid : u->support;
  beam->lateral_n_mm = support_lateral(kind);
  beam->lever = LEVER_MM;
  beam->spring = kind == SUPPORT_OWN ? u->own : support_spring(kind, u->role);
  support_sideways(u, kind, beam);
}

void case_support(const Unit *u, SpanUnit *beam)
{
  support_put(u, SUPPORT_MID, beam);
}

void case_span_supports(const Case *c, SupportKind mid, SpanInput *input)
{
  for (size_t i = 0; i < c->n_unit; i++)
    support_put(&c->unit[i], mid, &input->unit[i]);
}

/* Where an elevation outline leaves the level of its end, walking in from there: step +1 from the
 * first point, -1 from the last.  NaN when it never does. */
static double mouth_x(const Polyline *line, int step)
{
  size_t i = step > 0 ? 0 : line->n - 1;
  double level = line->at[i].y;
  for (size_t left = line->n - 1; left > 0; left--) {
    Point on = line->at[i], next = line->at[step > 0 ? i + 1 : i - 1];
    double off = fabs(next.y - level);
    if (off > MOUTH_RISE_MM)
      return point_mix(on, next, (MOUTH_RISE_MM - fabs(on.y - level)) / (off - fabs(on.y - level)))
          .x;
    i = step > 0 ? i + 1 : i - 1;
  }
  return NAN;
}

/* Half the length over which an elevation outline leaves the level of the bodies beside it. */
static Fault mouth_half_length(const Outline *outline, double *half)
{
  Polyline line = {0};
  Fault fault = outline_flatten(outline, 0.01, &line);
  if (fault)
    return fault;
  double left = mouth_x(&line, 1), right = mouth_x(&line, -1);
  *half = right > left ? (right - left) / 2 : MIN_NECK_MM; /* no notch: a short one */
  polyline_clear(&line);
  return FAULT_NONE;
}

Fault case_span_neck(const Case *c, size_t i, const Outline *gingival, const Outline *occlusal,
                     const Form *form, SpanNeck *neck)
{
  const Connector *k = &c->connector[i];
  Section section;
  double half = form->neck_height / 2;
  Fault fault = section_neck(connector_section(k), half, half, form->neck_buccal,
                             form->neck_lingual, k->roundness_neck, form->neck_y, &section);
  double gum = 0, biting = 0;
  if (!fault)
    fault = mouth_half_length(gingival, &gum);
  if (!fault)
    fault = mouth_half_length(occlusal, &biting);
  if (fault)
    return fault;
  double room = fmin(c->unit[i].length, c->unit[i + 1].length) / 2;
  *neck = (SpanNeck){
      .area = section.area,
      .i_z = section.i_z,
      .shear_factor = SHEAR_FACTOR_NECK,
      .height = form->neck_height,
      .body_height = fmin(c->unit[i].height, c->unit[i + 1].height),
      .half_length = fmin((gum + biting) / 2, room),
      .i_y = section.i_y,
      .torsion = section.torsion,
      .rise = form->neck_y - (c->unit[i].height + c->unit[i + 1].height) / 4,
  };
  return FAULT_NONE;
}

Fault case_span_input(const Case *c, const Form form[], SpanInput *input)
{
  if (c->n_unit < 2 || c->n_unit > SPAN_MAX_UNITS)
    return FAULT_RANGE;
  SpanInput made = {
      .n_unit = c->n_unit,
      .young_mpa = c->material.young_mpa,
      .poisson = c->material.poisson,
      .space = case_in_space(c),
  };
  Fault turned = case_turn(c, &made.turn_1_mm);
  if (turned)
    return turned;
  for (size_t i = 0; i < c->n_unit; i++) {
    const Unit *u = &c->unit[i];
    Section body;
    Fault fault = (made.space ? section_superellipse : section_superellipse_bent)(
        u->height, u->width, BODY_ROUNDNESS, u->height / 2, &body);
    if (fault)
      return fault;
    made.unit[i] = (SpanUnit){
        .length = u->length,
        .area = body.area,
        .i_z = body.i_z,
        .shear_factor = SHEAR_FACTOR_BODY,
        .i_y = body.i_y,
        .torsion = body.torsion,
        .edge = u->height / 2,
    };
  }
  case_span_supports(c, SUPPORT_MID, &made);
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    const Outline *side = c->connector[i].side;
    Fault fault =
        case_span_neck(c, i, &side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], &form[i], &made.neck[i]);
    if (fault)
      return fault;
  }
  *input = made;
  return FAULT_NONE;
}
