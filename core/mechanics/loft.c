/* loft.c - the body between four outlines: ribs that join points of equal s.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm.  A rib keeps the drawn outlines exactly; between them the shape follows the pairing.  Three
 * pairings are tried in order: equal s; plan points beside the gingival ones; occlusal points too.
 */
#include "loft.h"
#include "base/tolerance.h"
#include "loft_section.h"
#include "loft_side.h"
#include "outline/form.h"
#include <stdlib.h>

typedef enum { PAIR_EQUAL_S, PAIR_PLAN_X, PAIR_ALL_X, PAIR_N } Pairing;

struct Loft {
  LoftSide side[2][LOFT_OUTLINE_N]; /* [0] towards small x, [1] towards large x */
  double lean[2];                   /* paired plan points: share of the excess arc length */
  LoftSection *section;             /* NULL: by roundness */
  double neck_x, y0, roundness_neck, roundness_body;
  double tilt, tilt_y; /* outlines stand sheared in `side`, so that the neck is upright there */
  double side_difference;
  double section_difference; /* of the unit section's halves, times the widest half width */
  Pairing pairing;
  bool mirror_x;
};

#define PART_STEPS 24      /* ribs checked in each part                                          */
#define RIB_ANGLE_MIN 0.03 /* sine of the smallest angle between rib and outline */
#define LEAN 0.4           /* plan points run ahead of the gingival ones by this share of excess */
#define LEAN_BODY 0.4      /* and lose it again within the body, by at most this slope           */
#define TILT_FREE_DEG 4.0  /* a neck that leans less keeps upright ribs, ribs lean by the rest  */
#define TILT_MOST_DEG 35.0
#define TILT_PARTS 4
#define TILT_NEAR_MM 0.3 /* the neck is where the caller says                                   */
#define SHARP_TURN 0.6   /* rad in 10 degrees of a section: a superellipse n = 4 turns 0.5    */
#define KINK_TURN 0.15   /* rad: a jump of direction in the neck plane that counts as a corner */

static const LoftSide *sides_of(const Loft *loft, int side)
{
  return loft->side[side > 0];
}

/* x (local) of the plan point that belongs to a gingival place: beside it, running ahead along
 * the upright leg by a share of the arc length that brings no x, so that no two ribs touch. */
static double paired_u(const Loft *loft, int side, double s)
{
  const LoftSide *g = &sides_of(loft, side)[LOFT_GINGIVAL];
  double length = loft_side_length_at(g, s), u = loft_side_at(g, length).x, foot = g->part[2];
  double lean = loft->lean[side > 0];
  if (s <= 2)
    return u + lean * (length - u);
  return u + lean * (foot - loft_side_at(g, foot).x) * (3 - s);
}

static double half_width_at(const LoftSide *plan, double u)
{
  return loft_side_at(plan, loft_side_find(plan, u)).y;
}

/* Share of the body in the section: nil over the arc, smoothly to 1 along the leg. */
static double body_share(double s)
{
  double t = fmin(fmax(s - 1, 0), 1);
  return t * t * (3 - 2 * t);
}

/* In the sheared frame. */
static Rib rib_upright(const Loft *loft, int side, double s)
{
  const LoftSide *line = sides_of(loft, side);
  s = s > 0 ? fmin(s, 3) : 0;
  Point p[LOFT_OUTLINE_N];
  for (int k = 0; k < LOFT_OUTLINE_N; k++)
    p[k] = loft_side_at(&line[k], loft_side_length_at(&line[k], s));
  double u = (p[LOFT_BUCCAL].x + p[LOFT_LINGUAL].x) / 2;
  if (loft->pairing != PAIR_EQUAL_S)
    u = paired_u(loft, side, s);
  for (int k = LOFT_BUCCAL; k <= LOFT_LINGUAL; k++)
    if (fabs(p[k].x - u) > TOL_POINT_MM)
      p[k].y = half_width_at(&line[k], u);
  if (loft->pairing == PAIR_ALL_X)
    p[LOFT_OCCLUSAL] = loft_side_at(&line[LOFT_OCCLUSAL], loft_side_find(&line[LOFT_OCCLUSAL], u));
  double body = body_share(s);
  Rib rib = {.s = s,
             .gingival = point(loft->neck_x + side * p[LOFT_GINGIVAL].x, -p[LOFT_GINGIVAL].y),
             .occlusal = point(loft->neck_x + side * p[LOFT_OCCLUSAL].x, p[LOFT_OCCLUSAL].y),
             .x_plan = loft->neck_x + side * u,
             .buccal = p[LOFT_BUCCAL].y,
             .lingual = p[LOFT_LINGUAL].y,
             .roundness =
                 loft->roundness_neck + body * (loft->roundness_body - loft->roundness_neck),
             .grow = {1, 1, 1, 1}};
  if (loft->section)
    loft_section_blend(loft->section, body, &rib);
  return rib;
}

