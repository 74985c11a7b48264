/* span_geometry.c - where the parts of the bridge picture are.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/gauges.h"
#include "ui/drawing/picture_span.h"
#include "ui/drawing/silhouette.h"

#define TOP_PX 28.0      /* track, handle, arrow       */
#define GUM_PX 15.0      /* gum line to the curve      */
#define CURVE_PX 21.0    /* deepest place of the curve */
#define DOOR_GAP_PX 16.0 /* curve to the doors         */
#define VALUE_PX 11.0    /* height of a figure         */
#define VALUE_GAP_PX 3.0 /* between it and the line    */
#define ASIDE_PX 8.0     /* from its neck              */
#define TRACK_PX 18.0
#define DOOR_PX 44.0

SpanPicture span_picture(const Assessment *a)
{
  return (SpanPicture){.a = a, .chosen = SIZE_MAX, .handle = true, .door_width = 92, .below = 52};
}

/* Doors stand below their necks, but at least a door apart and inside the picture. */
static void place_doors(SpanGeometry *g, double door, double width)
{
  size_t n = g->n_neck;
  if (n == 0)
    return;
  double apart = fmin(door, width / (double)n);
  for (size_t i = 0; i < n; i++)
    g->door_x[i] = g->neck_x[i];
  for (int sweep = 0; sweep < 64; sweep++)
    for (size_t i = 0; i + 1 < n; i++) {
      double lacks = apart - (g->door_x[i + 1] - g->door_x[i]);
      if (lacks > 0) {
        g->door_x[i] -= lacks / 2;
        g->door_x[i + 1] += lacks / 2;
      }
    }
  double low = g->door_x[0] - apart / 2, high = g->door_x[n - 1] + apart / 2;
  double shift = low < 0 ? -low : high > width ? width - high : 0;
  for (size_t i = 0; i < n; i++)
    g->door_x[i] += shift;
}

static double largest_moment(const Assessment *a)
{
  double most = 0;
  for (size_t i = 0; i < a->n_curve; i++)
    most = fmax(most, fabs(a->curve_moment[i]));
  return most;
}

SpanGeometry span_geometry(const SpanPicture *p, int width, int height, const DrawContext *context)
{
  const Assessment *a = p->a;
  SpanGeometry g = {.n_neck = a->n_connector};
  double length = a->span_length > 0 && isfinite(a->span_length) ? a->span_length : 10, crown = 1;
  for (size_t i = 0; i < a->c.n_unit; i++)
    crown = fmax(crown, fmin(a->c.unit[i].height, 40));
  double curve = p->at_order && !p->doors ? 0 : CURVE_PX; /* none is drawn then */
  double below = px(context, p->below + GUM_PX + curve + DOOR_GAP_PX), top = px(context, TOP_PX);
  double tall = fmax(height - below - top, height * 0.2);
  g.view.scale = fmax(fmin(tall / (crown + 0.6), (width - px(context, 40)) / (length + 1)), 0.1);
  g.view.scale = fmin(g.view.scale, px(context, 22));
  g.view.x = (width - g.view.scale * length) / 2;
  g.view.y = top + (tall + g.view.scale * (crown + 0.6)) / 2;
  g.left = g.view.x;
  g.right = g.view.x + g.view.scale * length;
  g.track_y =
      fmax(view_px(g.view, point(0, crown)).y - top + px(context, TRACK_PX), px(context, TRACK_PX));
  for (size_t i = 0; i < a->n_connector; i++)
    g.neck_x[i] = view_px(g.view, point(a->neck_x[i], 0)).x;
  g.load_x =
      p->at_order && a->weakest < a->n_connector ? a->connector[a->weakest].order_x : a->trial_x;
  g.load_n = p->at_order ? a->c.order_load_n : a->c.trial.force_n;
  if (!isfinite(g.load_x))
    g.load_x = length / 2;
  g.handle = point(view_px(g.view, point(g.load_x, 0)).x, g.track_y);
  g.tip = view_px(g.view, point(g.load_x, silhouette_top(a, g.load_x)));
  g.curve_y = g.view.y + px(context, GUM_PX);
  double most = largest_moment(a);
  g.curve_scale = most > 0 && isfinite(most) ? px(context, curve) / most : 0;
  g.door_height = px(context, DOOR_PX);
  g.door_y = g.curve_y + px(context, curve + DOOR_GAP_PX);
  place_doors(&g, px(context, p->door_width + 8), width);
  return g;
}

double span_geometry_mm(const SpanGeometry *g, double x_px)
{
  return (fmin(fmax(x_px, g->left), g->right) - g->left) / g->view.scale;
}

bool span_geometry_on_handle(const SpanGeometry *g, Point px, double reach_px)
{
  bool on_ring = point_distance(px, g->handle) <= fmax(reach_px, LOAD_HANDLE_RADIUS);
  bool on_arrow = fabs(px.x - g->tip.x) <= reach_px / 2 && px.y >= g->handle.y &&
                  px.y <= g->tip.y + reach_px / 2;
  return on_ring || on_arrow;
}

size_t span_geometry_neck(const SpanGeometry *g, Point px)
{
  size_t best = SIZE_MAX;
  if (px.y < g->track_y + LOAD_HANDLE_RADIUS)
    return best;
  for (size_t i = 0; i < g->n_neck; i++)
    if (best == SIZE_MAX || fabs(px.x - g->neck_x[i]) < fabs(px.x - g->neck_x[best]))
      best = i;
  return best;
}

Point span_geometry_curve(const SpanGeometry *g, double x_mm, double moment)
{
  double y = g->curve_y + g->curve_scale * moment;
  return point(view_px(g->view, point(x_mm, 0)).x, isfinite(y) ? y : g->curve_y);
}

/* How far down the curve or its zero line comes between two places, px. */
static double curve_lowest(const SpanGeometry *g, const Assessment *a, double from, double to)
{
  double low = g->curve_y;
  for (size_t i = 0; i + 1 < a->n_curve; i++) {
    Point p = span_geometry_curve(g, a->curve_x[i], a->curve_moment[i]),
          q = span_geometry_curve(g, a->curve_x[i + 1], a->curve_moment[i + 1]);
    double x0 = fmax(from, p.x), x1 = fmin(to, q.x), length = q.x - p.x;
    if (x0 > x1)
      continue;
    double t0 = length > 0 ? (x0 - p.x) / length : 0, t1 = length > 0 ? (x1 - p.x) / length : 1;
    low = fmax(low, p.y + fmax(t0 * (q.y - p.y), t1 * (q.y - p.y)));
  }
  return low;
}

void span_geometry_values(const SpanGeometry *g, const Assessment *a, const DrawContext *context,
                          int width, const double wide[], Box value[])
{
  double aside = px(context, ASIDE_PX), high = px(context, VALUE_PX),
         gap = px(context, VALUE_GAP_PX), taken = 0;
  for (size_t i = 0; i < g->n_neck; i++) {
    double next = i + 1 < g->n_neck ? g->neck_x[i + 1] - aside : width, best = INFINITY;
    const double at[] = {g->neck_x[i] + aside, g->neck_x[i] - aside - wide[i]};
    value[i] = (Box){0};
    for (int side = 0; side < 2; side++) {
      double low = curve_lowest(g, a, at[side] - gap, at[side] + wide[i] + gap);
      if (at[side] < taken || at[side] + wide[i] > next || low >= best)
        continue;
      best = low;
      value[i] = (Box){at[side], fmin(low + gap, g->door_y - gap - high), wide[i], high};
    }
    taken = fmax(g->neck_x[i] + aside, value[i].x + value[i].width + aside);
  }
}
