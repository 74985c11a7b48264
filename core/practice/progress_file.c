/* progress_file.c - the file of a trainee's progress, and what is left of one that was damaged.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A key file whose last line is the SHA-256 of all before it: a file that was cut, or half written
 * by a machine that lost its power, is known by that.  Before a good file is replaced it is kept as
 * PATH.last. */
#include "casefile/case_xml.h"
#include "casefile/save.h"
#include "practice/progress.h"
#include <errno.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#define SEAL "# whole "
#define ATTEMPT "attempt "

/* ---- text ---- */

static void put_number(GKeyFile *file, const char *group, const char *key, double value)
{
  if (!isnan(value))
    g_key_file_set_double(file, group, key, value);
}

static void put_skills(GKeyFile *file, const char *group, const char *key, unsigned set)
{
  const char *id[SKILLS];
  gsize n = 0;
  for (int skill = 0; skill < SKILLS; skill++)
    if (set & 1u << skill)
      id[n++] = skill_id((Skill)skill);
  if (n > 0)
    g_key_file_set_string_list(file, group, key, id, n);
}

static char *progress_text(const Progress *p)
{
  g_autoptr(GKeyFile) file = g_key_file_new();
  g_key_file_set_integer(file, "progress", "version", 1);
  g_key_file_set_string(file, "progress", "trainee", p->trainee);
  for (guint i = 0; i < p->attempt->len; i++) {
    const Attempt *a = p->attempt->pdata[i];
    g_autofree char *group = g_strdup_printf(ATTEMPT "%u", i + 1);
    g_key_file_set_string(file, group, "exercise", a->exercise);
    g_key_file_set_int64(file, group, "when", a->when);
    g_key_file_set_boolean(file, group, "passed", a->passed);
    g_key_file_set_integer(file, group, "met", a->met);
    g_key_file_set_integer(file, group, "of", a->of);
    put_number(file, group, "share", a->share);
    g_key_file_set_integer(file, group, "hints", a->hints);
    g_key_file_set_boolean(file, group, "shown", a->shown);
    g_key_file_set_integer(file, group, "strokes", a->strokes);
    put_number(file, group, "place", a->place_mm);
    put_number(file, group, "guess", a->gain_guess);
    put_number(file, group, "gain", a->gain_real);
    put_skills(file, group, "right", a->right);
    put_skills(file, group, "wrong", a->wrong);
  }
  g_autofree char *body = g_key_file_to_data(file, NULL, NULL);
  g_autofree char *digest = g_compute_checksum_for_string(G_CHECKSUM_SHA256, body, -1);
  return g_strconcat(body, SEAL, digest, "\n", NULL);
}

static double get_number(GKeyFile *file, const char *group, const char *key)
{
  g_autoptr(GError) error = NULL;
  double value = g_key_file_get_double(file, group, key, &error);
  return error || !isfinite(value) ? NAN : value;
}

static unsigned get_skills(GKeyFile *file, const char *group, const char *key)
{
  g_auto(GStrv) id = g_key_file_get_string_list(file, group, key, NULL, NULL);
  unsigned set = 0;
  for (char **i = id; i && *i; i++)
    for (int skill = 0; skill < SKILLS; skill++)
      if (strcmp(*i, skill_id((Skill)skill)) == 0)
        set |= 1u << skill;
  return set;
}

static void attempt_read(GKeyFile *file, const char *group, Progress *p)
{
  char *exercise = g_key_file_get_string(file, group, "exercise", NULL);
  if (!exercise)
    return;
  Attempt *a = g_new0(Attempt, 1);
  *a = (Attempt){.exercise = exercise,
                 .when = g_key_file_get_int64(file, group, "when", NULL),
                 .passed = g_key_file_get_boolean(file, group, "passed", NULL),
                 .met = g_key_file_get_integer(file, group, "met", NULL),
                 .of = g_key_file_get_integer(file, group, "of", NULL),
                 .share = get_number(file, group, "share"),
                 .hints = g_key_file_get_integer(file, group, "hints", NULL),
                 .shown = g_key_file_get_boolean(file, group, "shown", NULL),
                 .strokes = g_key_file_get_integer(file, group, "strokes", NULL),
                 .place_mm = get_number(file, group, "place"),
                 .gain_guess = get_number(file, group, "guess"),
                 .gain_real = get_number(file, group, "gain"),
                 .right = get_skills(file, group, "right"),
                 .wrong = get_skills(file, group, "wrong")};
  g_ptr_array_add(p->attempt, a);
}

