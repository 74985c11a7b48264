/* rules_shape.c - rules of steps 1 to 3: order, drawing, cutting plan.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, mm^2, degrees; sizes after firing.  Sources stand in each row; "habit" rows are common
 * practice, no source. */
#include "verdict/rules_parts.h"
#include <math.h>

#define HABIT N_("common practice, no source")
#define CHANGED_MM 0.05 /* a drawing that has gone further is another drawing: common practice */

static const Form *form(const Facts *f, size_t i)
{
  return &f->connector[i].form;
}
static const ConnectorLimits *limits(const Facts *f, size_t i)
{
  return &f->connector[i].limits;
}
static bool has_roof(const Facts *f, size_t i)
{
  return form(f, i)->kind != FORM_NONE && form(f, i)->neck_height > 0;
}
static bool hanging(const Facts *f, size_t i)
{
  return limits(f, i)->span == SPAN_CANTILEVER && !rule_between_abutments(f->c, i);
}

static bool material_below_span(const Facts *f, size_t i, double shown[4])
{
  (void)i;
  int need = 0;
  for (size_t k = 0; k + 1 < f->c->n_unit; k++)
    need = limits(f, k)->class_need > need ? limits(f, k)->class_need : need;
  shown[0] = f->c->material.iso_class;
  shown[1] = need;
  return f->c->material.iso_class > 0 && f->c->material.iso_class < need;
}

static bool back_span_too_long(const Facts *f, size_t i, double shown[4])
{
  (void)i, (void)shown;
  for (size_t k = 0; k + 1 < f->c->n_unit; k++)
    if (limits(f, k)->span == SPAN_BACK_MORE)
      return true;
  return false;
}

static bool height_not_there(const Facts *f, size_t i, double shown[4])
{
  shown[0] = f->c->free_height;
  shown[1] = limits(f, i)->height_need + f->c->brush_mm + 0.3;
  return f->c->free_height < shown[1];
}

static bool clear_layer_at_neck(const Facts *f, size_t i, double shown[4])
{
  (void)shown;
  return f->c->connector[i].weaker_layer == ANSWER_YES;
}

static bool grinding_not_asked(const Facts *f, size_t i, double shown[4])
{
  (void)i, (void)shown;
  return f->c->grinding_habit == ANSWER_UNKNOWN;
}

static bool load_above_level(const Facts *f, size_t i, double shown[4])
{
  shown[0] = f->c->order_load_n;
  shown[1] = f->connector[i].carries_n;
  return f->c->order_load_n > f->connector[i].carries_n;
}

static bool roof_too_sharp(const Facts *f, size_t i, double shown[4])
{
  shown[0] = form(f, i)->roof_radius.value;
  shown[1] = ROOF_STOP_MM;
  return has_roof(f, i) && below_limit(shown[0], ROOF_STOP_MM);
}

static bool roof_small(const Facts *f, size_t i, double shown[4])
{
  shown[0] = form(f, i)->roof_radius.value;
  return has_roof(f, i) && !below_limit(shown[0], ROOF_STOP_MM) &&
         below_limit(shown[0], ROOF_WANTED_MM);
}

static bool roof_could_be_rounder(const Facts *f, size_t i, double shown[4])
{
  shown[0] = form(f, i)->roof_radius.value;
  return has_roof(f, i) && !below_limit(shown[0], ROOF_WANTED_MM) &&
         below_limit(shown[0], ROOF_AIM_MM) && form(f, i)->room_to_round >= 0.10;
}

static bool v_shape(const Facts *f, size_t i, double shown[4])
{
  shown[0] = form(f, i)->leg_lean_left_deg + form(f, i)->leg_lean_right_deg;
  return has_roof(f, i) && shown[0] > 45 && form(f, i)->roof_radius.value < 0.60;
}

static bool kink_in_roof(const Facts *f, size_t i, double shown[4])
{
  shown[0] = form(f, i)->kink_deg;
  return has_roof(f, i) && shown[0] > 15;
}

