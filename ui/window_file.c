/* window_file.c - open, save, the question about unsaved changes, dropped files, recovery.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/case_xml.h"
#include "ui/case_dialog.h"
#include "ui/file_choice.h"
#include "ui/recovery.h"
#include "ui/window_private.h"
#include "ui/words.h"

enum { ANSWER_GIVE_UP = 1, ANSWER_STAY, ANSWER_SAVE };

static const char *const case_suffix[] = {"xml", NULL};

/* What comes after the case at hand was left. */
typedef struct {
  SoffitWindow *window; /* owned ref */
  WindowThen then;
  void *data;
  GDestroyNotify free_data;
} Leaving;

static void leaving_free(Leaving *leaving)
{
  if (leaving->free_data)
    leaving->free_data(leaving->data);
  g_object_unref(leaving->window);
  g_free(leaving);
}

static void leaving_go(Leaving *leaving)
{
  leaving->then(leaving->window, leaving->data);
  leaving_free(leaving);
}

static void recent_add(const char *path)
{
  g_autofree char *uri = g_filename_to_uri(path, NULL, NULL);
  if (uri == NULL)
    return;
  GtkRecentData data = {.mime_type = (char *)"application/xml",
                        .app_name = (char *)"soffit",
                        .app_exec = (char *)"soffit %u"};
  gtk_recent_manager_add_full(gtk_recent_manager_get_default(), uri, &data);
}

static bool save_to(SoffitWindow *self, const char *path)
{
  g_autoptr(GError) error = NULL;
  if (!session_save(self->session, path, &error)) {
    if (g_error_matches(error, CASE_ERROR, CASE_ERROR_CHANGED))
      window_lock_show(self, true); /* tells it, and offers what can be done */
    else {
      g_free(self->save_error);
      self->save_error = g_strdup(error->message);
      window_error(self, error->message);
    }
    return false;
  }
  g_clear_pointer(&self->save_error, g_free);
  message_bar_clear(SOFFIT_MESSAGE_BAR(self->message));
  recent_add(session_path(self->session));
  return true;
}

/* Whoever was told why a save failed is not told to save. */
void window_autosave_failed(SoffitWindow *self)
{
  g_autofree char *both =
      self->save_error ? g_strdup_printf(_("%s The safety copy of your work cannot be written "
                                           "either: leave Soffit open until the case is saved."),
                                         self->save_error)
                       : NULL;
  window_error(self, both ? both
                          : _("The safety copy of your work cannot be written. Save the case now, "
                              "and look whether the disk is full."));
}

/* --- choosing a file --- */

static void open_chosen(GtkNativeDialog *dialog, int response, SoffitWindow *self)
{
  (void)dialog;
  g_autofree char *path = file_choice_done(&self->chooser, response);
  if (path)
    window_open(self, path);
}

