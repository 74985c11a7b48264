/* queue_table.c - see queue_table.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/queue_table.h"
#include "strength/finish.h"
#include "ui/preferences.h"
#include "ui/review/queue_cell.h"
#include "ui/review/queue_columns.h"
#include "ui/review/row_words.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define PREFERENCE "review-columns"
#define KEEP_MS 400     /* after the last move of a hand */
#define CELL_PX 22      /* beside the words of a cell: padding and line */
#define HEAD_PX 40      /* beside those of a head: padding, arrow of the order */
#define FOLDED_PX 8     /* less where there is little room */
#define NOTE_SIZE 0.867 /* of the words of heads, and of all where there is little room */
#define WORDS_MOST_PX 180
#define SIGN_ROOM_PX 32 /* before the word of a verdict */

struct _SoffitQueueTable {
  GtkWidget parent;
  SoffitQueue *queue; /* owned ref */
  GtkWidget *scroller, *view;
  bool showing, folded;
  bool measured;    /* columns are as they were kept */
  QueueOrder asked; /* column that the sorter of the view names first */
  guint keep;       /* source */
};

G_DEFINE_FINAL_TYPE(SoffitQueueTable, queue_table, GTK_TYPE_WIDGET)

GtkWidget *queue_table_rows(SoffitQueueTable *self)
{
  GtkWidget *child = gtk_widget_get_first_child(self->view);
  while (child && !GTK_IS_LIST_VIEW(child))
    child = gtk_widget_get_next_sibling(child);
  return child;
}

GListModel *queue_table_columns(SoffitQueueTable *self)
{
  return gtk_column_view_get_columns(GTK_COLUMN_VIEW(self->view));
}

#define COLUMN_KEY "soffit-column"

QueueOrder queue_table_column(GtkColumnViewColumn *column)
{
  return (QueueOrder)GPOINTER_TO_INT(g_object_get_data(G_OBJECT(column), COLUMN_KEY));
}

static GtkColumnViewColumn *column_at(SoffitQueueTable *self, guint i)
{
  g_autoptr(GtkColumnViewColumn) column = g_list_model_get_item(queue_table_columns(self), i);
  return column; /* the view keeps it */
}

static GtkColumnViewColumn *column_of(SoffitQueueTable *self, QueueOrder order)
{
  for (guint i = 0; i < g_list_model_get_n_items(queue_table_columns(self)); i++)
    if (queue_table_column(column_at(self, i)) == order)
      return column_at(self, i);
  return NULL;
}

/* ---- room for the words of the language ---- */

/* In the size of the window's words: the table's own is not known yet when it was just folded. */
static int words_px(SoffitQueueTable *self, const char *words)
{
  GtkWidget *parent = gtk_widget_get_parent(GTK_WIDGET(self));
  g_autoptr(PangoLayout) layout =
      gtk_widget_create_pango_layout(parent ? parent : GTK_WIDGET(self), words);
  int width;
  pango_layout_get_pixel_size(layout, &width, NULL);
  return width;
}

static int widest(SoffitQueueTable *self, const char *const word[], size_t n)
{
  int most = 0;
  for (size_t i = 0; i < n; i++)
    most = MAX(most, words_px(self, word[i]));
  return MIN(most, WORDS_MOST_PX);
}

/* The longest that is to be expected. */
static int cell_px(SoffitQueueTable *self, QueueOrder column)
{
  const char *word[FINISH_N] = {NULL};
  size_t n = 0;
  LabRow row = {.n_unit = 6, .tooth_first = 43, .tooth_last = 33};
  g_autofree char *span = row_words_span(&row), *days = NULL;
  switch (column) {
  case ORDER_SPAN:
    word[n++] = span;
    break;
  case ORDER_VERDICT:
    for (Verdict verdict = VERDICT_HOLDS; verdict <= VERDICT_REWORK; verdict++)
      word[n++] = _(verdict_name(verdict));
    word[n++] = _("unreadable");
    return widest(self, word, n) + SIGN_ROOM_PX;
  case ORDER_MARGIN:
    word[n++] = "0.00 (0.00–0.00)";
    break;
  case ORDER_CHANCE:
    word[n++] = "100 % (100–100)";
    break;
  case ORDER_FINISH:
    for (FinishState finish = 0; finish < FINISH_N; finish++)
      word[n++] = _(finish_name(finish));
    break;
  case ORDER_WAITING:
    word[n++] = days = words_lasting(999 * 24 * 3600 * (gint64)G_USEC_PER_SEC);
    for (StandingState state = STANDING_DRAWN; state <= STANDING_REOPENED; state++)
      word[n++] = _(standing_name(state));
    break;
  case ORDER_MATERIAL:
    word[n++] = _("Zirconia 3Y");
    break;
  case ORDER_CONNECTOR:
    word[n++] = "00/00";
    break;
  case ORDER_HAND:
    word[n++] = "VS 000";
    break;
  default:
    word[n++] = "QB-000000";
  }
  return widest(self, word, n);
}

