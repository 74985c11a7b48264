/* window.c - header, pages, actions of the window.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/window_private.h"
#include "ui/bars/bars_page.h"
#include "ui/canvas/canvas.h"
#include "ui/card_dialog.h"
#include "ui/case_dialog.h"
#include "ui/practice/practice_page.h"
#include "ui/records_dialog.h"
#include "ui/review/review_page.h"
#include "ui/spoken.h"
#include "ui/step_list.h"
#include "ui/trace/compare_window.h"
#include "ui/trace/send_bar.h"
#include "ui/trace/trace_page.h"
#include "ui/who_dialog.h"
#include "ui/words.h"

#define OPEN_WIDTH 1440
#define OPEN_HEIGHT 900
#define LEAST_WIDTH 900
#define LEAST_HEIGHT 640

G_DEFINE_FINAL_TYPE(SoffitWindow, window, GTK_TYPE_APPLICATION_WINDOW)

SoffitSession *window_session(SoffitWindow *self)
{
  return self->session;
}

void window_error(SoffitWindow *self, const char *text)
{
  message_bar_error(SOFFIT_MESSAGE_BAR(self->message), text);
}

/* The page of the drawing is always there. */
static SoffitTracePage *trace_of(SoffitWindow *self)
{
  return SOFFIT_TRACE_PAGE(self->page[WORKSPACE_TRACE]);
}

/* Whose drawing is in view; NULL: none, Ctrl+Z is that of the text. */
static SoffitSession *session_at_hand(SoffitWindow *self)
{
  if (self->at == WORKSPACE_PRACTICE && self->page[WORKSPACE_PRACTICE])
    return practice_desk_session(practice_page_desk(self->page[WORKSPACE_PRACTICE]));
  return self->at == WORKSPACE_TRACE ? self->session : NULL;
}

/* --- actions --- */

static void action_save(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)parameter;
  window_save(SOFFIT_WINDOW(widget), g_str_equal(name, "win.save-as"));
}

static void action_undo(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)parameter;
  SoffitSession *session = session_at_hand(SOFFIT_WINDOW(widget));
  if (session && g_str_equal(name, "win.undo"))
    session_undo(session);
  else if (session)
    session_redo(session);
}

static void action_steps(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  step_list_open(SOFFIT_WINDOW(widget)->steps);
}

static void action_edit_case(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  case_dialog_edit(GTK_WINDOW(widget), SOFFIT_WINDOW(widget)->session);
}

static void action_cards(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  card_dialog_new(GTK_WINDOW(widget));
}

static void action_records(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  const char *path = session_path(SOFFIT_WINDOW(widget)->session);
  g_autofree char *folder = path ? g_path_get_dirname(path) : NULL;
  records_dialog_new(GTK_WINDOW(widget), folder);
}

static void action_who(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  who_dialog_new(GTK_WINDOW(widget));
}

static void action_side_column(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  SoffitWindow *self = SOFFIT_WINDOW(widget);
  if (self->at == WORKSPACE_REVIEW)
    gtk_widget_activate_action(self->page[WORKSPACE_REVIEW], "review.fold", NULL);
  else
    trace_page_toggle_side(trace_of(self));
}

static void action_next_place(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  trace_page_next_place(trace_of(SOFFIT_WINDOW(widget)));
}

static void action_compare(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  compare_window_new(GTK_WINDOW(widget), SOFFIT_WINDOW(widget)->session);
}

static void action_best_outline(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  trace_page_best_outline(trace_of(SOFFIT_WINDOW(widget)));
}

static void action_photo(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  SoffitCanvas *canvas = SOFFIT_CANVAS(trace_page_canvas(trace_of(SOFFIT_WINDOW(widget))));
  window_show_workspace(SOFFIT_WINDOW(widget), WORKSPACE_TRACE);
  canvas_set_tool(canvas, &tool_photo);
  gtk_widget_grab_focus(GTK_WIDGET(canvas));
}

static void action_workspace(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name;
  Workspace to;
  if (workspace_from_id(g_variant_get_string(parameter, NULL), &to))
    window_show_workspace(SOFFIT_WINDOW(widget), to);
}

