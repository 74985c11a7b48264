/* assess_connector.c - shape to field, field to margin and chance, for one connector.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_connector.h"
#include "casefile/drawn.h"
#include "casefile/load_case.h"
#include "casefile/photo.h"
#include "mechanics/odd_section.h"
#include "mechanics/notch.h"
#include "outline/room.h"
#include "strength/weibull.h"
#include <math.h>

/* A solid whose band is wider than this is held against the plane answer. */
#define WIDE_BAND_PERCENT 8.0
#define FIVE_OF_HUNDRED 0.051293294387550533 /* -ln 0.95 */
#define MARGIN_TOP 99.0 /* shown as "more than": an unloaded neck has no margin of its own */

Fault solver_init(Solver *solver)
{
  *solver = (Solver){0};
  Fault fault = solid_work_new(&solver->solid);
  if (!fault)
    fault = plane_work_new(&solver->plane);
  if (fault)
    solver_clear(solver);
  return fault;
}

void solver_clear(Solver *solver)
{
  solid_work_free(solver->solid);
  plane_work_free(solver->plane);
  *solver = (Solver){0};
}

/* The plan's outlines are images of each other to the last bit, as proposed ones are. */
static bool plan_mirrored(const Outline *buccal, const Outline *lingual)
{
  if (buccal->n != lingual->n || buccal->closed || lingual->closed)
    return false;
  for (size_t i = 0; i < buccal->n; i++) {
    const Point *b = &buccal->knot[i].at, *l = &lingual->knot[i].at;
    for (int k = 0; k < 3; k++) /* at, in, out */
      if (b[k].x < l[k].x || b[k].x > l[k].x || b[k].y + l[k].y < 0 || b[k].y + l[k].y > 0)
        return false;
  }
  return true;
}

Body body_of(const Case *c, size_t connector, double neck_x, SolidGrade grade)
{
  const Connector *k = &c->connector[connector];
  Body body = {.roundness_neck = k->roundness_neck,
               .roundness_body = k->roundness_body,
               .section = connector_section(k),
               .young_mpa = c->material.young_mpa,
               .poisson = c->material.poisson,
               .neck_x = neck_x,
               .grade = grade,
               .space = case_in_space(c)};
  for (int i = 0; i < SIDE_N; i++)
    body.side[i] = &k->side[i];
  /* averaging changes nothing there: the live answer is the full one, solved once */
  if (grade == SOLID_FULL && plan_mirrored(body.side[SIDE_BUCCAL], body.side[SIDE_LINGUAL]))
    body.grade = SOLID_LIVE;
  return body;
}

static int solver_cancelled(void *data)
{
  Solver *solver = data;
  return solver->cancelled && solver->cancelled(solver->cancel_data);
}

static Fault body_solve_plane(Solver *solver, const Body *body, const LoftInput *input,
                              Field **field, Point *where)
{
  PlaneSettings settings = {body->young_mpa, body->poisson, PLANE_FINENESS};
  PlaneReading reading;
  return plane_connector(solver->plane, input, &settings, field, &reading, where);
}

/* Sideways bending and twist beside the even answer: by the solid where that answered, else by
 * section formulas; without them the even loads are answered all the same. */
static Fault body_solve_odd(Solver *solver, const Body *body, const LoftInput *input,
                            const Loft *loft, const SolidSettings *settings, Field *field)
{
  Fault fault = FAULT_DEGENERATE;
  if (field->answer == ANSWER_SOLID)
    fault = solid_odd_add(solver->solid, loft, settings, field);
  if (fault && fault != FAULT_CANCELLED && fault != FAULT_MEMORY) {
    OddInput odd = {.side = {input->gingival, input->occlusal, input->buccal, input->lingual},
                    .neck_x = input->neck_x,
                    .roundness = input->roundness_neck,
                    .section = input->section,
                    .poisson = body->poisson};
    fault = odd_section_add(&odd, field);
  }
  return fault == FAULT_CANCELLED || fault == FAULT_MEMORY ? fault : FAULT_NONE;
}

