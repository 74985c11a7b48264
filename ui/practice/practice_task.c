/* practice_task.c - left: which exercise, what it asks, what was expected and how far that was off.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/parts.h"
#include "ui/practice/practice_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define WIDTH 272
#define GUESS_MOST 200
#define GUESS_STEP 5

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *title, *scenario, *task, *predict, *mark, *guess_box, *guess, *guess_words, *go,
      *lacks;
  GtkWidget *after, *place_words, *gain_words;
  bool filling;
} TaskColumn;

static void guess_changed(GtkRange *range, gpointer data)
{
  TaskColumn *self = data;
  if (!self->filling)
    practice_desk_set_guess(self->desk,
                            GUESS_STEP * round(gtk_range_get_value(range) / GUESS_STEP));
}

static void go_clicked(TaskColumn *self)
{
  practice_desk_go(self->desk, PRACTICE_SEE);
}

static void guess_show(TaskColumn *self, bool open)
{
  double guess = practice_desk_guess(self->desk), gain = practice_desk_gain(self->desk);
  g_autofree char *number = words_number(guess, 0), *real = words_number(gain, 0);
  g_autofree char *text = isnan(guess)  ? g_strdup(_("Your guess: none yet"))
                          : isnan(gain) ? g_strdup_printf(_("Your guess: +%s %%"), number)
                                        : g_strdup_printf(_("Your guess: +%s %%. It is %s%s %%."),
                                                          number, gain >= 0 ? "+" : "", real);
  gtk_label_set_text(GTK_LABEL(self->guess_words), text);
  gtk_widget_set_sensitive(self->guess, open);
  if (isnan(guess)) {
    self->filling = true;
    gtk_range_set_value(GTK_RANGE(self->guess), 0);
    self->filling = false;
  }
  g_autofree char *learnt = NULL;
  if (!isnan(guess) && !isnan(gain)) {
    Phrase phrase = prediction_gain_phrase(guess, gain);
    learnt = words_phrase(&phrase);
  }
  gtk_label_set_text(GTK_LABEL(self->gain_words), learnt ? learnt : "");
  gtk_widget_set_visible(self->gain_words, learnt != NULL);
}

static void place_show(TaskColumn *self)
{
  const Assessment *start = practice_desk_start(self->desk);
  size_t connector;
  Point at;
  if (!start || !practice_desk_cross(self->desk, &connector, &at))
    return;
  PlacePrediction place = prediction_place(start, practice_desk_exercise(self->desk)->focus, at);
  g_autofree char *says = words_phrase(&place.says);
  g_autofree char *text = g_strdup_printf("%s %s", place.hit ? "✓" : "✗", says);
  gtk_label_set_text(GTK_LABEL(self->place_words), text);
}

static void column_show(TaskColumn *self)
{
  const Exercise *e = practice_desk_exercise(self->desk);
  bool open = practice_desk_step(self->desk) == PRACTICE_PREDICT;
  const char *missing = NULL;
  gtk_label_set_text(GTK_LABEL(self->scenario), words_translate(e->scenario));
  gtk_label_set_text(GTK_LABEL(self->task), words_translate(e->task));
  gtk_widget_set_visible(self->predict, open);
  gtk_widget_set_visible(self->mark, practice_desk_asks_place(self->desk));
  gtk_widget_set_visible(self->guess_box, practice_desk_asks_gain(self->desk));
  size_t connector;
  Point at;
  gtk_widget_set_visible(self->after, !open && practice_desk_cross(self->desk, &connector, &at));
  guess_show(self, open);
  place_show(self);
  gtk_widget_set_visible(self->go, open);
  gtk_widget_set_sensitive(self->go, practice_desk_predicted(self->desk, &missing));
  gtk_label_set_text(GTK_LABEL(self->lacks), words_translate(missing ? missing : ""));
  gtk_widget_set_visible(self->lacks, open && missing);
}

static GtkWidget *guess_build(TaskColumn *self)
{
  GtkWidget *box = self->guess_box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
  gtk_box_append(GTK_BOX(box), part_label(_("How much more will your outline carry?"), "title"));
  self->guess_words = part_label("", NULL);
  gtk_box_append(GTK_BOX(box), self->guess_words);
  self->guess = gtk_scale_new_with_range(GTK_ORIENTATION_HORIZONTAL, 0, GUESS_MOST, GUESS_STEP);
  for (int percent = 0; percent <= GUESS_MOST; percent += 50) {
    g_autofree char *mark = g_strdup_printf("%d %%", percent);
    gtk_scale_add_mark(GTK_SCALE(self->guess), percent, GTK_POS_BOTTOM, mark);
  }
  gtk_widget_set_margin_end(self->guess, 8); /* the last mark's figure is wider than its mark */
  spoken_name(self->guess, _("How much more will your outline carry, percent"));
  g_signal_connect(self->guess, "value-changed", G_CALLBACK(guess_changed), self);
  gtk_box_append(GTK_BOX(box), self->guess);
  self->gain_words = part_label("", "note");
  gtk_box_append(GTK_BOX(box), self->gain_words);
  return box;
}

GtkWidget *practice_task_new(SoffitPracticeDesk *desk, GtkWidget *list)
{
  TaskColumn *self = g_new0(TaskColumn, 1);
  self->desk = desk;
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 14), *scroller = gtk_scrolled_window_new();
  gtk_widget_add_css_class(box, "practice-column");
  gtk_box_append(GTK_BOX(box), list);
  self->scenario = part_label("", "dim");
  self->task = part_label("", "title");
  gtk_box_append(GTK_BOX(box), self->scenario);
  gtk_box_append(GTK_BOX(box), self->task);
  self->predict = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4);
  gtk_box_append(
      GTK_BOX(self->predict),
      part_label(_("Your prediction comes first, before any shading is shown."), "note"));
  self->mark = part_label(_("Mark on the drawing where it will be pulled most."), NULL);
  gtk_box_append(GTK_BOX(self->predict), self->mark);
  gtk_box_append(GTK_BOX(box), self->predict);
  self->after = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append(GTK_BOX(self->after), part_label(_("Your prediction"), "title"));
  gtk_box_append(GTK_BOX(self->after), practice_cross_new(desk, true));
  self->place_words = part_label("", NULL);
  gtk_box_append(GTK_BOX(self->after), self->place_words);
  gtk_box_append(GTK_BOX(box), self->after);
  gtk_box_append(GTK_BOX(box), practice_questions_new(desk));
  gtk_box_append(GTK_BOX(box), guess_build(self));
  self->go = part_button(_("Show the pull"), "strong", G_CALLBACK(go_clicked), self);
  self->lacks = part_label("", "note"); /* below the button, which so stays where it is */
  gtk_box_append(GTK_BOX(box), self->go);
  gtk_box_append(GTK_BOX(box), self->lacks);
  gtk_box_append(GTK_BOX(box), practice_peaks_new(desk));
  gtk_box_append(GTK_BOX(box), practice_profile_button_new(desk));
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), box);
  gtk_widget_set_size_request(scroller, WIDTH, -1);
  gtk_widget_add_css_class(scroller, "practice-left");
  g_object_set_data_full(G_OBJECT(scroller), "task", self, g_free);
  practice_follow(
      desk, scroller,
      (const char *const[]){"exercise-changed", "step-changed", "work-changed", "scored", NULL},
      G_CALLBACK(column_show), self);
  return scroller;
}
