/* notch_job.h - a notched bar solved in a thread, ready to be drawn: the latest request wins.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Main thread only; nothing ever waits for it.  Signal "solved": notch_job_shown() is another, or
 * is still the one that was asked for. */
#pragma once
#include "mechanics/notched_bar.h"
#include "ui/drawing/contour.h"
#include "ui/drawing/shade.h"
#include <glib-object.h>

/* What a notch does; immutable. */
typedef struct {
  NotchedBar bar;
  NotchedBarAnswer *answer; /* NULL: this bar has none */
  Shaded *shaded;           /* at 1 N mm; NULL alike   */
  LineSet zero;             /* where squeeze turns to stretch */
} NotchShown;

#define SOFFIT_TYPE_NOTCH_JOB (notch_job_get_type())
G_DECLARE_FINAL_TYPE(SoffitNotchJob, notch_job, SOFFIT, NOTCH_JOB, GObject)

SoffitNotchJob *notch_job_new(void);
void notch_job_request(SoffitNotchJob *job, const NotchedBar *bar);
const NotchShown *
notch_job_shown(SoffitNotchJob *job); /* borrowed until "solved"; NULL: none yet */
