/* change.c - what became different between two states of a case, in words.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/change.h"
#include "casefile/load_case.h"
#include "casefile/material_xml.h"
#include "record/change_parts.h"
#include "verdict/worklist.h"
#include <string.h>

#define ROW(name, member, as)                                                                      \
  {                                                                                                \
    name, offsetof(Case, member), as                                                               \
  }
static const ChangeRow order_row[] = {
    ROW(N_("Case number"), number, SAID_TEXT),
    ROW(N_("Title"), title, SAID_TEXT),
    ROW(N_("Order’s load"), order_load_n, SAID_NEWTON),
    ROW(N_("Grinding habit"), grinding_habit, SAID_YES_NO),
    ROW(N_("Bites a day"), service.bites_a_day, SAID_NUMBER),
    ROW(N_("Years of service"), service.years, SAID_NUMBER),
    ROW(N_("Brush to pass"), brush_mm, SAID_MM),
    ROW(N_("Free height"), free_height, SAID_MM),
    ROW(N_("Bow of the arch"), arch_bow, SAID_MM),
    ROW(N_("Made by"), author, SAID_TEXT),
    ROW(N_("Approved by"), approver, SAID_TEXT),
};
static const ChangeRow blank_row[] = {
    ROW(N_("Batch of the blank"), blank_batch, SAID_TEXT),
    ROW(N_("Enlargement"), enlargement, SAID_NUMBER),
    ROW(N_("Enlargement on the label"), enlargement_label, SAID_NUMBER),
    ROW(N_("Cutter"), cutter_diameter, SAID_MM),
};
static const ChangeRow bench_row[] = {
    ROW(N_("Step of the job"), step, SAID_STEP),
    ROW(N_("Smoothed while soft"), soft_handled, SAID_YES_NO),
    ROW(N_("Finish inside"), inside, SAID_FINISH),
    ROW(N_("Finish of the crown edges"), edges, SAID_FINISH),
    ROW(N_("Finish of the biting face"), biting_face, SAID_FINISH),
    ROW(N_("Fit"), fit, SAID_FIT),
    ROW(N_("Firing record"), firing_record, SAID_TEXT),
    ROW(N_("Fast programme"), fast_firing, SAID_YES_NO),
    ROW(N_("Thickest place"), thickest, SAID_MM),
    ROW(N_("Thickness allowed when fast"), thickest_fast, SAID_MM),
    ROW(N_("Firings so far"), firings, SAID_NUMBER),
    ROW(N_("Firings allowed"), firings_limit, SAID_NUMBER),
    ROW(N_("Span planned"), planned_span, SAID_MM),
    ROW(N_("Span fired"), fired_span, SAID_MM),
    ROW(N_("Note to the dentist"), dentist_note, SAID_TEXT),
};
static const ChangeRow break_row[] = {
    ROW(N_("Began at"), origin.zone, SAID_ZONE),
    ROW(N_("Place of the break"), origin.at_x, SAID_MM),
    ROW(N_("Height of the break"), origin.at_y, SAID_MM),
    ROW(N_("Kind of start"), origin.kind, SAID_ORIGIN),
    ROW(N_("Depth of the flaw"), origin.depth, SAID_MM),
    ROW(N_("Load at the break"), origin.load_n, SAID_NEWTON),
    ROW(N_("Years in service"), origin.years, SAID_NUMBER),
    ROW(N_("Seen on the broken faces"), origin.seen, SAID_TEXT),
    ROW(N_("Photo of the break"), origin.photo, SAID_TEXT),
};
#undef ROW
#define ROW(name, member, as)                                                                      \
  {                                                                                                \
    name, offsetof(Material, member), as                                                           \
  }
static const ChangeRow card_row[] = {
    ROW(N_("stiffness E"), young_mpa, SAID_MPA),
    ROW(N_("Poisson’s ratio"), poisson, SAID_NUMBER),
    ROW(N_("toughness K_Ic"), toughness, SAID_NUMBER),
    ROW(N_("band of the toughness"), toughness_percent, SAID_PERCENT),
    ROW(N_("threshold K_I0"), threshold, SAID_NUMBER),
    ROW(N_("crack growth n"), growth_n, SAID_NUMBER),
    ROW(N_("lowest crack growth n"), growth_low, SAID_NUMBER),
    ROW(N_("highest crack growth n"), growth_high, SAID_NUMBER),
    ROW(N_("strength"), strength_mpa, SAID_MPA),
    ROW(N_("band of the strength"), strength_percent, SAID_PERCENT),
    ROW(N_("spread m"), weibull, SAID_NUMBER),
    ROW(N_("test of the bars"), bar, SAID_BAR),
    ROW(N_("span of the bars"), bar_span, SAID_MM),
    ROW(N_("width of the bars"), bar_width, SAID_MM),
    ROW(N_("thickness of the bars"), bar_thickness, SAID_MM),
    ROW(N_("finish of the bars"), bar_finish, SAID_CHARS),
    ROW(N_("number of bars"), bar_count, SAID_WHOLE),
    ROW(N_("ISO 6872 class"), iso_class, SAID_WHOLE),
    ROW(N_("polish gain"), polish_gain_top, SAID_NUMBER),
    ROW(N_("source"), source, SAID_CHARS),
    ROW(N_("how well known"), confidence, SAID_CONFIDENCE),
    ROW(N_("day"), date, SAID_CHARS),
    ROW(N_("lot"), lot, SAID_CHARS),
    ROW(N_("entered by"), who, SAID_CHARS),
};
#undef ROW
#define ROW(name, member, as)                                                                      \
  {                                                                                                \
    name, offsetof(Unit, member), as                                                               \
  }
static const ChangeRow unit_row[] = {
    ROW(N_("role"), role, SAID_ROLE),
    ROW(N_("length"), length, SAID_MM),
    ROW(N_("width"), width, SAID_MM),
    ROW(N_("height"), height, SAID_MM),
    ROW(N_("support"), support, SAID_SUPPORT),
    ROW(N_("finish of the tissue side"), saddle, SAID_FINISH),
    ROW(N_("shape of the tissue side"), saddle_shape, SAID_SADDLE),
};
static const ChangeRow hold_row[] = {
    ROW(N_("hold upright"), own.axial_n_mm, SAID_STIFF),
    ROW(N_("hold against turning"), own.rotation_n_mm_rad, SAID_TURN),
};
#undef ROW

const char *case_part_name(CasePart part)
{
  static const char *const name[PART_N] = {
      [PART_ORDER] = N_("Order"),           [PART_MATERIAL] = N_("Material"),
      [PART_UNITS] = N_("Units"),           [PART_CONNECTOR] = N_("Connector"),
      [PART_FINISH] = N_("Finish"),         [PART_PHOTO] = N_("Photo"),
      [PART_BRIDGE] = N_("Firing and fit"), [PART_LIST] = N_("List"),
      [PART_REMARKS] = N_("Remarks"),       [PART_BREAK] = N_("After a break")};
  return part < PART_N ? name[part] : "";
}

/* --- order --- */

