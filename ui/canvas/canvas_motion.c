/* canvas_motion.c - what is shown while a hand draws or moves the view: no frame waits for a
 * picture. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The worker's drawing is one node; the gum-side line moves above it in the frame of the event.
 */
#include "ui/canvas/canvas_private.h"
#include "ui/canvas/draw_context.h"
#include <math.h>

#define ZOOM_LEAST 4.0 /* px per mm */
#define ZOOM_MOST 600.0
#define SETTLE_MS 150 /* then the view rests */

/* The worker's drawing as one node; it shares the pixels.  A texture, but not for cairo: GTK 4.8
 * hands textures to it through floating-point numbers, pixel by pixel. */
GskRenderNode *canvas_drawing_node(SoffitCanvas *self, const ShadeAnswer *answer)
{
  cairo_surface_t *drawing = answer->drawing;
  graphene_rect_t bounds =
      GRAPHENE_RECT_INIT(0, 0, (float)answer->request.width, (float)answer->request.height);
  GtkNative *native = gtk_widget_get_native(GTK_WIDGET(self));
  if (native && GSK_IS_CAIRO_RENDERER(gtk_native_get_renderer(native))) {
    GskRenderNode *node = gsk_cairo_node_new(&bounds);
    cairo_t *cr = gsk_cairo_node_get_draw_context(node);
    cairo_set_operator(cr, CAIRO_OPERATOR_SOURCE);
    cairo_set_source_surface(cr, drawing, 0, 0);
    cairo_paint(cr);
    cairo_destroy(cr);
    return node;
  }
  int width = cairo_image_surface_get_width(drawing),
      height = cairo_image_surface_get_height(drawing);
  size_t stride = (size_t)cairo_image_surface_get_stride(drawing);
  g_autoptr(GBytes) pixels = g_bytes_new_with_free_func(
      cairo_image_surface_get_data(drawing), stride * (size_t)height,
      (GDestroyNotify)cairo_surface_destroy, cairo_surface_reference(drawing));
  g_autoptr(GdkTexture) texture =
      gdk_memory_texture_new(width, height, GDK_MEMORY_DEFAULT, pixels, stride);
  return gsk_texture_node_new(texture, &bounds);
}

/* The picture of a moment ago follows the view until the worker has the new one. */
void canvas_picture_append(SoffitCanvas *self, GtkSnapshot *snapshot)
{
  View now = self->hand.view, then = self->picture_view;
  float zoom = (float)(now.scale / then.scale);
  gtk_snapshot_save(snapshot);
  gtk_snapshot_translate(snapshot, &GRAPHENE_POINT_INIT((float)now.x - zoom * (float)then.x,
                                                        (float)now.y - zoom * (float)then.y));
  gtk_snapshot_scale(snapshot, zoom, zoom);
  gtk_snapshot_append_node(snapshot, self->picture);
  gtk_snapshot_restore(snapshot);
}

/* What moves under the hand: the gum-side line, with its knots where they are being moved. */
void canvas_line_append(SoffitCanvas *self, GtkSnapshot *snapshot, int width, int height)
{
  const Outline *line = hand_outline(&self->hand);
  if (!self->line && line->n >= 2 && session_assessment(self->session)) {
    char font[64];
    DrawContext context = draw_context_for(GTK_WIDGET(self), font);
    ConnectorPicture picture = canvas_picture(self, &context);
    Point low = point(INFINITY, INFINITY), high = point(-INFINITY, -INFINITY);
    for (size_t i = 0; i < line->n; i++) {
      const Point part[] = {line->knot[i].at, line->knot[i].in, line->knot[i].out};
      for (size_t k = 0; k < G_N_ELEMENTS(part); k++) {
        Point p = view_px(picture.view, part[k]);
        low = point(fmin(low.x, p.x), fmin(low.y, p.y));
        high = point(fmax(high.x, p.x), fmax(high.y, p.y));
      }
    }
    double edge = px(&context, 8);
    graphene_rect_t bounds = GRAPHENE_RECT_INIT(
        (float)floor(low.x - edge), (float)floor(low.y - edge),
        (float)ceil(high.x - low.x + 2 * edge), (float)ceil(high.y - low.y + 2 * edge));
    if (!graphene_rect_intersection(&bounds, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height),
                                    &bounds))
      return;
    picture.drawn = &session_case(self->session)->connector[picture.connector];
    bool pen = self->acting == &tool_pen || self->acting == &tool_eraser;
    picture.layers = LAYER_GUM_LINE | (pen ? 0 : self->layers & LAYER_KNOTS);
    GtkSnapshot *own = gtk_snapshot_new();
    cairo_t *cr = gtk_snapshot_append_cairo(own, &bounds);
    picture_connector(cr, width, height, &context, &picture);
    cairo_destroy(cr);
    self->line = gtk_snapshot_free_to_node(own);
  }
  if (self->line)
    gtk_snapshot_append_node(snapshot, self->line);
}

/* ---- view ---- */

void canvas_motion_begin(SoffitCanvas *self)
{
  g_clear_pointer(&self->line, gsk_render_node_unref);
  canvas_shade_ask(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

static gboolean view_settled(void *data)
{
  SoffitCanvas *self = data;
  self->settle = 0;
  canvas_shade_ask(self);
  canvas_invalidate(self);
  return G_SOURCE_REMOVE;
}

static void view_moved(SoffitCanvas *self)
{
  g_clear_handle_id(&self->settle, g_source_remove);
  self->settle = g_timeout_add(SETTLE_MS, view_settled, self);
  g_clear_pointer(&self->line, gsk_render_node_unref);
  canvas_shade_ask(self);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}

void canvas_zoom(SoffitCanvas *self, double factor, Point about_px)
{
  View *view = &self->hand.view;
  Point mm = view_mm(*view, about_px);
  view->scale = CLAMP(view->scale * factor, ZOOM_LEAST, ZOOM_MOST);
  view->x = about_px.x - view->scale * mm.x;
  view->y = about_px.y + view->scale * mm.y;
  view_moved(self);
}

void canvas_pan(SoffitCanvas *self, double dx, double dy)
{
  self->hand.view.x += dx;
  self->hand.view.y += dy;
  view_moved(self);
}