static int usual_width(SoffitQueueTable *self, QueueOrder column)
{
  double cell = (self->folded ? NOTE_SIZE : 1) * cell_px(self, column) + CELL_PX,
         head = NOTE_SIZE * words_px(self, _(queue_column_name(column))) + HEAD_PX;
  return (int)ceil(fmax(cell, head)) - (self->folded ? FOLDED_PX : 0);
}

static QueueOrder column_titled(const char *title)
{
  for (QueueOrder order = ORDER_CASE; order < QUEUE_ORDERS; order++)
    if (strcmp(title, _(queue_column_name(order))) == 0)
      return order;
  return QUEUE_ORDERS;
}

/* Heads of figures stand above them, at the right; GTK has no call for it.  Nothing can be done by
 * keys in the row of heads: it is left out. */
static void heads_make(SoffitQueueTable *self)
{
  GtkWidget *heads = gtk_widget_get_first_child(self->view);
  if (!heads)
    return;
  gtk_widget_set_focusable(heads, FALSE);
  spoken_name(heads, _("Heads of the columns"));
  for (GtkWidget *head = gtk_widget_get_first_child(heads); head;
       head = gtk_widget_get_next_sibling(head)) {
    GtkWidget *box = gtk_widget_get_first_child(head),
              *label = box ? gtk_widget_get_first_child(box) : NULL;
    const char *title = GTK_IS_LABEL(label) ? gtk_label_get_text(GTK_LABEL(label)) : "";
    spoken_name(head, title);
    if (queue_column_figures(column_titled(title)))
      gtk_widget_set_halign(box, GTK_ALIGN_END);
  }
}

/* ---- what is kept ---- */

#define USUAL_KEY "soffit-usual-width"

static int usual_of(GtkColumnViewColumn *column)
{
  return GPOINTER_TO_INT(g_object_get_data(G_OBJECT(column), USUAL_KEY));
}

static void columns_read(SoffitQueueTable *self, ColumnKept kept[QUEUE_COLUMNS])
{
  for (guint i = 0; i < QUEUE_COLUMNS; i++) {
    GtkColumnViewColumn *column = column_at(self, i);
    int width = gtk_column_view_column_get_fixed_width(column);
    QueueOrder order = queue_table_column(column);
    kept[i] = (ColumnKept){.column = order,
                           .width = width == usual_of(column) ? 0 : width,
                           .shown = gtk_column_view_column_get_visible(column)};
  }
}

static gboolean columns_keep(void *data)
{
  SoffitQueueTable *self = data;
  ColumnKept kept[QUEUE_COLUMNS];
  self->keep = 0;
  columns_read(self, kept);
  g_autofree char *text = columns_kept_to_text(kept);
  preference_word_set(PREFERENCE, text);
  return G_SOURCE_REMOVE;
}

static void columns_changed(SoffitQueueTable *self)
{
  if (self->showing)
    return;
  g_clear_handle_id(&self->keep, g_source_remove);
  self->keep = g_timeout_add(KEEP_MS, columns_keep, self);
}

static void columns_show(SoffitQueueTable *self, const ColumnKept kept[QUEUE_COLUMNS])
{
  self->showing = true;
  for (guint i = 0; i < QUEUE_COLUMNS; i++) {
    QueueOrder order = kept[i].column;
    g_autoptr(GtkColumnViewColumn) column = g_object_ref(column_of(self, order));
    gtk_column_view_insert_column(GTK_COLUMN_VIEW(self->view), i, column);
    gtk_column_view_column_set_visible(column, kept[i].shown);
    gtk_column_view_column_set_expand(column, order == ORDER_MATERIAL && !kept[i].width);
    g_object_set_data(G_OBJECT(column), USUAL_KEY, GINT_TO_POINTER(usual_width(self, order)));
    gtk_column_view_column_set_fixed_width(column,
                                           kept[i].width ? kept[i].width : usual_of(column));
  }
  self->showing = false;
}

void queue_table_move(SoffitQueueTable *self, GtkColumnViewColumn *column, int by)
{
  int n = (int)g_list_model_get_n_items(queue_table_columns(self)), at = 0;
  while (at < n && column_at(self, (guint)at) != column)
    at++;
  if (at + by >= 0 && at + by < n)
    gtk_column_view_insert_column(GTK_COLUMN_VIEW(self->view), (guint)(at + by), column);
}

