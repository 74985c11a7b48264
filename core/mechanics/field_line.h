/* field_line.h - the stress on the gum side at a place of the drawn line.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The line is the middle of the gum side (z = 0): every section touches it there. */
#pragma once
#include "mechanics/field.h"
#include "outline/outline.h"

/* Signed as the shade is (field_shade): first principal stress where it rules, else the most
 * squeezed; MPa.  Read from the surface nodes that the peak is looked for in, both recoveries
 * averaged, linear between two of them, so that it is the peak where the hot spot lies on the line.
 * Band: that of the peak, MPa, everywhere, and between two nodes up to a quarter of what they
 * differ by (own rule); where pull and squeeze are as strong within that, it holds both.
 *   line    in  the gum-side outline that was solved
 * FAULT_RANGE beyond the feet, where the loads come in, and for loads that the field knows nothing
 * of. */
MUST_CHECK Fault field_stress_at(const Field *field, NeckLoad load, const Outline *line, double t,
                                 Banded *mpa);
