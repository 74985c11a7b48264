/* snap.c - see snap.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Order: a place that settles both numbers (a knot, its mirror image, the line, the cutter's
 * circle) before one that settles x or y alone, and the grid last. */
#include "ui/canvas/snap.h"
#include "base/phrase.h"
#include "base/tolerance.h"
#include <math.h>

#define GRID_MM 0.1
#define ALONG_ROUNDS 12

SnapSettings snap_settings_default(void)
{
  return (SnapSettings){.on = true, .kind = {true, true, true, true}, .grid_mm = GRID_MM};
}

static const Snap nowhere = {.at = {NAN, NAN}, .from = {{NAN, NAN}, {NAN, NAN}}};

static bool wants(const SnapSettings *settings, SnapKind kind)
{
  return settings->on && settings->kind[kind];
}

/* Keeps the nearest of several places. */
static void offer(Snap *best, double *nearest, Point at, Point to, const char *word, bool on_line)
{
  double d = point_distance(at, to);
  if (!(d <= *nearest))
    return;
  *nearest = d;
  *best = nowhere;
  best->at = to;
  best->word[0] = word;
  best->on_line = on_line;
}

static bool usable(const SnapTargets *t, int line, size_t i)
{
  return line > 0 || i != t->except;
}

static Snap snap_knots(const SnapTargets *t, Point at, double reach, bool knots, bool axis)
{
  Snap best = nowhere;
  double nearest = reach;
  for (int l = 0; l < 2; l++)
    for (size_t i = 0; t->line[l] && i < t->line[l]->n; i++) {
      Point p = t->line[l]->knot[i].at;
      if (!usable(t, l, i))
        continue;
      if (t->onto && knots)
        offer(&best, &nearest, at, p, N_("on a knot"), true);
      Point image = point(2 * t->axis_x - p.x, p.y);
      if (!t->onto && axis && isfinite(t->axis_x) && fabs(p.x - t->axis_x) > reach)
        offer(&best, &nearest, at, image, N_("mirrors a knot"), false);
    }
  return best;
}

static Snap snap_curves(const SnapSettings *s, const SnapTargets *t, Point at, double reach)
{
  Snap best = nowhere;
  double nearest = reach;
  for (int l = 0; l < 2; l++)
    if (t->onto && wants(s, SNAP_KNOTS) && t->line[l] && t->line[l]->n >= 2) {
      double distance, place = outline_nearest(t->line[l], at, &distance);
      offer(&best, &nearest, at, outline_at(t->line[l], place), N_("on the line"), true);
    }
  Point arm = point_sub(at, t->cutter);
  double length = point_length(arm);
  if (wants(s, SNAP_CUTTER) && t->cutter_radius > 0 && length > TOL_POINT_MM)
    offer(&best, &nearest, at, point_add(t->cutter, point_scale(arm, t->cutter_radius / length)),
          N_("cutter radius"), false);
  return best;
}

/* One number: the axis or a knot, else the grid. */
static void snap_number(const SnapSettings *s, const SnapTargets *t, int axis, double reach,
                        double *number, Snap *snap)
{
  double now = *number, nearest = reach;
  const char *word = NULL;
  Point from = nowhere.from[0];
  if (axis == 0 && wants(s, SNAP_AXIS) && fabs(t->axis_x - now) <= nearest) {
    nearest = fabs(t->axis_x - now) * 0.5; /* before a knot that is as near */
    *number = t->axis_x;
    word = N_("on the axis");
  }
  for (int l = 0; l < 2 && wants(s, SNAP_KNOTS) && !t->onto; l++)
    for (size_t i = 0; t->line[l] && i < t->line[l]->n; i++) {
      Point p = t->line[l]->knot[i].at;
      double d = fabs((axis ? p.y : p.x) - now);
      if (!usable(t, l, i) || !(d < nearest))
        continue;
      nearest = d;
      *number = axis ? p.y : p.x;
      word = axis ? N_("level with a knot") : N_("in line with a knot");
      from = p;
    }
  double grid = round(now / s->grid_mm) * s->grid_mm;
  if (!word && wants(s, SNAP_GRID) && s->grid_mm > 0 && fabs(grid - now) <= reach) {
    *number = grid;
    word = N_("grid");
  }
  snap->word[axis] = word;
  snap->from[axis] = from;
}

Snap snap_place(const SnapSettings *settings, const SnapTargets *targets, Point at, double reach_mm)
{
  Snap snap = nowhere;
  if (settings->on) {
    snap =
        snap_knots(targets, at, reach_mm, wants(settings, SNAP_KNOTS), wants(settings, SNAP_AXIS));
    if (!snap.word[0])
      snap = snap_curves(settings, targets, at, reach_mm);
  }
  if (snap.word[0])
    return snap;
  snap.at = at;
  if (!settings->on)
    return snap;
  snap_number(settings, targets, 0, reach_mm, &snap.at.x, &snap);
  snap_number(settings, targets, 1, reach_mm, &snap.at.y, &snap);
  return snap;
}

/* The place of the line at x, found from `on` along a stretch that is not too steep for it. */
static bool along_to(const Outline *line, Point on, double x, double reach, Point *to)
{
  if (!(fabs(x - on.x) <= reach))
    return false;
  *to = on;
  for (int round = 0; round < ALONG_ROUNDS && fabs(to->x - x) > TOL_POINT_MM; round++)
    *to = outline_at(line, outline_nearest(line, point(x, to->y), NULL));
  return fabs(to->x - x) <= TOL_POINT_MM && point_distance(*to, on) <= 2 * reach;
}

Snap snap_end(const SnapSettings *settings, const SnapTargets *targets, Point mate, Point at,
              double join_mm, double reach_mm)
{
  const Outline *line = targets->line[0];
  double off;
  Snap snap = nowhere;
  if (!settings->on || !line || line->n < 2)
    return nowhere;
  Point on = outline_at(line, outline_nearest(line, at, &off));
  if (off > join_mm)
    return nowhere;
  double nearest = reach_mm, axis = wants(settings, SNAP_AXIS) ? targets->axis_x : NAN;
  for (size_t i = 0; i < line->n && wants(settings, SNAP_KNOTS); i++)
    offer(&snap, &nearest, on, line->knot[i].at, N_("on a knot"), true);
  if (snap.word[0])
    return snap;
  snap.on_line = true;
  snap.word[0] = N_("on the line");
  if (along_to(line, on, 2 * axis - mate.x, reach_mm, &snap.at)) {
    snap.word[0] = N_("mirrors the other end");
    snap.from[0] = mate;
  } else if (along_to(line, on, axis, reach_mm, &snap.at)) {
    snap.word[0] = N_("on the axis");
  } else if (wants(settings, SNAP_GRID) &&
             along_to(line, on, round(on.x / settings->grid_mm) * settings->grid_mm, reach_mm,
                      &snap.at)) {
    snap.word[1] = N_("grid");
  } else {
    snap.at = on;
  }
  return snap;
}
