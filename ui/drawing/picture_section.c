/* picture_section.c - see picture_section.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_section.h"
#include "mechanics/drawn_section.h"
#include "ui/drawing/picture_connector.h"

#define OVAL 96 /* points of the oval that stands in for a section without an answer */

typedef struct {
  Box extent; /* mm: x = lowest z, y = lowest y */
  Point lowest;
} SectionSize;

static SectionSize section_size(const ConnectorAssessment *c, const FieldSheet *sheet)
{
  double low = c->form.neck_low.y, high = c->form.neck_high.y, half = c->form.neck_width / 2;
  SectionSize size = {{-half, low, 2 * half, high - low}, point(0, low)};
  if (!sheet)
    return size;
  Point from = point(INFINITY, INFINITY), to = point(-INFINITY, -INFINITY);
  for (size_t i = 0; i < sheet->n_vertex; i++) {
    Point p = sheet->at[i];
    if (p.y < from.y)
      size.lowest = p;
    from = point(fmin(from.x, p.x), fmin(from.y, p.y));
    to = point(fmax(to.x, p.x), fmax(to.y, p.y));
  }
  size.extent = (Box){from.x, from.y, to.x - from.x, to.y - from.y};
  return size;
}

/* The rim of the mesh as a smooth closed line through its points (Catmull-Rom): a section by
 * roundness has no corners. */
static void path_round(cairo_t *cr, View view, const LineSet *rim)
{
  cairo_new_path(cr);
  for (size_t line = 0; line < rim->n_line; line++) {
    const Point *at = rim->at + rim->start[line];
    size_t n = rim->start[line + 1] - rim->start[line];
    if (n < 4 || point_distance(at[0], at[n - 1]) > 0)
      continue; /* not closed: no section */
    n--;        /* the last point repeats the first */
    Point first = view_px(view, at[0]);
    cairo_move_to(cr, first.x, first.y);
    for (size_t i = 0; i < n; i++) {
      Point p[4];
      for (size_t k = 0; k < 4; k++)
        p[k] = view_px(view, at[(i + n + k - 1) % n]);
      Point c1 = point_add(p[1], point_scale(point_sub(p[2], p[0]), 1.0 / 6));
      Point c2 = point_sub(p[2], point_scale(point_sub(p[3], p[1]), 1.0 / 6));
      cairo_curve_to(cr, c1.x, c1.y, c2.x, c2.y, p[2].x, p[2].y);
    }
    cairo_close_path(cr);
  }
}

/* A drawn section has them. */
static void path_rim(cairo_t *cr, View view, const LineSet *rim, const Outline *drawn)
{
  if (drawn->n == 0) {
    path_round(cr, view, rim);
    return;
  }
  cairo_new_path(cr);
  path_outline(cr, view, drawn);
  cairo_close_path(cr);
}

/* The drawn section in its place; empty by roundness, or where it cannot stand. */
static void drawn_place(const Assessment *a, size_t connector, Outline *drawn)
{
  const Form *form = &a->connector[connector].form;
  const Outline *section = connector_section(&a->c.connector[connector]);
  double half = form->neck_height / 2;
  if (section && section_scale(section, half, half, form->neck_buccal, form->neck_lingual,
                               form->neck_y, drawn))
    outline_clear(drawn);
}

static void draw_stress(cairo_t *cr, int width, int height, const DrawContext *context, View view,
                        const Shaded *shaded, double limit, const LineSet *rim,
                        const Outline *drawn)
{
  double resolution = context->resolution > 0 ? context->resolution : 1;
  ShadeStyle style = shade_style(context->palette, limit, context->scale);
  style.hatch_px = 6 * context->scale;
  cairo_surface_t *shade =
      shade_surface(width, height, resolution, view, shaded->sheet, shaded->value, &style);
  path_rim(cr, view, rim, drawn);
  fill_with(cr, shade);
  cairo_surface_destroy(shade);
  LineSet zero;
  if (contour_find(shaded->sheet, shaded->balance, 0, &zero) != FAULT_NONE)
    return;
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 1.3);
  ink_dash(cr, context, DOT_ZERO);
  path_lines(cr, view, &zero);
  cairo_stroke(cr);
  line_set_clear(&zero);
}

static void path_oval(cairo_t *cr, View view, Box e)
{
  for (int i = 0; i < OVAL; i++) {
    double a = 2 * M_PI * i / OVAL;
    Point p =
        view_px(view, point(e.x + e.width / 2 * (1 + cos(a)), e.y + e.height / 2 * (1 + sin(a))));
    cairo_line_to(cr, p.x, p.y);
  }
  cairo_close_path(cr);
}

