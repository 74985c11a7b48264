/* bars_keep.h - what was typed among the bars, kept on disk.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/bars/bars_desk.h"

/* path NULL: nowhere.  A failure is told in the log only. */
void bars_input_keep(const BarsInput *input, const char *path);
/* What is absurd counts as not kept. */
void bars_input_restore(BarsInput *input, const char *path);
