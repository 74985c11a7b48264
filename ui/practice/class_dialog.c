/* class_dialog.c - a row a trainee: what was passed, the box of each skill, how far predictions are
 * off. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, percent points.  The folder is chosen once and read on a thread (class_job.h), paper is
 * written on another (class_paper_job.h); files that cannot be read are named below. */
#include "ui/practice/class_dialog.h"
#include "ui/dialog_window.h"
#include "ui/file_choice.h"
#include "ui/folder_head.h"
#include "ui/parts.h"
#include "ui/practice/class_job.h"
#include "ui/practice/class_paper_job.h"
#include "ui/preferences.h"
#include "ui/spoken.h"
#include "ui/tab_stop.h"
#include "ui/words.h"
#include <math.h>
#include <string.h>

#define FOLDER_KEY "class-folder"
#define PDF_ENDING ".pdf"
#define MESSAGES_MOST 5
#define STOP_AFTER_MS 400 /* before, a bar would only flash */

enum {
  COLUMN_NAME,
  COLUMN_PASSED,
  COLUMN_SKILL,
  COLUMN_CROSS = COLUMN_SKILL + SKILLS,
  COLUMN_GAIN,
  COLUMNS
};

/* px: the words of the longest language; all fits into the smallest window. */
static const int column_width[COLUMNS] = {145, 76, 76, 80, 96, 80, 80, 72, 80, 80, 80};

typedef struct {
  SoffitPracticeDesk *desk; /* owned ref */
  GtkWidget *window, *list, *message, *pdf, *bar, *stop;
  FolderHead head;
  ClassJob *job;        /* owned; NULL: no folder */
  guint shown;          /* rows in the list */
  ClassPaperJob *paper; /* owned; NULL: none is written */
  guint paper_long;     /* source; 0 = none */
} ClassDialog;

static void dialog_free(ClassDialog *dialog)
{
  g_object_unref(dialog->desk);
  folder_head_clear(&dialog->head);
  class_job_free(dialog->job);
  g_clear_handle_id(&dialog->paper_long, g_source_remove);
  class_paper_job_free(dialog->paper);
  g_free(dialog);
}

static void tell(ClassDialog *dialog, const char *text, bool wrong)
{
  gtk_label_set_text(GTK_LABEL(dialog->message), text);
  (wrong ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(dialog->message, "wrong");
}

/* ---- the table ---- */

static const char *column_title(int column)
{
  switch (column) {
  case COLUMN_NAME:
    return _("Trainee");
  case COLUMN_PASSED:
    return _("Passed");
  case COLUMN_CROSS:
    return _("Crosses miss by, mm");
  case COLUMN_GAIN:
    return _("Gain expected, points off");
  default:
    return words_translate(skill_name((Skill)(column - COLUMN_SKILL)));
  }
}

static GtkWidget *cell_new(const char *text, int column, const char *class_name)
{
  GtkWidget *cell = part_label(text, class_name);
  gtk_label_set_wrap_mode(GTK_LABEL(cell), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars(GTK_LABEL(cell), 1); /* as wide as asked for, whatever the words */
  gtk_widget_set_size_request(cell, column_width[column], -1);
  gtk_widget_set_valign(cell, GTK_ALIGN_CENTER);
  return cell;
}

static char *cell_text(const ClassDialog *dialog, const ClassRow *row, int column)
{
  switch (column) {
  case COLUMN_NAME:
    return g_strdup(*row->progress->trainee ? row->progress->trainee : row->file);
  case COLUMN_PASSED:
    return g_strdup_printf(_("%u of %u"), row->passed,
                           exercises_counted(practice_desk_set(dialog->desk)));
  case COLUMN_CROSS:
    return words_number(row->place_mm, 1);
  case COLUMN_GAIN: {
    g_autofree char *points = words_number(fabs(row->gain_points), 0);
    return g_strdup_printf("%s%s",
                           row->gain_points > 0.5    ? "+"
                           : row->gain_points < -0.5 ? "−"
                                                     : "",
                           points);
  }
  default:
    return skill_boxes_text(row->skill[column - COLUMN_SKILL].box);
  }
}

static GtkWidget *row_new(ClassDialog *dialog, const ClassRow *row)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8), *line = gtk_list_box_row_new();
  g_autoptr(GString) spoken = g_string_new(NULL);
  for (int i = 0; i < COLUMNS; i++) {
    g_autofree char *text = cell_text(dialog, row, i);
    gtk_box_append(GTK_BOX(box), cell_new(text, i, i == COLUMN_NAME ? "title" : NULL));
    if (i >= COLUMN_SKILL && i < COLUMN_CROSS)
      g_string_append_printf(spoken, _("; %s: box %d of %d"), column_title(i),
                             row->skill[i - COLUMN_SKILL].box, SKILL_BOXES);
    else
      g_string_append_printf(spoken, "%s%s: %s", i ? "; " : "", column_title(i), text);
  }
  gtk_list_box_row_set_child(GTK_LIST_BOX_ROW(line), box);
  spoken_name(line, spoken->str);
  return line;
}

