/* window_private.h - the inside of the window, shared by window.c and window_file.c.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include "ui/message_bar.h"
#include "ui/window.h"

struct _SoffitWindow {
  GtkApplicationWindow parent;
  SoffitSession *session; /* owned ref */
  GtkWidget *number, *where, *undo, *redo, *steps, *message, *pages, *trace, *bars;
  GtkWidget *workspace[2]; /* the switch: Trace, Bars */
  bool at_bars;
  bool leaving;                  /* the unsaved changes were settled: close without a question */
  GtkFileChooserNative *chooser; /* owned while it is open */
};

/* --- drawings and surfaces (window_import.c) --- */
/* True when the path is one of theirs: taken up, or refused with a message. */
bool window_import(SoffitWindow *self, const char *path);
void window_import_actions(GtkWidgetClass *widget_class); /* win.import, win.export-drawing */
