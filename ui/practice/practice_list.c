/* practice_list.c - the exercises by level, which are passed, what would be good now.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/parts.h"
#include "ui/practice/practice_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <string.h>

#define LIST_HEIGHT 520
#define LIST_LEAST 240

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *button, *label, *popover, *rows, *sum, *due, *left_out;
  GtkWidget *gone, *gone_words, *back, *trouble; /* an own exercise was deleted */
} ExerciseList;

static const char *const group_name[] = {N_("Level 1: seeing and hands"),
                                         N_("Level 2: brush, cutter, height"),
                                         N_("Level 3: whole bridges and their limits"),
                                         N_("Level 4: rescue and judgement"),
                                         N_("Free play"),
                                         N_("Your own exercises")};

static int group_of(const Exercise *e)
{
  return *e->file ? 5 : !exercise_counts(e) ? 4 : CLAMP(e->level, 1, 4) - 1;
}

static void rows_fill(ExerciseList *self);

static void row_chosen(GtkListBox *box, GtkListBoxRow *row, gpointer data)
{
  (void)box;
  ExerciseList *self = data;
  const char *id = g_object_get_data(G_OBJECT(row), "id");
  gtk_popover_popdown(GTK_POPOVER(self->popover));
  practice_desk_open(self->desk, id);
}

/* ---- taking one away ---- */

static void gone_show(ExerciseList *self, const GError *error)
{
  const char *name = practice_desk_deleted(self->desk);
  g_autofree char *text = g_strdup_printf(_("%s is deleted."), name ? name : "");
  g_autofree char *spoken = g_strdup_printf("%s %s", text, _("Take back"));
  gtk_label_set_text(GTK_LABEL(self->gone_words), text);
  spoken_name(self->back, spoken);
  gtk_widget_set_visible(self->gone, name != NULL);
  gtk_label_set_text(GTK_LABEL(self->trouble), error ? error->message : "");
  gtk_widget_set_visible(self->trouble, error != NULL);
}

static void row_delete(ExerciseList *self, GtkWidget *row)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *id = g_strdup(g_object_get_data(G_OBJECT(row), "id"));
  if (!practice_desk_delete(self->desk, id, &error) && !error)
    return; /* a shipped one */
  rows_fill(self);
  gone_show(self, error);
  if (!error)
    gtk_widget_grab_focus(self->back);
}

static void delete_clicked(GtkButton *button, ExerciseList *self)
{
  row_delete(self, gtk_widget_get_ancestor(GTK_WIDGET(button), GTK_TYPE_LIST_BOX_ROW));
}

static void back_clicked(ExerciseList *self)
{
  g_autoptr(GError) error = NULL;
  bool back = practice_desk_undelete(self->desk, &error);
  rows_fill(self);
  if (back)
    gtk_widget_child_focus(self->rows, GTK_DIR_TAB_BACKWARD); /* to the last: the own ones */
  gone_show(self, error);
}

static gboolean key_pressed(GtkEventControllerKey *keys, guint key, guint code,
                            GdkModifierType state, gpointer data)
{
  (void)keys, (void)code;
  ExerciseList *self = data;
  if ((state & GDK_CONTROL_MASK) && key == GDK_KEY_z && practice_desk_deleted(self->desk)) {
    back_clicked(self);
    return TRUE;
  }
  GtkWidget *row = gtk_widget_get_focus_child(self->rows);
  if (key != GDK_KEY_Delete || !row)
    return FALSE;
  row_delete(self, row);
  return TRUE;
}

static void header_set(GtkListBoxRow *row, GtkListBoxRow *before, gpointer data)
{
  (void)data;
  int group = GPOINTER_TO_INT(g_object_get_data(G_OBJECT(row), "group"));
  bool first = !before || GPOINTER_TO_INT(g_object_get_data(G_OBJECT(before), "group")) != group;
  gtk_list_box_row_set_header(row, first ? part_label(words_translate(group_name[group]), "title")
                                         : NULL);
}

