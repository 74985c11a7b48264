/* connector_solve.h - a reference connector through the solid, and the table of converged peaks.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa. */
#pragma once
#include "connector_shapes.h"
#include "mechanics/solid.h"
#include "proof.h"

static inline Field *connector_solid(const LoftInput *input, SolidGrade grade)
{
  Loft *loft = NULL;
  SolidWork *work = NULL;
  Field *field = NULL;
  Point where;
  Vec3 at;
  SolidSettings settings = {205000, 0.31, grade, NULL, NULL};
  g_assert_cmpint(loft_new(input, &loft, &where), ==, FAULT_NONE);
  g_assert_cmpint(solid_work_new(&work), ==, FAULT_NONE);
  g_assert_cmpint(solid_solve(work, loft, &settings, &field, &at), ==, FAULT_NONE);
  loft_free(loft);
  solid_work_free(work);
  return field;
}

typedef struct {
  double radius, open_deg, width, plan_radius, peak;
} TableRow;

/* M = 1000 N mm (core/SOURCES.md "solid"). */
#define connector_table_source                                                                     \
  ((Source){"converged solids of two independent codes, 0.13 to 0.40 %", SOLVER})
static const TableRow connector_table[] = {{0.2, 0, 3.2, 0.8, 589.3},
                                           {0.6, 0, 3.2, 1.0, 359.9},
                                           {0.2, 60, 3.2, 0.8, 588.3},
                                           {0.4, 0, 2.4, 0.8, 571.6}};

static inline void connector_table_draw(const TableRow *row, Connector4 *c)
{
  connector_draw(c, roof_shape(row->radius, 0, row->open_deg), row->width, row->plan_radius);
}

/* Owned. */
static inline char *connector_table_name(const TableRow *row)
{
  return g_strdup_printf("peak of a connector, roof %g, angle %g, width %g", row->radius,
                         row->open_deg, row->width);
}
