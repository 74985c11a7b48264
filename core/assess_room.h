/* assess_room.h - the room that the embrasure of a connector may fill.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, final sizes.  The drawn one where there is one, else feet and roof height of the embrasure as
 * it stands.  Limits: cutter and enlargement (sharpest roof), brush and papilla (what must pass),
 * the span (least neck height, never more than the neck has today). */
#pragma once
#include "assess.h"
#include "outline/room.h"

/* form: the readings of the connector.  FAULT_RANGE without an embrasure, or when the drawn line
 * encloses none. */
MUST_CHECK Fault room_of(const Case *c, size_t connector, const Form *form, Room *room);