Rib loft_rib(const Loft *loft, int side, double s)
{
  Rib rib = rib_upright(loft, side, s);
  rib.tilt = loft->tilt;
  rib.tilt_y = loft->tilt_y;
  rib.gingival.x += rib.tilt * (rib.gingival.y - rib.tilt_y);
  rib.occlusal.x += rib.tilt * (rib.occlusal.y - rib.tilt_y);
  return rib;
}

/* Between plan and end the way goes with q^2, along the tilt with q. */
static double rib_place_x(const Rib *rib, const Point *end, double q, double y)
{
  double a = q * q, upright = end->x - rib->tilt * (end->y - rib->tilt_y);
  return rib->x_plan * (1 - a) + upright * a + rib->tilt * (y - rib->tilt_y);
}

double rib_x(const Rib *rib, double y0, double y)
{
  const Point *end = y < y0 ? &rib->gingival : &rib->occlusal;
  double height = end->y - y0, q = fabs(height) > TOL_POINT_MM ? (y - y0) / height : 0;
  return rib_place_x(rib, end, fmin(q, 1), y);
}

Vec3 loft_place(const Rib *rib, double y0, double q, double zeta, bool mean_sides)
{
  q *= rib->grow[q < 0 ? 0 : 1];
  zeta *= rib->grow[zeta > 0 ? 2 : 3];
  const Point *end = q < 0 ? &rib->gingival : &rib->occlusal;
  double mean = (rib->buccal + rib->lingual) / 2, y = y0 + fabs(q) * (end->y - y0);
  double w = mean_sides ? mean : zeta > 0 ? rib->buccal : rib->lingual;
  return (Vec3){rib_place_x(rib, end, q, y), y, w * zeta};
}

double rib_reach(const Rib *rib, double cosine, double sine, double ratio)
{
  double n = rib->roundness, reach = pow(pow(fabs(cosine), n) + pow(fabs(sine), n), -1 / n);
  return rib->drawn > 0 ? reach * pow(ratio, rib->drawn) : reach;
}

double loft_section_ratio(const Loft *loft, double angle, bool lingual)
{
  return loft->section ? loft_section_drawn_ratio(loft->section, angle, lingual) : 1;
}

double loft_section_angle(const Loft *loft, double phi, int cells, bool lingual)
{
  return loft->section ? loft_section_drawn_angle(loft->section, phi, cells, lingual) : phi;
}

bool loft_section_sharp(const Loft *loft)
{
  return loft->section && loft_section_most_turn(loft->section) > SHARP_TURN;
}

bool loft_section_even(const Loft *loft)
{
  return loft->section_difference < TOL_SYMMETRY_MM;
}

/* Smallest sine between rib and outline at the outline's end, between two ribs. */
static double stand(Point end0, Point end1, double plan0, double plan1, double y0, int side)
{
  double du = side * (end1.x - end0.x), h0 = fabs(end0.y - y0), h1 = fabs(end1.y - y0);
  double dh = h1 - h0, h = (h0 + h1) / 2, speed = hypot(du, dh);
  double lead = side * ((plan0 - end0.x) + (plan1 - end1.x)) / 2;
  if (!(speed > 0))
    return 0;
  return (du * h + 2 * lead * dh) / (speed * hypot(h, 2 * lead));
}

