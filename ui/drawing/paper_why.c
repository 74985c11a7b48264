/* paper_why.c - the second page of a connector: from the best one to this, and what drives the
 * band. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/paper_parts.h"
#include "ui/drawing/tornado.h"
#include "ui/drawing/waterfall.h"
#include <math.h>

#define HEAD_HIGH 54.0
#define DRIVER_HIGH 27.8
#define SHORT_PAGE 800.0 /* pt: below it, as on Letter, all of it finds room a little closer */
#define CLOSER 0.93

static bool short_page(const Paper *p)
{
  return p->height < SHORT_PAGE;
}

static DrawContext chart_context(const Paper *p)
{
  DrawContext context = *p->context;
  context.scale *= short_page(p) ? CLOSER : 1;
  return context;
}

static void why_head(Paper *p, const ConnectorAssessment *c)
{
  char buf[TEXT_ROOM];
  Phrase phrase = {.text = N_("Connector {place}: why")};
  g_strlcpy(phrase.place, c->name, sizeof phrase.place);
  paper_big(p, say_phrase(p->context, buf, phrase));
  p->y += short_page(p) ? 8 : 20;
}

static void draw_waterfall(Paper *p, const Waterfall *w)
{
  char buf[TEXT_ROOM];
  DrawContext context = chart_context(p);
  double width = paper_right(p) - paper_left(), high = waterfall_height(&context);
  paper_heading(p, N_("From the best connector in this room"),
                N_("each step judged anew; factor (band), their product is the whole"));
  paper_words(p, paper_body, paper_left(), width, say_phrase(p->context, buf, waterfall_phrase(w)));
  p->y += 6;
  paper_need(p, high);
  cairo_save(p->cr);
  cairo_translate(p->cr, paper_left(), p->y);
  picture_waterfall(p->cr, (int)width, (int)high, &context, w);
  cairo_restore(p->cr);
  p->y += high + 6;
}

/* Numbers of bites are known to two digits at the very most. */
static double two_digits(double value)
{
  double unit = value >= 1e4 ? pow(10, floor(log10(value)) - 1) : 0.001;
  return round(value / unit) * unit;
}

/* Name, ends, chance in service at them; the source below. */
static void input_row(Paper *p, const ChanceDriver *d)
{
  char name[TEXT_ROOM], ends[TEXT_ROOM], chance[TEXT_ROOM];
  const Range *r = &d->input.range;
  double a = d->at_low.service.chance_percent, b = d->at_high.service.chance_percent;
  const double x[3] = {paper_left(), paper_left() + 190, paper_right(p)};
  TextStyle style[3] = {paper_strong, paper_body, paper_body};
  style[2].align = ALIGN_RIGHT;
  bool large = fmax(r->high, r->value) >= 100;
  say_phrase(p->context, name, driver_phrase(d));
  say(p->context, ends, large ? N_("{0}; from {1} to {2}") : N_("{0.2}; from {1.2} to {2.2}"),
      two_digits(r->value), two_digits(r->low), two_digits(r->high), 0);
  say(p->context, chance, N_("chance in service {0}–{1} %"), fmin(a, b), fmax(a, b), 0, 0);
  paper_need(p, 30);
  paper_row(p, 3, x, style, (const char *const[]){name, ends, chance});
  paper_words(p, paper_note, paper_left() + 12, paper_right(p) - paper_left() - 12,
              text_word(p->context, r->source));
}

static void draw_drivers(Paper *p, const ConnectorAssessment *c)
{
  char buf[TEXT_ROOM];
  DrawContext context = chart_context(p);
  double width = paper_right(p) - paper_left(), high = tornado_height(&context, c);
  Service service = case_service(&p->a->c);
  paper_need(p,
             HEAD_HIGH + high + DRIVER_HIGH * MIN((double)c->n_driver, TORNADO_ROWS)); /* whole */
  paper_heading(p, N_("What drives the band"),
                N_("one input at its two ends, all others at their middle"));
  paper_words(
      p, paper_body, paper_left(), width,
      say(p->context, buf,
          N_("Margin at the order's load of {0} N after {1} years of {2} such bites a day."),
          p->a->c.order_load_n, service.years, service.bites_a_day, 0));
  p->y += 6;
  paper_need(p, high);
  cairo_save(p->cr);
  cairo_translate(p->cr, paper_left(), p->y);
  picture_tornado(p->cr, (int)width, (int)high, &context, c);
  cairo_restore(p->cr);
  p->y += high + 8;
  for (size_t i = 0; i < c->n_driver && i < TORNADO_ROWS; i++)
    input_row(p, &c->driver[i]);
}

void paper_why(Paper *p, size_t k)
{
  const ConnectorAssessment *c = &p->a->connector[k];
  if (!c->waterfall.known && c->n_driver == 0)
    return;
  paper_page_begin(p);
  why_head(p, c);
  if (c->waterfall.known)
    draw_waterfall(p, &c->waterfall);
  if (c->n_driver > 0)
    draw_drivers(p, c);
  paper_page_end(p);
}
