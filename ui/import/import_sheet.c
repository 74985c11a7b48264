/* import_sheet.c - see import_sheet.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/import/import_sheet.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define CHOICES_PX 330

GtkWidget *import_line(const char *text, const char *class_name)
{
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_width_chars(GTK_LABEL(label), 10);
  if (class_name)
    gtk_widget_add_css_class(label, class_name);
  return label;
}

void import_sheet_tell(ImportSheet *sheet, const char *text)
{
  gtk_label_set_text(GTK_LABEL(sheet->message), text ? text : "");
}

static GtkWidget *buttons_build(ImportSheet *sheet, GCallback take, void *data)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *leave = gtk_button_new_with_label(_("Leave"));
  sheet->take = gtk_button_new_with_label(_("Take over"));
  sheet->stop = gtk_button_new_with_label(_("Stop"));
  sheet->progress = gtk_progress_bar_new();
  sheet->message = import_line(NULL, NULL);
  gtk_widget_set_hexpand(sheet->message, TRUE);
  gtk_widget_set_valign(sheet->progress, GTK_ALIGN_CENTER);
  gtk_widget_set_size_request(sheet->progress, 140, -1);
  spoken_name(sheet->progress, _("Progress"));
  gtk_widget_set_visible(sheet->progress, FALSE);
  gtk_widget_set_visible(sheet->stop, FALSE);
  gtk_widget_add_css_class(leave, "quiet");
  gtk_widget_add_css_class(sheet->stop, "quiet");
  gtk_widget_add_css_class(sheet->take, "strong");
  gtk_actionable_set_action_name(GTK_ACTIONABLE(leave), "window.close");
  g_signal_connect_swapped(sheet->take, "clicked", take, data);
  GtkWidget *const part[] = {sheet->message, sheet->progress, sheet->stop, leave, sheet->take};
  for (size_t i = 0; i < G_N_ELEMENTS(part); i++)
    gtk_box_append(GTK_BOX(row), part[i]);
  gtk_widget_add_css_class(row, "actions");
  return row;
}

void import_sheet_build(ImportSheet *sheet, GtkWindow *parent, const char *title, GCallback take,
                        void *data)
{
  static const char *const edge[] = {"margin-start", "margin-end", "margin-top", "margin-bottom"};
  sheet->window = gtk_window_new();
  GtkWindow *window = GTK_WINDOW(sheet->window);
  gtk_window_set_title(window, title);
  gtk_window_set_transient_for(window, parent);
  gtk_window_set_modal(window, TRUE);
  gtk_window_set_destroy_with_parent(window, TRUE);
  gtk_window_set_default_size(window, 980, 600);
  gtk_widget_add_css_class(sheet->window, "soffit");
  gtk_widget_add_css_class(sheet->window, "case-dialog");
  sheet->picture =
      g_object_new(GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  gtk_widget_set_hexpand(sheet->picture, TRUE);
  gtk_widget_set_vexpand(sheet->picture, TRUE);
  gtk_widget_set_size_request(sheet->picture, 400, 320);
  for (int i = 0; i < 4; i++) /* the focus ring lies outside */
    g_object_set(sheet->picture, edge[i], 3, NULL);
  sheet->choices = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_add_css_class(sheet->choices, "form");
  GtkWidget *scroller = gtk_scrolled_window_new(),
            *middle = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0),
            *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), sheet->choices);
  gtk_widget_set_size_request(scroller, CHOICES_PX, -1);
  gtk_widget_set_hexpand(scroller, FALSE); /* what is inside expands only up to here */
  gtk_box_append(GTK_BOX(middle), sheet->picture);
  gtk_box_append(GTK_BOX(middle), scroller);
  gtk_box_append(GTK_BOX(box), middle);
  gtk_box_append(GTK_BOX(box), buttons_build(sheet, take, data));
  gtk_window_set_child(window, box);
  gtk_window_set_default_widget(window, sheet->take);
  GtkEventController *keys = gtk_shortcut_controller_new();
  gtk_shortcut_controller_add_shortcut(GTK_SHORTCUT_CONTROLLER(keys),
                                       gtk_shortcut_new(gtk_keyval_trigger_new(GDK_KEY_Escape, 0),
                                                        gtk_named_action_new("window.close")));
  gtk_widget_add_controller(sheet->window, keys);
}
