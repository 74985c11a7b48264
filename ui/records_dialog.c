/* records_dialog.c - a folder, a row a record, the hits with their band.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Reading runs on a thread (records_job.h); rows come as they are read. */
#include "ui/records_dialog.h"
#include "ui/dialog_window.h"
#include "ui/folder_head.h"
#include "ui/parts.h"
#include "ui/preferences.h"
#include "ui/records_job.h"
#include "ui/spoken.h"
#include "ui/tab_stop.h"
#include "ui/words.h"
#include <string.h>

#define FOLDER_KEY "records-folder"
#define COLUMNS 6
#define FIGURES 4

static const struct {
  const char *title;
  int chars; /* width */
} column[COLUMNS] = {{N_("Case"), 10},      {N_("Expected"), 21}, {N_("Found"), 21},
                     {N_("Apart, mm"), 10}, {N_("Result"), 14},   {N_("Kind of start"), 28}};

typedef struct {
  GtkWidget *window, *stop, *bar, *list, *empty, *figure[FIGURES][2], *kinds;
  FolderHead head;
  RecordsJob *job;
  char *folder; /* owned; NULL = none yet */
  guint shown;  /* rows of the job that the list has */
} RecordsDialog;

static void dialog_free(RecordsDialog *dialog)
{
  records_job_free(dialog->job);
  folder_head_clear(&dialog->head);
  g_free(dialog->folder);
  g_free(dialog);
}

/* ---- rows ---- */

static GtkWidget *cell_new(const char *text, int at, const char *class_name)
{
  GtkWidget *cell = gtk_label_new(text);
  gtk_label_set_xalign(GTK_LABEL(cell), 0);
  gtk_label_set_width_chars(GTK_LABEL(cell), column[at].chars);
  gtk_label_set_max_width_chars(GTK_LABEL(cell), column[at].chars);
  gtk_label_set_ellipsize(GTK_LABEL(cell), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand(cell, at == COLUMNS - 1);
  if (class_name)
    gtk_widget_add_css_class(cell, class_name);
  return cell;
}

static char *place_text(const char *connector, FinishZone zone)
{
  return g_strdup_printf("%s, %s", connector, words_translate(zone_name(zone)));
}

static const char *result_text(const BreakCheck *check)
{
  return check->zone_hit ? _("hit") : check->connector_hit ? _("connector alone") : _("miss");
}

static GtkWidget *record_row(const BreakRow *row)
{
  const BreakCheck *check = &row->check;
  g_autofree char *base = g_path_get_basename(row->path),
                  *expected = place_text(row->expected, check->expected_zone),
                  *found = place_text(row->broke, check->broke_zone),
                  *apart = words_number(check->distance, 1);
  const char *const text[COLUMNS] = {
      *row->number ? row->number : base,           expected, found, apart, result_text(check),
      words_translate(origin_kind_name(row->kind))};
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12), *line = gtk_list_box_row_new();
  g_autoptr(GString) spoken = g_string_new(text[0]);
  for (int i = 0; i < COLUMNS; i++) {
    bool miss = i == 4 && !check->zone_hit;
    gtk_box_append(GTK_BOX(box), cell_new(text[i], i, miss ? "title" : NULL));
    if (i)
      g_string_append_printf(spoken, "%s%s: %s", i == 1 ? ". " : "; ", _(column[i].title), text[i]);
  }
  gtk_list_box_row_set_child(GTK_LIST_BOX_ROW(line), box);
  spoken_name(line, spoken->str);
  spoken_tooltip(line, _("Enter opens this case"));
  return line;
}

