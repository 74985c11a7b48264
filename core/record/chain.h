/* chain.h - the history of a case: appended to, chained by SHA-256, signed by Ed25519.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The chain shows that an entry was changed, taken out or put in between; it does not show that the
 * newest entries were cut off, or that somebody wrote the whole history anew: that is what signed
 * decisions are for, as far as the signer's key stayed secret and the lab's folder of public keys
 * was not changed.  Nothing here keeps anybody from deleting a file.  (README "What the record
 * protects against".) */
#pragma once
#include "casefile/case.h"
#include "record/digest.h"

/* Who does it: of this desktop. */
typedef struct {
  char *name, *role, *initials; /* owned by whoever filled it; role: "supervisor", ... */
} Person;

typedef struct SigningKey SigningKey; /* secret; record/signing.h */

/* The bytes that are digested for entry i, as sha256sum would take them; owned. */
GString *chain_bytes(const Case *c, guint i);

/* Appends one entry: time now (never before the last entry's: a clock that jumps back is noted in
 * it), person, chain; signs it when there is a key.  Texts may be NULL.  With decision kinds the
 * digest of the case as it stands is kept in it.
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
