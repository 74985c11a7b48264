/* test_progress.c - progress of a trainee: kept, recovered, turned into skills; a class of them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "case_files.h"
#include "practice/class_folder.h"
#include "practice/exercise_set.h"
#include <string.h>

#define DAY ((gint64)86400)

static GPtrArray *set;

static Attempt *attempt(Progress *p, const char *id, bool passed, unsigned right, unsigned wrong,
                        gint64 when)
{
  Score score = {.passed = passed,
                 .met = passed ? 5 : 3,
                 .n = 5,
                 .share = passed ? 1 : 0.7,
                 .right = right,
                 .wrong = wrong};
  return progress_add(p, exercise_find(set, id), &score, when);
}

static Progress *sample(const char *trainee)
{
  Progress *p = progress_new(trainee);
  Attempt *a = attempt(p, "1.1", false, 1u << SKILL_BRUSH, 1u << SKILL_RADIUS, 10 * DAY);
  a->place_mm = 0.3, a->gain_guess = 30, a->gain_real = 68, a->hints = 2, a->strokes = 4;
  attempt(p, "1.1", true, 1u << SKILL_BRUSH | 1u << SKILL_RADIUS, 0, 11 * DAY)->gain_guess = 5;
  attempt(p, "1.3", true, 1u << SKILL_SECTION, 0, 11 * DAY)->shown = TRUE;
  return p;
}

static void assert_same(const Progress *a, const Progress *b)
{
  g_assert_cmpstr(a->trainee, ==, b->trainee);
  g_assert_cmpuint(a->attempt->len, ==, b->attempt->len);
  for (guint i = 0; i < a->attempt->len; i++) {
    const Attempt *x = a->attempt->pdata[i], *y = b->attempt->pdata[i];
    g_assert_cmpstr(x->exercise, ==, y->exercise);
    g_assert_cmpint(x->when, ==, y->when);
    g_assert_true(x->passed == y->passed && x->shown == y->shown);
    g_assert_true(x->met == y->met && x->of == y->of && x->hints == y->hints);
    g_assert_cmpint(x->strokes, ==, y->strokes);
    g_assert_cmpfloat(x->share, ==, y->share);
    g_assert_true(isnan(x->place_mm) ? isnan(y->place_mm) : x->place_mm == y->place_mm);
    g_assert_true(isnan(x->gain_real) ? isnan(y->gain_real) : x->gain_real == y->gain_real);
    g_assert_true(x->right == y->right && x->wrong == y->wrong);
  }
}

static Progress *load(const char *path, bool mended)
{
  g_autoptr(GError) error = NULL;
  char *message = NULL;
  Progress *p = progress_load(path, &message, &error);
  g_assert_no_error(error);
  g_assert_true((message != NULL) == mended);
  if (mended)
    g_assert_nonnull(strstr(message, path));
  g_free(message);
  return p;
}

static void save(const Progress *p, const char *path)
{
  GError *error = NULL;
  progress_save(p, path, &error);
  g_assert_no_error(error);
}

static void test_round_trip(void)
{
  g_autofree char *path = in_folder("own.progress");
  g_autoptr(Progress) p = sample("Bench 3; \"blue\"\nstool ü");
  save(p, path);
  g_autoptr(Progress) back = load(path, false);
  assert_same(p, back);
  GError *error = NULL;
  g_assert_true(progress_remove(path, &error));
  g_assert_no_error(error);
  g_autoptr(Progress) none = load(path, false); /* nothing there is a beginning */
  g_assert_cmpuint(none->attempt->len, ==, 0);
}

/* Whatever a crash leaves of the file - cut at any place, emptied, gone, a byte turned - the state
 * before the last attempt comes back; never a half one. */
static void test_damaged(void)
{
  g_autofree char *path = in_folder("own.progress"), *last = in_folder("own.progress.last");
  g_autoptr(Progress) first = sample("A"), second = sample("A");
  attempt(second, "1.4", true, 1u << SKILL_RADIUS, 0, 12 * DAY);
  save(first, path);
  save(second, path);
  g_autofree char *whole = NULL;
  gsize length;
  g_assert_true(g_file_get_contents(path, &whole, &length, NULL));
  for (gsize cut = 0; cut < length; cut += 37) {
    g_assert_true(g_file_set_contents(path, whole, (gssize)cut, NULL));
    g_autoptr(Progress) back = load(path, true);
    assert_same(back, first);
  }
  for (gsize at = 3; at < length; at += 101) {
    char kept = whole[at];
    whole[at] = (char)(kept ^ 1);
    g_assert_true(g_file_set_contents(path, whole, (gssize)length, NULL));
    whole[at] = kept;
    g_autoptr(Progress) back = load(path, true);
    assert_same(back, first);
  }
  g_assert_cmpint(g_remove(path), ==, 0);
  g_autoptr(Progress) gone = load(path, true);
  assert_same(gone, first);
  /* a damaged file never takes the place of the good copy */
  g_assert_true(g_file_set_contents(path, "half", -1, NULL));
  save(second, path);
  g_autofree char *copy = NULL;
  g_assert_true(g_file_get_contents(last, &copy, NULL, NULL));
  g_assert_true(g_file_set_contents(path, "half", -1, NULL));
  g_autoptr(Progress) kept = load(path, true);
  assert_same(kept, first);
  g_assert_true(g_file_set_contents(last, "half", -1, NULL));
  g_autoptr(GError) error = NULL;
  g_assert_null(progress_load(path, NULL, &error));
  g_assert_error(error, CASE_ERROR, CASE_ERROR_OPEN);
  g_assert_true(progress_remove(path, NULL));
}