/* "QB-10.xml:28: what is wrong": the folder is told above. */
static GtkWidget *trouble_row(const RecordsDialog *dialog, const BreakRow *row)
{
  g_autofree char *base = g_path_get_basename(row->path),
                  *why = row->error ? g_strdup(row->error->message)
                                    : g_strdup_printf("%s: %s", base,
                                                      words_translate(fault_text(row->fault)));
  size_t folder = strlen(dialog->folder);
  bool below = strncmp(why, dialog->folder, folder) == 0 && why[folder] == G_DIR_SEPARATOR;
  g_autofree char *text = g_strconcat("⚠ ", below ? why + folder + 1 : why, NULL);
  GtkWidget *label = gtk_label_new(text), *line = gtk_list_box_row_new();
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_label_set_wrap_mode(GTK_LABEL(label), PANGO_WRAP_WORD_CHAR);
  gtk_widget_add_css_class(label, "warning");
  gtk_list_box_row_set_child(GTK_LIST_BOX_ROW(line), label);
  spoken_name(line, text);
  return line;
}

/* ---- what is said below ---- */

static void figure_say(RecordsDialog *dialog, int at, const char *value, const char *more)
{
  const char *const text[2] = {value, more};
  for (int i = 0; i < 2; i++)
    gtk_label_set_text(GTK_LABEL(dialog->figure[at][i]), text[i]);
}

static void share_say(RecordsDialog *dialog, int at, size_t hits, size_t n)
{
  Banded share = hit_share_percent(hits, n);
  g_autofree char *of = g_strdup_printf(_("%zu of %zu"), hits, n),
                  *value = words_number(share.value, 0), *range = words_range(share, 0),
                  *percent = g_strdup_printf("%s %% (%s)", value, range);
  figure_say(dialog, at, of, n ? percent : "");
}

static void sum_show(RecordsDialog *dialog, const BreakSum *sum)
{
  const BreakTally *tally = &sum->tally;
  g_autofree char *files = g_strdup_printf(words_plural("in %zu file", "in %zu files", sum->files),
                                           sum->files),
                  *records = g_strdup_printf("%zu", tally->recorded);
  g_autoptr(GString) read = g_string_new(files);
  if (sum->unread)
    g_string_append_printf(
        read, words_plural(", %zu not to be read", ", %zu not to be read", sum->unread),
        sum->unread);
  figure_say(dialog, 0, records, read->str);
  share_say(dialog, 1, tally->connector_hits, tally->recorded);
  share_say(dialog, 2, tally->zone_hits, tally->recorded);
  g_autofree char *apart = words_number(tally->distances ? tally->distance : NAN, 1),
                  *mm = tally->distances ? g_strdup_printf("%s mm", apart) : g_strdup(apart),
                  *of = g_strdup_printf(
                      words_plural("of %zu place", "of %zu places", tally->distances),
                      tally->distances);
  figure_say(dialog, 3, mm, tally->distances ? of : "");
  g_autoptr(GString) kinds = g_string_new(NULL);
  for (int k = 0; k < ORIGIN_KINDS; k++)
    if (tally->kind[k])
      g_string_append_printf(kinds, "%s%s: %zu", kinds->len ? " · " : "",
                             words_translate(origin_kind_name((OriginKind)k)), tally->kind[k]);
  gtk_label_set_text(GTK_LABEL(dialog->kinds), kinds->str);
}

static void progress_show(RecordsDialog *dialog, const RecordsState *state)
{
  guint done = (guint)state->sum.files;
  g_autofree char *text =
      state->trouble   ? g_strdup(state->trouble)
      : !state->of     ? g_strdup(state->over ? _("There is no case file in this folder.") : "")
      : state->stopped ? g_strdup_printf(_("Stopped after %u of %u files."), done, state->of)
      : state->more
          ? g_strdup_printf(_("%u of %u files read; the folder holds more."), done, state->of)
          : g_strdup_printf(_("%u of %u files read"), done, state->of);
  gtk_progress_bar_set_fraction(GTK_PROGRESS_BAR(dialog->bar),
                                state->of ? (double)done / state->of : 0);
  gtk_widget_set_visible(dialog->bar, !state->over);
  gtk_widget_set_visible(dialog->stop, !state->over);
  if (state->over && gtk_widget_has_focus(dialog->stop))
    gtk_widget_grab_focus(dialog->head.choose);
  bool none = state->over && state->row->len == 0 && !state->trouble && state->of;
  gtk_label_set_text(
      GTK_LABEL(dialog->empty),
      none ? _("No record of a break here. “Edit case…”, page “After a break”, keeps one.") : text);
  spoken_name(dialog->empty, gtk_label_get_text(GTK_LABEL(dialog->empty)));
}