static Fault pairing_check(const Loft *loft, Point *where)
{
  double y0 = loft->y0, thin = MIN_NECK_MM / 8;
  for (int side = -1; side <= 1; side += 2) {
    double step = sides_of(loft, side)[LOFT_GINGIVAL].part[3] / (3 * PART_STEPS);
    Rib a = rib_upright(loft, side, 0);
    for (int i = 1; i <= 3 * PART_STEPS; i++) {
      Rib b = rib_upright(loft, side, (double)i / PART_STEPS);
      bool low = stand(a.gingival, b.gingival, a.x_plan, b.x_plan, y0, side) > RIB_ANGLE_MIN;
      bool high = stand(a.occlusal, b.occlusal, a.x_plan, b.x_plan, y0, side) > RIB_ANGLE_MIN;
      bool moves = side * (b.x_plan - a.x_plan) > RIB_ANGLE_MIN * step;
      bool thick = b.gingival.y < y0 - thin && b.occlusal.y > y0 + thin && b.buccal > thin &&
                   b.lingual > thin;
      if (!(low && high && moves && thick)) {
        *where = low && !high ? b.occlusal : b.gingival;
        return FAULT_FOLD;
      }
      a = b;
    }
  }
  return FAULT_NONE;
}

static double point_difference(Point a, Point b, double axis)
{
  return fmax(fabs(a.x + b.x - 2 * axis), fabs(a.y - b.y));
}

static void symmetry_read(Loft *loft)
{
  double across = 0, widest = 0;
  loft->side_difference = 0;
  for (int i = 0; i <= 3 * PART_STEPS; i++) {
    double s = (double)i / PART_STEPS;
    Rib a = rib_upright(loft, -1, s), b = rib_upright(loft, 1, s);
    across = fmax(across, point_difference(a.gingival, b.gingival, loft->neck_x));
    across = fmax(across, point_difference(a.occlusal, b.occlusal, loft->neck_x));
    across = fmax(across, fabs(a.x_plan + b.x_plan - 2 * loft->neck_x));
    across = fmax(across, fmax(fabs(a.buccal - b.buccal), fabs(a.lingual - b.lingual)));
    double wide = fmax(fabs(a.buccal - a.lingual), fabs(b.buccal - b.lingual));
    loft->side_difference = fmax(loft->side_difference, wide);
    widest = fmax(widest, fmax(fmax(a.buccal, a.lingual), fmax(b.buccal, b.lingual)));
  }
  if (loft->section)
    loft->section_difference = widest * loft_section_lopsided(loft->section);
  loft->mirror_x = across < TOL_SYMMETRY_MM && fabs(loft->tilt) <= 0;
}

/* Cuts all outlines of a side to the same length and finds their parts. */
static Fault sides_divide(LoftSide line[LOFT_OUTLINE_N])
{
  double reach = INFINITY;
  for (int k = 0; k < LOFT_OUTLINE_N; k++)
    reach = fmin(reach, loft_side_reach(&line[k]));
  if (!(reach > MIN_NECK_MM))
    return FAULT_NO_NECK;
  for (int k = 0; k < LOFT_OUTLINE_N; k++)
    loft_side_divide(&line[k], reach);
  bool low = line[LOFT_GINGIVAL].notch || !line[LOFT_OCCLUSAL].notch;
  const LoftSide *like = &line[low ? LOFT_GINGIVAL : LOFT_OCCLUSAL];
  for (int k = 0; k < LOFT_OUTLINE_N; k++)
    if (&line[k] != like && !line[k].notch)
      loft_side_divide_like(&line[k], like);
  return FAULT_NONE;
}

static void lean_set(Loft *loft)
{
  for (int i = 0; i < 2; i++) {
    const LoftSide *g = &loft->side[i][LOFT_GINGIVAL];
    double foot = loft_side_at(g, g->part[2]).x, end = loft_side_at(g, g->part[3]).x;
    double excess = g->part[2] - foot;
    loft->lean[i] = excess > 0 ? fmin(LEAN, LEAN_BODY * fmax(end - foot, 0) / excess) : LEAN;
  }
}

