/* file_choice.h - the system's dialog for a file or a folder.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <gtk/gtk.h>

/* One at a time of an owner: NULL while *held, where its reference stays, is another.  The caller
 * connects "response" and shows it. */
GtkFileChooserNative *file_choice_new(GtkFileChooserNative **held, GtkWindow *window,
                                      const char *title, GtkFileChooserAction action,
                                      const char *accept);
/* Files of the kind first, all files beside it.
 *   suffix  in  without the dot, in any case, ended by NULL */
void file_choice_filter(GtkFileChooserNative *chooser, const char *kind,
                        const char *const suffix[]);
/* The path that was chosen, owned; NULL when none; *held is gone after. */
char *file_choice_done(GtkFileChooserNative **held, int response);