static GtkWidget *row_new(ExerciseList *self, const Exercise *e)
{
  bool passed = progress_passed(practice_desk_progress(self->desk), e->id),
       here = strcmp(e->id, practice_desk_exercise(self->desk)->id) == 0;
  const char *title = words_translate(e->title),
             *kind = words_translate(exercise_kind_name(e->kind));
  GtkWidget *row = gtk_list_box_row_new(), *line = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *mark = part_label(!exercise_counts(e) ? "–" : passed ? "✓" : "○", NULL);
  gtk_label_set_width_chars(GTK_LABEL(mark), 2);
  gtk_box_append(GTK_BOX(line), mark);
  g_autofree char *name = g_strdup_printf("%s  %s", e->id, title);
  GtkWidget *label = part_label(name, here ? "title" : NULL), *note = part_label(kind, "note");
  gtk_widget_set_hexpand(label, TRUE);
  gtk_label_set_wrap(GTK_LABEL(note), FALSE);
  gtk_box_append(GTK_BOX(line), label);
  gtk_box_append(GTK_BOX(line), note);
  if (*e->file) {
    GtkWidget *away = gtk_button_new_with_label(_("Delete"));
    g_autofree char *spoken_away = g_strdup_printf(_("Delete %s"), name);
    spoken_name(away, spoken_away);
    gtk_widget_add_css_class(away, "quiet");
    gtk_widget_set_valign(away, GTK_ALIGN_CENTER);
    g_signal_connect(away, "clicked", G_CALLBACK(delete_clicked), self);
    gtk_box_append(GTK_BOX(line), away);
  }
  gtk_list_box_row_set_child(GTK_LIST_BOX_ROW(row), line);
  if (here)
    gtk_widget_add_css_class(row, "now");
  g_object_set_data_full(G_OBJECT(row), "id", g_strdup(e->id), g_free);
  g_object_set_data(G_OBJECT(row), "group", GINT_TO_POINTER(group_of(e)));
  g_autofree char *spoken = exercise_counts(e)
                                ? g_strdup_printf("%s, %s, %s", name, kind,
                                                  passed ? _("done: passed") : _("not passed yet"))
                                : g_strdup_printf("%s, %s", name, kind);
  spoken_name(row, spoken);
  return row;
}

static void rows_fill(ExerciseList *self)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(self->rows)))
    gtk_list_box_remove(GTK_LIST_BOX(self->rows), child);
  const GPtrArray *set = practice_desk_set(self->desk);
  for (guint i = 0; i < set->len; i++)
    gtk_list_box_append(GTK_LIST_BOX(self->rows), row_new(self, set->pdata[i]));
}

static void list_show(ExerciseList *self)
{
  const Exercise *e = practice_desk_exercise(self->desk);
  const GPtrArray *set = practice_desk_set(self->desk), *out = practice_desk_left_out(self->desk);
  g_autofree char *title = g_strdup_printf("%s  %s", e->id, words_translate(e->title));
  gtk_label_set_text(GTK_LABEL(self->label), title);
  g_autofree char *spoken = g_strdup_printf(_("Exercise %s. Choose another."), title);
  spoken_name(self->button, spoken);
  g_autofree char *sum = g_strdup_printf(
      _("%u of %u passed"), progress_count_passed(practice_desk_progress(self->desk), set),
      exercises_counted(set));
  gtk_label_set_text(GTK_LABEL(self->sum), sum);
  Skill why;
  const Exercise *next = exercise_next(set, practice_desk_progress(self->desk),
                                       g_get_real_time() / G_USEC_PER_SEC, &why);
  g_autofree char *due = !next ? g_strdup(_("All passed, nothing is due."))
                         : why < SKILLS
                             ? g_strdup_printf(_("Good to repeat now: %s, for the skill %s"),
                                               next->id, words_translate(skill_name(why)))
                             : g_strdup_printf(_("Next in line: %s"), next->id);
  gtk_label_set_text(GTK_LABEL(self->due), due);
  g_autoptr(GString) left = g_string_new(NULL);
  for (guint i = 0; i < out->len; i++)
    g_string_append_printf(left, "%s%s", i ? "\n" : _("Left out:\n"), (const char *)out->pdata[i]);
  gtk_label_set_text(GTK_LABEL(self->left_out), left->str);
  gtk_widget_set_visible(self->left_out, left->len > 0);
}

