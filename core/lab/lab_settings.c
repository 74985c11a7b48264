/* lab_settings.c - see lab_settings.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "lab/lab_settings.h"
#include "casefile/case_xml.h"
#include "casefile/save.h"
#include <string.h>

#define tr(text) g_dgettext("soffit", text)
#define GROUP_LAB "lab"
#define KEY_NAME "name"
#define KEY_BY_TECHNICIAN "figures-by-technician"
#define KEY_CLOSE "close-margin"
#define KEY_HOLDS "holds-margin"
#define KEY_BY "by"
#define KEY_SINCE "since"
#define MOST_BYTES (1024 * 1024)

static void thresholds_clear(void *thresholds)
{
  g_free(((LabThresholds *)thresholds)->by);
}

LabSettings *lab_settings_new(void)
{
  LabSettings *settings = g_new0(LabSettings, 1);
  LabThresholds first = {verdict_limits_default(), g_strdup(""), 0};
  settings->name = g_strdup("");
  settings->thresholds = g_array_new(FALSE, FALSE, sizeof(LabThresholds));
  g_array_set_clear_func(settings->thresholds, thresholds_clear);
  g_array_append_val(settings->thresholds, first);
  return settings;
}

LabSettings *lab_settings_copy(const LabSettings *settings)
{
  LabSettings *copy = lab_settings_new();
  g_free(copy->name);
  copy->name = g_strdup(settings->name);
  copy->by_technician = settings->by_technician;
  g_array_set_size(copy->thresholds, 0);
  for (guint i = 0; i < settings->thresholds->len; i++) {
    LabThresholds t = g_array_index(settings->thresholds, LabThresholds, i);
    t.by = g_strdup(t.by);
    g_array_append_val(copy->thresholds, t);
  }
  return copy;
}

void lab_settings_free(LabSettings *settings)
{
  if (!settings)
    return;
  g_free(settings->name);
  g_array_unref(settings->thresholds);
  g_free(settings);
}

const LabThresholds *lab_settings_now(const LabSettings *settings)
{
  return &g_array_index(settings->thresholds, LabThresholds, settings->thresholds->len - 1);
}

bool verdict_limits_check(const VerdictLimits *limits, const char **reason)
{
  const double least = MARGIN_LIMIT_LEAST, most = MARGIN_LIMIT_MOST;
  *reason = NULL;
  if (!(limits->close_margin >= least && limits->close_margin <= most) ||
      !(limits->holds_margin >= least && limits->holds_margin <= most))
    *reason = N_("a margin is outside 0.5 to 5. Write a number such as 1.25.");
  else if (limits->close_margin > limits->holds_margin)
    *reason = N_("the close margin is above the one that holds. Write the smaller one first.");
  return *reason == NULL;
}

/* ---- reading ---- */

/* Where a group, or a key of it, stands in the text, from 1; 0 = nowhere.  GKeyFile does not tell.
 */
static guint line_of(const char *text, const char *group, const char *key)
{
  g_autofree char *head = g_strdup_printf("[%s]", group);
  g_auto(GStrv) line = g_strsplit(text, "\n", -1);
  bool inside = false;
  guint at = 0;
  for (guint i = 0; line[i]; i++) {
    g_strstrip(line[i]);
    if (line[i][0] == '[') {
      inside = strcmp(line[i], head) == 0;
      at = inside ? i + 1 : at;
    }
    size_t n = key ? strlen(key) : 0;
    if (inside && n && strncmp(line[i], key, n) == 0 && strchr(" \t=", line[i][n]))
      return i + 1;
  }
  return at;
}

typedef struct {
  const char *path, *text;
  GKeyFile *keys;
  GError **error;
  bool failed;
} IniReader;

static bool ini_fail(IniReader *r, const char *group, const char *key, const char *what)
{
  if (!r->failed)
    g_set_error(r->error, CASE_ERROR, CASE_ERROR_VALUE, "%s:%u: [%s] %s: %s", r->path,
                line_of(r->text, group, key), group, key, what);
  r->failed = true;
  return false;
}

static void ini_number(IniReader *r, const char *group, const char *key, double *value)
{
  g_autofree char *text = g_key_file_get_value(r->keys, group, key, NULL);
  char *end = text;
  double number = text ? g_ascii_strtod(text, &end) : NAN;
  if (!text || end == text || *end != '\0' || !isfinite(number))
    ini_fail(r, group, key, tr(N_("a number is needed. Write one such as 1.25.")));
  else
    *value = number;
}

