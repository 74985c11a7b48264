/* canvas_picture.c - what the drawing shows: its picture, view and the shade that it asks for.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas_private.h"
#include "ui/canvas/draw_context.h"
#include "ui/canvas/photo_layer.h"
#include <string.h>

static bool same_view(View a, View b)
{
  return a.scale == b.scale && a.x == b.x && a.y == b.y;
}

/* The line moves under the hand; with room and best outline the ghost does, on the whole picture.
 */
bool canvas_line_apart(const SoffitCanvas *self)
{
  return self->hand.busy && self->tool != &tool_room && self->tool != &tool_best;
}

/* The worker makes the whole picture. */
static bool in_motion(const SoffitCanvas *self)
{
  return canvas_line_apart(self) || self->settle != 0;
}

ConnectorPicture canvas_picture(SoffitCanvas *self, const DrawContext *context)
{
  size_t connector = session_focus(self->session);
  int width = gtk_widget_get_width(GTK_WIDGET(self)),
      height = gtk_widget_get_height(GTK_WIDGET(self));
  ConnectorPicture picture =
      connector_picture(session_assessment(self->session), connector, width, height, context);
  picture.view = self->hand.view;
  picture.layers = self->layers;
  if (self->tool == &tool_room) /* what is at hand is seen, whatever was hidden */
    picture.layers |= LAYER_ENVELOPE;
  const Advice *tried = session_previewed(self->session);
  if (tried && tried->connector == connector)
    picture.layers |= LAYER_GHOST;
  if (picture.layers & LAYER_BEFORE)
    picture.before =
        session_outline_before(self->session, connector, SIDE_GINGIVAL, &picture.before_step);
  photo_layer_picture(self, &picture);
  if (canvas_line_apart(self))
    picture.layers &= ~(unsigned)(LAYER_GUM_LINE | LAYER_KNOTS);
  picture.every_knot = self->tool == &tool_knot;
  picture.chosen_knot = picture.every_knot ? self->hand.chosen : SIZE_MAX;
  canvas_covered(self, picture.keep_free);
  return picture;
}

/* Asks for the shade of what is shown now, in motion for the whole drawing. */
void canvas_shade_ask(SoffitCanvas *self)
{
  const Assessment *a = session_assessment(self->session);
  int width = gtk_widget_get_width(GTK_WIDGET(self)),
      height = gtk_widget_get_height(GTK_WIDGET(self));
  size_t connector = session_focus(self->session);
  if (!a || width < 1 || height < 1 || connector >= a->n_connector ||
      !a->connector[connector].field)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  double resolution = self->hand.busy ? context.resolution * 0.5 : context.resolution;
  ShadeRequest request = {.a = (Assessment *)a,
                          .connector = connector,
                          .width = width,
                          .height = height,
                          .view = self->hand.view,
                          .palette = context.palette,
                          .scale = context.scale,
                          .resolution = resolution,
                          .context = context};
  if (in_motion(self)) {
    request.picture = canvas_picture(self, &context);
    request.has_room = !room_of(session_case(self->session), connector,
                                &a->connector[connector].form, &request.room);
    if (!request.has_room)
      room_clear(&request.room);
    if (request.picture.before && outline_copy(&request.before, request.picture.before))
      outline_clear(&request.before); /* drawn without it */
    request.drawn = shade_outlines_new(&session_case(self->session)->connector[connector]);
    g_strlcpy(request.font, font, sizeof request.font);
  }
  shade_job_request(self->job, &request);
}

void canvas_shade_came(ShadeAnswer *answer, void *data)
{
  SoffitCanvas *self = data;
  shade_answer_free(self->answer);
  self->answer = answer;
  if (!in_motion(self))
    canvas_invalidate(self);
  else if (answer->drawing && answer->request.connector == session_focus(self->session) &&
           !(answer->request.picture.layers & LAYER_GUM_LINE) == canvas_line_apart(self)) {
    g_clear_pointer(&self->picture, gsk_render_node_unref);
    self->picture = canvas_drawing_node(self, answer);
    self->picture_view = answer->request.view;
    gtk_widget_queue_draw(GTK_WIDGET(self));
  }
}

/* The view that shows the whole connector; again at every change of size, neck or on request. */
void canvas_view_fit(SoffitCanvas *self)
{
  const Assessment *a = session_assessment(self->session);
  int width = gtk_widget_get_width(GTK_WIDGET(self)),
      height = gtk_widget_get_height(GTK_WIDGET(self));
  if (!a || width < 1 || height < 1 || session_focus(self->session) >= a->n_connector)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  self->hand.view = connector_view(a, session_focus(self->session), width, height, &context);
  self->fitted = true;
}

const Advice *canvas_advice(SoffitCanvas *self)
{
  const Advice *tried = session_previewed(self->session);
  if (tried && tried->connector == session_focus(self->session))
    return tried;
  const Assessment *rest = self->school ? NULL : session_rest_assessment(self->session);
  if (!rest || !session_at_rest(self->session)) /* its figure belongs to another line */
    return NULL;
  for (size_t i = 0; i < rest->n_advice; i++)
    if (rest->advice[i].kind == ADVICE_BEST &&
        rest->advice[i].connector == session_focus(self->session))
      return &rest->advice[i];
  return NULL;
}

static Box bounds_of(SoffitCanvas *self, GtkWidget *widget)
{
  graphene_rect_t at;
  if (!gtk_widget_get_visible(widget) ||
      !gtk_widget_compute_bounds(widget, GTK_WIDGET(self), &at) || !(at.size.width > 0))
    return (Box){0, 0, 0, 0};
  return (Box){at.origin.x, at.origin.y, at.size.width, at.size.height};
}

void canvas_covered(SoffitCanvas *self, Box over[KEEP_FREE])
{
  over[0] = bounds_of(self, self->row);
  over[1] = bounds_of(self, self->best);
  for (int i = 0; i < CANVAS_PLATES; i++)
    over[2 + i] = self->plate[i];
}

void canvas_picture_draw(SoffitCanvas *self, cairo_t *cr, int width, int height)
{
  const Assessment *a = session_assessment(self->session);
  size_t connector = session_focus(self->session);
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  if (!a || connector >= a->n_connector)
    return;
  if (!self->fitted)
    canvas_view_fit(self);
  ConnectorPicture picture = canvas_picture(self, &context);
  picture.drawn = &session_case(self->session)->connector[connector];
  picture.late = session_following(self->session) && !self->hand.busy;
  picture.advice =
      self->hand.busy && !session_best_shown(self->session) ? NULL : canvas_advice(self);
  Room room;
  room_init(&room);
  if (!room_of(session_case(self->session), connector, &a->connector[connector].form, &room))
    picture.room = &room;
  const ShadeAnswer *answer = self->answer; /* may be the one before, until the worker is done */
  if (answer && answer->request.connector == connector) {
    picture.ink = answer->ink;
    if (same_view(answer->request.view, picture.view) && answer->request.palette == context.palette)
      picture.shade = answer->shade;
  }
  memset(self->size_box, 0, sizeof self->size_box);
  picture.size_box = self->size_box;
  picture.taken = &self->taken;
  picture_connector(cr, width, height, &context, &picture);
  room_clear(&room);
}