static void case_close(SoffitWindow *self, void *data)
{
  (void)data;
  session_close(self->session);
}

static void action_close_case(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  window_leave_case(SOFFIT_WINDOW(widget), case_close, NULL, NULL);
}

/* --- what the header says --- */

static void step_button_show(GtkWidget *button, const char *verb, const char *name)
{
  g_autofree char *text =
      name ? g_strdup_printf("%s: %s", verb, words_translate(name)) : g_strdup(verb);
  spoken_tooltip(button, text);
  spoken_name(button, text);
}

static void state_show(SoffitWindow *self)
{
  SoffitSession *session = self->session;
  const Case *c = session_case(session);
  bool open = session_has_case(session), modified = open && session_modified(session);
  SoffitSession *drawn = session_at_hand(self);
  const char *undo = drawn ? session_undo_name(drawn) : NULL,
             *redo = drawn ? session_redo_name(drawn) : NULL;
  gtk_widget_action_set_enabled(GTK_WIDGET(self), "win.undo", undo != NULL);
  gtk_widget_action_set_enabled(GTK_WIDGET(self), "win.redo", redo != NULL);
  gtk_widget_action_set_enabled(GTK_WIDGET(self), "win.save", modified);
  static const char *const need_case[] = {
      "win.save-as",      "win.edit-case", "win.side-column",    "win.next-place", "win.photo",
      "win.close-case",   "win.import",    "win.export-drawing", "win.send",       "win.steps",
      "win.best-outline", "win.compare",   "win.remark"};
  for (size_t i = 0; i < G_N_ELEMENTS(need_case); i++)
    gtk_widget_action_set_enabled(GTK_WIDGET(self), need_case[i], open);
  window_print_state(self);
  step_button_show(self->undo, _("Undo"), undo);
  step_button_show(self->redo, _("Redo"), redo);
  g_autofree char *number =
      !open ? g_strdup(_("Soffit"))
            : g_strdup_printf("%s%s%s", *c->number ? c->number : _("New case"),
                              session_read_only(session) ? _(" – read only") : "",
                              modified ? " •" : "");
  bool practises = self->at == WORKSPACE_PRACTICE && self->page[WORKSPACE_PRACTICE];
  g_autofree char *shown =
      practises ? practice_page_title(self->page[WORKSPACE_PRACTICE]) : g_strdup(number);
  gtk_label_set_text(GTK_LABEL(self->number), shown);
  gtk_widget_set_visible(self->where, !practises && *gtk_label_get_text(GTK_LABEL(self->where)));
  spoken_tooltip(self->number, modified ? _("changes not saved yet") : session_path(session));
  g_autofree char *title = open ? g_strdup_printf("%s – Soffit", number) : g_strdup(_("Soffit"));
  gtk_window_set_title(GTK_WINDOW(self), title);
  gtk_stack_set_visible_child_name(GTK_STACK(self->pages), self->at == WORKSPACE_TRACE && !open
                                                               ? "empty"
                                                               : workspace_id(self->at));
  workspace_switch_show(self->workspaces, self->at);
  if (self->send)
    gtk_widget_set_visible(self->send, self->at == WORKSPACE_TRACE);
  if (self->at == WORKSPACE_REVIEW)
    window_review_title(self);
}

/* "35/36 · drawn by the trainee, day 1" */
static void where_show(SoffitWindow *self)
{
  if (self->at == WORKSPACE_REVIEW)
    return;
  const Case *c = session_case(self->session);
  g_autofree char *where = NULL;
  if (session_has_case(self->session) && c->n_unit > 1) {
    char name[12];
    connector_name(c, session_focus(self->session), '/', name);
    where = *c->title ? g_strdup_printf("%s · %s", name, c->title) : g_strdup(name);
  }
  gtk_label_set_text(GTK_LABEL(self->where), where ? where : "");
  gtk_widget_set_visible(self->where, where != NULL && self->at != WORKSPACE_PRACTICE);
}

