/* test_steps.c - the list of steps: names, peaks, going there; typed sizes as steps.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The answers here are made up: the peak of connector i is (i + 1) times the order's load. */
#include "ui/session.h"
#include "ui/size_edit.h"
#include "ui/step_words.h"
#include <math.h>

#define WAIT_MS 20000

static Fault run_load(Assessor *assessor, const Case *c, const AssessSettings *settings,
                      Assessment **result)
{
  (void)assessor;
  static Field field = {.refs = 1 << 20}; /* only looked at for being there, never freed */
  Assessment *a = g_new0(Assessment, 1);
  case_init(&a->c);
  Fault fault = case_copy(&a->c, c);
  a->refs = 1;
  a->grade = settings->grade;
  a->n_connector = c->n_unit - 1;
  for (size_t i = 0; i < a->n_connector; i++) {
    double peak = (double)(i + 1) * c->order_load_n;
    a->connector[i].trial_peak_mpa = banded_percent(peak, 5);
    if (c->order_load_n < 9000)
      a->connector[i].field = &field;
  }
  *result = a;
  return fault;
}

static bool answered(SoffitSession *session)
{
  gint64 end = g_get_monotonic_time() + WAIT_MS * 1000;
  while (session_following(session) && g_get_monotonic_time() < end) {
    g_main_context_iteration(NULL, FALSE);
    g_usleep(200);
  }
  return !session_following(session);
}

static SoffitSession *session_make(void)
{
  static const int tooth[] = {45, 46, 47};
  Case c;
  case_init(&c);
  c.n_unit = 3;
  for (size_t i = 0; i < 3; i++) {
    c.unit[i] = (Unit){.tooth = tooth[i], .role = i == 1 ? ROLE_PONTIC : ROLE_ABUTMENT};
    g_assert_cmpint(
        tooth_mean_size(tooth[i], &c.unit[i].length, &c.unit[i].width, &c.unit[i].height), ==,
        FAULT_NONE);
  }
  c.order_load_n = 600;
  SoffitSession *session = session_new("", run_load);
  g_autoptr(GError) error = NULL;
  g_assert_true(session_start(session, &c, &error));
  case_clear(&c);
  return session;
}

static void load_set(SoffitSession *session, const char *name, double force)
{
  session_edit_begin(session, name)->order_load_n = force;
  g_assert_true(session_edit_end(session));
}

static void peak_is(SoffitSession *session, size_t i, double mpa)
{
  SessionState state = session_state(session, i, 1);
  if (isnan(mpa))
    g_assert_true(isnan(state.peak_mpa.value));
  else
    g_assert_cmpfloat_with_epsilon(state.peak_mpa.value, mpa, 1e-9);
}

static void test_peaks(void)
{
  g_autoptr(SoffitSession) session = session_make();
  g_assert_true(answered(session));
  g_assert_cmpuint(session_states(session), ==, 1);
  peak_is(session, 0, 1200);
  load_set(session, "first", 500);
  peak_is(session, 1, NAN); /* not answered yet */
  peak_is(session, 0, 1200);
  g_assert_true(answered(session));
  peak_is(session, 1, 1000);
  load_set(session, "hasty", 450); /* nobody waited for its answer */
  load_set(session, "last", 400);
  g_assert_true(answered(session));
  g_assert_cmpuint(session_states(session), ==, 4);
  g_assert_cmpuint(session_state_at(session), ==, 3);
  g_assert_null(session_state(session, 0, 1).name);
  g_assert_cmpstr(session_state(session, 1, 1).name, ==, "first");
  g_assert_cmpstr(session_state(session, 3, 1).name, ==, "last");
  peak_is(session, 2, NAN);
  peak_is(session, 3, 800);
  g_assert_cmpfloat(session_state(session, 3, 0).peak_mpa.value, ==, 400);
  g_assert_true(isnan(session_state(session, 3, 7).peak_mpa.value)); /* no such connector */
  /* going back keeps names and peaks where they were, at once */
  g_assert_true(session_go_to(session, 1));
  g_assert_cmpfloat(session_case(session)->order_load_n, ==, 500);
  g_assert_cmpuint(session_state_at(session), ==, 1);
  peak_is(session, 0, 1200);
  peak_is(session, 1, 1000);
  peak_is(session, 2, NAN);
  peak_is(session, 3, 800);
  g_assert_cmpstr(session_state(session, 2, 1).name, ==, "hasty");
  g_assert_cmpstr(session_undo_name(session), ==, "first");
  g_assert_cmpstr(session_redo_name(session), ==, "hasty");
  /* a state that was passed over is answered when somebody looks at it */
  g_assert_true(session_go_to(session, 2));
  g_assert_true(answered(session));
  peak_is(session, 2, 900);
  g_assert_true(session_go_to(session, 3));
  peak_is(session, 2, 900);
  peak_is(session, 3, 800);
  g_assert_false(session_go_to(session, 3)); /* there already */
  g_assert_false(session_go_to(session, 4)); /* no such state */
  g_assert_true(session_go_to(session, 0));
  g_assert_cmpfloat(session_case(session)->order_load_n, ==, 600);
  g_assert_null(session_undo_name(session));
  /* a new edit forgets what was undone */
  load_set(session, "other", 300);
  g_assert_cmpuint(session_states(session), ==, 2);
  g_assert_true(answered(session));
  peak_is(session, 1, 600);
}

