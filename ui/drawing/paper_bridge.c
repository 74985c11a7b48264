/* paper_bridge.c - first page: the bridge, its verdict, all connectors in one table, what helps
 * most. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/paper_parts.h"
#include "ui/drawing/picture_bars.h"
#include "ui/drawing/picture_key.h"
#include "ui/drawing/picture_span.h"

#define SPAN_HIGH 206.0
#define ADVICE_HIGH 26.0
#define ADVICES 5
#define DOOR_ROUND_WORD 37 /* px: sign, gaps and edges */

static void draw_order(Paper *p, double x, double width)
{
  const Case *c = &p->a->c;
  char buf[TEXT_ROOM];
  paper_words(p, paper_body, x, width, text_word(p->context, c->material.name));
  paper_words(p, paper_note, x, width,
              say(p->context, buf,
                  c->cutter_diameter > 0
                      ? N_("enlargement {0.2} · brush {1.1} mm · cutter {2.1} mm")
                      : N_("enlargement {0.2} · brush {1.1} mm"),
                  c->enlargement, c->brush_mm, c->cutter_diameter, 0));
  paper_words(p, paper_note, x, width,
              say(p->context, buf, N_("order {0} N anywhere on the biting edge"), c->order_load_n,
                  0, 0, 0));
  if (c->blank_batch[0]) {
    Phrase batch = {.text = N_("batch {name}")};
    g_strlcpy(batch.name, c->blank_batch, sizeof batch.name);
    paper_words(p, paper_note, x, width, say_phrase(p->context, buf, batch));
  }
}

static void draw_head(Paper *p)
{
  const Assessment *a = p->a;
  const DrawContext *context = p->context;
  double top = p->y, middle = p->width * 0.56;
  char buf[TEXT_ROOM], carries[TEXT_ROOM];
  TextStyle big = {TEXT_VERDICT, true, false, COLOUR_TEXT, ALIGN_LEFT};
  paper_verdict(p, a->verdict, point(paper_left(), top - 4), 40);
  double x = paper_left() + 52;
  text_draw(p->cr, context, big, point(x, top + 11), text_word(context, verdict_name(a->verdict)));
  p->y = top + 17;
  say_banded(context, carries, a->carries_n, 0);
  Phrase phrase = {.text = N_("{place} goes first.")};
  if (a->weakest < a->n_connector)
    g_strlcpy(phrase.place, a->connector[a->weakest].name, sizeof phrase.place);
  g_snprintf(buf, sizeof buf, "%s %s N.", text_word(context, N_("Carries")), carries);
  paper_words(p, paper_strong, x, middle - x - 12, buf);
  if (a->fault != FAULT_NONE)
    paper_words(p, paper_body, x, middle - x - 12, text_word(context, fault_text(a->fault)));
  else if (phrase.place[0])
    paper_words(p, paper_body, x, middle - x - 12, say_phrase(context, buf, phrase));
  double left_end = p->y;
  p->y = top - 2;
  draw_order(p, middle, paper_right(p) - middle);
  p->y = fmax(p->y, fmax(left_end, top + 44)) + 6;
}

