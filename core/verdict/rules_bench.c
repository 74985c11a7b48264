/* rules_bench.c - rules of steps 4 to 13: soft state, firing, fitting, finishing, last look,
 * hand-over, break. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  These rules read what the bench has recorded; unrecorded facts keep them silent. */
#include "verdict/rules_parts.h"
#include <math.h>

#define HABIT N_("common practice, no source")

static FinishState finish(const Facts *f, size_t i, FinishZone zone)
{
  FinishState now[ZONE_NECK_N];
  connector_finish_now(&f->c->connector[i], now);
  return now[zone];
}

static bool any_finish(const Facts *f, size_t i, FinishState state, FinishZone last)
{
  FinishState now[ZONE_NECK_N];
  connector_finish_now(&f->c->connector[i], now);
  for (int zone = ZONE_ROOF; zone <= (int)last; zone++)
    if (now[zone] == state)
      return true;
  return false;
}

static bool has_event(const Facts *f, size_t i, EventKind kind, bool dry_only)
{
  const GArray *events = f->c->connector[i].event;
  for (guint k = 0; events && k < events->len; k++) {
    const SurfaceEvent *event = &g_array_index(events, SurfaceEvent, k);
    if (event->kind == kind && event->removed != ANSWER_YES &&
        (!dry_only || event->water == ANSWER_NO))
      return true;
  }
  return false;
}

static bool fired(const Case *c)
{
  return c->step > STEP_FIRING;
}

static bool soft_roof_as_milled(const Facts *f, size_t i, double shown[4])
{
  (void)shown;
  return f->c->step == STEP_SOFT && finish(f, i, ZONE_ROOF) == FINISH_AS_MILLED;
}

static bool soft_knife_cut(const Facts *f, size_t i, double shown[4])
{
  (void)shown;
  return f->c->step == STEP_SOFT && has_event(f, i, EVENT_CUT, false);
}

static bool soft_below_size(const Facts *f, size_t i, double shown[4])
{
  shown[0] = f->c->connector[i].soft_height;
  shown[1] = f->connector[i].form.neck_height * f->c->enlargement - 0.05;
  return shown[0] < shown[1];
}

static bool firing_record_missing(const Facts *f, size_t i, double shown[4])
{
  (void)i, (void)shown;
  return fired(f->c) && f->c->firing_record[0] == '\0';
}

static bool fast_firing_not_allowed(const Facts *f, size_t i, double shown[4])
{
  (void)i;
  shown[0] = (double)f->c->n_unit;
  shown[1] = f->c->thickest;
  return f->c->fast_firing == ANSWER_YES &&
         (f->c->n_unit >= 4 || f->c->thickest > f->c->thickest_fast);
}

static bool span_size_off(const Facts *f, size_t i, double shown[4])
{
  (void)i;
  shown[0] = f->c->planned_span;
  shown[1] = f->c->fired_span;
  return fabs(shown[1] - shown[0]) > 0.10;
}

static bool rocking_frame(const Facts *f, size_t i, double shown[4])
{
  (void)i, (void)shown;
  return f->c->fit == FIT_ROCKS;
}

static bool inside_coarse(const Facts *f, size_t i, double shown[4])
{
  (void)i, (void)shown;
  return f->c->inside == FINISH_COARSE_GROUND || f->c->inside == FINISH_COARSE_GROUND_DRY;
}

static bool disc_mark(const Facts *f, size_t i, double shown[4])
{
  (void)shown;
  return any_finish(f, i, FINISH_DISC_CUT, ZONE_GROOVE) || has_event(f, i, EVENT_DISC, false);
}

static bool rescue_too_thin(const Facts *f, size_t i, double shown[4])
{
  const ConnectorFacts *k = &f->connector[i];
  shown[0] = k->rescue_height;
  shown[1] = k->rescue_area;
  return k->rescue_area < k->limits.area_need || k->rescue_height < k->limits.height_need;
}

static bool coarse_on_pulled_side(const Facts *f, size_t i, double shown[4])
{
  (void)shown;
  return fired(f->c) && (any_finish(f, i, FINISH_COARSE_GROUND, ZONE_LEGS) ||
                         any_finish(f, i, FINISH_COARSE_GROUND_DRY, ZONE_LEGS));
}

static bool ground_dry(const Facts *f, size_t i, double shown[4])
{
  (void)shown;
  return any_finish(f, i, FINISH_COARSE_GROUND_DRY, ZONE_TONGUE) ||
         has_event(f, i, EVENT_GROUND, true) || has_event(f, i, EVENT_DISC, true);
}

static bool blasted_neck(const Facts *f, size_t i, double shown[4])
{
  (void)shown;
  return any_finish(f, i, FINISH_BLASTED, ZONE_GROOVE);
}

