/* case_read.c - the tree of a case file into a case.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N.  Every message names the line and the remedy; which attribute means what: case_fields.c.
 */
#include "base/tolerance.h"
#include "casefile/case_entry.h"
#include "casefile/case_fields.h"
#include "casefile/case_parts.h"
#include "casefile/material_xml.h"
#include "casefile/variant.h"
#include <libxml/tree.h>
#include <stdint.h>
#include <string.h>

#define MOST_CORNERS 256
#define MOST_EVENTS 1000

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
  attributes_read(r, node, &unit_element, unit);
  int support = (int)unit->support;
  read_word(r, node, "support", WORDS_SUPPORT, &support);
  unit->support = (SupportKind)support;
  read_own_support(r, node, "axial", &unit->own.axial_n_mm);
  read_own_support(r, node, "rotation", &unit->own.rotation_n_mm_rad);
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

/* The children of `parent` that have a table. */
static void read_elements(Reader *r, xmlNode *parent, const Element element[], size_t n, void *into)
{
  for (size_t i = 0; i < n; i++) {
    xmlNode *node = node_child(parent, element[i].name);
    if (node)
      attributes_read(r, node, &element[i], into);
  }
}

static bool read_path_data(Reader *r, xmlNode *node, const char *d, Outline *outline)
{
  size_t bad_at = 0;
  if (!outline_from_path(outline, d, &bad_at))
    return true;
  return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                     "the path data of <%s> is wrong at character %zu. Correct it: \"M x y "
                     "L x y C ...\" in mm.",
                     node_name(node), bad_at + 1);
}

static bool read_path(Reader *r, xmlNode *node, const char *d, Outline *outline)
{
  if (!read_path_data(r, node, d, outline))
    return false;
  Fault fault = outline_check(outline);
  if (!fault && outline->closed)
    fault = FAULT_DEGENERATE;
  if (fault)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "the path of <%s> is no open line within %g mm: %s", node_name(node),
                       MAX_SIZE_MM, fault_text(fault));
  if (outline->knot[0].at.x > outline->knot[outline->n - 1].at.x)
    outline_reverse(outline);
  return true;
}

static bool read_section(Reader *r, xmlNode *node, Outline *section)
{
  if (!read_required(r, node, "d", "M -1.5 0 C ... Z"))
    return false;
  g_autofree char *d = node_attribute(node, "d");
  return read_path_data(r, node, d, section) && section_accept(r, node_line(node), section, 0, 1);
}

/* Without a path it was seen by roundness. */
static bool read_approved_section(Reader *r, xmlNode *node, Connector *k)
{
  if (!node)
    return true;
  if (!read_required(r, node, "roundness-neck", "2") ||
      !read_required(r, node, "roundness-body", "4"))
    return false;
  attributes_read(r, node, &approved_section_element, k);
  g_autofree char *d = node_attribute(node, "d");
  return !r->failed && (!d || read_section(r, node, &k->approved_section));
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

/* An <outline> or <approved> element into the one of four outlines that it names. */
static bool read_outline(Reader *r, xmlNode *node, const Neighbours *around,
                         Outline outline[SIDE_N], bool there[SIDE_N])
{
  if (!read_required(r, node, "side", "gingival"))
    return false;
  int side = 0;
  read_word(r, node, "side", WORDS_SIDE, &side);
  if (r->failed)
    return false;
  if (there[side])
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "the %s <%s> is there twice. Delete one of them.", word_of(WORDS_SIDE, side),
                       node_name(node));
  char *d = node_attribute(node, "d"), *corners = node_attribute(node, "corners");
  if (d)
    read_path(r, node, d, &outline[side]);
  else if (corners && side == SIDE_GINGIVAL)
    read_corners(r, node, corners, around, &outline[side]);
  else
    reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                "the %s <%s> has no path data. Add d=\"M x y ...\"%s.", word_of(WORDS_SIDE, side),
                node_name(node), side == SIDE_GINGIVAL ? " or corners=\"(x, y; r R) ...\"" : "");
  there[side] = !r->failed;
  g_free(d);
  g_free(corners);
  return !r->failed;
}

