/* stl_job.h - what a surface takes time for, on a thread of its own.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Main thread only.  One task at a time; of planes that come while one runs the last is done.  An
 * answer comes to the main context; none comes after stl_job_free. */
#pragma once
#include "casefile/surface_case.h"
#include "casefile/stl_file.h"

/* A surface that never changes; shared. */
typedef struct {
  Mesh mesh;
  StlReport report;
} Surface;
Surface *surface_ref(Surface *surface);
void surface_unref(Surface *surface); /* accepts NULL */

typedef enum { STL_LOAD, STL_TURN, STL_PLANE, STL_TRACE } StlTask;

typedef struct {
  StlTask task;
  Fault fault;
  char *message;                   /* owned: of a fault, whole; NULL when it was stopped         */
  Surface *surface;                /* owned ref: LOAD                                            */
  MeshSpan *span;                  /* owned: LOAD, TURN                                          */
  size_t connector;                /* PLANE; of a fault of TRACE                                 */
  Neck neck;                       /* PLANE                                                      */
  Trace trace[SPAN_MAX_UNITS - 1]; /* TRACE: of the connectors wanted             */
} StlAnswer;

typedef struct StlJob StlJob;
typedef void (*StlDone)(StlAnswer *answer, void *data); /* what it steals it sets to NULL */

StlJob *stl_job_new(StlDone done, void *data);
void stl_job_free(StlJob *job);       /* stops; accepts NULL */
bool stl_job_busy(const StlJob *job); /* with more than a plane */
double stl_job_progress(const StlJob *job);
void stl_job_stop(StlJob *job);

/* Reads, lays the surface along the case's span (share: n places of its connectors) and finds the
 * necks. */
void stl_job_load(StlJob *job, const char *path, StlUnit unit, bool cheek_behind,
                  const double share[], size_t n);
void stl_job_turn(StlJob *job, Surface *surface, const MeshFrame *frame);
void stl_job_plane(StlJob *job, Surface *surface, const MeshSpan *span, size_t connector, double x,
                   double yaw, double pitch);
/* wanted, neck, reach: n, one for each connector */
void stl_job_trace(StlJob *job, Surface *surface, const bool wanted[], const Neck neck[],
                   double reach[][2], size_t n);
