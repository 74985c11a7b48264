/* person_profile.h - who works at this desktop: name, role, initials and signing key.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Kept in the preferences of this desktop and nowhere else; what a case takes from it stands in its
 * history. */
#pragma once
#include "record/signing.h"

#define PERSON_ROLES 4
/* Words for files, msgids for people. */
extern const char *const person_role[PERSON_ROLES];

/* As chosen ("Who works here"), else as the system knows: owned texts, never NULL; name and role
 * are never "". */
Person person_profile(void);
bool person_chosen(void); /* somebody has said who works here */
void person_profile_set(const Person *person);
void person_clear(Person *person);
char *person_initials(const char *name); /* "AB" of "Anna Berg"; "" of a name without letters */

/* The key that signs for this person: owned, NULL without one; *why (may be NULL) is then why the
 * chosen one will not do, owned, NULL when none was chosen. */
SigningKey *person_signing_key(const Person *person, char **why);
char *person_key_file(void); /* owned path; NULL = none was chosen */
void person_key_file_set(const char *path);
/* Where a key of this person is made: a file that is not there yet; owned. */
char *person_key_place(const Person *person);
