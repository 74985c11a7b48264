/* skill.c - see skill.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/skill.h"
#include <string.h>

#define DAY ((gint64)24 * 60 * 60)

int skill_box_days(int box)
{
  static const int days[SKILL_BOXES + 1] = {0, 0, 1, 3, 7, 21};
  return box >= 0 && box <= SKILL_BOXES ? days[box] : 0;
}

char *skill_boxes_text(int box)
{
  GString *text = g_string_new(NULL);
  for (int k = 0; k < SKILL_BOXES; k++)
    g_string_append(text, k < box ? "■" : "□");
  return g_string_free(text, FALSE);
}

static void evidence(SkillState *s, const Attempt *a, bool shown)
{
  s->last = a->exercise;
  s->right += shown;
  s->wrong += !shown;
  s->streak = shown ? s->streak + 1 : 0;
  s->box = !shown ? 1 : s->box == 0 ? 2 : MIN(s->box + 1, SKILL_BOXES);
  s->due = a->when + skill_box_days(s->box) * DAY;
}

void skills_of(const Progress *progress, SkillState state[SKILLS])
{
  for (int skill = 0; skill < SKILLS; skill++)
    state[skill] = (SkillState){.skill = (Skill)skill, .last = ""};
  for (guint i = 0; i < progress->attempt->len; i++) {
    const Attempt *a = progress->attempt->pdata[i];
    for (int skill = 0; skill < SKILLS && !a->shown; skill++)
      if ((a->right | a->wrong) & 1u << skill)
        evidence(&state[skill], a, !(a->wrong & 1u << skill));
  }
}

/* When it was last tried; 0: never. */
static gint64 last_tried(const Progress *progress, const char *exercise)
{
  gint64 when = 0;
  for (guint i = 0; i < progress->attempt->len; i++) {
    const Attempt *a = progress->attempt->pdata[i];
    if (strcmp(a->exercise, exercise) == 0)
      when = MAX(when, a->when);
  }
  return when;
}

/* The one that trains it, longest untried; those of reached levels only. */
static const Exercise *for_skill(const GPtrArray *set, const Progress *progress, Skill skill,
                                 int level)
{
  const Exercise *best = NULL;
  gint64 least = G_MAXINT64;
  for (guint i = 0; i < set->len; i++) {
    const Exercise *e = set->pdata[i];
    gint64 when = last_tried(progress, e->id);
    if (!(e->skills & 1u << skill) || e->level > level || when >= least || !exercise_counts(e))
      continue;
    least = when;
    best = e;
  }
  return best;
}

const Exercise *exercise_next(const GPtrArray *set, const Progress *progress, gint64 now,
                              Skill *why)
{
  SkillState state[SKILLS];
  const Exercise *line = NULL;
  Skill unread;
  why = why ? why : &unread;
  *why = SKILLS;
  skills_of(progress, state);
  for (guint i = 0; i < set->len; i++) {
    const Exercise *e = set->pdata[i];
    if (exercise_counts(e) && !progress_passed(progress, e->id) &&
        (!line || e->level < line->level))
      line = e;
  }
  int level = line ? line->level : 4;
  const SkillState *due = NULL;
  for (int skill = 0; skill < SKILLS; skill++)
    if (state[skill].box > 0 && state[skill].due <= now && (!due || state[skill].due < due->due))
      due = &state[skill];
  const Exercise *back = due ? for_skill(set, progress, due->skill, level) : NULL;
  if (back)
    *why = due->skill;
  return back ? back : line;
}
