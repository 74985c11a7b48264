/* parts.c - see parts.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/parts.h"

GtkWidget *part_label(const char *text, const char *class_name)
{
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  if (class_name)
    gtk_widget_add_css_class(label, class_name);
  return label;
}

GtkWidget *part_button(const char *text, const char *class_name, GCallback clicked, gpointer data)
{
  GtkWidget *button = gtk_button_new_with_label(text);
  gtk_widget_add_css_class(button, class_name);
  g_signal_connect_swapped(button, "clicked", clicked, data);
  return button;
}
