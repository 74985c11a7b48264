/* assess_best_search.c - a pattern search over a family of roofs, each solved as a solid.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Rounds of a fixed list of roofs; a round is solved by all threads and judged as a whole, so that
 * neither their number nor their haste matters.  Method: core/SOURCES.md "best outline". */
#include "assess_best_search.h"
#include "assess_solve.h"
#include <glib.h>
#include <math.h>
#include <string.h>

#define ROUND_MOST 20
#define SOLVES_MOST 48 /* trials; a half model takes about four times a quarter */
#define SOLVES_MOST_UNEVEN 40
#define CONFIRMED 3      /* roofs solved again on the mesh of an answer */
#define CONFIRMED_FULL 1 /* where neither symmetry holds: a tenth of a second and more each */
#define WORTH 1e-3       /* a smaller fall of the peak is no step */
#define FINEST 0.2       /* of the first step: where the search ends */
#define FLOOR_MM 0.3     /* sharper roofs gain nothing (mechanics notes) */
#define DEGREE (G_PI / 180)

/* What is varied: of each half, then of both. */
typedef enum {
  DECAY_LEFT,
  BOW_LEFT,
  LEAN_LEFT,
  DECAY_RIGHT,
  BOW_RIGHT,
  LEAN_RIGHT,
  FLOOR,
  APEX_X,
  FIGURES
} Figure;

static const struct {
  double step, least, most;
} figure_range[FIGURES] = {{1.2, 0, 8},  {1.6, -4, 8}, {6 * DEGREE, 0, 50 * DEGREE},
                           {1.2, 0, 8},  {1.6, -4, 8}, {6 * DEGREE, 0, 50 * DEGREE},
                           {0.15, 0, 2}, {0.15, -2, 2}};

typedef struct {
  double figure[FIGURES];
  Outline outline; /* owned; n = 0: no such roof in this room */
  double peak_mpa; /* on the mesh of trials; INFINITY without an answer */
} Roof;

typedef struct {
  const BestProblem *problem;
  const BestSettings *settings;
  Assessor *assessor;
  BestOutline *best;
  gint64 start;
  double floor_least;
  double today_mpa;     /* on the mesh of trials */
  Roof kept[CONFIRMED]; /* the best so far, best first */
  int n_kept;
  RoomBreach breach; /* of the first roof that was refused */
  int most;
  Fault fault; /* FAULT_MEMORY */
  /* of the round that is solved */
  Roof round[ROUND_MOST];
  int n_round;
} Search;

/* ---- roofs ---- */

/* Draws the roof of these figures, brought down where it would take from the neck. */
static void roof_make(Search *s, const double figure[FIGURES], Roof *roof)
{
  const BestProblem *p = s->problem;
  const Outline *gingival = p->today.side[SIDE_GINGIVAL], *occlusal = p->today.side[SIDE_OCCLUSAL];
  memcpy(roof->figure, figure, sizeof roof->figure);
  roof->peak_mpa = INFINITY;
  outline_init(&roof->outline);
  RoofHalf half[2];
  for (int i = 0; i < 2; i++)
    half[i] = (RoofHalf){.decay = figure[i ? DECAY_RIGHT : DECAY_LEFT],
                         .bow = figure[i ? BOW_RIGHT : BOW_LEFT],
                         .floor = figure[FLOOR],
                         .lean = figure[i ? LEAN_RIGHT : LEAN_LEFT]};
  Point apex = point(figure[APEX_X], p->apex.y);
  for (int turn = 0; turn < 3; turn++) {
    Form neck;
    Point where;
    RoomBreach breach = ROOM_KEPT;
    Fault fault = room_fill(p->room, gingival, apex, half, &roof->outline);
    if (!fault && p->neck > 0)
      fault = form_neck_read(&roof->outline, occlusal, p->today.side[SIDE_BUCCAL],
                             p->today.side[SIDE_LINGUAL], &neck, &where);
    double missing = !fault && p->neck > 0 ? p->neck - neck.neck_height : 0;
    if (!fault && missing > 1e-4 && turn < 2) {
      apex.y -= missing;
      continue;
    }
    if (!fault)
      fault = room_check(p->room, &roof->outline, occlusal, &breach, &where);
    if (fault == FAULT_MEMORY)
      s->fault = fault;
    if (breach && !s->breach)
      s->breach = breach;
    if (fault || breach)
      outline_clear(&roof->outline);
    return;
  }
}