/* The first few; a share that was cut off would fill the screen. */
static char *messages_text(const ClassState *state)
{
  GString *text = g_string_new(NULL);
  for (guint i = 0; i < MIN(state->message->len, MESSAGES_MOST); i++)
    g_string_append_printf(text, "%s%s", i ? "\n" : "", (char *)state->message->pdata[i]);
  if (state->message->len > MESSAGES_MOST)
    g_string_append_printf(text,
                           words_plural("\n… and %u more file", "\n… and %u more files",
                                        state->message->len - MESSAGES_MOST),
                           state->message->len - MESSAGES_MOST);
  return g_string_free(text, FALSE);
}

static void state_tell(ClassDialog *dialog, const ClassState *state)
{
  g_autofree char *messages = messages_text(state);
  if (state->trouble)
    tell(dialog, state->trouble, true);
  else if (!state->over) {
    g_autofree char *at = state->of
                              ? g_strdup_printf(_("Reading: %u of %u."), state->done, state->of)
                              : g_strdup(_("Reading the folder …"));
    g_autofree char *late =
        state->late
            ? g_strdup_printf(_("%s The folder does not answer: wait, or choose another."), at)
            : NULL;
    tell(dialog, late ? late : at, state->late);
  } else
    tell(dialog,
         *messages         ? messages
         : state->row->len ? ""
                           : _("No progress file lies here. Each trainee keeps his own in this "
                               "folder: “Keep in a file…” below his name."),
         *messages);
}

/* Stays so while a short one is written: the keys do not lose their place. */
static void pdf_allow(ClassDialog *dialog)
{
  const ClassState *state = dialog->job ? class_job_state(dialog->job) : NULL;
  gtk_widget_set_sensitive(dialog->pdf, state && state->row->len > 0 &&
                                            (state->over || state->late) &&
                                            !gtk_widget_get_visible(dialog->stop));
}

static void job_changed(void *data)
{
  ClassDialog *dialog = data;
  const ClassState *state = class_job_state(dialog->job);
  for (; dialog->shown < state->row->len; dialog->shown++)
    gtk_list_box_append(GTK_LIST_BOX(dialog->list),
                        row_new(dialog, state->row->pdata[dialog->shown]));
  pdf_allow(dialog);
  if (!dialog->paper)
    state_tell(dialog, state);
}

static void folder_read(void *data, const char *folder)
{
  ClassDialog *dialog = data;
  GtkWidget *row;
  while ((row = gtk_widget_get_first_child(dialog->list)) != NULL)
    gtk_list_box_remove(GTK_LIST_BOX(dialog->list), row);
  dialog->shown = 0;
  class_job_free(dialog->job);
  dialog->job = class_job_new(folder, practice_desk_set(dialog->desk), job_changed, dialog);
  folder_head_show(&dialog->head, folder);
  job_changed(dialog);
}

/* ---- paper ---- */

static void paper_running_show(ClassDialog *dialog, bool runs)
{
  bool keys = gtk_widget_has_focus(runs ? dialog->pdf : dialog->stop);
  gtk_widget_set_visible(dialog->bar, runs);
  gtk_widget_set_visible(dialog->stop, runs);
  pdf_allow(dialog);
  if (keys)
    gtk_widget_grab_focus(runs ? dialog->stop : dialog->pdf);
}

static gboolean paper_takes_long(void *data)
{
  ClassDialog *dialog = data;
  dialog->paper_long = 0;
  paper_running_show(dialog, true);
  return G_SOURCE_REMOVE;
}

static void paper_end(ClassDialog *dialog)
{
  g_clear_handle_id(&dialog->paper_long, g_source_remove);
  g_clear_pointer(&dialog->paper, class_paper_job_free);
  paper_running_show(dialog, false);
}

static void paper_changed(void *data)
{
  ClassDialog *dialog = data;
  const ClassPaperState *state = class_paper_job_state(dialog->paper);
  gtk_progress_bar_set_fraction(GTK_PROGRESS_BAR(dialog->bar), (double)state->done / state->of);
  g_autofree char *text =
      state->trouble ? g_strdup(state->trouble)
      : state->over  ? g_strdup_printf(_("✓ Saved as %s, one page a trainee."),
                                       class_paper_job_path(dialog->paper))
      : state->done < state->of
          ? g_strdup_printf(_("Drawing page %u of %u."), state->done + 1, state->of)
          : g_strdup_printf(_("Writing %s …"), class_paper_job_path(dialog->paper));
  tell(dialog, text, state->trouble != NULL);
  if (state->over)
    paper_end(dialog);
}

static void stop_clicked(GtkButton *button, ClassDialog *dialog)
{
  (void)button;
  if (!dialog->paper)
    return;
  g_autofree char *late = g_strdup_printf(_("No longer waited for: %s may come still."),
                                          class_paper_job_path(dialog->paper));
  bool none = class_paper_job_stop(dialog->paper);
  paper_end(dialog);
  tell(dialog, none ? _("Stopped. Nothing was saved.") : late, false);
}

