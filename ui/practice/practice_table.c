/* practice_table.c - passed when: every criterion, mine and the best, with mark and word.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/parts.h"
#include "ui/practice/practice_parts.h"
#include "ui/words.h"

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *box, *grid, *cell[SCORE_ROWS_MOST + 1][3];
  size_t rows; /* made so far */
} Table;

static GtkWidget *cell(Table *self, size_t row, int column)
{
  GtkWidget **at = &self->cell[row][column];
  if (!*at) {
    *at = part_label("", row == 0 ? "note" : NULL);
    gtk_label_set_xalign(GTK_LABEL(*at), column == 0 ? 0 : 1);
    gtk_label_set_wrap(GTK_LABEL(*at), column == 0);
    gtk_widget_set_valign(*at, GTK_ALIGN_CENTER);
    gtk_grid_attach(GTK_GRID(self->grid), *at, column, (int)row, 1, 1);
  }
  return *at;
}

static void say(Table *self, size_t row, int column, char *text, bool strong)
{
  GtkWidget *label = cell(self, row, column);
  gtk_label_set_text(GTK_LABEL(label), text ? text : "");
  gtk_widget_set_visible(label, text != NULL);
  (strong ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(label, "title");
  g_free(text);
}

/* The best outline is the calmest of its room, not the one that a criterion asks for: it is not
 * marked down. */
static char *figure(const Phrase *phrase, bool met, bool best)
{
  if (!phrase->text)
    return g_strdup("");
  g_autofree char *text = words_phrase(phrase);
  if (best && !met)
    return g_steal_pointer(&text);
  return met ? g_strdup_printf("%s ✓", text) : g_strdup_printf(_("%s not yet ✗"), text);
}

static void table_show(Table *self)
{
  const Score *score = practice_desk_score(self->desk);
  bool compare = practice_desk_step(self->desk) == PRACTICE_COMPARE;
  bool best = compare && practice_desk_best(self->desk);
  size_t n = 0;
  say(self, 0, 0, g_strdup(_("Passed when")), true);
  say(self, 0, 1, g_strdup(_("mine")), false);
  say(self, 0, 2, best ? g_strdup(_("best")) : NULL, false);
  for (size_t i = 0; score && i < score->n; i++) {
    const ScoreRow *row = &score->row[i];
    if (row->is_question) /* they have their own place */
      continue;
    n++;
    say(self, n, 0, words_phrase(&row->asked), !row->met);
    say(self, n, 1, figure(&row->is, row->met, false), !row->met);
    say(self, n, 2, best ? figure(&row->best, row->best_met, true) : NULL, false);
  }
  for (size_t i = n + 1; i <= self->rows; i++)
    for (int k = 0; k < 3; k++)
      say(self, i, k, NULL, false);
  self->rows = MAX(self->rows, n);
  gtk_widget_set_visible(self->box, n > 0 && practice_desk_step(self->desk) != PRACTICE_PREDICT);
}

GtkWidget *practice_table_new(SoffitPracticeDesk *desk)
{
  Table *self = g_new0(Table, 1);
  self->desk = desk;
  self->grid = gtk_grid_new();
  gtk_grid_set_column_spacing(GTK_GRID(self->grid), 24);
  gtk_widget_set_halign(self->grid, GTK_ALIGN_START); /* the eye finds the figure of a row */
  gtk_grid_set_row_spacing(GTK_GRID(self->grid), 5);
  gtk_widget_add_css_class(self->grid, "practice-table");
  self->box = gtk_scrolled_window_new();
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(self->box), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height(GTK_SCROLLED_WINDOW(self->box), TRUE);
  gtk_scrolled_window_set_max_content_height(GTK_SCROLLED_WINDOW(self->box), 190);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(self->box), self->grid);
  gtk_widget_add_css_class(self->box, "practice-criteria");
  g_object_set_data_full(G_OBJECT(self->box), "table", self, g_free);
  practice_follow(
      desk, self->box,
      (const char *const[]){"exercise-changed", "step-changed", "work-changed", "scored", NULL},
      G_CALLBACK(table_show), self);
  return self->box;
}
