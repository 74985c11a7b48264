/* mark_list.c - see mark_list.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Items are kept and hidden when there are fewer marks. */
#include "ui/canvas/mark_list.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define LEAST_PX 8 /* an item has a size, or readers leave it out */

static void mark_clear(gpointer data)
{
  Mark *mark = data;
  g_free(mark->name);
  g_free(mark->words);
}

GArray *marks_new(void)
{
  GArray *marks = g_array_new(FALSE, FALSE, sizeof(Mark));
  g_array_set_clear_func(marks, mark_clear);
  return marks;
}

void marks_add(GArray *marks, char *name, char *words, Box px)
{
  Mark mark = {name, words, px};
  g_array_append_val(marks, mark);
}

/* ---- an item ---- */

#define SOFFIT_TYPE_MARK_ITEM (mark_item_get_type())
G_DECLARE_FINAL_TYPE(SoffitMarkItem, mark_item, SOFFIT, MARK_ITEM, GtkWidget)

struct _SoffitMarkItem {
  GtkWidget parent;
  Box px;
};

G_DEFINE_FINAL_TYPE(SoffitMarkItem, mark_item, GTK_TYPE_WIDGET)

static void mark_item_class_init(SoffitMarkItemClass *class)
{
  gtk_widget_class_set_accessible_role(GTK_WIDGET_CLASS(class), GTK_ACCESSIBLE_ROLE_LIST_ITEM);
}

static void mark_item_init(SoffitMarkItem *self)
{
  (void)self;
}

/* ---- the list ---- */

struct _SoffitMarkList {
  GtkWidget parent;
};

G_DEFINE_FINAL_TYPE(SoffitMarkList, mark_list, GTK_TYPE_WIDGET)

static void mark_list_allocate(GtkWidget *widget, int width, int height, int baseline)
{
  (void)baseline;
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
       child = gtk_widget_get_next_sibling(child)) {
    Box px =
        SOFFIT_MARK_ITEM(child)->px; /* what lies outside of the view is said to be at its edge */
    double x = CLAMP(px.x, 0, MAX(width - LEAST_PX, 0)),
           y = CLAMP(px.y, 0, MAX(height - LEAST_PX, 0));
    int wide = (int)CLAMP(px.x + px.width - x, LEAST_PX, MAX(width - x, LEAST_PX)),
        high = (int)CLAMP(px.y + px.height - y, LEAST_PX, MAX(height - y, LEAST_PX));
    gtk_widget_size_allocate(child, &(GtkAllocation){(int)x, (int)y, wide, high}, -1);
  }
}

static void mark_list_measure(GtkWidget *widget, GtkOrientation orientation, int for_size,
                              int *least, int *natural, int *least_baseline, int *natural_baseline)
{
  (void)widget, (void)orientation, (void)for_size;
  *least = *natural = 0;
  *least_baseline = *natural_baseline = -1;
}

/* Nothing is drawn. */
static void mark_list_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  (void)widget, (void)snapshot;
}

static void mark_list_dispose(GObject *object)
{
  for (GtkWidget *child; (child = gtk_widget_get_first_child(GTK_WIDGET(object)));)
    gtk_widget_unparent(child);
  G_OBJECT_CLASS(mark_list_parent_class)->dispose(object);
}

static void mark_list_class_init(SoffitMarkListClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
  G_OBJECT_CLASS(class)->dispose = mark_list_dispose;
  widget_class->size_allocate = mark_list_allocate;
  widget_class->measure = mark_list_measure;
  widget_class->snapshot = mark_list_snapshot;
  gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_LIST);
}

static void mark_list_init(SoffitMarkList *self)
{
  gtk_widget_set_can_target(GTK_WIDGET(self), FALSE);
  spoken_name(GTK_WIDGET(self), _("Marks on the drawing"));
}

GtkWidget *mark_list_new(void)
{
  return g_object_new(SOFFIT_TYPE_MARK_LIST, NULL);
}

void mark_list_show(SoffitMarkList *self, const GArray *marks)
{
  GtkWidget *child = gtk_widget_get_first_child(GTK_WIDGET(self));
  for (guint i = 0; i < marks->len; i++) {
    const Mark *mark = &g_array_index(marks, Mark, i);
    if (!child) {
      child = g_object_new(SOFFIT_TYPE_MARK_ITEM, NULL);
      gtk_widget_set_parent(child, GTK_WIDGET(self));
    }
    spoken_name(child, mark->name);
    spoken_description(child, mark->words);
    SOFFIT_MARK_ITEM(child)->px = mark->px;
    if (!gtk_widget_get_visible(child))
      gtk_widget_set_visible(child, TRUE);
    child = gtk_widget_get_next_sibling(child);
  }
  for (; child; child = gtk_widget_get_next_sibling(child))
    if (gtk_widget_get_visible(child))
      gtk_widget_set_visible(child, FALSE);
  gtk_widget_queue_allocate(GTK_WIDGET(self));
}