static void bites_compare(GArray *out, const Case *a, const Case *b)
{
  ChangePlace place = place_bridge(out, PART_ORDER);
  for (size_t i = 0; i < a->n_load_case || i < b->n_load_case; i++) {
    bool was = i < a->n_load_case, is = i < b->n_load_case;
    if (was && is && load_case_equal(&a->load_case[i], &b->load_case[i]))
      continue;
    Phrase before = was ? load_case_phrase(a, i + 1, a->load_case[i].x) : (Phrase){0};
    Phrase after = is ? load_case_phrase(b, i + 1, b->load_case[i].x) : (Phrase){0};
    place.what.text = N_("Bite {0}");
    place.what.value[0] = (double)(i + 1);
    change_add(&place, NULL, &before, &after);
  }
}

/* --- material --- */

static Phrase card_phrase(const Material *card)
{
  const Material *shipped = material_find(card->id); /* its name is a msgid that stays */
  if (shipped && strcmp(shipped->name, card->name) == 0)
    return (Phrase){.text = "{word}", .word = shipped->name};
  return words_cut(*card->name ? card->name : card->id, NULL);
}

static void card_compare(GArray *out, const Material *a, const Material *b)
{
  ChangePlace place = place_bridge(out, PART_MATERIAL);
  if (material_equal(a, b))
    return;
  if (strcmp(a->id, b->id) != 0 || strcmp(a->name, b->name) != 0) {
    Phrase before = card_phrase(a), after = card_phrase(b);
    change_add(&place, N_("Material card"), &before, &after);
    return;
  }
  place.what.text = N_("Material card, {word}");
  if (!rows_compare(&place, card_row, G_N_ELEMENTS(card_row), a, b))
    change_add(&place, N_("own factors and single sources"), NULL,
               &(Phrase){.text = N_("changed")});
}

