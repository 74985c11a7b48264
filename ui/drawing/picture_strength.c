/* picture_strength.c - see picture_strength.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_strength.h"
#include <math.h>

#define MOST_MARKS 300 /* of a set; larger sets show every second, third ... bar */
#define MOST_COLUMNS 40

static const TextStyle note = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT},
                       note_centre = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_CENTRE},
                       note_right = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_RIGHT};

typedef struct {
  Box box;            /* of the plot, px                        */
  double low, high;   /* MPa at its left and right end          */
  bool logarithmic;   /* across                                 */
  double bottom, top; /* of the upward axis, in its own measure */
} Axes;

static double across(const Axes *a, double mpa)
{
  double share = a->logarithmic ? log(mpa / a->low) / log(a->high / a->low)
                                : (mpa - a->low) / (a->high - a->low);
  return a->box.x + share * a->box.width;
}

static double up(const Axes *a, double value)
{
  return a->box.y + a->box.height * (1 - (value - a->bottom) / (a->top - a->bottom));
}

/* Measure of Weibull's axis: straight lines for Weibull's distribution. */
static double stretch(double chance)
{
  return log(-log1p(-chance));
}

static Colour set_colour(int set)
{
  return set ? COLOUR_ACCENT : COLOUR_DIM;
}

void draw_bar_mark(cairo_t *cr, const DrawContext *context, int set, Point at)
{
  double r = px(context, set ? 4.5 : 5);
  if (set) {
    cairo_rectangle(cr, at.x - r, at.y - r, 2 * r, 2 * r);
    ink_use(cr, context, COLOUR_ACCENT);
    cairo_fill(cr);
    return;
  }
  path_circle(cr, at, r);
  ink_use(cr, context, COLOUR_PAPER);
  cairo_fill_preserve(cr);
  ink_use(cr, context, COLOUR_TEXT);
  ink_width(cr, context, 1.8);
  cairo_stroke(cr);
}

/* Weakest and strongest bar of all sets; false without any. */
static bool strength_range(const BarsAnswer *answer, double *low, double *high)
{
  *low = INFINITY, *high = 0;
  for (int i = 0; i < BARS_SETS; i++) {
    const BarsSetAnswer *set = &answer->set[i];
    if (set->n_good == 0)
      continue;
    *low = fmin(*low, set->good[0]);
    *high = fmax(*high, set->good[set->n_good - 1]);
  }
  return *high > 0;
}

/* 1, 2 or 5 times a power of ten, so that about `wanted` fit. */
static double tick_step(double range, double wanted)
{
  double rough = range / wanted, unit = pow(10, floor(log10(rough))), part = rough / unit;
  return unit * (part <= 1 ? 1 : part <= 2 ? 2 : part <= 5 ? 5 : 10);
}

static void draw_across(cairo_t *cr, const DrawContext *context, const Axes *a)
{
  char buf[TEXT_ROOM];
  double step = tick_step(a->high - a->low, fmax(a->box.width / px(context, 90), 2)), last = -1e9;
  for (double mpa = ceil(a->low / step) * step; mpa <= a->high; mpa += step) {
    double x = across(a, mpa), bottom = a->box.y + a->box.height;
    ink_use(cr, context, COLOUR_GRID5);
    ink_width(cr, context, 1);
    draw_line(cr, point(x, a->box.y), point(x, bottom));
    if (x - last < px(context, 44))
      continue;
    text_draw(cr, context, note_centre, point(x, bottom + px(context, 20)),
              say_number(context, buf, mpa, 0));
    last = x;
  }
  text_draw(cr, context, note_right,
            point(a->box.x + a->box.width, a->box.y + a->box.height + px(context, 40)),
            text_word(context, N_("bending strength, MPa")));
}

static void draw_nothing(cairo_t *cr, int width, int height, const DrawContext *context)
{
  TextStyle style = {TEXT_BODY, false, false, COLOUR_DIM, ALIGN_CENTRE};
  text_draw(cr, context, style, point(width / 2.0, height / 2.0),
            text_word(context, N_("Type or paste bars: one line a bar.")));
}

/* --- Weibull plot --- */

