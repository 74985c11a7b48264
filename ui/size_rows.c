/* size_rows.c - see size_rows.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/size_rows.h"
#include "ui/spoken.h"
#include "ui/words.h"

typedef struct {
  SoffitSession *session; /* owned ref */
  GtkWidget *entry[SIZE_KINDS];
  GtkWidget *message;
} SizeRows;

static void rows_free(void *data)
{
  SizeRows *rows = data;
  g_signal_handlers_disconnect_by_data(rows->session, rows);
  g_object_unref(rows->session);
  g_free(rows);
}

static void message_show(SizeRows *rows, const char *text, bool wrong)
{
  gtk_label_set_text(GTK_LABEL(rows->message), text);
  gtk_widget_set_visible(rows->message, *text != '\0');
  (wrong ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(rows->message, "wrong");
}

/* What is drawn now. */
static void rows_fill(SizeRows *rows)
{
  const Case *c = session_case(rows->session);
  size_t connector = session_focus(rows->session);
  if (!session_has_case(rows->session) || connector + 1 >= c->n_unit)
    return;
  for (SizeKind kind = 0; kind < SIZE_KINDS; kind++) {
    GtkWidget *entry = rows->entry[kind];
    if (!entry)
      continue;
    double size = connector_size(&c->connector[connector], kind);
    g_autofree char *text = size_number(kind, size);
    gtk_editable_set_text(GTK_EDITABLE(entry), text);
    gtk_widget_set_sensitive(entry, !isnan(size));
  }
}

static void entered(GtkEntry *entry, SizeRows *rows)
{
  SizeKind kind = 0;
  while (kind < SIZE_KINDS && rows->entry[kind] != GTK_WIDGET(entry))
    kind++;
  g_return_if_fail(kind < SIZE_KINDS);
  g_autofree char *typed = g_strdup(gtk_editable_get_text(GTK_EDITABLE(entry)));
  g_autofree char *wrong = size_type(rows->session, kind, typed);
  g_autofree char *spoken = NULL;
  if (wrong) {
    gtk_editable_set_text(GTK_EDITABLE(entry), typed); /* to be put right */
    message_show(rows, wrong, true);
  } else {
    rows_fill(rows);
    spoken = g_strdup_printf(_("%s: %s %s"), _(size_name(kind)),
                             gtk_editable_get_text(GTK_EDITABLE(entry)), size_unit(kind));
    message_show(rows, spoken, false);
  }
  spoken_description(GTK_WIDGET(entry), wrong ? wrong : spoken);
  gtk_editable_select_region(GTK_EDITABLE(entry), 0, -1);
}

GtkWidget *size_rows_new(SoffitSession *session, const SizeKind kind[], size_t n)
{
  SizeRows *rows = g_new0(SizeRows, 1);
  rows->session = g_object_ref(session);
  GtkWidget *grid = gtk_grid_new();
  gtk_grid_set_column_spacing(GTK_GRID(grid), 8);
  gtk_grid_set_row_spacing(GTK_GRID(grid), 6);
  for (size_t i = 0; i < n; i++) {
    GtkWidget *name = gtk_label_new(_(size_name(kind[i]))), *entry = gtk_entry_new(),
              *unit = gtk_label_new(size_unit(kind[i]));
    gtk_label_set_xalign(GTK_LABEL(name), 0);
    gtk_widget_set_hexpand(name, TRUE);
    gtk_label_set_xalign(GTK_LABEL(unit), 0);
    gtk_entry_set_alignment(GTK_ENTRY(entry), 1);
    gtk_editable_set_width_chars(GTK_EDITABLE(entry), 7);
    gtk_editable_set_max_width_chars(GTK_EDITABLE(entry), 7);
    spoken_name(entry, _(size_name(kind[i])));
    g_signal_connect(entry, "activate", G_CALLBACK(entered), rows);
    rows->entry[kind[i]] = entry;
    gtk_grid_attach(GTK_GRID(grid), name, 0, (int)i, 1, 1);
    gtk_grid_attach(GTK_GRID(grid), entry, 1, (int)i, 1, 1);
    gtk_grid_attach(GTK_GRID(grid), unit, 2, (int)i, 1, 1);
  }
  rows->message = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(rows->message), 0);
  gtk_label_set_wrap(GTK_LABEL(rows->message), TRUE);
  gtk_label_set_max_width_chars(GTK_LABEL(rows->message), 32);
  gtk_widget_add_css_class(rows->message, "note");
  gtk_grid_attach(GTK_GRID(grid), rows->message, 0, (int)n, 3, 1);
  message_show(rows, _("Type a size and press Enter: the outline follows."), false);
  g_object_set_data_full(G_OBJECT(grid), "soffit-size-rows", rows, rows_free);
  g_signal_connect_swapped(session, "focus-changed", G_CALLBACK(rows_fill), rows);
  g_signal_connect_swapped(session, "state-changed", G_CALLBACK(rows_fill), rows);
  rows_fill(rows);
  return grid;
}

static void popover_closed(GtkPopover *popover)
{
  gtk_widget_grab_focus(gtk_widget_get_parent(GTK_WIDGET(popover)));
  gtk_widget_unparent(GTK_WIDGET(popover));
}

void size_popover_show(GtkWidget *parent, SoffitSession *session, const GdkRectangle *at,
                       SizeKind kind)
{
  static const SizeKind all[SIZE_KINDS] = {SIZE_NECK_HEIGHT, SIZE_NECK_WIDTH, SIZE_RADIUS,
                                           SIZE_DEPTH,       SIZE_OPENING,    SIZE_MOUTH};
  GtkWidget *popover = gtk_popover_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *title = gtk_label_new(_("Exact sizes")),
            *rows = size_rows_new(session, all, SIZE_KINDS);
  gtk_label_set_xalign(GTK_LABEL(title), 0);
  gtk_widget_add_css_class(title, "title");
  gtk_box_append(GTK_BOX(box), title);
  gtk_box_append(GTK_BOX(box), rows);
  gtk_popover_set_child(GTK_POPOVER(popover), box);
  gtk_widget_add_css_class(popover, "sources");
  spoken_name(popover, _("Exact sizes"));
  gtk_widget_set_parent(popover, parent);
  gtk_popover_set_pointing_to(GTK_POPOVER(popover), at);
  g_signal_connect(popover, "closed", G_CALLBACK(popover_closed), NULL);
  gtk_popover_popup(GTK_POPOVER(popover));
  SizeRows *data = g_object_get_data(G_OBJECT(rows), "soffit-size-rows");
  gtk_widget_grab_focus(data->entry[kind]);
}