/* Edits that change nothing, and those taken back, leave the peak known. */
static void test_no_step(void)
{
  g_autoptr(SoffitSession) session = session_make();
  g_assert_true(answered(session));
  session_edit_begin(session, "nothing");
  g_assert_false(session_edit_end(session));
  peak_is(session, 0, 1200);
  session_edit_begin(session, "taken back")->order_load_n = 100;
  session_edit_update(session);
  session_edit_cancel(session);
  peak_is(session, 0, 1200);
  load_set(session, "no answer", 9500);
  g_assert_true(answered(session));
  peak_is(session, 1, NAN);
}

static void test_words(void)
{
  g_autoptr(SoffitSession) session = session_make();
  g_assert_true(answered(session));
  load_set(session, "Draw", 450);
  load_set(session, "Move knot", 540);
  g_assert_true(answered(session));
  load_set(session, "Set depth", 541);
  g_assert_true(answered(session));
  static const char *const expected[] = {
      "As opened: 1200 MPa (1140–1260)", "Draw: never solved",
      "Move knot: 1080 MPa (1026–1134), 10 % less pull", /* against the last that is known */
      "Set depth: 1082 MPa (1028–1136), about the same pull, at hand"};
  for (size_t i = 0; i < G_N_ELEMENTS(expected); i++) {
    g_autofree char *words = step_sentence(session, i, 1);
    g_assert_cmpstr(words, ==, expected[i]);
  }
  g_autofree char *more = step_change_text(banded(100, 90, 110), banded(130, 120, 140));
  g_assert_cmpstr(more, ==, "30 % more pull");
  g_autofree char *dash = step_peak_text(banded(NAN, NAN, NAN));
  g_assert_cmpstr(dash, ==, "–");
}

static void test_size_parse(void)
{
  static const struct {
    const char *text;
    double value; /* NaN: refused */
  } row[] = {{"0,55", 0.55}, {"0.55", 0.55},   {" 0.55 mm ", 0.55}, {"40°", 40},  {"40 deg", 40},
             {"3", 3},       {".5", 0.5},      {"2,", 2},           {"", NAN},    {"mm", NAN},
             {"-1", NAN},    {"1e3", NAN},     {"0x1p3", NAN},      {"nan", NAN}, {"inf", NAN},
             {"1.2.3", NAN}, {"1,234.5", NAN}, {"0,5 cm", NAN},     {".", NAN},   {"zwei", NAN}};
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    double value = -7;
    bool good = size_parse(row[i].text, &value);
    g_test_message("“%s”", row[i].text);
    g_assert_true(good == !isnan(row[i].value));
    g_assert_cmpfloat_with_epsilon(value, good ? row[i].value : -7, 1e-12);
  }
}

static void test_size_type(void)
{
  g_autoptr(SoffitSession) session = session_make();
  const Connector *joint = &session_case(session)->connector[session_focus(session)];
  g_assert_null(size_type(session, SIZE_RADIUS, "0,55"));
  g_assert_cmpfloat_with_epsilon(connector_size(joint, SIZE_RADIUS), 0.55, SIZE_EXACT_MM);
  g_assert_cmpstr(session_undo_name(session), ==, "Set roof radius");
  g_assert_null(size_type(session, SIZE_OPENING, "47.5"));
  g_assert_cmpfloat_with_epsilon(connector_size(joint, SIZE_OPENING), 47.5, SIZE_EXACT_DEG);
  size_t states = session_states(session);
  g_autofree char *far = size_type(session, SIZE_RADIUS, "99");
  g_test_message("%s", far);
  g_assert_true(g_str_has_prefix(far, "There is no room for that. Possible here: 0.0"));
  g_assert_true(g_str_has_suffix(far, " mm."));
  g_autofree char *word = size_type(session, SIZE_DEPTH, "deep");
  g_assert_cmpstr(word, ==, "“deep” is no size. Type a number such as 0.55.");
  g_autofree char *nil = size_type(session, SIZE_NECK_WIDTH, "0");
  g_assert_true(g_str_has_prefix(nil, "There is no room"));
  g_assert_cmpuint(session_states(session), ==, states); /* nothing wrong made a step */
  g_assert_cmpfloat_with_epsilon(connector_size(joint, SIZE_OPENING), 47.5, SIZE_EXACT_DEG);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/steps/peaks", test_peaks);
  g_test_add_func("/steps/no-step", test_no_step);
  g_test_add_func("/steps/words", test_words);
  g_test_add_func("/steps/size-parse", test_size_parse);
  g_test_add_func("/steps/size-type", test_size_type);
  return g_test_run();
}
