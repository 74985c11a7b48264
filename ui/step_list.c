/* step_list.c - see step_list.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The list is made when it is opened, newest state first, and made again while it is open. */
#include "ui/step_list.h"
#include "ui/spoken.h"
#include "ui/step_words.h"
#include "ui/words.h"
#include <math.h>

#define LIST_HEIGHT 420
#define STATE "soffit-state"
#define STEP_LIST "soffit-step-list"

typedef struct {
  SoffitSession *session; /* owned ref */
  GtkWidget *button, *title, *list, *scroller;
  GtkWidget *focus_before; /* weak: had the focus when a key opened the list */
  guint refill, back;      /* idles */
} StepList;

static GtkWidget *label_new(const char *text, const char *class_name, float xalign)
{
  GtkWidget *label = gtk_label_new(text);
  gtk_label_set_xalign(GTK_LABEL(label), xalign);
  if (class_name)
    gtk_widget_add_css_class(label, class_name);
  return label;
}

static GtkWidget *row_new(StepList *self, size_t i, size_t connector)
{
  SessionState state = session_state(self->session, i, connector);
  bool at_hand = i == session_state_at(self->session), undone = i > session_state_at(self->session);
  g_autofree char *peak = step_peak_text(state.peak_mpa);
  g_autofree char *change =
      step_change_text(step_peak_before(self->session, i, connector), state.peak_mpa);
  GtkWidget *row = gtk_list_box_row_new(), *grid = gtk_grid_new();
  GtkWidget *name = label_new(state.name ? _(state.name) : _("As opened"), NULL, 0);
  gtk_widget_set_hexpand(name, TRUE);
  gtk_grid_set_column_spacing(GTK_GRID(grid), 20);
  gtk_grid_attach(GTK_GRID(grid), name, 0, 0, 1, 1);
  gtk_grid_attach(GTK_GRID(grid), label_new(peak, NULL, 1), 1, 0, 1, 1);
  GtkWidget *note = label_new(at_hand ? _("at hand") : undone ? _("undone") : "", "note", 0);
  gtk_widget_add_css_class(note, "dim");
  gtk_grid_attach(GTK_GRID(grid), note, 0, 1, 1, 1);
  gtk_grid_attach(GTK_GRID(grid), label_new(change, "note", 1), 1, 1, 1, 1);
  gtk_list_box_row_set_child(GTK_LIST_BOX_ROW(row), grid);
  if (at_hand)
    gtk_widget_add_css_class(row, "now");
  if (undone)
    gtk_widget_add_css_class(row, "dim");
  g_autofree char *spoken = step_sentence(self->session, i, connector);
  spoken_name(row, spoken);
  g_object_set_data(G_OBJECT(row), STATE, GSIZE_TO_POINTER(i));
  return row;
}

static void list_fill(StepList *self)
{
  GtkListBox *list = GTK_LIST_BOX(self->list);
  size_t connector = session_focus(self->session), n = session_states(self->session);
  for (GtkWidget *row; (row = gtk_widget_get_first_child(self->list));)
    gtk_list_box_remove(list, row);
  char name[12] = "";
  const Case *c = session_case(self->session);
  if (connector + 1 < c->n_unit)
    connector_name(c, connector, '/', name);
  g_autofree char *title = g_strdup_printf(_("Steps · pull at %s under the trial load"), name);
  gtk_label_set_text(GTK_LABEL(self->title), title);
  for (size_t i = n; i-- > 0;)
    gtk_list_box_append(list, row_new(self, i, connector));
  int at = (int)(n - 1 - session_state_at(self->session));
  GtkListBoxRow *row = gtk_list_box_get_row_at_index(list, at);
  gtk_list_box_select_row(list, row);
  gtk_widget_grab_focus(GTK_WIDGET(row));
}

static gboolean refill(void *data)
{
  StepList *self = data;
  self->refill = 0;
  list_fill(self);
  return G_SOURCE_REMOVE;
}

static bool shown(StepList *self)
{
  GtkPopover *popover = gtk_menu_button_get_popover(GTK_MENU_BUTTON(self->button));
  return popover && gtk_widget_get_visible(GTK_WIDGET(popover));
}

