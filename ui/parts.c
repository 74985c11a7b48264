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

void part_place(GtkWidget *widget, int x, int y, int width, int height)
{
  int least_width, least_height;
  gtk_widget_measure(widget, GTK_ORIENTATION_HORIZONTAL, -1, &least_width, NULL, NULL, NULL);
  width = MAX(width, least_width);
  gtk_widget_measure(widget, GTK_ORIENTATION_VERTICAL, width, &least_height, NULL, NULL, NULL);
  GskTransform *transform = gsk_transform_translate(NULL, &GRAPHENE_POINT_INIT((float)x, (float)y));
  gtk_widget_allocate(widget, width, MAX(height, least_height), -1, transform);
}

bool part_motion(GtkWidget *widget)
{
  gboolean wanted = TRUE;
  g_object_get(gtk_widget_get_settings(widget), "gtk-enable-animations", &wanted, NULL);
  return wanted;
}
