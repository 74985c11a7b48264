/* picture_depth.c - see picture_depth.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The hot spot is ringed where it is seen; behind the body its ring is dashed. */
#include "ui/drawing/picture_depth.h"
#include "ui/drawing/picture_connector.h"

#define RING_PX 9
#define EDGE_PX 20
#define LEVEL_RAD 0.18 /* less tilt is called level */

/* The middle of the skin and the radius around it that any turning stays in. */
static double skin_extent(const FieldSheet *sheet, Vec3 *middle)
{
  double low[3] = {INFINITY, INFINITY, INFINITY}, high[3] = {-INFINITY, -INFINITY, -INFINITY},
         square = 0;
  for (size_t i = 0; i < sheet->n_vertex; i++) {
    const double p[3] = {sheet->at[i].x, sheet->at[i].y, (double)sheet->skin[i].z};
    for (int k = 0; k < 3; k++) {
      low[k] = fmin(low[k], p[k]);
      high[k] = fmax(high[k], p[k]);
    }
  }
  for (int k = 0; k < 3; k++)
    square += (high[k] - low[k]) * (high[k] - low[k]) / 4;
  *middle = (Vec3){(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2};
  return sqrt(square);
}

void depth_words(const Assessment *a, size_t connector, DepthEye eye, const char *words[2])
{
  /* four looks around: cheek, right end, tongue, left end */
  int quarter = (int)lround(eye.turn / (M_PI / 2));
  quarter = ((quarter % 4) + 4) % 4;
  bool distal_right = connector_distal_right(&a->c, connector);
  words[0] = quarter == 0                     ? N_("from the cheek")
             : quarter == 2                   ? N_("from the tongue")
             : (quarter == 1) == distal_right ? N_("from distal")
                                              : N_("from mesial");
  words[1] = eye.tilt < -LEVEL_RAD  ? N_("and from the gum side")
             : eye.tilt > LEVEL_RAD ? N_("and from the biting side")
                                    : "";
}

static void draw_peak(cairo_t *cr, int width, int height, const DrawContext *context,
                      const DepthView *view, const DepthRaster *raster,
                      const ConnectorAssessment *c)
{
  DepthPlace hot = depth_place(view, c->trial_peak.at);
  bool seen = depth_raster_sees(raster, hot);
  double ring = px(context, RING_PX);
  char buf[TEXT_ROOM], band[TEXT_ROOM];
  TextStyle figure = {TEXT_FIGURE, true, false, COLOUR_TEXT, ALIGN_LEFT},
            note = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT};
  say(context, buf, N_("{0.0} MPa"), c->trial_peak_mpa.value, 0, 0, 0);
  say_spread(context, band, c->trial_peak_mpa);
  const char *where = text_word(context, seen ? N_("hot spot") : N_("hot spot, behind"));
  double wide = fmax(text_width(cr, context, figure, buf) + px(context, 10) +
                         text_width(cr, context, note, band),
                     text_width(cr, context, note, where)) +
                px(context, 24);
  bool left = hot.px.x > width / 2.0;
  Box plate = {left ? hot.px.x - px(context, 70) - wide : hot.px.x + px(context, 70),
               hot.px.y + px(context, 46), wide, px(context, 52)};
  plate.x = fmin(fmax(plate.x, 8), fmax(8, width - plate.width - 8));
  plate.y = fmin(fmax(plate.y, 8), fmax(8, height - plate.height - 8));
  ink_use(cr, context, COLOUR_PAPER); /* a halo: the spot is as dark as the ring */
  ink_width(cr, context, 4.6);
  path_circle(cr, hot.px, ring);
  cairo_stroke(cr);
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 2);
  if (!seen)
    ink_dash(cr, context, DASH_GHOST);
  path_circle(cr, hot.px, ring);
  cairo_stroke(cr);
  ink_width(cr, context, 1.4);
  Point to = point(left ? plate.x + plate.width : plate.x, plate.y + plate.height / 2),
        d = point_sub(to, hot.px);
  double away = point_length(d);
  if (away > ring)
    draw_line(cr, point_add(hot.px, point_scale(d, ring / away)), to);
  draw_plate(cr, context, plate, palette_colour(context->palette, COLOUR_INK), 1.6);
  double x = plate.x + px(context, 12), y = plate.y + px(context, 23);
  x += text_draw(cr, context, figure, point(x, y), buf) + px(context, 10);
  text_draw(cr, context, note, point(x, y), band);
  text_draw(cr, context, note, point(plate.x + px(context, 12), y + px(context, 20)), where);
}

