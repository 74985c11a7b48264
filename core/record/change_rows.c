/* change_rows.c - see change_parts.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/change_parts.h"
#include <math.h>
#include <string.h>

#define MOST_WORDS 16
#define SHOWN_ROOM 512

static const char *const word_table[][MOST_WORDS] = {
    [SAID_YES_NO] = {[ANSWER_NO] = N_("no"), [ANSWER_YES] = N_("yes")},
    [SAID_CHECK] = {[CHECK_CLEAN] = N_("clean"), [CHECK_LINE] = N_("a line stays")},
    [SAID_FIT] = {[FIT_PASSIVE] = N_("passive"), [FIT_ROCKS] = N_("rocks")},
    [SAID_SADDLE] =
        {[SADDLE_OVAL] = N_("oval"), [SADDLE_FLAT] = N_("flat"), [SADDLE_HOLLOW] = N_("hollow")},
    [SAID_ROLE] = {[ROLE_ABUTMENT] = N_("abutment"),
                   [ROLE_IMPLANT] = N_("implant"),
                   [ROLE_PONTIC] = N_("pontic"),
                   [ROLE_HANGING] = N_("hanging")},
    [SAID_SUPPORT] = {[SUPPORT_MID] = N_("middle firm"),
                      [SUPPORT_SOFT] = N_("soft"),
                      [SUPPORT_STIFF] = N_("stiff"),
                      [SUPPORT_OWN] = N_("own values")},
    [SAID_STEP] = {[STEP_INTAKE] = N_("order"),
                   [STEP_DRAWING] = N_("drawing"),
                   [STEP_CUTTING_PLAN] = N_("cutting plan"),
                   [STEP_SOFT] = N_("soft state"),
                   [STEP_FIRING] = N_("firing"),
                   [STEP_FITTING] = N_("fitting"),
                   [STEP_ADJUSTING] = N_("adjusting"),
                   [STEP_FINISHING] = N_("finishing"),
                   [STEP_COAT] = N_("stain and glaze"),
                   [STEP_LAST_LOOK] = N_("last look"),
                   [STEP_SIGNING] = N_("signing"),
                   [STEP_HANDOVER] = N_("hand-over"),
                   [STEP_BROKEN] = N_("broken")},
    [SAID_EVENT] = {[EVENT_DISC] = N_("disc mark"),
                    [EVENT_GROUND] = N_("ground"),
                    [EVENT_BLASTED] = N_("blasted"),
                    [EVENT_HEAT] = N_("heated"),
                    [EVENT_CUT] = N_("knife cut, soft"),
                    [EVENT_GLAZE] = N_("glazed")},
    [SAID_WATER] = {[ANSWER_NO] = N_("dry"), [ANSWER_YES] = N_("under water")},
    [SAID_REMOVED] = {[ANSWER_NO] = N_("still there"), [ANSWER_YES] = N_("worked out")},
    [SAID_BAR] = {[BAR_THREE_POINT] = N_("three points"),
                  [BAR_FOUR_POINT_QUARTER] = N_("four points, 1/4"),
                  [BAR_FOUR_POINT_THIRD] = N_("four points, 1/3"),
                  [BAR_DISC] = N_("disc on three balls")},
};

/* As people write it, and finer where that does not tell two values apart. */
static const char *const unit_table[SAID_NUMBERS][2] = {
    [SAID_MM] = {N_("{0.2} mm"), "{0.6} mm"},
    [SAID_NEWTON] = {N_("{0} N"), "{0.4} N"},
    [SAID_DEGREE] = {N_("{0.1}°"), "{0.6}°"},
    [SAID_MPA] = {N_("{0} MPa"), "{0.4} MPa"},
    [SAID_PERCENT] = {N_("{0.1} %"), "{0.6} %"},
    [SAID_STIFF] = {N_("{0} N/mm"), "{0.6} N/mm"},
    [SAID_TURN] = {N_("{0} N·mm/rad"), "{0.6} N·mm/rad"},
};

const char *said_word(SaidAs as, int value)
{
  if (value < 0)
    return NULL;
  if (as == SAID_FINISH)
    return value > FINISH_UNKNOWN && value < FINISH_N ? finish_name((FinishState)value) : NULL;
  if (as == SAID_ZONE)
    return value > 0 && value <= ZONE_N ? zone_name((FinishZone)(value - 1)) : NULL;
  if (as == SAID_ORIGIN)
    return value > 0 && value < ORIGIN_KINDS ? origin_kind_name((OriginKind)value) : NULL;
  if (as == SAID_CONFIDENCE)
    return value > 0 && value < CONFIDENCE_N ? confidence_name((Confidence)value) : NULL;
  return (size_t)as < G_N_ELEMENTS(word_table) && value < MOST_WORDS ? word_table[as][value] : NULL;
}

ChangePlace place_bridge(GArray *out, CasePart part)
{
  return (ChangePlace){out, part, SIZE_MAX, {.text = "{word}"}};
}

