/* class_folder.h - a teacher's view: the progress of many trainees in one folder.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "practice/skill.h"

#define PROGRESS_ENDING ".progress"

typedef struct {
  char *file; /* name in the folder, owned */
  Progress *progress;
  guint passed;
  SkillState skill[SKILLS];
  double place_mm, gain_points; /* calibration */
} ClassRow;

void class_row_free(gpointer row);

/* Names of the progress files, in their order; NULL and the error when there is no folder. */
GPtrArray *class_files(const char *folder, GError **error);
/* One of them.  NULL when it cannot be read; *message, owned by the caller, says why, or what was
 * made good; NULL: nothing. */
ClassRow *class_row_read(const char *folder, const char *file, const GPtrArray *set,
                         char **message);
/* GPtrArray of ClassRow by file name, freed with its array.  A file that cannot be read is left out
 * and told in `message` (of char *, may be NULL). NULL and the error when there is no folder. */
GPtrArray *class_read(const char *folder, const GPtrArray *set, GPtrArray *message, GError **error);
