/* test_drawn.c - the doubt of a drawn roof: in the case file, under edits, in every band.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "assess.h"
#include "case_files.h"
#include "casefile/connector_size.h"
#include "casefile/drawn.h"
#include "casefile/variant.h"
#include "proof.h"

static const Source SQUARES = {"independent errors add in squares", EXACT};
static const Source KEPT = {"the radius grows by what was typed, its error in mm stays", EXACT};

static Assessment *run(const Case *c)
{
  Assessor *assessor;
  AssessSettings settings = assess_settings_default();
  settings.grade = ASSESS_LIVE;
  Assessment *a;
  g_assert_cmpint(assessor_new(&assessor), ==, FAULT_NONE);
  g_assert_cmpint(assess(assessor, c, &settings, &a), ==, FAULT_NONE);
  assessor_free(assessor);
  return a;
}

static void drawn(Connector *k, double percent)
{
  k->drawn[SIDE_GINGIVAL] = true;
  connector_roof_doubt_set(k, percent);
}

static void test_file_and_variants(void)
{
  Case c, back;
  demo_load(&c, "demo/QB-02.xml");
  case_init(&back);
  drawn(&c.connector[0], 12.5);
  g_assert_cmpint(variant_pin(&c.connector[0], "as drawn"), ==, FAULT_NONE);
  g_autofree char *path = in_folder("drawn.xml");
  g_autoptr(GError) error = NULL;
  case_save(&c, path, &error);
  g_assert_no_error(error);
  case_load(&back, path, &error);
  g_assert_no_error(error);
  g_assert_cmpint(g_remove(path), ==, 0);
  g_assert_true(case_equal(&c, &back));
  g_assert_cmpfloat(connector_roof_doubt(&back.connector[0]), ==, 12.5);
  g_assert_cmpfloat(connector_roof_doubt(&back.connector[1]), ==, 0);
  connector_roof_doubt_set(&back.connector[0], 13);
  g_assert_false(case_equal(&c, &back));
  g_assert_false(case_alike(&c, &back, 0)); /* the answer is not the same */
  g_assert_cmpint(variant_take(&back, 0, 0), ==, FAULT_NONE);
  g_assert_cmpfloat(connector_roof_doubt(&back.connector[0]), ==, 12.5);
  back.connector[0].drawn[SIDE_GINGIVAL] = false; /* proposed: nothing of it is a hand's */
  g_assert_cmpfloat(connector_roof_doubt(&back.connector[0]), ==, 0);
  case_clear(&c);
  case_clear(&back);
}

static void test_edits(void)
{
  Case c;
  demo_load(&c, "demo/QB-02.xml");
  Connector *k = &c.connector[0];
  drawn(k, 30);
  double was = connector_size(k, SIZE_RADIUS);
  Outline rounder = {0};
  g_assert_cmpint(shape_round_roof(&k->side[SIDE_GINGIVAL], 1.2 * was, &rounder), ==, FAULT_NONE);
  g_assert_cmpint(connector_gum_side_move(k, &rounder), ==, FAULT_NONE);
  proof_row("doubt of a roof made 1.2 times as round by knots, percent", KEPT, 30 / 1.2,
            connector_roof_doubt(k), 1);
  outline_clear(&rounder);
  g_assert_cmpint(connector_size_set(&c, 0, SIZE_DEPTH, connector_size(k, SIZE_DEPTH) - 0.1), ==,
                  FAULT_NONE);
  g_assert_cmpfloat(connector_roof_doubt(k), >, 20); /* the radius was not typed */
  g_assert_cmpint(connector_size_set(&c, 0, SIZE_RADIUS, was), ==, FAULT_NONE);
  g_assert_cmpfloat(connector_roof_doubt(k), ==, 0);
  case_clear(&c);
}

static double width(Banded b)
{
  return (b.high - b.low) / b.value;
}

