/* case_write.c - a case as XML that a person can read.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Only what is recorded is written, drawn outlines only: proposed ones stand as their sizes. */
#include "casefile/case_parts.h"
#include <string.h>

#define OUTLINE_BUFFER 4096

/* Characters that XML cannot hold become spaces; line ends and tabs survive in attributes. */
void write_escaped(GString *out, const char *text)
{
  char *valid = g_utf8_make_valid(text, -1);
  for (const char *p = valid; *p; p = g_utf8_next_char(p)) {
    gunichar sign = g_utf8_get_char(p);
    if (sign == '&')
      g_string_append(out, "&amp;");
    else if (sign == '<')
      g_string_append(out, "&lt;");
    else if (sign == '>')
      g_string_append(out, "&gt;");
    else if (sign == '"')
      g_string_append(out, "&quot;");
    else if (sign == '\n' || sign == '\t' || sign == '\r')
      g_string_append_printf(out, "&#%u;", (unsigned)sign);
    else if (sign < 0x20 || sign == 0xFFFE || sign == 0xFFFF)
      g_string_append_c(out, ' ');
    else
      g_string_append_unichar(out, sign);
  }
  g_free(valid);
}

void write_text(GString *out, const char *name, const char *text)
{
  if (!text || !*text)
    return;
  g_string_append_printf(out, " %s=\"", name);
  write_escaped(out, text);
  g_string_append_c(out, '"');
}

void write_number(GString *out, const char *name, double value)
{
  char buf[32];
  if (isfinite(value))
    g_string_append_printf(out, " %s=\"%s\"", name, number_to_text(value, buf));
}

void write_word(GString *out, const char *name, WordList list, int value)
{
  write_text(out, name, word_of(list, value));
}

/* Begins an element that is dropped again when nothing was written into it. */
static size_t begin(GString *out, const char *indent, const char *name)
{
  g_string_append_printf(out, "%s<%s", indent, name);
  return out->len;
}

static void end(GString *out, size_t begun, const char *indent, const char *name)
{
  if (out->len == begun)
    g_string_truncate(out, begun - strlen(indent) - 1 - strlen(name));
  else
    g_string_append(out, "/>\n");
}

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
  write_word(out, "role", WORDS_ROLE, (int)unit->role);
  write_number(out, "length", unit->length);
  write_number(out, "width", unit->width);
  write_number(out, "height", unit->height);
  if (unit->support != SUPPORT_MID)
    write_word(out, "support", WORDS_SUPPORT, (int)unit->support);
  if (unit->support == SUPPORT_OWN) {
    write_stiffness(out, "axial", unit->own.axial_n_mm);
    write_stiffness(out, "rotation", unit->own.rotation_n_mm_rad);
  }
  write_word(out, "saddle", WORDS_FINISH, (int)unit->saddle);
  write_word(out, "saddle-shape", WORDS_SADDLE, (int)unit->saddle_shape);
  g_string_append(out, "/>\n");
}

static void write_outline(GString *out, int side, const Outline *outline)
{
  char small[OUTLINE_BUFFER];
  size_t need = outline_to_path(outline, small, sizeof small);
  char *large = need < sizeof small ? NULL : g_malloc(need + 1);
  if (large)
    outline_to_path(outline, large, need + 1);
  g_string_append(out, "      <outline");
  write_word(out, "side", WORDS_SIDE, side);
  write_text(out, "d", large ? large : small);
  g_string_append(out, "/>\n");
  g_free(large);
}

static void write_connector(GString *out, const Case *c, size_t i)
{
  const char *indent = "      ";
  const Connector *k = &c->connector[i];
  char name[12];
  connector_name(c, i, '-', name);
  g_string_append_printf(out, "    <connector between=\"%s\">\n", name);
  for (int side = 0; side < SIDE_N; side++)
    if (k->drawn[side] && k->side[side].n > 0)
      write_outline(out, side, &k->side[side]);
  size_t begun = begin(out, indent, "proposed");
  write_number(out, "neck-width", k->neck_width);
  write_number(out, "groove", k->groove_y);
  write_number(out, "groove-radius", k->groove_radius);
  write_number(out, "groove-opening", k->groove_open_deg);
  write_number(out, "plan-radius", k->plan_radius);
  write_number(out, "roundness-neck", k->roundness_neck);
  write_number(out, "roundness-body", k->roundness_body);
  end(out, begun, indent, "proposed");
  begun = begin(out, indent, "finish");
  for (int zone = 0; zone < ZONE_NECK_N; zone++)
    write_word(out, zone_id((FinishZone)zone), WORDS_FINISH, (int)k->finish[zone]);
  end(out, begun, indent, "finish");
  begun = begin(out, indent, "measured");
  write_number(out, "height", k->measured_height);
  write_number(out, "soft-height", k->soft_height);
  write_number(out, "papilla", k->papilla);
  write_word(out, "dye", WORDS_CHECK, (int)k->dye);
  write_word(out, "light", WORDS_CHECK, (int)k->light);
  end(out, begun, indent, "measured");
  for (guint e = 0; e < k->event->len; e++) {
    const SurfaceEvent *event = &g_array_index(k->event, SurfaceEvent, e);
    g_string_append(out, "      <event");
    write_word(out, "kind", WORDS_EVENT, (int)event->kind);
    write_number(out, "x", event->at_x);
    write_number(out, "depth", event->depth);
    write_number(out, "edge-radius", event->edge_radius);
    write_word(out, "water", WORDS_YES_NO, (int)event->water);
    g_string_append(out, "/>\n");
  }
  g_string_append(out, "    </connector>\n");
}