/* NULL when the text is not whole. */
static Progress *progress_from_text(const char *text)
{
  const char *seal = g_strrstr(text, SEAL);
  if (!seal)
    return NULL;
  g_autofree char *digest =
      g_compute_checksum_for_data(G_CHECKSUM_SHA256, (const guchar *)text, (gsize)(seal - text));
  g_autofree char *end = g_strconcat(SEAL, digest, "\n", NULL);
  g_autoptr(GKeyFile) file = g_key_file_new();
  if (strcmp(seal, end) != 0 ||
      !g_key_file_load_from_data(file, text, (gsize)(seal - text), G_KEY_FILE_NONE, NULL) ||
      g_key_file_get_integer(file, "progress", "version", NULL) != 1)
    return NULL;
  g_autofree char *trainee = g_key_file_get_string(file, "progress", "trainee", NULL);
  Progress *p = progress_new(trainee);
  g_auto(GStrv) group = g_key_file_get_groups(file, NULL);
  for (char **g = group; *g; g++)
    if (g_str_has_prefix(*g, ATTEMPT))
      attempt_read(file, *g, p);
  return p;
}

/* ---- files ---- */

/* The whole text of a file that is sound; NULL otherwise, with the error when it is not to be
 * read. */
static char *sound_text(const char *path, Progress **progress, GError **error)
{
  char *text = NULL;
  if (!g_file_get_contents(path, &text, NULL, error))
    return NULL;
  Progress *read = progress_from_text(text);
  if (!read) {
    g_free(text);
    return NULL;
  }
  if (progress)
    *progress = read;
  else
    progress_free(read);
  return text;
}

static char *last_of(const char *path)
{
  return g_strconcat(path, ".last", NULL);
}

bool progress_save(const Progress *progress, const char *path, GError **error)
{
  g_autofree char *before = sound_text(path, NULL, NULL), *last = last_of(path);
  if (before && !file_save(last, before, strlen(before), error))
    return false;
  g_autofree char *text = progress_text(progress);
  return file_save(path, text, strlen(text), error);
}

Progress *progress_load(const char *path, char **message, GError **error)
{
  Progress *p = NULL;
  g_autofree char *last = last_of(path), *text = NULL;
  if (message)
    *message = NULL;
  if (!g_file_test(path, G_FILE_TEST_EXISTS) && !g_file_test(last, G_FILE_TEST_EXISTS))
    return progress_new("");
  g_autoptr(GError) why = NULL;
  text = sound_text(path, &p, &why);
  if (p)
    return p;
  text = sound_text(last, &p, NULL);
  bool closed = why && !g_error_matches(why, G_FILE_ERROR, G_FILE_ERROR_NOENT);
  if (!p && closed) {
    g_set_error(error, CASE_ERROR, CASE_ERROR_OPEN, "%s. %s", why->message,
                g_dgettext("soffit", N_("See that you may read it, or move it away.")));
    return NULL;
  }
  if (!p) {
    g_set_error(error, CASE_ERROR, CASE_ERROR_OPEN,
                g_dgettext("soffit", N_("%s: the progress is damaged and so is its copy. Move both "
                                        "files away to begin anew.")),
                path);
    return NULL;
  }
  if (message)
    *message = g_strdup_printf(
        closed ? g_dgettext("soffit", N_("%s: the progress cannot be read. The state before the "
                                         "last attempt was taken from its copy."))
               : g_dgettext("soffit",
                            N_("%s: the progress was damaged. The state before the last attempt "
                               "was taken from its copy.")),
        path);
  return p;
}

bool progress_remove(const char *path, GError **error)
{
  g_autofree char *last = last_of(path);
  const char *name[] = {last, path};
  for (size_t i = 0; i < G_N_ELEMENTS(name); i++)
    if (g_remove(name[i]) != 0 && errno != ENOENT) {
      g_set_error(error, CASE_ERROR, CASE_ERROR_SAVE, "%s: %s", name[i], g_strerror(errno));
      return false;
    }
  return true;
}
