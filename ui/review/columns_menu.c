/* columns_menu.c - the columns of the queue's table by hand or by keys: shown, where, how wide.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/parts.h"
#include "ui/review/queue_table.h"
#include "ui/review/review_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define WIDER_PX 20

typedef struct {
  SoffitQueueTable *table; /* borrowed: lives as long as the pane */
  GtkWidget *rows;
  bool showing;
} Menu;

typedef enum { ACT_EARLIER, ACT_LATER, ACT_NARROWER, ACT_WIDER, ACTS } ColumnAct;

static void rows_show(Menu *self);

static GtkColumnViewColumn *column_of(GtkWidget *button)
{
  return g_object_get_data(G_OBJECT(button), "column");
}

static void acted(GtkButton *button, Menu *self)
{
  GtkColumnViewColumn *column = column_of(GTK_WIDGET(button));
  ColumnAct act = (ColumnAct)GPOINTER_TO_INT(g_object_get_data(G_OBJECT(button), "act"));
  if (act >= ACT_NARROWER) {
    queue_table_widen(self->table, column, act == ACT_WIDER ? WIDER_PX : -WIDER_PX);
    return;
  }
  queue_table_move(self->table, column, act == ACT_LATER ? 1 : -1);
  rows_show(self);
  /* the focus stays with the column that moved */
  for (GtkWidget *row = gtk_widget_get_first_child(self->rows); row;
       row = gtk_widget_get_next_sibling(row)) {
    GtkWidget *place = gtk_widget_get_first_child(row);
    for (int i = 0; i <= (int)act && column_of(gtk_widget_get_first_child(row)) == column; i++)
      place = gtk_widget_get_next_sibling(place);
    if (place != gtk_widget_get_first_child(row))
      gtk_widget_grab_focus(place);
  }
}

static guint shown_count(Menu *self)
{
  GListModel *columns = queue_table_columns(self->table);
  guint shown = 0;
  for (guint i = 0; i < g_list_model_get_n_items(columns); i++) {
    g_autoptr(GtkColumnViewColumn) column = g_list_model_get_item(columns, i);
    shown += gtk_column_view_column_get_visible(column) ? 1 : 0;
  }
  return shown;
}

/* The last one stays. */
static void shown_toggled(GtkCheckButton *check, Menu *self)
{
  bool on = gtk_check_button_get_active(check);
  if (self->showing)
    return;
  if (!on && shown_count(self) == 1)
    gtk_check_button_set_active(check, TRUE);
  else
    gtk_column_view_column_set_visible(column_of(GTK_WIDGET(check)), on);
}

static GtkWidget *act_button(Menu *self, GtkColumnViewColumn *column, ColumnAct act)
{
  static const struct {
    const char *icon, *said;
  } how[ACTS] = {[ACT_EARLIER] = {"go-up-symbolic", N_("%s: further to the left")},
                 [ACT_LATER] = {"go-down-symbolic", N_("%s: further to the right")},
                 [ACT_NARROWER] = {"list-remove-symbolic", N_("%s: narrower")},
                 [ACT_WIDER] = {"list-add-symbolic", N_("%s: wider")}};
  GtkWidget *button = gtk_button_new_from_icon_name(how[act].icon);
  g_autofree char *said =
      g_strdup_printf(_(how[act].said), gtk_column_view_column_get_title(column));
  g_object_set_data(G_OBJECT(button), "column", column);
  g_object_set_data(G_OBJECT(button), "act", GINT_TO_POINTER(act));
  gtk_widget_add_css_class(button, "plain");
  spoken_name(button, said);
  spoken_tooltip(button, said);
  g_signal_connect(button, "clicked", G_CALLBACK(acted), self);
  return button;
}

static void row_add(Menu *self, GtkColumnViewColumn *column)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 4),
            *check = gtk_check_button_new_with_label(gtk_column_view_column_get_title(column));
  g_object_set_data(G_OBJECT(check), "column", column);
  gtk_check_button_set_active(GTK_CHECK_BUTTON(check), gtk_column_view_column_get_visible(column));
  gtk_widget_set_hexpand(check, TRUE);
  g_signal_connect(check, "toggled", G_CALLBACK(shown_toggled), self);
  gtk_box_append(GTK_BOX(row), check);
  for (ColumnAct act = ACT_EARLIER; act < ACTS; act++)
    gtk_box_append(GTK_BOX(row), act_button(self, column, act));
  gtk_box_append(GTK_BOX(self->rows), row);
}

static void rows_show(Menu *self)
{
  GListModel *columns = queue_table_columns(self->table);
  self->showing = true;
  for (GtkWidget *child; (child = gtk_widget_get_first_child(self->rows));)
    gtk_box_remove(GTK_BOX(self->rows), child);
  for (guint i = 0; i < g_list_model_get_n_items(columns); i++) {
    g_autoptr(GtkColumnViewColumn) column = g_list_model_get_item(columns, i);
    row_add(self, column);
  }
  self->showing = false;
}

static void reset(Menu *self)
{
  queue_table_reset(self->table);
  rows_show(self);
}

GtkWidget *columns_menu_new(SoffitQueueTable *table)
{
  Menu *self = g_new0(Menu, 1);
  self->table = table;
  GtkWidget *button = gtk_menu_button_new(), *popover = gtk_popover_new(),
            *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  self->rows = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
  gtk_box_append(GTK_BOX(box), part_label(_("Columns"), "title"));
  gtk_box_append(GTK_BOX(box), self->rows);
  gtk_box_append(GTK_BOX(box), part_button(_("As delivered"), "small", G_CALLBACK(reset), self));
  gtk_popover_set_child(GTK_POPOVER(popover), box);
  gtk_widget_add_css_class(popover, "sources");
  g_signal_connect_swapped(popover, "show", G_CALLBACK(rows_show), self);
  gtk_menu_button_set_popover(GTK_MENU_BUTTON(button), popover);
  gtk_menu_button_set_label(GTK_MENU_BUTTON(button), _("Columns"));
  gtk_widget_add_css_class(button, "small");
  g_object_set_data_full(G_OBJECT(button), "soffit-columns", self, g_free);
  return button;
}
