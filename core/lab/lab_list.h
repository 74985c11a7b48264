/* lab_list.h - the case files of a lab folder: names, times and sizes, nothing is read.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Files "*.xml" of the folder itself, hidden ones left out.  Subfolders are not entered: keys and
 * photos live there, and a folder of finished cases inside is a lab of its own. */
#pragma once
#include <glib.h>
#include <stdbool.h>

#define LAB_KEYS_FOLDER "keys"
#define LAB_FILES_MOST 200000

typedef struct {
  char *name; /* owned, as the file system has it */
  gint64 changed_us, size;
  guint64 node; /* of the file system: another one for a file that was replaced */
} LabFile;

typedef struct {
  GArray *file;    /* LabFile, in order of their bytes */
  guint64 device;  /* where the folder lies */
  gint64 settings; /* changes when lab.ini or the public keys do */
  double seconds;  /* that the listing took */
  bool more;       /* there are more than LAB_FILES_MOST */
} LabList;

/* NULL and CASE_ERROR_OPEN when the folder cannot be read to its end: a folder half seen is not
 * seen. */
LabList *lab_list_new(const char *folder, GError **error);
void lab_list_free(LabList *list); /* accepts NULL */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LabList, lab_list_free)
