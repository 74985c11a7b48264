/* test_case_xml.c - case files: round trip, every kind of bad input with its message, saving that
 * never loses a file. SPDX-License-Identifier: GPL-3.0-or-later */
#include "case_files.h"
#include "casefile/material_xml.h"
#include "mechanics/section_shape.h"
#include "outline/form.h"
#include <math.h>
#include <string.h>
#include <unistd.h>

/* ---- round trip ---- */

static void test_round_trip(void)
{
  char **name = shipped_demos();
  g_assert_cmpuint(g_strv_length(name), ==, 10);
  for (char **n = name; *n; n++) {
    Case c, back;
    demo_load(&c, *n);
    case_init(&back);
    char *path = in_folder("round trip.xml");
    GError *error = NULL;
    case_save(&c, path, &error);
    g_assert_no_error(error);
    case_load(&back, path, &error);
    g_assert_no_error(error);
    g_assert_true(case_equal(&c, &back));
    /* from then on every letter stays */
    GString *first = case_to_xml(&c), *second = case_to_xml(&back);
    g_assert_cmpstr(first->str, ==, second->str);
    g_string_free(first, TRUE);
    g_string_free(second, TRUE);
    g_assert_cmpint(g_unlink(path), ==, 0);
    g_free(path);
    case_clear(&c);
    case_clear(&back);
  }
  g_strfreev(name);
}

/* A drawn section is kept, whole, and told apart. */
static void test_section(void)
{
  Case c, back;
  size_t bad_at;
  demo_load(&c, "demo/QB-02.xml");
  case_init(&back);
  g_assert_null(connector_section(&c.connector[1]));
  g_assert_cmpint(outline_from_path(&c.connector[1].section,
                                    "M -1.2 -1 C 0 -2 1.5 -1.5 1.5 0 C 1.5 2 0 2.4 -0.6 2 Z",
                                    &bad_at),
                  ==, FAULT_NONE);
  GString *text = case_to_xml(&c), *again;
  GError *error = NULL;
  g_assert_nonnull(strstr(text->str, "<section d=\"M -1.2 -1 C 0 -2"));
  case_load_memory(&back, text->str, text->len, "section", &error);
  g_assert_no_error(error);
  g_assert_true(case_equal(&c, &back));
  g_assert_true(connector_section(&back.connector[1]) == &back.connector[1].section);
  g_assert_true(back.connector[1].section.closed);
  again = case_to_xml(&back);
  g_assert_cmpstr(text->str, ==, again->str);
  outline_clear(&back.connector[1].section);
  g_assert_false(case_equal(&c, &back));
  char place[32];
  const char *reason;
  g_assert_true(case_check(&c, place, &reason));
  c.connector[1].section.closed = false;
  g_assert_false(case_check(&c, place, &reason));
  g_assert_nonnull(strstr(place, " section"));
  g_string_free(text, TRUE);
  g_string_free(again, TRUE);
  case_clear(&c);
  case_clear(&back);
}

/* Necks, roofs and gaps that the cases' own tables give (invented cases, figures computed with
 * another program). */
