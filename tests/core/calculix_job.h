/* calculix_job.h - a job for CalculiX, program ccx: written, run, read back.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N, MPa. */
#pragma once
#include "base/clock.h"
#include <gio/gio.h>
#include <glib.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
  size_t n;
  double (*u)[6], (*stress)[6]; /* by node; of u the first three are used */
  double seconds;               /* of the whole process                   */
} Job;

static inline void job_clear(Job *job)
{
  g_free(job->u);
  g_free(job->stress);
}

/* Reads one block of the result file: lines " -1", node in 10 columns, values in 12 each. */
static inline void block_read(const char *text, const char *name, size_t n, int values,
                              double out[][6])
{
  g_autofree char *head = g_strdup_printf("\n -4  %s", name);
  const char *line = strstr(text, head);
  g_assert_nonnull(line);
  size_t read = 0;
  while ((line = strchr(line + 1, '\n')) && strncmp(line + 1, " -3", 3) != 0) {
    if (strncmp(line + 1, " -1", 3) != 0)
      continue;
    char node[11] = "", value[13] = "";
    memcpy(node, line + 4, 10);
    size_t i = (size_t)atol(node) - 1;
    if (i >= n) /* a node that the solver made of its own */
      continue;
    for (int k = 0; k < values; k++) {
      memcpy(value, line + 14 + 12 * k, 12);
      out[i][k] = g_ascii_strtod(value, NULL);
    }
    read++;
  }
  g_assert_cmpuint(read, ==, n);
}

static inline void folder_remove(const char *folder)
{
  GDir *dir = g_dir_open(folder, 0, NULL);
  for (const char *name; dir && (name = g_dir_read_name(dir));) {
    g_autofree char *path = g_build_filename(folder, name, NULL);
    g_assert_cmpint(g_unlink(path), ==, 0);
  }
  g_clear_pointer(&dir, g_dir_close);
  g_assert_cmpint(g_rmdir(folder), ==, 0);
}

static inline Job job_run(const GString *input, size_t n)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp("soffit-calculix-XXXXXX", &error);
  g_assert_no_error(error);
  g_autofree char *in = g_build_filename(folder, "job.inp", NULL),
                  *out = g_build_filename(folder, "job.frd", NULL), *said = NULL, *text = NULL;
  g_assert_true(g_file_set_contents(in, input->str, (gssize)input->len, NULL));
  char *argv[] = {(char[]){"ccx"}, (char[]){"job"}, NULL};
  Job job = {.n = n, .seconds = -seconds_now()};
  int status = 0;
  g_spawn_sync(folder, argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &said, NULL, &status, &error);
  job.seconds += seconds_now();
  g_assert_no_error(error);
  if (status != 0 || !g_file_get_contents(out, &text, NULL, NULL))
    g_error("ccx failed: %s", said);
  job.u = g_malloc0(n * sizeof *job.u);
  job.stress = g_malloc0(n * sizeof *job.stress);
  block_read(text, "DISP", n, 3, job.u);
  block_read(text, "STRESS", n, 6, job.stress);
  folder_remove(folder);
  return job;
}

/* Numbers of 12 digits: the solver reads the first 20 characters of a field. */
static inline void node_put(GString *job, size_t i, double x, double y, double z)
{
  g_string_append_printf(job, "%zu, %.12g, %.12g, %.12g\n", i + 1, x, y, z);
}

static inline void job_end(GString *job, const GString *held, const GString *loads,
                           const char *options)
{
  g_string_append_printf(
      job, "*BOUNDARY\n%s*STEP\n*STATIC\n*CLOAD\n%s*NODE FILE%s\nU\n*EL FILE\nS\n*END STEP\n",
      held->str, loads->str, options);
}
