/* odd_section.c - section formulas at every surface point of a connector.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "mechanics/odd_section.h"
#include "mechanics/notch.h"
#include "mechanics/section.h"
#include "outline/form.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define BIN_MM 0.1
#define BINS 81           /* from -4 to 4 mm of the neck; beyond, the last one stands */
#define FLAT_RADIUS 20.0  /* a radius above it is none */
#define LEAST_RADIUS 0.02 /* sharper is drawn as this: core/SOURCES.md */

/* A section cut at x: its extents and what resists. */
typedef struct {
  double low, high, lingual, buccal; /* of y and z */
  double i_y, torsion, area;
} Cut;

typedef struct {
  double neck_x, roundness;
  double gain_low, gain_high, gain_side; /* notch factors - 1 at gum side, biting side, cheek and
                                            tongue: a notch gathers whatever passes it */
  double radius_low, radius_high, radius_side;
  Cut cut[BINS];
} Odd;

static int bin_of(double from_neck)
{
  double bin = floor(from_neck / BIN_MM + BINS / 2.0);
  return bin < 0 ? 0 : bin > BINS - 1 ? BINS - 1 : (int)bin;
}

static void cut_reach(Cut *cut, const Cut *other)
{
  cut->low = fmin(cut->low, other->low);
  cut->high = fmax(cut->high, other->high);
  cut->lingual = fmin(cut->lingual, other->lingual);
  cut->buccal = fmax(cut->buccal, other->buccal);
}

/* Sections from the extents of the surface, growing away from the neck; each scaled from the neck's
 * by the laws of an ellipse. */
static void cuts_make(const Field *field, const Section *neck, const Cut *at_neck, Odd *odd)
{
  const int middle = bin_of(0);
  for (int i = 0; i < BINS; i++)
    odd->cut[i] = *at_neck;
  for (size_t i = 0; i < field->n_surface; i++) {
    const Vec3 *p = &field->surface[i].at;
    int bin = bin_of(p->x - odd->neck_x);
    Cut here = {.low = p->y, .high = p->y, .lingual = p->z, .buccal = p->z};
    if (bin != middle)
      cut_reach(&odd->cut[bin], &here);
  }
  for (int i = middle + 1; i < BINS; i++)
    cut_reach(&odd->cut[i], &odd->cut[i - 1]);
  for (int i = middle - 1; i >= 0; i--)
    cut_reach(&odd->cut[i], &odd->cut[i + 1]);
  double h0 = at_neck->high - at_neck->low, w0 = at_neck->buccal - at_neck->lingual;
  for (int i = 0; i < BINS; i++) {
    Cut *c = &odd->cut[i];
    double h = (c->high - c->low) / h0, w = (c->buccal - c->lingual) / w0;
    c->area = neck->area * h * w;
    c->i_y = neck->i_y * h * w * w * w;
    c->torsion =
        neck->torsion * pow(h * w, 3) * (h0 * h0 + w0 * w0) / (h * h * h0 * h0 + w * w * w0 * w0);
  }
}

/* Neuber's deep notch in bending, less 1; nil for a side without a notch.  It serves for twist as
 * well: the neck is short and its notch lies across, so that the groove of a round bar in torsion
 * would say a third too little (measured, core/SOURCES.md "sideways bending and twist"). */
static double notch_gain(double half, double radius)
{
  double factor = radius < FLAT_RADIUS ? notch_neuber_flat_bending(half / radius) : 1;
  return factor > 1 ? factor - 1 : 0;
}

/* Least radius of an outline near the neck, where it turns into the material: turn is the sign of
 * its curvature there (outlines run along x). */
static double notch_radius(const Outline *outline, double neck_x, double turn)
{
  SharpPlace sharp[8];
  size_t n = 0;
  Fault fault = sharp_places_find(outline, 0.3, sharp, 8, &n);
  double least = FLAT_RADIUS;
  if (fault && fault != FAULT_ROOM)
    return least;
  for (size_t i = 0; i < n && i < 8; i++)
    if (fabs(sharp[i].at.x - neck_x) < 1.5 && turn * sharp[i].kappa > 0)
      least = fmin(least, 1 / (turn * sharp[i].kappa));
  return fmax(least, LEAST_RADIUS);
}

