/* solvable_search.c - see solvable_search.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Connector by connector: all outlines of a list are solved as live answers, the one that
 * meets most stays; the last word has the answer at rest. */
#include "practice/solvable_search.h"
#include "assess_room.h"
#include "practice/criterion.h"
#include <math.h>
#include <string.h>

#define HEIGHT_STEP 0.15
#define HEIGHTS_MOST 9
#define FLOOR_MM 0.3   /* sharper roofs gain nothing */
#define BESIDE_MM 0.05 /* the neck stands beside its plane */
#define WIDEN_STEP 0.15
#define NARROW_MOST 6
#define WIDEN_MOST 8
#define WIDTH_SHARE 0.85 /* of the narrower crown: no neck is wider */
#define KEPT 4
#define DEGREE (G_PI / 180)

typedef struct {
  Case c; /* owned */
  size_t unmet;
  double short_by, peak;
} Drawing;

typedef struct {
  Assessor *assessor;
  const Exercise *e;
  const SolvableSettings *settings;
  const Assessment *start;
  Search *search;
  size_t connector;   /* that is redrawn now */
  Drawing kept[KEPT]; /* of it, best first */
  size_t n_kept;
  Case calm; /* the lowest pull where a peak is asked; n_unit 0: none */
  double calm_short;
  int done, of;
} Hunt;

/* ---- measuring ---- */

Fault search_assess(Assessor *assessor, const Case *c, AssessGrade grade,
                    const SolvableSettings *settings, Assessment **result)
{
  AssessSettings own = assess_settings_default();
  own.grade = grade;
  own.threads = settings->threads;
  own.cancelled = settings->cancelled;
  own.cancel_data = settings->cancel_data;
  return assess(assessor, c, &own, result);
}

bool criteria_met(const Work *work)
{
  Work own = *work;
  own.strokes = work->strokes < 0 ? 1 : work->strokes;
  for (guint i = 0; i < work->exercise->criterion->len; i++) {
    const Criterion *c = &g_array_index(work->exercise->criterion, Criterion, i);
    double value;
    criterion_worst(c, &own, &value);
    if (!criterion_met(c, value))
      return false;
  }
  return true;
}

static bool of_connector(const Criterion *c, size_t connector)
{
  return c->connector == connector || c->connector == SIZE_MAX;
}

static bool peak_asked(const Criterion *c)
{
  return c->measure == MEASURE_PEAK;
}

/* Notes what a drawing reaches; how far it is from passing where it is redrawn. */
static void drawing_measure(Hunt *h, const Assessment *mine, Drawing *drawing, Reached reached[])
{
  Work work = {.exercise = h->e, .start = h->start, .mine = mine, .best = mine, .strokes = 1};
  drawing->unmet = 0;
  drawing->short_by = 0;
  drawing->peak = mine->connector[h->connector].trial_peak_mpa.value;
  for (guint i = 0; i < h->e->criterion->len; i++) {
    const Criterion *c = &g_array_index(h->e->criterion, Criterion, i);
    Reached now = {0};
    now.connector = criterion_worst(c, &work, &now.value);
    now.short_by = criterion_missed(c, now.value);
    now.met = now.short_by <= 0;
    reached[i] = now;
    Reached *best = &h->search->reached[i];
    if (!isnan(now.short_by) && !(best->short_by <= now.short_by))
      *best = now;
    double here = of_connector(c, h->connector)
                      ? criterion_missed(c, measure_value(c->measure, &work, h->connector))
                      : 0;
    double limit = isnan(c->least) ? c->most : c->least;
    drawing->unmet += (here <= 0) ? 0 : 1;
    drawing->short_by += here <= 0 ? 0 : isnan(here) ? 10 : here / fmax(fabs(limit), 0.1);
  }
}

static bool better(const Drawing *a, const Drawing *b)
{
  if (a->unmet != b->unmet)
    return a->unmet < b->unmet;
  if (a->unmet && fabs(a->short_by - b->short_by) > 1e-9)
    return a->short_by < b->short_by;
  return a->peak < b->peak;
}

/* Takes the case over. */
static void drawing_keep(Hunt *h, Drawing *drawing)
{
  size_t at = h->n_kept;
  while (at > 0 && better(drawing, &h->kept[at - 1]))
    at--;
  if (at == KEPT) {
    case_clear(&drawing->c);
    return;
  }
  if (h->n_kept == KEPT)
    case_clear(&h->kept[--h->n_kept].c);
  memmove(&h->kept[at + 1], &h->kept[at], (h->n_kept - at) * sizeof *drawing);
  h->kept[at] = *drawing;
  h->n_kept++;
}

