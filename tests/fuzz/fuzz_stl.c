/* fuzz_stl.c - spoiled STL files through reading, necks and outlines: an answer or a sentence,
 * never a crash or a hang. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Fixed seed: the same spoiled files every time.  Run under the sanitizers by tests/run.sh. */
#include "../core/surfaces.h"
#include "mesh/trace.h"

#define SEED 20310204
#define ROUNDS 40
#define TRACED 2 /* surfaces of a kind whose outlines are traced too, which takes long */

static void spoil(GRand *rand, GString *file)
{
  static const char *const odd[] = {"NaN",    "-inf",     "1e308",     "facet", "endloop",
                                    "vertex", "endsolid", "solid x\n", "\xff",  "1,5"};
  int times = g_rand_int_range(rand, 1, 6);
  for (int i = 0; i < times && file->len > 200; i++) {
    gsize at = (gsize)g_rand_int_range(rand, 0, (gint32)file->len - 100);
    gssize n = g_rand_int_range(rand, 1, 100);
    switch (g_rand_int_range(rand, 0, 6)) {
    case 0:
      file->str[at] ^= (char)(1 << g_rand_int_range(rand, 0, 8));
      break;
    case 1:
      if (g_rand_int_range(rand, 0, 4) == 0)
        g_string_truncate(file, at);
      break;
    case 2:
      g_string_erase(file, (gssize)at, n);
      break;
    case 3: {
      g_autofree char *part = g_memdup2(file->str + at, (gsize)n);
      g_string_insert_len(file, g_rand_int_range(rand, 0, (gint32)file->len), part, n);
      break;
    }
    case 4: /* a whole triangle of a binary file, another order, another place */
      at = 84 + (at / 50) * 50;
      for (gsize k = 12; k < 48 && at + k < file->len; k++)
        file->str[at + k] = (char)g_rand_int(rand);
      break;
    default: {
      const char *word = odd[g_rand_int_range(rand, 0, G_N_ELEMENTS(odd))];
      g_string_insert(file, (gssize)at, word);
    }
    }
  }
}

/* What was read must hold together; necks are tried on it, and outlines where traced. */
static void use(const Mesh *mesh, const StlReport *report, bool traced)
{
  static MeshSpan span;
  MeshFrame frame;
  for (size_t i = 0; i < mesh->n; i++)
    for (int k = 0; k < 3; k++)
      g_assert_cmpuint(mesh->triangle[i].v[k], <, mesh->n_at);
  for (size_t i = 0; i < mesh->n_at; i++)
    g_assert_true(isfinite(mesh->at[i].x) && isfinite(mesh->at[i].y) && isfinite(mesh->at[i].z));
  g_assert_cmpuint(report->n_note, <=, STL_NOTES);
  if (mesh_frame_guess(mesh, (Vec3){0, 1, 0}, false, &frame) ||
      span_find(mesh, &frame, NULL, &span))
    return;
  for (size_t i = 0; traced && i < span.n_neck && i < 2; i++) {
    TraceSettings settings = {{2, 2}, TRACE_TOLERANCE_MM, 0.05};
    Trace trace;
    trace_init(&trace);
    trace_reach(&span, i, settings.reach);
    Fault fault = trace_connector(mesh, &span.neck[i], &settings, NULL, &trace);
    if (!fault) {
      g_assert_true(isfinite(trace.worst_mm));
      g_assert_cmpint(outline_check(&trace.gingival), ==, FAULT_NONE);
      g_assert_true(trace.section.n == 0 || trace.section.closed);
    }
    trace_clear(&trace);
  }
}

static void fuzz(bool text)
{
  GRand *rand = g_rand_new_with_seed(SEED + text);
  Facets s = surface_new();
  surface_tube(&s, row_point, &ROW_SOUND, -9, 9, 48, 16, false);
  GString *sound = text ? surface_text(&s) : surface_binary(&s);
  int opened = 0;
  for (int i = 0; i < ROUNDS; i++) {
    GString *file = g_string_new_len(sound->str, (gssize)sound->len);
    Mesh mesh = {0};
    StlReport report;
    spoil(rand, file);
    Fault fault = stl_read(file->str, file->len, STL_UNIT_GUESS, NULL, &mesh, &report);
    g_assert_true((mesh.at != NULL) == (fault == FAULT_NONE));
    if (fault)
      g_assert_nonnull(report.wrong.text);
    else
      use(&mesh, &report, opened < TRACED);
    opened += !fault;
    mesh_clear(&mesh);
    g_string_free(file, TRUE);
  }
  g_test_message("%d of %d spoiled surfaces opened", opened, ROUNDS);
  g_assert_cmpint(opened, >, ROUNDS / 20);
  g_assert_cmpint(opened, <, ROUNDS);
  g_string_free(sound, TRUE);
  surface_free(&s);
  g_rand_free(rand);
}

static void fuzz_binary(void)
{
  fuzz(false);
}

static void fuzz_text(void)
{
  fuzz(true);
}

/* Bytes of no meaning; some behind a head that promises triangles. */
static void fuzz_garbage(void)
{
  GRand *rand = g_rand_new_with_seed(SEED);
  for (int i = 0; i < ROUNDS; i++) {
    GString *file = g_string_new(i % 3 == 0 ? "solid " : "");
    int n = g_rand_int_range(rand, 0, 3000);
    for (int k = 0; k < n; k++)
      g_string_append_c(file, (char)g_rand_int(rand));
    if (i % 2 && file->len >= 84)
      for (int k = 0; k < 4; k++)
        file->str[80 + k] = (char)((file->len - 84) / 50 >> (8 * k) & 0xff);
    Mesh mesh = {0};
    StlReport report;
    Fault fault = stl_read(file->str, file->len, STL_UNIT_GUESS, NULL, &mesh, &report);
    g_assert_true((mesh.at != NULL) == (fault == FAULT_NONE));
    if (!fault)
      use(&mesh, &report, true);
    mesh_clear(&mesh);
    g_string_free(file, TRUE);
  }
  g_rand_free(rand);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/fuzz/stl binary", fuzz_binary);
  g_test_add_func("/fuzz/stl text", fuzz_text);
  g_test_add_func("/fuzz/stl garbage", fuzz_garbage);
  return g_test_run();
}
