/* lab_day.c - see lab_day.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "lab/lab_day.h"
#include "casefile/case_xml.h"
#include "casefile/folder_files.h"
#include "lab/lab_settings.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

#define CASES_MOST 1000000

static void decision_free(gpointer data)
{
  DayDecision *d = data;
  char *const text[] = {d->number, d->title, d->time, d->name, d->initials, d->role, d->reason};
  for (size_t i = 0; i < G_N_ELEMENTS(text); i++)
    g_free(text[i]);
  g_free(d);
}

static bool on_day(const HistoryEntry *entry, const char *date)
{
  if (entry->kind != ENTRY_PASS && entry->kind != ENTRY_RETURN && entry->kind != ENTRY_WAIT)
    return false;
  g_autoptr(GDateTime) utc = g_date_time_new_from_iso8601(entry->time, NULL);
  g_autoptr(GDateTime) here = utc ? g_date_time_to_local(utc) : NULL;
  g_autofree char *day = here ? g_date_time_format(here, "%Y-%m-%d") : NULL;
  return day && strcmp(day, date) == 0;
}

static DayDecision *decision_new(const Case *c, const HistoryEntry *entry, const char *digest,
                                 const PublicKeys *keys)
{
  DayDecision *d = g_new0(DayDecision, 1);
  d->number = g_strdup(c->number);
  d->title = g_strdup(c->title);
  d->time = g_strdup(entry->time);
  d->name = g_strdup(entry->name);
  d->initials = g_strdup(entry->initials);
  d->role = g_strdup(entry->role);
  d->reason = g_strdup(entry->text);
  d->kind = entry->kind;
  d->n_unit = c->n_unit;
  d->tooth_first = c->n_unit ? c->unit[0].tooth : 0;
  d->tooth_last = c->n_unit ? c->unit[c->n_unit - 1].tooth : 0;
  d->signature = entry_signed(entry, keys);
  d->since = entry->content[0] && strcmp(entry->content, digest) != 0;
  d->margin = (Banded){NAN, NAN, NAN};
  return d;
}

/* Without an answer the verdict stays unknown: the decision is told all the same. */
static Fault decision_assess(DayDecision *d, const Case *c, const char *limits, Assessor *assessor,
                             const AssessSettings *settings)
{
  AssessSettings own = *settings;
  Assessment *a = NULL;
  if (!verdict_limits_from_text(limits, &own.limits))
    own.limits = settings->limits;
  Fault fault = assess(assessor, c, &own, &a);
  if (fault)
    return fault;
  d->verdict = a->verdict;
  if (a->weakest < a->n_connector) {
    d->margin = a->connector[a->weakest].margin;
    g_strlcpy(d->weakest, a->connector[a->weakest].name, sizeof d->weakest);
  }
  assessment_unref(a);
  return FAULT_NONE;
}

static void case_take(LabDay *day, const Case *c, const PublicKeys *keys, Assessor *assessor,
                      const AssessSettings *settings, const char *path)
{
  char digest[65] = "";
  for (guint i = 0; i < c->history->len; i++) {
    const HistoryEntry *entry = c->history->pdata[i];
    if (!on_day(entry, day->date))
      continue;
    Fault fault = digest[0] ? FAULT_NONE : case_digest(c, digest);
    DayDecision *d = decision_new(c, entry, digest, keys);
    g_ptr_array_add(day->decision, d);
    if (!fault)
      fault = decision_assess(d, c, entry->limits, assessor, settings);
    if (fault)
      g_ptr_array_add(day->trouble, g_strdup_printf("%s: %s", path, fault_text(fault)));
  }
}

static int by_time(const void *a, const void *b)
{
  const DayDecision *x = *(DayDecision *const *)a, *y = *(DayDecision *const *)b;
  int order = strcmp(x->time, y->time);
  return order ? order : strcmp(x->number, y->number);
}

static bool date_valid(const char *date, GError **error)
{
  int year, month, day, end = 0;
  if (sscanf(date, "%4d-%2d-%2d%n", &year, &month, &day, &end) == 3 && end == 10 &&
      date[10] == '\0' && year > 0 && month > 0 && day > 0 &&
      g_date_valid_dmy((GDateDay)day, (GDateMonth)month, (GDateYear)year))
    return true;
  g_set_error(error, CASE_ERROR, CASE_ERROR_VALUE,
              g_dgettext("soffit", N_("\"%s\" is no day. Write it as year-month-day, such as "
                                      "2026-03-02.")),
              date);
  return false;
}

LabDay *lab_day_read(const char *folder, const char *date, const PublicKeys *keys,
                     const AssessSettings *settings, GError **error)
{
  Assessor *assessor = NULL;
  if (!date_valid(date, error))
    return NULL;
  g_autoptr(GPtrArray) files = folder_files(folder, ".xml", CASES_MOST, error);
  if (!files)
    return NULL;
  if (assessor_new(&assessor)) {
    g_set_error_literal(error, CASE_ERROR, CASE_ERROR_VALUE, fault_text(FAULT_MEMORY));
    return NULL;
  }
  LabDay *day = g_new0(LabDay, 1);
  day->date = g_strdup(date);
  g_autofree char *whole = g_canonicalize_filename(folder, NULL);
  day->folder = g_path_get_basename(whole);
  day->decision = g_ptr_array_new_with_free_func(decision_free);
  day->trouble = g_ptr_array_new_with_free_func(g_free);
  for (guint i = 0; i < files->len; i++) {
    g_autofree char *path = g_build_filename(folder, files->pdata[i], NULL);
    g_autoptr(GError) bad = NULL;
    Case c;
    case_init(&c);
    if (case_load(&c, path, &bad)) {
      case_take(day, &c, keys, assessor, settings, path);
      day->cases++;
    } else {
      g_ptr_array_add(day->trouble, g_strdup(bad->message));
    }
    case_clear(&c);
  }
  assessor_free(assessor);
  g_ptr_array_sort(day->decision, by_time);
  return day;
}

void lab_day_free(LabDay *day)
{
  if (!day)
    return;
  g_free(day->date);
  g_free(day->folder);
  g_ptr_array_unref(day->decision);
  g_ptr_array_unref(day->trouble);
  g_free(day);
}
