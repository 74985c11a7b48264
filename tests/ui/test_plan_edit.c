/* test_plan_edit.c - cheek and tongue outline shaped by hand, as edits of the session.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm. */
#include "casefile/connector_size.h"
#include "outline/knot.h"
#include "ui/plan_edit.h"
#include <math.h>
#include <string.h>

static Fault no_answer(Assessor *assessor, const Case *c, const AssessSettings *settings,
                       Assessment **assessment)
{
  (void)assessor, (void)c, (void)settings, (void)assessment;
  return FAULT_CANCELLED;
}

static SoffitSession *opened(PlanHand *hand)
{
  SoffitSession *session = session_new("", no_answer);
  GError *error = NULL;
  session_open_demo(session, "demo/QB-02.xml", &error);
  g_assert_no_error(error);
  session_set_focus(session, 1);
  plan_hand_init(hand, session);
  g_assert_null(hand->trouble);
  return session;
}

static void closed(SoffitSession *session, PlanHand *hand)
{
  plan_hand_clear(hand);
  g_object_unref(session);
}

static const Connector *joint(SoffitSession *session)
{
  return &session_case(session)->connector[1];
}

static bool image_kept(SoffitSession *session)
{
  const Outline *a = &joint(session)->side[SIDE_BUCCAL], *b = &joint(session)->side[SIDE_LINGUAL];
  for (size_t i = 0; i < a->n && a->n == b->n; i++)
    if (fabs(a->knot[i].at.x - b->knot[i].at.x) + fabs(a->knot[i].at.y + b->knot[i].at.y) > 1e-9)
      return false;
  return a->n == b->n;
}

static void undo_named(SoffitSession *session, const char *name)
{
  g_assert_cmpstr(session_undo_name(session), ==, name);
  g_assert_true(session_undo(session));
}

/* Choosing goes around both lines, the cheek side first; the place is told. */
static void test_choose(void)
{
  PlanHand hand;
  SoffitSession *session = opened(&hand);
  size_t cheek = plan_line(&hand, SIDE_BUCCAL)->n, tongue = plan_line(&hand, SIDE_LINGUAL)->n;
  g_assert_true(hand.alike);
  g_assert_false(plan_chosen(&hand));
  g_assert_null(plan_place_words(&hand));
  g_assert_false(plan_nudge(&hand, point(0, 0.1)) || plan_add(&hand) || plan_remove(&hand) ||
                 plan_turn(&hand) || plan_drag_begin(&hand) || plan_drag_to(&hand, point(0, 3)));
  for (size_t i = 0; i < cheek + tongue; i++) {
    plan_choose_next(&hand, 1);
    g_assert_cmpint((int)hand.side, ==, (int)(i < cheek ? SIDE_BUCCAL : SIDE_LINGUAL));
    g_assert_cmpuint(hand.knot, ==, i < cheek ? i : i - cheek);
  }
  g_autofree char *words = plan_place_words(&hand);
  g_assert_true(g_str_has_prefix(words, "Tongue side, point "));
  plan_choose_next(&hand, 1);
  g_assert_true(hand.side == SIDE_BUCCAL && hand.knot == 0);
  plan_choose_next(&hand, -1);
  g_assert_true(hand.side == SIDE_LINGUAL && hand.knot == tongue - 1);
  Point at = plan_line(&hand, SIDE_BUCCAL)->knot[3].at;
  g_assert_true(plan_choose_at(&hand, point_add(at, point(0.01, 0.02)), 0.4));
  g_assert_true(hand.side == SIDE_BUCCAL && hand.knot == 3);
  g_assert_false(plan_choose_at(&hand, point(0, 0), 0.4));
  g_assert_false(plan_chosen(&hand));
  g_assert_null(session_undo_name(session));
  closed(session, &hand);
}

