/* evidence_column.c - standing, what changed, the necks in figures, what is lost where, history.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/draw_context.h"
#include "ui/drawing/waterfall.h"
#include "ui/parts.h"
#include "ui/review/evidence_words.h"
#include "ui/review/review_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define COLUMNS 5
#define HISTORY_SHOWN 40
#define HISTORY_MS 100 /* after the picture, which is looked at first */

typedef struct {
  SoffitReviewDesk *desk; /* owned ref */
  GtkWidget *standing, *record, *table, *lost, *waterfall, *history;
  const Assessment *told; /* owned ref: what the table says; NULL */
  size_t told_connector;
  bool folded, told_folded;
  char told_history[65]; /* digest of the file whose history is shown; "" = none */
  guint telling;         /* timer: its history comes */
} Column;

static const Evidence *with_answer(Column *self)
{
  const Evidence *e = review_desk_evidence(self->desk);
  return e && e->a ? e : NULL;
}

/* ---- necks ---- */

static GtkWidget *cell(Column *self, int column, int row, const char *text, const char *class_name)
{
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_xalign(GTK_LABEL(label), column ? 1 : 0);
  gtk_widget_set_hexpand(label, column > 0);
  if (class_name)
    gtk_widget_add_css_class(label, class_name);
  gtk_grid_attach(GTK_GRID(self->table), label, column, row, 1, 1);
  return label;
}

/* "8.2 / 12", as it is spoken; what is needed */
static char *with_need(double value, int decimals, double need)
{
  g_autofree char *have = words_number(value, decimals), *wants = words_number(need, 1);
  return g_strdup_printf("%s / %s", have, wants);
}

/* Folded: what is needed stands below, as the words of the head do. */
static void need_cell(Column *self, int column, int row, const char *both)
{
  if (!self->folded) {
    cell(self, column, row, both, NULL);
    return;
  }
  g_auto(GStrv) part = g_strsplit(both, " / ", 2);
  g_autofree char *marked = g_strdup_printf("%s\n<small>%s</small>", part[0], part[1]);
  GtkWidget *label = cell(self, column, row, "", NULL);
  gtk_label_set_markup(GTK_LABEL(label), marked);
  gtk_label_set_justify(GTK_LABEL(label), GTK_JUSTIFY_RIGHT);
}

static void neck_row(Column *self, const Evidence *e, size_t i, int row)
{
  const ConnectorAssessment *k = &e->a->connector[i];
  bool chosen = i == review_desk_connector(self->desk);
  g_autofree char *area = with_need(k->section.area, 1, k->limits.area_need),
                  *height = with_need(k->form.neck_height, 2, k->limits.height_need),
                  *radius = words_number(k->form.roof_radius.value, 2),
                  *margin = words_number(k->margin.value, 2), *range = words_range(k->margin, 2);
  g_autofree char *both = g_strdup_printf("%s (%s)", margin, range);
  GtkWidget *button = gtk_button_new_with_label(k->name);
  gtk_widget_set_halign(button, GTK_ALIGN_START); /* names stand in line, bold ones too */
  gtk_widget_add_css_class(button, "plain");
  gtk_widget_add_css_class(button, chosen ? "neck-chosen" : "neck");
  g_object_set_data(G_OBJECT(button), "neck", GSIZE_TO_POINTER(i));
  g_autofree char *spoken =
      g_strdup_printf(_("Neck %s: area %s, height %s, roof radius %s, margin %s"), k->name, area,
                      height, radius, both);
  spoken_name(button, spoken);
  gtk_grid_attach(GTK_GRID(self->table), button, 0, row, 1, 1);
  gtk_widget_set_valign(button, self->folded ? GTK_ALIGN_START : GTK_ALIGN_FILL);
  need_cell(self, 1, row, area);
  need_cell(self, 2, row, height);
  gtk_label_set_yalign(GTK_LABEL(cell(self, 3, row, radius, NULL)), self->folded ? 0 : 0.5f);
  GtkWidget *last = cell(self, 4, row, k->fault ? _(fault_text(k->fault)) : both, NULL);
  g_autofree char *marked = g_strdup_printf(
      self->folded ? "<b>%s</b>\n<small>%s</small>" : "<b>%s</b> <small>%s</small>", margin, range);
  gtk_label_set_justify(GTK_LABEL(last), GTK_JUSTIFY_RIGHT);
  if (!k->fault)
    gtk_label_set_markup(GTK_LABEL(last), marked);
}

