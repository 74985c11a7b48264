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

/* One chooser at a time, NULL while another is open; shown by the caller.
 *   suffix  in  without the dot, ended by NULL */
GtkFileChooserNative *window_chooser(SoffitWindow *self, const char *title,
                                     GtkFileChooserAction action, const char *accept,
                                     const char *kind, const char *const suffix[]);
/* The path that was chosen, owned; NULL when none; the chooser is gone after. */
char *window_chooser_done(SoffitWindow *self, int response);

/* --- drawings and surfaces (window_import.c) --- */
/* True when the path is one of theirs: taken up, or refused with a message. */
bool window_import(SoffitWindow *self, const char *path);
void window_import_actions(GtkWidgetClass *widget_class); /* win.import, win.export-drawing */