/* By 0.1 and 0.01 mm; a series is one step; the other side follows only when asked to. */
static void test_nudge(void)
{
  PlanHand hand;
  SoffitSession *session = opened(&hand);
  hand.knot = 5;
  Point was = joint(session)->side[SIDE_BUCCAL].knot[5].at;
  g_assert_true(plan_nudge(&hand, point(0, 0.1)) && plan_nudge(&hand, point(0, 0.01)));
  g_assert_cmpfloat_with_epsilon(joint(session)->side[SIDE_BUCCAL].knot[5].at.y, was.y + 0.11,
                                 1e-9);
  g_assert_true(joint(session)->drawn[SIDE_BUCCAL] && joint(session)->drawn[SIDE_LINGUAL]);
  g_assert_true(image_kept(session));
  undo_named(session, "Move plan point");
  g_assert_null(session_undo_name(session));
  g_assert_false(plan_drawn(&hand));
  g_assert_true(plan_set_alike(&hand, false));
  Point other = joint(session)->side[SIDE_LINGUAL].knot[5].at;
  g_assert_true(plan_nudge(&hand, point(0, 0.1)));
  g_assert_cmpfloat(joint(session)->side[SIDE_LINGUAL].knot[5].at.y, ==, other.y);
  g_assert_false(joint(session)->drawn[SIDE_LINGUAL]);
  g_assert_false(image_kept(session));
  g_assert_true(plan_set_alike(&hand, true)); /* the side with the chosen point rules */
  g_assert_true(image_kept(session));
  g_assert_cmpfloat_with_epsilon(joint(session)->side[SIDE_BUCCAL].knot[5].at.y, was.y + 0.1, 1e-9);
  undo_named(session, "Plan alike on both sides");
  closed(session, &hand);
}

/* A drag is one step; where the line would hang over, the last good one stays and it is said
 * where. */
static void test_drag(void)
{
  PlanHand hand;
  SoffitSession *session = opened(&hand);
  const Outline *line = plan_line(&hand, SIDE_BUCCAL);
  size_t foot = line->n - 4; /* where the right leg ends */
  g_assert_true(plan_choose_at(&hand, line->knot[foot].at, 0.1));
  Point from = line->knot[foot].at;
  g_assert_true(plan_drag_begin(&hand));
  g_assert_true(session_editing(session));
  g_assert_true(plan_drag_to(&hand, point_add(from, point(-0.4, 0))));
  Point good = joint(session)->side[SIDE_BUCCAL].knot[foot].at;
  g_assert_cmpfloat_with_epsilon(good.x, from.x - 0.4, 1e-9);
  g_assert_false(plan_drag_to(&hand, point(-0.1, from.y)));
  g_assert_nonnull(hand.trouble);
  g_assert_nonnull(strstr(hand.trouble, "mm left of the neck: "));
  g_assert_cmpfloat_with_epsilon(hand.trouble_at.x, -0.1, 0.3);
  g_assert_cmpfloat(joint(session)->side[SIDE_BUCCAL].knot[foot].at.x, ==, good.x);
  g_assert_false(plan_drag_to(&hand, point(from.x, -1))); /* over the middle */
  g_assert_nonnull(strstr(hand.trouble, "mm right of the neck: "));
  g_assert_cmpfloat(joint(session)->side[SIDE_BUCCAL].knot[foot].at.y, ==, good.y);
  g_assert_false(plan_drag_to(&hand, point(NAN, 0)));
  plan_drag_end(&hand);
  g_assert_nonnull(hand.trouble); /* still said */
  plan_look(&hand);
  g_assert_null(hand.trouble);
  g_assert_true(image_kept(session));
  /* undone while a point is held: the drag is over */
  g_assert_true(plan_drag_begin(&hand) && plan_drag_to(&hand, from));
  g_assert_true(session_undo(session));
  g_assert_false(plan_drag_to(&hand, good));
  plan_drag_end(&hand);
  undo_named(session, "Move plan point");
  g_assert_null(session_undo_name(session));
  closed(session, &hand);
}

/* Ribs that fold over the gum side (a roof that overhangs its legs) hinder no change of the plan,
 * but it is said. */
static void test_folded_before(void)
{
  static const Point at[] = {{-3.5, 0}, {-0.4, 0}, {-1.8, 2.5}, {1.8, 2.5}, {0.4, 0}, {5, 0}};
  PlanHand hand;
  Outline roof;
  SoffitSession *session = opened(&hand);
  outline_init(&roof);
  g_assert_cmpint((int)outline_from_points(&roof, at, G_N_ELEMENTS(at), false), ==, FAULT_NONE);
  g_assert_nonnull(session_edit_begin(session, "Draw gum side"));
  g_assert_cmpint((int)session_set_outline(session, 1, SIDE_GINGIVAL, &roof), ==, FAULT_NONE);
  session_edit_end(session);
  outline_clear(&roof);
  plan_look(&hand);
  g_assert_nonnull(hand.trouble);
  hand.knot = 5;
  g_assert_true(plan_nudge(&hand, point(0, 0.1)));
  g_assert_nonnull(hand.trouble);
  undo_named(session, "Move plan point");
  closed(session, &hand);
}

