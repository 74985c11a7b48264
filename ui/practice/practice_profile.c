/* practice_profile.c - who practises on this machine: name, skills with their evidence, the file to
 * take along or away. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/file_choice.h"
#include "ui/parts.h"
#include "ui/practice/practice_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *button, *popover, *name, *skill[SKILLS], *evidence[SKILLS], *calibration, *say;
  GtkFileChooserNative *chooser; /* owned while it is open */
} Profile;

static void skills_show(Profile *self)
{
  SkillState state[SKILLS];
  skills_of(practice_desk_progress(self->desk), state);
  for (int i = 0; i < SKILLS; i++) {
    const SkillState *s = &state[i];
    g_autofree char *boxes = skill_boxes_text(s->box);
    gtk_label_set_text(GTK_LABEL(self->skill[i]), boxes);
    g_autofree char *evidence =
        s->box == 0
            ? g_strdup(_("not tried yet"))
            : g_strdup_printf(_("shown %d times, %d in a row; not shown %d times; last in %s"),
                              s->right, s->streak, s->wrong, s->last);
    gtk_label_set_text(GTK_LABEL(self->evidence[i]), evidence);
  }
}

static void calibration_show(Profile *self)
{
  double place, gain;
  progress_calibration(practice_desk_progress(self->desk), &place, &gain);
  g_autofree char *mm = words_number(place, 1), *points = words_number(fabs(gain), 0);
  g_autofree char *text =
      isnan(place) && isnan(gain) ? g_strdup(_("No predictions yet."))
      : isnan(gain)
          ? g_strdup_printf(_("Your crosses miss by %s mm on average."), mm)
          : g_strdup_printf(gain < 0
                                ? _("Your crosses miss by %s mm; you expect %s points too little.")
                                : _("Your crosses miss by %s mm; you expect %s points too much."),
                            mm, points);
  gtk_label_set_text(GTK_LABEL(self->calibration), text);
}

static void profile_show(Profile *self)
{
  const char *who = practice_desk_progress(self->desk)->trainee;
  guint passed =
      progress_count_passed(practice_desk_progress(self->desk), practice_desk_set(self->desk));
  g_autofree char *text = g_strdup_printf(_("%s · %u of %u"), *who ? who : _("Progress"), passed,
                                          exercises_counted(practice_desk_set(self->desk)));
  gtk_menu_button_set_label(GTK_MENU_BUTTON(self->button), text);
  gtk_editable_set_text(GTK_EDITABLE(self->name), who);
  skills_show(self);
  calibration_show(self);
  const char *message = practice_desk_message(self->desk);
  gtk_label_set_text(GTK_LABEL(self->say), message ? message : "");
  gtk_widget_set_visible(self->say, message != NULL);
}

static void told(Profile *self, GError *error)
{
  gtk_label_set_text(GTK_LABEL(self->say), error ? error->message : "");
  gtk_widget_set_visible(self->say, error != NULL);
}

static void name_entered(Profile *self)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *name = g_strdup(gtk_editable_get_text(GTK_EDITABLE(self->name)));
  practice_desk_set_trainee(self->desk, g_strstrip(name), &error);
  told(self, error);
}

static void export_chosen(GtkNativeDialog *dialog, int response, Profile *self)
{
  (void)dialog;
  g_autofree char *path = file_choice_done(&self->chooser, response);
  g_autoptr(GError) error = NULL;
  if (path)
    practice_desk_export(self->desk, path, &error);
  told(self, error);
}

