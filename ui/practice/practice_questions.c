/* practice_questions.c - what is asked before the shading: one block a question, by its kind.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/parts.h"
#include "ui/practice/practice_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <string.h>

#define NECKS_A_ROW 3

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *box;
  const Exercise *shown;
  GtkWidget *place[QUESTIONS_MOST], *say[QUESTIONS_MOST], *block[QUESTIONS_MOST];
  GtkWidget *choice[QUESTIONS_MOST][CHOICES_MOST];
  bool filling;
} QuestionList;

#define QUESTION "soffit-question" /* of a control: index of its question + 1 */

static size_t question_of(GtkWidget *widget)
{
  return GPOINTER_TO_SIZE(g_object_get_data(G_OBJECT(widget), QUESTION)) - 1;
}

static void control_init(GtkWidget *widget, size_t question)
{
  g_object_set_data(G_OBJECT(widget), QUESTION, GSIZE_TO_POINTER(question + 1));
}

static const Question *at(QuestionList *self, size_t i)
{
  return &self->shown->question[i];
}

/* --- answers of the hand --- */

static void connector_chosen(GtkCheckButton *button, gpointer data)
{
  QuestionList *self = data;
  if (!self->filling && gtk_check_button_get_active(button))
    practice_desk_set_answer(self->desk, question_of(GTK_WIDGET(button)),
                             g_object_get_data(G_OBJECT(button), "answer"));
}

static void choice_toggled(GtkCheckButton *button, gpointer data)
{
  QuestionList *self = data;
  size_t i = question_of(GTK_WIDGET(button));
  if (self->filling)
    return;
  g_autoptr(GString) answer = g_string_new(NULL);
  for (size_t k = 0; k < at(self, i)->n_choice; k++)
    if (gtk_check_button_get_active(GTK_CHECK_BUTTON(self->choice[i][k])))
      g_string_append_printf(answer, "%s%s", answer->len ? " " : "", at(self, i)->choice[k].id);
  practice_desk_set_answer(self->desk, i, answer->str);
}

static void number_changed(GtkEditable *entry, gpointer data)
{
  QuestionList *self = data;
  g_autofree char *text = g_strdup(gtk_editable_get_text(entry));
  g_strdelimit(text, ",", '.');
  if (!self->filling)
    practice_desk_set_answer(self->desk, question_of(GTK_WIDGET(entry)), g_strstrip(text));
}

/* Each press is the next place in the order. */
static void order_pressed(GtkButton *button, gpointer data)
{
  QuestionList *self = data;
  size_t i = question_of(GTK_WIDGET(button));
  const char *id = g_object_get_data(G_OBJECT(button), "answer"),
             *before = practice_desk_answer(self->desk, i);
  g_auto(GStrv) given = g_strsplit(before, " ", -1);
  if (!id) {
    practice_desk_set_answer(self->desk, i, "");
    return;
  }
  if (g_strv_contains((const char *const *)given, id))
    return;
  g_autofree char *answer = *before ? g_strdup_printf("%s %s", before, id) : g_strdup(id);
  practice_desk_set_answer(self->desk, i, answer);
}

/* --- building --- */

static void connectors_build(QuestionList *self, size_t i)
{
  const Case *c = &self->shown->start;
  GtkWidget *grid = gtk_grid_new(), *first = NULL;
  gtk_grid_set_column_spacing(GTK_GRID(grid), 12);
  for (size_t k = 0; k + 1 < c->n_unit && k < CHOICES_MOST; k++) {
    char name[12], id[12];
    connector_name(c, k, '/', name);
    connector_name(c, k, '-', id);
    GtkWidget *button = self->choice[i][k] = gtk_check_button_new_with_label(name);
    if (first)
      gtk_check_button_set_group(GTK_CHECK_BUTTON(button), GTK_CHECK_BUTTON(first));
    else
      first = button;
    control_init(button, i);
    g_object_set_data_full(G_OBJECT(button), "answer", g_strdup(id), g_free);
    g_signal_connect(button, "toggled", G_CALLBACK(connector_chosen), self);
    g_autofree char *spoken = g_strdup_printf("%s %s", words_translate(at(self, i)->text), name);
    spoken_name(button, spoken);
    gtk_grid_attach(GTK_GRID(grid), button, (int)(k % NECKS_A_ROW), (int)(k / NECKS_A_ROW), 1, 1);
  }
  gtk_box_append(GTK_BOX(self->block[i]), grid);
}

