/* gtk.h - what most files of the window read, read once; none relies on it (tests/run.sh).
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <gtk/gtk.h>
#include <math.h>
#include <string.h>