static void draw_chances(cairo_t *cr, const DrawContext *context, const Axes *a)
{
  static const double percent[] = {2, 5, 10, 20, 40, 63.2, 80, 95};
  char buf[TEXT_ROOM];
  for (size_t i = 0; i < sizeof percent / sizeof *percent; i++) {
    double y = up(a, stretch(percent[i] / 100));
    bool scale = percent[i] > 63 && percent[i] < 64;
    ink_use(cr, context, scale ? COLOUR_RULE : COLOUR_GRID5);
    ink_width(cr, context, 1);
    if (scale)
      ink_dash(cr, context, DOT_ROOM);
    draw_line(cr, point(a->box.x, y), point(a->box.x + a->box.width, y));
    text_draw(cr, context, note_right, point(a->box.x - px(context, 10), y + px(context, 5)),
              say_number(context, buf, percent[i], 0));
  }
  text_draw(cr, context, note, point(px(context, 16), px(context, 24)),
            text_word(context, N_("broken, in 100")));
}

static void draw_band(cairo_t *cr, const DrawContext *context, const Axes *a, int which,
                      const BarsSetAnswer *set)
{
  static const double dash[] = {7, 5, 0};
  if (isfinite(set->curve[0].stress.low)) {
    for (size_t i = 0; i < BARS_CURVE; i++)
      cairo_line_to(cr, across(a, set->curve[i].stress.low), up(a, stretch(set->curve[i].chance)));
    for (size_t i = BARS_CURVE; i-- > 0;)
      cairo_line_to(cr, across(a, set->curve[i].stress.high), up(a, stretch(set->curve[i].chance)));
    cairo_close_path(cr);
    ink_colour(cr, palette_faded(palette_colour(context->palette, set_colour(which)), 0.16));
    cairo_fill_preserve(cr);
    ink_colour(cr, palette_faded(palette_colour(context->palette, set_colour(which)), 0.7));
    ink_width(cr, context, 1);
    cairo_stroke(cr);
  }
  ink_use(cr, context, which ? COLOUR_ACCENT : COLOUR_TEXT);
  ink_width(cr, context, 2.2);
  if (!which)
    ink_dash(cr, context, dash);
  for (size_t i = 0; i < BARS_CURVE; i++)
    cairo_line_to(cr, across(a, set->curve[i].stress.value), up(a, stretch(set->curve[i].chance)));
  cairo_stroke(cr);
}

static void draw_marks(cairo_t *cr, const DrawContext *context, const Axes *a, int which,
                       const BarsSetAnswer *set)
{
  size_t step = 1 + set->n_good / MOST_MARKS;
  for (size_t i = 0; i < set->n_good; i += step)
    draw_bar_mark(
        cr, context, which,
        point(across(a, set->good[i]), up(a, stretch(((double)i + 0.5) / (double)set->n_good))));
}

/* The name beside the lower part of the line, away from the other set. */
static void draw_name(cairo_t *cr, const DrawContext *context, const Axes *a, int which,
                      const BarsSetAnswer *set, bool weaker, const char *name)
{
  TextStyle style = {TEXT_BODY, true, true, which ? COLOUR_ACCENT : COLOUR_DIM,
                     weaker ? ALIGN_RIGHT : ALIGN_LEFT};
  size_t at = BARS_CURVE * 5 / 9;
  double edge = weaker ? set->curve[at].stress.low : set->curve[at].stress.high,
         mpa = isfinite(edge) ? edge : set->curve[at].stress.value;
  double x = across(a, mpa) + (weaker ? -1 : 1) * px(context, 14),
         half = text_width(cr, context, style, name);
  x = weaker ? fmax(x, a->box.x + half + 2) : fmin(x, a->box.x + a->box.width - half - 2);
  text_draw(cr, context, style, point(x, up(a, stretch(set->curve[at].chance))), name);
}

/* Dots are an aid to measure with: the card's line, from its 63 of 100 a plumb line to a diamond on
 * its band at the foot, away from the gain. */
