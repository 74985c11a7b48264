/* size_edit.h - a size that was typed, as one edit of the session; and what is said when it cannot
 * be. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, degrees.  Everything returned is owned by the caller. */
#pragma once
#include "casefile/connector_size.h"
#include "ui/session.h"

/* "0,55", "0.55", " 0.55 mm", "40°": the number, whatever the desktop's decimal sign.  False for
 * anything else: nothing is guessed. */
bool size_parse(const char *text, double *value);
/* "0.55", "61.3" */
char *size_number(SizeKind kind, double value);
const char *size_unit(SizeKind kind); /* borrowed */

/* Sets the size of the current connector from what was typed.  NULL when the outline followed, else
 * what is wrong and what can be had; the case is then as it was. */
char *size_type(SoffitSession *session, SizeKind kind, const char *text);