static bool read_room(Reader *r, xmlNode *node, Connector *k)
{
  if (!node)
    return true;
  if (!read_required(r, node, "d", "M -1.5 0 L -1.3 2.5 L 1.3 2.5 L 1.5 0"))
    return false;
  g_autofree char *d = node_attribute(node, "d");
  return read_path(r, node, d, &k->room);
}

static bool read_variant(Reader *r, xmlNode *node, const Neighbours *around, Connector *k)
{
  if (k->variant->len >= VARIANTS_MOST)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "there are more than %d variants of this connector. Delete one.",
                       VARIANTS_MOST);
  if (!read_required(r, node, "name", "as milled"))
    return false;
  g_autofree char *name = node_attribute(node, "name");
  Variant *variant = variant_new(name);
  g_ptr_array_add(k->variant, variant);
  for (xmlNode *o = node_child(node, "outline"); o; o = node_next(o, "outline"))
    if (!read_outline(r, o, around, variant->as.side, variant->as.drawn))
      return false;
  read_elements(r, node, look_element, LOOK_ELEMENTS, &variant->as);
  return !r->failed;
}

static bool read_event(Reader *r, xmlNode *node, Connector *k)
{
  SurfaceEvent event = SURFACE_EVENT_NONE;
  if (k->event->len >= MOST_EVENTS)
    return reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                       "there are more than %d events. Delete some.", MOST_EVENTS);
  if (!read_required(r, node, "kind", "disc"))
    return false;
  attributes_read(r, node, &event_element, &event);
  g_array_append_val(k->event, event);
  return !r->failed;
}