void queue_table_widen(SoffitQueueTable *self, GtkColumnViewColumn *column, int px)
{
  (void)self;
  int width = gtk_column_view_column_get_fixed_width(column) + px;
  gtk_column_view_column_set_expand(column, FALSE);
  gtk_column_view_column_set_fixed_width(column, CLAMP(width, COLUMN_LEAST_PX, COLUMN_MOST_PX));
}

void queue_table_reset(SoffitQueueTable *self)
{
  ColumnKept usual[QUEUE_COLUMNS];
  columns_kept_default(usual);
  columns_show(self, usual);
  columns_changed(self);
}

void queue_table_fold(SoffitQueueTable *self, bool folded)
{
  ColumnKept kept[QUEUE_COLUMNS];
  if (self->measured && folded == self->folded)
    return;
  if (self->measured) {
    columns_read(self, kept);
  } else {
    g_autofree char *text = preference_word(PREFERENCE);
    columns_kept_from_text(kept, text);
  }
  self->folded = folded;
  self->measured = true;
  (folded ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(GTK_WIDGET(self), "folded");
  columns_show(self, kept);
}

int queue_table_width(SoffitQueueTable *self)
{
  int width = 2;
  for (guint i = 0; i < QUEUE_COLUMNS; i++)
    if (gtk_column_view_column_get_visible(column_at(self, i)))
      width += gtk_column_view_column_get_fixed_width(column_at(self, i));
  return width;
}

size_t queue_table_shown(SoffitQueueTable *self, QueueOrder column[])
{
  size_t n = 0;
  for (guint i = 0; i < QUEUE_COLUMNS; i++)
    if (gtk_column_view_column_get_visible(column_at(self, i)))
      column[n++] = queue_table_column(column_at(self, i));
  return n;
}

/* ---- order ---- */

static int column_names_itself(const void *a, const void *b, void *data)
{
  (void)a, (void)b;
  GtkColumnViewColumn *column = data;
  SoffitQueueTable *self = g_object_get_data(G_OBJECT(column), "soffit-table");
  self->asked = queue_table_column(column);
  return 1;
}

static void order_take(SoffitQueueTable *self, QueueOrder order, bool rising)
{
  QueueView view = *queue_view(self->queue);
  view.order = order;
  view.reversed = rising == queue_order_falls(order);
  queue_set_view(self->queue, &view);
}

/* A head was clicked.  GTK 4.8 does not tell which: the sorter of the view asks the one of the head
 * first, which names its column, and turns the answer round where the arrow points down.  No row is
 * ever sorted by them. */
static void head_clicked(SoffitQueueTable *self)
{
  GtkSorter *sorter = gtk_column_view_get_sorter(GTK_COLUMN_VIEW(self->view));
  if (self->showing)
    return;
  self->asked = ORDER_WORST;
  bool rising = gtk_sorter_compare(sorter, self, self->queue) == GTK_ORDERING_LARGER;
  if (self->asked != ORDER_WORST)
    order_take(self, self->asked, rising);
}

/* The arrow of the head says how the rows are ordered, whoever asked for it. */
static void order_show(SoffitQueueTable *self)
{
  const QueueView *view = queue_view(self->queue);
  bool rising = view->reversed == queue_order_falls(view->order);
  self->showing = true;
  gtk_column_view_sort_by_column(GTK_COLUMN_VIEW(self->view), NULL, GTK_SORT_ASCENDING);
  gtk_column_view_sort_by_column(GTK_COLUMN_VIEW(self->view), /* one arrow, not one of before too */
                                 view->order == ORDER_WORST ? NULL : column_of(self, view->order),
                                 rising ? GTK_SORT_ASCENDING : GTK_SORT_DESCENDING);
  self->showing = false;
}

void queue_table_sort(SoffitQueueTable *self, guint n)
{
  for (guint i = 0; i < QUEUE_COLUMNS; i++) {
    GtkColumnViewColumn *column = column_at(self, i);
    if (!gtk_column_view_column_get_visible(column) || n--)
      continue;
    const QueueView *view = queue_view(self->queue);
    QueueOrder order = queue_table_column(column);
    bool falls = queue_order_falls(order);
    order_take(self, order, view->order == order ? view->reversed != falls : true);
    return;
  }
}

/* ---- building ---- */

static void cell_setup(GtkSignalListItemFactory *factory, GtkListItem *item, void *column)
{
  (void)factory;
  gtk_list_item_set_child(item, queue_cell_new((QueueOrder)GPOINTER_TO_INT(column)));
}

static void cell_bind(GtkSignalListItemFactory *factory, GtkListItem *item, void *column)
{
  (void)factory, (void)column;
  queue_cell_set(SOFFIT_QUEUE_CELL(gtk_list_item_get_child(item)), gtk_list_item_get_item(item));
}

static void cell_unbind(GtkSignalListItemFactory *factory, GtkListItem *item, void *column)
{
  (void)factory, (void)column;
  queue_cell_set(SOFFIT_QUEUE_CELL(gtk_list_item_get_child(item)), NULL);
}

static void column_build(SoffitQueueTable *self, QueueOrder order)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new();
  void *which = GINT_TO_POINTER(order);
  g_signal_connect(factory, "setup", G_CALLBACK(cell_setup), which);
  g_signal_connect(factory, "bind", G_CALLBACK(cell_bind), which);
  g_signal_connect(factory, "unbind", G_CALLBACK(cell_unbind), which);
  g_autoptr(GtkColumnViewColumn) column =
      gtk_column_view_column_new(_(queue_column_name(order)), factory);
  g_autoptr(GtkSorter) sorter =
      GTK_SORTER(gtk_custom_sorter_new(column_names_itself, column, NULL));
  g_object_set_data(G_OBJECT(column), COLUMN_KEY, which);
  g_object_set_data(G_OBJECT(column), "soffit-table", self);
  gtk_column_view_column_set_resizable(column, TRUE);
  gtk_column_view_column_set_sorter(column, sorter);
  gtk_column_view_append_column(GTK_COLUMN_VIEW(self->view), column);
  g_signal_connect_swapped(column, "notify::fixed-width", G_CALLBACK(columns_changed), self);
  g_signal_connect_swapped(column, "notify::visible", G_CALLBACK(columns_changed), self);
}

