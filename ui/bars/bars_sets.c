/* bars_sets.c - the left column: the test, the sizes, and two sets to type or paste into.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * One line a bar, as in a table or a text: typing, pasting and undoing are those of every text. */
#include "ui/bars/bars_parts.h"
#include "ui/canvas/draw_context.h"
#include "ui/case_form.h"
#include "ui/drawing/picture_strength.h"
#include "ui/file_choice.h"
#include "ui/words.h"

#define COLUMN_PX 300
#define MESSAGES 3
#define MOST_BYTES (64 << 20)

static const char *const test_name[] = {N_("three points"), N_("four points, 1/4"),
                                        N_("four points, 1/3"), N_("disc on three balls")};

typedef struct {
  SoffitBarsDesk *desk; /* borrowed: the page holds it */
  int which;
  GtkWidget *name, *text, *count, *figures, *message, *finish;
  GtkFileChooserNative *chooser; /* owned while it is open */
  bool filling;
} SetView;

typedef struct {
  SoffitBarsDesk *desk;
  SetView set[BARS_SETS];
  GtkWidget *span_name, *width_name, *piston_row[2], *test, *number[4];
  bool filling;
} SetsView;

/* --- the mark --- */

static void mark_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  draw_bar_mark(cr, &context, GPOINTER_TO_INT(data), point(width / 2.0, height / 2.0));
}

GtkWidget *bars_mark_new(int set)
{
  GtkWidget *area = gtk_drawing_area_new();
  gtk_drawing_area_set_content_width(GTK_DRAWING_AREA(area), 16);
  gtk_drawing_area_set_content_height(GTK_DRAWING_AREA(area), 16);
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(area), mark_draw, GINT_TO_POINTER(set), NULL);
  gtk_widget_set_valign(area, GTK_ALIGN_CENTER);
  return area;
}

/* --- what a set says --- */

static void figure_line(GString *out, const char *what, Banded b, int decimals, const char *unit)
{
  g_autofree char *value = words_number(b.value, decimals), *range = words_range(b, decimals);
  g_string_append_printf(out, "%s%s <b>%s</b>%s", out->len ? "\n" : "", what, value, unit);
  if (isfinite(b.low))
    g_string_append_printf(out, "  (%s)", range);
}

static void set_show(SetView *view)
{
  const BarsAnswer *a = bars_desk_answer(view->desk);
  g_autofree char *message = bars_desk_messages(view->desk, view->which, MESSAGES);
  gtk_label_set_text(GTK_LABEL(view->message), message);
  gtk_widget_set_visible(view->message, *message);
  const BarsSetAnswer *set = a ? &a->set[view->which] : NULL;
  size_t n = set ? set->n_good : 0;
  g_autofree char *count = g_strdup_printf(words_plural("%zu bar", "%zu bars", n), n);
  gtk_label_set_text(GTK_LABEL(view->count), count);
  g_autoptr(GString) out = g_string_new(NULL);
  if (set && n && set->fit_fault)
    g_string_append(out, n < 3 ? _("too few bars for a spread: at least 3")
                               : _("all bars are alike: no spread to tell"));
  else if (set && n) {
    figure_line(out, _("63 of 100 broken at"), set->fit.scale, 0, " MPa");
    figure_line(out, _("spread m"), set->fit.modulus, 1, "");
    figure_line(out, _("5 of 100 broken at"), set->fit.five, 0, " MPa");
    if (n < BARS_LEAST)
      g_string_append_printf(out, "\n%s", _("Too few for a band."));
  }
  gtk_label_set_markup(GTK_LABEL(view->figures), out->str);
  gtk_widget_set_visible(view->figures, out->len > 0);
}

/* --- typing --- */

static void text_changed(GtkTextBuffer *buffer, SetView *view)
{
  if (view->filling)
    return;
  GtkTextIter start, end;
  gtk_text_buffer_get_bounds(buffer, &start, &end);
  g_autofree char *text = gtk_text_buffer_get_text(buffer, &start, &end, FALSE);
  bars_desk_set_text(view->desk, view->which, text);
}

static void name_changed(GtkEditable *field, SetView *view)
{
  if (view->filling)
    return;
  bars_desk_set_name(view->desk, view->which, gtk_editable_get_text(field));
}

