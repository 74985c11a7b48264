/* canvas_menu.c - the menu of the drawing: what can be done at the place that was pressed.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Right button, menu key or Shift+F10; every entry has a key of its own too. */
#include "ui/canvas/canvas_private.h"
#include "ui/words.h"

static void add_here(SoffitCanvas *self)
{
  knot_add_at(&self->hand, self->menu_at);
}

static void turn(SoffitCanvas *self)
{
  knot_turn(&self->hand);
}

static void remove_knot(SoffitCanvas *self)
{
  knot_remove(&self->hand);
}

static void mirror_left(SoffitCanvas *self)
{
  knot_mirror(&self->hand, -1);
}

static void mirror_right(SoffitCanvas *self)
{
  knot_mirror(&self->hand, 1);
}

static void sizes(SoffitCanvas *self)
{
  canvas_type_size(self, SIZE_RADIUS);
}

static void walk(SoffitCanvas *self)
{
  canvas_set_tool(self, &tool_walk);
}

static const struct {
  const char *action, *words, *key;
  void (*run)(SoffitCanvas *self);
  bool at_knot, on_line; /* only there */
} entry[] = {
    {"drawing.add", N_("Add a knot here"), "a", add_here, false, true},
    {"drawing.turn", N_("Smooth or sharp"), "t", turn, true, false},
    {"drawing.remove", N_("Remove knot"), "Delete", remove_knot, true, false},
    {"drawing.mirror-left", N_("Mirror the left flank"), "x", mirror_left, false, false},
    {"drawing.mirror-right", N_("Mirror the right flank"), "<Shift>x", mirror_right, false, false},
    {"drawing.walk", N_("Walk along the line"), "g", walk, false, false},
    {"drawing.sizes", N_("Exact sizes…"), "e", sizes, false, false},
};

static void activated(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)parameter;
  SoffitCanvas *self = SOFFIT_CANVAS(widget);
  for (size_t i = 0; i < G_N_ELEMENTS(entry); i++)
    if (g_str_equal(entry[i].action, name))
      entry[i].run(self);
  canvas_invalidate(self);
}

void canvas_menu_install(GtkWidgetClass *class)
{
  for (size_t i = 0; i < G_N_ELEMENTS(entry); i++)
    gtk_widget_class_install_action(class, entry[i].action, NULL, activated);
}

static void menu_drop(void *menu)
{
  if (gtk_widget_get_parent(menu))
    gtk_widget_unparent(menu);
  g_object_unref(menu);
}

static void menu_closed(GtkPopover *menu)
{
  gtk_widget_grab_focus(gtk_widget_get_parent(GTK_WIDGET(menu)));
  g_idle_add_once(menu_drop, g_object_ref(menu)); /* its action runs first */
}

void canvas_menu_show(SoffitCanvas *self, Point at_px)
{
  if (!session_has_case(self->session) || self->hand.busy)
    return;
  self->menu_at = view_mm(self->hand.view, at_px);
  bool knot = knot_choose_at(&self->hand, self->menu_at);
  bool line = !knot && knot_line_at(&self->hand, self->menu_at);
  if ((knot || line) && self->tool != &tool_knot)
    canvas_set_tool(self, &tool_knot);
  g_autoptr(GMenu) model = g_menu_new();
  for (size_t i = 0; i < G_N_ELEMENTS(entry); i++) {
    if ((entry[i].at_knot && !knot) || (entry[i].on_line && !line))
      continue;
    g_autoptr(GMenuItem) item = g_menu_item_new(_(entry[i].words), entry[i].action);
    g_menu_item_set_attribute(item, "accel", "s", entry[i].key);
    g_menu_append_item(model, item);
  }
  GtkWidget *menu = gtk_popover_menu_new_from_model(G_MENU_MODEL(model));
  gtk_widget_set_parent(menu, GTK_WIDGET(self));
  gtk_popover_set_has_arrow(GTK_POPOVER(menu), FALSE);
  gtk_widget_set_halign(menu, GTK_ALIGN_START);
  gtk_popover_set_pointing_to(GTK_POPOVER(menu), &(GdkRectangle){(int)at_px.x, (int)at_px.y, 1, 1});
  g_signal_connect(menu, "closed", G_CALLBACK(menu_closed), NULL);
  gtk_popover_popup(GTK_POPOVER(menu));
  canvas_invalidate(self);
}
