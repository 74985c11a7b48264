/* on_screen.h - before GTK begins in a test with a display: nothing of the desktop it runs on.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <glib.h>

static inline void on_screen(void)
{
  g_setenv("GDK_DEBUG", "gl-disable", TRUE); /* a driver of GL is unloaded with memory of its own */
  g_setenv("GTK_A11Y", "none", TRUE);
  g_setenv("GSETTINGS_BACKEND", "memory", TRUE);
}
