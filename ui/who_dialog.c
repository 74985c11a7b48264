/* who_dialog.c - name, role, initials; a signing key made here and published to a lab.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Making a key takes over what the fields say: it belongs to one name and role. */
#include "ui/who_dialog.h"
#include "ui/case_form.h"
#include "ui/dialog_window.h"
#include "ui/file_choice.h"
#include "ui/parts.h"
#include "ui/person_profile.h"
#include "ui/spoken.h"
#include "ui/tick_edit.h"
#include "ui/words.h"
#include <string.h>

typedef struct {
  GtkWidget *window, *state, *make, *publish, *message;
  GtkFileChooserNative *chooser; /* owned while it is open */
  Person draft;                  /* owned; its role is that of `role` */
  char *other_role;              /* owned; one that is none of ours */
  unsigned role;
} WhoDialog;

static void dialog_free(WhoDialog *dialog)
{
  g_clear_object(&dialog->chooser);
  person_clear(&dialog->draft);
  g_free(dialog->other_role);
  g_free(dialog);
}

static void tell(WhoDialog *dialog, const char *text)
{
  gtk_label_set_text(GTK_LABEL(dialog->message), text);
  spoken_name(dialog->message, text);
}

/* --- the person --- */

static void draft_begin(WhoDialog *dialog)
{
  dialog->draft = person_profile();
  while (dialog->role < PERSON_ROLES && strcmp(person_role[dialog->role], dialog->draft.role) != 0)
    dialog->role++;
  if (dialog->role == PERSON_ROLES)
    dialog->other_role = g_strdup(dialog->draft.role);
}

/* What the fields say, tidied; false after a message. */
static bool draft_take(WhoDialog *dialog)
{
  Person *draft = &dialog->draft;
  const char *role = dialog->role < PERSON_ROLES ? person_role[dialog->role] : dialog->other_role;
  g_strstrip(draft->name);
  g_strstrip(draft->initials);
  g_free(draft->role);
  draft->role = g_strdup(role);
  if (!*draft->name) {
    tell(dialog, _("Enter a name first: the history tells who did what."));
    return false;
  }
  if (!*draft->initials) {
    g_free(draft->initials);
    draft->initials = person_initials(draft->name);
  }
  if (!initials_valid(draft->initials)) {
    tell(dialog, _("Give your initials first: one to eight letters."));
    return false;
  }
  person_profile_set(draft);
  return true;
}

static void take_clicked(GtkButton *button, WhoDialog *dialog)
{
  (void)button;
  if (draft_take(dialog))
    gtk_window_destroy(GTK_WINDOW(dialog->window));
}

/* --- the key --- */

/* Of the person that is kept, not of the fields. */
static void state_show(WhoDialog *dialog)
{
  g_autofree char *why = NULL, *text = NULL;
  Person person = person_profile();
  SigningKey *key = person_signing_key(&person, &why);
  if (key)
    text = g_strdup_printf(_("Entries of %s are signed with the key %s."), person.name,
                           signing_key_id(key));
  else
    text = why ? g_strconcat("⚠ ", why, NULL)
               : g_strdup(_("No key yet: what is saved and decided here is unsigned."));
  gtk_label_set_text(GTK_LABEL(dialog->state), text);
  spoken_name(dialog->state, text);
  gtk_button_set_label(GTK_BUTTON(dialog->make),
                       key ? _("Make another signing key") : _("Make a signing key"));
  gtk_widget_set_sensitive(dialog->publish, key != NULL);
  signing_key_free(key);
  person_clear(&person);
}

static void make_clicked(GtkButton *button, WhoDialog *dialog)
{
  (void)button;
  if (!draft_take(dialog))
    return;
  g_autofree char *file = person_key_place(&dialog->draft);
  g_autofree char *folder = g_path_get_dirname(file);
  g_autoptr(GError) error = NULL;
  g_mkdir_with_parents(folder, 0700);
  if (signing_key_make(file, &dialog->draft, &error)) {
    g_autofree char *text = g_strdup_printf(
        _("The key lies in %s. Publish it to the lab now, so that others can check it."), file);
    person_key_file_set(file);
    tell(dialog, text);
  } else {
    tell(dialog, error->message);
  }
  state_show(dialog);
  if (gtk_widget_get_sensitive(dialog->publish))
    gtk_widget_grab_focus(dialog->publish);
}

