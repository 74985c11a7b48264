/* canvas_ink.c - see canvas_ink.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas_ink.h"
#include <math.h>

#define PIECE 24        /* reports of the pen in a finished piece  */
#define BAND_ALPHA 0.22 /* of the accent                           */
#define WEIGHT_PX 2.6   /* of the ink under a mouse or a firm pen  */
#define LIGHTEST 0.45   /* share of it under a pen without weight  */

struct CanvasInk {
  GPtrArray *line, *band;          /* GskRenderNode, owned: finished pieces            */
  GskRenderNode *tail, *tail_band; /* owned: the newest piece; NULL = none             */
  size_t done, seen;               /* reports in finished pieces, reports shown        */
  View view;                       /* that the pieces were made for                    */
  double band_px;
  Palette palette;
  gint64 lifted_us; /* 0 = the pen is down                               */
  bool motion;
  size_t rastered;
};

CanvasInk *canvas_ink_new(void)
{
  CanvasInk *ink = g_new0(CanvasInk, 1);
  ink->line = g_ptr_array_new_with_free_func((GDestroyNotify)gsk_render_node_unref);
  ink->band = g_ptr_array_new_with_free_func((GDestroyNotify)gsk_render_node_unref);
  return ink;
}

void canvas_ink_drop(CanvasInk *ink)
{
  g_ptr_array_set_size(ink->line, 0);
  g_ptr_array_set_size(ink->band, 0);
  g_clear_pointer(&ink->tail, gsk_render_node_unref);
  g_clear_pointer(&ink->tail_band, gsk_render_node_unref);
  ink->done = ink->seen = ink->rastered = 0;
  ink->lifted_us = 0;
}

void canvas_ink_free(CanvasInk *ink)
{
  if (!ink)
    return;
  canvas_ink_drop(ink);
  g_ptr_array_unref(ink->line);
  g_ptr_array_unref(ink->band);
  g_free(ink);
}

/* One piece of the stroke, reports from .. to, as a node no larger than itself.  Pressure makes the
 * line heavier or lighter; it never moves it. */
static GskRenderNode *piece_node(const PenPoint pen[], size_t from, size_t to, View view,
                                 const DrawContext *context, double band_px)
{
  double edge = fmax(band_px, px(context, WEIGHT_PX)) + 2;
  Point low = view_px(view, pen[from].at), high = low;
  for (size_t i = from; i <= to; i++) {
    Point p = view_px(view, pen[i].at);
    low = point(fmin(low.x, p.x), fmin(low.y, p.y));
    high = point(fmax(high.x, p.x), fmax(high.y, p.y));
  }
  float x = (float)floor(low.x - edge), y = (float)floor(low.y - edge);
  GtkSnapshot *own = gtk_snapshot_new();
  cairo_t *cr =
      gtk_snapshot_append_cairo(own, &GRAPHENE_RECT_INIT(x, y, (float)ceil(high.x + edge) - x,
                                                         (float)ceil(high.y + edge) - y));
  ink_use(cr, context, COLOUR_ACCENT);
  ink_width(cr, context, WEIGHT_PX);
  if (band_px > 0)
    cairo_set_line_width(cr, 2 * band_px);
  Point p = view_px(view, pen[from].at);
  cairo_move_to(cr, p.x, p.y);
  cairo_line_to(cr, p.x, p.y); /* a single report is a dot */
  for (size_t i = from + 1; i <= to; i++) {
    p = view_px(view, pen[i].at);
    cairo_line_to(cr, p.x, p.y);
    bool turns = i == to || fabs(pen[i + 1].pressure - pen[i].pressure) > 0.02;
    if (band_px > 0 || !turns)
      continue;
    double pressure = fmin(fmax(pen[i].pressure, 0), 1);
    ink_width(cr, context, WEIGHT_PX * (LIGHTEST + (1 - LIGHTEST) * pressure));
    cairo_stroke(cr);
    cairo_move_to(cr, p.x, p.y);
  }
  cairo_stroke(cr);
  cairo_destroy(cr);
  return gtk_snapshot_free_to_node(own);
}

