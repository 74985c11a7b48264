/* neck_load.h - what one neck carries: bending, shear and twist.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * N, N mm.  Resultants on the face of the neck that looks along x, about its centroid: x along the
 * arch, y up, z buccal +.  A member left out is nil.  The first two bend the elevation and leave
 * z = 0 a plane of symmetry; the other three are odd about it. */
#pragma once
#include <stdbool.h>

typedef struct {
  double moment_n_mm;     /* > 0 stretches the gum side                                        */
  double shear_n;         /* upward forces to the left; M grows with x by it: dM/dx = V        */
  double lateral_n_mm;    /* > 0 stretches the cheek side                                      */
  double lateral_shear_n; /* forces towards the tongue to the left: dL/dx = Q                  */
  double torsion_n_mm;    /* > 0: right-handed about x                                         */
} NeckLoad;

/* Any part that is odd about z = 0. */
static inline bool neck_load_odd(const NeckLoad *load)
{
  return load->lateral_n_mm < 0 || load->lateral_n_mm > 0 || load->lateral_shear_n < 0 ||
         load->lateral_shear_n > 0 || load->torsion_n_mm < 0 || load->torsion_n_mm > 0;
}
