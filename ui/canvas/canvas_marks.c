/* canvas_marks.c - what the hand needs to see above the picture: tangents, what it snapped to, what
 * it measured. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas_private.h"
#include "ui/canvas/draw_context.h"
#include "ui/canvas/mark_words.h"
#include "ui/canvas/measure_words.h"
#include "ui/canvas/walk_words.h"
#include <math.h>

#define LEADER_POINTS 40 /* looked at                                    */
#define PLATE_PLACES 64  /* round the hand: 16 ways, 4 distances         */

typedef struct {
  SoffitCanvas *canvas;
  const Hand *hand;
  const DrawContext *context;
  cairo_t *cr;
  int width, height;
} Sheet;

static const TextStyle strong = {TEXT_BODY, true, false, COLOUR_TEXT, ALIGN_LEFT};
static const TextStyle plain = {TEXT_NOTE, false, false, COLOUR_TEXT, ALIGN_LEFT};

static Point at_px(const Sheet *s, Point mm)
{
  return view_px(s->hand->view, mm);
}

/* The path that is set, on a strip of paper so that it shows on any shade. */
static void stroke(const Sheet *s, double width_px, const double dash[])
{
  ink_stroke_haloed(s->cr, s->context, palette_colour(s->context->palette, COLOUR_ACCENT), width_px,
                    dash);
}

static void path_line(const Sheet *s, Point a, Point b)
{
  cairo_move_to(s->cr, a.x, a.y);
  cairo_line_to(s->cr, b.x, b.y);
}

static void cross_draw(const Sheet *s, Point p, double arm_px, double width_px)
{
  double arm = px(s->context, arm_px);
  path_line(s, point(p.x - arm, p.y), point(p.x + arm, p.y));
  path_line(s, point(p.x, p.y - arm), point(p.x, p.y + arm));
  stroke(s, width_px, NULL);
}

/* ---- tangents of the chosen knot ---- */

static void tangents_draw(const Sheet *s)
{
  const Outline *outline = hand_outline(s->hand);
  if (s->hand->chosen >= outline->n)
    return;
  Point knot = at_px(s, outline->knot[s->hand->chosen].at);
  for (KnotPart part = KNOT_IN; part <= KNOT_OUT; part++) {
    if (!knot_has(outline, s->hand->chosen, part))
      continue;
    Point end = at_px(s, knot_part_at(outline, s->hand->chosen, part));
    path_line(s, knot, end);
    stroke(s, 1.2, NULL);
    path_circle(s->cr, end, px(s->context, s->hand->part == part ? 5.5 : 4));
    ink_use(s->cr, s->context, s->hand->part == part ? COLOUR_ACCENT : COLOUR_CARD);
    cairo_fill_preserve(s->cr);
    ink_use(s->cr, s->context, COLOUR_ACCENT);
    ink_width(s->cr, s->context, 1.6);
    cairo_stroke(s->cr);
  }
}

/* ---- plates ---- */

/* What lies over the drawing. */
static void over_take(const Sheet *s, Places *places)
{
  Box over[KEEP_FREE];
  canvas_covered(s->canvas, over);
  for (int i = 0; i < KEEP_FREE; i++)
    places_take(places, over[i]);
}

static void hot_spot_take(const Sheet *s, Places *places)
{
  const Assessment *a = session_assessment(s->canvas->session);
  size_t connector = session_focus(s->canvas->session);
  if (!a || connector >= a->n_connector || !a->connector[connector].field)
    return;
  Vec3 hot = a->connector[connector].trial_peak.at;
  Point p = at_px(s, point(hot.x, hot.y));
  double ring = px(s->context, 18);
  places_take(places, (Box){p.x - ring, p.y - ring, 2 * ring, 2 * ring});
}

static Point box_nearest(Box box, Point from)
{
  return point(CLAMP(from.x, box.x, box.x + box.width), CLAMP(from.y, box.y, box.y + box.height));
}

/* Moved in from over the edge; its upper left corner is in, however large it is. */
static Box box_within(Box box, Box bounds)
{
  box.x = fmax(bounds.x, fmin(box.x, bounds.x + bounds.width - box.width));
  box.y = fmax(bounds.y, fmin(box.y, bounds.y + bounds.height - box.height));
  return box;
}

static bool box_holds(Box box, Point p)
{
  return p.x > box.x && p.x < box.x + box.width && p.y > box.y && p.y < box.y + box.height;
}

