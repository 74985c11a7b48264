/* review_decide.c - the desk's other half: what is about to be said of a case, and the decisions.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/person_profile.h"
#include "ui/review/decide.h"
#include "ui/review/review_desk_private.h"
#include "ui/review/row_words.h"
#include "ui/words.h"
#include <string.h>

/* What is about to be said of a case; kept while others are looked at. */
typedef struct {
  GPtrArray *remark;
  char *words;
} Draft;

static void draft_free(void *data)
{
  Draft *draft = data;
  g_ptr_array_unref(draft->remark);
  g_free(draft->words);
  g_free(draft);
}

static Draft *draft_new(void)
{
  Draft *draft = g_new0(Draft, 1);
  draft->remark = g_ptr_array_new_with_free_func(remark_free);
  draft->words = g_strdup("");
  return draft;
}

GHashTable *review_drafts_new(void)
{
  return g_hash_table_new_full(g_str_hash, g_str_equal, g_free, draft_free);
}

/* ---- what is about to be said ---- */

static Draft *draft_at_hand(SoffitReviewDesk *self)
{
  Draft *draft = g_hash_table_lookup(self->draft, self->file ? self->file : "");
  if (!draft) {
    draft = draft_new();
    g_hash_table_insert(self->draft, g_strdup(self->file ? self->file : ""), draft);
  }
  return draft;
}

const GPtrArray *review_desk_remarks(SoffitReviewDesk *self)
{
  return draft_at_hand(self)->remark;
}

void review_desk_pin(SoffitReviewDesk *self, size_t connector, Point at, const char *text)
{
  Remark *remark = remark_new();
  remark->connector = connector;
  remark->at = at;
  g_free(remark->text);
  remark->text = g_strdup(text);
  g_ptr_array_add(draft_at_hand(self)->remark, remark);
  self->chosen = true;
  review_desk_drafted(self);
}

void review_desk_move(SoffitReviewDesk *self, guint remark, Point at)
{
  GPtrArray *all = draft_at_hand(self)->remark;
  if (remark < all->len && point_finite(at))
    ((Remark *)all->pdata[remark])->at = at;
  self->chosen = true;
  review_desk_drafted(self);
}

void review_desk_unpin(SoffitReviewDesk *self, guint remark)
{
  GPtrArray *all = draft_at_hand(self)->remark;
  if (remark < all->len)
    g_ptr_array_remove_index(all, remark);
  review_desk_drafted(self);
}

const char *review_desk_words(SoffitReviewDesk *self)
{
  return draft_at_hand(self)->words;
}

void review_desk_set_words(SoffitReviewDesk *self, const char *words)
{
  Draft *draft = draft_at_hand(self);
  char *own = g_strdup(words);
  g_free(draft->words);
  draft->words = own;
  self->chosen = true;
  review_desk_drafted(self);
}

/* ---- decisions ---- */

guint review_desk_stops(SoffitReviewDesk *self)
{
  const Evidence *e = self->evidence;
  const LabRow *row = review_desk_row(self);
  guint stops = 0;
  if (!e || !e->a)
    return row ? row->stops : 0;
  for (guint i = 0; i < e->a->fired->len; i++)
    stops += g_array_index(e->a->fired, FiredRule, i).rule->severity == SEVERITY_STOP;
  return stops;
}

static bool words_there(const Draft *draft)
{
  return draft->words[strspn(draft->words, " \n\t")] != '\0';
}

bool review_desk_lacks_words(SoffitReviewDesk *self, EntryKind kind)
{
  const Draft *draft = draft_at_hand(self);
  bool needed = kind == ENTRY_RETURN ? draft->remark->len == 0
                : kind == ENTRY_PASS ? review_desk_stops(self) > 0
                                     : true;
  return needed && !words_there(draft);
}

/* "MC-00012 returned." */
static char *decided_words(EntryKind kind, const char *number)
{
  switch (kind) {
  case ENTRY_PASS:
    return g_strdup_printf(_("%s passed."), number);
  case ENTRY_RETURN:
    return g_strdup_printf(_("%s returned."), number);
  default:
    return g_strdup_printf(_("%s waits on."), number);
  }
}

static char *number_of(SoffitReviewDesk *self, const char *file)
{
  SoffitLabItem *item = lab_desk_find(self->lab, file);
  return item ? row_words_case(lab_item_row(item)) : g_filename_display_name(file);
}