static Fault neck_check(Loft *loft, Point *where)
{
  const LoftSide *line = loft->side[1];
  double low = -line[LOFT_GINGIVAL].sample[0].at.y, high = line[LOFT_OCCLUSAL].sample[0].at.y;
  loft->y0 = (low + high) / 2;
  *where = point(loft->neck_x, loft->y0);
  if (high - low < MIN_NECK_MM || line[LOFT_BUCCAL].sample[0].at.y < MIN_NECK_MM / 2 ||
      line[LOFT_LINGUAL].sample[0].at.y < MIN_NECK_MM / 2)
    return FAULT_NO_NECK;
  return FAULT_NONE;
}

static Fault input_check(const LoftInput *in)
{
  if (!isfinite(in->neck_x) || !isfinite(in->roundness_neck) || !isfinite(in->roundness_body))
    return FAULT_NOT_FINITE;
  if (fabs(in->neck_x) > MAX_SIZE_MM || in->roundness_neck < 1.5 || in->roundness_neck > 8 ||
      in->roundness_body < 1.5 || in->roundness_body > 8)
    return FAULT_RANGE;
  return FAULT_NONE;
}

static void sides_clear(Loft *loft)
{
  for (int i = 0; i < 2; i++)
    for (int k = 0; k < LOFT_OUTLINE_N; k++)
      loft_side_clear(&loft->side[i][k]);
}

/* How far the narrowest place leans beyond what upright ribs can follow; 0 where the neck is looked
 * for elsewhere, or is not found. */
static void tilt_read(Loft *loft, const LoftInput *in)
{
  Form form;
  loft->tilt = loft->tilt_y = 0;
  if (form_neck_read(in->gingival, in->occlusal, NULL, NULL, &form, NULL) ||
      fabs(form.neck_x - in->neck_x) > TILT_NEAR_MM)
    return;
  Point up = point_sub(form.neck_high, form.neck_low);
  double lean = atan2(up.x, up.y), most = TILT_MOST_DEG * acos(-1.0) / 180,
         beyond = fabs(lean) - TILT_FREE_DEG * acos(-1.0) / 180;
  if (beyond > 0)
    loft->tilt = copysign(tan(fmin(beyond, most)), lean);
  loft->tilt_y = form.neck_y;
}

static Fault sides_make(Loft *loft, const LoftInput *in, int only)
{
  const Outline *outline[LOFT_OUTLINE_N] = {in->gingival, in->occlusal, in->buccal, in->lingual};
  for (int i = 0; i < 2; i++) {
    for (int k = 0; k < LOFT_OUTLINE_N; k++) {
      Fault fault = loft_side_new(outline[k], (LoftOutline)k,
                                  only ? only
                                  : i  ? 1
                                       : -1,
                                  in->neck_x, &loft->side[i][k]);
      if (fault)
        return fault;
    }
    Fault fault = sides_divide(loft->side[i]);
    if (fault)
      return fault;
  }
  return FAULT_NONE;
}

/* Both outlines of the elevation sheared, so that the neck stands upright, and divided. */
static Fault sides_tilt(Loft *loft, const LoftInput *in)
{
  const double back[6] = {1, 0, -loft->tilt, 1, loft->tilt * loft->tilt_y, 0};
  LoftInput upright = *in;
  Outline low, high;
  outline_init(&low);
  outline_init(&high);
  Fault fault = outline_copy(&low, in->gingival);
  if (!fault)
    fault = outline_copy(&high, in->occlusal);
  if (!fault) {
    outline_transform(&low, back);
    outline_transform(&high, back);
    upright.gingival = &low;
    upright.occlusal = &high;
    fault = sides_make(loft, &upright, 0);
  }
  outline_clear(&low);
  outline_clear(&high);
  return fault;
}

