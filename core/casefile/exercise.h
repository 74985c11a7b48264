/* exercise.h - one exercise of the school bench, as plain data.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, degrees, percent as named.  Written by teachers as XML (exercise_xml.h), judged by
 * core/practice/score.h.  Texts are English msgids where the exercise is a shipped one.  Owned
 * strings, never NULL ("" when empty). */
#pragma once
#include "casefile/case.h"

typedef enum {
  EXERCISE_RESHAPE, /* redraw until the criteria are met              */
  EXERCISE_READ,    /* read sizes off drawings                        */
  EXERCISE_WEAKEST, /* find the weakest connector, then mend it       */
  EXERCISE_FIRST,   /* which of two breaks first                      */
  EXERCISE_CRACK,   /* mark where the crack starts                    */
  EXERCISE_ORDER,   /* set the order of finishing                     */
  EXERCISE_RESCUE,  /* after a slip                                   */
  EXERCISE_BUDGET,  /* height or width for so much material           */
  EXERCISE_JUDGE,   /* decide: pass, return, stop, ask                */
  EXERCISE_FREE,    /* no task: mine against the best                 */
  EXERCISE_KINDS
} ExerciseKind;
const char *exercise_kind_name(ExerciseKind kind); /* English msgid */

typedef enum {
  SKILL_RADIUS,
  SKILL_DEPTH, /* which side is pulled, how deep the roof lies        */
  SKILL_HEIGHT,
  SKILL_SECTION,
  SKILL_FINISH, /* the order of finishing                             */
  SKILL_CUTTER,
  SKILL_BRUSH,
  SKILLS
} Skill;
const char *skill_name(Skill skill); /* English msgid */
const char *skill_id(Skill skill);   /* "radius" */

/* What a criterion measures; of one connector, or of each. */
typedef enum {
  MEASURE_ROOF_RADIUS,
  MEASURE_ROOF,         /* height of the roof                         */
  MEASURE_ROOF_CENTRE,  /* distance of its middle from the neck plane */
  MEASURE_GAP,          /* largest circle of the embrasure            */
  MEASURE_FEET,         /* how far a foot has gone from the start's   */
  MEASURE_LEAN,         /* of the steeper leg from upright, degrees   */
  MEASURE_LEAN_DIFFERS, /* of the two legs, degrees                   */
  MEASURE_NECK_HEIGHT,
  MEASURE_NECK_WIDTH,
  MEASURE_NECK_AREA,
  MEASURE_SECTION_VALUE, /* W of the pulled side, mm^3                */
  MEASURE_GROOVE_RADIUS,
  MEASURE_PAPILLA,      /* distance of the outline from its tip       */
  MEASURE_PEAK,         /* pull at the hot spot, percent of the start's */
  MEASURE_ABOVE_BEST,   /* the same above that of the best outline, percent */
  MEASURE_MOVED,        /* largest distance of the gum side from the start's */
  MEASURE_CHANGED,      /* the same of all outlines                   */
  MEASURE_CUTTER_SHORT, /* how far the cutter stops short of the roof */
  MEASURE_RADII_DIFFER, /* largest less smallest roof radius of the bridge */
  MEASURE_STROKES,
  MEASURES
} Measure;

typedef struct {
  Measure measure;
  size_t connector;   /* SIZE_MAX: each one has to keep to it         */
  double least, most; /* NaN: no limit on this side                   */
} Criterion;
#define CRITERIA_MOST 32

typedef enum {
  QUESTION_CONNECTOR, /* name a connector; what is right is measured    */
  QUESTION_CHOICE,    /* one or several of the choices                  */
  QUESTION_NUMBER,    /* a number, `right` or measured, give or take `within` */
  QUESTION_PLACE,     /* a place, within so much of the hot spot        */
  QUESTION_ORDER      /* the choices in their right order               */
} QuestionKind;

typedef enum {
  FIND_WEAKEST, /* the least load factor                          */
  FIND_LOWEST_NECK,
  FIND_SHARPEST_ROOF,
  FIND_TIGHTEST_GAP
} QuestionFind;

typedef struct {
  char *id, *text;
  bool right;
  bool instead; /* chosen instead of drawing: no criterion is asked then */
} Choice;
#define CHOICES_MOST 12

typedef struct {
  char *id, *text;
  QuestionKind kind;
  QuestionFind find;
  Measure measure;
  size_t connector; /* place, number; SIZE_MAX: the weakest             */
  double right;     /* NaN: by `measure`                                */
  double within;
  int most_wrong; /* wrong choices that are forgiven                  */
  Skill skill;
  Choice choice[CHOICES_MOST];
  size_t n_choice;
} Question;
#define QUESTIONS_MOST 12

typedef struct {
  char *text;
  bool ghost; /* shows the worked answer                          */
} Hint;
#define HINTS_MOST 8

typedef struct {
  char *id; /* "1.1" */
  char *title, *scenario, *task, *learnt;
  char *next; /* id of the exercise after it, or ""               */
  ExerciseKind kind;
  int level;         /* 1 .. 4                                           */
  unsigned skills;   /* set of Skill                                     */
  size_t focus;      /* the connector to draw                            */
  YesNo take_height; /* yes: the best outline may bring the roof down as far as the brush allows */
  Case start;
  Case answer;       /* a worked answer; n_unit 0: none                  */
  GArray *criterion; /* Criterion                                  */
  Question question[QUESTIONS_MOST];
  size_t n_question;
  Hint hint[HINTS_MOST]; /* from a nudge to the worked answer      */
  size_t n_hint;
  char *file; /* where it was read, "" where Soffit brought it along; not compared */
} Exercise;

Exercise *exercise_new(void);
void exercise_free(gpointer exercise); /* accepts NULL */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Exercise, exercise_free)
/* Whether there is something to pass: all but free play. */
bool exercise_counts(const Exercise *exercise);
/* Which skill a measure shows. */
Skill measure_skill(Measure measure);
/* Which limit makes sense: of a gap at least, of a foot's way at most. */
bool measure_has_least(Measure measure);
bool measure_has_most(Measure measure);
const char *measure_id(Measure measure);   /* "roof-radius" */
const char *measure_name(Measure measure); /* English msgid, "Roof radius" */
const char *measure_unit(Measure measure); /* English msgid, "mm" */
