/* exercise_criteria.c - passed when: one row a criterion, with what the start measures.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * mm, degrees, percent. */
#include "practice/criterion.h"
#include "ui/case_form.h"
#include "ui/parts.h"
#include "ui/practice/exercise_draft.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define LIMIT_MOST 200

typedef enum {
  COLUMN_MEASURE,
  COLUMN_WHERE,
  COLUMN_LEAST,
  COLUMN_MOST,
  COLUMN_UNIT,
  COLUMN_START,
  COLUMN_REMOVE,
  COLUMNS
} Column;

static void criteria_fill(ExerciseDraft *draft, guint focus);

static Criterion *at(ExerciseDraft *draft, guint i)
{
  return &g_array_index(draft->e->criterion, Criterion, i);
}

/* ---- what follows from the measure ---- */

static void row_show(ExerciseDraft *draft, guint i)
{
  Measure measure = (Measure)draft->measure[i];
  Criterion asked = *at(draft, i);
  asked.measure = measure;
  asked.connector = draft->where[i] == 0 ? SIZE_MAX : draft->where[i] - 1;
  for (int k = 0; k < 2; k++) {
    bool whole = measure_decimals(measure) == 0;
    gtk_spin_button_set_digits(GTK_SPIN_BUTTON(draft->limit[i][k]), whole ? 0 : 2);
    gtk_spin_button_set_increments(GTK_SPIN_BUTTON(draft->limit[i][k]), whole ? 1 : 0.05,
                                   whole ? 10 : 0.5);
  }
  gtk_widget_set_sensitive(draft->limit[i][0], measure_has_least(measure));
  gtk_widget_set_sensitive(draft->limit[i][1], measure_has_most(measure));
  gtk_label_set_text(GTK_LABEL(draft->unit[i]), words_translate(measure_unit(measure)));
  g_autofree char *text = NULL;
  if (draft->start) {
    Work work = {.exercise = draft->e, .start = draft->start, .mine = draft->start, .strokes = -1};
    double value;
    criterion_worst(&asked, &work, &value);
    Phrase figure = measure_phrase(measure, value);
    text = isnan(value) ? NULL : words_phrase(&figure);
  }
  gtk_label_set_text(GTK_LABEL(draft->at_start[i]), text ? text : "–");
}

void exercise_criteria_show(ExerciseDraft *draft)
{
  for (guint i = 0; draft->criteria && i < draft->e->criterion->len; i++)
    row_show(draft, i);
}

/* ---- rows ---- */

static void removed(ExerciseDraft *draft, GtkWidget *button)
{
  guint i = GPOINTER_TO_UINT(g_object_get_data(G_OBJECT(button), "row")),
        n = draft->e->criterion->len;
  g_array_remove_index(draft->e->criterion, i);
  for (guint k = i; k + 1 < n; k++) {
    draft->measure[k] = draft->measure[k + 1];
    draft->where[k] = draft->where[k + 1];
  }
  criteria_fill(draft, MIN(i, n - 1));
}

static void added(ExerciseDraft *draft)
{
  guint n = draft->e->criterion->len;
  if (n == CRITERIA_MOST)
    return;
  Criterion fresh = {MEASURE_ROOF_RADIUS, draft->focus, NAN, NAN};
  g_array_append_val(draft->e->criterion, fresh);
  draft->measure[n] = MEASURE_ROOF_RADIUS;
  draft->where[n] = draft->focus + 1;
  criteria_fill(draft, n);
}

static void put(GtkWidget *grid, GtkWidget *child, int column, guint row)
{
  gtk_widget_set_valign(child, GTK_ALIGN_CENTER);
  gtk_grid_attach(GTK_GRID(grid), child, column, (int)row, 1, 1);
}

/* Below a row: what is wrong with it. */
static GtkWidget *flaw_new(void)
{
  GtkWidget *flaw = part_label("", "note");
  gtk_label_set_max_width_chars(GTK_LABEL(flaw), 70);
  gtk_widget_set_visible(flaw, FALSE);
  return flaw;
}

