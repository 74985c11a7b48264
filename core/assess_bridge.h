/* assess_bridge.h - the whole bridge as one flat body: its picture under a load, and its moments
 * held against the beam's. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm along the span, N, N mm, MPa.  One thread at a time.  Mesh and factor are kept for the shapes
 * they belong to (a digest of all they depend on): while only the load moves, a picture costs one
 * back-substitution.  It shows zones; figures to act on are those of the connectors' own answers.
 */
#pragma once
#include "assess.h"

typedef struct WholeBridge WholeBridge;
MUST_CHECK Fault whole_bridge_new(WholeBridge **bridge);
void whole_bridge_free(WholeBridge *bridge); /* accepts NULL */

/* Presses a load on the bridge of an assessment.
 *   load   in   x within the span
 *   where  out  with a fault: what is in the way, along the span; NaN if nowhere in particular
 * With a fault the last picture stays while the units are the same ones. */
MUST_CHECK Fault whole_bridge_load(WholeBridge *bridge, const Assessment *a, SpanLoad load,
                                   Point *where);
/* Of the last load that could be shown, under UNIT_BEND (shade with NeckLoad {1, 0}); NULL before.
 * Borrowed, until the next call. */
const FieldSheet *whole_bridge_sheet(const WholeBridge *bridge);

/* Fills the BridgeMoment of every connector.  span: the beam of the same assessment. */
MUST_CHECK Fault whole_bridge_compare(WholeBridge *bridge, Assessment *a, const Span *span,
                                      Point *where);

#define BRIDGE_DIFFERS_PERCENT 10.0 /* from here on people are told */
/* The plain words where both differ by more; false where they do not, or were not compared. */
bool bridge_differs_phrase(const Assessment *a, size_t connector, Phrase *phrase);
/* Both moments at both loads; false where they were not compared. */
bool bridge_moments_phrase(const Assessment *a, size_t connector, Phrase *phrase);
