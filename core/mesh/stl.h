/* stl.h - surfaces from STL files, binary and text.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The format knows no unit: it is guessed from the size and said.  Text is read whatever the
 * locale.  Format: M. Burns, Automated Fabrication (1993), 6.5 (from memory). */
#pragma once
#include "mesh/mesh.h"

#define STL_LARGEST_BYTES ((size_t)1 << 30)
#define STL_NOTES 12

typedef enum { STL_UNIT_GUESS, STL_UNIT_MM, STL_UNIT_INCH, STL_UNIT_METRE, STL_UNIT_N } StlUnit;

typedef struct {
  bool text;                     /* the ASCII form                                        */
  size_t triangles;              /* read                                                  */
  size_t claimed;                /* binary: what its head says                            */
  size_t spoiled, first_spoiled; /* triangles with a coordinate that is no number: left out */
  size_t line;                   /* text: where reading stopped, from 1; 0 = no line      */
  StlUnit unit;                  /* found or given                                        */
  bool guessed;
  MeshState state;        /* mm                                                    */
  Phrase wrong;           /* why there is no surface; text NULL after FAULT_NONE   */
  Phrase note[STL_NOTES]; /* what a person should know before it is used           */
  size_t n_note;
} StlReport;

/* Reads, joins and looks.
 *   bytes   in   of the whole file
 *   unit    in   STL_UNIT_GUESS, or what the person says
 *   mesh    out  untouched unless FAULT_NONE
 *   report  out  always filled: after a fault it says what is wrong, and where
 * FAULT_RANGE: no STL, wrong counts, size; FAULT_NOT_FINITE: too many spoiled triangles;
 * FAULT_DEGENERATE: no surface left; FAULT_CANCELLED; FAULT_MEMORY. */
MUST_CHECK Fault stl_read(const char *bytes, size_t n, StlUnit unit, const MeshWatch *watch,
                          Mesh *mesh, StlReport *report);
const char *stl_unit_name(StlUnit unit); /* "mm", "inch", "m" */
