/* queue_pane.c - the cases of the lab beside the evidence: chips, search, order, list or table.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/parts.h"
#include "ui/preferences.h"
#include "ui/review/queue_list.h"
#include "ui/review/queue_table.h"
#include "ui/review/review_parts.h"
#include "ui/sign.h"
#include "ui/spoken.h"
#include "ui/tab_stop.h"
#include "ui/words.h"
#include "ui/wrap_row.h"

#define PREFERENCE "review-as-table"
#define LOOKED_AT 24 /* rows around the one at hand that are assessed first */

typedef struct {
  SoffitReviewDesk *desk; /* owned ref */
  GtkWidget *search, *chip[QUEUE_FACETS], *count[QUEUE_FACETS], *waiting, *order, *columns, *keep,
      *other, *list, *table, *empty, *stack, *foot;
  GtkSingleSelection *selection; /* owned ref */
  bool showing, as_table;
  bool focus;   /* wanted for the row of the case at hand */
  guint follow; /* idle source */
} QueuePane;

static QueuePane *pane_of(GtkWidget *widget)
{
  return g_object_get_data(G_OBJECT(widget), "soffit-queue-pane");
}

static GtkWidget *rows_shown(QueuePane *self)
{
  return self->as_table ? queue_table_rows(SOFFIT_QUEUE_TABLE(self->table))
                        : gtk_scrolled_window_get_child(GTK_SCROLLED_WINDOW(self->list));
}

GtkWidget *queue_pane_list(GtkWidget *pane)
{
  return rows_shown(pane_of(pane));
}

void queue_pane_search(GtkWidget *pane)
{
  gtk_widget_grab_focus(pane_of(pane)->search);
}

/* ---- what is wanted ---- */

static void view_take(QueuePane *self)
{
  if (self->showing)
    return;
  QueueView view = *queue_view(review_desk_queue(self->desk));
  for (QueueFacet facet = QUEUE_ALL; facet < QUEUE_FACETS; facet++)
    if (gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(self->chip[facet])))
      view.facet = facet;
  view.waiting = gtk_toggle_button_get_active(GTK_TOGGLE_BUTTON(self->waiting));
  QueueOrder order = (QueueOrder)gtk_drop_down_get_selected(GTK_DROP_DOWN(self->order));
  view.reversed = view.reversed && order == view.order;
  view.order = order;
  view.words = (char *)gtk_editable_get_text(GTK_EDITABLE(self->search));
  queue_set_view(review_desk_queue(self->desk), &view);
}

static void chip_toggled(GtkToggleButton *chip, QueuePane *self)
{
  if (gtk_toggle_button_get_active(chip))
    view_take(self);
}

static void counts_show(QueuePane *self)
{
  SoffitQueue *queue = review_desk_queue(self->desk);
  for (QueueFacet facet = QUEUE_ALL; facet < QUEUE_FACETS; facet++) {
    g_autofree char *text =
        g_strdup_printf("%s %u", _(queue_facet_name(facet)), queue_count(queue, facet));
    gtk_label_set_text(GTK_LABEL(self->count[facet]), text);
    spoken_name(self->chip[facet], text);
  }
  gtk_widget_set_visible(self->chip[QUEUE_UNREADABLE],
                         queue_count(queue, QUEUE_UNREADABLE) > 0 ||
                             queue_view(queue)->facet == QUEUE_UNREADABLE);
}

/* What a saved filter wants, in the chips. */
static void view_show(QueuePane *self)
{
  const QueueView *view = queue_view(review_desk_queue(self->desk));
  self->showing = true;
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->chip[view->facet]), TRUE);
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->waiting), view->waiting);
  gtk_drop_down_set_selected(GTK_DROP_DOWN(self->order), view->order);
  bool typing = gtk_widget_get_state_flags(self->search) & GTK_STATE_FLAG_FOCUS_WITHIN;
  if (!typing && /* what is being typed is not taken yet */
      g_strcmp0(gtk_editable_get_text(GTK_EDITABLE(self->search)),
                view->words ? view->words : "") != 0)
    gtk_editable_set_text(GTK_EDITABLE(self->search), view->words ? view->words : "");
  self->showing = false;
  g_autofree char *order =
      g_strdup_printf("%s: %s", _("Order of the cases"), _(queue_order_name(view->order)));
  spoken_name(gtk_widget_get_first_child(self->order), order); /* its button takes the focus */
}

