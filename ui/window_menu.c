/* window_menu.c - the menu of the header.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/window_private.h"
#include "ui/words.h"

GMenuModel *window_menu(void)
{
  GMenu *menu = g_menu_new();
  g_autoptr(GMenu) file = g_menu_new(), save = g_menu_new(), look = g_menu_new(),
                   colours = g_menu_new(), help = g_menu_new();
  g_menu_append(file, _("New case…"), "app.new");
  g_menu_append(file, _("Open…"), "app.open");
  g_autoptr(GMenuItem) recent = g_menu_item_new_submenu(_("Open recent"), NULL);
  GMenuModel *recent_menu = g_object_get_data(G_OBJECT(g_application_get_default()), "recent-menu");
  if (recent_menu) {
    g_menu_item_set_submenu(recent, recent_menu);
    g_menu_append_item(file, recent);
  }
  g_menu_append(file, _("Open the demo QB-02"), "app.demo");
  g_menu_append(file, _("Open the lab’s folder…"), "win.open-lab");
  g_menu_append(save, _("Save"), "win.save");
  g_menu_append(save, _("Save as…"), "win.save-as");
  g_menu_append(save, _("Send to the supervisor"), "win.send");
  g_menu_append(save, _("Import outlines…"), "win.import");
  g_menu_append(save, _("Export drawing…"), "win.export-drawing");
  g_menu_append(save, _("Print…"), "win.print");
  g_menu_append(save, _("Edit case…"), "win.edit-case");
  g_menu_append(save, _("Photo…"), "win.photo");
  g_menu_append(save, _("Add a remark…"), "win.remark");
  g_menu_append(save, _("Material cards…"), "win.cards");
  g_menu_append(save, _("Records of breaks…"), "win.records");
  g_menu_append(save, _("Best outline in this room"), "win.best-outline");
  g_menu_append(save, _("Compare variants…"), "win.compare");
  g_menu_append(save, _("Make an exercise…"), "win.exercise");
  g_menu_append(save, _("Class…"), "win.class");
  g_menu_append(save, _("Close case"), "win.close-case");
  g_menu_append(look, _("Who works here…"), "win.who");
  g_menu_append(colours, _("As the desktop"), "app.colours::desktop");
  g_menu_append(colours, _("Light colours"), "app.colours::light");
  g_menu_append(colours, _("Dark colours"), "app.colours::dark");
  g_menu_append_submenu(look, _("Colours"), G_MENU_MODEL(colours));
  g_menu_append(look, _("Side column"), "win.side-column");
  g_menu_append(help, _("Keys"), "app.keys");
  g_menu_append(help, _("About Soffit"), "app.about");
  g_menu_append(help, _("Quit"), "app.quit");
  g_menu_append_section(menu, NULL, G_MENU_MODEL(file));
  g_menu_append_section(menu, NULL, G_MENU_MODEL(save));
  g_menu_append_section(menu, NULL, G_MENU_MODEL(look));
  g_menu_append_section(menu, NULL, G_MENU_MODEL(help));
  return G_MENU_MODEL(menu);
}
