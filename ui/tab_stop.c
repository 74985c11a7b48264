/* tab_stop.c - see tab_stop.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/tab_stop.h"
#include <stdbool.h>

struct _SoffitTabStop {
  GtkBox parent;
};

G_DEFINE_FINAL_TYPE(SoffitTabStop, tab_stop, GTK_TYPE_BOX)

static gboolean tab_stop_focus(GtkWidget *widget, GtkDirectionType direction)
{
  bool tab = direction == GTK_DIR_TAB_FORWARD || direction == GTK_DIR_TAB_BACKWARD;
  if (tab && gtk_widget_get_focus_child(widget))
    return FALSE; /* on to what comes next */
  return GTK_WIDGET_CLASS(tab_stop_parent_class)->focus(widget, direction);
}

static void tab_stop_class_init(SoffitTabStopClass *class)
{
  GTK_WIDGET_CLASS(class)->focus = tab_stop_focus;
}

static void tab_stop_init(SoffitTabStop *self)
{
  gtk_orientable_set_orientation(GTK_ORIENTABLE(self), GTK_ORIENTATION_VERTICAL);
}

GtkWidget *tab_stop_new(GtkWidget *list)
{
  GtkWidget *stop = g_object_new(SOFFIT_TYPE_TAB_STOP, NULL);
  gtk_box_append(GTK_BOX(stop), list);
  return stop;
}
