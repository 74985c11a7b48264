/* solvable.c - see solvable.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/solvable.h"
#include "practice/criterion.h"
#include "practice/question.h"
#include "practice/solvable_search.h"
#include <math.h>
#include <string.h>

void solvable_init(Solvable *solvable)
{
  *solvable = (Solvable){.reached = NAN, .asked = NAN};
  case_init(&solvable->answer);
}

void solvable_clear(Solvable *solvable)
{
  case_clear(&solvable->answer);
}

/* ---- words and numbers ---- */

static bool blank(const char *text)
{
  g_autofree char *bare = g_strstrip(g_strdup(text));
  return *bare == '\0';
}

static void refuse(Solvable *s, SolvableKind kind, ExerciseField field, size_t row)
{
  s->kind = kind;
  s->place = (ExercisePlace){field, row};
}

static bool words_missing(const Exercise *e, Solvable *s)
{
  const struct {
    const char *text, *why, *change;
    ExerciseField field;
  } need[] = {
      {e->id, N_("The exercise has no short name."), N_("Write one such as own-1."), FIELD_ID},
      {e->title, N_("The exercise has no title."), N_("Write a few words, as in the list."),
       FIELD_TITLE},
      {e->task, N_("Nothing says what to do."), N_("Write it in a sentence or two."), FIELD_TASK},
      {e->learnt, N_("Nothing says what is learnt."), N_("Write it in a sentence or two."),
       FIELD_LEARNT}};
  for (size_t i = 0; i < G_N_ELEMENTS(need); i++)
    if (blank(need[i].text)) {
      refuse(s, SOLVABLE_WORDS, need[i].field, 0);
      s->why = (Phrase){.text = need[i].why};
      s->change = (Phrase){.text = need[i].change};
      return true;
    }
  for (size_t i = 0; i < e->n_hint; i++)
    if (blank(e->hint[i].text)) {
      refuse(s, SOLVABLE_WORDS, FIELD_HINT, i);
      s->why = (Phrase){.text = N_("Hint {0} is empty."), .value = {(double)(i + 1)}};
      s->change = (Phrase){.text = N_("Write it, or take it out.")};
      return true;
    }
  return false;
}

static size_t choices_right(const Question *q)
{
  size_t right = 0;
  for (size_t i = 0; i < q->n_choice; i++)
    right += q->choice[i].right;
  return right;
}

/* The reader of the file refuses the same, by its lines (exercise_xml.c). */
static bool question_wanting(const Exercise *e, size_t i, Solvable *s)
{
  const Question *q = &e->question[i];
  const char *why = NULL, *change = N_("Write it, or take it out.");
  ExerciseField field = FIELD_ANSWERS;
  if (blank(q->text)) {
    field = FIELD_QUESTION;
    why = N_("Question {0} has no words.");
  } else if (q->kind == QUESTION_CHOICE && q->n_choice < 2) {
    why = N_("Question {0} needs two answers at least.");
    change = N_("Write one a line; the right ones begin with a star.");
  } else if (q->kind == QUESTION_CHOICE && choices_right(q) == 0) {
    why = N_("Question {0} has no right answer.");
    change = N_("Put a star before the right ones.");
  } else if (q->kind == QUESTION_ORDER && q->n_choice < 2) {
    why = N_("Question {0} needs two steps at least.");
    change = N_("Write one a line, in the right order.");
  }
  if (!why)
    return false;
  refuse(s, SOLVABLE_WORDS, field, i);
  s->why = (Phrase){.text = why, .value = {(double)(i + 1)}};
  s->change = (Phrase){.text = change};
  return true;
}

/* Larger than anything that a bridge has, by measure. */
static double measure_most(Measure measure)
{
  switch (measure) {
  case MEASURE_LEAN:
  case MEASURE_LEAN_DIFFERS:
    return 90;
  case MEASURE_PEAK:
    return 100;
  case MEASURE_ABOVE_BEST:
  case MEASURE_STROKES:
  case MEASURE_NECK_AREA:
  case MEASURE_SECTION_VALUE:
    return 200;
  default:
    return 15;
  }
}

static bool limit_absurd(const Exercise *e, guint at, Solvable *s)
{
  const Criterion *c = &g_array_index(e->criterion, Criterion, at);
  double limit[2] = {c->least, c->most}, least = c->measure == MEASURE_STROKES ? 1 : 0;
  bool absurd = false;
  s->why = (Phrase){.word = measure_name(c->measure)};
  if (isnan(c->least) && isnan(c->most)) {
    refuse(s, SOLVABLE_WORDS, measure_has_least(c->measure) ? FIELD_LEAST : FIELD_MOST, at);
    s->why.text = N_("{word}: no limit is given.");
    s->change = (Phrase){.text = N_("Give the least, the most, or both.")};
    return true;
  }
  for (int i = 0; i < 2 && !absurd; i++)
    if (!isnan(limit[i]) && !(limit[i] >= least && limit[i] <= measure_most(c->measure))) {
      refuse(s, SOLVABLE_WORDS, i == 0 ? FIELD_LEAST : FIELD_MOST, at);
      s->why.text = N_("{word}: {0.2} is no limit that a bridge can have.");
      s->why.value[0] = limit[i];
      s->change = (Phrase){.text = N_("Give a number from {0} to {1}."),
                           .value = {least, measure_most(c->measure)}};
      absurd = true;
    }
  if (!absurd && c->least > c->most) {
    refuse(s, SOLVABLE_WORDS, FIELD_MOST, at);
    s->why.text = N_("{word}: nothing can be at least {0.2} and at most {1.2}.");
    s->why.value[0] = c->least;
    s->why.value[1] = c->most;
    s->change = (Phrase){.text = N_("Correct one of the two.")};
    absurd = true;
  }
  return absurd;
}