static void round_clear(Search *s)
{
  for (int i = 0; i < s->n_round; i++)
    outline_clear(&s->round[i].outline);
  s->n_round = 0;
}

static void round_add(Search *s, const double figure[FIGURES])
{
  double held[FIGURES];
  for (int f = 0; f < FIGURES; f++)
    held[f] =
        f == APEX_X ? figure[f] : CLAMP(figure[f], figure_range[f].least, figure_range[f].most);
  held[FLOOR] = fmax(held[FLOOR], s->floor_least);
  held[LEAN_LEFT] = fmax(held[LEAN_LEFT], s->problem->room->lean_least[0]);
  held[LEAN_RIGHT] = fmax(held[LEAN_RIGHT], s->problem->room->lean_least[1]);
  bool asked = s->n_round == ROUND_MOST || s->best->solves + s->n_round >= s->most;
  for (int i = 0; i < s->n_round && !asked; i++)
    asked = memcmp(s->round[i].figure, held, sizeof held) == 0;
  for (int i = 0; i < s->n_kept && !asked; i++)
    asked = memcmp(s->kept[i].figure, held, sizeof held) == 0;
  if (asked)
    return;
  roof_make(s, held, &s->round[s->n_round]);
  if (s->round[s->n_round].outline.n)
    s->n_round++;
}

/* ---- a round ---- */

static Body roof_body(const Search *s, const Outline *gingival, bool trial)
{
  Body body = s->problem->today;
  body.side[SIDE_GINGIVAL] = gingival;
  body.compared = true;
  if (trial) {
    body.grade = SOLID_TRIAL;
    body.mirrored = s->problem->even;
  }
  return body;
}

static Banded fall_of(double today, double best, double spread)
{
  double ratio = best / today;
  return banded(100 * (1 - ratio), 100 * (1 - ratio * (1 + spread)),
                100 * (1 - ratio * (1 - spread)));
}

static void task_judge(void *data, Task *task)
{
  Search *s = data;
  Peak peak;
  if (task->solved.field && !field_peak(task->solved.field, s->problem->load, &peak) &&
      task->part < s->n_round)
    s->round[task->part].peak_mpa = peak.mpa;
}

/* Tells the best so far; one call at a time. */
static void task_follow(void *data, Task *task)
{
  Search *s = data;
  BestOutline *best = s->best;
  best->solves++;
  if (task->part < s->n_round && s->round[task->part].outline.n) {
    const Roof *roof = &s->round[task->part];
    bool better = roof->peak_mpa < s->today_mpa * (1 - WORTH) &&
                  !(roof->peak_mpa * (1 + WORTH) > best->best_mpa);
    Outline copy = {0};
    if (better && !outline_copy(&copy, &roof->outline)) {
      outline_clear(&best->outline);
      best->outline = copy;
      best->today_mpa = s->today_mpa;
      best->best_mpa = roof->peak_mpa;
      double spread = task->solved.field->band_percent / 100 / sqrt(2);
      best->fall_percent = fall_of(s->today_mpa, roof->peak_mpa, spread);
    }
  }
  best->seconds = (double)(g_get_monotonic_time() - s->start) / 1e6;
  if (s->settings->progress)
    s->settings->progress(best, s->settings->progress_data);
}

static void tell_nothing(void *data, Task *task)
{
  (void)task;
  ((Search *)data)->best->solves++;
}

/* Solves bodies side by side; the fields are in list->task, to be cleared by the caller. */
static Fault bodies_solve(Search *s, TaskList *list, const Body body[], size_t n)
{
  list->cache = s->assessor->cache;
  list->solver = s->assessor->solver;
  list->threads = CLAMP(s->settings->threads, 1, SOLVERS_MAX);
  list->data = s;
  for (size_t i = 0; i < n; i++)
    list->task[list->n++] = (Task){.body = body[i], .part = (int)i};
  Fault fault =
      solvers_hold(s->assessor, list->threads, 1, s->settings->cancelled, s->settings->cancel_data);
  return fault ? fault : tasks_run(list);
}

