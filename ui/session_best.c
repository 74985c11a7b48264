/* session_best.c - the best outline as a preview that grows while the search runs, taken whole or
 * in part. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/session_private.h"
#include "base/phrase.h"
#include "casefile/drawn.h"

/* A fall of the pull by f is a gain of f / (1 - f) in load, as the ghost's plate has it back. */
static double gain_of(double fall_percent)
{
  return 100 * fall_percent / (100 - fall_percent);
}

static void preview_show(SoffitSession *session, const Outline *ghost, Banded fall, Phrase act)
{
  Advice advice = {.kind = ADVICE_BEST,
                   .connector = session->best.connector,
                   .act = act,
                   .gain_percent =
                       banded(gain_of(fall.value), gain_of(fall.low), gain_of(fall.high)),
                   .ghost = *ghost,
                   .side = SIDE_GINGIVAL};
  const Connector *k = &session->c.connector[session->best.connector];
  memcpy(advice.finish, k->finish, sizeof advice.finish);
  session->best.telling = true;
  session_preview(session, &advice);
  session->best.telling = false;
}

static void best_told(const BestOutline *best, Fault fault, bool ended, void *data)
{
  SoffitSession *session = data;
  const Banded none = {NAN, NAN, NAN};
  Phrase act = {.text = N_("Looking for the best outline: {0} of {1}"),
                .value = {best->solves, best->of}};
  bool found = best->outline.n > 0;
  if (!session->preview)
    return;
  if (ended)
    act = (Phrase){.text = fault == FAULT_RANGE ? N_("There is no room here for another outline.")
                           : fault              ? fault_text(fault)
                           : best->breach       ? room_breach_text(best->breach)
                           : found              ? N_("Best outline in this room")
                                   : N_("The outline as drawn is as good as any in this room.")};
  session->best.found = ended && found;
  preview_show(session, found ? &best->outline : &session->best.from,
               found ? best->fall_percent : none, act);
}

bool session_best_begin(SoffitSession *session, bool take_height)
{
  if (!session->open || session->c.n_unit < 2)
    return false;
  session_edit_end(session);
  SessionBest *best = &session->best;
  if (!best->job)
    best->job = best_job_new(best_told, session);
  if (outline_copy(&best->from, &session->c.connector[session->focus].side[SIDE_GINGIVAL]))
    return false;
  best->connector = session->focus;
  best->found = false;
  best->share = 0;
  best_job_start(best->job, &session->c, session->focus, take_height);
  preview_show(session, &best->from, banded(NAN, NAN, NAN),
               (Phrase){.text = N_("Looking for the best outline …")});
  return true;
}

bool session_best_shown(SoffitSession *session)
{
  return session->preview && session->best.shown;
}

bool session_best_ready(SoffitSession *session)
{
  return session_best_shown(session) && session->best.found;
}

double session_best_share(SoffitSession *session)
{
  return session->best.share;
}

bool session_best_in_part(SoffitSession *session)
{
  return session_best_ready(session) && session->best.share > 0;
}

bool session_best_take(SoffitSession *session)
{
  session->best.share = 0;
  return session_preview_keep(session);
}

const Outline *session_best_from(SoffitSession *session)
{
  return &session->best.from;
}

Fault session_best_set_share(SoffitSession *session, double share)
{
  SessionBest *best = &session->best;
  if (!session_best_ready(session) || !session->edit_name)
    return FAULT_RANGE;
  Outline part;
  outline_init(&part);
  Fault fault = outline_blend(&best->from, &session->preview->ghost, share, &part);
  if (!fault)
    fault = session_set_outline(session, best->connector, SIDE_GINGIVAL, &part);
  if (!fault) /* what is left of the drawn roof is not known as it was; the found one is exact */
    session_set_roof_doubt(session, best->connector,
                           (1 - share) *
                               connector_roof_doubt(&session->before->connector[best->connector]));
  outline_clear(&part);
  if (fault)
    return fault;
  best->share = share;
  assess_job_compare(session->job, true); /* its parts are solved alike */
  session_edit_update(session);
  return FAULT_NONE;
}

/* Any other preview, or none, ends the search. */
void session_best_left(SoffitSession *session)
{
  if (session->best.telling)
    session->best.shown = true;
  else {
    if (session->best.job)
      best_job_stop(session->best.job);
    assess_job_compare(session->job, false);
    session->best.shown = session->best.found = false;
  }
}

void session_best_halt(SoffitSession *session)
{
  if (session->best.job && best_job_runs(session->best.job))
    session_preview(session, NULL);
}

void session_best_clear(SoffitSession *session)
{
  g_clear_pointer(&session->best.job, best_job_free);
  outline_clear(&session->best.from);
}
