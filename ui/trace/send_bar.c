/* send_bar.c - see send_bar.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/trace/send_bar.h"
#include "record/decision.h"
#include "ui/parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define WORDS_WIDE 56 /* characters of a remark in a line */
#define WORDS_LINES 5

typedef struct {
  SoffitSession *session; /* owned ref */
  GtkWidget *bar, *text, *menu, *rows;
} SendBar;

static void settled_toggled(GtkCheckButton *check, SendBar *self)
{
  guint i = GPOINTER_TO_UINT(g_object_get_data(G_OBJECT(check), "remark"));
  bool settled = gtk_check_button_get_active(check);
  Case *c = session_edit_begin(self->session, N_("Settle a remark"));
  if (!c || i >= c->remark->len)
    return;
  ((Remark *)c->remark->pdata[i])->settled = settled ? ANSWER_YES : ANSWER_NO;
  session_edit_end(self->session);
}

/* When the list opens: as the case has them then. */
static void rows_show(SendBar *self)
{
  const Case *c = session_case(self->session);
  for (GtkWidget *child; (child = gtk_widget_get_first_child(self->rows));)
    gtk_box_remove(GTK_BOX(self->rows), child);
  for (guint i = 0; i < c->remark->len; i++) {
    const Remark *remark = c->remark->pdata[i];
    char name[12] = "";
    if (remark->connector < c->n_unit - 1) /* else: of the bridge */
      connector_name(c, remark->connector, '/', name);
    g_autofree char *text =
        g_strdup_printf("%u  %s%s%s", i + 1, name, *name ? ": " : "", remark->text);
    GtkWidget *check = gtk_check_button_new(), *words = part_label(text, NULL);
    gtk_label_set_wrap_mode(GTK_LABEL(words), PANGO_WRAP_WORD_CHAR);
    gtk_label_set_max_width_chars(GTK_LABEL(words), WORDS_WIDE);
    gtk_label_set_lines(GTK_LABEL(words), WORDS_LINES);
    gtk_label_set_ellipsize(GTK_LABEL(words), PANGO_ELLIPSIZE_END);
    spoken_tooltip(words, remark->text);
    gtk_widget_set_margin_start(words, 8);
    gtk_check_button_set_child(GTK_CHECK_BUTTON(check), words);
    spoken_name(check, text);
    gtk_check_button_set_active(GTK_CHECK_BUTTON(check), remark->settled == ANSWER_YES);
    g_object_set_data(G_OBJECT(check), "remark", GUINT_TO_POINTER(i));
    g_signal_connect(check, "toggled", G_CALLBACK(settled_toggled), self);
    gtk_box_append(GTK_BOX(self->rows), check);
  }
}

static char *returned_words(const Case *c, const Standing *standing)
{
  const HistoryEntry *entry = c->history->pdata[standing->entry];
  const char *who = *entry->name       ? entry->name
                    : *entry->initials ? entry->initials
                                       : words_translate(entry->role);
  return g_strdup_printf(_("Returned by %s: %s"), who, entry->text);
}

static void bar_show(SendBar *self)
{
  const Case *c = session_case(self->session);
  Standing standing = {.entry = G_MAXUINT};
  bool returned = session_has_case(self->session) && session_path(self->session) &&
                  c->history->len > 0 && case_standing(c, NULL, &standing) == FAULT_NONE;
  /* what is being changed here stays returned until it is sent again */
  if (returned && standing.entry < c->history->len &&
      (standing.state == STANDING_RETURNED || standing.state == STANDING_REOPENED) &&
      ((HistoryEntry *)c->history->pdata[standing.entry])->kind == ENTRY_RETURN) {
    g_autofree char *text = returned_words(c, &standing);
    guint open = 0;
    for (guint i = 0; i < c->remark->len; i++)
      open += ((Remark *)c->remark->pdata[i])->settled != ANSWER_YES;
    g_autofree char *remarks =
        g_strdup_printf(words_plural("%u remark open", "%u remarks open", open), open);
    gtk_label_set_text(GTK_LABEL(self->text), text);
    gtk_menu_button_set_label(GTK_MENU_BUTTON(self->menu), remarks);
    gtk_widget_set_visible(self->menu, c->remark->len > 0);
    spoken_name(self->bar, text);
  } else
    returned = false;
  standing_clear(&standing);
  gtk_widget_set_visible(self->bar, returned);
}

static void bar_free(void *data)
{
  SendBar *self = data;
  g_signal_handlers_disconnect_by_data(self->session, self);
  g_object_unref(self->session);
  g_free(self);
}

GtkWidget *send_bar_new(SoffitSession *session)
{
  SendBar *self = g_new0(SendBar, 1);
  self->session = g_object_ref(session);
  self->bar = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12);
  self->text = part_label("", NULL);
  gtk_label_set_lines(GTK_LABEL(self->text), 2);
  gtk_label_set_ellipsize(GTK_LABEL(self->text), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand(self->text, TRUE);
  self->rows = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4);
  GtkWidget *popover = gtk_popover_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8),
            *send = gtk_button_new_with_label(_("Send again"));
  gtk_box_append(GTK_BOX(box), part_label(_("Settled remarks are ticked"), "title"));
  gtk_box_append(GTK_BOX(box), self->rows);
  gtk_popover_set_child(GTK_POPOVER(popover), box);
  gtk_widget_add_css_class(popover, "sources");
  g_signal_connect_swapped(popover, "show", G_CALLBACK(rows_show), self);
  self->menu = gtk_menu_button_new();
  gtk_menu_button_set_popover(GTK_MENU_BUTTON(self->menu), popover);
  gtk_widget_add_css_class(self->menu, "small");
  gtk_widget_set_valign(self->menu, GTK_ALIGN_CENTER);
  gtk_actionable_set_action_name(GTK_ACTIONABLE(send), "win.send");
  gtk_widget_add_css_class(send, "strong");
  gtk_box_append(GTK_BOX(self->bar), self->text);
  gtk_box_append(GTK_BOX(self->bar), self->menu);
  gtk_box_append(GTK_BOX(self->bar), send);
  gtk_widget_add_css_class(self->bar, "message");
  gtk_widget_add_css_class(self->bar, "hint");
  g_object_set_data_full(G_OBJECT(self->bar), "soffit-send-bar", self, bar_free);
  g_signal_connect_swapped(session, "case-opened", G_CALLBACK(bar_show), self);
  g_signal_connect_swapped(session, "state-changed", G_CALLBACK(bar_show), self);
  bar_show(self);
  return self->bar;
}
