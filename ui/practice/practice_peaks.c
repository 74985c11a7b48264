/* practice_peaks.c - your attempts: the pull of each, lower is calmer, and the best as a dashed
 * line. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/draw_context.h"
#include "ui/drawing/text.h"
#include "ui/parts.h"
#include "ui/practice/practice_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define HEIGHT 96
#define EDGE 22
#define DOT 4.5

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *box, *area;
} Peaks;

static double best_of(Peaks *self)
{
  const Assessment *best = practice_desk_best(self->desk);
  return best ? best->connector[practice_desk_exercise(self->desk)->focus].trial_peak_mpa.value
              : NAN;
}

static void area_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Peaks *self = data;
  char font[64], text[TEXT_ROOM];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  const GArray *peaks = practice_desk_peaks(self->desk);
  double best = best_of(self), low = best, high = best;
  for (guint i = 0; i < peaks->len; i++) {
    low = fmin(low, g_array_index(peaks, double, i));
    high = fmax(high, g_array_index(peaks, double, i));
  }
  if (peaks->len == 0 || isnan(low))
    return;
  double span = fmax(high - low, 1), top = EDGE * context.scale, bottom = height - 1.2 * top;
  TextStyle note = {.size = TEXT_NOTE, .colour = COLOUR_TEXT, .align = ALIGN_CENTRE};
  if (isfinite(best)) {
    double y = bottom - (bottom - top) * (best - low) / span, dash[] = {7, 4};
    ink_use(cr, &context, COLOUR_ACCENT);
    ink_width(cr, &context, 1.6);
    cairo_set_dash(cr, dash, 2, 0);
    cairo_move_to(cr, top, y);
    cairo_line_to(cr, width - 2, y);
    cairo_stroke(cr);
    cairo_set_dash(cr, NULL, 0, 0);
    TextStyle accent = {
        .size = TEXT_NOTE, .bold = true, .colour = COLOUR_ACCENT, .align = ALIGN_RIGHT};
    text_draw(cr, &context, accent, point(width - 2, y + 16 * context.scale),
              say(&context, text, N_("best {0}"), best, 0, 0, 0));
  }
  Point before = {0, 0};
  for (guint i = 0; i < peaks->len; i++) {
    double peak = g_array_index(peaks, double, i);
    Point at = {top +
                    (width - 4 * top) * (peaks->len > 1 ? (double)i / (double)(peaks->len - 1) : 0),
                bottom - (bottom - top) * (peak - low) / span};
    ink_use(cr, &context, COLOUR_INK);
    ink_width(cr, &context, 1.4);
    if (i > 0) {
      cairo_move_to(cr, before.x, before.y);
      cairo_line_to(cr, at.x, at.y);
      cairo_stroke(cr);
    }
    before = at;
    cairo_arc(cr, at.x, at.y, DOT * context.scale, 0, 2 * G_PI);
    if (i + 1 == peaks->len)
      cairo_fill(cr);
    else
      cairo_stroke(cr);
    text_draw(cr, &context, note, point(at.x, at.y - 9 * context.scale),
              say_number(&context, text, peak, 0));
  }
}

static void peaks_show(Peaks *self)
{
  const GArray *peaks = practice_desk_peaks(self->desk);
  g_autoptr(GString) spoken = g_string_new(_("Pull of your attempts, MPa:"));
  for (guint i = 0; i < peaks->len; i++) {
    g_autofree char *number = words_number(g_array_index(peaks, double, i), 0);
    g_string_append_printf(spoken, " %s", number);
  }
  spoken_name(self->area, spoken->str);
  gtk_widget_set_visible(self->box, peaks->len > 1);
  gtk_widget_queue_draw(self->area);
}

GtkWidget *practice_peaks_new(SoffitPracticeDesk *desk)
{
  Peaks *self = g_new0(Peaks, 1);
  self->desk = desk;
  self->box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *head = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *title = part_label(_("Your attempts"), "title");
  gtk_widget_set_hexpand(title, TRUE);
  gtk_box_append(GTK_BOX(head), title);
  gtk_box_append(GTK_BOX(head), part_label(_("lower is calmer"), "note"));
  self->area = gtk_drawing_area_new();
  gtk_drawing_area_set_content_height(GTK_DRAWING_AREA(self->area), HEIGHT);
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(self->area), area_draw, self, NULL);
  gtk_box_append(GTK_BOX(self->box), head);
  gtk_box_append(GTK_BOX(self->box), self->area);
  g_object_set_data_full(G_OBJECT(self->box), "peaks", self, g_free);
  practice_follow(desk, self->box,
                  (const char *const[]){"exercise-changed", "scored", "work-changed", NULL},
                  G_CALLBACK(peaks_show), self);
  return self->box;
}
