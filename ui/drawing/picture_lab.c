/* picture_lab.c - see picture_lab.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_lab.h"
#include "ui/drawing/signs.h"
#include "ui/drawing/text.h"
#include <math.h>

static const TextStyle note = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT},
                       note_centre = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_CENTRE},
                       note_right = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_RIGHT},
                       row_name = {TEXT_NOTE, false, false, COLOUR_TEXT, ALIGN_LEFT},
                       figure = {TEXT_NOTE, true, false, COLOUR_TEXT, ALIGN_LEFT};

/* From the foot up: what holds stands on the ground. */
static const Verdict stacked[] = {VERDICT_HOLDS, VERDICT_CLOSE, VERDICT_REWORK, VERDICT_NONE};

static void draw_nothing(cairo_t *cr, int width, int height, const DrawContext *context)
{
  TextStyle style = {TEXT_BODY, false, false, COLOUR_DIM, ALIGN_CENTRE};
  text_draw(cr, context, style, point(width / 2.0, height / 2.0),
            text_word(context, N_("Nothing to show yet.")));
}

/* 1, 2 or 5 times a power of ten, at least 1, so that at most five fit. */
static double count_step(double most)
{
  double unit = pow(10, floor(log10(fmax(most, 1)))), part = most / unit;
  return fmax(unit * (part <= 1 ? 0.2 : part <= 2.5 ? 0.5 : part <= 5 ? 1 : 2), 1);
}

/* Lines across with their counts, from 0 to most; returns px a case. */
static double counts_draw(cairo_t *cr, const DrawContext *context, Box box, double most)
{
  char buf[TEXT_ROOM];
  double scale = box.height / fmax(most, 1), step = count_step(most);
  for (double k = 0; k <= most; k += step) {
    double y = box.y + box.height - k * scale;
    ink_use(cr, context, COLOUR_GRID5);
    ink_width(cr, context, 1);
    draw_line(cr, point(box.x, y), point(box.x + box.width, y));
    text_draw(cr, context, note_right, point(box.x - px(context, 8), y + px(context, 4)),
              say_number(context, buf, k, 0));
  }
  return scale;
}

/* ---- verdicts over the months ---- */

/* Plain, lines across, lines aslant, empty: read without colour. */
static void segment_fill(cairo_t *cr, const DrawContext *context, Box box, Verdict verdict)
{
  Rgba colour = palette_verdict(context->palette, verdict);
  double pitch = px(context, 5);
  cairo_save(cr);
  cairo_rectangle(cr, box.x, box.y, box.width, box.height);
  ink_colour(cr, palette_faded(colour, verdict == VERDICT_HOLDS  ? 0.55
                                       : verdict == VERDICT_NONE ? 0.0
                                                                 : 0.22));
  cairo_fill_preserve(cr);
  cairo_clip(cr);
  ink_colour(cr, colour);
  ink_width(cr, context, 1.2);
  if (verdict == VERDICT_CLOSE)
    for (double y = box.y + pitch / 2; y < box.y + box.height; y += pitch)
      draw_line(cr, point(box.x, y), point(box.x + box.width, y));
  if (verdict == VERDICT_REWORK)
    for (double x = box.x - box.height; x < box.x + box.width; x += pitch)
      draw_line(cr, point(x, box.y + box.height), point(x + box.height, box.y));
  cairo_restore(cr);
  cairo_rectangle(cr, box.x, box.y, box.width, box.height);
  ink_colour(cr, colour);
  ink_width(cr, context, 1.2);
  cairo_stroke(cr);
}

