/* fuzz_case.c - spoiled case files and drawings: an answer or a message, never a crash or a hang.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Fixed seed: the same spoiled files every time.  Run under the sanitizers by tests/run.sh. */
#include "casefile/case_xml.h"
#include "casefile/shipped.h"
#include "casefile/svg_xml.h"
#include <glib/gstdio.h>
#include <string.h>

#define SEED 20310203
#define CASE_ROUNDS 250 /* for each of the ten demo cases */
#define SVG_ROUNDS 1500

static GString *spoil(GRand *rand, const char *text, gsize size)
{
  static const char *const odd[] = {
      "NaN",  "-1",    "1e308", "&a;",         "<", "\"", "/>", "]]>", "<!--",
      "\xff", "\xc3",  "0x1",   "99999999999", "(", ")",  ";",  "M",   "A 0 0 0 0 0 0 0",
      "Z",    "1e-320"};
  GString *out = g_string_new_len(text, (gssize)size);
  int times = g_rand_int_range(rand, 1, 5);
  for (int i = 0; i < times && out->len > 2; i++) {
    gsize at = (gsize)g_rand_int_range(rand, 0, (gint32)out->len);
    gsize most = MIN(out->len - at, 200);
    gssize n = (gssize)g_rand_int_range(rand, 1, (gint32)most + 1);
    switch (g_rand_int_range(rand, 0, 7)) {
    case 0:
      out->str[at] ^= (char)(1 << g_rand_int_range(rand, 0, 8));
      break;
    case 1:
      g_string_truncate(out, at);
      break;
    case 2: {
      char *part = g_strndup(out->str + at, (gsize)n);
      g_string_insert(out, g_rand_int_range(rand, 0, (gint32)out->len), part);
      g_free(part);
      break;
    }
    case 3:
      g_string_erase(out, (gssize)at, n);
      break;
    case 4: { /* a digit changed: mostly still a good file, with other sizes */
      char *digit = strpbrk(out->str + at, "0123456789");
      if (digit)
        *digit = (char)g_rand_int_range(rand, '0', '9' + 1);
      break;
    }
    case 5: {
      char *digit = strpbrk(out->str + at, "0123456789-");
      if (digit)
        g_string_insert(out, digit - out->str, odd[g_rand_int_range(rand, 0, G_N_ELEMENTS(odd))]);
      break;
    }
    default:
      g_string_insert(out, (gssize)at, odd[g_rand_int_range(rand, 0, G_N_ELEMENTS(odd))]);
    }
  }
  return out;
}

/* Every refusal has a message; every case that opens can be saved and opened again. */
static bool try_case(const GString *text)
{
  Case c, back;
  case_init(&c);
  case_init(&back);
  GError *error = NULL;
  bool good = case_load_memory(&c, text->str, text->len, "spoiled", &error);
  g_assert_true(good == (error == NULL));
  if (good) {
    char place[32];
    const char *reason;
    (void)case_check(&c, place, &reason);
    GString *saved = case_to_xml(&c);
    if (!case_load_memory(&back, saved->str, saved->len, "saved", &error) || !case_equal(&c, &back))
      g_error("lost on its way through a file (%s):\n%s\n%s", error ? error->message : "differs",
              text->str, saved->str);
    g_string_free(saved, TRUE);
  } else {
    g_assert_true(g_str_has_prefix(error->message, "spoiled"));
    g_error_free(error);
  }
  case_clear(&c);
  case_clear(&back);
  return good;
}

static void fuzz_cases(void)
{
  GRand *rand = g_rand_new_with_seed(SEED);
  char **name = shipped_demos();
  int opened = 0, all = 0;
  for (char **n = name; *n; n++) {
    GBytes *bytes = shipped_file(*n);
    gsize size;
    const char *text = g_bytes_get_data(bytes, &size);
    for (int i = 0; i < CASE_ROUNDS; i++, all++) {
      GString *spoiled = spoil(rand, text, size);
      opened += try_case(spoiled);
      g_string_free(spoiled, TRUE);
    }
    g_bytes_unref(bytes);
  }
  g_test_message("%d of %d spoiled cases opened", opened, all);
  g_assert_cmpint(opened, >, all / 50); /* else the spoiling is too coarse to reach far */
  g_assert_cmpint(opened, <, all);
  g_strfreev(name);
  g_rand_free(rand);
}

static void fuzz_drawings(void)
{
  static const char drawing[] =
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"20mm\" height=\"30mm\" viewBox=\"0 0 20 "
      "30\">\n"
      "<g transform=\"translate(1,2) rotate(3)\"><path id=\"gingival\" d=\"M 2 10 L 5 10 C 5 8 6 7 "
      "7 7 s 2 1 2 3 h 4\"/>\n"
      "<path id=\"occlusal\" transform=\"scale(1 1.1)\" d=\"M 2 2 q 2 1 3 2 t 4 0 l 4 -2\"/>\n"
      "<path id=\"buccal\" d=\"M 2 21 L 5 21 A 2 2 30 0 0 9 21 H 13\"/><path id=\"lingual\" d=\"M "
      "13 30 V 29 L 2 28\"/><path id=\"section\" d=\"M 2 40 h 4 l -1 -4 h -2 z\"/></g></svg>";
  GRand *rand = g_rand_new_with_seed(SEED);
  char *folder = g_dir_make_tmp("soffit-XXXXXX", NULL),
       *path = g_build_filename(folder, "spoiled.svg", NULL);
  int opened = 0;
  for (int i = 0; i < SVG_ROUNDS; i++) {
    GString *spoiled = spoil(rand, drawing, sizeof drawing - 1);
    Outline side[SIDE_N], section, silhouette;
    outline_init(&section);
    outline_init(&silhouette);
    for (int k = 0; k < SIDE_N; k++)
      outline_init(&side[k]);
    GError *error = NULL;
    FILE *file = fopen(path, "wb");
    g_assert_nonnull(file);
    g_assert_cmpuint(fwrite(spoiled->str, 1, spoiled->len, file), ==, spoiled->len);
    g_assert_cmpint(fclose(file), ==, 0);
    bool good = svg_load_connector(path, side, &section, &error);
    g_assert_true(good == (error == NULL));
    g_clear_error(&error);
    opened += good;
    g_autoptr(SvgDrawing) all = svg_drawing_load(path, &error);
    g_assert_true((all != NULL) == (error == NULL));
    g_clear_error(&error);
    good = svg_load_silhouette(path, &silhouette, &error);
    g_assert_true(good == (error == NULL));
    g_clear_error(&error);
    for (int k = 0; k < SIDE_N; k++)
      outline_clear(&side[k]);
    outline_clear(&section);
    outline_clear(&silhouette);
    g_string_free(spoiled, TRUE);
  }
  g_test_message("%d of %d spoiled drawings opened", opened, SVG_ROUNDS);
  g_assert_cmpint(opened, >, SVG_ROUNDS / 20);
  g_unlink(path);
  g_rmdir(folder);
  g_free(path);
  g_free(folder);
  g_rand_free(rand);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/fuzz/cases", fuzz_cases);
  g_test_add_func("/fuzz/drawings", fuzz_drawings);
  return g_test_run();
}
