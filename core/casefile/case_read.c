/* case_read.c - the tree of a case file into a case.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N.  Every message names the line and the remedy.  Ranges here refuse only what no case can
 * hold; whether the case makes sense is case_check()'s question. */
#include "base/tolerance.h"
#include "casefile/case_parts.h"
#include "casefile/material_xml.h"
#include <libxml/tree.h>
#include <stdint.h>
#include <string.h>

#define MOST_CORNERS 256
#define MOST_EVENTS 1000

/* An attribute of words into an enumeration of any type. */
#define READ_WORD(r, node, name, list, target)                                                     \
  do {                                                                                             \
    int word_ = (int)(target);                                                                     \
    read_word(r, node, name, list, &word_);                                                        \
    (target) = (__typeof__(target))word_;                                                          \
  } while (0)

static void read_finish(Reader *r, xmlNode *node, const char *name, FinishState *finish)
{
  int value = (int)*finish;
  read_word(r, node, name, WORDS_FINISH, &value);
  *finish = (FinishState)value;
}

static void read_own_support(Reader *r, xmlNode *node, const char *name, double *value)
{
  char *text = node_attribute(node, name);
  if (text && strcmp(text, "rigid") == 0)
    *value = INFINITY;
  else
    read_number(r, node, name, 0, 1e12, value);
  g_free(text);
}

static bool read_unit(Reader *r, xmlNode *node, Unit *unit)
{
  if (!read_required(r, node, "tooth", "35") || !read_required(r, node, "role", "pontic") ||
      !read_required(r, node, "length", "7") || !read_required(r, node, "width", "8") ||
      !read_required(r, node, "height", "8"))
    return false;
  double tooth = 0;
  *unit = (Unit){.own = {NAN, NAN}};
  read_number(r, node, "tooth", -1e6, 1e6, &tooth);
  unit->tooth = tooth == floor(tooth) ? (int)tooth : 0;
  READ_WORD(r, node, "role", WORDS_ROLE, unit->role);
  read_number(r, node, "length", UNIT_SIZE_MIN_MM, UNIT_SIZE_MAX_MM, &unit->length);
  read_number(r, node, "width", UNIT_SIZE_MIN_MM, UNIT_SIZE_MAX_MM, &unit->width);
  read_number(r, node, "height", UNIT_SIZE_MIN_MM, UNIT_SIZE_MAX_MM, &unit->height);
  READ_WORD(r, node, "support", WORDS_SUPPORT, unit->support);
  read_own_support(r, node, "axial", &unit->own.axial_n_mm);
  read_own_support(r, node, "rotation", &unit->own.rotation_n_mm_rad);
  read_finish(r, node, "saddle", &unit->saddle);
  READ_WORD(r, node, "saddle-shape", WORDS_SADDLE, unit->saddle_shape);
  return !r->failed;
}

static bool read_units(Reader *r, xmlNode *root, Case *c)
{
  xmlNode *units = node_child(root, "units");
  if (!units)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(root), "the case has no <units>. Add them.");
  long line[SPAN_MAX_UNITS] = {0};
  for (xmlNode *node = node_child(units, "unit"); node; node = node_next(node, "unit")) {
    if (c->n_unit == SPAN_MAX_UNITS)
      return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                         "a bridge has at most %d units. Split the case.", SPAN_MAX_UNITS);
    if (!read_unit(r, node, &c->unit[c->n_unit]))
      return false;
    line[c->n_unit++] = node_line(node);
  }
  size_t unit;
  const char *reason;
  if (!case_check_units(c, &unit, &reason))
    return unit == SIZE_MAX ? reader_fail(r, CASE_ERROR_VALUE, node_line(units), "%s", reason)
                            : reader_fail(r, CASE_ERROR_VALUE, line[unit], "unit %zu (%d): %s",
                                          unit + 1, c->unit[unit].tooth, reason);
  return true;
}

/* ---- connectors ---- */

static bool read_path(Reader *r, xmlNode *node, const char *d, Outline *outline)
{
  size_t bad_at = 0;
  Fault fault = outline_from_path(outline, d, &bad_at);
  if (fault)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "the path data of <outline> is wrong at character %zu. Correct it: \"M x y "
                       "L x y C ...\" in mm.",
                       bad_at + 1);
  fault = outline_check(outline);
  if (!fault && outline->closed)
    fault = FAULT_DEGENERATE;
  if (fault)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "the path of <outline> is no open line within %g mm: %s", MAX_SIZE_MM,
                       fault_text(fault));
  if (outline->knot[0].at.x > outline->knot[outline->n - 1].at.x)
    outline_reverse(outline);
  return true;
}