static void test_demo_readings(void)
{
  static const struct {
    const char *name;
    size_t connector;
    double neck_height, roof_radius, gap_circle;
    double foot, papilla; /* 0: flat tissue, else a tip joined to both feet by straight lines */
  } known[] = {{"demo/QB-01.xml", 0, 4.10, 0.95, 2.00, 0, 0},
               {"demo/QB-01.xml", 1, 4.10, 0.95, 1.90, 0, 0},
               {"demo/QB-02.xml", 0, 3.36, 0.20, 1.76, 0, 0},
               {"demo/QB-02.xml", 1, 3.25, 0.20, 1.85, 0, 0},
               {"demo/QB-02.xml", 2, 3.29, 0.25, 1.70, 0, 0},
               {"demo/QB-03.xml", 0, 4.00, 0.80, 2.00, 0, 0},
               {"demo/QB-04.xml", 0, 3.80, 0.50, 1.31, 0.85, 0.5},
               {"demo/QB-04.xml", 1, 3.30, 0.45, 1.40, 0.8, 0.5},
               {"demo/QB-04.xml", 2, 4.20, 0.50, 1.30, 0.8, 0.5},
               {"demo/QB-05.xml", 0, 3.60, 0.50, 2.30, 0, 0},
               {"demo/QB-05.xml", 1, 3.40, 0.50, 2.37, 0, 0},
               {"demo/QB-06.xml", 1, 4.10, 0.85, 2.00, 0, 0},
               {"demo/QB-07.xml", 0, 4.30, 0.95, 2.20, 0, 0},
               {"demo/QB-08.xml", 0, 3.90, 0.85, 2.00, 0, 0},
               {"demo/QB-08.xml", 1, 3.57, 0.04, 2.00, 0, 0},
               {"demo/QB-09.xml", 0, 3.93, 0.35, 2.04, 0, 0},
               {"demo/QB-09.xml", 1, 4.20, 0.55, 0.66, 1.1, 0.9},
               {"demo/QB-10.xml", 1, 3.30, 0.35, 2.02, 0, 0}};
  for (size_t i = 0; i < G_N_ELEMENTS(known); i++) {
    Case c;
    Form form;
    Point where;
    demo_load(&c, known[i].name);
    const Outline *side = c.connector[known[i].connector].side;
    const Point gum[] = {{-4, 0},
                         {-known[i].foot - 0.01, 0},
                         {0, known[i].papilla},
                         {known[i].foot + 0.01, 0},
                         {4, 0}};
    Outline tissue;
    outline_init(&tissue);
    g_assert_cmpint(outline_from_points(&tissue, gum, G_N_ELEMENTS(gum), false), ==, FAULT_NONE);
    g_assert_cmpfloat(fmax(0, c.connector[known[i].connector].papilla), ==, known[i].papilla);
    g_assert_cmpint(form_read(&side[0], &side[1], &side[2], &side[3],
                              known[i].papilla > 0 ? &tissue : NULL, &form, &where),
                    ==, FAULT_NONE);
    outline_clear(&tissue);
    g_test_message("%s %zu: neck %.3f roof %.3f gap %.3f", known[i].name, known[i].connector,
                   form.neck_height, form.roof_radius.value, form.gap_circle);
    g_assert_cmpfloat_with_epsilon(form.neck_height, known[i].neck_height, 0.03);
    g_assert_cmpfloat_with_epsilon(form.roof_radius.value, known[i].roof_radius, 0.02);
    g_assert_cmpfloat_with_epsilon(form.gap_circle, known[i].gap_circle, 0.03);
    case_clear(&c);
  }
}

