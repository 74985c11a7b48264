/* picture_crack.h - where and how a crack would run from the hot spot: a sketch in the plane of the
 * elevation. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm and px.  Every step goes across the largest first principal stress of the plane, as the
 * uncracked piece has it: a crack that has begun changes the stress around it, which is not
 * followed here, and nothing is said of time. */
#pragma once
#include "casefile/case.h"
#include "mechanics/field.h"
#include "ui/drawing/text.h"

#define CRACK_STEP_MM 0.05
#define CRACK_STEPS 120
#define CRACK_LONGEST_MM (CRACK_STEPS * CRACK_STEP_MM)

typedef enum {
  CRACK_THROUGH, /* it came out at another side      */
  CRACK_SQUEEZE, /* where nothing pulls it open      */
  CRACK_LONGEST  /* still going after the longest way */
} CrackEnd;

typedef struct CrackWay {
  Point at[CRACK_STEPS + 1]; /* n of them, the hot spot first; 0: none */
  size_t n;
  CrackEnd end;
} CrackWay;

/* FAULT_RANGE: nothing is pulled at the start; FAULT_NOT_FINITE; those of sheet_finder_new().
 *   sheet  in   SHEET_ELEVATION
 *   start  in   the hot spot; off the sheet by up to 0.5 mm: the way begins at the nearest place
 *   way    out  replaced; as it was on a fault */
MUST_CHECK Fault crack_way(const FieldSheet *sheet, NeckLoad load, Point start, CrackWay *way);

/* The way up to a share 0..1 of its length, and what it is: where it covers nothing, as long as
 * there is such a place.
 *   taken  in  where words and loupe stand; its bounds are those of the drawing
 *   drawn  in  the outlines of the connector */
void picture_crack(cairo_t *cr, const DrawContext *context, View view, const CrackWay *way,
                   double share, const Places *taken, const Connector *drawn);
const char *crack_end_words(CrackEnd end); /* msgid: a sentence */
