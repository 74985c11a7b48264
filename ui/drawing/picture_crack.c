/* picture_crack.c - see picture_crack.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/picture_crack.h"
#include "ui/drawing/sheet_finder.h"
#include <math.h>

#define OFF_SHEET_MM 0.5 /* a hot spot of the surface lies beside the mesh of the mid-plane */
#define TURNS 72
#define HALVINGS 12
#define TITLE_PX 34 /* words in the corners end above */
#define STRIPS 40   /* of the drawing's width */
#define BODY_POINTS 400
#define LINES_MOST 4 /* of the label */
/* One step turns by less wherever the pull across the way is the largest one; where it is not any
 * more, the direction jumps. */
#define TURN_MOST_COS 0.87

typedef struct {
  const FieldSheet *sheet;
  SheetFinder *place; /* owned */
  NeckLoad load;
} Ground;

/* The unit vector across the pull, either sense, and the pull; false outside the mesh. */
static bool ground_at(Ground *g, Point p, Point *across, double *pull)
{
  const uint32_t *corner;
  double w[3], s[6] = {0};
  if (!sheet_finder_at(g->place, p, &corner, w))
    return false;
  for (int k = 0; k < 3; k++) {
    double own[6];
    stress_combine(g->sheet->stress[corner[k]], NULL, g->load, own);
    for (int i = 0; i < 6; i++)
      s[i] += w[k] * own[i];
  }
  double half = (s[0] - s[1]) / 2, mean = (s[0] + s[1]) / 2, a = atan2(s[3], half) / 2;
  if (!isfinite(half + mean + a))
    return false;
  *across = point(-sin(a), cos(a));
  *pull = mean + hypot(half, s[3]);
  return true;
}

static bool covered(Ground *g, Point p)
{
  const uint32_t *corner;
  double w[3];
  return sheet_finder_at(g->place, p, &corner, w);
}

/* The nearest place of the mesh, looked for in rings. */
static bool begin_at(Ground *g, Point *p)
{
  if (covered(g, *p))
    return true;
  for (double r = CRACK_STEP_MM / 5; r <= OFF_SHEET_MM; r += CRACK_STEP_MM / 5)
    for (int i = 0; i < TURNS; i++) {
      double a = 2 * M_PI * i / TURNS;
      Point q = point(p->x + r * cos(a), p->y + r * sin(a));
      if (covered(g, q)) {
        *p = q;
        return true;
      }
    }
  return false;
}

/* Into the material: the sense in which there is more of it. */
static Point inward(Ground *g, Point p, Point across)
{
  for (double r = CRACK_STEP_MM; r <= CRACK_LONGEST_MM; r += CRACK_STEP_MM) {
    bool ahead = covered(g, point_add(p, point_scale(across, r))),
         behind = covered(g, point_sub(p, point_scale(across, r)));
    if (ahead != behind)
      return ahead ? across : point_scale(across, -1);
  }
  return across;
}

/* The last place of the material between one inside and one outside. */
static Point rim(Ground *g, Point in, Point out)
{
  for (int i = 0; i < HALVINGS; i++) {
    Point middle = point_mix(in, out, 0.5);
    if (covered(g, middle))
      in = middle;
    else
      out = middle;
  }
  return in;
}

static void way_run(Ground *g, Point p, Point sense, CrackWay *way)
{
  way->end = CRACK_LONGEST;
  for (int i = 0; i < CRACK_STEPS; i++) {
    Point next = point_add(p, point_scale(sense, CRACK_STEP_MM)), across;
    double pull;
    if (!ground_at(g, next, &across, &pull)) {
      way->end = CRACK_THROUGH;
      way->at[way->n++] = rim(g, p, next);
      return;
    }
    if (point_dot(across, sense) < 0)
      across = point_scale(across, -1);
    if (pull <= 0 || point_dot(across, sense) < TURN_MOST_COS) {
      way->end = CRACK_SQUEEZE;
      return;
    }
    way->at[way->n++] = p = next;
    sense = across;
  }
}

Fault crack_way(const FieldSheet *sheet, NeckLoad load, Point start, CrackWay *way)
{
  if (!point_finite(start))
    return FAULT_NOT_FINITE;
  Ground g = {.sheet = sheet, .load = load};
  Fault fault = sheet_finder_new(sheet, &g.place);
  if (fault)
    return fault;
  Point across;
  double pull;
  CrackWay made = {.n = 0};
  if (!begin_at(&g, &start) || !ground_at(&g, start, &across, &pull) || !(pull > 0))
    fault = FAULT_RANGE;
  else {
    made.at[made.n++] = start;
    way_run(&g, start, inward(&g, start, across), &made);
  }
  sheet_finder_free(g.place);
  if (!fault)
    *way = made;
  return fault;
}

const char *crack_end_words(CrackEnd end)
{
  return end == CRACK_THROUGH   ? N_("It would run right through.")
         : end == CRACK_SQUEEZE ? N_("It would run as far as it is pulled open.")
                                : N_("It would run on.");
}

/* --- the picture --- */

