/* tool_row.c - toggles of 44 px with own icons; a dot marks a shown layer.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/tool_row.h"
#include "ui/canvas/draw_context.h"
#include "ui/words.h"

#define TARGET 44
#define ICON_SIZE 24
#define DOT_RADIUS 2.5

static const ToolRowItem item[] = {
    {.tool = &tool_pen},
    {.tool = &tool_knot},
    {.tool = &tool_starter_u},
    {.tool = &tool_starter_v},
    {.tool = &tool_disc},
    {.tool = &tool_room},
    {.tool = &tool_best},
    {.layer = LAYER_COMB, .name = N_("Show curvature comb"), .key = GDK_KEY_C, .icon = ICON_COMB},
    {.layer = LAYER_SHADE, .name = N_("Show stress shade"), .key = GDK_KEY_S, .icon = ICON_SHADE},
    {.layer = LAYER_FLOW, .name = N_("Show flow of the pull"), .key = GDK_KEY_L, .icon = ICON_FLOW},
    {.layer = LAYER_GHOST, .name = N_("Show best outline"), .key = GDK_KEY_B, .icon = ICON_BEST},
    {.layer = LAYER_BRUSH | LAYER_CUTTER | LAYER_ROOM | LAYER_ENVELOPE,
     .name = N_("Show brush, cutter and room"),
     .key = GDK_KEY_R,
     .icon = ICON_BRUSH},
    {.layer = LAYER_SOFT,
     .name = N_("Show the size before firing"),
     .key = GDK_KEY_E,
     .icon = ICON_SOFT},
};

const ToolRowItem *tool_row_items(size_t *n)
{
  *n = G_N_ELEMENTS(item);
  return item;
}

static void icon_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const ToolRowItem *of = data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  cairo_save(cr);
  cairo_translate(cr, (width - ICON_SIZE) / 2.0, (height - ICON_SIZE) / 2.0);
  draw_tool_icon(cr, of->tool ? of->tool->icon : of->icon, ICON_SIZE,
                 palette_colour(context.palette, COLOUR_TEXT));
  cairo_restore(cr);
  GtkWidget *button = gtk_widget_get_parent(GTK_WIDGET(area));
  bool on = gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(button));
  if (on) { /* tool: bar below; layer: dot below */
    ink_use(cr, &context, COLOUR_ACCENT);
    if (of->tool)
      cairo_rectangle(cr, 0, height - 3, width, 3);
    else
      cairo_arc(cr, width / 2.0, height - 5, DOT_RADIUS, 0, 2 * G_PI);
    cairo_fill(cr);
  }
}

static void toggled(GtkToggleButton *button, gpointer data)
{
  SoffitCanvas *canvas = data;
  const ToolRowItem *of = g_object_get_data(G_OBJECT(button), "soffit-item");
  GtkWidget *row = gtk_widget_get_parent(gtk_widget_get_parent(GTK_WIDGET(button)));
  if (g_object_get_data(G_OBJECT(row), "soffit-updating"))
    return;
  if (of->tool)
    canvas_set_tool(canvas, of->tool);
  else
    canvas_toggle_layer(canvas, of->layer);
  tool_row_update(row);
  gtk_widget_grab_focus(GTK_WIDGET(canvas));
}

void tool_row_update(GtkWidget *row)
{
  SoffitCanvas *canvas = g_object_get_data(G_OBJECT(row), "soffit-canvas");
  g_object_set_data(G_OBJECT(row), "soffit-updating", row);
  for (GtkWidget *line = gtk_widget_get_first_child(row); line;
       line = gtk_widget_get_next_sibling(line))
    for (GtkWidget *child = gtk_widget_get_first_child(line); child;
         child = gtk_widget_get_next_sibling(child)) {
      const ToolRowItem *of = g_object_get_data(G_OBJECT(child), "soffit-item");
      if (!of)
        continue;
      bool on =
          of->tool ? of->tool == canvas_tool(canvas) : (canvas_layers(canvas) & of->layer) != 0;
      gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(child), on);
      gtk_widget_queue_draw(gtk_widget_get_first_child(child));
    }
  g_object_set_data(G_OBJECT(row), "soffit-updating", NULL);
}

void tool_row_fold(GtkWidget *row, bool two_lines)
{
  gtk_orientable_set_orientation(GTK_ORIENTABLE(row),
                                 two_lines ? GTK_ORIENTATION_VERTICAL : GTK_ORIENTATION_HORIZONTAL);
  for (GtkWidget *child = gtk_widget_get_first_child(row); child;
       child = gtk_widget_get_next_sibling(child))
    if (GTK_IS_SEPARATOR(child))
      gtk_orientable_set_orientation(GTK_ORIENTABLE(child), two_lines ? GTK_ORIENTATION_HORIZONTAL
                                                                      : GTK_ORIENTATION_VERTICAL);
}

static GtkWidget *item_new(SoffitCanvas *canvas, const ToolRowItem *of)
{
  GtkWidget *button = gtk_toggle_button_new(), *area = gtk_drawing_area_new();
  const char *name = _(of->tool ? of->tool->name : of->name);
  g_autofree char *key = gtk_accelerator_get_label(
      gdk_keyval_to_upper(of->tool ? of->tool->key : of->key), of->tool ? 0 : GDK_SHIFT_MASK);
  g_autofree char *tip = g_strdup_printf("%s (%s)", name, key);
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(area), icon_draw, (gpointer)of, NULL);
  gtk_button_set_child(GTK_BUTTON(button), area);
  gtk_widget_set_size_request(button, TARGET, TARGET);
  gtk_widget_add_css_class(button, "tool");
  gtk_widget_set_tooltip_text(button, tip);
  gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_object_set_data(G_OBJECT(button), "soffit-item", (gpointer)of);
  g_signal_connect(button, "toggled", G_CALLBACK(toggled), canvas);
  return button;
}

GtkWidget *tool_row_new(SoffitCanvas *canvas)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_add_css_class(row, "tools");
  gtk_widget_add_css_class(row, "floating");
  g_object_set_data(G_OBJECT(row), "soffit-canvas", canvas);
  GtkWidget *line = NULL; /* tools, then layers */
  for (size_t i = 0; i < G_N_ELEMENTS(item); i++) {
    if (i == 0 || (!item[i].tool && item[i - 1].tool)) {
      if (line)
        gtk_box_append(GTK_BOX(row), gtk_separator_new(GTK_ORIENTATION_VERTICAL));
      line = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0);
      gtk_box_append(GTK_BOX(row), line);
    }
    gtk_box_append(GTK_BOX(line), item_new(canvas, &item[i]));
  }
  gtk_accessible_update_property(GTK_ACCESSIBLE(row), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Tools and layers"), -1);
  tool_row_update(row);
  return row;
}
