/* tool_row.c - tools as toggles of 44 px with own icons, and what the drawing shows as a list; a
 * dot marks a shown layer. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/tool_row.h"
#include "ui/canvas/draw_context.h"
#include "ui/canvas/snap_menu.h"
#include "ui/canvas/smoothing.h"
#include "ui/words.h"

#define TARGET 44
#define ICON_SIZE 24
#define DOT_RADIUS 2.5

static const ToolRowItem item[] = {
    {.tool = &tool_pen},
    {.tool = &tool_eraser},
    {.tool = &tool_knot},
    {.tool = &tool_starter_u},
    {.tool = &tool_starter_v},
    {.tool = &tool_disc},
    {.tool = &tool_measure},
    {.tool = &tool_photo},
    {.tool = &tool_room},
    {.tool = &tool_best},
    {.tool = &tool_walk, .listed = true},
    {.layer = LAYER_COMB, .name = N_("Show curvature comb"), .key = GDK_KEY_C, .icon = ICON_COMB},
    {.layer = LAYER_SHADE, .name = N_("Show stress shade"), .key = GDK_KEY_S, .icon = ICON_SHADE},
    {.layer = LAYER_FLOW, .name = N_("Show flow of the pull"), .key = GDK_KEY_L, .icon = ICON_FLOW},
    {.layer = LAYER_GHOST, .name = N_("Show best outline"), .key = GDK_KEY_B, .icon = ICON_BEST},
    {.layer = LAYER_BRUSH | LAYER_CUTTER | LAYER_ROOM | LAYER_ENVELOPE,
     .name = N_("Show brush, cutter and room"),
     .key = GDK_KEY_R,
     .icon = ICON_BRUSH},
    {.layer = LAYER_SIZES,
     .name = N_("Show sizes of the embrasure"),
     .key = GDK_KEY_D,
     .icon = ICON_SIZES},
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

static bool in_row(const ToolRowItem *of)
{
  return of->tool && !of->listed;
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
  GtkWidget *button = gtk_widget_get_ancestor(GTK_WIDGET(area), GTK_TYPE_TOGGLE_BUTTON);
  bool on = gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(button));
  if (on) { /* in the row: bar below; in the list: dot below */
    ink_use(cr, &context, COLOUR_ACCENT);
    if (in_row(of))
      cairo_rectangle(cr, 0, height - 3, width, 3);
    else
      cairo_arc(cr, width / 2.0, height - 5, DOT_RADIUS, 0, 2 * G_PI);
    cairo_fill(cr);
  }
}

#define BUTTONS "soffit-buttons" /* of the row: all toggles, in the row and among the layers */

static void toggled(GtkToggleButton *button, gpointer data)
{
  SoffitCanvas *canvas = data;
  const ToolRowItem *of = g_object_get_data(G_OBJECT(button), "soffit-item");
  GtkWidget *row = g_object_get_data(G_OBJECT(button), "soffit-row");
  if (g_object_get_data(G_OBJECT(row), "soffit-updating"))
    return;
  if (of->tool)
    canvas_set_tool(canvas, of->tool);
  else
    canvas_toggle_layer(canvas, of->layer);
  tool_row_update(row);
  if (of->listed)
    gtk_popover_popdown(GTK_POPOVER(gtk_widget_get_ancestor(GTK_WIDGET(button), GTK_TYPE_POPOVER)));
  if (of->tool)
    gtk_widget_grab_focus(GTK_WIDGET(canvas));
}

void tool_row_update(GtkWidget *row)
{
  SoffitCanvas *canvas = g_object_get_data(G_OBJECT(row), "soffit-canvas");
  GPtrArray *button = g_object_get_data(G_OBJECT(row), BUTTONS);
  g_object_set_data(G_OBJECT(row), "soffit-updating", row);
  for (guint i = 0; i < button->len; i++) {
    const ToolRowItem *of = &item[i];
    bool on = of->tool ? of->tool == canvas_tool(canvas) : (canvas_layers(canvas) & of->layer) != 0;
    gtk_toggle_button_set_active(button->pdata[i], on);
    GtkWidget *icon = gtk_button_get_child(button->pdata[i]);
    gtk_widget_queue_draw(in_row(of) ? icon : gtk_widget_get_first_child(icon));
  }
  smoothing_update(g_object_get_data(G_OBJECT(row), "soffit-smoothing"));
  g_object_set_data(G_OBJECT(row), "soffit-updating", NULL);
}

static GtkWidget *icon_new(const ToolRowItem *of)
{
  GtkWidget *area = gtk_drawing_area_new();
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(area), icon_draw, (gpointer)of, NULL);
  return area;
}

