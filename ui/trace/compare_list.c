/* compare_list.c - see compare_list.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/trace/compare_list.h"
#include "casefile/variant.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <string.h>

#define NAME_MOST 40

typedef struct {
  SoffitSession *session; /* owned ref */
  GtkWidget *box, *rows, *pin, *note;
  void (*show)(guint variant, void *data);
  void *data;
  guint shown, waiting; /* variant; idle source that makes the rows anew */
  size_t connector;
} CompareList;

static const Connector *connector_now(CompareList *self)
{
  return &session_case(self->session)->connector[session_focus(self->session)];
}

static guint row_of(GtkWidget *widget)
{
  return GPOINTER_TO_UINT(g_object_get_data(G_OBJECT(widget), "soffit-variant"));
}

static void variant_show(CompareList *self, guint variant)
{
  self->shown = variant < connector_now(self)->variant->len ? variant : G_MAXUINT;
  self->show(self->shown, self->data);
}

static void show_toggled(GtkCheckButton *button, CompareList *self)
{
  if (gtk_check_button_get_active(button))
    variant_show(self, row_of(GTK_WIDGET(button)));
}

static void name_keep(GtkWidget *entry, CompareList *self)
{
  const char *name = gtk_editable_get_text(GTK_EDITABLE(entry));
  guint i = row_of(entry);
  const GPtrArray *all = connector_now(self)->variant;
  if (i >= all->len || *name == '\0' || strcmp(((Variant *)all->pdata[i])->name, name) == 0)
    return;
  Case *c = session_edit_begin_series(self->session, N_("Rename a variant"));
  if (!c)
    return;
  Variant *variant = c->connector[session_focus(self->session)].variant->pdata[i];
  g_free(variant->name);
  variant->name = g_strdup(name);
  session_edit_end(self->session);
}

static void name_left(GtkEventControllerFocus *controller, CompareList *self)
{
  name_keep(gtk_event_controller_get_widget(GTK_EVENT_CONTROLLER(controller)), self);
}

static void taken(GtkWidget *button, CompareList *self)
{
  size_t connector = session_focus(self->session);
  Case *c = session_edit_begin(self->session, N_("Take a variant"));
  if (!c)
    return;
  if (variant_take(c, connector, row_of(button)))
    session_edit_cancel(self->session);
  else
    session_edit_end(self->session);
}

static void removed(GtkWidget *button, CompareList *self)
{
  Case *c = session_edit_begin(self->session, N_("Remove a variant"));
  if (!c)
    return;
  g_ptr_array_remove_index(c->connector[session_focus(self->session)].variant, row_of(button));
  session_edit_end(self->session);
}

static void pinned(CompareList *self)
{
  size_t connector = session_focus(self->session);
  guint n = connector_now(self)->variant->len;
  g_autofree char *name = g_strdup_printf(_("Variant %u"), n + 1);
  Case *c = session_edit_begin(self->session, N_("Pin a variant"));
  if (!c)
    return;
  if (variant_pin(&c->connector[connector], name))
    session_edit_cancel(self->session);
  else {
    session_edit_end(self->session);
    self->shown = n;
  }
}

static GtkWidget *row_button(CompareList *self, GtkWidget *row, guint i, const char *label,
                             const char *variant, void (*run)(GtkWidget *, CompareList *))
{
  GtkWidget *button = gtk_button_new_with_label(label);
  g_autofree char *spoken = g_strdup_printf("%s: %s", label, variant);
  spoken_name(button, spoken);
  g_object_set_data(G_OBJECT(button), "soffit-variant", GUINT_TO_POINTER(i));
  g_signal_connect(button, "clicked", G_CALLBACK(run), self);
  gtk_box_append(GTK_BOX(row), button);
  return button;
}

