/* photo_take.c - see photo_take.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/photo_take.h"
#include "ui/file_choice.h"
#include "ui/words.h"

static void trouble(SoffitPhotoDesk *desk, const char *words)
{
  g_signal_emit_by_name(desk, "trouble", words);
}

/* ---- chosen ---- */

static void chosen(GtkNativeDialog *dialog, int response, SoffitPhotoDesk *desk)
{
  if (response == GTK_RESPONSE_ACCEPT) {
    g_autoptr(GFile) file = gtk_file_chooser_get_file(GTK_FILE_CHOOSER(dialog));
    g_autofree char *path = file ? g_file_get_path(file) : NULL;
    if (path)
      photo_desk_open(desk, path);
  }
  g_object_unref(dialog);
}

void photo_take_choose(GtkWidget *widget, SoffitPhotoDesk *desk)
{
  GtkWindow *window = GTK_WINDOW(gtk_widget_get_root(widget));
  GtkFileChooserNative *chooser = gtk_file_chooser_native_new(
      _("Open a photo"), window, GTK_FILE_CHOOSER_ACTION_OPEN, _("Open"), _("Cancel"));
  static const char *const suffix[] = {"png", "jpg", "jpeg", "tif", "tiff", NULL};
  file_choice_filter(chooser, _("Photos (PNG, JPEG, TIFF)"), suffix);
  gtk_native_dialog_set_modal(GTK_NATIVE_DIALOG(chooser), TRUE);
  g_signal_connect_object(chooser, "response", G_CALLBACK(chosen), desk, 0);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

/* ---- pasted ---- */

static void read_all(GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(SoffitPhotoDesk) desk = data;
  g_autoptr(GError) error = NULL;
  GOutputStream *to = G_OUTPUT_STREAM(source);
  if (g_output_stream_splice_finish(to, result, &error) < 0) {
    trouble(desk, error->message);
    return;
  }
  g_autoptr(GBytes) bytes = g_memory_output_stream_steal_as_bytes(G_MEMORY_OUTPUT_STREAM(to));
  const char *kind = g_object_get_data(source, "soffit-kind");
  g_autofree char *name = g_strdup_printf("%s.%s", _("pasted"), kind);
  photo_desk_open_bytes(desk, bytes, name);
}

static void pasted(GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(SoffitPhotoDesk) desk = data;
  const char *kind = NULL;
  g_autoptr(GInputStream) from =
      gdk_clipboard_read_finish(GDK_CLIPBOARD(source), result, &kind, NULL);
  if (!from) {
    trouble(desk, _("There is no picture to paste. Copy the photo first, or open its file."));
    return;
  }
  g_autoptr(GOutputStream) to = g_memory_output_stream_new_resizable();
  const char *ending = strrchr(kind, '/') + 1;
  g_object_set_data_full(G_OBJECT(to), "soffit-kind",
                         g_strdup(g_str_equal(ending, "jpeg") ? "jpg" : ending), g_free);
  g_output_stream_splice_async(
      to, from, G_OUTPUT_STREAM_SPLICE_CLOSE_SOURCE | G_OUTPUT_STREAM_SPLICE_CLOSE_TARGET,
      G_PRIORITY_DEFAULT, NULL, read_all, g_object_ref(desk));
}

static void files_pasted(GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(SoffitPhotoDesk) desk = data;
  const GValue *value = gdk_clipboard_read_value_finish(GDK_CLIPBOARD(source), result, NULL);
  GSList *files = value ? gdk_file_list_get_files(g_value_get_boxed(value)) : NULL;
  g_autofree char *path = files ? g_file_get_path(files->data) : NULL;
  g_slist_free(files);
  if (path)
    photo_desk_open(desk, path);
  else
    trouble(desk, _("There is no picture to paste. Copy the photo first, or open its file."));
}

void photo_take_paste(GtkWidget *widget, SoffitPhotoDesk *desk)
{
  static const char *kinds[] = {"image/png", "image/jpeg", "image/tiff", NULL};
  GdkClipboard *clipboard = gtk_widget_get_clipboard(widget);
  GdkContentFormats *formats = gdk_clipboard_get_formats(clipboard);
  bool picture = false;
  for (int i = 0; kinds[i]; i++)
    picture = picture || gdk_content_formats_contain_mime_type(formats, kinds[i]);
  if (!picture && gdk_content_formats_contain_gtype(formats, GDK_TYPE_FILE_LIST))
    gdk_clipboard_read_value_async(clipboard, GDK_TYPE_FILE_LIST, G_PRIORITY_DEFAULT, NULL,
                                   files_pasted, g_object_ref(desk));
  else
    gdk_clipboard_read_async(clipboard, kinds, G_PRIORITY_DEFAULT, NULL, pasted,
                             g_object_ref(desk));
}

static gboolean paste_key(GtkWidget *widget, GVariant *arguments, gpointer data)
{
  (void)arguments;
  photo_take_paste(widget, data);
  return TRUE;
}

/* ---- dropped ---- */

static void texture_take(SoffitPhotoDesk *desk, GdkTexture *texture)
{
  g_autoptr(GBytes) bytes = gdk_texture_save_to_png_bytes(texture);
  g_autofree char *name = g_strdup_printf("%s.png", _("dropped"));
  photo_desk_open_bytes(desk, bytes, name);
}

static gboolean dropped(GtkDropTarget *target, const GValue *value, double x, double y,
                        SoffitPhotoDesk *desk)
{
  (void)x, (void)y;
  if (G_VALUE_HOLDS(value, GDK_TYPE_TEXTURE)) {
    texture_take(desk, g_value_get_object(value));
    return TRUE;
  }
  GSList *files = gdk_file_list_get_files(g_value_get_boxed(value));
  g_autofree char *path = files ? g_file_get_path(files->data) : NULL;
  g_autofree char *uri = files ? g_file_get_uri(files->data) : NULL;
  g_slist_free(files);
  if (path && photo_name_known(path))
    photo_desk_open(desk, path);
  else if (path) /* a case */
    gtk_widget_activate_action(gtk_event_controller_get_widget(GTK_EVENT_CONTROLLER(target)),
                               "app.open-recent", "s", uri);
  return path != NULL;
}

void photo_take_attach(GtkWidget *canvas, SoffitPhotoDesk *desk)
{
  GType types[] = {GDK_TYPE_FILE_LIST, GDK_TYPE_TEXTURE};
  GtkDropTarget *target = gtk_drop_target_new(G_TYPE_INVALID, GDK_ACTION_COPY);
  gtk_drop_target_set_gtypes(target, types, G_N_ELEMENTS(types));
  g_signal_connect_object(target, "drop", G_CALLBACK(dropped), desk, 0);
  gtk_widget_add_controller(canvas, GTK_EVENT_CONTROLLER(target));
  GtkEventController *keys = gtk_shortcut_controller_new();
  gtk_event_controller_set_name(keys, "soffit-canvas-paste");
  gtk_shortcut_controller_add_shortcut(
      GTK_SHORTCUT_CONTROLLER(keys),
      gtk_shortcut_new(gtk_keyval_trigger_new(GDK_KEY_v, GDK_CONTROL_MASK),
                       gtk_callback_action_new(paste_key, desk, NULL)));
  gtk_widget_add_controller(canvas, keys);
}
