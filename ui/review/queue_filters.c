/* queue_filters.c - filters with a name: kept, used again, taken away.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Kept as a preference: a line each, "name<tab>what it wants". */
#include "ui/parts.h"
#include "ui/preferences.h"
#include "ui/review/review_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define PREFERENCE "review-filters"

typedef struct {
  SoffitReviewDesk *desk; /* owned ref */
  GtkWidget *popover, *rows, *name;
} Filters;

static char **filters_read(void)
{
  g_autofree char *kept = preference_word(PREFERENCE);
  return g_strsplit(kept ? kept : "", "\n", -1);
}

/* Without the one of this name, and with a new one unless line is NULL. */
static void filters_write(const char *name, const char *line)
{
  g_auto(GStrv) all = filters_read();
  g_autoptr(GString) kept = g_string_new(NULL);
  g_autofree char *head = g_strconcat(name, "\t", NULL);
  for (char **one = all; *one; one++)
    if (**one && !g_str_has_prefix(*one, head))
      g_string_append_printf(kept, "%s\n", *one);
  if (line)
    g_string_append_printf(kept, "%s%s\n", head, line);
  preference_word_set(PREFERENCE, kept->str);
}

static void rows_show(Filters *self);

static void filter_used(GtkButton *button, Filters *self)
{
  QueueView view = {0};
  queue_view_from_text(&view, g_object_get_data(G_OBJECT(button), "filter"));
  queue_set_view(review_desk_queue(self->desk), &view);
  g_free(view.words);
  gtk_popover_popdown(GTK_POPOVER(self->popover));
}

static void filter_removed(GtkButton *button, Filters *self)
{
  filters_write(g_object_get_data(G_OBJECT(button), "filter"), NULL);
  rows_show(self);
}

static void filter_row(Filters *self, const char *name, const char *text)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6),
            *use = gtk_button_new_with_label(name),
            *remove = gtk_button_new_from_icon_name("window-close-symbolic");
  g_autofree char *spoken = g_strdup_printf(_("Take the filter %s away"), name);
  g_object_set_data_full(G_OBJECT(use), "filter", g_strdup(text), g_free);
  g_object_set_data_full(G_OBJECT(remove), "filter", g_strdup(name), g_free);
  gtk_widget_add_css_class(use, "plain");
  gtk_widget_add_css_class(remove, "plain");
  gtk_widget_set_hexpand(use, TRUE);
  gtk_label_set_xalign(GTK_LABEL(gtk_button_get_child(GTK_BUTTON(use))), 0);
  spoken_name(remove, spoken);
  g_signal_connect(use, "clicked", G_CALLBACK(filter_used), self);
  g_signal_connect(remove, "clicked", G_CALLBACK(filter_removed), self);
  gtk_box_append(GTK_BOX(row), use);
  gtk_box_append(GTK_BOX(row), remove);
  gtk_box_append(GTK_BOX(self->rows), row);
}

static void rows_show(Filters *self)
{
  g_auto(GStrv) all = filters_read();
  for (GtkWidget *child; (child = gtk_widget_get_first_child(self->rows));)
    gtk_box_remove(GTK_BOX(self->rows), child);
  for (char **one = all; *one; one++) {
    char *text = strchr(*one, '\t');
    if (text) {
      *text++ = '\0';
      filter_row(self, *one, text);
    }
  }
  if (!gtk_widget_get_first_child(self->rows))
    gtk_box_append(GTK_BOX(self->rows), part_label(_("No filter is kept yet."), "dim"));
}

static void filter_kept(Filters *self)
{
  g_autofree char *name = g_strdup(gtk_editable_get_text(GTK_EDITABLE(self->name)));
  g_strstrip(g_strdelimit(name, "\t\n", ' '));
  if (!*name)
    return;
  g_autofree char *text = queue_view_to_text(queue_view(review_desk_queue(self->desk)));
  filters_write(name, text);
  gtk_editable_set_text(GTK_EDITABLE(self->name), "");
  rows_show(self);
}

static void filters_free(void *data)
{
  Filters *self = data;
  g_object_unref(self->desk);
  g_free(self);
}

GtkWidget *queue_filters_new(SoffitReviewDesk *desk)
{
  Filters *self = g_new0(Filters, 1);
  self->desk = g_object_ref(desk);
  GtkWidget *button = gtk_menu_button_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8),
            *keep = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
  self->popover = gtk_popover_new();
  self->rows = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
  self->name = gtk_entry_new();
  gtk_entry_set_placeholder_text(GTK_ENTRY(self->name), _("name of this filter"));
  spoken_name(self->name, _("Name of this filter"));
  g_signal_connect_swapped(self->name, "activate", G_CALLBACK(filter_kept), self);
  gtk_box_append(GTK_BOX(keep), self->name);
  gtk_box_append(GTK_BOX(keep), part_button(_("Keep"), "small", G_CALLBACK(filter_kept), self));
  gtk_box_append(GTK_BOX(box), part_label(_("Only those with"), "title"));
  gtk_box_append(GTK_BOX(box), queue_facets_new(desk));
  gtk_box_append(GTK_BOX(box), part_label(_("Filters"), "title"));
  gtk_box_append(GTK_BOX(box), self->rows);
  gtk_box_append(GTK_BOX(box), keep);
  gtk_popover_set_child(GTK_POPOVER(self->popover), box);
  gtk_widget_add_css_class(self->popover, "sources");
  g_signal_connect_swapped(self->popover, "show", G_CALLBACK(rows_show), self);
  gtk_menu_button_set_popover(GTK_MENU_BUTTON(button), self->popover);
  gtk_menu_button_set_label(GTK_MENU_BUTTON(button), _("Filters"));
  gtk_widget_add_css_class(button, "small");
  g_object_set_data_full(G_OBJECT(button), "soffit-filters", self, filters_free);
  return button;
}
