/* assess_waterfall.c - the best connector of a room, and what each departure from it costs.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_waterfall.h"
#include "assess_solve.h"
#include "outline/shape.h"
#include <glib.h>
#include <math.h>
#include <string.h>

#define USUAL_BACK_N                                                                               \
  600.0                     /* core/SOURCES.md "loads" and "waterfall": common practice, no source \
                             */
#define USUAL_LIGHT_N 250.0 /* front teeth, hanging teeth */
#define BRUSH_CLEARANCE 0.1 /* mm the gap keeps above the brush */
#define LEAST_ROOF_MM 0.3
#define WIDTH_SHARE 0.5 /* of the narrower unit */
#define LEAST_MOVE_MM 0.02

static const struct {
  const char *id, *name;
} fall_table[FALL_N] = {
    [FALL_HEIGHT] = {"height", N_("height")}, [FALL_WIDTH] = {"width", N_("width")},
    [FALL_RADIUS] = {"radius", N_("roof")},   [FALL_SECTION] = {"section", N_("section")},
    [FALL_FINISH] = {"finish", N_("finish")}, [FALL_LOAD] = {"load", N_("load")},
    [FALL_TIME] = {"time", N_("years")},
};

const char *fall_id(FallKind kind)
{
  return (unsigned)kind < FALL_N ? fall_table[kind].id : "";
}

const char *fall_name(FallKind kind)
{
  return (unsigned)kind < FALL_N ? fall_table[kind].name : "";
}

/* First as it reads where the step changes something, then where it does not. */
static const char *const fall_text[FALL_N][2] = {
    [FALL_HEIGHT] = {N_("Height {0.2} instead of {1.2} mm"),
                     N_("Height {0.2} mm, all the room has")},
    [FALL_WIDTH] = {N_("Width {0.1} instead of {1.1} mm"), N_("Width {0.1} mm, all the room has")},
    [FALL_RADIUS] = {N_("Roof radius {0.2}; best outline {1.2} mm"),
                     N_("Roof as in the best outline")},
    [FALL_SECTION] = {N_("Section, sides and groove as drawn"),
                      N_("Section, sides and groove as drawn")},
    [FALL_FINISH] = {N_("Surface: {word} instead of high gloss"), N_("Surface: high gloss")},
    [FALL_LOAD] = {N_("{0} N asked for, {1} N are usual"), N_("{0} N, the usual bite")},
    [FALL_TIME] = {N_("{0} years of {1} bites a day"), N_("{0} years of {1} bites a day")},
};

Phrase fall_phrase(const FallStep *s)
{
  bool same = fabs(s->after - s->before) < 0.005;
  if (s->kind == FALL_FINISH)
    same = s->finish == FINISH_HIGH_POLISH;
  Phrase phrase = {.text = fall_text[s->kind][same], .value = {s->after, s->before}};
  if (s->kind == FALL_FINISH)
    phrase.word = finish_name(s->finish);
  else if (s->kind == FALL_TIME)
    phrase.value[1] = s->bites_a_day;
  return phrase;
}

Phrase waterfall_phrase(const Waterfall *w)
{
  Phrase phrase = {.text = N_("Of the margin {0.2} of the best connector in this room {1.2} is "
                              "left. Most is lost by: {word}"),
                   .value = {w->best, w->step[FALL_N - 1].margin},
                   .word = fall_name(w->most)};
  return phrase;
}

/* ---- the shapes on the way ---- */

enum { SHAPE_BEST, SHAPE_HEIGHT, SHAPE_WIDTH, SHAPE_RADIUS, SHAPE_N };

/* One shape: a case in which only this connector differs. */
typedef struct {
  Case c;
  Form form;
  double width;
} Shape;

static double roof_floor(const Case *c)
{
  return fmax(LEAST_ROOF_MM, case_cutter_radius(c));
}

/* The largest neck of the room: roof down to where the brush still passes, groove up to where the
 * free height ends.  What cannot be moved stays. */
static void height_make_best(Case *c, size_t i, const Form *now)
{
  Connector *k = &c->connector[i];
  Outline moved;
  outline_init(&moved);
  double roof = fmin(now->roof.y, c->brush_mm + BRUSH_CLEARANCE);
  if (now->roof.y - roof > LEAST_MOVE_MM &&
      !shape_move_roof(&k->side[SIDE_GINGIVAL], roof, &moved) &&
      !outline_copy(&k->side[SIDE_GINGIVAL], &moved))
    k->drawn[SIDE_GINGIVAL] = true;
  outline_clear(&moved);
  if (!(c->free_height > now->groove_y + LEAST_MOVE_MM))
    return;
  Side side;
  double groove = k->groove_y;
  bool drawn = k->drawn[SIDE_OCCLUSAL];
  k->groove_y = c->free_height;
  k->drawn[SIDE_OCCLUSAL] = false;
  if (connector_complete(c, i, &side)) {
    k->groove_y = groove;
    k->drawn[SIDE_OCCLUSAL] = drawn;
  }
}