/* Every fact of the bench through a file and back; what is not recorded is not written. */
static void test_bench_facts(void)
{
  Case c, back;
  demo_load(&c, "demo/QB-10.xml");
  case_init(&back);
  Connector *k = &c.connector[1];
  c.enlargement_label = 1.2385;
  c.fast_firing = ANSWER_YES;
  g_assert_true(isnan(c.service.years)); /* files before the years of service */
  g_assert_cmpfloat(case_service(&c).years, ==, SERVICE_YEARS);
  c.service = (Service){1234.5, 7.5};
  c.thickest = 8.25, c.thickest_fast = 6.5;
  c.dentist_note = (g_free(c.dentist_note), g_strdup("brush \"4\" & polish"));
  k->cut_back = 0.65, k->wall = 0.475, k->pin_distance = 2.385;
  k->weaker_layer = ANSWER_YES, k->brush_passes = ANSWER_NO;
  k->polish_steps = 1u << POLISH_COARSE | 1u << POLISH_GLOSS;
  SurfaceEvent cut = {EVENT_CUT, -0.35, 0.15, NAN, ANSWER_UNKNOWN, 0, ANSWER_UNKNOWN};
  g_array_append_val(k->event, cut);
  k->roundness_neck = 2.5;
  NeckHalves halves = {1.6, 2, 1.9};
  g_assert_cmpint((int)section_from_roundness(3, halves, &k->section), ==, FAULT_NONE);
  g_assert_cmpint((int)case_approve(&c), ==, FAULT_NONE);
  k->roundness_neck = 2;
  g_assert_cmpint((int)outline_copy(&k->room, &k->side[SIDE_GINGIVAL]), ==, FAULT_NONE);
  GString *text = case_to_xml(&c);
  static const char *const wanted[] = {
      "enlargement-label=\"1.2385\"",
      "fast=\"yes\"",
      "bites-a-day=\"1234.5\" years=\"7.5\"",
      "thickest-fast=\"6.5\"",
      "note=\"brush &quot;4&quot; &amp; polish\"",
      "<planned cut-back=\"0.65\" wall=\"0.475\" pin-distance=\"2.385\" weaker-layer=\"yes\"/>",
      "polish-steps=\"coarse gloss\"",
      "brush-passes=\"no\"",
      "<event kind=\"cut\" x=\"-0.35\" depth=\"0.15\"/>",
      "<approved side=\"lingual\" d=",
      "<approved-section roundness-neck=\"2.5\" roundness-body=\"4\" d=\"M 2 0 C",
      "<approved-section roundness-neck=\"2\" roundness-body=\"4\"/>",
      "<room d=",
      "<origin between=\"46-47\" zone=\"roof\" x=\"0.3\" depth=\"0.15\""};
  for (size_t i = 0; i < G_N_ELEMENTS(wanted); i++)
    if (!strstr(text->str, wanted[i]))
      g_error("%s is not in\n%s", wanted[i], text->str);
  GError *error = NULL;
  case_load_memory(&back, text->str, text->len, "facts", &error);
  g_assert_no_error(error);
  g_assert_true(case_equal(&c, &back));
  g_assert_cmpuint(back.connector[1].polish_steps, ==, 9);
  g_assert_cmpuint(back.origin.connector, ==, 1);
  g_assert_cmpuint(back.origin.zone, ==, ZONE_ROOF + 1);
  /* each of them counts when cases are compared */
  double *const number[] = {&back.enlargement_label,
                            &back.thickest,
                            &back.thickest_fast,
                            &back.connector[1].cut_back,
                            &back.connector[1].wall,
                            &back.connector[1].pin_distance,
                            &back.origin.at_x,
                            &back.origin.depth,
                            &back.connector[1].approved_roundness_neck};
  for (size_t i = 0; i < G_N_ELEMENTS(number); i++) {
    double kept = *number[i];
    *number[i] = NAN;
    g_assert_false(case_equal(&c, &back));
    *number[i] = kept;
  }
  outline_clear(&back.connector[1].room);
  g_assert_false(case_equal(&c, &back));
  g_assert_cmpint((int)outline_copy(&back.connector[1].room, &k->room), ==, FAULT_NONE);
  outline_clear(&back.connector[1].approved_section);
  g_assert_false(case_equal(&c, &back));
  g_assert_cmpint((int)outline_copy(&back.connector[1].approved_section, &k->approved_section), ==,
                  FAULT_NONE);
  g_assert_true(case_equal(&c, &back));
  outline_clear(&back.connector[1].approved[SIDE_GINGIVAL]);
  g_assert_false(case_equal(&c, &back));
  g_string_free(text, TRUE);
  case_clear(&c);
  case_clear(&back);
  demo_load(&c, "demo/QB-02.xml");
  text = case_to_xml(&c);
  static const char *const absent[] = {"planned", "handover",     "origin", "approved",
                                       "fast",    "polish-steps", "<room"};
  for (size_t i = 0; i < G_N_ELEMENTS(absent); i++)
    g_assert_null(strstr(text->str, absent[i]));
  g_string_free(text, TRUE);
  case_clear(&c);
}

