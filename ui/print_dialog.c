/* print_dialog.c - see print_dialog.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/print_dialog.h"
#include "ui/dialog_window.h"
#include "ui/file_choice.h"
#include "ui/parts.h"
#include "ui/print_preview.h"
#include "ui/words.h"
#include <glib/gstdio.h>
#include <stdint.h>

#define WIDTH 520

typedef struct {
  SoffitWindow *parent;   /* outlives the dialog */
  SoffitSession *session; /* owned ref */
  GtkWidget *window, *bench, *letter, *waits, *button[3];
  GtkFileChooserNative *chooser; /* owned while it is open */
  AssessJob *job;                /* owned: the answer for the sheet */
  Assessment *whole;             /* owned ref; NULL: not there yet, or of a case left behind */
  Fault fault;                   /* of the job */
} PrintDialog;

static void whole_forget(PrintDialog *self)
{
  if (self->whole)
    assessment_unref(self->whole);
  self->whole = NULL;
}

static void dialog_free(gpointer data)
{
  PrintDialog *self = data;
  g_signal_handlers_disconnect_by_data(self->session, self);
  assess_job_free(self->job);
  whole_forget(self);
  if (self->chooser)
    gtk_native_dialog_destroy(GTK_NATIVE_DIALOG(self->chooser));
  g_clear_object(&self->chooser);
  g_object_unref(self->session);
  g_free(self);
}

static bool bench_chosen(PrintDialog *self)
{
  return gtk_check_button_get_active(GTK_CHECK_BUTTON(self->bench));
}

/* What would be printed; NULL: nothing is printed of an answer that the case has left behind. */
static const Assessment *answer_chosen(PrintDialog *self)
{
  if (!session_at_rest(self->session))
    return NULL;
  return bench_chosen(self) ? session_rest_assessment(self->session) : self->whole;
}

static void state_show(PrintDialog *self)
{
  bool ready = answer_chosen(self) != NULL;
  Fault fault = session_following(self->session) ? FAULT_NONE : session_assess_fault(self->session);
  if (!fault && !bench_chosen(self))
    fault = self->fault;
  gtk_label_set_text(GTK_LABEL(self->waits),
                     ready   ? ""
                     : fault ? words_translate(fault_text(fault))
                             : _("Please wait: Soffit still works on the answer."));
  for (size_t i = 0; i < G_N_ELEMENTS(self->button); i++)
    gtk_widget_set_sensitive(self->button[i], ready);
}

static void whole_came(Assessment *result, Fault fault, bool current, void *data)
{
  PrintDialog *self = data;
  if (!current || (result && result->grade == ASSESS_LIVE))
    return;
  whole_forget(self);
  self->whole = result ? assessment_ref(result) : NULL;
  self->fault = fault;
  state_show(self);
}

/* The sheet tells the way from the best connector to each of the drawn ones, as soffit-cli report
 * does; the session's own answer has it for one at most. */
static void whole_ask(PrintDialog *self)
{
  whole_forget(self);
  self->fault = FAULT_NONE;
  assess_job_request(self->job, session_case(self->session), SIZE_MAX);
  state_show(self);
}

static PrintJob *job_chosen(PrintDialog *self)
{
  const char *path = session_path(self->session);
  g_autofree char *lab = path ? g_path_get_dirname(path) : NULL;
  bool letter = gtk_check_button_get_active(GTK_CHECK_BUTTON(self->letter));
  return print_job_new(answer_chosen(self), lab, bench_chosen(self) ? PAPER_BENCH : PAPER_CASE,
                       letter ? PAPER_LETTER : PAPER_A4);
}

/* Closes the dialog and says what went wrong; NULL: nothing. */
static void dialog_end(PrintDialog *self, const char *wrong)
{
  SoffitWindow *parent = self->parent;
  if (wrong)
    window_error(parent, wrong);
  gtk_window_destroy(GTK_WINDOW(self->window));
}

static void preview_clicked(PrintDialog *self)
{
  g_autoptr(PrintJob) job = job_chosen(self);
  if (!print_preview_show(GTK_WINDOW(self->window), job))
    dialog_end(self, words_translate(fault_text(FAULT_MEMORY)));
}

/* --- a file --- */

