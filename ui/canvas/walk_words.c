/* walk_words.c - see walk_words.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Stress is that of the trial load, as on the drawing, and of the line that was solved: while the
 * drawn line waits for its answer there is none. */
#include "ui/canvas/walk_words.h"
#include "mechanics/field_line.h"
#include "ui/words.h"
#include <math.h>

static const ConnectorAssessment *answer_of(const Hand *hand)
{
  const Assessment *a = session_assessment(hand->session);
  size_t connector = session_focus(hand->session);
  return a && connector < a->n_connector ? &a->connector[connector] : NULL;
}

bool walk_answered(const Hand *hand)
{
  const Assessment *a = session_assessment(hand->session);
  size_t connector = session_focus(hand->session);
  return a && connector < a->n_connector &&
         outline_equal(hand_outline(hand), &a->c.connector[connector].side[SIDE_GINGIVAL], 1e-9);
}

/* "512 MPa (498–526)" */
static char *with_band(const char *unit, Banded b, int decimals)
{
  g_autofree char *value = words_number(b.value, decimals), *range = words_range(b, decimals);
  return g_strdup_printf("%s %s (%s)", value, unit, range);
}

static char *pull_words(const Hand *hand)
{
  const ConnectorAssessment *answer = answer_of(hand);
  Banded mpa;
  if (!answer || !answer->field)
    return g_strdup(_("no answer for this shape"));
  if (!walk_answered(hand))
    return g_strdup(_("being solved"));
  Fault fault =
      field_stress_at(answer->field, answer->trial, hand_outline(hand), hand->walk_t, &mpa);
  if (fault == FAULT_RANGE)
    return g_strdup(_("no stress told here: beyond the feet"));
  if (fault)
    return g_strdup(words_translate(fault_text(fault)));
  bool squeezed = mpa.value < 0;
  if (mpa.low < 0 && mpa.high > 0) { /* the sign is not sure */
    g_autofree char *value = words_number(fabs(mpa.value), 0), *low = words_number(-mpa.low, 0),
                    *high = words_number(mpa.high, 0);
    return g_strdup_printf(squeezed ? _("squeezed %s MPa (squeezed %s to pulled %s)")
                                    : _("pulled %s MPa (squeezed %s to pulled %s)"),
                           value, low, high);
  }
  g_autofree char *size =
      with_band("MPa", squeezed ? banded(-mpa.value, -mpa.high, -mpa.low) : mpa, 0);
  return g_strdup_printf(squeezed ? _("squeezed %s") : _("pulled %s"), size);
}

static char *bend_words(const WalkBend *bend)
{
  g_autofree char *size = NULL;
  switch (bend->kind) {
  case BEND_CORNER:
    size = words_number(bend->corner_deg, 0);
    return g_strdup_printf(_("corner of %s°"), size);
  case BEND_HOLLOW:
  case BEND_BULGING:
    if (bend->radius.high > WALK_STRAIGHT_MM) { /* it ends here */
      g_autofree char *value = words_number(bend->radius.value, 2),
                      *low = words_number(bend->radius.low, 2);
      size = g_strdup_printf(_("%s mm (%s to straight)"), value, low);
    } else
      size = with_band("mm", bend->radius, 2);
    return g_strdup_printf(bend->kind == BEND_HOLLOW ? _("radius %s") : _("bulging, radius %s"),
                           size);
  case BEND_STRAIGHT:
  default:
    return g_strdup(_("straight"));
  }
}

/* "Hot spot, roof": the landmarks that one stands on; NULL: none. */
static char *landmark_words(const Hand *hand, Point at)
{
  static const char *const name[LANDMARK_N] = {
      [LANDMARK_FOOT_LEFT] = N_("left foot"),  [LANDMARK_LEG_LEFT] = N_("left leg"),
      [LANDMARK_ROOF] = N_("top of the roof"), [LANDMARK_NECK] = N_("neck"),
      [LANDMARK_HOT_SPOT] = N_("hot spot"),    [LANDMARK_LEG_RIGHT] = N_("right leg"),
      [LANDMARK_FOOT_RIGHT] = N_("right foot")};
  Landmark mark[LANDMARK_N];
  size_t n = walk_marks(hand, mark);
  GString *words = g_string_new(NULL);
  for (size_t i = 0; i < n; i++)
    if (point_distance(outline_at(hand_outline(hand), mark[i].t), at) < WALK_SAME_MM)
      g_string_append_printf(words, "%s%s", words->len ? ", " : "", _(name[mark[i].kind]));
  return g_string_free(words, words->len == 0);
}

typedef struct {
  char *landmark, *place, *bend, *pull; /* owned; landmark may be NULL */
} WalkWords;

static bool words_make(const Hand *hand, WalkWords *words)
{
  WalkBend bend;
  if (!hand->walks || walk_bend(hand_outline(hand), hand->walk_t, &bend))
    return false;
  g_autofree char *x = words_number(bend.at.x, 2), *y = words_number(bend.at.y, 2);
  *words = (WalkWords){landmark_words(hand, bend.at), g_strdup_printf(_("x %s, y %s mm"), x, y),
                       bend_words(&bend), pull_words(hand)};
  return true;
}

static void words_clear(WalkWords *words)
{
  g_free(words->landmark);
  g_free(words->place);
  g_free(words->bend);
  g_free(words->pull);
}

void walk_lines(const Hand *hand, char *line[WALK_LINES])
{
  WalkWords words;
  for (int i = 0; i < WALK_LINES; i++)
    line[i] = NULL;
  if (!words_make(hand, &words))
    return;
  line[0] = g_strdup(words.pull);
  line[1] = g_strdup_printf("%s · %s", words.place, words.bend);
  line[2] = g_strdup(words.landmark);
  words_clear(&words);
}

char *walk_sentence(const Hand *hand)
{
  WalkWords words;
  if (!words_make(hand, &words))
    return g_strdup(_("There is no line to walk along yet"));
  char *sentence = g_strdup_printf("%s%s%s, %s, %s", words.landmark ? words.landmark : "",
                                   words.landmark ? ", " : "", words.place, words.bend, words.pull);
  words_clear(&words);
  return sentence;
}
