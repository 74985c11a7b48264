/* rules.c - apply the table, put what fired in order.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "verdict/rules_parts.h"
#include <math.h>
#include <stdint.h>
#include <string.h>

static const char *const caution[] = {
    N_("Dust: extraction on, fitted mask as local rules ask, eye protection; wet work where the "
       "instructions allow. Never blow "
       "dust off with compressed air."),
    N_("Rotating tools: stay below the maker's highest speed; eye protection; no loose sleeves, "
       "hair or gloves; throw away cracked or "
       "wobbling tools."),
    N_("Heat: tongs and heat gloves; let the furnace open by its programme; never put a wet piece "
       "in. Follow the furnace "
       "instructions."),
    N_("Acid: etching liquids only by trained people, under local rules. Zirconia is not prepared "
       "by them as glass ceramic is."),
    N_("Fragments and pieces from a mouth: disinfect by local rules first; gloves, eye protection; "
       "edges cut like glass."),
    N_("Patient: the licensed dentist decides. A broken or cracked bridge can be swallowed, "
       "inhaled or cut; it is not worn."),
    N_("Dye, cleaner, steam: read the safety sheet, air the room, rinse fully before firing; steam "
       "scalds."),
    N_("Blasting: closed box, extraction, eye protection; pressure and grain only as the maker's "
       "instructions say."),
};

const char *caution_text(int k)
{
  return k >= 1 && k <= (int)(sizeof caution / sizeof *caution) ? caution[k - 1] : NULL;
}

const char *severity_name(Severity severity)
{
  static const char *const name[] = {N_("stop"), N_("look"), N_("note")};
  return (unsigned)severity <= SEVERITY_NOTE ? name[severity] : "";
}

bool rule_between_abutments(const Case *c, size_t connector)
{
  const Unit *u = &c->unit[connector];
  return u[0].role <= ROLE_IMPLANT && u[1].role <= ROLE_IMPLANT;
}

const Rule *rule_find(const char *id)
{
  for (int half = 0; half < 2; half++) {
    size_t n;
    const Rule *rule = half ? rules_bench(&n) : rules_shape(&n);
    for (size_t i = 0; i < n; i++)
      if (strcmp(rule[i].id, id) == 0)
        return &rule[i];
  }
  return NULL;
}

static double peak_of(const FiredRule *fired, const Facts *facts)
{
  double peak = fired->connector == SIZE_MAX ? NAN : facts->connector[fired->connector].peak_mpa;
  return isnan(peak) ? -1 : peak;
}

/* stop first, then the earliest step, then the connector with the highest peak */
static gint fired_order(gconstpointer pa, gconstpointer pb, gpointer facts)
{
  const FiredRule *a = pa, *b = pb;
  if (a->rule->severity != b->rule->severity)
    return a->rule->severity < b->rule->severity ? -1 : 1;
  if (a->rule->step != b->rule->step)
    return a->rule->step < b->rule->step ? -1 : 1;
  double pa_mpa = peak_of(a, facts), pb_mpa = peak_of(b, facts);
  if (pa_mpa != pb_mpa)
    return pa_mpa > pb_mpa ? -1 : 1;
  return a->rule < b->rule ? -1 : a->rule > b->rule;
}

static void apply_one(const Rule *rule, const Facts *facts, size_t connector, GArray *fired)
{
  FiredRule found = {.rule = rule, .connector = rule->of_bridge ? SIZE_MAX : connector};
  if (rule->fires(facts, connector, found.shown))
    g_array_append_val(fired, found);
}

GArray *rules_apply(const Facts *facts)
{
  GArray *fired = g_array_new(FALSE, FALSE, sizeof(FiredRule));
  for (int half = 0; half < 2; half++) {
    size_t n;
    const Rule *rule = half ? rules_bench(&n) : rules_shape(&n);
    for (size_t i = 0; i < n; i++) {
      size_t places = facts->c->n_unit > 1 ? (rule[i].of_bridge ? 1 : facts->c->n_unit - 1) : 0;
      for (size_t k = 0; k < places; k++)
        apply_one(&rule[i], facts, k, fired);
    }
  }
  g_array_sort_with_data(fired, fired_order, (gpointer)facts);
  return fired;
}

Phrase fired_rule_phrase(const FiredRule *fired, const Facts *facts, const char *text)
{
  Phrase phrase = {.text = text};
  memcpy(phrase.value, fired->shown, sizeof phrase.value);
  if (fired->connector != SIZE_MAX)
    connector_name(facts->c, fired->connector, '/', phrase.place);
  return phrase;
}
