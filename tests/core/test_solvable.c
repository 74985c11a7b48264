/* test_solvable.c - exercises that are refused before they are saved, with the reason in words; new
 * ones from any connector. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench_work.h"
#include "case_files.h"
#include "practice/exercise_make.h"
#include "practice/solvable.h"
#include <math.h>

static GPtrArray *set; /* the shipped ones */
static Assessor *assessor;

static Exercise *copy_of(const char *id)
{
  GError *error = NULL;
  Exercise *e = exercise_copy(exercise_find(set, id), &error);
  g_assert_no_error(error);
  return e;
}

static Criterion *criterion(Exercise *e, Measure measure)
{
  for (guint i = 0; i < e->criterion->len; i++)
    if (g_array_index(e->criterion, Criterion, i).measure == measure)
      return &g_array_index(e->criterion, Criterion, i);
  g_assert_not_reached();
}

static void ask(Exercise *e, Measure measure, double least, double most)
{
  Criterion c = {measure, e->focus, least, most};
  g_array_append_val(e->criterion, c);
}

static void answer_forget(Exercise *e)
{
  case_clear(&e->answer);
  case_init(&e->answer);
  for (size_t i = 0; i < e->n_hint; i++)
    e->hint[i].ghost = false;
}

static Solvable judged(const Exercise *e)
{
  Solvable s;
  SolvableSettings settings = {.threads = 2};
  solvable_init(&s);
  ok(exercise_solvable(assessor, e, &settings, &s));
  return s;
}

static char *in_words(const Phrase *phrase)
{
  char text[400];
  phrase_format(phrase, NULL, ".", text, sizeof text);
  return g_strdup(text);
}

/* field, row: where an editor is led to */
static void refused(const Exercise *e, SolvableKind kind, ExerciseField field, size_t row,
                    const char *why, const char *change)
{
  Solvable s = judged(e);
  g_autofree char *says = s.why.text ? in_words(&s.why) : g_strdup("taken"),
                  *act = s.change.text ? in_words(&s.change) : g_strdup("");
  g_assert_cmpint(s.place.field, ==, field);
  g_assert_cmpuint(s.place.row, ==, row);
  if (s.kind != kind || !strstr(says, why) || !strstr(act, change))
    g_error("%s: kind %d, %s %s", e->id, s.kind, says, act);
  g_test_message("%s %s", says, act);
  solvable_clear(&s);
}

/* ---- what needs no answer of the solver ---- */

static void test_words(void)
{
  static const size_t at[] = {offsetof(Exercise, title), offsetof(Exercise, task),
                              offsetof(Exercise, learnt), offsetof(Exercise, id)};
  static const char *const why[] = {"no title", "what to do", "what is learnt", "no short name"};
  static const char *const change[] = {"a few words", "a sentence or two", "a sentence or two",
                                       "such as own-1"};
  static const ExerciseField field[] = {FIELD_TITLE, FIELD_TASK, FIELD_LEARNT, FIELD_ID};
  for (size_t i = 0; i < G_N_ELEMENTS(at); i++) {
    g_autoptr(Exercise) e = copy_of("1.1");
    char **text = (char **)((char *)e + at[i]);
    g_free(*text);
    *text = g_strdup("  ");
    refused(e, SOLVABLE_WORDS, field[i], 0, why[i], change[i]);
  }
  g_autoptr(Exercise) hint = copy_of("1.1");
  *hint->hint[1].text = '\0';
  refused(hint, SOLVABLE_WORDS, FIELD_HINT, 1, "Hint 2 is empty", "take it out");
}

static void test_numbers(void)
{
  static const struct {
    Measure measure;
    double least, most;
    const char *why, *change;
    ExerciseField field;
  } row[] = {{MEASURE_ROOF_RADIUS, NAN, NAN, "Roof radius: no limit is given", "Give the least",
              FIELD_LEAST},
             {MEASURE_ROOF_RADIUS, -1, NAN, "1.00 is no limit", "0 to 15", FIELD_LEAST},
             {MEASURE_GAP, 900, NAN, "900.00 is no limit", "0 to 15", FIELD_LEAST},
             {MEASURE_GAP, 2, 1, "at least 2.00 and at most 1.00", "Correct one", FIELD_MOST},
             {MEASURE_PEAK, NAN, 130, "130.00 is no limit", "0 to 100", FIELD_MOST},
             {MEASURE_STROKES, NAN, 0, "0.00 is no limit", "1 to 200", FIELD_MOST},
             {MEASURE_LEAN, 95, NAN, "95.00 is no limit", "0 to 90", FIELD_LEAST}};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    g_autoptr(Exercise) e = copy_of("1.1");
    guint last = e->criterion->len;
    ask(e, row[i].measure, row[i].least, row[i].most);
    refused(e, SOLVABLE_WORDS, row[i].field, last, row[i].why, row[i].change);
  }
  g_autoptr(Exercise) bare = copy_of("1.1"), load = copy_of("1.1");
  g_array_set_size(bare->criterion, 0);
  refused(bare, SOLVABLE_WORDS, FIELD_CRITERIA, 0, "Nothing is asked", "free play");
  load->start.trial.force_n = NAN;
  refused(load, SOLVABLE_WORDS, FIELD_LOAD, 0, "load is missing", "newtons");
}

