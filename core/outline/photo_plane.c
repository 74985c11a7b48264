/* photo_plane.c - straightening, scale by marks with its error, placement.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "outline/photo_plane.h"
#include "base/tolerance.h"
#include <string.h>

#define UNEVEN_PART 0.2 /* a tick farther off than this part of a step: not ticks of one ruler */

void photo_plane_init(PhotoPlane *plane, double width, double height, double wide_mm, Point at)
{
  *plane = (PhotoPlane){.width = width,
                        .height = height,
                        .rect_width = NAN,
                        .rect_height = NAN,
                        .rect_error = NAN,
                        .distance = NAN,
                        .distance_error = NAN,
                        .mark_error = NAN,
                        .x = at.x,
                        .y = at.y,
                        .zoom = width > 0 ? wide_mm / width : NAN};
}

static bool rect_known(const PhotoPlane *p)
{
  return p->straightened && p->rect_error >= 0;
}

/* px to the plane of the connector, y up, its middle at nil: mm where the size of the rectangle is
 * known, else as large as the px. */
static Fault plane_flat(const PhotoPlane *p, PlaneMap *map)
{
  if (!p->straightened) {
    *map = (PlaneMap){{1, 0, -p->width / 2, 0, -1, p->height / 2, 0, 0, 1}};
    return FAULT_NONE;
  }
  double k = 1;
  if (!(p->rect_width > 0) || !(p->rect_height > 0))
    return FAULT_RANGE;
  if (!rect_known(p)) {
    Point a = point_sub(p->corner[2], p->corner[0]), b = point_sub(p->corner[3], p->corner[1]);
    k = sqrt(fabs(point_cross(a, b)) / 2 / (p->rect_width * p->rect_height));
  }
  double w = k * p->rect_width / 2, h = k * p->rect_height / 2;
  const Point to[4] = {{-w, h}, {w, h}, {w, -h}, {-w, -h}};
  return plane_map_quad(p->corner, to, map);
}

/* Step between neighbouring ticks in the plane by least squares, and how far ticks are off it (rms,
 * 0 for two). FAULT_DEGENERATE where they are no ticks of one ruler. */
static Fault ruler_step(const PlaneMap *flat, const PhotoPlane *p, double *step, double *off)
{
  double mean_i = (double)(p->n_mark - 1) / 2, sum_i = 0;
  Point mean = {0, 0}, slope = {0, 0}, at[PHOTO_MARKS];
  for (size_t i = 0; i < p->n_mark; i++) {
    at[i] = plane_map_at(flat, p->mark[i]);
    mean = point_add(mean, point_scale(at[i], 1 / (double)p->n_mark));
  }
  for (size_t i = 0; i < p->n_mark; i++) {
    double d = (double)i - mean_i;
    slope = point_add(slope, point_scale(point_sub(at[i], mean), d));
    sum_i += d * d;
  }
  slope = point_scale(slope, 1 / sum_i);
  double rest = 0, most = 0;
  for (size_t i = 0; i < p->n_mark; i++) {
    Point fit = point_add(mean, point_scale(slope, (double)i - mean_i));
    double miss = point_distance(at[i], fit);
    rest += miss * miss;
    most = fmax(most, miss);
  }
  *step = point_length(slope);
  *off = p->n_mark > 2 ? sqrt(rest / (double)(2 * p->n_mark - 4)) : 0; /* 4 numbers were fitted */
  return isfinite(*step) && *step > 0 && !(most > UNEVEN_PART * *step) ? FAULT_NONE
                                                                       : FAULT_DEGENERATE;
}

/* mm of a unit of the plane. */
static Fault plane_unit(const PhotoPlane *p, const PlaneMap *flat, double *mm, double *off)
{
  double step;
  *off = 0;
  if (p->n_mark >= 2) {
    Fault fault = ruler_step(flat, p, &step, off);
    if (!fault)
      *mm = p->distance / step;
    return fault ? fault : *mm > 0 && isfinite(*mm) ? FAULT_NONE : FAULT_RANGE;
  }
  if (!rect_known(p))
    return FAULT_UNSCALED;
  *mm = 1;
  return FAULT_NONE;
}

static PlaneMap placed(const PhotoPlane *p, const PlaneMap *flat, double mm)
{
  PlaneMap place = plane_map_similar(mm, p->turn_deg, point(p->x, p->y));
  return plane_map_join(flat, &place);
}