/* From the hand, over something that the hand itself is not on. */
static bool crosses(const Places *places, Point hand, Point to)
{
  for (size_t k = 0; k < places->n; k++)
    for (int i = 0; i <= LEADER_POINTS && !box_holds(places->taken[k], hand); i++)
      if (box_holds(places->taken[k], point_mix(hand, to, (double)i / LEADER_POINTS)))
        return true;
  return false;
}

/* The first place that is free, and whose leader crosses nobody's words; -1: none. */
static int led_find(Places *places, const Box candidate[], int n, Point hand)
{
  for (int i = 0; i < n; i++)
    if (!crosses(places, hand, box_nearest(candidate[i], hand)) &&
        places_find(places, &candidate[i], 1) == 0)
      return i;
  return -1;
}

/* Keeps clear of the hot spot and the hand itself. */
static void plate_draw(const Sheet *s, Point hand, double clear, const char *const line[], int n)
{
  double width = 0, row = px(s->context, 19), pad = px(s->context, 9);
  for (int i = 0; i < n; i++)
    width = fmax(width, text_width(s->cr, s->context, i ? plain : strong, line[i]));
  width += 2 * pad;
  double height = n * row + pad, edge = px(s->context, 6);
  Places places = s->canvas->taken; /* nor on words and loupe, where that can be */
  Places empty;
  places_init(&empty, (Box){edge, edge, s->width - 2 * edge, s->height - 2 * edge});
  over_take(s, &empty);
  hot_spot_take(s, &empty);
  Box own = {hand.x - clear / 2, hand.y - clear / 2, clear, clear};
  places_take(&empty, own);
  Box candidate[PLATE_PLACES];
  for (int k = 0; k < PLATE_PLACES; k++) {
    double turn = k % 16 * M_PI / 8 - M_PI / 4, far = clear * (1 + 1.6 * (k / 16));
    double x = hand.x + cos(turn) * (far + width / 2), y = hand.y + sin(turn) * (far + height / 2);
    candidate[k] = (Box){x - width / 2, y - height / 2, width, height};
  }
  int found = led_find(&places, candidate, PLATE_PLACES, hand);
  if (found < 0)
    found = places_find(&places, candidate, PLATE_PLACES);
  if (found < 0)
    found = places_find(&empty, candidate, PLATE_PLACES);
  if (found < 0) { /* large text, small window: its words can be read, on what is below */
    Places readable;
    places_init(&readable, empty.bounds);
    over_take(s, &readable);
    double most = -1;
    for (int k = 0; k < PLATE_PLACES; k++) {
      Places free = readable;
      candidate[k] = box_within(candidate[k], empty.bounds);
      double off =
          point_distance(box_nearest(candidate[k], hand), hand); /* the hand is seen, too */
      if (off > most && places_find(&free, &candidate[k], 1) == 0) {
        most = off;
        found = k;
      }
    }
  }
  Box box = candidate[found < 0 ? 0 : found];
  s->canvas->told = box;
  Point to = box_nearest(box, hand), way = point_sub(to, hand);
  double length = point_length(way);
  if (length > 2 * clear) { /* stands off: a leader */
    path_line(s, point_add(hand, point_scale(way, clear / 2 / length)), to);
    stroke(s, 1.2, NULL);
  }
  draw_plate(s->cr, s->context, box, palette_colour(s->context->palette, COLOUR_ACCENT), 1.2);
  for (int i = 0; i < n; i++)
    text_draw(s->cr, s->context, i ? plain : strong,
              point(box.x + pad, box.y + pad / 2 + (i + 0.74) * row), line[i]);
}

/* ---- what it came to rest on ---- */

static void snap_draw(const Sheet *s)
{
  const Snap *snap = &s->hand->snap;
  g_autofree char *words = snap_words(snap);
  if (!s->hand->busy || !words)
    return;
  Point at = at_px(s, snap->at);
  double arm = px(s->context, 9);
  for (int k = 0; k < 2; k++)
    if (point_finite(snap->from[k]))
      path_line(s, at, at_px(s, snap->from[k]));
  if (isfinite(s->hand->targets.axis_x) && snap->at.x == s->hand->targets.axis_x) {
    double x = at_px(s, snap->at).x;
    path_line(s, point(x, 0), point(x, s->height));
  }
  stroke(s, 1.2, DOT_CUTTER);
  cairo_rectangle(s->cr, at.x - arm, at.y - arm, 2 * arm, 2 * arm); /* open corners of a frame */
  static const double corners[] = {9, 9, 0};
  stroke(s, 1.6, corners);
  const char *const line[] = {words};
  plate_draw(s, at, px(s->context, 34), line, 1);
}

