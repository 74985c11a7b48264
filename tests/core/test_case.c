/* test_case.c - teeth, life of a case, checks, proposals, the beam of a case.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/case.h"
#include "casefile/case_xml.h"
#include "casefile/material_xml.h"
#include "outline/form.h"
#include <math.h>
#include <stdint.h>
#include <string.h>

/* A bridge of mean teeth, all abutments but the inner ones. */
static void bridge_of(Case *c, const int tooth[], size_t n)
{
  case_init(c);
  c->n_unit = n;
  for (size_t i = 0; i < n; i++) {
    Unit *u = &c->unit[i];
    *u = (Unit){.tooth = tooth[i], .role = i == 0 || i == n - 1 ? ROLE_ABUTMENT : ROLE_PONTIC};
    g_assert_cmpint(tooth_mean_size(tooth[i], &u->length, &u->width, &u->height), ==, FAULT_NONE);
  }
}

/* Mean crown sizes: Ash and Nelson / Wheeler, table 1-1; 11, 12 and 16 read, the others from
 * memory. */
static void test_tooth_sizes(void)
{
  static const struct {
    int tooth;
    double length, width, height;
  } known[] = {{11, 8.5, 7, 10.5}, {22, 6.5, 6, 9},   {23, 7.5, 8, 10}, {14, 7, 9, 8.5},
               {16, 10, 11, 7.5},  {27, 9, 11, 7},    {31, 5, 6, 9},    {42, 5.5, 6.5, 9.5},
               {43, 7, 7.5, 11},   {34, 7, 7.5, 8.5}, {45, 7, 8, 8},    {36, 11, 10.5, 7.5},
               {47, 10.5, 10, 7},  {38, 10, 9.5, 7}};
  for (size_t i = 0; i < G_N_ELEMENTS(known); i++) {
    double length, width, height;
    g_assert_cmpint(tooth_mean_size(known[i].tooth, &length, &width, &height), ==, FAULT_NONE);
    g_assert_cmpfloat(length, ==, known[i].length);
    g_assert_cmpfloat(width, ==, known[i].width);
    g_assert_cmpfloat(height, ==, known[i].height);
  }
  double same = 3;
  g_assert_cmpint(tooth_mean_size(19, &same, &same, &same), ==, FAULT_RANGE);
  g_assert_cmpfloat(same, ==, 3);
}

static void test_tooth_numbers(void)
{
  int valid = 0;
  for (int tooth = -100; tooth < 1000; tooth++)
    valid += tooth_valid(tooth);
  g_assert_cmpint(valid, ==, 32); /* ISO 3950: permanent teeth */
  g_assert_true(tooth_valid(11) && tooth_valid(48) && !tooth_valid(10) && !tooth_valid(51));
  g_assert_true(tooth_upper(28) && !tooth_upper(31));
  g_assert_true(tooth_is_molar(46) && !tooth_is_molar(45));
  g_assert_true(tooth_is_front(23) && !tooth_is_front(24));
  Case c;
  bridge_of(&c, (const int[]){12, 11, 21, 22}, 4);
  g_assert_false(connector_distal_right(&c, 0));
  g_assert_true(connector_distal_right(&c, 2));
  char name[12];
  connector_name(&c, 1, '/', name);
  g_assert_cmpstr(name, ==, "11/21");
  case_clear(&c);
  bridge_of(&c, (const int[]){34, 35, 36}, 3);
  g_assert_true(connector_distal_right(&c, 0));
  case_clear(&c);
}

static void test_support(void)
{
  /* mechanics study, from memory: axial 1 / 3 / 10 kN/mm, rotation 10 / 50 / 200 N m/rad */
  SpanSpring soft = support_spring(SUPPORT_SOFT, ROLE_ABUTMENT),
             mid = support_spring(SUPPORT_MID, ROLE_ABUTMENT);
  SpanSpring stiff = support_spring(SUPPORT_STIFF, ROLE_IMPLANT);
  g_assert_cmpfloat(soft.axial_n_mm, ==, 1000);
  g_assert_cmpfloat(soft.rotation_n_mm_rad, ==, 10e3);
  g_assert_cmpfloat(mid.axial_n_mm, ==, 3000);
  g_assert_cmpfloat(mid.rotation_n_mm_rad, ==, 50e3);
  g_assert_cmpfloat(stiff.axial_n_mm, ==,
                    100e3); /* implants about ten times stiffer, from memory */
  g_assert_cmpfloat(stiff.rotation_n_mm_rad, ==, 2000e3);
}

