/* dialog_window.c - see dialog_window.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/dialog_window.h"
#include "ui/spoken.h"

static void shortcut_add(GtkEventController *keys, guint key, GdkModifierType with,
                         GtkShortcutAction *action)
{
  gtk_shortcut_controller_add_shortcut(GTK_SHORTCUT_CONTROLLER(keys),
                                       gtk_shortcut_new(gtk_keyval_trigger_new(key, with), action));
}

/* Through the window below, which asks about its changes. */
static gboolean quit_asked(GtkWidget *window, GVariant *arguments, gpointer data)
{
  (void)arguments, (void)data;
  GtkWidget *parent = GTK_WIDGET(gtk_window_get_transient_for(GTK_WINDOW(window)));
  g_object_ref(parent);
  gtk_window_set_transient_for(GTK_WINDOW(window), NULL); /* the key's event outlives the parent */
  gtk_window_destroy(GTK_WINDOW(window));
  gtk_widget_activate_action(parent, "app.quit", NULL);
  g_object_unref(parent);
  return TRUE;
}

GtkWidget *dialog_window_new(GtkWindow *parent, const char *title, int width, int height)
{
  GtkWidget *window = gtk_window_new();
  gtk_window_set_title(GTK_WINDOW(window), title);
  gtk_window_set_transient_for(GTK_WINDOW(window), parent);
  gtk_window_set_modal(GTK_WINDOW(window), TRUE);
  gtk_window_set_destroy_with_parent(GTK_WINDOW(window), TRUE);
  if (width > 0)
    gtk_window_set_default_size(GTK_WINDOW(window), width, height);
  gtk_widget_add_css_class(window, "soffit");
  gtk_widget_add_css_class(window, "case-dialog");
  GtkEventController *keys = gtk_shortcut_controller_new();
  shortcut_add(keys, GDK_KEY_Escape, 0, gtk_named_action_new("window.close"));
  shortcut_add(keys, GDK_KEY_q, GDK_CONTROL_MASK, gtk_callback_action_new(quit_asked, NULL, NULL));
  gtk_widget_add_controller(window, keys);
  return window;
}

GtkWidget *dialog_button_new(const char *text, const char *class_name, GCallback clicked,
                             gpointer data)
{
  GtkWidget *button = gtk_button_new_with_label(text);
  gtk_widget_add_css_class(button, class_name);
  if (clicked)
    g_signal_connect(button, "clicked", clicked, data);
  else
    gtk_actionable_set_action_name(GTK_ACTIONABLE(button), "window.close");
  return button;
}

GtkWidget *dialog_pages_new(GtkWidget *stack)
{
  GtkWidget *pages = gtk_stack_sidebar_new();
  gtk_stack_sidebar_set_stack(GTK_STACK_SIDEBAR(pages), GTK_STACK(stack));
  gtk_widget_set_vexpand(pages, TRUE);
  return pages;
}

void dialog_page_add(GtkWidget *stack, GtkWidget *page, const char *name, const char *title)
{
  GtkWidget *scroller = gtk_scrolled_window_new();
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), page);
  gtk_stack_add_titled(GTK_STACK(stack), scroller, name, title);
}

/* GTK 4.8 leaves the rows of its sidebar without a name. */
void dialog_pages_name(GtkWidget *pages)
{
  GtkWidget *row =
      GTK_IS_LIST_BOX_ROW(pages) ? gtk_list_box_row_get_child(GTK_LIST_BOX_ROW(pages)) : NULL;
  if (GTK_IS_LABEL(row))
    spoken_name(pages, gtk_label_get_text(GTK_LABEL(row)));
  for (GtkWidget *child = gtk_widget_get_first_child(pages); child;
       child = gtk_widget_get_next_sibling(child))
    dialog_pages_name(child);
}
