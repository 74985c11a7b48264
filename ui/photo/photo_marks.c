/* photo_marks.c - marks on the photo, its placement, and strokes that are traced on it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/photo/photo_desk_private.h"
#include "ui/words.h"
#include <string.h>

#define CORNERS 4
#define PICK_DEVICE_PX 1.5 /* how far a mark is off on the screen: own assumption */

static size_t marks_most(const SoffitPhotoDesk *self)
{
  return self->mode == PHOTO_CORNERS ? CORNERS : self->mode == PHOTO_TICKS ? PHOTO_MARKS : 0;
}

PhotoMode photo_desk_mode(SoffitPhotoDesk *self)
{
  return self->mode;
}

void photo_desk_set_mode(SoffitPhotoDesk *self, PhotoMode mode)
{
  const PhotoPlane *plane = &photo_desk_photo(self)->plane;
  self->mode = self->state == PHOTO_SHOWN ? mode : PHOTO_REST;
  self->n_mark = 0;
  self->chosen = SIZE_MAX;
  if (self->mode == PHOTO_CORNERS && plane->straightened) {
    memcpy(self->mark, plane->corner, sizeof plane->corner);
    self->n_mark = CORNERS;
  } else if (self->mode == PHOTO_TICKS) {
    memcpy(self->mark, plane->mark, sizeof plane->mark);
    self->n_mark = plane->n_mark;
  }
  if (self->mode != PHOTO_REST)
    self->hidden = false;
  photo_desk_tell(self);
}

size_t photo_desk_marks(SoffitPhotoDesk *self, Point mm[PHOTO_MARKS])
{
  PlaneMap map, back;
  if (!photo_desk_map(self, &map, &back))
    return 0;
  for (size_t i = 0; i < self->n_mark; i++)
    mm[i] = plane_map_at(&map, self->mark[i]);
  return self->n_mark;
}

size_t photo_desk_chosen(SoffitPhotoDesk *self)
{
  return self->chosen;
}

void photo_desk_mark(SoffitPhotoDesk *self, Point at, double reach_mm)
{
  PlaneMap map, back;
  Point mm[PHOTO_MARKS];
  if (!photo_desk_map(self, &map, &back))
    return;
  size_t n = photo_desk_marks(self, mm);
  double nearest = reach_mm;
  self->chosen = SIZE_MAX;
  for (size_t i = 0; i < n; i++)
    if (point_distance(mm[i], at) <= nearest) {
      nearest = point_distance(mm[i], at);
      self->chosen = i;
    }
  if (self->chosen == SIZE_MAX && self->n_mark < marks_most(self)) {
    self->mark[self->n_mark] = plane_map_at(&back, at);
    self->chosen = self->n_mark++;
  }
  photo_desk_tell(self);
}

void photo_desk_mark_move(SoffitPhotoDesk *self, Point mm)
{
  PlaneMap map, back;
  if (self->chosen >= self->n_mark || !photo_desk_map(self, &map, &back))
    return;
  Point px = plane_map_at(&back, mm);
  if (point_finite(px))
    self->mark[self->chosen] = px;
  photo_desk_tell(self);
}

void photo_desk_mark_drop(SoffitPhotoDesk *self)
{
  if (self->n_mark == 0)
    return;
  size_t gone = self->chosen < self->n_mark ? self->chosen : self->n_mark - 1;
  for (size_t i = gone; i + 1 < self->n_mark; i++)
    self->mark[i] = self->mark[i + 1];
  self->n_mark--;
  self->chosen = SIZE_MAX;
  photo_desk_tell(self);
}

bool photo_desk_cross(SoffitPhotoDesk *self, Point *mm)
{
  if (self->has_cross)
    *mm = self->cross;
  return self->has_cross && marks_most(self) > 0;
}

void photo_desk_cross_to(SoffitPhotoDesk *self, Point mm)
{
  self->cross = mm;
  self->has_cross = true;
  photo_desk_tell(self);
}

/* ---- steps ---- */

typedef struct {
  double a, b, c; /* width, height, error; or distance, error, error of a mark */
} Given;

/* Does `change` to the photo in one step; the line that was traced on it goes along. */
static Fault step(SoffitPhotoDesk *self, const char *name, Given given,
                  Fault (*change)(SoffitPhotoDesk *, PhotoPlane *, Given, PlaneMap *))
{
  size_t connector = session_focus(self->session);
  PhotoPlane plane = photo_desk_photo(self)->plane;
  PlaneMap carry;
  if (!photo_there(photo_desk_photo(self)))
    return FAULT_RANGE;
  Fault fault = change(self, &plane, given, &carry);
  Case *c = fault ? NULL : session_edit_begin(self->session, name);
  if (!c)
    return fault ? fault : session_edit_fault(self->session);
  Connector *k = &c->connector[connector];
  if (k->photo.traced == ANSWER_YES)
    fault = outline_carry(&k->side[SIDE_GINGIVAL], &carry);
  if (fault) {
    session_edit_cancel(self->session);
    return fault;
  }
  k->photo.plane = plane;
  self->mode = PHOTO_REST;
  session_edit_end(self->session);
  return FAULT_NONE;
}