/* Solid first; where its ribs fold, or its band is wide, the plane answer if that knows better. */
Fault body_solve(Solver *solver, const Body *body, Field **field, bool *averaged, Point *where)
{
  LoftInput input = {body->side[SIDE_GINGIVAL],
                     body->side[SIDE_OCCLUSAL],
                     body->side[SIDE_BUCCAL],
                     body->side[SIDE_LINGUAL],
                     body->neck_x,
                     body->roundness_neck,
                     body->roundness_body,
                     body->section};
  SolidSettings settings = {body->young_mpa,  body->poisson, body->grade,
                            solver_cancelled, solver,        body->bare};
  Loft *loft = NULL;
  Field *best = NULL, *plane = NULL;
  *averaged = false;
  Fault fault = loft_new_mirrored(&input, body->mirrored, &loft, where);
  if (!fault) {
    Vec3 at = {0, 0, 0};
    *averaged = body->grade == SOLID_LIVE && loft_section_even(loft) && !loft_mirror_z(loft);
    fault = solid_solve(solver->solid, loft, &settings, &best, &at);
    if (fault)
      *where = point(at.x, at.y);
  }
  /* trials are compared with each other: where the solid can, it solves them all */
  bool compared = body->compared || body->grade == SOLID_TRIAL;
  bool wide = !fault && !compared && best->band_percent > WIDE_BAND_PERCENT;
  bool stopped = fault == FAULT_CANCELLED || fault == FAULT_MEMORY;
  if (!stopped && (fault || wide)) {
    Point there;
    if (!body_solve_plane(solver, body, &input, &plane, &there) &&
        (!best || plane->band_percent < best->band_percent)) {
      field_unref(best);
      best = field_ref(plane);
      *averaged = false;
    }
    field_unref(plane);
  }
  if (best && body->space) {
    Fault odd = body_solve_odd(solver, body, &input, loft, &settings, best);
    if (odd) {
      field_unref(best);
      best = NULL;
      fault = odd;
    }
  }
  loft_free(loft);
  *field = best;
  return best ? FAULT_NONE : fault;
}

Scales scales_of(const Material *m, const ZoneSurface surface[ZONE_NECK_N])
{
  Scales scales = {.modulus = m->weibull};
  if (!(m->weibull > 0 && m->strength_mpa > 0 && m->bar_width > 0)) { /* says nothing */
    for (int zone = 0; zone < SURFACE_N; zone++)
      scales.low[zone] = scales.best[zone] = scales.high[zone] = NAN;
    return scales;
  }
  double size = pow(material_bar_surface(m), 1 / m->weibull);
  Banded bars = material_strength(m);
  double below = 1 - bars.low / bars.value, above = bars.high / bars.value - 1;
  for (int zone = 0; zone < SURFACE_N; zone++) {
    Banded factor = surface_on_bars(m, &surface[zone]).of;
    double best = m->strength_mpa * size * factor.value;
    /* bars and finish vary independently: relative bands add in squares */
    double low = hypot(below, 1 - factor.low / factor.value),
           high = hypot(above, factor.high / factor.value - 1);
    scales.best[zone] = best;
    scales.low[zone] = best * fmax(0.1, 1 - low);
    scales.high[zone] = best * (1 + high);
  }
  return scales;
}

static double margin_at(const double share[SURFACE_N], const double sigma0[SURFACE_N],
                        double modulus)
{
  double risk = weibull_risk(share, sigma0, modulus);
  if (!(risk > 0))
    return MARGIN_TOP;
  return fmin(MARGIN_TOP, pow(FIVE_OF_HUNDRED / risk, 1 / modulus));
}

