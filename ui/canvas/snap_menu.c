/* snap_menu.c - see snap_menu.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/snap_menu.h"
#include "ui/canvas/canvas_private.h"
#include "ui/canvas/draw_context.h"
#include "ui/case_form.h"
#include "ui/preferences.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define ON_KEY "snap"
#define GRID_KEY "snap-grid-mm"
#define ICON_SIZE 24
#define TARGET 44

static const struct {
  const char *key, *name;
} kinds[SNAP_KINDS] = {[SNAP_GRID] = {"snap-grid", N_("grid")},
                       [SNAP_KNOTS] = {"snap-knots", N_("knots and lines")},
                       [SNAP_CUTTER] = {"snap-cutter", N_("cutter radius")},
                       [SNAP_AXIS] = {"snap-axis", N_("middle of the embrasure, mirrored knots")}};
static const double grid_mm[] = {0.05, 0.1, 0.25, 0.5, 1};

SnapSettings snap_settings_kept(void)
{
  SnapSettings settings = snap_settings_default();
  settings.on = preference_flag(ON_KEY, settings.on);
  for (int i = 0; i < SNAP_KINDS; i++)
    settings.kind[i] = preference_flag(kinds[i].key, settings.kind[i]);
  g_autofree char *word = preference_word(GRID_KEY);
  double grid = word ? g_ascii_strtod(word, NULL) : 0;
  for (size_t i = 0; i < G_N_ELEMENTS(grid_mm); i++)
    if (grid == grid_mm[i])
      settings.grid_mm = grid;
  return settings;
}

typedef struct {
  SoffitCanvas *canvas; /* borrowed: it owns the menu */
  GtkWidget *button, *icon, *on, *kind[SNAP_KINDS], *grid;
} SnapMenu;

static void button_show(SnapMenu *menu)
{
  const SnapSettings *settings = &menu->canvas->hand.snaps;
  g_autofree char *text = g_strdup_printf(
      "%s (H)", settings->on ? _("Places snap: what to") : _("Places do not snap: what to"));
  spoken_tooltip(menu->button, text);
  spoken_name(menu->button, settings->on ? _("Snapping on") : _("Snapping off"));
  gtk_widget_queue_draw(menu->icon);
}

static void changed(GtkWidget *widget, SnapMenu *menu)
{
  SnapSettings *settings = &menu->canvas->hand.snaps;
  bool active =
      GTK_IS_CHECK_BUTTON(widget) && gtk_check_button_get_active(GTK_CHECK_BUTTON(widget));
  if (widget == menu->on) {
    settings->on = active;
    preference_flag_set(ON_KEY, active);
  }
  for (int i = 0; i < SNAP_KINDS; i++) {
    if (widget == menu->kind[i]) {
      settings->kind[i] = active;
      preference_flag_set(kinds[i].key, active);
    }
    gtk_widget_set_sensitive(menu->kind[i], settings->on);
  }
  gtk_widget_set_sensitive(menu->grid, settings->on && settings->kind[SNAP_GRID]);
  button_show(menu);
}

static void grid_chosen(GObject *drop, GParamSpec *spec, SnapMenu *menu)
{
  (void)spec;
  guint i = gtk_drop_down_get_selected(GTK_DROP_DOWN(drop));
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  if (i >= G_N_ELEMENTS(grid_mm))
    return;
  menu->canvas->hand.snaps.grid_mm = grid_mm[i];
  preference_word_set(GRID_KEY, g_ascii_dtostr(text, sizeof text, grid_mm[i]));
}

static void icon_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  SnapMenu *menu = data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  draw_tool_icon_in(cr, ICON_SNAP, width, height, palette_colour(context.palette, COLOUR_TEXT));
  if (!menu->canvas->hand.snaps.on)
    return;
  ink_use(cr, &context, COLOUR_ACCENT); /* a dot like that of a shown layer */
  cairo_arc(cr, width / 2.0, height - 5, 2.5, 0, 2 * G_PI);
  cairo_fill(cr);
}

static GtkWidget *check_new(SnapMenu *menu, const char *name, bool on)
{
  GtkWidget *check = gtk_check_button_new_with_label(name);
  gtk_check_button_set_active(GTK_CHECK_BUTTON(check), on);
  g_signal_connect(check, "toggled", G_CALLBACK(changed), menu);
  return check;
}

