/* lab_desk_rows.c - listings and answers become the rows of the desk.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A listing tells which files there are and when they changed; what is new or changed is asked for;
 * each answer takes the place of the row before. */
#include "casefile/case_xml.h"
#include "ui/review/lab_desk_private.h"
#include <string.h>

#define KEEP_MS 10000 /* rows that came are on disk not later than this */

static void item_tell(SoffitLabDesk *desk, SoffitLabItem *item)
{
  lab_item_tell_changed(item);
  lab_desk_tell(desk, DESK_ROW_CHANGED, item);
}

static void duplicate_changed(guint index, void *data)
{
  SoffitLabDesk *desk = data;
  item_tell(desk, desk->item->pdata[index]);
}

/* Borrowed.  settled: without those that wait for another answer, by other thresholds perhaps. */
static GPtrArray *rows_of(const SoffitLabDesk *desk, bool settled)
{
  GPtrArray *rows = g_ptr_array_sized_new(desk->item->len);
  for (guint i = 0; i < desk->item->len; i++) {
    const SoffitLabItem *item = desk->item->pdata[i];
    if (!settled || !item->waits)
      g_ptr_array_add(rows, item->row);
  }
  return rows;
}

static void batch_end(SoffitLabDesk *desk)
{
  g_autoptr(GPtrArray) rows = rows_of(desk, false);
  lab_rows_mark_duplicates(rows, duplicate_changed, desk);
  lab_desk_tell(desk, DESK_PROGRESS, NULL);
}

void lab_desk_ask(SoffitLabDesk *desk, SoffitLabItem *item, LabStage stage, LabUrgency urgency)
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
      lab_desk_ask(desk, item, LAB_ASSESS, URGENCY_CHANGED);
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

/* ---- the cache ---- */

typedef struct {
  char *path;
  GBytes *packed;
} Kept;

static void *kept_write(void *data)
{
  Kept *kept = data;
  lab_cache_save(kept->path, kept->packed, NULL); /* without it the next start takes longer */
  g_free(kept->path);
  g_bytes_unref(kept->packed);
  g_free(kept);
  return NULL;
}

void lab_desk_keep(SoffitLabDesk *desk, bool wait)
{
  if (!desk->keep)
    return;
  g_clear_handle_id(&desk->keep, g_source_remove);
  g_autoptr(GPtrArray) rows = rows_of(desk, true);
  Kept *kept = g_new(Kept, 1);
  *kept = (Kept){g_strdup(desk->cache), lab_cache_pack(rows, lab_round_lab(desk->round))};
  if (wait)
    kept_write(kept);
  else
    g_thread_unref(g_thread_new("soffit-cache", kept_write, kept));
}

static gboolean keep_now(void *data)
{
  lab_desk_keep(data, false);
  return G_SOURCE_CONTINUE; /* taken away already */
}

static void keep_later(SoffitLabDesk *desk)
{
  if (desk->cache && !desk->keep)
    desk->keep = g_timeout_add(KEEP_MS, keep_now, desk);
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
    lab_desk_ask(desk, item, LAB_ASSESS,
                 desk->look && item->looked == desk->look ? URGENCY_SEEN : urgency_of(row));
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
  if (row->state == ROW_READY)
    keep_later(desk);
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

static void item_add(SoffitLabDesk *desk, const LabFile *file, GHashTable *kept)
{
  gint64 settle_us = desk->settings.settle_ms * (gint64)1000;
  SoffitLabItem *item = lab_item_new(file);
  LabRow *row = kept ? lab_cache_take(kept, file) : NULL;
  item->position = desk->item->len;
  if (desk->listed || ABS(g_get_real_time() - file->changed_us) < settle_us)
    item->moved_us = g_get_monotonic_time();
  g_ptr_array_add(desk->item, item);
  g_hash_table_insert(desk->by_file, item->file, item);
  if (row)
    lab_item_set(item, row);
  else if (desk->listed)
    lab_desk_ask(desk, item, LAB_ASSESS, URGENCY_CHANGED);
  else
    lab_desk_ask(desk, item, LAB_READ, URGENCY_READ);
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
    lab_desk_ask(desk, item, LAB_ASSESS, URGENCY_CHANGED);
  } else if (all || (item->again && !item->waits))
    lab_desk_ask(desk, item, LAB_ASSESS, urgency_of(item->row));
}

/* all: ask for every file anew. */
static void list_take(SoffitLabDesk *desk, const LabList *list, GHashTable *kept, bool all)
{
  items_remove(desk, list);
  guint before = desk->item->len;
  for (guint i = 0; i < list->file->len; i++) {
    const LabFile *file = &g_array_index(list->file, LabFile, i);
    SoffitLabItem *item = g_hash_table_lookup(desk->by_file, file->name);
    if (item)
      item_see(desk, item, file, all);
    else
      item_add(desk, file, kept);
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

void lab_desk_see(LabSight *sight, void *data)
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
    lab_desk_keep(desk, false); /* by the thresholds that they were judged by */
    lab_round_free(desk->round);
    desk->round =
        lab_round_new(g_steal_pointer(&sight->lab), desk->settings.threads, answers_take, desk);
    trouble_set(&desk->lab_trouble, sight->lab_trouble);
  }
  desk_set_away(desk, away);
  if (!away)
    list_take(desk, sight->list, sight->kept, all);
  if (told || settings || away != was_away)
    lab_desk_tell(desk, DESK_STATE_CHANGED, NULL);
  batch_end(desk);
  g_object_unref(desk);
}
