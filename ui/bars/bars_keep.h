/* bars_keep.h - what was typed into the Bars workspace, on disk between two starts.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * path NULL: kept nowhere.  What cannot be read stays as it is; failing to write is told in the log
 * only. */
#pragma once
#include "ui/bars/bars_desk.h"

void bars_input_keep(const BarsInput *input, const char *path);
void bars_input_restore(BarsInput *input, const char *path);
