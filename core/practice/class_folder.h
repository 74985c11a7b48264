/* class_folder.h - a teacher's view: the progress of many trainees in one folder.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "practice/skill.h"

#define PROGRESS_ENDING ".progress"

/* Counted: a table and a paper made of it at the same time each hold their own. */
typedef struct {
  char *file; /* name in the folder, owned */
  Progress *progress;
  guint passed;
  SkillState skill[SKILLS];
  double place_mm, gain_points; /* calibration */
} ClassRow;

ClassRow *class_row_ref(ClassRow *row); /* by any thread */
void class_row_unref(gpointer row);

/* One file of the folder, or, at first, none: how many there are.
 *   row      owned by the callee; NULL: it cannot be read, or nothing was read yet
 *   message  owned by the callee; why not, or what was made good; NULL: nothing
 *   done, of files read so far, and to read
 * False: no more. */
typedef bool (*ClassTell)(ClassRow *row, char *message, guint done, guint of, void *data);

/* Reads the progress files of a folder in the order of their names.  False and the error when there
 * is no folder. */
bool class_walk(const char *folder, const GPtrArray *set, ClassTell tell, void *data,
                GError **error);
/* GPtrArray of ClassRow by file name, freed with its array.  A file that cannot be read is left out
 * and told in `message` (of char *, may be NULL). NULL and the error when there is no folder. */
GPtrArray *class_read(const char *folder, const GPtrArray *set, GPtrArray *message, GError **error);
