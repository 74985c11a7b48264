/* case.c - life of a case: empty, copied, compared, cleared.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Invariant: after case_init() every string, array and outline exists, whatever n_unit is. */
#include "casefile/case.h"
#include "base/tolerance.h"
#include "casefile/material_xml.h"
#include <stdio.h>
#include <string.h>

#define DEFAULT_LOAD_N 600.0 /* teaching value for a back bridge, core/SOURCES.md "loads" */
/* Path data are kept with six decimals, so a point may move by 0.7e-6 mm on its way through a file.
 */
#define FILE_TOLERANCE_MM 2e-6

static void tick_free(gpointer data)
{
  Tick *tick = data;
  g_free(tick->step);
  g_free(tick->initials);
  g_free(tick->time);
  g_free(tick);
}

static void history_entry_free(gpointer data)
{
  HistoryEntry *entry = data;
  g_free(entry->time);
  g_free(entry->role);
  g_free(entry->initials);
  g_free(entry->text);
  g_free(entry);
}

static gpointer tick_copy(gconstpointer data, gpointer unused)
{
  (void)unused;
  const Tick *from = data;
  Tick *tick = g_new(Tick, 1);
  *tick = (Tick){g_strdup(from->step), g_strdup(from->initials), g_strdup(from->time)};
  return tick;
}

static gpointer history_entry_copy(gconstpointer data, gpointer unused)
{
  (void)unused;
  const HistoryEntry *from = data;
  HistoryEntry *entry = g_new(HistoryEntry, 1);
  *entry = (HistoryEntry){g_strdup(from->time), g_strdup(from->role), g_strdup(from->initials),
                          g_strdup(from->text)};
  return entry;
}

void connector_init(Connector *connector)
{
  *connector = (Connector){
      .neck_width = NAN,
      .groove_y = NAN,
      .groove_radius = NAN,
      .groove_open_deg = NAN,
      .plan_radius = NAN,
      .roundness_neck = 2,
      .roundness_body = 4,
      .measured_height = NAN,
      .soft_height = NAN,
      .papilla = NAN,
      .event = g_array_new(FALSE, TRUE, sizeof(SurfaceEvent)),
  };
  for (int side = 0; side < SIDE_N; side++)
    outline_init(&connector->side[side]);
}

void connector_clear(Connector *connector)
{
  for (int side = 0; side < SIDE_N; side++)
    outline_clear(&connector->side[side]);
  g_clear_pointer(&connector->event, g_array_unref);
}

Fault connector_copy(Connector *to, const Connector *from)
{
  if (to == from)
    return FAULT_NONE;
  Connector copy = *from;
  for (int side = 0; side < SIDE_N; side++)
    outline_init(&copy.side[side]);
  copy.event = g_array_copy(from->event);
  for (int side = 0; side < SIDE_N; side++) {
    Fault fault = outline_copy(&copy.side[side], &from->side[side]);
    if (fault) {
      connector_clear(&copy);
      return fault;
    }
  }
  connector_clear(to);
  *to = copy;
  return FAULT_NONE;
}

void case_init(Case *c)
{
  *c = (Case){
      .number = g_strdup(""),
      .title = g_strdup(""),
      .blank_batch = g_strdup(""),
      .firing_record = g_strdup(""),
      .author = g_strdup(""),
      .approver = g_strdup(""),
      .order_load_n = DEFAULT_LOAD_N,
      .trial = {NAN, DEFAULT_LOAD_N},
      .enlargement = NAN,
      .cutter_diameter = NAN,
      .brush_mm = NAN,
      .free_height = NAN,
      .arch_bow = NAN,
      .step = STEP_DRAWING,
      .firings = NAN,
      .firings_limit = NAN,
      .planned_span = NAN,
      .fired_span = NAN,
      .tick = g_ptr_array_new_with_free_func(tick_free),
      .history = g_ptr_array_new_with_free_func(history_entry_free),
  };
  const Material *standard = material_find("3y");
  if (standard)
    c->material = *standard;
  for (size_t i = 0; i < G_N_ELEMENTS(c->connector); i++)
    connector_init(&c->connector[i]);
}