/* ---- life ---- */

typedef void (*Change)(Case *c);

static void draw_section(Outline *section)
{
  const Point at[4] = {{-1, 0}, {1, 0}, {1, 2}, {-1, 2}};
  g_assert_cmpint(outline_from_points(section, at, 4, true), ==, FAULT_NONE);
}

#define CHANGE(name, statement)                                                                    \
  static void name(Case *c)                                                                        \
  {                                                                                                \
    statement;                                                                                     \
  }
static void replace(char **text)
{
  g_free(*text);
  *text = g_strdup("changed");
}
CHANGE(change_number, replace(&c->number))
CHANGE(change_title, replace(&c->title))
CHANGE(change_batch, replace(&c->blank_batch))
CHANGE(change_firing_record, replace(&c->firing_record))
CHANGE(change_author, replace(&c->author))
CHANGE(change_approver, replace(&c->approver))
CHANGE(change_material, c->material.weibull += 1)
CHANGE(change_source, c->material.source[0] = '#')
CHANGE(change_units, c->n_unit--)
CHANGE(change_role, c->unit[1].role = ROLE_HANGING)
CHANGE(change_size, c->unit[2].height += 0.001)
CHANGE(change_support, c->unit[0].support = SUPPORT_SOFT)
CHANGE(change_saddle, c->unit[1].saddle = FINISH_BLASTED)
CHANGE(change_shape, c->unit[1].saddle_shape = SADDLE_FLAT)
CHANGE(change_load, c->order_load_n += 1)
CHANGE(change_trial, c->trial.x = 5)
CHANGE(change_force, c->trial.force_n += 1)
CHANGE(change_bites, c->n_load_case = 1)
CHANGE(change_enlargement, c->enlargement = 1.19)
CHANGE(change_cutter, c->cutter_diameter = 0.7)
CHANGE(change_brush, c->brush_mm = NAN)
CHANGE(change_free, c->free_height = 6)
CHANGE(change_bow, c->arch_bow = 2)
CHANGE(change_bites_a_day, c->service.bites_a_day = 300)
CHANGE(change_years, c->service.years = 15)
CHANGE(change_habit, c->grinding_habit = ANSWER_YES)
CHANGE(change_soft, c->soft_handled = ANSWER_NO)
CHANGE(change_step, c->step = STEP_BROKEN)
CHANGE(change_inside, c->inside = FINISH_BLASTED)
CHANGE(change_edges, c->edges = FINISH_BLASTED)
CHANGE(change_biting, c->biting_face = FINISH_BLASTED)
CHANGE(change_fit, c->fit = FIT_ROCKS)
CHANGE(change_firings, c->firings = 2)
CHANGE(change_limit, c->firings_limit = 4)
CHANGE(change_planned, c->planned_span = 20)
CHANGE(change_fired, c->fired_span = 20)
CHANGE(change_neck_width, c->connector[0].neck_width += 0.01)
CHANGE(change_groove, c->connector[0].groove_y += 0.01)
CHANGE(change_groove_radius, c->connector[0].groove_radius += 0.01)
CHANGE(change_opening, c->connector[0].groove_open_deg -= 1)
CHANGE(change_plan, c->connector[1].plan_radius = 1.5)
CHANGE(change_roundness, c->connector[1].roundness_neck = 2.5)
CHANGE(change_section, draw_section(&c->connector[1].section))
CHANGE(change_body, c->connector[1].roundness_body = 3.5)
CHANGE(change_finish, c->connector[1].finish[ZONE_LEGS] = FINISH_AS_FIRED)
CHANGE(change_measured, c->connector[1].measured_height = 4)
CHANGE(change_soft_height, c->connector[1].soft_height = 5)
CHANGE(change_papilla, c->connector[1].papilla = 0.5)
CHANGE(change_dye, c->connector[0].dye = CHECK_LINE)
CHANGE(change_light, c->connector[0].light = CHECK_LINE)
CHANGE(change_drawn, c->connector[0].drawn[SIDE_BUCCAL] = true)
CHANGE(change_outline, c->connector[0].side[SIDE_GINGIVAL].knot[1].at.y += 1e-5)
CHANGE(change_event, g_array_set_size(c->connector[0].event, 1))
CHANGE(change_history, g_ptr_array_set_size(c->history, 1))
static void change_own(Case *c)
{
  c->unit[0].support = SUPPORT_OWN;
  c->unit[0].own = (SpanSpring){2000, INFINITY};
}
static void change_tick(Case *c)
{
  Tick *tick = g_new(Tick, 1);
  *tick = (Tick){g_strdup("polish-roof"), g_strdup("kl"), g_strdup("2031-02-03T10:20:30Z")};
  g_ptr_array_add(c->tick, tick);
}
static const Change changes[] = {
    change_number,   change_title,       change_batch,   change_firing_record, change_author,
    change_approver, change_material,    change_source,  change_units,         change_role,
    change_size,     change_support,     change_saddle,  change_shape,         change_load,
    change_trial,    change_bites_a_day, change_force,   change_enlargement,   change_cutter,
    change_brush,    change_free,        change_bites,   change_years,         change_bow,
    change_habit,    change_soft,        change_step,    change_inside,        change_edges,
    change_biting,   change_fit,         change_firings, change_limit,         change_planned,
    change_fired,    change_neck_width,  change_groove,  change_groove_radius, change_opening,
    change_plan,     change_roundness,   change_section, change_body,          change_finish,
    change_measured, change_soft_height, change_papilla, change_dye,           change_light,
    change_drawn,    change_outline,     change_event,   change_history,       change_own,
    change_tick};

