/* file_choice.c - see file_choice.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/file_choice.h"
#include "ui/words.h"

GtkFileChooserNative *file_choice_new(GtkFileChooserNative **held, GtkWindow *window,
                                      const char *title, GtkFileChooserAction action,
                                      const char *accept)
{
  if (*held)
    return NULL;
  *held = gtk_file_chooser_native_new(title, window, action, accept, _("Cancel"));
  gtk_native_dialog_set_modal(GTK_NATIVE_DIALOG(*held), TRUE);
  return *held;
}

void file_choice_filter(GtkFileChooserNative *chooser, const char *kind, const char *const suffix[])
{
  g_autoptr(GtkFileFilter) wanted = gtk_file_filter_new(), all = gtk_file_filter_new();
  gtk_file_filter_set_name(wanted, kind);
  for (int i = 0; suffix[i]; i++)
    gtk_file_filter_add_suffix(wanted, suffix[i]);
  gtk_file_filter_set_name(all, _("All files"));
  gtk_file_filter_add_pattern(all, "*");
  gtk_file_chooser_add_filter(GTK_FILE_CHOOSER(chooser), wanted);
  gtk_file_chooser_add_filter(GTK_FILE_CHOOSER(chooser), all);
}

char *file_choice_done(GtkFileChooserNative **held, int response)
{
  g_autoptr(GFile) file =
      response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file(GTK_FILE_CHOOSER(*held)) : NULL;
  g_clear_object(held);
  return file ? g_file_get_path(file) : NULL;
}
