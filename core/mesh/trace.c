/* trace.c - silhouettes of a connector and the section of its neck, as outlines.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The section is taken at many places along the span, closer where its box changes quickly; its
 * lowest, highest and outermost places are the silhouettes as seen from cheek and gum. */
#include "mesh/trace.h"
#include "mesh/trace_parts.h"
#include "outline/form.h"
#include <stdlib.h>

#define STEP_MM 0.05 /* between sections                                     */
#define JUMP_MM 0.05 /* a larger change of the box: one more between          */
#define LEAST_STEP_MM 0.002
#define BEND_MM 0.0005       /* the middle of two sections lies off by more: one more there    */
#define CORNER_STEP_MM 0.001 /* not closer than this                                     */
#define PLACES_MOST 6000u
#define OTHER_SHARE 0.02 /* a second line of the section worth a note            */
#define HALF_HEIGHT_MM 25.0
#define HALF_WIDTH_MM 14.0

void trace_init(Trace *trace)
{
  *trace = (Trace){0};
}

void trace_clear(Trace *trace)
{
  if (!trace)
    return;
  outline_clear(&trace->gingival);
  outline_clear(&trace->occlusal);
  outline_clear(&trace->buccal);
  outline_clear(&trace->lingual);
  outline_clear(&trace->section);
  *trace = (Trace){0};
}

void trace_reach(const MeshSpan *span, size_t neck, double reach[2])
{
  double x = span->neck[neck].x;
  double before = neck > 0 ? span->neck[neck - 1].x : span->low;
  double after = neck + 1 < span->n_neck ? span->neck[neck + 1].x : span->high;
  reach[0] = fmax(1, fmin(30, (x - before) / 2));
  reach[1] = fmax(1, fmin(30, (after - x) / 2));
}

static void note(Trace *trace, const char *text, double value0, double value1)
{
  if (trace->n_note < TRACE_NOTES)
    trace->note[trace->n_note++] = (Phrase){.text = text, .value = {value0, value1}};
}

/* ---- silhouettes ---- */

typedef struct {
  double x;
  Point low, high; /* z, y */
} Place;

typedef struct {
  Place *place; /* owned, PLACES_MOST */
  size_t n;
} Places;

static bool place_at(const Slices *slices, double x, Place *place)
{
  Slice slice;
  if (!slices_at(slices, x, &slice))
    return false;
  *place = (Place){x, slice.low, slice.high};
  return true;
}

/* How far the middle lies off the line from a to b, at the worst of the four silhouettes. */
static double bend_of(Place a, Place middle, Place b)
{
  Point low = point_sub(middle.low, point_mix(a.low, b.low, 0.5)),
        high = point_sub(middle.high, point_mix(a.high, b.high, 0.5));
  return fmax(fmax(fabs(low.x), fabs(low.y)), fmax(fabs(high.x), fabs(high.y)));
}

/* Everything between a and b, b itself included: closer at steps, and up to the corners of facets.
 */
static void places_between(const Slices *slices, Place a, Place b, Places *places)
{
  double jump = fmax(fmax(fabs(a.low.x - b.low.x), fabs(a.low.y - b.low.y)),
                     fmax(fabs(a.high.x - b.high.x), fabs(a.high.y - b.high.y)));
  double least = jump > JUMP_MM ? LEAST_STEP_MM : CORNER_STEP_MM;
  Place middle;
  if (b.x - a.x > least && places->n + 2 < PLACES_MOST &&
      place_at(slices, (a.x + b.x) / 2, &middle) &&
      (jump > JUMP_MM || bend_of(a, middle, b) > BEND_MM)) {
    places_between(slices, a, middle, places);
    places_between(slices, middle, b, places);
  } else if (places->n < PLACES_MOST) {
    places->place[places->n++] = b;
  }
}

static Fault places_take(const Slices *slices, const double reach[2], const MeshWatch *watch,
                         Places *places)
{
  double low = fmax(-reach[0], slices_low(slices) + LEAST_STEP_MM);
  double high = fmin(reach[1], slices_high(slices) - LEAST_STEP_MM);
  size_t n = (size_t)((high - low) / STEP_MM) + 1;
  Place before, here;
  if (!(low < -0.5 && high > 0.5))
    return FAULT_NO_NECK;
  for (size_t i = 0; i <= n; i++) {
    if (!place_at(slices, low + (high - low) * (double)i / (double)n, &here))
      continue;
    if (places->n == 0)
      places->place[places->n++] = here;
    else
      places_between(slices, before, here, places);
    before = here;
    if (i % 16 == 0 && !mesh_go_on(watch, 0.6 * (double)i / (double)n))
      return FAULT_CANCELLED;
  }
  return places->n >= 8 ? FAULT_NONE : FAULT_NO_NECK;
}

/* y = 0: the mean of the lowest places to both sides; z = 0: the middle of the neck. */
static Point zero_of(const Places *places)
{
  double low[2] = {INFINITY, INFINITY}, near = INFINITY, z = 0;
  for (size_t i = 0; i < places->n; i++) {
    const Place *p = &places->place[i];
    int side = p->x > 0;
    low[side] = fmin(low[side], p->low.y);
    if (fabs(p->x) < near) {
      near = fabs(p->x);
      z = (p->low.x + p->high.x) / 2;
    }
  }
  return point(z, (low[0] + low[1]) / 2);
}

/* How coarse the triangles are where the roof is sharpest; where no roof is read: not known. */
static Fault roof_turn_find(const Point at[], size_t n, Trace *trace)
{
  Form form;
  trace->roof_turn = M_PI;
  return form_roof_read(&trace->gingival, &form)
             ? FAULT_NONE
             : trace_line_turn(at, n, form.roof_sharpest, &trace->roof_turn);
}

