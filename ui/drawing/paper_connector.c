/* paper_connector.c - a page for one connector: drawing, section, gum side, readings with band and
 * source, reasons. SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/load_case.h"
#include "ui/drawing/paper_parts.h"
#include "ui/drawing/picture_connector.h"
#include "ui/drawing/picture_key.h"
#include "ui/drawing/picture_plan.h"
#include "ui/drawing/picture_section.h"

#define DRAWING_HIGH 240.0
#define REASONS 12
#define HEADING 29.0

static const char computed[] = N_("computed; band: error of the calculation");
static const char strength_from[] = N_("material card, finish and size of the pulled surface");
static const char measured[] = N_("measured on the drawing");

static void draw_pictures(Paper *p, size_t k)
{
  double l = paper_left(), r = paper_right(p), side = 128, high = DRAWING_HIGH, gap = 10;
  int width = (int)(r - l - side - gap);
  ConnectorPicture picture = connector_picture(p->a, k, width, (int)high, p->context);
  picture.view = connector_view_above(p->a, k, width, (int)high, 30, p->context);
  picture.at_order = true;
  picture.layers &= ~(unsigned)(LAYER_KNOTS | LAYER_GHOST | LAYER_COMB);
  cairo_save(p->cr);
  cairo_translate(p->cr, l, p->y);
  picture_connector(p->cr, width, (int)high, p->context, &picture);
  paper_remark_pins(p, k, picture.view, (Box){0, 0, width, high});
  cairo_rectangle(p->cr, 0, 0, width, high);
  ink_use(p->cr, p->context, COLOUR_LINE);
  ink_width(p->cr, p->context, 1);
  cairo_stroke(p->cr);
  cairo_restore(p->cr);
  double x = r - side, y = p->y;
  text_draw(p->cr, p->context, paper_strong, point(x, y + 8),
            text_word(p->context, N_("From the gum side")));
  cairo_save(p->cr);
  cairo_translate(p->cr, x, y + 12);
  picture_plan(p->cr, (int)side, 92, p->context, p->a, k, true, NULL, NULL);
  cairo_restore(p->cr);
  text_draw(p->cr, p->context, paper_strong, point(x, y + 119),
            text_word(p->context, N_("Neck section")));
  cairo_save(p->cr);
  cairo_translate(p->cr, x, y + 124);
  picture_section(p->cr, (int)side, 76, p->context, p->a, k, true, NULL);
  cairo_restore(p->cr);
  cairo_save(p->cr);
  cairo_translate(p->cr, x, y + high - 36);
  picture_key(p->cr, (int)side, 40, p->context, p->a->connector[k].strength_mpa.value);
  cairo_restore(p->cr);
}

/* Name, figure with its band, a remark, and where it comes from; the source takes a second line if
 * it must. */
static void reading(Paper *p, const char *name, const char *value, const char *note,
                    const char *source)
{
  double l = paper_left(), r = paper_right(p), x = l + 104;
  TextStyle right = paper_note;
  right.align = ALIGN_RIGHT;
  const char *from = text_word(p->context, source);
  double end = x + text_width(p->cr, p->context, paper_strong, value);
  double note_x = end + 8;
  if (note[0])
    end = note_x + text_width(p->cr, p->context, paper_body, note);
  bool second = end + 10 + text_width(p->cr, p->context, paper_note, from) > r;
  paper_need(p, second ? 26 : 14.5);
  double y = p->y + 10.5;
  text_draw(p->cr, p->context, paper_body, point(l, y), text_word(p->context, name));
  text_draw(p->cr, p->context, paper_strong, point(x, y), value);
  text_draw(p->cr, p->context, paper_body, point(note_x, y), note);
  text_draw(p->cr, p->context, right, point(r, second ? y + 11.5 : y), from);
  p->y += second ? 26 : 14.5;
  paper_part_line(p);
}

