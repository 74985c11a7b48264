/* exercise_dialog.c - the pages of an exercise; checked in a thread, then saved into the folder of
 * the person's own exercises. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A refusal leads to its field: its page is turned to, the keys go on there, and what is wrong and
 * what to change stands beside it.  One that no field can mend is told above the buttons. */
#include "ui/practice/exercise_dialog.h"
#include "casefile/exercise_xml.h"
#include "practice/exercise_make.h"
#include "ui/case_form.h"
#include "ui/dialog_window.h"
#include "ui/parts.h"
#include "ui/practice/exercise_draft.h"
#include "ui/practice/exercise_job.h"
#include "ui/spoken.h"
#include "ui/tab_stop.h"
#include "ui/words.h"
#include <glib/gstdio.h>
#include <string.h>

#define ID_MOST 24

typedef struct {
  SoffitPracticeDesk *desk; /* owned ref */
  GtkWidget *window, *stack, *message, *bar, *stop, *save, *show;
  GtkWidget *flawed;    /* weak: the field that a refusal is about; NULL: none */
  ExerciseDraft *draft; /* owned */
  ExerciseJob *job;     /* owned */
  char *path;           /* owned; the file it is kept in; NULL: none yet */
  char *kept;           /* owned; as it was saved, or begun */
  bool leaving;         /* asked once whether it is to be given up */
} ExerciseDialog;

static void dialog_free(ExerciseDialog *dialog)
{
  g_clear_weak_pointer(&dialog->flawed);
  exercise_job_free(dialog->job);
  exercise_draft_free(dialog->draft);
  g_object_unref(dialog->desk);
  g_free(dialog->path);
  g_free(dialog->kept);
  g_free(dialog);
}

