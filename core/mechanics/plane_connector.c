/* plane_connector.c - a connector in plane stress: its body, its thickness, its correction.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa. */
#include "base/clock.h"
#include "base/tolerance.h"
#include "plane_body.h"
#include "plane_thickness.h"
#include "section.h"

double plane_place_of_x(const Outline *o, double x, bool from_end)
{
  size_t steps = 32 * outline_pieces(o);
  double sign = from_end ? -1 : 1, last = (double)outline_pieces(o);
  double low = from_end ? last : 0, high = low;
  if (sign * (outline_at(o, low).x - x) > -TOL_POINT_MM)
    return low;
  for (size_t i = 1; i <= steps && sign * (outline_at(o, high).x - x) < 0; i++) {
    low = high;
    high = from_end ? last - (double)i / 32 : (double)i / 32;
  }
  for (int k = 0; k < 50; k++) {
    double middle = (low + high) / 2;
    if (sign * (outline_at(o, middle).x - x) < 0)
      low = middle;
    else
      high = middle;
  }
  return high;
}

/* The body between gingival and occlusal outline, cut upright at the ends they share. */
static Fault body_outline(const LoftInput *in, Outline *closed)
{
  const Outline *low = in->gingival;
  Outline high;
  outline_init(&high);
  Fault fault = outline_copy(&high, in->occlusal);
  double low_end = (double)outline_pieces(low), high_end = (double)outline_pieces(&high);
  double x0 = fmax(outline_at(low, 0).x, outline_at(&high, 0).x),
         x1 = fmin(outline_at(low, low_end).x, outline_at(&high, high_end).x);
  if (!fault && !(x1 - x0 > MIN_NECK_MM))
    fault = FAULT_NO_NECK;
  double t0 = plane_place_of_x(&high, x0, false), t1 = plane_place_of_x(&high, x1, true);
  if (!fault)
    fault = outline_append_part(closed, low, plane_place_of_x(low, x0, false),
                                plane_place_of_x(low, x1, true));
  outline_reverse(&high);
  if (!fault) {
    Point to = outline_at(&high, high_end - t1);
    closed->knot[0].at.x = x0; /* the cut places stand to rounding only */
    closed->knot[closed->n - 1].at.x = x1;
    fault = outline_line_to(closed, to);
  }
  if (!fault)
    fault = outline_append_part(closed, &high, high_end - t1, high_end - t0);
  if (!fault) {
    closed->knot[closed->n - 1].at.x = x0;
    fault = outline_close(closed);
  }
  outline_clear(&high);
  return fault;
}

/* The calibrated factor from plane stress with rib thickness to the solid (SOURCES "plane"). */
static double correction_of(const Section *neck, double w)
{
  double c = neck->i_z / w, flat = neck->width * neck->height * neck->height / 6 / w;
  return flat / (0.977 + 0.077 * (neck->width / 2 / c - 0.8));
}

#define BAND_BASE 5.0       /* percent: blind test of the correction, and a margin              */
#define BAND_ROUNDNESS 20.0 /* percent a unit of the neck's exponent away from 2                */
#define BAND_DRAWN 25.0     /* percent: the fit knows ellipses alone                             */
#define BAND_TILTED 3.0     /* percent: a neck that leans                                       */
#define BAND_SHAPE 15.0     /* percent a unit of b/c outside 0.5 .. 1.25                        */
#define BAND_NO_RIBS 5.0    /* percent: thickness by upright lines                              */
#define BAND_FLAT 10.0      /* percent: a flat roof pulls most at its ends, where it is wider   */
#define BAND_SHARP 2.5      /* percent: roofs sharper than those of the fit                     */
#define SHARP_MM 0.15
#define FLAT_RAD 0.03   /* turning that a flat roof stays below ...                         */
#define FLAT_SHARE 0.10 /* ... over this share of the roof's arc                            */

static bool roof_flat(const Loft *loft)
{
  return loft_gingival_turn(loft, -1, FLAT_SHARE) < FLAT_RAD &&
         loft_gingival_turn(loft, 1, FLAT_SHARE) < FLAT_RAD;
}

static double band_of(const LoftInput *in, const Section *neck, const Loft *loft,
                      const PlaneReading *reading)
{
  double shape = neck->width / 2 / (neck->i_z / neck->w_gingival);
  double round = in->section && loft ? loft_rib(loft, 1, 0).roundness : in->roundness_neck;
  double band = BAND_BASE + BAND_ROUNDNESS * fabs(round - 2) + (in->section ? BAND_DRAWN : 0);
  band += BAND_SHAPE * (fmax(0, shape - 1.25) + fmax(0, 0.5 - shape));
  if (loft && fabs(loft_tilt(loft)) > 0)
    band += BAND_TILTED;
  if (!loft)
    band += BAND_NO_RIBS;
  if (!loft || roof_flat(loft))
    band += BAND_FLAT;
  if (reading->roof_radius < SHARP_MM)
    band += BAND_SHARP;
  return band;
}

Fault plane_connector(PlaneWork *work, const LoftInput *input, const PlaneSettings *settings,
                      Field **field, PlaneReading *reading, Point *where)
{
  double start = seconds_now();
  Fault fault = plane_settings_check(settings);
  if (fault)
    return fault;
  Outline closed;
  outline_init(&closed);
  Loft *loft = NULL;
  Thickness thickness;
  Section neck;
  PlaneReading read = {0};
  Point fold;
  fault = body_outline(input, &closed);
  if (!fault && loft_new(input, &loft, &fold))
    loft = NULL; /* ribs fold: upright lines instead */
  if (!fault)
    fault = plane_body_make(work, &closed, settings->fineness, &read, where);
  if (!fault)
    fault = thickness_make(&thickness, input, loft, read.x0, read.x1);
  if (!fault) {
    double width = thickness_at(point_mix(read.neck_low, read.neck_high, 0.5), &thickness);
    double h = read.neck_height / 2, w = width / 2;
    fault = section_neck(input->section, h, h, w, w, input->roundness_neck, 0, &neck);
  }
  if (!fault) {
    PlaneMaterial m = {settings->young_mpa, settings->poisson, thickness_at, &thickness};
    read.nominal_per_n_mm = 1 / neck.w_gingival;
    PlaneCorrection correction = {correction_of(&neck, neck.w_gingival),
                                  correction_of(&neck, neck.w_occlusal), read.neck_low.y,
                                  read.neck_high.y};
    fault = plane_body_solve(work, &m, input->neck_x, loft, correction, field, &read);
  }
  if (!fault) {
    (*field)->band_percent += band_of(input, &neck, loft, &read);
    (*field)->seconds = seconds_now() - start;
    *reading = read;
  }
  loft_free(loft);
  outline_clear(&closed);
  return fault;
}
