/* connector_labels.c - words on the elevation and where they find room.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/connector_layers.h"
#include "verdict/brush_size.h"

#define LINE_POINTS 160 /* of the line that plates keep off */
#define FOOT_PX 5.0     /* half the square of a knot         */

static const TextStyle label = {TEXT_NOTE, false, true, COLOUR_TEXT, ALIGN_LEFT};
static const TextStyle title = {TEXT_BODY, true, true, COLOUR_TEXT, ALIGN_LEFT};
static const TextStyle quiet = {TEXT_NOTE, false, true, COLOUR_DIM, ALIGN_LEFT};
static const TextStyle tooth = {TEXT_FIGURE, true, true, COLOUR_DIM, ALIGN_LEFT};
static const TextStyle plated = {TEXT_BODY, true, false, COLOUR_TEXT, ALIGN_LEFT};

static Box around(Point centre, double radius)
{
  return (Box){centre.x - radius, centre.y - radius, 2 * radius, 2 * radius};
}

/* Draws words and keeps their place free; left out when the place is gone. */
static void draw_fixed(const ConnectorSheet *s, Places *places, TextStyle style, Point at,
                       const char *words)
{
  Box box = text_box(s->cr, s->context, style, at, words);
  if (places_find(places, &box, 1) == 0)
    text_draw(s->cr, s->context, style, at, words);
}

static bool on_line(const ConnectorSheet *s, Box box)
{
  const Outline *line = &s->drawn->side[SIDE_GINGIVAL];
  for (int i = 0; i <= LINE_POINTS && line->n > 1; i++) {
    Point p = view_px(s->view, outline_at(line, (double)outline_pieces(line) * i / LINE_POINTS));
    if (p.x > box.x && p.x < box.x + box.width && p.y > box.y && p.y < box.y + box.height)
      return true;
  }
  return false;
}

int places_find_off_line(const ConnectorSheet *s, Places *places, const Box candidate[], size_t n)
{
  for (size_t i = 0; i < n; i++)
    if (!on_line(s, candidate[i]) && places_find(places, &candidate[i], 1) == 0)
      return (int)i;
  return places_find(places, candidate, n);
}

static TextStyle to_right(TextStyle style)
{
  style.align = ALIGN_RIGHT;
  return style;
}

static void draw_titles(const ConnectorSheet *s, Places *places)
{
  const Assessment *a = s->picture->a;
  const DrawContext *context = s->context;
  double margin = px(context, s->width > 500 * context->scale ? 18 : 10), right = s->width - margin;
  char buf[TEXT_ROOM], number[TEXT_ROOM];
  Phrase phrase = {.text = N_("Connector {place} from the cheek")};
  g_strlcpy(phrase.place, s->answer->name, sizeof phrase.place);
  draw_fixed(s, places, title, point(margin, px(context, 26)), say_phrase(context, buf, phrase));
  double enlargement = soft_enlargement(s);
  if (layer(s, LAYER_GRID))
    draw_fixed(s, places, to_right(enlargement > 1 ? title : quiet), point(right, px(context, 26)),
               enlargement > 1
                   ? say(context, buf, N_("grid 1 mm of the soft piece, {0.3} times fired"),
                         enlargement, 0, 0, 0)
                   : text_word(context, N_("grid 1 mm, sizes after firing")));
  if (s->picture->connector + 1 >= a->c.n_unit)
    return;
  bool distal_right = connector_distal_right(&a->c, s->picture->connector);
  double y = fmin(s->view.y - px(context, 16), s->height - px(context, 10));
  for (int side = 0; side < 2; side++) {
    bool distal = (side == 1) == distal_right;
    double x = side ? right : margin;
    g_snprintf(number, sizeof number, "%d", a->c.unit[s->picture->connector + (size_t)side].tooth);
    draw_fixed(s, places, side ? to_right(tooth) : tooth, point(x, y), number);
    draw_fixed(s, places, side ? to_right(quiet) : quiet, point(x, y - px(context, 24)),
               text_word(context, distal ? N_("distal") : N_("mesial")));
  }
}