static void folder_chosen(GtkNativeDialog *native, int response, WhoDialog *dialog)
{
  (void)native;
  g_autofree char *folder = file_choice_done(&dialog->chooser, response);
  if (!folder)
    return;
  g_autoptr(GError) error = NULL;
  Person person = person_profile();
  SigningKey *key = person_signing_key(&person, NULL);
  if (key && signing_key_publish(key, folder, &error)) {
    g_autofree char *text = g_strdup_printf(
        _("Published in %s: who opens its cases can check your entries now."), folder);
    tell(dialog, text);
  } else if (error) {
    tell(dialog, error->message);
  }
  signing_key_free(key);
  person_clear(&person);
}

static void publish_clicked(GtkButton *button, WhoDialog *dialog)
{
  (void)button;
  GtkFileChooserNative *chooser =
      file_choice_new(&dialog->chooser, GTK_WINDOW(dialog->window), _("Folder of the lab"),
                      GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, _("Publish here"));
  if (!chooser)
    return;
  g_signal_connect(chooser, "response", G_CALLBACK(folder_chosen), dialog);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

/* --- the window --- */

static GtkWidget *note_new(const char *text)
{
  GtkWidget *note = part_label(text, "note");
  gtk_widget_add_css_class(note, "dim");
  gtk_label_set_max_width_chars(GTK_LABEL(note), 70);
  return note;
}

static GtkWidget *person_form(WhoDialog *dialog)
{
  const char *role[PERSON_ROLES + 1];
  for (int i = 0; i < PERSON_ROLES; i++)
    role[i] = person_role[i];
  role[PERSON_ROLES] = dialog->other_role;
  GtkWidget *form = form_new();
  form_wide(form, note_new(_("Stands in the history of every case that is saved or decided here. "
                             "Kept on this desktop, and in those cases.")));
  form_text(form, _("Name"), _("as colleagues know it"), &dialog->draft.name);
  form_choice(form, _("Role"), "", role, dialog->other_role ? PERSON_ROLES + 1 : PERSON_ROLES,
              &dialog->role);
  form_text(form, _("Initials"), _("one to eight letters"), &dialog->draft.initials);
  return form;
}

static void key_form(WhoDialog *dialog, GtkWidget *form)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  dialog->state = note_new("");
  gtk_widget_remove_css_class(dialog->state, "dim");
  dialog->make = dialog_button_new("", "quiet", G_CALLBACK(make_clicked), dialog);
  dialog->publish =
      dialog_button_new(_("Publish it to a lab…"), "quiet", G_CALLBACK(publish_clicked), dialog);
  gtk_box_append(GTK_BOX(row), dialog->make);
  gtk_box_append(GTK_BOX(row), dialog->publish);
  form_title(form, _("Signing key"));
  form_wide(form, dialog->state);
  form_wide(form, row);
  form_wide(form,
            note_new(_("Signed entries show others that they are yours, and that nobody changed "
                       "them. Whoever has the key file can sign as you: it stays on this desktop, "
                       "readable by you alone. Only its public half goes to the lab.")));
}

void who_dialog_new(GtkWindow *parent)
{
  WhoDialog *dialog = g_new0(WhoDialog, 1);
  draft_begin(dialog);
  dialog->window = dialog_window_new(parent, _("Who works here"), 640, 460);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *actions = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8), *form = person_form(dialog);
  key_form(dialog, form);
  dialog->message = part_label("", "note");
  gtk_label_set_wrap_mode(GTK_LABEL(dialog->message), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars(GTK_LABEL(dialog->message), 44);
  gtk_widget_set_hexpand(dialog->message, TRUE);
  gtk_box_append(GTK_BOX(actions), dialog->message);
  gtk_box_append(GTK_BOX(actions), dialog_button_new(_("Leave"), "quiet", NULL, NULL));
  GtkWidget *take = dialog_button_new(_("Take over"), "strong", G_CALLBACK(take_clicked), dialog);
  gtk_box_append(GTK_BOX(actions), take);
  gtk_widget_add_css_class(actions, "actions");
  gtk_widget_set_vexpand(form, TRUE); /* the buttons stay below */
  gtk_box_append(GTK_BOX(box), form);
  gtk_box_append(GTK_BOX(box), actions);
  gtk_window_set_child(GTK_WINDOW(dialog->window), box);
  gtk_window_set_default_widget(GTK_WINDOW(dialog->window), take);
  g_object_set_data_full(G_OBJECT(dialog->window), "dialog", dialog, (GDestroyNotify)dialog_free);
  state_show(dialog);
  gtk_window_present(GTK_WINDOW(dialog->window));
  gtk_widget_child_focus(form, GTK_DIR_TAB_FORWARD); /* the keys begin at the name */
}
