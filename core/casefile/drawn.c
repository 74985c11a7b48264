/* drawn.c - see drawn.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/drawn.h"
#include "base/tolerance.h"
#include "casefile/photo.h"
#include "outline/form.h"
#include <math.h>

#define BAND_ERRORS 1.645            /* standard errors to 5 and 95 of 100               */
#define LEAST_SHARE 0.25             /* nothing is said of a roof four times as sharp     */
#define SURFACE_SHARE 0.02           /* of a roof off a surface: what always stays open   */
#define SURFACE_MM2 0.0025           /* ... of small ones, by the square of their radius  */
#define COARSE 0.4                   /* ... for each rad that its triangles turn by       */
#define TOO_COARSE (60 * M_PI / 180) /* beyond, it may as well be a sharp corner */
#define PULL_EXPONENT 0.46           /* pull goes as radius^-this at most: SOURCES.md     */

double connector_roof_doubt(const Connector *connector)
{
  double percent = connector->roof_doubt_percent;
  return connector->drawn[SIDE_GINGIVAL] && percent > 0 ? percent : 0;
}

void connector_roof_doubt_set(Connector *connector, double percent)
{
  connector->roof_doubt_percent = percent > 0 ? fmin(percent, ROOF_DOUBT_MOST) : NAN;
}

RoofShare drawn_share(double doubt_percent)
{
  double half = BAND_ERRORS * doubt_percent / 100;
  return (RoofShare){fmax(1 - half, LEAST_SHARE), 1 + half};
}

Banded drawn_radius(Banded radius, double doubt_percent)
{
  if (!(doubt_percent > 0))
    return radius;
  RoofShare share = drawn_share(doubt_percent);
  return banded_widen(radius, 1 - share.low, share.high - 1);
}

RoofShare drawn_pull(double doubt_percent)
{
  RoofShare share = drawn_share(doubt_percent);
  return (RoofShare){pow(share.high, -PULL_EXPONENT), pow(share.low, -PULL_EXPONENT)};
}

double line_pull_percent(double trace_percent, double doubt_percent, const Form *form)
{
  return hypot(pull_trace_percent(trace_percent, form), 100 * (drawn_pull(doubt_percent).high - 1));
}

static double roof_radius(const Outline *gingival)
{
  Form form;
  return form_roof_read(gingival, &form) ? NAN : form.roof_radius.value;
}

Fault connector_gum_side_move(Connector *connector, const Outline *outline)
{
  double known = connector_roof_doubt(connector),
         was = known > 0 ? roof_radius(&connector->side[SIDE_GINGIVAL]) : NAN;
  Fault fault = outline_copy(&connector->side[SIDE_GINGIVAL], outline);
  if (fault)
    return fault;
  connector->drawn[SIDE_GINGIVAL] = true;
  double now = known > 0 ? roof_radius(outline) : NAN;
  connector_roof_doubt_set(connector, was > 0 && now > 0 ? known * was / now : known);
  return FAULT_NONE;
}

double surface_roof_doubt(double radius, double turn)
{
  /* half width of the band, share: SOURCES.md "surfaces" */
  double r = fmax(radius, MIN_ROOF_RADIUS_MM),
         half = SURFACE_SHARE + SURFACE_MM2 / (r * r) + COARSE * turn;
  return 100 * (turn < TOO_COARSE ? half : fmax(half, 1)) / BAND_ERRORS;
}
