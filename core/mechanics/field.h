/* field.h - the stress of one connector for unit loads, ready to be combined, shaded and
 * integrated. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Both answers (solid and plane) produce a Field.  It belongs to a geometry, not to a load: the
 * stress is kept for M = 1 N mm and V = 1 N at the neck, so moving the load is a combination, not a
 * new solution. Stress MPa per N mm or per N; tension positive; components xx yy zz xy yz zx.
 * Immutable after it is made; share it between threads by field_ref / field_unref. */
#pragma once
#include "base/banded.h"
#include "base/fault.h"
#include "base/vec.h"
#include "mechanics/neck_load.h"
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

typedef enum { ANSWER_NONE, ANSWER_SOLID, ANSWER_PLANE } Answer;

/* The unit loads. */
typedef enum { UNIT_BEND, UNIT_SHEAR, UNIT_LOAD_N } UnitLoad;
/* The other pair of the solid, odd about z = 0: sideways bending and twist, 1 N mm each, signs of
 * NeckLoad. */
typedef enum { UNIT_SIDEWAYS, UNIT_TWIST } UnitLoadOdd;
typedef enum { PAIR_EVEN, PAIR_ODD } LoadPair; /* a solution answers one pair */
/* The loads that are odd about z = 0 in a finished field. */
typedef enum { ODD_LATERAL, ODD_LATERAL_SHEAR, ODD_TORSION, ODD_LOAD_N } OddLoad;

/* Flat pictures of the field. */
typedef enum {
  SHEET_ELEVATION, /* mid-plane z = 0: u = x, v = y                      */
  SHEET_GUM_SIDE,  /* gingival surface seen from below: u = x, v = z     */
  SHEET_NECK,      /* section at the neck: u = z, v = y                  */
  SHEET_SKIN,      /* whole surface and the cut ends: u = x, v = y, with `skin` */
  SHEET_N
} SheetKind;

typedef struct {   /* what a vertex of the skin has besides its place in the elevation */
  float z;         /* mm                                       */
  float normal[3]; /* unit vector, in or out                   */
} SkinVertex;

typedef struct {
  Point *at;                       /* n_vertex, mm                                             */
  SkinVertex *skin;                /* n_vertex; NULL for flat sheets                           */
  float (*stress)[UNIT_LOAD_N][6]; /* n_vertex                                         */
  size_t n_vertex;
  uint32_t (*corner)[3]; /* n_triangle                                               */
  size_t n_triangle;
} FieldSheet;

/* Zones of the surface, in the trade's words (same order as FinishZone). */
typedef enum {
  SURFACE_ROOF,
  SURFACE_LEGS,
  SURFACE_GROOVE,
  SURFACE_BUCCAL,
  SURFACE_LINGUAL,
  SURFACE_N
} SurfaceZone;

typedef struct { /* one integration point of the surface                          */
  Vec3 at;       /* mm                                                            */
  float stress[UNIT_LOAD_N][6], odd[ODD_LOAD_N][6];
  float area;   /* weight, mm^2; whole surface, symmetry already counted         */
  uint8_t zone; /* SurfaceZone                                                   */
} SurfacePoint;

/* A surface node where the peak may be.  Plane answers set direct = extrapolated, already
 * corrected. */
typedef struct {
  Vec3 at;
  float direct[UNIT_LOAD_N][6],
      extrapolated[UNIT_LOAD_N][6]; /* two recoveries of the same stress */
  float mean[UNIT_LOAD_N][6];       /* mean over 0.10 mm into the material       */
  float odd[ODD_LOAD_N][6];         /* of all three                               */
  uint8_t zone;
} PeakCandidate;

typedef struct Field {
  Answer answer;
  LoadPair pair;
  FieldSheet sheet[SHEET_N]; /* n_triangle = 0 where the answer has no such sheet        */
  SurfacePoint *surface;     /* n_surface                                                */
  size_t n_surface;
  double band_percent;     /* error band of the peak on this shape                     */
  double odd_band_percent; /* of the part of the peak that is odd about z = 0; 0: none known */
  bool odd_by_section;     /* that part by section formulas, not by the solid             */
  double recovery_percent; /* difference of the two recoveries at the peak             */
  double seconds;          /* time of the solution                                     */
  size_t unknowns;
  double residual;          /* relative residual of the equations                       */
  double correction;        /* plane answer: factor already applied to the peak; 1 for the solid */
  PeakCandidate *candidate; /* n_candidate                                              */
  size_t n_candidate;
  int refs; /* private, atomic                                          */
} Field;

Field *field_new(
    void); /* empty, one reference; NULL without memory.  Arrays are malloc'ed by the maker. */
Field *field_ref(Field *field);
void field_unref(Field *field); /* accepts NULL */

typedef struct {
  double mpa; /* largest first principal stress at the surface, both recoveries averaged */
  Vec3 at;    /* where                                                                   */
  SurfaceZone zone;
  double direction[3]; /* unit vector of pull there                                             */
  double mean_mpa;     /* mean over 0.10 mm into the material                                     */
  double band_percent;
  bool by_section; /* twist and sideways bending are in it, and by section formulas */
} Peak;

/* Stress of a load from the unit loads; odd may be NULL: flat pictures show the even part alone. */
void stress_combine(float unit[UNIT_LOAD_N][6], float odd[ODD_LOAD_N][6], NeckLoad load,
                    double stress[6]);
/* Largest pull under a load.  Cheap: under 0.2 ms.  FAULT_RANGE for sideways bending or twist of a
 * field that knows nothing of it. */
MUST_CHECK Fault field_peak(const Field *field, NeckLoad load, Peak *peak);
/* Signed stress to shade (first principal where it rules, else the most squeezed), MPa, and the
 * direction of pull (rad in the sheet's plane; may be NULL), one per vertex. */
void field_shade(const FieldSheet *sheet, NeckLoad load, float value[], float angle[]);
/* First principal stress of six components (xx yy zz xy yz zx). */
double stress_first(const double stress[6]);
double stress_third(const double stress[6]);
/* Are all three principal stresses below the limit?  Without angles: limit I - S is positive
 * definite (Sylvester's criterion, exact). */
bool stress_below(const double stress[6], double limit);
