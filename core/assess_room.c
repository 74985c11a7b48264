/* assess_room.c - see assess_room.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_room.h"

Fault room_of(const Case *c, size_t connector, const Form *form, Room *room)
{
  const Connector *k = &c->connector[connector];
  const Outline *gingival = &k->side[SIDE_GINGIVAL];
  Fault fault = k->room.n ? room_drawn(&k->room, gingival, room) : room_around(gingival, room);
  if (!fault && k->papilla > 0)
    fault = tissue_of_papilla(k->papilla, form->foot, &room->tissue);
  if (fault)
    return fault;
  double need = limits_for(c, connector).height_need;
  room->radius_least = fmax(0, case_cutter_radius(c)); /* NaN: not said */
  room->brush_mm = fmax(0, c->brush_mm);
  room->neck_least = fmin(form->neck_height, need); /* NaN: no limit set for this span */
  return FAULT_NONE;
}
