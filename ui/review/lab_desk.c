/* lab_desk.c - see lab_desk.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A listing tells which files there are and when they changed (lab_watch.h); what is new or changed
 * is asked for (lab_round.h); each answer takes the place of the row before. */
#include "ui/review/lab_desk.h"
#include "casefile/case_xml.h"
#include "ui/review/lab_desk_private.h"
#include "ui/review/lab_round.h"
#include "ui/review/lab_watch.h"
#include <string.h>

struct _SoffitLabDesk {
  GObject parent;
  LabDeskSettings settings;
  char *cache_dir; /* owned; settings.cache_dir is not used */
  char *folder;    /* NULL = none */
  LabWatch *watch;
  LabRound *round; /* NULL until the folder was seen first */
  GPtrArray *item; /* SoffitLabItem, owned, in the order of the model */
  GHashTable *by_file;
  char *trouble, *lab_trouble; /* of the folder, of its settings; NULL */
  guint64 device;              /* where the folder lay when it was seen last */
  bool listed, away;
  guint settle; /* source: look again at what may have been half copied */
};

static void desk_model_init(GListModelInterface *model);
G_DEFINE_FINAL_TYPE_WITH_CODE(SoffitLabDesk, lab_desk, G_TYPE_OBJECT,
                              G_IMPLEMENT_INTERFACE(G_TYPE_LIST_MODEL, desk_model_init))

