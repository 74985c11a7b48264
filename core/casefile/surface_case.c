/* surface_case.c - a surface and the case it belongs to.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/surface_case.h"
#include "casefile/drawn.h"
#include "mechanics/drawn_section.h"
#include "outline/form.h"
#include <math.h>

/* Face to face with the left cheek (quadrant 3, biting side up) the midline is at the left: from
 * there away the units run to the right, cheek in front.  Each change of side, of jaw (turned
 * upside down) or of direction exchanges front and back once. */
bool case_cheek_behind(const Case *c)
{
  if (c->n_unit < 2)
    return false;
  int quadrant = c->unit[0].tooth / 10;
  bool even = quadrant == 2 || quadrant == 4;
  return even == connector_distal_right(c, 0);
}

void case_connector_shares(const Case *c, double share[])
{
  double sum = 0, so_far = 0;
  for (size_t i = 0; i < c->n_unit; i++)
    sum += c->unit[i].length;
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    so_far += c->unit[i].length;
    share[i] = sum > 0 ? so_far / sum : 0.5;
  }
}

#define SECTION_ANGLES 48
#define ROUNDNESS_MOST 8.0 /* what a loft takes */
#define SECTION_ALIKE                                                                              \
  0.04 /* of the reach: a section this near to a superellipse is taken as one                      \
        */

/* The section as cut: by roundness where that tells it, which is solved faster, else as drawn. */
static Fault take_section(Connector *joint, const Outline *cut)
{
  Point low, high, where;
  const char *reason;
  Outline section = {0};
  DrawnSection *unit = NULL;
  outline_clear(&joint->section);
  if (!cut->n || !section_check(cut, &where, &reason))
    return FAULT_NONE; /* the four outlines are of use all the same */
  Fault fault = outline_copy(&section, cut);
  if (!fault) {
    section_box(&section, &low, &high);
    outline_transform(&section, (const double[6]){1, 0, 0, 1, -(low.x + high.x) / 2, 0});
    fault = drawn_section_new(&section, &unit);
  }
  if (!fault) {
    double n = fmin(drawn_section_roundness(unit), ROUNDNESS_MOST), off = 0;
    for (int i = 0; i <= SECTION_ANGLES; i++) {
      double angle = M_PI * i / SECTION_ANGLES,
             even = pow(pow(fabs(cos(angle)), n) + pow(fabs(sin(angle)), n), -1 / n);
      for (int lingual = 0; lingual < 2; lingual++)
        off = fmax(off, fabs(drawn_section_reach(unit, angle, lingual) / even - 1));
    }
    joint->roundness_neck = n;
    if (off > SECTION_ALIKE) {
      joint->section = section;
      section = (Outline){0};
    }
  }
  drawn_section_free(unit);
  outline_clear(&section);
  return fault;
}

Fault case_take_trace(Case *c, size_t connector, const Trace *trace)
{
  if (connector + 1 >= c->n_unit)
    return FAULT_RANGE;
  const Outline *const from[SIDE_N] = {&trace->gingival, &trace->occlusal, &trace->buccal,
                                       &trace->lingual};
  Connector *joint = &c->connector[connector];
  Fault fault = FAULT_NONE;
  for (int i = 0; i < SIDE_N && !fault; i++) {
    fault = outline_copy(&joint->side[i], from[i]);
    joint->drawn[i] = joint->drawn[i] || !fault;
  }
  Form form;
  if (!fault)
    fault = form_roof_read(&joint->side[SIDE_GINGIVAL], &form);
  if (fault)
    return fault;
  connector_roof_doubt_set(joint, surface_roof_doubt(form.roof_radius.value, trace->roof_turn));
  return take_section(joint, &trace->section);
}
