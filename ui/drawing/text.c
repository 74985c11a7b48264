/* text.c - see text.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/drawing/text.h"
#include <pango/pangocairo.h>
#include <string.h>

static const double em[TEXT_SIZE_N] = {13, 15, 17, 20, 24};
#define LINE_HEIGHT 1.33

double text_px(const DrawContext *context, TextSize size)
{
  return px(context, em[size]);
}

const char *text_word(const DrawContext *context, const char *msgid)
{
  return context->translate && msgid && *msgid ? context->translate(msgid) : msgid ? msgid : "";
}

static PangoLayout *layout_new(cairo_t *cr, const DrawContext *context, TextStyle style,
                               const char *words)
{
  PangoLayout *layout = pango_cairo_create_layout(cr);
  PangoContext *pango = pango_layout_get_context(layout);
  cairo_surface_type_t target = cairo_surface_get_type(cairo_get_target(cr));
  if (target == CAIRO_SURFACE_TYPE_PDF || target == CAIRO_SURFACE_TYPE_SVG ||
      target == CAIRO_SURFACE_TYPE_RECORDING)
    pango_context_set_round_glyph_positions(pango, FALSE);
  PangoFontDescription *font = pango_font_description_new();
  pango_font_description_set_family(font, context->font ? context->font : "Sans");
  pango_font_description_set_absolute_size(font, text_px(context, style.size) * PANGO_SCALE);
  pango_font_description_set_weight(font, style.bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description(layout, font);
  pango_font_description_free(font);
  PangoAttrList *attributes = pango_attr_list_new();
  pango_attr_list_insert(attributes, pango_attr_font_features_new("tnum=1"));
  pango_layout_set_attributes(layout, attributes);
  pango_attr_list_unref(attributes);
  pango_layout_set_text(layout, words, -1);
  return layout;
}

static double layout_width(PangoLayout *layout)
{
  int width;
  pango_layout_get_size(layout, &width, NULL);
  return (double)width / PANGO_SCALE;
}

double text_width(cairo_t *cr, const DrawContext *context, TextStyle style, const char *words)
{
  PangoLayout *layout = layout_new(cr, context, style, words);
  double width = layout_width(layout);
  g_object_unref(layout);
  return width;
}

static double aligned(double x, Align align, double width)
{
  return align == ALIGN_RIGHT ? x - width : align == ALIGN_CENTRE ? x - width / 2 : x;
}

static void layout_show(cairo_t *cr, const DrawContext *context, TextStyle style,
                        PangoLayout *layout, Point at)
{
  double baseline = (double)pango_layout_get_baseline(layout) / PANGO_SCALE;
  cairo_new_path(cr);
  if (style.halo) {
    cairo_move_to(cr, at.x, at.y - baseline);
    pango_cairo_layout_path(cr, layout);
    ink_width(cr, context, 4);
    ink_use(cr, context, COLOUR_PAPER);
    cairo_stroke(cr);
  }
  cairo_move_to(cr, at.x, at.y - baseline);
  ink_use(cr, context, style.colour);
  pango_cairo_show_layout(cr, layout);
  cairo_new_path(cr);
}

double text_draw(cairo_t *cr, const DrawContext *context, TextStyle style, Point at,
                 const char *words)
{
  PangoLayout *layout = layout_new(cr, context, style, words);
  double width = layout_width(layout);
  at.x = aligned(at.x, style.align, width);
  layout_show(cr, context, style, layout, at);
  g_object_unref(layout);
  return width;
}

double text_line_height(const DrawContext *context, TextSize size)
{
  return text_px(context, size) * LINE_HEIGHT;
}

static PangoLayout *column_new(cairo_t *cr, const DrawContext *context, TextStyle style,
                               double width, const char *words)
{
  PangoLayout *layout = layout_new(cr, context, style, words);
  pango_layout_set_width(layout, (int)(fmin(fmax(width, 1), 1e5) * PANGO_SCALE));
  pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
  return layout;
}

static void lines_show(cairo_t *cr, const DrawContext *context, TextStyle style, Point at,
                       PangoLayout *layout, int first, int end)
{
  double line = text_line_height(context, style.size);
  for (int i = first; i < end; i++) {
    PangoLayoutLine *row = pango_layout_get_line_readonly(layout, i);
    PangoRectangle extent;
    pango_layout_line_get_extents(row, NULL, &extent);
    double x = aligned(at.x, style.align, (double)extent.width / PANGO_SCALE);
    ink_use(cr, context, style.colour);
    cairo_move_to(cr, x, at.y + (i - first) * line);
    pango_cairo_show_layout_line(cr, row);
  }
  cairo_new_path(cr);
}

double text_column(cairo_t *cr, const DrawContext *context, TextStyle style, Point at, double width,
                   int max_lines, bool measure, const char *words)
{
  PangoLayout *layout = column_new(cr, context, style, width, words);
  if (max_lines > 0) {
    pango_layout_set_height(layout, -max_lines);
    pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_END);
  }
  int n = pango_layout_get_line_count(layout);
  lines_show(cr, context, style, at, layout, 0, measure ? 0 : n);
  g_object_unref(layout);
  return n * text_line_height(context, style.size);
}

int text_column_lines(cairo_t *cr, const DrawContext *context, TextStyle style, Point at,
                      double width, int first, int n, const char *words)
{
  PangoLayout *layout = column_new(cr, context, style, width, words);
  int all = pango_layout_get_line_count(layout);
  lines_show(cr, context, style, at, layout, first, MIN(first + n, all));
  g_object_unref(layout);
  return all;
}

Box text_box(cairo_t *cr, const DrawContext *context, TextStyle style, Point at, const char *words)
{
  double width = text_width(cr, context, style, words), height = text_px(context, style.size);
  return (Box){aligned(at.x, style.align, width), at.y - 0.85 * height, width, 1.15 * height};
}

char *say_number(const DrawContext *context, char *buf, double value, int decimals)
{
  phrase_number(value, decimals, context->decimal, buf, TEXT_ROOM);
  return buf;
}

char *say_phrase(const DrawContext *context, char *buf, Phrase phrase)
{
  phrase_format(&phrase, context->translate, context->decimal, buf, TEXT_ROOM);
  return buf;
}

char *say(const DrawContext *context, char *buf, const char *text, double v0, double v1, double v2,
          double v3)
{
  return say_phrase(context, buf, (Phrase){.text = text, .value = {v0, v1, v2, v3}});
}

char *say_banded(const DrawContext *context, char *buf, Banded b, int decimals)
{
  char part[3][TEXT_ROOM / 4];
  phrase_number(b.value, decimals, context->decimal, part[0], sizeof part[0]);
  phrase_number(b.low, decimals, context->decimal, part[1], sizeof part[1]);
  phrase_number(b.high, decimals, context->decimal, part[2], sizeof part[2]);
  if (isnan(b.value))
    g_strlcpy(buf, "–", TEXT_ROOM);
  else
    g_snprintf(buf, TEXT_ROOM, "%s (%s–%s)", part[0], part[1], part[2]);
  return buf;
}

char *say_spread(const DrawContext *context, char *buf, Banded b)
{
  double half = 50 * (b.high - b.low) / fmax(fabs(b.value), 1e-9);
  return b.high > 2 * b.value && b.value > 0
             ? say(context, buf, N_("{0}–{1}"), b.low, b.high, 0, 0)
             : say(context, buf, N_("± {0} %"), ceil(half - 0.05), 0, 0, 0);
}
