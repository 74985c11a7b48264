/* neck.c - least sections along a span, and of tilted planes.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "mesh/neck.h"
#include <stdlib.h>

#define WAIST_MOST 0.85     /* of the areas beside it: less is no waist; own rule                */
#define BOX_WAIST_MOST 0.85 /* of the boxes beside it: a hollow crown is no neck; own rule */
#define END_SHARE 0.02      /* of the length at each end is no neck                               */
#define GOLDEN_ROUNDS 40
#define PART_MM                                                                                    \
  7.0 /* kept on both sides while tilting                                            */
#define TILT_BEGIN (6 * M_PI / 180)
#define TILT_END (0.02 * M_PI / 180)
#define SHIFT_BEGIN 0.3

double span_station(const MeshSpan *span, size_t i)
{
  return span->low + ((double)i + 0.5) / SPAN_STATIONS * (span->high - span->low);
}

static const Vec3 everything_low = {-INFINITY, -INFINITY, -INFINITY},
                  everything_high = {INFINITY, INFINITY, INFINITY};

/* ---- candidates ---- */

static double box_at(const MeshSpan *span, size_t i)
{
  return (span->most[i].x - span->least[i].x) * (span->most[i].y - span->least[i].y);
}

/* Station i against the largest values up to the next smaller station on both sides. */
static double waist_of(const MeshSpan *span, size_t i, double (*size)(const MeshSpan *, size_t))
{
  double own = size(span, i), beside[2] = {own, own};
  for (size_t k = i; k-- > 0 && size(span, k) >= own;)
    beside[0] = fmax(beside[0], size(span, k));
  for (size_t k = i + 1; k < SPAN_STATIONS && size(span, k) >= own; k++)
    beside[1] = fmax(beside[1], size(span, k));
  double less = fmin(beside[0], beside[1]);
  return less > 0 ? own / less : 1;
}

static double area_at(const MeshSpan *span, size_t i)
{
  return span->area[i];
}

/* A bump of a facet beside the least place is no second neck: of two in one valley the smaller
 * stays, since the larger has a smaller one next to it with no hill between. */
static size_t candidates(const MeshSpan *span, size_t place[], double waist[], size_t room)
{
  size_t n = 0, end = (size_t)(END_SHARE * SPAN_STATIONS) + 1;
  for (size_t i = end; i + end < SPAN_STATIONS && n < room; i++) {
    double own = span->area[i];
    if (!(own > 0) || own > span->area[i - 1] || own >= span->area[i + 1])
      continue;
    double w = waist_of(span, i, area_at);
    if (w > WAIST_MOST)
      continue;
    double box = 1;
    for (size_t k = i > 3 ? i - 3 : 0; k <= i + 3 && k < SPAN_STATIONS; k++)
      box = fmin(box, waist_of(span, k, box_at));
    if (box > BOX_WAIST_MOST)
      continue;
    place[n] = i;
    waist[n++] = w;
  }
  return n;
}

/* ---- refining ---- */

static double area_there(const Slices *slices, double x)
{
  Slice slice;
  return slices_at(slices, x, &slice) && slice.area > 0 ? slice.area : INFINITY;
}

static double golden(const Slices *slices, double a, double b)
{
  const double ratio = 0.6180339887498949;
  double c = b - ratio * (b - a), d = a + ratio * (b - a);
  double at_c = area_there(slices, c), at_d = area_there(slices, d);
  for (int i = 0; i < GOLDEN_ROUNDS; i++) {
    if (at_c <= at_d) {
      b = d, d = c, at_d = at_c;
      c = b - ratio * (b - a);
      at_c = area_there(slices, c);
    } else {
      a = c, c = d, at_c = at_d;
      d = a + ratio * (b - a);
      at_d = area_there(slices, d);
    }
  }
  return (a + b) / 2;
}

