/* practice_columns.c - see practice_columns.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/practice/practice_columns.h"
#include "ui/parts.h"

#define SIDE_SHARE 0.17 /* of the window, where that is more than the column needs */
#define SIDE_MOST 380

struct _SoffitPracticeColumns {
  GtkWidget parent;
};

G_DEFINE_FINAL_TYPE(SoffitPracticeColumns, practice_columns, GTK_TYPE_WIDGET)

static int least_width(GtkWidget *column)
{
  int least;
  gtk_widget_measure(column, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  return least;
}

static void columns_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *least,
                            int *natural, int *least_baseline, int *natural_baseline)
{
  (void)for_size;
  *least = *natural = 0;
  *least_baseline = *natural_baseline = -1;
  for (GtkWidget *column = gtk_widget_get_first_child(widget); column;
       column = gtk_widget_get_next_sibling(column)) {
    int own_least, own_natural;
    gtk_widget_measure(column, orientation, -1, &own_least, &own_natural, NULL, NULL);
    bool beside = orientation == GTK_ORIENTATION_HORIZONTAL;
    *least = beside ? *least + own_least : MAX(*least, own_least);
    *natural = beside ? *natural + own_natural : MAX(*natural, own_natural);
  }
}

static void columns_size_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  (void)baseline;
  GtkWidget *left = gtk_widget_get_first_child(widget), *right = gtk_widget_get_last_child(widget),
            *middle = gtk_widget_get_next_sibling(left);
  int share = MIN((int)(SIDE_SHARE * width), SIDE_MOST), a = MAX(least_width(left), share),
      b = MAX(least_width(right), share);
  bool mirrored = gtk_widget_get_direction(widget) == GTK_TEXT_DIR_RTL;
  part_place(left, mirrored ? width - a : 0, 0, a, height);
  part_place(middle, mirrored ? b : a, 0, width - a - b, height);
  part_place(right, mirrored ? 0 : width - b, 0, b, height);
}

static void columns_dispose(GObject *object)
{
  for (GtkWidget *column; (column = gtk_widget_get_first_child(GTK_WIDGET(object)));)
    gtk_widget_unparent(column);
  G_OBJECT_CLASS(practice_columns_parent_class)->dispose(object);
}

static void practice_columns_class_init(SoffitPracticeColumnsClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
  G_OBJECT_CLASS(class)->dispose = columns_dispose;
  widget_class->measure = columns_measure;
  widget_class->size_allocate = columns_size_allocate;
  gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void practice_columns_init(SoffitPracticeColumns *self)
{
  (void)self;
}

GtkWidget *practice_columns_new(GtkWidget *left, GtkWidget *middle, GtkWidget *right)
{
  GtkWidget *columns = g_object_new(SOFFIT_TYPE_PRACTICE_COLUMNS, NULL);
  GtkWidget *const part[] = {left, middle, right};
  for (size_t i = 0; i < G_N_ELEMENTS(part); i++)
    gtk_widget_insert_before(part[i], columns, NULL);
  return columns;
}