static void way_path(cairo_t *cr, View view, const CrackWay *way, double share)
{
  double last = share * (double)(way->n - 1);
  Point p = view_px(view, way->at[0]);
  cairo_new_path(cr);
  cairo_move_to(cr, p.x, p.y);
  for (size_t i = 1; i < way->n && (double)(i - 1) < last; i++) {
    double part = fmin(last - (double)(i - 1), 1);
    p = view_px(view, point_mix(way->at[i - 1], way->at[i], part));
    cairo_line_to(cr, p.x, p.y);
  }
}

/* The material between the outlines, in upright strips: nothing of it is to be covered. */
static void take_body(Places *places, const DrawContext *context, View view, const Connector *drawn)
{
  const Outline *side[] = {&drawn->side[SIDE_GINGIVAL], &drawn->side[SIDE_OCCLUSAL]};
  double low[STRIPS], high[STRIPS], edge = px(context, 6), left = places->bounds.x,
                                    wide = places->bounds.width / STRIPS;
  for (int i = 0; i < STRIPS; i++)
    low[i] = -INFINITY, high[i] = INFINITY;
  for (int k = 0; k < 2; k++)
    for (int i = 0; i <= BODY_POINTS && side[k]->n > 1; i++) {
      Point p =
          view_px(view, outline_at(side[k], (double)outline_pieces(side[k]) * i / BODY_POINTS));
      int strip = (int)floor((p.x - left) / wide);
      if (strip < 0 || strip >= STRIPS)
        continue;
      low[strip] = fmax(low[strip], p.y);
      high[strip] = fmin(high[strip], p.y);
    }
  for (int i = 0; i < STRIPS; i++)
    if (low[i] >= high[i])
      places_take(places, (Box){left + i * wide - edge, high[i] - edge, wide + 2 * edge,
                                low[i] - high[i] + 2 * edge});
}

/* The narrowest column that breaks the text into n lines at most, and no word of it. */
static double column_width(cairo_t *cr, const DrawContext *context, TextStyle style, int n,
                           const char *text)
{
  double all = text_width(cr, context, style, text) + 1, wide = all / n,
         line = text_column(cr, context, style, point(0, 0), all, 0, true, text);
  g_auto(GStrv) word = g_strsplit(text, " ", -1);
  for (char **w = word; *w; w++)
    wide = fmax(wide, text_width(cr, context, style, *w) + 1);
  while (wide < all &&
         text_column(cr, context, style, point(0, 0), wide, 0, true, text) > (n + 0.5) * line)
    wide += all / 40;
  return fmin(wide, all);
}

/* From the head of the drawing down; in the middle, then at the sides. */
static bool place_find(Places *places, const DrawContext *context, Box *plate)
{
  Box in = places->bounds;
  for (double y = px(context, TITLE_PX); y + plate->height <= in.y + in.height;
       y += px(context, 8)) {
    const Box candidate[] = {
        {in.x + (in.width - plate->width) / 2, y, plate->width, plate->height},
        {in.x + px(context, 12), y, plate->width, plate->height},
        {in.x + in.width - plate->width - px(context, 12), y, plate->width, plate->height}};
    int found = places_find(places, candidate, 3);
    if (found < 0)
      continue;
    *plate = candidate[found];
    return true;
  }
  return false;
}

static void draw_label(cairo_t *cr, const DrawContext *context, View view, const Places *taken,
                       const Connector *drawn)
{
  const char *words = text_word(context, N_("A sketch of the way, no prediction of time"));
  Places places = *taken;
  double pad = px(context, 12);
  TextStyle style = {TEXT_BODY, true, false, COLOUR_TEXT, ALIGN_LEFT};
  Box plate = {0, 0, 0, 0};
  bool found = false;
  take_body(&places, context, view, drawn);
  for (int i = 0; i < 2 * LINES_MOST && !found;
       i++) { /* in one line, in several, in small letters */
    style.size = i < LINES_MOST ? TEXT_BODY : TEXT_NOTE;
    plate.width = column_width(cr, context, style, 1 + i % LINES_MOST, words) + 2 * pad;
    plate.height =
        text_column(cr, context, style, point(0, 0), plate.width - 2 * pad, 0, true, words) +
        px(context, 8);
    found = place_find(&places, context, &plate);
  }
  if (!found) { /* never without it */
    style.size = TEXT_BODY;
    plate.width = text_width(cr, context, style, words) + 2 * pad + 1;
    plate.height = px(context, 28);
    plate.x = taken->bounds.x + (taken->bounds.width - plate.width) / 2;
    plate.y = px(context, TITLE_PX);
  }
  draw_plate(cr, context, plate, palette_colour(context->palette, COLOUR_INK), 1.4);
  text_column(cr, context, style,
              point(plate.x + pad, plate.y + px(context, 4) + 1.1 * text_px(context, style.size)),
              plate.width - 2 * pad, 0, false, words);
}

void picture_crack(cairo_t *cr, const DrawContext *context, View view, const CrackWay *way,
                   double share, const Places *taken, const Connector *drawn)
{
  if (way->n < 2 || !(share >= 0))
    return;
  way_path(cr, view, way, fmin(share, 1));
  ink_stroke_haloed(cr, context, palette_colour(context->palette, COLOUR_INK), 3, NULL);
  draw_label(cr, context, view, taken, drawn);
}