static void draw_span(Paper *p)
{
  static const TextStyle door_word = {TEXT_BODY, false, false, COLOUR_TEXT, ALIGN_LEFT};
  const Case *c = &p->a->c;
  SpanPicture picture = span_picture(p->a);
  char buf[TEXT_ROOM];
  bool trial = c->trial.force_n > 0;
  picture.handle = false;
  picture.doors = true;
  picture.at_order = !trial;
  for (Verdict verdict = VERDICT_NONE; verdict <= VERDICT_REWORK; verdict++) {
    double word =
        text_width(p->cr, p->context, door_word, text_word(p->context, verdict_name(verdict)));
    picture.door_width = fmax(picture.door_width, word / p->context->scale + DOOR_ROUND_WORD);
  }
  double width = paper_right(p) - paper_left();
  if (!p->counting) {
    cairo_save(p->cr);
    cairo_translate(p->cr, paper_left(), p->y);
    FlatBridge *flat = flat_bridge_new();
    Point where;
    if (flat && flat_bridge_show(flat, p->a, picture.at_order, &where) == FAULT_NONE)
      picture.flat = flat;
    picture_span(p->cr, (int)width, (int)SPAN_HIGH, p->context, &picture);
    flat_bridge_free(flat);
    cairo_restore(p->cr);
  }
  p->y += SPAN_HIGH + 6;
  say(p->context, buf,
      trial
          ? N_("Shade and bending curve at the trial load of {0} N; verdicts at the order's {1} N.")
          : N_("Shade at the order's load of {1} N where it is worst for the connector that goes "
               "first."),
      c->trial.force_n, c->order_load_n, 0, 0);
  double y = p->y;
  paper_words(p, paper_note, paper_left(), width - 170, buf);
  paper_words(p, paper_note, paper_left(), width - 170,
              text_word(p->context, N_("Flat picture of the whole bridge, weak zones drawn "
                                       "stronger; each neck set to its own answer and limit.")));
  const ConnectorAssessment *first =
      p->a->weakest < p->a->n_connector ? &p->a->connector[p->a->weakest] : NULL;
  if (first && !p->counting) {
    cairo_save(p->cr);
    cairo_translate(p->cr, paper_right(p) - 150, y - 4);
    picture_key(p->cr, 150, 42, p->context, first->strength_mpa.value);
    cairo_restore(p->cr);
  }
  p->y = fmax(p->y, y + 34);
}

#define COLUMNS 8

static void table_head(Paper *p, const double x[COLUMNS])
{
  static const char *const upper[COLUMNS] = {N_("connector"), NULL,         N_("neck, mm"),
                                             N_("area, mm²"), N_("roof"),   N_("peak"),
                                             N_("margin"),    N_("carries")};
  static const char *const lower[COLUMNS] = {NULL,
                                             NULL,
                                             N_("high × wide"),
                                             N_("of needed"),
                                             N_("radius, mm"),
                                             N_("order, MPa"),
                                             N_("band"),
                                             N_("N, band")};
  TextStyle style[COLUMNS];
  const char *cell[2][COLUMNS];
  for (int k = 0; k < COLUMNS; k++) {
    style[k] = paper_note;
    style[k].align = k < 2 ? ALIGN_LEFT : ALIGN_RIGHT;
    cell[0][k] = text_word(p->context, upper[k]);
    cell[1][k] = text_word(p->context, lower[k]);
  }
  paper_row(p, COLUMNS, x, style, cell[0]);
  p->y -= 3;
  paper_row(p, COLUMNS, x, style, cell[1]);
  paper_rule(p);
  p->y += 2;
}

static void table_line(Paper *p, size_t k, const double x[COLUMNS])
{
  const ConnectorAssessment *c = &p->a->connector[k];
  const DrawContext *context = p->context;
  char buf[COLUMNS][TEXT_ROOM];
  TextStyle style[COLUMNS];
  const char *cell[COLUMNS] = {c->name};
  for (int i = 0; i < COLUMNS; i++) {
    style[i] = i == 0 || i == 6 ? paper_strong : paper_body;
    style[i].align = i < 2 ? ALIGN_LEFT : ALIGN_RIGHT;
  }
  g_strlcpy(buf[1], text_word(context, verdict_name(c->verdict)), TEXT_ROOM);
  say(context, buf[2], "{0.2} × {1.1}", c->form.neck_height, c->form.neck_width, 0, 0);
  say(context, buf[3], isnan(c->limits.area_need) ? "{0.1}" : "{0.1} / {1.1}", c->section.area,
      c->limits.area_need, 0, 0);
  say(context, buf[4], "{0.2}", c->form.roof_radius.value, 0, 0, 0);
  say(context, buf[5], "{0}", c->peak_mpa.value, 0, 0, 0);
  say_banded(context, buf[6], c->margin, 2);
  say_banded(context, buf[7], c->carries_n, 0);
  for (int i = 1; i < COLUMNS; i++)
    cell[i] = buf[i];
  paper_need(p, 18);
  paper_verdict(p, c->verdict, point(x[1] - 17, p->y), 12);
  if (c->fault != FAULT_NONE) {
    paper_row(p, 2, x, style, cell);
    paper_words(p, paper_body, x[1], paper_right(p) - x[1],
                text_word(context, fault_text(c->fault)));
  } else {
    paper_row(p, COLUMNS, x, style, cell);
  }
  p->y += 1;
  paper_rule(p);
  p->y += 2;
}

