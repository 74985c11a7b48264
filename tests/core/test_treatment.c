/* test_treatment.c - what happens after firing: the state it leaves, its factor, the flaw it
 * equals. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * um, MPa, MPa sqrt(m). */
#include "casefile/case.h"
#include "proof.h"

static const Source scratch = {"K_Ic 5, sigma 1000, Y 1.29: scratch depth, computed", EXACT},
                    gain = {"unfinished = polished / 1.56, a flaw 2.4 times as deep", PRACTICE},
                    inglis = {"Inglis 1913: 1 + 2 sqrt(depth / radius), inverted", READ},
                    griffith = {"K = 1.292 sigma sqrt(a): strength left by a crack, computed",
                                EXACT};

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

static void test_disc(void)
{
  Banded state = finish_factor(FINISH_DISC_CUT, FINISH_AS_FIRED, NAN);
  Banded sharp = disc_factor(state, 5, 850, 0.27, NAN),
         blunt = disc_factor(state, 5, 850, 0.32, 0.08),
         wide = disc_factor(state, 5, 850, 0.01, 0.5);
  proof_row_within("disc mark 0.27 deep as a crack, factor", griffith, 0.27709, sharp.low, 5e-5);
  proof_row_within("disc mark 0.32 deep, edge 0.08, as a crack, factor", griffith, 0.25452,
                   blunt.low, 5e-5);
  g_assert_cmpfloat(blunt.low, >=, 0.2);
  g_assert_cmpfloat(wide.low, ==, state.low); /* never better than the state */
  g_assert_cmpfloat(sharp.value, ==, state.value);
  g_assert_cmpfloat(disc_factor(state, 5, 850, NAN, 0.1).low, ==, state.low);
  Banded round = disc_factor(state, 0.5, 850, 0.32, 0.08); /* brittle: the notch decides */
  proof_row_within("blunt disc mark, depth four radii, factor", inglis, 0.2, round.low, 1e-12);
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
