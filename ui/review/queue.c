/* queue.c - see queue.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/queue.h"
#include "ui/review/row_words.h"
#include <string.h>

struct _SoffitQueue {
  GObject parent;
  SoffitLabDesk *desk; /* owned ref */
  QueueView view;
  GPtrArray *shown;   /* SoffitLabItem, owned refs, in order */
  GHashTable *hidden; /* file names -> reading that was there when it was hidden */
  guint count[QUEUE_FACETS], waiting;
  gint64 cost_us, made_us; /* of the last making, and when it was over */
  guint later;             /* source */
};

static void queue_model_init(GListModelInterface *model);
G_DEFINE_FINAL_TYPE_WITH_CODE(SoffitQueue, queue, G_TYPE_OBJECT,
                              G_IMPLEMENT_INTERFACE(G_TYPE_LIST_MODEL, queue_model_init))

static guint counted;

/* ---- model ---- */

static GType model_type(GListModel *model)
{
  (void)model;
  return SOFFIT_TYPE_LAB_ITEM;
}

static guint model_n(GListModel *model)
{
  return SOFFIT_QUEUE(model)->shown->len;
}

static void *model_item(GListModel *model, guint position)
{
  const GPtrArray *shown = SOFFIT_QUEUE(model)->shown;
  return position < shown->len ? g_object_ref(shown->pdata[position]) : NULL;
}

static void queue_model_init(GListModelInterface *model)
{
  model->get_item_type = model_type;
  model->get_n_items = model_n;
  model->get_item = model_item;
}

static int item_compare(const void *a, const void *b, void *data)
{
  const SoffitQueue *self = data;
  return row_compare(lab_item_row(*(SoffitLabItem *const *)a),
                     lab_item_row(*(SoffitLabItem *const *)b), self->view.order,
                     self->view.reversed);
}

/* Hidden until it has been read anew. */
static bool item_hidden(SoffitQueue *self, const LabRow *row)
{
  const gint64 *seen = g_hash_table_lookup(self->hidden, row->file);
  if (!seen)
    return false;
  if (*seen == row->read_us)
    return true;
  g_hash_table_remove(self->hidden, row->file);
  return false;
}

/* The new order takes the place of the old one; alike ends are left alone. */
static void shown_replace(SoffitQueue *self, GPtrArray *fresh)
{
  GPtrArray *old = self->shown;
  guint head = 0, tail = 0, least = MIN(old->len, fresh->len);
  while (head < least && old->pdata[head] == fresh->pdata[head])
    head++;
  while (tail < least - head &&
         old->pdata[old->len - 1 - tail] == fresh->pdata[fresh->len - 1 - tail])
    tail++;
  guint removed = old->len - head - tail, added = fresh->len - head - tail;
  self->shown = fresh;
  if (removed || added)
    g_list_model_items_changed(G_LIST_MODEL(self), head, removed, added);
  g_ptr_array_unref(old);
}

static void queue_make(SoffitQueue *self)
{
  GListModel *all = G_LIST_MODEL(self->desk);
  GPtrArray *fresh = g_ptr_array_new_with_free_func(g_object_unref);
  guint n = g_list_model_get_n_items(all);
  gint64 start = g_get_monotonic_time();
  memset(self->count, 0, sizeof self->count);
  self->waiting = 0;
  for (guint i = 0; i < n; i++) {
    g_autoptr(SoffitLabItem) item = g_list_model_get_item(all, i);
    const LabRow *row = lab_item_row(item);
    bool waits = row_waits(row);
    if (item_hidden(self, row))
      continue;
    self->waiting += waits;
    if ((self->view.waiting && !waits) || !row_has_words(row, self->view.words))
      continue;
    for (QueueFacet facet = QUEUE_ALL; facet < QUEUE_FACETS; facet++)
      self->count[facet] += row_in_facet(row, facet);
    if (row_in_facet(row, self->view.facet))
      g_ptr_array_add(fresh, g_steal_pointer(&item));
  }
  g_ptr_array_sort_with_data(fresh, item_compare, self);
  shown_replace(self, fresh);
  g_signal_emit(self, counted, 0);
  self->made_us = g_get_monotonic_time();
  self->cost_us = self->made_us - start;
}

static gboolean queue_make_later(void *data)
{
  SoffitQueue *self = data;
  self->later = 0;
  queue_make(self);
  return G_SOURCE_REMOVE;
}

#define DEAR_US 5000 /* a making that takes longer ... */
#define SHARE 20     /* ... takes no more than one part in so many of the time */