Banded margin_of(const Field *field, const Peak *peak, NeckLoad load, const Scales *scales)
{
  double share[SURFACE_N];
  weibull_zone_sums(field, load, scales->modulus, share);
  double best = margin_at(share, scales->best, scales->modulus);
  double low = margin_at(share, scales->low, scales->modulus);
  double high = margin_at(share, scales->high, scales->modulus);
  double stress = peak->band_percent / 100;
  if (best >= MARGIN_TOP)
    return banded(best, low, best);
  return banded(best, best * fmax(0.05, 1 - hypot(1 - low / best, stress)),
                best * (1 + hypot(high / best - 1, stress)));
}

/* Without a strength or a spread there is no margin, least of all a large one. */
bool scales_usable(const Scales *scales)
{
  bool usable = scales->modulus > 0 && isfinite(scales->modulus);
  for (int zone = 0; zone < SURFACE_N; zone++)
    usable =
        usable && scales->low[zone] > 0 && scales->best[zone] > 0 && isfinite(scales->high[zone]);
  return usable;
}

Fault governing_find(const Field *field, const SpanEnvelope *envelope, const Scales *scales,
                     Governing *governing)
{
  if (!scales_usable(scales))
    return FAULT_RANGE;
  Governing worst = {.margin = {.value = INFINITY}};
  for (size_t i = 0; i < envelope->n; i++) {
    const SpanExtreme *end = &envelope->at[i];
    Governing g = {
        .load = end->load, .x = end->x, .load_case = end->load_case, .answer = field->answer};
    Fault fault = field_peak(field, g.load, &g.peak);
    if (fault)
      return fault;
    g.margin = margin_of(field, &g.peak, g.load, scales);
    if (g.margin.value < worst.margin.value)
      worst = g;
  }
  *governing = worst;
  return FAULT_NONE;
}

/* How far the milling cutter stops short of the roof: geometry of a circle between two legs.  Sizes
 * after firing. */
static double cutter_shortfall(const Case *c, const Form *form)
{
  double reach = case_cutter_radius(c), radius = form->roof_radius.value;
  if (!(reach > radius) || form->kind == FORM_NONE)
    return 0;
  double half = fmax(form->opening_deg / 2, 5) * acos(-1.0) / 180;
  return fmin((reach - radius) * (1 / sin(half) - 1), form->depth);
}

/* The gap above a papilla whose tip is joined to both feet by straight lines. */
static Fault papilla_gap(double papilla, const Outline *gingival, Form *form)
{
  Outline tissue;
  outline_init(&tissue);
  Fault fault = tissue_of_papilla(papilla, form->foot, &tissue);
  if (!fault)
    fault = gap_circle_find(gingival, &tissue, &form->gap_centre, &form->gap_circle);
  outline_clear(&tissue);
  return fault;
}

Fault connector_read(const Case *c, size_t connector, ConnectorAssessment *out)
{
  const Connector *k = &c->connector[connector];
  const Outline *side = k->side;
  connector_name(c, connector, '/', out->name);
  out->limits = limits_for(c, connector);
  Point where = {0, 0};
  Fault fault = FAULT_NONE;
  for (int i = 0; i < SIDE_N && !fault; i++)
    fault = outline_check(&side[i]);
  if (!fault)
    fault = form_read(&side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], &side[SIDE_BUCCAL],
                      &side[SIDE_LINGUAL], NULL, &out->form, &where);
  /* form_read has looked at the elevation */
  for (int i = SIDE_BUCCAL; i < SIDE_N && !fault; i++)
    fault = outline_find_crossing(&side[i], &where);
  if (!fault && k->papilla > 0)
    fault = papilla_gap(k->papilla, &side[SIDE_GINGIVAL], &out->form);
  if (!fault) {
    const Form *form = &out->form;
    fault = section_neck(connector_section(k), form->neck_height / 2, form->neck_height / 2,
                         form->neck_buccal, form->neck_lingual, k->roundness_neck, form->neck_y,
                         &out->section);
  }
  out->trace_percent = connector_trace_percent(k);
  out->roof_doubt_percent = connector_roof_doubt(k);
  double scale = out->trace_percent / 100;
  if (!fault) { /* the roof is known as well as the line it was taken from */
    if (scale > 0)
      out->form.roof_radius = banded_widen(out->form.roof_radius, scale, scale);
    out->form.roof_radius = drawn_radius(out->form.roof_radius, out->roof_doubt_percent);
    out->cutter_shortfall = cutter_shortfall(c, &out->form);
    out->bench_multiplier =
        notch_connector(out->form.neck_height, out->form.roof_radius.value, out->form.depth);
  }
  if (!fault && isnan(out->trace_percent)) /* of unknown size: no figure, however plausible */
    fault = FAULT_UNSCALED;
  out->fault = fault;
  out->fault_at = where;
  return fault;
}