/* Boxes: one on for each time a skill is shown, back to the first when it is not; what was looked
 * up counts for nothing. */
static void test_skills(void)
{
  g_autoptr(Progress) p = sample("B");
  SkillState s[SKILLS];
  skills_of(p, s);
  g_assert_cmpint(s[SKILL_RADIUS].box, ==, 2);
  g_assert_cmpint(s[SKILL_RADIUS].streak, ==, 1);
  g_assert_cmpint(s[SKILL_RADIUS].wrong, ==, 1);
  g_assert_cmpint(s[SKILL_RADIUS].due, ==, 11 * DAY + skill_box_days(2) * DAY);
  g_assert_cmpstr(s[SKILL_RADIUS].last, ==, "1.1");
  g_assert_cmpint(s[SKILL_BRUSH].streak, ==, 2);
  g_assert_cmpint(s[SKILL_SECTION].box, ==, 0); /* its answer was shown */
  g_assert_cmpint(s[SKILL_CUTTER].box, ==, 0);
  for (int i = 0; i < 9; i++)
    attempt(p, "1.1", true, 1u << SKILL_RADIUS, 0, 12 * DAY);
  skills_of(p, s);
  g_assert_cmpint(s[SKILL_RADIUS].box, ==, SKILL_BOXES);
  attempt(p, "1.4", false, 0, 1u << SKILL_RADIUS, 13 * DAY);
  skills_of(p, s);
  g_assert_cmpint(s[SKILL_RADIUS].box, ==, 1);
  g_assert_cmpint(s[SKILL_RADIUS].streak, ==, 0);
  for (int box = 1; box < SKILL_BOXES; box++)
    g_assert_cmpint(skill_box_days(box), <, skill_box_days(box + 1));
}

static void test_next(void)
{
  Skill why;
  g_autoptr(Progress) p = progress_new("C");
  g_assert_cmpstr(exercise_next(set, p, 0, &why)->id, ==, "1.1");
  g_assert_cmpint(why, ==, SKILLS);
  attempt(p, "1.1", true, 1u << SKILL_BRUSH, 1u << SKILL_RADIUS, 10 * DAY);
  const Exercise *back = exercise_next(set, p, 10 * DAY, &why); /* the weak skill comes at once */
  g_assert_cmpint(why, ==, SKILL_RADIUS);
  g_assert_true(back->skills & 1u << SKILL_RADIUS);
  g_assert_cmpint(back->level, ==, 1);
  g_assert_cmpstr(back->id, !=, "1.1"); /* by another exercise */
  attempt(p, back->id, true, 1u << SKILL_RADIUS, 0, 10 * DAY);
  g_assert_cmpstr(exercise_next(set, p, 10 * DAY, &why)->id, ==, "1.3");
  g_assert_cmpint(why, ==, SKILLS);
  exercise_next(set, p, 30 * DAY, &why); /* after its days it comes back */
  g_assert_cmpint(why, !=, SKILLS);
  for (guint i = 0; i < set->len; i++)
    attempt(p, ((const Exercise *)set->pdata[i])->id, true, 0, 0, 10 * DAY);
  g_assert_null(exercise_next(set, p, 10 * DAY, &why));
  g_assert_cmpuint(progress_count_passed(p, set), ==, 24);
}

static void test_calibration(void)
{
  double place, gain;
  g_autoptr(Progress) p = sample("D");
  progress_calibration(p, &place, &gain);
  g_assert_cmpfloat_with_epsilon(place, 0.3, 1e-12);
  g_assert_cmpfloat_with_epsilon(gain, -38, 1e-12);
  g_autoptr(Progress) none = progress_new("");
  progress_calibration(none, &place, &gain);
  g_assert_true(isnan(place) && isnan(gain));
}

static void test_class(void)
{
  const char *const name[] = {"a.progress", "b.progress", "c.progress"};
  for (size_t i = 0; i < 3; i++) {
    g_autofree char *path = in_folder(name[i]);
    g_autoptr(Progress) p = sample(name[i]);
    save(p, path);
  }
  g_autofree char *bad = in_folder("c.progress");
  g_assert_true(g_file_set_contents(bad, "[progress]\n", -1, NULL));
  g_autoptr(GPtrArray) message = g_ptr_array_new_with_free_func(g_free);
  GError *error = NULL;
  g_autoptr(GPtrArray) rows = class_read(folder, set, message, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(rows->len, ==, 2);
  g_assert_cmpuint(message->len, ==, 1);
  g_assert_nonnull(strstr(message->pdata[0], "c.progress"));
  const ClassRow *row = rows->pdata[1];
  g_assert_cmpstr(row->progress->trainee, ==, "b.progress");
  g_assert_cmpuint(row->passed, ==, 2);
  g_assert_cmpint(row->skill[SKILL_BRUSH].streak, ==, 2);
  for (size_t i = 0; i < 3; i++) {
    g_autofree char *path = in_folder(name[i]);
    g_assert_true(progress_remove(path, NULL));
  }
  g_autoptr(GError) none = NULL;
  g_assert_null(class_read("/no/such/folder", set, NULL, &none));
  g_assert_nonnull(none);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  set = exercises_all(NULL, NULL);
  g_test_add_func("/progress/round-trip", test_round_trip);
  g_test_add_func("/progress/damaged", test_damaged);
  g_test_add_func("/progress/skills", test_skills);
  g_test_add_func("/progress/next", test_next);
  g_test_add_func("/progress/calibration", test_calibration);
  g_test_add_func("/progress/class", test_class);
  int status = folder_run();
  g_ptr_array_unref(set);
  return status;
}
