/* test_exercise.c - the exercises of the school bench: all whole, solvable, readable; broken files.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_work.h"
#include "case_files.h"
#include "proof.h"
#include "verdict/brush_size.h"
#include <locale.h>

#define COUNTED 24
#define SHIPPED (COUNTED + 2) /* free play behind them */

static GPtrArray *set; /* the shipped ones */

/* What a teacher's file goes through, schemas included. */
static void test_whole(void)
{
  g_auto(GStrv) name = shipped_names("exercises");
  g_assert_cmpuint(g_strv_length(name), ==, SHIPPED);
  g_assert_cmpuint(set->len, ==, SHIPPED);
  for (char **n = name; *n; n++) {
    g_autofree char *text = shipped_text(*n);
    GError *error = NULL;
    g_autoptr(Exercise) e = exercise_load_memory(text, strlen(text), *n, false, &error);
    g_assert_no_error(error);
    g_assert_true((e->criterion->len + e->n_question > 0) == exercise_counts(e));
    g_assert_cmpuint(e->n_hint, ==, 3);
    g_assert_cmpuint(e->skills, !=, 0);
    g_assert_true(e->hint[2].ghost == (e->answer.n_unit > 0));
  }
}

/* Six a level, in order, each leads to the next, then free play; every kind of the bench is there.
 */
static void test_line(void)
{
  unsigned kinds = 0, skills = 0;
  g_assert_cmpuint(exercises_counted(set), ==, COUNTED);
  for (guint i = 0; i < COUNTED; i++) {
    const Exercise *e = set->pdata[i], *next = i + 1 < COUNTED ? set->pdata[i + 1] : NULL;
    g_autofree char *id = g_strdup_printf("%u.%u", i / 6 + 1, i % 6 + 1);
    g_assert_cmpstr(e->id, ==, id);
    g_assert_cmpint(e->level, ==, (int)(i / 6 + 1));
    g_assert_cmpstr(e->next, ==, next ? next->id : "");
    kinds |= 1u << e->kind;
    skills |= e->skills;
  }
  for (guint i = COUNTED; i < SHIPPED; i++) {
    const Exercise *e = set->pdata[i];
    g_autofree char *id = g_strdup_printf("F.%u", i - COUNTED + 1);
    g_assert_cmpstr(e->id, ==, id);
    kinds |= 1u << e->kind;
  }
  g_assert_cmpuint(kinds, ==, (1u << EXERCISE_KINDS) - 1);
  g_assert_cmpuint(skills, ==, (1u << SKILLS) - 1);
}

/* The start fails even with every question answered rightly, where there is something to draw; the
 * worked answer passes. */
static void test_solvable(void)
{
  Assessor *assessor = NULL;
  ok(assessor_new(&assessor));
  for (guint i = 0; i < COUNTED; i++) {
    const Exercise *e = set->pdata[i];
    Assessment *start = bench_assess(assessor, &e->start, ASSESS_LIVE);
    Assessment *mine =
        e->answer.n_unit ? bench_assess(assessor, &e->answer, ASSESS_LIVE) : assessment_ref(start);
    Work work = {.exercise = e, .start = start, .mine = start, .strokes = -1};
    Score score;
    score_work(&work, &score);
    g_assert_false(score.passed);
    bench_answer(&work);
    score_work(&work, &score);
    g_assert_true(score.passed == (e->answer.n_unit == 0));
    work.mine = mine;
    score_work(&work, &score);
    for (size_t r = 0; r < score.n; r++)
      if (!score.row[r].met)
        g_test_message("%s: row %zu", e->id, r);
    g_assert_true(score.passed);
    g_assert_cmpfloat(score.share, ==, 1);
    bench_clear(&work);
    assessment_unref(mine);
    assessment_unref(start);
  }
  assessor_free(assessor);
}

/* The trade's gauge sizes of the worked outlines, reckoned outside of Soffit from the corners
 * (roof, neck height x width, circle): tables of the exercises' author. */
static void test_sizes(void)
{
  static const struct {
    const char *id;
    double roof, radius, gap, height, area;
  } row[] = {{"1.1", 2.58, 0.20, 1.79, 3.62, 9.1}, {"1.4", 2.37, 0.30, 2.12, 3.73, 9.1},
             {"2.2", 2.29, 0.25, 1.66, 3.51, 9.1}, {"2.3", 2.60, 0.80, 2.57, 3.40, 9.1},
             {"3.3", 1.62, 0.15, 0.97, 3.58, 7.3}, {"3.5", 2.50, 0.50, 2.39, 3.40, 8.0},
             {"4.1", 2.58, 0.20, 1.79, 3.42, 8.9}, {"4.3", 2.90, 0.35, 2.21, 3.60, 9.0},
             {"4.4", 2.40, 0.35, 2.23, 3.50, 8.8}};
  const Source source = {"corners of the exercises, reckoned by their author apart from Soffit",
                         READ};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    const Exercise *e = exercise_find(set, row[i].id);
    const Connector *k = &e->start.connector[e->focus];
    Form form;
    ok(form_read(&k->side[SIDE_GINGIVAL], &k->side[SIDE_OCCLUSAL], &k->side[SIDE_BUCCAL],
                 &k->side[SIDE_LINGUAL], NULL, &form, NULL));
    const double got[] = {form.roof.y, form.roof_radius.value, form.gap_circle, form.neck_height,
                          G_PI / 4 * form.neck_height * form.neck_width};
    const double known[] = {row[i].roof, row[i].radius, row[i].gap, row[i].height, row[i].area};
    const char *const what[] = {"roof", "roof radius", "gap circle", "neck height", "neck area"};
    for (size_t k2 = 0; k2 < G_N_ELEMENTS(got); k2++) {
      g_autofree char *name = g_strdup_printf("exercise %s, %s", row[i].id, what[k2]);
      double half = k2 == 4 ? 0.06 : 0.02; /* as printed; their circles stand on a flat tissue */
      proof_row_between(name, source, known[k2], got[k2], known[k2] - half, known[k2] + half);
    }
  }
}

