/* merge_dialog.c - see merge_dialog.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/merge_dialog.h"
#include "casefile/case_xml.h"
#include "ui/dialog_window.h"
#include "ui/merge_words.h"
#include "ui/parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define WIDTH 900     /* px */
#define ROWS_MOST 430 /* px; as high as the rows are, more of them scroll */
/* Rows are measured at their least width: near the true one, or they ask for height in vain. */
#define CHOICE_CHARS 28
#define PART_CHARS 22

typedef struct {
  SoffitSession *session; /* owned ref */
  SessionMerge *merge;    /* owned */
  GtkWidget *window, *head, *grid, *wrong, *done;
} MergeDialog;

static void dialog_free(MergeDialog *dialog)
{
  session_merge_free(dialog->merge);
  g_object_unref(dialog->session);
  g_free(dialog);
}

static MergeRow *row_number(MergeDialog *dialog, guint i)
{
  return &g_array_index(dialog->merge->rows, MergeRow, i);
}

static void choice_toggled(GtkToggleButton *button, MergeDialog *dialog)
{
  guint i = GPOINTER_TO_UINT(g_object_get_data(G_OBJECT(button), "row"));
  MergeChoice choice = (MergeChoice)GPOINTER_TO_INT(g_object_get_data(G_OBJECT(button), "choice"));
  bool on = gtk_toggle_button_get_active(button);
  gtk_widget_set_opacity(g_object_get_data(G_OBJECT(button), "sign"), on ? 1 : 0);
  if (on)
    row_number(dialog, i)->choice = choice;
}

/* A button that stays down: the sign of what is chosen, and the words. */
static GtkWidget *choice_new(MergeDialog *dialog, guint i, MergeChoice choice, const char *words,
                             const char *spoken)
{
  GtkWidget *button = gtk_toggle_button_new(), *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *sign = gtk_label_new("✓"), *label = part_label(words, NULL);
  gtk_label_set_wrap_mode(GTK_LABEL(label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_width_chars(GTK_LABEL(label), CHOICE_CHARS);
  gtk_label_set_max_width_chars(GTK_LABEL(label), 1); /* both sides as wide, whatever the words */
  gtk_widget_set_hexpand(label, TRUE);
  gtk_widget_set_valign(sign, GTK_ALIGN_START);
  gtk_widget_set_valign(label, GTK_ALIGN_START);
  gtk_widget_set_valign(box, GTK_ALIGN_CENTER);
  gtk_widget_set_opacity(sign, 0);
  gtk_box_append(GTK_BOX(box), sign);
  gtk_box_append(GTK_BOX(box), label);
  gtk_button_set_child(GTK_BUTTON(button), box);
  gtk_widget_add_css_class(button, "merge-choice");
  gtk_widget_set_hexpand(button, TRUE);
  spoken_name(button, spoken);
  g_object_set_data(G_OBJECT(button), "row", GUINT_TO_POINTER(i));
  g_object_set_data(G_OBJECT(button), "choice", GINT_TO_POINTER(choice));
  g_object_set_data(G_OBJECT(button), "sign", sign);
  g_signal_connect(button, "toggled", G_CALLBACK(choice_toggled), dialog);
  return button;
}

static void row_build(MergeDialog *dialog, guint i)
{
  const MergeRow *row = row_number(dialog, i);
  const Case *mine = session_case(dialog->session), *theirs = &dialog->merge->theirs,
             *base = session_saved(dialog->session);
  g_autofree char *part = merge_part_words(row->choice == MERGE_MINE ? mine : theirs, row),
                  *of_mine = merge_side_words(base, mine, theirs, row, row->mine),
                  *of_theirs = merge_side_words(base, theirs, mine, row, row->theirs),
                  *say_mine = g_strdup_printf(_("%s, mine: %s"), part, of_mine),
                  *say_theirs = g_strdup_printf(_("%s, theirs: %s"), part, of_theirs);
  GtkWidget *name = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *title = part_label(part, "title");
  gtk_label_set_width_chars(GTK_LABEL(title), PART_CHARS);
  gtk_box_append(GTK_BOX(name), title);
  if (row->mine && row->theirs)
    gtk_box_append(GTK_BOX(name), part_label(_("⚠ Both changed it: choose."), "wrong"));
  if (row->with_connectors)
    gtk_box_append(GTK_BOX(name), part_label(_("Other teeth: all connectors go along."), "dim"));
  gtk_widget_set_valign(name, GTK_ALIGN_CENTER);
  GtkWidget *choice[] = {[MERGE_THEIRS] =
                             choice_new(dialog, i, MERGE_THEIRS, of_theirs, say_theirs),
                         [MERGE_MINE] = choice_new(dialog, i, MERGE_MINE, of_mine, say_mine)};
  gtk_toggle_button_set_group(GTK_TOGGLE_BUTTON(choice[MERGE_THEIRS]),
                              GTK_TOGGLE_BUTTON(choice[MERGE_MINE]));
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(choice[row->choice]), TRUE);
  gtk_grid_attach(GTK_GRID(dialog->grid), name, 0, (int)i + 1, 1, 1);
  gtk_grid_attach(GTK_GRID(dialog->grid), choice[MERGE_MINE], 1, (int)i + 1, 1, 1);
  gtk_grid_attach(GTK_GRID(dialog->grid), choice[MERGE_THEIRS], 2, (int)i + 1, 1, 1);
}

static void grid_clear(GtkWidget *grid)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(grid)) != NULL)
    gtk_grid_remove(GTK_GRID(grid), child);
}