/* Sign, swatch, word and number of each verdict; returns the height used. */
static double verdict_key(cairo_t *cr, int width, const DrawContext *context, const LabStats *stats)
{
  char words[TEXT_ROOM];
  double x = px(context, 4), y = px(context, 4), tall = px(context, 15), gap = px(context, 6);
  for (size_t i = 0; i < G_N_ELEMENTS(stacked); i++) {
    Verdict verdict = stacked[i];
    if (!stats->verdict[verdict])
      continue;
    g_snprintf(words, sizeof words, "%s %u", text_word(context, verdict_name(verdict)),
               stats->verdict[verdict]);
    double wide = 2 * tall + 2 * gap + text_width(cr, context, row_name, words);
    if (x > px(context, 4) && x + wide > width) {
      x = px(context, 4);
      y += tall + gap;
    }
    cairo_save(cr);
    cairo_translate(cr, x, y);
    draw_verdict(cr, verdict, tall, palette_verdict(context->palette, verdict));
    cairo_restore(cr);
    segment_fill(cr, context,
                 (Box){x + tall + gap, y + px(context, 1), tall, tall - px(context, 2)}, verdict);
    text_draw(cr, context, row_name, point(x + 2 * tall + 2 * gap, y + px(context, 12)), words);
    x += wide + px(context, 18);
  }
  return y + tall + px(context, 12);
}

static void month_draw(cairo_t *cr, const DrawContext *context, Box box, double scale,
                       const LabMonth *month)
{
  double y = box.y + box.height;
  for (size_t i = 0; i < G_N_ELEMENTS(stacked); i++) {
    double tall = month->verdict[stacked[i]] * scale;
    y -= tall;
    if (tall > 0)
      segment_fill(cr, context, (Box){box.x, y, box.width, tall}, stacked[i]);
  }
}

void picture_lab_months(cairo_t *cr, int width, int height, const DrawContext *context,
                        const LabStats *stats)
{
  char words[TEXT_ROOM];
  guint most = 0;
  for (size_t m = 0; m < stats->n_month; m++)
    most = MAX(most, stats->month[m].cases);
  if (!most) {
    draw_nothing(cr, width, height, context);
    return;
  }
  double top = verdict_key(cr, width, context, stats);
  Box box = {px(context, 40), top, width - px(context, 48), height - top - px(context, 26)};
  double scale = counts_draw(cr, context, box, most), part = box.width / (double)stats->n_month,
         last = -1e9, wide = text_width(cr, context, note, "2026-08") + px(context, 10);
  for (size_t m = 0; m < stats->n_month; m++) {
    const LabMonth *month = &stats->month[m];
    double x = box.x + (double)m * part, middle = x + part / 2;
    month_draw(cr, context, (Box){x + part * 0.12, box.y, part * 0.76, box.height}, scale, month);
    if (middle - last < wide || middle + wide / 2 > width)
      continue;
    g_snprintf(words, sizeof words, "%04d-%02d", month->year, month->month);
    text_draw(cr, context, note_centre, point(middle, height - px(context, 8)), words);
    last = middle;
  }
}

/* ---- causes ---- */

static int causes_order(const LabStats *stats, int order[CAUSE_N])
{
  int n = 0;
  for (int k = 0; k < CAUSE_N; k++) {
    if (!stats->cause[k])
      continue;
    int at = n++;
    for (; at > 0 && stats->cause[order[at - 1]] < stats->cause[k]; at--)
      order[at] = order[at - 1];
    order[at] = k;
  }
  return n;
}

