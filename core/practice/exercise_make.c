/* exercise_make.c - see exercise_make.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/exercise_make.h"
#include "base/phrase.h"
#include "casefile/photo.h"
#include "practice/exercise_set.h"
#include <math.h>
#include <string.h>

#define QUESTION_ID "asked"     /* of the question that a kind brings along */
#define FIRST_PEAK_PERCENT 80.0 /* of the start's pull: a limit to begin with, ours */
#define NEAR_MM 0.5             /* a cross this near is a hit, as in the shipped exercises */

static void text_forget(char **text)
{
  g_free(*text);
  *text = g_strdup("");
}

static void connector_forget(Connector *k)
{
  photo_clear(&k->photo);
  photo_init(&k->photo);
  g_ptr_array_set_size(k->variant, 0);
  for (int side = 0; side < SIDE_N; side++)
    outline_clear(&k->approved[side]);
  outline_clear(&k->approved_section);
  k->approved_roundness_neck = k->approved_roundness_body = NAN;
  k->measured_height = k->soft_height = k->pin_distance = NAN;
  k->dye = k->light = CHECK_UNKNOWN;
  k->brush_passes = ANSWER_UNKNOWN;
}

/* All that tells whose case it was and what was done to it. */
static void case_forget(Case *c)
{
  char **const text[] = {&c->number,        &c->title,        &c->blank_batch,
                         &c->firing_record, &c->dentist_note, &c->author,
                         &c->approver,      &c->origin.seen,  &c->origin.photo};
  for (size_t i = 0; i < G_N_ELEMENTS(text); i++)
    text_forget(text[i]);
  GPtrArray *const list[] = {c->tick, c->history, c->remark};
  for (size_t i = 0; i < G_N_ELEMENTS(list); i++)
    g_ptr_array_set_size(list[i], 0);
  c->origin.zone = 0;
  c->origin.connector = SIZE_MAX;
  c->origin.at_x = c->origin.at_y = c->origin.depth = c->origin.load_n = c->origin.years = NAN;
  c->origin.kind = ORIGIN_UNKNOWN;
  c->step = STEP_DRAWING;
  c->fit = FIT_UNKNOWN;
  for (size_t i = 0; i + 1 < c->n_unit; i++)
    connector_forget(&c->connector[i]);
}

Exercise *exercise_of_connector(const Case *c, size_t connector)
{
  if (connector + 1 >= c->n_unit)
    return NULL;
  Exercise *e = exercise_new();
  if (case_copy(&e->start, c)) {
    exercise_free(e);
    return NULL;
  }
  case_forget(&e->start);
  e->level = 1;
  e->focus = connector;
  Criterion peak = {MEASURE_PEAK, connector, NAN, FIRST_PEAK_PERCENT},
            gap = {MEASURE_GAP, connector, c->brush_mm, NAN};
  g_array_append_val(e->criterion, peak);
  if (c->brush_mm > 0)
    g_array_append_val(e->criterion, gap);
  e->skills = exercise_skills(e);
  return e;
}

char *exercise_new_id(const GPtrArray *set)
{
  for (guint i = 1;; i++) {
    g_autofree char *id = g_strdup_printf("own-%u", i);
    if (!exercise_find(set, id))
      return g_steal_pointer(&id);
  }
}

char *exercise_question_id(const Exercise *e)
{
  for (guint n = 1;; n++) {
    g_autofree char *id = g_strdup_printf("q%u", n);
    bool taken = false;
    for (size_t i = 0; i < e->n_question; i++)
      taken = taken || (e->question[i].id && strcmp(e->question[i].id, id) == 0);
    if (!taken)
      return g_steal_pointer(&id);
  }
}

void exercise_question_drop(Exercise *e, size_t at)
{
  Question *q = &e->question[at];
  g_free(q->id);
  g_free(q->text);
  for (size_t i = 0; i < q->n_choice; i++) {
    g_free(q->choice[i].id);
    g_free(q->choice[i].text);
  }
  e->n_question--;
  memmove(q, q + 1, (e->n_question - at) * sizeof *q);
}

/* The question that a kind asks by itself; false: none. */
static bool kind_asks(ExerciseKind kind, QuestionKind *question)
{
  *question = kind == EXERCISE_CRACK ? QUESTION_PLACE : QUESTION_CONNECTOR;
  return kind == EXERCISE_CRACK || kind == EXERCISE_WEAKEST || kind == EXERCISE_FIRST;
}

bool exercise_kind_question(Exercise *e)
{
  QuestionKind kind;
  bool asks = kind_asks(e->kind, &kind), changed = false;
  for (size_t i = 0; i < e->n_question; i++)
    if (strcmp(e->question[i].id, QUESTION_ID) == 0 && !(asks && e->question[i].kind == kind)) {
      exercise_question_drop(e, i);
      changed = true;
      break;
    }
  if (!asks || e->n_question > 0)
    return changed;
  bool place = kind == QUESTION_PLACE;
  e->question[e->n_question++] =
      (Question){.id = g_strdup(QUESTION_ID),
                 .text = g_strdup(place ? N_("Put your cross where you expect the first crack.")
                                        : N_("Which neck breaks first?")),
                 .kind = kind,
                 .find = FIND_WEAKEST,
                 .connector = place ? e->focus : SIZE_MAX,
                 .right = NAN,
                 .within = place ? NEAR_MM : (double)NAN,
                 .skill = place ? SKILL_RADIUS : SKILL_SECTION};
  return true;
}

unsigned exercise_skills(const Exercise *e)
{
  unsigned skills = 0;
  for (guint i = 0; i < e->criterion->len; i++)
    skills |= 1u << measure_skill(g_array_index(e->criterion, Criterion, i).measure);
  for (size_t i = 0; i < e->n_question; i++)
    skills |= 1u << e->question[i].skill;
  return skills;
}
