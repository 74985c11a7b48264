/* chain.h - the history of a case: appended to, chained by SHA-256, signed by Ed25519.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The chain shows that an entry was changed, taken out or put in between; it does not show that the
 * newest entries were cut off, or that somebody wrote the whole history anew: that is what signed
 * decisions are for, as far as the signer's key stayed secret and the lab's folder of public keys
 * was not changed.  Nothing here keeps anybody from deleting a file.  (README "What the record
 * protects against".)
 *
 * What is digested, lines ended by one line feed, lengths in bytes of UTF-8:
 *   soffit history 1
 *   previous 64:CHAIN OF THE ENTRY BEFORE   or, in the first chained entry:  earlier N
 *   kind 6:change
 *   time 20:2026-03-02T10:20:00Z
 *   and likewise: name, role, initials, text, before, after, content, limits, key
 * After "earlier N" come the nine lines kind .. limits, key of each of the N entries from before
 * the record was chained, then those of the entry itself.  `soffit-cli record CASE.xml --bytes N`
 * writes them, sha256sum verifies them. */
#pragma once
#include "casefile/case.h"
#include "record/digest.h"

/* Who does it: of this desktop. */
typedef struct {
  char *name, *role, *initials; /* owned by whoever filled it; role: "supervisor", ... */
} Person;

typedef struct SigningKey SigningKey; /* secret; record/signing.h */

/* The bytes that are digested for entry i, as sha256sum would take them; owned.  Of an entry from
 * before the record was chained: as if it were the first chained one. */
GString *chain_bytes(const Case *c, guint i);

/* Appends one entry: time now (never before the last entry's: a clock that jumps back is noted in
 * it), person, chain; signs it when there is a key.  Texts may be NULL.  The digest of the case as
 * it stands is kept in all but notes.
 *   limits  in  decisions: "1.00 1.25"; else NULL */
MUST_CHECK Fault chain_append(Case *c, EntryKind kind, const Person *by, const char *text,
                              const char *before, const char *after, const char *limits,
                              const SigningKey *key);

typedef enum {
  CHAIN_NONE, /* nothing is chained yet */
  CHAIN_WHOLE,
  CHAIN_BROKEN /* at entry `broken_at`, the first that does not fit */
} ChainState;
typedef struct {
  ChainState state;
  guint broken_at;
  guint first; /* first chained entry: those before are from before the record was chained */
} ChainReading;
ChainReading chain_check(const Case *c);
/* Whether entry i alone fits its own chain; false when it has none. */
bool chain_fits(const Case *c, guint i);

/* An entry in words, a line for each change: "Roof radius: 0.20 mm -> 0.75 mm" with a real arrow;
 * owned. */
char *entry_words(const HistoryEntry *entry);