/* "brush of 1.5 mm (size 4)" in the words of a scenario, against the sizes by passage hole. */
static void test_brushes(void)
{
  guint n = 0;
  g_autoptr(GRegex) regex = g_regex_new("brush of (\\d\\.\\d) mm \\(size (\\d)\\)", 0, 0, NULL);
  for (guint i = 0; i < set->len; i++) {
    const Exercise *e = set->pdata[i];
    g_autoptr(GMatchInfo) match = NULL;
    if (!g_regex_match(regex, e->scenario, 0, &match))
      continue;
    g_autofree char *mm = g_match_info_fetch(match, 1), *size = g_match_info_fetch(match, 2);
    double passage = g_ascii_strtod(mm, NULL);
    g_assert_cmpfloat(passage, ==, e->start.brush_mm);
    g_assert_cmpint(brush_size_through(passage).size, ==, atoi(size));
    n++;
  }
  g_assert_cmpuint(n, >=, 9);
}

/* ---- plain words ---- */

/* Groups of vowels, a silent e at the end not counted: the usual way to count by machine. */
static int syllables(const char *word, size_t length)
{
  int n = 0;
  bool vowel = false;
  for (size_t i = 0; i < length; i++) {
    bool now = strchr("aeiouyAEIOUY", word[i]) != NULL;
    n += now && !vowel;
    vowel = now;
  }
  if (n > 1 && length > 2 && word[length - 1] == 'e' && !strchr("aeiouy", word[length - 2]) &&
      word[length - 2] != 'l')
    n--;
  return MAX(n, 1);
}

/* Reading ease by Flesch 1948: 206.835 - 1.015 words / sentence - 84.6 syllables / word. */
static double reading_ease(const char *text)
{
  int words = 0, sentences = 0, sounds = 0;
  for (const char *p = text; *p;) {
    const char *begin = p;
    while (g_ascii_isalpha(*p))
      p++;
    if (p > begin) {
      words++;
      sounds += syllables(begin, (size_t)(p - begin));
    } else {
      bool end = strchr(".?!:;", *p) && (p[1] == ' ' || p[1] == '\0');
      sentences += end;
      p++;
    }
  }
  return 206.835 - 1.015 * words / MAX(sentences, 1) - 84.6 * sounds / MAX(words, 1);
}

static void test_plain(void)
{
  const Source flesch = {"Flesch 1948, formula and 60 = plain English", FROM_MEMORY};
  double least = INFINITY;
  for (guint i = 0; i < set->len; i++) {
    const Exercise *e = set->pdata[i];
    GString *text = g_string_new(NULL);
    g_string_printf(text, "%s %s %s", e->scenario, e->task, e->learnt);
    for (size_t h = 0; h < e->n_hint; h++)
      g_string_append_printf(text, " %s", e->hint[h].text);
    double ease = reading_ease(text->str);
    if (ease < 60)
      g_test_message("%s: %.0f", e->id, ease);
    least = fmin(least, ease);
    g_string_free(text, TRUE);
  }
  g_assert_cmpfloat(reading_ease("The cat sat on the mat."), >, 110);
  g_assert_cmpfloat(reading_ease("Manufacturers' heterogeneous recommendations necessitate "
                                 "interdisciplinary considerations."),
                    <, 0);
  proof_row_between("reading ease of the hardest exercise", flesch, 60, least, 60, 125);
}

/* ---- written again ---- */

static void put_file(const char *name, const char *text)
{
  g_autofree char *path = in_folder(name);
  g_assert_true(g_file_set_contents(path, text, -1, NULL));
}

static void drop_file(const char *name)
{
  g_autofree char *path = in_folder(name);
  g_assert_cmpint(g_remove(path), ==, 0);
}

/* Every word and number of every exercise comes back from its own file. */
static void test_round_trip(void)
{
  for (guint i = 0; i < set->len; i++) {
    const Exercise *e = set->pdata[i];
    g_autofree char *name = g_strdup_printf("%s.xml", e->id), *path = in_folder(name);
    GError *error = NULL;
    g_assert_true(exercise_save(e, path, &error));
    g_assert_no_error(error);
    g_autoptr(Exercise) back = exercise_load(path, &error);
    g_assert_no_error(error);
    if (!exercise_equal(e, back))
      g_error("%s is another one when it is read again", e->id);
    back->level = 5 - back->level; /* the comparison sees a change */
    g_assert_false(exercise_equal(e, back));
    drop_file(name);
  }
}

