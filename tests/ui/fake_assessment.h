/* fake_assessment.h - an assessment made by hand: the pictures are tested without any solution.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Outlines and figures of the four-unit demo case; the stress is a made-up bending field with a
 * bright roof. */
#pragma once
#include "assess.h"

Assessment *fake_assessment_new(void);
void fake_assessment_free(Assessment *a);
/* A flat sheet of nx by ny cells between two corners, two triangles a cell, without stress. */
void fake_sheet(FieldSheet *sheet, Point low, Point high, size_t nx, size_t ny);
