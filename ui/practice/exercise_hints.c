/* exercise_hints.c - hints from a nudge to the worked answer, and questions in words.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "practice/exercise_make.h"
#include "ui/case_form.h"
#include "ui/parts.h"
#include "ui/practice/exercise_draft.h"
#include "ui/spoken.h"
#include "ui/words.h"

static const char *const yes_no[] = {N_("no"), N_("yes")};

static GtkWidget *note_new(const char *text)
{
  GtkWidget *note = part_label(text, "note");
  gtk_label_set_max_width_chars(GTK_LABEL(note), 70);
  return note;
}

static GtkWidget *button_new(const char *text, GCallback clicked, ExerciseDraft *draft)
{
  GtkWidget *button = part_button(text, "quiet", clicked, draft);
  gtk_widget_set_halign(button, GTK_ALIGN_START);
  return button;
}

/* The box holds one form; the keys go on with its last field, or with `add`. */
static void form_put(GtkWidget *box, GtkWidget *form, GtkWidget *focus)
{
  gtk_box_append(GTK_BOX(box), form);
  if (focus)
    gtk_widget_grab_focus(focus);
}

/* ---- hints ---- */

static void hints_fill(ExerciseDraft *draft, bool focus);

static void hint_added(ExerciseDraft *draft)
{
  Exercise *e = draft->e;
  if (e->n_hint == HINTS_MOST)
    return;
  e->hint[e->n_hint++] = (Hint){.text = g_strdup("")};
  hints_fill(draft, true);
}

static void hint_removed(ExerciseDraft *draft)
{
  Exercise *e = draft->e;
  if (e->n_hint == 0)
    return;
  g_free(e->hint[--e->n_hint].text);
  hints_fill(draft, true);
}

static void hints_fill(ExerciseDraft *draft, bool focus)
{
  Exercise *e = draft->e;
  GtkWidget *form = form_new();
  exercise_box_empty(draft->hints);
  form_wide(form, note_new(_("One after the other, each when it is asked for: from a nudge to the "
                             "answer. Whoever looked at the worked answer has shown no skill.")));
  for (size_t i = 0; i < e->n_hint; i++) {
    g_autofree char *name = g_strdup_printf(_("Hint %zu"), i + 1);
    draft->hint[i] = form_words(form, name, "", &e->hint[i].text);
  }
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *add = button_new(_("Add a hint"), G_CALLBACK(hint_added), draft),
            *away = button_new(_("Remove the last hint"), G_CALLBACK(hint_removed), draft);
  gtk_widget_set_sensitive(add, e->n_hint < HINTS_MOST);
  gtk_widget_set_sensitive(away, e->n_hint > 0);
  gtk_box_append(GTK_BOX(row), add);
  gtk_box_append(GTK_BOX(row), away);
  form_wide(form, row);
  form_choice(form, _("The last hint shows a worked answer"),
              _("as a dashed line: the drawing that the check has found"), yes_no, 2,
              &draft->ghost);
  form_put(draft->hints, form, focus ? add : NULL);
}

GtkWidget *exercise_hints_page(ExerciseDraft *draft)
{
  draft->hints = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  hints_fill(draft, false);
  return draft->hints;
}

/* ---- questions ---- */

static void questions_fill(ExerciseDraft *draft, bool focus);

static void question_add(ExerciseDraft *draft, QuestionKind kind)
{
  Exercise *e = draft->e;
  if (e->n_question == QUESTIONS_MOST)
    return;
  char *id = exercise_question_id(e);
  size_t at = e->n_question++;
  g_free(draft->choices[at]);
  draft->choices[at] = g_strdup("");
  e->question[at] = (Question){.id = id,
                               .text = g_strdup(""),
                               .kind = kind,
                               .connector = SIZE_MAX,
                               .right = NAN,
                               .within = NAN,
                               .skill = kind == QUESTION_ORDER ? SKILL_FINISH : SKILL_SECTION};
  questions_fill(draft, true);
}

static void choice_added(ExerciseDraft *draft)
{
  question_add(draft, QUESTION_CHOICE);
}

static void order_added(ExerciseDraft *draft)
{
  question_add(draft, QUESTION_ORDER);
}

static void question_removed(ExerciseDraft *draft, GtkWidget *button)
{
  size_t i = GPOINTER_TO_SIZE(g_object_get_data(G_OBJECT(button), "row"));
  exercise_question_drop(draft->e, i);
  g_free(draft->choices[i]);
  for (size_t k = i; k < draft->e->n_question; k++)
    draft->choices[k] = draft->choices[k + 1];
  draft->choices[draft->e->n_question] = NULL;
  questions_fill(draft, true);
}

static const char *answers_note(QuestionKind kind)
{
  switch (kind) {
  case QUESTION_CHOICE:
    return _("one answer a line; the right ones begin with a star: * polish first");
  case QUESTION_ORDER:
    return _("one step a line, in the right order");
  case QUESTION_CONNECTOR:
    return _("answered with a neck; what is right is measured");
  case QUESTION_PLACE:
    return _("answered with a cross; what is right is measured");
  case QUESTION_NUMBER:
  default:
    return _("answered with a number; what is right is measured");
  }
}

static void question_row(ExerciseDraft *draft, GtkWidget *form, size_t i)
{
  Question *q = &draft->e->question[i];
  bool written = q->kind == QUESTION_CHOICE || q->kind == QUESTION_ORDER;
  g_autofree char *name = g_strdup_printf(_("Question %zu"), i + 1),
                  *answers = g_strdup_printf(_("Answers of question %zu"), i + 1),
                  *away = g_strdup_printf(_("Remove question %zu"), i + 1);
  draft->question[i] = form_text(form, name, written ? "" : answers_note(q->kind), &q->text);
  draft->answers[i] = written ? form_words(form, answers, answers_note(q->kind), &draft->choices[i])
                              : draft->question[i];
  GtkWidget *remove = part_button(away, "quiet", G_CALLBACK(question_removed), draft);
  gtk_widget_set_halign(remove, GTK_ALIGN_START);
  g_object_set_data(G_OBJECT(remove), "row", GSIZE_TO_POINTER(i));
  form_row(form, "", remove, "");
}

static void questions_fill(ExerciseDraft *draft, bool focus)
{
  Exercise *e = draft->e;
  GtkWidget *form = form_new();
  exercise_box_empty(draft->questions);
  form_wide(form,
            note_new(_("Asked before the shading is shown. “Find the weakest neck”, “Which "
                       "breaks first?” and “Mark the crack” bring their own question along.")));
  for (size_t i = 0; i < e->n_question; i++)
    question_row(draft, form, i);
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *choice = button_new(_("Add a question with answers"), G_CALLBACK(choice_added), draft),
            *order = button_new(_("Add an order to be found"), G_CALLBACK(order_added), draft);
  gtk_widget_set_sensitive(choice, e->n_question < QUESTIONS_MOST);
  gtk_widget_set_sensitive(order, e->n_question < QUESTIONS_MOST);
  gtk_box_append(GTK_BOX(row), choice);
  gtk_box_append(GTK_BOX(row), order);
  form_wide(form, row);
  form_put(draft->questions, form, focus ? choice : NULL);
}

void exercise_questions_fill(ExerciseDraft *draft)
{
  questions_fill(draft, false);
}

GtkWidget *exercise_questions_page(ExerciseDraft *draft)
{
  draft->questions = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  questions_fill(draft, false);
  return draft->questions;
}
