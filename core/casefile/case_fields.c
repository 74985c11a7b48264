/* case_fields.c - the tables of case_fields.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, degrees.  Ranges refuse only what no case can hold; whether the case makes sense is
 * case_check()'s question. */
#include "casefile/case_fields.h"
#include "base/tolerance.h"

#define TABLE(name, rows)                                                                          \
  {                                                                                                \
    name, rows, G_N_ELEMENTS(rows)                                                                 \
  }

static const Attribute root_row[] = {
    TEXT_ROW("title", Case, title),
    WORD_ROW("step", Case, step, WORDS_STEP),
    TEXT_ROW("author", Case, author),
    TEXT_ROW("approver", Case, approver),
};
const Element root_element = TABLE("case", root_row);

/* ---- before the units ---- */

static const Attribute order_row[] = {
    NUMBER_ROW("load", Case, order_load_n, 1, CASE_LOAD_MAX_N),
    NUMBER_ROW("brush", Case, brush_mm, 0, 10),
    WORD_ROW("grinding", Case, grinding_habit, WORDS_YES_NO),
    NUMBER_ROW("free-height", Case, free_height, 0, UNIT_SIZE_MAX_MM),
    NUMBER_ROW("arch-bow", Case, arch_bow, 0, UNIT_SIZE_MAX_MM),
    NUMBER_ROW("bites-a-day", Case, service.bites_a_day, 0, SERVICE_BITES_MOST),
    NUMBER_ROW("years", Case, service.years, 0, SERVICE_YEARS_MOST),
};
static const Attribute blank_row[] = {
    NUMBER_ROW("enlargement", Case, enlargement, 1, 2),
    NUMBER_ROW("enlargement-label", Case, enlargement_label, 1, 2),
    NUMBER_ROW("cutter", Case, cutter_diameter, 0.01, 10),
    TEXT_ROW("batch", Case, blank_batch),
};
const Element intake_element[INTAKE_ELEMENTS] = {TABLE("order", order_row),
                                                 TABLE("blank", blank_row)};

static const Attribute trial_row[] = {
    NUMBER_ROW("force", CaseLoad, force_n, 1, CASE_LOAD_MAX_N),
    NUMBER_ROW("x", CaseLoad, x, 0, SPAN_MAX_UNITS *UNIT_SIZE_MAX_MM),
};
const Element trial_element = TABLE("trial", trial_row);

static const Attribute unit_row[] = {
    WORD_ROW("role", Unit, role, WORDS_ROLE),
    NUMBER_ROW("length", Unit, length, UNIT_SIZE_MIN_MM, UNIT_SIZE_MAX_MM),
    NUMBER_ROW("width", Unit, width, UNIT_SIZE_MIN_MM, UNIT_SIZE_MAX_MM),
    NUMBER_ROW("height", Unit, height, UNIT_SIZE_MIN_MM, UNIT_SIZE_MAX_MM),
    WORD_ROW("saddle", Unit, saddle, WORDS_FINISH),
    WORD_ROW("saddle-shape", Unit, saddle_shape, WORDS_SADDLE),
};
const Element unit_element = TABLE("unit", unit_row);

/* ---- connectors ---- */

static const Attribute proposed_row[] = {
    NUMBER_ROW("neck-width", Connector, neck_width, 0.1, UNIT_SIZE_MAX_MM),
    NUMBER_ROW("groove", Connector, groove_y, 0, UNIT_SIZE_MAX_MM),
    NUMBER_ROW("groove-radius", Connector, groove_radius, 0, UNIT_SIZE_MAX_MM),
    NUMBER_ROW("groove-opening", Connector, groove_open_deg, 0, 179),
    NUMBER_ROW("plan-radius", Connector, plan_radius, 0, UNIT_SIZE_MAX_MM),
    NUMBER_ROW("roundness-neck", Connector, roundness_neck, 1, 50),
    NUMBER_ROW("roundness-body", Connector, roundness_body, 1, 50),
};
static const Attribute approved_section_row[] = {
    NUMBER_ROW("roundness-neck", Connector, approved_roundness_neck, 1, 50),
    NUMBER_ROW("roundness-body", Connector, approved_roundness_body, 1, 50),
};
const Element approved_section_element = TABLE("approved-section", approved_section_row);

static const Attribute planned_row[] = {
    NUMBER_ROW("cut-back", Connector, cut_back, 0, UNIT_SIZE_MAX_MM),
    NUMBER_ROW("wall", Connector, wall, 0, UNIT_SIZE_MAX_MM),
    NUMBER_ROW("pin-distance", Connector, pin_distance, 0, UNIT_SIZE_MAX_MM),
    WORD_ROW("weaker-layer", Connector, weaker_layer, WORDS_YES_NO),
};
static const Attribute finish_row[] = {
    WORD_ROW("roof", Connector, finish[ZONE_ROOF], WORDS_FINISH),
    WORD_ROW("legs", Connector, finish[ZONE_LEGS], WORDS_FINISH),
    WORD_ROW("groove", Connector, finish[ZONE_GROOVE], WORDS_FINISH),
    WORD_ROW("cheek-side", Connector, finish[ZONE_CHEEK], WORDS_FINISH),
    WORD_ROW("tongue-side", Connector, finish[ZONE_TONGUE], WORDS_FINISH),
    SET_ROW("polish-steps", Connector, polish_steps, WORDS_POLISH),
};
static const Attribute measured_row[] = {
    NUMBER_ROW("height", Connector, measured_height, 0, UNIT_SIZE_MAX_MM),
    NUMBER_ROW("soft-height", Connector, soft_height, 0, 2 * UNIT_SIZE_MAX_MM),
    NUMBER_ROW("papilla", Connector, papilla, 0, UNIT_SIZE_MAX_MM),
    WORD_ROW("brush-passes", Connector, brush_passes, WORDS_YES_NO),
    WORD_ROW("dye", Connector, dye, WORDS_CHECK),
    WORD_ROW("light", Connector, light, WORDS_CHECK),
};
static const Attribute line_row[] = {
    NUMBER_ROW("roof-doubt", Connector, roof_doubt_percent, 0, ROOF_DOUBT_MOST),
};
const Element *const look_element = &connector_element[2];
const Element connector_element[CONNECTOR_ELEMENTS] = {
    TABLE("proposed", proposed_row), TABLE("planned", planned_row), TABLE("line", line_row),
    TABLE("finish", finish_row), TABLE("measured", measured_row)};

