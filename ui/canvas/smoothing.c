/* smoothing.c - see smoothing.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/smoothing.h"
#include "ui/canvas/draw_context.h"
#include "ui/canvas/tool_row.h"
#include "ui/preferences.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define KEY "smoothing-mm"
#define SCALE_WIDTH 220
#define TARGET 44

double smoothing_kept(void)
{
  g_autofree char *word = preference_word(KEY);
  char *end = word;
  double mm = word ? g_ascii_strtod(word, &end) : NAN;
  bool known = word && end != word && *end == '\0' && mm >= 0 && mm <= SMOOTHING_MOST_MM;
  return known ? mm : stroke_settings_default().tolerance_mm;
}

void smoothing_keep(double mm)
{
  char word[G_ASCII_DTOSTR_BUF_SIZE];
  preference_word_set(KEY, g_ascii_formatd(word, sizeof word, "%.2f", mm));
}

char *smoothing_words(double mm)
{
  g_autofree char *number = words_number(mm, 2);
  return mm > 0 ? g_strdup_printf(_("Smoothing %s mm"), number) : g_strdup(_("Smoothing off"));
}

static GtkRange *range_of(GtkWidget *button)
{
  return g_object_get_data(G_OBJECT(button), "soffit-range");
}

static void moved(GtkRange *range, SoffitCanvas *canvas)
{
  double mm = gtk_range_get_value(range);
  if (fabs(mm - canvas_smoothing(canvas)) > 1e-9)
    canvas_set_smoothing(canvas, mm);
}

static void icon_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  (void)data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  draw_tool_icon_in(cr, ICON_SMOOTHING, width, height,
                    palette_colour(context.palette, COLOUR_TEXT));
}

void smoothing_update(GtkWidget *button)
{
  SoffitCanvas *canvas = g_object_get_data(G_OBJECT(button), "soffit-canvas");
  g_autofree char *words = smoothing_words(canvas_smoothing(canvas));
  g_autofree char *tip =
      g_strdup_printf(_("%s: what lies inside the band may be smoothed away ([ ])"), words);
  gtk_range_set_value(range_of(button), canvas_smoothing(canvas));
  gtk_label_set_text(GTK_LABEL(g_object_get_data(G_OBJECT(button), "soffit-words")), words);
  spoken_name(button, words);
  spoken_name(GTK_WIDGET(range_of(button)), words);
  spoken_tooltip(button, tip);
}

/* What both ends of the range mean. */
static GtkWidget *ends_new(void)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0), *off = gtk_label_new(_("off")),
            *strong = gtk_label_new(_("strong"));
  gtk_widget_set_hexpand(strong, TRUE);
  gtk_widget_set_halign(strong, GTK_ALIGN_END);
  gtk_widget_add_css_class(off, "note");
  gtk_widget_add_css_class(strong, "note");
  gtk_box_append(GTK_BOX(row), off);
  gtk_box_append(GTK_BOX(row), strong);
  return row;
}

GtkWidget *smoothing_new(SoffitCanvas *canvas)
{
  GtkWidget *button = gtk_menu_button_new(), *area = gtk_drawing_area_new(),
            *popover = gtk_popover_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4),
            *words = gtk_label_new(""),
            *note = gtk_label_new(_("What lies inside the band around "
                                    "the ink may be smoothed away."));
  GtkWidget *scale =
      gtk_scale_new_with_range(GTK_ORIENTATION_HORIZONTAL, 0, SMOOTHING_MOST_MM, SMOOTHING_STEP_MM);
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(area), icon_draw, NULL, NULL);
  gtk_widget_set_size_request(area, TARGET, TARGET);
  gtk_menu_button_set_child(GTK_MENU_BUTTON(button), area);
  gtk_menu_button_set_popover(GTK_MENU_BUTTON(button), popover);
  gtk_menu_button_set_direction(GTK_MENU_BUTTON(button), GTK_ARROW_UP);
  gtk_label_set_xalign(GTK_LABEL(words), 0);
  gtk_widget_add_css_class(words, "title");
  gtk_label_set_xalign(GTK_LABEL(note), 0);
  gtk_label_set_wrap(GTK_LABEL(note), TRUE);
  gtk_label_set_max_width_chars(GTK_LABEL(note), 30);
  gtk_widget_add_css_class(note, "note");
  gtk_scale_set_draw_value(GTK_SCALE(scale), FALSE);
  gtk_scale_add_mark(GTK_SCALE(scale), stroke_settings_default().tolerance_mm, GTK_POS_BOTTOM,
                     NULL);
  gtk_widget_set_size_request(scale, SCALE_WIDTH, -1);
  gtk_box_append(GTK_BOX(box), words);
  gtk_box_append(GTK_BOX(box), scale);
  gtk_box_append(GTK_BOX(box), ends_new());
  gtk_box_append(GTK_BOX(box), note);
  gtk_popover_set_child(GTK_POPOVER(popover), box);
  gtk_widget_add_css_class(popover, "sources");
  g_object_set_data(G_OBJECT(button), "soffit-canvas", canvas);
  g_object_set_data(G_OBJECT(button), "soffit-range", scale);
  g_object_set_data(G_OBJECT(button), "soffit-words", words);
  g_signal_connect(scale, "value-changed", G_CALLBACK(moved), canvas);
  return button;
}
