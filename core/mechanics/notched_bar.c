/* notched_bar.c - a piece of a test bar in bending.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "mechanics/notched_bar.h"
#include <math.h>
#include <stdlib.h>

#define YOUNG_MPA 205000.0 /* the stress does not depend on it */
#define POISSON 0.31

static bool valid(const NotchedBar *b)
{
  bool sizes = b->height >= 0.2 && b->height <= 50 && b->width >= 0.2 && b->width <= 50;
  bool notch = b->depth >= 0.02 && b->depth <= 0.6 * b->height && b->radius >= 0.02 &&
               b->radius <= b->depth && b->open_deg >= 0 && b->open_deg <= 120;
  return sizes && (notch || (b->depth >= 0 && b->depth <= 0));
}

Fault notched_bar_outline(const NotchedBar *b, Outline *o)
{
  if (!valid(b))
    return FAULT_RANGE;
  double half = NOTCHED_BAR_HALF * b->height, pi = acos(-1.0);
  Fault fault = outline_move_to(o, point(-half, 0));
  if (b->depth > 0) {
    double flank = b->open_deg / 2 * pi / 180, turn = pi / 2 - flank;
    double reach = b->radius * sin(turn), rise = b->radius * (1 - cos(turn));
    double straight = fmax(b->depth - rise, 0), foot = reach + straight * tan(flank);
    if (!fault)
      fault = outline_line_to(o, point(-foot, 0));
    if (!fault && straight > 1e-9)
      fault = outline_line_to(o, point(-reach, straight));
    if (!fault)
      fault = outline_arc_to(o, point(0, b->depth - b->radius), -2 * turn);
    if (!fault && straight > 1e-9)
      fault = outline_line_to(o, point(foot, 0));
  }
  const Point corner[] = {{half, 0}, {half, b->height}, {-half, b->height}};
  for (size_t i = 0; !fault && i < sizeof corner / sizeof *corner; i++)
    fault = outline_line_to(o, corner[i]);
  return fault ? fault : outline_close(o);
}

Fault notched_bar_solve(const NotchedBar *bar, NotchedBarAnswer **result)
{
  NotchedBarAnswer *answer = calloc(1, sizeof *answer);
  if (!answer)
    return FAULT_MEMORY;
  outline_init(&answer->outline);
  PlaneWork *work = NULL;
  PlaneSettings settings = {YOUNG_MPA, POISSON, PLANE_FINENESS};
  PlaneReading reading;
  Peak peak;
  Point where;
  Fault fault = notched_bar_outline(bar, &answer->outline);
  if (!fault)
    fault = plane_work_new(&work);
  if (!fault)
    fault = plane_silhouette(work, &answer->outline, bar->width, &settings, &answer->field,
                             &reading, &where);
  if (!fault)
    fault = field_peak(answer->field, (NeckLoad){1, 0}, &peak);
  if (!fault) {
    answer->plain_mpa = 6 / (bar->width * bar->height * bar->height);
    answer->times = peak.mpa / answer->plain_mpa;
    answer->band_percent = fmax(peak.band_percent, reading.error_percent);
    answer->at = point(peak.at.x, peak.at.y);
    *result = answer;
  } else
    notched_bar_answer_free(answer);
  plane_work_free(work);
  return fault;
}

void notched_bar_answer_free(NotchedBarAnswer *answer)
{
  if (!answer)
    return;
  field_unref(answer->field);
  outline_clear(&answer->outline);
  free(answer);
}