/* Area in the middle, height at the right, the most stretched side below (above when the load
 * lifts). */
static void draw_figures(cairo_t *cr, int width, const DrawContext *context, View view,
                         const ConnectorAssessment *c, Box e, bool lifted, bool unshaded)
{
  char buf[TEXT_ROOM];
  TextStyle area = {TEXT_BODY, true, true, COLOUR_TEXT, ALIGN_CENTRE};
  TextStyle label = {TEXT_BODY, false, false, COLOUR_TEXT, ALIGN_LEFT};
  TextStyle note = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_CENTRE};
  Point low = view_px(view, point(e.x + e.width / 2, e.y)),
        high = view_px(view, point(e.x + e.width / 2, e.y + e.height));
  double right = view_px(view, point(e.x + e.width, 0)).x + px(context, 16), size = low.y - high.y;
  if (c->section.area > 0 && size > px(context, 46))
    text_draw(cr, context, area, point(low.x, high.y + (lifted ? 0.72 : 0.36) * size),
              say(context, buf, N_("{0.1} mm²"), c->section.area, 0, 0, 0));
  if (right < width - px(context, 30)) {
    draw_dimension(cr, context, point(right, low.y), point(right, high.y));
    text_draw(cr, context, label,
              point(right + px(context, 7), (low.y + high.y) / 2 + px(context, 5)),
              say_number(context, buf, c->form.neck_height, 2));
  }
  double tip = lifted ? high.y - px(context, 3) : low.y + px(context, 3),
         down = lifted ? -px(context, 9) : px(context, 9);
  if (!unshaded) {
    ink_use(cr, context, COLOUR_TEXT);
    cairo_move_to(cr, low.x, tip);
    cairo_line_to(cr, low.x - px(context, 6), tip + down);
    cairo_line_to(cr, low.x + px(context, 6), tip + down);
    cairo_close_path(cr);
    cairo_fill(cr);
  }
  const char *words = text_word(context, unshaded ? UNSHADED_WORDS
                                         : lifted ? N_("biting side, most stretched")
                                                  : N_("gum side, most stretched"));
  double half = text_width(cr, context, note, words) / 2;
  double x = fmin(fmax(low.x, half + 1), fmax(width - half - 1, half + 1));
  text_draw(cr, context, note,
            point(x, lifted ? high.y - px(context, 18) : low.y + px(context, 27)), words);
}

void picture_section(cairo_t *cr, int width, int height, const DrawContext *context,
                     const Assessment *a, size_t connector, bool at_order, const Shaded *shaded)
{
  if (width <= 0 || height <= 0 || connector >= a->n_connector)
    return;
  const ConnectorAssessment *c = &a->connector[connector];
  NeckLoad load = at_order ? c->order : c->trial;
  Shaded *own = NULL;
  if (!shaded && c->field && shaded_new(c->field, SHEET_NECK, load, &own) == FAULT_NONE)
    shaded = own;
  LineSet rim = {0};
  if (shaded && contour_rim(shaded->sheet, &rim) != FAULT_NONE)
    shaded = NULL;
  Outline drawn;
  outline_init(&drawn);
  drawn_place(a, connector, &drawn);
  SectionSize size = section_size(c, shaded ? shaded->sheet : NULL);
  Box e = size.extent;
  if (e.width > 0 && e.height > 0 && isfinite(e.width + e.height + e.x + e.y)) {
    bool lifted = load.moment_n_mm < 0;
    double words = fmin(px(context, 34), height / 3.0), side = fmin(px(context, 58), width * 0.3);
    View view = {fmin((width - side - px(context, 14)) / e.width,
                      (height - words - px(context, 8)) / e.height),
                 0, 0};
    view.scale = fmax(view.scale, 1);
    view.x = (width - side) / 2 + px(context, 4) - view.scale * (e.x + e.width / 2);
    view.y = (lifted ? height - px(context, 4) : px(context, 4) + view.scale * e.height) +
             view.scale * e.y;
    cairo_save(cr);
    cairo_new_path(cr);
    if (shaded)
      draw_stress(cr, width, height, context, view, shaded, connector_limit(c, at_order), &rim,
                  &drawn);
    ink_use(cr, context, COLOUR_INK);
    ink_width(cr, context, 2);
    if (shaded || drawn.n > 0)
      path_rim(cr, view, &rim, &drawn);
    else
      path_oval(cr, view, e);
    cairo_stroke(cr);
    draw_figures(cr, width, context, view, c, e, lifted, !shaded && c->field);
    cairo_restore(cr);
  }
  outline_clear(&drawn);
  line_set_clear(&rim);
  shaded_free(own);
}