/* Yaw, pitch and a shift along the span, each way in turn, with halved steps. */
static Fault tilt_least(const Slices *part, const MeshWatch *watch, Vec3 *through, double tilt[2])
{
  Slice slice;
  if (!slices_tilted(part, *through, tilt[0], tilt[1], &slice))
    return FAULT_NO_NECK;
  double best = slice.area, shift = SHIFT_BEGIN;
  for (double step = TILT_BEGIN; step >= TILT_END; step /= 2, shift /= 2) {
    if (!mesh_go_on(watch, 0.5))
      return FAULT_CANCELLED;
    for (int way = 0; way < 6; way++) {
      double sign = way % 2 ? -1 : 1;
      double yaw = tilt[0] + (way / 2 == 0 ? sign * step : 0);
      double pitch = tilt[1] + (way / 2 == 1 ? sign * step : 0);
      Vec3 at = *through;
      at.x += way / 2 == 2 ? sign * shift : 0;
      if (fabs(yaw) > NECK_TILT_MAX || fabs(pitch) > NECK_TILT_MAX ||
          !slices_tilted(part, at, yaw, pitch, &slice) || !(slice.area > 0) || !(slice.area < best))
        continue;
      best = slice.area;
      tilt[0] = yaw;
      tilt[1] = pitch;
      *through = at;
    }
  }
  return FAULT_NONE;
}

/* The plane through (x, y, z) of the span becomes a neck with a frame in the middle of its section.
 */
