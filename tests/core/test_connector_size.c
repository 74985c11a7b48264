/* test_connector_size.c - typed sizes: the outline follows, to the last digit that is shown.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, degrees.  The results are read off the geometry by shape_rows.h, not only by form.c. */
#include "casefile/connector_size.h"
#include "proof.h"
#include "shape_rows.h"

static const Source asked = {"the size that was typed", EXACT};
static const Source tangent = {"tangent from a foot to the roof circle: lean = 90 - atan(up/run) - "
                               "asin(r/distance)",
                               EXACT};

/* A three-unit case whose first connector has this gum side. */
static void case_make(Case *c, const Row *row)
{
  static const int tooth[] = {45, 46, 47};
  case_init(c);
  c->n_unit = 3;
  for (size_t i = 0; i < 3; i++) {
    c->unit[i] = (Unit){.tooth = tooth[i], .role = i == 1 ? ROLE_PONTIC : ROLE_ABUTMENT};
    ok(tooth_mean_size(tooth[i], &c->unit[i].length, &c->unit[i].width, &c->unit[i].height));
  }
  Neighbours body = case_neighbours(c, 0);
  ok(shape_gingival(row->corner, row->n, &body, &c->connector[0].side[SIDE_GINGIVAL]));
  c->connector[0].drawn[SIDE_GINGIVAL] = true;
  ok(case_complete(c));
}

static const Outline *gum(const Case *c)
{
  return &c->connector[0].side[SIDE_GINGIVAL];
}

/* Every size of every row, up and down in small steps: what is done is what was asked, what is not
 * done leaves the case alone. */
static void test_every(void)
{
  int done[SIZE_KINDS] = {0};
  for (size_t r = 0; r < G_N_ELEMENTS(rows); r++)
    for (SizeKind kind = 0; kind < SIZE_KINDS; kind++) {
      Case c, was;
      case_make(&c, &rows[r]);
      case_init(&was);
      double now = connector_size(&c.connector[0], kind);
      g_assert_true(isfinite(now));
      for (double k = 0.5; k < 1.7; k += 0.237) {
        ok(case_copy(&was, &c));
        double wish = now * k;
        if (connector_size_set(&c, 0, kind, wish) == FAULT_NONE) {
          done[kind]++;
          g_assert_cmpfloat_with_epsilon(connector_size(&c.connector[0], kind), wish,
                                         size_is_angle(kind) ? SIZE_EXACT_DEG : SIZE_EXACT_MM);
          ok(outline_check(gum(&c)));
          ok(outline_find_crossing(gum(&c), NULL));
          ok(case_complete(&c));
        } else
          g_assert_true(case_equal(&c, &was));
        ok(case_copy(&c, &was));
      }
      case_clear(&was);
      case_clear(&c);
    }
  for (SizeKind kind = 0; kind < SIZE_KINDS; kind++) {
    g_test_message("%s: %d", size_name(kind), done[kind]);
    g_assert_cmpint(done[kind], >, 40); /* of 108 */
  }
}

/* The roof stays where it is while the feet move. */
static void test_feet(void)
{
  int done = 0;
  for (size_t r = 0; r < G_N_ELEMENTS(rows); r++)
    for (double by = -0.6; by < 0.9; by += 0.1) {
      const Row *row = &rows[r];
      Outline o = row_outline(row), made;
      outline_init(&made);
      Fault fault = shape_move_feet(&o, by, &made);
      g_assert_true(fault == FAULT_NONE || fault == FAULT_RANGE);
      if (!fault) {
        done++;
        ok(outline_check(&made));
        ok(outline_find_crossing(&made, NULL));
        g_assert_true(has_knot(&made, point(row->corner[0].x - by, 0)));
        g_assert_true(has_knot(&made, point(row->corner[row->n - 1].x + by, 0)));
        g_assert_cmpfloat_with_epsilon(top_of(&made), top_of(&o), 1e-4);
        g_assert_cmpfloat_with_epsilon(smallest_radius(&made, 0.6 * row->roof), row->radius,
                                       0.01 * row->radius);
      }
      outline_clear(&made);
      outline_clear(&o);
    }
  g_assert_cmpint(done, >, 150);
  Outline o = row_outline(&rows[0]);
  g_assert_cmpint(shape_move_feet(&o, NAN, &o), ==, FAULT_NOT_FINITE);
  g_assert_cmpint(shape_move_feet(&o, 9, &o), ==, FAULT_RANGE);  /* past the body    */
  g_assert_cmpint(shape_move_feet(&o, -2, &o), ==, FAULT_RANGE); /* past each other */
  outline_clear(&o);
}