static void draw_book(cairo_t *cr, const DrawContext *context, const Axes *a, const BarsBook *book)
{
  double x = across(a, book->scale.value), low = across(a, book->scale.low),
         high = across(a, book->scale.high), foot = a->box.y + a->box.height - px(context, 12),
         r = px(context, 6);
  ink_use(cr, context, COLOUR_TEXT);
  ink_width(cr, context, 1.4);
  ink_dash(cr, context, DOT_ROOM);
  for (int end = 0; end < 2; end++) {
    double chance = end ? a->top : a->bottom;
    cairo_line_to(cr, across(a, book->scale.value * exp(chance / book->modulus.value)),
                  up(a, chance));
  }
  cairo_stroke(cr);
  draw_line(cr, point(x, up(a, 0)), point(x, foot));
  cairo_set_dash(cr, NULL, 0, 0);
  ink_width(cr, context, 1.8);
  draw_line(cr, point(low, foot), point(high, foot));
  draw_line(cr, point(low, foot - r), point(low, foot + r));
  draw_line(cr, point(high, foot - r), point(high, foot + r));
  cairo_move_to(cr, x, foot - r);
  cairo_line_to(cr, x + r, foot);
  cairo_line_to(cr, x, foot + r);
  cairo_line_to(cr, x - r, foot);
  cairo_close_path(cr);
  ink_use(cr, context, COLOUR_PAPER);
  cairo_fill_preserve(cr);
  ink_use(cr, context, COLOUR_TEXT);
  cairo_stroke(cr);
  TextStyle style = {TEXT_NOTE, false, true, COLOUR_TEXT, ALIGN_LEFT};
  const char *word = text_word(context, N_("the book"));
  double wide = text_width(cr, context, style, word), right = high + px(context, 8);
  bool fits = right + wide <= a->box.x + a->box.width;
  text_draw(cr, context, style,
            point(fits ? right : low - px(context, 8) - wide, foot + px(context, 4)), word);
}

/* "+57 % (47 to 67)" between the two scales. */
static void draw_gain(cairo_t *cr, const DrawContext *context, const Axes *a,
                      const BarsAnswer *answer)
{
  if (answer->compare_fault)
    return;
  char words[TEXT_ROOM];
  Banded gain = answer->comparison.gain_percent;
  say(context, words, N_("{0+} % ({1} to {2})"), gain.value, gain.low, gain.high, 0);
  TextStyle style = {TEXT_BODY, true, false, COLOUR_TEXT, ALIGN_CENTRE};
  double from = across(a, answer->set[0].fit.scale.value),
         to = across(a, answer->set[1].fit.scale.value), y = up(a, 0), side = to > from ? 1 : -1;
  double wide = text_width(cr, context, style, words) + px(context, 28), tall = px(context, 38);
  double middle = (from + to) / 2, edge = a->box.x + a->box.width - wide / 2;
  middle = fmin(fmax(middle, a->box.x + wide / 2), edge);
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 2);
  draw_line(cr, point(from, y), point(to, y));
  cairo_move_to(cr, to, y);
  cairo_line_to(cr, to - side * px(context, 10), y - px(context, 5));
  cairo_line_to(cr, to - side * px(context, 10), y + px(context, 5));
  cairo_close_path(cr);
  cairo_fill(cr);
  if (fabs(to - from) <
      wide + px(context, 30)) /* no room between: before both, where it is empty */
    middle = fmax(fmin(from, to) - wide / 2 - px(context, 24), a->box.x + wide / 2);
  Box plate = {middle - wide / 2, y - tall / 2, wide, tall};
  draw_plate(cr, context, plate, palette_colour(context->palette, COLOUR_INK), 1.4);
  text_draw(cr, context, style, point(middle, y + px(context, 5)), words);
}

void picture_weibull(cairo_t *cr, int width, int height, const DrawContext *context,
                     const BarsAnswer *answer, const char *const name[BARS_SETS],
                     const BarsBook *book)
{
  double low, high;
  Axes a = {
      .box = {px(context, 56), px(context, 40), width - px(context, 76), height - px(context, 90)},
      .logarithmic = true,
      .bottom = stretch(0.01),
      .top = stretch(0.99)};
  if (!answer || !strength_range(answer, &low, &high) || a.box.width < 50 || a.box.height < 50) {
    draw_nothing(cr, width, height, context);
    return;
  }
  for (int i = 0; i < BARS_SETS; i++)
    if (answer->set[i].n_good && !answer->set[i].fit_fault) {
      low = fmin(low, answer->set[i].curve[0].stress.value);
      high = fmax(high, answer->set[i].curve[BARS_CURVE - 1].stress.value);
    }
  if (book) {
    low = fmin(low, book->scale.low);
    high = fmax(high, book->scale.high);
  }
  a.low = low * 0.92, a.high = high * 1.08;
  draw_across(cr, context, &a);
  draw_chances(cr, context, &a);
  cairo_save(cr);
  cairo_rectangle(cr, a.box.x, a.box.y, a.box.width, a.box.height);
  cairo_clip(cr);
  for (int i = 0; i < BARS_SETS; i++)
    if (answer->set[i].n_good && !answer->set[i].fit_fault)
      draw_band(cr, context, &a, i, &answer->set[i]);
  if (book)
    draw_book(cr, context, &a, book);
  for (int i = 0; i < BARS_SETS; i++)
    draw_marks(cr, context, &a, i, &answer->set[i]);
  cairo_restore(cr);
  bool two = answer->set[0].n_good && answer->set[1].n_good && !answer->set[0].fit_fault &&
             !answer->set[1].fit_fault;
  for (int i = 0; i < BARS_SETS; i++)
    if (name[i] && answer->set[i].n_good && !answer->set[i].fit_fault) {
      bool weaker =
          two ? answer->set[i].fit.scale.value <= answer->set[1 - i].fit.scale.value : false;
      draw_name(cr, context, &a, i, &answer->set[i], weaker, name[i]);
    }
  if (two)
    draw_gain(cr, context, &a, answer);
}

