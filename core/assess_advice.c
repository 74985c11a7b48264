/* assess_advice.c - possible changes of a connector, and what each would bring.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_advice.h"
#include "outline/shape.h"
#include <math.h>
#include <string.h>

#define WISHED_RADIUS 0.9   /* mm, wished roof radius: common practice, no source           */
#define STEP_LOWER 0.5      /* mm, one move of the roof when no limit asks for more          */
#define STEP_WIDEN 0.4      /* mm, one move of the width                                     */
#define LEAST_GAIN 0.02     /* smaller gains are not worth a line                            */
#define BRUSH_CLEARANCE 0.1 /* mm the gap keeps above the brush when a roof is lowered       */

void trial_clear(Trial *trial)
{
  outline_clear(&trial->outline[0]);
  outline_clear(&trial->outline[1]);
}

static Trial *start(Trial *trial, AdviceKind kind, const Case *c, size_t connector, double target)
{
  *trial = (Trial){.kind = kind, .connector = connector, .target = target, .replaces = {-1, -1}};
  outline_init(&trial->outline[0]);
  outline_init(&trial->outline[1]);
  connector_finish_now(&c->connector[connector], trial->finish);
  connector_name(c, connector, '/', trial->act.place);
  trial->act.value[0] = target;
  return trial;
}

/* Keeps the started trial when its outline could be made. */
static size_t keep(Trial *trial, Fault fault, int side)
{
  if (fault) {
    trial_clear(trial);
    return 0;
  }
  trial->replaces[0] = side;
  return 1;
}

static size_t propose_round(const Case *c, const ConnectorAssessment *now, size_t i, Trial *trial)
{
  double today = now->form.roof_radius.value;
  double radius = fmin(WISHED_RADIUS, today + now->form.room_to_round);
  radius = floor(radius * 20 + 1e-6) / 20; /* twentieths of a millimetre: what a hand can aim at */
  if (!(radius > today * 1.05) || now->form.kind == FORM_NONE)
    return 0;
  start(trial, ADVICE_ROUND, c, i, radius);
  trial->act.text = N_("Round the roof to {0.2}");
  trial->why.text = now->form.kind == FORM_V ? N_("Turn the V into a U, feet stay")
                                             : N_("Roof and feet stay where they are");
  return keep(trial,
              shape_round_roof(&c->connector[i].side[SIDE_GINGIVAL], radius, &trial->outline[0]),
              SIDE_GINGIVAL);
}

static size_t propose_best(const Case *c, const ConnectorAssessment *now, size_t i, Trial *trial)
{
  if (now->form.kind == FORM_NONE)
    return 0;
  start(trial, ADVICE_BEST, c, i, 0);
  trial->act.text = N_("Best outline, same room");
  trial->why.text = N_("Dashed on the drawing");
  double floor_mm = fmax(0.3, case_cutter_radius(c));
  return keep(trial,
              shape_best_roof(&c->connector[i].side[SIDE_GINGIVAL], floor_mm, &trial->outline[0]),
              SIDE_GINGIVAL);
}

static size_t propose_lower(const Case *c, const ConnectorAssessment *now, size_t i, Trial *trial)
{
  double missing = now->limits.height_need - now->form.neck_height;
  double roof = now->form.roof.y - (missing > STEP_LOWER ? missing : STEP_LOWER);
  double least = c->brush_mm + BRUSH_CLEARANCE; /* the brush still passes */
  roof = floor(fmax(roof, least) * 10 + 1e-6) / 10;
  if (!(roof < now->form.roof.y - 0.05))
    return 0;
  start(trial, ADVICE_LOWER, c, i, roof);
  trial->act.text = N_("Lower the roof to {0.1}");
  trial->why.text = N_("Height counts twice");
  return keep(trial,
              shape_move_roof(&c->connector[i].side[SIDE_GINGIVAL], roof, &trial->outline[0]),
              SIDE_GINGIVAL);
}

