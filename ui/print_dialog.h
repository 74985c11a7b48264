/* print_dialog.h - what to print, on which paper, and where to: screen, PDF file, printer.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/window.h"

/* Of the window's open case.  Waits with all three until the answer is the one at rest; what goes
 * wrong is told by window_error(). */
void print_dialog_new(SoffitWindow *window);