/* Undo and redo follow its drawing. */
static GtkWidget *practice_page_open(SoffitWindow *self)
{
  GtkWidget *page = practice_page_new(NULL);
  SoffitPracticeDesk *desk = practice_page_desk(page);
  g_signal_connect_object(practice_desk_session(desk), "state-changed", G_CALLBACK(state_show),
                          self, G_CONNECT_SWAPPED);
  g_signal_connect_object(desk, "exercise-changed", G_CALLBACK(state_show), self,
                          G_CONNECT_SWAPPED);
  return page;
}

/* A page is made when it is first asked for. */
static GtkWidget *page_new(SoffitWindow *self, Workspace workspace)
{
  switch (workspace) {
  case WORKSPACE_REVIEW:
    return window_review_new(self);
  case WORKSPACE_PRACTICE:
    return practice_page_open(self);
  case WORKSPACE_BARS:
    return bars_page_new(self->session);
  case WORKSPACE_TRACE:
  case WORKSPACE_N:
    break;
  }
  return trace_page_new(self->session);
}

GtkWidget *window_page(SoffitWindow *self, Workspace workspace)
{
  if (self->page[workspace])
    return self->page[workspace];
  self->page[workspace] = page_new(self, workspace);
  gtk_stack_add_named(GTK_STACK(self->pages), self->page[workspace], workspace_id(workspace));
  return self->page[workspace];
}

static void page_enter(SoffitWindow *self, Workspace workspace)
{
  switch (workspace) {
  case WORKSPACE_REVIEW:
    review_page_enter(SOFFIT_REVIEW_PAGE(self->page[workspace]));
    break;
  case WORKSPACE_PRACTICE:
    practice_page_enter(self->page[workspace]);
    break;
  case WORKSPACE_BARS:
    bars_page_enter(self->page[workspace]);
    break;
  case WORKSPACE_TRACE:
  case WORKSPACE_N:
    if (session_has_case(self->session))
      gtk_widget_grab_focus(trace_page_canvas(trace_of(self)));
  }
}

void window_show_workspace(SoffitWindow *self, Workspace to)
{
  bool moved = to != self->at;
  window_page(self, to);
  self->at = to;
  state_show(self);
  where_show(self);
  if (moved)
    page_enter(self, to);
}

static void workspace_chosen(void *window, Workspace to)
{
  window_show_workspace(window, to);
}

static void case_changed(SoffitWindow *self)
{
  state_show(self);
  where_show(self);
}

static void case_opened(SoffitWindow *self)
{
  self->at = WORKSPACE_TRACE;
  g_clear_pointer(&self->save_error, g_free); /* of another case */
  case_changed(self);
  if (session_has_case(self->session))
    gtk_widget_grab_focus(trace_page_canvas(trace_of(self)));
}

/* --- building --- */

static GtkWidget *header_button(const char *icon, const char *action)
{
  GtkWidget *button = gtk_button_new_from_icon_name(icon);
  gtk_actionable_set_action_name(GTK_ACTIONABLE(button), action);
  return button;
}

static GtkWidget *header_build(SoffitWindow *self)
{
  GtkWidget *header = gtk_header_bar_new(), *title = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 10);
  self->number = gtk_label_new(NULL);
  gtk_widget_add_css_class(self->number, "case-number");
  self->where = gtk_label_new(NULL);
  gtk_widget_add_css_class(self->where, "dim");
  gtk_label_set_ellipsize(GTK_LABEL(self->where), PANGO_ELLIPSIZE_END);
  gtk_box_append(GTK_BOX(title), self->number);
  gtk_box_append(GTK_BOX(title), self->where);
  gtk_header_bar_set_title_widget(GTK_HEADER_BAR(header), title);
  GtkWidget *menu = gtk_menu_button_new();
  g_autoptr(GMenuModel) model = window_menu();
  gtk_menu_button_set_icon_name(GTK_MENU_BUTTON(menu), "open-menu-symbolic");
  gtk_menu_button_set_menu_model(GTK_MENU_BUTTON(menu), model);
  gtk_menu_button_set_primary(GTK_MENU_BUTTON(menu), TRUE);
  spoken_tooltip(menu, _("Menu"));
  gtk_accessible_update_property(GTK_ACCESSIBLE(menu), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Menu"),
                                 -1);
  self->undo = header_button("edit-undo-symbolic", "win.undo");
  self->redo = header_button("edit-redo-symbolic", "win.redo");
  self->workspaces = workspace_switch_new(workspace_chosen, self);
  gtk_header_bar_pack_start(GTK_HEADER_BAR(header), self->workspaces);
  gtk_header_bar_pack_end(GTK_HEADER_BAR(header), menu);
  self->steps = step_list_button_new(self->session);
  gtk_header_bar_pack_end(GTK_HEADER_BAR(header), self->steps);
  gtk_header_bar_pack_end(GTK_HEADER_BAR(header), self->redo);
  gtk_header_bar_pack_end(GTK_HEADER_BAR(header), self->undo);
  return header;
}

