/* tick_edit.h - a step of the finishing list ticked off or opened again, as one edit of the
 * session. SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/session.h"

#define INITIALS_MOST 8 /* characters */
/* Letters, digits and '.', 1 .. INITIALS_MOST of them. */
bool initials_valid(const char *initials);
/* Records the step with initials and the time now; false: nothing recorded. */
bool tick_step(SoffitSession *session, const char *step, const char *initials);
bool untick_step(SoffitSession *session, const char *step);