/* Puts the round's roofs among the kept ones: by peak, then by their place in the round. */
static void round_keep(Search *s)
{
  for (int i = 0; i < s->n_round; i++) {
    Roof *roof = &s->round[i];
    int at = s->n_kept;
    while (at > 0 && roof->peak_mpa < s->kept[at - 1].peak_mpa)
      at--;
    if (at == CONFIRMED || !isfinite(roof->peak_mpa))
      continue;
    if (s->n_kept == CONFIRMED)
      outline_clear(&s->kept[--s->n_kept].outline);
    memmove(&s->kept[at + 1], &s->kept[at], (size_t)(s->n_kept - at) * sizeof *s->kept);
    s->kept[at] = *roof;
    outline_init(&roof->outline); /* moved */
    s->n_kept++;
  }
}

/* *better: the best kept roof is better than before. */
static Fault round_run(Search *s, bool *better)
{
  Task task[ROUND_MOST] = {0};
  Body body[ROUND_MOST];
  TaskList list = {.task = task, .judge = task_judge, .follow = task_follow};
  double before = s->n_kept ? s->kept[0].peak_mpa : INFINITY;
  if (s->fault)
    return s->fault;
  for (int i = 0; i < s->n_round; i++)
    body[i] = roof_body(s, &s->round[i].outline, true);
  Fault fault = bodies_solve(s, &list, body, (size_t)s->n_round);
  tasks_clear(&list);
  if (!fault)
    round_keep(s);
  round_clear(s);
  *better = s->n_kept && s->kept[0].peak_mpa < before * (1 - WORTH);
  return fault;
}

/* ---- the search ---- */

/* The middle of the highest stretch of the envelope. */
static double room_highest(const Room *room)
{
  double left = NAN, right = NAN;
  for (size_t i = 0; i < room->n_wall; i++)
    if (room->wall[i].y > room->top - ROOM_TOUCH_MM) {
      left = isnan(left) ? room->wall[i].x : left;
      right = room->wall[i].x;
    }
  return (left + right) / 2;
}

/* Today's roof on the mesh of trials, and the ends of the family: circles to steep falls. */
static Fault first_round(Search *s)
{
  static const double decay[] = {3, 0, 2, 4.5};
  bool better;
  Task task = {0};
  TaskList list = {.task = &task, .judge = task_judge, .follow = tell_nothing};
  Body today = roof_body(s, s->problem->today.side[SIDE_GINGIVAL], true);
  Fault fault = bodies_solve(s, &list, &today, 1);
  Peak peak;
  if (!fault)
    fault = task.solved.fault;
  if (!fault)
    fault = field_peak(task.solved.field, s->problem->load, &peak);
  tasks_clear(&list);
  if (fault)
    return fault;
  s->today_mpa = peak.mpa;
  double apex[2] = {s->problem->apex.x, room_highest(s->problem->room)};
  for (size_t i = 0; i < G_N_ELEMENTS(decay); i++)
    for (int k = 0; k < (s->problem->even ? 1 : 2); k++) {
      double at = s->problem->even ? s->problem->today.neck_x : apex[k];
      double figure[FIGURES] = {decay[i], 0, 0, decay[i], 0, 0, fmax(FLOOR_MM, s->floor_least), at};
      round_add(s, figure);
      if (i == 0 && k == 0) {
        figure[LEAN_LEFT] = figure[LEAN_RIGHT] = 15 * DEGREE;
        round_add(s, figure);
      }
    }
  return round_run(s, &better);
}

static void step_add(Search *s, const double from[FIGURES], Figure f, Figure twin, double share)
{
  for (int sign = 1; sign >= -1; sign -= 2) {
    double figure[FIGURES];
    memcpy(figure, from, sizeof figure);
    figure[f] += sign * share * figure_range[f].step;
    if (twin != f)
      figure[twin] += sign * share * figure_range[twin].step;
    round_add(s, figure);
  }
}