static void job_changed(void *data)
{
  RecordsDialog *dialog = data;
  const RecordsState *state = records_job_state(dialog->job);
  bool first = dialog->shown == 0 && state->row->len > 0;
  for (; dialog->shown < state->row->len; dialog->shown++) {
    const BreakRow *row = &g_array_index(state->row, BreakRow, dialog->shown);
    gtk_list_box_append(GTK_LIST_BOX(dialog->list),
                        row->check.recorded ? record_row(row) : trouble_row(dialog, row));
  }
  sum_show(dialog, &state->sum);
  progress_show(dialog, state);
  if (first && gtk_widget_has_focus(dialog->head.choose))
    gtk_widget_child_focus(dialog->list, GTK_DIR_TAB_FORWARD);
}

/* ---- the folder ---- */

static void folder_read(void *data, const char *folder)
{
  RecordsDialog *dialog = data;
  char *fresh = g_strdup(folder);
  g_clear_pointer(&dialog->job, records_job_free);
  g_free(dialog->folder);
  dialog->folder = fresh;
  GtkWidget *row;
  while ((row = gtk_widget_get_first_child(dialog->list)) != NULL)
    gtk_list_box_remove(GTK_LIST_BOX(dialog->list), row);
  dialog->shown = 0;
  folder_head_show(&dialog->head, folder);
  dialog->job = records_job_new(folder, job_changed, dialog);
  job_changed(dialog);
}

static void stop_clicked(GtkButton *button, RecordsDialog *dialog)
{
  (void)button;
  if (dialog->job)
    records_job_stop(dialog->job);
}

static void row_activated(GtkListBox *list, GtkListBoxRow *activated, RecordsDialog *dialog)
{
  (void)list;
  const GArray *rows = records_job_state(dialog->job)->row;
  int at = gtk_list_box_row_get_index(activated);
  if (at < 0 || (guint)at >= rows->len || !g_array_index(rows, BreakRow, at).check.recorded)
    return;
  g_autofree char *uri = g_filename_to_uri(g_array_index(rows, BreakRow, at).path, NULL, NULL);
  GtkWidget *parent = GTK_WIDGET(gtk_window_get_transient_for(GTK_WINDOW(dialog->window)));
  gtk_window_destroy(GTK_WINDOW(dialog->window));
  if (uri)
    gtk_widget_activate_action(parent, "app.open-recent", "s", uri);
}

/* ---- the window ---- */

static GtkWidget *head_build(RecordsDialog *dialog)
{
  folder_head_build(&dialog->head, FOLDER_KEY, _("Folder of the cases"),
                    _("Choose the folder in which your cases lie."), folder_read, dialog);
  dialog->bar = gtk_progress_bar_new();
  gtk_widget_set_valign(dialog->bar, GTK_ALIGN_CENTER);
  spoken_name(dialog->bar, _("files read"));
  dialog->stop = dialog_button_new(_("Stop"), "quiet", G_CALLBACK(stop_clicked), dialog);
  gtk_box_append(GTK_BOX(dialog->head.row), dialog->bar);
  gtk_box_append(GTK_BOX(dialog->head.row), dialog->stop);
  gtk_widget_set_visible(dialog->bar, FALSE);
  gtk_widget_set_visible(dialog->stop, FALSE);
  return dialog->head.row;
}

static GtkWidget *titles_build(void)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12);
  for (int i = 0; i < COLUMNS; i++)
    gtk_box_append(GTK_BOX(row), cell_new(_(column[i].title), i, "dim"));
  gtk_widget_add_css_class(row, "records-titles");
  return row;
}

