/* case_form.c - see case_form.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/case_form.h"
#include "ui/parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define WORDS_HEIGHT 64 /* three lines */
#define FIELD_NAME "soffit-field-name"
#define FIELD_NOTE "soffit-field-note"
#define NOTE_WORDS "soffit-note-words"

/* The focus lies on the button inside of a drop-down: that one says the name and what is chosen. */
static void choice_name(GtkDropDown *field)
{
  const char *name = g_object_get_data(G_OBJECT(field), FIELD_NAME);
  GObject *chosen = gtk_drop_down_get_selected_item(field);
  const char *word =
      GTK_IS_STRING_OBJECT(chosen) ? gtk_string_object_get_string(GTK_STRING_OBJECT(chosen)) : "";
  g_autofree char *spoken = g_strdup_printf("%s: %s", name, word);
  spoken_name(gtk_widget_get_first_child(GTK_WIDGET(field)), spoken);
}

void field_name(GtkWidget *field, const char *name)
{
  spoken_name(field, name);
  if (!GTK_IS_DROP_DOWN(field))
    return;
  if (g_object_get_data(G_OBJECT(field), FIELD_NAME) == NULL)
    g_signal_connect(field, "notify::selected-item", G_CALLBACK(choice_name), NULL);
  g_object_set_data_full(G_OBJECT(field), FIELD_NAME, g_strdup(name), g_free);
  choice_name(GTK_DROP_DOWN(field));
}

GtkWidget *form_new(void)
{
  GtkWidget *form = gtk_grid_new();
  gtk_grid_set_column_spacing(GTK_GRID(form), 16);
  gtk_grid_set_row_spacing(GTK_GRID(form), 8);
  gtk_widget_add_css_class(form, "form");
  return form;
}

static int row_next(GtkWidget *form)
{
  int row = GPOINTER_TO_INT(g_object_get_data(G_OBJECT(form), "rows"));
  g_object_set_data(G_OBJECT(form), "rows", GINT_TO_POINTER(row + 1));
  return row;
}

int form_rows(GtkWidget *form)
{
  return GPOINTER_TO_INT(g_object_get_data(G_OBJECT(form), "rows"));
}

void form_title(GtkWidget *form, const char *title)
{
  gtk_grid_attach(GTK_GRID(form), part_label(title, "title"), 0, row_next(form), 3, 1);
}

void form_row(GtkWidget *form, const char *name, GtkWidget *field, const char *note)
{
  int row = row_next(form);
  GtkWidget *label = part_label(name, NULL), *beside = part_label(note, "note");
  gtk_widget_add_css_class(beside, "dim");
  gtk_label_set_max_width_chars(GTK_LABEL(beside), 40);
  gtk_widget_set_valign(field, GTK_ALIGN_CENTER);
  gtk_grid_attach(GTK_GRID(form), label, 0, row, 1, 1);
  gtk_grid_attach(GTK_GRID(form), field, 1, row, 1, 1);
  gtk_grid_attach(GTK_GRID(form), beside, 2, row, 1, 1);
  if (*name) { /* a button has its own words */
    field_name(field, name);
    field_told_by(field, beside);
  }
}

/* ---- what is wrong ---- */

void field_told_by(GtkWidget *field, GtkWidget *label)
{
  g_object_set_data_full(G_OBJECT(label), NOTE_WORDS,
                         g_strdup(gtk_label_get_text(GTK_LABEL(label))), g_free);
  g_object_set_data(G_OBJECT(field), FIELD_NOTE, label); /* of the same grid: they go together */
}

