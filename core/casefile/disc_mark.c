/* disc_mark.c - what events after firing have done: how deep a disc has cut, the finish as it is
 * now. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, y up. */
#include "casefile/case.h"

#define BESIDE_MM                                                                                  \
  0.3             /* from the middle of a mark to sound surface: discs are thinner than 0.6 mm */
#define STEPS 500 /* of the search along the outline */

/* The highest place of the outline within `reach` of x, up 1; the lowest, turned round, up -1; NaN
 * if there is none. */
static double highest(const Outline *gum, double up, double x, double reach)
{
  double high = NAN, last = (double)outline_pieces(gum);
  for (int i = 0; i <= STEPS; i++) {
    Point p = outline_at(gum, last * i / STEPS);
    if (fabs(p.x - x) <= reach)
      high = fmax(high, up * p.y);
  }
  return high;
}

/* The outline's height at x, between two places of the search. */
static double height_at(const Outline *gum, double x)
{
  double high = NAN, last = (double)outline_pieces(gum);
  Point before = outline_at(gum, 0);
  for (int i = 1; i <= STEPS; i++) {
    Point p = outline_at(gum, last * i / STEPS);
    if (p.x != before.x && (before.x - x) * (p.x - x) <= 0)
      high = fmax(high, before.y + (p.y - before.y) * (x - before.x) / (p.x - before.x));
    before = p;
  }
  return high;
}

double connector_mark_bottom(const Connector *connector)
{
  const Outline *gum = &connector->side[SIDE_GINGIVAL];
  double bottom = NAN;
  if (gum->n < 2)
    return NAN;
  double roof = highest(gum, 1, 0, INFINITY);
  if (connector->finish[ZONE_ROOF] == FINISH_DISC_CUT ||
      connector->finish[ZONE_LEGS] == FINISH_DISC_CUT)
    bottom = roof; /* as drawn: the mark reaches the roof, or is no higher */
  for (guint i = 0; i < connector->event->len; i++) {
    const SurfaceEvent *event = &g_array_index(connector->event, SurfaceEvent, i);
    if (event->kind != EVENT_DISC || event->removed == ANSWER_YES)
      continue;
    double x = event->at_x;
    bool placed = isfinite(x);
    double drawn = placed ? highest(gum, 1, x, BESIDE_MM / 2) : roof;
    double sound =
        placed ? (height_at(gum, x - BESIDE_MM) + height_at(gum, x + BESIDE_MM)) / 2 : roof;
    bottom = fmax(bottom, fmax(drawn, sound + event->depth));
  }
  return bottom;
}

#define ROOF_PART 0.4 /* of the depth, from the top: the roof zone of the trade */

bool surface_event_treatment(const SurfaceEvent *event, Treatment *treatment, bool *dry)
{
  static const Treatment of[] = {
      [EVENT_DISC] = TREAT_DISC, [EVENT_GROUND] = TREAT_GROUND, [EVENT_BLASTED] = TREAT_BLASTED,
      [EVENT_HEAT] = TREAT_HEAT, [EVENT_CUT] = TREAT_N,         [EVENT_GLAZE] = TREAT_GLAZE};
  *treatment = (unsigned)event->kind < G_N_ELEMENTS(of) ? of[event->kind] : TREAT_N;
  *dry = event->water == ANSWER_NO;
  return *treatment != TREAT_N;
}

bool surface_event_touches(const Connector *connector, const SurfaceEvent *event, FinishZone zone)
{
  if (event->zone)
    return event->zone == (unsigned)zone + 1;
  if (event->kind == EVENT_HEAT)
    return true; /* the furnace reaches every surface */
  if (zone != ZONE_ROOF && zone != ZONE_LEGS)
    return false;
  const Outline *gum = &connector->side[SIDE_GINGIVAL];
  if (!isfinite(event->at_x) || gum->n < 2)
    return true;
  double there = height_at(gum, event->at_x), roof = highest(gum, 1, 0, INFINITY);
  bool in_roof = !(there < (1 - ROOF_PART) * roof); /* off the line: the roof, the safe side */
  return in_roof == (zone == ZONE_ROOF);
}

