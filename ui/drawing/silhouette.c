/* silhouette.c - see silhouette.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/silhouette.h"

#define SHOULDER_MM 0.45 /* below the crown height: where a groove begins */
#define CUSP_MM 0.5
#define EDGE_MM 0.15 /* the same for front teeth */
#define GROOVE_STEPS 48

typedef struct {
  Point start, end; /* where the biting edge leaves one groove and meets the next */
} Crown;

static double unit_start(const Assessment *a, size_t unit)
{
  double x = 0;
  for (size_t i = 0; i < unit; i++)
    x += a->c.unit[i].length;
  return x;
}

double silhouette_middle(const Assessment *a, size_t unit)
{
  return unit_start(a, unit) + a->c.unit[unit].length / 2;
}

static View view_at_neck(View view, const Assessment *a, size_t connector)
{
  view.x += view.scale * a->neck_x[connector];
  return view;
}

static double crown_height(const Assessment *a, size_t unit)
{
  double h = a->c.unit[unit].height;
  return h > 0.5 && h < 40 ? h : 8;
}

/* Parameters between which a biting groove lies below the shoulders of its crowns. */
static void groove_range(const Assessment *a, size_t connector, double *t0, double *t1)
{
  const Outline *o = &a->c.connector[connector].side[SIDE_OCCLUSAL];
  double last = (double)outline_pieces(o), lowest = INFINITY, t_low = last / 2;
  for (int i = 0; i <= 4 * GROOVE_STEPS; i++) {
    double t = last * i / (4 * GROOVE_STEPS);
    Point p = outline_at(o, t);
    if (p.y < lowest && fabs(p.x) < 3) {
      lowest = p.y;
      t_low = t;
    }
  }
  *t0 = *t1 = t_low;
  double step = last / (4 * GROOVE_STEPS);
  while (*t0 > step && outline_at(o, *t0).y < crown_height(a, connector) - SHOULDER_MM)
    *t0 -= step;
  while (*t1 < last - step && outline_at(o, *t1).y < crown_height(a, connector + 1) - SHOULDER_MM)
    *t1 += step;
}

static bool has_groove(const Assessment *a, size_t connector)
{
  return a->c.connector[connector].side[SIDE_OCCLUSAL].n >= 2;
}

static Point groove_point(const Assessment *a, size_t connector, double t)
{
  Point p = outline_at(&a->c.connector[connector].side[SIDE_OCCLUSAL], t);
  return point(p.x + a->neck_x[connector], p.y);
}

static Crown crown_of(const Assessment *a, size_t unit)
{
  double length = a->c.unit[unit].length, x = unit_start(a, unit), h = crown_height(a, unit), t0,
         t1;
  Crown crown = {.start = point(x + 0.07 * length, 0.82 * h),
                 .end = point(x + 0.93 * length, 0.82 * h)};
  if (unit > 0 && has_groove(a, unit - 1)) {
    groove_range(a, unit - 1, &t0, &t1);
    crown.start = groove_point(a, unit - 1, t1);
  }
  if (unit + 1 < a->c.n_unit && has_groove(a, unit)) {
    groove_range(a, unit, &t0, &t1);
    crown.end = groove_point(a, unit, t0);
  }
  return crown;
}

static int cusp_count(const Assessment *a, size_t unit)
{
  return tooth_is_molar(a->c.unit[unit].tooth) ? 3 : 1;
}

/* Knots of the biting edge of a crown, left to right: start, peak, valley, peak, ..., end. */
#define CUSP_KNOTS 7
static size_t cusp_knots(const Assessment *a, size_t unit, Point knot[CUSP_KNOTS])
{
  Crown crown = crown_of(a, unit);
  int n = cusp_count(a, unit);
  double h = crown_height(a, unit),
         rise = tooth_is_front(a->c.unit[unit].tooth) ? EDGE_MM : CUSP_MM;
  size_t k = 0;
  knot[k++] = crown.start;
  for (int i = 0; i < n; i++) {
    double width = (crown.end.x - crown.start.x) / n, peak = crown.start.x + (i + 0.5) * width;
    knot[k++] = point(peak, h + rise * (i % 2 ? 0.7 : 1));
    knot[k++] = i + 1 < n ? point(peak + width / 2, h - 0.1) : crown.end;
  }
  return k;
}

double silhouette_top(const Assessment *a, double x)
{
  for (size_t unit = 0; unit < a->c.n_unit; unit++) {
    Point knot[CUSP_KNOTS];
    size_t n = cusp_knots(a, unit, knot);
    for (size_t i = 0; i + 1 < n; i++)
      if (x >= knot[i].x && x < knot[i + 1].x) {
        double t = (x - knot[i].x) / (knot[i + 1].x - knot[i].x), ease = t * t * (3 - 2 * t);
        return knot[i].y + ease * (knot[i + 1].y - knot[i].y);
      }
  }
  for (size_t k = 0; k < a->n_connector; k++)
    if (has_groove(a, k) && fabs(x - a->neck_x[k]) < 3) {
      const Outline *o = &a->c.connector[k].side[SIDE_OCCLUSAL];
      for (int i = 0; i < GROOVE_STEPS; i++) {
        Point p = outline_at(o, (double)outline_pieces(o) * i / GROOVE_STEPS);
        if (p.x + a->neck_x[k] >= x)
          return p.y;
      }
    }
  return a->c.n_unit > 0 ? crown_height(a, x < a->span_length / 2 ? 0 : a->c.n_unit - 1) : 8;
}

