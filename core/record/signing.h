/* signing.h - personal signing keys (Ed25519, libsodium) and the lab's public ones.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Signed are the 64 hex digits of an entry's chain, as text.  A key belongs to one name and role:
 * who changes either makes a new key, and what the old one signed stays good. */
#pragma once
#include "record/chain.h"

#define SIGNING_ERROR (signing_error_quark())
GQuark signing_error_quark(void);
typedef enum {
  SIGNING_ERROR_FILE,   /* cannot be read or written */
  SIGNING_ERROR_DAMAGED /* is no key, or not safe */
} SigningErrorCode;

typedef struct {
  char id[17];                  /* 16 hex digits: the begin of the SHA-256 of the public key */
  char *name, *role, *initials; /* owned: whose it is */
  unsigned char key[32];
} PublicKey;
typedef struct PublicKeys
    PublicKeys; /* those of a lab folder: its subfolder "keys", one file each */

/* Made on this machine, kept in `file` readable by its owner only; a file that is there already is
 * never written over. */
bool signing_key_make(const char *file, const Person *whose, GError **error);
/* Refused when others may read the file. */
bool signing_key_load(SigningKey **key, const char *file, GError **error);
void signing_key_free(SigningKey *key); /* wiped */
/* Writes the public half into the lab's folder. */
bool signing_key_publish(const SigningKey *key, const char *lab_folder, GError **error);
const char *signing_key_id(const SigningKey *key);
/* Whether it was made for this name and role: only then it may sign for them. */
bool signing_key_belongs(const SigningKey *key, const Person *by);

/* Unreadable key files are left out and named in *trouble (GPtrArray of owned texts; may be NULL).
 * Never NULL: a folder without keys has none. */
PublicKeys *public_keys_load(const char *lab_folder, GPtrArray **trouble);
void public_keys_free(PublicKeys *keys);
size_t public_keys_count(const PublicKeys *keys);
const PublicKey *public_keys_find(const PublicKeys *keys, const char *id); /* borrowed; NULL */

typedef enum {
  SIGNED_NOT,     /* unsigned */
  SIGNED_WELL,    /* by a key of the lab, whose name and role are those of the entry */
  SIGNED_UNKNOWN, /* by a key the lab does not have */
  SIGNED_WRONG    /* the signature does not fit the entry or its person */
} SignedState;
/* keys: NULL = the lab has none.  Says nothing about the chain: a signature is of an entry's chain,
 * and that fits its words only where chain_check() says so. */
SignedState entry_signed(const HistoryEntry *entry, const PublicKeys *keys);
const char *signed_id(SignedState state);   /* "yes": JSON */
const char *signed_name(SignedState state); /* English msgid, "signed" */