static void demo_load(Case *c, const char *number)
{
  char *path = g_strdup_printf("%s/../../data/demo/%s.xml", g_test_get_dir(G_TEST_DIST), number);
  GError *error = NULL;
  case_init(c);
  case_load(c, path, &error);
  g_assert_no_error(error);
  g_free(path);
}

/* Each field counts: in a copy, in a comparison, and on its way through a file. */
static void test_every_field(void)
{
  Case base;
  demo_load(&base, "QB-01");
  for (size_t i = 0; i < G_N_ELEMENTS(changes); i++) {
    Case changed, copy, back;
    case_init(&changed);
    case_init(&copy);
    case_init(&back);
    g_assert_cmpint(case_copy(&changed, &base), ==, FAULT_NONE);
    g_assert_true(case_equal(&changed, &base));
    changes[i](&changed);
    if (case_equal(&changed, &base))
      g_error("change %zu is not seen", i);
    g_assert_cmpint(case_copy(&copy, &changed), ==, FAULT_NONE);
    g_assert_true(case_equal(&copy, &changed));
    GString *text = case_to_xml(&changed);
    GError *error = NULL;
    case_load_memory(&back, text->str, text->len, "changed", &error);
    g_assert_no_error(error);
    if (!case_equal(&back, &changed))
      g_error("change %zu is lost in a file:\n%s", i, text->str);
    g_string_free(text, TRUE);
    case_clear(&changed);
    case_clear(&copy);
    case_clear(&back);
  }
  case_clear(&base);
}

/* ---- checks ---- */

static void assert_bad(const Case *c, const char *place, const char *word)
{
  char where[32] = "";
  const char *reason = NULL;
  g_assert_false(case_check(c, where, &reason));
  g_assert_cmpstr(where, ==, place);
  g_assert_nonnull(strstr(reason, word));
}

static void test_check(void)
{
  char place[32];
  const char *reason;
  Case c;
  case_init(&c);
  assert_bad(&c, "bridge", "at least two units");
  case_clear(&c);
  bridge_of(&c, (const int[]){34, 35, 36}, 3);
  g_assert_true(case_check(&c, place, &reason));
  c.unit[1].tooth = 39;
  assert_bad(&c, "unit 2", "ISO 3950");
  c.unit[1].tooth = 34;
  assert_bad(&c, "unit 2", "twice");
  c.unit[1].tooth = 37;
  assert_bad(&c, "unit 2", "neighbour");
  c.unit[1].tooth = 25; /* above 35: the other arch */
  assert_bad(&c, "unit 2", "neighbour");
  c.unit[1].tooth = 35;
  c.unit[2].width = NAN;
  assert_bad(&c, "unit 3", "size");
  c.unit[2].width = -8;
  assert_bad(&c, "unit 3", "size");
  c.unit[2].width = INFINITY;
  assert_bad(&c, "unit 3", "size");
  c.unit[2].width = 8;
  c.unit[2].role = ROLE_PONTIC;
  assert_bad(&c, "unit 2", "hanging pontic");
  c.unit[2].role = ROLE_HANGING;
  c.unit[1].role = ROLE_HANGING;
  g_assert_true(case_check(&c, place, &reason));
  c.unit[0].role = ROLE_HANGING;
  assert_bad(&c, "bridge", "no abutment");
  c.unit[0].role = c.unit[2].role = ROLE_ABUTMENT;
  assert_bad(&c, "unit 2", "between abutments");
  c.unit[1].role = ROLE_PONTIC;
  c.unit[0].support = SUPPORT_OWN;
  c.unit[0].own = (SpanSpring){0, 0};
  assert_bad(&c, "unit 1", "stiffness");
  c.unit[0].support = SUPPORT_MID;
  c.order_load_n = NAN;
  assert_bad(&c, "load", "load");
  case_clear(&c);
}