static void neck_pressed(GtkButton *button, Column *self)
{
  review_desk_set_connector(self->desk,
                            GPOINTER_TO_SIZE(g_object_get_data(G_OBJECT(button), "neck")));
}

static void told_set(Column *self, const Assessment *a)
{
  if (self->told)
    assessment_unref((Assessment *)self->told);
  self->told = a ? assessment_ref((Assessment *)a) : NULL;
  self->told_connector = review_desk_connector(self->desk);
  self->told_folded = self->folded;
}

static void table_show(Column *self)
{
  static const char *const head[COLUMNS] = {N_("neck"), N_("area / needs"), N_("height / needs"),
                                            N_("roof radius"), N_("margin")};
  const Evidence *e = with_answer(self);
  const Assessment *a = e ? e->a : NULL;
  if (a == self->told && self->told_connector == review_desk_connector(self->desk) &&
      self->folded == self->told_folded)
    return;
  told_set(self, a);
  for (GtkWidget *child; (child = gtk_widget_get_first_child(self->table));)
    gtk_grid_remove(GTK_GRID(self->table), child);
  if (!e)
    return;
  for (int i = 0; i < COLUMNS; i++) {
    GtkWidget *label = cell(self, i, 0, _(head[i]), "note");
    gtk_widget_add_css_class(label, "dim");
    gtk_label_set_wrap(GTK_LABEL(label), TRUE);
    gtk_label_set_justify(GTK_LABEL(label), i ? GTK_JUSTIFY_RIGHT : GTK_JUSTIFY_LEFT);
    gtk_widget_set_valign(label, GTK_ALIGN_END);
  }
  for (size_t i = 0; i < e->a->n_connector; i++) {
    neck_row(self, e, i, (int)i + 1);
    GtkWidget *button = gtk_grid_get_child_at(GTK_GRID(self->table), 0, (int)i + 1);
    g_signal_connect(button, "clicked", G_CALLBACK(neck_pressed), self);
  }
}

/* ---- waterfall ---- */

static const Waterfall *waterfall_of(Column *self)
{
  const Evidence *e = with_answer(self);
  size_t k = review_desk_connector(self->desk);
  return e && k < e->a->n_connector && e->a->connector[k].waterfall.known
             ? &e->a->connector[k].waterfall
             : NULL;
}

static void waterfall_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const Waterfall *waterfall = waterfall_of(data);
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  if (waterfall)
    picture_waterfall(cr, width, height, &context, waterfall);
}

static void waterfall_show(Column *self)
{
  const Waterfall *waterfall = waterfall_of(self);
  const Evidence *e = with_answer(self);
  Phrase phrase = waterfall ? waterfall_phrase(waterfall) : (Phrase){0};
  g_autofree char *words = waterfall                       ? words_phrase(&phrase)
                           : e && e->stage < EVIDENCE_REST ? g_strdup(_("being reckoned"))
                                                           : g_strdup("");
  char font[64];
  DrawContext context = draw_context_for(self->waterfall, font);
  gtk_label_set_text(GTK_LABEL(self->lost), words);
  gtk_widget_set_visible(self->lost, !waterfall); /* the picture tells it, listeners hear it */
  gtk_drawing_area_set_content_height(GTK_DRAWING_AREA(self->waterfall),
                                      (int)waterfall_height(&context));
  spoken_name(self->waterfall, words);
  gtk_widget_queue_draw(self->waterfall);
}