/* A layer, or a listed tool: icon, name, key. */
static GtkWidget *layer_line_new(const ToolRowItem *of, const char *name, const char *key)
{
  GtkWidget *line = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8), *area = icon_new(of),
            *words = gtk_label_new(name), *key_label = gtk_label_new(key);
  gtk_widget_set_size_request(area, 32, 36);
  gtk_label_set_xalign(GTK_LABEL(words), 0);
  gtk_widget_set_hexpand(words, TRUE);
  gtk_widget_add_css_class(key_label, "dim");
  gtk_widget_add_css_class(key_label, "note");
  gtk_box_append(GTK_BOX(line), area);
  gtk_box_append(GTK_BOX(line), words);
  gtk_box_append(GTK_BOX(line), key_label);
  return line;
}

static GtkWidget *item_new(SoffitCanvas *canvas, GtkWidget *row, const ToolRowItem *of)
{
  GtkWidget *button = gtk_toggle_button_new();
  const char *name = _(of->tool ? of->tool->name : of->name);
  g_autofree char *key = gtk_accelerator_get_label(
      gdk_keyval_to_upper(of->tool ? of->tool->key : of->key), of->tool ? 0 : GDK_SHIFT_MASK);
  if (in_row(of)) {
    g_autofree char *tip = g_strdup_printf("%s (%s)", name, key);
    gtk_button_set_child(GTK_BUTTON(button), icon_new(of));
    gtk_widget_set_size_request(button, TARGET, TARGET);
    gtk_widget_set_tooltip_text(button, tip);
  } else {
    gtk_button_set_child(GTK_BUTTON(button), layer_line_new(of, name, key));
  }
  gtk_widget_add_css_class(button, "tool");
  gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_object_set_data(G_OBJECT(button), "soffit-item", (gpointer)of);
  g_object_set_data(G_OBJECT(button), "soffit-row", row);
  g_signal_connect(button, "toggled", G_CALLBACK(toggled), canvas);
  g_ptr_array_add(g_object_get_data(G_OBJECT(row), BUTTONS), button);
  return button;
}

static void layers_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  (void)data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  cairo_translate(cr, (width - ICON_SIZE) / 2.0, (height - ICON_SIZE) / 2.0);
  draw_tool_icon(cr, ICON_LAYERS, ICON_SIZE, palette_colour(context.palette, COLOUR_TEXT));
}

/* What the drawing shows besides its line. */
static GtkWidget *layers_new(GtkWidget *box)
{
  GtkWidget *button = gtk_menu_button_new(), *area = gtk_drawing_area_new(),
            *popover = gtk_popover_new();
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(area), layers_draw, NULL, NULL);
  gtk_widget_set_size_request(area, TARGET, TARGET);
  gtk_menu_button_set_child(GTK_MENU_BUTTON(button), area);
  gtk_popover_set_child(GTK_POPOVER(popover), box);
  gtk_popover_set_position(GTK_POPOVER(popover), GTK_POS_TOP);
  gtk_widget_add_css_class(popover, "sources");
  gtk_menu_button_set_popover(GTK_MENU_BUTTON(button), popover);
  gtk_menu_button_set_direction(GTK_MENU_BUTTON(button), GTK_ARROW_UP);
  gtk_widget_set_tooltip_text(button, _("What the drawing shows"));
  gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("What the drawing shows"), -1);
  return button;
}

GtkWidget *tool_row_new(SoffitCanvas *canvas)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0),
            *layers = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2), *smoothing = smoothing_new(canvas);
  gtk_widget_add_css_class(row, "tools");
  gtk_widget_add_css_class(row, "floating");
  gtk_widget_add_css_class(layers, "layers");
  g_object_set_data(G_OBJECT(row), "soffit-canvas", canvas);
  g_object_set_data(G_OBJECT(row), "soffit-smoothing", smoothing);
  g_object_set_data_full(G_OBJECT(row), BUTTONS, g_ptr_array_new(),
                         (GDestroyNotify)g_ptr_array_unref);
  for (size_t i = 0; i < G_N_ELEMENTS(item); i++)
    gtk_box_append(GTK_BOX(in_row(&item[i]) ? row : layers), item_new(canvas, row, &item[i]));
  gtk_box_append(GTK_BOX(row), gtk_separator_new(GTK_ORIENTATION_VERTICAL));
  gtk_box_append(GTK_BOX(row), layers_new(layers));
  gtk_box_append(GTK_BOX(row), snap_menu_new(canvas));
  gtk_box_append(GTK_BOX(row), smoothing);
  gtk_accessible_update_property(GTK_ACCESSIBLE(row), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Tools and layers"), -1);
  tool_row_update(row);
  return row;
}