static void draw_neck(const ConnectorSheet *s, Places *places)
{
  const Form *form = &s->answer->form;
  if (!(form->neck_height > 0))
    return;
  Point low = view_px(s->view, form->neck_low), high = view_px(s->view, form->neck_high);
  ink_use(s->cr, s->context, COLOUR_INK);
  ink_width(s->cr, s->context, 1.1);
  ink_dash(s->cr, s->context, DASH_NECK);
  draw_line(s->cr, high, low);
  char buf[TEXT_ROOM];
  double enlargement = soft_enlargement(s);
  say(s->context, buf, enlargement > 1 ? N_("{0.2} mm (soft {1.2})") : N_("{0.2} mm"),
      form->neck_height, form->neck_height * enlargement, 0, 0);
  double width = text_width(s->cr, s->context, plated, buf) + px(s->context, 12),
         height = px(s->context, 24);
  static const double part[] = {0.62, 0.72, 0.54, 0.8, 0.46, 0.88};
  Box candidate[18];
  for (int k = 0; k < 18; k++) {
    Point at = point_mix(low, high, part[k % 6]);
    double aside = k / 6 == 0 ? 0 : (k / 6 == 1 ? -1 : 1) * (width / 2 + px(s->context, 8));
    candidate[k] = (Box){at.x + aside - width / 2, at.y - height / 2, width, height};
  }
  int found = places_find(places, candidate, 18);
  if (found < 0)
    return;
  Box box = candidate[found];
  draw_plate(s->cr, s->context, box, palette_colour(s->context->palette, COLOUR_LINE), 1);
  text_draw(s->cr, s->context, plated,
            point(box.x + px(s->context, 6), box.y + px(s->context, 17.5)), buf);
  if (s->picture->size_box)
    s->picture->size_box[SIZE_NECK_HEIGHT] = box;
}

/* Words beside a circle, to the right of the embrasure if there is room, else to the left, with a
 * leader.  below: two lines more, or NULL. */
static void draw_led(const ConnectorSheet *s, Places *places, Point centre, double radius,
                     const char *words, char below[2][TEXT_ROOM])
{
  double line = px(s->context, 20), height = below ? 2.6 * line : line,
         width = text_width(s->cr, s->context, label, words);
  for (int i = 0; below && i < 2; i++)
    width = fmax(width, text_width(s->cr, s->context, quiet, below[i]));
  double open =
      s->answer->form.gap_circle > 0 ? s->answer->form.gap_circle / 2 * s->view.scale : radius;
  Point middle = point(view_px(s->view, point(s->answer->form.neck_x, 0)).x, centre.y);
  static const double lead[] = {62, 34, 104, 150}, up[] = {0, 1.1, -1.1, -2.2};
  Box candidate[32];
  int n = 0;
  for (int far = 0; far < 4; far++)
    for (int side = 1; side >= -1; side -= 2)
      for (int step = 0; step < 4; step++) {
        double x = middle.x + side * (fmax(open, radius) + px(s->context, lead[far])),
               y = fmin(centre.y + up[step] * height,
                        s->view.y - px(s->context, 6) - height + line / 2); /* off the gum line */
        candidate[n++] = (Box){side > 0 ? x : x - width, y - line / 2, width, height};
      }
  int found = places_find_off_line(s, places, candidate, (size_t)n);
  if (found < 0)
    return;
  Box box = candidate[found];
  bool right = box.x > centre.x;
  Point to = point(right ? box.x - px(s->context, 6) : box.x + box.width + px(s->context, 6),
                   box.y + line / 2);
  ink_use(s->cr, s->context, COLOUR_DIM);
  ink_width(s->cr, s->context, 1);
  draw_line(s->cr, point(centre.x + (right ? radius : -radius), centre.y), to);
  text_draw(s->cr, s->context, label, point(box.x, box.y + px(s->context, 14.5)), words);
  for (int i = 0; below && i < 2; i++)
    text_draw(s->cr, s->context, quiet, point(box.x, box.y + px(s->context, 31 + 16 * i)),
              below[i]);
}

/* "up to 1.8 passes: size 5", "ISO 16409, from memory"; of the low end of a traced room. */
static void brush_words(const ConnectorSheet *s, char words[2][TEXT_ROOM])
{
  double traced = fmax(s->answer->trace_percent, 0); /* NaN: not known, 0 */
  BrushSize brush = brush_size_through(s->answer->form.gap_circle * fmax(0, 1 - traced / 100));
  if (brush.size == BRUSH_SIZE_NONE)
    g_strlcpy(words[0], text_word(s->context, N_("no brush passes")), TEXT_ROOM);
  else
    say(s->context, words[0], N_("up to {0.1} passes: size {1}"), brush.passage, brush.size, 0, 0);
  g_strlcpy(words[1],
            text_word(s->context, brush.size == 1 ? N_("ISO 16409") : N_("ISO 16409, from memory")),
            TEXT_ROOM);
}