static GtkWidget *list_build(RecordsDialog *dialog)
{
  GtkWidget *scroller = gtk_scrolled_window_new();
  dialog->list = gtk_list_box_new();
  gtk_list_box_set_selection_mode(GTK_LIST_BOX(dialog->list), GTK_SELECTION_BROWSE);
  gtk_list_box_set_activate_on_single_click(GTK_LIST_BOX(dialog->list), FALSE);
  gtk_widget_add_css_class(dialog->list, "rows");
  spoken_name(dialog->list, _("Records of breaks"));
  g_signal_connect(dialog->list, "row-activated", G_CALLBACK(row_activated), dialog);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), tab_stop_new(dialog->list));
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand(scroller, TRUE);
  gtk_widget_add_css_class(scroller, "records-rows");
  return scroller;
}

static GtkWidget *sum_build(RecordsDialog *dialog)
{
  static const char *const name[FIGURES] = {N_("Records of a break"), N_("Connector as expected"),
                                            N_("Connector and place as expected"),
                                            N_("Distance from the hot spot, mean")};
  GtkWidget *grid = gtk_grid_new();
  gtk_grid_set_column_spacing(GTK_GRID(grid), 16);
  gtk_grid_set_row_spacing(GTK_GRID(grid), 4);
  gtk_widget_add_css_class(grid, "records-sum");
  for (int i = 0; i < FIGURES; i++) {
    gtk_grid_attach(GTK_GRID(grid), part_label(_(name[i]), NULL), 0, i, 1, 1);
    for (int k = 0; k < 2; k++) {
      dialog->figure[i][k] = part_label("", k ? NULL : "title");
      gtk_widget_set_hexpand(dialog->figure[i][k], k);
      gtk_grid_attach(GTK_GRID(grid), dialog->figure[i][k], k + 1, i, 1, 1);
    }
  }
  gtk_grid_attach(GTK_GRID(grid), part_label(_("Kinds of start"), NULL), 0, FIGURES, 1, 1);
  dialog->kinds = part_label("", NULL);
  gtk_grid_attach(GTK_GRID(grid), dialog->kinds, 1, FIGURES, 2, 1);
  GtkWidget *note = part_label(
      _("Expected: the hot spot of the weakest connector at the order’s load. Bands: 90 in 100, "
        "score interval of Wilson, 1927. Records are few and rarely a fair sample: a wide band "
        "proves nothing."),
      "note");
  gtk_widget_add_css_class(note, "dim");
  gtk_grid_attach(GTK_GRID(grid), note, 0, FIGURES + 1, 3, 1);
  return grid;
}

void records_dialog_new(GtkWindow *parent, const char *folder)
{
  RecordsDialog *dialog = g_new0(RecordsDialog, 1);
  dialog->window = dialog_window_new(parent, _("Records of breaks"), 1060, 640);
  g_autofree char *chosen = preference_word(FOLDER_KEY);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *actions = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  dialog->empty = part_label("", "note");
  gtk_widget_set_hexpand(dialog->empty, TRUE);
  gtk_box_append(GTK_BOX(actions), dialog->empty);
  gtk_box_append(GTK_BOX(actions), dialog_button_new(_("Close"), "quiet", NULL, NULL));
  gtk_widget_add_css_class(actions, "actions");
  gtk_box_append(GTK_BOX(box), head_build(dialog));
  gtk_box_append(GTK_BOX(box), titles_build());
  gtk_box_append(GTK_BOX(box), list_build(dialog));
  gtk_box_append(GTK_BOX(box), sum_build(dialog));
  gtk_box_append(GTK_BOX(box), actions);
  gtk_window_set_child(GTK_WINDOW(dialog->window), box);
  g_object_set_data_full(G_OBJECT(dialog->window), "dialog", dialog, (GDestroyNotify)dialog_free);
  gtk_window_present(GTK_WINDOW(dialog->window));
  gtk_widget_grab_focus(dialog->head.choose);
  if (chosen && *chosen)
    folder_read(dialog, chosen);
  else if (folder)
    folder_read(dialog, folder);
  else
    sum_show(dialog, &(BreakSum){0});
}
