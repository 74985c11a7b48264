/* overlays.c - see overlays.h.  A dot below an icon marks what is shown.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/overlays.h"
#include "ui/canvas/draw_context.h"
#include "ui/preferences.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define TARGET 44
#define DOT_RADIUS 2.5
#define MENU "soffit-overlays" /* of the button: OverlayMenu */

/* First the sheet and the line, then stress and tools. */
static const Overlay overlay[] = {
    {LAYER_GRID | LAYER_CROSSES, N_("Grid"), GDK_KEY_G, false, ICON_GRID, "show-grid", true},
    {LAYER_GUM, N_("Gum line"), GDK_KEY_T, false, ICON_GUM, "show-gum", true},
    {LAYER_READING, N_("U or V, as measured"), GDK_KEY_U, false, ICON_READING, "show-form", false},
    {LAYER_SIZES, N_("Sizes of the embrasure"), GDK_KEY_D, false, ICON_SIZES, "show-sizes", false},
    {LAYER_COMB, N_("Curvature comb"), GDK_KEY_C, false, ICON_COMB, "show-comb", false},
    {LAYER_BEFORE, N_("Line before the last change"), GDK_KEY_O, false, ICON_BEFORE, "show-before",
     false},
    {LAYER_GHOST, N_("Best outline"), GDK_KEY_B, false, ICON_BEST, "show-best", true},
    {LAYER_SHADE | LAYER_ZERO, N_("Squeezed and stretched"), GDK_KEY_S, false, ICON_SHADE,
     "show-shade", true},
    {LAYER_FLOW, N_("Flow of the pull"), GDK_KEY_L, false, ICON_FLOW, "show-flow", true},
    {LAYER_LOUPE, N_("Hot spot"), GDK_KEY_Q, true, ICON_HOT, "show-hot-spot", true},
    {LAYER_ENVELOPE, N_("Room of the embrasure"), GDK_KEY_R, false, ICON_ROOM, "show-room", true},
    {LAYER_BRUSH | LAYER_ROOM, N_("Brush that passes"), GDK_KEY_P, false, ICON_BRUSH, "show-brush",
     true},
    {LAYER_CUTTER, N_("Reach of the cutter"), GDK_KEY_M, false, ICON_CUTTER, "show-cutter", true},
    {LAYER_SOFT, N_("Size before firing"), GDK_KEY_E, false, ICON_SOFT, NULL, false},
};

const Overlay *overlays(size_t *n)
{
  *n = G_N_ELEMENTS(overlay);
  return overlay;
}

const Overlay *overlay_of_key(guint key, bool shift)
{
  for (size_t i = 0; i < G_N_ELEMENTS(overlay); i++)
    if (gdk_keyval_to_upper(key) == overlay[i].key && shift != overlay[i].plain)
      return &overlay[i];
  return NULL;
}

/* ---- the choice ---- */

unsigned overlays_kept(void)
{
  unsigned layers = LAYER_ALL;
  for (size_t i = 0; i < G_N_ELEMENTS(overlay); i++) {
    const Overlay *of = &overlay[i];
    bool shown = of->keep ? preference_flag(of->keep, of->first) : of->first;
    layers = shown ? layers | of->layers : layers & ~of->layers;
  }
  return layers;
}

void overlay_keep(const Overlay *of, bool shown)
{
  if (of->keep)
    preference_flag_set(of->keep, shown);
}

/* ---- the list ---- */

typedef struct {
  SoffitCanvas *canvas; /* borrowed: it owns the list */
  GtkWidget *toggle[G_N_ELEMENTS(overlay)], *icon[G_N_ELEMENTS(overlay)];
  bool updating;
} OverlayMenu;

static void icon_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const Overlay *of = data; /* NULL: of the button */
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  draw_tool_icon_in(cr, of ? of->icon : ICON_LAYERS, width, height,
                    palette_colour(context.palette, COLOUR_TEXT));
  GtkWidget *toggle = gtk_widget_get_ancestor(GTK_WIDGET(area), GTK_TYPE_TOGGLE_BUTTON);
  if (!of || !gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(toggle)))
    return;
  ink_use(cr, &context, COLOUR_ACCENT);
  cairo_arc(cr, width / 2.0, height - 4, DOT_RADIUS, 0, 2 * G_PI);
  cairo_fill(cr);
}

