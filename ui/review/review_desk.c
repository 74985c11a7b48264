/* review_desk.c - see review_desk.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/review_desk.h"
#include "ui/person_profile.h"
#include "ui/review/decide.h"
#include "ui/review/row_words.h"
#include "ui/words.h"
#include <string.h>

/* What is about to be said of a case; kept while others are looked at. */
typedef struct {
  GPtrArray *remark;
  char *words;
} Draft;

struct _SoffitReviewDesk {
  GObject parent;
  SoffitLabDesk *lab;
  SoffitQueue *queue;
  EvidenceJob *job;
  GHashTable *draft; /* file -> Draft */
  char *file;        /* looked at; NULL */
  gint64 asked_us;   /* of the file, when its evidence was asked for */
  guint position;    /* where it stood in the queue */
  bool chosen;       /* by somebody, not because it came first */
  const Evidence *evidence;
  size_t connector; /* SIZE_MAX: the weakest */
  guint writing;
  char *refused; /* owned: file that somebody else has; NULL */
  EntryKind refused_kind;
  char *last; /* owned: file decided last; NULL */
};

G_DEFINE_FINAL_TYPE(SoffitReviewDesk, review_desk, G_TYPE_OBJECT)

enum { SELECTED, EVIDENCE, DRAFT, TOLD, SIGNALS };
static guint signals[SIGNALS];

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

static void tell(SoffitReviewDesk *self, const char *words, bool wrong)
{
  g_signal_emit(self, signals[TOLD], 0, words, (gboolean)wrong);
}

SoffitLabDesk *review_desk_lab(SoffitReviewDesk *self)
{
  return self->lab;
}

SoffitQueue *review_desk_queue(SoffitReviewDesk *self)
{
  return self->queue;
}

/* ---- what is looked at ---- */

static const LabRow *row_at(SoffitReviewDesk *self, guint position)
{
  g_autoptr(SoffitLabItem) item = g_list_model_get_item(G_LIST_MODEL(self->queue), position);
  return item ? lab_item_row(item) : NULL; /* the lab keeps it */
}

const char *review_desk_file(SoffitReviewDesk *self)
{
  return self->file;
}

const LabRow *review_desk_row(SoffitReviewDesk *self)
{
  SoffitLabItem *item = self->file ? lab_desk_find(self->lab, self->file) : NULL;
  return item ? lab_item_row(item) : NULL;
}

static void evidence_came(const Evidence *evidence, void *data)
{
  SoffitReviewDesk *self = data;
  if (self->file && strcmp(self->file, evidence->file) == 0) {
    self->evidence = evidence;
    g_signal_emit(self, signals[EVIDENCE], 0);
  }
}

static void evidence_ask(SoffitReviewDesk *self)
{
  const LabRow *row = review_desk_row(self), *next = row_at(self, self->position + 1);
  if (!row)
    return;
  self->asked_us = row->changed_us;
  evidence_job_ask(self->job, lab_desk_folder(self->lab), self->file, row->changed_us,
                   next ? next->file : NULL, next ? next->changed_us : 0);
}

static void select_file(SoffitReviewDesk *self, const char *file)
{
  if (g_strcmp0(file, self->file) == 0)
    return;
  char *own = g_strdup(file);
  g_free(self->file);
  self->file = own;
  self->evidence = NULL;
  self->connector = SIZE_MAX;
  if (own)
    self->position = queue_position(self->queue, own);
  g_signal_emit(self, signals[SELECTED], 0);
  if (own)
    evidence_ask(self);
}

void review_desk_select(SoffitReviewDesk *self, const char *file)
{
  self->chosen = file != NULL;
  select_file(self, file);
}

void review_desk_step(SoffitReviewDesk *self, int by)
{
  guint n = g_list_model_get_n_items(G_LIST_MODEL(self->queue));
  if (n == 0)
    return;
  int at = self->file && self->position < n ? (int)self->position + by : 0;
  review_desk_select(self, row_at(self, (guint)CLAMP(at, 0, (int)n - 1))->file);
}

/* Rows moved: the case at hand stays, or what came to stand at its place follows. */
static void queue_counted(SoffitReviewDesk *self)
{
  guint n = g_list_model_get_n_items(G_LIST_MODEL(self->queue)),
        at = self->file ? queue_position(self->queue, self->file) : G_MAXUINT;
  const LabRow *first = n ? row_at(self, 0) : NULL;
  if (at == G_MAXUINT || (!self->chosen && first->state == ROW_READY)) {
    const LabRow *to =
        at == G_MAXUINT && self->file && n ? row_at(self, MIN(self->position, n - 1)) : first;
    select_file(self, to ? to->file : NULL);
    return;
  }
  self->position = at;
  const LabRow *row = review_desk_row(self);
  if (row && row->changed_us != self->asked_us)
    evidence_ask(self); /* somebody wrote it */
}

