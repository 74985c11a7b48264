/* gtk.h - what nearly every file of the window reads, read once.  No file may rely on it: the build
 * with clang goes without. SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <gtk/gtk.h>
#include <math.h>
#include <string.h>