void picture_lab_causes(cairo_t *cr, int width, int height, const DrawContext *context,
                        const LabStats *stats)
{
  char words[TEXT_ROOM];
  int order[CAUSE_N], n = causes_order(stats, order);
  if (!n) {
    draw_nothing(cr, width, height, context);
    return;
  }
  double names = 0, line = fmin(height / (double)n, px(context, 26)), most = stats->cause[order[0]];
  for (int i = 0; i < n; i++)
    names = fmax(names, text_width(cr, context, row_name,
                                   text_word(context, return_cause_name((ReturnCause)order[i]))));
  names = fmin(names, width * 0.5);
  double x = names + px(context, 14), room = width - x - px(context, 44);
  for (int i = 0; i < n; i++) {
    double y = i * line, long_px = room * stats->cause[order[i]] / most;
    text_column(cr, context, row_name, point(px(context, 4), y + line / 2 + px(context, 4)), names,
                1, false, text_word(context, return_cause_name((ReturnCause)order[i])));
    cairo_rectangle(cr, x, y + line * 0.2, long_px, line * 0.6);
    ink_use(cr, context, COLOUR_TROUGH);
    cairo_fill_preserve(cr);
    ink_use(cr, context, COLOUR_RULE);
    ink_width(cr, context, 1.2);
    cairo_stroke(cr);
    g_snprintf(words, sizeof words, "%u", stats->cause[order[i]]);
    text_draw(cr, context, figure,
              point(x + long_px + px(context, 8), y + line / 2 + px(context, 4)), words);
  }
}

/* ---- radii and areas ---- */

static void spread_draw(cairo_t *cr, const DrawContext *context, Box whole, const Spread *spread,
                        const char *title, int decimals)
{
  char buf[TEXT_ROOM];
  guint most = 1;
  for (size_t k = 0; k < spread->n_column; k++)
    most = MAX(most, spread->column[k]);
  text_column(cr, context, row_name, point(whole.x + px(context, 4), whole.y + px(context, 13)),
              whole.width, 1, false, title);
  Box box = {whole.x + px(context, 40), whole.y + px(context, 26), whole.width - px(context, 56),
             whole.height - px(context, 52)};
  double scale = counts_draw(cr, context, box, most), part = box.width / (double)spread->n_column,
         foot = box.y + box.height;
  for (size_t k = 0; k < spread->n_column; k++) {
    cairo_rectangle(cr, box.x + ((double)k + 0.06) * part, foot - spread->column[k] * scale,
                    part * 0.88, spread->column[k] * scale);
    ink_use(cr, context, COLOUR_TROUGH);
    cairo_fill_preserve(cr);
    ink_use(cr, context, COLOUR_RULE);
    ink_width(cr, context, 1.2);
    cairo_stroke(cr);
  }
  double per = part / spread->step, middle = box.x + (spread->median - spread->first) * per;
  for (int end = 0; end < 2; end++) {
    double value = end ? spread->first + spread->step * (double)spread->n_column : spread->first;
    text_draw(cr, context, note_centre, point(box.x + end * box.width, foot + px(context, 18)),
              say_number(context, buf, value, decimals));
  }
  /* eight of ten as a bracket below the columns, the middle one as a line through them */
  double low = box.x + (spread->low - spread->first) * per,
         high = box.x + (spread->high - spread->first) * per, y = foot + px(context, 5);
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 1.6);
  draw_line(cr, point(low, y), point(high, y));
  draw_line(cr, point(low, y - px(context, 3)), point(low, y + px(context, 3)));
  draw_line(cr, point(high, y - px(context, 3)), point(high, y + px(context, 3)));
  draw_line(cr, point(middle, box.y), point(middle, y));
  TextStyle halo = {TEXT_NOTE, true, true, COLOUR_TEXT, ALIGN_CENTRE};
  text_draw(cr, context, halo, point(middle, foot + px(context, 20)),
            say_number(context, buf, spread->median, decimals));
}

void picture_lab_sizes(cairo_t *cr, int width, int height, const DrawContext *context,
                       const LabStats *stats)
{
  if (!stats->radius.n || !stats->area.n) {
    draw_nothing(cr, width, height, context);
    return;
  }
  double half = width / 2.0;
  spread_draw(cr, context, (Box){0, 0, half, height}, &stats->radius,
              text_word(context, N_("roof radius, mm")), 2);
  spread_draw(cr, context, (Box){half, 0, half, height}, &stats->area,
              text_word(context, N_("neck area, mm²")), 1);
}

/* ---- predicted against seen ---- */

