/* assess_bridge.c - see assess_bridge.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_bridge.h"
#include "assess_cache.h"
#include <glib.h>
#include <math.h>

#define PLACES 41 /* of the influence line */

struct WholeBridge {
  BridgePlane *plane; /* NULL: nothing yet */
  char *digest;       /* of what it was made from */
  BridgeUnit unit[SPAN_MAX_UNITS];
  size_t n_unit;
  bool shown; /* it carries the stress of a load */
};

Fault whole_bridge_new(WholeBridge **bridge)
{
  *bridge = g_try_new0(WholeBridge, 1);
  return *bridge ? FAULT_NONE : FAULT_MEMORY;
}

static void plane_drop(WholeBridge *w)
{
  g_clear_pointer(&w->plane, bridge_plane_free);
  g_clear_pointer(&w->digest, g_free);
  w->shown = false;
}

void whole_bridge_free(WholeBridge *w)
{
  if (!w)
    return;
  plane_drop(w);
  g_free(w);
}

static char *input_digest(const BridgeInput *in)
{
  g_autoptr(GChecksum) sum = g_checksum_new(G_CHECKSUM_SHA256);
  for (size_t i = 0; i < in->n_unit; i++) {
    const BridgeUnit *u = &in->unit[i];
    const double number[] = {u->x0,           u->x1,
                             u->low,          u->high,
                             u->supported,    u->spring.axial_n_mm,
                             u->lateral_n_mm, u->spring.rotation_n_mm_rad,
                             u->lever,        u->stump_mpa};
    digest_numbers(sum, number, G_N_ELEMENTS(number));
  }
  for (size_t i = 0; i + 1 < in->n_unit; i++) {
    const LoftInput *line = &in->neck[i].outline;
    const Outline *const side[] = {line->gingival, line->occlusal, line->buccal, line->lingual};
    for (size_t k = 0; k < G_N_ELEMENTS(side); k++)
      digest_outline(sum, side[k]);
    digest_outline(sum, line->section);
    digest_numbers(sum, (double[]){line->neck_x, line->roundness_neck, line->roundness_body}, 3);
  }
  digest_numbers(sum, (double[]){in->young_mpa, in->poisson, in->fineness}, 3);
  return g_strdup(g_checksum_get_string(sum));
}

static bool same_units(const WholeBridge *w, const Case *c)
{
  bool same = w->n_unit == c->n_unit;
  for (size_t i = 0; i < w->n_unit && same; i++)
    same = fabs(w->unit[i].x1 - w->unit[i].x0 - c->unit[i].length) < 1e-9 &&
           fabs(w->unit[i].high - c->unit[i].height) < 1e-9;
  return same;
}

/* Where the first connector without a reading says that something is wrong. */
static Point fault_place(const Assessment *a)
{
  double x = 0;
  for (size_t i = 0; i < a->n_connector; i++) {
    x += a->c.unit[i].length;
    Point at = a->connector[i].fault_at;
    if (a->connector[i].fault)
      return point_finite(at) ? point(at.x + x, at.y) : point(x, a->c.unit[i].height / 2);
  }
  return point(NAN, NAN);
}

/* The plane model of the assessment's shapes: the one at hand, or a new one. */
static Fault plane_hold(WholeBridge *w, const Assessment *a, Point *where)
{
  Form form[SPAN_MAX_UNITS - 1];
  BridgeInput input;
  *where = point(NAN, NAN);
  for (size_t i = 0; i < a->n_connector; i++)
    form[i] = a->connector[i].form;
  Fault fault = a->fault;
  if (!fault)
    fault = case_bridge_input(&a->c, form, &input);
  if (!fault) {
    g_autofree char *digest = input_digest(&input);
    BridgePlane *plane = NULL;
    if (w->plane && strcmp(digest, w->digest) == 0)
      return FAULT_NONE;
    fault = bridge_plane_new(&input, &plane, where);
    if (!fault) {
      plane_drop(w);
      w->plane = plane;
      w->digest = g_steal_pointer(&digest);
      w->n_unit = input.n_unit;
      memcpy(w->unit, input.unit, sizeof w->unit);
    }
  }
  if (fault && !point_finite(*where))
    *where = fault_place(a);
  if (fault && !same_units(w, &a->c))
    plane_drop(w);
  return fault;
}

Fault whole_bridge_load(WholeBridge *w, const Assessment *a, SpanLoad load, Point *where)
{
  Fault fault = plane_hold(w, a, where);
  if (!fault)
    fault = bridge_plane_load(w->plane, &load, 1);
  w->shown = w->shown || !fault;
  return fault;
}

const FieldSheet *whole_bridge_sheet(const WholeBridge *w)
{
  return w->shown ? bridge_plane_sheet(w->plane) : NULL;
}

/* ---- moments ---- */

/* A load is pressed on a short length, whose far half stands beyond the cut: what a load on a point
 * bends more there.  Second moment of a hat beyond its middle. */
static double point_excess(double distance)
{
  double left = 1 - fabs(distance) / BRIDGE_PRESS_MM;
  return left > 0 ? BRIDGE_PRESS_MM / 6 * left * left * left : 0;
}