static void export_clicked(Profile *self)
{
  GtkWindow *window = GTK_WINDOW(gtk_widget_get_root(self->button));
  GtkFileChooserNative *chooser =
      file_choice_new(&self->chooser, window, _("Keep this progress in a file"),
                      GTK_FILE_CHOOSER_ACTION_SAVE, _("Save"));
  if (!chooser)
    return;
  gtk_file_chooser_set_current_name(GTK_FILE_CHOOSER(chooser), "practice.progress");
  g_signal_connect(chooser, "response", G_CALLBACK(export_chosen), self);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

static void forget_clicked(Profile *self)
{
  g_autoptr(GError) error = NULL;
  practice_desk_forget(self->desk, &error);
  told(self, error);
}

static GtkWidget *skills_build(Profile *self)
{
  GtkWidget *grid = gtk_grid_new();
  gtk_grid_set_column_spacing(GTK_GRID(grid), 12);
  gtk_grid_set_row_spacing(GTK_GRID(grid), 4);
  for (int i = 0; i < SKILLS; i++) {
    gtk_grid_attach(GTK_GRID(grid), part_label(words_translate(skill_name((Skill)i)), NULL), 0, i,
                    1, 1);
    self->skill[i] = part_label("", NULL);
    self->evidence[i] = part_label("", "note");
    gtk_grid_attach(GTK_GRID(grid), self->skill[i], 1, i, 1, 1);
    gtk_grid_attach(GTK_GRID(grid), self->evidence[i], 2, i, 1, 1);
  }
  return grid;
}

GtkWidget *practice_profile_button_new(SoffitPracticeDesk *desk)
{
  Profile *self = g_new0(Profile, 1);
  self->desk = desk;
  self->button = gtk_menu_button_new();
  gtk_menu_button_set_direction(GTK_MENU_BUTTON(self->button), GTK_ARROW_UP);
  gtk_widget_add_css_class(self->button, "quiet");
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 10),
            *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  self->name = gtk_entry_new();
  gtk_entry_set_placeholder_text(GTK_ENTRY(self->name), _("name or initials, if you like"));
  spoken_name(self->name, _("Who practises"));
  gtk_widget_set_hexpand(self->name, TRUE);
  g_signal_connect_swapped(self->name, "activate", G_CALLBACK(name_entered), self);
  gtk_box_append(GTK_BOX(row), self->name);
  gtk_box_append(GTK_BOX(row),
                 part_button(_("This is me"), "quiet", G_CALLBACK(name_entered), self));
  gtk_box_append(GTK_BOX(box), part_label(_("Who practises"), "title"));
  gtk_box_append(GTK_BOX(box), row);
  gtk_box_append(GTK_BOX(box), skills_build(self));
  self->calibration = part_label("", NULL);
  gtk_box_append(GTK_BOX(box), self->calibration);
  gtk_box_append(
      GTK_BOX(box),
      part_label(_("Kept on this machine, without a password. Practice never releases a bridge."),
                 "note"));
  GtkWidget *actions = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_box_append(GTK_BOX(actions),
                 part_button(_("Keep in a file…"), "quiet", G_CALLBACK(export_clicked), self));
  gtk_box_append(GTK_BOX(actions),
                 part_button(_("Forget this progress"), "quiet", G_CALLBACK(forget_clicked), self));
  gtk_box_append(GTK_BOX(box), actions);
  GtkWidget *class = gtk_button_new_with_label(_("Class…"));
  gtk_widget_add_css_class(class, "quiet");
  gtk_widget_set_halign(class, GTK_ALIGN_START);
  gtk_actionable_set_action_name(GTK_ACTIONABLE(class), "win.class");
  gtk_box_append(GTK_BOX(box), class);
  self->say = part_label("", "wrong");
  gtk_box_append(GTK_BOX(box), self->say);
  self->popover = gtk_popover_new();
  gtk_widget_add_css_class(self->popover, "sources");
  gtk_widget_set_size_request(box, 520, -1);
  gtk_popover_set_child(GTK_POPOVER(self->popover), box);
  gtk_menu_button_set_popover(GTK_MENU_BUTTON(self->button), self->popover);
  g_object_set_data_full(G_OBJECT(self->button), "profile", self, g_free);
  practice_follow(desk, self->button, (const char *const[]){"progress-changed", NULL},
                  G_CALLBACK(profile_show), self);
  return self->button;
}