/* --- units and connectors --- */

static size_t unit_find(const Case *c, int tooth)
{
  size_t i = 0;
  while (i < c->n_unit && c->unit[i].tooth != tooth)
    i++;
  return i < c->n_unit ? i : SIZE_MAX;
}

static void unit_there(ChangePlace *place, const Unit *unit, bool is)
{
  Phrase role = {.text = said_word(SAID_ROLE, (int)unit->role)};
  place->what.text = N_("Unit {name}");
  g_snprintf(place->what.name, sizeof place->what.name, "%d", unit->tooth);
  change_add(place, NULL, is ? NULL : &role, is ? &role : NULL);
}

static void units_compare(GArray *out, const Case *a, const Case *b)
{
  ChangePlace place = place_bridge(out, PART_UNITS);
  for (size_t i = 0; i < a->n_unit; i++)
    if (unit_find(b, a->unit[i].tooth) == SIZE_MAX)
      unit_there(&place, &a->unit[i], false);
  for (size_t j = 0; j < b->n_unit; j++) {
    size_t i = unit_find(a, b->unit[j].tooth);
    if (i == SIZE_MAX) {
      unit_there(&place, &b->unit[j], true);
      continue;
    }
    const Unit *was = &a->unit[i], *is = &b->unit[j];
    place.what.text = "{name}: {word}";
    g_snprintf(place.what.name, sizeof place.what.name, "%d", is->tooth);
    rows_compare(&place, unit_row, G_N_ELEMENTS(unit_row), was, is);
    if (was->support == SUPPORT_OWN && is->support == SUPPORT_OWN)
      rows_compare(&place, hold_row, G_N_ELEMENTS(hold_row), was, is);
  }
}

/* The connector between the same teeth. */
static size_t connector_find(const Case *c, const Case *of, size_t connector)
{
  for (size_t i = 0; i + 1 < c->n_unit; i++)
    if (c->unit[i].tooth == of->unit[connector].tooth &&
        c->unit[i + 1].tooth == of->unit[connector + 1].tooth)
      return i;
  return SIZE_MAX;
}

static void connectors_compare(GArray *out, const Case *a, const Case *b)
{
  Phrase there = {.text = N_("there")};
  for (size_t i = 0; i + 1 < a->n_unit; i++)
    if (connector_find(b, a, i) == SIZE_MAX) {
      ChangePlace place = place_connector(out, PART_CONNECTOR, a, i);
      place.connector = SIZE_MAX;
      change_add(&place, N_("Connector"), &there, NULL);
    }
  for (size_t j = 0; j + 1 < b->n_unit; j++) {
    size_t i = connector_find(a, b, j);
    if (i == SIZE_MAX) {
      ChangePlace place = place_connector(out, PART_CONNECTOR, b, j);
      change_add(&place, N_("Connector"), NULL, &there);
    } else {
      connector_changes(out, a, i, b, j);
    }
  }
}

/* --- list, remarks, break --- */

static const Tick *tick_find(const Case *c, const char *step)
{
  for (guint i = 0; i < c->tick->len; i++) {
    const Tick *tick = c->tick->pdata[i];
    if (strcmp(tick->step, step) == 0)
      return tick;
  }
  return NULL;
}

static void tick_told(GArray *out, const Case *c, const Tick *was, const Tick *is)
{
  ChangePlace place = place_bridge(out, PART_LIST);
  const Tick *tick = is ? is : was;
  const char *act = work_act(tick->step);
  Phrase before = was ? words_cut(was->initials, NULL) : (Phrase){0};
  Phrase after = is ? words_cut(is->initials, NULL) : (Phrase){0};
  if (was)
    before.text = N_("ticked by {name}");
  after.text = !is ? N_("taken back") : was ? N_("ticked again by {name}") : N_("ticked by {name}");
  place.what = act ? (Phrase){.text = "{word}", .value = {c->brush_mm, c->enlargement}}
                   : words_cut(tick->step, NULL);
  change_add(&place, act, &before, &after);
}