static void save_chosen(GtkNativeDialog *native, int response, PrintDialog *self)
{
  (void)native;
  g_autoptr(GError) error = NULL;
  g_autofree char *path = file_choice_done(&self->chooser, response);
  if (!path || !answer_chosen(self))
    return;
  g_autofree char *named =
      strchr(strrchr(path, '/') + 1, '.') ? NULL : g_strconcat(path, ".pdf", NULL);
  g_autoptr(PrintJob) job = job_chosen(self);
  bool saved = print_job_save(job, named ? named : path, &error);
  dialog_end(self, saved ? NULL : error->message);
}

static void save_clicked(PrintDialog *self)
{
  static const char *const suffix[] = {"pdf", NULL};
  GtkFileChooserNative *chooser =
      file_choice_new(&self->chooser, GTK_WINDOW(self->window), _("Save as PDF"),
                      GTK_FILE_CHOOSER_ACTION_SAVE, _("Save"));
  if (!chooser)
    return;
  g_autoptr(PrintJob) job = job_chosen(self);
  g_autofree char *name = print_job_file(job);
  file_choice_filter(chooser, _("Documents (PDF)"), suffix);
  gtk_file_chooser_set_current_name(GTK_FILE_CHOOSER(chooser), name);
  g_signal_connect(chooser, "response", G_CALLBACK(save_chosen), self);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

/* --- a printer --- */

static void print_done(GtkPrintOperation *operation, GtkPrintOperationResult result,
                       SoffitWindow *window)
{
  g_autoptr(GError) error = NULL;
  if (result != GTK_PRINT_OPERATION_RESULT_ERROR)
    return;
  gtk_print_operation_get_error(operation, &error);
  g_autofree char *text = g_strdup_printf(_("It was not printed: %s"), error ? error->message : "");
  window_error(window, text);
}

/* Not the end of what a program wrote: empty, or a PDF without its last line (ISO 32000-1, 7.5.5).
 */
static bool is_half(const char *path)
{
  g_autofree char *text = NULL;
  gsize length = 0;
  if (!g_file_get_contents(path, &text, &length, NULL))
    return false;
  const char *tail = text + length - MIN(length, 1024);
  return length == 0 || (g_str_has_prefix(text, "%PDF-") && !g_strstr_len(tail, -1, "%%EOF"));
}

/* GTK tells of a file or queue that took nothing more by this state alone, after "done". */
static void print_status(GtkPrintOperation *operation, SoffitWindow *window)
{
  if (gtk_print_operation_get_status(operation) != GTK_PRINT_STATUS_FINISHED_ABORTED)
    return;
  GtkPrintSettings *settings = gtk_print_operation_get_print_settings(operation);
  const char *uri =
      settings ? gtk_print_settings_get(settings, GTK_PRINT_SETTINGS_OUTPUT_URI) : NULL;
  g_autofree char *path = uri ? g_filename_from_uri(uri, NULL, NULL) : NULL,
                  *name = path ? g_filename_display_name(path) : NULL;
  g_autofree char *text =
      g_strdup_printf(_("%s: it was not printed. Make room, or print to another place."),
                      name ? name : _("Printer"));
  if (path && is_half(path))
    g_unlink(path);
  window_error(window, text);
}

static void preview_ready(GtkPrintOperationPreview *preview, GtkPrintContext *context, void *data)
{
  (void)context, (void)data;
  gtk_print_operation_preview_end_preview(preview);
}

/* "Preview" of the printer's dialog: our own, which needs no other program.  GTK wants something to
 * draw on all the same. */
static gboolean preview_asked(GtkPrintOperation *operation, GtkPrintOperationPreview *preview,
                              GtkPrintContext *context, GtkWindow *parent, PrintJob *job)
{
  (void)operation;
  cairo_surface_t *nowhere = cairo_recording_surface_create(CAIRO_CONTENT_COLOR, NULL);
  cairo_t *cr = cairo_create(nowhere);
  gtk_print_context_set_cairo_context(context, cr, 72, 72);
  cairo_destroy(cr);
  cairo_surface_destroy(nowhere);
  g_signal_connect(preview, "ready", G_CALLBACK(preview_ready), NULL);
  return print_preview_show(parent, job);
}

/* The printer's own dialog takes the place of this one. */
static void print_clicked(PrintDialog *self)
{
  g_autoptr(PrintJob) job = job_chosen(self);
  SoffitWindow *window = self->parent;
  GtkPrintOperation *operation = print_job_operation(job);
  dialog_end(self, operation ? NULL : words_translate(fault_text(FAULT_MEMORY)));
  if (!operation)
    return;
  g_object_set_data_full(G_OBJECT(window), "soffit-printing", operation, g_object_unref);
  gtk_print_operation_set_track_print_status(operation, TRUE);
  g_signal_connect_object(operation, "status-changed", G_CALLBACK(print_status), window, 0);
  g_signal_connect_object(operation, "done", G_CALLBACK(print_done), window, 0);
  g_signal_connect(operation, "preview", G_CALLBACK(preview_asked), job); /* which it keeps */
  gtk_print_operation_run(operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, GTK_WINDOW(window),
                          NULL);
}

/* --- building --- */

/* Two of which one holds; returns the second. */
static GtkWidget *pair_build(GtkWidget *grid, int row, const char *title, const char *first,
                             const char *second, bool take_second)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6),
            *one = gtk_check_button_new_with_label(first),
            *other = gtk_check_button_new_with_label(second), *name = part_label(title, "dim");
  gtk_check_button_set_group(GTK_CHECK_BUTTON(other), GTK_CHECK_BUTTON(one));
  gtk_check_button_set_active(GTK_CHECK_BUTTON(take_second ? other : one), TRUE);
  gtk_box_append(GTK_BOX(box), one);
  gtk_box_append(GTK_BOX(box), other);
  gtk_widget_set_valign(name, GTK_ALIGN_START);
  gtk_widget_set_margin_top(name, 3);
  gtk_grid_attach(GTK_GRID(grid), name, 0, row, 1, 1);
  gtk_grid_attach(GTK_GRID(grid), box, 1, row, 1, 1);
  return other;
}