static bool neck_area_short(const Facts *f, size_t i, double shown[4])
{
  shown[0] = f->connector[i].neck_area;
  shown[1] = limits(f, i)->area_need;
  return shown[0] < shown[1] - 0.05; /* the table has one decimal */
}

static bool neck_area_near(const Facts *f, size_t i, double shown[4])
{
  shown[0] = f->connector[i].neck_area;
  shown[1] = limits(f, i)->area_need;
  return shown[0] >= shown[1] - 0.05 && shown[0] < 1.10 * shown[1];
}

static bool neck_height_short(const Facts *f, size_t i, double shown[4])
{
  shown[0] = form(f, i)->neck_height;
  shown[1] = limits(f, i)->height_need;
  return below_limit(shown[0], shown[1]);
}

static bool flat_neck(const Facts *f, size_t i, double shown[4])
{
  SpanClass span = limits(f, i)->span;
  shown[0] = form(f, i)->neck_height;
  shown[1] = form(f, i)->neck_width;
  return (span == SPAN_BACK_TWO || span == SPAN_FRONT_TWO || span == SPAN_CANTILEVER) &&
         shown[0] < 0.80 * shown[1];
}

/* Share of its strength that a neck uses; NaN without an answer. */
static double used(const ConnectorFacts *k)
{
  return k->strength_mpa > 0 ? k->peak_mpa / k->strength_mpa : NAN;
}

/* The weakest neck against the next one; fires at the weakest. */
static bool uneven_necks(const Facts *f, size_t i, double shown[4])
{
  double mine = used(&f->connector[i]), next = 0;
  for (size_t k = 0; k + 1 < f->c->n_unit; k++) {
    double other = used(&f->connector[k]);
    if (k != i && other >= mine)
      return false;
    if (k != i && other > next)
      next = other;
  }
  if (!(next > 0 && isfinite(mine)))
    return false;
  shown[0] = 100 * (mine / next - 1);
  return mine > 1.30 * next;
}

static bool gap_too_small(const Facts *f, size_t i, double shown[4])
{
  shown[0] = form(f, i)->gap_circle;
  shown[1] = f->c->brush_mm;
  return has_roof(f, i) && below_limit(shown[0], shown[1]);
}

static bool gap_no_brush(const Facts *f, size_t i, double shown[4])
{
  shown[0] = form(f, i)->gap_circle;
  return has_roof(f, i) && below_limit(shown[0], 0.70);
}

static bool side_difference(const Facts *f, size_t i, double shown[4])
{
  shown[0] = fabs(form(f, i)->leg_lean_left_deg - form(f, i)->leg_lean_right_deg);
  return has_roof(f, i) && shown[0] > 10;
}

static bool roof_off_neck(const Facts *f, size_t i, double shown[4])
{
  /* the deepest place of a flat roof may lie anywhere on it: its middle is compared */
  shown[0] = fabs(form(f, i)->roof_centre_x - form(f, i)->neck_high.x);
  return has_roof(f, i) && shown[0] > 0.30;
}

static bool undercut_leg(const Facts *f, size_t i, double shown[4])
{
  shown[0] = fmin(form(f, i)->leg_lean_left_deg, form(f, i)->leg_lean_right_deg);
  return has_roof(f, i) && shown[0] < -0.5;
}

static bool papilla_pressed(const Facts *f, size_t i, double shown[4])
{
  shown[0] = form(f, i)->roof.y - f->c->connector[i].papilla;
  return has_roof(f, i) && below_limit(shown[0], 0.50);
}

static bool groove_sharp_cantilever(const Facts *f, size_t i, double shown[4])
{
  shown[0] = form(f, i)->groove_radius;
  return hanging(f, i) && below_limit(shown[0], 0.60);
}

static bool groove_sharp(const Facts *f, size_t i, double shown[4])
{
  shown[0] = form(f, i)->groove_radius;
  return below_limit(shown[0], 0.30);
}

