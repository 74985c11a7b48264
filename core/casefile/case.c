/* case.c - life of a case: empty, copied, compared, cleared.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Invariant: after case_init() every string, array and outline exists, whatever n_unit is. */
#include "casefile/case.h"
#include "casefile/load_case.h"
#include "base/tolerance.h"
#include "casefile/case_entry.h"
#include "casefile/case_fields.h"
#include "casefile/case_parts.h"
#include "casefile/material_xml.h"
#include "casefile/photo.h"
#include "casefile/variant.h"
#include <stdint.h>
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

static gpointer tick_copy(gconstpointer data, gpointer unused)
{
  (void)unused;
  const Tick *from = data;
  Tick *tick = g_new(Tick, 1);
  *tick = (Tick){g_strdup(from->step), g_strdup(from->initials), g_strdup(from->time)};
  return tick;
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
      .approved_roundness_neck = NAN,
      .approved_roundness_body = NAN,
      .roof_doubt_percent = NAN,
      .measured_height = NAN,
      .soft_height = NAN,
      .papilla = NAN,
      .cut_back = NAN,
      .wall = NAN,
      .pin_distance = NAN,
      .event = g_array_new(FALSE, TRUE, sizeof(SurfaceEvent)),
      .variant = g_ptr_array_new_with_free_func((GDestroyNotify)variant_free),
  };
  outline_init(&connector->section);
  outline_init(&connector->approved_section);
  photo_init(&connector->photo);
  for (int side = 0; side < SIDE_N; side++) {
    outline_init(&connector->side[side]);
    outline_init(&connector->approved[side]);
  }
  outline_init(&connector->room);
}

const Outline *connector_section(const Connector *connector)
{
  return connector->section.n > 0 ? &connector->section : NULL;
}

void connector_clear(Connector *connector)
{
  for (int side = 0; side < SIDE_N; side++) {
    outline_clear(&connector->side[side]);
    outline_clear(&connector->approved[side]);
  }
  outline_clear(&connector->section);
  outline_clear(&connector->approved_section);
  outline_clear(&connector->room);
  g_clear_pointer(&connector->event, g_array_unref);
  photo_clear(&connector->photo);
  g_clear_pointer(&connector->variant, g_ptr_array_unref);
}

Fault connector_copy(Connector *to, const Connector *from)
{
  if (to == from)
    return FAULT_NONE;
  Connector copy = *from;
  outline_init(&copy.section);
  outline_init(&copy.approved_section);
  for (int side = 0; side < SIDE_N; side++) {
    outline_init(&copy.side[side]);
    outline_init(&copy.approved[side]);
  }
  outline_init(&copy.room);
  copy.event = g_array_copy(from->event);
  copy.photo = photo_copy(&from->photo);
  copy.variant = g_ptr_array_new_with_free_func((GDestroyNotify)variant_free);
  variants_copy(copy.variant, from->variant);
  Fault fault = outline_copy(&copy.section, &from->section);
  if (!fault)
    fault = outline_copy(&copy.approved_section, &from->approved_section);
  if (!fault)
    fault = outline_copy(&copy.room, &from->room);
  for (int side = 0; side < SIDE_N && !fault; side++) {
    fault = outline_copy(&copy.side[side], &from->side[side]);
    if (!fault)
      fault = outline_copy(&copy.approved[side], &from->approved[side]);
  }
  if (fault) {
    connector_clear(&copy);
    return fault;
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
      .service = {NAN, NAN},
      .firing_record = g_strdup(""),
      .author = g_strdup(""),
      .approver = g_strdup(""),
      .order_load_n = DEFAULT_LOAD_N,
      .trial = {NAN, DEFAULT_LOAD_N},
      .enlargement = NAN,
      .enlargement_label = NAN,
      .cutter_diameter = NAN,
      .brush_mm = NAN,
      .free_height = NAN,
      .arch_bow = NAN,
      .step = STEP_DRAWING,
      .firings = NAN,
      .firings_limit = NAN,
      .planned_span = NAN,
      .fired_span = NAN,
      .thickest = NAN,
      .thickest_fast = NAN,
      .dentist_note = g_strdup(""),
      .origin = {.connector = SIZE_MAX,
                 .at_x = NAN,
                 .depth = NAN,
                 .at_y = NAN,
                 .load_n = NAN,
                 .years = NAN,
                 .seen = g_strdup(""),
                 .photo = g_strdup("")},
      .tick = g_ptr_array_new_with_free_func(tick_free),
      .history = g_ptr_array_new_with_free_func(history_entry_free),
      .remark = g_ptr_array_new_with_free_func(remark_free),
  };
  const Material *standard = material_find("3y");
  if (standard)
    c->material = *standard;
  for (size_t i = 0; i < G_N_ELEMENTS(c->connector); i++)
    connector_init(&c->connector[i]);
}

double case_cutter_radius(const Case *c)
{
  return c->cutter_diameter / 2 / c->enlargement;
}

