/* evidence_make.h - the stages of evidence, as the worker makes them.  Private to ui/review.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/review/evidence.h"

/* A case to be made evidence of.  Counted references: the worker keeps its own while another one is
 * asked for. */
typedef struct {
  char *folder, *file, *seen; /* owned */
  gint64 changed_us;
  size_t first;
  EvidenceStage stage; /* to be made next; under the job's mutex */
  bool read;           /* the worker's, as all below */
  Case c, base[SINCE_N];
  bool differs[SINCE_N]; /* its answer is another one than that of now */
  VerdictLimits limits;
} Place;
Place *place_new(const EvidenceWanted *wanted);
void place_unref(Place *place); /* accepts NULL */

/* What the worker hands over. */
typedef struct {
  char *file;
  gint64 changed_us;
  Evidence *fresh; /* owned: EVIDENCE_READ */
  EvidenceStage stage;
  Assessment *a, *base[SINCE_N]; /* owned refs */
  FlatBridge *flat;
  Fault fault;
} Part;
void evidence_free(void *evidence);
void part_free(void *part);

/* The next stage of the place.  Once `cancelled` says so the part's fault is FAULT_CANCELLED. */
Part *part_make(Assessor *assessor, Place *place, bool (*cancelled)(void *data), void *data);
