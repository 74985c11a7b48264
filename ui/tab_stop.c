/* tab_stop.c - see tab_stop.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/tab_stop.h"
#include <stdbool.h>

struct _SoffitTabStop {
  GtkBox parent;
  GtkWidget *row; /* weak: where Tab enters; NULL = as the list does */
  bool left;      /* the row is the one that was left */
};

G_DEFINE_FINAL_TYPE(SoffitTabStop, tab_stop, GTK_TYPE_BOX)

static void row_keep(SoffitTabStop *self, GtkWidget *row)
{
  if (self->row)
    g_object_remove_weak_pointer(G_OBJECT(self->row), (void **)&self->row);
  self->row = row;
  if (row)
    g_object_add_weak_pointer(G_OBJECT(row), (void **)&self->row);
}

void tab_stop_begin_at(SoffitTabStop *self, GtkWidget *row)
{
  if (!self->left)
    row_keep(self, row);
}

/* The chosen row, where the list has one. */
static GtkWidget *row_to_enter(SoffitTabStop *self)
{
  GtkWidget *list = gtk_widget_get_first_child(GTK_WIDGET(self));
  GtkListBoxRow *chosen =
      GTK_IS_LIST_BOX(list) ? gtk_list_box_get_selected_row(GTK_LIST_BOX(list)) : NULL;
  return chosen ? GTK_WIDGET(chosen) : self->row;
}

/* The row with the focus, also where the list lies deeper, as in the list of pages of a stack. */
static GtkWidget *row_with_focus(GtkWidget *list)
{
  GtkWidget *child = gtk_widget_get_focus_child(list), *row = child;
  while (row && !GTK_IS_LIST_BOX_ROW(row))
    row = gtk_widget_get_focus_child(row);
  return row || GTK_IS_SCROLLED_WINDOW(child) ? row
                                              : child; /* views of models know it themselves */
}

static gboolean tab_stop_focus(GtkWidget *widget, GtkDirectionType direction)
{
  SoffitTabStop *self = SOFFIT_TAB_STOP(widget);
  bool tab = direction == GTK_DIR_TAB_FORWARD || direction == GTK_DIR_TAB_BACKWARD;
  GtkWidget *list = gtk_widget_get_focus_child(widget);
  if (tab && list) {
    row_keep(self, row_with_focus(list));
    self->left = self->row != NULL;
    return FALSE; /* on to what comes next */
  }
  GtkWidget *row = row_to_enter(self);
  if (tab && row && gtk_widget_is_visible(row) && gtk_widget_grab_focus(row))
    return TRUE;
  return GTK_WIDGET_CLASS(tab_stop_parent_class)->focus(widget, direction);
}

static void tab_stop_dispose(GObject *object)
{
  row_keep(SOFFIT_TAB_STOP(object), NULL);
  G_OBJECT_CLASS(tab_stop_parent_class)->dispose(object);
}

static void tab_stop_class_init(SoffitTabStopClass *class)
{
  G_OBJECT_CLASS(class)->dispose = tab_stop_dispose;
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