const Evidence *review_desk_evidence(SoffitReviewDesk *self)
{
  return self->evidence;
}

size_t review_desk_connector(SoffitReviewDesk *self)
{
  const Evidence *e = self->evidence;
  size_t n = e && !e->unread ? e->c.n_unit - 1 : 0;
  if (self->connector < n)
    return self->connector;
  return e && e->a && e->a->weakest < n ? e->a->weakest : 0;
}

void review_desk_set_connector(SoffitReviewDesk *self, size_t connector)
{
  const Evidence *e = self->evidence;
  if (!e || e->unread || connector + 1 >= e->c.n_unit)
    return;
  self->chosen = true;
  self->connector = connector;
  g_signal_emit(self, signals[EVIDENCE], 0);
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
  g_signal_emit(self, signals[DRAFT], 0);
}

void review_desk_unpin(SoffitReviewDesk *self, guint remark)
{
  GPtrArray *all = draft_at_hand(self)->remark;
  if (remark < all->len)
    g_ptr_array_remove_index(all, remark);
  g_signal_emit(self, signals[DRAFT], 0);
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
  g_signal_emit(self, signals[DRAFT], 0);
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
    tell(self, all, false);
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
  tell(self, text, true);
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
    tell(self,
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

/* ---- the desk ---- */

static void lab_state_changed(SoffitReviewDesk *self)
{
  evidence_job_forget(self->job);
  self->evidence = NULL;
  if (self->file) {
    g_signal_emit(self, signals[EVIDENCE], 0);
    evidence_ask(self);
  }
}

void review_desk_open(SoffitReviewDesk *self, const char *folder)
{
  review_desk_select(self, NULL);
  g_hash_table_remove_all(self->draft);
  g_clear_pointer(&self->last, g_free);
  lab_desk_open(self->lab, folder);
}

static void review_desk_dispose(GObject *object)
{
  SoffitReviewDesk *self = SOFFIT_REVIEW_DESK(object);
  if (self->queue)
    g_signal_handlers_disconnect_by_data(self->queue, self);
  if (self->lab)
    g_signal_handlers_disconnect_by_data(self->lab, self);
  self->evidence = NULL;
  g_clear_pointer(&self->job, evidence_job_free);
  g_clear_object(&self->queue);
  g_clear_object(&self->lab);
  G_OBJECT_CLASS(review_desk_parent_class)->dispose(object);
}

static void review_desk_finalize(GObject *object)
{
  SoffitReviewDesk *self = SOFFIT_REVIEW_DESK(object);
  g_hash_table_unref(self->draft);
  g_free(self->file);
  g_free(self->refused);
  g_free(self->last);
  G_OBJECT_CLASS(review_desk_parent_class)->finalize(object);
}

static void review_desk_class_init(SoffitReviewDeskClass *class)
{
  static const char *const name[] = {"selected", "evidence", "draft"};
  GType type = G_TYPE_FROM_CLASS(class);
  G_OBJECT_CLASS(class)->dispose = review_desk_dispose;
  G_OBJECT_CLASS(class)->finalize = review_desk_finalize;
  for (guint i = 0; i < G_N_ELEMENTS(name); i++)
    signals[i] =
        g_signal_new(name[i], type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[TOLD] = g_signal_new("told", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2,
                               G_TYPE_STRING, G_TYPE_BOOLEAN);
}

static void review_desk_init(SoffitReviewDesk *self)
{
  self->draft = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, draft_free);
  self->connector = SIZE_MAX;
  self->job = evidence_job_new(evidence_came, self);
}

SoffitReviewDesk *review_desk_new(const LabDeskSettings *settings)
{
  SoffitReviewDesk *self = g_object_new(SOFFIT_TYPE_REVIEW_DESK, NULL);
  self->lab = lab_desk_new(settings);
  self->queue = queue_new(self->lab);
  g_signal_connect_swapped(self->queue, "counted", G_CALLBACK(queue_counted), self);
  g_signal_connect_swapped(self->lab, "state-changed", G_CALLBACK(lab_state_changed), self);
  return self;
}
