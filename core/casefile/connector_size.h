/* connector_size.h - sizes of a connector that can be typed: the outline follows.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, degrees.  What is read here is what the readings show (outline/form.h). */
#pragma once
#include "casefile/case.h"

typedef enum {
  SIZE_NECK_HEIGHT, /* roof up or down                              */
  SIZE_NECK_WIDTH,  /* plan outlines                                */
  SIZE_RADIUS,      /* of the roof; its height and the feet stay    */
  SIZE_DEPTH,       /* of the embrasure; feet and radius stay       */
  SIZE_OPENING,     /* of the legs, degrees; feet move, roof stays  */
  SIZE_MOUTH,       /* distance of the feet; roof stays             */
  SIZE_KINDS
} SizeKind;

const char *size_name(SizeKind kind); /* msgid: "Roof radius" */
static inline bool size_is_angle(SizeKind kind)
{
  return kind == SIZE_OPENING;
}
/* From a form that was read; NaN when the outline has none. */
double size_of_form(const Form *form, SizeKind kind);
/* NaN when it cannot be read. */
double connector_size(const Connector *k, SizeKind kind);

/* Changes the outlines of connector `connector` until the size is `value`, to SIZE_EXACT_MM or
 * SIZE_EXACT_DEG.  FAULT_RANGE: there is no room for it, the case is as it was. */
#define SIZE_EXACT_MM 0.005
#define SIZE_EXACT_DEG 0.05
MUST_CHECK Fault connector_size_set(Case *c, size_t connector, SizeKind kind, double value);
/* What can be asked for around today's size, to 0.01 mm or 0.1 degree inward. */
MUST_CHECK Fault connector_size_range(const Case *c, size_t connector, SizeKind kind, double *low,
                                      double *high);
