/* queue_list.c - see queue_list.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/queue_list.h"
#include "ui/review/queue_row.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define FOLDED "folded"

static void row_setup(GtkSignalListItemFactory *factory, GtkListItem *item, gpointer scroller)
{
  (void)factory;
  GtkWidget *row = queue_row_new();
  queue_row_fold(SOFFIT_QUEUE_ROW(row), gtk_widget_has_css_class(scroller, FOLDED));
  gtk_list_item_set_child(item, row);
}

static void row_bind(GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  (void)factory, (void)data;
  queue_row_set(SOFFIT_QUEUE_ROW(gtk_list_item_get_child(item)), gtk_list_item_get_item(item));
}

static void row_unbind(GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  (void)factory, (void)data;
  queue_row_set(SOFFIT_QUEUE_ROW(gtk_list_item_get_child(item)), NULL);
}

/* Enter, or two clicks. */
static void row_activated(GtkListView *list, guint position, void *data)
{
  (void)position, (void)data;
  gtk_widget_activate_action(GTK_WIDGET(list), "review.open", NULL);
}

void queue_list_set_model(GtkWidget *list, GtkSelectionModel *model)
{
  GtkWidget *view = gtk_scrolled_window_get_child(GTK_SCROLLED_WINDOW(list));
  gtk_list_view_set_model(GTK_LIST_VIEW(view), model);
}

void queue_list_fold(GtkWidget *list, bool folded)
{
  if (folded == gtk_widget_has_css_class(list, FOLDED))
    return;
  (folded ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(list, FOLDED);
  GtkWidget *view = gtk_scrolled_window_get_child(GTK_SCROLLED_WINDOW(list));
  for (GtkWidget *place = gtk_widget_get_first_child(view); place;
       place = gtk_widget_get_next_sibling(place)) {
    GtkWidget *row = gtk_widget_get_first_child(place);
    if (SOFFIT_IS_QUEUE_ROW(row))
      queue_row_fold(SOFFIT_QUEUE_ROW(row), folded);
  }
}

GtkWidget *queue_list_new(void)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new();
  GtkWidget *view = gtk_list_view_new(NULL, factory), *scroller = gtk_scrolled_window_new();
  g_signal_connect(factory, "setup", G_CALLBACK(row_setup), scroller);
  g_signal_connect(factory, "bind", G_CALLBACK(row_bind), NULL);
  g_signal_connect(factory, "unbind", G_CALLBACK(row_unbind), NULL);
  g_signal_connect(view, "activate", G_CALLBACK(row_activated), NULL);
  gtk_widget_add_css_class(view, "queue");
  spoken_name(view, _("Cases of the lab"));
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), view);
  return scroller;
}