/* ---- below the list ---- */

static void foot_show(QueuePane *self)
{
  SoffitLabDesk *lab = review_desk_lab(self->desk);
  LabProgress progress = lab_desk_progress(lab);
  const char *folder = lab_desk_folder(lab), *trouble = lab_desk_trouble(lab);
  g_autofree char *name = folder ? g_filename_display_basename(folder) : g_strdup("");
  g_autofree char *text =
      trouble            ? g_strdup(trouble)
      : !progress.listed ? g_strdup_printf(_("%s: looking for cases"), name)
      : progress.over ? g_strdup_printf(words_plural("%s: %u case", "%s: %u cases", progress.files),
                                        name, progress.files)
                      : g_strdup_printf(_("%s: %u of %u judged"), name,
                                        progress.ready + progress.unreadable, progress.files);
  if (strcmp(gtk_label_get_text(GTK_LABEL(self->foot)), text) != 0)
    gtk_label_set_text(GTK_LABEL(self->foot), text);
  spoken_tooltip(self->foot, folder);
}

static void empty_show(QueuePane *self)
{
  SoffitQueue *queue = review_desk_queue(self->desk);
  const QueueView *view = queue_view(queue);
  guint today = review_desk_today(self->desk);
  bool none = g_list_model_get_n_items(G_LIST_MODEL(queue)) == 0;
  LabProgress progress = lab_desk_progress(review_desk_lab(self->desk));
  gtk_stack_set_visible_child_name(GTK_STACK(self->stack), none             ? "empty"
                                                           : self->as_table ? "table"
                                                                            : "list");
  if (!none)
    return;
  g_autofree char *day = g_strdup_printf(
      words_plural("Decided today: %u case.", "Decided today: %u cases.", today), today);
  g_autofree char *text =
      !progress.over ? g_strdup(_("The cases are being read."))
      : view->waiting && view->facet == QUEUE_ALL && !(view->words && *view->words)
          ? g_strdup_printf("%s\n%s", _("Nothing waits."), day)
          : g_strdup(_("No case is like that. Take a chip or a word away."));
  gtk_label_set_text(GTK_LABEL(self->empty), text);
}

static void queue_counted(QueuePane *self)
{
  counts_show(self);
  view_show(self);
  foot_show(self);
  empty_show(self);
}

/* ---- the list ---- */

/* Those around the selected one are assessed first. */
static void around_hurry(QueuePane *self, guint at)
{
  const char *file[LOOKED_AT];
  size_t n = 0;
  for (guint i = at; i < at + LOOKED_AT; i++) {
    g_autoptr(SoffitLabItem) item =
        g_list_model_get_item(G_LIST_MODEL(review_desk_queue(self->desk)), i);
    if (item)
      file[n++] = lab_item_row(item)->file;
  }
  lab_desk_look_at(review_desk_lab(self->desk), file, n);
}

static void selection_moved(QueuePane *self)
{
  SoffitLabItem *item = gtk_single_selection_get_selected_item(self->selection);
  const char *file = item ? lab_item_row(item)->file : NULL;
  if (!self->showing && file && g_strcmp0(file, review_desk_file(self->desk)) != 0)
    review_desk_select(self->desk, file);
}

/* The focus goes along with the case at hand, once its row is there. */
static gboolean focus_follow(void *data)
{
  QueuePane *self = data;
  GtkWidget *rows = rows_shown(self), *child = gtk_widget_get_first_child(rows);
  bool wanted = self->focus || gtk_widget_get_focus_child(rows) != NULL;
  self->follow = 0;
  self->focus = false;
  for (; wanted && child; child = gtk_widget_get_next_sibling(child))
    if (gtk_widget_get_state_flags(child) & GTK_STATE_FLAG_SELECTED)
      gtk_widget_grab_focus(child);
  return G_SOURCE_REMOVE;
}

