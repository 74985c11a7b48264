/* practice_sizes.c - the sizes that no pen draws here: width of the neck, biting groove.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/parts.h"
#include "ui/practice/practice_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

typedef enum { ROW_WIDTH, ROW_GROOVE, ROW_GROOVE_RADIUS, ROWS } SizeRow;

static const struct {
  const char *name, *edit;
  double low, high;
} size_row[ROWS] = {{N_("Neck width"), N_("Change neck width"), 1, 8},
                    {N_("Biting groove at"), N_("Move the biting groove"), 1, 12},
                    {N_("Groove radius"), N_("Round the biting groove"), 0.05, 4}};

typedef struct {
  SoffitPracticeDesk *desk; /* borrowed: lives with the page */
  GtkWidget *row, *size[ROWS];
  bool filling;
} Sizes;

static double size_get(const Connector *k, SizeRow row)
{
  return row == ROW_WIDTH ? k->neck_width : row == ROW_GROOVE ? k->groove_y : k->groove_radius;
}

static void size_set(Connector *k, SizeRow row, double mm)
{
  *(row == ROW_WIDTH ? &k->neck_width : row == ROW_GROOVE ? &k->groove_y : &k->groove_radius) = mm;
  if (row != ROW_WIDTH)
    k->groove_open_deg = NAN; /* as wide as its room allows */
}

static void sizes_show(Sizes *self)
{
  SoffitSession *session = practice_desk_session(self->desk);
  const Case *c = session_case(session);
  size_t i = session_focus(session);
  PracticeStep step = practice_desk_step(self->desk);
  gtk_widget_set_visible(self->row, practice_desk_has_step(self->desk, PRACTICE_REDRAW) &&
                                        (step == PRACTICE_SEE || step == PRACTICE_REDRAW));
  if (i + 1 >= c->n_unit)
    return;
  self->filling = true;
  for (int row = 0; row < ROWS; row++)
    gtk_spin_button_set_value(GTK_SPIN_BUTTON(self->size[row]),
                              size_get(&c->connector[i], (SizeRow)row));
  self->filling = false;
}

static void size_changed(GtkSpinButton *spin, gpointer data)
{
  Sizes *self = data;
  SoffitSession *session = practice_desk_session(self->desk);
  int row = 0;
  while (row < ROWS && self->size[row] != GTK_WIDGET(spin))
    row++;
  Case *c = self->filling || row == ROWS || !session_has_case(session)
                ? NULL
                : session_edit_begin_series(session, size_row[row].edit);
  if (!c)
    return;
  Side side;
  size_set(&c->connector[session_focus(session)], (SizeRow)row, gtk_spin_button_get_value(spin));
  if (connector_complete(c, session_focus(session), &side))
    session_edit_cancel(session);
  else
    session_edit_end(session);
  practice_desk_go(self->desk, PRACTICE_REDRAW);
  sizes_show(self);
}

GtkWidget *practice_sizes_new(SoffitPracticeDesk *desk)
{
  Sizes *self = g_new0(Sizes, 1);
  self->desk = desk;
  self->row = gtk_grid_new();
  gtk_grid_set_row_spacing(GTK_GRID(self->row), 4);
  gtk_grid_set_column_spacing(GTK_GRID(self->row), 8);
  gtk_widget_add_css_class(self->row, "practice-sizes");
  for (int i = 0; i < ROWS; i++) {
    const char *name = words_translate(size_row[i].name);
    GtkWidget *label = part_label(name, NULL),
              *spin = self->size[i] =
                  gtk_spin_button_new_with_range(size_row[i].low, size_row[i].high, 0.05);
    gtk_spin_button_set_digits(GTK_SPIN_BUTTON(spin), 2);
    gtk_editable_set_max_width_chars(GTK_EDITABLE(spin), 4);
    gtk_editable_set_width_chars(GTK_EDITABLE(spin), 4);
    gtk_widget_set_hexpand(label, TRUE);
    spoken_name(spin, name);
    g_signal_connect(spin, "value-changed", G_CALLBACK(size_changed), self);
    gtk_grid_attach(GTK_GRID(self->row), label, 0, i, 1, 1);
    gtk_grid_attach(GTK_GRID(self->row), spin, 1, i, 1, 1);
  }
  g_object_set_data_full(G_OBJECT(self->row), "sizes", self, g_free);
  GClosure *closure = g_cclosure_new_swap(G_CALLBACK(sizes_show), self, NULL);
  g_object_watch_closure(G_OBJECT(self->row), closure);
  g_signal_connect_closure(practice_desk_session(desk), "focus-changed", closure, FALSE);
  practice_follow(desk, self->row,
                  (const char *const[]){"exercise-changed", "step-changed", "work-changed", NULL},
                  G_CALLBACK(sizes_show), self);
  return self->row;
}
