/* evidence.h - what a supervisor is shown of one case, made in a thread, the next case ahead.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * It comes in stages: the case and its record as soon as the file is read; the live answer of the
 * weakest connector alone, so that there is something to look at; that of the bridge; the answer at
 * rest with the waterfall and the flat picture of the whole bridge; last the answers for the case
 * as it was before.  Main thread only but for the worker inside. */
#pragma once
#include "lab/lab_read.h"
#include "ui/drawing/flat_bridge.h"

typedef enum {
  EVIDENCE_READ,
  EVIDENCE_FIRST,
  EVIDENCE_LIVE,
  EVIDENCE_REST,
  EVIDENCE_WHOLE
} EvidenceStage;

/* What the case is held against: as this person last looked at it here (lab/seen_store.h), and with
 * the outlines that were approved. */
typedef enum { SINCE_SEEN, SINCE_APPROVED, SINCE_N } EvidenceSince;
typedef struct {
  bool there;      /* there is such a state of the case */
  gint64 time_us;  /* when it was looked at; 0 = not known */
  GArray *changes; /* CaseChange, owned; NULL or empty: none */
  Assessment *a;   /* owned ref: of then; NULL: not there yet, or its answer is that of now */
} EvidenceBase;

typedef struct {
  char *file;        /* owned: name in the folder */
  gint64 changed_us; /* of the file, as the list knows it: another one makes it out of date */
  char seen[65];     /* digest of the bytes that were read: what a decision is written over */
  char *unread;      /* owned: why there is no case; NULL = there is */
  Case c;            /* owned */
  Standing standing; /* owned; of the moment it was read */
  VerdictLimits limits;
  EvidenceBase base[SINCE_N];
  Assessment *first; /* owned ref: of one connector alone (AssessSettings.only); NULL before */
  Assessment *a;     /* owned ref; NULL before it came */
  Fault fault;       /* why it does not come */
  FlatBridge *flat;  /* owned; NULL before it came, or it cannot be shown */
  EvidenceStage stage;
} Evidence;

/* What there is to draw of a connector: NULL before it came. */
const Assessment *evidence_of_connector(const Evidence *evidence, size_t connector);

/* Which case: in a lab, as somebody sees it. */
typedef struct {
  const char *folder, *file;
  gint64 changed_us;
  size_t first;     /* its weakest connector, as the list knows it */
  const char *seen; /* seen_folder() of who looks */
} EvidenceWanted;

typedef struct EvidenceJob EvidenceJob;
/* Something more of the evidence at hand is there; borrowed until the next call or ask. */
typedef void (*EvidenceCame)(const Evidence *evidence, void *data);
EvidenceJob *evidence_job_new(EvidenceCame came, void *data);
void evidence_job_free(EvidenceJob *job); /* cancels, joins; accepts NULL */

/* This case is looked at now; what is kept of it is told at once.  next: looked at after it, made
 * when there is time; may be NULL. */
void evidence_job_ask(EvidenceJob *job, const EvidenceWanted *wanted, const EvidenceWanted *next);
/* Waits no longer than this until the case at hand is read, which takes 2 ms where its folder is
 * not slow; what came is told before it returns.  Spares the window to show an empty page first. */
void evidence_job_await_read(EvidenceJob *job, gint64 most_us);
/* Another lab, other thresholds: nothing that is kept counts any more. */
void evidence_job_forget(EvidenceJob *job);