/* --- histogram --- */

void picture_histogram(cairo_t *cr, int width, int height, const DrawContext *context,
                       const BarsAnswer *answer, const char *const name[BARS_SETS])
{
  double low, high;
  char buf[TEXT_ROOM];
  size_t count[BARS_SETS][MOST_COLUMNS] = {{0}}, most = 1, n = 0;
  Axes a = {
      .box = {px(context, 56), px(context, 40), width - px(context, 76), height - px(context, 90)}};
  if (!answer || !strength_range(answer, &low, &high) || a.box.width < 50 || a.box.height < 50) {
    draw_nothing(cr, width, height, context);
    return;
  }
  size_t bars = answer->set[0].n_good + answer->set[1].n_good;
  /* Sturges' number of classes for the set in the middle of its range */
  double step = tick_step(fmax(high - low, 1), fmin(2 * (1 + log2((double)bars)), 30));
  a.low = floor(low / step) * step;
  while (a.low + (double)n * step <= high && n < MOST_COLUMNS)
    n++;
  a.high = a.low + (double)n * step;
  for (int i = 0; i < BARS_SETS; i++)
    for (size_t k = 0; k < answer->set[i].n_good; k++) {
      size_t column = (size_t)((answer->set[i].good[k] - a.low) / step);
      column = column < n ? column : n - 1;
      if (++count[i][column] > most)
        most = count[i][column];
    }
  a.top = (double)most * 1.08;
  draw_across(cr, context, &a);
  double bars_step = fmax(tick_step((double)most, 5), 1);
  for (double k = 0; k <= (double)most; k += bars_step) {
    double y = up(&a, k);
    ink_use(cr, context, COLOUR_GRID5);
    ink_width(cr, context, 1);
    draw_line(cr, point(a.box.x, y), point(a.box.x + a.box.width, y));
    text_draw(cr, context, note_right, point(a.box.x - px(context, 10), y + px(context, 5)),
              say_number(context, buf, k, 0));
  }
  text_draw(cr, context, note, point(px(context, 16), px(context, 24)),
            text_word(context, N_("bars")));
  double part = a.box.width / (double)n;
  for (int i = 0; i < BARS_SETS; i++) {
    for (size_t k = 0; k < n; k++) {
      double x = a.box.x + ((double)k + 0.08 + 0.42 * i) * part, y = up(&a, (double)count[i][k]);
      if (!count[i][k])
        continue;
      cairo_rectangle(cr, x, y, 0.42 * part, a.box.y + a.box.height - y);
      ink_use(cr, context, i ? COLOUR_ACCENT : COLOUR_TROUGH);
      cairo_fill_preserve(cr);
      ink_use(cr, context, i ? COLOUR_ACCENT : COLOUR_TEXT);
      ink_width(cr, context, 1.4);
      cairo_stroke(cr);
    }
    if (name[i] && answer->set[i].n_good) {
      TextStyle style = {TEXT_BODY, true, true, i ? COLOUR_ACCENT : COLOUR_DIM, ALIGN_RIGHT};
      double y = a.box.y + px(context, 6 + 22 * i), x = a.box.x + a.box.width;
      text_draw(cr, context, style, point(x - px(context, 22), y + px(context, 5)), name[i]);
      draw_bar_mark(cr, context, i, point(x - px(context, 8), y));
    }
  }
}