/* The deeper of the drawn mark (2.23, cut into a roof at 2.0) and the gauge counts. */
static void test_disc_mark(void)
{
  Case c;
  demo_load(&c, "demo/QB-08.xml");
  Connector *k = &c.connector[1];
  SurfaceEvent *event = &g_array_index(k->event, SurfaceEvent, 0);
  g_assert_true(isnan(connector_mark_bottom(&c.connector[0])));
  g_assert_cmpfloat_with_epsilon(connector_mark_bottom(k), 2.23, 0.005);
  event->depth = 0.35;
  g_assert_cmpfloat_with_epsilon(connector_mark_bottom(k), 2.35, 0.005);
  event->depth = NAN;
  g_assert_cmpfloat_with_epsilon(connector_mark_bottom(k), 2.23, 0.005);
  event->kind = EVENT_GROUND; /* the finish still says so */
  g_assert_cmpfloat_with_epsilon(connector_mark_bottom(k), 2.23, 0.005);
  /* by the gauge alone, on the sound neck beside it, whose roof is at 2.0 */
  SurfaceEvent mark = {EVENT_DISC, 0.1, 0.2, NAN, ANSWER_UNKNOWN, 0, ANSWER_UNKNOWN};
  g_array_append_val(c.connector[0].event, mark);
  g_assert_cmpfloat_with_epsilon(connector_mark_bottom(&c.connector[0]), 2.2, 0.005);
  g_array_index(c.connector[0].event, SurfaceEvent, 0).at_x = NAN;
  g_assert_cmpfloat_with_epsilon(connector_mark_bottom(&c.connector[0]), 2.2, 0.005);
  case_clear(&c);
}

static void test_demo_content(void)
{
  Case c;
  demo_load(&c, "demo/QB-08.xml");
  g_assert_cmpint(c.step, ==, STEP_ADJUSTING);
  g_assert_cmpuint(c.connector[1].event->len, ==, 1);
  const SurfaceEvent *event = &g_array_index(c.connector[1].event, SurfaceEvent, 0);
  g_assert_cmpint(event->kind, ==, EVENT_DISC);
  g_assert_cmpfloat(event->at_x, ==, 0.3);
  g_assert_cmpint(event->water, ==, ANSWER_NO);
  g_assert_cmpint(c.connector[1].finish[ZONE_ROOF], ==, FINISH_DISC_CUT);
  g_assert_cmpstr(c.material.id, ==, "3y");
  const HistoryEntry *entry = g_ptr_array_index(c.history, 1);
  g_assert_cmpstr(entry->role, ==, "trainee");
  g_assert_cmpfloat(c.trial.force_n, ==, 600);
  g_assert_true(isnan(c.trial.x) && isnan(c.cutter_diameter));
  case_clear(&c);
  demo_load(&c, "demo/QB-06.xml");
  g_assert_cmpint(c.material.iso_class, ==, 3);
  case_clear(&c);
}

/* Signs that XML or a text editor could spoil. */
static void test_odd_text(void)
{
  Case c, back;
  demo_load(&c, "demo/QB-01.xml");
  case_init(&back);
  g_free(c.title);
  c.title = g_strdup("a <b> & \"c\" 'd'\n\ttwo lines \xc3\xa9\xe2\x82\xac");
  g_free(c.blank_batch);
  c.blank_batch = g_strdup("broken \xff bytes \x01 and \xef\xbf\xbf");
  HistoryEntry *entry = g_ptr_array_index(c.history, 0);
  g_free(entry->text);
  entry->text = g_strdup("]]> <!-- &amp; --> line\nline");
  c.order_load_n = 0.1 + 0.2 + 600; /* no short decimal */
  c.enlargement = 1.0 / 3 + 1;
  GString *text = case_to_xml(&c);
  GError *error = NULL;
  case_load_memory(&back, text->str, text->len, "odd", &error);
  g_assert_no_error(error);
  g_assert_cmpstr(back.title, ==, c.title);
  g_assert_cmpstr(((HistoryEntry *)g_ptr_array_index(back.history, 0))->text, ==,
                  "]]> <!-- &amp; --> line\nline");
  g_assert_cmpfloat(back.order_load_n, ==, c.order_load_n);
  g_assert_cmpfloat(back.enlargement, ==, c.enlargement);
  g_assert_nonnull(strstr(back.blank_batch, "broken"));
  g_string_free(text, TRUE);
  case_clear(&c);
  case_clear(&back);
}

/* ---- bad input ---- */

/* The message names the file, the line unless it is 0, what is wrong and what to do; `c` stays as
 * it was. */
