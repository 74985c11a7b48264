/* bars_page.c - the three columns of the Bars workspace.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/bars/bars_page.h"
#include "ui/bars/bars_parts.h"

GtkWidget *bars_page_new(SoffitSession *session)
{
  SoffitBarsDesk *desk = bars_desk_new(NULL);
  GtkWidget *page = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0), *sets = bars_sets_new(desk),
            *pictures = bars_pictures_new(desk);
  gtk_widget_add_css_class(page, "bars");
  gtk_widget_set_hexpand(pictures, TRUE);
  gtk_box_append(GTK_BOX(page), sets);
  gtk_box_append(GTK_BOX(page), pictures);
  gtk_box_append(GTK_BOX(page), bars_words_new(desk, session));
  g_object_set_data(G_OBJECT(page), "sets", sets);
  g_object_set_data_full(G_OBJECT(page), "desk", desk, g_object_unref);
  return page;
}

void bars_page_enter(GtkWidget *page)
{
  bars_sets_enter(g_object_get_data(G_OBJECT(page), "sets"));
}
