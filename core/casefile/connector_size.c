/* connector_size.c - see connector_size.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Roof and feet are moved by the moves of outline/shape.h; where the size follows from the move
 * only in a roundabout way it is found by halving. */
#include "casefile/connector_size.h"
#include "base/phrase.h"
#include "base/tolerance.h"
#include "casefile/drawn.h"

#define HALVINGS 44
#define MOST_MM 25.0
#define MOST_DEG 160.0

const char *size_name(SizeKind kind)
{
  static const char *const name[SIZE_KINDS] = {
      [SIZE_NECK_HEIGHT] = N_("Neck height"), [SIZE_NECK_WIDTH] = N_("Neck width"),
      [SIZE_RADIUS] = N_("Roof radius"),      [SIZE_DEPTH] = N_("Embrasure depth"),
      [SIZE_OPENING] = N_("Opening angle"),   [SIZE_MOUTH] = N_("Width at the mouth"),
  };
  return kind < SIZE_KINDS ? name[kind] : "";
}

double size_of_form(const Form *form, SizeKind kind)
{
  bool hollow = form->kind != FORM_NONE;
  switch (kind) {
  case SIZE_NECK_HEIGHT:
    return form->neck_height;
  case SIZE_NECK_WIDTH:
    return form->neck_width;
  case SIZE_RADIUS:
    return hollow ? form->roof_radius.value : NAN;
  case SIZE_DEPTH:
    return hollow ? form->depth : NAN;
  case SIZE_OPENING:
    return hollow ? form->opening_deg : NAN;
  case SIZE_MOUTH:
    return hollow ? form->foot[1].x - form->foot[0].x : NAN;
  case SIZE_KINDS:
  default:
    return NAN;
  }
}

static Fault form_of(const Connector *k, const Outline *gingival, Form *form)
{
  return form_read(gingival, &k->side[SIDE_OCCLUSAL], &k->side[SIDE_BUCCAL], &k->side[SIDE_LINGUAL],
                   NULL, form, NULL);
}

double connector_size(const Connector *k, SizeKind kind)
{
  Form form;
  return form_of(k, &k->side[SIDE_GINGIVAL], &form) ? NAN : size_of_form(&form, kind);
}

/* The size that a move leads to; NaN where it cannot go. */
static double after_move(const Connector *k, SizeKind kind,
                         Fault (*move)(const Outline *, double, Outline *), double by,
                         Outline *made)
{
  Form form;
  if (move(&k->side[SIDE_GINGIVAL], by, made) || form_of(k, made, &form))
    return NAN;
  return size_of_form(&form, kind);
}

/* Finds the move between `from` (where the size is on this side of `value`) and `to`.  Where the
 * move cannot go, the way back is taken. */
static Fault move_until(const Connector *k, SizeKind kind,
                        Fault (*move)(const Outline *, double, Outline *), double from, double to,
                        double value, Outline *made)
{
  double now = connector_size(k, kind),
         exact = size_is_angle(kind) ? SIZE_EXACT_DEG : SIZE_EXACT_MM;
  bool grow = value > now;
  for (int i = 0; i < HALVINGS; i++) {
    double middle = (from + to) / 2, size = after_move(k, kind, move, middle, made);
    bool past = isnan(size) || (grow ? size > value : size < value);
    *(past ? &to : &from) = middle;
    if (fabs(size - value) < exact / 50)
      break;
  }
  double size = after_move(k, kind, move, from, made);
  if (!(fabs(size - value) <= exact))
    size = after_move(k, kind, move, (from + to) / 2, made);
  return fabs(size - value) <= exact ? FAULT_NONE : FAULT_RANGE;
}

/* Drawn plan outlines are scaled; proposed ones are proposed anew. */
static Fault width_set(Case *c, size_t connector, double value)
{
  Connector *k = &c->connector[connector];
  double by = (value - connector_size(k, SIZE_NECK_WIDTH)) / 2;
  Neighbours around = case_neighbours(c, connector);
  if (!isfinite(by) || value < MIN_NECK_MM || value > fmin(around.width[0], around.width[1]))
    return FAULT_RANGE; /* no neck, or wider than a unit */
  Outline fresh[2] = {{0}, {0}};
  Fault fault = FAULT_NONE;
  for (int i = 0; i < 2 && !fault; i++)
    if (k->drawn[SIDE_BUCCAL + i])
      fault = shape_widen(&k->side[SIDE_BUCCAL + i], by, &fresh[i]);
  double was = k->neck_width;
  Side side;
  k->neck_width = value;
  if (!fault)
    fault = connector_complete(c, connector, &side);
  if (fault) {
    k->neck_width = was;
    Fault back = connector_complete(c, connector, &side); /* it stood before */
    (void)back;
  }
  for (int i = 0; i < 2; i++) {
    if (!fault && k->drawn[SIDE_BUCCAL + i]) {
      outline_clear(&k->side[SIDE_BUCCAL + i]);
      k->side[SIDE_BUCCAL + i] = fresh[i];
    } else
      outline_clear(&fresh[i]);
  }
  return fault;
}