static GtkWidget *grid_new(SnapMenu *menu)
{
  const SnapSettings *settings = &menu->canvas->hand.snaps;
  GtkStringList *list = gtk_string_list_new(NULL);
  guint chosen = 1;
  for (guint i = 0; i < G_N_ELEMENTS(grid_mm); i++) {
    g_autofree char *number = words_number(grid_mm[i], i == 0 || i == 2 ? 2 : i == 4 ? 0 : 1);
    g_autofree char *text = g_strdup_printf(_("%s mm"), number);
    gtk_string_list_append(list, text);
    if (grid_mm[i] == settings->grid_mm)
      chosen = i;
  }
  GtkWidget *drop = gtk_drop_down_new(G_LIST_MODEL(list), NULL);
  gtk_drop_down_set_selected(GTK_DROP_DOWN(drop), chosen);
  field_name(drop, _("Step of the grid"));
  g_signal_connect(drop, "notify::selected", G_CALLBACK(grid_chosen), menu);
  return drop;
}

GtkWidget *snap_menu_new(SoffitCanvas *canvas)
{
  SnapMenu *menu = g_new0(SnapMenu, 1);
  const SnapSettings *settings = &canvas->hand.snaps;
  menu->canvas = canvas;
  menu->button = gtk_menu_button_new();
  menu->icon = gtk_drawing_area_new();
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(menu->icon), icon_draw, menu, NULL);
  gtk_drawing_area_set_content_width(GTK_DRAWING_AREA(menu->icon), ICON_SIZE);
  gtk_drawing_area_set_content_height(GTK_DRAWING_AREA(menu->icon), TARGET);
  gtk_menu_button_set_child(GTK_MENU_BUTTON(menu->button), menu->icon);
  gtk_widget_set_size_request(menu->button, TARGET, TARGET);
  gtk_widget_add_css_class(menu->button, "tool");
  GtkWidget *popover = gtk_popover_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *note = gtk_label_new(_("Hold Ctrl to place freely."));
  menu->on = check_new(menu, _("Dragged places snap to"), settings->on);
  gtk_box_append(GTK_BOX(box), menu->on);
  menu->grid = grid_new(menu);
  for (int i = 0; i < SNAP_KINDS; i++) {
    GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 10);
    menu->kind[i] = check_new(menu, _(kinds[i].name), settings->kind[i]);
    gtk_widget_set_hexpand(menu->kind[i], TRUE);
    gtk_widget_set_margin_start(row, 24);
    gtk_box_append(GTK_BOX(row), menu->kind[i]);
    if (i == SNAP_GRID)
      gtk_box_append(GTK_BOX(row), menu->grid);
    gtk_box_append(GTK_BOX(box), row);
  }
  gtk_label_set_xalign(GTK_LABEL(note), 0);
  gtk_widget_add_css_class(note, "note");
  gtk_widget_add_css_class(note, "dim");
  gtk_box_append(GTK_BOX(box), note);
  gtk_popover_set_child(GTK_POPOVER(popover), box);
  gtk_popover_set_position(GTK_POPOVER(popover), GTK_POS_TOP);
  gtk_widget_add_css_class(popover, "sources");
  gtk_menu_button_set_popover(GTK_MENU_BUTTON(menu->button), popover);
  g_object_set_data_full(G_OBJECT(menu->button), "soffit-snap-menu", menu, g_free);
  changed(menu->button, menu);
  return menu->button;
}

void snap_menu_toggle(SoffitCanvas *canvas)
{
  for (GtkWidget *child = gtk_widget_get_first_child(canvas->row); child;
       child = gtk_widget_get_next_sibling(child)) {
    SnapMenu *menu = g_object_get_data(G_OBJECT(child), "soffit-snap-menu");
    if (menu)
      gtk_check_button_set_active(GTK_CHECK_BUTTON(menu->on), !canvas->hand.snaps.on);
  }
  hand_say(&canvas->hand, canvas->hand.snaps.on ? _("Snapping on") : _("Snapping off"));
}