static bool flaw_found(const Exercise *e, Solvable *s)
{
  if (words_missing(e, s))
    return true;
  for (guint i = 0; i < e->criterion->len; i++)
    if (limit_absurd(e, i, s))
      return true;
  for (size_t i = 0; i < e->n_question; i++)
    if (question_wanting(e, i, s))
      return true;
  if (!(e->start.trial.force_n > 0 && e->start.trial.force_n <= CASE_LOAD_MAX_N)) {
    refuse(s, SOLVABLE_WORDS, FIELD_LOAD, 0);
    s->why = (Phrase){.text = N_("The load is missing.")};
    s->change = (Phrase){.text = N_("Give a load in newtons.")};
    return true;
  }
  if (e->criterion->len > 0 || e->n_question > 0 || e->kind == EXERCISE_FREE)
    return false;
  refuse(s, SOLVABLE_WORDS, FIELD_CRITERIA, 0);
  s->why = (Phrase){.text = N_("Nothing is asked: there is no criterion and no question.")};
  s->change = (Phrase){.text = N_("Add a criterion, or make it free play.")};
  return true;
}

bool exercise_flaw(const Exercise *e, Solvable *flaw)
{
  Solvable found = {0};
  if (!flaw_found(e, &found))
    return false;
  flaw->kind = found.kind;
  flaw->place = found.place;
  flaw->why = found.why;
  flaw->change = found.change;
  return true;
}

/* ---- the start ---- */

bool ranking_apart(const Assessment *start, size_t *first, size_t *second, double *ratio,
                   double *band)
{
  *first = *second = SIZE_MAX;
  for (size_t i = 0; i < start->n_connector; i++) {
    double margin = start->connector[i].trial_margin.value;
    if (isnan(margin))
      continue;
    if (*first == SIZE_MAX || margin < start->connector[*first].trial_margin.value) {
      *second = *first;
      *first = i;
    } else if (*second == SIZE_MAX || margin < start->connector[*second].trial_margin.value)
      *second = i;
  }
  *ratio = *band = NAN;
  if (*second == SIZE_MAX)
    return false;
  const ConnectorAssessment *a = &start->connector[*first], *b = &start->connector[*second];
  *ratio = b->trial_margin.value / a->trial_margin.value;
  double x = connector_band_percent(a, &a->trial_peak) / 100,
         y = connector_band_percent(b, &b->trial_peak) / 100;
  *band = (1 + x) / (1 - y); /* as far as both doubts together can bring them */
  return *ratio > *band;
}

/* Where it is asked which neck goes first: a kind that brings the question along, or a question
 * that stands alone.  False: nowhere. */
static bool asks_weakest(const Exercise *e, ExercisePlace *place)
{
  for (size_t i = 0; i < e->n_question; i++)
    if (e->question[i].kind == QUESTION_CONNECTOR && e->question[i].find == FIND_WEAKEST) {
      bool brought = e->kind == EXERCISE_WEAKEST || e->kind == EXERCISE_FIRST;
      *place = brought ? (ExercisePlace){FIELD_KIND, 0} : (ExercisePlace){FIELD_QUESTION, i};
      return true;
    }
  return false;
}

static Fault start_judge(const Exercise *e, const Assessment *start, Solvable *s)
{
  for (size_t i = 0; i < start->n_connector; i++) {
    const ConnectorAssessment *k = &start->connector[i];
    Fault fault = start->fault ? start->fault : k->fault;
    if (!fault)
      continue;
    refuse(s, SOLVABLE_FAULT, FIELD_NECK, 0);
    s->why =
        (Phrase){.text = N_("{place}: the start has no answer. {word}"), .word = fault_text(fault)};
    g_strlcpy(s->why.place, k->name, sizeof s->why.place);
    s->change = (Phrase){.text = N_("Correct the outline in Trace, then make the exercise again.")};
    return FAULT_NONE;
  }
  size_t first, second;
  double ratio, band;
  ExercisePlace place;
  if (asks_weakest(e, &place) && !ranking_apart(start, &first, &second, &ratio, &band)) {
    refuse(s, SOLVABLE_TIED, place.field, place.row);
    s->why =
        (Phrase){.text = N_("Nobody can tell which neck breaks first: {place} and {name} differ "
                            "by {0} %, the calculation doubts {1} %."),
                 .value = {100 * (ratio - 1), ceil(100 * (band - 1))}};
    if (second == SIZE_MAX)
      s->why = (Phrase){.text = N_("There is one neck only: nothing is to be compared.")};
    else {
      g_strlcpy(s->why.place, start->connector[first].name, sizeof s->why.place);
      g_strlcpy(s->why.name, start->connector[second].name, sizeof s->why.name);
    }
    s->change = (Phrase){.text = N_("Make one neck clearly weaker in Trace, or ask for another "
                                    "thing.")};
  }
  return FAULT_NONE;
}

