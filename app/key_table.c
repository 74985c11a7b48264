/* key_table.c - one table of keys and what they do, as the window shows them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/key_table.h"
#include "ui/words.h"

/* keys NULL: the title of a group */
static const struct {
  const char *keys, *does;
} table[] = {
    {NULL, N_("Case")},
    {N_("Ctrl+N, Ctrl+O"), N_("new case, open a case")},
    {N_("Ctrl+S, Ctrl+Shift+S"), N_("save, save under another name")},
    {N_("Ctrl+E"), N_("edit the case: units, material, order, finish")},
    {N_("Ctrl+Z, Ctrl+Shift+Z"), N_("undo, redo")},
    {N_("F6, F9"), N_("to the next part of the window, side column")},
    {N_("Ctrl+W, Ctrl+Q"), N_("close the case, quit")},
    {N_("Alt+1, Alt+4"), N_("workspaces: Trace, Bars")},
    {NULL, N_("Span")},
    {N_("Page Up, Page Down"), N_("neck to the left, to the right")},
    {N_("Ctrl+Up, Ctrl+Down"), N_("trial load by 25 N; with Shift by 5 N")},
    {N_("Ctrl+Left, Ctrl+Right"), N_("place of the trial load")},
    {NULL, N_("Drawing")},
    {N_("D, K, U, V, M"), N_("pen, knots, round arch, pointed arch, disc mark")},
    {N_("R; arrows, Delete"), N_("room: draw it; stretch it, leave it to Soffit")},
    {N_("B; arrows"), N_("best outline in this room; a part of the way to it")},
    {N_("C"), N_("compare: pin variants, see two under the same load")},
    {N_("Shift+E"), N_("size before firing")},
    {N_("arrows, Shift+arrows"), N_("move a knot by 0.05 mm, by 0.01 mm")},
    {N_("Shift+C, S, L, B, R"), N_("show comb, shade, flow, best outline, brush")},
    {N_("N, P, Delete"), N_("knots: the next, the one before, remove it")},
    {N_("Q, 0, plus, minus"), N_("loupe, fit, nearer, farther")},
    {NULL, N_("What helps most")},
    {N_("1 to 5"), N_("try an advice on the drawing")},
    {N_("Enter, Escape"), N_("keep it, leave it")},
    {NULL, N_("Readings and list")},
    {N_("F2"), N_("band and source of a figure")},
    {N_("Space"), N_("tick the step")},
    {NULL, N_("Bars")},
    {N_("arrows"), N_("on the notched bar: along by 0.25 mm, deeper by 0.02 mm")},
};

static GtkWidget *line(const char *text, const char *class_name)
{
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  if (class_name)
    gtk_widget_add_css_class(label, class_name);
  return label;
}

void key_table_show(GtkWindow *parent)
{
  GtkWidget *window = gtk_window_new(), *grid = gtk_grid_new(),
            *scroller = gtk_scrolled_window_new();
  gtk_grid_set_column_spacing(GTK_GRID(grid), 24);
  gtk_grid_set_row_spacing(GTK_GRID(grid), 4);
  gtk_widget_add_css_class(grid, "form");
  for (int i = 0; i < (int)G_N_ELEMENTS(table); i++) {
    if (table[i].keys) {
      gtk_grid_attach(GTK_GRID(grid), line(_(table[i].keys), NULL), 0, i, 1, 1);
      gtk_grid_attach(GTK_GRID(grid), line(_(table[i].does), "dim"), 1, i, 1, 1);
    } else {
      gtk_grid_attach(GTK_GRID(grid), line(_(table[i].does), "title"), 0, i, 2, 1);
    }
  }
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), grid);
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height(GTK_SCROLLED_WINDOW(scroller), TRUE);
  gtk_scrolled_window_set_propagate_natural_width(GTK_SCROLLED_WINDOW(scroller), TRUE);
  gtk_scrolled_window_set_max_content_height(GTK_SCROLLED_WINDOW(scroller), 600);
  gtk_window_set_child(GTK_WINDOW(window), scroller);
  gtk_window_set_title(GTK_WINDOW(window), _("Keys"));
  gtk_window_set_transient_for(GTK_WINDOW(window), parent);
  gtk_window_set_modal(GTK_WINDOW(window), TRUE);
  gtk_window_set_destroy_with_parent(GTK_WINDOW(window), TRUE);
  gtk_widget_add_css_class(window, "soffit");
  gtk_widget_add_css_class(window, "case-dialog");
  GtkEventController *keys = gtk_shortcut_controller_new();
  gtk_shortcut_controller_add_shortcut(GTK_SHORTCUT_CONTROLLER(keys),
                                       gtk_shortcut_new(gtk_keyval_trigger_new(GDK_KEY_Escape, 0),
                                                        gtk_named_action_new("window.close")));
  gtk_widget_add_controller(window, keys);
  gtk_window_present(GTK_WINDOW(window));
}
