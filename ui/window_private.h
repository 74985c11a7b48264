/* window_private.h - the inside of the window, shared by window.c and window_file.c.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/message_bar.h"
#include "ui/window.h"
#include "ui/workspaces.h"

struct _SoffitWindow {
  GtkApplicationWindow parent;
  SoffitSession *session; /* owned ref */
  GtkWidget *number, *where, *undo, *redo, *steps, *message, *pages, *workspaces, *send;
  GtkWidget *page[WORKSPACE_N]; /* NULL: not asked for yet */
  Workspace at;
  bool leaving;                  /* the unsaved changes were settled: close without a question */
  GtkFileChooserNative *chooser; /* owned while it is open */
  char *save_error;              /* owned; why the last save failed; NULL: it did not */
  GtkWidget *lock_bar;
  char *lock_told; /* owned; what the bar of the lock said last, NULL = nothing */
};

/* The safety copy cannot be written: told beside what else is wrong (window_file.c). */
void window_autosave_failed(SoffitWindow *self);
GMenuModel *window_menu(void); /* owned by the caller (window_menu.c) */
void window_show_workspace(SoffitWindow *self, Workspace to);
/* Made where it was not asked for yet; not shown. */
GtkWidget *window_page(SoffitWindow *self, Workspace workspace);

/* --- exercises of the school bench (window_exercise.c) --- */
void window_exercise_actions(GtkWidgetClass *widget_class); /* exercise, class */

/* --- the Review workspace (window_review.c) --- */
GtkWidget *window_review_new(SoffitWindow *self);
void window_review_title(SoffitWindow *self);             /* while it is shown */
void window_review_actions(GtkWidgetClass *widget_class); /* open-lab, open-reviewed, send */

/* --- drawings and surfaces (window_import.c) --- */
/* True when the path is one of theirs: taken up, or refused with a message. */
bool window_import(SoffitWindow *self, const char *path);
void window_import_actions(GtkWidgetClass *widget_class); /* win.import, win.export-drawing */

/* --- paper (window_print.c) --- */
void window_print_state(SoffitWindow *self);             /* there is an answer, or none */
void window_print_actions(GtkWidgetClass *widget_class); /* win.print */

/* --- who has the case (window_lock.c) --- */
GtkWidget *window_lock_bar_new(SoffitWindow *self); /* follows the session */
/* again: also when it was closed by its cross. */
void window_lock_show(SoffitWindow *self, bool again);
void window_lock_actions(GtkWidgetClass *widget_class); /* win.remark */
