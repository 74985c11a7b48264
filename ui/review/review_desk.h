/* review_desk.h - what the parts of the Review workspace share: the lab, the queue, the case that
 * is looked at, what is about to be said of it, and the decisions.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Main thread only.  Signals (no arguments but told's):
 *   "selected"  another case, or none, is looked at
 *   "evidence"  more of its evidence is there, or another connector is in view
 *   "draft"     its remarks or closing words changed
 *   "told"      (char *words, gboolean wrong)  a decision was written, or why it was not */
#pragma once
#include "ui/review/evidence.h"
#include "ui/review/queue.h"

#define SOFFIT_TYPE_REVIEW_DESK (review_desk_get_type())
G_DECLARE_FINAL_TYPE(SoffitReviewDesk, review_desk, SOFFIT, REVIEW_DESK, GObject)

SoffitReviewDesk *review_desk_new(const LabDeskSettings *settings); /* NULL = default */
SoffitLabDesk *review_desk_lab(SoffitReviewDesk *desk);             /* borrowed */
SoffitQueue *review_desk_queue(SoffitReviewDesk *desk);             /* borrowed */
void review_desk_open(SoffitReviewDesk *desk, const char *folder);

/* ---- what is looked at ---- */
const char *review_desk_file(SoffitReviewDesk *desk);              /* NULL = nothing */
const LabRow *review_desk_row(SoffitReviewDesk *desk);             /* of it; borrowed; NULL */
void review_desk_select(SoffitReviewDesk *desk, const char *file); /* by somebody */
void review_desk_step(SoffitReviewDesk *desk, int by);
/* NULL before the file was read. */
const Evidence *review_desk_evidence(SoffitReviewDesk *desk);
size_t review_desk_connector(SoffitReviewDesk *desk); /* in view: the weakest unless chosen */
void review_desk_set_connector(SoffitReviewDesk *desk, size_t connector);

/* What its changes are told against: the last look of this person here, else the approval; chosen
 * where there are both.  SINCE_N: neither. */
EvidenceSince review_desk_since(SoffitReviewDesk *desk);
void review_desk_set_since(SoffitReviewDesk *desk, EvidenceSince since);

/* ---- what is about to be said ---- */
const GPtrArray *review_desk_remarks(SoffitReviewDesk *desk); /* Remark; never NULL */
void review_desk_pin(SoffitReviewDesk *desk, size_t connector, Point at, const char *text);
void review_desk_move(SoffitReviewDesk *desk, guint remark, Point at); /* on its connector */
void review_desk_unpin(SoffitReviewDesk *desk, guint remark);
const char *review_desk_words(SoffitReviewDesk *desk); /* closing words; "" */
void review_desk_set_words(SoffitReviewDesk *desk, const char *words);

/* ---- decisions ---- */
guint review_desk_stops(SoffitReviewDesk *desk); /* that stand */
/* Whether the closing words are needed and missing: a return without remarks, leaving it waiting,
 * a pass with stops. */
bool review_desk_lacks_words(SoffitReviewDesk *desk, EntryKind kind);
/* Written in a thread; the next case is looked at already.  False, and told why, when there is
 * nothing to decide on. */
bool review_desk_decide(SoffitReviewDesk *desk, EntryKind kind);
/* The last one was refused because somebody has the case: once more, taking it over. */
bool review_desk_can_take_over(SoffitReviewDesk *desk);
void review_desk_take_over(SoffitReviewDesk *desk);
/* The last decision of this window is taken back: by an entry more, it waits again. */
bool review_desk_can_take_back(SoffitReviewDesk *desk);
void review_desk_take_back(SoffitReviewDesk *desk);
guint review_desk_writing(SoffitReviewDesk *desk); /* decisions on their way to the disk */
/* Decided on since midnight, in the whole lab. */
guint review_desk_today(SoffitReviewDesk *desk);
