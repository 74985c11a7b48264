/* folder_files.h - the files of a folder that end alike, in order.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <glib.h>

/* Names without their folder, owned texts, in order of their bytes; subfolders are not entered.  At
 * most `most`: what lies beyond is not seen.  NULL and CASE_ERROR_OPEN where the folder cannot be
 * read. */
GPtrArray *folder_files(const char *folder, const char *ending, guint most, GError **error);
