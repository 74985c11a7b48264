/* picture_surface.c - silhouettes of the surface above each other, planes across both.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_surface.h"

#define EDGE_PX 18
#define HEAD_PX 34    /* words above each view        */
#define BEYOND_MM 1.6 /* a plane reaches beyond both sides */
#define GRIP_PX 6

typedef struct {
  double low[2], high[2]; /* y, z */
} Room;

static Room room_of(const MeshSpan *span)
{
  Room room = {{INFINITY, INFINITY}, {-INFINITY, -INFINITY}};
  for (size_t i = 0; i < SPAN_STATIONS; i++) {
    if (!(span->most[i].y > span->least[i].y))
      continue;
    room.low[0] = fmin(room.low[0], span->least[i].y);
    room.high[0] = fmax(room.high[0], span->most[i].y);
    room.low[1] = fmin(room.low[1], span->least[i].x);
    room.high[1] = fmax(room.high[1], span->most[i].x);
  }
  return room;
}

SurfaceViews surface_views(int width, int height, const DrawContext *context, const MeshSpan *span)
{
  Room room = room_of(span);
  double beyond = 2 * BEYOND_MM, edge = px(context, EDGE_PX), head = px(context, HEAD_PX);
  double long_mm = span->high - span->low + 2;
  double up_mm = room.high[0] - room.low[0] + beyond, plan_mm = room.high[1] - room.low[1] + beyond;
  double scale = fmin((width - 2 * edge) / long_mm, (height - 2 * head - edge) / (up_mm + plan_mm));
  scale = fmax(scale, 1e-3);
  double left = width / 2.0 - scale * (span->low + span->high) / 2;
  double spare = fmax(0, height - 2 * head - edge - scale * (up_mm + plan_mm)) / 3;
  double up_top = head + spare, plan_top = up_top + scale * up_mm + head + spare;
  return (SurfaceViews){{scale, left, up_top + scale * (room.high[0] + BEYOND_MM)},
                        {scale, left, plan_top + scale * (room.high[1] + BEYOND_MM)},
                        plan_top - head};
}

static double extent(const MeshSpan *span, size_t i, bool plan, bool most)
{
  Point p = most ? span->most[i] : span->least[i];
  return plan ? p.x : p.y;
}

static void draw_silhouette(cairo_t *cr, const DrawContext *context, View view,
                            const MeshSpan *span, bool plan)
{
  cairo_new_path(cr);
  for (int back = 0; back < 2; back++)
    for (size_t k = 0; k < SPAN_STATIONS; k++) {
      size_t i = back ? SPAN_STATIONS - 1 - k : k;
      if (!(span->most[i].y > span->least[i].y))
        continue;
      Point p = view_px(view, point(span_station(span, i), extent(span, i, plan, !back)));
      cairo_line_to(cr, p.x, p.y);
    }
  cairo_close_path(cr);
  ink_colour(cr, palette_stress(context->palette, 0));
  cairo_fill_preserve(cr);
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 1.6);
  cairo_stroke(cr);
}

/* The line in which the plane is seen, from its middle both ways to beyond the material. */
static void draw_plane(cairo_t *cr, const DrawContext *context, View view,
                       const SurfacePicture *picture, size_t i, bool plan, double reach)
{
  const Neck *neck = &picture->plane[i];
  Vec3 at = mesh_frame_local(&picture->span->frame, neck->frame.origin);
  double tilt = plan ? neck->yaw : neck->pitch;
  Point middle = {at.x, plan ? at.z : at.y}, along = {-sin(tilt), cos(tilt)};
  Point a = view_px(view, point_add(middle, point_scale(along, reach)));
  Point b = view_px(view, point_sub(middle, point_scale(along, reach)));
  bool chosen = i == picture->chosen;
  ink_use(cr, context, chosen ? COLOUR_ACCENT : picture->used[i] ? COLOUR_INK : COLOUR_DIM);
  ink_width(cr, context, chosen ? 2.4 : 1.4);
  if (!picture->used[i])
    ink_dash(cr, context, DASH_NECK);
  draw_line(cr, a, b);
  cairo_set_dash(cr, NULL, 0, 0);
  if (chosen) {
    Point grip = view_px(view, middle);
    path_circle(cr, grip, px(context, GRIP_PX));
    ink_use(cr, context, COLOUR_PAPER);
    cairo_fill_preserve(cr);
    ink_use(cr, context, COLOUR_ACCENT);
    cairo_stroke(cr);
  }
  if (!plan) {
    TextStyle style = {TEXT_NOTE, chosen, true, chosen ? COLOUR_ACCENT : COLOUR_TEXT, ALIGN_CENTRE};
    text_draw(cr, context, style, point(a.x, a.y - px(context, 5)), picture->name[i]);
  }
}

void picture_surface(cairo_t *cr, int width, int height, const DrawContext *context,
                     const SurfacePicture *picture)
{
  if (width <= 0 || height <= 0)
    return;
  const MeshSpan *span = picture->span;
  SurfaceViews views = surface_views(width, height, context, span);
  Room room = room_of(span);
  TextStyle style = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT};
  double edge = px(context, EDGE_PX), line = px(context, 14);
  ink_use(cr, context, COLOUR_PAPER);
  cairo_paint(cr);
  text_draw(cr, context, style, point(edge, line + 4),
            text_word(context, N_("From the cheek: biting side up, gum side down")));
  text_draw(cr, context, style, point(edge, views.parting + line),
            text_word(context, N_("From above: cheek side up, tongue side down")));
  draw_silhouette(cr, context, views.up, span, false);
  draw_silhouette(cr, context, views.plan, span, true);
  for (int pass = 0; pass < 2; pass++) /* the chosen one on top */
    for (size_t i = 0; i < picture->n; i++)
      if ((i == picture->chosen) == (pass == 1)) {
        draw_plane(cr, context, views.up, picture, i, false,
                   (room.high[0] - room.low[0]) / 2 + BEYOND_MM / 2);
        draw_plane(cr, context, views.plan, picture, i, true,
                   (room.high[1] - room.low[1]) / 2 + BEYOND_MM / 2);
      }
}
