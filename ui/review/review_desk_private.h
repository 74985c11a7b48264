/* review_desk_private.h - what the two files of the desk share.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/review/review_desk.h"

struct _SoffitReviewDesk {
  GObject parent;
  SoffitLabDesk *lab;
  SoffitQueue *queue;
  EvidenceJob *job;
  GHashTable *draft; /* file -> what is about to be said of it */
  char *file;        /* looked at; NULL */
  gint64 asked_us;   /* of the file, when its evidence was asked for */
  guint position;    /* where it stood in the queue */
  bool chosen;       /* by somebody, not because it came first */
  bool selecting;    /* another case is being chosen: what comes is told with it */
  const Evidence *evidence;
  size_t connector; /* SIZE_MAX: the weakest */
  bool approved;    /* wanted: what changed since that, though he looked at it later */
  guint looking;    /* timer: long enough to have seen it */
  char looked[65];  /* digest of the file that was seen so; "" = not yet */
  guint writing;
  char *refused; /* owned: file that somebody else has; NULL */
  EntryKind refused_kind;
  char *last; /* owned: file decided last; NULL */
};

GHashTable *review_drafts_new(void);
void review_desk_drafted(SoffitReviewDesk *desk); /* tells "draft" */
void review_desk_tell(SoffitReviewDesk *desk, const char *words, bool wrong);