static GtkWidget *row_add(ExerciseDraft *draft, GtkWidget *grid, guint i)
{
  const char *measure[MEASURES], *where[SPAN_MAX_UNITS + 1] = {N_("each neck")};
  char name[SPAN_MAX_UNITS][12];
  guint places = 1;
  for (int m = 0; m < MEASURES; m++)
    measure[m] = measure_name((Measure)m);
  for (size_t k = 0; k + 1 < draft->e->start.n_unit; k++) {
    connector_name(&draft->e->start, k, '/', name[k]);
    where[places++] = name[k];
  }
  g_autofree char *of = g_strdup_printf(_("Criterion %u"), i + 1),
                  *at_neck = g_strdup_printf(_("Criterion %u, at"), i + 1),
                  *least = g_strdup_printf(_("Criterion %u, at least"), i + 1),
                  *most = g_strdup_printf(_("Criterion %u, at most"), i + 1),
                  *away = g_strdup_printf(_("Remove criterion %u"), i + 1);
  Criterion *c = at(draft, i);
  GtkWidget *what = field_choice(of, measure, MEASURES, &draft->measure[i]),
            *place = field_choice(at_neck, where, places, &draft->where[i]),
            *remove = gtk_button_new_from_icon_name("list-remove-symbolic");
  g_signal_connect_swapped(what, "notify::selected", G_CALLBACK(exercise_criteria_show), draft);
  g_signal_connect_swapped(place, "notify::selected", G_CALLBACK(exercise_criteria_show), draft);
  draft->limit[i][0] = field_number(least, &c->least, 0, LIMIT_MOST, 0.05, 2);
  draft->limit[i][1] = field_number(most, &c->most, 0, LIMIT_MOST, 0.05, 2);
  draft->unit[i] = part_label("", "note");
  draft->at_start[i] = part_label("", NULL);
  gtk_label_set_xalign(GTK_LABEL(draft->at_start[i]), 1);
  gtk_widget_add_css_class(remove, "plain");
  spoken_name(remove, away);
  spoken_tooltip(remove, away);
  g_object_set_data(G_OBJECT(remove), "row", GUINT_TO_POINTER(i));
  g_signal_connect_swapped(remove, "clicked", G_CALLBACK(removed), draft);
  GtkWidget *const cell[COLUMNS] = {
      what,  place, draft->limit[i][0], draft->limit[i][1], draft->unit[i], draft->at_start[i],
      remove};
  for (int k = 0; k < COLUMNS; k++)
    put(grid, cell[k], k, 2 * i + 1);
  GtkWidget *flaw = flaw_new();
  gtk_grid_attach(GTK_GRID(grid), flaw, 0, 2 * (int)i + 2, COLUMNS, 1);
  for (int k = 0; k < 2; k++)
    field_told_by(draft->limit[i][k], flaw);
  row_show(draft, i);
  return what;
}

static void head_add(GtkWidget *grid)
{
  static const char *const head[COLUMNS] = {
      N_("Measure"), N_("at"), N_("at least"), N_("at most"), "", N_("at the start"), ""};
  for (int k = 0; k < COLUMNS; k++)
    put(grid, part_label(words_translate(head[k]), "note"), k, 0);
}

/* focus: of the row that the keys go on with; G_MAXUINT: none */
static void criteria_fill(ExerciseDraft *draft, guint focus)
{
  GtkWidget *form = form_new(), *grid = gtk_grid_new(), *go_on = NULL;
  exercise_box_empty(draft->criteria);
  gtk_grid_set_column_spacing(GTK_GRID(grid), 10);
  gtk_grid_set_row_spacing(GTK_GRID(grid), 8);
  head_add(grid);
  for (guint i = 0; i < draft->e->criterion->len; i++) {
    GtkWidget *what = row_add(draft, grid, i);
    go_on = i == focus ? what : go_on;
  }
  GtkWidget *note =
      part_label(_("Passed when every row is met. A peak is a share of the pull at the start: 80 "
                   "asks for a fifth less. Free play asks for nothing."),
                 "note");
  gtk_label_set_max_width_chars(GTK_LABEL(note), 70);
  GtkWidget *add = part_button(_("Add a criterion"), "quiet", G_CALLBACK(added), draft);
  gtk_widget_set_halign(add, GTK_ALIGN_START);
  gtk_widget_set_sensitive(add, draft->e->criterion->len < CRITERIA_MOST);
  form_wide(form, note);
  form_wide(form, grid);
  form_wide(form, add);
  GtkWidget *none = flaw_new();
  form_wide(form, none);
  field_told_by(add, none);
  draft->field[FIELD_CRITERIA] = add;
  gtk_box_append(GTK_BOX(draft->criteria), form);
  if (focus != G_MAXUINT)
    gtk_widget_grab_focus(go_on ? go_on : add);
}

GtkWidget *exercise_criteria_page(ExerciseDraft *draft)
{
  draft->criteria = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  criteria_fill(draft, G_MAXUINT);
  return draft->criteria;
}