void case_clear(Case *c)
{
  for (size_t i = 0; i < G_N_ELEMENTS(c->connector); i++)
    connector_clear(&c->connector[i]);
  g_free(c->number);
  g_free(c->title);
  g_free(c->blank_batch);
  g_free(c->firing_record);
  g_free(c->author);
  g_free(c->approver);
  g_clear_pointer(&c->tick, g_ptr_array_unref);
  g_clear_pointer(&c->history, g_ptr_array_unref);
  *c = (Case){0};
}

Fault case_copy(Case *to, const Case *from)
{
  if (to == from)
    return FAULT_NONE;
  Case copy = *from;
  for (size_t i = 0; i < G_N_ELEMENTS(copy.connector); i++)
    connector_init(&copy.connector[i]);
  copy.number = g_strdup(from->number);
  copy.title = g_strdup(from->title);
  copy.blank_batch = g_strdup(from->blank_batch);
  copy.firing_record = g_strdup(from->firing_record);
  copy.author = g_strdup(from->author);
  copy.approver = g_strdup(from->approver);
  copy.tick = g_ptr_array_copy(from->tick, tick_copy, NULL);
  g_ptr_array_set_free_func(copy.tick, tick_free);
  copy.history = g_ptr_array_copy(from->history, history_entry_copy, NULL);
  g_ptr_array_set_free_func(copy.history, history_entry_free);
  Fault fault = FAULT_NONE;
  for (size_t i = 0; i < G_N_ELEMENTS(copy.connector) && !fault; i++)
    fault = connector_copy(&copy.connector[i], &from->connector[i]);
  if (fault) {
    case_clear(&copy);
    return fault;
  }
  case_clear(to);
  *to = copy;
  return FAULT_NONE;
}

/* ---- equality ---- */

static bool same(double a, double b)
{
  return a == b || (isnan(a) && isnan(b));
}

static bool unit_equal(const Unit *a, const Unit *b)
{
  return a->tooth == b->tooth && a->role == b->role && same(a->length, b->length) &&
         same(a->width, b->width) && same(a->height, b->height) && a->support == b->support &&
         (a->support != SUPPORT_OWN ||
          (same(a->own.axial_n_mm, b->own.axial_n_mm) &&
           same(a->own.rotation_n_mm_rad, b->own.rotation_n_mm_rad))) &&
         a->saddle == b->saddle && a->saddle_shape == b->saddle_shape;
}

static bool events_equal(const GArray *a, const GArray *b)
{
  if (a->len != b->len)
    return false;
  for (guint i = 0; i < a->len; i++) {
    const SurfaceEvent *p = &g_array_index(a, SurfaceEvent, i);
    const SurfaceEvent *q = &g_array_index(b, SurfaceEvent, i);
    if (p->kind != q->kind || p->water != q->water || !same(p->at_x, q->at_x) ||
        !same(p->depth, q->depth) || !same(p->edge_radius, q->edge_radius))
      return false;
  }
  return true;
}

static bool connector_equal(const Connector *a, const Connector *b)
{
  for (int side = 0; side < SIDE_N; side++)
    if (a->drawn[side] != b->drawn[side] ||
        (a->drawn[side] && !outline_equal(&a->side[side], &b->side[side], FILE_TOLERANCE_MM)))
      return false;
  return memcmp(a->finish, b->finish, sizeof a->finish) == 0 && events_equal(a->event, b->event) &&
         a->dye == b->dye && a->light == b->light && same(a->neck_width, b->neck_width) &&
         same(a->groove_y, b->groove_y) && same(a->groove_radius, b->groove_radius) &&
         same(a->groove_open_deg, b->groove_open_deg) && same(a->plan_radius, b->plan_radius) &&
         same(a->roundness_neck, b->roundness_neck) && same(a->roundness_body, b->roundness_body) &&
         same(a->measured_height, b->measured_height) && same(a->soft_height, b->soft_height) &&
         same(a->papilla, b->papilla);
}