static void assert_refused(const char *name, bool loaded, const Case *c, const Case *before,
                           GError *error, int code, long line, const char *what, const char *act)
{
  g_assert_false(loaded);
  g_assert_error(error, CASE_ERROR, code);
  char *start = line ? g_strdup_printf("%s:%ld: ", name, line) : g_strdup_printf("%s: ", name);
  g_test_message("%s", error->message);
  if (!g_str_has_prefix(error->message, start) || !strstr(error->message, what) ||
      !strstr(error->message, act))
    g_error("\"%s\" does not begin with \"%s\" or lacks \"%s\" or \"%s\"", error->message, start,
            what, act);
  g_assert_true(case_equal(c, before));
  g_free(start);
  g_error_free(error);
}

static char *fixture(const char *name)
{
  return g_test_build_filename(G_TEST_DIST, "..", "cases", name, NULL);
}

static void test_bad_files(void)
{
  static const struct {
    const char *name;
    int code;
    long line;
    const char *what, *act;
  } bad[] = {
      {"empty.xml", CASE_ERROR_NOT_XML, 0, "empty", "backup"},
      {"truncated.xml", CASE_ERROR_NOT_XML, 23, "no whole XML", "backup"},
      {"not-xml.xml", CASE_ERROR_NOT_XML, 1, "no whole XML", "text editor"},
      {"wrong-namespace.xml", CASE_ERROR_NAMESPACE, 4, "not one of Soffit", "another file"},
      {"newer.xml", CASE_ERROR_NEWER, 4, "made by a newer Soffit (version 2)", "Update Soffit"},
      {"nan.xml", CASE_ERROR_VALUE, 10, "\"NaN\" of <unit> is not a number", "plain number"},
      {"absurd-size.xml", CASE_ERROR_VALUE, 10, "absurd", "from 1 to 30"},
      {"negative-size.xml", CASE_ERROR_VALUE, 10, "absurd", "from 1 to 30"},
      {"unknown-tooth.xml", CASE_ERROR_VALUE, 10, "not known", "ISO 3950"},
      {"tooth-twice.xml", CASE_ERROR_VALUE, 11, "twice", "own tooth number"},
      {"not-neighbours.xml", CASE_ERROR_VALUE, 11, "no neighbour", "order of the arch"},
      {"bomb.xml", CASE_ERROR_NOT_XML, 0, "entities", "plain XML"},
      {"unknown-element.xml", CASE_ERROR_SCHEMA, 5, "colour", "delete"},
      {"no such file.xml", CASE_ERROR_OPEN, 0, "cannot be read", "Check the name"},
      {"nan.xml/below.xml", CASE_ERROR_OPEN, 0, "cannot be read", "folder"},
      {".", CASE_ERROR_OPEN, 0, "folder", "Choose a file"},
  };
  Case c, before;
  demo_load(&c, "demo/QB-02.xml");
  demo_load(&before, "demo/QB-02.xml");
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    GError *error = NULL;
    char *path = fixture(bad[i].name);
    bool loaded = case_load(&c, path, &error);
    assert_refused(path, loaded, &c, &before, error, bad[i].code, bad[i].line, bad[i].what,
                   bad[i].act);
    g_free(path);
  }
  GError *error = NULL;
  bool taken = case_load(&c, "/dev/zero", &error);
  assert_refused("/dev/zero", taken, &c, &before, error, CASE_ERROR_OPEN, 0, "no regular file",
                 "Choose a file");
  case_clear(&c);
  case_clear(&before);
}

/* A hole in a file costs no disk: 100 MB that must never be read. */
static void test_large_file(void)
{
  Case c, before;
  case_init(&c);
  case_init(&before);
  char *path = in_folder("large.xml");
  g_assert_true(g_file_set_contents(path, "<case/>", -1, NULL));
  g_assert_cmpint(truncate(path, 100 << 20), ==, 0);
  GError *error = NULL;
  bool taken = case_load(&c, path, &error);
  assert_refused(path, taken, &c, &before, error, CASE_ERROR_TOO_LARGE, 0, "larger than 64 MiB",
                 "Take");
  g_unlink(path);
  g_free(path);
  case_clear(&c);
  case_clear(&before);
}

