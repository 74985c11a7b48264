/* evidence.c - see evidence.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One worker, two places: the case at hand and the next one.  What is done is handed over in parts
 * that the main thread puts together; the last few cases are kept. */
#include "ui/review/evidence.h"
#include "casefile/case_xml.h"
#include "record/change.h"
#include "ui/wake.h"
#include <string.h>

#define KEPT 6          /* cases whose evidence is remembered */
#define CHANGED_MM 0.01 /* outlines that differ by less are the approved ones */

/* Counted references: the worker keeps its own while another one is asked for. */
typedef struct {
  char *folder, *file; /* owned */
  gint64 changed_us;
  EvidenceStage stage; /* to be made next; under the mutex */
  bool read;           /* the worker's, as all below */
  Case c;
  VerdictLimits limits;
} Place;

/* What the worker hands over. */
typedef struct {
  char *file;
  gint64 changed_us;
  Evidence *fresh; /* owned: EVIDENCE_READ */
  EvidenceStage stage;
  Assessment *a, *before;
  FlatBridge *flat;
  Fault fault;
} Part;

struct EvidenceJob {
  EvidenceCame came;
  void *data;
  Wake *wake;
  GThread *thread;
  GPtrArray *kept; /* Evidence, the latest asked first */
  char *at;        /* file at hand; NULL = none */
  GMutex mutex;    /* guards all below */
  GCond moved;
  Place *place[2]; /* owned refs or NULL: at hand, next */
  const Place *running;
  GPtrArray *part;
  bool quit;
  gint cancel; /* atomic */
};

static void evidence_free(void *data)
{
  Evidence *e = data;
  if (!e)
    return;
  g_free(e->file);
  g_free(e->unread);
  case_clear(&e->c);
  standing_clear(&e->standing);
  if (e->changes)
    g_array_unref(e->changes);
  if (e->a)
    assessment_unref(e->a);
  if (e->before)
    assessment_unref(e->before);
  flat_bridge_free(e->flat);
  g_free(e);
}

static void part_free(void *data)
{
  Part *part = data;
  g_free(part->file);
  evidence_free(part->fresh);
  if (part->a)
    assessment_unref(part->a);
  if (part->before)
    assessment_unref(part->before);
  flat_bridge_free(part->flat);
  g_free(part);
}

static void place_clear(void *data)
{
  Place *place = data;
  g_free(place->folder);
  g_free(place->file);
  if (place->read)
    case_clear(&place->c);
}

static void place_unref(Place *place)
{
  if (place)
    g_atomic_rc_box_release_full(place, place_clear);
}

/* ---- on the worker ---- */

static bool job_cancelled(void *data)
{
  EvidenceJob *job = data;
  return g_atomic_int_get(&job->cancel) != 0;
}

/* The case as it was when its outlines were approved; false when that is what it is. */
static bool case_approved(const Case *c, Case *before)
{
  bool differs = false;
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    double away = connector_changed(&c->connector[i], CHANGED_MM);
    differs = differs || away > CHANGED_MM;
  }
  if (!differs || case_copy(before, c))
    return false;
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    Connector *k = &before->connector[i];
    for (int side = 0; side < SIDE_N; side++)
      if (k->approved[side].n > 1 && outline_copy(&k->side[side], &k->approved[side]))
        return false;
    if (k->approved[0].n > 1 && outline_copy(&k->section, &k->approved_section))
      return false;
    if (isfinite(k->approved_roundness_neck)) {
      k->roundness_neck = k->approved_roundness_neck;
      k->roundness_body = k->approved_roundness_body;
    }
  }
  return true;
}

static void part_read(Place *place, Part *part)
{
  Evidence *e = part->fresh = g_new0(Evidence, 1);
  g_autofree char *path = g_build_filename(place->folder, place->file, NULL), *trouble = NULL;
  g_autoptr(GError) error = NULL;
  e->file = g_strdup(place->file);
  e->changed_us = place->changed_us;
  case_init(&e->c);
  if (!case_load_seen(&e->c, path, e->seen, &error)) {
    e->unread = g_strdup(error->message);
    return;
  }
  g_autoptr(Lab) lab = lab_new(place->folder, &trouble);
  part->fault = case_standing(&e->c, lab->keys, &e->standing);
  e->limits = lab_settings_limits(lab->settings, &e->c, &e->standing);
  Case before;
  case_init(&before);
  if (case_approved(&e->c, &before))
    e->changes = case_changes(&before, &e->c);
  case_clear(&before);
  case_init(&place->c);
  place->limits = e->limits;
  place->read = part->fault == FAULT_NONE && case_copy(&place->c, &e->c) == FAULT_NONE;
}