/* The row of the case at hand is the selected one, and in view. */
static void desk_selected(QueuePane *self)
{
  const char *file = review_desk_file(self->desk);
  guint at = file ? queue_position(review_desk_queue(self->desk), file) : GTK_INVALID_LIST_POSITION;
  self->showing = true;
  gtk_single_selection_set_selected(self->selection, at);
  self->showing = false;
  if (at != GTK_INVALID_LIST_POSITION) {
    gtk_widget_activate_action(rows_shown(self), "list.scroll-to-item", "u", at);
    around_hurry(self, at);
    if (!self->follow)
      self->follow = g_idle_add_full(GDK_PRIORITY_REDRAW + 10, focus_follow, self, NULL);
  }
}

/* ---- rows or table ---- */

/* The one that is not shown rests without rows. */
static void view_choose(QueuePane *self, bool as_table)
{
  GtkSelectionModel *model = GTK_SELECTION_MODEL(self->selection);
  self->as_table = as_table;
  queue_list_set_model(self->list, as_table ? NULL : model);
  queue_table_set_model(SOFFIT_QUEUE_TABLE(self->table), as_table ? model : NULL);
  gtk_widget_set_visible(self->columns, as_table);
  gtk_widget_set_visible(self->keep, as_table);
  gtk_button_set_label(GTK_BUTTON(self->other), as_table ? _("Rows") : _("Table"));
  spoken_tooltip(self->other,
                 as_table ? _("Rows beside the evidence (T)") : _("Cases as a table (T)"));
  empty_show(self);
}

bool queue_pane_as_table(GtkWidget *pane)
{
  return pane_of(pane)->as_table;
}

void queue_pane_set_as_table(GtkWidget *pane, bool as_table)
{
  QueuePane *self = pane_of(pane);
  if (as_table == self->as_table)
    return;
  view_choose(self, as_table);
  preference_flag_set(PREFERENCE, as_table);
  self->focus = true;
  desk_selected(self);
}

int queue_pane_table_width(GtkWidget *pane, bool folded)
{
  queue_table_fold(SOFFIT_QUEUE_TABLE(pane_of(pane)->table), folded);
  return queue_table_width(SOFFIT_QUEUE_TABLE(pane_of(pane)->table));
}

void queue_pane_fold(GtkWidget *pane, bool folded)
{
  queue_list_fold(pane_of(pane)->list, folded);
}

GString *queue_pane_export(GtkWidget *pane, ExportForm form)
{
  QueuePane *self = pane_of(pane);
  QueueOrder column[QUEUE_ORDERS];
  size_t n = queue_table_shown(SOFFIT_QUEUE_TABLE(self->table), column);
  return queue_export(review_desk_queue(self->desk), column, n, form);
}

void queue_pane_sort(GtkWidget *pane, guint column)
{
  if (pane_of(pane)->as_table)
    queue_table_sort(SOFFIT_QUEUE_TABLE(pane_of(pane)->table), column);
}

static GtkWidget *views_build(QueuePane *self)
{
  self->selection =
      gtk_single_selection_new(G_LIST_MODEL(g_object_ref(review_desk_queue(self->desk))));
  gtk_single_selection_set_autoselect(self->selection, FALSE);
  gtk_single_selection_set_can_unselect(self->selection, TRUE);
  g_signal_connect_swapped(self->selection, "notify::selected-item", G_CALLBACK(selection_moved),
                           self);
  self->list = queue_list_new();
  self->table = queue_table_new(review_desk_queue(self->desk));
  self->empty = gtk_label_new("");
  gtk_label_set_justify(GTK_LABEL(self->empty), GTK_JUSTIFY_CENTER);
  gtk_label_set_wrap(GTK_LABEL(self->empty), TRUE);
  gtk_widget_add_css_class(self->empty, "queue-empty");
  self->stack = gtk_stack_new();
  gtk_stack_add_named(GTK_STACK(self->stack), self->list, "list");
  gtk_stack_add_named(GTK_STACK(self->stack), self->table, "table");
  gtk_stack_add_named(GTK_STACK(self->stack), self->empty, "empty");
  gtk_stack_set_hhomogeneous(GTK_STACK(self->stack), FALSE);
  gtk_widget_set_vexpand(self->stack, TRUE);
  return tab_stop_new(self->stack);
}