/* ---- broken files ---- */

static char *with(const char *from, const char *to)
{
  g_autofree char *text = shipped_text("exercises/1-1.xml");
  g_auto(GStrv) part = g_strsplit(text, from, 2);
  g_assert_cmpuint(g_strv_length(part), ==, 2);
  return g_strjoinv(to, part);
}

static void refused(const char *from, const char *to, const char *message)
{
  g_autofree char *text = with(from, to);
  g_autoptr(GError) error = NULL;
  g_autoptr(Exercise) e = exercise_load_memory(text, strlen(text), "own.xml", false, &error);
  if (e || !strstr(error->message, message))
    g_error("%s -> %s: %s", from, to, error ? error->message : "taken");
}

static void test_broken(void)
{
  refused("<exercise ", "<exercize ", "own.xml");
  refused("exercise\" version=\"1\"", "exercise\" version=\"2\"", "newer Soffit");
  refused("level=\"1\"", "level=\"7\"", "own.xml:4: ");
  refused("kind=\"reshape\"", "kind=\"quiz\"", "own.xml:4: ");
  refused("title=\"From V to U\"", "", "title");
  refused("skills=\"radius brush\"", "skills=\"radius magic\"", "own.xml:4: ");
  refused("measure=\"roof-radius\"", "measure=\"beauty\"", "own.xml:33: ");
  refused("between=\"34-35\" least=\"0.8\"", "between=\"35-34\" least=\"0.8\"",
          "own.xml:33: no two");
  refused(" least=\"0.8\"", "", "own.xml:33: the criterion has no limit");
  refused("least=\"0.8\"", "least=\"0.8\" most=\"0.5\"", "nothing can be at least");
  refused("measure=\"feet\" between=\"34-35\" most", "measure=\"feet\" between=\"34-35\" least",
          "own.xml:36: least");
  refused("least=\"0.8\"", "least=\"nan\"", "own.xml:33: ");
  refused("r 0.2)", "r 9)", "own.xml:20: "); /* of the case inside */
  refused("role=\"pontic\"", "role=\"bridge\"", "own.xml:15: ");
  refused("<trial ", "<trail ", "own.xml:10: ");
  refused("<learnt>", "<learned>", "own.xml");
  refused(
      "<task>Turn this V into a U. Keep the gap for the brush and the height of the neck.</task>",
      "", "no <task>");
  refused("<hints>", "<hints><hint colour=\"red\">x</hint>", "own.xml:39: ");
  refused("(1.1, 2.4; r 0.9)", "(1.1, 2.4; r 0.9", "own.xml");
  refused("<criteria>", "<criteria><!DOCTYPE x>", "own.xml");
  refused("between=\"34-35\">\n  <scenario>", "between=\"11-21\">\n  <scenario>", "no two");
}

/* More dropped into a folder; the broken one is named with its line and left out. */
static void test_folder(void)
{
  g_autofree char *good = with("id=\"1.1\"", "id=\"1.10\""),
                  *again = with("\"From V", "\"Again, from V"),
                  *bad = with("measure=\"gap\"", "measure=\"gaps\"");
  put_file("a-good.xml", good);
  put_file("b-again.xml", again);
  put_file("c-bad.xml", bad);
  put_file("readme.txt", "not an exercise");
  g_autoptr(GPtrArray) message = g_ptr_array_new_with_free_func(g_free);
  g_autoptr(GPtrArray) all = exercises_all(folder, message);
  g_assert_cmpuint(all->len, ==, SHIPPED + 1);
  g_assert_cmpstr(((const Exercise *)all->pdata[SHIPPED])->id, ==,
                  "1.10"); /* behind the shipped ones */
  g_assert_cmpuint(message->len, ==, 2);
  g_assert_nonnull(strstr(message->pdata[0], "b-again.xml: there is an exercise \"1.1\" already"));
  g_assert_nonnull(strstr(message->pdata[1], "c-bad.xml:35: "));
  drop_file("a-good.xml");
  drop_file("b-again.xml");
  drop_file("c-bad.xml");
  drop_file("readme.txt");
  g_autoptr(GPtrArray) none = exercises_all("/no/such/folder", NULL);
  g_assert_cmpuint(none->len, ==, SHIPPED);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  set = exercises_all(NULL, NULL);
  g_test_add_func("/exercise/whole", test_whole);
  g_test_add_func("/exercise/line", test_line);
  g_test_add_func("/exercise/solvable", test_solvable);
  g_test_add_func("/exercise/sizes", test_sizes);
  g_test_add_func("/exercise/brushes", test_brushes);
  g_test_add_func("/exercise/plain", test_plain);
  g_test_add_func("/exercise/round-trip", test_round_trip);
  g_test_add_func("/exercise/broken", test_broken);
  g_test_add_func("/exercise/folder", test_folder);
  int status = folder_run();
  g_ptr_array_unref(set);
  return status;
}