static AssessSettings settings_of(EvidenceJob *job, const Place *place, EvidenceStage stage)
{
  AssessSettings settings = assess_settings_default();
  settings.grade = stage == EVIDENCE_LIVE ? ASSESS_LIVE : ASSESS_REST;
  settings.limits = place->limits;
  settings.waterfall = stage == EVIDENCE_REST;
  settings.cancelled = job_cancelled;
  settings.cancel_data = job;
  return settings;
}

static void part_assess(EvidenceJob *job, Assessor *assessor, Place *place, Part *part)
{
  AssessSettings settings = settings_of(job, place, part->stage);
  Case before;
  Point where;
  case_init(&before);
  switch (part->stage) {
  case EVIDENCE_LIVE:
  case EVIDENCE_REST:
    part->fault = assess(assessor, &place->c, &settings, &part->a);
    if (part->a && part->stage == EVIDENCE_REST) {
      part->flat = flat_bridge_new();
      if (flat_bridge_show(part->flat, part->a, true, &where))
        g_clear_pointer(&part->flat, flat_bridge_free);
    }
    break;
  default:
    settings.grade = ASSESS_LIVE;
    if (case_approved(&place->c, &before))
      part->fault = assess(assessor, &before, &settings, &part->before);
  }
  case_clear(&before);
}

/* Which place has work; NULL = none. */
static Place *place_waiting(const EvidenceJob *job)
{
  for (int i = 0; i < 2; i++)
    if (job->place[i] && job->place[i]->stage <= EVIDENCE_WHOLE)
      return job->place[i];
  return NULL;
}

/* Makes the next stage of a place; enters and leaves with the mutex. */
static void place_work(EvidenceJob *job, Assessor *assessor, Place *place)
{
  Part *part = g_new0(Part, 1);
  part->file = g_strdup(place->file);
  part->changed_us = place->changed_us;
  part->stage = place->stage;
  job->running = g_atomic_rc_box_acquire(place);
  g_atomic_int_set(&job->cancel, 0);
  g_mutex_unlock(&job->mutex);
  if (part->stage == EVIDENCE_READ)
    part_read(place, part);
  else
    part_assess(job, assessor, place, part);
  g_mutex_lock(&job->mutex);
  job->running = NULL;
  if (part->fault == FAULT_CANCELLED)
    part_free(part);
  else {
    place->stage = place->read && !part->fault ? place->stage + 1 : EVIDENCE_WHOLE + 1;
    g_ptr_array_add(job->part, part);
    wake_ring(job->wake);
  }
  place_unref(place);
}

static void *worker_run(void *data)
{
  EvidenceJob *job = data;
  Assessor *assessor = NULL;
  bool able = assessor_new(&assessor) == FAULT_NONE;
  g_mutex_lock(&job->mutex);
  for (;;) {
    Place *place = NULL;
    while (!job->quit && (!able || !(place = place_waiting(job))))
      g_cond_wait(&job->moved, &job->mutex);
    if (job->quit)
      break;
    place_work(job, assessor, place);
  }
  g_mutex_unlock(&job->mutex);
  assessor_free(assessor);
  return NULL;
}

/* ---- on the main thread ---- */

static Evidence *kept_find(EvidenceJob *job, const char *file, gint64 changed_us)
{
  for (guint i = 0; i < job->kept->len; i++) {
    Evidence *e = job->kept->pdata[i];
    if (strcmp(e->file, file) == 0 && e->changed_us == changed_us)
      return e;
  }
  return NULL;
}

/* An older reading of the same file goes. */
static void kept_add(EvidenceJob *job, Evidence *e)
{
  for (guint i = job->kept->len; i-- > 0;)
    if (strcmp(((Evidence *)job->kept->pdata[i])->file, e->file) == 0)
      g_ptr_array_remove_index(job->kept, i);
  g_ptr_array_insert(job->kept, 0, e);
  if (job->kept->len > KEPT)
    g_ptr_array_set_size(job->kept, KEPT);
}