/* Names and lines from the desk, where they differ.  Copies: the fields write into the desk. */
static void set_fill(SetView *view)
{
  const BarsInput *in = bars_desk_input(view->desk);
  GtkTextBuffer *buffer = gtk_text_view_get_buffer(GTK_TEXT_VIEW(view->text));
  GtkTextIter start, end;
  gtk_text_buffer_get_bounds(buffer, &start, &end);
  g_autofree char *shown = gtk_text_buffer_get_text(buffer, &start, &end, FALSE),
                  *text = g_strdup(in->set[view->which].text),
                  *name = g_strdup(in->set[view->which].name);
  view->filling = true; /* a new text is first none, then itself */
  if (g_strcmp0(shown, text) != 0) {
    gtk_text_buffer_begin_user_action(buffer); /* its undo goes back beyond it */
    gtk_text_buffer_delete(buffer, &start, &end);
    gtk_text_buffer_insert(buffer, &start, text, -1);
    gtk_text_buffer_end_user_action(buffer);
  }
  if (g_strcmp0(gtk_editable_get_text(GTK_EDITABLE(view->name)), name) != 0)
    gtk_editable_set_text(GTK_EDITABLE(view->name), name);
  gtk_drop_down_set_selected(GTK_DROP_DOWN(view->finish), in->set[view->which].finish - 1);
  view->filling = false;
}

static void open_chosen(GtkNativeDialog *dialog, int response, SetView *view)
{
  g_autoptr(GFile) file =
      response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file(GTK_FILE_CHOOSER(dialog)) : NULL;
  g_clear_object(&view->chooser);
  if (!file)
    return;
  g_autofree char *text = NULL, *base = g_file_get_basename(file);
  gsize length = 0;
  g_autoptr(GError) error = NULL;
  if (!g_file_load_contents(file, NULL, &text, &length, NULL, &error) || length > MOST_BYTES ||
      !g_utf8_validate(text, (gssize)length, NULL)) {
    g_autofree char *why = g_strdup_printf(
        "%s: %s", base,
        error ? error->message : _("this is no text in UTF-8. Save the table as CSV in UTF-8."));
    gtk_label_set_text(GTK_LABEL(view->message), why);
    gtk_widget_set_visible(view->message, TRUE);
    return;
  }
  char *dot = strrchr(base, '.');
  if (dot)
    *dot = 0;
  gtk_editable_set_text(GTK_EDITABLE(view->name), base);
  bars_desk_set_text(view->desk, view->which, text);
}

