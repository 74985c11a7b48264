/* form.h - what a technician reads from the outlines of a connector.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Lengths mm, angles degrees (names end in _deg).  Definitions: shared trade words; roof = highest
 * place of the gum-side embrasure, y = 0 the tissue line.  Everything is measured on the outline,
 * nothing is set. */
#pragma once
#include "base/banded.h"
#include "outline/outline.h"

typedef enum { FORM_NONE, FORM_U, FORM_BETWEEN, FORM_V } FormKind;

typedef struct {
  double neck_x, neck_y; /* middle of the thinnest place                                        */
  double neck_height;    /* shortest distance between gingival and occlusal outline             */
  Point neck_low, neck_high; /* its two ends                                                      */
  double neck_buccal, neck_lingual; /* narrowest half widths near the neck */
  double neck_width;    /* their sum                                                           */
  Point roof;           /* highest place of the gingival outline                               */
  Point foot[2];        /* left, right: where the legs end                                     */
  double roof_t;        /* its parameter                                                       */
  Banded roof_radius;   /* smallest radius in the top 40 % of the embrasure; large when flat   */
  Point roof_sharpest;  /* where that radius is                                                */
  double roof_centre_x; /* middle of the roof zone                                             */
  double depth;         /* roof above the mean height of the feet                              */
  double opening_deg;   /* included angle of the legs: 0 = parallel                            */
  double leg_lean_left_deg, leg_lean_right_deg; /* from upright, + = opening to the gum           */
  double roundness; /* 0 = V ... 1 = U: see core/SOURCES.md "U and V"                      */
  FormKind kind;
  double gap_circle; /* diameter of the largest circle between outline and tissue line      */
  Point gap_centre;
  double room_to_round; /* how much the roof radius can grow with roof height and feet kept    */
  double groove_radius; /* smallest radius of the biting groove                                */
  double groove_y;      /* lowest place of the occlusal outline                                */
  double kink_deg;      /* largest sudden change of direction in the roof zone                 */
  Point kink_at;
} Form;

/* A place of high curvature. */
typedef struct {
  double t; /* place                                              */
  Point at;
  double kappa; /* 1/mm, left turn positive                           */
  double error; /* estimated absolute error of kappa, 1/mm, >= 0      */
} SharpPlace;

/* All four outlines; buccal/lingual may be NULL (neck_width is then NaN).
 *   tissue  in  open outline of the gum below, or NULL for y = 0
 * FAULT_CROSSING / FAULT_NO_NECK with *where (may be NULL). */
MUST_CHECK Fault form_read(const Outline *gingival, const Outline *occlusal, const Outline *buccal,
                           const Outline *lingual, const Outline *tissue, Form *form, Point *where);

/* Only the readings named neck_*: a fraction of the time.  Nothing is checked for crossing. */
MUST_CHECK Fault form_neck_read(const Outline *gingival, const Outline *occlusal,
                                const Outline *buccal, const Outline *lingual, Form *form,
                                Point *where);

/* Only the readings of the gum side: roof, feet, legs.  Nothing is checked for crossing. */
MUST_CHECK Fault form_roof_read(const Outline *gingival, Form *form);

/* Largest circle in the embrasure below the gingival outline and above the tissue. */
MUST_CHECK Fault gap_circle_find(const Outline *gingival, const Outline *tissue, Point *centre,
                                 double *diameter);

/* Places that turn by at least min_turn rad, sharpest first; sets *n_place even when above room
 * (FAULT_ROOM). */
MUST_CHECK Fault sharp_places_find(const Outline *outline, double min_turn, SharpPlace place[],
                                   size_t room, size_t *n_place);
/* Signed curvature along the outline at n even steps of arc length, for the comb. */
MUST_CHECK Fault curvature_comb(const Outline *outline, size_t n, Point at[], Point normal[],
                                double kappa[]);