static void test_bands(void)
{
  Case c;
  demo_load(&c, "demo/QB-03.xml");
  Assessment *plain = run(&c);
  drawn(&c.connector[0], 20);
  Assessment *hand = run(&c);
  const ConnectorAssessment *p = &plain->connector[0], *h = &hand->connector[0];
  RoofShare share = drawn_share(20), pull = drawn_pull(20);
  g_assert_cmpfloat(h->roof_doubt_percent, ==, 20);
  g_assert_cmpfloat(h->form.roof_radius.value, ==, p->form.roof_radius.value);
  g_assert_cmpfloat(h->form.roof_radius.low, <=, share.low * p->form.roof_radius.value);
  g_assert_cmpfloat(h->form.roof_radius.high, >=, share.high * p->form.roof_radius.value);
  g_assert_cmpfloat(h->peak_mpa.value, ==, p->peak_mpa.value);
  proof_row("band of the pull with a drawn roof, both sides", SQUARES,
            2 * hypot(p->peak.band_percent / 100, pull.high - 1), width(h->peak_mpa), 1e-6);
  g_assert_cmpfloat(h->margin.value, ==, p->margin.value);
  g_assert_cmpfloat(width(h->margin), >, width(p->margin));
  g_assert_cmpfloat(width(h->chance_percent), >, width(p->chance_percent));
  g_assert_cmpfloat(width(h->scratch_um), >, width(p->scratch_um));
  g_assert_cmpuint(h->n_driver, ==, p->n_driver + 1);
  drawn(&c.connector[0], 1000); /* whatever is not known: no band below nought */
  Assessment *wild = run(&c);
  g_assert_cmpfloat(wild->connector[0].peak_mpa.low, >, 0);
  g_assert_cmpfloat(wild->connector[0].margin.low, >, 0);
  g_assert_cmpfloat(wild->connector[0].form.roof_radius.low, >, 0);
  assessment_unref(plain);
  assessment_unref(hand);
  assessment_unref(wild);
  case_clear(&c);
}

/* The exponent of drawn.c: pull as radius^-e between two solved roofs, all else as it is.  No shape
 * may follow its radius more closely than the band says. */
static void test_exponent(void)
{
  static const char *const number[] = {"demo/QB-01.xml", "demo/QB-02.xml", "demo/QB-03.xml"};
  double least = INFINITY, most = -INFINITY,
         said = log(drawn_pull(20).high) / -log(drawn_share(20).low);
  for (size_t q = 0; q < G_N_ELEMENTS(number); q++)
    for (double r = 0.25; r < 0.7; r *= 1.5) {
      Case c;
      demo_load(&c, number[q]);
      NeckLoad bend = {.moment_n_mm = 500};
      double mpa[2][SPAN_MAX_UNITS] = {{0}};
      for (int round = 0; round < 2; round++) {
        for (size_t i = 0; i + 1 < c.n_unit; i++) {
          Fault fault = connector_size_set(&c, i, SIZE_RADIUS, round ? 1.25 * r : r);
          if (fault)
            mpa[round][i] = NAN; /* no room for it */
        }
        Assessment *a = run(&c);
        for (size_t i = 0; i < a->n_connector; i++) {
          Peak peak;
          if (a->connector[i].field && !isnan(mpa[round][i]) &&
              !field_peak(a->connector[i].field, bend, &peak) && peak.zone == SURFACE_ROOF)
            mpa[round][i] = peak.mpa;
          else
            mpa[round][i] = NAN;
        }
        assessment_unref(a);
      }
      for (size_t i = 0; i + 1 < c.n_unit; i++) {
        double e = -log(mpa[1][i] / mpa[0][i]) / log(1.25);
        if (isnan(e))
          continue;
        g_test_message("%s %zu r %.2f: %.3f", number[q], i, r, e);
        least = fmin(least, e);
        most = fmax(most, e);
      }
      case_clear(&c);
    }
  g_test_message("exponent %.3f to %.3f, said %.3f", least, most, said);
  g_assert_cmpfloat(least, >, 0.05);
  g_assert_cmpfloat(most, <=, said);
}

/* Surfaces: the finer the triangles and the larger the roof, the narrower the band; triangles that
 * turn as far as a corner tell nothing above half.  What it covers: test_facets.c. */
static void test_surface(void)
{
  double before = 0;
  for (double turn = 0.05; turn < 1; turn += 0.1) {
    double now = surface_roof_doubt(0.5, turn);
    g_assert_cmpfloat(now, >, before);
    g_assert_cmpfloat(now, <, surface_roof_doubt(0.2, turn));
    before = now;
  }
  RoofShare fine = drawn_share(surface_roof_doubt(0.5, 0.05)),
            coarse = drawn_share(surface_roof_doubt(0.5, 1.1));
  g_assert_cmpfloat(fine.high, <, 1.06);
  g_assert_cmpfloat(coarse.low, ==, 0.25);
  g_assert_cmpfloat_with_epsilon(coarse.high, 2, 1e-9);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/drawn/file-and-variants", test_file_and_variants);
  g_test_add_func("/drawn/edits", test_edits);
  g_test_add_func("/drawn/bands", test_bands);
  g_test_add_func("/drawn/exponent", test_exponent);
  g_test_add_func("/drawn/surface", test_surface);
  return folder_run();
}
