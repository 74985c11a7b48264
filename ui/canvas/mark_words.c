/* mark_words.c - see mark_words.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is shown is decided as the picture does: by layer, tool and answer. */
#include "ui/canvas/mark_words.h"
#include "ui/canvas/draw_context.h"
#include "ui/canvas/walk_words.h"
#include "ui/photo/photo_words.h"
#include "ui/words.h"
#include <math.h>

typedef struct {
  GArray *marks;
  SoffitCanvas *canvas;
  const Hand *hand;
  const DrawContext *context;
  ConnectorPicture picture;
  const ConnectorAssessment *answer;
} Teller;

static bool shows(const Teller *t, unsigned layer)
{
  return (t->picture.layers & layer) != 0;
}

static Box around(const Teller *t, Point mm, double radius_mm)
{
  Point p = view_px(t->picture.view, mm);
  double r = fmax(radius_mm * t->picture.view.scale, px(t->context, 9));
  return (Box){p.x - r, p.y - r, 2 * r, 2 * r};
}

static char *place_words(Point at)
{
  g_autofree char *x = words_number(at.x, 2), *y = words_number(at.y, 2);
  return g_strdup_printf(_("x %s, y %s mm"), x, y);
}

static char *mm_words(double mm)
{
  g_autofree char *value = words_number(mm, 2);
  return g_strdup_printf(_("%s mm"), value);
}

static Box outline_box(const Teller *t, const Outline *outline)
{
  Point low = view_px(t->picture.view, outline->knot[0].at), high = low;
  for (size_t i = 1; i < outline->n; i++) {
    Point p = view_px(t->picture.view, outline->knot[i].at);
    low = point(fmin(low.x, p.x), fmin(low.y, p.y));
    high = point(fmax(high.x, p.x), fmax(high.y, p.y));
  }
  return (Box){low.x, low.y, high.x - low.x, high.y - low.y};
}

/* ---- what the answer says ---- */

static void stress_tell(const Teller *t)
{
  const ConnectorAssessment *k = t->answer;
  if (!k->field)
    return;
  Box body = outline_box(t, hand_outline(t->hand));
  if (shows(t, LAYER_SHADE)) {
    g_autofree char *limit = words_number(connector_limit(k, false), 0);
    marks_add(t->marks, g_strdup(_("Stress shade")),
              g_strdup_printf(_("darker is pulled more; hatched above the limit of %s MPa"), limit),
              body);
  }
  if (shows(t, LAYER_FLOW))
    marks_add(t->marks, g_strdup(_("Flow of the pull")), g_strdup(_("lines along the pull")), body);
  if (shows(t, LAYER_LOUPE) && k->trial_peak_mpa.value > 0) {
    Point at = point(k->trial_peak.at.x, k->trial_peak.at.y);
    g_autofree char *place = place_words(at), *peak = words_number(k->trial_peak_mpa.value, 0),
                    *range = words_range(k->trial_peak_mpa, 0);
    marks_add(t->marks, g_strdup(_("Hot spot")),
              g_strdup_printf(_("pulled %s MPa (%s), %s"), peak, range, place), around(t, at, 0));
  }
}

static void shape_tell(const Teller *t)
{
  const Form *form = &t->answer->form;
  if (form->neck_height > 0 && shows(t, LAYER_NECK)) {
    Point middle = point(form->neck_x, form->neck_y);
    marks_add(t->marks, g_strdup(_("Neck")), mm_words(form->neck_height),
              around(t, middle, form->neck_height / 2));
  }
  if (shows(t, LAYER_COMB) && form->roof_radius.value > 0) {
    g_autofree char *radius = words_number(form->roof_radius.value, 2),
                    *range = words_range(form->roof_radius, 2);
    marks_add(t->marks, g_strdup(_("Curvature comb")),
              g_strdup_printf(_("sharpest at the roof: radius %s mm (%s)"), radius, range),
              around(t, form->roof, 0));
  }
  for (SizeKind kind = 0; kind < SIZE_KINDS; kind++) {
    Box box = t->canvas->size_box[kind];
    if (kind == SIZE_NECK_HEIGHT || !(box.width > 0))
      continue;
    double size = size_of_form(form, kind);
    g_autofree char *value = words_number(size, 1);
    marks_add(t->marks, g_strdup(_(size_name(kind))),
              size_is_angle(kind) ? g_strdup_printf("%s°", value) : mm_words(size), box);
  }
  if (shows(t, LAYER_SOFT)) {
    g_autofree char *times = words_number(t->picture.a->c.enlargement, 3);
    marks_add(t->marks, g_strdup(_("Size before firing")), g_strdup_printf("× %s", times),
              outline_box(t, hand_outline(t->hand)));
  }
}

static void gauges_tell(const Teller *t)
{
  const Form *form = &t->answer->form;
  char buf[TEXT_ROOM];
  Point centre;
  double radius;
  bool brush = shows(t, LAYER_BRUSH) && t->picture.a->c.brush_mm > 0;
  if (form->gap_circle > 0 && (brush || shows(t, LAYER_ROOM)))
    marks_add(t->marks, g_strdup(brush ? _("Room and brush") : _("Room")),
              brush ? g_strdup(connector_brush_words(t->context, &t->picture, buf))
                    : mm_words(form->gap_circle),
              around(t, form->gap_centre, form->gap_circle / 2));
  if (shows(t, LAYER_CUTTER) &&
      connector_cutter(t->picture.a, t->picture.connector, &centre, &radius))
    marks_add(t->marks, g_strdup(_("Cutter")),
              g_strdup(connector_cutter_words(t->context, &t->picture, buf)),
              around(t, centre, radius));
  Room room;
  room_init(&room);
  if (shows(t, LAYER_ENVELOPE) &&
      !room_of(session_case(t->hand->session), t->picture.connector, form, &room) && room.n_wall) {
    g_autofree char *top = mm_words(room.top);
    marks_add(
        t->marks, g_strdup(_("What the embrasure may fill")),
        g_strdup_printf(room.drawn ? _("drawn, up to %s") : _("as Soffit takes it, up to %s"), top),
        outline_box(t, &room.envelope));
  }
  room_clear(&room);
}