static void too_easy(const Exercise *e, const Work *work, Solvable *s)
{
  const Criterion *c = &g_array_index(e->criterion, Criterion, 0);
  double value;
  criterion_worst(c, work, &value);
  refuse(s, SOLVABLE_TOO_EASY, isnan(c->least) ? FIELD_MOST : FIELD_LEAST, 0);
  s->why = (Phrase){.text = N_("The start passes already: nothing would be left to do.")};
  s->change = (Phrase){.text = N_("Ask for more than the start has. {word}: it has {0.2}."),
                       .word = measure_name(c->measure),
                       .value = {value}};
}

/* ---- out of reach ---- */

/* Megapascal for a peak, which is what people compare. */
static double as_read(const Criterion *c, double value, const Assessment *start, size_t connector)
{
  return c->measure == MEASURE_PEAK && connector < start->n_connector
             ? value / 100 * start->connector[connector].trial_peak_mpa.value
             : value;
}

static void beyond(const Exercise *e, const Assessment *start, const Search *search, Solvable *s)
{
  guint i = s->criterion = search->missed;
  bool apart = search->reached[i].met;
  const Criterion *c = &g_array_index(e->criterion, Criterion, i);
  const Reached *r = apart ? &search->nearest[i] : &search->reached[i];
  bool high = isnan(c->least) || (!isnan(c->most) && r->value > c->most);
  double limit = high ? c->most : c->least;
  refuse(s, apart ? SOLVABLE_APART : SOLVABLE_BEYOND, high ? FIELD_MOST : FIELD_LEAST, i);
  s->reached = as_read(c, r->value, start, r->connector);
  s->asked = as_read(c, limit, start, r->connector);
  bool peak = c->measure == MEASURE_PEAK;
  s->why = (Phrase){
      .text = apart && peak ? N_("No drawing in this room meets all criteria at once: the nearest "
                                 "one reaches {0} MPa; the limit asks for {1}.")
              : apart       ? N_("No drawing in this room meets all criteria at once. {word}: the "
                                       "nearest one has {0.2}; the limit asks for {1.2}.")
              : peak ? N_("The best outline in this room reaches {0} MPa; the limit asks for "
                          "{1}.")
                     : N_("{word}: the best outline in this room has {0.2}; the limit asks for "
                          "{1.2}."),
      .word = peak ? NULL : measure_name(c->measure),
      .value = {s->reached, s->asked}};
  s->change = (Phrase){
      .text = apart  ? N_("Give one of the criteria more room.")
              : peak ? N_("Ask for {0} % of the start's pull or more, draw more room in Trace, or "
                          "ask for a wider neck as well.")
                     : N_("Ask for {0.2}, or draw more room in Trace."),
      .value = {peak ? ceil(r->value) : r->value}};
}

static Fault room_judge(Assessor *assessor, const Exercise *e, const SolvableSettings *settings,
                        const Assessment *start, Solvable *s)
{
  Search search;
  Fault fault = search_run(assessor, e, settings, start, &search);
  if (!fault && search.found) {
    case_clear(&s->answer);
    s->answer = search.answer;
    case_init(&search.answer);
  } else if (!fault)
    beyond(e, start, &search, s);
  search_clear(&search);
  return fault;
}

static Fault judge(Assessor *assessor, const Exercise *e, const SolvableSettings *settings,
                   Solvable *s)
{
  Assessment *start = NULL;
  Fault fault = search_assess(assessor, &e->start, ASSESS_REST, settings, &start);
  if (fault)
    return fault;
  Work work = {.exercise = e, .start = start, .mine = start, .best = start, .strokes = 0};
  fault = start_judge(e, start, s);
  if (!fault && !s->kind && e->criterion->len > 0) {
    bool met = criteria_met(&work);
    if (met && e->n_question == 0)
      too_easy(e, &work, s);
    else if (!met)
      fault = room_judge(assessor, e, settings, start, s);
  }
  assessment_unref(start);
  return fault;
}

Fault exercise_solvable(Assessor *assessor, const Exercise *e, const SolvableSettings *settings,
                        Solvable *solvable)
{
  Solvable made;
  solvable_init(&made);
  Fault fault = FAULT_NONE;
  if (!exercise_flaw(e, &made))
    fault = judge(assessor, e, settings, &made);
  if (fault) {
    solvable_clear(&made);
    return fault;
  }
  solvable_clear(solvable);
  *solvable = made;
  return FAULT_NONE;
}
