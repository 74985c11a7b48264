/* lab_read.c - see lab_read.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "lab/lab_read.h"
#include "assess_break.h"
#include "lab/lab_list.h"
#include "casefile/case_xml.h"
#include "casefile/folder_files.h"
#include <string.h>
#include <sys/stat.h>

/* What clocks of a lab may differ without anybody being told. */
#define MOST_KEYS 1000
#define CLOCK_SLACK_US (5 * 60 * (gint64)G_USEC_PER_SEC)

/* Names and bytes of the files in the folder of keys. */
static char *keys_digest(const char *folder)
{
  g_autoptr(GChecksum) sum = g_checksum_new(G_CHECKSUM_SHA256);
  g_autofree char *keys = g_build_filename(folder, LAB_KEYS_FOLDER, NULL);
  g_autoptr(GPtrArray) name = folder_files(keys, "", MOST_KEYS, NULL);
  for (guint i = 0; name && i < name->len; i++) {
    g_autofree char *path = g_build_filename(keys, name->pdata[i], NULL), *text = NULL;
    gsize length = 0;
    g_checksum_update(sum, name->pdata[i], (gssize)strlen(name->pdata[i]) + 1);
    if (g_file_get_contents(path, &text, &length, NULL))
      g_checksum_update(sum, (const guchar *)text, (gssize)length);
  }
  return g_strdup(g_checksum_get_string(sum));
}

Lab *lab_new(const char *folder, char **trouble)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) bad_keys = NULL;
  Lab *lab = g_new0(Lab, 1);
  lab->folder = g_strdup(folder);
  lab->settings = lab_settings_load(folder, &error);
  if (!lab->settings)
    lab->settings = lab_settings_new();
  lab->keys = public_keys_load(folder, &bad_keys);
  lab->keys_digest = keys_digest(folder);
  *trouble = error                       ? g_strdup(error->message)
             : bad_keys && bad_keys->len ? g_strdup(bad_keys->pdata[0])
                                         : NULL;
  return lab;
}

void lab_free(Lab *lab)
{
  if (!lab)
    return;
  g_free(lab->folder);
  g_free(lab->keys_digest);
  public_keys_free(lab->keys);
  lab_settings_free(lab->settings);
  g_free(lab);
}

static void text_set(char **text, const char *to)
{
  g_free(*text);
  *text = g_strdup(to);
}

/* ---- the record ---- */

/* 0 for the free words of old files. */
static gint64 time_us(const char *text)
{
  g_autoptr(GTimeZone) utc = g_time_zone_new_utc();
  g_autoptr(GDateTime) time = g_date_time_new_from_iso8601(text, utc);
  return time ? g_date_time_to_unix(time) * G_USEC_PER_SEC : 0;
}

/* When it came to the supervisor; leaving it waiting does not make it younger.  Opened again: since
 * the first change after the decision, or the file's. */
static gint64 waiting_since(const LabRow *row, const Case *c, const Standing *standing)
{
  const GPtrArray *history = c->history;
  gint64 since = 0;
  if (standing->state == STANDING_WAITS)
    for (guint i = standing->entry + 1; i-- > 0;) {
      const HistoryEntry *entry = history->pdata[i];
      if (entry->kind == ENTRY_PASS || entry->kind == ENTRY_RETURN)
        break;
      if (entry->kind == ENTRY_SENT || entry->kind == ENTRY_WAIT)
        since = time_us(entry->time);
    }
  if (standing->state == STANDING_REOPENED) {
    for (guint i = standing->entry + 1; i < history->len && !since; i++) {
      const HistoryEntry *entry = history->pdata[i];
      if (entry->kind == ENTRY_CHANGE || entry->kind == ENTRY_MERGE)
        since = time_us(entry->time);
    }
    since = since ? since : row->changed_us;
  }
  return since;
}

static void row_take_record(LabRow *row, const Case *c, const Standing *standing)
{
  const HistoryEntry *last = c->history->len ? c->history->pdata[c->history->len - 1] : NULL;
  text_set(&row->author, last && *last->initials ? last->initials
                         : last && *last->role   ? last->role
                                                 : c->author);
  row->last_us = last ? time_us(last->time) : 0;
  row->standing = standing->state;
  row->signature = standing->signature;
  row->chain = standing->chain.state;
  row->waiting_since_us = waiting_since(row, c, standing);
  row->troubles |= standing->chain.state == CHAIN_BROKEN ? TROUBLE_CHAIN : 0;
  row->troubles |= standing->outside ? TROUBLE_OUTSIDE : 0;
}

/* ---- the case ---- */

static void row_take_case(LabRow *row, const Case *c)
{
  text_set(&row->number, c->number);
  text_set(&row->title, c->title);
  text_set(&row->material, c->material.name);
  row->n_unit = c->n_unit;
  row->tooth_first = c->unit[0].tooth;
  row->tooth_last = c->unit[c->n_unit - 1].tooth;
  row->order_n = c->order_load_n;
  row->step = c->step;
  row->broken = break_recorded(c);
  row->state = ROW_READ;
}

/* The message without the folder, which is the same for all rows. */
static void row_unreadable(LabRow *row, const char *path, const GError *error)
{
  const char *said = error->message;
  if (g_str_has_prefix(said, path))
    said += strlen(path);
  said += strspn(said, ": ");
  g_autofree char *line = g_ascii_isdigit(*said)
                              ? g_strdup_printf(g_dgettext("soffit", N_("Line %s")), said)
                              : g_utf8_make_valid(said, -1);
  text_set(&row->unread, line);
  row->state = ROW_UNREADABLE;
  row->unread_code = error->code;
  row->troubles |=
      g_error_matches(error, CASE_ERROR, CASE_ERROR_NEWER) ? TROUBLE_NEWER : TROUBLE_UNREADABLE;
}