Fault photo_map(const PhotoPlane *p, PlaneMap *px_to_mm)
{
  PlaneMap flat;
  double mm, off;
  Fault fault = plane_flat(p, &flat);
  if (!fault)
    fault = plane_unit(p, &flat, &mm, &off);
  if (fault == FAULT_UNSCALED) {
    mm = p->zoom;
    fault = mm > 0 && isfinite(mm) ? FAULT_NONE : FAULT_RANGE;
  }
  if (!fault)
    *px_to_mm = placed(p, &flat, mm);
  return fault;
}

/* mm a px at a place of the photo, along u and along v. */
static Fault scale_at(const PhotoPlane *p, Point px, Point *mm_px)
{
  PlaneMap map;
  Fault fault = photo_map(p, &map);
  if (!fault)
    *mm_px = plane_map_stretch(&map, px);
  return fault;
}

/* What one coordinate off by `by` px does to the scale, as a share. */
static double moved_share(PhotoPlane *p, double *coordinate, double by, Point px, Point scale)
{
  double kept = *coordinate, share = 0;
  for (int side = -1; side <= 1; side += 2) {
    Point other;
    *coordinate = kept + side * by;
    if (scale_at(p, px, &other))
      share = INFINITY;
    else
      share = fmax(share, fmax(fabs(other.x / scale.x - 1), fabs(other.y / scale.y - 1)));
  }
  *coordinate = kept;
  return share;
}

/* The place that the scale is wanted at: the neck, where it lies on the photo, else its middle. */
static Point place_wanted(const PhotoPlane *p)
{
  PlaneMap map, back;
  Point middle = {p->width / 2, p->height / 2};
  if (photo_map(p, &map) || plane_map_invert(&map, &back))
    return middle;
  Point neck = plane_map_at(&back, point(0, 0));
  bool inside = neck.x >= 0 && neck.x <= p->width && neck.y >= 0 && neck.y <= p->height;
  return inside ? neck : middle;
}

Fault photo_scale(const PhotoPlane *plane, double *mm_px, double *error_percent)
{
  PhotoPlane p = *plane;
  PlaneMap flat;
  double mm, off;
  Fault fault = plane_flat(&p, &flat);
  if (!fault)
    fault = plane_unit(&p, &flat, &mm, &off);
  if (fault)
    return fault;
  Point px = place_wanted(&p), scale;
  fault = scale_at(&p, px, &scale);
  if (fault)
    return fault;
  double pick = p.mark_error > 0 ? p.mark_error : PHOTO_MARK_PX, share = 0;
  if (p.n_mark >= 2) {
    Point stretch = plane_map_stretch(&flat, p.mark[0]);
    double by = fmax(pick, off / fmin(stretch.x, stretch.y)); /* the ticks say it themselves */
    for (size_t i = 0; i < p.n_mark; i++) {
      share = hypot(share, moved_share(&p, &p.mark[i].x, by, px, scale));
      share = hypot(share, moved_share(&p, &p.mark[i].y, by, px, scale));
    }
    share = hypot(share, p.distance_error >= 0 ? p.distance_error / p.distance : 0);
  } else
    share = hypot(p.rect_error / p.rect_width, p.rect_error / p.rect_height);
  for (int i = 0; p.straightened && i < 4; i++) {
    share = hypot(share, moved_share(&p, &p.corner[i].x, pick, px, scale));
    share = hypot(share, moved_share(&p, &p.corner[i].y, pick, px, scale));
  }
  if (!isfinite(share))
    return FAULT_DEGENERATE;
  *mm_px = sqrt(scale.x * scale.y);
  *error_percent = 100 * share;
  return FAULT_NONE;
}

/* ---- changes ---- */

/* Takes `next` over: the place of the photo that lay on `still` lies there again. */
static Fault take_over(PhotoPlane *plane, PhotoPlane *next, Point still, PlaneMap *carry)
{
  PlaneMap before, back, after;
  Fault fault = photo_map(plane, &before);
  if (!fault)
    fault = plane_map_invert(&before, &back);
  if (!fault)
    fault = photo_map(next, &after);
  if (fault)
    return fault;
  Point went = plane_map_at(&after, plane_map_at(&back, still));
  if (!point_finite(went))
    return FAULT_DEGENERATE;
  next->x += still.x - went.x;
  next->y += still.y - went.y;
  fault = photo_map(next, &after);
  if (!fault && carry)
    *carry = plane_map_join(&back, &after);
  if (!fault)
    *plane = *next;
  return fault;
}

