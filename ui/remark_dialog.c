/* remark_dialog.c - see remark_dialog.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/remark_dialog.h"
#include "ui/dialog_window.h"
#include "ui/parts.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>
#include <stdint.h>

typedef struct {
  SoffitSession *session; /* owned ref */
  GtkWidget *window, *about, *text, *wrong, *add;
} RemarkDialog;

static void dialog_free(RemarkDialog *dialog)
{
  g_object_unref(dialog->session);
  g_free(dialog);
}

static char *words_given(RemarkDialog *dialog)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer(GTK_TEXT_VIEW(dialog->text));
  GtkTextIter start, end;
  gtk_text_buffer_get_bounds(buffer, &start, &end);
  return g_strstrip(gtk_text_buffer_get_text(buffer, &start, &end, FALSE));
}

static void words_changed(GtkTextBuffer *buffer, RemarkDialog *dialog)
{
  (void)buffer;
  g_autofree char *text = words_given(dialog);
  gtk_widget_set_sensitive(dialog->add, *text != '\0');
}

static void add_clicked(GtkButton *button, RemarkDialog *dialog)
{
  (void)button;
  g_autoptr(GError) error = NULL;
  g_autofree char *text = words_given(dialog);
  guint about = gtk_drop_down_get_selected(GTK_DROP_DOWN(dialog->about));
  size_t connector = about == 0 ? SIZE_MAX : about - 1;
  if (session_remark(dialog->session, connector, point(NAN, NAN), text, &error)) {
    gtk_window_destroy(GTK_WINDOW(dialog->window));
    return;
  }
  gtk_label_set_text(GTK_LABEL(dialog->wrong), error ? error->message : "");
  gtk_widget_set_visible(dialog->wrong, error != NULL);
}

/* "The bridge", "34/35", ...; at the connector in view. */
static GtkWidget *about_build(SoffitSession *session)
{
  const Case *c = session_case(session);
  g_autoptr(GtkStringList) names = gtk_string_list_new(NULL);
  gtk_string_list_append(names, _("The bridge"));
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    char name[12];
    connector_name(c, i, '/', name);
    gtk_string_list_append(names, name);
  }
  GtkWidget *about = gtk_drop_down_new(g_object_ref(G_LIST_MODEL(names)), NULL);
  gtk_drop_down_set_selected(GTK_DROP_DOWN(about), (guint)session_focus(session) + 1);
  spoken_name(about, _("What the remark is about"));
  return about;
}

static GtkWidget *text_build(RemarkDialog *dialog)
{
  GtkWidget *scroller = gtk_scrolled_window_new();
  dialog->text = gtk_text_view_new();
  gtk_text_view_set_wrap_mode(GTK_TEXT_VIEW(dialog->text), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_accepts_tab(GTK_TEXT_VIEW(dialog->text), FALSE);
  gtk_text_view_set_left_margin(GTK_TEXT_VIEW(dialog->text), 10);
  gtk_text_view_set_right_margin(GTK_TEXT_VIEW(dialog->text), 10);
  gtk_text_view_set_top_margin(GTK_TEXT_VIEW(dialog->text), 8);
  gtk_text_view_set_bottom_margin(GTK_TEXT_VIEW(dialog->text), 8);
  spoken_name(dialog->text, _("Remark"));
  g_signal_connect(gtk_text_view_get_buffer(GTK_TEXT_VIEW(dialog->text)), "changed",
                   G_CALLBACK(words_changed), dialog);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), dialog->text);
  gtk_scrolled_window_set_min_content_height(GTK_SCROLLED_WINDOW(scroller), 120);
  gtk_widget_set_vexpand(scroller, TRUE);
  return scroller;
}

void remark_dialog_new(GtkWindow *parent, SoffitSession *session)
{
  RemarkDialog *dialog = g_new0(RemarkDialog, 1);
  dialog->session = g_object_ref(session);
  dialog->window = dialog_window_new(parent, _("Add a remark"), 520, 320);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *form = gtk_box_new(GTK_ORIENTATION_VERTICAL, 10),
            *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12),
            *actions = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  dialog->about = about_build(session);
  gtk_box_append(GTK_BOX(row), part_label(_("About"), NULL));
  gtk_box_append(GTK_BOX(row), dialog->about);
  dialog->wrong = part_label("", "wrong");
  gtk_widget_set_visible(dialog->wrong, FALSE);
  dialog->add = dialog_button_new(_("Add the remark"), "strong", G_CALLBACK(add_clicked), dialog);
  gtk_widget_set_sensitive(dialog->add, FALSE);
  gtk_box_append(GTK_BOX(form), row);
  gtk_box_append(GTK_BOX(form), text_build(dialog));
  if (session_read_only(session))
    gtk_box_append(GTK_BOX(form),
                   part_label(_("It is written into the file at once, and reaches whoever works "
                                "on the case."),
                              "dim"));
  gtk_box_append(GTK_BOX(form), dialog->wrong);
  gtk_widget_add_css_class(form, "form");
  gtk_widget_set_halign(actions, GTK_ALIGN_FILL);
  GtkWidget *cancel = dialog_button_new(_("Cancel"), "quiet", NULL, NULL);
  gtk_widget_set_hexpand(cancel, TRUE);
  gtk_widget_set_halign(cancel, GTK_ALIGN_END);
  gtk_box_append(GTK_BOX(actions), cancel);
  gtk_box_append(GTK_BOX(actions), dialog->add);
  gtk_widget_add_css_class(actions, "actions");
  gtk_box_append(GTK_BOX(box), form);
  gtk_box_append(GTK_BOX(box), actions);
  gtk_window_set_child(GTK_WINDOW(dialog->window), box);
  g_object_set_data_full(G_OBJECT(dialog->window), "dialog", dialog, (GDestroyNotify)dialog_free);
  gtk_window_present(GTK_WINDOW(dialog->window));
  gtk_widget_grab_focus(dialog->text);
}