static void write_order(GString *out, const Case *c)
{
  size_t begun = begin(out, "  ", "order");
  write_number(out, "load", c->order_load_n);
  write_number(out, "brush", c->brush_mm);
  write_word(out, "grinding", WORDS_YES_NO, (int)c->grinding_habit);
  write_number(out, "free-height", c->free_height);
  write_number(out, "arch-bow", c->arch_bow);
  end(out, begun, "  ", "order");
  if (!isnan(c->trial.x) || c->trial.force_n != c->order_load_n) {
    begun = begin(out, "  ", "trial");
    write_number(out, "force", c->trial.force_n);
    write_number(out, "x", c->trial.x);
    end(out, begun, "  ", "trial");
  }
  begun = begin(out, "  ", "blank");
  write_number(out, "enlargement", c->enlargement);
  write_number(out, "cutter", c->cutter_diameter);
  write_text(out, "batch", c->blank_batch);
  end(out, begun, "  ", "blank");
  material_write_element(out, &c->material);
}

static void write_bridge(GString *out, const Case *c)
{
  size_t begun = begin(out, "  ", "bridge");
  write_word(out, zone_id(ZONE_INSIDE), WORDS_FINISH, (int)c->inside);
  write_word(out, zone_id(ZONE_EDGES), WORDS_FINISH, (int)c->edges);
  write_word(out, zone_id(ZONE_BITING_FACE), WORDS_FINISH, (int)c->biting_face);
  write_word(out, "fit", WORDS_FIT, (int)c->fit);
  write_word(out, "soft-handled", WORDS_YES_NO, (int)c->soft_handled);
  end(out, begun, "  ", "bridge");
  begun = begin(out, "  ", "firing");
  write_text(out, "record", c->firing_record);
  write_number(out, "firings", c->firings);
  write_number(out, "limit", c->firings_limit);
  write_number(out, "planned-span", c->planned_span);
  write_number(out, "fired-span", c->fired_span);
  end(out, begun, "  ", "firing");
}

static void write_records(GString *out, const Case *c)
{
  if (c->tick->len > 0)
    g_string_append(out, "  <ticks>\n");
  for (guint i = 0; i < c->tick->len; i++) {
    const Tick *tick = g_ptr_array_index(c->tick, i);
    g_string_append(out, "    <tick");
    write_text(out, "step", tick->step);
    write_text(out, "initials", tick->initials);
    write_text(out, "time", tick->time);
    g_string_append(out, "/>\n");
  }
  if (c->tick->len > 0)
    g_string_append(out, "  </ticks>\n");
  if (c->history->len > 0)
    g_string_append(out, "  <history>\n");
  for (guint i = 0; i < c->history->len; i++) {
    const HistoryEntry *entry = g_ptr_array_index(c->history, i);
    g_string_append(out, "    <entry");
    write_text(out, "time", entry->time);
    write_text(out, "role", entry->role);
    write_text(out, "initials", entry->initials);
    g_string_append_c(out, '>');
    write_escaped(out, entry->text);
    g_string_append(out, "</entry>\n");
  }
  if (c->history->len > 0)
    g_string_append(out, "  </history>\n");
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
  write_text(out, "title", c->title);
  write_word(out, "step", WORDS_STEP, (int)c->step);
  write_text(out, "author", c->author);
  write_text(out, "approver", c->approver);
  g_string_append(out, ">\n");
  write_order(out, c);
  g_string_append(out, "  <units>\n");
  for (size_t i = 0; i < c->n_unit; i++)
    write_unit(out, &c->unit[i]);
  g_string_append(out, "  </units>\n  <connectors>\n");
  for (size_t i = 0; i + 1 < c->n_unit; i++)
    write_connector(out, c, i);
  g_string_append(out, "  </connectors>\n");
  write_bridge(out, c);
  write_records(out, c);
  g_string_append(out, "</case>\n");
  return out;
}