/* Nothing open: what there is to see, and three ways on. */
static GtkWidget *empty_build(void)
{
  static const char *const text[] = {N_("New case…"), N_("Open…"), N_("Try QB-02")};
  static const char *const action[] = {"app.new", "app.open", "app.demo"};
  GtkWidget *page = gtk_box_new(GTK_ORIENTATION_VERTICAL, 16);
  GtkWidget *buttons = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *inner = gtk_box_new(GTK_ORIENTATION_VERTICAL, 16);
  GtkWidget *sentence = gtk_label_new(_("Draw an arch, open a case, or try QB-02."));
  gtk_widget_add_css_class(sentence, "case-number");
  GtkWidget *promise =
      gtk_label_new(_("See where a bridge is pulled, how much it holds and what would "
                      "help most. QB-02 is an invented case."));
  gtk_label_set_wrap(GTK_LABEL(promise), TRUE);
  gtk_label_set_justify(GTK_LABEL(promise), GTK_JUSTIFY_CENTER);
  gtk_widget_add_css_class(promise, "dim");
  gtk_widget_set_halign(buttons, GTK_ALIGN_CENTER);
  for (size_t i = 0; i < G_N_ELEMENTS(text); i++) {
    GtkWidget *button = gtk_button_new_with_label(_(text[i]));
    gtk_actionable_set_action_name(GTK_ACTIONABLE(button), action[i]);
    gtk_widget_add_css_class(button, i == 0 ? "strong" : "quiet");
    gtk_box_append(GTK_BOX(buttons), button);
  }
  gtk_box_append(GTK_BOX(inner), sentence);
  gtk_box_append(GTK_BOX(inner), promise);
  gtk_box_append(GTK_BOX(inner), buttons);
  gtk_widget_set_valign(inner, GTK_ALIGN_CENTER);
  gtk_widget_set_vexpand(inner, TRUE);
  gtk_box_append(GTK_BOX(page), inner);
  gtk_widget_add_css_class(page, "empty");
  return page;
}

static void leave_window(SoffitWindow *self, void *data)
{
  (void)data;
  session_close(self->session);
  self->leaving = true;
  gtk_window_close(GTK_WINDOW(self));
}

static gboolean window_close_request(GtkWindow *window)
{
  SoffitWindow *self = SOFFIT_WINDOW(window);
  if (!self->leaving && session_modified(self->session)) {
    window_leave_case(self, leave_window, NULL, NULL);
    return TRUE;
  }
  session_close(self->session); /* its recovery file goes */
  return GTK_WINDOW_CLASS(window_parent_class)->close_request(window);
}

static void window_dispose(GObject *object)
{
  SoffitWindow *self = SOFFIT_WINDOW(object);
  if (self->chooser) {
    gtk_native_dialog_destroy(GTK_NATIVE_DIALOG(self->chooser));
    g_clear_object(&self->chooser);
  }
  if (self->session)
    g_signal_handlers_disconnect_by_data(self->session, self);
  g_clear_object(&self->session);
  g_clear_pointer(&self->lock_told, g_free);
  g_clear_pointer(&self->save_error, g_free);
  G_OBJECT_CLASS(window_parent_class)->dispose(object);
}

