/* change.h - what became different between two states of a case, in words.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "base/phrase.h"
#include "casefile/case.h"

/* The parts of a case: what a change belongs to, and what two hands' work is merged by. */
typedef enum {
  PART_ORDER,     /* order's load, bites, brush, service, title, author ... */
  PART_MATERIAL,  /* card, batch, enlargement, cutter */
  PART_UNITS,     /* teeth, roles, sizes, supports */
  PART_CONNECTOR, /* outlines, section, sizes of one connector */
  PART_FINISH,    /* finish, polish steps, events, measurements of one connector */
  PART_PHOTO,     /* of one connector */
  PART_BRIDGE,    /* inside, edges, fit, firing, step of the work */
  PART_LIST,      /* ticks of the finishing list */
  PART_REMARKS,
  PART_BREAK,
  PART_N
} CasePart;

typedef struct {
  CasePart part;
  size_t connector;     /* of `after`; SIZE_MAX: of the bridge, or of a connector that is gone */
  Phrase what;          /* "35/36: Roof radius" */
  Phrase before, after; /* "{0.2} mm"; .text NULL: was not there */
} CaseChange;

/* Everything that a person would call different, in the order of the parts; new GArray of
 * CaseChange.  Trial load, variants, approved
 * outlines, where a photo lies and how it is shown are no change. */
GArray *case_changes(const Case *before, const Case *after);
const char *case_part_name(CasePart part); /* English msgid, "Order" */
