/* exercise_set.h - all exercises: those that Soffit brings along, and those of a folder.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "casefile/exercise.h"

/* GPtrArray of Exercise in the order of their ids (1.2 before 1.10), the shipped ones first; owned
 * by the caller.  A file of the folder that cannot be read, or has an id that is taken, is left out
 * and told: its message
 * ("FILE:LINE: what is wrong. What to do.") is added to `message` (of char *, may be NULL).
 *   folder  may be NULL; one that is not there is empty */
GPtrArray *exercises_all(const char *folder, GPtrArray *message);
guint exercises_counted(const GPtrArray *set);                       /* with something to pass */
const Exercise *exercise_find(const GPtrArray *set, const char *id); /* NULL: none */