/* Chances are small and large: the root of the share spreads the small ones. */
static double chance_place(double percent)
{
  return sqrt(fmin(fmax(percent, 0), 100) / 100);
}

static void bin_draw(cairo_t *cr, const DrawContext *context, Box box, const CalibrationBin *bin)
{
  double x = box.x + chance_place(bin->predicted) * box.width, foot = box.y + box.height,
         y = foot - chance_place(bin->observed.value) * box.height,
         low = foot - chance_place(bin->observed.low) * box.height,
         high = foot - chance_place(bin->observed.high) * box.height, r = px(context, 5),
         tick = px(context, 4);
  bool few = bin->says == CALIBRATION_FEW;
  ink_use(cr, context, few ? COLOUR_DIM : COLOUR_INK);
  ink_width(cr, context, 1.6);
  if (few)
    ink_dash(cr, context, DOT_ROOM);
  draw_line(cr, point(x, low), point(x, high));
  cairo_set_dash(cr, NULL, 0, 0);
  draw_line(cr, point(x - tick, low), point(x + tick, low));
  draw_line(cr, point(x - tick, high), point(x + tick, high));
  path_circle(cr, point(x, y), r);
  ink_use(cr, context, few ? COLOUR_PAPER : COLOUR_INK);
  cairo_fill_preserve(cr);
  ink_use(cr, context, few ? COLOUR_DIM : COLOUR_INK);
  cairo_stroke(cr);
  char words[TEXT_ROOM];
  TextStyle halo = {TEXT_NOTE, false, true, COLOUR_TEXT, ALIGN_LEFT};
  g_snprintf(words, sizeof words, "%zu/%zu", bin->broken, bin->n);
  double wide = text_width(cr, context, halo, words);
  bool left = x + r + px(context, 4) + wide > box.x + box.width;
  text_draw(
      cr, context, halo,
      point(left ? x - r - px(context, 4) - wide : x + r + px(context, 4), high - px(context, 4)),
      words);
}

void picture_lab_calibration(cairo_t *cr, int width, int height, const DrawContext *context,
                             const LabStats *stats)
{
  static const double percent[] = {0, 1, 5, 20, 50, 100};
  char buf[TEXT_ROOM];
  if (!stats->all.n) {
    draw_nothing(cr, width, height, context);
    return;
  }
  double top = px(context, 30);
  Box box = {px(context, 40), top, width - px(context, 64), height - top - px(context, 44)};
  text_column(cr, context, note, point(px(context, 4), px(context, 13)), width - px(context, 8), 1,
              false, text_word(context, N_("broken, in 100; dotted: fewer than ten cases")));
  double foot = box.y + box.height;
  for (size_t i = 0; i < G_N_ELEMENTS(percent); i++) {
    double x = box.x + chance_place(percent[i]) * box.width,
           y = foot - chance_place(percent[i]) * box.height;
    ink_use(cr, context, COLOUR_GRID5);
    ink_width(cr, context, 1);
    draw_line(cr, point(box.x, y), point(box.x + box.width, y));
    draw_line(cr, point(x, box.y), point(x, foot));
    say_number(context, buf, percent[i], 0);
    text_draw(cr, context, note_centre, point(x, foot + px(context, 16)), buf);
    text_draw(cr, context, note_right, point(box.x - px(context, 8), y + px(context, 4)), buf);
  }
  ink_use(cr, context, COLOUR_RULE);
  ink_width(cr, context, 1.4);
  ink_dash(cr, context, DASH_NECK);
  draw_line(cr, point(box.x, foot), point(box.x + box.width, box.y));
  cairo_set_dash(cr, NULL, 0, 0);
  text_draw(cr, context, note_right, point(width - px(context, 8), foot + px(context, 36)),
            text_word(context, N_("predicted, in 100")));
  for (size_t b = 0; b < STATS_BINS; b++)
    if (stats->bin[b].n)
      bin_draw(cr, context, box, &stats->bin[b]);
}