/* Each edit of a sound file, with the line it stands in. */
#define PROPOSED "<proposed neck-width=\"3.3\""

static void test_bad_values(void)
{
  static const struct {
    const char *from, *to;
    int code;
    const char *what, *act;
  } bad[] = {
      {"tooth=\"46\" ", "", CASE_ERROR_VALUE, "no tooth", "Add tooth="},
      {"role=\"pontic\"", "role=\"bridge\"", CASE_ERROR_VALUE, "role=\"bridge\"",
       "abutment, implant, pontic, hanging"},
      {"tooth=\"46\"", "tooth=\"46.5\"", CASE_ERROR_VALUE, "not known", "ISO 3950"},
      {"length=\"11\"", "length=\"1e400\"", CASE_ERROR_VALUE, "not a number", "plain number"},
      {"length=\"11\"", "length=\"0x0B\"", CASE_ERROR_VALUE, "not a number", "plain number"},
      {"length=\"11\"", "length=\"11,0\"", CASE_ERROR_VALUE, "not a number", "plain number"},
      {"length=\"11\"", "length=\"infinity\"", CASE_ERROR_VALUE, "not a number", "plain number"},
      {"length=\"11\"", "length=\"\"", CASE_ERROR_VALUE, "not a number", "plain number"},
      {"load=\"600\"", "load=\"-600\"", CASE_ERROR_VALUE, "absurd", "from 1 to 10000"},
      {"enlargement=\"1.24\"", "enlargement=\"24\"", CASE_ERROR_VALUE, "absurd", "from 1 to 2"},
      {"between=\"45-46\"", "between=\"46-45\"", CASE_ERROR_VALUE, "no two neighbours",
       "between=\"45-46\""},
      {"between=\"46-47\"", "between=\"45-46\"", CASE_ERROR_VALUE, "twice", "Delete one"},
      {"2; r 0.95) (1.05", "2; r 9) (1.05", CASE_ERROR_VALUE, "radius is too large",
       "Correct the corners"},
      {"(-1.45, 0) (-1.05, 2;", "(-1.45 0) (-1.05, 2;", CASE_ERROR_VALUE, "wrong at character",
       "(0, 2.9; r 0.2)"},
      {"corners=\"(-1.45, 0) (-1.05, 2; r 0.95) (1.05, 2; r 0.95) (1.45, 0)\"", "d=\"M 0 0 L 1 x\"",
       CASE_ERROR_VALUE, "path data of <outline> is wrong at character", "Correct it"},
      {"corners=\"(-1.45, 0) (-1.05, 2; r 0.95) (1.05, 2; r 0.95) (1.45, 0)\"",
       "d=\"M 0 0 L 1 1 L 1 0 Z\"", CASE_ERROR_VALUE, "no open line", "Draw it again"},
      {"corners=\"(-1.45, 0) (-1.05, 2; r 0.95) (1.05, 2; r 0.95) (1.45, 0)\"",
       "d=\"M -900 0 L 900 0\"", CASE_ERROR_VALUE, "within 200 mm", "Check the sizes"},
      {"corners=\"(-1.45, 0) (-1.05, 2; r 0.95) (1.05, 2; r 0.95) (1.45, 0)\"", "",
       CASE_ERROR_VALUE, "no path data", "Add d="},
      {PROPOSED, "<section d=\"M -1 0 L 1 0 L 1 2\"/>" PROPOSED, CASE_ERROR_VALUE,
       "the section at -1.00, 0.00 mm: The section is open", "Close it"},
      {PROPOSED, "<section d=\"M -1 0 L 1 2 L 1 0 L -1 2 Z\"/>" PROPOSED, CASE_ERROR_VALUE,
       "the section at 0.00, 1.00 mm: The section crosses itself", "one plain loop"},
      {PROPOSED, "<section d=\"M 0.1 0 L 1 0 L 1 2 L 0.1 2 Z\"/>" PROPOSED, CASE_ERROR_VALUE,
       "does not go around its middle", "Move it"},
      {PROPOSED, "<section d=\"M -1 0 L 0 0.8 L 1 0 L 1 2 L 0 1.2 L -1 2 Z\"/>" PROPOSED,
       CASE_ERROR_VALUE, "no more than a sliver", "fuller"},
      {PROPOSED, "<section d=\"M -1 0 H 1 V 2 H 0.6 V 1.3 H 0.5 V 2 H -1 Z\"/>" PROPOSED,
       CASE_ERROR_VALUE, "hides from its middle", "Flatten"},
      {PROPOSED, "<section d=\"M -1 0 L 1 x\"/>" PROPOSED, CASE_ERROR_VALUE,
       "path data of <section> is wrong at character", "Correct it"},
      {PROPOSED, "<section/>" PROPOSED, CASE_ERROR_VALUE, "has no d", "M -1.5 0"},
      {PROPOSED,
       "<section d=\"M -1 0 H 1 V 2 H -1 Z\"/><section d=\"M -1 0 H 1 V 2 H -1 Z\"/>" PROPOSED,
       CASE_ERROR_SCHEMA, "<section> is there twice", "Delete one"},
      {"groove=\"6.1\"", "groove=\"29\"", CASE_ERROR_VALUE, "no occlusal outline fits",
       "<proposed>"},
      {"roof=\"high-polish\"", "roof=\"shiny\"", CASE_ERROR_VALUE, "shiny", "high-polish"},
      {"id=\"3y\"", "id=\"unknown\"", CASE_ERROR_VALUE, "the material card \"unknown\"",
       "Give E in MPa"},
      {"<finish ", "<finish colour=\"a\" ", CASE_ERROR_SCHEMA, "colour", "delete"},
      {"<firing ", "<bridge/><firing ", CASE_ERROR_SCHEMA, "<bridge> is there twice", "Delete one"},
      {"<finish ", "<unit/><finish ", CASE_ERROR_SCHEMA, "<unit> is not known inside <connector>",
       "delete"},
      {"<order ", "stray words <order ", CASE_ERROR_SCHEMA, "Did not expect text", "delete"},
      {"roof=\"high-polish\"", "polish-steps=\"coarse paste\" roof=\"high-polish\"",
       CASE_ERROR_VALUE, "\"paste\" in polish-steps of <finish> is not known",
       "coarse, middle, fine, gloss"},
      {"<firing ", "<origin between=\"47-48\"/><firing ", CASE_ERROR_VALUE, "no two neighbours",
       "between=\"45-46\""},
      {"id=\"3y\"", "id=\"3y\" iso-class=\"4.5\"", CASE_ERROR_VALUE, "no whole number", "such as"},
      {"<finish ", "<planned wall=\"-1\"/><finish ", CASE_ERROR_VALUE, "absurd", "from 0 to 30"},
      {"step=\"signing\"", "step=\"later\"", CASE_ERROR_VALUE, "later", "drawing"},
      {"version=\"1\" number", "number", CASE_ERROR_VALUE, "no version", "Add version="},
      {"version=\"1\" number", "version=\"one\" number", CASE_ERROR_VALUE, "not known",
       "version=\"1\""},
      {" number=\"QB-01\"", "", CASE_ERROR_VALUE, "no number", "Add number="},
  };
  char *sound = shipped_text("demo/QB-01.xml");
  Case c, before;
  case_init(&c);
  case_init(&before);
  for (size_t i = 0; i < G_N_ELEMENTS(bad); i++) {
    char *at = strstr(sound, bad[i].from);
    g_assert_nonnull(at);
    GString *text = g_string_new_len(sound, at - sound);
    g_string_append(text, bad[i].to);
    g_string_append(text, at + strlen(bad[i].from));
    long line = 1;
    for (const char *p = sound; p < at; p++)
      line += *p == '\n';
    if (strncmp(bad[i].from, "groove=", 7) == 0)
      line -= 2; /* named is the connector, not its <proposed> */
    if (strncmp(bad[i].to, "stray", 5) == 0)
      line -= 1; /* named is the element around it */
    GError *error = NULL;
    bool loaded = case_load_memory(&c, text->str, text->len, "edited", &error);
    assert_refused("edited", loaded, &c, &before, error, bad[i].code, line, bad[i].what,
                   bad[i].act);
    g_string_free(text, TRUE);
  }
  g_free(sound);
  case_clear(&c);
  case_clear(&before);
}

