/* signing_parts.h - what the chain, the keys and their tests share.  Private to core/record.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "record/signing.h"

/* Ed25519 over the bytes, base64; owned. */
char *signing_key_sign(const SigningKey *key, const void *bytes, size_t n);
/* A key from its 32 secret bytes (RFC 8032 "private key"); NULL without memory. */
SigningKey *signing_key_from_seed(const unsigned char seed[32], const Person *whose);
void signing_key_public(const SigningKey *key, unsigned char public_key[32]);
void public_key_id(const unsigned char public_key[32], char id[17]);
/* The file of one public key in the lab's folder. */
bool public_key_write(const PublicKey *key, const char *lab_folder, GError **error);