static void toggled(GtkToggleButton *button, OverlayMenu *menu)
{
  for (size_t i = 0; i < G_N_ELEMENTS(overlay); i++)
    if (menu->toggle[i] == GTK_WIDGET(button) && !menu->updating)
      canvas_toggle_overlay(menu->canvas, &overlay[i]);
}

/* Icon, name, key. */
static GtkWidget *line_new(OverlayMenu *menu, size_t i)
{
  const Overlay *of = &overlay[i];
  g_autofree char *key = gtk_accelerator_get_label(of->key, of->plain ? 0 : GDK_SHIFT_MASK);
  GtkWidget *button = gtk_toggle_button_new(), *area = gtk_drawing_area_new(),
            *line = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8), *words = gtk_label_new(_(of->name)),
            *key_label = gtk_label_new(key);
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(area), icon_draw, (gpointer)of, NULL);
  gtk_widget_set_size_request(area, 32, 36);
  gtk_label_set_xalign(GTK_LABEL(words), 0);
  gtk_widget_set_hexpand(words, TRUE);
  gtk_widget_set_margin_end(words, 12);
  gtk_widget_set_margin_end(key_label, 10);
  gtk_widget_add_css_class(key_label, "dim");
  gtk_widget_add_css_class(key_label, "note");
  gtk_box_append(GTK_BOX(line), area);
  gtk_box_append(GTK_BOX(line), words);
  gtk_box_append(GTK_BOX(line), key_label);
  gtk_button_set_child(GTK_BUTTON(button), line);
  gtk_widget_add_css_class(button, "tool");
  spoken_name(button, _(of->name));
  menu->toggle[i] = button;
  menu->icon[i] = area;
  g_signal_connect(button, "toggled", G_CALLBACK(toggled), menu);
  return button;
}

GtkWidget *overlay_menu_new(SoffitCanvas *canvas)
{
  OverlayMenu *menu = g_new0(OverlayMenu, 1);
  GtkWidget *button = gtk_menu_button_new(), *area = gtk_drawing_area_new(),
            *popover = gtk_popover_new(), *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 16);
  menu->canvas = canvas;
  size_t rows = (G_N_ELEMENTS(overlay) + OVERLAY_COLUMNS - 1) / OVERLAY_COLUMNS;
  for (size_t column = 0; column < OVERLAY_COLUMNS; column++) {
    GtkWidget *lines = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
    for (size_t i = column * rows; i < (column + 1) * rows && i < G_N_ELEMENTS(overlay); i++)
      gtk_box_append(GTK_BOX(lines), line_new(menu, i));
    gtk_box_append(GTK_BOX(box), lines);
  }
  gtk_widget_add_css_class(box, "layers");
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(area), icon_draw, NULL, NULL);
  gtk_widget_set_size_request(area, TARGET, TARGET);
  gtk_menu_button_set_child(GTK_MENU_BUTTON(button), area);
  gtk_popover_set_child(GTK_POPOVER(popover), box);
  gtk_popover_set_position(GTK_POPOVER(popover), GTK_POS_TOP);
  gtk_widget_add_css_class(popover, "sources");
  gtk_menu_button_set_popover(GTK_MENU_BUTTON(button), popover);
  gtk_menu_button_set_direction(GTK_MENU_BUTTON(button), GTK_ARROW_UP);
  spoken_tooltip(button, _("What the drawing shows"));
  spoken_name(button, _("What the drawing shows"));
  g_object_set_data_full(G_OBJECT(button), MENU, menu, g_free);
  return button;
}

void overlay_menu_update(GtkWidget *button)
{
  OverlayMenu *menu = g_object_get_data(G_OBJECT(button), MENU);
  menu->updating = true;
  for (size_t i = 0; i < G_N_ELEMENTS(overlay); i++) {
    gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(menu->toggle[i]),
                                 (canvas_layers(menu->canvas) & overlay[i].layers) != 0);
    gtk_widget_queue_draw(menu->icon[i]);
  }
  menu->updating = false;
}