static void test_check_outlines(void)
{
  Case c;
  demo_load(&c, "QB-01");
  Connector *k = &c.connector[1];
  size_t bad_at;
  g_assert_cmpint(
      outline_from_path(&k->side[SIDE_GINGIVAL], "M-5 0 L 0.9 2.2 L -0.9 2.2 L 5 0", &bad_at), ==,
      FAULT_NONE);
  assert_bad(&c, "46/47 gingival", "crosses");
  g_assert_cmpint(outline_from_path(&k->side[SIDE_GINGIVAL],
                                    "M-5 0 L -1 0 L -0.5 5.95 L 0.5 5.95 L 1 0 L 5 0", &bad_at),
                  ==, FAULT_NONE);
  assert_bad(&c, "46/47", "no neck");
  g_assert_cmpint(outline_from_path(&k->side[SIDE_GINGIVAL],
                                    "M-5 0 L -1 0 L -0.5 7 L 0.5 7 L 1 0 L 5 0", &bad_at),
                  ==, FAULT_NONE);
  assert_bad(&c, "46/47", "cross");
  k->side[SIDE_GINGIVAL].knot[0].at.x = NAN;
  assert_bad(&c, "46/47 gingival", "not a number");
  case_clear(&c);
}

/* ---- proposals and the beam ---- */

/* Every pair of neighbours gets four outlines that leave a neck. */
static void test_complete(void)
{
  static const int arch[2][16] = {{18, 17, 16, 15, 14, 13, 12, 11, 21, 22, 23, 24, 25, 26, 27, 28},
                                  {48, 47, 46, 45, 44, 43, 42, 41, 31, 32, 33, 34, 35, 36, 37, 38}};
  for (int a = 0; a < 2; a++) {
    Case c;
    bridge_of(&c, arch[a], 16);
    g_assert_cmpint(case_complete(&c), ==, FAULT_NONE);
    char place[32] = "";
    const char *reason = "";
    if (!case_check(&c, place, &reason))
      g_error("%s: %s", place, reason);
    for (size_t i = 0; i + 1 < c.n_unit; i++) {
      const Connector *k = &c.connector[i];
      Form form;
      Point where;
      g_assert_cmpint(
          form_read(&k->side[0], &k->side[1], &k->side[2], &k->side[3], NULL, &form, &where), ==,
          FAULT_NONE);
      g_assert_cmpfloat(form.neck_height, >, 2.5);
      g_assert_cmpfloat(form.gap_circle, >, 0.7); /* the thinnest brush, ISO 16409 size 1 */
      g_assert_true(isfinite(k->neck_width) && isfinite(k->groove_y) &&
                    isfinite(k->groove_open_deg));
      g_assert_true(isnan(k->plan_radius));
    }
    case_clear(&c);
  }
}

static void test_complete_keeps_drawn(void)
{
  Case c;
  demo_load(&c, "QB-02");
  Outline before;
  outline_init(&before);
  g_assert_cmpint(outline_copy(&before, &c.connector[1].side[SIDE_GINGIVAL]), ==, FAULT_NONE);
  g_assert_cmpint(case_complete(&c), ==, FAULT_NONE);
  g_assert_true(outline_equal(&before, &c.connector[1].side[SIDE_GINGIVAL], 0));
  outline_clear(&before);
  c.connector[1].groove_y = 40; /* above every crown */
  g_assert_cmpint(case_complete(&c), !=, FAULT_NONE);
  Side side;
  g_assert_cmpint(connector_complete(&c, 1, &side), !=, FAULT_NONE);
  g_assert_cmpint(side, ==, SIDE_OCCLUSAL);
  case_clear(&c);
}

