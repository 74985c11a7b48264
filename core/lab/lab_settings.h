/* lab_settings.h - what a supervisor sets for a lab: the file "lab.ini" of its folder.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A text file that a person can read and mend; without it the lab has the values of
 * lab_settings_new().  Thresholds are recorded, never retroactive: each change adds a group
 * [thresholds N] with who and when, the last one is in force, earlier ones stay as they are, and a
 * decision keeps those that it was taken by.  Comments and foreign entries are kept. */
#pragma once
#include "record/decision.h"

#define LAB_SETTINGS_FILE "lab.ini"
#define MARGIN_LIMIT_LEAST 0.5
#define MARGIN_LIMIT_MOST 5.0

typedef struct {
  VerdictLimits limits;
  char *by;        /* owned: "Name, role"; "" = nobody has set them */
  gint64 since_us; /* microseconds since 1970; 0 = always */
} LabThresholds;

typedef struct {
  char *name;         /* owned: of the lab; "" */
  bool by_technician; /* figures by technician are shown: off unless switched on */
  GArray *thresholds; /* LabThresholds, owned, oldest first; the last is in force; never empty */
} LabSettings;

LabSettings *lab_settings_new(void);
LabSettings *lab_settings_copy(const LabSettings *settings);
void lab_settings_free(LabSettings *settings); /* accepts NULL */
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LabSettings, lab_settings_free)
const LabThresholds *lab_settings_now(const LabSettings *settings); /* in force; borrowed */
/* Margins within MARGIN_LIMIT_*, close no higher than holds.  *reason: static English msgid. */
bool verdict_limits_check(const VerdictLimits *limits, const char **reason);

/* NULL and CASE_ERROR "FILE:LINE: what is wrong. What to do."; a folder without the file has the
 * defaults. */
LabSettings *lab_settings_load(const char *folder, GError **error);
/* Adds thresholds in force from now on to the file of the folder, as it stands there; equal ones
 * are not added.
 *   now_us  in  the present; never before that of the last change
 *   by      in  name and role are written down; must not be empty */
bool lab_settings_set_limits(const char *folder, const VerdictLimits *limits, const Person *by,
                             gint64 now_us, GError **error);
/* Name of the lab and figures by technician. */
bool lab_settings_set(const char *folder, const char *name, bool by_technician, GError **error);

/* "1.00 1.25", as decisions keep them. */
char *verdict_limits_to_text(const VerdictLimits *limits);
bool verdict_limits_from_text(const char *text, VerdictLimits *limits);
/* The limits a case is judged by: those of the decision that still stands, else the lab's. */
VerdictLimits lab_settings_limits(const LabSettings *settings, const Case *c,
                                  const Standing *standing);
