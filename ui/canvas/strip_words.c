/* strip_words.c - the notes left and right of the bridge.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/strip_words.h"
#include "casefile/load_case.h"
#include <math.h>

#define GUTTER 20
#define LEAST_ROOM 120 /* px; narrower columns say nothing */
#define LINE 18

static const char *units_word(size_t n)
{
  static const char *const word[] = {N_("Two units"), N_("Three units"), N_("Four units"),
                                     N_("Five units"), N_("Six units")};
  return n >= 2 && n <= 6 ? word[n - 2] : N_("{0} units");
}

/* Down to the doors. */
static void lines_draw(cairo_t *cr, const DrawContext *context, double x, double width, Align align,
                       double doors, char *const line[], size_t n)
{
  double y = px(context, 30);
  for (size_t i = 0; i < n && y < doors; i++) {
    TextStyle style = {i ? TEXT_NOTE : TEXT_BODY, i == 0, false, i ? COLOUR_DIM : COLOUR_TEXT,
                       align};
    double at = align == ALIGN_RIGHT ? x + width : x;
    if (text_width(cr, context, style, line[i]) <= width)
      text_draw(cr, context, style, point(at, y), line[i]);
    else
      y += text_column(cr, context, style, point(at, y), width, 2, false, line[i]) -
           px(context, LINE);
    y += px(context, LINE);
  }
}

static const char *support_word(const Case *c)
{
  bool implant = false, tooth = false, other = false;
  for (size_t i = 0; i < c->n_unit; i++) {
    implant = implant || c->unit[i].role == ROLE_IMPLANT;
    tooth = tooth || c->unit[i].role == ROLE_ABUTMENT;
    other = other || (c->unit[i].role <= ROLE_IMPLANT && c->unit[i].support != SUPPORT_MID);
  }
  return other               ? N_("supports: as set in the case")
         : implant && !tooth ? N_("supports: implants")
         : implant           ? N_("supports: teeth and implants")
                             : N_("supports: teeth of middle firmness");
}

void strip_words(cairo_t *cr, int width, int height, const DrawContext *context,
                 const Assessment *a, const SpanGeometry *geometry)
{
  const Case *c = &a->c;
  double gutter = px(context, GUTTER), left = geometry->left - 2 * gutter,
         right = width - geometry->right - 2 * gutter;
  (void)height;
  if (c->n_unit < 2)
    return;
  if (left >= px(context, LEAST_ROOM)) {
    char line[5][TEXT_ROOM], units[TEXT_ROOM];
    Phrase material = {.text = c->material.iso_class > 0 ? N_("{word}, class {0}") : "{word}",
                       .value = {c->material.iso_class},
                       .word = c->material.name};
    say(context, units, units_word(c->n_unit), (double)c->n_unit, 0, 0, 0);
    g_snprintf(line[0], TEXT_ROOM, "%s %d–%d", units, c->unit[0].tooth,
               c->unit[c->n_unit - 1].tooth);
    say_phrase(context, line[1], material);
    say(context, line[2],
        c->cutter_diameter > 0 ? N_("enlargement {0.2} · cutter {1.1}") : N_("enlargement {0.2}"),
        c->enlargement, c->cutter_diameter, 0, 0);
    say(context, line[3], N_("brush {0.1}"), c->brush_mm, 0, 0, 0);
    g_snprintf(line[4], TEXT_ROOM, "%s",
               text_word(context, c->step > STEP_FIRING ? N_("fired") : N_("not yet fired")));
    char *const all[] = {line[0], line[1], line[2], line[3], line[4]};
    lines_draw(cr, context, gutter, left, ALIGN_LEFT, geometry->door_y, all, 5);
  }
  if (right >= px(context, LEAST_ROOM)) {
    char line[5][TEXT_ROOM];
    say(context, line[0], N_("Order: {0} N"), c->order_load_n, 0, 0, 0);
    bool same = a->c.trial.force_n == c->order_load_n;
    const ConnectorAssessment *first =
        a->weakest < a->n_connector ? &a->connector[a->weakest] : NULL;
    if (a->c.n_load_case > 0 && first && first->field)
      say_phrase(context, line[1], load_case_phrase(&a->c, first->load_case, first->order_x));
    else
      say(context, line[1],
          same ? N_("verdicts at its worst place,") : N_("verdicts at {0} N, worst place,"),
          c->order_load_n, 0, 0, 0);
    g_strlcpy(line[2], text_word(context, N_("flat picture of the whole bridge")), TEXT_ROOM);
    say(context, line[3], N_("at {0} N, weak zones drawn stronger"), a->c.trial.force_n, 0, 0, 0);
    g_strlcpy(line[4], text_word(context, support_word(c)), TEXT_ROOM);
    char *const all[] = {line[0], line[1], line[2], line[3], line[4]};
    lines_draw(cr, context, width - gutter - right, right, ALIGN_RIGHT, geometry->door_y, all, 5);
  }
}

#define PLATE_MOST 560 /* px */
#define PLATE_LEAST 160
#define PLATE_LINES 7
#define RING 12

/* The neck that is nearest to a place. */
static const char *place_name(const Assessment *a, Point at)
{
  size_t best = 0;
  for (size_t i = 1; i < a->n_connector; i++)
    if (fabs(at.x - a->neck_x[i]) < fabs(at.x - a->neck_x[best]))
      best = i;
  return a->connector[best].name;
}

char *strip_trouble_text(const DrawContext *context, const ShadeAnswer *answer)
{
  const Assessment *a = answer->request.a;
  if (!answer->fault || a->n_connector == 0)
    return NULL;
  bool placed = point_finite(answer->fault_at);
  return g_strdup_printf("%s%s%s %s", placed ? place_name(a, answer->fault_at) : "",
                         placed ? ": " : "", text_word(context, fault_text(answer->fault)),
                         text_word(context, answer->old ? N_("The strip shows the bridge before.")
                                                        : N_("The strip shows no stress.")));
}

void strip_trouble(cairo_t *cr, int width, const DrawContext *context, const ShadeAnswer *answer,
                   const SpanGeometry *geometry)
{
  g_autofree char *words = strip_trouble_text(context, answer);
  if (!words)
    return;
  TextStyle style = {TEXT_BODY, false, false, COLOUR_TEXT, ALIGN_LEFT};
  Rgba colour = palette_verdict(context->palette, VERDICT_REWORK);
  double pad = px(context, 10), beside = geometry->left - 2 * px(context, GUTTER) - 2 * pad;
  bool in_gutter = beside >= px(context, PLATE_LEAST); /* else over the bridge, at the top */
  double column = fmin(in_gutter ? beside : fmin(px(context, PLATE_MOST), width - 4 * pad),
                       text_width(cr, context, style, words) + 1);
  double high = text_column(cr, context, style, point(0, 0), column, PLATE_LINES, true, words);
  Box plate = {in_gutter ? px(context, GUTTER) : (width - column) / 2 - pad,
               px(context, in_gutter ? 12 : 4), column + 2 * pad, high + pad};
  if (point_finite(answer->fault_at)) {
    Point at = view_px(geometry->view, answer->fault_at);
    ink_colour(cr, colour);
    ink_width(cr, context, 2);
    path_circle(cr, at, px(context, RING));
    cairo_stroke(cr);
  }
  draw_plate(cr, context, plate, colour, 1.6);
  text_column(cr, context, style, point(plate.x + pad, plate.y + px(context, 19)), column,
              PLATE_LINES, false, words);
}