static bool material_equal(const Material *a, const Material *b)
{
  return strcmp(a->id, b->id) == 0 && strcmp(a->name, b->name) == 0 &&
         same(a->young_mpa, b->young_mpa) && same(a->poisson, b->poisson) &&
         same(a->toughness, b->toughness) && same(a->toughness_percent, b->toughness_percent) &&
         same(a->strength_mpa, b->strength_mpa) && same(a->strength_percent, b->strength_percent) &&
         same(a->weibull, b->weibull) && a->bar == b->bar && same(a->bar_span, b->bar_span) &&
         same(a->bar_width, b->bar_width) && same(a->bar_thickness, b->bar_thickness) &&
         strcmp(a->bar_finish, b->bar_finish) == 0 && a->iso_class == b->iso_class &&
         same(a->polish_gain_top, b->polish_gain_top) && strcmp(a->source, b->source) == 0 &&
         strcmp(a->confidence, b->confidence) == 0;
}

static bool records_equal(const Case *a, const Case *b)
{
  if (a->tick->len != b->tick->len || a->history->len != b->history->len)
    return false;
  for (guint i = 0; i < a->tick->len; i++) {
    const Tick *p = g_ptr_array_index(a->tick, i), *q = g_ptr_array_index(b->tick, i);
    if (strcmp(p->step, q->step) != 0 || strcmp(p->initials, q->initials) != 0 ||
        strcmp(p->time, q->time) != 0)
      return false;
  }
  for (guint i = 0; i < a->history->len; i++) {
    const HistoryEntry *p = g_ptr_array_index(a->history, i), *q = g_ptr_array_index(b->history, i);
    if (strcmp(p->time, q->time) != 0 || strcmp(p->role, q->role) != 0 ||
        strcmp(p->initials, q->initials) != 0 || strcmp(p->text, q->text) != 0)
      return false;
  }
  return true;
}

bool case_equal(const Case *a, const Case *b)
{
  if (a->n_unit != b->n_unit)
    return false;
  for (size_t i = 0; i < a->n_unit; i++)
    if (!unit_equal(&a->unit[i], &b->unit[i]))
      return false;
  for (size_t i = 0; i + 1 < a->n_unit; i++)
    if (!connector_equal(&a->connector[i], &b->connector[i]))
      return false;
  return strcmp(a->number, b->number) == 0 && strcmp(a->title, b->title) == 0 &&
         material_equal(&a->material, &b->material) &&
         strcmp(a->blank_batch, b->blank_batch) == 0 && same(a->order_load_n, b->order_load_n) &&
         same(a->trial.x, b->trial.x) && same(a->trial.force_n, b->trial.force_n) &&
         same(a->enlargement, b->enlargement) && same(a->cutter_diameter, b->cutter_diameter) &&
         same(a->brush_mm, b->brush_mm) && same(a->free_height, b->free_height) &&
         same(a->arch_bow, b->arch_bow) && a->grinding_habit == b->grinding_habit &&
         a->soft_handled == b->soft_handled && a->step == b->step && a->inside == b->inside &&
         a->edges == b->edges && a->biting_face == b->biting_face && a->fit == b->fit &&
         strcmp(a->firing_record, b->firing_record) == 0 && same(a->firings, b->firings) &&
         same(a->firings_limit, b->firings_limit) && same(a->planned_span, b->planned_span) &&
         same(a->fired_span, b->fired_span) && strcmp(a->author, b->author) == 0 &&
         strcmp(a->approver, b->approver) == 0 && records_equal(a, b);
}

void connector_name(const Case *c, size_t connector, char sep, char name[12])
{
  /* tooth numbers are kept short here even when they are not valid */
  int before = c->unit[connector].tooth % 1000, after = c->unit[connector + 1].tooth % 1000;
  snprintf(name, 12, "%d%c%d", before, sep, after);
}
