/* picture_notch.c - see picture_notch.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_notch.h"
#include "strength/bar_break.h"
#include <math.h>

#define SLICES 60
#define LAYERS 24
/* Room to the right of the bar, px, and how much of its scale it may cost: loupe and figure in a
 * row, or one above the other. */
#define IN_A_ROW 304
#define IN_A_ROW_KEEPS 0.75
#define STACKED 186
#define STACKED_KEEPS 0.5
#define STACKED_LOUPE 44 /* px, radius */
#define WORDS_LEAST 44   /* px: a lower bar has no room for words */
#define OVERHANG 0.12    /* of the span, beyond each outer roller */

/* px around the bar: for rollers and arrows, below also for the dimension; and at both ends. */
typedef struct {
  double roller, arrow, above, below, aside;
} Around;

static const Around *around_of(const NotchPicture *p)
{
  static const Around large = {8, 26, 84, 58, 20}, small = {5, 15, 30, 14, 6};
  return p->small ? &small : &large;
}

View notch_view(int width, int height, const DrawContext *context, const NotchPicture *p)
{
  const Around *a = around_of(p);
  double length = p->setup->span * (1 + 2 * OVERHANG), h = p->bar->height;
  static const double room[2][2] = {{IN_A_ROW, IN_A_ROW_KEEPS}, {STACKED, STACKED_KEEPS}};
  double scale = fmin((width - px(context, 2 * a->aside)) / length,
                      (height - px(context, a->above + a->below)) / h),
         side = 0;
  /* a smaller bar, and nothing of it is covered */
  for (int i = 0; i < 2 && side <= 0 && !p->small; i++) {
    double beside = (width - px(context, 24 + room[i][0])) / length;
    if (beside >= room[i][1] * scale) {
      side = px(context, room[i][0]);
      scale = fmin(scale, beside);
    }
  }
  scale = fmax(scale, 1);
  return (View){scale, (width - side) / 2, px(context, a->above) + scale * h};
}

/* Stress of the plain bar by beam theory, in small fields: the answer of the piece lies on top. */
static void draw_plain(cairo_t *cr, const DrawContext *context, View view, const NotchPicture *p)
{
  double length = p->setup->span * (1 + 2 * OVERHANG), h = p->bar->height;
  int slices = p->small ? SLICES / 2 : SLICES, layers = p->small ? LAYERS / 2 : LAYERS;
  cairo_set_antialias(cr, CAIRO_ANTIALIAS_NONE);
  for (int i = 0; i < slices; i++)
    for (int k = 0; k < layers; k++) {
      double x0 = length * ((double)i / slices - 0.5), x1 = x0 + length / slices,
             y0 = h * k / layers, y1 = y0 + h / layers;
      double ratio = bar_bending_share(p->setup, (x0 + x1) / 2) * p->reference_mpa *
                     (1 - (y0 + y1) / h) / p->limit_mpa;
      Point a = view_px(view, point(x0, y1)), b = view_px(view, point(x1, y0));
      cairo_rectangle(cr, a.x, a.y, b.x - a.x + 0.5, b.y - a.y + 0.5);
      ink_colour(cr, palette_stress(context->palette, ratio));
      cairo_fill(cr);
    }
  cairo_set_antialias(cr, CAIRO_ANTIALIAS_DEFAULT);
}

/* The field holds 1 N mm; the limit is divided in place of multiplying all values. */
static cairo_surface_t *piece_shade(const DrawContext *context, View view, int width, int height,
                                    const NotchPicture *p)
{
  double moment = bar_bending_share(p->setup, p->place) * p->reference_mpa / p->answer->plain_mpa;
  ShadeStyle style = shade_style(context->palette, p->limit_mpa / moment, context->scale);
  style.hatch_px = 6 * context->scale;
  return shade_surface(width, height, context->resolution > 0 ? context->resolution : 1, view,
                       p->shaded->sheet, p->shaded->value, &style);
}

static View piece_view(View view, double place)
{
  view.x += view.scale * place;
  return view;
}

/* How far to either side of the notch the piece is shown: farther off the bending is that of the
 * bar, not of the piece.  0: no piece. */
static double piece_reach(const NotchPicture *p)
{
  if (!p->answer || !p->shaded || !(bar_bending_share(p->setup, p->place) > 0) ||
      !(p->bar->depth > 0))
    return 0;
  bool even = p->setup->inner > 0 && fabs(p->place) < p->setup->inner / 2;
  double reach = fmin((even ? 6 : 2) * p->bar->depth, 0.8 * NOTCHED_BAR_HALF * p->bar->height);
  return p->small ? fmin(reach, p->setup->inner / 2) : reach;
}

