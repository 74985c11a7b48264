/* hollow.c - finds roof, feet, legs and roof zone of an embrasure.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm, angles degrees.  Method: core/SOURCES.md "roof, feet and legs". */
#include "outline/hollow.h"
#include "base/tolerance.h"

#define TIE_MM 1e-4  /* heights that differ less are one flat roof                        */
#define KNEE_MM 0.02 /* a foot stands out from the line roof - end of body by at least this */
#define LEG_LOW 0.1  /* a leg's lean is read between these shares of its height           */
#define LEG_HIGH 0.5
#define ZONE 0.4 /* roof zone: practice.md, "top 40 % of the embrasure"               */
#define TOP 0.2

/* One step from the roof toward side 0 or 1. */
static size_t outward(size_t i, int side)
{
  return side == 0 ? i - 1 : i + 1;
}

static size_t highest(const Turning *turning)
{
  size_t top = 0;
  for (size_t i = 1; i < turning->n; i++)
    if (turning->place[i].at.y > turning->place[top].at.y)
      top = i;
  return top;
}

/* The foot of one side: the lowest place there, or the knee on the way to it. */
static size_t foot_find(const Turning *turning, size_t roof, int side)
{
  const TurnPlace *place = turning->place;
  size_t end = side == 0 ? 0 : turning->n - 1, low = roof;
  for (size_t i = roof; i != end;) {
    i = outward(i, side);
    if (place[i].at.y < place[low].at.y - TIE_MM)
      low = i;
  }
  Point top = place[roof].at, d = point_sub(place[low].at, top);
  double length = point_length(d), most = KNEE_MM;
  size_t foot = low;
  for (size_t i = roof; i != low; i = outward(i, side)) {
    double below = point_cross(d, point_sub(place[i].at, top)) * (side == 0 ? 1 : -1) / length;
    bool deep = top.y - place[i].at.y > -d.y / 2; /* a mark in the roof is no foot */
    if (deep && below > most) {
      most = below;
      foot = i;
    }
  }
  return foot;
}

/* The place where the line, going from `from` by side's opposite toward the roof, first rises to y.
 */
static Point rise_to(const Turning *turning, size_t foot, size_t roof, double y)
{
  const TurnPlace *place = turning->place;
  for (size_t i = foot; i != roof;) {
    size_t next = foot < roof ? i + 1 : i - 1;
    if (place[next].at.y >= y) {
      double span = place[next].at.y - place[i].at.y;
      double k = span > 0 ? fmin(fmax((y - place[i].at.y) / span, 0), 1) : 0;
      return point_mix(place[i].at, place[next].at, k);
    }
    i = next;
  }
  return place[roof].at;
}

/* The place where the line, going outward from the roof, first falls to y; *last is the last place
 * above. */
static double fall_to(const Turning *turning, size_t roof, size_t foot, double y, size_t *last)
{
  const TurnPlace *place = turning->place;
  *last = roof;
  for (size_t i = roof; i != foot;) {
    size_t next = foot < roof ? i - 1 : i + 1;
    if (place[next].at.y < y) {
      double span = place[i].at.y - place[next].at.y;
      double k = span > 0 ? fmin(fmax((place[i].at.y - y) / span, 0), 1) : 0;
      return point_mix(place[i].at, place[next].at, k).x;
    }
    *last = i = next;
  }
  return place[foot].at.x;
}

Hollow hollow_read(const Turning *turning)
{
  const TurnPlace *place = turning->place;
  size_t roof = highest(turning), first = roof, last = roof, unused;
  double top = place[roof].at.y;
  while (first > 0 && place[first - 1].at.y > top - TIE_MM)
    first--;
  while (last + 1 < turning->n && place[last + 1].at.y > top - TIE_MM)
    last++;
  Hollow hollow = {0};
  TurnPlace middle = turning_at(turning, (place[first].s + place[last].s) / 2);
  hollow.roof = point(middle.at.x, fmax(top, middle.at.y));
  hollow.roof_t = middle.t;
  double feet = 0, edge[2], shoulder[2];
  for (int side = 0; side < 2; side++) {
    hollow.foot_at[side] = foot_find(turning, side == 0 ? first : last, side);
    hollow.foot[side] = place[hollow.foot_at[side]].at;
    feet += hollow.foot[side].y / 2;
  }
  hollow.depth = fmax(top - feet, 0);
  if (top - fmax(hollow.foot[0].y, hollow.foot[1].y) < TIE_MM)
    hollow.depth = 0; /* it rises to one side: no hollow */
  for (int side = 0; side < 2; side++) {
    size_t foot = hollow.foot_at[side];
    double height = top - hollow.foot[side].y;
    Point low = rise_to(turning, foot, roof, hollow.foot[side].y + LEG_LOW * height);
    Point high = rise_to(turning, foot, roof, hollow.foot[side].y + LEG_HIGH * height);
    double in = (high.x - low.x) * (side == 0 ? 1 : -1);
    hollow.lean_deg[side] = height > TIE_MM ? atan2(in, high.y - low.y) * 180 / M_PI : 90;
    edge[side] = fall_to(turning, roof, foot, top - ZONE * hollow.depth,
                         side == 0 ? &hollow.zone_lo : &hollow.zone_hi);
    shoulder[side] = fall_to(turning, roof, foot, top - TOP * hollow.depth, &unused);
  }
  hollow.zone_left = edge[0];
  hollow.zone_right = edge[1];
  double foot_distance = hollow.foot[1].x - hollow.foot[0].x;
  hollow.top_share = foot_distance > 0 ? (shoulder[1] - shoulder[0]) / foot_distance : 1;
  return hollow;
}
