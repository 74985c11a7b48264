/* save.h - whole files or none: cases, reports.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <glib.h>
#include <stdbool.h>

/* Written beside the file, synced, renamed: the old file stays whole on any failure.  Links and
 * modes stay as they are.  Errors read "FILE: what is wrong. What to do." in domain CASE_ERROR. */
bool file_save(const char *path, const char *data, size_t length, GError **error);

#define DIGEST_ROOM 65 /* 64 hex digits of a SHA-256, and the end */
void bytes_digest(const char *data, size_t length, char sha256[DIGEST_ROOM]);
/* The same, but only over a file whose bytes still have the digest `seen` ("" = over no file at
 * all), looked at right before the rename; else CASE_ERROR_CHANGED. */
bool file_save_over(const char *path, const char *data, size_t length, const char *seen,
                    GError **error);
