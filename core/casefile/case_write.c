/* case_write.c - a case as XML that a person can read.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Only what is recorded is written, drawn outlines only: proposed ones stand as their sizes. */
#include "casefile/case_entry.h"
#include "casefile/case_fields.h"
#include "casefile/case_parts.h"
#include "casefile/variant.h"
#include <string.h>

#define OUTLINE_BUFFER 4096

static void write_stiffness(GString *out, const char *name, double value)
{
  if (isinf(value))
    write_text(out, name, "rigid");
  else
    write_number(out, name, value);
}

static void write_unit(GString *out, const Unit *unit)
{
  g_string_append_printf(out, "    <unit tooth=\"%d\"", unit->tooth);
  attributes_write(out, &unit_element, unit);
  if (unit->support != SUPPORT_MID)
    write_word(out, "support", WORDS_SUPPORT, (int)unit->support);
  if (unit->support == SUPPORT_OWN) {
    write_stiffness(out, "axial", unit->own.axial_n_mm);
    write_stiffness(out, "rotation", unit->own.rotation_n_mm_rad);
  }
  g_string_append(out, "/>\n");
}

/* The path data of an outline, and the end of its element. */
static void write_path(GString *out, const Outline *outline)
{
  char small[OUTLINE_BUFFER];
  size_t need = outline_to_path(outline, small, sizeof small);
  g_autofree char *large = need < sizeof small ? NULL : g_malloc(need + 1);
  if (large)
    outline_to_path(outline, large, need + 1);
  write_text(out, "d", large ? large : small);
  g_string_append(out, "/>\n");
}

/* side SIDE_N: an element that stands for no side */
static void write_outline(GString *out, const char *element, int side, const Outline *outline)
{
  g_string_append_printf(out, "      <%s", element);
  if (side < SIDE_N)
    write_word(out, "side", WORDS_SIDE, side);
  write_path(out, outline);
}

static void write_variant(GString *out, const Variant *variant)
{
  g_string_append(out, "      <variant");
  write_text(out, "name", variant->name);
  g_string_append(out, ">\n");
  for (int side = 0; side < SIDE_N; side++)
    if (variant->as.drawn[side] && variant->as.side[side].n > 0)
      write_outline(out, "outline", side, &variant->as.side[side]);
  for (size_t e = 0; e < LOOK_ELEMENTS; e++)
    element_write(out, "        ", &look_element[e], &variant->as);
  g_string_append(out, "      </variant>\n");
}

static void write_approved_section(GString *out, const Connector *k)
{
  if (isnan(k->approved_roundness_neck))
    return;
  g_string_append_printf(out, "      <%s", approved_section_element.name);
  attributes_write(out, &approved_section_element, k);
  if (k->approved_section.n > 0)
    write_path(out, &k->approved_section);
  else
    g_string_append(out, "/>\n");
}

void case_write_connector(GString *out, const Case *c, size_t i)
{
  const Connector *k = &c->connector[i];
  char name[12];
  connector_name(c, i, '-', name);
  g_string_append_printf(out, "    <connector between=\"%s\">\n", name);
  for (int side = 0; side < SIDE_N; side++)
    if (k->drawn[side] && k->side[side].n > 0)
      write_outline(out, "outline", side, &k->side[side]);
  for (int side = 0; side < SIDE_N; side++)
    if (k->approved[side].n > 0)
      write_outline(out, "approved", side, &k->approved[side]);
  write_approved_section(out, k);
  if (k->section.n > 0) {
    g_string_append(out, "      <section");
    write_path(out, &k->section);
  }
  if (k->room.n > 0)
    write_outline(out, "room", SIDE_N, &k->room);
  for (guint v = 0; v < k->variant->len; v++)
    write_variant(out, k->variant->pdata[v]);
  for (size_t e = 0; e < CONNECTOR_ELEMENTS; e++)
    element_write(out, "      ", &connector_element[e], k);
  for (guint e = 0; e < k->event->len; e++)
    element_write(out, "      ", &event_element, &g_array_index(k->event, SurfaceEvent, e));
  write_photo(out, "      ", &k->photo);
  g_string_append(out, "    </connector>\n");
}

static void write_intake(GString *out, const Case *c)
{
  element_write(out, "  ", &intake_element[0], c);
  if (!isnan(c->trial.x) || c->trial.force_n != c->order_load_n)
    element_write(out, "  ", &trial_element, &c->trial);
  write_load_cases(out, c);
  element_write(out, "  ", &intake_element[1], c);
  material_write(out, "  ", &c->material);
}

void write_between(GString *out, const Case *c, size_t connector)
{
  if (connector >= c->n_unit || connector + 1 >= c->n_unit)
    return;
  char name[12];
  connector_name(c, connector, '-', name);
  write_text(out, "between", name);
}

static void write_origin(GString *out, const Case *c)
{
  bool placed = c->origin.connector < c->n_unit && c->origin.connector + 1 < c->n_unit;
  g_autoptr(GString) rest = g_string_new(NULL);
  attributes_write(rest, &origin_element, &c->origin);
  if (!placed && rest->len == 0)
    return;
  g_string_append_printf(out, "  <%s", origin_element.name);
  write_between(out, c, c->origin.connector);
  g_string_append_printf(out, "%s/>\n", rest->str);
}

static void write_records(GString *out, const Case *c)
{
  if (c->tick->len > 0)
    g_string_append(out, "  <ticks>\n");
  for (guint i = 0; i < c->tick->len; i++) {
    g_string_append(out, "    <tick");
    attributes_write(out, &tick_element, c->tick->pdata[i]);
    g_string_append(out, "/>\n");
  }
  if (c->tick->len > 0)
    g_string_append(out, "  </ticks>\n");
  write_remarks(out, c);
  write_history(out, c);
}

GString *case_to_xml(const Case *c)
{
  GString *out = g_string_new(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<!-- Sizes in mm after firing; x = 0 neck, y = 0 tissue line, y up to the biting side. -->\n"
      "<case xmlns=\"" CASE_NAMESPACE "\" version=\"1\"");
  g_string_append(out, " number=\""); /* always there, even when empty */
  write_escaped(out, c->number);
  g_string_append_c(out, '"');
  attributes_write(out, &root_element, c);
  g_string_append(out, ">\n");
  write_intake(out, c);
  g_string_append(out, "  <units>\n");
  for (size_t i = 0; i < c->n_unit; i++)
    write_unit(out, &c->unit[i]);
  g_string_append(out, "  </units>\n  <connectors>\n");
  for (size_t i = 0; i + 1 < c->n_unit; i++)
    case_write_connector(out, c, i);
  g_string_append(out, "  </connectors>\n");
  for (size_t i = 0; i < BENCH_ELEMENTS; i++)
    element_write(out, "  ", &bench_element[i], c);
  write_origin(out, c);
  write_records(out, c);
  g_string_append(out, CASE_END);
  return out;
}