static void list_opened(ExerciseList *self)
{
  rows_fill(self);
  gone_show(self, NULL);
}

void practice_list_open(GtkWidget *button)
{
  gtk_menu_button_popup(GTK_MENU_BUTTON(button));
}

GtkWidget *practice_list_button_new(SoffitPracticeDesk *desk)
{
  ExerciseList *self = g_new0(ExerciseList, 1);
  self->desk = desk;
  GtkWidget *inside = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8), *scroller = gtk_scrolled_window_new();
  self->button = gtk_menu_button_new();
  self->label = part_label("", "case-number");
  gtk_widget_set_hexpand(self->label, TRUE);
  gtk_label_set_wrap(GTK_LABEL(self->label), FALSE);
  gtk_label_set_ellipsize(GTK_LABEL(self->label), PANGO_ELLIPSIZE_END);
  gtk_box_append(GTK_BOX(inside), self->label);
  gtk_box_append(GTK_BOX(inside), gtk_image_new_from_icon_name("pan-down-symbolic"));
  gtk_menu_button_set_child(GTK_MENU_BUTTON(self->button), inside);
  gtk_widget_set_halign(inside, GTK_ALIGN_FILL);
  gtk_widget_add_css_class(self->button, "practice-choose");
  self->sum = part_label("", "title");
  self->due = part_label("", "note");
  self->left_out = part_label("", "wrong");
  self->rows = gtk_list_box_new();
  gtk_list_box_set_selection_mode(GTK_LIST_BOX(self->rows), GTK_SELECTION_NONE);
  gtk_list_box_set_header_func(GTK_LIST_BOX(self->rows), header_set, NULL, NULL);
  gtk_widget_add_css_class(self->rows, "rows");
  g_signal_connect(self->rows, "row-activated", G_CALLBACK(row_chosen), self);
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), self->rows);
  gtk_widget_set_size_request(scroller, 460, LIST_LEAST); /* a low window has what is below, too */
  gtk_scrolled_window_set_propagate_natural_height(GTK_SCROLLED_WINDOW(scroller), TRUE);
  gtk_scrolled_window_set_max_content_height(GTK_SCROLLED_WINDOW(scroller), LIST_HEIGHT);
  GtkWidget *make = gtk_button_new_with_label(_("Make or change an exercise…"));
  gtk_widget_add_css_class(make, "quiet");
  gtk_widget_set_halign(make, GTK_ALIGN_START);
  gtk_actionable_set_action_name(GTK_ACTIONABLE(make), "win.exercise");
  self->gone = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  self->gone_words = part_label("", NULL);
  gtk_widget_set_hexpand(self->gone_words, TRUE);
  self->back = part_button(_("Take back"), "quiet", G_CALLBACK(back_clicked), self);
  gtk_box_append(GTK_BOX(self->gone), self->gone_words);
  gtk_box_append(GTK_BOX(self->gone), self->back);
  self->trouble = part_label("", "wrong");
  GtkWidget *part[] = {self->sum,     self->due,      scroller, self->gone,
                       self->trouble, self->left_out, make};
  for (size_t i = 0; i < G_N_ELEMENTS(part); i++)
    gtk_box_append(GTK_BOX(box), part[i]);
  self->popover = gtk_popover_new();
  gtk_widget_add_css_class(self->popover, "sources");
  gtk_popover_set_child(GTK_POPOVER(self->popover), box);
  gtk_menu_button_set_popover(GTK_MENU_BUTTON(self->button), self->popover);
  g_signal_connect_swapped(self->popover, "map", G_CALLBACK(list_opened), self);
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_name(keys, "list-keys");
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), self);
  gtk_widget_add_controller(box, keys);
  g_object_set_data_full(G_OBJECT(self->button), "list", self, g_free);
  practice_follow(desk, self->button,
                  (const char *const[]){"exercise-changed", "progress-changed", NULL},
                  G_CALLBACK(list_show), self);
  return self->button;
}