/* Rows come in by the hundred a second while a large lab is judged: hands go first. */
static void queue_progress(SoffitQueue *self)
{
  gint64 rest_us = self->cost_us * SHARE - (g_get_monotonic_time() - self->made_us);
  if (self->cost_us < DEAR_US || rest_us <= 0)
    queue_make(self);
  else if (!self->later)
    self->later = g_timeout_add((guint)(rest_us / 1000 + 1), queue_make_later, self);
}

const QueueView *queue_view(SoffitQueue *self)
{
  return &self->view;
}

void queue_set_view(SoffitQueue *self, const QueueView *view)
{
  char *words = g_strdup(view->words);
  g_free(self->view.words);
  self->view = *view;
  self->view.words = words;
  queue_make(self);
}

/* Those that the menu of a column may offer, and how many rows each would show. */
static int value_order(const void *a, const void *b)
{
  const QueueValue *const *x = a, *const *y = b;
  return g_utf8_collate((*x)->text, (*y)->text);
}

GPtrArray *queue_values(SoffitQueue *self, QueueOrder column)
{
  GListModel *all = G_LIST_MODEL(self->desk);
  GPtrArray *value = g_ptr_array_new_with_free_func(queue_value_free);
  g_autoptr(GHashTable) by_text = g_hash_table_new(g_str_hash, g_str_equal);
  g_autofree char *words = queue_words_set(self->view.words, column, NULL);
  for (guint i = 0, n = g_list_model_get_n_items(all); i < n; i++) {
    g_autoptr(SoffitLabItem) item = g_list_model_get_item(all, i);
    const LabRow *row = lab_item_row(item);
    if ((self->view.waiting && !row_waits(row)) || !row_in_facet(row, self->view.facet) ||
        item_hidden(self, row) || !row_has_words(row, words))
      continue;
    g_autofree char *text = row_words_cell(row, column, 0);
    QueueValue *one = g_hash_table_lookup(by_text, text);
    if (!*text)
      continue;
    if (!one) {
      one = g_new0(QueueValue, 1);
      one->text = g_steal_pointer(&text);
      g_ptr_array_add(value, one);
      g_hash_table_insert(by_text, one->text, one);
    }
    one->rows++;
  }
  g_ptr_array_sort(value, value_order);
  return value;
}

guint queue_count(SoffitQueue *self, QueueFacet facet)
{
  return self->count[facet];
}

guint queue_waiting(SoffitQueue *self)
{
  return self->waiting;
}

guint queue_position(SoffitQueue *self, const char *file)
{
  for (guint i = 0; i < self->shown->len; i++)
    if (strcmp(lab_item_row(self->shown->pdata[i])->file, file) == 0)
      return i;
  return G_MAXUINT;
}

void queue_hide(SoffitQueue *self, const char *file, bool hidden)
{
  SoffitLabItem *item = lab_desk_find(self->desk, file);
  if (hidden && item) {
    gint64 seen = lab_item_row(item)->read_us;
    g_hash_table_insert(self->hidden, g_strdup(file), g_memdup2(&seen, sizeof seen));
  } else
    g_hash_table_remove(self->hidden, file);
  queue_make(self);
}

static void queue_dispose(GObject *object)
{
  SoffitQueue *self = SOFFIT_QUEUE(object);
  g_clear_handle_id(&self->later, g_source_remove);
  if (self->desk)
    g_signal_handlers_disconnect_by_data(self->desk, self);
  g_clear_object(&self->desk);
  G_OBJECT_CLASS(queue_parent_class)->dispose(object);
}

static void queue_finalize(GObject *object)
{
  SoffitQueue *self = SOFFIT_QUEUE(object);
  g_ptr_array_unref(self->shown);
  g_hash_table_unref(self->hidden);
  g_free(self->view.words);
  G_OBJECT_CLASS(queue_parent_class)->finalize(object);
}

static void queue_class_init(SoffitQueueClass *class)
{
  G_OBJECT_CLASS(class)->dispose = queue_dispose;
  G_OBJECT_CLASS(class)->finalize = queue_finalize;
  counted = g_signal_new("counted", G_TYPE_FROM_CLASS(class), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                         NULL, G_TYPE_NONE, 0);
}

static void queue_init(SoffitQueue *self)
{
  self->view = (QueueView){.waiting = true};
  self->shown = g_ptr_array_new_with_free_func(g_object_unref);
  self->hidden = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
}

SoffitQueue *queue_new(SoffitLabDesk *desk)
{
  SoffitQueue *self = g_object_new(SOFFIT_TYPE_QUEUE, NULL);
  self->desk = g_object_ref(desk);
  g_signal_connect_swapped(desk, "items-changed", G_CALLBACK(queue_make), self);
  g_signal_connect_swapped(desk, "progress", G_CALLBACK(queue_progress), self);
  queue_make(self);
  return self;
}