static void test_span_input(void)
{
  Case c;
  demo_load(&c, "QB-01");
  Form form[2];
  for (size_t i = 0; i < 2; i++) {
    const Outline *side = c.connector[i].side;
    g_assert_cmpint(form_read(&side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], &side[SIDE_BUCCAL],
                              &side[SIDE_LINGUAL], NULL, &form[i], NULL),
                    ==, FAULT_NONE);
  }
  c.unit[2].support = SUPPORT_OWN;
  c.unit[2].own = (SpanSpring){1234, INFINITY};
  SpanInput in;
  g_assert_cmpint(case_span_input(&c, form, &in), ==, FAULT_NONE);
  g_assert_cmpuint(in.n_unit, ==, 3);
  /* superellipse n = 4: area = w h gamma(5/4)^2 / gamma(3/2), exact */
  double share = tgamma(1.25) * tgamma(1.25) / tgamma(1.5);
  for (size_t i = 0; i < 3; i++) {
    g_assert_cmpfloat_with_epsilon(in.unit[i].area, share * c.unit[i].width * c.unit[i].height,
                                   1e-4 * in.unit[i].area);
    g_assert_cmpint(in.unit[i].supported, ==, i != 1);
  }
  g_assert_cmpfloat(in.unit[0].spring.axial_n_mm, ==, 3000);
  g_assert_cmpfloat(in.unit[2].spring.axial_n_mm, ==, 1234);
  g_assert_true(isinf(in.unit[2].spring.rotation_n_mm_rad));
  /* the case's own table: neck 4.10 high, 3.3 wide, area 10.6 (oval) */
  g_assert_cmpfloat_with_epsilon(in.neck[0].height, 4.10, 0.03);
  g_assert_cmpfloat_with_epsilon(in.neck[0].area, 10.6, 0.15);
  g_assert_cmpfloat_with_epsilon(in.neck[0].i_z, M_PI / 64 * 3.3 * 4.1 * 4.1 * 4.1,
                                 0.03 * in.neck[0].i_z);
  g_assert_cmpfloat(in.neck[0].body_height, ==, 7.5);
  g_assert_cmpfloat(in.neck[0].half_length, >, 1.2); /* feet at 1.45, biting mouth wider */
  g_assert_cmpfloat(in.neck[0].half_length, <, 3.0);
  c.unit[0].height = NAN;
  SpanInput untouched = {.n_unit = 77};
  g_assert_cmpint(case_span_input(&c, form, &untouched), !=, FAULT_NONE);
  g_assert_cmpuint(untouched.n_unit, ==, 77);
  case_clear(&c);
}

static void test_materials(void)
{
  static const struct {
    const char *id;
    double low, high; /* MPa, four-point: 3Y 800-900, 4Y 560-650, 5Y 470-500 (PMC6935426, read) */
    int iso_class;
  } known[] = {{"3y", 800, 900, 5}, {"4y", 560, 650, 4}, {"5y", 470, 500, 3}};
  for (size_t i = 0; i < G_N_ELEMENTS(known); i++) {
    const Material *m = material_find(known[i].id);
    g_assert_nonnull(m);
    g_assert_cmpfloat(m->strength_mpa, >, known[i].low);
    g_assert_cmpfloat(m->strength_mpa, <, known[i].high);
    g_assert_cmpint(m->iso_class, ==, known[i].iso_class);
    g_assert_cmpint(material_check(m, NULL), ==, FAULT_NONE);
    g_assert_cmpuint(strlen(m->source), >, 20);
  }
  g_assert_nonnull(material_find("own"));
  g_assert_null(material_find("6y"));
  size_t n;
  materials_shipped(&n);
  g_assert_cmpuint(n, ==, 4);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/case/tooth sizes", test_tooth_sizes);
  g_test_add_func("/case/tooth numbers", test_tooth_numbers);
  g_test_add_func("/case/support", test_support);
  g_test_add_func("/case/materials", test_materials);
  g_test_add_func("/case/check", test_check);
  g_test_add_func("/case/check outlines", test_check_outlines);
  g_test_add_func("/case/complete", test_complete);
  g_test_add_func("/case/complete keeps drawn", test_complete_keeps_drawn);
  g_test_add_func("/case/span input", test_span_input);
  g_test_add_func("/case/every field", test_every_field);
  return g_test_run();
}