/* The middle of the photo stays where it is: it is always on this side of the horizon. */
static Point middle_of(const PhotoPlane *plane)
{
  PlaneMap map;
  if (photo_map(plane, &map))
    return point(0, 0);
  return plane_map_at(&map, point(plane->width / 2, plane->height / 2));
}

static Fault straighten_run(SoffitPhotoDesk *self, PhotoPlane *plane, Given g, PlaneMap *carry)
{
  if (self->n_mark != CORNERS)
    return FAULT_DEGENERATE;
  return photo_set_corners(plane, self->mark, g.a, g.b, g.c, middle_of(plane), carry);
}

Fault photo_desk_straighten(SoffitPhotoDesk *self, double width, double height, double error)
{
  return step(self, N_("Straighten photo"), (Given){width, height, error}, straighten_run);
}

static Fault straighten_off_run(SoffitPhotoDesk *self, PhotoPlane *plane, Given g, PlaneMap *carry)
{
  (void)self, (void)g;
  return photo_straighten_off(plane, middle_of(plane), carry);
}

Fault photo_desk_straighten_off(SoffitPhotoDesk *self)
{
  return step(self, N_("Photo as taken"), (Given){0}, straighten_off_run);
}

/* Neck and tissue line stay where they are: feet on the line are still on it. */
static Fault scale_run(SoffitPhotoDesk *self, PhotoPlane *plane, Given g, PlaneMap *carry)
{
  return photo_set_marks(plane, self->mark, self->n_mark, g.a, g.b, g.c, point(0, 0), carry);
}

Fault photo_desk_scale(SoffitPhotoDesk *self, double distance, double error)
{
  PlaneMap map, back;
  double pick = PHOTO_MARK_PX;
  if (self->n_mark >= 2 && photo_desk_map(self, &map, &back)) {
    Point mm_px = plane_map_stretch(&map, self->mark[0]);
    double seen = PICK_DEVICE_PX / (self->px_mm * sqrt(mm_px.x * mm_px.y));
    pick = isfinite(seen) ? CLAMP(seen, 0.5, 1000) : pick;
  }
  return step(self, N_("Scale photo"), (Given){distance, error, pick}, scale_run);
}

static Fault scale_off_run(SoffitPhotoDesk *self, PhotoPlane *plane, Given g, PlaneMap *carry)
{
  (void)self, (void)g;
  return photo_scale_off(plane, point(0, 0), carry);
}

Fault photo_desk_scale_off(SoffitPhotoDesk *self)
{
  return step(self, N_("Take the scale away"), (Given){0}, scale_off_run);
}

/* ---- placement ---- */

/* The photo in a series of small steps; NULL when it must stay as it is. */
static Photo *series(SoffitPhotoDesk *self, const char *name, bool moves)
{
  const Photo *now = photo_desk_photo(self);
  size_t connector = session_focus(self->session);
  if (!session_has_case(self->session) || (moves && now->locked == ANSWER_YES) ||
      !(now->plane.width > 0))
    return NULL;
  Case *c = session_edit_begin_series(self->session, name);
  return c ? &c->connector[connector].photo : NULL;
}

void photo_desk_shift(SoffitPhotoDesk *self, double dx, double dy)
{
  Photo *photo = series(self, N_("Move photo"), true);
  if (!photo)
    return;
  photo->plane.x = CLAMP(photo->plane.x + dx, -1000, 1000);
  photo->plane.y = CLAMP(photo->plane.y + dy, -1000, 1000);
  session_edit_end(self->session);
}

static Point neck_of(SoffitPhotoDesk *self)
{
  const Assessment *a = session_assessment(self->session);
  size_t i = session_focus(self->session);
  Point neck = {0, 0};
  if (a && i < a->n_connector && isfinite(a->connector[i].form.neck_y))
    neck.y = a->connector[i].form.neck_y;
  return neck;
}

void photo_desk_turn(SoffitPhotoDesk *self, double by_deg)
{
  Photo *photo = series(self, N_("Turn photo"), true);
  if (!photo)
    return;
  photo_turn(&photo->plane, by_deg, neck_of(self));
  session_edit_end(self->session);
}