static void row_add(CompareList *self, guint i, const char *name, GtkWidget **group)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *check = gtk_check_button_new(), *entry = gtk_entry_new();
  g_autofree char *shows = g_strdup_printf("%s: %s", _("Show"), name);
  spoken_name(check, shows);
  spoken_tooltip(check, _("Show"));
  gtk_check_button_set_group(GTK_CHECK_BUTTON(check), *group ? GTK_CHECK_BUTTON(*group) : NULL);
  *group = check;
  gtk_check_button_set_active(GTK_CHECK_BUTTON(check), i == self->shown);
  gtk_editable_set_text(GTK_EDITABLE(entry), name);
  gtk_entry_set_max_length(GTK_ENTRY(entry), NAME_MOST);
  gtk_editable_set_width_chars(GTK_EDITABLE(entry), 12);
  gtk_widget_set_hexpand(entry, TRUE);
  spoken_name(entry, _("Name of the variant"));
  GtkWidget *const of[] = {check, entry};
  for (int k = 0; k < 2; k++) {
    g_object_set_data(G_OBJECT(of[k]), "soffit-variant", GUINT_TO_POINTER(i));
    gtk_box_append(GTK_BOX(row), of[k]);
  }
  GtkEventController *focus = gtk_event_controller_focus_new();
  g_signal_connect(focus, "leave", G_CALLBACK(name_left), self);
  gtk_widget_add_controller(entry, focus);
  g_signal_connect(entry, "activate", G_CALLBACK(name_keep), self);
  g_signal_connect(check, "toggled", G_CALLBACK(show_toggled), self);
  row_button(self, row, i, _("Take"), name, taken);
  row_button(self, row, i, _("Remove"), name, removed);
  gtk_box_append(GTK_BOX(self->rows), row);
}

/* Not while a row's own signal runs: it would be gone under it. */
static gboolean rows_make(void *data)
{
  CompareList *self = data;
  const GPtrArray *all = connector_now(self)->variant;
  self->waiting = 0;
  for (GtkWidget *row; (row = gtk_widget_get_first_child(self->rows)) != NULL;)
    gtk_box_remove(GTK_BOX(self->rows), row);
  if (self->connector != session_focus(self->session) || self->shown >= all->len)
    self->shown = all->len ? all->len - 1 : G_MAXUINT;
  self->connector = session_focus(self->session);
  GtkWidget *group = NULL;
  for (guint i = 0; i < all->len; i++)
    row_add(self, i, ((Variant *)all->pdata[i])->name, &group);
  gtk_widget_set_sensitive(self->pin, all->len < VARIANTS_MOST);
  gtk_label_set_text(GTK_LABEL(self->note),
                     all->len == VARIANTS_MOST ? _("Four are pinned. Remove one to pin another.")
                     : all->len                ? ""
                                               : _("Nothing is pinned yet. Pin the outline as it "
                                                                  "is, change it, and see both."));
  variant_show(self, self->shown);
  return G_SOURCE_REMOVE;
}

static void case_changed(CompareList *self)
{
  if (self->waiting == 0)
    self->waiting = g_idle_add(rows_make, self);
}

static void list_free(gpointer data)
{
  CompareList *self = data;
  g_clear_handle_id(&self->waiting, g_source_remove);
  g_signal_handlers_disconnect_by_data(self->session, self);
  g_object_unref(self->session);
  g_free(self);
}

GtkWidget *compare_list_new(SoffitSession *session, void (*show)(guint variant, void *data),
                            void *data)
{
  CompareList *self = g_new0(CompareList, 1);
  self->session = g_object_ref(session);
  self->show = show;
  self->data = data;
  self->shown = G_MAXUINT;
  self->connector = SIZE_MAX;
  self->box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  self->rows = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6);
  self->pin = gtk_button_new_with_label(_("Pin the outline as it is"));
  self->note = gtk_label_new(NULL);
  gtk_label_set_wrap(GTK_LABEL(self->note), TRUE);
  gtk_label_set_xalign(GTK_LABEL(self->note), 0);
  gtk_label_set_max_width_chars(GTK_LABEL(self->note), 30);
  gtk_widget_add_css_class(self->note, "dim");
  gtk_widget_add_css_class(self->pin, "strong");
  gtk_box_append(GTK_BOX(self->box), self->pin);
  gtk_box_append(GTK_BOX(self->box), self->rows);
  gtk_box_append(GTK_BOX(self->box), self->note);
  g_signal_connect_swapped(self->pin, "clicked", G_CALLBACK(pinned), self);
  g_signal_connect_swapped(session, "case-changed", G_CALLBACK(case_changed), self);
  g_signal_connect_swapped(session, "focus-changed", G_CALLBACK(case_changed), self);
  g_object_set_data_full(G_OBJECT(self->box), "soffit-compare-list", self, list_free);
  case_changed(self);
  return self->box;
}
