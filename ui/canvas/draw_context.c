/* draw_context.c - the desktop's theme, words and sizes for the pictures.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/draw_context.h"
#include "ui/theme.h"
#include "ui/words.h"

double text_scale(GtkWidget *widget)
{
  const PangoFontDescription *description =
      pango_context_get_font_description(gtk_widget_get_pango_context(widget));
  double points = pango_font_description_get_size(description) / (double)PANGO_SCALE;
  if (!pango_font_description_get_size_is_absolute(description))
    points *= 96.0 / 72.0;
  return CLAMP(points / 15.0, 1.0, 2.5); /* 15 px is the text of the look */
}

DrawContext draw_context_for(GtkWidget *widget, char font[64])
{
  const char *family = pango_font_description_get_family(
      pango_context_get_font_description(gtk_widget_get_pango_context(widget)));
  g_strlcpy(font, family ? family : "Sans", 64);
  return (DrawContext){.palette = palette_choose(theme_dark(), theme_contrast()),
                       .decimal = words_decimal(),
                       .translate = words_translate,
                       .scale = text_scale(widget),
                       .font = font,
                       .resolution = gtk_widget_get_scale_factor(widget)};
}
