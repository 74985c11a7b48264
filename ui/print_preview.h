/* print_preview.h - the pages of a print job on the screen, as they come out on paper.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/print_job.h"

/* A window above `parent`, with the width of the page in its width.  Page Up and Page Down, Home
 * and End turn the pages, Escape closes it.  False, and no window, without memory.
 *   job  in  kept while the window is open */
bool print_preview_show(GtkWindow *parent, PrintJob *job);