static void question_put(Exercise *e, QuestionKind kind, const char *text, size_t choices)
{
  Question q = {.id = g_strdup("q1"), .text = g_strdup(text), .kind = kind, .connector = SIZE_MAX};
  for (q.n_choice = 0; q.n_choice < choices; q.n_choice++)
    q.choice[q.n_choice] =
        (Choice){.id = g_strdup_printf("c%zu", q.n_choice + 1), .text = g_strdup("polish")};
  e->question[e->n_question++] = q;
}

/* What the file's reader would refuse by its lines is refused here by its field. */
static void test_questions(void)
{
  static const struct {
    QuestionKind kind;
    const char *text;
    size_t choices;
    ExerciseField field;
    const char *why, *change;
  } row[] = {
      {QUESTION_CHOICE, " ", 2, FIELD_QUESTION, "Question 1 has no words", "take it out"},
      {QUESTION_CHOICE, "Which?", 1, FIELD_ANSWERS, "two answers at least", "one a line"},
      {QUESTION_CHOICE, "Which?", 2, FIELD_ANSWERS, "no right answer", "Put a star"},
      {QUESTION_ORDER, "In which order?", 1, FIELD_ANSWERS, "two steps at least", "right order"}};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    g_autoptr(Exercise) e = copy_of("1.1");
    question_put(e, row[i].kind, row[i].text, row[i].choices);
    refused(e, SOLVABLE_WORDS, row[i].field, 0, row[i].why, row[i].change);
  }
}

/* ---- the start ---- */

static void test_too_easy(void)
{
  g_autoptr(Exercise) e = copy_of("1.1");
  criterion(e, MEASURE_ROOF_RADIUS)->least = 0.15;
  refused(e, SOLVABLE_TOO_EASY, FIELD_LEAST, 0, "passes already", "Roof radius: it has 0.20");
}

/* Two necks alike on both sides of a pontic with the load on its middle: neither goes first. */
static void test_tied(void)
{
  g_autoptr(Exercise) e = copy_of("1.1");
  Case *c = &e->start;
  Side side;
  for (int i = 0; i < 3; i++) {
    c->unit[i].length = 7;
    c->unit[i].width = c->unit[i].height = 8;
  }
  ok(connector_copy(&c->connector[1], &c->connector[0]));
  for (size_t i = 0; i < 2; i++)
    ok(connector_complete(c, i, &side));
  e->kind = EXERCISE_FIRST;
  g_assert_true(exercise_kind_question(e));
  refused(e, SOLVABLE_TIED, FIELD_KIND, 0, "Nobody can tell which neck breaks first",
          "clearly weaker");
}

static void test_fault(void)
{
  g_autoptr(Exercise) e = copy_of("1.1");
  const Corner high[] = {{-1.5, 0, 0}, {0, 9, 0.2}, {1.5, 0, 0}}; /* above the groove */
  Neighbours around = case_neighbours(&e->start, 0);
  outline_clear(&e->start.connector[0].side[SIDE_GINGIVAL]);
  ok(shape_gingival(high, G_N_ELEMENTS(high), &around, &e->start.connector[0].side[SIDE_GINGIVAL]));
  refused(e, SOLVABLE_FAULT, FIELD_NECK, 0, "34/35: the start has no answer", "in Trace");
}

/* ---- the room ---- */