static void window_class_init(SoffitWindowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
  G_OBJECT_CLASS(class)->dispose = window_dispose;
  GTK_WINDOW_CLASS(class)->close_request = window_close_request;
  gtk_widget_class_install_action(widget_class, "win.save", NULL, action_save);
  gtk_widget_class_install_action(widget_class, "win.save-as", NULL, action_save);
  gtk_widget_class_install_action(widget_class, "win.undo", NULL, action_undo);
  gtk_widget_class_install_action(widget_class, "win.redo", NULL, action_undo);
  gtk_widget_class_install_action(widget_class, "win.steps", NULL, action_steps);
  gtk_widget_class_install_action(widget_class, "win.edit-case", NULL, action_edit_case);
  gtk_widget_class_install_action(widget_class, "win.cards", NULL, action_cards);
  gtk_widget_class_install_action(widget_class, "win.photo", NULL, action_photo);
  gtk_widget_class_install_action(widget_class, "win.records", NULL, action_records);
  gtk_widget_class_install_action(widget_class, "win.who", NULL, action_who);
  gtk_widget_class_install_action(widget_class, "win.side-column", NULL, action_side_column);
  gtk_widget_class_install_action(widget_class, "win.compare", NULL, action_compare);
  gtk_widget_class_install_action(widget_class, "win.best-outline", NULL, action_best_outline);
  gtk_widget_class_install_action(widget_class, "win.next-place", NULL, action_next_place);
  gtk_widget_class_install_action(widget_class, "win.workspace", "s", action_workspace);
  gtk_widget_class_install_action(widget_class, "win.close-case", NULL, action_close_case);
  window_exercise_actions(widget_class);
  window_import_actions(widget_class);
  window_lock_actions(widget_class);
  window_print_actions(widget_class);
  window_review_actions(widget_class);
}

static void window_init(SoffitWindow *self)
{
  gtk_widget_add_css_class(GTK_WIDGET(self), "soffit");
  gtk_window_set_default_size(GTK_WINDOW(self), OPEN_WIDTH, OPEN_HEIGHT);
  gtk_widget_set_size_request(GTK_WIDGET(self), LEAST_WIDTH, LEAST_HEIGHT);
  self->session = session_new(NULL, NULL);
  gtk_window_set_titlebar(GTK_WINDOW(self), header_build(self));
  self->message = message_bar_new();
  self->pages = gtk_stack_new();
  gtk_widget_set_vexpand(self->pages, TRUE);
  gtk_stack_add_named(GTK_STACK(self->pages), empty_build(), "empty");
  window_page(self, WORKSPACE_TRACE);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append(GTK_BOX(box), window_lock_bar_new(self));
  gtk_box_append(GTK_BOX(box), self->message);
  self->send = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append(GTK_BOX(self->send), send_bar_new(self->session));
  gtk_box_append(GTK_BOX(box), self->send);
  gtk_box_append(GTK_BOX(box), self->pages);
  gtk_window_set_child(GTK_WINDOW(self), box);
  g_signal_connect_swapped(self->session, "case-opened", G_CALLBACK(case_opened), self);
  g_signal_connect_swapped(self->session, "case-changed", G_CALLBACK(where_show), self);
  g_signal_connect_swapped(self->session, "state-changed", G_CALLBACK(state_show), self);
  g_signal_connect_swapped(self->session, "lock-changed", G_CALLBACK(state_show), self);
  g_signal_connect_swapped(self->session, "focus-changed", G_CALLBACK(where_show), self);
  g_signal_connect_swapped(self->session, "assessment-changed", G_CALLBACK(window_print_state),
                           self);
  g_signal_connect_swapped(self->session, "autosave-failed", G_CALLBACK(window_autosave_failed),
                           self);
  g_signal_connect_object(canvas_photo(SOFFIT_CANVAS(trace_page_canvas(trace_of(self)))), "trouble",
                          G_CALLBACK(window_error), self, G_CONNECT_SWAPPED);
  window_take_drops(self);
  case_changed(self);
}

SoffitWindow *window_new(GtkApplication *application)
{
  return g_object_new(SOFFIT_TYPE_WINDOW, "application", application, NULL);
}