static void test_points(void)
{
  PlanHand hand;
  SoffitSession *session = opened(&hand);
  size_t n = plan_line(&hand, SIDE_BUCCAL)->n;
  hand.side = SIDE_LINGUAL;
  hand.knot = 4;
  g_assert_true(plan_add(&hand));
  g_assert_cmpuint(plan_line(&hand, SIDE_LINGUAL)->n, ==, n + 1);
  g_assert_cmpuint(hand.knot, ==, 5);
  g_assert_true(image_kept(session));
  bool smooth = knot_smooth(plan_line(&hand, SIDE_LINGUAL), 5);
  g_assert_true(plan_turn(&hand));
  g_assert_true(knot_smooth(plan_line(&hand, SIDE_LINGUAL), 5) != smooth);
  undo_named(session, smooth ? "Make plan point sharp" : "Make plan point smooth");
  g_assert_true(plan_remove(&hand));
  g_assert_false(plan_chosen(&hand));
  g_assert_cmpuint(plan_line(&hand, SIDE_LINGUAL)->n, ==, n);
  undo_named(session, "Remove plan point");
  undo_named(session, "Add plan point");
  hand.knot = 0; /* an end */
  g_assert_false(plan_remove(&hand));
  g_assert_nonnull(strstr(hand.trouble, "end of the outline"));
  g_assert_false(plan_turn(&hand));
  Point middle = outline_at(plan_line(&hand, SIDE_BUCCAL), 4.5);
  g_assert_false(plan_add_at(&hand, point_add(middle, point(0, -0.5)), 0.1));
  g_assert_true(plan_add_at(&hand, point_add(middle, point(0, -0.05)), 0.1));
  g_assert_true(hand.side == SIDE_BUCCAL && hand.knot == 5);
  closed(session, &hand);
}

/* The typed width and the outlines given back. */
static void test_propose(void)
{
  PlanHand hand;
  SoffitSession *session = opened(&hand);
  double wide = connector_size(joint(session), SIZE_NECK_WIDTH);
  Outline proposed;
  outline_init(&proposed);
  g_assert_cmpint((int)outline_copy(&proposed, plan_line(&hand, SIDE_BUCCAL)), ==, FAULT_NONE);
  g_assert_false(plan_propose(&hand)); /* nothing to give back */
  hand.knot = 4;
  g_assert_true(plan_nudge(&hand, point(-0.2, 0.1)));
  Case *c = session_edit_begin(session, "Set neck width");
  g_assert_cmpint((int)connector_size_set(c, 1, SIZE_NECK_WIDTH, wide + 0.3), ==, FAULT_NONE);
  session_edit_end(session);
  g_assert_cmpfloat_with_epsilon(connector_size(joint(session), SIZE_NECK_WIDTH), wide + 0.3,
                                 SIZE_EXACT_MM);
  g_assert_true(session_undo(session));
  g_assert_true(plan_drawn(&hand));
  g_assert_true(plan_propose(&hand));
  g_assert_false(plan_drawn(&hand) || plan_chosen(&hand));
  g_assert_true(outline_equal(&proposed, plan_line(&hand, SIDE_BUCCAL), 1e-9));
  undo_named(session, "Propose plan again");
  g_assert_true(plan_drawn(&hand));
  outline_clear(&proposed);
  closed(session, &hand);
}

int main(int argc, char **argv)
{
  g_test_init(&argc, &argv, NULL);
  g_test_add_func("/plan-edit/choose", test_choose);
  g_test_add_func("/plan-edit/nudge", test_nudge);
  g_test_add_func("/plan-edit/drag", test_drag);
  g_test_add_func("/plan-edit/folded-before", test_folded_before);
  g_test_add_func("/plan-edit/points", test_points);
  g_test_add_func("/plan-edit/propose", test_propose);
  return g_test_run();
}
