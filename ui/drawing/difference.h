/* difference.h - how much more or less one connector is pulled than another, place by place.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "mechanics/field.h"

typedef struct {
  const FieldSheet *sheet; /* borrowed: of the other connector */
  float *value; /* owned: MPa of pull more (+) or less (-) than in the first, one a vertex; NaN
                   where the first has no material */
  Point most_at, least_at; /* where it grows and falls most */
  double most, least;      /* MPa; NaN: nowhere */
} Difference;

/* In the elevation; squeezed places count as not pulled. FAULT_DEGENERATE without a picture. */
MUST_CHECK Fault difference_make(const Field *first, NeckLoad first_load, const Field *other,
                                 NeckLoad other_load, Difference *difference);
void difference_clear(Difference *difference);
