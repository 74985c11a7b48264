/* trace.c - silhouettes of a connector and the section of its neck, as outlines.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The section is taken at many places along the span, closer where its box changes quickly; its
 * lowest, highest and outermost places are the silhouettes as seen from cheek and gum. */
#include "mesh/trace.h"
#include "outline/stroke.h"
#include <stdlib.h>

#define STEP_MM 0.05 /* between sections                                     */
#define JUMP_MM 0.05 /* a larger change of the box: one more between          */
#define LEAST_STEP_MM 0.002
#define PLACES_MOST 6000u
#define SPACING_MM 0.04 /* of the points that are fitted                        */
#define KINK_DEG 45.0   /* a sharper turn stays a corner                        */
#define FIT_ROUNDS 5
#define SEAM_MM 1.5      /* the closed line is fitted this much beyond its start */
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

/* ---- fitting ---- */

/* Even spacing along the line; jumps are filled in.  *even is owned by the caller. */
static Fault points_even(const Point at[], size_t n, PenPoint **even, size_t *n_even)
{
  double length = 0;
  for (size_t i = 1; i < n; i++)
    length += point_distance(at[i - 1], at[i]);
  size_t count = (size_t)(length / SPACING_MM) + 2;
  PenPoint *made = malloc(count * sizeof *made);
  if (!made)
    return FAULT_MEMORY;
  double step = length / (double)(count - 1), before = 0;
  size_t piece = 1;
  for (size_t k = 0; k < count; k++) {
    double s = step * (double)k, own;
    while ((own = point_distance(at[piece - 1], at[piece])) + before < s && piece + 1 < n) {
      before += own;
      piece++;
    }
    double t = own > 0 ? fmin(fmax((s - before) / own, 0), 1) : 0;
    made[k] = (PenPoint){point_mix(at[piece - 1], at[piece], t), (double)k, 1};
  }
  *even = made;
  *n_even = count;
  return FAULT_NONE;
}

/* Narrower bands until the line keeps to the tolerance; the best one stays. */
static Fault line_fit(const Point at[], size_t n, double tolerance, Outline *outline, double *worst)
{
  PenPoint *even = NULL;
  size_t n_even = 0;
  Outline made = {0};
  if (n < 2)
    return FAULT_DEGENERATE;
  Fault fault = points_even(at, n, &even, &n_even);
  double best = INFINITY, band = tolerance;
  for (int round = 0; round < FIT_ROUNDS && !fault && best > tolerance; round++, band /= 3) {
    const StrokeSettings settings = {band, KINK_DEG};
    double off = 0;
    fault = stroke_fit(even, n_even, &settings, &made, NULL);
    for (size_t i = 0; i < n_even && !fault; i++) {
      double distance;
      (void)outline_nearest(&made, even[i].at, &distance);
      off = fmax(off, distance);
    }
    if (!fault && off < best) {
      best = off;
      outline_clear(outline);
      *outline = made;
      made = (Outline){0};
    }
  }
  outline_clear(&made);
  free(even);
  if (!fault)
    *worst = fmax(*worst, best);
  return fault;
}

/* A closed line is fitted once round and SEAM_MM on; both ends are cut where they have settled. */
static Fault loop_fit(const Loop *loop, double tolerance, Outline *outline, double *worst)
{
  Point *at = malloc((3 * loop->n + 1) * sizeof *at);
  Outline open = {0}, made = {0};
  double length = 0;
  if (!at)
    return FAULT_MEMORY;
  for (size_t i = 0; i < loop->n; i++)
    length += point_distance(loop->at[i], loop->at[(i + 1) % loop->n]);
  double seam = fmin(SEAM_MM, 0.4 * length), way = 0;
  size_t n = 0;
  do {
    at[n] = loop->at[n % loop->n];
    way += n > 0 ? point_distance(at[n - 1], at[n]) : 0;
    n++;
  } while (way < length + 2 * seam && n < 3 * loop->n + 1);
  Fault fault = line_fit(at, n, tolerance, &open, worst);
  if (!fault) {
    Polyline flat = {0};
    fault = outline_flatten(&open, 1e-3, &flat);
    double t0 = 0, t1 = 0, off = INFINITY;
    for (size_t i = 0; i < flat.n && !fault; i++)
      if (t0 <= 0 && flat.s[i] >= seam)
        t0 = flat.t[i];
    Point start = fault ? point(0, 0) : outline_at(&open, t0);
    for (size_t i = 0; i < flat.n && !fault; i++)
      if (flat.s[i] > length / 2 + seam && point_distance(flat.at[i], start) < off) {
        off = point_distance(flat.at[i], start);
        t1 = flat.t[i];
      }
    for (double step = 0.02; step > 1e-7; step /= 2) /* finer than the polyline */
      for (int sign = -1; sign <= 1; sign += 2) {
        double t = t1 + sign * step;
        if (!fault && t > t0 && t <= (double)outline_pieces(&open) &&
            point_distance(outline_at(&open, t), start) < off) {
          off = point_distance(outline_at(&open, t), start);
          t1 = t;
        }
      }
    if (!fault && t1 > t0)
      fault = outline_append_part(&made, &open, t0, t1);
    else if (!fault)
      fault = FAULT_NO_CONVERGENCE;
    if (!fault) {
      Knot *last = &made.knot[made.n - 1];
      last->in = point_add(last->in, point_sub(made.knot[0].at, last->at));
      last->at = made.knot[0].at;
      *worst = fmax(*worst, off);
      fault = outline_close(&made);
    }
    polyline_clear(&flat);
  }
  if (!fault && outline_area(&made) < 0)
    outline_reverse(&made);
  if (!fault)
    fault = outline_check(&made);
  if (!fault) {
    outline_clear(outline);
    *outline = made;
    made = (Outline){0};
  }
  outline_clear(&made);
  outline_clear(&open);
  free(at);
  return fault;
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

/* Everything between a and b, b itself included. */
static void places_between(const Slices *slices, Place a, Place b, Places *places)
{
  double jump = fmax(fmax(fabs(a.low.x - b.low.x), fabs(a.low.y - b.low.y)),
                     fmax(fabs(a.high.x - b.high.x), fabs(a.high.y - b.high.y)));
  Place middle;
  if (jump > JUMP_MM && b.x - a.x > LEAST_STEP_MM && places->n + 2 < PLACES_MOST &&
      place_at(slices, (a.x + b.x) / 2, &middle)) {
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
    fault = line_fit(at, places->n, tolerance, line[k], &trace->worst_mm);
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
    crossing = loop_fit(outer, settings->tolerance_mm, &trace->section, &trace->worst_mm);
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
