/* view_pictures.c - see view_pictures.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * All at the trial load, as the drawing beside them. */
#include "ui/trace/view_pictures.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/picture_key.h"
#include "ui/drawing/picture_plan.h"
#include "ui/drawing/picture_section.h"
#include "ui/session.h"

#define LATE_ALPHA 0.5

/* The answer for the connector in view; NULL without one. */
static const Assessment *answer_at_hand(SoffitSession *session)
{
  const Assessment *a = session_assessment(session);
  return a && session_focus(session) < a->n_connector ? a : NULL;
}

/* A late answer stands back: at half strength. */
static void picture_begin(cairo_t *cr, SoffitSession *session)
{
  if (session_following(session))
    cairo_push_group(cr);
}

static void picture_end(cairo_t *cr, SoffitSession *session)
{
  if (!session_following(session))
    return;
  cairo_pop_group_to_source(cr);
  cairo_paint_with_alpha(cr, LATE_ALPHA);
}

void view_gum_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  SoffitSession *session = data;
  const Assessment *a = answer_at_hand(session);
  if (a == NULL)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  const Advice *advice = session_previewed(session);
  picture_begin(cr, session);
  picture_plan(cr, width, height, &context, a, session_focus(session), false, NULL,
               advice && advice->kind == ADVICE_WIDEN ? advice : NULL);
  picture_end(cr, session);
}

void view_section_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  SoffitSession *session = data;
  const Assessment *a = answer_at_hand(session);
  if (a == NULL)
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  picture_begin(cr, session);
  picture_section(cr, width, height, &context, a, session_focus(session), false, NULL);
  picture_end(cr, session);
}

void view_key_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  SoffitSession *session = data;
  const Assessment *a = answer_at_hand(session);
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  const ConnectorAssessment *k = a ? &a->connector[session_focus(session)] : NULL;
  picture_key(cr, width, MIN(height, (int)(context.scale * PICTURE_KEY_HEIGHT)), &context,
              k ? k->strength_mpa.value : NAN);
}