/* ---- history ---- */

static void entry_row(GtkWidget *grid, const HistoryEntry *entry, int row)
{
  static const char *const kind[ENTRY_KINDS] = {
      [ENTRY_CHANGE] = N_("changed"),    [ENTRY_SENT] = N_("sent"),
      [ENTRY_PASS] = N_("passed"),       [ENTRY_RETURN] = N_("returned"),
      [ENTRY_WAIT] = N_("left waiting"), [ENTRY_TAKEN_OVER] = N_("taken over"),
      [ENTRY_MERGE] = N_("put together")};
  g_autofree char *time = words_time(entry->time);
  g_autoptr(GString) what = g_string_new(kind[entry->kind] ? _(kind[entry->kind]) : "");
  if (*entry->text)
    g_string_append_printf(what, "%s%s", what->len ? ": " : "", entry->text);
  g_autofree char *change = words_change(entry->before, entry->after);
  if (*change)
    g_string_append_printf(what, " (%s)", change);
  const char *const text[] = {g_strstrip(time), *entry->initials ? entry->initials : entry->role,
                              what->str};
  for (int i = 0; i < 3; i++) {
    GtkWidget *label = part_label(text[i], "note");
    gtk_widget_set_valign(label, GTK_ALIGN_START);
    if (i == 2) {
      gtk_widget_set_hexpand(label, TRUE);
      gtk_label_set_wrap_mode(GTK_LABEL(label), PANGO_WRAP_WORD_CHAR);
      gtk_label_set_lines(GTK_LABEL(label), 4);
      gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
      spoken_tooltip(label, what->str);
    } else {
      gtk_widget_add_css_class(label, "dim");
      gtk_label_set_wrap(GTK_LABEL(label), FALSE);
    }
    gtk_grid_attach(GTK_GRID(grid), label, i, row, 1, 1);
  }
}

/* The newest first. */
static gboolean history_fill(void *data)
{
  Column *self = data;
  const Evidence *e = review_desk_evidence(self->desk);
  self->telling = 0;
  guint n = e->c.history->len;
  for (guint i = 0; i < MIN(n, HISTORY_SHOWN); i++)
    entry_row(self->history, e->c.history->pdata[n - 1 - i], (int)i);
  return G_SOURCE_REMOVE;
}

/* Many small parts that take longer to place than all others: a moment later. */
static void history_show(Column *self)
{
  const Evidence *e = review_desk_evidence(self->desk);
  const char *of = e && !e->unread && (e->a || e->fault) ? e->seen : "";
  if (strcmp(self->told_history, of) == 0)
    return;
  g_strlcpy(self->told_history, of, sizeof self->told_history);
  g_clear_handle_id(&self->telling, g_source_remove);
  for (GtkWidget *child; (child = gtk_widget_get_first_child(self->history));)
    gtk_grid_remove(GTK_GRID(self->history), child);
  guint n = *of ? e->c.history->len : 0;
  g_autofree char *spoken =
      g_strdup_printf(words_plural("History: %u entry", "History: %u entries", n), n);
  spoken_name(self->history, spoken);
  if (n)
    self->telling = g_timeout_add(HISTORY_MS, history_fill, self);
}

/* ---- all of it ---- */