ChangePlace place_connector(GArray *out, CasePart part, const Case *c, size_t connector)
{
  ChangePlace place = {out, part, connector, {.text = "{place}: {word}"}};
  connector_name(c, connector, '/', place.what.place);
  return place;
}

void change_add(const ChangePlace *place, const char *name, const Phrase *before,
                const Phrase *after)
{
  CaseChange change = {place->part, place->connector, place->what, {0}, {0}};
  change.what.word = name;
  if (before)
    change.before = *before;
  if (after)
    change.after = *after;
  g_array_append_val(place->out, change);
}

/* --- free words --- */

static size_t char_border(const char *text, size_t at)
{
  while (at > 0 && ((unsigned char)text[at] & 0xC0) == 0x80)
    at--;
  return at;
}

Phrase words_cut(const char *text, const char *other)
{
  Phrase phrase = {.text = "{name}"};
  const size_t room = sizeof phrase.name - 1, dots = strlen("…"), lead = 16;
  size_t same = 0, from = 0;
  g_autofree char *line = g_strdup(text);
  g_strdelimit(line, "\r\n\t", ' ');
  while (other && text[same] && text[same] == other[same])
    same++;
  if (strlen(line) > room && other && same > lead)
    from = char_border(line, same - lead);
  size_t left = strlen(line + from), most = room - (from ? dots : 0);
  size_t n = left <= most ? left : char_border(line + from, most - dots);
  g_snprintf(phrase.name, sizeof phrase.name, "%s%.*s%s", from ? "…" : "", (int)n, line + from,
             left > most ? "…" : "");
  return phrase;
}

/* --- members --- */

static bool shown_differ(const Phrase phrase[2])
{
  char shown[2][SHOWN_ROOM];
  for (int i = 0; i < 2; i++)
    phrase_format(&phrase[i], NULL, NULL, shown[i], SHOWN_ROOM);
  return strcmp(shown[0], shown[1]) != 0;
}

/* A number without unit: with the decimals that it has. */
static const char *plain_number(double a, double b)
{
  static const char *const text[] = {"{0}", "{0.1}", "{0.2}", "{0.3}"};
  double scale = 1;
  for (size_t i = 0; i < G_N_ELEMENTS(text); i++, scale *= 10) {
    bool a_fits = isnan(a) || fabs(a * scale - nearbyint(a * scale)) < 1e-6;
    if (a_fits && (isnan(b) || fabs(b * scale - nearbyint(b * scale)) < 1e-6))
      return text[i];
  }
  return "{0.6}";
}

static bool number_differs(const ChangePlace *place, const ChangeRow *row, double a, double b)
{
  if (a == b || (isnan(a) && isnan(b)))
    return false;
  Phrase phrase[2] = {{.value = {a}}, {.value = {b}}};
  const char *const *unit = unit_table[row->as];
  phrase[0].text = phrase[1].text = row->as == SAID_NUMBER ? plain_number(a, b) : unit[0];
  if (row->as != SAID_NUMBER && !shown_differ(phrase))
    phrase[0].text = phrase[1].text = unit[1];
  change_add(place, row->name, isnan(a) ? NULL : &phrase[0], isnan(b) ? NULL : &phrase[1]);
  return true;
}

static bool text_differs(const ChangePlace *place, const ChangeRow *row, const char *a,
                         const char *b)
{
  if (strcmp(a, b) == 0)
    return false;
  Phrase before = words_cut(a, b), after = words_cut(b, a);
  change_add(place, row->name, *a ? &before : NULL, *b ? &after : NULL);
  return true;
}

static bool word_differs(const ChangePlace *place, const ChangeRow *row, int a, int b)
{
  if (a == b)
    return false;
  Phrase before = {.text = said_word(row->as, a)}, after = {.text = said_word(row->as, b)};
  change_add(place, row->name, &before, &after);
  return true;
}

static bool row_differs(const ChangePlace *place, const ChangeRow *row, const char *a,
                        const char *b)
{
  if (row->as < SAID_NUMBERS)
    return number_differs(place, row, *(const double *)(const void *)a,
                          *(const double *)(const void *)b);
  if (row->as == SAID_WHOLE)
    return number_differs(place, &(ChangeRow){row->name, 0, SAID_NUMBER},
                          *(const int *)(const void *)a, *(const int *)(const void *)b);
  if (row->as == SAID_TEXT)
    return text_differs(place, row, *(char *const *)(const void *)a,
                        *(char *const *)(const void *)b);
  if (row->as == SAID_CHARS)
    return text_differs(place, row, a, b);
  return word_differs(place, row, *(const int *)(const void *)a, *(const int *)(const void *)b);
}

bool rows_compare(const ChangePlace *place, const ChangeRow row[], size_t n, const void *before,
                  const void *after)
{
  bool any = false;
  for (size_t i = 0; i < n; i++)
    any = row_differs(place, &row[i], (const char *)before + row[i].at,
                      (const char *)after + row[i].at) ||
          any;
  return any;
}
