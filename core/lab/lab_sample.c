/* lab_sample.c - see lab_sample.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "lab/lab_sample.h"
#include "assess_break.h"
#include "casefile/case_xml.h"
#include "lab/lab_list.h"
#include <math.h>

/* 0 for the free words of old files. */
static gint64 entry_time_us(const HistoryEntry *entry)
{
  g_autoptr(GTimeZone) utc = g_time_zone_new_utc();
  g_autoptr(GDateTime) time = g_date_time_new_from_iso8601(entry->time, utc);
  return time ? g_date_time_to_unix(time) * G_USEC_PER_SEC : 0;
}

/* When it was first sent and by whom; never sent: its first dated entry, and who made the last. */
static void history_take(const Case *c, PhraseTranslate translate, LabSample *sample)
{
  const HistoryEntry *sent = NULL;
  const char *hand = c->author;
  for (guint i = 0; i < c->history->len; i++) {
    const HistoryEntry *entry = c->history->pdata[i];
    if (!sample->at_us || (entry->kind == ENTRY_SENT && !sent))
      sample->at_us = MAX(entry_time_us(entry), sample->at_us);
    if (entry->kind == ENTRY_SENT && !sent) {
      sent = entry;
      hand = *entry->initials ? entry->initials : *entry->role ? entry->role : hand;
    }
    if (entry->kind != ENTRY_RETURN)
      continue;
    guint named = return_causes(entry->text, translate);
    sample->returns++;
    for (int k = 0; k < CAUSE_N; k++)
      sample->cause[k] += (named >> k) & 1u;
  }
  g_strlcpy(sample->hand, hand, sizeof sample->hand);
}

void lab_sample_take(const Assessment *a, PhraseTranslate translate, LabSample *sample)
{
  const Case *c = &a->c;
  *sample = (LabSample){.verdict = a->verdict,
                        .roof_radius_mm = NAN,
                        .area_mm2 = NAN,
                        .chance_percent = NAN,
                        .broken = break_recorded(c)};
  sample->delivered = sample->broken || c->step >= STEP_HANDOVER;
  if (a->weakest < a->n_connector && a->connector[a->weakest].field) {
    const ConnectorAssessment *k = &a->connector[a->weakest];
    sample->roof_radius_mm = k->form.roof_radius.value;
    sample->area_mm2 = k->section.area;
    sample->chance_percent = k->service_chance_percent.value;
  }
  history_take(c, translate, sample);
}

/* ---- a folder ---- */

typedef struct {
  const LabSamplesWish *wish;
  const Lab *lab;
  const LabList *list;
  LabSample *sample; /* one for each file */
  bool *taken;
  GMutex lock; /* of what follows */
  guint next, done;
  bool stopped;
} Round;

static bool round_stopped(void *data)
{
  Round *round = data;
  g_mutex_lock(&round->lock);
  bool stopped = round->stopped;
  g_mutex_unlock(&round->lock);
  return stopped;
}

/* The next file, G_MAXUINT when there is none. */
static guint round_next(Round *round)
{
  g_mutex_lock(&round->lock);
  guint at = round->stopped || round->next >= round->list->file->len ? G_MAXUINT : round->next++;
  g_mutex_unlock(&round->lock);
  return at;
}

static void round_told(Round *round)
{
  g_mutex_lock(&round->lock);
  round->done++;
  if (round->wish->progress &&
      !round->wish->progress(round->done, round->list->file->len, round->wish->data))
    round->stopped = true;
  g_mutex_unlock(&round->lock);
}

static Fault file_take(Round *round, Assessor *assessor, guint at)
{
  AssessSettings settings = assess_settings_default();
  settings.grade = ASSESS_LIVE;
  settings.figures_only = true;
  settings.cancelled = round_stopped;
  settings.cancel_data = round;
  const char *name = g_array_index(round->list->file, LabFile, at).name;
  g_autofree char *path = g_build_filename(round->lab->folder, name, NULL);
  Standing none = {.entry = G_MAXUINT}; /* figures compare: one measure for all */
  Assessment *a = NULL;
  Fault fault = FAULT_NONE;
  Case c;
  case_init(&c);
  if (case_load(&c, path, NULL)) {
    settings.limits = lab_settings_limits(round->lab->settings, &c, &none);
    fault = assess(assessor, &c, &settings, &a);
  }
  case_clear(&c);
  if (a) {
    lab_sample_take(a, round->wish->translate, &round->sample[at]);
    round->taken[at] = true;
  }
  assessment_unref(a);
  return fault;
}

static gpointer round_work(gpointer data)
{
  Round *round = data;
  Assessor *assessor = NULL;
  Fault fault = assessor_new(&assessor);
  for (guint at; !fault && (at = round_next(round)) != G_MAXUINT;) {
    fault = file_take(round, assessor, at);
    round_told(round);
  }
  assessor_free(assessor);
  if (fault) {
    g_mutex_lock(&round->lock);
    round->stopped = true;
    g_mutex_unlock(&round->lock);
  }
  return NULL;
}

static void round_run(Round *round)
{
  int threads = CLAMP(round->wish->threads, 1, 64);
  g_autofree GThread **thread = g_new(GThread *, threads);
  for (int i = 0; i < threads; i++)
    thread[i] = g_thread_new("figures", round_work, round);
  for (int i = 0; i < threads; i++)
    g_thread_join(thread[i]);
}

LabSamples *lab_samples_read(const char *folder, const LabSamplesWish *wish, GError **error)
{
  g_autoptr(LabList) list = lab_list_new(folder, error);
  if (!list)
    return NULL;
  guint n = list->file->len;
  char *trouble = NULL;
  g_autoptr(Lab) lab = lab_new(folder, &trouble);
  Round round = {.wish = wish,
                 .lab = lab,
                 .list = list,
                 .sample = g_new0(LabSample, n + 1),
                 .taken = g_new0(bool, n + 1)};
  g_mutex_init(&round.lock);
  round_run(&round);
  g_mutex_clear(&round.lock);
  LabSamples *samples = NULL;
  if (!round.stopped) {
    samples = g_new0(LabSamples, 1);
    samples->sample = g_array_new(FALSE, FALSE, sizeof(LabSample));
    samples->files = n;
    samples->by_technician = lab->settings->by_technician;
    samples->trouble = g_steal_pointer(&trouble);
    for (guint i = 0; i < n; i++)
      if (round.taken[i])
        g_array_append_val(samples->sample, round.sample[i]);
    samples->unread = n - samples->sample->len;
  }
  g_free(round.sample);
  g_free(round.taken);
  g_free(trouble);
  return samples;
}

void lab_samples_free(LabSamples *samples)
{
  if (!samples)
    return;
  g_array_unref(samples->sample);
  g_free(samples->trouble);
  g_free(samples);
}