static void kept_clear(Hunt *h)
{
  for (size_t i = 0; i < h->n_kept; i++)
    case_clear(&h->kept[i].c);
  h->n_kept = 0;
}

static Fault calm_keep(Hunt *h, const Drawing *drawing, const Reached reached[])
{
  for (guint i = 0; i < h->e->criterion->len; i++)
    if (peak_asked(&g_array_index(h->e->criterion, Criterion, i)) &&
        (h->calm.n_unit == 0 || reached[i].short_by < h->calm_short)) {
      h->calm_short = reached[i].short_by;
      return case_copy(&h->calm, &drawing->c);
    }
  return FAULT_NONE;
}

/* Takes the case over; one without an answer is dropped. */
static Fault drawing_try(Hunt *h, Case *c)
{
  Drawing drawing = {.c = *c};
  Assessment *a = NULL;
  Reached reached[CRITERIA_MOST];
  Fault fault = search_assess(h->assessor, c, ASSESS_LIVE, h->settings, &a);
  h->done++;
  if (h->settings->progress)
    h->settings->progress(fmin(1, (double)h->done / h->of), h->settings->progress_data);
  if (fault || a->fault || a->connector[h->connector].fault) {
    case_clear(&drawing.c);
    assessment_unref(a);
    return fault;
  }
  drawing_measure(h, a, &drawing, reached);
  fault = calm_keep(h, &drawing, reached);
  drawing_keep(h, &drawing);
  assessment_unref(a);
  return fault;
}

static bool found_here(const Hunt *h)
{
  return h->n_kept > 0 && h->kept[0].unmet == 0;
}

/* ---- sizes ---- */

static bool width_asked(const Exercise *e, size_t connector)
{
  for (guint i = 0; i < e->criterion->len; i++) {
    const Criterion *c = &g_array_index(e->criterion, Criterion, i);
    if (of_connector(c, connector) &&
        (c->measure == MEASURE_NECK_WIDTH || c->measure == MEASURE_NECK_AREA ||
         c->measure == MEASURE_SECTION_VALUE))
      return true;
  }
  return false;
}

/* The best so far with wider and narrower necks, as far as the crowns let them. */
static Fault widths_try(Hunt *h)
{
  if (!width_asked(h->e, h->connector) || h->n_kept == 0)
    return FAULT_NONE;
  Case from;
  case_init(&from);
  const Unit *unit = &h->e->start.unit[h->connector];
  double most = WIDTH_SHARE * fmin(unit[0].width, unit[1].width);
  Fault fault = FAULT_NONE;
  for (size_t i = 0; i < 2 && i < h->n_kept && !fault; i++) {
    fault = case_copy(&from, &h->kept[i].c);
    for (int step = -NARROW_MOST; step <= WIDEN_MOST && !fault && !found_here(h); step++) {
      Case wide;
      Side side;
      case_init(&wide);
      fault = case_copy(&wide, &from);
      Connector *k = &wide.connector[h->connector];
      k->neck_width += WIDEN_STEP * step;
      if (!fault && k->neck_width <= most && !connector_complete(&wide, h->connector, &side))
        fault = drawing_try(h, &wide);
      else
        case_clear(&wide);
    }
  }
  case_clear(&from);
  return fault;
}

/* ---- outlines ---- */

/* `from` with another gum side, which is borrowed. */
static Fault outline_try(Hunt *h, const Case *from, const Outline *gingival)
{
  Case c;
  case_init(&c);
  Connector *k = &c.connector[h->connector];
  Fault fault = case_copy(&c, from);
  if (!fault)
    fault = outline_copy(&k->side[SIDE_GINGIVAL], gingival);
  if (fault) {
    case_clear(&c);
    return fault;
  }
  k->drawn[SIDE_GINGIVAL] = true;
  k->roof_doubt_percent = NAN; /* no pen drew it */
  return drawing_try(h, &c);
}

/* What the search for the best outline finds, with the neck's height kept and not. */
static Fault best_try(Hunt *h, const Case *from, const Case *room_case)
{
  for (int height = 0; height < 2; height++) {
    BestSettings settings = {.threads = h->settings->threads,
                             .take_height = height == 1,
                             .cancelled = h->settings->cancelled,
                             .cancel_data = h->settings->cancel_data};
    BestOutline best;
    best_outline_init(&best);
    Fault fault = assess_best(h->assessor, room_case, h->connector, &settings, &best);
    if (!fault && best.outline.n)
      fault = outline_try(h, from, &best.outline);
    best_outline_clear(&best);
    if (fault == FAULT_CANCELLED || fault == FAULT_MEMORY)
      return fault;
  }
  return FAULT_NONE;
}