/* ---- building ---- */

static GtkWidget *chip_build(QueuePane *self, QueueFacet facet)
{
  static const Verdict verdict[QUEUE_FACETS] = {VERDICT_NONE, VERDICT_REWORK, VERDICT_CLOSE,
                                                VERDICT_HOLDS, VERDICT_NONE};
  GtkWidget *chip = gtk_toggle_button_new(), *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 4),
            *sign = sign_new(15);
  sign_set(SOFFIT_SIGN(sign), verdict[facet]);
  self->count[facet] = gtk_label_new("");
  gtk_box_append(GTK_BOX(box), sign);
  gtk_box_append(GTK_BOX(box), self->count[facet]);
  gtk_button_set_child(GTK_BUTTON(chip), box);
  gtk_widget_add_css_class(chip, "chip");
  if (facet)
    gtk_toggle_button_set_group(GTK_TOGGLE_BUTTON(chip), GTK_TOGGLE_BUTTON(self->chip[0]));
  return chip;
}

static void chips_build(QueuePane *self, SoffitWrapRow *row)
{
  for (QueueFacet facet = QUEUE_ALL; facet < QUEUE_FACETS; facet++)
    wrap_row_append(row, self->chip[facet] = chip_build(self, facet));
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->chip[QUEUE_ALL]), TRUE);
  for (QueueFacet facet = QUEUE_ALL; facet < QUEUE_FACETS; facet++)
    g_signal_connect(self->chip[facet], "toggled", G_CALLBACK(chip_toggled), self);
}

static void order_build(QueuePane *self, SoffitWrapRow *row)
{
  const char *name[QUEUE_ORDERS + 1] = {NULL};
  for (QueueOrder order = ORDER_WORST; order < QUEUE_ORDERS; order++)
    name[order] = _(queue_order_name(order));
  self->waiting = gtk_toggle_button_new_with_label(_("waiting only"));
  gtk_widget_add_css_class(self->waiting, "chip");
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->waiting), TRUE);
  self->order = gtk_drop_down_new_from_strings(name);
  gtk_widget_add_css_class(self->order, "order");
  gtk_widget_set_hexpand(self->order, TRUE);
  gtk_widget_set_halign(self->order, GTK_ALIGN_END);
  g_signal_connect_swapped(self->waiting, "toggled", G_CALLBACK(view_take), self);
  g_signal_connect_swapped(self->order, "notify::selected", G_CALLBACK(view_take), self);
  wrap_row_append(row, self->waiting);
  wrap_row_append(row, self->order);
}

/* Enter among the words: to the list that they left. */
static void list_enter(QueuePane *self)
{
  view_take(self); /* not a moment later: a count in between would take the words away */
  gtk_widget_grab_focus(rows_shown(self));
}