static void shape_readings(Paper *p, const ConnectorAssessment *c)
{
  const DrawContext *x = p->context;
  char a[TEXT_ROOM], b[TEXT_ROOM];
  const Case *k = &p->a->c;
  bool limits = !isnan(c->limits.height_need);
  reading(p, N_("neck"),
          say(x, a, N_("{0.2} × {1.1} mm"), c->form.neck_height, c->form.neck_width, 0, 0),
          limits ? say(x, b, N_("needs {0.1} high"), c->limits.height_need, 0, 0, 0) : "",
          measured);
  reading(p, N_("neck area"), say(x, a, N_("{0.1} mm²"), c->section.area, 0, 0, 0),
          isnan(c->limits.area_need) ? ""
                                     : say(x, b, N_("needs {0.1}"), c->limits.area_need, 0, 0, 0),
          N_("section; need: habit of the trade, no source"));
  const Banded *radius = &c->form.roof_radius;
  reading(p, N_("roof radius"),
          say(x, a, N_("{0.2} mm ({1.2}–{2.2})"), radius->value, radius->low, radius->high, 0),
          text_word(x, form_word(c->form.kind)), measured);
  reading(p, N_("room"), say(x, a, N_("{0.2} mm"), c->form.gap_circle, 0, 0, 0),
          k->brush_mm > 0 ? say(x, b,
                                c->form.gap_circle >= k->brush_mm ? N_("brush {0.1} passes")
                                                                  : N_("brush {0.1} does not pass"),
                                k->brush_mm, 0, 0, 0)
                          : "",
          N_("largest circle; brush: ISO 16409 passage hole"));
  if (!(k->cutter_diameter > 0))
    return;
  say(x, a, c->cutter_shortfall > 0.005 ? N_("stops {0.2} mm short") : N_("reaches the roof"),
      c->cutter_shortfall, 0, 0, 0);
  reading(p, N_("cutter"), a,
          say(x, b, N_("{0.1} mm, enlargement {1.2}"), k->cutter_diameter, k->enlargement, 0, 0),
          N_("geometry"));
}

/* Depths from SCRATCH_MOST_UM on are not told apart. */
static char *scratch_say(const DrawContext *x, char *buf, Banded depth)
{
  char number[TEXT_ROOM];
  if (depth.value >= SCRATCH_MOST_UM)
    return say(x, buf, N_("more than {0} µm"), SCRATCH_MOST_UM, 0, 0, 0);
  g_snprintf(buf, TEXT_ROOM, "%s µm", say_banded(x, number, depth, 0));
  return buf;
}

static int chance_decimals(Banded percent)
{
  return percent.high < 9.95 ? 1 : 0;
}

static void chance_readings(Paper *p, const ConnectorAssessment *c)
{
  const DrawContext *x = p->context;
  char a[TEXT_ROOM], b[TEXT_ROOM], d[TEXT_ROOM];
  Service service = case_service(&p->a->c);
  g_snprintf(a, sizeof a, "%s %%",
             say_banded(x, d, c->chance_percent, chance_decimals(c->chance_percent)));
  reading(p, N_("chance"), a, "", N_("in one overload at the order's load; Weibull"));
  g_snprintf(
      a, sizeof a, "%s %%",
      say_banded(x, d, c->service_chance_percent, chance_decimals(c->service_chance_percent)));
  reading(
      p, N_("chance in service"), a,
      say(x, b, N_("{0} years, {1} such bites a day"), service.years, service.bites_a_day, 0, 0),
      N_("slow crack growth; all bites at the full load"));
  reading(p, N_("scratch"), scratch_say(x, a, c->scratch_um), "",
          N_("deeper would be enough; fracture toughness"));
  reading(p, N_("scratch in service"), scratch_say(x, a, c->service_scratch_um), "",
          N_("deeper would be enough after the years"));
}

static void force_readings(Paper *p, const ConnectorAssessment *c)
{
  const DrawContext *x = p->context;
  char a[TEXT_ROOM], b[TEXT_ROOM], d[TEXT_ROOM];
  reading(p, N_("bending at the neck"), say(x, a, N_("{0} N·mm"), c->order.moment_n_mm, 0, 0, 0),
          say(x, b, N_("hinged, not sinking: {0}"), c->pin_moment_n_mm, 0, 0, 0),
          N_("beam on springs; load at its worst place"));
  say_phrase(x, a, load_case_phrase(&p->a->c, c->load_case, c->order_x));
  reading(p, N_("governing bite"), a, "", N_("the worst of the order's load and the bites"));
  if (c->peak.by_section) {
    say(x, a, N_("{0} and {1} N·mm"), c->order.lateral_n_mm, c->order.torsion_n_mm, 0, 0);
    reading(p, N_("sideways, twist"), a, "", N_("section formulas: wider band"));
  }
  g_snprintf(a, sizeof a, "%s MPa", say_banded(x, d, c->peak_mpa, 0));
  reading(p, N_("pull at the hot spot"), a,
          say(x, b, N_("{0.1} × the plain {1}"), c->peak_mpa.value / c->nominal_mpa, c->nominal_mpa,
              0, 0),
          computed);
  g_snprintf(a, sizeof a, "%s MPa", say_banded(x, d, c->strength_mpa, 0));
  reading(p, N_("limit there"), a, text_word(x, finish_name(c->governing_finish)), strength_from);
  reading(p, N_("margin"), say_banded(x, a, c->margin, 2), "",
          N_("limit over pull, at the order's load"));
  g_snprintf(a, sizeof a, "%s N", say_banded(x, d, c->carries_n, 0));
  reading(p, N_("carries"), a, say(x, b, N_("order {0}"), p->a->c.order_load_n, 0, 0, 0),
          N_("5 of 100 such pieces would break"));
  chance_readings(p, c);
}

