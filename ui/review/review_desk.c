/* review_desk.c - see review_desk.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "lab/seen_store.h"
#include "ui/history.h"
#include "ui/person_profile.h"
#include "ui/review/review_desk_private.h"
#include <string.h>

#define LOOK_MS 1200       /* on the screen: seen */
#define READ_WAIT_US 10000 /* less than a frame: a case that is read by then is shown at once */

G_DEFINE_FINAL_TYPE(SoffitReviewDesk, review_desk, G_TYPE_OBJECT)

enum { SELECTED, EVIDENCE, DRAFT, TOLD, SIGNALS };
static guint signals[SIGNALS];

void review_desk_tell(SoffitReviewDesk *self, const char *words, bool wrong)
{
  g_signal_emit(self, signals[TOLD], 0, words, (gboolean)wrong);
}

void review_desk_drafted(SoffitReviewDesk *self)
{
  g_signal_emit(self, signals[DRAFT], 0);
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

/* ---- what he has seen ---- */

typedef struct {
  char *folder, *file; /* owned; folder: of seen_folder() */
  Case *c;             /* owned */
} Look;

static void look_free(void *data)
{
  Look *look = data;
  g_free(look->folder);
  g_free(look->file);
  case_heap_free(look->c);
  g_free(look);
}

static void look_run(GTask *task, void *source, void *data, GCancellable *stop)
{
  (void)source, (void)stop;
  const Look *look = data;
  seen_keep(look->folder, look->file, look->c, g_get_real_time());
  g_task_return_boolean(task, TRUE);
}

static char *seen_by_me(SoffitReviewDesk *self)
{
  Person me = person_profile();
  char *seen = seen_folder(NULL, lab_desk_folder(self->lab), me.name);
  person_clear(&me);
  return seen;
}

static gboolean looked(void *data)
{
  SoffitReviewDesk *self = data;
  const Evidence *e = self->evidence;
  self->looking = 0;
  Look *look = g_new0(Look, 1);
  look->folder = seen_by_me(self);
  look->file = g_strdup(e->file);
  look->c = case_heap_copy(&e->c);
  g_strlcpy(self->looked, e->seen, sizeof self->looked);
  g_autoptr(GTask) task = g_task_new(NULL, NULL, NULL, NULL);
  g_task_set_task_data(task, look, look_free);
  if (look->c)
    g_task_run_in_thread(task, look_run);
  else
    g_task_return_boolean(task, FALSE);
  return G_SOURCE_REMOVE;
}

/* Evidence that stays on the screen for a moment has been seen. */
static void look_begin(SoffitReviewDesk *self)
{
  const Evidence *e = self->evidence;
  g_clear_handle_id(&self->looking, g_source_remove);
  if (e && e->a && strcmp(e->seen, self->looked) != 0)
    self->looking = g_timeout_add(LOOK_MS, looked, self);
}

/* ---- evidence ---- */

static void evidence_came(const Evidence *evidence, void *data)
{
  SoffitReviewDesk *self = data;
  if (self->file && strcmp(self->file, evidence->file) == 0) {
    self->evidence = evidence;
    if (!self->looking)
      look_begin(self);
    if (!self->selecting)
      g_signal_emit(self, signals[EVIDENCE], 0);
  }
}

static EvidenceWanted wanted(SoffitReviewDesk *self, const LabRow *row, const char *seen)
{
  return (EvidenceWanted){.folder = lab_desk_folder(self->lab),
                          .file = row->file,
                          .changed_us = row->changed_us,
                          .first = row->state == ROW_READY ? row->weakest_index : 0,
                          .seen = seen};
}

static void evidence_ask(SoffitReviewDesk *self)
{
  const LabRow *row = review_desk_row(self), *next = row_at(self, self->position + 1);
  if (!row)
    return;
  g_autofree char *seen = seen_by_me(self);
  EvidenceWanted now = wanted(self, row, seen), then = now;
  if (next)
    then = wanted(self, next, seen);
  self->asked_us = row->changed_us;
  evidence_job_ask(self->job, &now, next ? &then : NULL);
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
  *self->looked = '\0';
  look_begin(self);
  if (own) {
    self->selecting = true; /* what is there at once is told with it */
    self->position = queue_position(self->queue, own);
    evidence_ask(self);
    evidence_job_await_read(self->job, READ_WAIT_US);
    self->selecting = false;
  }
  g_signal_emit(self, signals[SELECTED], 0);
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
  const Assessment *a = e && e->a ? e->a : e ? e->first : NULL;
  return a && a->weakest < n ? a->weakest : 0;
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

EvidenceSince review_desk_since(SoffitReviewDesk *self)
{
  const EvidenceBase *base = self->evidence ? self->evidence->base : NULL;
  if (!base || !(base[SINCE_SEEN].there || base[SINCE_APPROVED].there))
    return SINCE_N;
  return base[SINCE_SEEN].there && !(self->approved && base[SINCE_APPROVED].there) ? SINCE_SEEN
                                                                                   : SINCE_APPROVED;
}

void review_desk_set_since(SoffitReviewDesk *self, EvidenceSince since)
{
  self->approved = since == SINCE_APPROVED;
  g_signal_emit(self, signals[EVIDENCE], 0);
}

/* ---- the desk ---- */

static void lab_state_changed(SoffitReviewDesk *self)
{
  evidence_job_forget(self->job);
  self->evidence = NULL;
  look_begin(self);
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
  look_begin(self);
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
  self->draft = review_drafts_new();
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