static void open_clicked(GtkButton *button, SetView *view)
{
  GtkRoot *root = gtk_widget_get_root(GTK_WIDGET(button));
  GtkFileChooserNative *chooser = file_choice_new(&view->chooser, GTK_WINDOW(root), _("Open bars"),
                                                  GTK_FILE_CHOOSER_ACTION_OPEN, _("Open"));
  if (!chooser)
    return;
  g_signal_connect(chooser, "response", G_CALLBACK(open_chosen), view);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

static void finish_chosen(GtkDropDown *field, GParamSpec *property, SetView *view)
{
  (void)property;
  if (view->filling)
    return;
  bars_desk_input(view->desk)->set[view->which].finish = gtk_drop_down_get_selected(field) + 1;
  bars_desk_changed(view->desk);
}

static GtkWidget *finish_field(SetView *view)
{
  GtkStringList *words = gtk_string_list_new(NULL);
  for (int i = FINISH_UNKNOWN + 1; i < FINISH_N; i++)
    gtk_string_list_append(words, words_translate(finish_name((FinishState)i)));
  GtkWidget *field = gtk_drop_down_new(G_LIST_MODEL(words), NULL);
  field_name(field, _("finish of these bars"));
  g_signal_connect(field, "notify::selected", G_CALLBACK(finish_chosen), view);
  gtk_widget_set_hexpand(field, TRUE);
  return field;
}

static GtkWidget *wrapped(const char *class_name)
{
  GtkWidget *label = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_label_set_wrap_mode(GTK_LABEL(label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars(GTK_LABEL(label), 34); /* the column keeps its width */
  gtk_widget_add_css_class(label, class_name);
  return label;
}

static GtkWidget *set_build(SetView *view)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6),
            *head = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *scroller = gtk_scrolled_window_new(), *open = gtk_button_new_with_label(_("Open…"));
  gtk_widget_add_css_class(box, "panel");
  view->name = gtk_entry_new();
  field_name(view->name, _("name of the set"));
  gtk_editable_set_width_chars(GTK_EDITABLE(view->name), 8);
  gtk_widget_set_hexpand(view->name, TRUE);
  view->count = gtk_label_new(NULL);
  gtk_widget_add_css_class(view->count, "note");
  gtk_box_append(GTK_BOX(head), bars_mark_new(view->which));
  gtk_box_append(GTK_BOX(head), view->name);
  gtk_box_append(GTK_BOX(head), view->count);
  view->finish = finish_field(view);
  gtk_widget_add_css_class(open, "quiet");
  g_signal_connect(open, "clicked", G_CALLBACK(open_clicked), view);
  gtk_box_append(GTK_BOX(row), view->finish);
  gtk_box_append(GTK_BOX(row), open);
  view->text = gtk_text_view_new();
  gtk_text_view_set_monospace(GTK_TEXT_VIEW(view->text), TRUE);
  gtk_text_view_set_accepts_tab(GTK_TEXT_VIEW(view->text), FALSE);
  gtk_text_view_set_left_margin(GTK_TEXT_VIEW(view->text), 8);
  gtk_text_view_set_top_margin(GTK_TEXT_VIEW(view->text), 4);
  field_name(view->text, _("bars, one line each: force in N; width; thickness"));
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), view->text);
  gtk_scrolled_window_set_min_content_height(GTK_SCROLLED_WINDOW(scroller), 84);
  gtk_widget_set_vexpand(scroller, TRUE);
  gtk_widget_add_css_class(scroller, "lines");
  view->figures = wrapped("note");
  view->message = wrapped("wrong");
  gtk_widget_add_css_class(view->message, "note");
  gtk_box_append(GTK_BOX(box), head);
  gtk_box_append(GTK_BOX(box), row);
  gtk_box_append(GTK_BOX(box), scroller);
  gtk_box_append(GTK_BOX(box), view->figures);
  gtk_box_append(GTK_BOX(box), view->message);
  set_fill(view);
  g_signal_connect(view->name, "changed", G_CALLBACK(name_changed), view);
  g_signal_connect(gtk_text_view_get_buffer(GTK_TEXT_VIEW(view->text)), "changed",
                   G_CALLBACK(text_changed), view);
  return box;
}

/* --- test and sizes --- */

static void words_fit(SetsView *view)
{
  bool disc = bars_desk_input(view->desk)->test == BAR_DISC;
  gtk_label_set_text(GTK_LABEL(view->span_name), disc ? _("support circle, mm") : _("span, mm"));
  gtk_label_set_text(GTK_LABEL(view->width_name), disc ? _("diameter, mm") : _("width, mm"));
  for (int i = 0; i < 2; i++)
    gtk_widget_set_visible(view->piston_row[i], disc);
}

static void test_changed(SetsView *view)
{
  if (view->filling)
    return;
  BarsInput *in = bars_desk_input(view->desk);
  BarSetup usual = bar_setup_default((BarTest)in->test);
  bool disc = in->test == BAR_DISC, was_disc = in->width > 9;
  if (disc != was_disc) { /* sizes of the other kind of piece */
    view->filling = true;
    gtk_spin_button_set_value(GTK_SPIN_BUTTON(view->number[0]), usual.span);
    gtk_spin_button_set_value(GTK_SPIN_BUTTON(view->number[1]), disc ? 14 : 4);
    gtk_spin_button_set_value(GTK_SPIN_BUTTON(view->number[2]), disc ? 1.2 : 3);
    view->filling = false;
  }
  words_fit(view);
  bars_desk_changed(view->desk);
}

static void size_changed(SetsView *view)
{
  if (!view->filling)
    bars_desk_changed(view->desk);
}

static GtkWidget *named(GtkWidget *grid, int at, const char *name, GtkWidget *field)
{
  GtkWidget *label = gtk_label_new(name);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_widget_set_hexpand(label, TRUE);
  gtk_grid_attach(GTK_GRID(grid), label, 0, at, 1, 1);
  gtk_grid_attach(GTK_GRID(grid), field, 1, at, 1, 1);
  return label;
}