static bool read_corners(Reader *r, xmlNode *node, const char *text, const Neighbours *around,
                         Outline *outline)
{
  Corner corner[MOST_CORNERS];
  size_t n, bad_at;
  if (!corners_from_text(text, corner, MOST_CORNERS, &n, &bad_at))
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "the corners of <outline> are wrong at character %zu. Write them like "
                       "\"(-1.4, 0) (0, 2.9; r 0.2) (1.4, 0)\".",
                       bad_at + 1);
  Fault fault = shape_gingival(corner, n, around, outline);
  if (fault)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "these corners make no outline: a radius is too large for its legs, or a "
                       "foot stands outside "
                       "the units (%s). Correct the corners.",
                       fault_name(fault));
  return true;
}

static bool read_outline(Reader *r, xmlNode *node, const Neighbours *around, Connector *k)
{
  if (!read_required(r, node, "side", "gingival"))
    return false;
  int side = 0;
  read_word(r, node, "side", WORDS_SIDE, &side);
  if (r->failed)
    return false;
  if (k->drawn[side])
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "the %s outline is there twice. Delete one of them.",
                       word_of(WORDS_SIDE, side));
  char *d = node_attribute(node, "d"), *corners = node_attribute(node, "corners");
  if (d)
    read_path(r, node, d, &k->side[side]);
  else if (corners && side == SIDE_GINGIVAL)
    read_corners(r, node, corners, around, &k->side[side]);
  else
    reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                "the %s outline has no path data. Add d=\"M x y ...\"%s.",
                word_of(WORDS_SIDE, side),
                side == SIDE_GINGIVAL ? " or corners=\"(x, y; r R) ...\"" : "");
  k->drawn[side] = !r->failed;
  g_free(d);
  g_free(corners);
  return !r->failed;
}

static bool read_event(Reader *r, xmlNode *node, Connector *k)
{
  SurfaceEvent event = {EVENT_DISC, NAN, NAN, NAN, ANSWER_UNKNOWN};
  if (k->event->len >= MOST_EVENTS)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "there are more than %d events. Delete some.", MOST_EVENTS);
  if (!read_required(r, node, "kind", "disc"))
    return false;
  READ_WORD(r, node, "kind", WORDS_EVENT, event.kind);
  read_number(r, node, "x", -MAX_SIZE_MM, MAX_SIZE_MM, &event.at_x);
  read_number(r, node, "depth", 0, 20, &event.depth);
  read_number(r, node, "edge-radius", 0, 20, &event.edge_radius);
  READ_WORD(r, node, "water", WORDS_YES_NO, event.water);
  g_array_append_val(k->event, event);
  return !r->failed;
}

static bool read_connector(Reader *r, xmlNode *node, const Neighbours *around, Connector *k)
{
  for (xmlNode *o = node_child(node, "outline"); o; o = node_next(o, "outline"))
    if (!read_outline(r, o, around, k))
      return false;
  for (xmlNode *e = node_child(node, "event"); e; e = node_next(e, "event"))
    if (!read_event(r, e, k))
      return false;
  xmlNode *proposed = node_child(node, "proposed"), *finish = node_child(node, "finish");
  xmlNode *measured = node_child(node, "measured");
  if (proposed) {
    read_number(r, proposed, "neck-width", 0.1, UNIT_SIZE_MAX_MM, &k->neck_width);
    read_number(r, proposed, "groove", 0, UNIT_SIZE_MAX_MM, &k->groove_y);
    read_number(r, proposed, "groove-radius", 0, UNIT_SIZE_MAX_MM, &k->groove_radius);
    read_number(r, proposed, "groove-opening", 0, 179, &k->groove_open_deg);
    read_number(r, proposed, "plan-radius", 0, UNIT_SIZE_MAX_MM, &k->plan_radius);
    read_number(r, proposed, "roundness-neck", 1, 50, &k->roundness_neck);
    read_number(r, proposed, "roundness-body", 1, 50, &k->roundness_body);
  }
  for (int zone = 0; finish && zone < ZONE_NECK_N; zone++)
    read_finish(r, finish, zone_id((FinishZone)zone), &k->finish[zone]);
  if (measured) {
    read_number(r, measured, "height", 0, UNIT_SIZE_MAX_MM, &k->measured_height);
    read_number(r, measured, "soft-height", 0, 2 * UNIT_SIZE_MAX_MM, &k->soft_height);
    read_number(r, measured, "papilla", 0, UNIT_SIZE_MAX_MM, &k->papilla);
    READ_WORD(r, measured, "dye", WORDS_CHECK, k->dye);
    READ_WORD(r, measured, "light", WORDS_CHECK, k->light);
  }
  return !r->failed;
}

