/* exercise_xml.h - exercises of the school bench from XML files and into them.
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
/* As it is read again, schema included; owned. */
GString *exercise_to_xml(const Exercise *exercise);
/* Written beside the file, fsync, rename: the old file stays whole on any failure. */
bool exercise_save(const Exercise *exercise, const char *path, GError **error);
/* All that a file keeps. */
bool exercise_equal(const Exercise *a, const Exercise *b);
/* By way of its file: what cannot be written cannot be copied.  NULL and the error. */
Exercise *exercise_copy(const Exercise *exercise, GError **error);
