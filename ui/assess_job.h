/* assess_job.h - assessments in a worker thread: the latest request wins, the window never waits.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One thread and one Assessor a job.  While an assessment runs, newer requests replace each other
 * in the one waiting place.  A request is answered twice: at once with ASSESS_LIVE, and with
 * ASSESS_REST when no other request came for ASSESS_JOB_REST_MS.  Where a band is then still wider
 * than ASSESS_JOB_WIDE_PERCENT, or the plane stood in for the solid, a third answer follows with
 * ASSESS_FINE.  A running live answer is finished (so the shade follows a moving pen), the others
 * are cancelled by a newer request. Everything but the run function happens on the thread that made
 * the job (its main context). */
#pragma once
#include "assess.h"

#define ASSESS_JOB_REST_MS 250
#define ASSESS_JOB_WIDE_PERCENT 6.0

/* What the worker runs: assess() unless a test gives another. */
typedef Fault (*AssessRun)(Assessor *assessor, const Case *c, const AssessSettings *settings,
                           Assessment **result);

/* Called on the main context, in the order of the requests.
 *   result   borrowed (assessment_ref to keep); NULL when fault is not FAULT_NONE
 *   current  the answer belongs to the last request: nothing newer waits
 * Answers of requests made before assess_job_forget() are dropped. */
typedef void (*AssessDeliver)(Assessment *result, Fault fault, bool current, void *data);

typedef struct AssessJob AssessJob;
AssessJob *assess_job_new(AssessRun run, AssessDeliver deliver,
                          void *data); /* run NULL: assess() */
void assess_job_free(
    AssessJob *job); /* cancels, joins the thread; nothing is delivered after; accepts NULL */

/* Copies the case.  focus: connector whose advice is wanted in full, SIZE_MAX = all. */
void assess_job_request(AssessJob *job, const Case *c, size_t focus);
/* Whether rest answers of later requests tell the way from the best connector to the drawn one. */
void assess_job_waterfall(AssessJob *job, bool wanted);
/* Whether answers of later requests are compared with each other (AssessSettings.compared). */
void assess_job_compare(AssessJob *job, bool compared);
void assess_job_forget(
    AssessJob *job);                  /* another case: what runs and waits is of no use any more */
bool assess_job_busy(AssessJob *job); /* runs, waits, or a rest answer is to come */
