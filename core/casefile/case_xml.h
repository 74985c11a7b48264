/* case_xml.h - a case as one XML file: the only place that knows libxml2 for cases.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Namespace "https://soffit.invalid/case" version 1, schema data/schema/case.rng (embedded in the
 * program). Numbers are written with '.', shortest form that reads back the same.  Errors name
 * file, line, what is wrong and what to do: domain CASE_ERROR.  Files above 64 MiB are refused
 * before reading. */
#pragma once
#include "casefile/case.h"

#define CASE_ERROR (case_error_quark())
GQuark case_error_quark(void);
typedef enum {
  CASE_ERROR_OPEN,
  CASE_ERROR_TOO_LARGE,
  CASE_ERROR_NOT_XML,
  CASE_ERROR_NAMESPACE,
  CASE_ERROR_NEWER,
  CASE_ERROR_SCHEMA,
  CASE_ERROR_VALUE,
  CASE_ERROR_SAVE,
  CASE_ERROR_CHANGED /* not saved: the file is not the one that was opened */
} CaseErrorCode;

/* Reads, validates, checks and completes.  `c` must be inited; untouched on failure. */
bool case_load(Case *c, const char *path, GError **error);
bool case_load_memory(Case *c, const char *text, size_t length, const char *name, GError **error);
/* Writes beside the file, fsync, rename: the old file stays whole on any failure. */
bool case_save(const Case *c, const char *path, GError **error);
GString *case_to_xml(const Case *c);
/* The same, and which bytes were read: 64 hex digits of their SHA-256. */
bool case_load_seen(Case *c, const char *path, char seen[65], GError **error);
/* Only over the file that was seen ("" = none): else CASE_ERROR_CHANGED, and nothing is written.
 * `seen` NULL: over whatever is there.  digest: of what was written; may be `seen`, may be NULL. */
bool case_save_over(const Case *c, const char *path, const char *seen, char digest[65],
                    GError **error);
