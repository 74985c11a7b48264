/* variant.h - connectors as they were, pinned under a name to be compared with.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/case.h"

#define VARIANTS_MOST 4 /* of a connector */

/* In Connector.variant, owned. */
struct Variant {
  char *name;   /* owned */
  Connector as; /* drawn outlines and finish count; it has no variants of its own */
};

Variant *variant_new(const char *name); /* an empty connector */
void variant_free(Variant *variant);    /* accepts NULL */
/* Pins the connector as it is.  FAULT_ROOM when VARIANTS_MOST are pinned. */
MUST_CHECK Fault variant_pin(Connector *connector, const char *name);
/* Outlines and finish become those of variant i; what it did not draw is proposed anew. */
MUST_CHECK Fault variant_take(Case *c, size_t connector, size_t i);
void variants_copy(GPtrArray *to, const GPtrArray *from);
