/* picture_connector.c - the layers of one connector, in order.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/connector_layers.h"
#include "ui/drawing/gauges.h"
#include <string.h>

double connector_limit(const ConnectorAssessment *connector, bool at_order)
{
  double strength = connector->strength_mpa.value,
         peak = at_order ? connector->peak.mpa : connector->trial_peak.mpa;
  return strength > 0 && isfinite(strength) ? strength : peak > 0 && isfinite(peak) ? peak : NAN;
}

#define BELOW_PX 78.0

View connector_view(const Assessment *a, size_t connector, int width, int height,
                    const DrawContext *context)
{
  return connector_view_above(a, connector, width, height, BELOW_PX, context);
}

View connector_view_above(const Assessment *a, size_t connector, int width, int height,
                          double below_px, const DrawContext *context)
{
  double below = fmin(px(context, below_px), height * 0.18),
         above = fmin(px(context, 34), height * 0.08), crown = 1, x = 0;
  if (connector < a->n_connector && connector + 1 < a->c.n_unit) {
    for (size_t k = connector; k <= connector + 1; k++)
      if (a->c.unit[k].height > crown)
        crown = fmin(a->c.unit[k].height, 30);
    x = a->connector[connector].form.neck_x;
  }
  View view = {fmax((height - below - above) / crown, 1), 0, height - below};
  view.x = width / 2.0 - (isfinite(x) ? x : 0) * view.scale;
  return view;
}

ConnectorPicture connector_picture(const Assessment *a, size_t connector, int width, int height,
                                   const DrawContext *context)
{
  return (ConnectorPicture){.a = a,
                            .connector = connector,
                            .view = connector_view(a, connector, width, height, context),
                            .layers = LAYER_ALL,
                            .chosen_knot = SIZE_MAX};
}

bool connector_cutter(const Assessment *a, size_t connector, Point *centre, double *radius)
{
  const Case *c = &a->c;
  const ConnectorAssessment *answer = &a->connector[connector];
  double enlargement = c->enlargement > 0.5 ? c->enlargement : 1,
         r = c->cutter_diameter / enlargement / 2;
  double top = answer->form.roof.y - fmax(answer->cutter_shortfall, 0);
  if (!(r > 0) || !isfinite(top) || !(answer->form.depth > 0))
    return false;
  *centre = point(answer->form.roof_centre_x, top - r);
  *radius = r;
  return true;
}

bool gauge_cutter(const ConnectorSheet *s, Point *centre, double *radius)
{
  Point at;
  double r;
  if (!connector_cutter(s->picture->a, s->picture->connector, &at, &r))
    return false;
  *centre = view_px(s->view, at);
  *radius = r * s->view.scale;
  return true;
}

bool gauge_room(const ConnectorSheet *s, Point *centre, double *radius)
{
  const Form *form = &s->answer->form;
  if (!(form->gap_circle > 0) || !point_finite(form->gap_centre))
    return false;
  *centre = view_px(s->view, form->gap_centre);
  *radius = form->gap_circle / 2 * s->view.scale;
  return true;
}

bool gauge_brush(const ConnectorSheet *s, Point *centre, double *radius)
{
  double room;
  if (!(s->picture->a->c.brush_mm > 0) || !gauge_room(s, centre, &room))
    return false;
  *radius = s->picture->a->c.brush_mm / 2 * s->view.scale;
  return true;
}

static void draw_envelope(const ConnectorSheet *s)
{
  path_outline(s->cr, s->view, &s->picture->room->envelope);
  ink_use(s->cr, s->context, COLOUR_DIM);
  ink_width(s->cr, s->context, s->picture->room->drawn ? 1.8 : 1.1);
  ink_dash(s->cr, s->context, DOT_ROOM);
  cairo_stroke(s->cr);
}

double soft_enlargement(const ConnectorSheet *s)
{
  double enlargement = s->picture->a->c.enlargement;
  return layer(s, LAYER_SOFT) && enlargement > 1 ? enlargement : 1;
}

static void draw_gauges(const ConnectorSheet *s)
{
  Point centre;
  double radius;
  const Form *form = &s->answer->form;
  if (layer(s, LAYER_ENVELOPE) && s->picture->room && s->picture->room->n_wall)
    draw_envelope(s);
  if (layer(s, LAYER_ROOM) && gauge_room(s, &centre, &radius))
    draw_room(s->cr, s->context, centre, radius);
  if (layer(s, LAYER_CUTTER) && gauge_cutter(s, &centre, &radius)) {
    draw_cutter_rest(s->cr, s->context, s->view, &s->drawn->side[SIDE_GINGIVAL], form->roof,
                     fmax(form->roof.y - form->depth, -5), 2 * radius / s->view.scale);
    draw_cutter(s->cr, s->context, centre, radius);
  }
  if (layer(s, LAYER_BRUSH) && gauge_brush(s, &centre, &radius))
    draw_brush(s->cr, s->context, centre, radius);
}

static void draw_layers(const ConnectorSheet *s)
{
  draw_ground(s);
  draw_material(s);
  if (s->answer->form.kind != FORM_NONE || s->answer->form.neck_height > 0)
    draw_gauges(s);
  if (layer(s, LAYER_COMB))
    draw_comb(s);
  if (layer(s, LAYER_BEFORE))
    draw_before(s);
  if (layer(s, LAYER_GHOST))
    draw_ghost(s);
  draw_outlines(s);
  if (layer(s, LAYER_KNOTS))
    draw_knots(s);
  draw_words(s);
}

void picture_connector(cairo_t *cr, int width, int height, const DrawContext *context,
                       const ConnectorPicture *picture)
{
  const Assessment *a = picture->a;
  if (width <= 0 || height <= 0 || picture->connector >= a->n_connector)
    return;
  const ConnectorAssessment *answer = &a->connector[picture->connector];
  const bool order = picture->at_order;
  ConnectorInk *own = NULL;
  bool wants_ink = (picture->layers & (LAYER_SHADE | LAYER_FLOW | LAYER_ZERO | LAYER_LOUPE)) != 0;
  if (!picture->ink && wants_ink && answer->field &&
      connector_ink_new(a, picture->connector, order, &own) != FAULT_NONE)
    own = NULL; /* drawn without stress */
  ConnectorSheet sheet = {.cr = cr,
                          .width = width,
                          .height = height,
                          .context = context,
                          .picture = picture,
                          .answer = answer,
                          .drawn =
                              picture->drawn ? picture->drawn : &a->c.connector[picture->connector],
                          .ink = picture->ink ? picture->ink : own,
                          .peak = !answer->field ? NULL
                                  : order        ? &answer->peak
                                                 : &answer->trial_peak,
                          .peak_mpa = order ? answer->peak_mpa : answer->trial_peak_mpa,
                          .limit_mpa = connector_limit(answer, order),
                          .view = picture->view};
  cairo_save(cr);
  cairo_rectangle(cr, 0, 0, width, height);
  cairo_clip(cr);
  draw_layers(&sheet);
  cairo_restore(cr);
  connector_ink_free(own);
}