/* The first pairing whose ribs stand side by side. */
static Fault pair(Loft *loft, Point *where)
{
  lean_set(loft);
  for (int pairing = 0; pairing < PAIR_N; pairing++) {
    Point at;
    loft->pairing = (Pairing)pairing;
    if (!pairing_check(loft, &at))
      return FAULT_NONE;
    *where = at;
  }
  return FAULT_FOLD;
}

/* Steep legs may leave no room for ribs that lean as much as the neck: then they lean less, at last
 * not at all. */
static Fault sides_fit(Loft *loft, const LoftInput *in, int only, Point *where)
{
  double tilt = loft->tilt;
  Fault fault = FAULT_FOLD;
  for (int part = fabs(tilt) > 0 ? TILT_PARTS : 0; part >= 0 && fault == FAULT_FOLD; part--) {
    loft->tilt = tilt * part / TILT_PARTS;
    sides_clear(loft);
    fault = part ? sides_tilt(loft, in) : sides_make(loft, in, only);
    if (!fault)
      fault = neck_check(loft, where);
    if (!fault)
      fault = pair(loft, where);
  }
  return fault;
}

Fault loft_new(const LoftInput *input, Loft **loft, Point *where)
{
  return loft_new_mirrored(input, 0, loft, where);
}

Fault loft_new_mirrored(const LoftInput *input, int side, Loft **loft, Point *where)
{
  Fault fault = input_check(input);
  if (fault)
    return fault;
  Loft *made = calloc(1, sizeof *made);
  if (!made)
    return FAULT_MEMORY;
  made->neck_x = input->neck_x;
  made->roundness_neck = input->roundness_neck;
  made->roundness_body = input->roundness_body;
  Point at = point(input->neck_x, 0);
  if (input->section)
    fault = loft_section_new(input->section, input->roundness_body, &made->section);
  if (made->section)
    made->roundness_neck = loft_section_roundness(made->section);
  if (!fault && !side)
    tilt_read(made, input); /* a mirrored neck stands upright */
  if (!fault)
    fault = sides_fit(made, input, side, &at);
  if (fault) {
    loft_free(made);
    if (where)
      *where = at;
    return fault;
  }
  symmetry_read(made);
  *loft = made;
  return FAULT_NONE;
}

void loft_free(Loft *loft)
{
  if (!loft)
    return;
  sides_clear(loft);
  loft_section_free(loft->section);
  free(loft);
}

double loft_tilt(const Loft *loft)
{
  return loft->tilt;
}

double loft_y0(const Loft *loft)
{
  return loft->y0;
}

bool loft_repaired(const Loft *loft)
{
  return loft->pairing != PAIR_EQUAL_S;
}

bool loft_mirror_x(const Loft *loft)
{
  return loft->mirror_x;
}

bool loft_mirror_z(const Loft *loft)
{
  return loft->side_difference < TOL_SYMMETRY_MM && loft_section_even(loft);
}

double loft_side_difference(const Loft *loft)
{
  return loft->side_difference;
}

double loft_gingival_length(const Loft *loft, int side, double s0, double s1)
{
  const LoftSide *g = &sides_of(loft, side)[LOFT_GINGIVAL];
  return loft_side_length_at(g, s1) - loft_side_length_at(g, s0);
}

/* A corner in the neck plane itself shows as a jump between the two sides' first directions. */
static double radius_of(const Loft *loft, int side, LoftOutline k)
{
  double jump = loft->side[0][k].sample[0].turn + loft->side[1][k].sample[0].turn;
  return jump > KINK_TURN ? MIN_ROOF_RADIUS_MM : loft_side_radius(&sides_of(loft, side)[k]);
}

double loft_gingival_radius(const Loft *loft, int side)
{
  return radius_of(loft, side, LOFT_GINGIVAL);
}

double loft_occlusal_radius(const Loft *loft, int side)
{
  return radius_of(loft, side, LOFT_OCCLUSAL);
}

double loft_gingival_turn(const Loft *loft, int side, double s)
{
  const LoftSide *g = &sides_of(loft, side)[LOFT_GINGIVAL];
  return loft_side_turn(g, loft_side_length_at(g, s));
}
