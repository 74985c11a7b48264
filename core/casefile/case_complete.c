/* case_complete.c - proposes what is not drawn, from the sizes of the units.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  The starting sizes are those of sound teaching cases (core/SOURCES.md "proposed outlines"):
 * habits of the trade, no proof.  Invariant: a drawn outline is never touched. */
#include "base/tolerance.h"
#include "casefile/case.h"

/* Front (both teeth 1-3) and back. */
typedef struct {
  double foot, roof;   /* half distance of the feet, height of the roof     */
  double groove_share; /* biting groove as a part of the lower crown        */
  double groove_radius;
  double neck_width;
} Starter;

static const Starter starter_front = {0.8, 1.8, 0.60, 0.4, 2.9};
static const Starter starter_back = {1.4, 2.0, 0.80, 0.8, 3.3};

#define WIDEST_OPENING_DEG 90.0
#define NARROWEST_OPENING_DEG 20.0
#define OPENING_STEP_DEG 5.0
#define MOUTH_SHARE 0.9 /* part of half a unit that the mouth of a groove may take */

Neighbours case_neighbours(const Case *c, size_t connector)
{
  const Unit *before = &c->unit[connector], *after = before + 1;
  return (Neighbours){{before->length / 2, after->length / 2},
                      {before->width, after->width},
                      {before->height, after->height}};
}

static double lower(const double pair[2])
{
  return fmin(pair[0], pair[1]);
}

/* The widest opening up to 90 degrees with which a groove of this radius, whose sides rise by
 * `rise`, ends before `room` on both sides: x of the mouth = (rise - r) tan a + r / cos a with half
 * the opening a. */
static double opening_that_fits(double radius, const double rise[2], const double room[2])
{
  for (double open = WIDEST_OPENING_DEG; open > NARROWEST_OPENING_DEG; open -= OPENING_STEP_DEG) {
    double a = open / 2 * M_PI / 180;
    bool fits = true;
    for (int i = 0; i < 2; i++)
      fits = fits && (rise[i] - radius) * tan(a) + radius / cos(a) <= MOUTH_SHARE * room[i];
    if (fits)
      return open;
  }
  return NARROWEST_OPENING_DEG;
}

static Fault propose_gingival(const Starter *starter, const Neighbours *around, Outline *outline)
{
  double foot = fmin(starter->foot, 0.6 * lower(around->length));
  double roof = fmin(starter->roof, 0.3 * lower(around->height));
  return shape_starter_u(foot, roof, around, outline);
}

static Fault propose_occlusal(Connector *k, const Starter *starter, const Neighbours *around,
                              Outline *outline)
{
  double y = isnan(k->groove_y) ? starter->groove_share * lower(around->height) : k->groove_y;
  double radius = isnan(k->groove_radius) ? starter->groove_radius : k->groove_radius;
  if (!(y <= lower(around->height)))
    return FAULT_RANGE;
  const double rise[2] = {around->height[0] - y, around->height[1] - y};
  double open = isnan(k->groove_open_deg) ? opening_that_fits(radius, rise, around->length)
                                          : k->groove_open_deg;
  Fault fault = shape_occlusal(y, radius, open, around, outline);
  if (fault)
    return fault;
  k->groove_y = y;
  k->groove_radius = radius;
  k->groove_open_deg = open;
  return FAULT_NONE;
}

static Fault propose_plan(Connector *k, const Starter *starter, const Neighbours *around, int sign,
                          Outline *outline)
{
  double width =
      isnan(k->neck_width) ? fmin(starter->neck_width, 0.6 * lower(around->width)) : k->neck_width;
  const double rise[2] = {(around->width[0] - width) / 2, (around->width[1] - width) / 2};
  double radius =
      isnan(k->plan_radius) ? shape_plan_radius(&k->side[SIDE_GINGIVAL]) : k->plan_radius;
  Fault fault = shape_plan(width, radius, opening_that_fits(radius, rise, around->length), sign,
                           around, outline);
  if (fault)
    return fault;
  k->neck_width = width;
  return FAULT_NONE;
}

Fault connector_complete(Case *c, size_t connector, Side *side)
{
  Connector *k = &c->connector[connector];
  bool front =
      tooth_is_front(c->unit[connector].tooth) && tooth_is_front(c->unit[connector + 1].tooth);
  const Starter *starter = front ? &starter_front : &starter_back;
  Neighbours around = case_neighbours(c, connector);
  for (int s = 0; s < SIDE_N; s++) { /* the gingival first: the plan follows it */
    if (k->drawn[s])
      continue;
    *side = (Side)s;
    Outline outline;
    outline_init(&outline);
    Fault fault = s == SIDE_GINGIVAL ? propose_gingival(starter, &around, &outline)
                  : s == SIDE_OCCLUSAL
                      ? propose_occlusal(k, starter, &around, &outline)
                      : propose_plan(k, starter, &around, s == SIDE_BUCCAL ? 1 : -1, &outline);
    if (fault) {
      outline_clear(&outline);
      return fault;
    }
    outline_clear(&k->side[s]);
    k->side[s] = outline;
  }
  return FAULT_NONE;
}

Fault case_complete(Case *c)
{
  Side side;
  if (c->n_unit > SPAN_MAX_UNITS)
    return FAULT_RANGE;
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    Fault fault = connector_complete(c, i, &side);
    if (fault)
      return fault;
  }
  return FAULT_NONE;
}
