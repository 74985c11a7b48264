/* lab_cache.h - the rows of a lab as they were assessed last, in the cache folder of the user.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Nothing depends on it: it may be deleted at any time, and what is damaged, older, of another
 * program or of other thresholds is not taken and written anew.  One file a lab, its name the
 * SHA-256 of the folder's path. */
#pragma once
#include "lab/lab_list.h"
#include "lab/lab_read.h"

/* Where the rows of a folder are kept; owned.
 *   cache_dir  in  NULL = of the user */
char *lab_cache_path(const char *cache_dir, const char *folder);

/* Ready rows by file name (LabRow, owned by the table); empty when there is nothing to be used. */
GHashTable *lab_cache_load(const char *path, const Lab *lab);
/* Takes the row out of the table when it is good for the file; NULL when there is none. */
LabRow *lab_cache_take(GHashTable *kept, const LabFile *file);
/* The ready rows as the bytes of a cache file.  Those of files that were written less than two
 * seconds before they were read are left out: a second change would show in neither time nor size.
 */
GBytes *lab_cache_pack(const GPtrArray *row, const Lab *lab);
/* Written beside and renamed; the folder is made. */
bool lab_cache_save(const char *path, GBytes *packed, GError **error);