static void tell(ExerciseDialog *dialog, const char *text, bool wrong)
{
  gtk_label_set_text(GTK_LABEL(dialog->message), text);
  gtk_widget_set_visible(dialog->message, *text != '\0');
  (wrong ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(dialog->message, "wrong");
  spoken_name(dialog->message, text);
}

/* ---- a refusal leads to its field ---- */

static GtkWidget *page_of(ExerciseDialog *dialog, GtkWidget *field)
{
  while (field && gtk_widget_get_parent(field) != dialog->stack)
    field = gtk_widget_get_parent(field);
  return field;
}

static void flaw_forget(ExerciseDialog *dialog)
{
  if (dialog->flawed)
    field_flaw(dialog->flawed, NULL);
  g_clear_weak_pointer(&dialog->flawed);
  gtk_widget_set_visible(dialog->show, FALSE);
}

/* Its row may have been taken out since: then there is nothing to mend. */
static void flaw_show(ExerciseDialog *dialog)
{
  GtkWidget *page = page_of(dialog, dialog->flawed);
  if (!page) {
    flaw_forget(dialog);
    tell(dialog, "", false);
    gtk_widget_grab_focus(dialog->save);
    return;
  }
  gtk_stack_set_visible_child(GTK_STACK(dialog->stack), page);
  gtk_widget_grab_focus(dialog->flawed);
}

static void refuse_at(ExerciseDialog *dialog, GtkWidget *field, const char *text)
{
  GtkWidget *page = page_of(dialog, field);
  if (!page) {
    tell(dialog, text, true);
    gtk_widget_grab_focus(dialog->save);
    return;
  }
  g_autofree char *title = NULL;
  g_object_get(gtk_stack_get_page(GTK_STACK(dialog->stack), page), "title", &title, NULL);
  g_autofree char *where = g_strdup_printf(
      _("Nothing was saved: what is wrong stands at its field on the page “%s”."), title);
  g_set_weak_pointer(&dialog->flawed, field);
  field_flaw(field, text);
  gtk_widget_set_visible(dialog->show, TRUE);
  tell(dialog, where, true);
  flaw_show(dialog);
}

static void refuse(ExerciseDialog *dialog, const Solvable *flaw)
{
  g_autofree char *reason = words_phrase(&flaw->why), *act = words_phrase(&flaw->change);
  g_autofree char *text = g_strdup_printf("✗ %s %s", reason, act);
  refuse_at(dialog, exercise_draft_field(dialog->draft, flaw->place), text);
}

/* ---- what the file is called ---- */

static bool id_good(ExerciseDialog *dialog)
{
  const Exercise *e = dialog->draft->e, *other;
  bool plain = *e->id != '\0' && strlen(e->id) <= ID_MOST;
  for (const char *p = e->id; *p; p++)
    plain = plain && (g_ascii_isalnum(*p) || strchr(".-_", *p));
  if (!plain) {
    refuse_at(dialog, dialog->draft->field[FIELD_ID],
              _("✗ The short name is missing, too long, or has other signs than letters, figures, "
                "point and dash. Write one such as own-1."));
    return false;
  }
  other = exercise_find(practice_desk_set(dialog->desk), e->id);
  if (!other || (dialog->path && strcmp(other->file, dialog->path) == 0))
    return true;
  g_autofree char *text = g_strdup_printf(
      _("✗ There is an exercise %s already: “%s”. Give this one another short name."), e->id,
      words_translate(other->title));
  refuse_at(dialog, dialog->draft->field[FIELD_ID], text);
  return false;
}

/* ---- check, then save ---- */

static void running_show(ExerciseDialog *dialog, bool runs)
{
  gtk_widget_set_visible(dialog->bar, runs);
  gtk_widget_set_visible(dialog->stop, runs);
  gtk_widget_set_sensitive(dialog->save, !runs);
  gtk_widget_set_sensitive(dialog->stack, !runs);
}

static char *as_text(const Exercise *e)
{
  GString *text = exercise_to_xml(e);
  return g_string_free(text, FALSE);
}

/* The drawing that passes is what the last hint shows. */
static bool answer_take(ExerciseDialog *dialog, const Solvable *answer)
{
  Exercise *e = dialog->draft->e;
  if (answer->answer.n_unit > 0 && case_copy(&e->answer, &answer->answer))
    return false;
  exercise_draft_give(dialog->draft);
  return true;
}

static void save(ExerciseDialog *dialog)
{
  Exercise *e = dialog->draft->e;
  g_autofree char *folder = practice_desk_folder(dialog->desk),
                  *name = g_strdup_printf("%s.xml", e->id);
  g_autofree char *path =
      dialog->path ? g_strdup(dialog->path) : g_build_filename(folder, name, NULL);
  g_autoptr(GError) error = NULL;
  g_mkdir_with_parents(folder, 0700); /* what is wrong with it is told by the file */
  if (!exercise_save(e, path, &error)) {
    tell(dialog, error->message, true);
    return;
  }
  g_free(dialog->path);
  dialog->path = g_steal_pointer(&path);
  g_free(dialog->kept);
  dialog->kept = as_text(e);
  practice_desk_reload(dialog->desk, e->id);
  g_autofree char *text = g_strdup_printf(
      _("✓ It can be done. Saved as %s; it stands in the list of exercises."), dialog->path);
  tell(dialog, text, false);
}

static void job_told(double share, const Solvable *answer, Fault fault, void *data)
{
  ExerciseDialog *dialog = data;
  gtk_progress_bar_set_fraction(GTK_PROGRESS_BAR(dialog->bar), share);
  if (!answer)
    return;
  running_show(dialog, false);
  if (!fault && answer->kind) {
    refuse(dialog, answer);
    return;
  }
  if (fault || (!answer->kind && !answer_take(dialog, answer)))
    tell(dialog, words_translate(fault_text(fault ? fault : FAULT_MEMORY)), true);
  else
    save(dialog);
  gtk_widget_grab_focus(dialog->save);
}

static void save_clicked(GtkButton *button, ExerciseDialog *dialog)
{
  (void)button;
  Solvable flaw;
  g_autoptr(GError) error = NULL;
  exercise_draft_give(dialog->draft);
  dialog->leaving = false;
  flaw_forget(dialog);
  if (exercise_flaw(dialog->draft->e, &flaw)) {
    refuse(dialog, &flaw);
    return;
  }
  if (!id_good(dialog))
    return;
  if (!exercise_job_start(dialog->job, dialog->draft->e, &error)) {
    tell(dialog, error->message, true);
    return;
  }
  gtk_progress_bar_set_fraction(GTK_PROGRESS_BAR(dialog->bar), 0);
  running_show(dialog, true);
  gtk_widget_grab_focus(dialog->stop);
  tell(dialog, _("Looking whether it can be done …"), false);
}

static void show_clicked(GtkButton *button, ExerciseDialog *dialog)
{
  (void)button;
  flaw_show(dialog);
}

static void stop_clicked(GtkButton *button, ExerciseDialog *dialog)
{
  (void)button;
  exercise_job_stop(dialog->job);
  running_show(dialog, false);
  gtk_widget_grab_focus(dialog->save);
  tell(dialog, _("Stopped. Nothing was saved."), false);
}

/* What was typed is given up only when that was asked for twice. */
static gboolean close_asked(GtkWindow *window, ExerciseDialog *dialog)
{
  (void)window;
  exercise_draft_give(dialog->draft);
  g_autofree char *now = as_text(dialog->draft->e);
  if (dialog->leaving || strcmp(now, dialog->kept) == 0)
    return FALSE;
  dialog->leaving = true;
  tell(dialog, _("This exercise is not saved. Leave once more to give it up."), true);
  return TRUE;
}

/* ---- the window ---- */

static GtkWidget *actions_build(ExerciseDialog *dialog)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6),
            *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  dialog->message = part_label("", NULL);
  gtk_label_set_wrap_mode(GTK_LABEL(dialog->message), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_visible(dialog->message, FALSE);
  dialog->bar = gtk_progress_bar_new();
  spoken_name(dialog->bar, _("How far the check is"));
  gtk_widget_set_hexpand(dialog->bar, TRUE);
  gtk_widget_set_valign(dialog->bar, GTK_ALIGN_CENTER);
  GtkWidget *gap = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_set_hexpand(gap, TRUE);
  dialog->stop = dialog_button_new(_("Stop"), "quiet", G_CALLBACK(stop_clicked), dialog);
  dialog->save = dialog_button_new(_("Check and save"), "strong", G_CALLBACK(save_clicked), dialog);
  dialog->show = dialog_button_new(_("Go to the field"), "quiet", G_CALLBACK(show_clicked), dialog);
  gtk_widget_set_visible(dialog->show, FALSE);
  GtkWidget *const part[] = {dialog->bar,
                             dialog->show,
                             gap,
                             dialog->stop,
                             dialog_button_new(_("Leave"), "quiet", NULL, NULL),
                             dialog->save};
  for (size_t i = 0; i < G_N_ELEMENTS(part); i++)
    gtk_box_append(GTK_BOX(row), part[i]);
  gtk_box_append(GTK_BOX(box), dialog->message);
  gtk_box_append(GTK_BOX(box), row);
  gtk_widget_add_css_class(box, "actions");
  return box;
}