static void round_around(Search *s, double share, bool apart)
{
  double from[FIGURES];
  memcpy(from, s->kept[0].figure, sizeof from);
  for (int f = DECAY_LEFT; f <= LEAN_LEFT; f++) {
    Figure twin = (Figure)(f + DECAY_RIGHT - DECAY_LEFT);
    if (apart) {
      step_add(s, from, (Figure)f, (Figure)f, share);
      step_add(s, from, twin, twin, share);
    } else
      step_add(s, from, (Figure)f, twin, share);
  }
  if (!apart)
    step_add(s, from, FLOOR, FLOOR, share);
  if (!s->problem->even)
    step_add(s, from, APEX_X, APEX_X, share);
}

static Fault rounds(Search *s)
{
  double share = 1;
  bool apart = false;
  while (share >= FINEST && s->best->solves < s->most) {
    bool better = false;
    round_around(s, share, apart);
    if (s->n_round == 0 && s->fault)
      return s->fault;
    Fault fault = round_run(s, &better);
    if (fault)
      return fault;
    if (better)
      continue;
    if (!apart && !s->problem->even)
      apart = true; /* both halves alike are as good as they get: each by itself */
    else {
      apart = false;
      share /= 2;
    }
  }
  return FAULT_NONE;
}

/* The kept roofs and today's on the mesh of an answer: that decides. */
static Fault confirm(Search *s)
{
  Task task[CONFIRMED + 1] = {0};
  Body body[CONFIRMED + 1];
  TaskList list = {.task = task, .judge = tell_nothing, .follow = tell_nothing};
  BestOutline *best = s->best;
  int n = MIN(s->n_kept, s->problem->today.grade == SOLID_LIVE ? CONFIRMED : CONFIRMED_FULL);
  int solves = best->solves;
  for (int i = 0; i < n; i++)
    body[i] = roof_body(s, &s->kept[i].outline, false);
  body[n] = roof_body(s, s->problem->today.side[SIDE_GINGIVAL], false);
  Fault fault = bodies_solve(s, &list, body, (size_t)n + 1);
  best->solves = solves + n + 1;
  const Field *today = task[n].solved.field;
  Peak now = {0}, peak;
  if (!fault)
    fault = today ? field_peak(today, s->problem->load, &now) : task[n].solved.fault;
  outline_clear(&best->outline);
  best->today_mpa = now.mpa;
  best->best_mpa = NAN;
  best->fall_percent = banded(NAN, NAN, NAN);
  int found = -1;
  for (int i = 0; i < n && !fault; i++) {
    const Field *field = task[i].solved.field;
    if (!field || field->answer != today->answer || field_peak(field, s->problem->load, &peak) ||
        !(found < 0 || peak.mpa < best->best_mpa))
      continue;
    found = i;
    best->best_mpa = peak.mpa;
    /* errors of meshes alike go together in part: as in every advice */
    best->fall_percent =
        fall_of(now.mpa, peak.mpa, hypot(now.band_percent, peak.band_percent) / 100 / 2);
  }
  best->confirmed = true;
  best->breach = ROOM_KEPT;
  if (!fault && found >= 0 && best->fall_percent.value >= BEST_LEAST_PERCENT)
    fault = outline_copy(&best->outline, &s->kept[found].outline);
  tasks_clear(&list);
  return fault;
}

Fault best_search(Assessor *assessor, const BestProblem *problem, const BestSettings *settings,
                  BestOutline *best)
{
  int most = problem->even ? SOLVES_MOST : SOLVES_MOST_UNEVEN;
  Search s = {.problem = problem,
              .settings = settings,
              .assessor = assessor,
              .best = best,
              .start = g_get_monotonic_time(),
              .floor_least = fmax(FLOOR_MM, problem->room->radius_least),
              .most = most};
  best->load = problem->load;
  best->solves = 0;
  best->of = most + CONFIRMED + 1;
  Fault fault = first_round(&s);
  if (!fault && s.n_kept)
    fault = rounds(&s);
  if (!fault && s.n_kept)
    fault = confirm(&s);
  else if (!fault)
    best->breach = s.breach ? s.breach : ROOM_LEFT; /* not even one roof fits */
  round_clear(&s);
  for (int i = 0; i < s.n_kept; i++)
    outline_clear(&s.kept[i].outline);
  best->seconds = (double)(g_get_monotonic_time() - s.start) / 1e6;
  return fault;
}