static bool read_connector(Reader *r, xmlNode *node, const Neighbours *around, Connector *k)
{
  bool approved[SIDE_N] = {false};
  for (xmlNode *o = node_child(node, "outline"); o; o = node_next(o, "outline"))
    if (!read_outline(r, o, around, k->side, k->drawn))
      return false;
  for (xmlNode *o = node_child(node, "approved"); o; o = node_next(o, "approved"))
    if (!read_outline(r, o, around, k->approved, approved))
      return false;
  if (!read_approved_section(r, node_child(node, approved_section_element.name), k))
    return false;
  xmlNode *section = node_child(node, "section");
  if (section && !read_section(r, section, &k->section))
    return false;
  if (!read_room(r, node_child(node, "room"), k))
    return false;
  for (xmlNode *v = node_child(node, "variant"); v; v = node_next(v, "variant"))
    if (!read_variant(r, v, around, k))
      return false;
  for (xmlNode *e = node_child(node, "event"); e; e = node_next(e, "event"))
    if (!read_event(r, e, k))
      return false;
  read_elements(r, node, connector_element, CONNECTOR_ELEMENTS, k);
  xmlNode *photo = node_child(node, "photo");
  return !r->failed && (!photo || read_photo(r, photo, &k->photo));
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

static void connector_unknown(Reader *r, xmlNode *node, const char *name, const Case *c)
{
  reader_fail(r, CASE_ERROR_VALUE, node_line(node),
              "no two neighbours of this bridge are called \"%.20s\". Write two teeth in the order "
              "of the units, such as between=\"%d-%d\".",
              name, c->unit[0].tooth, c->unit[1].tooth);
}

bool case_read_connectors(Reader *r, xmlNode *root, Case *c)
{
  long line[SPAN_MAX_UNITS] = {0};
  xmlNode *all = node_child(root, "connectors");
  for (xmlNode *node = node_child(all, "connector"); node; node = node_next(node, "connector")) {
    if (!read_required(r, node, "between", "34-35"))
      return false;
    char *name = node_attribute(node, "between");
    size_t i = connector_find(c, name);
    if (i == SIZE_MAX)
      connector_unknown(r, node, name, c);
    else if (line[i])
      reader_fail(r, CASE_ERROR_VALUE, node_line(node),
                  "the connector %s is there twice. Delete one of them.", name);
    g_free(name);
    if (r->failed)
      return false;
    line[i] = c->connector[i].file_line = node_line(node);
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

static void read_intake(Reader *r, xmlNode *root, Case *c)
{
  read_elements(r, root, intake_element, INTAKE_ELEMENTS, c);
  c->trial = (CaseLoad){NAN, c->order_load_n};
  read_elements(r, root, &trial_element, 1, &c->trial);
  xmlNode *node = node_child(root, "material");
  if (node) {
    size_t n;
    const Material *shipped = materials_shipped(&n);
    material_read_element(r, node, shipped, n, &c->material);
  }
}

void read_between(Reader *r, xmlNode *node, const Case *c, size_t *connector)
{
  g_autofree char *between = node_attribute(node, "between");
  if (!between || r->failed)
    return;
  *connector = connector_find(c, between);
  if (*connector == SIZE_MAX)
    connector_unknown(r, node, between, c);
}

static void read_origin(Reader *r, xmlNode *root, Case *c)
{
  xmlNode *node = node_child(root, "origin");
  if (!node)
    return;
  attributes_read(r, node, &origin_element, &c->origin);
  g_autofree char *between = node_attribute(node, "between");
  read_between(r, node, c, &c->origin.connector);
  const char *reason;
  if (!r->failed && !origin_check(c, &reason))
    reader_fail(r, CASE_ERROR_VALUE, node_line(node), "<origin>%s%s: %s", between ? " " : "",
                between ? between : "", g_dgettext("soffit", reason));
}

static void read_records(Reader *r, xmlNode *root, Case *c)
{
  for (xmlNode *node = node_child(node_child(root, "ticks"), "tick"); node;
       node = node_next(node, "tick")) {
    Tick *tick = g_new(Tick, 1);
    *tick = (Tick){g_strdup(""), g_strdup(""), g_strdup("")};
    attributes_read(r, node, &tick_element, tick);
    g_ptr_array_add(c->tick, tick);
  }
  read_remarks(r, root, c);
  read_history(r, root, c);
}

/* Which element stands where, and whether more than once; the schema says the same with poorer
 * messages. */
static const struct {
  const char *parent, *child;
  bool many;
} known_elements[] = {
    {"case", "order", false},
    {"case", "trial", false},
    {"case", "blank", false},
    {"case", "material", false},
    {"case", "loads", false},
    {"loads", "bite", true},
    {"bite", "on", true},
    {"case", "units", false},
    {"case", "connectors", false},
    {"case", "bridge", false},
    {"case", "firing", false},
    {"case", "handover", false},
    {"case", "origin", false},
    {"case", "ticks", false},
    {"case", "remarks", false},
    {"case", "history", false},
    {"case", "pictures", false},
    {"pictures", "picture", true},
    {"units", "unit", true},
    {"connectors", "connector", true},
    {"connector", "outline", true},
    {"connector", "approved", true},
    {"connector", "approved-section", false},
    {"connector", "section", false},
    {"connector", "room", false},
    {"connector", "variant", true},
    {"variant", "outline", true},
    {"variant", "finish", false},
    {"connector", "proposed", false},
    {"connector", "planned", false},
    {"connector", "finish", false},
    {"connector", "line", false},
    {"variant", "line", false},
    {"connector", "measured", false},
    {"connector", "event", true},
    {"connector", "photo", false},
    {"ticks", "tick", true},
    {"remarks", "remark", true},
    {"history", "entry", true},
    {"material", "source", true},
    {"material", "factor", true},
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
  attributes_read(r, root, &root_element, c);
  read_intake(r, root, c);
  read_elements(r, root, bench_element, BENCH_ELEMENTS, c);
  if (r->failed || !read_units(r, root, c) || !read_load_cases(r, root, c) ||
      !case_read_connectors(r, root, c))
    return false;
  read_origin(r, root, c);
  read_records(r, root, c);
  return !r->failed && read_pictures(r, root, c);
}
