/* folder_head.c - see folder_head.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/folder_head.h"
#include "ui/dialog_window.h"
#include "ui/file_choice.h"
#include "ui/preferences.h"
#include "ui/spoken.h"
#include "ui/words.h"

static void folder_chosen(GtkNativeDialog *native, int response, FolderHead *head)
{
  (void)native;
  g_autofree char *path = file_choice_done(&head->chooser, response);
  if (!path)
    return;
  preference_word_set(head->key, path);
  head->read(head->data, path);
}

static void folder_asked(GtkButton *button, FolderHead *head)
{
  GtkFileChooserNative *chooser =
      file_choice_new(&head->chooser, GTK_WINDOW(gtk_widget_get_root(GTK_WIDGET(button))),
                      head->title, GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, _("Choose"));
  if (!chooser)
    return;
  g_signal_connect(chooser, "response", G_CALLBACK(folder_chosen), head);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

void folder_head_build(FolderHead *head, const char *key, const char *title, const char *hint,
                       void (*read)(void *data, const char *folder), void *data)
{
  *head = (FolderHead){.row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12),
                       .where = gtk_label_new(hint),
                       .key = key,
                       .title = title,
                       .read = read,
                       .data = data};
  head->choose = dialog_button_new(_("Folder…"), "quiet", G_CALLBACK(folder_asked), head);
  gtk_label_set_ellipsize(GTK_LABEL(head->where), PANGO_ELLIPSIZE_START);
  gtk_label_set_xalign(GTK_LABEL(head->where), 0);
  gtk_widget_set_hexpand(head->where, TRUE);
  gtk_widget_add_css_class(head->where, "dim");
  gtk_box_append(GTK_BOX(head->row), head->choose);
  gtk_box_append(GTK_BOX(head->row), head->where);
  gtk_widget_add_css_class(head->row, "records-head");
}

void folder_head_clear(FolderHead *head)
{
  g_clear_object(&head->chooser);
}

void folder_head_show(FolderHead *head, const char *folder)
{
  gtk_label_set_text(GTK_LABEL(head->where), folder);
  spoken_tooltip(head->where, folder);
}