static void class_set(GtkWidget *widget, const char *class_name, bool on)
{
  (on ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(widget, class_name);
}

void field_flaw(GtkWidget *field, const char *text)
{
  GtkWidget *note = g_object_get_data(G_OBJECT(field), FIELD_NOTE),
            *spoken = GTK_IS_DROP_DOWN(field) ? gtk_widget_get_first_child(field) : field,
            *framed = GTK_IS_TEXT_VIEW(field) ? gtk_widget_get_parent(field) : field;
  class_set(framed, "flawed", text != NULL);
  gtk_accessible_update_state(GTK_ACCESSIBLE(spoken), GTK_ACCESSIBLE_STATE_INVALID,
                              text ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE,
                              -1);
  spoken_description(spoken, text ? text : "");
  if (!note)
    return;
  const char *words = text ? text : g_object_get_data(G_OBJECT(note), NOTE_WORDS);
  gtk_label_set_text(GTK_LABEL(note), words);
  gtk_widget_set_visible(note, *words != '\0');
  class_set(note, "wrong", text != NULL);
  class_set(note, "dim", text == NULL);
}

/* A number that is not recorded is an empty field: it comes empty, and emptying it makes it so. */
static int number_input(GtkSpinButton *field, double *typed, double *value)
{
  double before = gtk_spin_button_get_value(field);
  g_autofree char *text = g_strstrip(g_strdup(gtk_editable_get_text(GTK_EDITABLE(field))));
  char *end = NULL;
  double number = g_ascii_strtod(g_strdelimit(text, ",", '.'), &end);
  bool read = *text && *end == '\0' && isfinite(number);
  if (*text == '\0')
    *value = NAN;
  else if (read && isnan(*value))
    *value = before; /* shown from now on, even where it is what stood behind the empty field */
  double unit = pow(10, gtk_spin_button_get_digits(field)); /* what is kept is what is shown */
  *typed = read ? round(number * unit) / unit : before;
  return TRUE;
}

static void number_changed(GtkSpinButton *field, double *value)
{
  bool was_empty = isnan(*value);
  *value = gtk_spin_button_get_value(field);
  if (was_empty) /* an arrow: the field was left empty by number_output */
    gtk_spin_button_set_value(field, *value);
}

static gboolean number_output(GtkSpinButton *field, double *value)
{
  if (!isnan(*value))
    return FALSE;
  gtk_editable_set_text(GTK_EDITABLE(field), "");
  return TRUE;
}

GtkWidget *field_number(const char *name, double *value, double low, double high, double step,
                        int decimals)
{
  GtkWidget *field = gtk_spin_button_new_with_range(low, high, step);
  gtk_spin_button_set_digits(GTK_SPIN_BUTTON(field), (guint)decimals);
  gtk_spin_button_set_value(GTK_SPIN_BUTTON(field), isfinite(*value) ? *value : low);
  gtk_editable_set_width_chars(GTK_EDITABLE(field), 6);
  gtk_editable_set_max_width_chars(GTK_EDITABLE(field), 6);
  g_signal_connect(field, "value-changed", G_CALLBACK(number_changed), value);
  g_signal_connect(field, "input", G_CALLBACK(number_input), value);
  g_signal_connect(field, "output", G_CALLBACK(number_output), value);
  number_output(GTK_SPIN_BUTTON(field), value);
  field_name(field, name);
  return field;
}

GtkWidget *form_number(GtkWidget *form, const char *name, const char *note, double *value,
                       double low, double high, double step, int decimals)
{
  GtkWidget *field = field_number(name, value, low, high, step, decimals);
  form_row(form, name, field, note);
  return field;
}

static void text_changed(GtkEditable *field, char **text)
{
  g_free(*text);
  *text = g_strdup(gtk_editable_get_text(field));
}

GtkWidget *form_text(GtkWidget *form, const char *name, const char *note, char **text)
{
  GtkWidget *field = gtk_entry_new();
  gtk_editable_set_text(GTK_EDITABLE(field), *text);
  gtk_entry_set_max_length(GTK_ENTRY(field), 200);
  gtk_widget_set_hexpand(field, TRUE);
  g_signal_connect(field, "changed", G_CALLBACK(text_changed), text);
  form_row(form, name, field, note);
  return field;
}

static void words_changed(GtkTextBuffer *buffer, char **text)
{
  g_free(*text);
  g_object_get(buffer, "text", text, NULL);
}

GtkWidget *form_words(GtkWidget *form, const char *name, const char *note, char **text)
{
  GtkWidget *field = gtk_text_view_new(), *scroller = gtk_scrolled_window_new();
  GtkTextBuffer *buffer = gtk_text_view_get_buffer(GTK_TEXT_VIEW(field));
  gtk_text_buffer_set_text(buffer, *text, -1);
  gtk_text_view_set_wrap_mode(GTK_TEXT_VIEW(field), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_accepts_tab(GTK_TEXT_VIEW(field), FALSE);
  gtk_widget_add_css_class(field, "words");
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_widget_add_css_class(scroller, "words-frame");
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), field);
  gtk_widget_set_size_request(scroller, -1, WORDS_HEIGHT);
  gtk_widget_set_hexpand(scroller, TRUE);
  g_signal_connect(buffer, "changed", G_CALLBACK(words_changed), text);
  form_row(form, name, scroller, note);
  field_name(field, name);
  field_told_by(field, g_object_get_data(G_OBJECT(scroller), FIELD_NOTE));
  return field;
}

static void choice_changed(GtkDropDown *field, GParamSpec *property, unsigned *value)
{
  (void)property;
  guint chosen = gtk_drop_down_get_selected(field);
  if (chosen != GTK_INVALID_LIST_POSITION)
    *value = chosen;
}

GtkWidget *field_choice(const char *name, const char *const choice[], guint n, unsigned *value)
{
  GtkStringList *words = gtk_string_list_new(NULL);
  for (guint i = 0; i < n; i++)
    gtk_string_list_append(words, words_translate(choice[i]));
  GtkWidget *field = gtk_drop_down_new(G_LIST_MODEL(words), NULL);
  gtk_drop_down_set_selected(GTK_DROP_DOWN(field), *value < n ? *value : 0);
  g_signal_connect(field, "notify::selected", G_CALLBACK(choice_changed), value);
  field_name(field, name);
  return field;
}

GtkWidget *form_choice(GtkWidget *form, const char *name, const char *note,
                       const char *const choice[], guint n, unsigned *value)
{
  GtkWidget *field = field_choice(name, choice, n, value);
  form_row(form, name, field, note);
  return field;
}

static void tick_changed(GtkCheckButton *field, unsigned *set)
{
  unsigned bit = GPOINTER_TO_UINT(g_object_get_data(G_OBJECT(field), "bit"));
  *set = gtk_check_button_get_active(field) ? *set | bit : *set & ~bit;
}

void form_set(GtkWidget *form, const char *name, const char *note, const char *const choice[],
              guint n, unsigned *set)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
  for (guint i = 0; i < n; i++) {
    GtkWidget *field = gtk_check_button_new_with_label(words_translate(choice[i]));
    g_object_set_data(G_OBJECT(field), "bit", GUINT_TO_POINTER(1u << i));
    gtk_check_button_set_active(GTK_CHECK_BUTTON(field), (*set & 1u << i) != 0);
    g_signal_connect(field, "toggled", G_CALLBACK(tick_changed), set);
    gtk_box_append(GTK_BOX(box), field);
  }
  form_row(form, name, box, note);
}

void form_wide(GtkWidget *form, GtkWidget *field)
{
  gtk_grid_attach(GTK_GRID(form), field, 0, row_next(form), 3, 1);
}
