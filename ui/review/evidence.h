/* evidence.h - what a supervisor is shown of one case, made in a thread, the next case ahead.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * It comes in stages: the case and its record as soon as the file is read, the live answer, the
 * answer at rest with the waterfall and the flat picture of the whole bridge, last the answer for
 * the outlines that were approved.  Main thread only but for the worker inside. */
#pragma once
#include "lab/lab_read.h"
#include "ui/drawing/flat_bridge.h"

typedef enum { EVIDENCE_READ, EVIDENCE_LIVE, EVIDENCE_REST, EVIDENCE_WHOLE } EvidenceStage;

typedef struct {
  char *file;        /* owned: name in the folder */
  gint64 changed_us; /* of the file, as the list knows it: another one makes it out of date */
  char seen[65];     /* digest of the bytes that were read: what a decision is written over */
  char *unread;      /* owned: why there is no case; NULL = there is */
  Case c;            /* owned */
  Standing standing; /* owned; of the moment it was read */
  VerdictLimits limits;
  GArray *changes;    /* CaseChange, owned: since the outlines that were approved */
  Assessment *a;      /* owned ref; NULL before it came */
  Fault fault;        /* why it does not come */
  Assessment *before; /* owned ref: with the outlines that were approved; NULL: none, or the same */
  FlatBridge *flat;   /* owned; NULL before it came, or it cannot be shown */
  EvidenceStage stage;
} Evidence;

typedef struct EvidenceJob EvidenceJob;
/* Something more of the evidence at hand is there; borrowed until the next call or ask. */
typedef void (*EvidenceCame)(const Evidence *evidence, void *data);
EvidenceJob *evidence_job_new(EvidenceCame came, void *data);
void evidence_job_free(EvidenceJob *job); /* cancels, joins; accepts NULL */

/* This case is looked at now; what is kept of it is told at once.  next: looked at after it, made
 * when there is time; may be NULL. */
void evidence_job_ask(EvidenceJob *job, const char *folder, const char *file, gint64 changed_us,
                      const char *next, gint64 next_changed_us);
/* Another lab, other thresholds: nothing that is kept counts any more. */
void evidence_job_forget(EvidenceJob *job);