static void test_proof(void)
{
  Case c;
  case_make(&c, &rows[0]); /* a V: feet 3.0 apart, roof 2.58, radius 0.20 */
  ok(connector_size_set(&c, 0, SIZE_MOUTH, 3.6));
  double r = 0.2, up = top_of(gum(&c)) - r, run = 1.8;
  double lean = 90 - atan2(up, run) / DEGREE - asin(r / hypot(up, run)) / DEGREE;
  Point d;
  double foot = outline_nearest(gum(&c), point(-1.8, 0), NULL);
  outline_derivatives(gum(&c), foot + 1e-6, &d, NULL);
  proof_row("lean of a leg after the feet were moved, degrees", tangent, lean,
            atan2(d.x, d.y) / DEGREE, 0.02);
  proof_row("opening read after that, degrees", tangent, 2 * lean,
            connector_size(&c.connector[0], SIZE_OPENING), 0.1);
  ok(connector_size_set(&c, 0, SIZE_OPENING, 60));
  foot = outline_nearest(gum(&c), point(-3, 0), NULL);
  for (size_t i = 0; i < gum(&c)->n; i++) /* the left leg: the first knot that is not on the gum */
    if (gum(&c)->knot[i].at.y > 0.1) {
      outline_derivatives(gum(&c), (double)i - 0.5, &d, NULL);
      break;
    }
  proof_row("opening asked for: twice the lean of a leg, degrees", asked, 60,
            2 * atan2(d.x, d.y) / DEGREE, 0.1);
  ok(connector_size_set(&c, 0, SIZE_RADIUS, 0.55));
  proof_row("roof radius asked for, mm", asked, 0.55, smallest_radius(gum(&c), 1.6), 0.3);
  ok(connector_size_set(&c, 0, SIZE_DEPTH, 2.25));
  proof_row("depth asked for, mm", asked, 2.25, top_of(gum(&c)), 0.01);
  ok(connector_size_set(&c, 0, SIZE_NECK_HEIGHT, 3.5));
  double least = INFINITY;
  Polyline line = {0};
  ok(outline_flatten(&c.connector[0].side[SIDE_OCCLUSAL], 1e-5, &line));
  for (size_t i = 0; i < line.n; i++) {
    double away;
    (void)outline_nearest(gum(&c), line.at[i], &away);
    least = fmin(least, away);
  }
  polyline_clear(&line);
  proof_row("neck height asked for, mm", asked, 3.5, least, 0.15);
  ok(connector_size_set(&c, 0, SIZE_NECK_WIDTH, 3.4));
  double wide = 0;
  for (int s = SIDE_BUCCAL; s <= SIDE_LINGUAL; s++) {
    double half = INFINITY;
    for (int i = 0; i <= 4000; i++)
      half = fmin(half, fabs(outline_at(&c.connector[0].side[s],
                                        (double)outline_pieces(&c.connector[0].side[s]) * i / 4000)
                                 .y));
    wide += half;
  }
  proof_row("neck width asked for, mm", asked, 3.4, wide, 0.1);
  c.connector[0].drawn[SIDE_BUCCAL] = c.connector[0].drawn[SIDE_LINGUAL] = true;
  ok(connector_size_set(&c, 0, SIZE_NECK_WIDTH, 3.8));
  g_assert_cmpfloat_with_epsilon(connector_size(&c.connector[0], SIZE_NECK_WIDTH), 3.8, 0.005);
  case_clear(&c);
}

/* What the range promises can be done, what lies outside cannot. */
static void test_range(void)
{
  Case c;
  case_make(&c, &rows[0]);
  for (SizeKind kind = 0; kind < SIZE_KINDS; kind++) {
    double low, high, step = size_is_angle(kind) ? 0.3 : 0.03;
    ok(connector_size_range(&c, 0, kind, &low, &high));
    g_test_message("%s: %.2f to %.2f", size_name(kind), low, high);
    g_assert_cmpfloat(high - low, >, 10 * step);
    const double inside[] = {low, high}, outside[] = {low - step, high + step};
    for (int i = 0; i < 2; i++) {
      Case copy;
      case_init(&copy);
      ok(case_copy(&copy, &c));
      ok(connector_size_set(&copy, 0, kind, inside[i]));
      ok(case_copy(&copy, &c));
      g_assert_cmpint(connector_size_set(&copy, 0, kind, outside[i]), ==, FAULT_RANGE);
      case_clear(&copy);
    }
    const double absurd[] = {0, -1, 1e9, INFINITY, NAN};
    for (size_t i = 0; i < G_N_ELEMENTS(absurd); i++)
      g_assert_cmpint(connector_size_set(&c, 0, kind, absurd[i]), !=, FAULT_NONE);
    g_assert_cmpint(connector_size_set(&c, 2, kind, 1), ==, FAULT_RANGE);
  }
  double low, high;
  g_assert_cmpint(connector_size_range(&c, 5, SIZE_RADIUS, &low, &high), ==, FAULT_RANGE);
  case_clear(&c);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/connector-size/every", test_every);
  g_test_add_func("/connector-size/feet", test_feet);
  g_test_add_func("/connector-size/proof", test_proof);
  g_test_add_func("/connector-size/range", test_range);
  return g_test_run();
}