static void decision_done(const Decision *d, DecideOutcome outcome, const char *said, void *data)
{
  SoffitReviewDesk *self = data;
  g_autofree char *number = number_of(self, d->file);
  self->writing--;
  if (outcome == DECIDED) {
    g_hash_table_remove(self->draft, d->file);
    lab_desk_written(self->lab, d->file);
    g_free(self->last);
    self->last = g_strdup(d->file);
    g_autofree char *words = decided_words(d->kind, number);
    g_autofree char *all =
        said && *said ? g_strdup_printf(_("%s Not signed: %s"), words, said) : g_strdup(words);
    review_desk_tell(self, all, false);
    return;
  }
  queue_hide(self->queue, d->file, false);
  review_desk_select(self, d->file);
  if (outcome == DECIDE_CHANGED)
    lab_desk_rescan(self->lab);
  if (outcome == DECIDE_HELD) {
    self->refused = g_strdup(d->file);
    self->refused_kind = d->kind;
  }
  g_autofree char *text = g_strdup_printf("%s: %s", number, said);
  review_desk_tell(self, text, true);
}

/* A decision on the case at hand, without what was said of it. */
static Decision *decision_new(SoffitReviewDesk *self, const char *file, EntryKind kind,
                              const char *reason)
{
  Decision *d = g_new0(Decision, 1);
  d->folder = g_strdup(lab_desk_folder(self->lab));
  d->file = g_strdup(file);
  d->kind = kind;
  d->reason = g_strdup(reason);
  d->limits = verdict_limits_default();
  d->remark = g_ptr_array_new_with_free_func(remark_free);
  d->by = person_profile();
  return d;
}

/* A return by remarks alone says how many. */
static char *reason_of(const Draft *draft)
{
  if (words_there(draft))
    return g_strstrip(g_strdup(draft->words));
  guint n = draft->remark->len;
  return n ? g_strdup_printf(words_plural("%u remark on the sketch", "%u remarks on the sketch", n),
                             n)
           : g_strdup("");
}

static bool decide_now(SoffitReviewDesk *self, EntryKind kind, bool take_over)
{
  const Evidence *e = self->evidence;
  Draft *draft = draft_at_hand(self);
  if (!e || e->unread) {
    review_desk_tell(self,
                     e ? _("There is nothing to decide on: the case cannot be read.")
                       : _("The case is still being read."),
                     true);
    return false;
  }
  if (review_desk_lacks_words(self, kind))
    return false;
  g_autofree char *reason = reason_of(draft);
  Decision *d = decision_new(self, self->file, kind, reason);
  g_strlcpy(d->seen, e->seen, sizeof d->seen);
  d->limits = e->limits;
  d->stops = review_desk_stops(self);
  d->take_over = take_over;
  for (guint i = 0; kind != ENTRY_PASS && i < draft->remark->len; i++)
    g_ptr_array_add(d->remark, remark_copy(draft->remark->pdata[i]));
  g_clear_pointer(&self->refused, g_free);
  self->writing++;
  self->chosen = true; /* the one that follows stays, whatever moves */
  decision_write(d, G_OBJECT(self), decision_done, self);
  queue_hide(self->queue, d->file, true);
  return true;
}

bool review_desk_decide(SoffitReviewDesk *self, EntryKind kind)
{
  return decide_now(self, kind, false);
}

bool review_desk_can_take_over(SoffitReviewDesk *self)
{
  return self->refused != NULL && g_strcmp0(self->refused, self->file) == 0;
}

void review_desk_take_over(SoffitReviewDesk *self)
{
  if (review_desk_can_take_over(self))
    decide_now(self, self->refused_kind, true);
}

bool review_desk_can_take_back(SoffitReviewDesk *self)
{
  return self->last != NULL;
}

void review_desk_take_back(SoffitReviewDesk *self)
{
  g_autofree char *file = g_steal_pointer(&self->last);
  if (!file)
    return;
  self->writing++;
  decision_write(decision_new(self, file, ENTRY_WAIT, _("The decision before is taken back.")),
                 G_OBJECT(self), decision_done, self);
}

guint review_desk_writing(SoffitReviewDesk *self)
{
  return self->writing;
}

guint review_desk_today(SoffitReviewDesk *self)
{
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  g_autoptr(GDateTime) midnight =
      g_date_time_new_local(g_date_time_get_year(now), g_date_time_get_month(now),
                            g_date_time_get_day_of_month(now), 0, 0, 0);
  gint64 since = g_date_time_to_unix(midnight) * G_USEC_PER_SEC;
  guint n = g_list_model_get_n_items(G_LIST_MODEL(self->lab)), today = 0;
  for (guint i = 0; i < n; i++) {
    g_autoptr(SoffitLabItem) item = g_list_model_get_item(G_LIST_MODEL(self->lab), i);
    const LabRow *row = lab_item_row(item);
    today += (row->standing == STANDING_PASSED || row->standing == STANDING_RETURNED) &&
             row->last_us >= since;
  }
  return today;
}
