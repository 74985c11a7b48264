/* picture_compare.c - see picture_compare.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_compare.h"

#define HATCH_SHARE 0.15 /* of the limit: from here on "more" is hatched */
#define LEAST_TOLD 0.02  /* of the limit: smaller differences bear no figure */
#define BELOW_PX 30.0
#define HEAD_PX 30.0 /* that name and figures take above the connector's own margin */
#define LAYERS_BESIDE                                                                              \
  (LAYER_PAPER | LAYER_GRID | LAYER_GUM | LAYER_BODY | LAYER_SHADE | LAYER_ZERO | LAYER_OUTLINE |  \
   LAYER_NECK)
#define LAYERS_UNDER (LAYER_PAPER | LAYER_GRID | LAYER_GUM | LAYER_BODY)

static const TextStyle title = {TEXT_BODY, true, true, COLOUR_TEXT, ALIGN_LEFT};
static const TextStyle figure = {TEXT_BODY, true, true, COLOUR_TEXT, ALIGN_CENTRE};
static const TextStyle note = {TEXT_NOTE, false, true, COLOUR_DIM, ALIGN_LEFT};

View compare_view(const ComparePicture *p, int width, int height, const DrawContext *context)
{
  int head = (int)fmin(px(context, HEAD_PX), height * 0.12);
  View view = connector_view_above(p->today, p->connector, width, height - head, BELOW_PX, context);
  view.y += head;
  return view;
}

static void one_side(cairo_t *cr, int width, int height, const DrawContext *context,
                     const ComparePicture *p, bool other)
{
  const Assessment *a = other ? p->other : p->today;
  const ConnectorAssessment *k = &a->connector[p->connector];
  char buf[TEXT_ROOM];
  ConnectorPicture picture = connector_picture(a, p->connector, width, height, context);
  picture.view = compare_view(p, width, height, context);
  picture.layers = LAYERS_BESIDE;
  picture_connector(cr, width, height, context, &picture);
  double x = px(context, 12);
  text_draw(cr, context, title, point(x, px(context, 22)),
            other ? p->name : text_word(context, N_("As drawn")));
  say(context, buf, N_("{0} MPa ({1} to {2})"), k->trial_peak_mpa.value, k->trial_peak_mpa.low,
      k->trial_peak_mpa.high, 0);
  text_draw(cr, context, note, point(x, px(context, 40)), buf);
}

/* A sign and a figure where the pull changes most, led from its place. */
static void place_mark(cairo_t *cr, const DrawContext *context, View view, Point at, double mpa,
                       double up_px, double aside_px)
{
  char buf[TEXT_ROOM];
  Point p = view_px(view, at), to = point(p.x + px(context, aside_px), p.y - px(context, up_px));
  say(context, buf, N_("{0+} MPa"), mpa, 0, 0, 0);
  ink_use(cr, context, COLOUR_INK);
  ink_width(cr, context, 1.2);
  path_circle(cr, p, px(context, 4));
  cairo_stroke(cr);
  draw_line(cr, point(p.x, p.y - px(context, 4)), to);
  text_draw(cr, context, figure, point(to.x, to.y - px(context, 4)), buf);
}

static void body_clip(cairo_t *cr, View view, const Connector *k)
{
  path_outline(cr, view, &k->side[SIDE_GINGIVAL]);
  path_outline_on(cr, view, &k->side[SIDE_OCCLUSAL], true);
  cairo_close_path(cr);
  cairo_clip(cr);
}

static void superimposed(cairo_t *cr, int width, int height, const DrawContext *context,
                         const ComparePicture *p)
{
  const Connector *now = &p->today->c.connector[p->connector],
                  *then = &p->other->c.connector[p->connector];
  ConnectorPicture picture = connector_picture(p->today, p->connector, width, height, context);
  View view = picture.view = compare_view(p, width, height, context);
  picture.layers = LAYERS_UNDER;
  picture_connector(cr, width, height, context, &picture);
  double limit = connector_limit(&p->today->connector[p->connector], false);
  const Difference *d = p->difference;
  if (d) {
    ShadeStyle style = shade_style(context->palette, HATCH_SHARE * limit, context->scale);
    cairo_surface_t *shade =
        shade_surface(width, height, context->resolution > 0 ? context->resolution : 1, view,
                      d->sheet, d->value, &style);
    cairo_save(cr);
    body_clip(cr, view, now);
    body_clip(cr, view, then);
    cairo_rectangle(cr, 0, 0, width, height);
    fill_with(cr, shade);
    cairo_restore(cr);
    if (shade)
      cairo_surface_destroy(shade);
  }
  ink_use(cr, context, COLOUR_INK); /* as drawn: solid; the other: it could be so */
  ink_width(cr, context, 2.6);
  path_outline(cr, view, &now->side[SIDE_GINGIVAL]);
  cairo_stroke(cr);
  ink_width(cr, context, 1.4);
  path_outline(cr, view, &now->side[SIDE_OCCLUSAL]);
  cairo_stroke(cr);
  path_outline(cr, view, &then->side[SIDE_GINGIVAL]);
  path_outline(cr, view, &then->side[SIDE_OCCLUSAL]);
  draw_ghost_line(cr, context);
  double aside = d && d->least_at.x > d->most_at.x ? 56 : -56; /* leads do not cross */
  if (d && d->least < -LEAST_TOLD * limit)
    place_mark(cr, context, view, d->least_at, d->least, 70, aside);
  if (d && d->most > LEAST_TOLD * limit)
    place_mark(cr, context, view, d->most_at, d->most, 70, -aside);
  double x = px(context, 12);
  text_draw(cr, context, title, point(x, px(context, 22)), p->name);
  text_draw(cr, context, note, point(x, px(context, 40)),
            text_word(context, N_("dashed; solid is as drawn")));
  bool alike = p->today->connector[p->connector].field->answer ==
               p->other->connector[p->connector].field->answer;
  text_draw(cr, context, note, point(x, height - px(context, 9)),
            text_word(context, !d      ? N_("no difference is known")
                               : alike ? N_("warm, hatched: pulled more; cool: pulled less")
                                       : N_("warm, hatched: pulled more; cool: pulled less. One "
                                            "solid, one plane: small differences say nothing.")));
}

void picture_compare(cairo_t *cr, int width, int height, const DrawContext *context,
                     const ComparePicture *p)
{
  if (width < 8 || height < 8 || p->connector >= p->today->n_connector)
    return;
  if (!p->other || p->connector >= p->other->n_connector) {
    one_side(cr, width, height, context, p, false);
    return;
  }
  if (!p->beside) {
    superimposed(cr, width, height, context, p);
    return;
  }
  int half = width / 2;
  for (int i = 0; i < 2; i++) {
    cairo_save(cr);
    cairo_translate(cr, i * half, 0);
    one_side(cr, half, height, context, p, i);
    cairo_restore(cr);
  }
  ink_use(cr, context, COLOUR_LINE);
  ink_width(cr, context, 1);
  draw_line(cr, point(half, 0), point(half, height));
}