static void advice_tell(const Teller *t, const Advice *advice)
{
  if (!advice || !shows(t, LAYER_GHOST) || advice->ghost.n < 2)
    return;
  g_autofree char *act = words_phrase(&advice->act),
                  *gain = words_number(advice->gain_percent.value, 0),
                  *range = words_range(advice->gain_percent, 0);
  marks_add(t->marks, g_strdup(_("Proposed outline, dashed")),
            isfinite(advice->gain_percent.value)
                ? g_strdup_printf(_("%s: carries %s %% more (%s)"), act, gain, range)
                : g_strdup(act),
            outline_box(t, &advice->ghost));
}

/* ---- what the hand set ---- */

static void knots_tell(const Teller *t)
{
  const Outline *outline = hand_outline(t->hand);
  if (!shows(t, LAYER_KNOTS) || outline->n < 2)
    return;
  for (size_t i = 0; i < outline->n; i++) {
    g_autofree char *place = place_words(outline->knot[i].at);
    marks_add(t->marks, g_strdup_printf(_("Knot %zu of %zu"), i + 1, outline->n),
              g_strdup_printf("%s, %s", knot_smooth(outline, i) ? _("smooth") : _("sharp"), place),
              around(t, outline->knot[i].at, 0));
  }
  if (t->canvas->tool != &tool_knot || t->hand->chosen >= outline->n)
    return;
  for (KnotPart part = KNOT_IN; part <= KNOT_OUT; part++)
    if (knot_has(outline, t->hand->chosen, part)) {
      Point at = knot_part_at(outline, t->hand->chosen, part);
      marks_add(t->marks,
                g_strdup(part == KNOT_IN ? _("Tangent before the chosen knot")
                                         : _("Tangent after the chosen knot")),
                place_words(at), around(t, at, 0));
    }
}

static void hand_tell(const Teller *t)
{
  const Tool *tool = t->canvas->tool;
  const Hand *hand = t->hand;
  for (size_t i = 0; tool == &tool_measure && i < hand->n_place; i++)
    marks_add(t->marks, g_strdup_printf(_("Measured place %zu"), i + 1),
              place_words(hand->place[i].at), around(t, hand->place[i].at, 0));
  if (hand->trouble)
    marks_add(
        t->marks, g_strdup(_("Not possible")), g_strdup(words_translate(hand->trouble)),
        around(t, point_finite(hand->trouble_at) ? hand->trouble_at : t->answer->form.roof, 0));
}

static void photo_tell(const Teller *t)
{
  SoffitPhotoDesk *desk = t->canvas->photo;
  Point mark[PHOTO_MARKS];
  if (photo_desk_state(desk) == PHOTO_NONE || photo_desk_hidden(desk))
    return;
  int width = gtk_widget_get_width(GTK_WIDGET(t->canvas)),
      height = gtk_widget_get_height(GTK_WIDGET(t->canvas));
  marks_add(t->marks, g_strdup(_("Photo below the drawing")), photo_status_text(desk),
            (Box){0, 0, width, height});
  bool marking = t->canvas->tool == &tool_photo &&
                 (photo_desk_mode(desk) == PHOTO_CORNERS || photo_desk_mode(desk) == PHOTO_TICKS);
  size_t n = marking ? photo_desk_marks(desk, mark) : 0;
  for (size_t i = 0; i < n; i++)
    marks_add(t->marks, g_strdup_printf(_("Mark %zu on the photo"), i + 1), place_words(mark[i]),
              around(t, mark[i], 0));
}

static void remarks_tell(const Teller *t)
{
  const GPtrArray *remarks = session_case(t->hand->session)->remark;
  for (guint i = 0; i < remarks->len; i++) {
    const Remark *remark = remarks->pdata[i];
    if (remark->connector != session_focus(t->hand->session) || !point_finite(remark->at) ||
        remark->settled == ANSWER_YES)
      continue;
    g_autofree char *place = place_words(remark->at);
    marks_add(t->marks, g_strdup_printf(_("Remark %u"), i + 1),
              g_strdup_printf("%s%s%s, %s", remark->initials, *remark->initials ? ": " : "",
                              remark->text, place),
              around(t, remark->at, 0));
  }
}

GArray *mark_words(SoffitCanvas *self)
{
  const Assessment *a = session_assessment(self->session);
  size_t connector = session_focus(self->session);
  GArray *marks = marks_new();
  if (!session_has_case(self->session) || !a || connector >= a->n_connector ||
      hand_outline(&self->hand)->n < 2)
    return marks;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  Teller teller = {
      marks, self, &self->hand, &context, canvas_picture(self, &context), &a->connector[connector]};
  hand_tell(&teller);
  stress_tell(&teller);
  shape_tell(&teller);
  gauges_tell(&teller);
  advice_tell(&teller, canvas_advice(self));
  knots_tell(&teller);
  photo_tell(&teller);
  remarks_tell(&teller);
  return marks;
}
