/* exercise_task.c - what an exercise is called, asks and teaches; its bridge and limits.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, N. */
#include "ui/case_form.h"
#include "ui/parts.h"
#include "ui/practice/exercise_draft.h"
#include "ui/words.h"

static const char *const yes_no[] = {N_("no"), N_("yes")};

GtkWidget *exercise_task_page(ExerciseDraft *draft)
{
  static const char *const level[] = {"1", "2", "3", "4"};
  const char *kind[EXERCISE_KINDS];
  for (int i = 0; i < EXERCISE_KINDS; i++)
    kind[i] = exercise_kind_name((ExerciseKind)i);
  Exercise *e = draft->e;
  GtkWidget *form = form_new();
  GtkWidget **const field = draft->field;
  field[FIELD_TITLE] = form_text(form, _("Title"), "", &e->title);
  field[FIELD_KIND] =
      form_choice(form, _("Kind"), _("what the trainee does"), kind, EXERCISE_KINDS, &draft->kind);
  form_choice(form, _("Level"), _("1 the easiest"), level, G_N_ELEMENTS(level), &draft->level);
  form_words(form, _("Case"), _("the bridge in words, for the trainee"), &e->scenario);
  field[FIELD_TASK] =
      form_words(form, _("Task"), _("what is to be done, in a sentence or two"), &e->task);
  field[FIELD_LEARNT] = form_words(form, _("Learnt"), _("shown with the score"), &e->learnt);
  field[FIELD_ID] =
      form_text(form, _("Short name"), _("such as own-1; no two have the same"), &e->id);
  form_text(form, _("Next"), _("short name of the exercise after it, or nothing"), &e->next);
  return form;
}

GtkWidget *exercise_bridge_page(ExerciseDraft *draft)
{
  Case *c = &draft->e->start;
  char name[SPAN_MAX_UNITS][12];
  const char *neck[SPAN_MAX_UNITS];
  guint necks = 0;
  for (size_t i = 0; i + 1 < c->n_unit; i++) {
    connector_name(c, i, '/', name[i]);
    neck[necks++] = name[i];
  }
  GtkWidget *form = form_new();
  draft->field[FIELD_NECK] = form_choice(form, _("Neck to draw"), "", neck, necks, &draft->focus);
  draft->field[FIELD_LOAD] = form_number(form, _("Load"), _("N, on the biting edge"),
                                         &c->trial.force_n, 1, CASE_LOAD_MAX_N, 10, 0);
  form_number(form, _("Place of the load"), _("mm along the bridge; empty: the worst place"),
              &c->trial.x, 0, 300, 0.5, 1);
  form_number(form, _("Brush that has to pass"), _("mm, passage hole"), &c->brush_mm, 0.4, 3, 0.1,
              1);
  form_number(form, _("Cutter"), _("mm, diameter"), &c->cutter_diameter, 0.2, 5, 0.1, 2);
  form_number(form, _("Enlargement"), "", &c->enlargement, 1, 1.5, 0.01, 3);
  for (guint i = 0; i < necks; i++) {
    g_autofree char *papilla = g_strdup_printf(_("Papilla at %s"), name[i]);
    form_number(form, papilla, _("mm above the feet; empty: flat gum"), &c->connector[i].papilla, 0,
                6, 0.1, 1);
  }
  form_choice(form, _("Best outline may lower the roof"),
              _("as far as the brush lets it; else the neck keeps its height"), yes_no, 2,
              &draft->lower);
  GtkWidget *note = part_label(
      _("Outlines, sizes and a room drawn by hand are those of Trace. Whose case it was is not "
        "taken along: no number, no name, no photo, no history."),
      "note");
  gtk_label_set_max_width_chars(GTK_LABEL(note), 70);
  form_wide(form, note);
  return form;
}

void exercise_box_empty(GtkWidget *box)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(box)))
    gtk_box_remove(GTK_BOX(box), child);
}