static void draw_table(Paper *p)
{
  double l = paper_left(), r = paper_right(p);
  const double x[COLUMNS] = {l, l + 62, l + 168, l + 230, l + 288, l + 354, l + 428, r};
  paper_heading(p, N_("Connectors"), N_("sizes after firing; verdicts at the order's load"));
  table_head(p, x);
  for (size_t k = 0; k < p->a->n_connector; k++)
    table_line(p, k, x);
}

static void advice_line(Paper *p, const Advice *advice, const char *name, double widest)
{
  char words[TEXT_ROOM];
  double x = paper_left(), r = paper_right(p), y = p->y;
  TextStyle right = paper_strong;
  right.align = ALIGN_RIGHT;
  if (name) {
    text_draw(p->cr, p->context, paper_strong, point(x, y + 10.5), name);
    x += 42;
  }
  text_draw(p->cr, p->context, paper_strong, point(x, y + 10.5),
            say_phrase(p->context, words, advice->act));
  text_draw(p->cr, p->context, paper_note, point(x, y + 21.5),
            say_phrase(p->context, words, advice->why));
  say(p->context, words, N_("{0+} % ({1} to {2})"), advice->gain_percent.value,
      advice->gain_percent.low, advice->gain_percent.high, 0);
  text_draw(p->cr, p->context, right, point(r, y + 10.5), words);
  if (!p->counting) {
    cairo_save(p->cr);
    cairo_translate(p->cr, r - 240, y + 4);
    picture_gain(p->cr, 130, 12, p->context, advice->gain_percent, widest);
    cairo_restore(p->cr);
  }
  p->y += ADVICE_HIGH;
}

void paper_advice(Paper *p, size_t connector, bool named)
{
  const Assessment *a = p->a;
  double widest = 50;
  size_t n = 0, shown = 0;
  for (size_t i = 0; i < a->n_advice; i++)
    if (a->advice[i].connector == connector) {
      widest = fmax(widest, fmin(a->advice[i].gain_percent.high, 400));
      n++;
    }
  if (n == 0 || p->y + 30 + ADVICE_HIGH > p->height - PAPER_FOOT)
    return;
  paper_heading(p, N_("What helps most"), N_("carries more, alone, with its band"));
  for (size_t i = 0; i < a->n_advice && shown < ADVICES; i++) {
    if (a->advice[i].connector != connector || p->y + ADVICE_HIGH > p->height - PAPER_FOOT)
      continue;
    advice_line(p, &a->advice[i], named ? a->connector[connector].name : NULL, widest);
    shown++;
  }
}

void paper_bridge(Paper *p)
{
  paper_page_begin(p);
  draw_head(p);
  draw_span(p);
  draw_table(p);
  if (p->a->weakest < p->a->n_connector)
    paper_advice(p, p->a->weakest, true);
  if (isfinite(p->a->together_n.value)) {
    char buf[TEXT_ROOM];
    say(p->context, buf, N_("All changes of shape and finish together: about {0} N ({1} to {2})."),
        p->a->together_n.value, p->a->together_n.low, p->a->together_n.high, 0);
    paper_words(p, paper_body, paper_left(), paper_right(p) - paper_left(), buf);
  }
  paper_remarks(p, SIZE_MAX);
  paper_page_end(p);
}
