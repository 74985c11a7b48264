/* practice_against.c - free play's live figures: mine, the best in the same room, the gap in words.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa. */
#include "ui/parts.h"
#include "ui/practice/practice_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define BAR_HEIGHT 8
#define FULL_LEAST 1.25 /* of the best: the bars do not jump while the gap is small */

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *box, *figure[2], *range[2], *bar[2], *gap, *note;
} Against;

static void side_show(Against *self, int side, Banded pull, double full)
{
  g_autofree char *figure = words_number(pull.value, 0), *range = words_range(pull, 0);
  g_autofree char *text = isnan(pull.value) ? g_strdup("…") : g_strdup_printf(_("%s MPa"), figure);
  gtk_label_set_text(GTK_LABEL(self->range[side]), range);
  gtk_label_set_text(GTK_LABEL(self->figure[side]), text);
  gtk_level_bar_set_value(GTK_LEVEL_BAR(self->bar[side]),
                          isfinite(pull.value / full) ? CLAMP(pull.value / full, 0, 1) : 0);
}

static void against_show(Against *self)
{
  bool plays = practice_desk_plays(self->desk);
  PracticeStep step = practice_desk_step(self->desk);
  gtk_widget_set_visible(self->box, plays && step != PRACTICE_COMPARE);
  if (!plays)
    return;
  Banded mine = practice_desk_duel_mine(self->desk), best = practice_desk_duel_best(self->desk);
  double full = fmax(fmax(mine.value, FULL_LEAST * best.value), 1);
  side_show(self, 0, mine, full);
  side_show(self, 1, best, full);
  Phrase gap = duel_phrase(mine, best);
  g_autofree char *text = words_phrase(&gap);
  gtk_label_set_text(GTK_LABEL(self->gap), text);
  gtk_label_set_text(GTK_LABEL(self->note), practice_desk_duel_searching(self->desk)
                                                ? _("Looking for the best outline in this room …")
                                                : _("Pull at the hot spot; less is better."));
}

static void side_build(Against *self, GtkWidget *grid, int side, const char *name)
{
  self->figure[side] = part_label("", "figure");
  gtk_label_set_xalign(GTK_LABEL(self->figure[side]), 1);
  gtk_label_set_wrap(GTK_LABEL(self->figure[side]), FALSE);
  self->range[side] = part_label("", "note");
  gtk_label_set_wrap(GTK_LABEL(self->range[side]), FALSE);
  gtk_widget_set_hexpand(self->figure[side], TRUE);
  self->bar[side] = gtk_level_bar_new();
  gtk_widget_set_size_request(self->bar[side], -1, BAR_HEIGHT);
  gtk_widget_add_css_class(self->bar[side], side == 0 ? "duel-mine" : "duel-best");
  gtk_accessible_update_state(GTK_ACCESSIBLE(self->bar[side]), GTK_ACCESSIBLE_STATE_HIDDEN, TRUE,
                              -1);
  gtk_grid_attach(GTK_GRID(grid), part_label(name, "title"), 0, 3 * side, 2, 1);
  gtk_grid_attach(GTK_GRID(grid), self->range[side], 0, 3 * side + 1, 1, 1);
  gtk_grid_attach(GTK_GRID(grid), self->figure[side], 1, 3 * side + 1, 1, 1);
  gtk_grid_attach(GTK_GRID(grid), self->bar[side], 0, 3 * side + 2, 2, 1);
}

GtkWidget *practice_against_new(SoffitPracticeDesk *desk)
{
  Against *self = g_new0(Against, 1);
  self->desk = desk;
  self->box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  GtkWidget *grid = gtk_grid_new();
  gtk_grid_set_row_spacing(GTK_GRID(grid), 4);
  gtk_grid_set_column_spacing(GTK_GRID(grid), 8);
  side_build(self, grid, 0, _("mine"));
  side_build(self, grid, 1, _("best in this room"));
  self->gap = part_label("", "word");
  self->note = part_label("", "note");
  gtk_box_append(GTK_BOX(self->box), self->gap);
  gtk_box_append(GTK_BOX(self->box), grid);
  gtk_box_append(GTK_BOX(self->box), self->note);
  g_object_set_data_full(G_OBJECT(self->box), "against", self, g_free);
  practice_follow(
      desk, self->box,
      (const char *const[]){"exercise-changed", "step-changed", "work-changed", "scored", NULL},
      G_CALLBACK(against_show), self);
  return self->box;
}
