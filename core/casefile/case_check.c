/* case_check.c - whether a case makes sense: teeth, sizes, roles, outlines.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N.  Reasons are English msgids: what is wrong, then what to do.  Nothing is changed. */
#include "base/phrase.h"
#include "casefile/load_case.h"
#include "casefile/tooth_place.h"
#include "mechanics/drawn_section.h"
#include "outline/form.h"
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static bool size_good(double size)
{
  return size >= UNIT_SIZE_MIN_MM && size <= UNIT_SIZE_MAX_MM; /* false for NaN */
}

bool case_check_units(const Case *c, size_t *unit, const char **reason)
{
  *unit = SIZE_MAX;
  if (c->n_unit < 2) {
    *reason = N_("A bridge has at least two units. Add the units.");
    return false;
  }
  if (c->n_unit > SPAN_MAX_UNITS) {
    *reason = N_("A bridge has at most 16 units. Split the case.");
    return false;
  }
  int step = 0;
  for (size_t i = 0; i < c->n_unit; i++) {
    const Unit *u = &c->unit[i];
    *unit = i;
    if (!tooth_valid(u->tooth)) {
      *reason =
          N_("This tooth number is not known. Use ISO 3950 numbers: 11-18, 21-28, 31-38 or 41-48.");
      return false;
    }
    for (size_t k = 0; k < i; k++)
      if (c->unit[k].tooth == u->tooth) {
        *reason = N_("This tooth is there twice. Give each unit its own tooth number.");
        return false;
      }
    if (i > 0) {
      int way = tooth_place(u->tooth) - tooth_place(c->unit[i - 1].tooth);
      bool one_arch = tooth_upper(u->tooth) == tooth_upper(c->unit[i - 1].tooth);
      if (!one_arch || (way != 1 && way != -1) || (i > 1 && way != step)) {
        *reason = N_("This tooth is no neighbour of the unit before it. List the units in the "
                     "order of the arch.");
        return false;
      }
      step = way;
    }
    if ((unsigned)u->role >= ROLE_N) {
      *reason = N_("This unit has no known role. Make it an abutment, an implant or a pontic.");
      return false;
    }
    if (!size_good(u->length) || !size_good(u->width) || !size_good(u->height)) {
      *reason = N_("A size of this unit is missing or absurd. Enter length, width and height "
                   "between 1 and 30 mm.");
      return false;
    }
    if (u->support == SUPPORT_OWN && !(u->own.axial_n_mm > 0 && u->own.rotation_n_mm_rad >= 0)) {
      *reason = N_("The own support of this unit is no stiffness. Enter a number above zero, or "
                   "choose mid.");
      return false;
    }
  }
  *unit = SIZE_MAX;
  return true;
}

static bool stands(const Unit *unit)
{
  return unit->role == ROLE_ABUTMENT || unit->role == ROLE_IMPLANT;
}

/* A pontic stands between supports, a hanging one does not. */
static bool roles_check(const Case *c, size_t *unit, const char **reason)
{
  size_t first = SIZE_MAX, last = 0;
  for (size_t i = 0; i < c->n_unit; i++)
    if (stands(&c->unit[i])) {
      first = first == SIZE_MAX ? i : first;
      last = i;
    }
  if (first == SIZE_MAX) {
    *unit = SIZE_MAX;
    *reason = fault_text(FAULT_SUPPORT);
    return false;
  }
  for (size_t i = 0; i < c->n_unit; i++) {
    *unit = i;
    bool between = i > first && i < last;
    if (c->unit[i].role == ROLE_PONTIC && !between) {
      *reason = N_(
          "No abutment stands beyond this pontic. Make it a hanging pontic, or add an abutment.");
      return false;
    }
    if (c->unit[i].role == ROLE_HANGING && between) {
      *reason = N_("This hanging pontic stands between abutments. Make it a pontic.");
      return false;
    }
  }
  return true;
}

static bool loads_check(const Case *c, const char **reason)
{
  const double force[2] = {c->order_load_n, c->trial.force_n};
  for (int i = 0; i < 2; i++)
    if (!(force[i] > 0 && force[i] <= CASE_LOAD_MAX_N)) {
      *reason = N_("The load is missing or absurd. Enter a load between 1 and 10000 N.");
      return false;
    }
  return true;
}

/* Outlines that are not there yet (before case_complete) are passed over. */
static bool connector_check(const Case *c, size_t i, char place[32], const char **reason)
{
  static const char *const side_name[SIDE_N] = {"gingival", "occlusal", "buccal", "lingual"};
  const Outline *side = c->connector[i].side;
  char name[12];
  connector_name(c, i, '/', name);
  bool all = true;
  for (int s = 0; s < SIDE_N; s++) {
    if (side[s].n == 0) {
      all = false;
      continue;
    }
    Point where;
    Fault fault = outline_check(&side[s]);
    if (!fault && side[s].closed)
      fault = FAULT_DEGENERATE;
    if (!fault)
      fault = outline_find_crossing(&side[s], &where);
    if (fault) {
      snprintf(place, 32, "%s %s", name, side_name[s]);
      *reason = fault_text(fault);
      return false;
    }
  }
  Form form;
  Point where;
  const Outline *section = connector_section(&c->connector[i]);
  if (section && !section_check(section, &where, reason)) {
    snprintf(place, 32, "%s section", name);
    return false;
  }
  Fault fault = all ? form_read(&side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], &side[SIDE_BUCCAL],
                                &side[SIDE_LINGUAL], NULL, &form, &where)
                    : FAULT_NONE;
  if (fault) {
    snprintf(place, 32, "%s", name);
    *reason = fault == FAULT_CROSSING
                  ? N_("Two outlines cross here, so there is no neck. Draw one of them again.")
                  : fault_text(fault);
    return false;
  }
  return true;
}

bool case_check(const Case *c, char place[32], const char **reason)
{
  size_t unit;
  if (!case_check_units(c, &unit, reason) || !roles_check(c, &unit, reason)) {
    if (unit == SIZE_MAX)
      snprintf(place, 32, "bridge");
    else
      snprintf(place, 32, "unit %u", (unsigned)(unit + 1));
    return false;
  }
  if (!loads_check(c, reason)) {
    snprintf(place, 32, "load");
    return false;
  }
  for (size_t i = 0; i < c->n_load_case; i++)
    if (!load_case_check(c, &c->load_case[i], reason)) {
      snprintf(place, 32, "bite %u", (unsigned)(i + 1));
      return false;
    }
  double turn;
  if (case_turn(c, &turn)) {
    snprintf(place, 32, "bridge");
    *reason =
        N_("The bow of the arch is larger than that of a half circle. Measure again how far a "
           "pontic lies beside the line of the abutments.");
    return false;
  }
  for (size_t i = 0; i + 1 < c->n_unit; i++)
    if (!connector_check(c, i, place, reason))
      return false;
  if (!origin_check(c, reason)) {
    snprintf(place, 32, "%s", N_("break"));
    return false;
  }
  return true;
}