static void clip_to_piece(cairo_t *cr, View own, const NotchPicture *p, double reach)
{
  Point a = view_px(own, point(-reach, p->bar->height)), b = view_px(own, point(reach, 0));
  cairo_rectangle(cr, a.x, a.y, b.x - a.x, b.y - a.y);
  cairo_clip(cr);
}

static void draw_piece(cairo_t *cr, int width, int height, const DrawContext *context, View view,
                       const NotchPicture *p)
{
  double reach = piece_reach(p);
  View own = piece_view(view, p->place);
  cairo_surface_t *shade = reach > 0 ? piece_shade(context, own, width, height, p) : NULL;
  if (!shade)
    return;
  cairo_save(cr);
  clip_to_piece(cr, own, p, reach);
  path_outline(cr, own, &p->answer->outline);
  fill_with(cr, shade);
  cairo_restore(cr);
  cairo_surface_destroy(shade);
}

/* Where squeeze turns to stretch: in the middle of the plain bar, as computed beside the notch. */
static void draw_zero(cairo_t *cr, const DrawContext *context, View view, const NotchPicture *p)
{
  double half = p->setup->span * (0.5 + OVERHANG), y = p->bar->height / 2,
         reach = p->zero && p->zero->n > 0 ? piece_reach(p) : 0;
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 1.3);
  ink_dash(cr, context, DOT_ZERO);
  draw_line(cr, view_px(view, point(-half, y)), view_px(view, point(p->place - reach, y)));
  draw_line(cr, view_px(view, point(p->place + reach, y)), view_px(view, point(half, y)));
  if (!(reach > 0))
    return;
  View own = piece_view(view, p->place);
  cairo_save(cr);
  clip_to_piece(cr, own, p, reach);
  path_lines(cr, own, p->zero);
  cairo_stroke(cr);
  cairo_restore(cr);
}

/* Half the width of the notch at the edge. */
static double notch_foot(const NotchedBar *b)
{
  double flank = b->open_deg / 2 * M_PI / 180, turn = M_PI / 2 - flank;
  double reach = b->radius * sin(turn), rise = b->radius * (1 - cos(turn));
  return reach + fmax(b->depth - rise, 0) * tan(flank);
}

/* The rim of the whole bar with its notch. */
static void path_bar(cairo_t *cr, View view, const NotchPicture *p)
{
  double half = p->setup->span * (0.5 + OVERHANG);
  Point corner[4] = {{-half, 0}, {-half, p->bar->height}, {half, p->bar->height}, {half, 0}};
  cairo_new_path(cr);
  for (int i = 0; i < 4; i++) {
    Point at = view_px(view, corner[i]);
    cairo_line_to(cr, at.x, at.y);
  }
  if (p->bar->depth > 0) {
    const NotchedBar *b = p->bar;
    double flank = b->open_deg / 2 * M_PI / 180, foot = notch_foot(b);
    Point right = view_px(view, point(p->place + foot, 0)),
          left = view_px(view, point(p->place - foot, 0)),
          centre = view_px(view, point(p->place, b->depth - b->radius));
    cairo_line_to(cr, right.x, right.y);
    cairo_arc_negative(cr, centre.x, centre.y, view.scale * b->radius, -flank, -M_PI + flank);
    cairo_line_to(cr, left.x, left.y);
  }
  cairo_close_path(cr);
}

static void draw_roller(cairo_t *cr, const DrawContext *context, Point at, double radius)
{
  path_circle(cr, at, radius);
  ink_use(cr, context, COLOUR_CARD);
  cairo_fill_preserve(cr);
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 1.6);
  cairo_stroke(cr);
}

static void draw_arrow(cairo_t *cr, const DrawContext *context, Point tip, double length)
{
  ink_use(cr, context, COLOUR_ACCENT);
  ink_width(cr, context, 2.6);
  draw_line(cr, point(tip.x, tip.y - length), point(tip.x, tip.y - px(context, 6)));
  cairo_move_to(cr, tip.x, tip.y);
  cairo_line_to(cr, tip.x - px(context, 5), tip.y - px(context, 9));
  cairo_line_to(cr, tip.x + px(context, 5), tip.y - px(context, 9));
  cairo_close_path(cr);
  cairo_fill(cr);
}

