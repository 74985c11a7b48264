/* test_treatment.c - what happens after firing: the state it leaves, its factor, the flaw it
 * equals. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * um, MPa, MPa sqrt(m). */
#include "casefile/case.h"
#include "proof.h"
#include "strength/crack.h"

static const Source scratch = {"K_Ic 5, sigma 1000, Y 1.29: scratch depth, computed", EXACT},
                    gain = {"unfinished = polished / 1.56, a flaw 2.4 times as deep", PRACTICE},
                    inglis = {"Inglis 1913: 1 + 2 sqrt(depth / radius), inverted", READ},
                    griffith = {"strength falls with the root of the depth of a crack", EXACT},
                    newman = {"Newman and Raju, NASA 19840015857, a / c 0.05, thick plate", READ},
                    same = {"a mark without depth is its state", EXACT};

static void test_states(void)
{
  /* the trade's sheet of wrong orders */
  g_assert_cmpint(finish_after(FINISH_AS_FIRED, TREAT_GLAZE, false), ==, FINISH_GLAZED_OVER_GROUND);
  g_assert_cmpint(finish_after(FINISH_HIGH_POLISH, TREAT_GLAZE, false), ==,
                  FINISH_GLAZED_OVER_POLISH);
  g_assert_cmpint(finish_after(FINISH_HIGH_POLISH, TREAT_DISC, false), ==, FINISH_DISC_CUT);
  g_assert_cmpint(finish_after(FINISH_DISC_CUT, TREAT_POLISH, false), ==, FINISH_DISC_CUT);
  g_assert_cmpint(finish_after(FINISH_DISC_CUT, TREAT_HEAT, false), ==, FINISH_DISC_CUT);
  g_assert_cmpint(finish_after(FINISH_COARSE_GROUND, TREAT_HEAT, false), ==, FINISH_REGEN_FIRED);
  g_assert_cmpint(finish_after(FINISH_HIGH_POLISH, TREAT_HEAT, false), ==,
                  FINISH_POLISHED_THEN_REGEN);
  g_assert_cmpint(finish_after(FINISH_AS_FIRED, TREAT_GROUND, true), ==, FINISH_COARSE_GROUND_DRY);
  g_assert_cmpint(finish_after(FINISH_AS_FIRED, TREAT_GROUND, false), ==, FINISH_COARSE_GROUND);
  g_assert_cmpint(finish_after(FINISH_HIGH_POLISH, TREAT_BLASTED, false), ==, FINISH_BLASTED);
  for (int state = 0; state < FINISH_N; state++)
    for (int t = 0; t < TREAT_N; t++) {
      g_assert_true(*treatment_source((Treatment)t));
      FinishState after = finish_after((FinishState)state, (Treatment)t, false);
      g_assert_cmpint(after, >=, 0);
      g_assert_cmpint(after, <, FINISH_N);
    }
}

static void test_flaw(void)
{
  Banded one = finish_flaw_um(5, 1000, banded(1, 1, 1));
  proof_row_within("equal flaw of 1000 MPa, um", scratch, 15.0, one.value, 0.05);
  Banded polished =
             finish_flaw_um(5, 850, finish_factor(FINISH_HIGH_POLISH, FINISH_HIGH_POLISH, 2)),
         milled = finish_flaw_um(5, 850, finish_factor(FINISH_AS_MILLED, FINISH_HIGH_POLISH, 2));
  proof_row_within("as milled against high gloss, depth of the equal flaw", gain, 2.4,
                   milled.value / polished.value, 0.05);
  g_assert_true(milled.low <= milled.value && milled.value <= milled.high);
  g_assert_true(isnan(finish_flaw_um(5, NAN, banded(1, 1, 1)).value));
}

/* A mark ten times as long as deep in a thick plate: K at its deepest place reaches K_Ic at the
 * strength that the factor leaves, when nothing is damaged at its bottom. */
