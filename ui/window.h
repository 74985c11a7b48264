/* window.h - the window: header, message bar, the workspace, and the open case's file.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One session a window.  Actions of the window: save, save-as, undo, redo, edit-case, records,
 * side-column, exercise, close-case, import, export-drawing, print, open-lab, workspace ("trace",
 * "review" or "bars"). What concerns the program (new, open, recent, demo, keys, about, quit) it
 * asks by action name "app.…". */
#pragma once
#include "ui/session.h"
#include <gtk/gtk.h>

#define SOFFIT_TYPE_WINDOW (window_get_type())
G_DECLARE_FINAL_TYPE(SoffitWindow, window, SOFFIT, WINDOW, GtkApplicationWindow)

SoffitWindow *window_new(GtkApplication *application);
SoffitSession *window_session(SoffitWindow *window); /* borrowed */
void window_error(SoffitWindow *window, const char *text);

/* The lab's folder of cases, in the Review workspace. */
void window_open_lab(SoffitWindow *window, const char *folder);

/* --- files (window_file.c) --- */
/* Both ask about unsaved changes first, then open; a drawing or surface goes into the open case. */
void window_open(SoffitWindow *window, const char *path);
void window_open_demo(SoffitWindow *window, const char *name); /* built in: "demo/QB-02.xml" */
bool window_imports(const char *path); /* an SVG drawing or STL surface, by its name */
void window_choose_open(SoffitWindow *window);
void window_save(SoffitWindow *window,
                 bool choose); /* choose: ask for a name even if there is one */
typedef void (*WindowThen)(SoffitWindow *window, void *data);
/* then() once the case at hand is saved, or given up; never when the person stays. free_data may be
 * NULL. */
void window_leave_case(SoffitWindow *window, WindowThen then, void *data, GDestroyNotify free_data);
/* Offers what a crash left behind. */
void window_offer_recovery(SoffitWindow *window);
void window_take_drops(SoffitWindow *window);
void window_new_case(SoffitWindow *window);