char *connector_cutter_words(const DrawContext *context, const ConnectorPicture *picture, char *buf)
{
  double cutter = picture->a->c.cutter_diameter,
         shortfall = picture->a->connector[picture->connector].cutter_shortfall;
  if (shortfall > 0.005)
    return say(context, buf, N_("cutter {0.1} stops {1.2} short"), cutter, shortfall, 0, 0);
  return say(context, buf, N_("cutter {0.1} reaches the roof"), cutter, 0, 0, 0);
}

char *connector_brush_words(const DrawContext *context, const ConnectorPicture *picture, char *buf)
{
  const Case *c = &picture->a->c;
  double gap = picture->a->connector[picture->connector].form.gap_circle;
  bool soft = (picture->layers & LAYER_SOFT) != 0 && c->enlargement > 1,
       passes = gap >= c->brush_mm;
  return say(context, buf,
             soft     ? passes ? N_("room {0.2} (soft {2.2}) · brush {1.1} passes")
                               : N_("room {0.2} (soft {2.2}) · brush {1.1} does not pass")
                 : passes ? N_("room {0.2} · brush {1.1} passes")
                      : N_("room {0.2} · brush {1.1} does not pass"),
             gap, c->brush_mm, soft ? gap * c->enlargement : gap, 0);
}

static void draw_gauge_labels(const ConnectorSheet *s, Places *places)
{
  char buf[TEXT_ROOM], size[2][TEXT_ROOM];
  Point centre;
  double radius;
  if (layer(s, LAYER_CUTTER) && gauge_cutter(s, &centre, &radius))
    draw_led(s, places, centre, radius, connector_cutter_words(s->context, s->picture, buf), NULL);
  if (layer(s, LAYER_BRUSH))
    brush_words(s, size);
  if (layer(s, LAYER_BRUSH) && gauge_brush(s, &centre, &radius)) {
    draw_led(s, places, centre, radius, connector_brush_words(s->context, s->picture, buf), size);
  } else if (layer(s, LAYER_ROOM) && gauge_room(s, &centre, &radius)) {
    draw_led(s, places, centre, radius,
             say(s->context, buf, N_("room {0.2}"), s->answer->form.gap_circle, 0, 0, 0),
             layer(s, LAYER_BRUSH) ? size : NULL);
  }
}

#define GHOST_REACH_MM 2.5 /* to either side of the neck */

Point outline_widest(const Outline *other, const Outline *outline, double neck_x, int side)
{
  Point best = other->knot[other->n / 2].at;
  double widest = -1;
  for (int i = 0; i <= 60; i++) {
    double distance, t = (double)outline_pieces(other) * i / 60;
    Point p = outline_at(other, t);
    outline_nearest(outline, p, &distance);
    double aside = side * (p.x - neck_x);
    if (distance > widest && aside >= 0 && aside <= GHOST_REACH_MM) {
      widest = distance;
      best = p;
    }
  }
  return best;
}

/* "−22 % stretch" and what to do; a gain in load carried of g is a fall of stretch by g / (1 + g).
 */