/* SIZE_MAX when no two neighbours of the bridge bear this name. */
static size_t connector_find(const Case *c, const char *name)
{
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    char known[12];
    connector_name(c, i, '-', known);
    if (strcmp(known, name) == 0)
      return i;
  }
  return SIZE_MAX;
}

static bool read_connectors(Reader *r, xmlNode *root, Case *c)
{
  long line[SPAN_MAX_UNITS] = {0};
  xmlNode *all = node_child(root, "connectors");
  for (xmlNode *node = node_child(all, "connector"); node; node = node_next(node, "connector")) {
    if (!read_required(r, node, "between", "34-35"))
      return false;
    char *name = node_attribute(node, "between");
    size_t i = connector_find(c, name);
    if (i == SIZE_MAX)
      reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                  "no two neighbours of this bridge are called \"%.20s\". Write two teeth in the "
                  "order of the units, "
                  "such as between=\"%d-%d\".",
                  name, c->unit[0].tooth, c->unit[1].tooth);
    else if (line[i])
      reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                  "the connector %s is there twice. Delete one of them.", name);
    g_free(name);
    if (r->failed)
      return false;
    line[i] = node_line(node);
    Neighbours around = case_neighbours(c, i);
    if (!read_connector(r, node, &around, &c->connector[i]))
      return false;
  }
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    Side side = SIDE_GINGIVAL;
    Fault fault = connector_complete(c, i, &side);
    char name[12];
    connector_name(c, i, '/', name);
    if (fault)
      return reader_fail(r, CASE_ERROR_VALUE, line[i] ? line[i] : node_line(root),
                         "%s: no %s outline fits these sizes (%s). Change the sizes in <proposed>, "
                         "or draw the outline.",
                         name, word_of(WORDS_SIDE, (int)side), fault_name(fault));
  }
  return true;
}

/* ---- the rest ---- */

static void read_order(Reader *r, xmlNode *root, Case *c)
{
  xmlNode *node = node_child(root, "order");
  if (node) {
    read_number(r, node, "load", 1, CASE_LOAD_MAX_N, &c->order_load_n);
    read_number(r, node, "brush", 0, 10, &c->brush_mm);
    read_number(r, node, "free-height", 0, UNIT_SIZE_MAX_MM, &c->free_height);
    read_number(r, node, "arch-bow", 0, UNIT_SIZE_MAX_MM, &c->arch_bow);
    READ_WORD(r, node, "grinding", WORDS_YES_NO, c->grinding_habit);
  }
  c->trial = (CaseLoad){NAN, c->order_load_n};
  if ((node = node_child(root, "trial"))) {
    read_number(r, node, "force", 1, CASE_LOAD_MAX_N, &c->trial.force_n);
    read_number(r, node, "x", 0, SPAN_MAX_UNITS * UNIT_SIZE_MAX_MM, &c->trial.x);
  }
  if ((node = node_child(root, "blank"))) {
    read_number(r, node, "enlargement", 1, 2, &c->enlargement);
    read_number(r, node, "cutter", 0.01, 10, &c->cutter_diameter);
    read_text(r, node, "batch", &c->blank_batch);
  }
  if ((node = node_child(root, "material"))) {
    size_t n;
    const Material *shipped = materials_shipped(&n);
    material_read_element(r, node, shipped, n, &c->material);
  }
}