static bool cantilever_long(const Facts *f, size_t i, double shown[4])
{
  (void)i;
  for (size_t k = 0; k < f->c->n_unit; k++)
    if (f->c->unit[k].role == ROLE_HANGING && f->c->unit[k].length > 7.5) {
      shown[0] = f->c->unit[k].length;
      return true;
    }
  return false;
}

static bool saddle_hollow(const Facts *f, size_t i, double shown[4])
{
  (void)i, (void)shown;
  for (size_t k = 0; k < f->c->n_unit; k++)
    if (f->c->unit[k].saddle_shape == SADDLE_HOLLOW)
      return true;
  return false;
}

static bool cut_back_neck_short(const Facts *f, size_t i, double shown[4])
{
  shown[0] = f->connector[i].cut_back_area;
  shown[1] = limits(f, i)->area_need;
  return f->c->connector[i].cut_back > 0 && shown[0] < shown[1] - 0.05;
}

static bool wall_thin(const Facts *f, size_t i, double shown[4])
{
  shown[0] = f->c->connector[i].wall;
  return below_limit(shown[0], 0.50);
}

static bool changed_after_approval(const Facts *f, size_t i, double shown[4])
{
  (void)shown;
  return connector_changed(&f->c->connector[i], CHANGED_MM) > CHANGED_MM;
}

static bool arch_bow(const Facts *f, size_t i, double shown[4])
{
  (void)i;
  shown[0] = f->c->arch_bow;
  return f->c->arch_bow > 3.0;
}

static bool implant_no_cushion(const Facts *f, size_t i, double shown[4])
{
  bool all = true;
  for (size_t k = 0; k < f->c->n_unit; k++)
    all = all && f->c->unit[k].role != ROLE_ABUTMENT;
  shown[0] = form(f, i)->roof_radius.value;
  shown[1] = f->connector[i].neck_area;
  return all && has_roof(f, i) &&
         (below_limit(shown[0], 0.60) || shown[1] < 1.10 * limits(f, i)->area_need);
}

static bool enlargement_missing(const Facts *f, size_t i, double shown[4])
{
  (void)i;
  shown[0] = f->c->enlargement;
  shown[1] = f->c->enlargement_label;
  return !(f->c->enlargement > 1) || fabs(f->c->enlargement - f->c->enlargement_label) >
                                         0.00005; /* labels have four decimals */
}

static bool sprue_on_neck(const Facts *f, size_t i, double shown[4])
{
  shown[0] = f->c->connector[i].pin_distance;
  return below_limit(shown[0], 1.5);
}

static bool cutter_cannot_reach(const Facts *f, size_t i, double shown[4])
{
  shown[0] = form(f, i)->roof_radius.value;
  shown[1] = f->c->cutter_diameter / 2 / f->c->enlargement;
  return has_roof(f, i) && f->c->cutter_diameter > 0 && below_limit(shown[0], shown[1]);
}

