/* window_private.h - the inside of the window, shared by window.c and window_file.c.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/message_bar.h"
#include "ui/window.h"
#include "ui/workspaces.h"

struct _SoffitWindow {
  GtkApplicationWindow parent;
  SoffitSession *session; /* owned ref */
  GtkWidget *number, *where, *undo, *redo, *steps, *message, *pages, *workspaces;
  GtkWidget *page[WORKSPACE_N]; /* NULL: not asked for yet */
  Workspace at;
  bool leaving;                  /* the unsaved changes were settled: close without a question */
  GtkFileChooserNative *chooser; /* owned while it is open */
};

/* --- drawings and surfaces (window_import.c) --- */
/* True when the path is one of theirs: taken up, or refused with a message. */
bool window_import(SoffitWindow *self, const char *path);
void window_import_actions(GtkWidgetClass *widget_class); /* win.import, win.export-drawing */
