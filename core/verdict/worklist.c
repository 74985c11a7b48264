/* worklist.c - the ordered list of what is left to do on this bridge.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The plain steps of the job come from one table; what the rules ask for is set in before the plain
 * step of the same place in the job.  Rules of the drawing become one item: redraw, with the first
 * reason. */
#include "verdict/worklist.h"
#include "verdict/harm.h"
#include <math.h>
#include <stdint.h>
#include <string.h>

static const struct {
  const char *id;
  JobStep step;
  const char *act, *why, *caution, *reason, *record;
} plain[] = {
    {"order-read", STEP_INTAKE, N_("Order read, brush {0.1} noted"),
     N_("span, bite, grinding habit, free height"), "",
     N_("What the order leaves open is missing in every later answer."),
     N_("answers on the order")},
    {"cutting-plan", STEP_CUTTING_PLAN, N_("Enlargement {1.2} from the label"),
     N_("of this very blank; smallest cutter noted"), "K2",
     N_("A wrong factor makes every size wrong."), N_("batch number, factor")},
    {"smooth-soft", STEP_SOFT, N_("Smooth the roofs while soft"),
     N_("soft wheel and brush, extraction on"), "K1",
     N_("Steps removed now cost seconds; after firing they cost strength."),
     N_("initials, soft neck height")},
    {"fire", STEP_FIRING, N_("Fire with the span supported"),
     N_("the maker's programme; write it down"), "K3",
     N_("Without it nobody can explain a weak batch."), N_("programme, date, initials")},
    {"fit", STEP_FITTING, N_("Check the fit: passive, no rocking"), N_("never press a bridge down"),
     "K1 K2", N_("A strained bridge carries the strain for life."), N_("fit result")},
    {"no-disc", STEP_ADJUSTING, N_("No disc between the units any more"),
     N_("touch up with fine diamond and water only"), "K1 K2",
     N_("A disc cut is a ready-made crack start."), N_("initials")},
    {"polish-gum", STEP_FINISHING, N_("Polish the gum side before stain"),
     N_("rubber coarse, middle, fine, then gloss"), "K1 K2",
     N_("The most pulled surface deserves the best finish."),
     N_("finish state, loupe check, initials")},
    {"coat", STEP_COAT, N_("Stain and glaze, keep the gap free"),
     N_("brush {0.1} passes again after the coat"), "K3",
     N_("Glaze hides scratches and does not heal them."), N_("brush passed yes or no")},
    {"last-look", STEP_LAST_LOOK, N_("Loupe, light and dye on every neck"),
     N_("measure each neck, a line means stop"), "K7",
     N_("A fine crack is invisible to the bare eye."), N_("result per neck, initials")},
    {"sign", STEP_SIGNING, N_("A second person looks and signs"),
     N_("nobody sees the own blind spot"), "", N_("Nobody sees the own blind spot."),
     N_("second initials")},
    {"hand-over", STEP_HANDOVER, N_("Hand over with the note"),
     N_("where not to grind, how to polish, which brush"), "K6",
     N_("Chairside grinding at the neck undoes the work."), N_("copy of the note")},
};

const char *work_act(const char *id)
{
  for (size_t i = 0; i < sizeof plain / sizeof *plain; i++)
    if (strcmp(plain[i].id, id) == 0)
      return plain[i].act;
  const Rule *rule = rule_find(id);
  return rule ? rule->act : NULL;
}

#define GUM_SIDE (1u << ZONE_ROOF | 1u << ZONE_LEGS)
#define WHOLE_NECK ((1u << ZONE_NECK_N) - 1)

/* Steps that change the surface of the neck. */
static const struct {
  const char *id;
  Treatment treatment;
  unsigned zones;
} change[] = {
    {"polish-gum", TREAT_POLISH, GUM_SIDE},
    {"coat", TREAT_GLAZE, WHOLE_NECK},
    {"roof-not-polished", TREAT_POLISH, GUM_SIDE},
    {"coarse-on-pulled-side", TREAT_POLISH, GUM_SIDE},
    {"blasted-neck", TREAT_POLISH, GUM_SIDE | 1u << ZONE_GROOVE},
    {"groove-cantilever-rough", TREAT_POLISH, 1u << ZONE_GROOVE},
    {"glaze-over-ground", TREAT_POLISH, WHOLE_NECK},
};

static const Tick *tick_find(const Case *c, const char *id)
{
  for (guint i = 0; i < c->tick->len; i++) {
    const Tick *tick = g_ptr_array_index(c->tick, i);
    if (strcmp(tick->step, id) == 0)
      return tick;
  }
  return NULL;
}

static void add(GArray *list, const Facts *facts, WorkItem *item)
{
  item->tick = tick_find(facts->c, item->id);
  item->treatment = TREAT_N;
  item->margin_before = item->margin_after = banded(NAN, NAN, NAN);
  for (size_t i = 0; i < sizeof change / sizeof *change; i++)
    if (strcmp(change[i].id, item->id) == 0) {
      item->treatment = change[i].treatment;
      item->zones = change[i].zones;
    }
  if (!item->tick)
    item->warning = harm_of(item->id, facts);
  g_array_append_val(list, *item);
}