static void draw_rollers(cairo_t *cr, const DrawContext *context, View view, const NotchPicture *p)
{
  char buf[TEXT_ROOM];
  const BarSetup *s = p->setup;
  double r = px(context, around_of(p)->roller), arrow = px(context, around_of(p)->arrow), force = 0;
  for (int side = -1; side <= 1; side += 2) {
    Point low = view_px(view, point(side * s->span / 2, 0));
    draw_roller(cr, context, point(low.x, low.y + r + 1), r);
    if (side > 0 && !(s->inner > 0))
      continue; /* one roller in the middle */
    Point high = view_px(view, point(side * s->inner / 2, p->bar->height));
    draw_roller(cr, context, point(high.x, high.y - r - 1), r);
    draw_arrow(cr, context, point(high.x, high.y - 2 * r - px(context, 3)), arrow);
  }
  if (p->small)
    return;
  force = p->reference_mpa * 2 * p->bar->width * p->bar->height * p->bar->height /
          (3 * (s->span - s->inner));
  TextStyle bold = {TEXT_BODY, true, false, COLOUR_TEXT, ALIGN_LEFT};
  Point top = view_px(view, point(s->inner / 2, p->bar->height));
  text_draw(cr, context, bold, point(top.x + px(context, 14), top.y - px(context, 26)),
            say(context, buf, N_("{0} N"), force, 0, 0, 0));
  TextStyle small = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_CENTRE};
  Point low = view_px(view, point(0, 0));
  double y = low.y + px(context, 32);
  draw_dimension(cr, context, point(view_px(view, point(-s->span / 2, 0)).x, y),
                 point(view_px(view, point(s->span / 2, 0)).x, y));
  small.halo = true;
  text_draw(cr, context, small, point(low.x, y + px(context, 16)),
            say(context, buf, N_("span {0.1} mm"), s->span, 0, 0, 0));
}

static void draw_ring(cairo_t *cr, const DrawContext *context, Point spot)
{
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 1.6);
  path_circle(cr, spot, px(context, 8));
  cairo_stroke(cr);
}

/* The notch through the loupe, its figure beside it. */
static void draw_notch_spot(cairo_t *cr, int width, const DrawContext *context, View view,
                            const NotchPicture *p)
{
  double share = bar_bending_share(p->setup, p->place);
  char value[TEXT_ROOM], percent[TEXT_ROOM], times[TEXT_ROOM];
  say(context, value, N_("{0} MPa"), share * p->reference_mpa * p->answer->times, 0, 0, 0);
  say(context, percent, N_("± {0} %"), fmax(ceil(p->answer->band_percent), 1), 0, 0, 0);
  say(context, times, N_("{0.1} × a plain bar"), p->answer->times, 0, 0, 0);
  TextStyle figure = {TEXT_FIGURE, true, false, COLOUR_TEXT, ALIGN_LEFT},
            band = {TEXT_BODY, false, false, COLOUR_DIM, ALIGN_LEFT},
            small = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT};
  double text = fmax(text_width(cr, context, figure, value) + px(context, 10) +
                         text_width(cr, context, band, percent),
                     text_width(cr, context, small, times));
  Box plate = {0, NAN, text + px(context, 24), px(context, 54)};
  bool notched = p->bar->depth > 0;
  double radius = notched ? px(context, 56) : 0, gap = px(context, 10), off = px(context, 30);
  Point spot = view_px(view, point(p->place, notched ? p->bar->depth : 0));
  double middle = view_px(view, point(0, p->bar->height / 2)).y, loupe = off + 2 * radius,
         all = loupe + gap + plate.width, left = spot.x - 4, right = width - 4 - spot.x;
  Point centre = point(spot.x + off + radius, middle);
  double end = view_px(view, point(p->setup->span * (0.5 + OVERHANG), 0)).x;
  if (notched && width - 4 - end >= 2 * (radius + gap) + plate.width) { /* beside the bar */
    centre.x = end + gap + radius;
    plate.x = end + 2 * (gap + radius);
  } else if (width - 4 - end >= gap + plate.width) { /* beside it, the figure below the loupe */
    radius = notched ? px(context, STACKED_LOUPE) : 0;
    plate.x = end + gap;
    plate.y = notched ? middle + radius + gap / 2 - plate.height / 2 : middle - plate.height / 2;
    centre = point(plate.x + plate.width / 2, plate.y - gap - radius);
  } else if (right >= all)
    plate.x = spot.x + loupe + gap;
  else if (left >= all) {
    centre.x = spot.x - off - radius;
    plate.x = spot.x - all;
  } else if (notched && left >= loupe && right >= off + plate.width) { /* one at each side */
    centre.x = spot.x - off - radius;
    plate.x = spot.x + off;
  } else { /* the figure alone */
    notched = false;
    plate.x = right >= off + plate.width ? spot.x + off : fmax(spot.x - off - plate.width, 4);
  }
  if (isnan(plate.y))
    plate.y = middle - plate.height / 2;
  draw_ring(cr, context, spot);
  if (notched) {
    View near = {radius / (1.6 * p->bar->depth), 0, 0};
    near.x = radius - near.scale * p->answer->at.x;
    near.y = radius + near.scale * fmax(p->answer->at.y, p->bar->depth * 0.8);
    cairo_surface_t *shade =
        piece_shade(context, near, (int)ceil(2 * radius), (int)ceil(2 * radius), p);
    cairo_save(cr);
    path_circle(cr, centre, radius);
    cairo_clip(cr);
    ink_use(cr, context, COLOUR_PAPER);
    cairo_paint(cr);
    cairo_translate(cr, centre.x - radius, centre.y - radius);
    if (shade) {
      path_outline(cr, near, &p->answer->outline);
      fill_with(cr, shade);
      cairo_surface_destroy(shade);
    }
    ink_use(cr, context, COLOUR_INK);
    ink_width(cr, context, 2.2);
    path_outline(cr, near, &p->answer->outline);
    cairo_stroke(cr);
    cairo_restore(cr);
    path_circle(cr, centre, radius);
    cairo_stroke(cr);
  }
  draw_plate(cr, context, plate, palette_colour(context->palette, COLOUR_INK), 1.4);
  double w = text_draw(cr, context, figure,
                       point(plate.x + px(context, 12), plate.y + px(context, 24)), value);
  text_draw(cr, context, band, point(plate.x + px(context, 22) + w, plate.y + px(context, 24)),
            percent);
  text_draw(cr, context, small, point(plate.x + px(context, 12), plate.y + px(context, 44)), times);
}