static GtkWidget *wrapped(GtkWidget *button, const char *text)
{
  GtkWidget *label = part_label(text, NULL);
  if (GTK_IS_BUTTON(button))
    gtk_button_set_child(GTK_BUTTON(button), label);
  return button;
}

static void choices_build(QuestionList *self, size_t i)
{
  for (size_t k = 0; k < at(self, i)->n_choice; k++) {
    const char *text = words_translate(at(self, i)->choice[k].text);
    GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 4),
              *button = self->choice[i][k] = gtk_check_button_new_with_label(text);
    control_init(button, i);
    GtkWidget *label = gtk_widget_get_last_child(button);
    if (GTK_IS_LABEL(label)) {
      gtk_label_set_wrap(GTK_LABEL(label), TRUE);
      gtk_label_set_xalign(GTK_LABEL(label), 0);
    }
    g_signal_connect(button, "toggled", G_CALLBACK(choice_toggled), self);
    gtk_box_append(GTK_BOX(row), button);
    gtk_box_append(GTK_BOX(self->block[i]), row);
  }
}

static void order_build(QuestionList *self, size_t i)
{
  gtk_box_append(GTK_BOX(self->block[i]),
                 part_label(_("Press them in their order, the first one first."), "note"));
  for (size_t k = 0; k <= at(self, i)->n_choice; k++) {
    bool again = k == at(self, i)->n_choice;
    GtkWidget *button = gtk_button_new();
    wrapped(button,
            again ? _("Begin the order again") : words_translate(at(self, i)->choice[k].text));
    gtk_widget_add_css_class(button, again ? "plain" : "practice-order");
    control_init(button, i);
    if (!again) {
      self->choice[i][k] = button;
      g_object_set_data_full(G_OBJECT(button), "answer", g_strdup(at(self, i)->choice[k].id),
                             g_free);
    }
    g_signal_connect(button, "clicked", G_CALLBACK(order_pressed), self);
    gtk_box_append(GTK_BOX(self->block[i]), button);
  }
}

static void number_build(QuestionList *self, size_t i)
{
  GtkWidget *entry = self->choice[i][0] = gtk_entry_new();
  gtk_entry_set_input_purpose(GTK_ENTRY(entry), GTK_INPUT_PURPOSE_NUMBER);
  gtk_editable_set_max_width_chars(GTK_EDITABLE(entry), 8);
  gtk_widget_set_halign(entry, GTK_ALIGN_START);
  gtk_accessible_update_property(GTK_ACCESSIBLE(entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 words_translate(at(self, i)->text), -1);
  control_init(entry, i);
  g_signal_connect(entry, "changed", G_CALLBACK(number_changed), self);
  gtk_box_append(GTK_BOX(self->block[i]), entry);
}

static void list_build(QuestionList *self)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(self->box)))
    gtk_box_remove(GTK_BOX(self->box), child);
  memset(self->choice, 0, sizeof self->choice);
  self->shown = practice_desk_exercise(self->desk);
  for (size_t i = 0; i < self->shown->n_question; i++) {
    self->block[i] = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
    gtk_box_append(GTK_BOX(self->block[i]),
                   part_label(words_translate(at(self, i)->text), "title"));
    switch (at(self, i)->kind) {
    case QUESTION_CONNECTOR:
      connectors_build(self, i);
      break;
    case QUESTION_CHOICE:
      choices_build(self, i);
      break;
    case QUESTION_ORDER:
      order_build(self, i);
      break;
    case QUESTION_NUMBER:
      number_build(self, i);
      break;
    case QUESTION_PLACE:
      gtk_box_append(GTK_BOX(self->block[i]),
                     part_label(_("Mark the place on the drawing."), "note"));
      break;
    }
    self->say[i] = part_label("", "note");
    gtk_box_append(GTK_BOX(self->block[i]), self->say[i]);
    gtk_box_append(GTK_BOX(self->box), self->block[i]);
  }
}

