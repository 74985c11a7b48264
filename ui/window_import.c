/* window_import.c - drawings and surfaces into the open case, a connector out as a drawing.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/save.h"
#include "casefile/svg_xml.h"
#include "ui/file_choice.h"
#include "ui/import/stl_sheet.h"
#include "ui/import/svg_sheet.h"
#include "ui/window_private.h"
#include "ui/words.h"

static const char *const import_suffix[] = {"svg", "stl", NULL}, *const export_suffix[] = {"svg",
                                                                                           NULL};

static bool ends_with(const char *path, const char *suffix)
{
  size_t length = strlen(path), own = strlen(suffix);
  return length > own && g_ascii_strcasecmp(path + length - own, suffix) == 0;
}

bool window_imports(const char *path)
{
  return ends_with(path, ".svg") || ends_with(path, ".stl");
}

bool window_import(SoffitWindow *self, const char *path)
{
  g_autoptr(GError) error = NULL;
  if (!window_imports(path))
    return false;
  if (!session_has_case(self->session) || session_case(self->session)->n_unit < 2) {
    window_error(self, _("A drawing or a surface goes into a case. Open or start one first."));
    return true;
  }
  message_bar_clear(SOFFIT_MESSAGE_BAR(self->message));
  if (ends_with(path, ".stl"))
    stl_sheet_show(GTK_WINDOW(self), self->session, path);
  else if (!svg_sheet_show(GTK_WINDOW(self), self->session, path, &error))
    window_error(self, error->message);
  return true;
}

static void import_chosen(GtkNativeDialog *dialog, int response, SoffitWindow *self)
{
  (void)dialog;
  g_autofree char *path = file_choice_done(&self->chooser, response);
  if (path && !window_import(self, path))
    window_error(self, _("Outlines come from SVG drawings or STL surfaces. Choose one of these."));
}

static void action_import(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  GtkFileChooserNative *chooser =
      file_choice_new(&SOFFIT_WINDOW(widget)->chooser, GTK_WINDOW(widget), _("Import outlines"),
                      GTK_FILE_CHOOSER_ACTION_OPEN, _("Import"));
  if (!chooser)
    return;
  file_choice_filter(chooser, _("Drawings and surfaces (SVG, STL)"), import_suffix);
  g_signal_connect(chooser, "response", G_CALLBACK(import_chosen), widget);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

static char *drawing_title(SoffitSession *session, char sep)
{
  const Case *c = session_case(session);
  char name[12];
  connector_name(c, session_focus(session), sep, name);
  return g_strdup_printf("%s %s", *c->number ? c->number : _("case"), name);
}

static void export_chosen(GtkNativeDialog *dialog, int response, SoffitWindow *self)
{
  (void)dialog;
  g_autofree char *path = file_choice_done(&self->chooser, response);
  g_autoptr(GError) error = NULL;
  if (!path)
    return;
  g_autofree char *title = drawing_title(self->session, '/');
  const Connector *c = &session_case(self->session)->connector[session_focus(self->session)];
  GString *svg = svg_from_connector(c->side, title, true);
  if (svg->len == 0)
    window_error(self, words_translate(fault_text(FAULT_MEMORY)));
  else if (!file_save(path, svg->str, svg->len, &error))
    window_error(self, error->message);
  g_string_free(svg, TRUE);
}

static void action_export(GtkWidget *widget, const char *action, GVariant *parameter)
{
  (void)action, (void)parameter;
  SoffitWindow *self = SOFFIT_WINDOW(widget);
  if (session_case(self->session)->n_unit < 2)
    return;
  GtkFileChooserNative *chooser =
      file_choice_new(&self->chooser, GTK_WINDOW(self), _("Export the drawing"),
                      GTK_FILE_CHOOSER_ACTION_SAVE, _("Export"));
  if (!chooser)
    return;
  file_choice_filter(chooser, _("Drawings (SVG)"), export_suffix);
  g_autofree char *title = drawing_title(self->session, '-'),
                  *name = g_strconcat(g_strdelimit(title, " /", '-'), ".svg", NULL);
  gtk_file_chooser_set_current_name(GTK_FILE_CHOOSER(chooser), name);
  g_signal_connect(chooser, "response", G_CALLBACK(export_chosen), self);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

void window_import_actions(GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action(widget_class, "win.import", NULL, action_import);
  gtk_widget_class_install_action(widget_class, "win.export-drawing", NULL, action_export);
}