/* The gum side with the size asked for. */
static Fault gum_side_with(const Connector *k, SizeKind kind, double value, Outline *made)
{
  const Outline *gingival = &k->side[SIDE_GINGIVAL];
  Form form;
  Fault fault = form_of(k, gingival, &form);
  if (fault)
    return fault;
  switch (kind) {
  case SIZE_RADIUS:
    return shape_round_roof(gingival, value, made);
  case SIZE_DEPTH:
    return shape_move_roof(gingival, form.roof.y + value - form.depth, made);
  case SIZE_NECK_HEIGHT: {
    double y = form.roof.y, by = value - form.neck_height; /* steeper than the way to the groove */
    return move_until(k, kind, shape_move_roof, y, y - 2 * by - copysign(0.1, by), value, made);
  }
  case SIZE_MOUTH:
    return shape_move_feet(gingival, (value - (form.foot[1].x - form.foot[0].x)) / 2, made);
  case SIZE_OPENING:
    return move_until(k, kind, shape_move_feet, 0,
                      value > form.opening_deg ? MOST_MM / 2 : form.foot[0].x - form.foot[1].x,
                      value, made);
  case SIZE_NECK_WIDTH:
  case SIZE_KINDS:
  default:
    return FAULT_RANGE;
  }
}

Fault connector_size_set(Case *c, size_t connector, SizeKind kind, double value)
{
  if (!isfinite(value))
    return FAULT_NOT_FINITE;
  if (connector + 1 >= c->n_unit || kind >= SIZE_KINDS || !(value > 0))
    return FAULT_RANGE;
  Connector *k = &c->connector[connector];
  if (kind == SIZE_NECK_WIDTH)
    return width_set(c, connector, value);
  double exact = size_is_angle(kind) ? SIZE_EXACT_DEG : SIZE_EXACT_MM;
  Outline made = {0};
  Form form;
  Fault fault = gum_side_with(k, kind, value, &made);
  if (!fault)
    fault = form_of(k, &made, &form);
  if (!fault && !(fabs(size_of_form(&form, kind) - value) <= exact))
    fault = FAULT_RANGE;
  if (fault) {
    outline_clear(&made);
    return fault == FAULT_MEMORY ? fault : FAULT_RANGE;
  }
  outline_clear(&k->side[SIDE_GINGIVAL]);
  k->side[SIDE_GINGIVAL] = made;
  k->drawn[SIDE_GINGIVAL] = true;
  if (kind == SIZE_RADIUS)
    connector_roof_doubt_set(k, 0);
  return FAULT_NONE;
}

static bool can_be(const Case *c, size_t connector, SizeKind kind, double value)
{
  Case copy;
  case_init(&copy);
  bool can = case_copy(&copy, c) == FAULT_NONE &&
             connector_size_set(&copy, connector, kind, value) == FAULT_NONE;
  case_clear(&copy);
  return can;
}

Fault connector_size_range(const Case *c, size_t connector, SizeKind kind, double *low,
                           double *high)
{
  if (connector + 1 >= c->n_unit)
    return FAULT_RANGE;
  double now = connector_size(&c->connector[connector], kind);
  double step = size_is_angle(kind) ? 0.1 : 0.01, most = size_is_angle(kind) ? MOST_DEG : MOST_MM;
  if (!isfinite(now))
    return FAULT_RANGE;
  double end[2] = {0, most};
  for (int side = 0; side < 2; side++) {
    double good = now, bad = end[side];
    while (fabs(good - bad) > step / 2) {
      double middle = (good + bad) / 2;
      *(can_be(c, connector, kind, middle) ? &good : &bad) = middle;
    }
    end[side] = good;
  }
  double a = ceil(end[0] / step - 1e-9) * step, b = floor(end[1] / step + 1e-9) * step;
  *low = fmin(a, now);
  *high = fmax(b, now);
  return FAULT_NONE;
}
