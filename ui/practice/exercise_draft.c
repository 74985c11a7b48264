/* exercise_draft.c - the draft of an exercise: what the fields hold, into the exercise and back.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/practice/exercise_draft.h"
#include "practice/exercise_make.h"
#include "ui/words.h"
#include <string.h>

#define LEVELS 4
#define RIGHT_MARK "* "

static void start_came(Assessment *result, Fault fault, bool current, void *data)
{
  (void)fault, (void)current;
  ExerciseDraft *draft = data;
  if (!result)
    return;
  g_clear_pointer(&draft->start, assessment_unref);
  draft->start = assessment_ref(result);
  exercise_criteria_show(draft);
}

/* One a line; the right ones of a choice begin with a star. */
static char *choices_text(const Question *q)
{
  GString *text = g_string_new(NULL);
  for (size_t i = 0; i < q->n_choice; i++)
    g_string_append_printf(text, "%s%s%s", text->len ? "\n" : "",
                           q->kind == QUESTION_CHOICE && q->choice[i].right ? RIGHT_MARK : "",
                           q->choice[i].text);
  return g_string_free(text, FALSE);
}

static void choices_take(ExerciseDraft *draft)
{
  for (size_t i = 0; i < QUESTIONS_MOST; i++) {
    g_free(draft->choices[i]);
    draft->choices[i] = i < draft->e->n_question ? choices_text(&draft->e->question[i]) : NULL;
  }
}

ExerciseDraft *exercise_draft_new(Exercise *e)
{
  ExerciseDraft *draft = g_new0(ExerciseDraft, 1);
  draft->e = e;
  draft->kind = (unsigned)e->kind;
  draft->level = (unsigned)CLAMP(e->level, 1, LEVELS) - 1;
  draft->focus = (unsigned)e->focus;
  draft->lower = e->take_height == ANSWER_YES;
  draft->ghost = e->n_hint == 0 || e->hint[e->n_hint - 1].ghost;
  for (guint i = 0; i < e->criterion->len; i++) {
    const Criterion *c = &g_array_index(e->criterion, Criterion, i);
    draft->measure[i] = (unsigned)c->measure;
    draft->where[i] = c->connector == SIZE_MAX ? 0 : (unsigned)c->connector + 1;
  }
  choices_take(draft);
  draft->job = assess_job_new(NULL, start_came, draft);
  assess_job_request(draft->job, &e->start, e->focus);
  return draft;
}

void exercise_draft_free(ExerciseDraft *draft)
{
  assess_job_free(draft->job);
  assessment_unref(draft->start);
  for (size_t i = 0; i < QUESTIONS_MOST; i++)
    g_free(draft->choices[i]);
  exercise_free(draft->e);
  g_free(draft);
}

/* ---- into the exercise ---- */

/* As a file keeps it: valid, in one line. */
static void text_tidy(char **text)
{
  g_autofree char *kept = text_kept(*text);
  g_auto(GStrv) word = g_strsplit_set(kept, " \t\r\n", -1);
  GString *line = g_string_new(NULL);
  for (char **w = word; *w; w++)
    if (**w)
      g_string_append_printf(line, "%s%s", line->len ? " " : "", *w);
  g_free(*text);
  *text = g_string_free(line, FALSE);
}

static void choices_clear(Question *q)
{
  for (size_t i = 0; i < q->n_choice; i++) {
    g_free(q->choice[i].id);
    g_free(q->choice[i].text);
  }
  q->n_choice = 0;
}

/* A choice that was there keeps its id and what it stands for. */
static void choices_give(Question *q, const char *text)
{
  Question was = *q;
  g_auto(GStrv) line = g_strsplit(text, "\n", -1);
  q->n_choice = 0;
  for (char **l = line; *l && q->n_choice < CHOICES_MOST; l++) {
    bool right = g_str_has_prefix(*l, "*");
    char *words = g_strdup(right ? *l + 1 : *l);
    text_tidy(&words);
    if (!*words) {
      g_free(words);
      continue;
    }
    Choice *choice = &q->choice[q->n_choice];
    Choice made = {.text = words, .right = right};
    for (size_t i = 0; i < was.n_choice; i++)
      if (strcmp(was.choice[i].text, words) == 0) {
        made.id = g_strdup(was.choice[i].id);
        made.instead = was.choice[i].instead;
        break;
      }
    if (!made.id)
      made.id = g_strdup_printf("c%zu", q->n_choice + 1);
    *choice = made;
    q->n_choice++;
  }
  choices_clear(&was);
}

static void criteria_give(ExerciseDraft *draft)
{
  Exercise *e = draft->e;
  for (guint i = 0; i < e->criterion->len; i++) {
    Criterion *c = &g_array_index(e->criterion, Criterion, i);
    c->measure = (Measure)draft->measure[i];
    c->connector = draft->where[i] == 0 ? SIZE_MAX : draft->where[i] - 1;
    if (!measure_has_least(c->measure))
      c->least = NAN;
    if (!measure_has_most(c->measure))
      c->most = NAN;
  }
}

/* What asked about the neck to draw asks about the new one. */
static void focus_give(ExerciseDraft *draft)
{
  Exercise *e = draft->e;
  if (draft->focus == e->focus || draft->focus + 1 >= e->start.n_unit)
    return;
  for (guint i = 0; i < e->criterion->len; i++)
    if (draft->where[i] == e->focus + 1)
      draft->where[i] = draft->focus + 1;
  for (size_t i = 0; i < e->n_question; i++)
    if (e->question[i].connector == e->focus)
      e->question[i].connector = draft->focus;
  e->focus = draft->focus;
}

void exercise_draft_give(ExerciseDraft *draft)
{
  Exercise *e = draft->e;
  char **const text[] = {&e->id, &e->title, &e->scenario, &e->task, &e->learnt, &e->next};
  for (size_t i = 0; i < G_N_ELEMENTS(text); i++)
    text_tidy(text[i]);
  e->level = (int)draft->level + 1;
  e->start.order_load_n = e->start.trial.force_n;
  e->take_height = draft->lower ? ANSWER_YES : ANSWER_UNKNOWN;
  focus_give(draft);
  criteria_give(draft);
  for (size_t i = 0; i < e->n_question; i++) {
    text_tidy(&e->question[i].text);
    if (draft->choices[i])
      choices_give(&e->question[i], draft->choices[i]);
  }
  e->kind = (ExerciseKind)draft->kind;
  if (exercise_kind_question(e)) {
    choices_take(draft);
    if (draft->questions)
      exercise_questions_fill(draft);
  }
  for (size_t i = 0; i < e->n_hint; i++) {
    text_tidy(&e->hint[i].text);
    e->hint[i].ghost = i + 1 == e->n_hint && draft->ghost && e->answer.n_unit > 0;
  }
  e->skills |= exercise_skills(e);
}

GtkWidget *exercise_draft_field(const ExerciseDraft *draft, ExercisePlace place)
{
  const Exercise *e = draft->e;
  size_t row = place.row;
  switch (place.field) {
  case FIELD_HINT:
    return row < e->n_hint ? draft->hint[row] : NULL;
  case FIELD_QUESTION:
    return row < e->n_question ? draft->question[row] : NULL;
  case FIELD_ANSWERS:
    return row < e->n_question ? draft->answers[row] : NULL;
  case FIELD_LEAST:
  case FIELD_MOST:
    return row < e->criterion->len ? draft->limit[row][place.field == FIELD_MOST] : NULL;
  default:
    return draft->field[place.field];
  }
}
