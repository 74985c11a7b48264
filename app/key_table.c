/* key_table.c - one table of keys and what they do, as the window shows them.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/key_table.h"
#include "ui/dialog_window.h"
#include "ui/words.h"

/* keys NULL: the title of a group */
static const struct {
  const char *keys, *does;
} table[] = {
    {NULL, N_("Case")},
    {N_("Ctrl+N, Ctrl+O"), N_("new case, open a case")},
    {N_("Ctrl+S, Ctrl+Shift+S"), N_("save, save under another name")},
    {N_("Ctrl+E"), N_("edit the case: units, material, order, finish")},
    {N_("Ctrl+I, Ctrl+Shift+E"), N_("import outlines, export the drawing")},
    {N_("Ctrl+P"), N_("print: preview, PDF file, printer")},
    {N_("Ctrl+M, Ctrl+B"), N_("material cards, records of breaks")},
    {N_("Ctrl+U"), N_("who works here: name, role, signing key")},
    {N_("Ctrl+R"), N_("pin a remark to the drawing, also to a case that another has open; twice: "
                      "about the bridge")},
    {N_("Ctrl+Z, Ctrl+Shift+Z"), N_("undo, redo")},
    {N_("Ctrl+H"), N_("all steps, and what each did to the pull")},
    {N_("F6, F9"), N_("to the next part of the window; side column, in Review the queue")},
    {N_("Ctrl+W, Ctrl+Q"), N_("close the case, quit")},
    {N_("Alt+1, Alt+2, Alt+3, Alt+4"), N_("workspaces: Trace, Review, Practice, Bars")},
    {N_("Ctrl+Shift+O"), N_("open the lab’s folder")},
    {N_("Ctrl+Shift+L"), N_("make an exercise of this neck; in Practice change the one there")},
    {N_("Ctrl+Shift+K"), N_("the class: its progress as a table, and on paper")},
    {NULL, N_("Span")},
    {N_("Page Up, Page Down"), N_("neck to the left, to the right")},
    {N_("Ctrl+Up, Ctrl+Down"), N_("trial load by 25 N; with Shift by 5 N")},
    {N_("Ctrl+Left, Ctrl+Right"), N_("place of the trial load")},
    {NULL, N_("Drawing")},
    {N_("D, K, U, V, M, L"), N_("pen, knots, round arch, pointed arch, disc mark, measure")},
    {N_("W, or the pen’s other end"), N_("eraser: rub out a stretch of the line")},
    {N_("[, ]"), N_("smooth strokes less, more")},
    {N_("R; arrows, Delete"), N_("room: draw it; stretch it, leave it to Soffit")},
    {N_("B; arrows"), N_("best outline in this room; a part of the way to it")},
    {N_("C"), N_("compare: pin variants, see two under the same load")},
    {N_("F, Shift+F, Ctrl+V"), N_("photo: its card, show or hide it, paste one")},
    {N_("arrows, comma, point"), N_("photo: move, turn; Enter sets a mark, Delete takes it away")},
    {N_("arrows"), N_("move a knot by 0.1 mm; with Shift by 0.01 mm, with Alt by 1 mm")},
    {N_("N, P"), N_("knots: the next, the one before")},
    {N_("A, T, Delete"), N_("knots: add one after it, smooth or sharp, remove it")},
    {N_("I, O"), N_("its tangent before or after: the arrows move that")},
    {N_("X, Shift+X"), N_("mirror the left flank, the right flank")},
    {N_("E"), N_("exact sizes: type them")},
    {N_("H; hold Ctrl"), N_("snapping on or off; for once without")},
    {N_("Enter, arrows, Escape"), N_("measuring: set a place, move it, begin anew")},
    {N_("G; arrows, Home, End"),
     N_("walk along the line: by 0.1 mm, with Shift by 0.02 mm; up and down "
        "to foot, leg, roof, hot spot")},
    {N_("Shift+G, T, U, D"), N_("show or hide grid, gum line, U or V as measured, sizes")},
    {N_("Shift+C, O, B"), N_("show or hide comb, line before the last change, best outline")},
    {N_("Shift+S, L; Q"), N_("show or hide squeezed and stretched, flow of the pull; hot spot")},
    {N_("Shift+R, P, M, E"), N_("show or hide room, brush, cutter; size before firing")},
    {N_("Shift+F10"), N_("menu of the drawing")},
    {N_("0, plus, minus"), N_("fit, nearer, farther")},
    {N_("S, then arrows"), N_("the connector in depth, and turn it")},
    {NULL, N_("What helps most")},
    {N_("1 to 5"), N_("try an advice on the drawing")},
    {N_("Enter, Escape"), N_("keep it, leave it")},
    {NULL, N_("Readings and list")},
    {N_("F2, Enter"), N_("band and source of a figure, why a step is there; neck and radius: type "
                         "another")},
    {N_("Space"), N_("tick the step; arrows move between steps and inside of one")},
    {NULL, N_("Review")},
    {N_("J, K; Ctrl+F"), N_("the next case, the one before; show cases with words")},
    {N_("T; 1 to 9, 0"), N_("table or rows; order of the table by a column, and turned round")},
    {N_("E"), N_("save the table to a file: CSV or JSON, as it is shown")},
    {N_("R, P, W"), N_("return, pass, leave waiting; Ctrl+Enter where words are asked for")},
    {N_("N, arrows, Enter"), N_("pin a remark: to the drawing, along the line, its words")},
    {N_("M, arrows, Enter"), N_("move a remark that is not sent yet: by 0.1 mm, with Shift by 0.02 "
                                "mm; M again: the one before")},
    {NULL, N_("Practice")},
    {N_("Ctrl+L, Ctrl+T"), N_("list of exercises, next hint")},
    {N_("arrows"), N_("the cross: by 0.1 mm, with Shift by 0.02 mm")},
    {N_("T, X, N"), N_("after the score: try again, swap the drawings, next exercise")},
    {NULL, N_("Bars")},
    {N_("arrows"), N_("on the notched bar: along by 0.25 mm, deeper by 0.02 mm")},
    {N_("arrows, Shift+arrows"), N_("on the broken bar: start of the break by 0.1 mm, by 0.01 mm")},
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
  GtkWidget *window = dialog_window_new(parent, _("Keys"), 0, 0), *grid = gtk_grid_new(),
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
  gtk_window_present(GTK_WINDOW(window));
}