static void session_moved(StepList *self)
{
  gtk_widget_set_sensitive(self->button, session_states(self->session) > 1);
  if (shown(self) && self->refill == 0)
    self->refill = g_idle_add(refill, self);
}

static void opened(GtkWidget *popover, StepList *self)
{
  (void)popover;
  list_fill(self);
}

/* Back to where the hand was, the drawing mostly. */
static gboolean focus_back(void *data)
{
  StepList *self = data;
  self->back = 0;
  if (self->focus_before)
    gtk_widget_grab_focus(self->focus_before);
  g_clear_weak_pointer(&self->focus_before);
  return G_SOURCE_REMOVE;
}

static void closed(GtkWidget *popover, StepList *self)
{
  (void)popover;
  if (self->back == 0) /* after the button took it */
    self->back = g_idle_add(focus_back, self);
}

void step_list_open(GtkWidget *button)
{
  StepList *self = g_object_get_data(G_OBJECT(button), STEP_LIST);
  g_set_weak_pointer(&self->focus_before, gtk_root_get_focus(gtk_widget_get_root(button)));
  gtk_menu_button_popup(GTK_MENU_BUTTON(button));
}

static void chosen(GtkListBox *list, GtkListBoxRow *row, StepList *self)
{
  (void)list;
  session_go_to(self->session, GPOINTER_TO_SIZE(g_object_get_data(G_OBJECT(row), STATE)));
}

static void list_free(void *data)
{
  StepList *self = data;
  g_clear_handle_id(&self->refill, g_source_remove);
  g_clear_handle_id(&self->back, g_source_remove);
  g_clear_weak_pointer(&self->focus_before);
  g_signal_handlers_disconnect_by_data(self->session, self);
  g_object_unref(self->session);
  g_free(self);
}

GtkWidget *step_list_button_new(SoffitSession *session)
{
  StepList *self = g_new0(StepList, 1);
  self->session = g_object_ref(session);
  self->button = gtk_menu_button_new();
  gtk_menu_button_set_icon_name(GTK_MENU_BUTTON(self->button), "document-open-recent-symbolic");
  GtkWidget *popover = gtk_popover_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  self->title = label_new(NULL, "title", 0);
  self->list = gtk_list_box_new();
  gtk_widget_add_css_class(self->list, "rows");
  gtk_list_box_set_selection_mode(GTK_LIST_BOX(self->list), GTK_SELECTION_BROWSE);
  self->scroller = gtk_scrolled_window_new();
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(self->scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height(GTK_SCROLLED_WINDOW(self->scroller), TRUE);
  gtk_scrolled_window_set_max_content_height(GTK_SCROLLED_WINDOW(self->scroller), LIST_HEIGHT);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(self->scroller), self->list);
  gtk_box_append(GTK_BOX(box), self->title);
  gtk_box_append(GTK_BOX(box), self->scroller);
  gtk_popover_set_child(GTK_POPOVER(popover), box);
  gtk_widget_add_css_class(popover, "sources");
  gtk_widget_add_css_class(popover, "steps");
  gtk_menu_button_set_popover(GTK_MENU_BUTTON(self->button), popover);
  spoken_name(self->button, _("Steps"));
  spoken_name(self->list, _("Steps"));
  spoken_tooltip(self->button, _("All steps, and what each did to the pull (Ctrl+H)"));
  g_signal_connect(popover, "show", G_CALLBACK(opened), self);
  g_signal_connect(popover, "closed", G_CALLBACK(closed), self);
  g_signal_connect(self->list, "row-activated", G_CALLBACK(chosen), self);
  static const char *const watch[] = {"state-changed", "assessment-changed", "focus-changed",
                                      "case-opened"};
  for (size_t i = 0; i < G_N_ELEMENTS(watch); i++)
    g_signal_connect_swapped(session, watch[i], G_CALLBACK(session_moved), self);
  g_object_set_data_full(G_OBJECT(self->button), STEP_LIST, self, list_free);
  session_moved(self);
  return self->button;
}