static bool roof_not_polished(const Facts *f, size_t i, double shown[4])
{
  FinishState state = finish(f, i, ZONE_ROOF);
  bool unfinished = state == FINISH_AS_FIRED || state == FINISH_AS_MILLED ||
                    state == FINISH_FINE_GROUND || state == FINISH_RUBBER_SMOOTH;
  (void)shown;
  return fired(f->c) && unfinished && f->connector[i].peak_mpa > 0.5 * f->connector[i].strength_mpa;
}

/* Gloss with a step missing between the first rubber and the gloss. */
static bool polish_step_skipped(const Facts *f, size_t i, double shown[4])
{
  (void)shown;
  const unsigned middle = 1u << POLISH_MIDDLE | 1u << POLISH_FINE;
  unsigned done = f->c->connector[i].polish_steps;
  return done && (done & middle) != middle && any_finish(f, i, FINISH_HIGH_POLISH, ZONE_TONGUE);
}

static bool saddle_unfinished(const Facts *f, size_t i, double shown[4])
{
  (void)i;
  if (f->c->step < STEP_FINISHING)
    return false;
  for (size_t k = 0; k < f->c->n_unit; k++) {
    FinishState state = f->c->unit[k].saddle;
    if (state != FINISH_UNKNOWN && state != FINISH_HIGH_POLISH &&
        state != FINISH_GLAZED_OVER_POLISH && state != FINISH_GLAZED_OVER_GROUND) {
      shown[0] = f->c->unit[k].tooth;
      return true;
    }
  }
  return false;
}

static bool groove_cantilever_rough(const Facts *f, size_t i, double shown[4])
{
  (void)shown;
  return fired(f->c) && f->connector[i].limits.span == SPAN_CANTILEVER &&
         !rule_between_abutments(f->c, i) && finish(f, i, ZONE_GROOVE) != FINISH_HIGH_POLISH;
}

static bool glaze_over_ground(const Facts *f, size_t i, double shown[4])
{
  (void)shown;
  return any_finish(f, i, FINISH_GLAZED_OVER_GROUND, ZONE_TONGUE);
}

/* The tissue side belongs to a unit, not to a neck. */
static bool saddle_glazed_over_ground(const Facts *f, size_t i, double shown[4])
{
  (void)i;
  for (size_t k = 0; k < f->c->n_unit; k++)
    if (f->c->unit[k].saddle == FINISH_GLAZED_OVER_GROUND) {
      shown[0] = f->c->unit[k].tooth;
      return true;
    }
  return false;
}

static bool coat_closes_gap(const Facts *f, size_t i, double shown[4])
{
  shown[0] = f->c->brush_mm;
  return f->c->connector[i].brush_passes == ANSWER_NO;
}

static bool too_many_firings(const Facts *f, size_t i, double shown[4])
{
  (void)i;
  shown[0] = f->c->firings;
  shown[1] = f->c->firings_limit;
  return shown[0] > shown[1];
}

static bool dye_check_missing(const Facts *f, size_t i, double shown[4])
{
  (void)shown;
  return f->c->step >= STEP_LAST_LOOK && f->c->connector[i].dye == CHECK_UNKNOWN;
}

static bool crack_seen(const Facts *f, size_t i, double shown[4])
{
  (void)shown;
  return f->c->connector[i].dye == CHECK_LINE || f->c->connector[i].light == CHECK_LINE;
}

static bool measured_below_drawing(const Facts *f, size_t i, double shown[4])
{
  shown[0] = f->c->connector[i].measured_height;
  shown[1] = f->connector[i].form.neck_height;
  return shown[0] < shown[1] - 0.10;
}

static bool own_approval(const Facts *f, size_t i, double shown[4])
{
  (void)i, (void)shown;
  return f->c->approver[0] && g_strcmp0(f->c->approver, f->c->author) == 0;
}

static bool dentist_note_missing(const Facts *f, size_t i, double shown[4])
{
  (void)i, (void)shown;
  return f->c->step == STEP_HANDOVER && f->c->dentist_note[0] == '\0';
}

static bool origin_not_recorded(const Facts *f, size_t i, double shown[4])
{
  (void)i, (void)shown;
  return f->c->step == STEP_BROKEN && f->c->origin.zone == 0;
}

