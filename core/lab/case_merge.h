/* case_merge.h - two people's work on one case, put together by parts.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * base: the case as both began with it; mine: as it is in this window; theirs: as it is in the file
 * by now.  A part that only one has changed is that one's; a part that both have changed is a
 * person's choice, theirs until then.  Ticks, remarks and history are united: a remark of either is
 * kept, a step that either has opened again is open, the history is theirs with my entries behind
 * it. */
#pragma once
#include "record/chain.h"
#include "record/change.h"

typedef enum { MERGE_THEIRS, MERGE_MINE } MergeChoice;

/* A part in which mine and theirs differ. */
typedef struct {
  CasePart part;
  size_t connector;     /* SIZE_MAX: of the bridge */
  bool mine, theirs;    /* who has changed it since base */
  bool with_connectors; /* PART_UNITS: other teeth, so that all connectors go with the units */
  MergeChoice choice;
} MergeRow;

/* In the order of the parts; new GArray of MergeRow in *rows, untouched on a fault.
 *   base  in  NULL: not known, then everything that differs was changed by both */
MUST_CHECK Fault case_merge_rows(const Case *base, const Case *mine, const Case *theirs,
                                 GArray **rows);
/* Whether somebody must choose: a part that both have changed. */
bool case_merge_asks(const GArray *rows);
/* Whether theirs brings nothing but remarks, ticks and history to base: case_merge_additions() is
 * all it takes. */
bool case_adds_only(const Case *base, const Case *theirs);

/* By the choices of the rows.  `merged` is inited, and untouched unless true is returned.  False:
 * these choices do not go together (sizes of units with outlines that do not fit them);
 *   place   out  "34/35 gingival", "unit 3"
 *   reason  out  static English msgid: what is wrong, what to do */
bool case_merge(const Case *base, const Case *mine, const Case *theirs, const GArray *rows,
                Case *merged, char place[32], const char **reason);
/* Ticks, remarks and history of theirs into c, as merging does, and nothing else: for what others
 * added while c was worked on.  theirs may be c merged before. */
MUST_CHECK Fault case_merge_additions(Case *c, const Case *base, const Case *theirs);
/* The entry of the history that tells of it, with the digests of both files. */
MUST_CHECK Fault case_merge_note(Case *merged, const Person *by, const char *mine_sha256,
                                 const char *theirs_sha256);
