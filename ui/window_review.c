/* window_review.c - the Review workspace in the window: its folder, its title, a case out of it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/save.h"
#include "ui/file_choice.h"
#include "ui/review/review_page.h"
#include "ui/spoken.h"
#include "ui/window_private.h"
#include "ui/words.h"

static SoffitReviewPage *review_of(SoffitWindow *self)
{
  return SOFFIT_REVIEW_PAGE(self->page[WORKSPACE_REVIEW]);
}

void window_review_title(SoffitWindow *self)
{
  if (self->at != WORKSPACE_REVIEW)
    return;
  g_autofree char *waits = review_page_title(review_of(self)),
                  *title = g_strdup_printf("%s – Soffit", _("Review"));
  gtk_label_set_text(GTK_LABEL(self->number), _("Review"));
  gtk_label_set_text(GTK_LABEL(self->where), waits);
  gtk_widget_set_visible(self->where, *waits != '\0');
  spoken_tooltip(self->number, lab_desk_folder(review_desk_lab(review_page_desk(review_of(self)))));
  gtk_window_set_title(GTK_WINDOW(self), title);
}

GtkWidget *window_review_new(SoffitWindow *self)
{
  GtkWidget *page = review_page_new();
  SoffitReviewDesk *desk = review_page_desk(SOFFIT_REVIEW_PAGE(page));
  g_signal_connect_object(review_desk_queue(desk), "counted", G_CALLBACK(window_review_title), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(review_desk_lab(desk), "state-changed", G_CALLBACK(window_review_title),
                          self, G_CONNECT_SWAPPED);
  return page;
}

void window_open_lab(SoffitWindow *self, const char *folder)
{
  window_show_workspace(self, WORKSPACE_REVIEW);
  review_page_open(review_of(self), folder);
}

static void lab_chosen(GtkNativeDialog *dialog, int response, SoffitWindow *self)
{
  (void)dialog;
  g_autofree char *folder = file_choice_done(&self->chooser, response);
  if (folder)
    window_open_lab(self, folder);
}

static void action_open_lab(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  SoffitWindow *self = SOFFIT_WINDOW(widget);
  GtkFileChooserNative *chooser =
      file_choice_new(&self->chooser, GTK_WINDOW(self), _("Open the lab’s folder"),
                      GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, _("Open"));
  if (chooser == NULL)
    return;
  g_signal_connect(chooser, "response", G_CALLBACK(lab_chosen), self);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

/* ---- the table in a file ---- */

static const char *const table_suffix[] = {"csv", "json", NULL};

static void table_write(SoffitWindow *self, const char *path)
{
  g_autoptr(GError) error = NULL;
  GString *text = review_page_table(review_of(self), export_form(path));
  if (!text) /* the rows came back meanwhile */
    return;
  guint rows =
      g_list_model_get_n_items(G_LIST_MODEL(review_desk_queue(review_page_desk(review_of(self)))));
  g_autofree char *name = g_filename_display_name(path),
                  *done = g_strdup_printf(
                      words_plural("✓ %u case saved in %s.", "✓ %u cases saved in %s.", rows), rows,
                      name);
  if (file_save(path, text->str, text->len, &error))
    message_bar_ask(SOFFIT_MESSAGE_BAR(self->message), done, NULL, 0, NULL, NULL);
  else
    window_error(self, error->message);
  g_string_free(text, TRUE);
}

static void table_chosen(GtkNativeDialog *dialog, int response, SoffitWindow *self)
{
  (void)dialog;
  g_autofree char *path = file_choice_done(&self->chooser, response);
  g_autofree char *base = path ? g_path_get_basename(path) : NULL,
                  *named = base && !strchr(base, '.') ? g_strconcat(path, ".csv", NULL) : NULL;
  if (named && g_file_test(named, G_FILE_TEST_EXISTS)) { /* the dialog asked about another name */
    g_autofree char *name = g_filename_display_name(named),
                    *text = g_strdup_printf(_("%s is there already: choose its whole name to write "
                                              "over it, or another one."),
                                            name);
    window_error(self, text);
  } else if (path)
    table_write(self, named ? named : path);
}

static void action_keep_table(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  SoffitWindow *self = SOFFIT_WINDOW(widget);
  GString *text =
      self->page[WORKSPACE_REVIEW] ? review_page_table(review_of(self), EXPORT_CSV) : NULL;
  if (!text)
    return;
  g_string_free(text, TRUE);
  GtkFileChooserNative *chooser =
      file_choice_new(&self->chooser, GTK_WINDOW(self), _("Save the table as .csv or .json"),
                      GTK_FILE_CHOOSER_ACTION_SAVE, _("Save"));
  if (chooser == NULL)
    return;
  file_choice_filter(chooser, _("Tables (CSV, JSON)"), table_suffix);
  g_autofree char *lab =
      g_path_get_basename(lab_desk_folder(review_desk_lab(review_page_desk(review_of(self)))));
  g_autofree char *file = g_strconcat(lab, ".csv", NULL);
  gtk_file_chooser_set_current_name(GTK_FILE_CHOOSER(chooser), file);
  g_signal_connect(chooser, "response", G_CALLBACK(table_chosen), self);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

/* The case that is looked at, into the drawing. */
static void action_open_reviewed(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  SoffitWindow *self = SOFFIT_WINDOW(widget);
  SoffitReviewDesk *desk = self->page[WORKSPACE_REVIEW] ? review_page_desk(review_of(self)) : NULL;
  if (!desk || !review_desk_file(desk))
    return;
  g_autofree char *path =
      g_build_filename(lab_desk_folder(review_desk_lab(desk)), review_desk_file(desk), NULL);
  window_open(self, path);
}

static void action_send(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  SoffitWindow *self = SOFFIT_WINDOW(widget);
  g_autoptr(GError) error = NULL;
  if (!session_has_case(self->session))
    return;
  if (!session_path(self->session))
    window_error(self, _("Save the case into the lab’s folder first, then send it."));
  else if (!session_send(self->session, &error))
    window_error(self, error->message);
}

void window_review_actions(GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action(widget_class, "win.open-lab", NULL, action_open_lab);
  gtk_widget_class_install_action(widget_class, "win.keep-table", NULL, action_keep_table);
  gtk_widget_class_install_action(widget_class, "win.send", NULL, action_send);
  gtk_widget_class_install_action(widget_class, "win.open-reviewed", NULL, action_open_reviewed);
}