static bool of_drawing(const FiredRule *fired)
{
  return fired->rule->step == STEP_DRAWING || strcmp(fired->rule->id, "cutter-cannot-reach") == 0;
}

/* One item for all necks that the drawing rules stop. */
static void add_redraw(GArray *list, const Facts *facts, const GArray *fired)
{
  bool stopped[SPAN_MAX_UNITS] = {false};
  const FiredRule *first = NULL;
  int n = 0;
  for (guint i = 0; i < fired->len; i++) {
    const FiredRule *rule = &g_array_index(fired, FiredRule, i);
    if (rule->rule->severity != SEVERITY_STOP || !of_drawing(rule) || rule->connector == SIZE_MAX)
      continue;
    first = first ? first : rule;
    n += !stopped[rule->connector];
    stopped[rule->connector] = true;
  }
  if (!first)
    return;
  WorkItem item = {.id = "redraw",
                   .step = STEP_DRAWING,
                   .severity = SEVERITY_STOP,
                   .caution = "",
                   .reason = first->rule->why,
                   .record = first->rule->record,
                   .source = first->rule->source,
                   .connector = first->connector};
  item.act =
      fired_rule_phrase(first, facts, n == 1 ? N_("Redraw {place}") : N_("Redraw {0} necks"));
  item.act.value[0] = n;
  item.why.text = N_("then ask the supervisor");
  add(list, facts, &item);
}

/* A rule that fires at several necks is one thing to do; the first neck, the hardest pulled, is
 * named.  What is only to be looked at in the drawing is told by the readings and stays off the
 * list. */
static void add_rules(GArray *list, const Facts *facts, const GArray *fired, JobStep step)
{
  for (guint i = 0; i < fired->len; i++) {
    const FiredRule *rule = &g_array_index(fired, FiredRule, i);
    bool of_neck = rule->connector != SIZE_MAX, shape = step <= STEP_CUTTING_PLAN;
    bool told = of_neck && shape && (of_drawing(rule) || rule->rule->severity != SEVERITY_STOP);
    if (rule->rule->step != step || rule->rule->severity == SEVERITY_NOTE || told)
      continue;
    int places = 0;
    bool first = true;
    for (guint k = 0; k < fired->len; k++) {
      bool same = g_array_index(fired, FiredRule, k).rule == rule->rule;
      first = first && !(same && k < i);
      places += same;
    }
    if (!first)
      continue;
    WorkItem item = {.step = step,
                     .severity = rule->rule->severity,
                     .caution = rule->rule->caution,
                     .reason = rule->rule->why,
                     .record = rule->rule->record,
                     .source = rule->rule->source,
                     .connector = rule->connector};
    g_strlcpy(item.id, rule->rule->id, sizeof item.id);
    item.act = fired_rule_phrase(rule, facts, rule->rule->act);
    item.why = fired_rule_phrase(rule, facts, rule->rule->what);
    if (of_neck) {
      item.why.word = item.why.text;
      item.why.text = places > 1 ? N_("{place} and others: {word}") : N_("{place}: {word}");
    }
    add(list, facts, &item);
  }
}

/* What is ticked, or lies behind where the work stands, is done; the first that is not comes now.
 */
static void states_give(GArray *list, const Facts *facts)
{
  bool now = false;
  for (guint i = 0; i < list->len; i++) {
    WorkItem *item = &g_array_index(list, WorkItem, i);
    bool passed = item->severity == SEVERITY_NOTE && item->step < facts->c->step;
    item->state = item->tick || passed ? WORK_DONE : now ? WORK_WAITS : WORK_NOW;
    now = now || item->state == WORK_NOW;
  }
}

GArray *worklist_make(const Facts *facts, const GArray *fired)
{
  GArray *list = g_array_new(FALSE, TRUE, sizeof(WorkItem));
  size_t next = 0;
  for (int step = STEP_INTAKE; step < STEP_END; step++) {
    add_rules(list, facts, fired, (JobStep)step);
    if (step == STEP_DRAWING)
      add_redraw(list, facts, fired);
    for (; next < sizeof plain / sizeof *plain && (int)plain[next].step == step; next++) {
      WorkItem item = {.step = plain[next].step,
                       .severity = SEVERITY_NOTE,
                       .caution = plain[next].caution,
                       .reason = plain[next].reason,
                       .record = plain[next].record,
                       .source = N_("common practice, no source"),
                       .connector = SIZE_MAX};
      g_strlcpy(item.id, plain[next].id, sizeof item.id);
      item.act =
          (Phrase){.text = plain[next].act,
                   .value = {facts->c->brush_mm, facts->c->enlargement, facts->c->cutter_diameter}};
      item.why = (Phrase){.text = plain[next].why, .value = {facts->c->brush_mm}};
      add(list, facts, &item);
    }
  }
  states_give(list, facts);
  return list;
}