static Fault silhouettes_fit(const Places *places, Point zero, double tolerance, Trace *trace)
{
  Outline *const line[4] = {&trace->gingival, &trace->occlusal, &trace->buccal, &trace->lingual};
  Point *at = malloc(places->n * sizeof *at);
  Fault fault = at ? FAULT_NONE : FAULT_MEMORY;
  for (int k = 0; k < 4 && !fault; k++) {
    for (size_t i = 0; i < places->n; i++) {
      const Place *p = &places->place[i];
      double v = k == 0 ? p->low.y : k == 1 ? p->high.y : k == 2 ? p->high.x : p->low.x;
      at[i] = point(p->x, v - (k < 2 ? zero.y : zero.x));
    }
    fault = trace_line_fit(at, places->n, tolerance, line[k], &trace->worst_mm);
    if (k == 0 && !fault)
      fault = roof_turn_find(at, places->n, trace);
  }
  free(at);
  return fault;
}

/* ---- the section ---- */

static Fault crosses(const Loop *loop, Point *where)
{
  Outline line = {0};
  Fault fault = outline_from_points(&line, loop->at, loop->n, true);
  if (!fault)
    fault = outline_find_crossing(&line, where);
  outline_clear(&line);
  return fault;
}

static Fault section_fit(const Slices *slices, Point zero, const TraceSettings *settings,
                         Trace *trace)
{
  Loops loops = {0};
  size_t triangle = 0;
  Point where = {NAN, NAN};
  Fault fault = slices_loops(slices, 0, settings->bridge_mm, &loops, &triangle);
  if (fault == FAULT_MESH) {
    note(trace,
         N_("The section of the neck stays open near triangle {0}. The four outlines can be used; "
            "mend the hole to have the section too."),
         (double)triangle, 0);
    return FAULT_NONE;
  }
  if (fault || loops.n == 0) {
    loops_clear(&loops);
    return fault ? fault : FAULT_NO_NECK;
  }
  Loop *outer = &loops.loop[0];
  trace->area = fabs(outer->area);
  for (size_t i = 0; i < outer->n; i++)
    outer->at[i] = point_sub(outer->at[i], zero);
  if (loops.n > 1 && fabs(loops.loop[1].area) > OTHER_SHARE * trace->area)
    note(trace,
         loops.loop[1].area < 0
             ? N_("The neck is hollow there: a space of {0.2} mm² is not taken off.")
             : N_("The plane meets {1} parts; the largest is taken, the next one has {0.2} mm²."),
         fabs(loops.loop[1].area), (double)loops.n);
  if (outer->gap > 0)
    note(trace,
         N_("A gap of {0.2} mm in the section was closed with a straight line, near triangle {1}."),
         outer->gap, (double)outer->triangle);
  Fault crossing = crosses(outer, &where);
  if (crossing == FAULT_CROSSING)
    note(trace,
         N_("The section of the neck crosses itself near triangle {0}. The four outlines can be "
            "used; mend the surface to have the section too."),
         (double)outer->triangle, 0);
  else if (crossing == FAULT_NONE)
    crossing = trace_loop_fit(outer, settings->tolerance_mm, &trace->section, &trace->worst_mm);
  if (crossing && crossing != FAULT_CROSSING && crossing != FAULT_MEMORY)
    note(trace, N_("No smooth line fits the section of the neck. The four outlines can be used."),
         0, 0);
  loops_clear(&loops);
  return crossing == FAULT_MEMORY ? FAULT_MEMORY : FAULT_NONE;
}

static bool settings_good(const TraceSettings *s)
{
  return s->reach[0] >= 1 && s->reach[0] <= 30 && s->reach[1] >= 1 && s->reach[1] <= 30 &&
         s->tolerance_mm >= 0.005 && s->tolerance_mm <= 0.2 && s->bridge_mm >= 0 &&
         s->bridge_mm <= 1;
}

Fault trace_connector(const Mesh *mesh, const Neck *neck, const TraceSettings *settings,
                      const MeshWatch *watch, Trace *trace)
{
  if (!settings_good(settings))
    return FAULT_RANGE;
  Trace made = {0};
  Slices *slices = NULL;
  Places places = {malloc(PLACES_MOST * sizeof *places.place), 0};
  const Vec3 low = {-settings->reach[0], -HALF_HEIGHT_MM, -HALF_WIDTH_MM},
             high = {settings->reach[1], HALF_HEIGHT_MM, HALF_WIDTH_MM};
  Fault fault = places.place ? FAULT_NONE : FAULT_MEMORY;
  if (!fault)
    fault = slices_new(mesh, &neck->frame, low, high, watch, &slices);
  if (!fault)
    fault = places_take(slices, settings->reach, watch, &places);
  if (!fault) {
    Point zero = zero_of(&places);
    made.height = neck->height;
    made.width = neck->width;
    made.frame = neck->frame;
    made.frame.origin = mesh_frame_place(&neck->frame, (Vec3){0, zero.y, zero.x});
    fault = silhouettes_fit(&places, zero, settings->tolerance_mm, &made);
    if (!fault)
      fault = section_fit(slices, zero, settings, &made);
  }
  if (!fault && made.worst_mm > settings->tolerance_mm)
    note(&made, N_("At a sharp step a drawn line lies up to {0.2} mm from the surface."),
         made.worst_mm, 0);
  slices_free(slices);
  free(places.place);
  if (fault) {
    trace_clear(&made);
    return fault == FAULT_DEGENERATE ? FAULT_NO_NECK : fault;
  }
  trace_clear(trace);
  *trace = made;
  return FAULT_NONE;
}