static Banded scaled(Banded b, double k)
{
  return banded(b.value * k, b.low * k, b.high * k);
}

static Scales scales_now(const Case *c, size_t connector, ZoneSurface surface[ZONE_NECK_N])
{
  connector_surfaces_now(&c->connector[connector], surface);
  return scales_of(&c->material, surface);
}

double connector_band_percent(const ConnectorAssessment *k, const Peak *peak)
{
  return hypot(peak->band_percent,
               line_pull_percent(k->trace_percent, k->roof_doubt_percent, &k->form));
}

static Peak with_line(const ConnectorAssessment *k, Peak peak)
{
  peak.band_percent = connector_band_percent(k, &peak);
  return peak;
}

Fault connector_judge(const Case *c, size_t connector, const Span *span, const Span *pin,
                      ConnectorAssessment *out)
{
  const Material *m = &c->material;
  ZoneSurface surface[ZONE_NECK_N];
  Scales scales = scales_now(c, connector, surface);
  SpanEnvelope envelope, safe = {0};
  Governing governing;
  Fault fault = case_envelope(c, span, connector, &envelope);
  if (!fault)
    fault = governing_find(out->field, &envelope, &scales, &governing);
  if (fault)
    return fault;
  Peak order_peak = with_line(out, governing.peak);
  governing.margin = margin_of(out->field, &order_peak, governing.load, &scales);
  out->order = governing.load;
  out->order_x = governing.x;
  out->load_case = governing.load_case;
  out->peak = governing.peak;
  out->peak_mpa = banded_percent_positive(governing.peak.mpa, order_peak.band_percent);
  out->margin = governing.margin;
  out->strength_mpa = scaled(governing.margin, governing.peak.mpa);
  out->carries_n = scaled(governing.margin, c->order_load_n);
  out->governing_finish = surface[governing.peak.zone].state;
  out->finish_from = surface_on_bars(m, &surface[governing.peak.zone]);
  double w = governing.load.moment_n_mm >= 0 ? out->section.w_gingival : out->section.w_occlusal;
  out->nominal_mpa = fabs(governing.load.moment_n_mm) / w;
  out->pin_moment_n_mm = NAN;
  if (pin && !span_sweep(pin, connector, c->order_load_n, 0, 0, &safe))
    out->pin_moment_n_mm = safe.at[governing.load.moment_n_mm >= 0 ? 0 : 1].load.moment_n_mm;
  return FAULT_NONE;
}

Fault connector_judge_trial(const Case *c, size_t connector, NeckLoad trial,
                            ConnectorAssessment *out)
{
  ZoneSurface surface[ZONE_NECK_N];
  Scales scales = scales_now(c, connector, surface);
  Fault fault = field_peak(out->field, trial, &out->trial_peak);
  if (fault)
    return fault;
  Peak peak = with_line(out, out->trial_peak);
  out->trial = trial;
  out->trial_peak_mpa = banded_percent_positive(peak.mpa, peak.band_percent);
  out->trial_margin = margin_of(out->field, &peak, trial, &scales);
  return FAULT_NONE;
}
