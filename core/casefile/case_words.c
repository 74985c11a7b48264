/* case_words.c - the words that stand for enumerations in a case file.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/case_words.h"
#include "casefile/exercise.h"
#include <string.h>

#define MOST_WORDS 20

static const char *const word_table[WORDS_N][MOST_WORDS] = {
    [WORDS_ROLE] = {[ROLE_ABUTMENT] = "abutment",
                    [ROLE_IMPLANT] = "implant",
                    [ROLE_PONTIC] = "pontic",
                    [ROLE_HANGING] = "hanging"},
    [WORDS_SUPPORT] = {[SUPPORT_MID] = "mid",
                       [SUPPORT_SOFT] = "soft",
                       [SUPPORT_STIFF] = "stiff",
                       [SUPPORT_OWN] = "own"},
    [WORDS_SADDLE] = {[SADDLE_OVAL] = "oval", [SADDLE_FLAT] = "flat", [SADDLE_HOLLOW] = "hollow"},
    [WORDS_STEP] = {[STEP_INTAKE] = "intake",
                    [STEP_DRAWING] = "drawing",
                    [STEP_CUTTING_PLAN] = "cutting-plan",
                    [STEP_SOFT] = "soft",
                    [STEP_FIRING] = "firing",
                    [STEP_FITTING] = "fitting",
                    [STEP_ADJUSTING] = "adjusting",
                    [STEP_FINISHING] = "finishing",
                    [STEP_COAT] = "coat",
                    [STEP_LAST_LOOK] = "last-look",
                    [STEP_SIGNING] = "signing",
                    [STEP_HANDOVER] = "handover",
                    [STEP_BROKEN] = "broken"},
    [WORDS_YES_NO] = {[ANSWER_NO] = "no", [ANSWER_YES] = "yes"},
    [WORDS_CHECK] = {[CHECK_CLEAN] = "clean", [CHECK_LINE] = "line"},
    [WORDS_FIT] = {[FIT_PASSIVE] = "passive", [FIT_ROCKS] = "rocks"},
    [WORDS_EVENT] = {[EVENT_DISC] = "disc",
                     [EVENT_GROUND] = "ground",
                     [EVENT_BLASTED] = "blasted",
                     [EVENT_HEAT] = "heat",
                     [EVENT_CUT] = "cut",
                     [EVENT_GLAZE] = "glaze"},
    [WORDS_POLISH] = {[POLISH_COARSE] = "coarse",
                      [POLISH_MIDDLE] = "middle",
                      [POLISH_FINE] = "fine",
                      [POLISH_GLOSS] = "gloss"},
    [WORDS_SIDE] = {[SIDE_GINGIVAL] = "gingival",
                    [SIDE_OCCLUSAL] = "occlusal",
                    [SIDE_BUCCAL] = "buccal",
                    [SIDE_LINGUAL] = "lingual"},
    [WORDS_BAR] = {[BAR_THREE_POINT] = "three-point",
                   [BAR_FOUR_POINT_QUARTER] = "four-point-quarter",
                   [BAR_FOUR_POINT_THIRD] = "four-point-third",
                   [BAR_DISC] = "disc"},
    [WORDS_CONFIDENCE] = {[CONFIDENCE_READ] = "read",
                          [CONFIDENCE_MEMORY] = "memory",
                          [CONFIDENCE_OWN] = "own",
                          [CONFIDENCE_PRACTICE] = "practice"},
    [WORDS_FIGURE] = {[FIGURE_YOUNG] = "young",
                      [FIGURE_POISSON] = "poisson",
                      [FIGURE_TOUGHNESS] = "toughness",
                      [FIGURE_THRESHOLD] = "threshold",
                      [FIGURE_STRENGTH] = "strength",
                      [FIGURE_WEIBULL] = "weibull",
                      [FIGURE_GROWTH] = "growth",
                      [FIGURE_CLASS] = "iso-class",
                      [FIGURE_GAIN] = "polish-gain"},
    [WORDS_ORIGIN] = {[ORIGIN_SCRATCH] = "scratch",
                      [ORIGIN_DISC] = "disc",
                      [ORIGIN_PORE] = "pore",
                      [ORIGIN_CONTACT] = "contact",
                      [ORIGIN_FIRING] = "firing",
                      [ORIGIN_COAT] = "coat",
                      [ORIGIN_OTHER] = "other"},
    [WORDS_ENTRY] = {[ENTRY_CHANGE] = "change",
                     [ENTRY_SENT] = "sent",
                     [ENTRY_PASS] = "pass",
                     [ENTRY_RETURN] = "return",
                     [ENTRY_WAIT] = "wait",
                     [ENTRY_TAKEN_OVER] = "taken-over",
                     [ENTRY_MERGE] = "merge"},
    [WORDS_EXERCISE] = {[EXERCISE_RESHAPE] = "reshape",
                        [EXERCISE_READ] = "read",
                        [EXERCISE_WEAKEST] = "weakest",
                        [EXERCISE_FIRST] = "first",
                        [EXERCISE_CRACK] = "crack",
                        [EXERCISE_ORDER] = "order",
                        [EXERCISE_RESCUE] = "rescue",
                        [EXERCISE_BUDGET] = "budget",
                        [EXERCISE_JUDGE] = "judge",
                        [EXERCISE_FREE] = "free"},
    [WORDS_SKILL] = {[SKILL_RADIUS] = "radius",
                     [SKILL_DEPTH] = "depth",
                     [SKILL_HEIGHT] = "height",
                     [SKILL_SECTION] = "section",
                     [SKILL_FINISH] = "finish",
                     [SKILL_CUTTER] = "cutter",
                     [SKILL_BRUSH] = "brush"},
    [WORDS_MEASURE] = {[MEASURE_ROOF_RADIUS] = "roof-radius",
                       [MEASURE_ROOF] = "roof",
                       [MEASURE_ROOF_CENTRE] = "roof-centre",
                       [MEASURE_GAP] = "gap",
                       [MEASURE_FEET] = "feet",
                       [MEASURE_LEAN] = "lean",
                       [MEASURE_LEAN_DIFFERS] = "lean-differs",
                       [MEASURE_NECK_HEIGHT] = "neck-height",
                       [MEASURE_NECK_WIDTH] = "neck-width",
                       [MEASURE_NECK_AREA] = "neck-area",
                       [MEASURE_SECTION_VALUE] = "section-value",
                       [MEASURE_GROOVE_RADIUS] = "groove-radius",
                       [MEASURE_PAPILLA] = "papilla",
                       [MEASURE_PEAK] = "peak",
                       [MEASURE_ABOVE_BEST] = "above-best",
                       [MEASURE_MOVED] = "moved",
                       [MEASURE_CHANGED] = "changed",
                       [MEASURE_CUTTER_SHORT] = "cutter-short",
                       [MEASURE_RADII_DIFFER] = "radii-differ",
                       [MEASURE_STROKES] = "strokes"},
    [WORDS_QUESTION] = {[QUESTION_CONNECTOR] = "connector",
                        [QUESTION_CHOICE] = "choice",
                        [QUESTION_NUMBER] = "number",
                        [QUESTION_PLACE] = "place",
                        [QUESTION_ORDER] = "order"},
    [WORDS_FIND] = {[FIND_WEAKEST] = "weakest",
                    [FIND_LOWEST_NECK] = "lowest-neck",
                    [FIND_SHARPEST_ROOF] = "sharpest-roof",
                    [FIND_TIGHTEST_GAP] = "tightest-gap"},
    [WORDS_CARD] = {[CARD_DRAFT] = "draft", [CARD_PUBLISHED] = "published"},
};

/* Finish states and zones have their words where their factors are. */
const char *word_of(WordList list, int value)
{
  if (list == WORDS_FINISH)
    return value > FINISH_UNKNOWN && value < FINISH_N ? finish_id((FinishState)value) : NULL;
  if (list == WORDS_ZONE)
    return value > 0 && value <= ZONE_N ? zone_id((FinishZone)(value - 1)) : NULL;
  return value >= 0 && value < MOST_WORDS ? word_table[list][value] : NULL;
}

bool word_find(WordList list, const char *word, int *value)
{
  int most = list == WORDS_FINISH ? FINISH_N : MOST_WORDS;
  for (int i = 0; i < most; i++) {
    const char *known = word_of(list, i);
    if (known && strcmp(known, word) == 0) {
      *value = i;
      return true;
    }
  }
  return false;
}

char *words_joined(WordList list)
{
  GString *text = g_string_new(NULL);
  int most = list == WORDS_FINISH ? FINISH_N : MOST_WORDS;
  for (int i = 0; i < most; i++) {
    const char *known = word_of(list, i);
    if (known)
      g_string_append_printf(text, "%s%s", text->len ? ", " : "", known);
  }
  return g_string_free(text, FALSE);
}
