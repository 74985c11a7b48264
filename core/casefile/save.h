/* save.h - whole files or none: cases, reports.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <glib.h>
#include <stdbool.h>

/* Written beside the file, synced, renamed: the old file stays whole on any failure.  Links and
 * modes stay as they are.  Errors read "FILE: what is wrong. What to do." in domain CASE_ERROR. */
bool file_save(const char *path, const char *data, size_t length, GError **error);