static void test_disc(void)
{
  const double strength = 850, sound = 1e3; /* a surface that never gives way by itself */
  const Banded k_ic = {5, 3.5, 6.5};
  static const double depth[] = {0.1, 0.27, 0.5};
  for (size_t i = 0; i < G_N_ELEMENTS(depth); i++) {
    double a = depth[i], f = disc_factor(banded(sound, sound, sound), k_ic, strength, a, NAN).value;
    g_autofree char *what = g_strdup_printf("disc mark %.2f deep: K at its bottom, MPa sqrt(m)", a);
    proof_row(what, newman, 5,
              crack_newman_raju(a, 20 * a, 1000 * a, 1e4 * a, f * strength, 0, G_PI / 2), 0.7);
  }
  Banded state = finish_factor(FINISH_DISC_CUT, FINISH_HIGH_POLISH, NAN);
  /* shallow: the state alone; the flaw at the bottom adds to the depth */
  Banded none = disc_factor(state, k_ic, strength, 1e-9, NAN);
  proof_row("disc mark of next to no depth, factor", same, state.value, none.value, 0.01);
  proof_row("the same, low end", same, state.low, none.low, 0.01);
  g_assert_cmpfloat(disc_factor(state, k_ic, strength, NAN, 0.1).value, ==, state.value);
  double root = 5 / (1.989 * strength * state.value), flaw = root * root * 1e3; /* mm */
  proof_row("disc mark as deep as the flaw at its bottom, factor", griffith, state.value / sqrt(2),
            disc_factor(state, k_ic, strength, flaw, NAN).value, 0.01);
  /* wide and shallow: the flaw feels the notch alone */
  proof_row("blunt disc mark, depth a quarter of its radius, factor", inglis, state.value / 2,
            disc_factor(state, k_ic, strength, 0.25, 1).value, 0.01);
  for (double a = 0.01; a < 2; a *= 1.3) {
    Banded sharp = disc_factor(state, k_ic, strength, a, NAN),
           blunt = disc_factor(state, k_ic, strength, a, 2),
           deeper = disc_factor(state, k_ic, strength, 1.3 * a, NAN);
    g_assert_true(sharp.low < sharp.value && sharp.value < sharp.high);
    g_assert_cmpfloat(deeper.value, <, sharp.value);
    g_assert_cmpfloat(sharp.value, <=, blunt.value);
    g_assert_cmpfloat(blunt.value, <, state.value);
  }
}

static void event_add(Connector *k, EventKind kind, unsigned zone)
{
  SurfaceEvent event = SURFACE_EVENT_NONE;
  event.kind = kind;
  event.zone = zone;
  g_array_append_val(k->event, event);
}

/* An event counts until it was worked out, and never makes a surface better. */
static void test_now(void)
{
  Connector k;
  FinishState now[ZONE_NECK_N];
  connector_init(&k);
  for (int zone = 0; zone < ZONE_NECK_N; zone++)
    k.finish[zone] = FINISH_HIGH_POLISH;
  connector_finish_now(&k, now);
  g_assert_cmpint(now[ZONE_ROOF], ==, FINISH_HIGH_POLISH);
  event_add(&k, EVENT_GROUND, 0);
  connector_finish_now(&k, now);
  g_assert_cmpint(now[ZONE_ROOF], ==, FINISH_COARSE_GROUND);
  g_assert_cmpint(now[ZONE_LEGS], ==, FINISH_COARSE_GROUND);
  g_assert_cmpint(now[ZONE_GROOVE], ==, FINISH_HIGH_POLISH);
  event_add(&k, EVENT_GLAZE, ZONE_ROOF + 1);
  connector_finish_now(&k, now);
  g_assert_cmpint(now[ZONE_ROOF], ==, FINISH_GLAZED_OVER_GROUND);
  g_array_index(k.event, SurfaceEvent, 0).removed = ANSWER_YES;
  connector_finish_now(&k, now);
  g_assert_cmpint(now[ZONE_ROOF], ==, FINISH_GLAZED_OVER_POLISH);
  g_assert_cmpint(now[ZONE_LEGS], ==, FINISH_HIGH_POLISH);
  g_array_set_size(k.event, 0);
  event_add(&k, EVENT_HEAT, 0);
  event_add(&k, EVENT_CUT, 0); /* of the soft piece: its own rule */
  connector_finish_now(&k, now);
  g_assert_cmpint(now[ZONE_TONGUE], ==, FINISH_POLISHED_THEN_REGEN);
  k.finish[ZONE_LEGS] = FINISH_AS_MILLED;
  g_array_set_size(k.event, 0);
  event_add(&k, EVENT_BLASTED, ZONE_LEGS + 1);
  connector_finish_now(&k, now);
  g_assert_cmpint(now[ZONE_LEGS], ==, FINISH_AS_MILLED); /* no credit for blasting */
  connector_clear(&k);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  proof_open();
  g_test_add_func("/treatment/states", test_states);
  g_test_add_func("/treatment/flaw", test_flaw);
  g_test_add_func("/treatment/disc", test_disc);
  g_test_add_func("/treatment/now", test_now);
  return g_test_run();
}
