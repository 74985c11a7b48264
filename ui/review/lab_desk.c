/* lab_desk.c - see lab_desk.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/lab_desk.h"
#include "ui/review/lab_desk_private.h"

static void desk_model_init(GListModelInterface *model);
G_DEFINE_FINAL_TYPE_WITH_CODE(SoffitLabDesk, lab_desk, G_TYPE_OBJECT,
                              G_IMPLEMENT_INTERFACE(G_TYPE_LIST_MODEL, desk_model_init))

static guint signals[DESK_STATE_CHANGED + 1];

void lab_desk_tell(SoffitLabDesk *desk, DeskSignal signal, SoffitLabItem *item)
{
  if (signal == DESK_ROW_CHANGED)
    g_signal_emit(desk, signals[signal], 0, item);
  else
    g_signal_emit(desk, signals[signal], 0);
}

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
  if (!desk->cache_dir || *desk->cache_dir)
    desk->cache = lab_cache_path(desk->cache_dir, folder);
  desk->watch = lab_watch_new(folder, desk->cache, desk->settings.monitor, desk->settings.poll_ms,
                              lab_desk_see, desk);
  lab_desk_tell(desk, DESK_STATE_CHANGED, NULL);
}

static void desk_clear(SoffitLabDesk *desk)
{
  lab_desk_keep(desk, true);
  g_clear_pointer(&desk->watch, lab_watch_free);
  g_clear_pointer(&desk->round, lab_round_free);
  g_clear_handle_id(&desk->settle, g_source_remove);
  g_hash_table_remove_all(desk->by_file);
  g_clear_pointer(&desk->trouble, g_free);
  g_clear_pointer(&desk->lab_trouble, g_free);
  g_clear_pointer(&desk->folder, g_free);
  g_clear_pointer(&desk->cache, g_free);
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
  lab_desk_tell(desk, DESK_STATE_CHANGED, NULL);
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
  desk->look++;
  for (size_t i = 0; i < n && desk->round; i++) {
    SoffitLabItem *item = lab_desk_find(desk, file[i]);
    if (!item)
      continue;
    item->looked = desk->look; /* what it is read for comes as soon */
    if (item->waits)
      lab_pool_hurry(lab_round_pool(desk->round), file[i], URGENCY_SEEN);
  }
}

void lab_desk_written(SoffitLabDesk *desk, const char *file)
{
  SoffitLabItem *item = lab_desk_find(desk, file);
  if (item)
    lab_desk_ask(desk, item, LAB_ASSESS, URGENCY_SEEN);
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
  signals[DESK_ROW_CHANGED] = g_signal_new("row-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                           NULL, G_TYPE_NONE, 1, SOFFIT_TYPE_LAB_ITEM);
  signals[DESK_PROGRESS] =
      g_signal_new("progress", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[DESK_STATE_CHANGED] =
      g_signal_new("state-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void lab_desk_init(SoffitLabDesk *desk)
{
  desk->item = g_ptr_array_new_with_free_func(g_object_unref);
  desk->by_file = g_hash_table_new(g_str_hash, g_str_equal);
}