static const Rule bench_rules[] = {
    {"soft-roof-as-milled", STEP_SOFT, SEVERITY_LOOK, false, false, soft_roof_as_milled,
     N_("Roof still as milled"),
     N_("Smooth the milled roof while it is still soft, without losing size."),
     N_("Steps removed now cost seconds; after firing they cost strength."),
     N_("initials, soft neck height"), "K1", HABIT},
    {"soft-knife-cut", STEP_SOFT, SEVERITY_STOP, false, false, soft_knife_cut,
     N_("Knife cut in the soft piece"), N_("Take the cut out as a wide hollow, or mill again."),
     N_("A cut in the soft piece becomes a crack in the hard one."), N_("photo with scale"), "K1",
     HABIT},
    {"soft-below-size", STEP_SOFT, SEVERITY_STOP, false, false, soft_below_size,
     N_("Soft neck {0.2} mm, needs {1.2}"), N_("Mill again; the soft neck is already too low."),
     N_("Firing only shrinks; nothing comes back."), N_("measured soft height"), "",
     N_("geometry")},
    {"firing-record-missing", STEP_FIRING, SEVERITY_LOOK, true, false, firing_record_missing,
     N_("Firing record missing"), N_("Enter programme, date and place in the furnace."),
     N_("Without it nobody can explain a weak batch."), N_("programme, date, initials"), "K3",
     HABIT},
    {"fast-firing-not-allowed", STEP_FIRING, SEVERITY_STOP, true, false, fast_firing_not_allowed,
     N_("Fired fast: {0} units, {1.1} mm thick"),
     N_("Do not use the bridge; ask the maker whether this firing counts."),
     N_("Fast firing of thick or long bridges can leave cracks or pores."),
     N_("programme, maker's answer"), "K3", N_("maker's instructions; common practice, no source")},
    {"span-size-off", STEP_FIRING, SEVERITY_LOOK, true, false, span_size_off,
     N_("Span {1.2} mm fired, {0.2} planned"),
     N_("Check enlargement and support, then decide fit or remake."),
     N_("A warped bridge gets forced, and force starts cracks."), N_("planned and measured span"),
     "K3", HABIT},
    {"rocking-frame", STEP_FITTING, SEVERITY_STOP, true, false, rocking_frame,
     N_("The bridge rocks"), N_("Do not press it down; find the high spot or remake."),
     N_("A strained bridge carries the strain for life."), N_("fit result, place of high spot"),
     "K6", HABIT},
    {"inside-coarse", STEP_FITTING, SEVERITY_LOOK, true, false, inside_coarse,
     N_("Inside ground coarse"),
     N_("Smooth the eased spot inside with a fine diamond under water."),
     N_("Inside scratches lie on the pulled side of the crown."), N_("place and size of spot"),
     "K1 K2", N_("common practice, no source; direction Dent Mater 1999;15:426")},
    {"disc-mark", STEP_ADJUSTING, SEVERITY_STOP, false, false, disc_mark,
     N_("Disc mark on the pulled side"),
     N_("Photograph the mark, plan a wide hollow past its bottom, show the supervisor."),
     N_("A disc cut is a ready-made crack start."), N_("photo, depth, supervisor initials"),
     "K1 K2",
     N_("direction: common practice, no source; one study found no clear effect of saw cuts (Acta "
        "Biomater 2008;4:1440)")},
    {"rescue-too-thin", STEP_ADJUSTING, SEVERITY_STOP, false, false, rescue_too_thin,
     N_("After rescue {0.2} mm high, {1.2} mm²: too little"),
     N_("Do not rescue; make the bridge new."), N_("After removal too little neck would be left."),
     N_("planned height and area"), "K6", N_("follows from the limits")},
    {"coarse-on-pulled-side", STEP_ADJUSTING, SEVERITY_STOP, false, false, coarse_on_pulled_side,
     N_("Coarse grinding on the gum side"),
     N_("Go over it with fine diamond under water, then rubber, coarse to fine."),
     N_("Coarse scratches lower strength."), N_("finish steps, initials"), "K1 K2",
     N_("direction: Dent Mater 1999;15:426")},
    {"ground-dry", STEP_ADJUSTING, SEVERITY_LOOK, false, false, ground_dry, N_("Ground dry"),
     N_("Check with loupe and dye, then repeat the last step under water."),
     N_("Dry grinding heats single points and can crack the surface."), N_("dye result"),
     "K1 K2 K7", HABIT},
    {"blasted-neck", STEP_ADJUSTING, SEVERITY_LOOK, false, false, blasted_neck, N_("Blasted neck"),
     N_("Polish the blasted neck; blast only where the instructions ask for it."),
     N_("Blasting may raise strength at first but scatters the results."),
     N_("zone, pressure, grain from the instructions"), "K8",
     N_("raises strength, more scatter (Dent Mater 1999;15:426)")},
    {"roof-not-polished", STEP_FINISHING, SEVERITY_LOOK, false, false, roof_not_polished,
     N_("Roof not polished"), N_("Polish the gum-side roof step by step to a high gloss."),
     N_("The most pulled surface deserves the best finish."),
     N_("finish state, loupe check, initials"), "K1 K2",
     N_("polish after firing better (Materials 2016;9:180)")},
    {"polish-step-skipped", STEP_FINISHING, SEVERITY_LOOK, false, false, polish_step_skipped,
     N_("A step of polishing is missing"),
     N_("Repeat the middle step; gloss over scratches is not polish."),
     N_("Deep scratches stay under a shiny surface."), N_("steps ticked"), "K1 K2", HABIT},
    {"saddle-unfinished", STEP_FINISHING, SEVERITY_LOOK, true, false, saddle_unfinished,
     N_("Tissue side of {0} not polished"),
     N_("Polish the tissue side until the loupe shows no scratches."),
     N_("Rough tissue sides collect plaque."), N_("loupe check, initials"), "K1 K2",
     N_("plaque threshold Ra 0.2 um (Dent Mater 1997;13:258; figure from memory)")},
    {"groove-cantilever-rough", STEP_FINISHING, SEVERITY_STOP, false, false,
     groove_cantilever_rough, N_("Biting groove at the hanging tooth not polished"),
     N_("Polish the biting groove at the hanging tooth."),
     N_("Here the groove is the pulled side."), N_("finish state, initials"), "K1 K2",
     N_("mechanics; common practice, no source")},
    {"glaze-over-ground", STEP_COAT, SEVERITY_STOP, false, false, glaze_over_ground,
     N_("Glaze over ground surface"),
     N_("Take the glaze off, polish the surface, then glaze again if wanted."),
     N_("Glaze hides scratches and does not heal them."), N_("photo, new finish steps"), "K1 K2 K3",
     HABIT},
    {"saddle-glazed-over-ground", STEP_COAT, SEVERITY_STOP, true, false, saddle_glazed_over_ground,
     N_("Tissue side of {0} glazed over scratches"),
     N_("Take the glaze off, polish the surface, then glaze again if wanted."),
     N_("Glaze hides scratches and does not heal them."), N_("photo, new finish steps"), "K1 K2 K3",
     HABIT},
    {"coat-closes-gap", STEP_COAT, SEVERITY_STOP, false, false, coat_closes_gap,
     N_("Brush {0.1} does not pass after the coat"),
     N_("Free the gap again and polish; keep coating out of the embrasure."),
     N_("Coating runs into the roof and blocks the brush."), N_("brush passed yes or no"), "K1 K2",
     HABIT},
    {"too-many-firings", STEP_COAT, SEVERITY_LOOK, true, false, too_many_firings,
     N_("{0} firings, the maker allows {1}"), N_("Ask the supervisor before another firing."),
     N_("More firings change colour, fit and sometimes strength."), N_("firing count"), "K3",
     N_("lower load after heat treatment and build-up (Dent Mater 2005; numbers uncertain)")},
    {"dye-check-missing", STEP_LAST_LOOK, SEVERITY_STOP, false, false, dye_check_missing,
     N_("Dye check missing"), N_("Do the dye and light check on every neck."),
     N_("A fine crack is invisible to the bare eye."), N_("result per neck, initials"), "K7",
     HABIT},
    {"crack-seen", STEP_LAST_LOOK, SEVERITY_STOP, false, true, crack_seen, N_("Crack line seen"),
     N_("Do not deliver and do not polish it away; remake."),
     N_("A crack goes on growing in the mouth."), N_("photo, place of the line"), "K5 K6", HABIT},
    {"measured-below-drawing", STEP_LAST_LOOK, SEVERITY_LOOK, false, false, measured_below_drawing,
     N_("Measured {0.2} mm, drawn {1.2}"),
     N_("Enter the measured height and let the program judge again."),
     N_("The drawing is no longer the bridge."), N_("calliper reading, initials"), "", HABIT},
    {"own-approval", STEP_SIGNING, SEVERITY_STOP, true, true, own_approval,
     N_("Approved by its author"), N_("Have a second person look and sign."),
     N_("Nobody sees the own blind spot."), N_("second initials"), "", HABIT},
    {"dentist-note-missing", STEP_HANDOVER, SEVERITY_LOOK, true, false, dentist_note_missing,
     N_("Note for the dentist missing"),
     N_("Print the note: where not to grind, how to polish, which brush."),
     N_("Chairside grinding at the neck undoes the work."), N_("copy of the note"), "K6", HABIT},
    {"origin-not-recorded", STEP_BROKEN, SEVERITY_LOOK, true, false, origin_not_recorded,
     N_("Start of the break not recorded"),
     N_("Find and mark the crack start before anything is cleaned hard or thrown away."),
     N_("Without the start there is no cause to learn from."),
     N_("photo of both faces, place, mark"), "K5", HABIT},
};

const Rule *rules_bench(size_t *n)
{
  *n = sizeof bench_rules / sizeof *bench_rules;
  return bench_rules;
}
