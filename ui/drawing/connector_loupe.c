/* connector_loupe.c - the hot spot: ring, loupe with the same field enlarged, plate with its
 * figure. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/connector_layers.h"

#define LOUPE_PX 64.0
#define RING_PX 14.0
#define PLATE_GAP_PX 9.0
#define CANDIDATES 144

typedef struct {
  Box loupe, plate, all;
} LoupePlace;

static const TextStyle figure = {TEXT_FIGURE, true, false, COLOUR_TEXT, ALIGN_LEFT};
static const TextStyle band = {TEXT_BODY, false, false, COLOUR_TEXT, ALIGN_LEFT};
static const TextStyle note = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT};

/* "612 MPa", "± 2 %" or "0–1300", "1.3 × the limit" */
static void plate_words(const ConnectorSheet *s, char value[], char percent[], char ratio[])
{
  const Banded *b = &s->peak_mpa;
  say(s->context, value, N_("{0} MPa"), b->value, 0, 0, 0);
  say_spread(s->context, percent, *b);
  double limit = s->answer->strength_mpa.value, times = b->value / limit;
  ratio[0] = '\0';
  if (limit > 0 && isfinite(times))
    say(s->context, ratio, times >= 1 ? N_("{0.1} × the limit") : N_("{0.2} of the limit"), times,
        0, 0, 0);
}

static Box plate_size(const ConnectorSheet *s, const char *value, const char *percent,
                      const char *ratio)
{
  double upper = text_width(s->cr, s->context, figure, value) + px(s->context, 10) +
                 text_width(s->cr, s->context, band, percent);
  double lower = text_width(s->cr, s->context, note, ratio);
  return (Box){0, 0, fmax(upper, lower) + px(s->context, 26), px(s->context, ratio[0] ? 52 : 34)};
}

/* The plate stands beside the loupe, away from the hot spot, or below it where the drawing is
 * narrow. */
static LoupePlace place_at(const ConnectorSheet *s, Point hot, Point away, bool below, Box plate,
                           double radius)
{
  bool plate_right = away.x > 0;
  LoupePlace p;
  Point c = point(hot.x + away.x, hot.y + away.y);
  double gap = px(s->context, PLATE_GAP_PX);
  p.loupe = (Box){c.x - radius, c.y - radius, 2 * radius, 2 * radius};
  p.plate = plate;
  if (below) {
    p.plate.x = c.x - plate.width / 2;
    p.plate.y = c.y + radius + gap;
    p.all = (Box){fmin(p.loupe.x, p.plate.x), p.loupe.y, fmax(2 * radius, plate.width),
                  2 * radius + gap + plate.height};
    return p;
  }
  p.plate.x = plate_right ? c.x + radius + gap : c.x - radius - gap - plate.width;
  p.plate.y = c.y - plate.height / 2;
  p.all = plate_right ? p.loupe : p.plate;
  p.all.y = p.loupe.y;
  p.all.height = fmax(2 * radius, plate.height);
  p.all.width = 2 * radius + gap + plate.width;
  return p;
}

static void draw_loupe(const ConnectorSheet *s, Point hot, Box box, double ring)
{
  cairo_t *cr = s->cr;
  double radius = box.width / 2, enlarge = radius / ring;
  Point centre = point(box.x + radius, box.y + radius), mm = view_mm(s->view, hot);
  View view = {s->view.scale * enlarge, 0, 0};
  view.x = radius - view.scale * mm.x;
  view.y = radius + view.scale * mm.y;
  double resolution = s->context->resolution > 0 ? s->context->resolution : 1;
  ShadeStyle style = shade_style(s->context->palette, s->limit_mpa, s->context->scale);
  int size = (int)ceil(2 * radius);
  cairo_surface_t *shade = shade_surface(size, size, resolution, view, s->ink->shaded->sheet,
                                         s->ink->shaded->value, &style);
  cairo_save(cr);
  path_circle(cr, centre, radius);
  cairo_clip(cr);
  ink_use(cr, s->context, COLOUR_PAPER);
  cairo_paint(cr);
  cairo_translate(cr, box.x, box.y);
  if (shade) {
    path_outline(cr, view, &s->drawn->side[SIDE_GINGIVAL]);
    path_outline_on(cr, view, &s->drawn->side[SIDE_OCCLUSAL], true);
    cairo_close_path(cr);
    fill_with(cr, shade);
    cairo_surface_destroy(shade);
  }
  ink_use(cr, s->context, COLOUR_INK);
  ink_width(cr, s->context, 2.6);
  path_outline(cr, view, &s->drawn->side[SIDE_GINGIVAL]);
  cairo_stroke(cr);
  ink_width(cr, s->context, 1.4);
  path_outline(cr, view, &s->drawn->side[SIDE_OCCLUSAL]);
  cairo_stroke(cr);
  cairo_restore(cr);
  ink_use(cr, s->context, COLOUR_INK);
  ink_width(cr, s->context, 2);
  path_circle(cr, centre, radius);
  cairo_stroke(cr);
}

