/* variant.c - see variant.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/variant.h"
#include <string.h>

Variant *variant_new(const char *name)
{
  Variant *variant = g_new0(Variant, 1);
  variant->name = g_strdup(name);
  connector_init(&variant->as);
  return variant;
}

void variant_free(Variant *variant)
{
  if (!variant)
    return;
  g_free(variant->name);
  connector_clear(&variant->as);
  g_free(variant);
}

/* Drawn outlines and finish. */
static Fault look_copy(Connector *to, const Connector *from)
{
  Fault fault = FAULT_NONE;
  for (int side = 0; side < SIDE_N && !fault; side++) {
    to->drawn[side] = from->drawn[side];
    if (from->drawn[side])
      fault = outline_copy(&to->side[side], &from->side[side]);
  }
  to->roof_doubt_percent = from->roof_doubt_percent;
  memcpy(to->finish, from->finish, sizeof to->finish);
  to->polish_steps = from->polish_steps;
  return fault;
}

Fault variant_pin(Connector *connector, const char *name)
{
  if (connector->variant->len >= VARIANTS_MOST)
    return FAULT_ROOM;
  Variant *variant = variant_new(name);
  Fault fault = look_copy(&variant->as, connector);
  if (fault)
    variant_free(variant);
  else
    g_ptr_array_add(connector->variant, variant);
  return fault;
}

Fault variant_take(Case *c, size_t connector, size_t i)
{
  Connector *k = &c->connector[connector];
  Side side;
  if (connector + 1 >= c->n_unit || i >= k->variant->len)
    return FAULT_RANGE;
  const Variant *variant = k->variant->pdata[i];
  Fault fault = look_copy(k, &variant->as);
  return fault ? fault : connector_complete(c, connector, &side);
}

void variants_copy(GPtrArray *to, const GPtrArray *from)
{
  g_ptr_array_set_size(to, 0);
  for (guint i = 0; i < from->len; i++) {
    const Variant *variant = from->pdata[i];
    Variant *copy = variant_new(variant->name);
    if (look_copy(&copy->as, &variant->as)) /* without memory GLib ends the program elsewhere */
      variant_free(copy);
    else
      g_ptr_array_add(to, copy);
  }
}
