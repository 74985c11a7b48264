/* roof_family.c - see roof_family.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline/roof_family.h"
#include "base/tolerance.h"

#define STEP (M_PI / 24) /* rad in one piece: curvature of a cubic within 2e-3 */
#define SLIVER 1e-5      /* rad; shorter stretches are left out */
#define SCALE_MOST 100.0 /* mm */
#define MOST_LEAN (85 * M_PI / 180)
#define HALVINGS 52     /* of a scale below SCALE_MOST: 2e-14 mm */
#define WALL_PLACES 4   /* looked at in a piece: between them a roof of 2 mm bulges by 1e-4 mm */
#define WALL_TOUCH 1e-9 /* mm */

static double free_radius(const RoofHalf *half, double scale, double u)
{
  return scale * exp(-half->decay * u + half->bow * u * (1 - u));
}

static double radius_at(const RoofHalf *half, double scale, double u)
{
  return fmax(free_radius(half, scale, u), half->floor);
}

/* The place between two u where the floor begins or ends. */
static double knee_between(const RoofHalf *half, double scale, double low, double high)
{
  bool above = free_radius(half, scale, low) > half->floor;
  for (int i = 0; i < HALVINGS; i++) {
    double u = (low + high) / 2;
    if ((free_radius(half, scale, u) > half->floor) == above)
      low = u;
    else
      high = u;
  }
  return (low + high) / 2;
}

/* Integral of R (cos, sin) between two theta: Gauss, 4 points (Abramowitz and Stegun table 25.4).
 */
static Point stretch(const RoofHalf *half, double scale, double end, double from, double to)
{
  static const double node[4] = {-0.8611363115940526, -0.3399810435848563, 0.3399810435848563,
                                 0.8611363115940526};
  static const double weight[4] = {0.3478548451374538, 0.6521451548625461, 0.6521451548625461,
                                   0.3478548451374538};
  double middle = (from + to) / 2, reach = (to - from) / 2;
  Point sum = {0, 0};
  for (int i = 0; i < 4; i++) {
    double theta = middle + reach * node[i];
    double part = weight[i] * reach * radius_at(half, scale, theta / end);
    sum = point_add(sum, point(part * cos(theta), part * sin(theta)));
  }
  return sum;
}

static void node_add(RoofCurve *curve, const RoofHalf *half, double scale, double theta)
{
  double end = M_PI / 2 - curve->lean;
  RoofNode *last = &curve->node[curve->n - 1];
  if (theta - last->theta < SLIVER || curve->n == ROOF_NODES_MAX)
    return;
  curve->node[curve->n++] =
      (RoofNode){theta, radius_at(half, scale, theta / end),
                 point_add(last->at, stretch(half, scale, end, last->theta, theta))};
}

static void trace(const RoofHalf *half, double lean, double scale, RoofCurve *curve)
{
  double end = M_PI / 2 - lean;
  int cells = (int)ceil(end / STEP - 1e-9);
  curve->lean = lean;
  curve->n = 1;
  curve->node[0] = (RoofNode){0, radius_at(half, scale, 0), {0, 0}};
  for (int i = 1; i <= cells; i++) {
    double from = (double)(i - 1) / cells, to = (double)i / cells;
    if ((free_radius(half, scale, from) > half->floor) !=
        (free_radius(half, scale, to) > half->floor)) {
      double knee = knee_between(half, scale, from, to) * end;
      if (end * to - knee > SLIVER)
        node_add(curve, half, scale, knee);
    }
    node_add(curve, half, scale, end * to);
  }
}

static RoofNode last_of(const RoofCurve *curve)
{
  return curve->node[curve->n - 1];
}

/* Beside the apex where the leg reaches the level of the foot. */
static double run_of(const RoofCurve *curve, double rise)
{
  Point end = last_of(curve).at;
  return end.x + (rise - end.y) * tan(curve->lean);
}

double roof_wall_reach(RoofWall wall, double x, double y, int sign)
{
  double reach = INFINITY;
  for (size_t i = 0; i + 1 < wall.n; i++) {
    Point a = wall.at[i], b = wall.at[i + 1];
    if ((a.y > y) == (b.y > y))
      continue;
    double beside = sign * (a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x) - x);
    if (beside >= 0 && beside < reach)
      reach = beside;
  }
  return reach;
}

/* A place of a piece, as the cubic that is drawn there. */
static Point piece_place(const RoofNode *a, const RoofNode *b, double v)
{
  double step = (b->theta - a->theta) / 3, w = 1 - v;
  Point c1 =
      point(a->at.x + step * a->radius * cos(a->theta), a->at.y + step * a->radius * sin(a->theta));
  Point c2 =
      point(b->at.x - step * b->radius * cos(b->theta), b->at.y - step * b->radius * sin(b->theta));
  Point p = point_scale(a->at, w * w * w);
  p = point_add(p, point_scale(c1, 3 * w * w * v));
  p = point_add(p, point_scale(c2, 3 * w * v * v));
  return point_add(p, point_scale(b->at, v * v * v));
}

static bool place_inside(RoofWall wall, Point apex, int sign, Point beside)
{
  return beside.x <= roof_wall_reach(wall, apex.x, apex.y - beside.y, sign) + WALL_TOUCH;
}