static void ini_text(IniReader *r, const char *group, const char *key, char **value)
{
  g_autoptr(GError) why = NULL;
  if (!g_key_file_has_key(r->keys, group, key, NULL))
    return;
  char *text = g_key_file_get_string(r->keys, group, key, &why);
  if (!text) {
    ini_fail(r, group, key, tr(N_("this is no text in UTF-8. Write it anew.")));
    return;
  }
  g_free(*value);
  *value = text;
}

static void ini_thresholds(IniReader *r, const char *group, LabSettings *settings)
{
  LabThresholds t = {.by = g_strdup("")};
  g_autofree char *since = g_strdup("");
  const char *reason;
  ini_number(r, group, KEY_CLOSE, &t.limits.close_margin);
  ini_number(r, group, KEY_HOLDS, &t.limits.holds_margin);
  ini_text(r, group, KEY_BY, &t.by);
  ini_text(r, group, KEY_SINCE, &since);
  if (!r->failed && !verdict_limits_check(&t.limits, &reason))
    ini_fail(r, group, KEY_HOLDS, tr(reason));
  if (!r->failed && *since) {
    g_autoptr(GTimeZone) utc = g_time_zone_new_utc();
    g_autoptr(GDateTime) time = g_date_time_new_from_iso8601(since, utc);
    if (time)
      t.since_us = g_date_time_to_unix(time) * G_USEC_PER_SEC;
    else
      ini_fail(r, group, KEY_SINCE,
               tr(N_("this is no time. Write one such as 2026-03-02T10:20:00Z.")));
  }
  g_array_append_val(settings->thresholds, t);
}

/* "thresholds 1", "thresholds 2" ... without a gap. */
static char *group_name(guint number)
{
  return g_strdup_printf("thresholds %u", number);
}

static LabSettings *settings_read(IniReader *r)
{
  LabSettings *settings = lab_settings_new();
  ini_text(r, GROUP_LAB, KEY_NAME, &settings->name);
  g_autofree char *on = g_key_file_get_value(r->keys, GROUP_LAB, KEY_BY_TECHNICIAN, NULL);
  if (on && strcmp(on, "true") != 0 && strcmp(on, "false") != 0)
    ini_fail(r, GROUP_LAB, KEY_BY_TECHNICIAN, tr(N_("write true or false.")));
  settings->by_technician = on && strcmp(on, "true") == 0;
  for (guint i = 1; !r->failed; i++) {
    g_autofree char *group = group_name(i);
    if (!g_key_file_has_group(r->keys, group))
      break;
    ini_thresholds(r, group, settings);
  }
  return settings;
}

/* Key file and text of the folder; an absent file is empty. */
static bool ini_open(const char *folder, char **path, char **text, GKeyFile **keys, GError **error)
{
  g_autoptr(GError) why = NULL;
  gsize length = 0;
  *path = g_build_filename(folder, LAB_SETTINGS_FILE, NULL);
  *keys = g_key_file_new();
  *text = NULL;
  if (!g_file_get_contents(*path, text, &length, &why)) {
    if (g_error_matches(why, G_FILE_ERROR, G_FILE_ERROR_NOENT)) {
      *text = g_strdup("");
      return true;
    }
    g_set_error(error, CASE_ERROR, CASE_ERROR_OPEN, tr(N_("%s: %s. Ask who keeps this folder.")),
                *path, why->message);
    return false;
  }
  bool fits = length <= MOST_BYTES && strlen(*text) == length;
  if (fits && (length == 0 || g_key_file_load_from_data(
                                  *keys, *text, length,
                                  G_KEY_FILE_KEEP_COMMENTS | G_KEY_FILE_KEEP_TRANSLATIONS, &why)))
    return true;
  g_set_error(error, CASE_ERROR, CASE_ERROR_VALUE,
              tr(N_("%s: this is no settings file (%s). Mend it with a text editor, or take it "
                    "away: the usual values are then taken.")),
              *path, why ? why->message : tr(N_("it holds other bytes than text")));
  return false;
}

LabSettings *lab_settings_load(const char *folder, GError **error)
{
  g_autofree char *path = NULL, *text = NULL;
  g_autoptr(GKeyFile) keys = NULL;
  if (!ini_open(folder, &path, &text, &keys, error))
    return NULL;
  IniReader r = {path, text, keys, error, false};
  LabSettings *settings = settings_read(&r);
  if (!r.failed)
    return settings;
  lab_settings_free(settings);
  return NULL;
}

