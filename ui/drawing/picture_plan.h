/* picture_plan.h - the connector from the gum side: mesio-distal across, cheek above, tongue below.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "assess.h"
#include "ui/drawing/shade.h"
#include "ui/drawing/text.h"

/*   shaded  in  SHEET_GUM_SIDE of the load shown (shaded_new); NULL: made for this call
 *   advice  in  ghost of a plan outline (ADVICE_WIDEN), or NULL */
void picture_plan(cairo_t *cr, int width, int height, const DrawContext *context,
                  const Assessment *a, size_t connector, bool at_order, const Shaded *shaded,
                  const Advice *advice);