Service case_service(const Case *c)
{
  const Service *s = &c->service;
  return (Service){isnan(s->bites_a_day) ? SERVICE_BITES_A_DAY : s->bites_a_day,
                   isnan(s->years) ? SERVICE_YEARS : s->years};
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
  g_free(c->dentist_note);
  g_free(c->origin.seen);
  g_free(c->origin.photo);
  g_clear_pointer(&c->tick, g_ptr_array_unref);
  g_clear_pointer(&c->history, g_ptr_array_unref);
  g_clear_pointer(&c->remark, g_ptr_array_unref);
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
  copy.dentist_note = g_strdup(from->dentist_note);
  copy.origin.seen = g_strdup(from->origin.seen);
  copy.origin.photo = g_strdup(from->origin.photo);
  copy.tick = g_ptr_array_copy(from->tick, tick_copy, NULL);
  g_ptr_array_set_free_func(copy.tick, tick_free);
  copy.history = history_copy(from->history);
  copy.remark = remarks_copy(from->remark);
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
  return a->tooth == b->tooth && a->support == b->support &&
         (a->support != SUPPORT_OWN ||
          (same(a->own.axial_n_mm, b->own.axial_n_mm) &&
           same(a->own.rotation_n_mm_rad, b->own.rotation_n_mm_rad))) &&
         attributes_equal(&unit_element, a, b);
}

static bool events_equal(const GArray *a, const GArray *b)
{
  if (a->len != b->len)
    return false;
  for (guint i = 0; i < a->len; i++)
    if (!attributes_equal(&event_element, &g_array_index(a, SurfaceEvent, i),
                          &g_array_index(b, SurfaceEvent, i)))
      return false;
  return true;
}

static bool connector_equal(const Connector *a, const Connector *b);

static bool variants_equal(const GPtrArray *a, const GPtrArray *b)
{
  if (a->len != b->len)
    return false;
  for (guint i = 0; i < a->len; i++) {
    const Variant *p = a->pdata[i], *q = b->pdata[i];
    if (strcmp(p->name, q->name) != 0 || !connector_equal(&p->as, &q->as))
      return false;
  }
  return true;
}

static bool connector_equal(const Connector *a, const Connector *b)
{
  for (int side = 0; side < SIDE_N; side++)
    if (a->drawn[side] != b->drawn[side] ||
        (a->drawn[side] && !outline_equal(&a->side[side], &b->side[side], FILE_TOLERANCE_MM)) ||
        !outline_equal(&a->approved[side], &b->approved[side], FILE_TOLERANCE_MM))
      return false;
  if (!outline_equal(&a->section, &b->section, FILE_TOLERANCE_MM) ||
      !outline_equal(&a->approved_section, &b->approved_section, FILE_TOLERANCE_MM) ||
      !attributes_equal(&approved_section_element, a, b))
    return false;
  for (size_t i = 0; i < CONNECTOR_ELEMENTS; i++)
    if (!attributes_equal(&connector_element[i], a, b))
      return false;
  if (!outline_equal(&a->room, &b->room, FILE_TOLERANCE_MM))
    return false;
  return events_equal(a->event, b->event) && photo_equal(&a->photo, &b->photo) &&
         variants_equal(a->variant, b->variant);
}

static bool records_equal(const Case *a, const Case *b)
{
  if (a->tick->len != b->tick->len)
    return false;
  for (guint i = 0; i < a->tick->len; i++)
    if (!attributes_equal(&tick_element, a->tick->pdata[i], b->tick->pdata[i]))
      return false;
  return history_equal(a->history, b->history) && remarks_equal(a->remark, b->remark);
}

/* All but the connectors, the trial load and what was recorded. */
static bool bridge_equal(const Case *a, const Case *b)
{
  if (a->n_unit != b->n_unit || strcmp(a->number, b->number) != 0 ||
      !attributes_equal(&root_element, a, b) || !material_equal(&a->material, &b->material) ||
      a->n_load_case != b->n_load_case)
    return false;
  for (size_t i = 0; i < a->n_load_case; i++)
    if (!load_case_equal(&a->load_case[i], &b->load_case[i]))
      return false;
  for (size_t i = 0; i < INTAKE_ELEMENTS; i++)
    if (!attributes_equal(&intake_element[i], a, b))
      return false;
  for (size_t i = 0; i < BENCH_ELEMENTS; i++)
    if (!attributes_equal(&bench_element[i], a, b))
      return false;
  for (size_t i = 0; i < a->n_unit; i++)
    if (!unit_equal(&a->unit[i], &b->unit[i]))
      return false;
  return true;
}

bool case_alike(const Case *a, const Case *b, size_t connector)
{
  bool alike = bridge_equal(a, b);
  for (size_t i = 0; i + 1 < a->n_unit && alike; i++)
    if (connector == i || connector == SIZE_MAX)
      alike = connector_equal(&a->connector[i], &b->connector[i]);
  return alike;
}

bool case_equal(const Case *a, const Case *b)
{
  return case_alike(a, b, SIZE_MAX) && attributes_equal(&trial_element, &a->trial, &b->trial) &&
         attributes_equal(&origin_element, &a->origin, &b->origin) &&
         a->origin.connector == b->origin.connector && records_equal(a, b);
}

void connector_name(const Case *c, size_t connector, char sep, char name[12])
{
  /* tooth numbers are kept short here even when they are not valid */
  int before = c->unit[connector].tooth % 1000, after = c->unit[connector + 1].tooth % 1000;
  snprintf(name, 12, "%d%c%d", before, sep, after);
}

size_t connector_named(const Case *c, const char *name)
{
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    char dash[12], slash[12];
    connector_name(c, i, '-', dash);
    connector_name(c, i, '/', slash);
    if (strcmp(name, dash) == 0 || strcmp(name, slash) == 0)
      return i;
  }
  return SIZE_MAX;
}