static size_t propose_widen(const Case *c, const ConnectorAssessment *now, size_t i, Trial *trial)
{
  const Connector *k = &c->connector[i];
  double width = round((now->section.width + STEP_WIDEN) * 10) / 10;
  start(trial, ADVICE_WIDEN, c, i, width);
  trial->act.text = N_("Widen the neck to {0.1}");
  trial->why.text = N_("Towards the tongue side");
  return keep(trial,
              shape_widen(&k->side[SIDE_LINGUAL], width - now->section.width, &trial->outline[0]),
              SIDE_LINGUAL);
}

static size_t propose_groove(const Case *c, const ConnectorAssessment *now, size_t i, Trial *trial)
{
  const Connector *k = &c->connector[i];
  if (now->order.moment_n_mm >= 0 || !(now->form.groove_radius < 0.6))
    return 0;
  Neighbours around = case_neighbours(c, i);
  start(trial, ADVICE_GROOVE, c, i, 0.8);
  trial->act.text = N_("Round the biting groove to {0.1}");
  trial->why.text = N_("At a hanging tooth the biting side is pulled");
  double open = k->groove_open_deg > 0 ? k->groove_open_deg : 90;
  return keep(trial, shape_occlusal(now->form.groove_y, 0.8, open, &around, &trial->outline[0]),
              SIDE_OCCLUSAL);
}

static size_t propose_polish(const Case *c, const ConnectorAssessment *now, size_t i, Trial *trial)
{
  bool biting = now->peak.zone == SURFACE_GROOVE, changed = false;
  start(trial, ADVICE_POLISH, c, i, 0);
  for (int zone = 0; zone < ZONE_NECK_N; zone++) {
    FinishState before = trial->finish[zone];
    if (biting ? zone == ZONE_GROOVE : zone == ZONE_ROOF || zone == ZONE_LEGS)
      trial->finish[zone] = finish_after(before, TREAT_POLISH, false); /* heals no disc mark */
    changed = changed || trial->finish[zone] != before;
  }
  if (!changed) {
    trial_clear(trial);
    return 0;
  }
  trial->act.text = biting ? N_("Polish the biting groove") : N_("Polish the gum side");
  trial->why.text = N_("High gloss, before stain and glaze");
  return 1;
}

static size_t propose_load(const Case *c, const ConnectorAssessment *now, size_t i, Trial *trial)
{
  if (!(now->margin.value < 1.25))
    return 0;
  double load = floor(c->order_load_n * 0.9 / 5) * 5; /* one tenth less, in steps of 5 N */
  if (!(load > 0))
    return 0;
  start(trial, ADVICE_LOAD, c, i, load);
  trial->act.text = N_("Ask for a lighter bite: {0} N");
  trial->why.text = N_("Only the dentist decides this");
  return 1;
}

size_t trials_propose(const Case *c, const ConnectorAssessment *now, size_t i,
                      Trial trial[TRIAL_MAX])
{
  static size_t (*const propose[])(const Case *, const ConnectorAssessment *, size_t, Trial *) = {
      propose_round, propose_polish, propose_lower, propose_best,
      propose_widen, propose_groove, propose_load};
  size_t n = 0;
  for (size_t k = 0; k < sizeof propose / sizeof *propose; k++)
    n += propose[k](c, now, i, &trial[n]);
  return n;
}

Body today_body(const Case *c, size_t connector, double neck_x, int side)
{
  Body body = body_of(c, connector, neck_x, SOLID_TRIAL);
  body.mirrored = side;
  return body;
}

Body trial_body(const Trial *trial, const Case *c, double neck_x, int side)
{
  Body body = today_body(c, trial->connector, neck_x, side);
  for (int k = 0; k < 2; k++)
    if (trial->replaces[k] >= 0)
      body.side[trial->replaces[k]] = &trial->outline[k];
  return body;
}