static void read_bridge(Reader *r, xmlNode *root, Case *c)
{
  xmlNode *node = node_child(root, "bridge");
  if (node) {
    read_finish(r, node, zone_id(ZONE_INSIDE), &c->inside);
    read_finish(r, node, zone_id(ZONE_EDGES), &c->edges);
    read_finish(r, node, zone_id(ZONE_BITING_FACE), &c->biting_face);
    READ_WORD(r, node, "fit", WORDS_FIT, c->fit);
    READ_WORD(r, node, "soft-handled", WORDS_YES_NO, c->soft_handled);
  }
  if ((node = node_child(root, "firing"))) {
    read_text(r, node, "record", &c->firing_record);
    read_number(r, node, "firings", 0, 100, &c->firings);
    read_number(r, node, "limit", 0, 100, &c->firings_limit);
    read_number(r, node, "planned-span", 0, MAX_SIZE_MM, &c->planned_span);
    read_number(r, node, "fired-span", 0, MAX_SIZE_MM, &c->fired_span);
  }
}

static char *text_or_empty(xmlNode *node, const char *name)
{
  char *text = node_attribute(node, name);
  return text ? text : g_strdup("");
}

static void read_records(xmlNode *root, Case *c)
{
  for (xmlNode *node = node_child(node_child(root, "ticks"), "tick"); node;
       node = node_next(node, "tick")) {
    Tick *tick = g_new(Tick, 1);
    *tick = (Tick){text_or_empty(node, "step"), text_or_empty(node, "initials"),
                   text_or_empty(node, "time")};
    g_ptr_array_add(c->tick, tick);
  }
  for (xmlNode *node = node_child(node_child(root, "history"), "entry"); node;
       node = node_next(node, "entry")) {
    HistoryEntry *entry = g_new(HistoryEntry, 1);
    *entry = (HistoryEntry){text_or_empty(node, "time"), text_or_empty(node, "role"),
                            text_or_empty(node, "initials"), node_content(node)};
    g_ptr_array_add(c->history, entry);
  }
}

/* Which element stands where, and whether more than once; the schema says the same with poorer
 * messages. */
static const struct {
  const char *parent, *child;
  bool many;
} known_elements[] = {
    {"case", "order", false},       {"case", "trial", false},
    {"case", "blank", false},       {"case", "material", false},
    {"case", "units", false},       {"case", "connectors", false},
    {"case", "bridge", false},      {"case", "firing", false},
    {"case", "ticks", false},       {"case", "history", false},
    {"units", "unit", true},        {"connectors", "connector", true},
    {"connector", "outline", true}, {"connector", "proposed", false},
    {"connector", "finish", false}, {"connector", "measured", false},
    {"connector", "event", true},   {"ticks", "tick", true},
    {"history", "entry", true},
};

/* The parser limits the depth; so do the known elements. */
static bool elements_check(Reader *r, xmlNode *parent)
{
  bool seen[G_N_ELEMENTS(known_elements)] = {false};
  for (xmlNode *node = node_child(parent, NULL); node; node = node_next(node, NULL)) {
    size_t i = 0;
    while (i < G_N_ELEMENTS(known_elements) &&
           (strcmp(known_elements[i].parent, node_name(parent)) != 0 ||
            strcmp(known_elements[i].child, node_name(node)) != 0))
      i++;
    if (i == G_N_ELEMENTS(known_elements))
      return reader_fail(r, CASE_ERROR_SCHEMA, node_line(node),
                         "<%.40s> is not known inside <%s>. Correct its name or delete it.",
                         node_name(node), node_name(parent));
    if (seen[i] && !known_elements[i].many)
      return reader_fail(r, CASE_ERROR_SCHEMA, node_line(node),
                         "<%s> is there twice. Delete one of them.", node_name(node));
    seen[i] = true;
    if (!elements_check(r, node))
      return false;
  }
  return true;
}

bool case_read_tree(Reader *r, xmlNode *root, Case *c)
{
  if (!elements_check(r, root) || !read_required(r, root, "number", "QB-02"))
    return false;
  read_text(r, root, "number", &c->number);
  read_text(r, root, "title", &c->title);
  read_text(r, root, "author", &c->author);
  read_text(r, root, "approver", &c->approver);
  READ_WORD(r, root, "step", WORDS_STEP, c->step);
  read_order(r, root, c);
  if (!r->failed)
    read_bridge(r, root, c);
  if (r->failed || !read_units(r, root, c) || !read_connectors(r, root, c))
    return false;
  read_records(root, c);
  return !r->failed;
}