static void test_beyond(void)
{
  g_autoptr(Exercise) e = copy_of("1.1");
  answer_forget(e);
  g_array_set_size(e->criterion, 0);
  ask(e, MEASURE_PEAK, NAN, 20);
  Solvable s = judged(e);
  g_autofree char *why = in_words(&s.why), *change = in_words(&s.change);
  g_test_message("%s %s", why, change);
  g_assert_cmpint(s.kind, ==, SOLVABLE_BEYOND);
  g_assert_cmpint(s.place.field, ==, FIELD_MOST);
  g_assert_cmpuint(s.place.row, ==, 0);
  g_assert_cmpfloat(s.reached, >, s.asked);
  g_autofree char *says = g_strdup_printf("The best outline in this room reaches %.0f MPa; the "
                                          "limit asks for %.0f.",
                                          s.reached, s.asked);
  g_assert_cmpstr(why, ==, says);
  /* what is proposed instead can be done */
  int percent = atoi(change + strlen("Ask for "));
  g_assert_cmpint(percent, >, 20);
  g_array_index(e->criterion, Criterion, 0).most = percent;
  solvable_clear(&s);
  s = judged(e);
  g_assert_cmpint(s.kind, ==, SOLVABLE_YES);
  solvable_clear(&s);
}

static bool stop(void *data)
{
  int *left = data;
  return --*left < 0;
}

static void test_cancelled(void)
{
  g_autoptr(Exercise) e = copy_of("1.1");
  int left = 40;
  SolvableSettings settings = {.threads = 1, .cancelled = stop, .cancel_data = &left};
  Solvable s;
  answer_forget(e);
  solvable_init(&s);
  g_assert_cmpint(exercise_solvable(assessor, e, &settings, &s), ==, FAULT_CANCELLED);
  solvable_clear(&s);
}

/* ---- a new one ---- */

/* From every connector of every demo case; nothing of it tells whose case it was. */
static void test_make(void)
{
  static const char *const demo[] = {"demo/QB-01.xml", "demo/QB-02.xml", "demo/QB-05.xml",
                                     "demo/QB-10.xml"};
  for (size_t d = 0; d < G_N_ELEMENTS(demo); d++) {
    Case c;
    GError *error = NULL;
    demo_load(&c, demo[d]);
    g_assert_cmpuint(strlen(c.number), >, 3);
    for (size_t i = 0; i + 1 < c.n_unit; i++) {
      g_autoptr(Exercise) e = exercise_of_connector(&c, i);
      g_assert_true(outline_equal(&e->start.connector[i].side[SIDE_GINGIVAL],
                                  &c.connector[i].side[SIDE_GINGIVAL], 1e-9));
      e->id = (g_free(e->id), exercise_new_id(set));
      e->title = (g_free(e->title), g_strdup("A <title> & \"more\""));
      GString *xml = exercise_to_xml(e);
      g_assert_null(strstr(xml->str, c.number));
      for (guint h = 0; h < c.history->len; h++) {
        const HistoryEntry *entry = c.history->pdata[h];
        g_assert_true(!*entry->initials || strlen(entry->initials) < 3 ||
                      !strstr(xml->str, entry->initials));
      }
      g_assert_null(strstr(xml->str, "<history"));
      g_assert_null(strstr(xml->str, "<photo"));
      g_string_free(xml, TRUE);
      g_autoptr(Exercise) back = exercise_copy(e, &error);
      g_assert_no_error(error);
      g_assert_true(exercise_equal(e, back));
    }
    g_assert_null(exercise_of_connector(&c, c.n_unit - 1));
    case_clear(&c);
  }
}

static void test_kind_question(void)
{
  g_autoptr(Exercise) e = copy_of("1.1");
  g_assert_false(exercise_kind_question(e));
  e->kind = EXERCISE_FIRST;
  g_assert_true(exercise_kind_question(e));
  g_assert_cmpint(e->question[0].kind, ==, QUESTION_CONNECTOR);
  g_assert_false(exercise_kind_question(e)); /* once */
  e->kind = EXERCISE_CRACK;
  g_assert_true(exercise_kind_question(e));
  g_assert_cmpuint(e->n_question, ==, 1);
  g_assert_cmpint(e->question[0].kind, ==, QUESTION_PLACE);
  e->kind = EXERCISE_RESHAPE;
  g_assert_true(exercise_kind_question(e));
  g_assert_cmpuint(e->n_question, ==, 0);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  set = exercises_all(NULL, NULL);
  ok(assessor_new(&assessor));
  g_test_add_func("/solvable/words", test_words);
  g_test_add_func("/solvable/numbers", test_numbers);
  g_test_add_func("/solvable/questions", test_questions);
  g_test_add_func("/solvable/too-easy", test_too_easy);
  g_test_add_func("/solvable/tied", test_tied);
  g_test_add_func("/solvable/fault", test_fault);
  g_test_add_func("/solvable/beyond", test_beyond);
  g_test_add_func("/solvable/cancelled", test_cancelled);
  g_test_add_func("/solvable/make", test_make);
  g_test_add_func("/solvable/kind-question", test_kind_question);
  int status = folder_run();
  assessor_free(assessor);
  g_ptr_array_unref(set);
  return status;
}