static void roof_make_best(Case *c, size_t i, const Form *now)
{
  Outline best;
  outline_init(&best);
  Connector *k = &c->connector[i];
  if (now->kind != FORM_NONE && !shape_best_roof(&k->side[SIDE_GINGIVAL], roof_floor(c), &best) &&
      !outline_copy(&k->side[SIDE_GINGIVAL], &best))
    k->drawn[SIDE_GINGIVAL] = true;
  outline_clear(&best);
}

/* Oval neck, both sides alike, of this width. */
static Fault plan_make(Case *c, size_t i, double width)
{
  Connector *k = &c->connector[i];
  Side side;
  k->drawn[SIDE_BUCCAL] = k->drawn[SIDE_LINGUAL] = false;
  k->neck_width = width;
  k->plan_radius = NAN;
  k->roundness_neck = 2;
  k->roundness_body = 4;
  outline_clear(&k->section);
  return connector_complete(c, i, &side);
}

static double best_width(const Case *c, size_t i, double now)
{
  double unit = fmin(c->unit[i].width, c->unit[i + 1].width);
  return fmax(now, round(WIDTH_SHARE * unit * 10) / 10);
}

static Fault shape_make(const Assessment *a, size_t i, int which, Shape *shape)
{
  const Form *now = &a->connector[i].form;
  Fault fault = case_copy(&shape->c, &a->c);
  if (fault)
    return fault;
  if (which == SHAPE_BEST)
    height_make_best(&shape->c, i, now);
  if (which < SHAPE_RADIUS)
    roof_make_best(&shape->c, i, now);
  double width = which < SHAPE_WIDTH ? best_width(&a->c, i, now->neck_width) : now->neck_width;
  fault = plan_make(&shape->c, i, width);
  if (fault && width > now->neck_width) /* no room for more: as wide as it is */
    fault = plan_make(&shape->c, i, now->neck_width);
  const Outline *side = shape->c.connector[i].side;
  Point where;
  if (!fault)
    fault = form_read(&side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], &side[SIDE_BUCCAL],
                      &side[SIDE_LINGUAL], NULL, &shape->form, &where);
  return fault;
}

/* ---- judged ---- */

static double usual_load(const Case *c)
{
  bool back = false, hanging = false;
  for (size_t i = 0; i < c->n_unit; i++)
    back = back || !tooth_is_front(c->unit[i].tooth);
  for (size_t i = 0; i + 1 < c->n_unit; i++)
    hanging = hanging || limits_for(c, i).span == SPAN_CANTILEVER;
  return back && !hanging ? USUAL_BACK_N : USUAL_LIGHT_N;
}

/* Margin of a field, polished all over, under the usual bite with the beam that has this neck. */
static Fault polished_judge(const Bridge *b, size_t i, const SpanNeck *neck, const Field *field,
                            Governing *governing)
{
  const Case *c = &b->a->c;
  ZoneSurface polished[ZONE_NECK_N];
  for (int zone = 0; zone < ZONE_NECK_N; zone++)
    polished[zone] = (ZoneSurface){FINISH_HIGH_POLISH, NAN, NAN};
  Scales scales = scales_of(&c->material, polished);
  SpanInput beam = b->beams->input;
  SpanEnvelope envelope = {0};
  Span *span = NULL;
  beam.neck[i] = *neck;
  Fault fault = span_new(&beam, 0, &span);
  if (!fault)
    fault = span_sweep(span, i, usual_load(c), 0, 0, &envelope);
  if (!fault)
    fault = governing_find(field, &envelope, &scales, governing);
  span_free(span);
  return fault;
}

static Fault shape_judge(const Bridge *b, size_t i, const Shape *shape, const Field *field,
                         Governing *governing)
{
  const Outline *side = shape->c.connector[i].side;
  SpanNeck neck;
  Fault fault =
      case_span_neck(&shape->c, i, &side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], &shape->form, &neck);
  return fault ? fault : polished_judge(b, i, &neck, field, governing);
}

/* Errors of two fields of the same kind cancel by half (core/assess_advice.c). */
static Banded shape_band(double factor, const Governing *before, const Governing *after)
{
  double spread = hypot(before->peak.band_percent, after->peak.band_percent);
  return banded_percent_positive(factor, before->answer == after->answer ? spread / 2 : spread);
}

/* Years: the ends of what they depend on, added in squares. */
static Banded time_band(const ConnectorAssessment *k, double factor)
{
  double below = 0, above = 0;
  for (size_t d = 0; d < k->n_driver; d++) {
    const ChanceDriver *driver = &k->driver[d];
    InputKind kind = driver->input.kind;
    if (kind != INPUT_EXPONENT && kind != INPUT_THRESHOLD && kind != INPUT_BITES)
      continue;
    double p = log(driver->at_low.service.margin / driver->at_low.once.margin / factor),
           q = log(driver->at_high.service.margin / driver->at_high.once.margin / factor);
    below = hypot(below, fmin(0, fmin(p, q)));
    above = hypot(above, fmax(0, fmax(p, q)));
  }
  return banded(factor, factor * exp(-below), fmin(1, factor * exp(above)));
}

