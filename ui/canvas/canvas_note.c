/* canvas_note.c - see canvas_note.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas_note.h"
#include "ui/canvas/draw_context.h"
#include "ui/spoken.h"
#include <math.h>

#define NOTE_MS 1600
#define SAMPLE_PX 72 /* line that shows the band */

static void plate(cairo_t *cr, const DrawContext *context, Point middle, int width, Rgba edge,
                  const char *words)
{
  TextStyle style = {TEXT_BODY, true, false, COLOUR_TEXT, ALIGN_CENTRE};
  double half = text_width(cr, context, style, words) / 2 + px(context, 12);
  double x = CLAMP(middle.x, half + 6, fmax(half + 6, width - half - 6)),
         y = fmax(px(context, 36), middle.y);
  draw_plate(cr, context, (Box){x - half, y - px(context, 21), 2 * half, px(context, 32)}, edge,
             1.6);
  text_draw(cr, context, style, point(x, y), words);
}

static void trouble_draw(SoffitCanvas *self, cairo_t *cr, const DrawContext *context, int width,
                         int height)
{
  Point p = isfinite(self->hand.trouble_at.x) ? view_px(self->hand.view, self->hand.trouble_at)
                                              : point(width / 2.0, height / 3.0);
  Rgba rework = palette_verdict(context->palette, VERDICT_REWORK);
  path_circle(cr, p, px(context, 14));
  ink_stroke_haloed(cr, context, rework, 2, NULL);
  plate(cr, context, point(p.x, p.y - px(context, 30)), width, rework,
        text_word(context, self->hand.trouble));
}

/* A line in a band as wide as the one around the ink. */
static void sample_draw(SoffitCanvas *self, cairo_t *cr, const DrawContext *context, Point middle)
{
  double half = px(context, SAMPLE_PX) / 2,
         band = 2 * self->hand.smoothing_mm * self->hand.view.scale;
  for (int k = band > 0 ? 0 : 1; k < 2; k++) {
    Rgba accent = palette_colour(context->palette, COLOUR_ACCENT);
    ink_colour(cr, k == 0 ? palette_faded(accent, 0.22) : accent);
    ink_width(cr, context, 2.6);
    if (k == 0)
      cairo_set_line_width(cr, band);
    draw_line(cr, point(middle.x - half, middle.y), point(middle.x + half, middle.y));
  }
}

void canvas_note_draw(SoffitCanvas *self, GtkSnapshot *snapshot, int width, int height)
{
  if (!self->hand.trouble && !self->note)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  cairo_t *cr =
      gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  if (self->note) {
    graphene_rect_t row; /* over its button, at the end of the row */
    double x = width / 2.0, y = height - px(&context, 90);
    if (gtk_widget_compute_bounds(self->row, GTK_WIDGET(self), &row)) {
      x = row.origin.x + row.size.width - px(&context, 60);
      y = row.origin.y - px(&context, 22);
    }
    sample_draw(self, cr, &context,
                point(x, y - px(&context, 42) - self->hand.smoothing_mm * self->hand.view.scale));
    plate(cr, &context, point(x, y), width, palette_colour(context.palette, COLOUR_ACCENT),
          self->note);
  }
  if (self->hand.trouble)
    trouble_draw(self, cr, &context, width, height);
  cairo_destroy(cr);
}

static gboolean note_over(void *data)
{
  SoffitCanvas *self = data;
  self->note_end = 0;
  g_clear_pointer(&self->note, g_free);
  gtk_widget_queue_draw(GTK_WIDGET(self));
  return G_SOURCE_REMOVE;
}

void canvas_note_say(SoffitCanvas *self, char *text)
{
  g_free(self->note);
  self->note = text;
  g_clear_handle_id(&self->note_end, g_source_remove);
  self->note_end = g_timeout_add(NOTE_MS, note_over, self);
  spoken_description(GTK_WIDGET(self), text);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}