static void class_when(GtkWidget *widget, const char *name, bool on)
{
  (on ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(widget, name);
}

static void label_show(GtkWidget *label, const char *text)
{
  gtk_label_set_text(GTK_LABEL(label), text);
  gtk_widget_set_visible(label, *text != '\0');
}

static void column_show(Column *self)
{
  const Evidence *e = review_desk_evidence(self->desk);
  const LabRow *row = review_desk_row(self->desk);
  bool read = e && !e->unread, wrong = false;
  g_autofree char *standing = read  ? evidence_words_standing(e)
                              : e   ? g_strdup(e->unread)
                              : row ? g_strdup(row->trouble)
                                    : g_strdup(""),
                  *record = read ? evidence_words_record(e, &wrong) : g_strdup("");
  label_show(self->standing, standing);
  label_show(self->record, record);
  class_when(self->record, "wrong", wrong);
  class_when(self->record, "dim", !wrong);
  class_when(self->standing, "wrong", e && e->unread);
  table_show(self);
  waterfall_show(self);
  history_show(self);
}

static void column_free(void *data)
{
  Column *self = data;
  g_signal_handlers_disconnect_by_data(self->desk, self);
  g_clear_handle_id(&self->telling, g_source_remove);
  told_set(self, NULL);
  g_object_unref(self->desk);
  g_free(self);
}

static GtkWidget *block_new(GtkWidget *column, const char *title)
{
  GtkWidget *block = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4);
  gtk_widget_add_css_class(block, "panel");
  if (title)
    gtk_box_append(GTK_BOX(block), part_label(title, "title"));
  gtk_box_append(GTK_BOX(column), block);
  return block;
}

static GtkWidget *grid_new(guint column_spacing, guint row_spacing)
{
  GtkWidget *grid = gtk_grid_new();
  gtk_grid_set_column_spacing(GTK_GRID(grid), column_spacing);
  gtk_grid_set_row_spacing(GTK_GRID(grid), row_spacing);
  return grid;
}

void evidence_column_fold(GtkWidget *column, bool folded)
{
  Column *self = g_object_get_data(G_OBJECT(column), "soffit-evidence-column");
  if (folded == self->folded)
    return;
  self->folded = folded;
  (folded ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(column, "folded");
  gtk_grid_set_column_spacing(GTK_GRID(self->table), folded ? 8 : 10);
  table_show(self);
}

GtkWidget *evidence_column_new(SoffitReviewDesk *desk)
{
  Column *self = g_new0(Column, 1);
  self->desk = g_object_ref(desk);
  GtkWidget *column = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *scroller = gtk_scrolled_window_new(), *block = block_new(column, NULL);
  gtk_widget_add_css_class(block, "first");
  self->standing = part_label("", "title");
  self->record = part_label("", "note");
  gtk_label_set_wrap_mode(GTK_LABEL(self->standing), PANGO_WRAP_WORD_CHAR);
  gtk_box_append(GTK_BOX(block), self->standing);
  gtk_box_append(GTK_BOX(block), self->record);
  gtk_box_append(GTK_BOX(block), evidence_since_new(desk));
  gtk_box_append(GTK_BOX(column), evidence_remarks_new(desk));
  self->table = grid_new(10, 2);
  gtk_box_append(GTK_BOX(block_new(column, NULL)), self->table);
  gtk_box_append(GTK_BOX(column), evidence_photos_new(desk));
  block = block_new(column, _("Where the margin goes"));
  self->lost = part_label("", "note");
  gtk_widget_add_css_class(self->lost, "dim");
  self->waterfall = gtk_drawing_area_new();
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(self->waterfall), waterfall_draw, self, NULL);
  gtk_box_append(GTK_BOX(block), self->lost);
  gtk_box_append(GTK_BOX(block), self->waterfall);
  self->history = grid_new(10, 3);
  gtk_widget_set_focusable(self->waterfall, TRUE); /* stops of Tab: brought into view by it */
  gtk_widget_set_focusable(self->history, TRUE);
  gtk_box_append(GTK_BOX(block_new(column, _("History"))), self->history);
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), column);
  gtk_widget_add_css_class(scroller, "side");
  g_object_set_data_full(G_OBJECT(scroller), "soffit-evidence-column", self, column_free);
  g_signal_connect_swapped(desk, "selected", G_CALLBACK(column_show), self);
  g_signal_connect_swapped(desk, "evidence", G_CALLBACK(column_show), self);
  column_show(self);
  return scroller;
}
