/* stroke.h - raw pen points made into a clean outline.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Pens report at 60-200 Hz with up to 0.15 mm jitter.  Inside the band `tolerance_mm` a wiggle is
 * smoothed away; a real radius of 0.2 mm survives.  Method: core/SOURCES.md "stroke". */
#pragma once
#include "outline/outline.h"

typedef struct {
  Point at;        /* mm */
  double time_s;   /* from the start of the stroke; equal times allowed */
  double pressure; /* 0..1, or 1 where the device has none */
} PenPoint;

typedef struct {
  double tolerance_mm; /* half width of the band the fit stays in: 0 .. 0.5, default 0.12      */
  double kink_deg;     /* a direction change sharper than this stays a corner: default 75       */
  bool quick;          /* the pen still moves: milliseconds less, the radii not yet as good     */
  const Point *ends;   /* 2, borrowed: where stroke_apply() joins begin and end of the stroke to
                          the outline; a NaN one, or NULL: at the nearest place                 */
} StrokeSettings;

StrokeSettings stroke_settings_default(void);

/* Fits a cubic outline to a stroke.
 *   pen        in   n >= 2 points; repeats and time steps back are dropped
 *   settings   in   NULL = default
 *   outline    out  inited; replaced
 *   worst_mm   out  may be NULL: largest distance of a pen point from the fit */
MUST_CHECK Fault stroke_fit(const PenPoint pen[], size_t n, const StrokeSettings *settings,
                            Outline *outline, double *worst_mm);

/* Draws a stroke into an outline: finds the stretch that the stroke covers (its ends are joined
 * where they come within `reach_mm` of the outline, else at the nearest place), replaces it, keeps
 * the rest. The result still runs from small to large x.  FAULT_CROSSING with *where if it crosses
 * itself. */
MUST_CHECK Fault stroke_apply(Outline *outline, const PenPoint pen[], size_t n,
                              const StrokeSettings *settings, double reach_mm, Point *where);

/* Rubs out what lies within `reach_mm` of the path of an eraser and joins the ends: smoothly where
 * they lead across, else straight.  FAULT_DEGENERATE when the outline was not touched;
 * FAULT_CROSSING with *where (may be NULL).  On a fault the outline stays as it was. */
MUST_CHECK Fault stroke_erase(Outline *outline, const PenPoint pen[], size_t n, double reach_mm,
                              Point *where);