void window_choose_open(SoffitWindow *self)
{
  GtkFileChooserNative *chooser = file_choice_new(
      &self->chooser, GTK_WINDOW(self), _("Open a case"), GTK_FILE_CHOOSER_ACTION_OPEN, _("Open"));
  if (chooser == NULL)
    return;
  file_choice_filter(chooser, _("Soffit cases"), case_suffix);
  g_signal_connect(chooser, "response", G_CALLBACK(open_chosen), self);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

static void save_chosen(GtkNativeDialog *dialog, int response, Leaving *leaving)
{
  (void)dialog;
  g_autofree char *path = file_choice_done(&leaving->window->chooser, response);
  g_autofree char *named =
      path && !strchr(strrchr(path, '/') + 1, '.') ? g_strconcat(path, ".xml", NULL) : NULL;
  if (path && save_to(leaving->window, named ? named : path))
    leaving_go(leaving);
  else
    leaving_free(leaving);
}

static void then_nothing(SoffitWindow *self, void *data)
{
  (void)self, (void)data;
}

/* Takes `leaving` over. */
static void save_then(SoffitWindow *self, bool choose, Leaving *leaving)
{
  const char *path = session_path(self->session);
  if (path && !choose) {
    if (save_to(self, NULL))
      leaving_go(leaving);
    else
      leaving_free(leaving);
    return;
  }
  GtkFileChooserNative *chooser =
      file_choice_new(&self->chooser, GTK_WINDOW(self), _("Save the case"),
                      GTK_FILE_CHOOSER_ACTION_SAVE, _("Save"));
  if (chooser == NULL) {
    leaving_free(leaving);
    return;
  }
  file_choice_filter(chooser, _("Soffit cases"), case_suffix);
  const char *number = session_case(self->session)->number;
  g_autofree char *name = g_strconcat(*number ? number : _("case"), ".xml", NULL);
  gtk_file_chooser_set_current_name(GTK_FILE_CHOOSER(chooser), g_strdelimit(name, "/", '-'));
  g_signal_connect(chooser, "response", G_CALLBACK(save_chosen), leaving);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

static Leaving *leaving_new(SoffitWindow *self, WindowThen then, void *data,
                            GDestroyNotify free_data)
{
  Leaving *leaving = g_new(Leaving, 1);
  *leaving = (Leaving){g_object_ref(self), then, data, free_data};
  return leaving;
}

void window_save(SoffitWindow *self, bool choose)
{
  if (session_has_case(self->session))
    save_then(self, choose, leaving_new(self, then_nothing, NULL, NULL));
}

/* --- unsaved changes --- */

static void leaving_answered(GtkDialog *dialog, int response, Leaving *leaving)
{
  gtk_window_destroy(GTK_WINDOW(dialog));
  if (response == ANSWER_SAVE)
    save_then(leaving->window, false, leaving);
  else if (response == ANSWER_GIVE_UP)
    leaving_go(leaving);
  else
    leaving_free(leaving);
}

void window_leave_case(SoffitWindow *self, WindowThen then, void *data, GDestroyNotify free_data)
{
  Leaving *leaving = leaving_new(self, then, data, free_data);
  if (!session_modified(self->session)) {
    leaving_go(leaving);
    return;
  }
  const char *number = session_case(self->session)->number;
  GtkWidget *dialog = gtk_message_dialog_new(
      GTK_WINDOW(self), GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT, GTK_MESSAGE_OTHER,
      GTK_BUTTONS_NONE, _("Save the changes to %s?"), *number ? number : _("the new case"));
  gtk_message_dialog_format_secondary_text(
      GTK_MESSAGE_DIALOG(dialog), "%s",
      _("Without saving, the changes since the last save are lost."));
  gtk_widget_add_css_class(dialog, "soffit");
  static const char *const answer[] = {N_("Do not save"), N_("Stay here"), N_("Save")};
  for (int i = 0; i < 3; i++) { /* in the order of the answers */
    GtkWidget *button = gtk_dialog_add_button(GTK_DIALOG(dialog), _(answer[i]), ANSWER_GIVE_UP + i);
    gtk_widget_add_css_class(button, ANSWER_GIVE_UP + i == ANSWER_SAVE ? "strong" : "quiet");
  }
  gtk_dialog_set_default_response(GTK_DIALOG(dialog), ANSWER_SAVE);
  g_signal_connect(dialog, "response", G_CALLBACK(leaving_answered), leaving);
  gtk_window_present(GTK_WINDOW(dialog));
}

/* --- open --- */

static void open_now(SoffitWindow *self, void *path)
{
  g_autoptr(GError) error = NULL;
  if (session_open(self->session, path, &error)) {
    message_bar_clear(SOFFIT_MESSAGE_BAR(self->message));
    recent_add(path);
  } else {
    window_error(self, error->message);
  }
}

static void open_demo_now(SoffitWindow *self, void *name)
{
  g_autoptr(GError) error = NULL;
  if (!session_open_demo(self->session, name, &error))
    window_error(self, error->message);
}

void window_open(SoffitWindow *self, const char *path)
{
  if (!window_import(self, path)) /* a drawing or a surface goes into the open case */
    window_leave_case(self, open_now, g_strdup(path), g_free);
}

void window_open_demo(SoffitWindow *self, const char *name)
{
  window_leave_case(self, open_demo_now, g_strdup(name), g_free);
}

static void new_now(SoffitWindow *self, void *data)
{
  (void)data;
  case_dialog_new(GTK_WINDOW(self), self->session);
}

void window_new_case(SoffitWindow *self)
{
  window_leave_case(self, new_now, NULL, NULL);
}

static gboolean file_dropped(GtkDropTarget *target, const GValue *value, double x, double y,
                             SoffitWindow *self)
{
  (void)target, (void)x, (void)y;
  GSList *files = gdk_file_list_get_files(g_value_get_boxed(value));
  g_autofree char *path = files ? g_file_get_path(files->data) : NULL;
  g_slist_free(files);
  if (path)
    window_open(self, path);
  return path != NULL;
}

void window_take_drops(SoffitWindow *self)
{
  GtkDropTarget *target = gtk_drop_target_new(GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_signal_connect(target, "drop", G_CALLBACK(file_dropped), self);
  gtk_widget_add_controller(GTK_WIDGET(self), GTK_EVENT_CONTROLLER(target));
}

/* --- recovery --- */

enum { RECOVER_OPEN, RECOVER_DISCARD };

static void recover_now(SoffitWindow *self, void *path)
{
  g_autoptr(GError) error = NULL;
  if (!session_recover(self->session, path, &error))
    window_error(self, error->message);
}

static void recovery_answered(int button, void *data)
{
  SoffitWindow *self = data;
  const char *path = g_object_get_data(G_OBJECT(self), "recovery");
  if (button == RECOVER_DISCARD)
    recovery_discard(path);
  else
    window_leave_case(self, recover_now, g_strdup(path), g_free);
}

void window_offer_recovery(SoffitWindow *self)
{
  g_autofree char *dir = recovery_default_dir();
  g_autoptr(GPtrArray) left = recovery_left_over(dir);
  if (left->len == 0 || gtk_widget_get_visible(self->message)) /* an error is read first */
    return;
  const LeftOver *newest = g_ptr_array_index(left, 0);
  g_autofree char *text = g_strdup_printf(
      _("Unsaved work on %s from %s was kept when Soffit ended without closing it."),
      *newest->number  ? newest->number
      : newest->origin ? newest->origin
                       : _("a new case"),
      newest->time);
  const char *const button[] = {_("Open it"), _("Throw it away")};
  g_object_set_data_full(G_OBJECT(self), "recovery", g_strdup(newest->path), g_free);
  message_bar_ask(SOFFIT_MESSAGE_BAR(self->message), text, button, 2, recovery_answered, self);
}