/* --- what stands --- */

/* "2. sinter" behind the buttons that were pressed. */
static void order_show(QuestionList *self, size_t i)
{
  g_auto(GStrv) given = g_strsplit(practice_desk_answer(self->desk, i), " ", -1);
  for (size_t k = 0; k < at(self, i)->n_choice; k++) {
    int place = 0;
    for (int n = 0; given[n]; n++)
      if (g_str_equal(given[n], at(self, i)->choice[k].id))
        place = n + 1;
    const char *text = words_translate(at(self, i)->choice[k].text);
    g_autofree char *with = place ? g_strdup_printf("%d. %s", place, text) : g_strdup(text);
    gtk_label_set_text(GTK_LABEL(gtk_button_get_child(GTK_BUTTON(self->choice[i][k]))), with);
    (place ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(self->choice[i][k], "chosen");
  }
}

/* Behind the shading each answer is held against what is right. */
static void judged_show(QuestionList *self, size_t i, const Score *score)
{
  g_autofree char *text = NULL;
  for (size_t k = 0; score && k < score->n; k++) {
    const ScoreRow *row = &score->row[k];
    if (!row->is_question || row->index != i)
      continue;
    g_autofree char *reason = row->reason.text ? words_phrase(&row->reason) : NULL;
    text =
        g_strdup_printf("%s %s", row->met ? _("✓ Right.") : _("✗ Not yet."), reason ? reason : "");
  }
  gtk_label_set_text(GTK_LABEL(self->say[i]), text ? text : "");
  gtk_widget_set_visible(self->say[i], text != NULL);
}

static void list_show(QuestionList *self)
{
  if (practice_desk_exercise(self->desk) != self->shown)
    list_build(self);
  bool open = practice_desk_step(self->desk) == PRACTICE_PREDICT;
  gtk_widget_set_visible(self->box, self->shown->n_question > 0);
  self->filling = true;
  for (size_t i = 0; i < self->shown->n_question; i++) {
    const char *answer = practice_desk_answer(self->desk, i);
    for (size_t k = 0; k < CHOICES_MOST && self->choice[i][k]; k++) {
      gtk_widget_set_sensitive(self->choice[i][k], open);
      if (!*answer && GTK_IS_CHECK_BUTTON(self->choice[i][k]))
        gtk_check_button_set_active(GTK_CHECK_BUTTON(self->choice[i][k]), FALSE);
    }
    if (at(self, i)->kind == QUESTION_ORDER)
      order_show(self, i);
    judged_show(self, i, open ? NULL : practice_desk_score(self->desk));
  }
  self->filling = false;
}

/* The same exercise begun anew has its controls made anew. */
static void exercise_changed(QuestionList *self)
{
  self->shown = NULL;
  list_show(self);
}

GtkWidget *practice_questions_new(SoffitPracticeDesk *desk)
{
  QuestionList *self = g_new0(QuestionList, 1);
  self->desk = desk;
  self->box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 14);
  g_object_set_data_full(G_OBJECT(self->box), "questions", self, g_free);
  practice_follow(desk, self->box, (const char *const[]){"exercise-changed", NULL},
                  G_CALLBACK(exercise_changed), self);
  practice_follow(desk, self->box,
                  (const char *const[]){"step-changed", "work-changed", "scored", NULL},
                  G_CALLBACK(list_show), self);
  return self->box;
}