static FallStep *step_add(Waterfall *w, FallKind kind, double margin, double before, double after)
{
  double from = kind ? w->step[kind - 1].margin : w->best, factor = margin / from;
  w->step[kind] = (FallStep){.kind = kind,
                             .before = before,
                             .after = after,
                             .margin = margin,
                             .factor = {factor, factor, factor}};
  return &w->step[kind];
}

/* Of what a hand can change: neither the bite nor the years. */
static void most_find(Waterfall *w)
{
  for (int kind = 0; kind <= FALL_FINISH; kind++)
    if (w->step[kind].factor.value < w->step[w->most].factor.value)
      w->most = (FallKind)kind;
}

static void steps_make(const Bridge *b, size_t i, const Shape shape[SHAPE_N],
                       const Governing judged[SHAPE_N + 1], Waterfall *w)
{
  const Case *c = &b->a->c;
  const ConnectorAssessment *k = &b->a->connector[i];
  const FinishState finish = k->governing_finish;
  double usual = usual_load(c);
  Service service = case_service(c);
  w->best = judged[SHAPE_BEST].margin.value;
  const struct {
    double before, after;
  } figure[SHAPE_N] = {
      {shape[SHAPE_BEST].form.neck_height, shape[SHAPE_HEIGHT].form.neck_height},
      {shape[SHAPE_HEIGHT].form.neck_width, shape[SHAPE_WIDTH].form.neck_width},
      {shape[SHAPE_WIDTH].form.roof_radius.value, shape[SHAPE_RADIUS].form.roof_radius.value},
      {shape[SHAPE_RADIUS].c.connector[i].roundness_neck, c->connector[i].roundness_neck}};
  for (int s = 0; s < SHAPE_N; s++) {
    FallStep *step =
        step_add(w, (FallKind)s, judged[s + 1].margin.value, figure[s].before, figure[s].after);
    step->factor = shape_band(step->factor.value, &judged[s], &judged[s + 1]);
  }
  FallStep *step = step_add(w, FALL_FINISH, k->margin.value * c->order_load_n / usual, 0, 0);
  Banded state = surface_factor(&c->material, finish, FINISH_HIGH_POLISH).of;
  step->finish = finish;
  step->factor.low = fmin(step->factor.value, step->factor.value * state.low / state.value);
  step->factor.high = fmax(step->factor.value, step->factor.value * state.high / state.value);
  step_add(w, FALL_LOAD, k->margin.value, usual, c->order_load_n);
  step = step_add(w, FALL_TIME, k->service_margin.value, 0, service.years);
  step->factor = time_band(k, step->factor.value);
  step->bites_a_day = service.bites_a_day;
  most_find(w);
  w->known = isfinite(w->best) && w->best > 0 && isfinite(w->step[FALL_TIME].margin);
}

static void nothing(void *data, Task *task)
{
  (void)data, (void)task;
}

static Fault waterfall_make(Bridge *b, Assessor *assessor, size_t i, Waterfall *w)
{
  const Assessment *a = b->a;
  const ConnectorAssessment *k = &a->connector[i];
  Shape shape[SHAPE_N] = {0};
  Task task[SHAPE_N] = {0};
  Governing judged[SHAPE_N + 1];
  Fault fault = FAULT_NONE;
  /* as fine as the answer: its last step, the section, is then no change of mesh */
  SolidGrade grade = bridge_grade(b, i) == SOLID_FINE ? SOLID_FINE : SOLID_FULL;
  for (int s = 0; s < SHAPE_N; s++)
    case_init(&shape[s].c);
  for (int s = 0; s < SHAPE_N && !fault; s++) {
    fault = shape_make(a, i, s, &shape[s]);
    task[s].body = body_of(&shape[s].c, i, shape[s].form.neck_x, grade);
  }
  TaskList list = {.task = task,
                   .n = SHAPE_N,
                   .cache = assessor->cache,
                   .solver = assessor->solver,
                   .threads = b->list.threads,
                   .judge = nothing,
                   .follow = nothing};
  if (!fault)
    fault = tasks_run(&list);
  for (int s = 0; s < SHAPE_N && !fault; s++)
    fault = task[s].solved.field ? shape_judge(b, i, &shape[s], task[s].solved.field, &judged[s])
                                 : task[s].solved.fault;
  if (!fault)
    fault = polished_judge(b, i, &b->beams->input.neck[i], k->field, &judged[SHAPE_N]);
  if (!fault)
    steps_make(b, i, shape, judged, w);
  tasks_clear(&list);
  for (int s = 0; s < SHAPE_N; s++)
    case_clear(&shape[s].c);
  return fault;
}

Fault bridge_waterfalls(Bridge *b, Assessor *assessor)
{
  Assessment *a = b->a;
  for (size_t i = 0; i < a->n_connector; i++) {
    ConnectorAssessment *k = &a->connector[i];
    bool wanted = b->settings->focus >= a->n_connector || b->settings->focus == i;
    if (!wanted || !k->field || k->fault || !b->beams)
      continue;
    Fault fault = waterfall_make(b, assessor, i, &k->waterfall);
    if (fault == FAULT_MEMORY || fault == FAULT_CANCELLED)
      return fault; /* others: this connector has none */
  }
  return FAULT_NONE;
}