static void ticks_compare(GArray *out, const Case *a, const Case *b)
{
  for (guint i = 0; i < a->tick->len; i++) {
    const Tick *was = a->tick->pdata[i];
    if (!tick_find(b, was->step))
      tick_told(out, b, was, NULL);
  }
  for (guint i = 0; i < b->tick->len; i++) {
    const Tick *is = b->tick->pdata[i], *was = tick_find(a, is->step);
    if (!was || strcmp(was->initials, is->initials) != 0 || strcmp(was->time, is->time) != 0)
      tick_told(out, b, was, is);
  }
}

/* The same words of the same person at the same time about the same connector. */
static const Remark *remark_find(const Case *c, const Remark *of)
{
  for (guint i = 0; i < c->remark->len; i++) {
    const Remark *remark = c->remark->pdata[i];
    if (remark->connector == of->connector && strcmp(remark->time, of->time) == 0 &&
        strcmp(remark->initials, of->initials) == 0 && strcmp(remark->text, of->text) == 0)
      return remark;
  }
  return NULL;
}

static void remark_told(GArray *out, const Case *c, const Remark *remark, const char *name, bool is)
{
  bool placed = remark->connector < c->n_unit && remark->connector + 1 < c->n_unit;
  ChangePlace place = placed ? place_connector(out, PART_REMARKS, c, remark->connector)
                             : place_bridge(out, PART_REMARKS);
  Phrase words = words_cut(remark->text, NULL);
  change_add(&place, name, is ? NULL : &words, is ? &words : NULL);
}

static void remarks_compare(GArray *out, const Case *a, const Case *b)
{
  for (guint i = 0; i < a->remark->len; i++)
    if (!remark_find(b, a->remark->pdata[i]))
      remark_told(out, a, a->remark->pdata[i], N_("Remark"), false);
  for (guint i = 0; i < b->remark->len; i++) {
    const Remark *is = b->remark->pdata[i], *was = remark_find(a, is);
    if (!was)
      remark_told(out, b, is, N_("Remark"), true);
    else if (was->settled != is->settled)
      remark_told(out, b, is,
                  is->settled == ANSWER_YES ? N_("Remark settled") : N_("Remark open again"), true);
  }
}

static Phrase broke_at(const Case *c)
{
  Phrase phrase = {0};
  if (c->origin.connector < c->n_unit && c->origin.connector + 1 < c->n_unit) {
    phrase.text = "{place}";
    connector_name(c, c->origin.connector, '/', phrase.place);
  }
  return phrase;
}

static void break_compare(GArray *out, const Case *a, const Case *b)
{
  ChangePlace place = place_bridge(out, PART_BREAK);
  Phrase before = broke_at(a), after = broke_at(b);
  if (strcmp(before.place, after.place) != 0)
    change_add(&place, N_("Broke at"), &before, &after);
  rows_compare(&place, break_row, G_N_ELEMENTS(break_row), a, b);
}

static gint by_part(gconstpointer a, gconstpointer b)
{
  const CaseChange *p = a, *q = b;
  return (int)p->part - (int)q->part;
}

GArray *case_changes(const Case *before, const Case *after)
{
  GArray *out = g_array_new(FALSE, TRUE, sizeof(CaseChange));
  ChangePlace order = place_bridge(out, PART_ORDER), material = place_bridge(out, PART_MATERIAL),
              bridge = place_bridge(out, PART_BRIDGE);
  rows_compare(&order, order_row, G_N_ELEMENTS(order_row), before, after);
  bites_compare(out, before, after);
  card_compare(out, &before->material, &after->material);
  rows_compare(&material, blank_row, G_N_ELEMENTS(blank_row), before, after);
  units_compare(out, before, after);
  connectors_compare(out, before, after);
  rows_compare(&bridge, bench_row, G_N_ELEMENTS(bench_row), before, after);
  ticks_compare(out, before, after);
  remarks_compare(out, before, after);
  break_compare(out, before, after);
  g_array_sort(out, by_part); /* stable */
  return out;
}