static Fault neck_fill(const Slices *part, const MeshFrame *frame, Vec3 through, double yaw,
                       double pitch, Neck *neck)
{
  Slice slice;
  if (!slices_tilted(part, through, yaw, pitch, &slice) || !(slice.area > 0))
    return FAULT_NO_NECK;
  const MeshFrame plain = {through, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
  MeshFrame tilted = mesh_frame_tilted(plain, yaw, pitch);
  Vec3 middle = mesh_frame_place(&tilted, (Vec3){0, slice.centre.y, slice.centre.x});
  MeshFrame at = *frame;
  at.origin = mesh_frame_place(frame, middle);
  *neck = (Neck){.x = middle.x,
                 .yaw = yaw,
                 .pitch = pitch,
                 .frame = mesh_frame_tilted(at, yaw, pitch),
                 .area = slice.area,
                 .height = slice.high.y - slice.low.y,
                 .width = slice.high.x - slice.low.x,
                 .waist = NAN};
  return FAULT_NONE;
}

static Fault part_new(const Mesh *mesh, const MeshFrame *frame, double x, Slices **part)
{
  Vec3 low = everything_low, high = everything_high;
  low.x = x - PART_MM;
  high.x = x + PART_MM;
  return slices_new(mesh, frame, low, high, NULL, part);
}

static Fault neck_refine(const Mesh *mesh, const MeshSpan *span, const MeshWatch *watch, double x,
                         double waist, Neck *neck)
{
  Slices *part = NULL;
  Slice slice;
  double step = (span->high - span->low) / SPAN_STATIONS;
  Fault fault = part_new(mesh, &span->frame, x, &part);
  if (fault)
    return fault;
  x = golden(part, x - 1.5 * step, x + 1.5 * step);
  fault = slices_at(part, x, &slice) ? FAULT_NONE : FAULT_NO_NECK;
  Vec3 through = {x, slice.centre.y, slice.centre.x};
  double tilt[2] = {0, 0};
  if (!fault)
    fault = tilt_least(part, watch, &through, tilt);
  if (!fault)
    fault = neck_fill(part, &span->frame, through, tilt[0], tilt[1], neck);
  neck->waist = waist;
  slices_free(part);
  return fault;
}

Fault span_find(const Mesh *mesh, const MeshFrame *frame, const MeshWatch *watch, MeshSpan *span)
{
  Slices *slices = NULL;
  Fault fault = slices_new(mesh, frame, everything_low, everything_high, watch, &slices);
  if (fault)
    return fault;
  MeshSpan *made = calloc(1, sizeof *made);
  if (!made) {
    slices_free(slices);
    return FAULT_MEMORY;
  }
  made->frame = *frame;
  made->low = slices_low(slices);
  made->high = slices_high(slices);
  double leaning = 0, boxes = 0;
  for (size_t i = 0; i < SPAN_STATIONS && !fault; i++) {
    Slice slice;
    if (slices_at(slices, span_station(made, i), &slice)) {
      leaning += slice.area * (slice.centre.y - (slice.low.y + slice.high.y) / 2);
      boxes += slice.area * (slice.high.y - slice.low.y);
      made->area[i] = fmax(slice.area, 0);
      made->least[i] = slice.low;
      made->most[i] = slice.high;
    }
    if (i % 16 == 0 && !mesh_go_on(watch, (double)i / SPAN_STATIONS))
      fault = FAULT_CANCELLED;
  }
  slices_free(slices);
  made->lean = boxes > 0 ? leaning / boxes : 0;
  size_t place[NECKS_MOST];
  double waist[NECKS_MOST];
  size_t n = fault ? 0 : candidates(made, place, waist, NECKS_MOST);
  for (size_t i = 0; i < n && !fault; i++) {
    fault = neck_refine(mesh, made, watch, span_station(made, place[i]), waist[i],
                        &made->neck[made->n_neck]);
    made->n_neck += fault == FAULT_NONE;
    if (fault == FAULT_NO_NECK)
      fault = FAULT_NONE;
  }
  if (!fault)
    *span = *made;
  free(made);
  return fault;
}

Fault span_neck_at(const Mesh *mesh, const MeshSpan *span, double x, double yaw, double pitch,
                   Neck *neck)
{
  if (!isfinite(x) || !(fabs(yaw) <= NECK_TILT_MAX) || !(fabs(pitch) <= NECK_TILT_MAX))
    return FAULT_RANGE;
  double inside = (span->high - span->low) / SPAN_STATIONS;
  x = fmin(fmax(x, span->low + inside), span->high - inside);
  Slices *part = NULL;
  Slice slice;
  Fault fault = part_new(mesh, &span->frame, x, &part);
  if (fault)
    return fault == FAULT_DEGENERATE ? FAULT_NO_NECK : fault;
  fault = slices_at(part, x, &slice) ? FAULT_NONE : FAULT_NO_NECK;
  if (!fault)
    fault =
        neck_fill(part, &span->frame, (Vec3){x, slice.centre.y, slice.centre.x}, yaw, pitch, neck);
  slices_free(part);
  return fault;
}

double span_match(const MeshSpan *span, const double at[], size_t n, bool reversed, size_t neck[])
{
  /* cost[i][k]: least sum of distances of the first i connectors with the first k necks, in order
   */
  double cost[NECKS_MOST + 1][NECKS_MOST + 1] = {0}, share[NECKS_MOST];
  size_t m = span->n_neck;
  if (n == 0 || n > NECKS_MOST)
    return 1;
  for (size_t k = 0; k < m; k++) {
    double x = (span->neck[reversed ? m - 1 - k : k].x - span->low) / (span->high - span->low);
    share[k] = reversed ? 1 - x : x;
  }
  for (size_t i = 1; i <= n; i++)
    for (size_t k = 0; k <= m; k++) {
      cost[i][k] = cost[i - 1][k] + 1; /* without a neck */
      if (k > 0)
        cost[i][k] = fmin(fmin(cost[i][k], cost[i][k - 1]),
                          cost[i - 1][k - 1] + fabs(share[k - 1] - at[i - 1]));
    }
  for (size_t i = n, k = m; i > 0; i--) {
    while (k > 0 && cost[i][k] >= cost[i][k - 1])
      k--;
    bool none = cost[i][k] >= cost[i - 1][k] + 1;
    neck[i - 1] = none ? NECK_NONE : k - 1;
    k -= !none;
  }
  return cost[n][m] / (double)n;
}