static const Attribute event_row[] = {
    WORD_ROW("kind", SurfaceEvent, kind, WORDS_EVENT),
    NUMBER_ROW("x", SurfaceEvent, at_x, -MAX_SIZE_MM, MAX_SIZE_MM),
    NUMBER_ROW("depth", SurfaceEvent, depth, 0, 20),
    NUMBER_ROW("edge-radius", SurfaceEvent, edge_radius, 0, 20),
    WORD_ROW("water", SurfaceEvent, water, WORDS_YES_NO),
    WORD_ROW("zone", SurfaceEvent, zone, WORDS_ZONE),
    WORD_ROW("removed", SurfaceEvent, removed, WORDS_YES_NO),
};
const Element event_element = TABLE("event", event_row);

/* ---- behind the connectors ---- */

static const Attribute bridge_row[] = {
    WORD_ROW("inside", Case, inside, WORDS_FINISH),
    WORD_ROW("edges", Case, edges, WORDS_FINISH),
    WORD_ROW("biting-face", Case, biting_face, WORDS_FINISH),
    WORD_ROW("fit", Case, fit, WORDS_FIT),
    WORD_ROW("soft-handled", Case, soft_handled, WORDS_YES_NO),
};
static const Attribute firing_row[] = {
    TEXT_ROW("record", Case, firing_record),
    NUMBER_ROW("firings", Case, firings, 0, 100),
    NUMBER_ROW("limit", Case, firings_limit, 0, 100),
    NUMBER_ROW("planned-span", Case, planned_span, 0, MAX_SIZE_MM),
    NUMBER_ROW("fired-span", Case, fired_span, 0, MAX_SIZE_MM),
    WORD_ROW("fast", Case, fast_firing, WORDS_YES_NO),
    NUMBER_ROW("thickest", Case, thickest, 0, UNIT_SIZE_MAX_MM),
    NUMBER_ROW("thickest-fast", Case, thickest_fast, 0, UNIT_SIZE_MAX_MM),
};
static const Attribute handover_row[] = {
    TEXT_ROW("note", Case, dentist_note),
};
const Element bench_element[BENCH_ELEMENTS] = {
    TABLE("bridge", bridge_row), TABLE("firing", firing_row), TABLE("handover", handover_row)};

static const Attribute origin_row[] = {
    WORD_ROW("zone", BreakOrigin, zone, WORDS_ZONE),
    NUMBER_ROW("x", BreakOrigin, at_x, -MAX_SIZE_MM, MAX_SIZE_MM),
    NUMBER_ROW("depth", BreakOrigin, depth, 0, 20),
    TEXT_ROW("seen", BreakOrigin, seen),
    NUMBER_ROW("y", BreakOrigin, at_y, -MAX_SIZE_MM, MAX_SIZE_MM),
    WORD_ROW("kind", BreakOrigin, kind, WORDS_ORIGIN),
    NUMBER_ROW("load", BreakOrigin, load_n, 0, CASE_LOAD_MAX_N),
    NUMBER_ROW("years", BreakOrigin, years, 0, 100),
    TEXT_ROW("photo", BreakOrigin, photo),
};
const Element origin_element = TABLE("origin", origin_row);

static const Attribute tick_row[] = {
    TEXT_ROW("step", Tick, step),
    TEXT_ROW("initials", Tick, initials),
    TEXT_ROW("time", Tick, time),
};
const Element tick_element = TABLE("tick", tick_row);

static const Attribute entry_row[] = {
    TEXT_ROW("time", HistoryEntry, time),         TEXT_ROW("role", HistoryEntry, role),
    TEXT_ROW("initials", HistoryEntry, initials), WORD_ROW("kind", HistoryEntry, kind, WORDS_ENTRY),
    TEXT_ROW("name", HistoryEntry, name),         TEXT_ROW("before", HistoryEntry, before),
    TEXT_ROW("after", HistoryEntry, after),       TEXT_ROW("content", HistoryEntry, content),
    TEXT_ROW("limits", HistoryEntry, limits),     TEXT_ROW("chain", HistoryEntry, chain),
    TEXT_ROW("key", HistoryEntry, key),           TEXT_ROW("signature", HistoryEntry, signature),
};
const Element entry_element = TABLE("entry", entry_row);

static const Attribute remark_row[] = {
    NUMBER_ROW("x", Remark, at.x, -UNIT_SIZE_MAX_MM, UNIT_SIZE_MAX_MM),
    NUMBER_ROW("y", Remark, at.y, -UNIT_SIZE_MAX_MM, UNIT_SIZE_MAX_MM),
    TEXT_ROW("time", Remark, time),
    TEXT_ROW("role", Remark, role),
    TEXT_ROW("initials", Remark, initials),
    WORD_ROW("settled", Remark, settled, WORDS_YES_NO),
};
const Element remark_element = TABLE("remark", remark_row);