/* A roof with both halves alike over this apex, where the room lets it. */
static Fault roof_try(Hunt *h, const Case *from, const Room *room, Point apex, double decay,
                      double lean)
{
  RoofHalf half[2];
  for (int i = 0; i < 2; i++)
    half[i] = (RoofHalf){.decay = decay,
                         .floor = fmax(FLOOR_MM, room->radius_least),
                         .lean = fmax(lean, room->lean_least[i])};
  Outline made;
  outline_init(&made);
  RoomBreach breach = ROOM_KEPT;
  Point where;
  Fault fault =
      room_fill(room, &from->connector[h->connector].side[SIDE_GINGIVAL], apex, half, &made);
  if (!fault)
    fault = room_check(room, &made, NULL, &breach, &where);
  if (!fault && !breach)
    fault = outline_try(h, from, &made);
  outline_clear(&made);
  return fault == FAULT_CANCELLED || fault == FAULT_MEMORY ? fault : FAULT_NONE;
}

/* From today's roof downwards, over the neck and over the neck plane, until one meets all. */
static Fault family_try(Hunt *h, const Case *from, const Room *room, const Form *form)
{
  static const double decay[] = {0, 1.5, 4}, lean[] = {0, 12 * DEGREE};
  double foot = fmax(form->foot[0].y, form->foot[1].y), x[2] = {form->neck_x, 0};
  size_t places = fabs(form->neck_x) > BESIDE_MM ? 2 : 1;
  Fault fault = FAULT_NONE;
  for (int level = 0; level < HEIGHTS_MOST; level++) {
    double y = form->roof.y - level * HEIGHT_STEP;
    for (size_t p = 0; p < places && y > foot + 0.4; p++)
      for (size_t d = 0; d < G_N_ELEMENTS(decay); d++)
        for (size_t l = 0; l < G_N_ELEMENTS(lean) && !fault && !found_here(h); l++)
          fault = roof_try(h, from, room, point(x[p], y), decay[d], lean[l]);
  }
  return fault;
}

static Fault outlines_try(Hunt *h, const Case *from)
{
  Exercise here = *h->e; /* shallow: the room of this connector */
  here.focus = h->connector;
  Case room_case;
  Room room;
  Assessment *a = NULL;
  case_init(&room_case);
  room_init(&room);
  Fault fault = work_room(&here, from, &room_case);
  if (!fault)
    fault = search_assess(h->assessor, &room_case, ASSESS_LIVE, h->settings, &a);
  const Form *form = a ? &a->connector[h->connector].form : NULL;
  if (!fault && a->connector[h->connector].fault)
    fault = FAULT_RANGE;
  if (!fault)
    fault = room_of(&room_case, h->connector, form, &room);
  if (!fault)
    fault = best_try(h, from, &room_case);
  if (!fault && !found_here(h))
    fault = widths_try(h);
  if (!fault && !found_here(h))
    fault = family_try(h, from, &room, form);
  assessment_unref(a);
  room_clear(&room);
  case_clear(&room_case);
  return fault == FAULT_CANCELLED || fault == FAULT_MEMORY ? fault : FAULT_NONE;
}

/* ---- the search ---- */

/* A groove that is asked rounder is proposed so. */
static void groove_round(Hunt *h, Case *c)
{
  Connector *k = &c->connector[h->connector];
  for (guint i = 0; i < h->e->criterion->len; i++) {
    const Criterion *asked = &g_array_index(h->e->criterion, Criterion, i);
    if (asked->measure != MEASURE_GROOVE_RADIUS || !of_connector(asked, h->connector) ||
        !(k->groove_radius < asked->least))
      continue;
    Case round;
    Side side;
    case_init(&round);
    if (case_copy(&round, c)) {
      case_clear(&round);
      return;
    }
    round.connector[h->connector].groove_radius = asked->least;
    round.connector[h->connector].groove_open_deg = NAN; /* as wide as its room allows */
    if (connector_complete(&round, h->connector, &side)) {
      case_clear(&round);
      return;
    }
    case_clear(c);
    *c = round;
  }
}

