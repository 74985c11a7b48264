/* random.h - seeded random numbers: the same seed gives the same numbers on every machine.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Splitmix64 (Steele, Lea and Flood 2014, from memory).  The state is the caller's: no lock, no
 * hidden state; not for secrets. */
#pragma once
#include <stdint.h>

static inline uint64_t random_next(uint64_t *state)
{
  uint64_t z = (*state += 0x9E3779B97F4A7C15u);
  z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
  z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
  return z ^ (z >> 31);
}

/* In (0, 1), both ends left out. */
static inline double random_unit(uint64_t *state)
{
  return ((double)(random_next(state) >> 12) + 0.5) * 0x1p-52;
}
