/* picture_notch.h - the teaching view: a test bar in bending, squeezed above, stretched below, and
 * what a notch placed by hand does to it. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa. */
#pragma once
#include "mechanics/notched_bar.h"
#include "strength/bars.h"
#include "ui/drawing/shade.h"
#include "ui/drawing/text.h"

typedef struct {
  const BarSetup *setup;          /* of a bar test, not a disc                      */
  const NotchedBar *bar;          /* what was solved                                */
  const NotchedBarAnswer *answer; /* of the piece around the notch; NULL = not yet   */
  const Shaded *shaded;           /* of the answer at 1 N mm; NULL = not yet         */
  const LineSet *zero;            /* of the shaded piece; NULL or empty: drawn straight   */
  double place;                   /* of the notch from the middle of the span, mm    */
  double reference_mpa;           /* edge stress of the plain bar in the middle      */
  double limit_mpa;               /* step 6 of the shade                             */
  bool small; /* in a narrow column: bar, rollers and shade; figures and words stand beside it */
} NotchPicture;

/* mm along the bar from the middle of the span, up from its lower edge. */
View notch_view(int width, int height, const DrawContext *context, const NotchPicture *picture);
void picture_notch(cairo_t *cr, int width, int height, const DrawContext *context,
                   const NotchPicture *picture);