static bool asked_here(const Exercise *e, size_t connector)
{
  for (guint i = 0; i < e->criterion->len; i++)
    if (of_connector(&g_array_index(e->criterion, Criterion, i), connector))
      return true;
  return false;
}

static Fault connector_search(Hunt *h, Case *now)
{
  Case as_it_is;
  case_init(&as_it_is);
  groove_round(h, now);
  Fault fault = case_copy(&as_it_is, now);
  if (fault)
    case_clear(&as_it_is);
  else
    fault = drawing_try(h, &as_it_is); /* what is good stays */
  if (!fault && !found_here(h))
    fault = outlines_try(h, now);
  if (!fault && !found_here(h))
    fault = widths_try(h);
  if (!fault && h->n_kept > 0)
    fault = case_copy(now, &h->kept[0].c);
  kept_clear(h);
  return fault;
}

/* At rest: what the window will say of it. */
static Fault rest_measure(Hunt *h, const Case *c, Reached reached[], bool *met)
{
  Assessment *a = NULL;
  Drawing unused;
  Fault fault = search_assess(h->assessor, c, ASSESS_REST, h->settings, &a);
  *met = false;
  if (fault)
    return fault;
  h->connector = h->e->focus;
  drawing_measure(h, a, &unused, reached);
  Work work = {.exercise = h->e, .start = h->start, .mine = a, .best = a, .strokes = 1};
  *met = criteria_met(&work);
  assessment_unref(a);
  return FAULT_NONE;
}

/* Which criterion is to be told: one that nothing met, else one that the nearest drawing misses. */
static void missed_find(Hunt *h)
{
  Search *s = h->search;
  for (guint i = 0; i < h->e->criterion->len; i++)
    if (!s->reached[i].met) {
      s->missed = i;
      return;
    }
  for (guint i = 0; i < h->e->criterion->len; i++)
    if (!s->nearest[i].met)
      s->missed = i;
}

/* The live answer may be off by a little: a peak is told as the answer at rest has it. */
static Fault peak_at_rest(Hunt *h)
{
  Reached rest[CRITERIA_MOST];
  bool met;
  if (h->calm.n_unit == 0)
    return FAULT_NONE;
  Fault fault = rest_measure(h, &h->calm, rest, &met);
  for (guint i = 0; i < h->e->criterion->len && !fault; i++)
    if (peak_asked(&g_array_index(h->e->criterion, Criterion, i)))
      h->search->reached[i] = rest[i];
  return fault;
}

static Fault drawing_search(Hunt *h, Case *now)
{
  size_t order[SPAN_MAX_UNITS], n = 0;
  order[n++] = h->e->focus;
  for (size_t i = 0; i + 1 < now->n_unit; i++)
    if (i != h->e->focus && asked_here(h->e, i))
      order[n++] = i;
  h->of = (int)n * (HEIGHTS_MOST * 6 + 3 + 2 * (NARROW_MOST + WIDEN_MOST));
  Fault fault = FAULT_NONE;
  for (size_t i = 0; i < n && !fault; i++) {
    h->connector = order[i];
    fault = connector_search(h, now);
  }
  return fault;
}

Fault search_run(Assessor *assessor, const Exercise *e, const SolvableSettings *settings,
                 const Assessment *start, Search *search)
{
  *search = (Search){0};
  case_init(&search->answer);
  for (size_t i = 0; i < CRITERIA_MOST; i++)
    search->reached[i] = search->nearest[i] =
        (Reached){.value = NAN, .short_by = NAN, .connector = SIZE_MAX};
  Hunt h = {.assessor = assessor,
            .e = e,
            .settings = settings,
            .start = start,
            .search = search,
            .of = 1};
  Case now;
  case_init(&now);
  case_init(&h.calm);
  Fault fault = FAULT_NONE;
  if (e->answer.n_unit > 0) {
    fault = case_copy(&now, &e->answer);
    if (!fault)
      fault = rest_measure(&h, &now, search->nearest, &search->found);
  }
  if (!fault && !search->found)
    fault = case_copy(&now, &e->start);
  if (!fault && !search->found)
    fault = drawing_search(&h, &now);
  if (!fault && !search->found)
    fault = rest_measure(&h, &now, search->nearest, &search->found);
  if (!fault && search->found)
    fault = case_copy(&search->answer, &now);
  if (!fault && !search->found)
    fault = peak_at_rest(&h);
  if (!fault && !search->found)
    missed_find(&h);
  case_clear(&now);
  case_clear(&h.calm);
  return fault;
}

void search_clear(Search *search)
{
  case_clear(&search->answer);
}
