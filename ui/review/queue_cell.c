/* queue_cell.c - see queue_cell.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/queue_cell.h"
#include "ui/review/row_words.h"
#include "ui/sign.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define SIGN_PX 18

struct _SoffitQueueCell {
  GtkBox parent;
  QueueOrder column;
  SoffitLabItem *item; /* owned ref; NULL */
  gulong changed;      /* handler of it */
  GtkWidget *sign, *label;
};

G_DEFINE_FINAL_TYPE(SoffitQueueCell, queue_cell, GTK_TYPE_BOX)

bool queue_column_figures(QueueOrder column)
{
  return column == ORDER_MARGIN || column == ORDER_CHANCE;
}

/* What does not show in the cell: why a row is in trouble, since when it waits. */
static char *more_words(const LabRow *row, QueueOrder column)
{
  if (column == ORDER_VERDICT)
    return row_words_reason(row);
  if (column == ORDER_CASE && *row->title)
    return g_strdup(row->title);
  if (column != ORDER_WAITING || !row->waiting_since_us)
    return NULL;
  g_autoptr(GDateTime) utc = g_date_time_new_from_unix_utc(row->waiting_since_us / G_USEC_PER_SEC),
                       here = g_date_time_to_local(utc);
  return g_date_time_format(here, _("%Y-%m-%d %H:%M"));
}

static void cell_show(SoffitQueueCell *self)
{
  const LabRow *row = lab_item_row(self->item);
  gint64 now = g_get_real_time();
  g_autofree char *text = row_words_cell(row, self->column, now);
  GtkWidget *place = gtk_widget_get_parent(GTK_WIDGET(self)); /* what the keys step to */
  if (strcmp(gtk_label_get_text(GTK_LABEL(self->label)), text) != 0)
    gtk_label_set_text(GTK_LABEL(self->label), text);
  if (self->sign) {
    sign_set(SOFFIT_SIGN(self->sign), row->state == ROW_READY ? row->verdict : VERDICT_NONE);
    (row->state == ROW_UNREADABLE ? gtk_widget_add_css_class
                                  : gtk_widget_remove_css_class)(self->label, "wrong");
  }
  g_autofree char *said =
      g_strdup_printf("%s %s", _(queue_column_name(self->column)), *text ? text : _("not known"));
  spoken_name(place ? place : GTK_WIDGET(self), said);
  if (self->column == ORDER_VERDICT && place && gtk_widget_get_parent(place)) {
    g_autofree char *sentence = row_words_sentence(row, now);
    spoken_name(gtk_widget_get_parent(place), sentence);
  }
}

static gboolean tooltip_asked(GtkWidget *widget, int x, int y, gboolean keyboard,
                              GtkTooltip *tooltip, void *data)
{
  (void)x, (void)y, (void)keyboard, (void)data;
  SoffitQueueCell *self = SOFFIT_QUEUE_CELL(widget);
  g_autofree char *more = self->item ? more_words(lab_item_row(self->item), self->column) : NULL;
  PangoLayout *layout = gtk_label_get_layout(GTK_LABEL(self->label));
  if (!more && pango_layout_is_ellipsized(layout))
    more = g_strdup(gtk_label_get_text(GTK_LABEL(self->label)));
  gtk_tooltip_set_text(tooltip, more);
  return more != NULL;
}

void queue_cell_set(SoffitQueueCell *self, SoffitLabItem *item)
{
  if (self->item)
    g_signal_handler_disconnect(self->item, self->changed);
  g_set_object(&self->item, item);
  if (!item)
    return;
  self->changed = g_signal_connect_swapped(item, "changed", G_CALLBACK(cell_show), self);
  cell_show(self);
}

static void queue_cell_dispose(GObject *object)
{
  queue_cell_set(SOFFIT_QUEUE_CELL(object), NULL);
  G_OBJECT_CLASS(queue_cell_parent_class)->dispose(object);
}

static void queue_cell_class_init(SoffitQueueCellClass *class)
{
  G_OBJECT_CLASS(class)->dispose = queue_cell_dispose;
}

static void queue_cell_init(SoffitQueueCell *self)
{
  self->label = gtk_label_new("");
  gtk_label_set_ellipsize(GTK_LABEL(self->label), PANGO_ELLIPSIZE_END);
  gtk_label_set_single_line_mode(GTK_LABEL(self->label), TRUE);
  gtk_widget_set_hexpand(self->label, TRUE);
  gtk_box_set_spacing(GTK_BOX(self), 6);
  gtk_widget_set_has_tooltip(GTK_WIDGET(self), TRUE);
  g_signal_connect(self, "query-tooltip", G_CALLBACK(tooltip_asked), NULL);
}

GtkWidget *queue_cell_new(QueueOrder column)
{
  SoffitQueueCell *self = g_object_new(SOFFIT_TYPE_QUEUE_CELL, NULL);
  self->column = column;
  if (column == ORDER_VERDICT) {
    self->sign = sign_new(SIGN_PX);
    gtk_box_append(GTK_BOX(self), self->sign);
  }
  if (column == ORDER_CASE)
    gtk_widget_add_css_class(self->label, "title");
  gtk_label_set_xalign(GTK_LABEL(self->label), queue_column_figures(column) ? 1 : 0);
  gtk_box_append(GTK_BOX(self), self->label);
  return GTK_WIDGET(self);
}