static void wrong_say(MergeDialog *dialog, const char *text)
{
  gtk_label_set_text(GTK_LABEL(dialog->wrong), text);
  spoken_name(dialog->wrong, text);
  gtk_widget_set_visible(dialog->wrong, *text != '\0');
}

/* From the file as it is now; false: it cannot be read. */
static bool rows_fill(MergeDialog *dialog)
{
  g_autoptr(GError) error = NULL;
  SessionMerge *merge = session_merge_new(dialog->session, &error);
  gtk_widget_set_sensitive(dialog->done, merge != NULL);
  if (!merge) {
    wrong_say(dialog, error->message);
    return false;
  }
  session_merge_free(dialog->merge);
  dialog->merge = merge;
  grid_clear(dialog->grid);
  static const char *const title[] = {N_("Part"), N_("Mine, in this window"),
                                      N_("Theirs, in the file")};
  for (int i = 0; i < 3; i++) {
    GtkWidget *label = part_label(_(title[i]), "dim");
    if (i > 0)
      gtk_label_set_max_width_chars(GTK_LABEL(label), 1); /* as the words below it */
    gtk_grid_attach(GTK_GRID(dialog->grid), label, i, 0, 1, 1);
  }
  for (guint i = 0; i < merge->rows->len; i++)
    row_build(dialog, i);
  if (merge->rows->len == 0)
    gtk_grid_attach(GTK_GRID(dialog->grid),
                    part_label(_("Nothing to choose: both are the same but for remarks, ticks and "
                                 "history."),
                               NULL),
                    0, 1, 3, 1);
  return true;
}

static void merge_clicked(GtkButton *button, MergeDialog *dialog)
{
  (void)button;
  g_autoptr(GError) error = NULL;
  if (session_merge_end(dialog->session, dialog->merge, &error)) {
    gtk_window_destroy(GTK_WINDOW(dialog->window));
    return;
  }
  if (!g_error_matches(error, CASE_ERROR, CASE_ERROR_CHANGED) || rows_fill(dialog))
    wrong_say(dialog, error->message);
}

static GtkWidget *head_build(SoffitSession *session)
{
  const LockHolder *holder = session_lock_holder(session);
  bool taken = session_read_only(session) && holder && *holder->name;
  g_autofree char *last =
      taken ? g_strdup_printf(_("%s has the case now: merging takes it over, and they are told."),
                              holder->name)
            : g_strdup("");
  g_autofree char *text = g_strdup_printf(
      "%s %s",
      _("What only one of you changed is chosen already. Ticks, remarks and history of both are "
        "kept, and both versions stay beside the case. The result is saved, and is one step to "
        "undo."),
      last);
  GtkWidget *head = part_label(text, NULL);
  gtk_widget_add_css_class(head, "records-head");
  return head;
}

void merge_dialog_new(GtkWindow *parent, SoffitSession *session)
{
  MergeDialog *dialog = g_new0(MergeDialog, 1);
  dialog->session = g_object_ref(session);
  dialog->window = dialog_window_new(parent, _("Merge two versions of the case"), WIDTH, -1);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *actions = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *scroller = gtk_scrolled_window_new();
  dialog->grid = gtk_grid_new();
  gtk_grid_set_column_spacing(GTK_GRID(dialog->grid), 12);
  gtk_grid_set_row_spacing(GTK_GRID(dialog->grid), 8);
  gtk_widget_add_css_class(dialog->grid, "merge-rows");
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), dialog->grid);
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height(GTK_SCROLLED_WINDOW(scroller), TRUE);
  gtk_scrolled_window_set_max_content_height(GTK_SCROLLED_WINDOW(scroller), ROWS_MOST);
  gtk_widget_set_vexpand(scroller, TRUE);
  gtk_widget_add_css_class(scroller, "records-rows");
  dialog->wrong = part_label("", "wrong");
  gtk_widget_set_hexpand(dialog->wrong, TRUE);
  gtk_widget_set_visible(dialog->wrong, FALSE);
  dialog->done =
      dialog_button_new(_("Merge and save"), "strong", G_CALLBACK(merge_clicked), dialog);
  GtkWidget *room = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_widget_set_hexpand(room, TRUE);
  gtk_box_append(GTK_BOX(actions), dialog->wrong);
  gtk_box_append(GTK_BOX(actions), room);
  gtk_box_append(GTK_BOX(actions), dialog_button_new(_("Not now"), "quiet", NULL, NULL));
  gtk_box_append(GTK_BOX(actions), dialog->done);
  gtk_widget_add_css_class(actions, "actions");
  gtk_box_append(GTK_BOX(box), head_build(session));
  gtk_box_append(GTK_BOX(box), scroller);
  gtk_box_append(GTK_BOX(box), actions);
  gtk_window_set_child(GTK_WINDOW(dialog->window), box);
  g_object_set_data_full(G_OBJECT(dialog->window), "dialog", dialog, (GDestroyNotify)dialog_free);
  rows_fill(dialog); /* first: the window is as high as they need */
  gtk_window_present(GTK_WINDOW(dialog->window));
  gtk_widget_child_focus(dialog->grid, GTK_DIR_TAB_FORWARD);
}