static GtkWidget *actions_build(PrintDialog *self)
{
  GtkWidget *actions = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *cancel = dialog_button_new(_("Cancel"), "quiet", NULL, NULL);
  self->button[0] = part_button(_("Preview"), "quiet", G_CALLBACK(preview_clicked), self);
  self->button[1] = part_button(_("Save as PDF…"), "quiet", G_CALLBACK(save_clicked), self);
  self->button[2] = part_button(_("Print…"), "strong", G_CALLBACK(print_clicked), self);
  gtk_widget_set_hexpand(cancel, TRUE);
  gtk_widget_set_halign(cancel, GTK_ALIGN_START);
  gtk_box_append(GTK_BOX(actions), cancel);
  for (size_t i = 0; i < G_N_ELEMENTS(self->button); i++)
    gtk_box_append(GTK_BOX(actions), self->button[i]);
  gtk_widget_add_css_class(actions, "actions");
  return actions;
}

void print_dialog_new(SoffitWindow *window)
{
  PrintDialog *self = g_new0(PrintDialog, 1);
  self->parent = window;
  self->session = g_object_ref(window_session(window));
  self->window = dialog_window_new(GTK_WINDOW(window), _("Print"), WIDTH, -1);
  GtkWidget *all = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0), *grid = gtk_grid_new();
  gtk_grid_set_row_spacing(GTK_GRID(grid), 16);
  gtk_grid_set_column_spacing(GTK_GRID(grid), 24);
  gtk_widget_add_css_class(grid, "form");
  self->bench =
      pair_build(grid, 0, _("What"), _("Case sheet: bridge, connectors, finishing list, record"),
                 _("Finishing list for the bench, in large letters"), false);
  self->letter = pair_build(grid, 1, _("Paper"), _("A4, 210 × 297 mm"), _("Letter, 8.5 × 11 in"),
                            paper_size_default() == PAPER_LETTER);
  self->waits = part_label("", "dim");
  gtk_grid_attach(GTK_GRID(grid), self->waits, 0, 2, 2, 1);
  gtk_box_append(GTK_BOX(all), grid);
  gtk_box_append(GTK_BOX(all), actions_build(self));
  gtk_window_set_child(GTK_WINDOW(self->window), all);
  g_object_set_data_full(G_OBJECT(self->window), "dialog", self, dialog_free);
  g_signal_connect_swapped(self->bench, "toggled", G_CALLBACK(state_show), self);
  g_signal_connect_swapped(self->session, "assessment-changed", G_CALLBACK(state_show), self);
  g_signal_connect_swapped(self->session, "case-changed", G_CALLBACK(whole_ask), self);
  self->job = assess_job_new(NULL, whole_came, self);
  assess_job_waterfall(self->job, true);
  whole_ask(self);
  gtk_window_present(GTK_WINDOW(self->window));
  gtk_widget_grab_focus(gtk_widget_get_prev_sibling(self->bench));
}
