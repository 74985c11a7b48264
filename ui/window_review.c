/* window_review.c - the Review workspace in the window: its folder, its title, a case out of it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/file_choice.h"
#include "ui/review/review_page.h"
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
  gtk_widget_set_tooltip_text(self->number,
                              lab_desk_folder(review_desk_lab(review_page_desk(review_of(self)))));
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
  gtk_widget_class_install_action(widget_class, "win.send", NULL, action_send);
  gtk_widget_class_install_action(widget_class, "win.open-reviewed", NULL, action_open_reviewed);
}