/* What is seen from where, and the ends of the connector by their tooth. */
static void draw_titles(cairo_t *cr, const DrawContext *context, const Assessment *a,
                        size_t connector, const DepthView *view, DepthEye eye)
{
  char buf[TEXT_ROOM];
  const char *words[2];
  TextStyle title = {TEXT_BODY, true, false, COLOUR_TEXT, ALIGN_LEFT},
            note = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT},
            tooth = {TEXT_BODY, true, true, COLOUR_DIM, ALIGN_CENTRE};
  depth_words(a, connector, eye, words);
  Phrase phrase = {.text = N_("Connector {name} in depth")};
  g_strlcpy(phrase.name, a->connector[connector].name, sizeof phrase.name);
  text_draw(cr, context, title, point(px(context, 18), px(context, 26)),
            say_phrase(context, buf, phrase));
  g_autofree char *look = g_strconcat(text_word(context, words[0]), *words[1] ? " " : "",
                                      *words[1] ? text_word(context, words[1]) : "", NULL);
  text_draw(cr, context, note, point(px(context, 18), px(context, 46)), look);
  for (int end = 0; end < 2; end++) { /* beyond the cut ends */
    const Unit *unit = &a->c.unit[connector + (size_t)end];
    Vec3 at = view->about;
    at.x += (end ? 1 : -1) * (unit->length / 2 + 0.9);
    g_autofree char *number = g_strdup_printf("%d", unit->tooth);
    Point p = depth_place(view, at).px;
    text_draw(cr, context, tooth, point(p.x, p.y + px(context, 5)), number);
  }
}

void picture_depth(cairo_t *cr, int width, int height, const DrawContext *context,
                   const Assessment *a, size_t connector, DepthEye eye, bool fine)
{
  if (width <= 0 || height <= 0 || connector >= a->n_connector)
    return;
  const ConnectorAssessment *c = &a->connector[connector];
  Shaded *shaded = NULL;
  ink_use(cr, context, COLOUR_PAPER);
  cairo_rectangle(cr, 0, 0, width, height);
  cairo_fill(cr);
  if (!c->field || shaded_new(c->field, SHEET_SKIN, c->trial, &shaded)) {
    TextStyle style = {TEXT_BODY, false, false, COLOUR_DIM, ALIGN_CENTRE};
    text_draw(
        cr, context, style, point(width / 2.0, height / 2.0),
        text_word(context, N_("No picture in depth: this line is not answered by the solid.")));
    return;
  }
  DepthView view = {.turn = eye.turn, .tilt = eye.tilt};
  double reach = skin_extent(shaded->sheet, &view.about);
  view.centre = point(width / 2.0, height / 2.0 + px(context, 8));
  view.scale = fmax(1, eye.zoom * (fmin(width, height) / 2.0 - px(context, EDGE_PX)) / reach);
  ShadeStyle style = shade_style(context->palette, connector_limit(c, false), context->scale);
  DepthRaster raster;
  double resolution = (context->resolution > 0 ? context->resolution : 1) * (fine ? 2 : 1);
  if (depth_raster_new(width, height, resolution, &view, shaded, &style, &raster) == FAULT_NONE) {
    cairo_set_source_surface(cr, raster.surface, 0, 0);
    cairo_paint(cr);
    draw_titles(cr, context, a, connector, &view, eye);
    if (isfinite(c->trial_peak_mpa.value))
      draw_peak(cr, width, height, context, &view, &raster, c);
    depth_raster_clear(&raster);
  }
  shaded_free(shaded);
}