static GtkWidget *head_build(QueuePane *self)
{
  GtkWidget *head = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8),
            *top = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6), *below = wrap_row_new(4, 8);
  self->search = gtk_search_entry_new();
  g_object_set(self->search, "placeholder-text", _("Words: TR rework 3Y"), NULL);
  gtk_widget_set_hexpand(self->search, TRUE);
  spoken_name(self->search, _("Show cases with these words"));
  g_signal_connect_swapped(self->search, "search-changed", G_CALLBACK(view_take), self);
  g_signal_connect_swapped(self->search, "activate", G_CALLBACK(list_enter), self);
  gtk_box_append(GTK_BOX(top), self->search);
  self->other = gtk_button_new();
  self->columns = columns_menu_new(SOFFIT_QUEUE_TABLE(self->table));
  gtk_widget_add_css_class(self->other, "small");
  gtk_actionable_set_action_name(GTK_ACTIONABLE(self->other), "review.table");
  gtk_box_append(GTK_BOX(top), queue_filters_new(self->desk));
  gtk_box_append(GTK_BOX(top), self->columns);
  self->keep = gtk_button_new_with_label(_("Save…"));
  spoken_tooltip(self->keep, _("Save this table to a file, CSV or JSON (E)"));
  gtk_widget_add_css_class(self->keep, "small");
  gtk_actionable_set_action_name(GTK_ACTIONABLE(self->keep), "win.keep-table");
  gtk_box_append(GTK_BOX(top), self->keep);
  gtk_box_append(GTK_BOX(top), self->other);
  chips_build(self, SOFFIT_WRAP_ROW(below));
  order_build(self, SOFFIT_WRAP_ROW(below));
  gtk_box_append(GTK_BOX(head), top);
  gtk_box_append(GTK_BOX(head), below);
  gtk_widget_add_css_class(head, "queue-head");
  return head;
}

static GtkWidget *foot_build(QueuePane *self)
{
  static const struct {
    const char *text, *action;
  } button[] = {{N_("Figures…"), "review.figures"},
                {N_("Limits…"), "review.limits"},
                {N_("Folder…"), "win.open-lab"}};
  GtkWidget *foot = wrap_row_new(6, 4), *buttons = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
  self->foot = part_label("", "note");
  gtk_label_set_lines(GTK_LABEL(self->foot), 3);
  gtk_label_set_ellipsize(GTK_LABEL(self->foot), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand(self->foot, TRUE);
  wrap_row_append(SOFFIT_WRAP_ROW(foot), self->foot);
  for (size_t i = 0; i < G_N_ELEMENTS(button); i++) {
    GtkWidget *one = gtk_button_new_with_label(_(button[i].text));
    gtk_actionable_set_action_name(GTK_ACTIONABLE(one), button[i].action);
    gtk_widget_add_css_class(one, "small");
    gtk_widget_set_valign(one, GTK_ALIGN_CENTER);
    gtk_box_append(GTK_BOX(buttons), one);
  }
  wrap_row_append(SOFFIT_WRAP_ROW(foot), buttons);
  gtk_widget_add_css_class(foot, "queue-foot");
  return foot;
}

static void pane_free(void *data)
{
  QueuePane *self = data;
  g_clear_handle_id(&self->follow, g_source_remove);
  g_signal_handlers_disconnect_by_data(review_desk_queue(self->desk), self);
  g_signal_handlers_disconnect_by_data(review_desk_lab(self->desk), self);
  g_signal_handlers_disconnect_by_data(self->desk, self);
  g_signal_handlers_disconnect_by_data(self->selection, self);
  g_object_unref(self->selection);
  g_object_unref(self->desk);
  g_free(self);
}

GtkWidget *queue_pane_new(SoffitReviewDesk *desk)
{
  QueuePane *self = g_new0(QueuePane, 1);
  self->desk = g_object_ref(desk);
  GtkWidget *pane = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *views = views_build(self);
  gtk_box_append(GTK_BOX(pane), head_build(self));
  gtk_box_append(GTK_BOX(pane), views);
  gtk_box_append(GTK_BOX(pane), foot_build(self));
  gtk_widget_add_css_class(pane, "queue-pane");
  g_object_set_data_full(G_OBJECT(pane), "soffit-queue-pane", self, pane_free);
  g_signal_connect_swapped(review_desk_queue(desk), "counted", G_CALLBACK(queue_counted), self);
  g_signal_connect_swapped(review_desk_lab(desk), "state-changed", G_CALLBACK(queue_counted), self);
  g_signal_connect_swapped(desk, "selected", G_CALLBACK(desk_selected), self);
  view_choose(self, preference_flag(PREFERENCE, false));
  queue_counted(self);
  desk_selected(self);
  return pane;
}
