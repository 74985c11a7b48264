/* exercise_xml.h - exercises of the school bench from XML files.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Namespace "https://soffit.invalid/exercise" version 1, schema data/schema/exercise.rng; the start
 * is a whole case, as in a case file.  Errors read "FILE:LINE: what is wrong. What to do." in
 * domain CASE_ERROR. */
#pragma once
#include "casefile/exercise.h"

/* NULL and the error. */
Exercise *exercise_load(const char *path, GError **error);
/* shipped: built in, its schema is a test's business. */
Exercise *exercise_load_memory(const char *text, size_t length, const char *name, bool shipped,
                               GError **error);
