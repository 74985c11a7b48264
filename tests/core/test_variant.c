/* test_variant.c - variants: pinned, through a file, taken back, refused.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/variant.h"
#include "case_files.h"

#define ok(call) g_assert_cmpint(call, ==, FAULT_NONE)

static void test_round(void)
{
  Case c, back;
  demo_load(&c, "demo/QB-02.xml");
  case_init(&back);
  Connector *k = &c.connector[1];
  ok(variant_pin(k, "V, \"as copied\" <1>"));
  outline_transform(&k->side[SIDE_GINGIVAL], (const double[6]){1, 0, 0, 0.9, 0, 0});
  k->finish[ZONE_ROOF] = FINISH_HIGH_POLISH;
  k->polish_steps = 3;
  ok(variant_pin(k, "lower"));
  GString *text = case_to_xml(&c);
  GError *error = NULL;
  case_load_memory(&back, text->str, text->len, "variants", &error);
  g_assert_no_error(error);
  g_assert_true(case_equal(&c, &back));
  g_assert_cmpuint(back.connector[1].variant->len, ==, 2);
  const Variant *first = back.connector[1].variant->pdata[0],
                *second = back.connector[1].variant->pdata[1];
  g_assert_cmpstr(first->name, ==, "V, \"as copied\" <1>");
  g_assert_false(first->as.drawn[SIDE_BUCCAL]); /* what was proposed is not kept */
  g_assert_cmpint((int)second->as.finish[ZONE_ROOF], ==, (int)FINISH_HIGH_POLISH);
  g_assert_cmpuint(second->as.polish_steps, ==, 3);
  /* names, outlines and finish count when cases are compared; a copy is deep */
  Case copy;
  case_init(&copy);
  ok(case_copy(&copy, &back));
  g_assert_true(case_equal(&copy, &back));
  Variant *changed = copy.connector[1].variant->pdata[1];
  changed->as.finish[ZONE_ROOF] = FINISH_AS_MILLED;
  g_assert_false(case_equal(&copy, &back));
  changed->as.finish[ZONE_ROOF] = FINISH_HIGH_POLISH;
  outline_transform(&changed->as.side[SIDE_GINGIVAL], (const double[6]){1, 0, 0, 1, 0, 0.01});
  g_assert_false(case_equal(&copy, &back));
  g_ptr_array_remove_index(copy.connector[1].variant, 1);
  g_assert_false(case_equal(&copy, &back));
  /* taken: outline and finish come back, the pins stay */
  Outline *now = &back.connector[1].side[SIDE_GINGIVAL];
  g_assert_false(outline_equal(now, &first->as.side[SIDE_GINGIVAL], 1e-3));
  ok(variant_take(&back, 1, 0));
  g_assert_true(outline_equal(now, &first->as.side[SIDE_GINGIVAL], 0));
  g_assert_cmpint((int)back.connector[1].finish[ZONE_ROOF], ==, (int)FINISH_AS_MILLED);
  g_assert_cmpuint(back.connector[1].polish_steps, ==, 0);
  g_assert_cmpuint(back.connector[1].variant->len, ==, 2);
  g_assert_cmpint(variant_take(&back, 1, 2), ==, FAULT_RANGE);
  for (int i = 2; i < VARIANTS_MOST; i++)
    ok(variant_pin(&back.connector[1], "one more"));
  g_assert_cmpint(variant_pin(&back.connector[1], "too many"), ==, FAULT_ROOM);
  g_string_free(text, TRUE);
  case_clear(&c);
  case_clear(&back);
  case_clear(&copy);
}

static void test_refused(void)
{
  static const struct {
    const char *variant, *says;
  } wrong[] = {
      {"<variant/>", "name"},
      {"<variant name=\"a\"><outline side=\"gingival\"/></variant>", "no path data"},
      {"<variant name=\"a\"><measured/></variant>", "not known inside <variant>"},
      {"<variant name=\"1\"/><variant name=\"2\"/><variant name=\"3\"/><variant name=\"4\"/>"
       "<variant name=\"5\"/>",
       "more than 4 variants"}};
  for (size_t i = 0; i < G_N_ELEMENTS(wrong); i++) {
    g_autofree char *text = shipped_text("demo/QB-02.xml");
    char *at = strstr(text, "<proposed");
    g_autofree char *spoilt =
        g_strdup_printf("%.*s%s%s", (int)(at - text), text, wrong[i].variant, at);
    g_autoptr(GError) error = NULL;
    Case c;
    case_init(&c);
    g_assert_false(case_load_memory(&c, spoilt, strlen(spoilt), "wrong", &error));
    if (!strstr(error->message, wrong[i].says) || !strstr(error->message, "wrong:"))
      g_error("%s: not \"%s\"", error->message, wrong[i].says);
    case_clear(&c);
  }
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/variant/round", test_round);
  g_test_add_func("/variant/refused", test_refused);
  return g_test_run();
}