static bool inside(const RoofCurve *curve, RoofWall wall, Point apex, int sign, double rise)
{
  if (wall.n == 0)
    return true;
  for (int i = 0; i + 1 < curve->n; i++)
    for (int k = 1; k <= WALL_PLACES; k++)
      if (!place_inside(wall, apex, sign,
                        piece_place(&curve->node[i], &curve->node[i + 1], (double)k / WALL_PLACES)))
        return false;
  Point top = last_of(curve).at, foot = point(run_of(curve, rise), rise - WALL_TOUCH);
  for (int k = 1; k <= 2 * WALL_PLACES; k++)
    if (!place_inside(wall, apex, sign, point_mix(top, foot, (double)k / (2 * WALL_PLACES))))
      return false;
  return true;
}

/* Scales the half for a leg of this lean; false when even the floor is too wide. */
static bool scaled(const RoofHalf *half, double lean, Point apex, Point foot, RoofWall wall,
                   RoofCurve *curve)
{
  double low = half->floor, high = SCALE_MOST, rise = apex.y - foot.y;
  double run = fabs(foot.x - apex.x);
  int sign = foot.x > apex.x ? 1 : -1;
  low *= exp(-fmax(0, half->bow / 4)); /* nowhere above the floor */
  trace(half, lean, low, curve);
  if (run_of(curve, rise) > run || !inside(curve, wall, apex, sign, rise))
    return false;
  for (int i = 0; i < HALVINGS; i++) {
    double scale = (low + high) / 2;
    trace(half, lean, scale, curve);
    if (run_of(curve, rise) > run || !inside(curve, wall, apex, sign, rise))
      high = scale;
    else
      low = scale;
  }
  trace(half, lean, low, curve);
  return true;
}

bool roof_half_fit(const RoofHalf *half, Point apex, Point foot, RoofWall wall, RoofCurve *curve)
{
  double rise = apex.y - foot.y, low = half->lean, high = MOST_LEAN;
  if (!(half->floor > 0 && rise > 0 && low >= 0 && low < high) ||
      !scaled(half, low, apex, foot, wall, curve))
    return false;
  if (last_of(curve).at.y <= rise)
    return true;
  for (int i = 0; i < HALVINGS; i++) { /* a low, wide room: the leg leans more */
    double lean = (low + high) / 2;
    if (scaled(half, lean, apex, foot, wall, curve) && last_of(curve).at.y <= rise)
      high = lean;
    else
      low = lean;
  }
  return scaled(half, high, apex, foot, wall, curve) && last_of(curve).at.y <= rise;
}

/* Appends the half from its leg to the apex (side 0) or from the apex to its leg (side 1), as
 * Hermite cubics in theta: dP/dtheta = R (cos, sin). */
static Fault half_append(const RoofCurve *curve, Point apex, int side, Outline *roof)
{
  double out = side ? 1 : -1;
  Fault fault = FAULT_NONE;
  for (int i = 1; i < curve->n && !fault; i++) {
    const RoofNode *from = &curve->node[side ? i - 1 : curve->n - i],
                   *to = &curve->node[side ? i : curve->n - 1 - i];
    double step = (to->theta - from->theta) / 3;
    Point a = point(from->at.x + step * from->radius * cos(from->theta),
                    from->at.y + step * from->radius * sin(from->theta));
    Point c = point(to->at.x - step * to->radius * cos(to->theta),
                    to->at.y - step * to->radius * sin(to->theta));
    fault = outline_curve_to(roof, point(apex.x + out * a.x, apex.y - a.y),
                             point(apex.x + out * c.x, apex.y - c.y),
                             point(apex.x + out * to->at.x, apex.y - to->at.y));
  }
  return fault;
}

static Fault line_unless_there(Outline *roof, Point p)
{
  return point_distance(roof->knot[roof->n - 1].at, p) > 2 * TOL_POINT_MM ? outline_line_to(roof, p)
                                                                          : FAULT_NONE;
}

Fault roof_draw(const RoofCurve half[2], Point apex, const Point foot[2], Outline *roof)
{
  Point knee[2], leg[2]; /* where roof and leg meet, where the leg ends */
  bool beside[2];
  for (int i = 0; i < 2; i++) {
    double out = i ? 1 : -1, rise = apex.y - foot[i].y;
    Point end = last_of(&half[i]).at;
    knee[i] = point(apex.x + out * end.x, apex.y - end.y);
    leg[i] = point(apex.x + out * run_of(&half[i], rise), foot[i].y);
    beside[i] = point_distance(leg[i], foot[i]) > 10 * TOL_POINT_MM;
    if (!beside[i])
      leg[i] = foot[i];
  }
  bool upright = point_distance(leg[0], knee[0]) > 2 * TOL_POINT_MM;
  Point first = beside[0] || upright ? foot[0] : knee[0];
  Fault fault = outline_move_to(roof, first);
  if (!fault && beside[0])
    fault = line_unless_there(roof, leg[0]);
  if (!fault && upright)
    fault = line_unless_there(roof, knee[0]);
  for (int i = 0; i < 2 && !fault; i++)
    fault = half_append(&half[i], apex, i, roof);
  if (!fault)
    fault = line_unless_there(roof, leg[1]);
  return fault ? fault : line_unless_there(roof, foot[1]);
}