/* Fades with the distance from the notch, as the stress ahead of one does. */
static double fade(double distance, double radius)
{
  return radius / (radius + 4 * distance);
}

static void odd_at(const Odd *odd, Vec3 p, float out[ODD_LOAD_N][6])
{
  double away = p.x - odd->neck_x, distance = fabs(away);
  const Cut *c = &odd->cut[bin_of(away)];
  double b = (c->high - c->low) / 2, a = (c->buccal - c->lingual) / 2;
  double y = p.y - (c->high + c->low) / 2, z = p.z - (c->buccal + c->lingual) / 2;
  double v = fmin(1, fabs(y) / b), h = fmin(1, fabs(z) / a), n = odd->roundness;
  /* outward normal of the rim, in the section */
  double ny = copysign(pow(v, n - 1) / b, y), nz = copysign(pow(h, n - 1) / a, z);
  double length = hypot(ny, nz);
  ny = length > 0 ? ny / length : 0, nz = length > 0 ? nz / length : 0;
  /* weight of the upright sides against cheek and tongue */
  double up = v * v / fmax(1e-12, v * v + h * h);
  double gain_up = y < 0 ? odd->gain_low * fade(distance, odd->radius_low)
                         : odd->gain_high * fade(distance, odd->radius_high);
  double gather = 1 + up * gain_up + (1 - up) * odd->gain_side * fade(distance, odd->radius_side);
  double z_axis = p.z; /* the plane of the arch: even loads bend about it */
  double stress = gather * z_axis / c->i_y;
  memset(out, 0, ODD_LOAD_N * sizeof *out);
  out[ODD_LATERAL][0] = (float)stress;
  out[ODD_LATERAL_SHEAR][0] = (float)(stress * away);
  double q = 4.0 / 3 / c->area * (1 - h * h), qy = -q * nz * ny, qz = q * (1 - nz * nz);
  out[ODD_LATERAL_SHEAR][3] = (float)(gather * qy);
  out[ODD_LATERAL_SHEAR][5] = (float)(gather * qz);
  double k = gather * 2 / (c->torsion * (a * a + b * b)), ty = -k * b * b * z, tz = k * a * a * y;
  double across = ty * ny + tz * nz;
  out[ODD_TORSION][3] = (float)(ty - across * ny);
  out[ODD_TORSION][5] = (float)(tz - across * nz);
}

Fault odd_section_add(const OddInput *in, Field *field)
{
  Form form;
  Section neck;
  Fault fault =
      form_neck_read(in->side[0], in->side[1], in->side[2], in->side[3], &form, &(Point){0, 0});
  if (!fault)
    fault = section_neck(in->section, form.neck_height / 2, form.neck_height / 2, form.neck_buccal,
                         form.neck_lingual, in->roundness, form.neck_y, &neck);
  if (fault)
    return fault;
  Odd *odd = calloc(1, sizeof *odd);
  if (!odd)
    return FAULT_MEMORY;
  const Cut at_neck = {.low = form.neck_y - form.neck_height / 2,
                       .high = form.neck_y + form.neck_height / 2,
                       .lingual = -form.neck_lingual,
                       .buccal = form.neck_buccal};
  odd->neck_x = in->neck_x;
  odd->roundness = in->section ? 2 : in->roundness;
  cuts_make(field, &neck, &at_neck, odd);
  odd->radius_low = notch_radius(in->side[0], in->neck_x, -1);
  odd->radius_high = notch_radius(in->side[1], in->neck_x, 1);
  odd->radius_side =
      fmin(notch_radius(in->side[2], in->neck_x, 1), notch_radius(in->side[3], in->neck_x, -1));
  odd->gain_low = notch_gain(neck.height / 2, odd->radius_low);
  odd->gain_high = notch_gain(neck.height / 2, odd->radius_high);
  odd->gain_side = notch_gain(neck.width / 2, odd->radius_side);
  for (size_t i = 0; i < field->n_surface; i++)
    odd_at(odd, field->surface[i].at, field->surface[i].odd);
  for (size_t i = 0; i < field->n_candidate; i++)
    odd_at(odd, field->candidate[i].at, field->candidate[i].odd);
  field->odd_band_percent = ODD_BAND_PERCENT + (in->section ? ODD_BAND_DRAWN : 0);
  field->odd_by_section = true;
  free(odd);
  return FAULT_NONE;
}
