/* merge_part.c - see merge_part.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whether a part differs is asked by taking it: what is not taken cannot be told apart either, and
 * test_case_merge.c sees that all parts together are the whole case. */
#include "lab/merge_part.h"
#include "casefile/photo.h"
#include <stdint.h>
#include <string.h>

bool cases_same_teeth(const Case *a, const Case *b)
{
  bool same = a->n_unit == b->n_unit;
  for (size_t i = 0; i < a->n_unit && same; i++)
    same = a->unit[i].tooth == b->unit[i].tooth;
  return same;
}

bool part_of_connector(CasePart part)
{
  return part == PART_CONNECTOR || part == PART_FINISH || part == PART_PHOTO;
}

size_t connector_in(const Case *to, const Case *from, size_t i)
{
  if (i == SIZE_MAX || i + 1 >= from->n_unit)
    return SIZE_MAX;
  for (size_t k = 0; k + 1 < to->n_unit; k++)
    if (to->unit[k].tooth == from->unit[i].tooth &&
        to->unit[k + 1].tooth == from->unit[i + 1].tooth)
      return k;
  return SIZE_MAX;
}

static void text_take(char **to, const char *from)
{
  char *copy = g_strdup(from);
  g_free(*to);
  *to = copy;
}

static void order_take(Case *to, const Case *from)
{
  text_take(&to->number, from->number);
  text_take(&to->title, from->title);
  text_take(&to->author, from->author);
  text_take(&to->approver, from->approver);
  to->order_load_n = from->order_load_n;
  memcpy(to->load_case, from->load_case, sizeof to->load_case);
  to->n_load_case = from->n_load_case;
  to->service = from->service;
  to->brush_mm = from->brush_mm;
  to->free_height = from->free_height;
  to->arch_bow = from->arch_bow;
  to->grinding_habit = from->grinding_habit;
}

static void material_take(Case *to, const Case *from)
{
  to->material = from->material;
  text_take(&to->blank_batch, from->blank_batch);
  to->enlargement = from->enlargement;
  to->enlargement_label = from->enlargement_label;
  to->cutter_diameter = from->cutter_diameter;
}

static void bridge_take(Case *to, const Case *from)
{
  to->step = from->step;
  to->inside = from->inside;
  to->edges = from->edges;
  to->biting_face = from->biting_face;
  to->fit = from->fit;
  to->soft_handled = from->soft_handled;
  text_take(&to->firing_record, from->firing_record);
  to->firings = from->firings;
  to->firings_limit = from->firings_limit;
  to->planned_span = from->planned_span;
  to->fired_span = from->fired_span;
  to->fast_firing = from->fast_firing;
  to->thickest = from->thickest;
  to->thickest_fast = from->thickest_fast;
  text_take(&to->dentist_note, from->dentist_note);
}

static void break_take(Case *to, const Case *from)
{
  BreakOrigin origin = from->origin;
  origin.connector = connector_in(to, from, from->origin.connector);
  origin.seen = g_strdup(from->origin.seen);
  origin.photo = g_strdup(from->origin.photo);
  g_free(to->origin.seen);
  g_free(to->origin.photo);
  to->origin = origin;
}

static Fault connector_take(Connector *to, const Connector *from)
{
  Fault fault = outline_copy(&to->section, &from->section);
  if (!fault)
    fault = outline_copy(&to->room, &from->room);
  for (int side = 0; side < SIDE_N && !fault; side++) {
    fault = outline_copy(&to->side[side], &from->side[side]);
    to->drawn[side] = from->drawn[side];
  }
  to->roof_doubt_percent = from->roof_doubt_percent;
  to->neck_width = from->neck_width;
  to->groove_y = from->groove_y;
  to->groove_radius = from->groove_radius;
  to->groove_open_deg = from->groove_open_deg;
  to->plan_radius = from->plan_radius;
  to->roundness_neck = from->roundness_neck;
  to->roundness_body = from->roundness_body;
  to->cut_back = from->cut_back;
  to->wall = from->wall;
  to->pin_distance = from->pin_distance;
  to->weaker_layer = from->weaker_layer;
  return fault;
}

static void finish_take(Connector *to, const Connector *from)
{
  memcpy(to->finish, from->finish, sizeof to->finish);
  to->polish_steps = from->polish_steps;
  GArray *event = g_array_copy(from->event);
  g_array_unref(to->event);
  to->event = event;
  to->brush_passes = from->brush_passes;
  to->measured_height = from->measured_height;
  to->soft_height = from->soft_height;
  to->papilla = from->papilla;
  to->dye = from->dye;
  to->light = from->light;
}

static void photo_take(Connector *to, const Connector *from)
{
  Photo photo = photo_copy(&from->photo);
  photo_clear(&to->photo);
  to->photo = photo;
}

static Fault units_take(Case *to, const Case *from)
{
  bool same = cases_same_teeth(to, from);
  size_t origin =
      to->origin.connector == SIZE_MAX ? SIZE_MAX : connector_in(from, to, to->origin.connector);
  memcpy(to->unit, from->unit, sizeof to->unit);
  to->n_unit = from->n_unit;
  to->origin.connector = origin;
  Fault fault = FAULT_NONE;
  for (size_t i = 0; !same && i < G_N_ELEMENTS(to->connector) && !fault; i++)
    fault = connector_copy(&to->connector[i], &from->connector[i]);
  return fault;
}

Fault part_take(Case *to, const Case *from, CasePart part, size_t connector)
{
  bool of_connector = part_of_connector(part);
  if (of_connector && (!cases_same_teeth(to, from) || connector + 1 >= to->n_unit))
    return FAULT_RANGE;
  Connector *k = of_connector ? &to->connector[connector] : NULL;
  switch (part) {
  case PART_ORDER:
    order_take(to, from);
    break;
  case PART_MATERIAL:
    material_take(to, from);
    break;
  case PART_UNITS:
    return units_take(to, from);
  case PART_CONNECTOR:
    return connector_take(k, &from->connector[connector]);
  case PART_FINISH:
    finish_take(k, &from->connector[connector]);
    break;
  case PART_PHOTO:
    photo_take(k, &from->connector[connector]);
    break;
  case PART_BRIDGE:
    bridge_take(to, from);
    break;
  case PART_BREAK:
    break_take(to, from);
    break;
  case PART_LIST:
  case PART_REMARKS:
  case PART_N:
  default:
    return FAULT_RANGE;
  }
  return FAULT_NONE;
}

Fault part_differs(const Case *a, const Case *b, CasePart part, size_t connector, bool *differs)
{
  Case taken;
  case_init(&taken);
  Fault fault = case_copy(&taken, a);
  if (!fault)
    fault = part_take(&taken, b, part, connector);
  if (!fault)
    *differs = !case_equal(&taken, a);
  case_clear(&taken);
  return fault;
}