static void draw_ghost_plate(const ConnectorSheet *s, Places *places)
{
  const Advice *advice = s->picture->advice;
  if (!advice || advice->ghost.n < 2 || advice->kind == ADVICE_WIDEN ||
      advice->gain_percent.value <= -99)
    return;
  char head[TEXT_ROOM] = "", tail[TEXT_ROOM] = "", foot[TEXT_ROOM];
  const Banded *gain = &advice->gain_percent;
  bool known = isfinite(gain->value); /* else only its words */
  if (known) {
    say(s->context, head, N_("{0+} %"), -100 * gain->value / (100 + gain->value), 0, 0, 0);
    say(s->context, tail, N_("stretch ({0} to {1})"), -100 * gain->high / (100 + gain->high),
        -100 * gain->low / (100 + gain->low), 0, 0);
  }
  say_phrase(s->context, foot, advice->act);
  TextStyle strong = {TEXT_TITLE, true, false, COLOUR_ACCENT, ALIGN_LEFT};
  TextStyle plain = {TEXT_BODY, false, false, COLOUR_TEXT, ALIGN_LEFT};
  TextStyle note = {TEXT_NOTE, false, false, COLOUR_DIM, ALIGN_LEFT};
  double first = text_width(s->cr, s->context, strong, head) + px(s->context, 6);
  double width = fmax(first + text_width(s->cr, s->context, plain, tail),
                      text_width(s->cr, s->context, note, foot));
  width += px(s->context, 26);
  double height = px(s->context, known ? 50 : 30);
  Side changed = advice->kind == ADVICE_GROOVE ? SIDE_OCCLUSAL : SIDE_GINGIVAL;
  double away;
  /* on the left, where the words of the gauges are not */
  Point place =
      outline_widest(&advice->ghost, &s->drawn->side[changed], s->answer->form.neck_x, -1);
  Point tip = view_px(s->view, place);
  outline_nearest(&s->drawn->side[changed], place, &away);
  if (known && away < GHOST_TAKEN_MM)
    return;
  static const double above[] = {1, -1.5, 2, -3, 3}, far[] = {46, 22, 140, 190};
  Box candidate[40];
  for (int k = 0; k < 40; k++) {
    int side = k % 2 ? 1 : -1; /* left first: the words of the gauges stand at the right */
    double y = tip.y + px(s->context, 24) * above[k / 2 % 5], gap = px(s->context, far[k / 10]);
    candidate[k] = (Box){side > 0 ? tip.x + gap : tip.x - gap - width, y, width, height};
  }
  int found = places_find_off_line(s, places, candidate, 40);
  ink_use(s->cr, s->context, COLOUR_ACCENT);
  path_circle(s->cr, tip, px(s->context, 3.6));
  cairo_fill(s->cr);
  if (found < 0)
    return;
  Box box = candidate[found];
  ink_width(s->cr, s->context, 1.6);
  draw_line(s->cr, tip, point(box.x > tip.x ? box.x : box.x + box.width, box.y + height / 2));
  draw_plate(s->cr, s->context, box, palette_colour(s->context->palette, COLOUR_ACCENT), 1.6);
  Point at = point(box.x + px(s->context, 12), box.y + px(s->context, 22));
  if (known) {
    text_draw(s->cr, s->context, strong, at, head);
    text_draw(s->cr, s->context, plain, point(at.x + first, at.y), tail);
  }
  text_draw(s->cr, s->context, note, point(at.x, box.y + px(s->context, known ? 41 : 20)), foot);
}

/* The embrasure belongs to the gauges: words stand beside it. */
static void take_embrasure(const ConnectorSheet *s, Places *places)
{
  Point centre;
  double radius;
  if (layer(s, LAYER_CUTTER) && gauge_cutter(s, &centre, &radius))
    places_take(places, around(centre, radius));
  if ((layer(s, LAYER_ROOM) || layer(s, LAYER_BRUSH)) && gauge_room(s, &centre, &radius))
    places_take(places, around(centre, radius));
  for (int k = 0; k < 2 && s->answer->form.kind != FORM_NONE; k++)
    places_take(places, around(view_px(s->view, s->answer->form.foot[k]), px(s->context, FOOT_PX)));
  Point low = view_px(s->view, s->answer->form.neck_low),
        roof = view_px(s->view, s->answer->form.roof);
  if (point_finite(low) && point_finite(roof))
    places_take(places, (Box){fmin(low.x, roof.x) - px(s->context, 4),
                              fmin(low.y, roof.y) - px(s->context, 4),
                              fabs(low.x - roof.x) + px(s->context, 8), s->view.y - roof.y});
}

void draw_words(const ConnectorSheet *s)
{
  Places places;
  double margin = px(s->context, 6);
  places_init(&places, (Box){margin, margin, s->width - 2 * margin, s->height - 2 * margin});
  for (int i = 0; i < KEEP_FREE; i++)
    if (s->picture->keep_free[i].width > 0)
      places_take(&places, s->picture->keep_free[i]);
  if (s->peak) /* the hot spot is never covered */
    places_take(&places,
                around(view_px(s->view, point(s->peak->at.x, s->peak->at.y)), px(s->context, 18)));
  take_embrasure(s, &places);
  if (layer(s, LAYER_TITLES))
    draw_titles(s, &places);
  if (layer(s, LAYER_LOUPE) && s->peak && s->peak_mpa.value > 0)
    draw_hot_spot(s, &places);
  if (layer(s, LAYER_NECK))
    draw_neck(s, &places);
  if (layer(s, LAYER_SIZES))
    draw_sizes(s, &places);
  if (layer(s, LAYER_LABELS))
    draw_gauge_labels(s, &places);
  if (layer(s, LAYER_READING))
    draw_reading(s, &places);
  if (layer(s, LAYER_BEFORE) && layer(s, LAYER_LABELS))
    draw_before_label(s, &places);
  if (layer(s, LAYER_GHOST) && layer(s, LAYER_LABELS))
    draw_ghost_plate(s, &places);
  if (s->picture->taken)
    *s->picture->taken = places;
}
