/* preferences.h - what a person chose for this desktop: one key file in the user's configuration
 * folder. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Unreadable or absurd values count as not set; failing to write is told in the log only. */
#pragma once
#include <stdbool.h>

bool preference_flag(const char *key, bool otherwise);
void preference_flag_set(const char *key, bool on);
char *preference_word(const char *key); /* owned; NULL = not set */
void preference_word_set(const char *key, const char *word);
