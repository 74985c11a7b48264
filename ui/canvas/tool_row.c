/* tool_row.c - tools as toggles of 44 px with own icons; beside them what the drawing shows,
 * snapping and smoothing. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/tool_row.h"
#include "ui/canvas/draw_context.h"
#include "ui/canvas/overlays.h"
#include "ui/canvas/snap_menu.h"
#include "ui/canvas/smoothing.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define TARGET 44
#define TARGET_NARROW 38  /* wide; as high as ever */
#define LARGEST 1.6       /* of large text, where there is room */
#define HEIGHT_SHARE 0.11 /* of the drawing, at most */
#define SEPARATOR 4

static const Tool *const tools[] = {&tool_pen,       &tool_eraser, &tool_knot,    &tool_starter_u,
                                    &tool_starter_v, &tool_disc,   &tool_measure, &tool_photo,
                                    &tool_room,      &tool_best};

const Tool *const *tool_row_tools(size_t *n)
{
  *n = G_N_ELEMENTS(tools);
  return tools;
}

static void icon_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const Tool *tool = data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  draw_tool_icon_in(cr, tool->icon, width, height, palette_colour(context.palette, COLOUR_TEXT));
  GtkWidget *button = gtk_widget_get_ancestor(GTK_WIDGET(area), GTK_TYPE_TOGGLE_BUTTON);
  if (gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(button))) {
    ink_use(cr, &context, COLOUR_ACCENT);
    cairo_rectangle(cr, 0, height - 3, width, 3);
    cairo_fill(cr);
  }
}

#define BUTTONS "soffit-buttons" /* of the row: the toggles of all tools */

static void toggled(GtkToggleButton *button, gpointer data)
{
  SoffitCanvas *canvas = data;
  GtkWidget *row = gtk_widget_get_parent(GTK_WIDGET(button));
  if (g_object_get_data(G_OBJECT(row), "soffit-updating"))
    return;
  canvas_set_tool(canvas, g_object_get_data(G_OBJECT(button), "soffit-tool"));
  tool_row_update(row);
  gtk_widget_grab_focus(GTK_WIDGET(canvas));
}

void tool_row_update(GtkWidget *row)
{
  SoffitCanvas *canvas = g_object_get_data(G_OBJECT(row), "soffit-canvas");
  GPtrArray *button = g_object_get_data(G_OBJECT(row), BUTTONS);
  g_object_set_data(G_OBJECT(row), "soffit-updating", row);
  for (guint i = 0; i < button->len; i++) {
    gtk_toggle_button_set_active(button->pdata[i], tools[i] == canvas_tool(canvas));
    gtk_widget_queue_draw(gtk_button_get_child(button->pdata[i]));
  }
  overlay_menu_update(g_object_get_data(G_OBJECT(row), "soffit-overlay-menu"));
  smoothing_update(g_object_get_data(G_OBJECT(row), "soffit-smoothing"));
  g_object_set_data(G_OBJECT(row), "soffit-updating", NULL);
}

void tool_row_leave_out(GtkWidget *row, const Tool *tool)
{
  GPtrArray *button = g_object_get_data(G_OBJECT(row), BUTTONS);
  for (guint i = 0; i < button->len; i++)
    gtk_widget_set_visible(button->pdata[i], tools[i] != tool);
}

void tool_row_fit(GtkWidget *row, int room, int height, bool narrow)
{
  double scale = text_scale(row);
  int n = 0, frame = 0, wide, high,
      most = (int)fmax(TARGET, fmin(TARGET * fmin(scale, LARGEST), height * HEIGHT_SHARE));
  for (GtkWidget *child = gtk_widget_get_first_child(row); child;
       child = gtk_widget_get_next_sibling(child))
    if (GTK_IS_SEPARATOR(child))
      frame += SEPARATOR;
    else if (gtk_widget_get_visible(child))
      n++;
  wide = MIN((room - frame) / MAX(n, 1), most);
  wide = MAX(wide, narrow ? TARGET_NARROW : TARGET);
  if (scale <= 1 && narrow)
    wide = TARGET_NARROW;
  high = MAX(wide, TARGET);
  (wide < TARGET ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(row, "narrow");
  for (GtkWidget *child = gtk_widget_get_first_child(row); child;
       child = gtk_widget_get_next_sibling(child)) {
    if (GTK_IS_MENU_BUTTON(child))
      gtk_widget_set_size_request(gtk_menu_button_get_child(GTK_MENU_BUTTON(child)), wide, high);
    if (!GTK_IS_SEPARATOR(child))
      gtk_widget_set_size_request(child, wide, high);
  }
}

static GtkWidget *tool_new(SoffitCanvas *canvas, GtkWidget *row, const Tool *tool)
{
  GtkWidget *button = gtk_toggle_button_new(), *area = gtk_drawing_area_new();
  const char *name = _(tool->name);
  g_autofree char *key = gtk_accelerator_get_label(gdk_keyval_to_upper(tool->key), 0);
  g_autofree char *tip = g_strdup_printf("%s (%s)", name, key);
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(area), icon_draw, (gpointer)tool, NULL);
  gtk_button_set_child(GTK_BUTTON(button), area);
  gtk_widget_set_size_request(button, TARGET, TARGET);
  spoken_tooltip(button, tip);
  gtk_widget_add_css_class(button, "tool");
  gtk_accessible_update_property(GTK_ACCESSIBLE(button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_object_set_data(G_OBJECT(button), "soffit-tool", (gpointer)tool);
  g_signal_connect(button, "toggled", G_CALLBACK(toggled), canvas);
  g_ptr_array_add(g_object_get_data(G_OBJECT(row), BUTTONS), button);
  return button;
}

GtkWidget *tool_row_new(SoffitCanvas *canvas)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0),
            *overlay_menu = overlay_menu_new(canvas), *smoothing = smoothing_new(canvas);
  gtk_widget_add_css_class(row, "tools");
  gtk_widget_add_css_class(row, "floating");
  g_object_set_data(G_OBJECT(row), "soffit-canvas", canvas);
  g_object_set_data(G_OBJECT(row), "soffit-overlay-menu", overlay_menu);
  g_object_set_data(G_OBJECT(row), "soffit-smoothing", smoothing);
  g_object_set_data_full(G_OBJECT(row), BUTTONS, g_ptr_array_new(),
                         (GDestroyNotify)g_ptr_array_unref);
  for (size_t i = 0; i < G_N_ELEMENTS(tools); i++)
    gtk_box_append(GTK_BOX(row), tool_new(canvas, row, tools[i]));
  gtk_box_append(GTK_BOX(row), gtk_separator_new(GTK_ORIENTATION_VERTICAL));
  gtk_box_append(GTK_BOX(row), overlay_menu);
  gtk_box_append(GTK_BOX(row), snap_menu_new(canvas));
  gtk_box_append(GTK_BOX(row), smoothing);
  gtk_accessible_update_property(GTK_ACCESSIBLE(row), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Tools and layers"), -1);
  tool_row_update(row);
  return row;
}
