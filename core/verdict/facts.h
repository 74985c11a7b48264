/* facts.h - what the rules look at: the case, the readings and the computed results, side by side.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/case.h"
#include "outline/form.h"
#include "verdict/needs.h"

typedef struct {
  Form form;
  double neck_area; /* mm^2, of the real section                        */
  ConnectorLimits limits;
  double peak_mpa; /* at the order's load; NaN if not computed         */
  double strength_mpa;
  double carries_n;                  /* load at which 5 of 100 would break               */
  double rescue_height, rescue_area; /* after a disc mark is removed; NaN     */
  double cut_back_area;              /* neck without what is cut back; NaN    */
} ConnectorFacts;

typedef struct {
  const Case *c; /* borrowed                                         */
  ConnectorFacts connector[SPAN_MAX_UNITS - 1];
} Facts;