static double factor_of(FinishState state)
{
  return finish_factor(state, FINISH_AS_FIRED, NAN).value;
}

void connector_finish_now(const Connector *connector, FinishState now[ZONE_NECK_N])
{
  for (int zone = 0; zone < ZONE_NECK_N; zone++) {
    FinishState state = connector->finish[zone];
    for (guint i = 0; connector->event && i < connector->event->len; i++) {
      const SurfaceEvent *event = &g_array_index(connector->event, SurfaceEvent, i);
      Treatment treatment;
      bool dry;
      if (event->removed == ANSWER_YES || !surface_event_treatment(event, &treatment, &dry) ||
          !surface_event_touches(connector, event, (FinishZone)zone))
        continue;
      FinishState after = finish_after(state, treatment, dry);
      if (factor_of(after) < factor_of(state))
        state = after;
    }
    now[zone] = state;
  }
}

/* A disc's cut as it may be drawn: no wider at its bottom than half of such a disc. */
#define DRAWN_RADIUS 0.15
#define SHARP_LEAST 0.3 /* rad: corners that turn less are no cut */
#define SHARP_PLACES 16

/* The deepest sharp cut of a line near x (NaN: anywhere), mm; up: 1 where it cuts upwards, else -1.
 * 0 where none is drawn. */
static double cut_drawn(const Outline *line, double up, double x)
{
  SharpPlace place[SHARP_PLACES];
  size_t n = 0;
  double deepest = 0;
  Fault fault = line->n < 2 ? FAULT_DEGENERATE
                            : sharp_places_find(line, SHARP_LEAST, place, SHARP_PLACES, &n);
  if (fault && fault != FAULT_ROOM)
    return 0;
  for (size_t i = 0; i < n && i < SHARP_PLACES; i++) {
    Point at = place[i].at;
    if (fabs(place[i].kappa) < 1 / DRAWN_RADIUS || fabs(at.x - x) > BESIDE_MM / 2)
      continue;
    double sound = (height_at(line, at.x - BESIDE_MM) + height_at(line, at.x + BESIDE_MM)) / 2;
    deepest = fmax(deepest, highest(line, up, at.x, BESIDE_MM / 2) - up * sound);
  }
  return deepest;
}

/* What is drawn is meshed and must not count twice. */
double surface_event_undrawn(const Connector *connector, const SurfaceEvent *event, FinishZone zone)
{
  if (!(event->depth > 0))
    return NAN;
  double drawn = 0;
  if (zone == ZONE_ROOF || zone == ZONE_LEGS)
    drawn = cut_drawn(&connector->side[SIDE_GINGIVAL], 1, event->at_x);
  else if (zone == ZONE_GROOVE)
    drawn = cut_drawn(&connector->side[SIDE_OCCLUSAL], -1, event->at_x);
  return event->depth > drawn ? event->depth - drawn : NAN;
}

void connector_surfaces(const Connector *connector, const FinishState state[ZONE_NECK_N],
                        ZoneSurface surface[ZONE_NECK_N])
{
  for (int zone = 0; zone < ZONE_NECK_N; zone++) {
    surface[zone] = (ZoneSurface){state[zone], NAN, NAN};
    bool cut = state[zone] == FINISH_DISC_CUT; /* else it was worked out since */
    for (guint i = 0; cut && connector->event && i < connector->event->len; i++) {
      const SurfaceEvent *event = &g_array_index(connector->event, SurfaceEvent, i);
      if (event->kind != EVENT_DISC || event->removed == ANSWER_YES ||
          !surface_event_touches(connector, event, (FinishZone)zone))
        continue;
      double mark = surface_event_undrawn(connector, event, (FinishZone)zone);
      if (mark > 0 && !(mark <= surface[zone].mark)) { /* the deepest counts */
        surface[zone].mark = mark;
        surface[zone].edge = event->edge_radius;
      }
    }
  }
}

void connector_surfaces_now(const Connector *connector, ZoneSurface surface[ZONE_NECK_N])
{
  FinishState now[ZONE_NECK_N];
  connector_finish_now(connector, now);
  connector_surfaces(connector, now, surface);
}
