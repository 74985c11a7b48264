/* case_fields.h - which attribute of which element of a case file holds which member of a case.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Private to core/casefile.  Reading, writing and comparing a case all use these tables; the schema
 * data/schema/case.rng says the same. */
#pragma once
#include "casefile/attribute_xml.h"

extern const Element root_element;  /* of Case, but its number, which is always written */
extern const Element trial_element; /* of CaseLoad */
extern const Element unit_element;  /* of Unit, but tooth and support */
extern const Element event_element; /* of SurfaceEvent */
extern const Element approved_section_element; /* of Connector, but its path */
extern const Element tick_element;             /* of Tick */
extern const Element remark_element;           /* of Remark, but its text and connector */
extern const Element entry_element;            /* of HistoryEntry, but its text */
extern const Element origin_element;           /* of BreakOrigin, but its connector */

/* Elements of a case with one place in the file: before the units, and behind the connectors. */
#define INTAKE_ELEMENTS 2
#define BENCH_ELEMENTS 3
extern const Element intake_element[INTAKE_ELEMENTS]; /* of Case */
extern const Element bench_element[BENCH_ELEMENTS];   /* of Case */

/* Elements of a connector, in the order of the file. */
#define CONNECTOR_ELEMENTS 5
extern const Element connector_element[CONNECTOR_ELEMENTS]; /* of Connector */
#define LOOK_ELEMENTS 2
extern const Element *const look_element; /* those of a variant among them: line and finish */