/* Where there is room for them; a word never covers the notch. */
static void draw_side_words(cairo_t *cr, const DrawContext *context, View view,
                            const NotchPicture *p)
{
  if (view.scale * p->bar->height < px(context, WORDS_LEAST))
    return;
  TextStyle style = {TEXT_NOTE, false, true, COLOUR_TEXT, ALIGN_LEFT};
  const char *low = text_word(context, N_("stretched"));
  double end = view_px(view, point(-p->setup->span * (0.5 + OVERHANG), 0)).x,
         left = p->small ? end + px(context, 7)
                         : view_px(view, point(-p->setup->span / 2 * 0.92, 0)).x,
         notch = fmin(view_px(view, point(p->place - notch_foot(p->bar), 0)).x,
                      view_px(view, point(p->place, 0)).x - px(context, 8)) -
                 px(context, 4); /* with the ring around its root */
  text_draw(cr, context, style,
            point(left, view_px(view, point(0, p->bar->height)).y + px(context, 17)),
            text_word(context, N_("squeezed")));
  if (!p->small || left + text_width(cr, context, style, low) < notch)
    text_draw(cr, context, style, point(left, view_px(view, point(0, 0)).y - px(context, 7)), low);
}

void picture_notch(cairo_t *cr, int width, int height, const DrawContext *context,
                   const NotchPicture *p)
{
  if (width < 80 || height < 80 || !(p->limit_mpa > 0) || !(p->bar->height > 0))
    return;
  View view = notch_view(width, height, context, p);
  cairo_save(cr);
  path_bar(cr, view, p);
  cairo_clip(cr);
  draw_plain(cr, context, view, p);
  draw_piece(cr, width, height, context, view, p);
  cairo_restore(cr);
  draw_zero(cr, context, view, p);
  ink_width(cr, context, 2);
  path_bar(cr, view, p);
  cairo_stroke(cr);
  draw_side_words(cr, context, view, p);
  draw_rollers(cr, context, view, p);
  if (!p->answer || !p->shaded || !(bar_bending_share(p->setup, p->place) > 0))
    return;
  if (p->small)
    draw_ring(cr, context, view_px(piece_view(view, p->place), p->answer->at));
  else
    draw_notch_spot(cr, width, context, view, p);
}
