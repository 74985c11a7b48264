/* flat_bridge.h - the flat picture of the whole bridge: where it is stretched and squeezed by one
 * load. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One scale for the whole: the share of what the surface carries, 1 = the limit, to the power 0.6
 * so that the weak zones of the bodies are seen beside the necks.  A flat body knows nothing of the
 * round necks, so each neck is set to its own answer (the figure that the verdict rests on), and
 * between the necks the setting changes evenly: zones are seen, no second figure is told.  For one
 * thread at a time; keeps mesh and factor while only the load moves. */
#pragma once
#include "assess_bridge.h"

typedef struct FlatBridge FlatBridge;
FlatBridge *flat_bridge_new(void);
void flat_bridge_free(FlatBridge *flat); /* accepts NULL */

/* at_order: the order's load at the worst place of the weakest connector, else the trial load where
 * it stands.  With a fault *where is along the span (mm, NaN: nowhere in particular), and the
 * picture before stays while the units are the same. */
MUST_CHECK Fault flat_bridge_show(FlatBridge *flat, const Assessment *a, bool at_order,
                                  Point *where);
/* Of the last load that could be shown; NULL before.  share: one a vertex. */
const FieldSheet *flat_bridge_sheet(const FlatBridge *flat, const float **share);