/* ---- measuring ---- */

static void measure_draw(const Sheet *s)
{
  const Hand *hand = s->hand;
  size_t n = hand->n_place;
  MeasuredCircle circle;
  if (n == 0)
    return;
  if (n == 2) {
    path_line(s, at_px(s, hand->place[0].at), at_px(s, hand->place[1].at));
    stroke(s, 2, DOT_CUTTER);
  }
  if (n == 3 && measure_circle(hand->place, &circle) == FAULT_NONE) {
    path_circle(s->cr, at_px(s, circle.centre), circle.radius.value * hand->view.scale);
    stroke(s, 2, DOT_CUTTER);
  }
  for (size_t i = 0; i < n; i++) {
    Point p = at_px(s, hand->place[i].at);
    cross_draw(s, p, i == hand->held ? 9 : 6, i == hand->held ? 2.2 : 1.6);
  }
  char *line[MEASURE_LINES];
  measure_lines(hand->place, n, line);
  int rows = 0;
  while (rows < MEASURE_LINES && line[rows])
    rows++;
  if (rows > 0)
    plate_draw(s, at_px(s, hand->place[hand->held].at), px(s->context, 34),
               (const char *const *)line, rows);
  for (int i = 0; i < MEASURE_LINES; i++)
    g_free(line[i]);
}

/* ---- walking ---- */

static void walk_draw(const Sheet *s)
{
  char *line[WALK_LINES];
  if (!s->hand->walks || hand_outline(s->hand)->n < 2)
    return;
  Point p = at_px(s, outline_at(hand_outline(s->hand), s->hand->walk_t));
  cross_draw(s, p, 10, 2.2);
  walk_lines(s->hand, line);
  int rows = 0;
  while (rows < WALK_LINES && line[rows])
    rows++;
  if (rows > 0)
    plate_draw(s, p, px(s->context, 34), (const char *const *)line, rows);
  for (int i = 0; i < WALK_LINES; i++)
    g_free(line[i]);
}

#define WALK_EDGE_PX 48.0

void canvas_walk_follow(SoffitCanvas *self)
{
  if (self->tool != &tool_walk || !self->hand.walks || hand_outline(&self->hand)->n < 2)
    return;
  Point p = view_px(self->hand.view, outline_at(hand_outline(&self->hand), self->hand.walk_t));
  double right = gtk_widget_get_width(GTK_WIDGET(self)) - WALK_EDGE_PX,
         low = gtk_widget_get_height(GTK_WIDGET(self)) - WALK_EDGE_PX,
         dx = CLAMP(p.x, WALK_EDGE_PX, fmax(right, WALK_EDGE_PX)) - p.x,
         dy = CLAMP(p.y, WALK_EDGE_PX, fmax(low, WALK_EDGE_PX)) - p.y;
  if (fabs(dx) + fabs(dy) > 0)
    canvas_pan(self, dx, dy);
  gtk_widget_queue_draw(GTK_WIDGET(self));
  canvas_marks_tell(self);
}

/* ---- in words ---- */

static gboolean marks_tell(void *data)
{
  SoffitCanvas *self = data;
  self->marks_ask = 0;
  if (self->hand.busy) /* asked again when it comes to rest */
    return G_SOURCE_REMOVE;
  g_autoptr(GArray) marks = mark_words(self);
  mark_list_show(SOFFIT_MARK_LIST(self->marks), marks);
  return G_SOURCE_REMOVE;
}

void canvas_marks_tell(SoffitCanvas *self)
{
  if (self->marks && !self->marks_ask)
    self->marks_ask = g_idle_add_full(G_PRIORITY_LOW, marks_tell, self, NULL);
}

void canvas_marks_draw(SoffitCanvas *self, GtkSnapshot *snapshot, int width, int height)
{
  bool knots = self->tool == &tool_knot, measure = self->tool == &tool_measure,
       walk = self->tool == &tool_walk;
  if (!session_has_case(self->session) || (!knots && !measure && !walk))
    return;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  cairo_t *cr =
      gtk_snapshot_append_cairo(snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)width, (float)height));
  Sheet sheet = {self, &self->hand, &context, cr, width, height};
  if (knots) {
    tangents_draw(&sheet);
    snap_draw(&sheet);
  } else if (measure)
    measure_draw(&sheet);
  else
    walk_draw(&sheet);
  cairo_destroy(cr);
}
