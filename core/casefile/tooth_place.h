/* tooth_place.h - where a tooth stands in its arch.  Private to core/casefile.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* 0 = 18 or 48 ... 7 = 11 or 41, 8 = 21 or 31 ... 15 = 28 or 38.  `tooth` must be valid. */
int tooth_place(int tooth);