/* What can be mended by drawing must open: the window shows it, case_check() tells. */
static void test_mendable(void)
{
  static const struct {
    const char *name, *place, *reason;
  } known[] = {{"crossing.xml", "45/46 gingival", "crosses"}, {"no-neck.xml", "45/46", "no neck"}};
  for (size_t i = 0; i < G_N_ELEMENTS(known); i++) {
    Case c;
    case_init(&c);
    GError *error = NULL;
    char *path = fixture(known[i].name), place[32] = "";
    const char *reason = "";
    case_load(&c, path, &error);
    g_assert_no_error(error);
    g_assert_false(case_check(&c, place, &reason));
    g_assert_cmpstr(place, ==, known[i].place);
    g_assert_nonnull(strstr(reason, known[i].reason));
    g_free(path);
    case_clear(&c);
  }
}

static void test_foreign_elements(void)
{
  Case c, plain;
  case_init(&c);
  demo_load(&plain, "demo/QB-01.xml");
  GError *error = NULL;
  char *path = fixture("foreign-element.xml");
  case_load(&c, path, &error);
  g_assert_no_error(error);
  g_assert_true(case_equal(&c, &plain)); /* the order inside the foreign box is not ours */
  g_free(path);
  case_clear(&c);
  case_clear(&plain);
}