/* The zoom by hand goes on from the scale that there was. */
static void zoom_from_scale(const PhotoPlane *before, PhotoPlane *next)
{
  PlaneMap map, flat;
  Point px = place_wanted(before);
  if (photo_map(before, &map) || plane_flat(next, &flat))
    return;
  Point was = plane_map_stretch(&map, px), is = plane_map_stretch(&flat, px);
  next->zoom = sqrt(was.x * was.y / (is.x * is.y));
}

Fault photo_set_corners(PhotoPlane *plane, const Point corner[4], double width, double height,
                        double error, Point still, PlaneMap *carry)
{
  if (!(width > 0) || !(height > 0) || !(width / height < 50) || !(height / width < 50) ||
      error < 0)
    return FAULT_RANGE;
  PhotoPlane next = *plane;
  memcpy(next.corner, corner, sizeof next.corner);
  Fault fault = quad_order(next.corner);
  if (fault)
    return fault;
  next.straightened = true;
  next.rect_width = width;
  next.rect_height = height;
  next.rect_error = error;
  zoom_from_scale(plane, &next);
  return take_over(plane, &next, still, carry);
}

Fault photo_set_marks(PhotoPlane *plane, const Point mark[], size_t n, double distance,
                      double error, double mark_error, Point still, PlaneMap *carry)
{
  if (n < 2 || n > PHOTO_MARKS || !(distance > 0) || !(distance <= MAX_SIZE_MM) || error < 0)
    return FAULT_RANGE;
  PhotoPlane next = *plane;
  memset(next.mark, 0, sizeof next.mark);
  memcpy(next.mark, mark, n * sizeof *mark);
  next.n_mark = n;
  next.distance = distance;
  next.distance_error = error;
  next.mark_error = mark_error;
  double mm_px, percent;
  Fault fault = photo_scale(&next, &mm_px, &percent);
  return fault ? fault : take_over(plane, &next, still, carry);
}

Fault photo_straighten_off(PhotoPlane *plane, Point still, PlaneMap *carry)
{
  PhotoPlane next = *plane;
  next.straightened = false;
  memset(next.corner, 0, sizeof next.corner);
  next.rect_width = next.rect_height = next.rect_error = NAN;
  zoom_from_scale(plane, &next);
  return take_over(plane, &next, still, carry);
}

Fault photo_scale_off(PhotoPlane *plane, Point still, PlaneMap *carry)
{
  PhotoPlane next = *plane;
  next.n_mark = 0;
  memset(next.mark, 0, sizeof next.mark);
  next.distance = next.distance_error = next.mark_error = NAN;
  zoom_from_scale(plane, &next);
  return take_over(plane, &next, still, carry);
}

void photo_turn(PhotoPlane *plane, double by_deg, Point still)
{
  PlaneMap turn = plane_map_similar(1, by_deg, point(0, 0));
  Point arm = plane_map_at(&turn, point_sub(point(plane->x, plane->y), still));
  plane->x = still.x + arm.x;
  plane->y = still.y + arm.y;
  plane->turn_deg = remainder(plane->turn_deg + by_deg, 360);
}

void photo_zoom(PhotoPlane *plane, double factor, Point still)
{
  if (plane->n_mark >= 2 || rect_known(plane) || !(factor > 0))
    return;
  plane->zoom *= factor;
  plane->x = still.x + factor * (plane->x - still.x);
  plane->y = still.y + factor * (plane->y - still.y);
}

Fault outline_carry(Outline *outline, const PlaneMap *carry)
{
  for (size_t i = 0; i < outline->n; i++) {
    const Knot *k = &outline->knot[i];
    if (!point_finite(plane_map_at(carry, k->at)) || !point_finite(plane_map_at(carry, k->in)) ||
        !point_finite(plane_map_at(carry, k->out)))
      return FAULT_DEGENERATE;
  }
  for (size_t i = 0; i < outline->n; i++) {
    Knot *k = &outline->knot[i];
    *k =
        (Knot){plane_map_at(carry, k->at), plane_map_at(carry, k->in), plane_map_at(carry, k->out)};
  }
  return FAULT_NONE;
}
