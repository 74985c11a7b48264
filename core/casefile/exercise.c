/* exercise.c - see exercise.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/exercise.h"
#include "base/phrase.h"
#include "casefile/case_words.h"

const char *exercise_kind_name(ExerciseKind kind)
{
  static const char *const name[EXERCISE_KINDS] = {
      [EXERCISE_RESHAPE] = N_("Redraw"),
      [EXERCISE_READ] = N_("Read the drawing"),
      [EXERCISE_WEAKEST] = N_("Find the weakest neck"),
      [EXERCISE_FIRST] = N_("Which breaks first?"),
      [EXERCISE_CRACK] = N_("Mark the crack"),
      [EXERCISE_ORDER] = N_("Set the order"),
      [EXERCISE_RESCUE] = N_("Rescue"),
      [EXERCISE_BUDGET] = N_("Height or width"),
      [EXERCISE_JUDGE] = N_("Judge"),
      [EXERCISE_FREE] = N_("Free play"),
  };
  return kind < EXERCISE_KINDS ? name[kind] : "";
}

const char *skill_name(Skill skill)
{
  static const char *const name[SKILLS] = {
      [SKILL_RADIUS] = N_("Roof radius"),     [SKILL_DEPTH] = N_("Pulled side and depth"),
      [SKILL_HEIGHT] = N_("Neck height"),     [SKILL_SECTION] = N_("Load and section"),
      [SKILL_FINISH] = N_("Finishing order"), [SKILL_CUTTER] = N_("Cutter"),
      [SKILL_BRUSH] = N_("Brush and gap"),
  };
  return skill < SKILLS ? name[skill] : "";
}

const char *skill_id(Skill skill)
{
  return word_of(WORDS_SKILL, (int)skill);
}

const char *measure_id(Measure measure)
{
  return word_of(WORDS_MEASURE, (int)measure);
}

const char *measure_name(Measure measure)
{
  static const char *const name[MEASURES] = {
      [MEASURE_ROOF_RADIUS] = N_("Roof radius"),
      [MEASURE_ROOF] = N_("Height of the roof"),
      [MEASURE_ROOF_CENTRE] = N_("Roof off the middle"),
      [MEASURE_GAP] = N_("Gap circle"),
      [MEASURE_FEET] = N_("Feet moved"),
      [MEASURE_LEAN] = N_("Lean of the steeper leg"),
      [MEASURE_LEAN_DIFFERS] = N_("Legs lean unlike"),
      [MEASURE_NECK_HEIGHT] = N_("Neck height"),
      [MEASURE_NECK_WIDTH] = N_("Neck width"),
      [MEASURE_NECK_AREA] = N_("Neck area"),
      [MEASURE_SECTION_VALUE] = N_("Section value W"),
      [MEASURE_GROOVE_RADIUS] = N_("Groove radius"),
      [MEASURE_PAPILLA] = N_("Papilla away"),
      [MEASURE_PEAK] = N_("Peak, of the start’s"),
      [MEASURE_ABOVE_BEST] = N_("Peak above the best"),
      [MEASURE_MOVED] = N_("Gum side changed"),
      [MEASURE_CHANGED] = N_("Outlines changed"),
      [MEASURE_CUTTER_SHORT] = N_("Cutter short of the roof"),
      [MEASURE_RADII_DIFFER] = N_("Roof radii unlike"),
      [MEASURE_STROKES] = N_("Strokes"),
  };
  return measure < MEASURES ? name[measure] : "";
}

const char *measure_unit(Measure measure)
{
  switch (measure) {
  case MEASURE_LEAN:
  case MEASURE_LEAN_DIFFERS:
    return N_("degrees");
  case MEASURE_PEAK:
  case MEASURE_ABOVE_BEST:
    return N_("percent");
  case MEASURE_NECK_AREA:
    return N_("mm²");
  case MEASURE_SECTION_VALUE:
    return N_("mm³");
  case MEASURE_STROKES:
    return "";
  default:
    return N_("mm");
  }
}

Skill measure_skill(Measure measure)
{
  switch (measure) {
  case MEASURE_ROOF:
  case MEASURE_MOVED:
  case MEASURE_CHANGED:
  case MEASURE_FEET:
    return SKILL_DEPTH;
  case MEASURE_GAP:
  case MEASURE_PAPILLA:
    return SKILL_BRUSH;
  case MEASURE_NECK_HEIGHT:
    return SKILL_HEIGHT;
  case MEASURE_NECK_WIDTH:
  case MEASURE_NECK_AREA:
  case MEASURE_SECTION_VALUE:
    return SKILL_SECTION;
  case MEASURE_CUTTER_SHORT:
    return SKILL_CUTTER;
  case MEASURE_ROOF_RADIUS:
  case MEASURE_ROOF_CENTRE:
  case MEASURE_LEAN:
  case MEASURE_LEAN_DIFFERS:
  case MEASURE_GROOVE_RADIUS:
  case MEASURE_PEAK:
  case MEASURE_ABOVE_BEST:
  case MEASURE_RADII_DIFFER:
  case MEASURE_STROKES:
  case MEASURES:
  default:
    return SKILL_RADIUS;
  }
}

bool measure_has_most(Measure measure)
{
  return measure != MEASURE_LEAN && measure != MEASURE_PAPILLA &&
         measure != MEASURE_GROOVE_RADIUS && measure != MEASURE_SECTION_VALUE;
}

bool measure_has_least(Measure measure)
{
  switch (measure) {
  case MEASURE_ROOF_CENTRE:
  case MEASURE_FEET:
  case MEASURE_LEAN_DIFFERS:
  case MEASURE_PEAK:
  case MEASURE_ABOVE_BEST:
  case MEASURE_MOVED:
  case MEASURE_CHANGED:
  case MEASURE_CUTTER_SHORT:
  case MEASURE_RADII_DIFFER:
  case MEASURE_STROKES:
    return false;
  default:
    return true;
  }
}

bool exercise_counts(const Exercise *exercise)
{
  return exercise->kind != EXERCISE_FREE;
}

Exercise *exercise_new(void)
{
  Exercise *e = g_new0(Exercise, 1);
  char **text[] = {&e->id, &e->title, &e->scenario, &e->task, &e->learnt, &e->next, &e->file};
  for (size_t i = 0; i < G_N_ELEMENTS(text); i++)
    *text[i] = g_strdup("");
  e->criterion = g_array_new(FALSE, TRUE, sizeof(Criterion));
  case_init(&e->start);
  case_init(&e->answer);
  return e;
}

void exercise_free(gpointer exercise)
{
  Exercise *e = exercise;
  if (!e)
    return;
  g_free(e->id);
  g_free(e->title);
  g_free(e->scenario);
  g_free(e->task);
  g_free(e->learnt);
  g_free(e->next);
  g_free(e->file);
  g_array_unref(e->criterion);
  for (size_t i = 0; i < e->n_question; i++) {
    Question *q = &e->question[i];
    g_free(q->id);
    g_free(q->text);
    for (size_t k = 0; k < q->n_choice; k++) {
      g_free(q->choice[k].id);
      g_free(q->choice[k].text);
    }
  }
  for (size_t i = 0; i < e->n_hint; i++)
    g_free(e->hint[i].text);
  case_clear(&e->start);
  case_clear(&e->answer);
  g_free(e);
}