/* Moments of all necks for 1 N on a point.  A load cannot be pressed on the very ends: beyond the
 * last place it can, the influence lines go on straight, as they nearly do over an end unit. */
static Fault flat_moments(WholeBridge *w, const Assessment *a, const Span *span, double x,
                          double moment[])
{
  double reach = fmin(fmax(x, BRIDGE_PRESS_MM), span_length(span) - BRIDGE_PRESS_MM),
         beyond = x - reach, shear, further;
  SpanLoad load = {.x = reach, .force_n = 1};
  Fault fault = bridge_plane_press(w->plane, &load, 1);
  for (size_t i = 0; i < a->n_connector && !fault; i++) {
    double neck_x = span_neck_x(span, i);
    bridge_plane_action(w->plane, neck_x, a->connector[i].form.neck_y, &moment[i], &shear);
    moment[i] += point_excess(reach - neck_x);
  }
  if (fault || !(fabs(beyond) > 0))
    return fault;
  load.x -= copysign(BRIDGE_PRESS_MM, beyond);
  fault = bridge_plane_press(w->plane, &load, 1);
  for (size_t i = 0; i < a->n_connector && !fault; i++) {
    double neck_x = span_neck_x(span, i);
    bridge_plane_action(w->plane, neck_x, a->connector[i].form.neck_y, &further, &shear);
    moment[i] +=
        (moment[i] - further - point_excess(load.x - neck_x)) * fabs(beyond) / BRIDGE_PRESS_MM;
  }
  return fault;
}

typedef struct {
  double largest;    /* of the beam's moments, by size                        */
  double off, off_x; /* largest difference, N mm a N, and where the load stands */
} Influence;

/* Of the beam, for 1 N. */
static Fault beam_moment(const Span *span, double x, size_t neck, double *moment)
{
  SpanLoad load = {.x = x, .force_n = 1};
  NeckLoad at = {0, 0};
  Fault fault = span_action(span, &load, 1, span_neck_x(span, neck), &at);
  *moment = at.moment_n_mm;
  return fault;
}

/* Both influence lines of all necks at a place of the load. */
static Fault influence_add(WholeBridge *w, const Assessment *a, const Span *span, double x,
                           Influence influence[])
{
  double flat[SPAN_MAX_UNITS - 1], beam;
  Fault fault = flat_moments(w, a, span, x, flat);
  for (size_t i = 0; i < a->n_connector && !fault; i++) {
    Influence *line = &influence[i];
    fault = beam_moment(span, x, i, &beam);
    if (fault)
      break;
    line->largest = fmax(line->largest, fabs(beam));
    if (fabs(flat[i] - beam) > line->off) {
      line->off = fabs(flat[i] - beam);
      line->off_x = x;
    }
  }
  return fault;
}

Fault whole_bridge_compare(WholeBridge *w, Assessment *a, const Span *span, Point *where)
{
  Influence influence[SPAN_MAX_UNITS - 1] = {0};
  double flat[SPAN_MAX_UNITS - 1], length = span_length(span);
  Fault fault = plane_hold(w, a, where);
  for (int i = 0; i < PLACES && !fault; i++)
    fault = influence_add(w, a, span, length * (double)i / (PLACES - 1), influence);
  for (size_t i = 0; i < a->n_connector && !fault; i++) {
    ConnectorAssessment *k = &a->connector[i];
    const Influence *line = &influence[i];
    if (!k->field || !(line->largest > 0))
      continue;
    fault = flat_moments(w, a, span, k->order_x, flat);
    k->bridge.order_n_mm = a->c.order_load_n * flat[i];
    if (!fault)
      fault = flat_moments(w, a, span, a->trial_x, flat);
    k->bridge.trial_n_mm = a->c.trial.force_n * flat[i];
    k->bridge.differs_percent = 100 * line->off / line->largest;
    k->bridge.differs_x = line->off_x;
  }
  return fault;
}

bool bridge_differs_phrase(const Assessment *a, size_t connector, Phrase *phrase)
{
  const ConnectorAssessment *k = &a->connector[connector];
  if (!(k->bridge.differs_percent > BRIDGE_DIFFERS_PERCENT))
    return false;
  *phrase = (Phrase){
      .text = N_("Bending of the whole bridge as a flat body: up to {0} % off the beam's; margin "
                 "less sure"),
      .value = {k->bridge.differs_percent}};
  g_strlcpy(phrase->place, k->name, sizeof phrase->place);
  return true;
}

bool bridge_moments_phrase(const Assessment *a, size_t connector, Phrase *phrase)
{
  const ConnectorAssessment *k = &a->connector[connector];
  if (!isfinite(k->bridge.order_n_mm))
    return false;
  *phrase = (Phrase){
      .text = N_("Bending by the whole bridge as a flat body and by the beam: {0} and {1} N·mm at "
                 "the trial load where it stands, {2} and {3} N·mm at the order's worst place."),
      .value = {k->bridge.trial_n_mm, k->trial.moment_n_mm, k->bridge.order_n_mm,
                k->order.moment_n_mm}};
  g_strlcpy(phrase->place, k->name, sizeof phrase->place);
  return true;
}
