/* practice_progress.c - the trainee's file: kept after each work that is handed in.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/practice/practice_private.h"
#include "practice/class_folder.h"
#include "ui/preferences.h"
#include <glib/gstdio.h>
#include <math.h>

#define TRAINEE "trainee" /* preference: who practised last */

gint64 practice_now(void)
{
  return g_get_real_time() / G_USEC_PER_SEC;
}

/* A name in any script as a file name: its letters, and a digest that keeps two names apart. */
static char *progress_file(const char *data_dir, const char *trainee)
{
  g_autofree char *digest = g_compute_checksum_for_string(G_CHECKSUM_SHA256, trainee, -1);
  g_autofree char *safe = g_str_to_ascii(trainee, "C");
  g_strcanon(safe, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-", '-');
  digest[8] = '\0';
  g_autofree char *name = *trainee ? g_strdup_printf("%.40s-%s" PROGRESS_ENDING, safe, digest)
                                   : g_strdup("me" PROGRESS_ENDING);
  return g_build_filename(data_dir, name, NULL);
}

static bool progress_take(SoffitPracticeDesk *self, const char *trainee, GError **error)
{
  g_autofree char *path = progress_file(self->data_dir, trainee);
  char *message = NULL;
  Progress *progress = progress_load(path, &message, error);
  if (!progress)
    return false;
  if (!*progress->trainee && *trainee) {
    g_free(progress->trainee);
    progress->trainee = g_strdup(trainee);
  }
  progress_free(self->progress);
  self->progress = progress;
  g_free(self->progress_path);
  self->progress_path = g_steal_pointer(&path);
  g_free(self->message);
  self->message = message;
  return true;
}

void practice_progress_open(SoffitPracticeDesk *self)
{
  g_autofree char *trainee = preference_word(TRAINEE);
  g_autoptr(GError) error = NULL;
  if (progress_take(self, trainee ? trainee : "", &error))
    return;
  self->progress = progress_new(trainee ? trainee : "");
  self->message = g_strdup(error->message);
}

void practice_progress_keep(SoffitPracticeDesk *self)
{
  if (practice_desk_plays(self)) /* there is nothing to pass */
    return;
  Attempt *attempt = progress_add(self->progress, self->exercise, &self->handed, practice_now());
  attempt->hints = (gint)self->hints;
  for (size_t i = 0; i < self->hints; i++)
    attempt->shown =
        attempt->shown || i + 1 == self->exercise->n_hint || self->exercise->hint[i].ghost;
  if (self->has_cross && practice_desk_asks_place(self))
    attempt->place_mm = prediction_place(self->start, self->cross_connector, self->cross).miss;
  if (practice_desk_asks_gain(self)) {
    attempt->gain_guess = self->guess;
    attempt->gain_real = practice_desk_gain(self);
  }
  g_autoptr(GError) error = NULL;
  if (self->progress_path) {
    g_mkdir_with_parents(self->data_dir, 0700);
    if (!progress_save(self->progress, self->progress_path, &error)) {
      g_free(self->message);
      self->message = g_strdup(error->message);
    }
  }
  practice_emit(self, PRACTICE_PROGRESS_CHANGED);
}

const Progress *practice_desk_progress(SoffitPracticeDesk *self)
{
  return self->progress;
}

const char *practice_desk_message(SoffitPracticeDesk *self)
{
  return self->message;
}

bool practice_desk_set_trainee(SoffitPracticeDesk *self, const char *name, GError **error)
{
  if (!progress_take(self, name, error))
    return false;
  preference_word_set(TRAINEE, name);
  practice_emit(self, PRACTICE_PROGRESS_CHANGED);
  return true;
}

bool practice_desk_export(SoffitPracticeDesk *self, const char *path, GError **error)
{
  return progress_save(self->progress, path, error);
}

bool practice_desk_forget(SoffitPracticeDesk *self, GError **error)
{
  if (self->progress_path && g_file_test(self->progress_path, G_FILE_TEST_EXISTS) &&
      !progress_remove(self->progress_path, error))
    return false;
  char *trainee = g_strdup(self->progress->trainee);
  progress_free(self->progress);
  self->progress = progress_new(trainee);
  g_free(trainee);
  practice_emit(self, PRACTICE_PROGRESS_CHANGED);
  return true;
}
