/* stroke_parts.h - what the fit of a stroke and its doubt share.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm.  Internal to core/outline. */
#pragma once
#include "outline/stroke.h"

/* The points that count, p of room n: repeats and time steps back are dropped. */
MUST_CHECK Fault stroke_points(const PenPoint pen[], size_t n, Point p[], size_t *kept);
/* Standard deviation of the points across their line, never less than a pen's best. n > 0. */
MUST_CHECK Fault stroke_noise(const Point p[], size_t n, double *noise_mm);
