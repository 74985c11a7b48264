/* svg_write.c - the four outlines of a connector as an SVG drawing in true mm.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One user unit is one mm, y down.  The elevation keeps its place; the plan is moved below it and
 * carries its own axis, so that nothing is guessed when it is read back. */
#include "casefile/case_words.h"
#include "casefile/document_xml.h"
#include "casefile/svg_xml.h"
#include "outline/form.h"

#define MARGIN_MM 1.0
#define BETWEEN_MM 2.0 /* elevation and plan */
#define LINE_MM 0.1

typedef struct {
  double x0, x1, y0, y1; /* y up */
} Extent;

static void extent_add(Extent *e, const Outline *outline)
{
  for (size_t i = 0; i < outline->n; i++) {
    const Knot *k = &outline->knot[i];
    const Point p[3] = {k->at, k->in, k->out};
    for (int j = 0; j < 3; j++) {
      e->x0 = fmin(e->x0, p[j].x);
      e->x1 = fmax(e->x1, p[j].x);
      e->y0 = fmin(e->y0, p[j].y);
      e->y1 = fmax(e->y1, p[j].y);
    }
  }
}

static void put(GString *svg, const char *format, const double v[], int n)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  for (int i = 0; *format; format++) {
    if (*format != '#')
      g_string_append_c(svg, *format);
    else if (i < n)
      g_string_append(
          svg, g_ascii_formatd(number, sizeof number, "%.8g", round(v[i++] * 1e6) / 1e6 + 0.0));
  }
}

static bool put_path(GString *svg, const char *id, const Outline *outline)
{
  Outline down;
  outline_init(&down);
  if (outline_copy(&down, outline) != FAULT_NONE)
    return false;
  outline_transform(&down, (const double[6]){1, 0, 0, -1, 0, 0});
  size_t length = outline_to_path(&down, NULL, 0);
  g_autofree char *d = g_malloc(length + 1);
  outline_to_path(&down, d, length + 1);
  outline_clear(&down);
  g_string_append_printf(svg, "    <path id=\"%s\" d=\"%s\"/>\n", id, d);
  return length > 0;
}

static void put_marks(GString *svg, const Outline side[SIDE_N], const Extent *e)
{
  Form form;
  const double tissue[] = {e->x0, e->x1};
  g_string_append(svg,
                  "  <g id=\"marks\" fill=\"none\" stroke=\"#8a6d3b\" stroke-width=\"0.06\">\n");
  put(svg, "    <line id=\"tissue\" x1=\"#\" y1=\"0\" x2=\"#\" y2=\"0\"/>\n", tissue, 2);
  if (form_read(&side[SIDE_GINGIVAL], &side[SIDE_OCCLUSAL], &side[SIDE_BUCCAL], &side[SIDE_LINGUAL],
                NULL, &form, NULL) == FAULT_NONE) {
    const double neck[] = {form.neck_low.x, -form.neck_low.y, form.neck_high.x, -form.neck_high.y};
    const double gap[] = {form.gap_centre.x, -form.gap_centre.y, form.gap_circle / 2};
    put(svg, "    <line id=\"neck\" x1=\"#\" y1=\"#\" x2=\"#\" y2=\"#\"/>\n", neck, 4);
    if (form.gap_circle > 0)
      put(svg, "    <circle id=\"room\" cx=\"#\" cy=\"#\" r=\"#\"/>\n", gap, 3);
  }
  g_string_append(svg, "  </g>\n");
}

GString *svg_from_connector(const Outline side[SIDE_N], const char *title, bool marks)
{
  Extent up = {INFINITY, -INFINITY, 0, 0}, plan = {INFINITY, -INFINITY, 0, 0};
  extent_add(&up, &side[SIDE_GINGIVAL]);
  extent_add(&up, &side[SIDE_OCCLUSAL]);
  extent_add(&plan, &side[SIDE_BUCCAL]);
  extent_add(&plan, &side[SIDE_LINGUAL]);
  double down = ceil(plan.y1 - up.y0 + BETWEEN_MM); /* of the plan's axis below the tissue line */
  double x0 = floor(fmin(up.x0, plan.x0) - MARGIN_MM), x1 = ceil(fmax(up.x1, plan.x1) + MARGIN_MM);
  double y0 = floor(-up.y1 - MARGIN_MM), y1 = ceil(down - plan.y0 + MARGIN_MM);
  const double box[] = {x1 - x0, y1 - y0, x0, y0, x1 - x0, y1 - y0}, line[] = {LINE_MM};
  GString *svg = g_string_new("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                              "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" ");
  put(svg, "width=\"#mm\" height=\"#mm\" viewBox=\"# # # #\">\n", box, 6);
  g_autofree char *words = g_markup_escape_text(title, -1);
  g_string_append_printf(svg, "  <title>%s</title>\n", words);
  g_string_append(svg,
                  "  <desc>mm. x = 0: neck plane; y = 0: tissue line, up is towards the biting "
                  "side; below, the plan, cheek side up, about its own axis.</desc>\n");
  g_string_append(svg, "  <g fill=\"none\" stroke=\"#22303c\" ");
  put(svg, "stroke-width=\"#\">\n", line, 1);
  bool good = put_path(svg, word_of(WORDS_SIDE, SIDE_GINGIVAL), &side[SIDE_GINGIVAL]) &&
              put_path(svg, word_of(WORDS_SIDE, SIDE_OCCLUSAL), &side[SIDE_OCCLUSAL]);
  g_string_append(svg, "  </g>\n  <g fill=\"none\" stroke=\"#22303c\" ");
  const double moved[] = {LINE_MM, down}, axis[] = {plan.x0, plan.x1};
  put(svg, "stroke-width=\"#\" transform=\"translate(0 #)\">\n", moved, 2);
  good = good && put_path(svg, word_of(WORDS_SIDE, SIDE_BUCCAL), &side[SIDE_BUCCAL]) &&
         put_path(svg, word_of(WORDS_SIDE, SIDE_LINGUAL), &side[SIDE_LINGUAL]);
  put(svg,
      "    <line id=\"" SVG_PLAN_AXIS "\" x1=\"#\" y1=\"0\" x2=\"#\" y2=\"0\" "
      "stroke-dasharray=\"0.6 0.3\"/>\n  </g>\n",
      axis, 2);
  if (marks)
    put_marks(svg, side, &up);
  g_string_append(svg, "</svg>\n");
  if (!good)
    g_string_truncate(svg, 0);
  return svg;
}