static void piece_add(CanvasInk *ink, const PenPoint pen[], size_t to, const DrawContext *context,
                      bool finished)
{
  GskRenderNode *line = piece_node(pen, ink->done, to, ink->view, context, 0),
                *band = ink->band_px > 0
                            ? piece_node(pen, ink->done, to, ink->view, context, ink->band_px)
                            : NULL;
  g_clear_pointer(&ink->tail, gsk_render_node_unref);
  g_clear_pointer(&ink->tail_band, gsk_render_node_unref);
  ink->rastered++;
  if (!finished) {
    ink->tail = line;
    ink->tail_band = band;
    return;
  }
  if (line)
    g_ptr_array_add(ink->line, line);
  if (band)
    g_ptr_array_add(ink->band, band);
  ink->done = to;
}

void canvas_ink_follow(CanvasInk *ink, const Hand *hand, const DrawContext *context, double band_px)
{
  const PenPoint *pen = (const PenPoint *)(void *)hand->pen->data;
  size_t n = hand->pen->len;
  if (n == 0) /* lifted ink stays until it has faded */
    return;
  bool anew = n < ink->seen || ink->lifted_us != 0 || ink->palette != context->palette ||
              fabs(ink->band_px - band_px) > 0 || fabs(ink->view.scale - hand->view.scale) > 0 ||
              fabs(ink->view.x - hand->view.x) > 0 || fabs(ink->view.y - hand->view.y) > 0;
  if (anew)
    canvas_ink_drop(ink);
  ink->view = hand->view;
  ink->band_px = band_px;
  ink->palette = context->palette;
  while (n - ink->done > PIECE) {
    piece_add(ink, pen, ink->done + PIECE, context, true);
    ink->seen = ink->done + 1;
  }
  if (n > ink->seen)
    piece_add(ink, pen, n - 1, context, false);
  ink->seen = n;
}

void canvas_ink_lift(CanvasInk *ink, gint64 now_us, bool motion)
{
  ink->motion = motion;
  ink->lifted_us = MAX(now_us, 1);
  if (!motion)
    canvas_ink_drop(ink);
}

double canvas_ink_strength(CanvasInk *ink, gint64 now_us)
{
  if (ink->seen == 0)
    return 0;
  if (ink->lifted_us == 0)
    return 1;
  double gone = (double)(now_us - ink->lifted_us) / (1000.0 * INK_BLEND_MS);
  return 1 - fmin(fmax(gone, 0), 1);
}

bool canvas_ink_blending(CanvasInk *ink, gint64 now_us)
{
  if (ink->lifted_us == 0 || ink->seen == 0)
    return false;
  if (canvas_ink_strength(ink, now_us) > 0)
    return true;
  canvas_ink_drop(ink);
  return false;
}

size_t canvas_ink_rastered(const CanvasInk *ink)
{
  return ink->rastered;
}

static void pieces_append(GtkSnapshot *snapshot, GPtrArray *pieces, GskRenderNode *tail)
{
  for (guint i = 0; i < pieces->len; i++)
    gtk_snapshot_append_node(snapshot, g_ptr_array_index(pieces, i));
  if (tail)
    gtk_snapshot_append_node(snapshot, tail);
}

void canvas_ink_snapshot(CanvasInk *ink, GtkSnapshot *snapshot, gint64 now_us)
{
  double strength = canvas_ink_strength(ink, now_us);
  if (!(strength > 0))
    return;
  if (ink->band->len > 0 || ink->tail_band) { /* pieces overlap: faded as one */
    gtk_snapshot_push_opacity(snapshot, BAND_ALPHA * strength);
    pieces_append(snapshot, ink->band, ink->tail_band);
    gtk_snapshot_pop(snapshot);
  }
  if (strength < 1)
    gtk_snapshot_push_opacity(snapshot, strength);
  pieces_append(snapshot, ink->line, ink->tail);
  if (strength < 1)
    gtk_snapshot_pop(snapshot);
}