static const Rule shape_rules[] = {
    {"material-below-span", STEP_INTAKE, SEVERITY_STOP, true, true, material_below_span,
     N_("Material class {0}; this span needs {1}"),
     N_("Choose a material of the class this span needs, or send the case back."),
     N_("A good shape cannot make up for a material too weak for the span."),
     N_("blank batch, class from the maker's sheet"), "K6",
     N_("ISO 6872 classes; table from memory (2015 text; 2024 edition not seen)")},
    {"back-span-too-long", STEP_INTAKE, SEVERITY_STOP, true, false, back_span_too_long,
     N_("Three or more pontics in one back span"),
     N_("Speak with the supervisor and the dentist before drawing three or more pontics in one "
        "back span."),
     N_("Bending grows with the third power of the span."), N_("role asked, answer, date"), "K6",
     N_("law of beams (textbook); limit: common practice, no source")},
    {"height-not-there", STEP_INTAKE, SEVERITY_STOP, false, false, height_not_there,
     N_("Free height {0.1} mm; neck and gap need {1.1}"),
     N_("Write the missing millimetres to the dentist before you draw."),
     N_("Neck and cleaning gap must share the same height."),
     N_("measured free height, question sent"), "K6", HABIT},
    {"grinding-not-asked", STEP_INTAKE, SEVERITY_LOOK, true, false, grinding_not_asked,
     N_("Grinding habit not asked"), N_("Ask whether the patient grinds, then set the load."),
     N_("Grinding can about double the bite load."), N_("answer on the order"), "",
     N_("500 to 880 N for heavy bite, from memory")},
    {"load-above-level", STEP_INTAKE, SEVERITY_LOOK, false, false, load_above_level,
     N_("Order {0} N is above the {1} N this neck carries"),
     N_("Give the neck more height or radius, or talk to the supervisor about the load."),
     N_("At this load more bridges would break than the workshop accepts."),
     N_("load, level, reason if kept"), "K6", N_("this program's calculation; level: 5 of 100")},
    {"clear-layer-at-neck", STEP_INTAKE, SEVERITY_LOOK, false, false, clear_layer_at_neck,
     N_("Neck in the weaker layer of the blank"),
     N_("Move the bridge in the blank so the neck lies in the stronger layer."),
     N_("Clear layers and layer borders are weaker."), N_("picture of the position in the blank"),
     "", N_("borders about 30 % lower (PMC6935426)")},
    {"roof-too-sharp", STEP_DRAWING, SEVERITY_STOP, false, false, roof_too_sharp,
     N_("Roof too sharp: {0.2} mm, needs {1.2}"),
     N_("Round the gum-side roof to at least 0.45 millimetres."),
     N_("A sharp roof gathers two to three times the stress."), N_("radius before and after"), "",
     N_("Dent Mater 2010;26:1133 (multiplier 2 to 3); limit from memory")},
    {"roof-small", STEP_DRAWING, SEVERITY_LOOK, false, false, roof_small,
     N_("Small roof: {0.2} mm"), N_("Round this roof a little more while there is room."),
     N_("Small roofs break at lower load, most of all with small necks."),
     N_("radius before and after"), "",
     N_("JODDD 2020;14:218 (round above sharp at 9 mm2); limit from memory")},
    {"roof-could-be-rounder", STEP_DRAWING, SEVERITY_NOTE, false, false, roof_could_be_rounder,
     N_("Roof {0.2} mm could be rounder"), N_("Try 0.9 millimetres; there is still room."),
     N_("Extra roundness costs no neck height here."), "", "",
     N_("J Prosthet Dent 2002;87:536 (0.25 against 0.90 mm), from memory")},
    {"v-shape", STEP_DRAWING, SEVERITY_LOOK, false, false, v_shape, N_("V shape: legs open {0}°"),
     N_("Turn the V into a U: move the top corners apart and round them."),
     N_("A V drives the crack into the thinnest place."), N_("before and after picture"), "",
     HABIT},
    {"kink-in-roof", STEP_DRAWING, SEVERITY_LOOK, false, false, kink_in_roof,
     N_("Kink of {0}° in the roof"), N_("Smooth the kink so that line runs into line."),
     N_("A kink works like a small notch."), "", "", HABIT},
    {"neck-area-short", STEP_DRAWING, SEVERITY_STOP, false, false, neck_area_short,
     N_("Neck {0.1} mm², needs {1.0}"),
     N_("Make the neck bigger: lower the roof first, then widen towards the tongue side."),
     N_("Too little section for this span."), N_("height, width, area"), "",
     N_("review values, from memory; see limits")},
    {"neck-area-near", STEP_DRAWING, SEVERITY_NOTE, false, false, neck_area_near,
     N_("Neck {0.1} mm² is close to the limit of {1.0}"),
     N_("You are close to the limit; leave room for polishing."),
     N_("Fitting and polishing take off a tenth or two."), "", "", HABIT},
    {"neck-height-short", STEP_DRAWING, SEVERITY_STOP, false, false, neck_height_short,
     N_("Neck {0.2} mm high, needs {1.1}"),
     N_("Lower the roof or raise the biting groove until the neck is high enough."),
     N_("Height counts twice, width only once."), N_("neck height"), "",
     N_("beam rule; limits: common practice, no source")},
    {"flat-neck", STEP_DRAWING, SEVERITY_LOOK, false, false, flat_neck,
     N_("Flat neck: {0.1} high, {1.1} wide"), N_("Trade width for height on this neck."),
     N_("A flat neck bends easily although its area looks right."), N_("height and width"), "",
     N_("beam rule (section value grows with height squared)")},
    {"uneven-necks", STEP_DRAWING, SEVERITY_NOTE, false, false, uneven_necks,
     N_("Pulled {0} % harder than the next neck"),
     N_("Even the necks out; start with the one named."),
     N_("The bridge is only as good as its weakest neck."), N_("name of the neck"), "",
     N_("Bull Tokyo Dent Coll 2011;52:61 (distal neck broke in 82 %); limit: common practice, no "
        "source")},
    {"gap-too-small", STEP_DRAWING, SEVERITY_STOP, false, false, gap_too_small,
     N_("Gap {0.2} mm, brush needs {1.1}"),
     N_("Open the gap until the ordered brush passes; widen before you raise."),
     N_("What cannot be cleaned inflames the gum."), N_("gap circle, brush size"), "K6",
     N_("ISO 16409 passage hole diameter; large sizes from memory")},
    {"gap-no-brush", STEP_DRAWING, SEVERITY_STOP, false, false, gap_no_brush,
     N_("Gap {0.2} mm: hardly any brush passes"),
     N_("Widen the gap, or have the dentist confirm cleaning with thread only."),
     N_("Only the very thinnest brushes pass below 0.7 millimetres."), N_("dentist's answer"), "K6",
     N_("ISO 16409 (size 1: 0.7 to 0.8)")},
    {"side-difference", STEP_DRAWING, SEVERITY_LOOK, false, false, side_difference,
     N_("Sides differ by {0}°"), N_("Make both sides of the embrasure alike, or note why not."),
     N_("The steep side usually hides the sharp corner."), N_("reason if kept"), "", HABIT},
    {"roof-off-neck", STEP_DRAWING, SEVERITY_LOOK, false, false, roof_off_neck,
     N_("Roof {0.2} mm off the biting groove"),
     N_("Bring the roof of the embrasure under the biting groove."),
     N_("An offset roof makes the real neck slanted and longer to read."), N_("offset"), "", HABIT},
    {"undercut-leg", STEP_DRAWING, SEVERITY_LOOK, false, false, undercut_leg,
     N_("Undercut of {0}° at a leg"), N_("Open the side towards the gum; no undercut."),
     N_("Cutter, polisher and brush cannot get into an undercut."), "", "", HABIT},
    {"papilla-pressed", STEP_DRAWING, SEVERITY_LOOK, false, false, papilla_pressed,
     N_("Only {0.2} mm above the papilla"),
     N_("Leave at least half a millimetre above the papilla."),
     N_("Pressed gum inflames or grows into the gap."), N_("distance"), "K6", HABIT},
    {"groove-sharp-cantilever", STEP_DRAWING, SEVERITY_STOP, false, false, groove_sharp_cantilever,
     N_("Biting groove {0.2} mm at the hanging tooth, needs 0.60"),
     N_("Make the biting groove at the hanging tooth shallow and round."),
     N_("At a hanging tooth the biting side is pulled."), N_("groove radius"), "",
     N_("mechanics; limit: common practice, no source")},
    {"groove-sharp", STEP_DRAWING, SEVERITY_LOOK, false, false, groove_sharp,
     N_("Sharp biting groove: {0.2} mm"), N_("Round the biting groove between the units."),
     N_("Sharp grooves chip and start cracks under side load."), N_("groove radius"), "", HABIT},
    {"cantilever-long", STEP_DRAWING, SEVERITY_STOP, true, false, cantilever_long,
     N_("Hanging tooth {0.1} mm long, 7.5 at most"),
     N_("Shorten the hanging tooth or ask the dentist for another plan."),
     N_("Every millimetre of lever loads the last neck."), N_("length, dentist's answer"), "K6",
     N_("Molecules 2021;26:2259 (12 mm carried 17 to 20 % less than 9 mm); limit: common practice, "
        "no source")},
    {"saddle-hollow", STEP_DRAWING, SEVERITY_LOOK, true, false, saddle_hollow,
     N_("Hollow tissue side"), N_("Round the tissue side outward so it can be wiped clean."),
     N_("A hollow tissue side traps plaque."), N_("picture of the tissue side"), "K6", HABIT},
    {"cut-back-neck-short", STEP_DRAWING, SEVERITY_STOP, false, false, cut_back_neck_short,
     N_("After the cut-back {0.1} mm², needs {1.0}"),
     N_("Reduce the cut-back at the neck until the hard frame alone is enough."),
     N_("Build-up material adds next to no strength at the neck."),
     N_("area with and without cut-back"), "", HABIT},
    {"wall-thin", STEP_DRAWING, SEVERITY_STOP, false, false, wall_thin,
     N_("Crown wall beside the neck {0.2} mm"),
     N_("Thicken the crown wall beside the neck to half a millimetre or more."),
     N_("A thin wall next to a stiff neck breaks first."), N_("thinnest wall"), "",
     N_("0.5 mm called critical (Oper Dent 2020;45:219)")},
    {"arch-bow", STEP_DRAWING, SEVERITY_NOTE, true, false, arch_bow,
     N_("Arch bows out {0.1} mm: twist"),
     N_("Give the necks more width as well; a bowed bridge is also twisted."),
     N_("Load outside the line of the abutments twists the neck."), N_("bow in mm"), "",
     N_("mechanics; limit: common practice, no source")},
    {"implant-no-cushion", STEP_DRAWING, SEVERITY_LOOK, false, false, implant_no_cushion,
     N_("On implants: roof {0.2} mm, neck {1.1} mm²"),
     N_("Add radius and area; implants give no cushion."),
     N_("Bite reaches the neck harder than on natural teeth."), N_("radius, area"), "K6",
     N_("stiffness difference from memory; margin: common practice, no source")},
    {"changed-after-approval", STEP_DRAWING, SEVERITY_STOP, false, false, changed_after_approval,
     N_("Changed since the approval"), N_("Send the changed drawing to the supervisor again."),
     N_("An approval holds only for the shape that was seen."), N_("before and after overlay"), "",
     HABIT},
    {"enlargement-missing", STEP_CUTTING_PLAN, SEVERITY_STOP, true, false, enlargement_missing,
     N_("Enlargement {0.4}, on the label {1.4}"),
     N_("Enter the enlargement from the label of this very blank."),
     N_("A wrong factor makes every size wrong."), N_("batch number, factor"), "",
     N_("label practice; 1.20 to 1.25 usual range")},
    {"cutter-cannot-reach", STEP_CUTTING_PLAN, SEVERITY_STOP, false, false, cutter_cannot_reach,
     N_("Roof {0.2} mm, the cutter makes {1.2}"),
     N_("Use a thinner cutter or round the roof to what the cutter can make."),
     N_("What the cutter leaves will be cut by hand, usually badly."),
     N_("cutter diameter, smallest roof"), "K2", N_("geometry")},
    {"sprue-on-neck", STEP_CUTTING_PLAN, SEVERITY_LOOK, false, false, sprue_on_neck,
     N_("Holding pin {0.1} mm from the neck"), N_("Move the holding pin away from the neck."),
     N_("Removing the pin leaves grinding marks where it matters."), N_("picture of the plan"), "",
     HABIT},
};

const Rule *rules_shape(size_t *n)
{
  *n = sizeof shape_rules / sizeof *shape_rules;
  return shape_rules;
}
