/* picture_section.h - the neck section: cheek to tongue across, gum side below.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "assess.h"
#include "ui/drawing/shade.h"
#include "ui/drawing/text.h"

/*   shaded  in  SHEET_NECK of the load shown (shaded_new); NULL: made for this call
 * Without an answer the outline is drawn empty from the measured sizes. */
void picture_section(cairo_t *cr, int width, int height, const DrawContext *context,
                     const Assessment *a, size_t connector, bool at_order, const Shaded *shaded);