static void line_to(cairo_t *cr, View view, Point mm)
{
  Point p = view_px(view, mm);
  cairo_line_to(cr, p.x, p.y);
}

static void curve_to(cairo_t *cr, View view, Point a, Point b, Point c)
{
  a = view_px(view, a), b = view_px(view, b), c = view_px(view, c);
  cairo_curve_to(cr, a.x, a.y, b.x, b.y, c.x, c.y);
}

/* Round over the peaks, a little pointed in the fissures. */
static void path_cusps_back(cairo_t *cr, View view, const Assessment *a, size_t unit)
{
  Point knot[CUSP_KNOTS];
  size_t n = cusp_knots(a, unit, knot);
  line_to(cr, view, knot[n - 1]);
  for (size_t i = n - 1; i > 0; i--) {
    Point p = knot[i], q = knot[i - 1];
    double dx = q.x - p.x, dy = q.y - p.y;
    bool rising = dy > 0;
    Point c1 = rising ? point(p.x + 0.3 * dx, p.y + 0.6 * dy) : point(p.x + 0.45 * dx, p.y);
    Point c2 = rising ? point(q.x - 0.45 * dx, q.y) : point(q.x - 0.3 * dx, q.y - 0.6 * dy);
    curve_to(cr, view, c1, c2, q);
  }
}

static void path_groove_back(cairo_t *cr, View view, const Assessment *a, size_t connector)
{
  double t0, t1;
  if (!has_groove(a, connector))
    return;
  groove_range(a, connector, &t0, &t1);
  for (int i = GROOVE_STEPS; i >= 0; i--)
    line_to(cr, view, groove_point(a, connector, t0 + (t1 - t0) * i / GROOVE_STEPS));
}

/* Control point outside an end crown, so that its wall runs smoothly into its first or last cusp.
 */
static Point end_tangent(const Assessment *a, size_t unit, bool right)
{
  Point knot[CUSP_KNOTS];
  size_t n = cusp_knots(a, unit, knot);
  Point shoulder = knot[right ? n - 1 : 0], peak = knot[right ? n - 2 : 1];
  return point_sub(shoulder, point(0.15 * (peak.x - shoulder.x), 0.3 * (peak.y - shoulder.y)));
}

void path_silhouette(cairo_t *cr, View view, const Assessment *a)
{
  size_t n = a->c.n_unit;
  if (n == 0)
    return;
  cairo_new_sub_path(cr);
  double first = a->c.unit[0].length, last = a->c.unit[n - 1].length, end = unit_start(a, n);
  double h0 = crown_height(a, 0), h1 = crown_height(a, n - 1);
  Point foot = view_px(view, point(0.12 * first, 0));
  cairo_move_to(cr, foot.x, foot.y);
  for (size_t k = 0; k < a->n_connector; k++)
    path_outline_on(cr, view_at_neck(view, a, k), &a->c.connector[k].side[SIDE_GINGIVAL], false);
  line_to(cr, view, point(end - 0.12 * last, 0));
  curve_to(cr, view, point(end - 0.04 * last, 0), point(end - 0.02 * last, 0.2 * h1),
           point(end, 0.55 * h1));
  curve_to(cr, view, point(end + 0.005 * last, 0.66 * h1), end_tangent(a, n - 1, true),
           crown_of(a, n - 1).end);
  for (size_t k = n; k > 0; k--) {
    path_cusps_back(cr, view, a, k - 1);
    if (k > 1 && k - 2 < a->n_connector)
      path_groove_back(cr, view, a, k - 2);
  }
  curve_to(cr, view, end_tangent(a, 0, false), point(-0.005 * first, 0.66 * h0),
           point(0, 0.55 * h0));
  curve_to(cr, view, point(0.02 * first, 0.2 * h0), point(0.04 * first, 0), point(0.12 * first, 0));
  cairo_close_path(cr);
}

void path_die(cairo_t *cr, View view, const Assessment *a, size_t unit)
{
  const Unit *u = &a->c.unit[unit];
  if (u->role != ROLE_ABUTMENT && u->role != ROLE_IMPLANT)
    return;
  bool implant = u->role == ROLE_IMPLANT;
  double x = silhouette_middle(a, unit), foot = (implant ? 0.2 : 0.37) * u->length;
  double top = (implant ? 0.15 : 0.24) * u->length, h = 0.6 * crown_height(a, unit),
         r = 0.1 * u->length;
  cairo_new_sub_path(cr);
  line_to(cr, view, point(x - foot, 0));
  line_to(cr, view, point(x - top - r * (foot - top) / h, h - r));
  curve_to(cr, view, point(x - top, h), point(x - top, h), point(x - top + r, h));
  line_to(cr, view, point(x + top - r, h));
  curve_to(cr, view, point(x + top, h), point(x + top, h),
           point(x + top + r * (foot - top) / h, h - r));
  line_to(cr, view, point(x + foot, 0));
}