/* ---- writing ---- */

static bool ini_save(GKeyFile *keys, const char *path, GError **error)
{
  gsize length;
  g_autofree char *text = g_key_file_to_data(keys, &length, NULL);
  return file_save(path, text, length, error);
}

static void ini_set_number(GKeyFile *keys, const char *group, const char *key, double value)
{
  char text[32];
  phrase_number(value, 2, ".", text, sizeof text);
  g_key_file_set_value(keys, group, key, text);
}

static bool limits_equal(const VerdictLimits *a, const VerdictLimits *b)
{
  return fabs(a->close_margin - b->close_margin) < 0.005 &&
         fabs(a->holds_margin - b->holds_margin) < 0.005;
}

bool lab_settings_set_limits(const char *folder, const VerdictLimits *limits, const Person *by,
                             gint64 now_us, GError **error)
{
  g_autofree char *path = NULL, *text = NULL;
  g_autoptr(GKeyFile) keys = NULL;
  const char *reason = NULL;
  if (!ini_open(folder, &path, &text, &keys, error))
    return false;
  IniReader r = {path, text, keys, error, false};
  g_autoptr(LabSettings) settings = settings_read(&r);
  if (r.failed)
    return false;
  if (!by || !by->name || !*by->name)
    reason = N_("who sets the thresholds is not known. Enter your name in the preferences.");
  if (reason || !verdict_limits_check(limits, &reason)) {
    g_set_error(error, CASE_ERROR, CASE_ERROR_VALUE, "%s: %s", path, tr(reason));
    return false;
  }
  const LabThresholds *now = lab_settings_now(settings);
  if (limits_equal(&now->limits, limits))
    return true;
  g_autofree char *group = group_name(settings->thresholds->len); /* the first is the usual one */
  g_autofree char *who =
      by->role && *by->role ? g_strdup_printf("%s, %s", by->name, by->role) : g_strdup(by->name);
  g_autoptr(GDateTime) time =
      g_date_time_new_from_unix_utc(MAX(now_us, now->since_us) / G_USEC_PER_SEC);
  g_autofree char *since = g_date_time_format(time, "%Y-%m-%dT%H:%M:%SZ");
  ini_set_number(keys, group, KEY_CLOSE, limits->close_margin);
  ini_set_number(keys, group, KEY_HOLDS, limits->holds_margin);
  g_key_file_set_string(keys, group, KEY_BY, who);
  g_key_file_set_string(keys, group, KEY_SINCE, since);
  return ini_save(keys, path, error);
}

bool lab_settings_set(const char *folder, const char *name, bool by_technician, GError **error)
{
  g_autofree char *path = NULL, *text = NULL;
  g_autoptr(GKeyFile) keys = NULL;
  if (!ini_open(folder, &path, &text, &keys, error))
    return false;
  g_key_file_set_string(keys, GROUP_LAB, KEY_NAME, name);
  g_key_file_set_boolean(keys, GROUP_LAB, KEY_BY_TECHNICIAN, by_technician);
  return ini_save(keys, path, error);
}

/* ---- decisions ---- */

char *verdict_limits_to_text(const VerdictLimits *limits)
{
  char close[32], holds[32];
  phrase_number(limits->close_margin, 2, ".", close, sizeof close);
  phrase_number(limits->holds_margin, 2, ".", holds, sizeof holds);
  return g_strdup_printf("%s %s", close, holds);
}

bool verdict_limits_from_text(const char *text, VerdictLimits *limits)
{
  char *middle, *end;
  const char *reason;
  VerdictLimits read = {.close_margin = g_ascii_strtod(text, &middle)};
  if (middle == text || *middle != ' ')
    return false;
  read.holds_margin = g_ascii_strtod(middle + 1, &end);
  if (end == middle + 1 || *end || !verdict_limits_check(&read, &reason))
    return false;
  *limits = read;
  return true;
}

VerdictLimits lab_settings_limits(const LabSettings *settings, const Case *c,
                                  const Standing *standing)
{
  VerdictLimits limits = lab_settings_now(settings)->limits;
  bool decided = standing->state == STANDING_PASSED || standing->state == STANDING_RETURNED;
  if (decided && standing->entry < c->history->len) {
    const HistoryEntry *decision = c->history->pdata[standing->entry];
    verdict_limits_from_text(decision->limits, &limits);
  }
  return limits;
}