/* What the case and its history say; false without memory. */
static bool row_judge(const Lab *lab, LabRow *row, const Case *c, VerdictLimits *limits)
{
  Standing standing;
  row_take_case(row, c);
  if (case_standing(c, lab->keys, &standing) || case_digest(c, row->digest)) {
    row->troubles |= TROUBLE_FAULT;
    return false;
  }
  row_take_record(row, c, &standing);
  *limits = row->limits = lab_settings_limits(lab->settings, c, &standing);
  standing_clear(&standing);
  return true;
}

/* Row and case of a file; false when there is no case.  The time is taken before it is read: what
 * is written meanwhile is read again. */
static bool row_load(const Lab *lab, const char *file, LabRow **into, Case *c,
                     VerdictLimits *limits)
{
  g_autofree char *path = g_build_filename(lab->folder, file, NULL);
  g_autoptr(GError) error = NULL;
  struct stat about;
  LabRow *row = *into = lab_row_new(file);
  row->read_us = g_get_real_time();
  if (stat(path, &about) == 0) {
    row->changed_us = (gint64)about.st_mtim.tv_sec * G_USEC_PER_SEC + about.st_mtim.tv_nsec / 1000;
    row->size = about.st_size;
  }
  bool readable = case_load(c, path, &error);
  if (readable)
    readable = row_judge(lab, row, c, limits);
  else
    row_unreadable(row, path, error);
  if (MAX(row->changed_us, row->last_us) > row->read_us + CLOCK_SLACK_US)
    row->troubles |= TROUBLE_FUTURE;
  lab_row_tell(row);
  return readable;
}

LabRow *lab_row_read(const Lab *lab, const char *file)
{
  LabRow *row;
  VerdictLimits limits;
  Case c;
  case_init(&c);
  row_load(lab, file, &row, &c, &limits);
  case_clear(&c);
  return row;
}

/* ---- the answer ---- */

/* Texts of a phrase live as long as the program: static here, interned when read from a cache. */
static void row_take_headline(LabRow *row, const Assessment *a)
{
  size_t k = a->weakest;
  row->headline = (Phrase){0};
  if (a->n_connector == 0 || a->fault) {
    row->headline.text = fault_text(a->fault);
    g_strlcpy(row->reason, fault_name(a->fault), sizeof row->reason);
    return;
  }
  if (assessment_reasons(a, k, &row->headline, 1) == 0)
    return;
  if (a->connector[k].fault)
    g_strlcpy(row->reason, fault_name(a->connector[k].fault), sizeof row->reason);
  else if (a->connector[k].margin.value < 1)
    g_strlcpy(row->reason, "margin", sizeof row->reason);
  for (guint i = 0; i < a->fired->len && !*row->reason; i++) {
    const FiredRule *fired = &g_array_index(a->fired, FiredRule, i);
    if (fired->connector == k || fired->connector == SIZE_MAX)
      g_strlcpy(row->reason, fired->rule->id, sizeof row->reason);
  }
}

void lab_row_take(LabRow *row, const Assessment *a)
{
  const ConnectorAssessment *k = &a->connector[a->weakest];
  row->verdict = a->verdict;
  row->weakest_index = a->weakest;
  if (a->n_connector) {
    connector_name(&a->c, a->weakest, '/', row->weakest);
    row->margin = k->margin;
    row->chance_percent = k->chance_percent;
    row->carries_n = k->carries_n;
    row->finish = k->governing_finish;
    row->roof_radius_mm = k->form.roof_radius.value;
    row->area_mm2 = k->section.area;
    row->peak_mpa = k->peak_mpa.value;
  }
  row->stops = row->looks = row->notes = 0;
  for (guint i = 0; i < a->fired->len; i++) {
    Severity severity = g_array_index(a->fired, FiredRule, i).rule->severity;
    row->stops += severity == SEVERITY_STOP;
    row->looks += severity == SEVERITY_LOOK;
    row->notes += severity == SEVERITY_NOTE;
  }
  row_take_headline(row, a);
  row->state = ROW_READY;
}

Fault lab_row_assess(const Lab *lab, const char *file, Assessor *assessor,
                     bool (*cancelled)(void *data), void *data, LabRow **into)
{
  AssessSettings settings = assess_settings_default();
  settings.grade = ASSESS_LIVE;
  settings.figures_only = true;
  settings.cancelled = cancelled;
  settings.cancel_data = data;
  LabRow *row;
  Assessment *a = NULL;
  Case c;
  case_init(&c);
  Fault fault = FAULT_NONE;
  if (row_load(lab, file, &row, &c, &settings.limits))
    fault = assess(assessor, &c, &settings, &a);
  assessor_forget(assessor); /* no other case has this shape */
  case_clear(&c);
  if (fault == FAULT_CANCELLED) {
    lab_row_free(row);
    return fault;
  }
  if (a)
    lab_row_take(row, a);
  if (fault) {
    row->troubles |= TROUBLE_FAULT;
    lab_row_tell(row);
  }
  assessment_unref(a);
  *into = row;
  return FAULT_NONE;
}
