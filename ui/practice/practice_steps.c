/* practice_steps.c - predict, see, redraw, compare: where one is, and under what load.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/practice/practice_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *box, *step[PRACTICE_STEPS], *mark[PRACTICE_STEPS], *line[PRACTICE_STEPS], *under;
} StepRow;

static void step_clicked(GtkButton *button, gpointer data)
{
  StepRow *self = data;
  for (int i = 0; i < PRACTICE_STEPS; i++)
    if (self->step[i] == GTK_WIDGET(button))
      practice_desk_go(self->desk, (PracticeStep)i);
}

static void under_show(StepRow *self)
{
  const Exercise *e = practice_desk_exercise(self->desk);
  char name[12];
  connector_name(&e->start, e->focus, '/', name);
  g_autofree char *force = words_number(e->start.trial.force_n, 0);
  g_autofree char *text =
      g_strdup_printf("%s · %s N · %s", name, force, words_translate(e->start.material.name));
  gtk_label_set_text(GTK_LABEL(self->under), text);
}

static void row_show(StepRow *self)
{
  PracticeStep now = practice_desk_step(self->desk);
  int number = 0;
  for (int i = 0; i < PRACTICE_STEPS; i++) {
    bool has = practice_desk_has_step(self->desk, (PracticeStep)i);
    gtk_widget_set_visible(self->step[i], has);
    if (self->line[i])
      gtk_widget_set_visible(self->line[i], has && number > 0);
    if (!has)
      continue;
    number++;
    bool done = (PracticeStep)i < now, here = (PracticeStep)i == now;
    g_autofree char *figure = g_strdup_printf("%d", number);
    gtk_label_set_text(GTK_LABEL(self->mark[i]), done ? "✓" : figure);
    (here ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(self->step[i], "now");
    gtk_widget_set_sensitive(self->step[i],
                             here || practice_desk_may_go(self->desk, (PracticeStep)i));
    g_autofree char *spoken =
        g_strdup_printf(here   ? _("Step %d, %s: you are here")
                        : done ? _("Step %d, %s: done")
                               : _("Step %d, %s"),
                        number, words_translate(practice_step_name((PracticeStep)i)));
    spoken_name(self->step[i], spoken);
  }
  under_show(self);
}

GtkWidget *practice_steps_new(SoffitPracticeDesk *desk)
{
  StepRow *self = g_new0(StepRow, 1);
  self->desk = desk;
  self->box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 10);
  gtk_widget_add_css_class(self->box, "practice-steps");
  for (int i = 0; i < PRACTICE_STEPS; i++) {
    GtkWidget *inside = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
    self->mark[i] = gtk_label_new("");
    gtk_widget_add_css_class(self->mark[i], "mark");
    gtk_widget_set_valign(self->mark[i], GTK_ALIGN_CENTER);
    gtk_box_append(GTK_BOX(inside), self->mark[i]);
    gtk_box_append(GTK_BOX(inside),
                   gtk_label_new(words_translate(practice_step_name((PracticeStep)i))));
    self->step[i] = gtk_button_new();
    gtk_button_set_child(GTK_BUTTON(self->step[i]), inside);
    gtk_widget_add_css_class(self->step[i], "plain");
    gtk_widget_add_css_class(self->step[i], "practice-step");
    g_signal_connect(self->step[i], "clicked", G_CALLBACK(step_clicked), self);
    if (i > 0) {
      self->line[i] = gtk_separator_new(GTK_ORIENTATION_HORIZONTAL);
      gtk_widget_set_valign(self->line[i], GTK_ALIGN_CENTER);
      gtk_widget_set_size_request(self->line[i], 32, -1);
      gtk_box_append(GTK_BOX(self->box), self->line[i]);
    }
    gtk_box_append(GTK_BOX(self->box), self->step[i]);
  }
  self->under = gtk_label_new("");
  gtk_widget_add_css_class(self->under, "dim");
  gtk_widget_set_hexpand(self->under, TRUE);
  gtk_label_set_xalign(GTK_LABEL(self->under), 1);
  gtk_label_set_ellipsize(GTK_LABEL(self->under), PANGO_ELLIPSIZE_END);
  gtk_box_append(GTK_BOX(self->box), self->under);
  g_object_set_data_full(G_OBJECT(self->box), "steps", self, g_free);
  practice_follow(
      desk, self->box,
      (const char *const[]){"exercise-changed", "step-changed", "work-changed", "scored", NULL},
      G_CALLBACK(row_show), self);
  return self->box;
}