static void part_take(EvidenceJob *job, Part *part)
{
  if (part->fresh)
    kept_add(job, g_steal_pointer(&part->fresh));
  Evidence *e = kept_find(job, part->file, part->changed_us);
  if (!e)
    return;
  if (part->a) {
    if (e->a)
      assessment_unref(e->a);
    e->a = g_steal_pointer(&part->a);
  }
  if (part->before)
    e->before = g_steal_pointer(&part->before);
  if (part->flat)
    e->flat = g_steal_pointer(&part->flat);
  e->fault = part->fault;
  e->stage = part->stage;
  if (g_strcmp0(job->at, e->file) == 0)
    job->came(e, job->data);
}

static gboolean job_deliver(void *data)
{
  EvidenceJob *job = data;
  g_mutex_lock(&job->mutex);
  g_autoptr(GPtrArray) parts = job->part;
  job->part = g_ptr_array_new_with_free_func(part_free);
  g_mutex_unlock(&job->mutex);
  for (guint i = 0; i < parts->len; i++)
    part_take(job, parts->pdata[i]);
  return G_SOURCE_CONTINUE;
}

EvidenceJob *evidence_job_new(EvidenceCame came, void *data)
{
  EvidenceJob *job = g_new0(EvidenceJob, 1);
  job->came = came;
  job->data = data;
  job->kept = g_ptr_array_new_with_free_func(evidence_free);
  job->part = g_ptr_array_new_with_free_func(part_free);
  g_mutex_init(&job->mutex);
  g_cond_init(&job->moved);
  job->wake = wake_new(job_deliver, job);
  job->thread = g_thread_new("soffit-evidence", worker_run, job);
  return job;
}

void evidence_job_free(EvidenceJob *job)
{
  if (!job)
    return;
  g_mutex_lock(&job->mutex);
  job->quit = true;
  g_atomic_int_set(&job->cancel, 1);
  g_cond_broadcast(&job->moved);
  g_mutex_unlock(&job->mutex);
  g_thread_join(job->thread);
  wake_free(job->wake);
  for (int i = 0; i < 2; i++)
    place_unref(job->place[i]);
  g_ptr_array_unref(job->kept);
  g_ptr_array_unref(job->part);
  g_mutex_clear(&job->mutex);
  g_cond_clear(&job->moved);
  g_free(job->at);
  g_free(job);
}

static bool place_is(const Place *place, const char *file, gint64 changed_us)
{
  return place && strcmp(place->file, file) == 0 && place->changed_us == changed_us;
}

/* Under the mutex.  What is done of it in the other place is taken on. */
static void place_set(EvidenceJob *job, int at, const char *folder, const char *file,
                      gint64 changed_us)
{
  if (place_is(job->place[at], file, changed_us))
    return;
  Place *was = job->place[at];
  if (place_is(job->place[1 - at], file, changed_us)) {
    job->place[at] = job->place[1 - at];
    job->place[1 - at] = was;
    return;
  }
  Place *place = job->place[at] = g_atomic_rc_box_new0(Place);
  place->folder = g_strdup(folder);
  place->file = g_strdup(file);
  place->changed_us = changed_us;
  place_unref(was);
}

void evidence_job_ask(EvidenceJob *job, const char *folder, const char *file, gint64 changed_us,
                      const char *next, gint64 next_changed_us)
{
  g_free(job->at);
  job->at = g_strdup(file);
  Evidence *known = kept_find(job, file, changed_us);
  guint place;
  if (known && g_ptr_array_find(job->kept, known, &place)) /* what is looked at goes last */
    g_ptr_array_insert(job->kept, 0, g_ptr_array_steal_index(job->kept, place));
  g_mutex_lock(&job->mutex);
  if (!known || known->stage < EVIDENCE_WHOLE)
    place_set(job, 0, folder, file, changed_us);
  if (next && !kept_find(job, next, next_changed_us))
    place_set(job, 1, folder, next, next_changed_us);
  if (job->running && job->running != job->place[0] && place_waiting(job) == job->place[0])
    g_atomic_int_set(&job->cancel, 1); /* the case at hand first */
  g_cond_broadcast(&job->moved);
  g_mutex_unlock(&job->mutex);
  if (known)
    job->came(known, job->data);
}

void evidence_job_forget(EvidenceJob *job)
{
  g_clear_pointer(&job->at, g_free);
  g_ptr_array_set_size(job->kept, 0);
  g_mutex_lock(&job->mutex);
  for (int i = 0; i < 2; i++)
    place_unref(g_steal_pointer(&job->place[i]));
  g_ptr_array_set_size(job->part, 0);
  g_atomic_int_set(&job->cancel, 1);
  g_mutex_unlock(&job->mutex);
}