enum { ROW_CHANGED, PROGRESS, STATE_CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* ---- model ---- */

static GType model_type(GListModel *model)
{
  (void)model;
  return SOFFIT_TYPE_LAB_ITEM;
}

static guint model_n(GListModel *model)
{
  return SOFFIT_LAB_DESK(model)->item->len;
}

static void *model_item(GListModel *model, guint position)
{
  const GPtrArray *item = SOFFIT_LAB_DESK(model)->item;
  return position < item->len ? g_object_ref(item->pdata[position]) : NULL;
}

static void desk_model_init(GListModelInterface *model)
{
  model->get_item_type = model_type;
  model->get_n_items = model_n;
  model->get_item = model_item;
}

/* ---- rows ---- */

static void item_tell(SoffitLabDesk *desk, SoffitLabItem *item)
{
  lab_item_tell_changed(item);
  g_signal_emit(desk, signals[ROW_CHANGED], 0, item);
}

static void duplicate_changed(guint index, void *data)
{
  SoffitLabDesk *desk = data;
  item_tell(desk, desk->item->pdata[index]);
}

static void batch_end(SoffitLabDesk *desk)
{
  g_autoptr(GPtrArray) rows = g_ptr_array_sized_new(desk->item->len);
  for (guint i = 0; i < desk->item->len; i++)
    g_ptr_array_add(rows, ((SoffitLabItem *)desk->item->pdata[i])->row);
  lab_rows_mark_duplicates(rows, duplicate_changed, desk);
  g_signal_emit(desk, signals[PROGRESS], 0);
}

static void item_ask(SoffitLabDesk *desk, SoffitLabItem *item, LabStage stage, LabUrgency urgency)
{
  item->asked = lab_pool_ask(lab_round_pool(desk->round), item->file, stage, urgency);
  item->waits = true;
  item->again = false;
}

static bool item_moves(const SoffitLabDesk *desk, const SoffitLabItem *item)
{
  return item->moved_us &&
         g_get_monotonic_time() - item->moved_us < desk->settings.settle_ms * (gint64)1000;
}

/* No whole XML while it still changes: half copied. */
static bool item_growing(const SoffitLabDesk *desk, const SoffitLabItem *item, const LabRow *row)
{
  return row->unread_code == CASE_ERROR_NOT_XML && item_moves(desk, item);
}

/* ---- what may have been half copied ---- */

static void settle_start(SoffitLabDesk *desk);

static gboolean settle_look(void *data)
{
  SoffitLabDesk *desk = data;
  bool more = false;
  desk->settle = 0;
  for (guint i = 0; i < desk->item->len; i++) {
    SoffitLabItem *item = desk->item->pdata[i];
    if (!(item->row->troubles & TROUBLE_GROWING))
      continue;
    more = true;
    if (!item_moves(desk, item) && !item->waits && !desk->away)
      item_ask(desk, item, LAB_ASSESS, URGENCY_CHANGED);
  }
  if (more)
    settle_start(desk);
  return G_SOURCE_REMOVE;
}

static void settle_start(SoffitLabDesk *desk)
{
  if (!desk->settle)
    desk->settle = g_timeout_add(MAX(desk->settings.settle_ms / 4, 10), settle_look, desk);
}

/* ---- answers ---- */

static LabUrgency urgency_of(const LabRow *row)
{
  switch (row->standing) {
  case STANDING_WAITS:
  case STANDING_REOPENED:
    return URGENCY_WAITS;
  case STANDING_DRAWN:
    return URGENCY_DRAWN;
  default:
    return URGENCY_DECIDED;
  }
}

/* Takes the row over. */
static void item_take(SoffitLabDesk *desk, SoffitLabItem *item, LabRow *row)
{
  bool unopened = row->unread_code == CASE_ERROR_OPEN;
  item->waits = false;
  item->again = unopened;
  if (unopened && row->changed_us == 0) { /* gone: the next listing tells whether it or all is */
    lab_row_free(row);
    lab_watch_look(desk->watch);
    return;
  }
  if (row->state == ROW_READ)
    item_ask(desk, item, LAB_ASSESS, urgency_of(row));
  if (item_growing(desk, item, row)) {
    row->troubles |= TROUBLE_GROWING;
    settle_start(desk);
  }
  row->troubles |= desk->away ? TROUBLE_AWAY : 0;
  row->troubles |= item->row->troubles & TROUBLE_DUPLICATE; /* until all are compared */
  g_free(row->twin);
  row->twin = g_strdup(item->row->twin);
  lab_row_tell(row);
  bool same =
      unopened && item->row->state == row->state && strcmp(item->row->trouble, row->trouble) == 0;
  lab_item_set(item, row);
  if (!same)
    item_tell(desk, item);
}

static void answers_take(GArray *answers, void *data)
{
  SoffitLabDesk *desk = data;
  g_object_ref(desk);
  for (guint i = 0; i < answers->len; i++) {
    LabAnswer *answer = &g_array_index(answers, LabAnswer, i);
    SoffitLabItem *item = g_hash_table_lookup(desk->by_file, answer->row->file);
    if (item && item->asked == answer->number) /* else it was asked again, or has gone */
      item_take(desk, item, g_steal_pointer(&answer->row));
  }
  batch_end(desk);
  g_object_unref(desk);
}

/* ---- listings ---- */

static void desk_set_away(SoffitLabDesk *desk, bool away)
{
  if (desk->away == away)
    return;
  desk->away = away;
  for (guint i = 0; i < desk->item->len; i++) {
    SoffitLabItem *item = desk->item->pdata[i];
    item->row->troubles = (item->row->troubles & ~(guint)TROUBLE_AWAY) | (away ? TROUBLE_AWAY : 0);
    lab_row_tell(item->row);
    item_tell(desk, item);
  }
}

/* Those that are in no listing any more go. */
static void items_remove(SoffitLabDesk *desk, const LabList *list)
{
  g_autoptr(GHashTable) there = g_hash_table_new(g_str_hash, g_str_equal);
  for (guint i = 0; i < list->file->len; i++)
    g_hash_table_add(there, g_array_index(list->file, LabFile, i).name);
  for (guint i = desk->item->len; i-- > 0;) {
    SoffitLabItem *item = desk->item->pdata[i];
    if (g_hash_table_contains(there, item->file))
      continue;
    guint n = 1; /* neighbours go together */
    while (i > 0 &&
           !g_hash_table_contains(there, ((SoffitLabItem *)desk->item->pdata[i - 1])->file))
      i--, n++;
    for (guint k = i; k < i + n; k++) {
      const char *file = ((SoffitLabItem *)desk->item->pdata[k])->file;
      lab_pool_forget(lab_round_pool(desk->round), file);
      g_hash_table_remove(desk->by_file, file);
    }
    g_ptr_array_remove_range(desk->item, i, n);
    g_list_model_items_changed(G_LIST_MODEL(desk), i, n, 0);
  }
  for (guint i = 0; i < desk->item->len; i++)
    ((SoffitLabItem *)desk->item->pdata[i])->position = i;
}

static void item_add(SoffitLabDesk *desk, const LabFile *file)
{
  gint64 settle_us = desk->settings.settle_ms * (gint64)1000;
  SoffitLabItem *item = lab_item_new(file);
  item->position = desk->item->len;
  if (desk->listed || ABS(g_get_real_time() - file->changed_us) < settle_us)
    item->moved_us = g_get_monotonic_time();
  g_ptr_array_add(desk->item, item);
  g_hash_table_insert(desk->by_file, item->file, item);
  if (desk->listed)
    item_ask(desk, item, LAB_ASSESS, URGENCY_CHANGED);
  else
    item_ask(desk, item, LAB_READ, URGENCY_READ);
}

static void item_see(SoffitLabDesk *desk, SoffitLabItem *item, const LabFile *file, bool all)
{
  bool moved =
      item->changed_us != file->changed_us || item->size != file->size || item->node != file->node;
  if (moved) {
    item->changed_us = file->changed_us;
    item->size = file->size;
    item->node = file->node;
    item->moved_us = g_get_monotonic_time();
    item_ask(desk, item, LAB_ASSESS, URGENCY_CHANGED);
  } else if (all || (item->again && !item->waits))
    item_ask(desk, item, LAB_ASSESS, urgency_of(item->row));
}

/* all: ask for every file anew. */
static void list_take(SoffitLabDesk *desk, const LabList *list, bool all)
{
  items_remove(desk, list);
  guint before = desk->item->len;
  for (guint i = 0; i < list->file->len; i++) {
    const LabFile *file = &g_array_index(list->file, LabFile, i);
    SoffitLabItem *item = g_hash_table_lookup(desk->by_file, file->name);
    if (item)
      item_see(desk, item, file, all);
    else
      item_add(desk, file);
  }
  if (desk->item->len > before)
    g_list_model_items_changed(G_LIST_MODEL(desk), before, 0, desk->item->len - before);
  desk->device = list->device;
  desk->listed = true;
}

static void trouble_set(char **trouble, const char *to)
{
  g_free(*trouble);
  *trouble = g_strdup(to);
}

/* A mount that went leaves an empty folder on another device. */
static bool sight_away(const SoffitLabDesk *desk, const LabSight *sight)
{
  return !sight->list || (desk->item->len > 0 && sight->list->file->len == 0 &&
                          sight->list->device != desk->device);
}

static void sight_take(LabSight *sight, void *data)
{
  SoffitLabDesk *desk = data;
  g_object_ref(desk);
  bool away = sight_away(desk, sight), was_away = desk->away, all = false;
  bool told = g_strcmp0(desk->trouble, sight->trouble) != 0 || !desk->listed;
  bool settings = sight->lab && (!desk->round || !away);
  trouble_set(&desk->trouble,
              away && !sight->trouble
                  ? g_dgettext("soffit", N_("The folder is empty and lies elsewhere: "
                                            "the share seems to be away. Rows are "
                                            "shown as last seen."))
                  : sight->trouble);
  if (settings) {
    all = desk->round != NULL;
    lab_round_free(desk->round);
    desk->round =
        lab_round_new(g_steal_pointer(&sight->lab), desk->settings.threads, answers_take, desk);
    trouble_set(&desk->lab_trouble, sight->lab_trouble);
  }
  desk_set_away(desk, away);
  if (!away)
    list_take(desk, sight->list, all);
  if (told || settings || away != was_away)
    g_signal_emit(desk, signals[STATE_CHANGED], 0);
  batch_end(desk);
  g_object_unref(desk);
}

/* ---- the desk ---- */

LabDeskSettings lab_desk_settings_default(void)
{
  return (LabDeskSettings){.monitor = true, .poll_ms = 3000, .settle_ms = 4000};
}

SoffitLabDesk *lab_desk_new(const LabDeskSettings *settings)
{
  SoffitLabDesk *desk = g_object_new(SOFFIT_TYPE_LAB_DESK, NULL);
  desk->settings = settings ? *settings : lab_desk_settings_default();
  desk->cache_dir = g_strdup(desk->settings.cache_dir);
  return desk;
}

void lab_desk_open(SoffitLabDesk *desk, const char *folder)
{
  lab_desk_close(desk);
  desk->folder = g_strdup(folder);
  desk->watch =
      lab_watch_new(folder, desk->settings.monitor, desk->settings.poll_ms, sight_take, desk);
  g_signal_emit(desk, signals[STATE_CHANGED], 0);
}

static void desk_clear(SoffitLabDesk *desk)
{
  g_clear_pointer(&desk->watch, lab_watch_free);
  g_clear_pointer(&desk->round, lab_round_free);
  g_clear_handle_id(&desk->settle, g_source_remove);
  g_hash_table_remove_all(desk->by_file);
  g_clear_pointer(&desk->trouble, g_free);
  g_clear_pointer(&desk->lab_trouble, g_free);
  g_clear_pointer(&desk->folder, g_free);
  desk->listed = desk->away = false;
}

void lab_desk_close(SoffitLabDesk *desk)
{
  if (!desk->folder)
    return;
  desk_clear(desk);
  guint n = desk->item->len;
  g_ptr_array_set_size(desk->item, 0);
  g_list_model_items_changed(G_LIST_MODEL(desk), 0, n, 0);
  g_signal_emit(desk, signals[STATE_CHANGED], 0);
}

const char *lab_desk_folder(SoffitLabDesk *desk)
{
  return desk->folder;
}

const Lab *lab_desk_lab(SoffitLabDesk *desk)
{
  return desk->round ? lab_round_lab(desk->round) : NULL;
}

const char *lab_desk_trouble(SoffitLabDesk *desk)
{
  return desk->trouble ? desk->trouble : desk->lab_trouble;
}

bool lab_desk_away(SoffitLabDesk *desk)
{
  return desk->away;
}

LabProgress lab_desk_progress(SoffitLabDesk *desk)
{
  LabProgress progress = {.files = desk->item->len, .listed = desk->listed, .over = desk->listed};
  for (guint i = 0; i < desk->item->len; i++) {
    const SoffitLabItem *item = desk->item->pdata[i];
    RowState state = item->row->state;
    progress.read += state == ROW_READ || state == ROW_READY;
    progress.ready += state == ROW_READY;
    progress.unreadable += state == ROW_UNREADABLE;
    progress.over = progress.over && !item->waits;
  }
  return progress;
}

SoffitLabItem *lab_desk_find(SoffitLabDesk *desk, const char *file)
{
  return g_hash_table_lookup(desk->by_file, file);
}

void lab_desk_look_at(SoffitLabDesk *desk, const char *const file[], size_t n)
{
  for (size_t i = 0; i < n && desk->round; i++) {
    SoffitLabItem *item = lab_desk_find(desk, file[i]);
    if (item && item->waits)
      lab_pool_hurry(lab_round_pool(desk->round), file[i], URGENCY_SEEN);
  }
}

void lab_desk_written(SoffitLabDesk *desk, const char *file)
{
  SoffitLabItem *item = lab_desk_find(desk, file);
  if (item)
    item_ask(desk, item, LAB_ASSESS, URGENCY_SEEN);
  lab_desk_rescan(desk);
}

void lab_desk_rescan(SoffitLabDesk *desk)
{
  if (desk->watch)
    lab_watch_look(desk->watch);
}

bool lab_desk_set_limits(SoffitLabDesk *desk, const VerdictLimits *limits, const Person *by,
                         GError **error)
{
  bool set = lab_settings_set_limits(desk->folder, limits, by, g_get_real_time(), error);
  lab_desk_rescan(desk);
  return set;
}

static void lab_desk_finalize(GObject *object)
{
  SoffitLabDesk *desk = SOFFIT_LAB_DESK(object);
  desk_clear(desk);
  g_ptr_array_unref(desk->item);
  g_hash_table_unref(desk->by_file);
  g_free(desk->cache_dir);
  G_OBJECT_CLASS(lab_desk_parent_class)->finalize(object);
}

static void lab_desk_class_init(SoffitLabDeskClass *class)
{
  GType type = G_TYPE_FROM_CLASS(class);
  G_OBJECT_CLASS(class)->finalize = lab_desk_finalize;
  signals[ROW_CHANGED] = g_signal_new("row-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                      G_TYPE_NONE, 1, SOFFIT_TYPE_LAB_ITEM);
  signals[PROGRESS] =
      g_signal_new("progress", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[STATE_CHANGED] =
      g_signal_new("state-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void lab_desk_init(SoffitLabDesk *desk)
{
  desk->item = g_ptr_array_new_with_free_func(g_object_unref);
  desk->by_file = g_hash_table_new(g_str_hash, g_str_equal);
}
