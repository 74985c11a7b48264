/* photo_layer.c - see photo_layer.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/photo_layer.h"
#include "ui/canvas/draw_context.h"
#include "ui/canvas/photo_take.h"
#include "ui/words.h"

#define RING_PX 9
#define CROSS_PX 16

void photo_layer_picture(SoffitCanvas *self, ConnectorPicture *picture)
{
  double resolution = gtk_widget_get_scale_factor(GTK_WIDGET(self));
  photo_desk_set_scale(self->photo, picture->view.scale * resolution);
  picture->underlay = photo_desk_underlay(self->photo);
  if (photo_desk_active(self->photo) && picture->underlay) /* marks are set on a bare photo */
    picture->layers &= LAYER_PAPER | LAYER_GRID | LAYER_OUTLINE | LAYER_GUM_LINE | LAYER_TITLES;
  picture->underlay_opacity = photo_desk_photo(self->photo)->opacity;
}

/* ---- marks ---- */

static void stroke_on_halo(cairo_t *cr, const DrawContext *context, double width)
{
  ink_stroke_haloed(cr, context, palette_colour(context->palette, COLOUR_ACCENT), width, NULL);
}

static void mark_draw(cairo_t *cr, const DrawContext *context, Point p, size_t number, bool chosen)
{
  double r = px(context, RING_PX), gap = px(context, 3);
  cairo_new_sub_path(cr);
  cairo_arc(cr, p.x, p.y, r, 0, 2 * G_PI);
  for (int i = 0; i < 4; i++) { /* a cross that leaves its middle free */
    double x = i == 0 ? 1 : i == 1 ? -1 : 0, y = i == 2 ? 1 : i == 3 ? -1 : 0;
    cairo_move_to(cr, p.x + gap * x, p.y + gap * y);
    cairo_line_to(cr, p.x + 1.5 * r * x, p.y + 1.5 * r * y);
  }
  stroke_on_halo(cr, context, chosen ? 2.4 : 1.4);
  char text[8];
  g_snprintf(text, sizeof text, "%zu", number);
  TextStyle style = {TEXT_NOTE, true, false, COLOUR_TEXT, ALIGN_CENTRE};
  double half = text_width(cr, context, style, text) / 2 + px(context, 4);
  Point at = point(p.x + 1.7 * r, p.y - 1.2 * r);
  draw_plate(cr, context, (Box){at.x - half, at.y - px(context, 13), 2 * half, px(context, 18)},
             palette_colour(context->palette, COLOUR_ACCENT), 1);
  text_draw(cr, context, style, at, text);
}

static void marks_draw(SoffitCanvas *self, cairo_t *cr, const DrawContext *context)
{
  Point mm[PHOTO_MARKS], cross;
  size_t n = photo_desk_marks(self->photo, mm), chosen = photo_desk_chosen(self->photo);
  bool round = photo_desk_mode(self->photo) == PHOTO_CORNERS && n == 4;
  for (size_t i = 0; i < n; i++) {
    Point p = view_px(self->hand.view, mm[i]);
    cairo_line_to(cr, p.x, p.y);
  }
  if (round)
    cairo_close_path(cr);
  stroke_on_halo(cr, context, 1.2);
  for (size_t i = 0; i < n; i++)
    mark_draw(cr, context, view_px(self->hand.view, mm[i]), i + 1, i == chosen);
  if (photo_desk_cross(self->photo, &cross)) {
    Point p = view_px(self->hand.view, cross);
    double r = px(context, CROSS_PX);
    cairo_move_to(cr, p.x - r, p.y);
    cairo_line_to(cr, p.x + r, p.y);
    cairo_move_to(cr, p.x, p.y - r);
    cairo_line_to(cr, p.x, p.y + r);
    stroke_on_halo(cr, context, 1.6);
  }
}

void photo_layer_marks(SoffitCanvas *self, GtkSnapshot *snapshot, int width, int height)
{
  PhotoMode mode = photo_desk_mode(self->photo);
  if (mode != PHOTO_CORNERS && mode != PHOTO_TICKS)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  cairo_t *cr =
      gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  marks_draw(self, cr, &context);
  cairo_destroy(cr);
}

/* ---- keys ---- */

bool photo_layer_key(SoffitCanvas *self, guint key, bool shift)
{
  if (shift && gdk_keyval_to_lower(key) == GDK_KEY_f) {
    photo_desk_set_hidden(self->photo, !photo_desk_hidden(self->photo));
    return true;
  }
  return self->tool->keyed && self->tool->keyed(&self->hand, key, shift);
}

/* ---- life ---- */

static void photo_changed(SoffitCanvas *self)
{
  if (photo_desk_active(self->photo) && self->tool != &tool_photo)
    canvas_set_tool(self, &tool_photo);
  if (!canvas_line_apart(self)) /* else the picture comes with the shade */
    canvas_invalidate(self);
}

void photo_layer_attach(SoffitCanvas *self)
{
  self->photo = photo_desk_new(self->session);
  self->hand.photo = self->photo;
  g_signal_connect_swapped(self->photo, "changed", G_CALLBACK(photo_changed), self);
  photo_take_attach(GTK_WIDGET(self), self->photo);
}

void photo_layer_detach(SoffitCanvas *self)
{
  if (self->photo)
    g_signal_handlers_disconnect_by_data(self->photo, self);
  g_clear_object(&self->photo);
}