static void desk_typed(SetsView *view)
{
  const BarsInput *in = bars_desk_input(view->desk);
  view->filling = true;
  gtk_drop_down_set_selected(GTK_DROP_DOWN(view->test), in->test);
  const double value[4] = {in->span, in->width, in->thickness, in->piston};
  for (int i = 0; i < 4; i++)
    gtk_spin_button_set_value(GTK_SPIN_BUTTON(view->number[i]), value[i]);
  view->filling = false;
  words_fit(view);
  for (int i = 0; i < BARS_SETS; i++)
    set_fill(&view->set[i]);
}

static void answer_changed(SetsView *view)
{
  for (int i = 0; i < BARS_SETS; i++)
    set_show(&view->set[i]);
}

static void sets_gone(SetsView *view)
{
  g_signal_handlers_disconnect_by_data(view->desk, view);
  for (int i = 0; i < BARS_SETS; i++)
    if (view->set[i].chooser)
      gtk_native_dialog_destroy(GTK_NATIVE_DIALOG(view->set[i].chooser));
  for (int i = 0; i < BARS_SETS; i++)
    g_clear_object(&view->set[i].chooser);
  g_object_unref(view->desk);
  g_free(view);
}

GtkWidget *bars_sets_new(SoffitBarsDesk *desk)
{
  SetsView *view = g_new0(SetsView, 1);
  view->desk = g_object_ref(desk);
  BarsInput *in = bars_desk_input(desk);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0), *grid = gtk_grid_new(),
            *scroller = gtk_scrolled_window_new();
  gtk_grid_set_row_spacing(GTK_GRID(grid), 4);
  gtk_grid_set_column_spacing(GTK_GRID(grid), 8);
  gtk_widget_add_css_class(grid, "panel");
  gtk_widget_add_css_class(grid, "first");
  view->test = field_choice(_("test"), test_name, G_N_ELEMENTS(test_name), &in->test);
  view->number[0] = field_number(_("span"), &in->span, 4, 100, 1, 1);
  view->number[1] = field_number(_("width"), &in->width, 0.5, 50, 0.1, 2);
  view->number[2] = field_number(_("thickness"), &in->thickness, 0.2, 20, 0.1, 2);
  view->number[3] = field_number(_("piston"), &in->piston, 0.2, 5, 0.1, 1);
  named(grid, 0, _("test"), view->test);
  view->span_name = named(grid, 1, _("span"), view->number[0]);
  view->width_name = named(grid, 2, _("width"), view->number[1]);
  named(grid, 3, _("thickness, mm"), view->number[2]);
  view->piston_row[0] = named(grid, 4, _("piston, mm"), view->number[3]);
  view->piston_row[1] = view->number[3];
  g_signal_connect_swapped(view->test, "notify::selected", G_CALLBACK(test_changed), view);
  for (int i = 0; i < 4; i++)
    g_signal_connect_swapped(view->number[i], "value-changed", G_CALLBACK(size_changed), view);
  gtk_box_append(GTK_BOX(box), grid);
  for (int i = 0; i < BARS_SETS; i++) {
    view->set[i] = (SetView){.desk = desk, .which = i};
    gtk_box_append(GTK_BOX(box), set_build(&view->set[i]));
  }
  words_fit(view);
  answer_changed(view);
  g_signal_connect_swapped(desk, "answer-changed", G_CALLBACK(answer_changed), view);
  g_signal_connect_swapped(desk, "typed", G_CALLBACK(desk_typed), view);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), box);
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_widget_set_size_request(scroller, COLUMN_PX, -1);
  gtk_widget_set_hexpand(scroller, FALSE); /* its fields do, in the column */
  gtk_widget_add_css_class(scroller, "bars-sets");
  g_object_set_data_full(G_OBJECT(scroller), "view", view, (GDestroyNotify)sets_gone);
  return scroller;
}

void bars_sets_enter(GtkWidget *sets)
{
  SetsView *view = g_object_get_data(G_OBJECT(sets), "view");
  gtk_widget_grab_focus(view->set[0].text);
}
