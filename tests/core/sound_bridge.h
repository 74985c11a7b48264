/* sound_bridge.h - a bridge that no rule finds fault with, for tests of the rules.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "verdict/rules.h"
#include <math.h>
#include <string.h>

/* A sound three-unit bridge, as facts; the tests spoil one fact at a time. */
typedef struct {
  Case c;
  Facts facts;
} Bridge;

static inline void bridge_init(Bridge *b)
{
  static const int tooth[] = {45, 46, 47};
  case_init(&b->c);
  b->c.n_unit = 3;
  for (size_t i = 0; i < 3; i++) {
    b->c.unit[i].tooth = tooth[i];
    b->c.unit[i].role = i == 1 ? ROLE_PONTIC : ROLE_ABUTMENT;
    b->c.unit[i].length = 10, b->c.unit[i].width = 10, b->c.unit[i].height = 7.5;
  }
  b->c.material.iso_class = 5;
  b->c.enlargement = 1.25;
  b->c.cutter_diameter = 1.0;
  b->c.brush_mm = 1.3;
  b->c.order_load_n = 600;
  b->c.step = STEP_DRAWING;
  b->c.grinding_habit = ANSWER_NO;
  memset(&b->facts, 0, sizeof b->facts);
  b->facts.c = &b->c;
  for (size_t i = 0; i < 2; i++) {
    Form form = {.neck_height = 4.1,
                 .neck_width = 3.3,
                 .roof = {0, 2},
                 .roof_radius = {0.95, 0.94, 0.96},
                 .kind = FORM_U,
                 .leg_lean_left_deg = 11,
                 .leg_lean_right_deg = 11,
                 .gap_circle = 2.0,
                 .groove_radius = 0.9,
                 .depth = 2};
    b->facts.connector[i] = (ConnectorFacts){.form = form,
                                             .neck_area = 10.6,
                                             .limits = limits_for(&b->c, i),
                                             .peak_mpa = 300,
                                             .strength_mpa = 800,
                                             .carries_n = 1600,
                                             .rescue_height = NAN,
                                             .rescue_area = NAN,
                                             .cut_back_area = NAN};
  }
}

static inline bool fires(const Bridge *b, const char *id)
{
  g_autoptr(GArray) fired = rules_apply(&b->facts);
  for (guint i = 0; i < fired->len; i++)
    if (strcmp(g_array_index(fired, FiredRule, i).rule->id, id) == 0)
      return true;
  return false;
}