static void pdf_chosen(GtkNativeDialog *native, int response, ClassDialog *dialog)
{
  (void)native;
  g_autofree char *path = file_choice_done(&dialog->head.chooser, response);
  if (!path || !dialog->job || dialog->paper)
    return;
  dialog->paper =
      class_paper_job_new(class_job_state(dialog->job)->row, practice_desk_set(dialog->desk),
                          paper_size_default(), path, paper_changed, dialog);
  dialog->paper_long = g_timeout_add(STOP_AFTER_MS, paper_takes_long, dialog);
  paper_changed(dialog);
}

static void pdf_asked(GtkButton *button, ClassDialog *dialog)
{
  (void)button;
  if (dialog->paper)
    return;
  GtkFileChooserNative *chooser =
      file_choice_new(&dialog->head.chooser, GTK_WINDOW(dialog->window), _("Class on paper"),
                      GTK_FILE_CHOOSER_ACTION_SAVE, _("Save"));
  if (!chooser)
    return;
  g_autofree char *name = g_strdup_printf("%s" PDF_ENDING, _("class"));
  gtk_file_chooser_set_current_name(GTK_FILE_CHOOSER(chooser), name);
  g_signal_connect(chooser, "response", G_CALLBACK(pdf_chosen), dialog);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

/* ---- the window ---- */

static GtkWidget *head_build(ClassDialog *dialog)
{
  folder_head_build(&dialog->head, FOLDER_KEY, _("Folder of the class"),
                    _("Choose the folder in which your trainees keep their progress."), folder_read,
                    dialog);
  return dialog->head.row;
}

static GtkWidget *titles_build(void)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  for (int i = 0; i < COLUMNS; i++)
    gtk_box_append(GTK_BOX(row), cell_new(column_title(i), i, "note"));
  gtk_widget_add_css_class(row, "records-titles");
  return row;
}

static GtkWidget *list_build(ClassDialog *dialog)
{
  GtkWidget *scroller = gtk_scrolled_window_new();
  dialog->list = gtk_list_box_new();
  gtk_list_box_set_selection_mode(GTK_LIST_BOX(dialog->list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class(dialog->list, "rows");
  spoken_name(dialog->list, _("Class"));
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), tab_stop_new(dialog->list));
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand(scroller, TRUE);
  gtk_widget_add_css_class(scroller, "records-rows");
  return scroller;
}

static GtkWidget *actions_build(ClassDialog *dialog)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  dialog->message = part_label("", NULL);
  gtk_label_set_wrap_mode(GTK_LABEL(dialog->message), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_hexpand(dialog->message, TRUE);
  dialog->pdf = dialog_button_new(_("Save as PDF…"), "strong", G_CALLBACK(pdf_asked), dialog);
  gtk_widget_set_sensitive(dialog->pdf, FALSE);
  GtkWidget *close = dialog_button_new(_("Close"), "quiet", NULL, NULL);
  gtk_widget_set_valign(close, GTK_ALIGN_END); /* the message may have many lines */
  gtk_widget_set_valign(dialog->pdf, GTK_ALIGN_END);
  dialog->bar = gtk_progress_bar_new();
  spoken_name(dialog->bar, _("How much of the paper is drawn"));
  gtk_widget_set_valign(dialog->bar, GTK_ALIGN_CENTER);
  gtk_widget_set_visible(dialog->bar, FALSE);
  dialog->stop = dialog_button_new(_("Stop"), "quiet", G_CALLBACK(stop_clicked), dialog);
  gtk_widget_set_valign(dialog->stop, GTK_ALIGN_END);
  gtk_widget_set_visible(dialog->stop, FALSE);
  gtk_box_append(GTK_BOX(row), dialog->message);
  gtk_box_append(GTK_BOX(row), dialog->bar);
  gtk_box_append(GTK_BOX(row), dialog->stop);
  gtk_box_append(GTK_BOX(row), close);
  gtk_box_append(GTK_BOX(row), dialog->pdf);
  gtk_widget_add_css_class(row, "actions");
  return row;
}

void class_dialog_new(GtkWindow *parent, SoffitPracticeDesk *desk)
{
  ClassDialog *dialog = g_new0(ClassDialog, 1);
  dialog->desk = g_object_ref(desk);
  dialog->window = dialog_window_new(parent, _("Class"), 1060, 560);
  g_autofree char *chosen = preference_word(FOLDER_KEY);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *note = part_label(_("Boxes: a skill moves one on when it was shown, and waits longer "
                                 "before it comes back. They tell of understanding, not of days."),
                               "note");
  gtk_widget_add_css_class(note, "records-head");
  GtkWidget *const part[] = {head_build(dialog), titles_build(), list_build(dialog), note,
                             actions_build(dialog)};
  for (size_t i = 0; i < G_N_ELEMENTS(part); i++)
    gtk_box_append(GTK_BOX(box), part[i]);
  gtk_window_set_child(GTK_WINDOW(dialog->window), box);
  g_object_set_data_full(G_OBJECT(dialog->window), "dialog", dialog, (GDestroyNotify)dialog_free);
  gtk_window_present(GTK_WINDOW(dialog->window));
  gtk_widget_grab_focus(dialog->head.choose);
  if (chosen && *chosen)
    folder_read(dialog, chosen);
}
