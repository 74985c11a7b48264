/* practice_middle.c - the drawing of the step at hand, the doors to its necks, the criteria below.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/canvas.h"
#include "ui/canvas/draw_context.h"
#include "ui/practice/practice_duo.h"
#include "ui/practice/practice_parts.h"
#include "ui/practice/practice_swipe.h"
#include "ui/spoken.h"
#include "ui/words.h"

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *box, *doors, *stack, *cross, *canvas, *duo;
  const Exercise *shown;
  GPtrArray *door; /* owned; borrowed toggles, one a neck */
  bool filling;
} Middle;

static void door_toggled(GtkToggleButton *button, gpointer data)
{
  Middle *self = data;
  guint i;
  if (self->filling || !gtk_toggle_button_get_active(button) ||
      !g_ptr_array_find(self->door, button, &i))
    return;
  session_set_focus(practice_desk_session(self->desk), i);
}

static void doors_build(Middle *self)
{
  const Exercise *e = self->shown = practice_desk_exercise(self->desk);
  g_ptr_array_set_size(self->door, 0);
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child(self->doors)))
    gtk_box_remove(GTK_BOX(self->doors), child);
  for (size_t i = 0; i + 1 < e->start.n_unit; i++) {
    char name[12];
    connector_name(&e->start, i, '/', name);
    GtkWidget *button = gtk_toggle_button_new_with_label(name);
    gtk_widget_add_css_class(button, "door");
    if (i > 0)
      gtk_toggle_button_set_group(GTK_TOGGLE_BUTTON(button), self->door->pdata[0]);
    g_ptr_array_add(self->door, button);
    g_signal_connect(button, "toggled", G_CALLBACK(door_toggled), self);
    gtk_box_append(GTK_BOX(self->doors), button);
  }
  gtk_widget_set_visible(self->doors, e->start.n_unit > 2);
}

static void doors_show(Middle *self)
{
  size_t focus = session_focus(practice_desk_session(self->desk));
  self->filling = true;
  for (guint i = 0; i < self->door->len; i++)
    gtk_toggle_button_set_active(self->door->pdata[i], i == focus);
  self->filling = false;
}

static void middle_show(Middle *self)
{
  static const char *const page[] = {"cross", "canvas", "canvas", "duo"};
  if (practice_desk_exercise(self->desk) != self->shown)
    doors_build(self);
  doors_show(self);
  gtk_stack_set_visible_child_name(
      GTK_STACK(self->stack),
      practice_desk_swiping(self->desk) ? "swipe" : page[practice_desk_step(self->desk)]);
}

static void step_changed(Middle *self)
{
  GtkWidget *before = gtk_stack_get_visible_child(GTK_STACK(self->stack));
  bool had_focus = gtk_widget_get_focus_child(self->stack) != NULL;
  middle_show(self);
  if (had_focus && gtk_stack_get_visible_child(GTK_STACK(self->stack)) != before)
    gtk_widget_child_focus(self->stack, GTK_DIR_TAB_FORWARD);
}

static void middle_free(gpointer data)
{
  Middle *self = data;
  g_ptr_array_unref(self->door);
  g_free(self);
}

GtkWidget *practice_middle_new(SoffitPracticeDesk *desk)
{
  Middle *self = g_new0(Middle, 1);
  self->desk = desk;
  self->door = g_ptr_array_new();
  self->box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  self->doors = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_widget_add_css_class(self->doors, "practice-doors");
  self->stack = gtk_stack_new();
  gtk_widget_set_vexpand(self->stack, TRUE);
  gtk_stack_set_hhomogeneous(GTK_STACK(self->stack), FALSE);
  gtk_stack_set_vhomogeneous(GTK_STACK(self->stack), FALSE);
  self->cross = practice_cross_new(desk, false);
  self->canvas = soffit_canvas_new(practice_desk_session(desk));
  canvas_set_school(SOFFIT_CANVAS(self->canvas), true);
  practice_crack_attach(desk, self->canvas);
  self->duo = practice_duo_new(desk);
  gtk_stack_add_named(GTK_STACK(self->stack), self->cross, "cross");
  gtk_stack_add_named(GTK_STACK(self->stack), self->canvas, "canvas");
  gtk_stack_add_named(GTK_STACK(self->stack), self->duo, "duo");
  gtk_stack_add_named(GTK_STACK(self->stack), practice_swipe_new(desk), "swipe");
  gtk_box_append(GTK_BOX(self->box), self->doors);
  gtk_box_append(GTK_BOX(self->box), self->stack);
  gtk_box_append(GTK_BOX(self->box), practice_table_new(desk));
  g_object_set_data_full(G_OBJECT(self->box), "middle", self, middle_free);
  GClosure *closure = g_cclosure_new_swap(G_CALLBACK(doors_show), self, NULL);
  g_object_watch_closure(G_OBJECT(self->box), closure);
  g_signal_connect_closure(practice_desk_session(desk), "focus-changed", closure, FALSE);
  practice_follow(desk, self->box, (const char *const[]){"exercise-changed", NULL},
                  G_CALLBACK(middle_show), self);
  practice_follow(desk, self->box, (const char *const[]){"step-changed", "work-changed", NULL},
                  G_CALLBACK(step_changed), self);
  return self->box;
}