static void dialog_show(GtkWindow *parent, SoffitPracticeDesk *desk, Exercise *e, const char *title)
{
  ExerciseDialog *dialog = g_new0(ExerciseDialog, 1);
  dialog->desk = g_object_ref(desk);
  dialog->draft = exercise_draft_new(e);
  dialog->path = *e->file ? g_strdup(e->file) : NULL;
  dialog->job = exercise_job_new(job_told, dialog);
  dialog->window = dialog_window_new(parent, title, 960, 620);
  GtkWidget *pages, *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
                    *middle = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0);
  dialog->stack = gtk_stack_new();
  pages = dialog_pages_new(dialog->stack);
  dialog_page_add(dialog->stack, exercise_task_page(dialog->draft), "exercise", _("Exercise"));
  dialog_page_add(dialog->stack, exercise_bridge_page(dialog->draft), "bridge",
                  _("Bridge and room"));
  dialog_page_add(dialog->stack, exercise_criteria_page(dialog->draft), "criteria",
                  _("Passed when"));
  dialog_page_add(dialog->stack, exercise_hints_page(dialog->draft), "hints", _("Hints"));
  dialog_page_add(dialog->stack, exercise_questions_page(dialog->draft), "questions",
                  _("Questions"));
  dialog_pages_name(pages);
  gtk_widget_set_hexpand(dialog->stack, TRUE);
  gtk_widget_set_vexpand(middle, TRUE);
  gtk_box_append(GTK_BOX(middle), tab_stop_new(pages));
  gtk_box_append(GTK_BOX(middle), dialog->stack);
  gtk_box_append(GTK_BOX(box), middle);
  gtk_box_append(GTK_BOX(box), actions_build(dialog));
  running_show(dialog, false);
  gtk_window_set_child(GTK_WINDOW(dialog->window), box);
  g_object_set_data_full(G_OBJECT(dialog->window), "dialog", dialog, (GDestroyNotify)dialog_free);
  g_signal_connect(dialog->window, "close-request", G_CALLBACK(close_asked), dialog);
  exercise_draft_give(dialog->draft);
  dialog->kept = as_text(e);
  gtk_window_present(GTK_WINDOW(dialog->window));
  gtk_widget_child_focus(pages, GTK_DIR_TAB_FORWARD); /* the keys begin at the list of pages */
}

void exercise_dialog_new(GtkWindow *parent, SoffitPracticeDesk *desk, const Case *c,
                         size_t connector)
{
  Exercise *e = exercise_of_connector(c, connector);
  if (!e)
    return;
  g_free(e->id);
  e->id = exercise_new_id(practice_desk_set(desk));
  dialog_show(parent, desk, e, _("New exercise"));
}

/* Its words in the language of the desktop: what is written down is what was read. */
static void words_take(Exercise *e)
{
  char **const text[] = {&e->title, &e->scenario, &e->task, &e->learnt};
  for (size_t i = 0; i < G_N_ELEMENTS(text); i++) {
    char *own = g_strdup(words_translate(*text[i]));
    g_free(*text[i]);
    *text[i] = own;
  }
  for (size_t i = 0; i < e->n_hint; i++) {
    char *own = g_strdup(words_translate(e->hint[i].text));
    g_free(e->hint[i].text);
    e->hint[i].text = own;
  }
  for (size_t i = 0; i < e->n_question; i++) {
    Question *q = &e->question[i];
    char *own = g_strdup(words_translate(q->text));
    g_free(q->text);
    q->text = own;
    for (size_t k = 0; k < q->n_choice; k++) {
      own = g_strdup(words_translate(q->choice[k].text));
      g_free(q->choice[k].text);
      q->choice[k].text = own;
    }
  }
}

void exercise_dialog_edit(GtkWindow *parent, SoffitPracticeDesk *desk, const Exercise *exercise)
{
  bool own = *exercise->file != '\0';
  Exercise *e = exercise_copy(exercise, NULL);
  if (!e)
    return;
  if (own) {
    g_free(e->file);
    e->file = g_strdup(exercise->file);
  } else {
    words_take(e);
    g_free(e->id);
    e->id = exercise_new_id(practice_desk_set(desk));
  }
  dialog_show(parent, desk, e, own ? _("Edit exercise") : _("Copy of an exercise"));
}