/* A dash and the words; the height. */
static double reason_draw(const Paper *p, Phrase reason, double x, double width, bool measure)
{
  char buf[TEXT_ROOM];
  double em = text_px(p->context, paper_body.size);
  say_phrase(p->context, buf, reason);
  if (!measure)
    text_draw(p->cr, p->context, paper_body, point(x, p->y + em), "–");
  return 2 + text_column(p->cr, p->context, paper_body, point(x + 12, p->y + em), width - 12, 0,
                         measure, buf);
}

/* In two columns where one would go on over the foot of the page. */
static void draw_reasons(Paper *p, size_t k)
{
  Phrase reason[REASONS];
  size_t n = assessment_reasons(p->a, k, reason, REASONS);
  if (n == 0)
    return;
  n = MIN(n, REASONS);
  double wide = paper_right(p) - paper_left(), high = HEADING;
  for (size_t i = 0; i < n; i++)
    high += reason_draw(p, reason[i], paper_left(), wide, true);
  size_t columns = high > paper_room(p) ? 2 : 1, rows = (n + columns - 1) / columns;
  wide = wide / (double)columns - (columns > 1 ? 6 : 0);
  paper_heading(p, N_("Reasons"), NULL);
  for (size_t i = 0; i < rows; i++) {
    double tall = 0;
    for (size_t at = i; at < n; at += rows)
      tall = fmax(tall, reason_draw(p, reason[at], 0, wide, true));
    paper_need(p, tall);
    for (size_t at = i; at < n; at += rows)
      reason_draw(p, reason[at], at == i ? paper_left() : paper_right(p) - wide, wide, false);
    p->y += tall;
  }
}

static void draw_head(Paper *p, const ConnectorAssessment *c)
{
  char buf[TEXT_ROOM];
  static const TextStyle word = {TEXT_VERDICT, true, false, COLOUR_TEXT, ALIGN_RIGHT};
  Phrase phrase = {.text = N_("Connector {place}")};
  g_strlcpy(phrase.place, c->name, sizeof phrase.place);
  paper_big(p, say_phrase(p->context, buf, phrase));
  const char *verdict = text_word(p->context, verdict_name(c->verdict));
  double width = text_draw(p->cr, p->context, word, point(paper_right(p), p->y + 8), verdict);
  paper_verdict(p, c->verdict, point(paper_right(p) - width - 28, p->y - 8), 20);
  p->y += 16;
  say(p->context, buf,
      N_("Shade and figures at the order's load of {0} N, where it is worst for this connector."),
      p->a->c.order_load_n, 0, 0, 0);
  paper_words(p, paper_note, paper_left(), paper_right(p) - paper_left(), buf);
  if (c->sides_averaged)
    paper_words(
        p, paper_note, paper_left(), paper_right(p) - paper_left(),
        text_word(p->context,
                  N_("Cheek and tongue side taken as their mean: answer of the moving pen.")));
  if (c->field && c->field->answer == ANSWER_PLANE)
    paper_words(
        p, paper_note, paper_left(), paper_right(p) - paper_left(),
        text_word(p->context,
                  N_("Computed as a plate of varying thickness, not as a solid: wider band.")));
  p->y += 4;
}

void paper_connector(Paper *p, size_t k)
{
  const ConnectorAssessment *c = &p->a->connector[k];
  paper_page_begin(p);
  draw_head(p, c);
  if (!p->counting)
    draw_pictures(p, k);
  p->y += DRAWING_HIGH + 4;
  if (c->fault != FAULT_NONE)
    paper_words(p, paper_strong, paper_left(), paper_right(p) - paper_left(),
                text_word(p->context, fault_text(c->fault)));
  paper_heading(p, N_("Readings"), N_("figure (band), and where it comes from"));
  shape_readings(p, c);
  if (c->fault == FAULT_NONE)
    force_readings(p, c);
  draw_reasons(p, k);
  paper_remarks(p, k);
  paper_advice(p, k, false);
  paper_page_end(p);
}