bool trials_join(const Case *c, const Trial trial[], size_t n, Trial *joined)
{
  const Trial *of[ADVICE_N] = {NULL};
  for (size_t k = 0; k < n; k++)
    of[trial[k].kind] = &trial[k];
  int parts = 0;
  for (int kind = 0; kind < ADVICE_N; kind++)
    parts += of[kind] && kind != ADVICE_LOAD && kind != ADVICE_BEST;
  if (parts < 2)
    return false;
  size_t i = trial[0].connector;
  start(joined, ADVICE_ROUND, c, i, 0);
  const Outline *roof = of[ADVICE_ROUND]   ? &of[ADVICE_ROUND]->outline[0]
                        : of[ADVICE_LOWER] ? &of[ADVICE_LOWER]->outline[0]
                                           : NULL;
  Fault fault = FAULT_NONE;
  if (of[ADVICE_ROUND] && of[ADVICE_LOWER])
    fault = shape_move_roof(roof, of[ADVICE_LOWER]->target, &joined->outline[0]);
  else if (roof)
    fault = outline_copy(&joined->outline[0], roof);
  const Trial *other = of[ADVICE_WIDEN] ? of[ADVICE_WIDEN] : of[ADVICE_GROOVE];
  if (!fault && other)
    fault = outline_copy(&joined->outline[1], &other->outline[0]);
  if (fault) {
    trial_clear(joined);
    return false;
  }
  joined->replaces[0] = roof ? SIDE_GINGIVAL : -1;
  joined->replaces[1] = other ? other->replaces[0] : -1;
  if (of[ADVICE_POLISH])
    memcpy(joined->finish, of[ADVICE_POLISH]->finish, sizeof joined->finish);
  return true;
}

void trial_judge(const Case *c, Trial *trial, const SpanEnvelope *envelope, const Field *field)
{
  ZoneSurface surface[ZONE_NECK_N];
  connector_surfaces(&c->connector[trial->connector], trial->finish, surface);
  Scales scales = scales_of(&c->material, surface);
  trial->judged = !governing_find(field, envelope, &scales, &trial->after);
  if (trial->judged && trial->kind == ADVICE_LOAD) {
    double k = c->order_load_n / trial->target;
    Banded *margin = &trial->after.margin;
    *margin = banded(margin->value * k, margin->low * k, margin->high * k);
  }
}

bool trial_advice(const Case *c, const Trial *trial, const Governing *before, Advice *advice)
{
  const Governing *after = &trial->after;
  double gain = after->margin.value / before->margin.value - 1;
  /* solid against plane is no gain */
  if (!trial->judged || after->answer != before->answer || !(gain > LEAST_GAIN))
    return false;
  /* the band of a gain: errors of the two fields where a shape changes, the finish's own band where
   * it does */
  Banded band = banded(gain, gain, gain);
  if (trial->replaces[0] >= 0) {
    double spread = hypot(before->peak.band_percent, after->peak.band_percent) / 100 / 2;
    band.low = (1 + gain) * (1 - spread) - 1;
    band.high = (1 + gain) * (1 + spread) - 1;
  } else if (trial->kind == ADVICE_POLISH) {
    FinishZone zone = (FinishZone)before->peak.zone;
    FinishState now[ZONE_NECK_N];
    connector_finish_now(&c->connector[trial->connector], now);
    Banded step = surface_factor(&c->material, trial->finish[zone], now[zone]).of;
    band.low = fmin(gain, fmax(0, step.low - 1));
    band.high = fmax(gain, step.high - 1);
  }
  *advice = (Advice){.kind = trial->kind,
                     .connector = trial->connector,
                     .act = trial->act,
                     .why = trial->why,
                     .target = trial->target,
                     .side = trial->replaces[0],
                     .gain_percent = banded(100 * band.value, 100 * band.low, 100 * band.high)};
  /* a new shape leaves the record of the surface alone */
  memcpy(advice->finish,
         trial->kind == ADVICE_POLISH ? trial->finish : c->connector[trial->connector].finish,
         sizeof advice->finish);
  outline_init(&advice->ghost);
  if (trial->replaces[0] >= 0 && outline_copy(&advice->ghost, &trial->outline[0]))
    return false;
  return true;
}
