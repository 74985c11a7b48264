/* test_break.c - the record of a break: kept, refused, compared with what was expected, counted.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess_break.h"
#include "case_files.h"
#include "casefile/case_xml.h"
#include "proof.h"
#include <string.h>

static const Source wilson = {"Wilson 1927, score interval with z = 1.645, by hand", EXACT},
                    sheet = {"demo case QB-10: broke at 46/47, place 0.3 mm (invented)", PRACTICE};

static void test_kept(void)
{
  Case c, back;
  demo_load(&c, "demo/QB-10.xml");
  case_init(&back);
  c.origin.at_y = 2.25;
  c.origin.kind = ORIGIN_SCRATCH;
  c.origin.load_n = 612.5;
  c.origin.years = 1.2;
  g_free(c.origin.photo);
  c.origin.photo = g_strdup("QB-10/face.jpg");
  g_autoptr(GString) text = case_to_xml(&c);
  GError *error = NULL;
  g_assert_true(case_load_memory(&back, text->str, text->len, "break", &error));
  g_assert_no_error(error);
  g_assert_true(case_equal(&c, &back));
  double *const number[] = {&back.origin.at_y, &back.origin.load_n, &back.origin.years};
  for (size_t i = 0; i < G_N_ELEMENTS(number); i++) {
    double kept = *number[i];
    *number[i] = NAN;
    g_assert_false(case_equal(&c, &back));
    *number[i] = kept;
  }
  g_assert_cmpint((int)case_copy(&c, &back), ==, FAULT_NONE);
  g_assert_cmpstr(c.origin.photo, ==, "QB-10/face.jpg");
  case_clear(&c);
  case_clear(&back);
}

/* Off the sketch, outside the folder, unknown words: message with file and line. */
static void test_refused(void)
{
  static const struct {
    const char *with, *words;
  } row[] = {
      {"x=\"9\"", "<origin> 46-47: The start of the break lies off the sketch"},
      {"y=\"-1\" x=\"0.3\"", "<origin> 46-47: The start of the break lies off the sketch"},
      {"y=\"12\" x=\"0.3\"", "<origin> 46-47: The start of the break lies off the sketch"},
      {"kind=\"bite\" x=\"0.3\"", "kind=\"bite\" of <origin> is not known. Write one of: scratch"},
      {"photo=\"/tmp/face.jpg\" x=\"0.3\"", "leaves the folder of the case"},
      {"photo=\"../face.jpg\" x=\"0.3\"", "leaves the folder of the case"},
      {"load=\"-5\" x=\"0.3\"", "load=\"-5\" of <origin> is absurd"},
      {"years=\"1e9\" x=\"0.3\"", "years=\"1e9\" of <origin> is absurd"},
  };
  g_autofree char *demo = shipped_text("demo/QB-10.xml");
  for (size_t i = 0; i < G_N_ELEMENTS(row); i++) {
    g_autoptr(GString) text = g_string_new(demo);
    g_assert_cmpuint(g_string_replace(text, "x=\"0.3\" depth", "@ depth", 1), ==, 1);
    g_string_replace(text, "@", row[i].with, 1);
    Case c;
    case_init(&c);
    g_autoptr(GError) error = NULL;
    g_assert_false(case_load_memory(&c, text->str, text->len, "QB-10.xml", &error));
    g_test_message("%s", error->message);
    g_assert_nonnull(strstr(error->message, row[i].words));
    g_assert_true(g_str_has_prefix(error->message, "QB-10.xml:28:"));
    case_clear(&c);
  }
}

static void test_sketch(void)
{
  Case c;
  demo_load(&c, "demo/QB-10.xml");
  g_assert_true(connector_on_sketch(&c, 1, 0.3, 2.3));
  g_assert_true(connector_on_sketch(&c, 1, 0.3, NAN));
  g_assert_true(connector_on_sketch(&c, 1, NAN, NAN));
  g_assert_false(connector_on_sketch(&c, 1, NAN, 2));
  g_assert_false(connector_on_sketch(&c, 1, 0.3, -0.6));
  g_assert_false(connector_on_sketch(&c, 1, 7.5, 2));
  g_assert_false(connector_on_sketch(&c, 7, 0, 2));
  case_clear(&c);
}

static void test_check(void)
{
  Assessor *assessor = NULL;
  g_assert_cmpint((int)assessor_new(&assessor), ==, FAULT_NONE);
  Case c;
  demo_load(&c, "demo/QB-10.xml");
  AssessSettings settings = assess_settings_default();
  settings.grade = ASSESS_LIVE;
  Assessment *a = NULL, *other = NULL, *whole = NULL;
  c.origin.load_n = 500;
  g_assert_cmpint((int)assess(assessor, &c, &settings, &a), ==, FAULT_NONE);
  BreakCheck check = break_check(a);
  g_assert_true(check.recorded && check.connector_hit);
  g_assert_cmpuint(check.broke, ==, 1);
  g_assert_cmpint((int)check.broke_zone, ==, ZONE_ROOF);
  proof_row_within("broken demo bridge, place from the neck", sheet, 0.3, a->c.origin.at_x, 1e-9);
  g_assert_cmpfloat(check.distance, <, 1.5);
  g_assert_cmpfloat_with_epsilon(check.load_share, 500 / a->connector[1].carries_n.value, 1e-12);
  c.origin.connector = 0;
  g_assert_cmpint((int)assess(assessor, &c, &settings, &other), ==, FAULT_NONE);
  BreakCheck miss = break_check(other);
  g_assert_true(miss.recorded && !miss.connector_hit && !miss.zone_hit && isnan(miss.distance));
  c.origin.zone = 0;
  g_assert_cmpint((int)assess(assessor, &c, &settings, &whole), ==, FAULT_NONE);
  BreakCheck none = break_check(whole);
  g_assert_false(none.recorded);
  BreakTally tally = {0};
  break_tally(&tally, &check, ORIGIN_DISC);
  break_tally(&tally, &miss, ORIGIN_PORE);
  break_tally(&tally, &none, ORIGIN_DISC);
  g_assert_cmpuint(tally.cases, ==, 3);
  g_assert_cmpuint(tally.recorded, ==, 2);
  g_assert_cmpuint(tally.connector_hits, ==, 1);
  g_assert_cmpfloat_with_epsilon(tally.distance, check.distance, 1e-12);
  assessment_unref(a);
  assessment_unref(other);
  assessment_unref(whole);
  assessor_free(assessor);
  case_clear(&c);
}

static void test_share(void)
{
  Banded half = hit_share_percent(5, 10), none = hit_share_percent(0, 10);
  proof_row_within("5 hits of 10, lower end, percent", wilson, 26.927, half.low, 0.005);
  proof_row_within("5 hits of 10, upper end, percent", wilson, 73.073, half.high, 0.005);
  proof_row_within("0 hits of 10, upper end, percent", wilson, 21.294, none.high, 0.005);
  g_assert_cmpfloat(none.low, ==, 0);
  g_assert_true(isnan(hit_share_percent(0, 0).value));
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/break/kept", test_kept);
  g_test_add_func("/break/refused", test_refused);
  g_test_add_func("/break/sketch", test_sketch);
  g_test_add_func("/break/check", test_check);
  g_test_add_func("/break/share", test_share);
  return folder_run();
}
