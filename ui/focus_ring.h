/* focus_ring.h - the ring around what has the focus stays while the keyboard is in use.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* For every window of the program, also those to come. */
void focus_ring_start(void);