void photo_desk_zoom(SoffitPhotoDesk *self, double factor)
{
  Photo *photo = series(self, N_("Size of the photo"), true);
  if (!photo)
    return;
  double zoom = photo->plane.zoom * factor;
  if (zoom * photo->plane.width > 0.5 && zoom * photo->plane.width < 1000)
    photo_zoom(&photo->plane, factor, neck_of(self));
  session_edit_end(self->session);
}

void photo_desk_set_opacity(SoffitPhotoDesk *self, double opacity)
{
  Photo *photo = series(self, N_("Strength of the photo"), false);
  if (!photo)
    return;
  photo->opacity = CLAMP(opacity, 0, 1);
  session_edit_end(self->session);
}

void photo_desk_set_locked(SoffitPhotoDesk *self, bool locked)
{
  Photo *photo = series(self, N_("Hold photo fast"), false);
  if (!photo)
    return;
  photo->locked = locked ? ANSWER_YES : ANSWER_UNKNOWN;
  session_edit_end(self->session);
}

void photo_desk_set_inside(SoffitPhotoDesk *self, bool inside)
{
  const Photo *now = photo_desk_photo(self);
  g_autoptr(GBytes) bytes = NULL;
  g_autofree char *path = NULL;
  g_autoptr(GError) error = NULL;
  const char *store = session_photo_store(self->session);
  if (!photo_there(now) || (now->inside != NULL) == inside)
    return;
  bool good = photo_find(now, session_path(self->session), store, &path, &bytes) == PHOTO_FOUND;
  if (good && inside) {
    Photo trial = photo_copy(now);
    good = photo_put_inside(&trial, bytes, &error);
    photo_clear(&trial);
  } else if (good && store) { /* from there it is written beside the case when that is saved */
    good = photo_store(store, now, bytes, &error);
  }
  Photo *photo =
      good ? series(self, inside ? N_("Keep photo inside") : N_("Photo beside the case"), false)
           : NULL;
  if (photo) {
    photo_take_out(photo);
    if (inside)
      photo_put_inside(photo, bytes, NULL);
    session_edit_end(self->session);
  } else if (error) {
    photo_desk_trouble(self, error->message);
  }
  photo_desk_tell(self); /* the switch shows how it went */
}

void photo_desk_set_traced(SoffitPhotoDesk *self, bool traced)
{
  Photo *photo = series(self, N_("Traced on the photo"), false);
  if (!photo)
    return;
  photo->traced = traced ? ANSWER_YES : ANSWER_UNKNOWN;
  if (!traced && !photo_there(photo)) /* nothing is left that needs it */
    photo_remove(photo);
  session_edit_end(self->session);
}

void photo_desk_reset(SoffitPhotoDesk *self)
{
  size_t connector = session_focus(self->session);
  Case *c = photo_there(photo_desk_photo(self))
                ? session_edit_begin(self->session, N_("Photo as opened"))
                : NULL;
  if (!c)
    return;
  Photo *photo = &c->connector[connector].photo;
  photo_desk_lay(c, connector, photo->plane.width, photo->plane.height, &photo->plane);
  self->mode = PHOTO_REST;
  session_edit_end(self->session);
}

void photo_desk_remove(SoffitPhotoDesk *self)
{
  size_t connector = session_focus(self->session);
  Case *c = photo_there(photo_desk_photo(self))
                ? session_edit_begin(self->session, N_("Remove photo"))
                : NULL;
  if (!c)
    return;
  photo_remove(&c->connector[connector].photo);
  session_edit_end(self->session);
}

/* ---- tracing ---- */

void photo_desk_trace(SoffitPhotoDesk *self, Case *c)
{
  if (c && photo_desk_underlay(self))
    c->connector[session_focus(self->session)].photo.traced = ANSWER_YES;
}

void photo_desk_set_cling(SoffitPhotoDesk *self, bool cling, double reach_mm)
{
  self->cling = cling;
  self->reach_mm = reach_mm;
  photo_desk_tell(self);
}

bool photo_desk_cling(SoffitPhotoDesk *self)
{
  return self->cling;
}

double photo_desk_reach(SoffitPhotoDesk *self)
{
  return self->reach_mm;
}

bool photo_desk_clung(SoffitPhotoDesk *self, const Point mm[], size_t n, Point clung[])
{
  const Underlay *underlay = photo_desk_underlay(self);
  PlaneMap map, back;
  if (!self->cling || !underlay || !photo_desk_map(self, &map, &back) ||
      memcmp(&map, &self->shown_map, sizeof map) != 0) /* it lies elsewhere by now */
    return false;
  double reach = fmin(self->reach_mm, EDGE_REACH_MOST_PX / underlay->px_mm);
  return underlay_cling(underlay, mm, n, reach, clung) == FAULT_NONE;
}