static void test_material_cards(void)
{
  static const char head[] =
      "<materials xmlns=\"https://soffit.invalid/materials\" version=\"1\">\n";
  static const char card[] =
      "<material id=\"lab\" young=\"205000\" poisson=\"0.31\" toughness=\"5\" "
      "toughness-band=\"10\" "
      "strength=\"900\" strength-band=\"10\" weibull=\"12\" bar=\"three-point\" bar-span=\"14\" "
      "bar-width=\"4\" bar-thickness=\"1.2\" bar-finish=\"high-polish\" iso-class=\"5\" "
      "polish-gain=\"1.1\" source=\"own bars\" confidence=\"own\"/>\n";
  char *path = in_folder("cards.xml");
  char *text = g_strconcat(head, card, "</materials>\n", NULL);
  GError *error = NULL;
  g_assert_true(g_file_set_contents(path, text, -1, NULL));
  GArray *cards = materials_load(path, &error);
  g_assert_no_error(error);
  g_assert_cmpuint(cards->len, ==, 1);
  g_assert_cmpfloat(g_array_index(cards, Material, 0).strength_mpa, ==, 900);
  g_array_unref(cards);
  g_free(text);
  text = g_strconcat(head, card, card, "</materials>\n", NULL);
  g_assert_true(g_file_set_contents(path, text, -1, NULL));
  g_assert_null(materials_load(path, &error));
  g_assert_error(error, CASE_ERROR, CASE_ERROR_VALUE);
  g_assert_nonnull(strstr(error->message, "cards.xml:3: the card \"lab\" is there twice"));
  g_clear_error(&error);
  g_free(text);
  g_unlink(path);
  g_free(path);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/case_xml/round trip", test_round_trip);
  g_test_add_func("/case_xml/demo readings", test_demo_readings);
  g_test_add_func("/case_xml/demo content", test_demo_content);
  g_test_add_func("/case_xml/bench facts", test_bench_facts);
  g_test_add_func("/case_xml/disc mark", test_disc_mark);
  g_test_add_func("/case_xml/odd text", test_odd_text);
  g_test_add_func("/case_xml/section", test_section);
  g_test_add_func("/case_xml/bad files", test_bad_files);
  g_test_add_func("/case_xml/large file", test_large_file);
  g_test_add_func("/case_xml/bad values", test_bad_values);
  g_test_add_func("/case_xml/mendable", test_mendable);
  g_test_add_func("/case_xml/foreign elements", test_foreign_elements);
  g_test_add_func("/case_xml/material cards", test_material_cards);
  return folder_run();
}