/* Enter, or two clicks. */
static void row_activated(GtkWidget *view, guint position, void *data)
{
  (void)position, (void)data;
  gtk_widget_activate_action(view, "review.open", NULL);
}

void queue_table_set_model(SoffitQueueTable *self, GtkSelectionModel *model)
{
  gtk_column_view_set_model(GTK_COLUMN_VIEW(self->view), model);
}

static void queue_table_dispose(GObject *object)
{
  SoffitQueueTable *self = SOFFIT_QUEUE_TABLE(object);
  if (self->keep) {
    g_clear_handle_id(&self->keep, g_source_remove);
    columns_keep(self);
  }
  self->showing = true;
  g_clear_pointer(&self->scroller, gtk_widget_unparent);
  g_clear_object(&self->queue);
  G_OBJECT_CLASS(queue_table_parent_class)->dispose(object);
}

static void queue_table_class_init(SoffitQueueTableClass *class)
{
  G_OBJECT_CLASS(class)->dispose = queue_table_dispose;
  gtk_widget_class_set_layout_manager_type(GTK_WIDGET_CLASS(class), GTK_TYPE_BIN_LAYOUT);
}

static void queue_table_init(SoffitQueueTable *self)
{
  gtk_widget_add_css_class(GTK_WIDGET(self), "queue-table");
  self->scroller = gtk_scrolled_window_new();
  self->view = gtk_column_view_new(NULL);
  gtk_column_view_set_reorderable(GTK_COLUMN_VIEW(self->view), TRUE);
  gtk_widget_add_css_class(queue_table_rows(self), "queue");
  spoken_name(self->view, _("Cases of the lab"));
  spoken_name(queue_table_rows(self), _("Cases of the lab"));
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(self->scroller), self->view);
  gtk_widget_set_parent(self->scroller, GTK_WIDGET(self));
  g_signal_connect(self->view, "activate", G_CALLBACK(row_activated), NULL);
}

GtkWidget *queue_table_new(SoffitQueue *queue)
{
  SoffitQueueTable *self = g_object_new(SOFFIT_TYPE_QUEUE_TABLE, NULL);
  self->queue = g_object_ref(queue);
  self->showing = true;
  for (QueueOrder order = ORDER_CASE; order < QUEUE_ORDERS; order++)
    column_build(self, order);
  self->showing = false;
  heads_make(self);
  g_signal_connect_object(queue_table_columns(self), "items-changed", G_CALLBACK(columns_changed),
                          self, G_CONNECT_SWAPPED);
  g_signal_connect_object(gtk_column_view_get_sorter(GTK_COLUMN_VIEW(self->view)), "changed",
                          G_CALLBACK(head_clicked), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(queue, "counted", G_CALLBACK(order_show), self, G_CONNECT_SWAPPED);
  order_show(self);
  return GTK_WIDGET(self);
}
