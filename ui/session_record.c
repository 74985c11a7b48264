/* session_record.c - what a saved case tells of how it came about.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/case_xml.h"
#include "record/decision.h"
#include "ui/person_profile.h"
#include "ui/session_private.h"
#include "ui/words.h"

guint session_record(SoffitSession *session)
{
  Person person = person_profile();
  SigningKey *key = person_signing_key(&person, NULL); /* without: unsigned, and shown so */
  guint kept = session->c.history->len;
  Fault fault = session->saved ? record_changes(&session->c, session->saved, &person, key)
                               : chain_append(&session->c, ENTRY_CHANGE, &person,
                                              session->path ? _("Saved after a recovery")
                                                            : _("Saved for the first time"),
                                              NULL, NULL, NULL, key);
  if (fault) /* a record with a gap is told as changed outside of it; the work is saved */
    g_message("%s", _(fault_text(fault)));
  signing_key_free(key);
  person_clear(&person);
  return kept;
}

void session_record_take_back(SoffitSession *session, guint kept)
{
  g_ptr_array_set_size(session->c.history, (gint)kept);
}

bool session_send(SoffitSession *session, GError **error)
{
  const VerdictLimits limits = verdict_limits_default();
  if (!session_save(session, NULL, error)) /* what changed comes before it */
    return false;
  Person person = person_profile();
  SigningKey *key = person_signing_key(&person, NULL);
  guint kept = session->c.history->len;
  Fault fault = case_decide(&session->c, ENTRY_SENT, &person, "", 0, &limits, key);
  signing_key_free(key);
  person_clear(&person);
  if (fault)
    g_set_error_literal(error, CASE_ERROR, CASE_ERROR_SAVE, _(fault_text(fault)));
  bool sent = !fault && session_save(session, NULL, error);
  if (!sent)
    g_ptr_array_set_size(session->c.history, (int)kept);
  return sent;
}