/* From the rim of the ring to a place outside it. */
static void draw_leader(const ConnectorSheet *s, Point hot, double ring, Point to)
{
  Point d = point_sub(to, hot);
  double length = point_length(d);
  if (!(length > ring))
    return;
  ink_use(s->cr, s->context, COLOUR_INK);
  ink_width(s->cr, s->context, 1.6);
  draw_line(s->cr, point_add(hot, point_scale(d, ring / length)), to);
}

static void draw_hot_plate(const ConnectorSheet *s, Box plate, const char *value,
                           const char *percent, const char *ratio)
{
  draw_plate(s->cr, s->context, plate, palette_colour(s->context->palette, COLOUR_INK), 1.6);
  Point at = point(plate.x + px(s->context, 12), plate.y + px(s->context, 23));
  double width = text_draw(s->cr, s->context, figure, at, value);
  text_draw(s->cr, s->context, band, point(at.x + width + px(s->context, 10), at.y), percent);
  text_draw(s->cr, s->context, note, point(at.x, plate.y + px(s->context, 43)), ratio);
}

/* Nearest point of a box to p. */
static Point box_nearest(Box box, Point p)
{
  return point(fmin(fmax(p.x, box.x), box.x + box.width),
               fmin(fmax(p.y, box.y), box.y + box.height));
}

/* Plate alone, near the hot spot, where the loupe finds no room. */
static void draw_plate_alone(const ConnectorSheet *s, Places *places, Point hot, double ring,
                             Box plate, char words[3][TEXT_ROOM])
{
  Box candidate[8];
  size_t n = 0;
  for (int k = 0; k < 4; k++)
    for (int side = 1; side >= -1; side -= 2) {
      double dy = (k % 2 ? 1 : -1) * (k / 2 + 0.6) * plate.height, gap = ring + px(s->context, 26);
      candidate[n++] = (Box){side > 0 ? hot.x + gap : hot.x - gap - plate.width,
                             hot.y + dy - plate.height / 2, plate.width, plate.height};
    }
  int found = places_find(places, candidate, n);
  if (found < 0)
    return;
  draw_leader(s, hot, ring, box_nearest(candidate[found], hot));
  draw_hot_plate(s, candidate[found], words[0], words[1], words[2]);
}

void draw_hot_spot(const ConnectorSheet *s, Places *places)
{
  Point hot = view_px(s->view, point(s->peak->at.x, s->peak->at.y));
  double ring = px(s->context, RING_PX);
  char words[3][TEXT_ROOM];
  plate_words(s, words[0], words[1], words[2]);
  Box plate = plate_size(s, words[0], words[1], words[2]);
  path_circle(s->cr, hot, ring);
  ink_stroke_haloed(s->cr, s->context, palette_colour(s->context->palette, COLOUR_INK), 2, NULL);
  static const double away_x[] = {155, 130, 190}, away_y[] = {-57, -100, -20, -150, 40, 90};
  const double factor[] = {1, 0.75};
  LoupePlace place[CANDIDATES];
  Box candidate[CANDIDATES];
  for (size_t i = 0; i < CANDIDATES;
       i++) { /* right before left, near before far, beside before below, large before small */
    size_t y = i / 2 % 6, x = i / 12 % 3, below = i / 36 % 2, f = i / 72;
    double reach = px(s->context, away_x[x]) * factor[f];
    Point away = point(i % 2 ? -reach : reach, px(s->context, away_y[y]));
    place[i] = place_at(s, hot, away, below == 1, plate, px(s->context, LOUPE_PX) * factor[f]);
    candidate[i] = place[i].all;
  }
  int found = s->ink ? places_find(places, candidate, CANDIDATES) : -1;
  if (found < 0) {
    draw_plate_alone(s, places, hot, ring, plate, words);
    return;
  }
  Box loupe = place[found].loupe;
  Point centre = point(loupe.x + loupe.width / 2, loupe.y + loupe.height / 2),
        d = point_sub(hot, centre);
  draw_leader(s, hot, ring, point_add(centre, point_scale(d, loupe.width / 2 / point_length(d))));
  draw_loupe(s, hot, loupe, ring);
  draw_hot_plate(s, place[found].plate, words[0], words[1], words[2]);
}
