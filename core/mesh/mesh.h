/* mesh.h - a closed surface of triangles, as a scan or a design program hands it over.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  Corners of a triangle run counter-clockwise seen from outside.  Equal corners are one
 * vertex. Nothing here prints or keeps state, so every function may run on any thread.  Method and
 * limits: core/SOURCES.md "surfaces". */
#pragma once
#include "base/fault.h"
#include "base/phrase.h"
#include "base/vec.h"
#include <stddef.h>
#include <stdint.h>

#define MESH_MOST_TRIANGLES 2000000u

typedef struct {
  uint32_t v[3];
} Triangle;

typedef struct {
  Vec3 *at; /* owned, n_at vertices                                         */
  size_t n_at;
  Triangle *triangle; /* owned, n                                                     */
  uint32_t *number;   /* owned, n: which triangle of the file it was, from 1          */
  size_t n;
} Mesh;

/* Asked now and then by whatever takes long; done in [0, 1].  Returning false stops the work:
 * FAULT_CANCELLED. */
typedef struct {
  bool (*step)(void *data, double done); /* NULL = never asked */
  void *data;
} MeshWatch;

/* What is wrong with a surface.  first_* is the number of a triangle in the file, from 1; 0 =
 * none. */
typedef struct {
  size_t flat, first_flat;       /* without area: left out                              */
  size_t open, first_open;       /* edges with one triangle                             */
  size_t crowded, first_crowded; /* edges with more than two                            */
  size_t turned, first_turned;   /* edges whose two triangles face opposite ways        */
  bool inside_out;               /* the whole surface was turned round                  */
  double volume;                 /* mm^3; means little with open edges                  */
  Vec3 low, high;                /* its box, mm                                         */
} MeshState;

void mesh_clear(Mesh *mesh); /* accepts NULL and cleared meshes */
/* Joins equal corners.
 *   corner  in   3 n of them, single precision values
 *   number  in   n, or NULL: 1, 2, 3 ...
 *   state   out  flat, first_flat; the rest is mesh_look's
 * FAULT_RANGE above MESH_MOST_TRIANGLES, FAULT_DEGENERATE when fewer than 4 are left. */
MUST_CHECK Fault mesh_weld(float (*corner)[3], const uint32_t *number, size_t n,
                           const MeshWatch *watch, Mesh *mesh, MeshState *state);
/* Looks at every edge, the box and the volume; turns a surface round that is inside out. */
MUST_CHECK Fault mesh_look(Mesh *mesh, const MeshWatch *watch, MeshState *state);
void mesh_scale(Mesh *mesh, double factor);

/* A place and three unit vectors at right angles: x along the span, y up, z to the cheek.  It may
 * be left-handed: which side the cheek lies on depends on the quadrant. */
typedef struct {
  Vec3 origin, x, y, z;
} MeshFrame;

/* From the surface itself: x its longest main axis, y the other main axis that is nearest to `up`,
 * z = x cross y, or the opposite when `left_handed`; origin its centre of surface. FAULT_DEGENERATE
 * for a surface without extent. */
MUST_CHECK Fault mesh_frame_guess(const Mesh *mesh, Vec3 up, bool left_handed, MeshFrame *frame);
/* Quarter turns about x, and end for end (about y); the hand stays. */
MeshFrame mesh_frame_turned(MeshFrame frame, int quarters, bool end_for_end);
/* x turned by yaw about y (to the cheek +) and by pitch about z (up +), rad. */
MeshFrame mesh_frame_tilted(MeshFrame frame, double yaw, double pitch);
Vec3 mesh_frame_local(const MeshFrame *frame, Vec3 p);
/* The place frame.origin + x along frame.x and so on. */
Vec3 mesh_frame_place(const MeshFrame *frame, Vec3 local);

static inline bool mesh_go_on(const MeshWatch *watch, double done)
{
  return !watch || !watch->step || watch->step(watch->data, done);
}
