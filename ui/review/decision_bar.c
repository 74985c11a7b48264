/* decision_bar.c - what goes back with the case, and the decisions.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A decision that lacks words puts the focus where they are written; Ctrl+Enter there decides. */
#include "ui/parts.h"
#include "ui/review/review_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define WORDS_LEAST 260 /* px */

typedef struct {
  SoffitReviewDesk *desk; /* owned ref */
  GtkWidget *remarks, *words, *pass, *back, *wait, *hint, *told, *take_over, *take_back, *list;
  EntryKind wanted; /* by Ctrl+Enter; ENTRY_NOTE: none was asked for */
  bool showing;
} Bar;

static Bar *bar_of(GtkWidget *widget)
{
  return g_object_get_data(G_OBJECT(widget), "soffit-decision-bar");
}

void decision_bar_set_list(GtkWidget *bar, GtkWidget *list)
{
  bar_of(bar)->list = list;
}

/* ---- what is shown ---- */

static GtkTextBuffer *buffer_of(Bar *self)
{
  return gtk_text_view_get_buffer(GTK_TEXT_VIEW(self->words));
}

static void remark_removed(GtkButton *button, Bar *self)
{
  review_desk_unpin(self->desk, GPOINTER_TO_UINT(g_object_get_data(G_OBJECT(button), "remark")));
}

static GtkWidget *remark_new_button(Bar *self, const Evidence *e, guint i, guint before)
{
  const Remark *remark = review_desk_remarks(self->desk)->pdata[i];
  char name[12] = "";
  if (e && !e->unread && remark->connector < e->c.n_unit - 1)
    connector_name(&e->c, remark->connector, '/', name);
  g_autofree char *text = g_strdup_printf("%u  %s %s", before + i + 1, name, remark->text);
  g_autofree char *spoken = g_strdup_printf(_("Remark %s. Press to take it away"), text);
  GtkWidget *button = gtk_button_new_with_label(text),
            *label = gtk_button_get_child(GTK_BUTTON(button));
  gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars(GTK_LABEL(label), 30);
  gtk_widget_add_css_class(button, "small");
  spoken_tooltip(button, _("Take this remark away"));
  spoken_name(button, spoken);
  g_object_set_data(G_OBJECT(button), "remark", GUINT_TO_POINTER(i));
  g_signal_connect(button, "clicked", G_CALLBACK(remark_removed), self);
  return button;
}

static void remarks_show(Bar *self)
{
  const Evidence *e = review_desk_evidence(self->desk);
  const GPtrArray *all = review_desk_remarks(self->desk);
  guint before = e && !e->unread ? e->c.remark->len : 0;
  for (GtkWidget *child; (child = gtk_widget_get_first_child(self->remarks));)
    gtk_box_remove(GTK_BOX(self->remarks), child);
  GtkWidget *lead = part_label(
      all->len ? _("Goes back; M moves a pin:") : _("Closing words; N pins a remark"), "note");
  gtk_label_set_wrap(GTK_LABEL(lead), FALSE);
  gtk_box_append(GTK_BOX(self->remarks), lead);
  for (guint i = 0; i < all->len; i++)
    gtk_box_append(GTK_BOX(self->remarks), remark_new_button(self, e, i, before));
}

static void button_text(GtkWidget *button, const char *text, const char *spoken)
{
  GtkWidget *label = g_object_get_data(G_OBJECT(button), "text");
  gtk_label_set_text(GTK_LABEL(label), text);
  spoken_name(button, spoken);
}

static void buttons_show(Bar *self)
{
  const Evidence *e = review_desk_evidence(self->desk);
  guint stops = review_desk_stops(self->desk), n = review_desk_remarks(self->desk)->len;
  bool able = e && !e->unread;
  g_autofree char *back = n ? g_strdup_printf(_("Return with %u"), n) : g_strdup(_("Return"));
  button_text(self->back, back, back);
  gtk_widget_set_sensitive(self->back, able);
  gtk_widget_set_sensitive(self->pass, able);
  gtk_widget_set_sensitive(self->wait, able);
  (stops ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(self->pass, "dashed");
  g_autofree char *hint =
      self->wanted == ENTRY_PASS     ? g_strdup(_("Write why it passes, then Ctrl+Enter."))
      : self->wanted == ENTRY_RETURN ? g_strdup(_("Write what is to change, then Ctrl+Enter."))
      : self->wanted == ENTRY_WAIT   ? g_strdup(_("Write what it waits for, then Ctrl+Enter."))
      : able && stops
          ? g_strdup_printf(words_plural("Pass asks for a written reason: %u stop stands.",
                                         "Pass asks for a written reason: %u stops stand.", stops),
                            stops)
          : g_strdup("");
  gtk_label_set_text(GTK_LABEL(self->hint), hint);
  gtk_widget_set_visible(self->take_over, review_desk_can_take_over(self->desk));
  gtk_widget_set_visible(self->take_back, review_desk_can_take_back(self->desk));
}

static void draft_show(Bar *self)
{
  GtkTextIter from, to;
  gtk_text_buffer_get_bounds(buffer_of(self), &from, &to);
  g_autofree char *there = gtk_text_buffer_get_text(buffer_of(self), &from, &to, FALSE);
  const char *words = review_desk_words(self->desk);
  if (strcmp(there, words) != 0) {
    self->showing = true;
    gtk_text_buffer_set_text(buffer_of(self), words, -1);
    self->showing = false;
  }
  remarks_show(self);
  buttons_show(self);
}

static void words_typed(GtkTextBuffer *buffer, Bar *self)
{
  GtkTextIter from, to;
  if (self->showing)
    return;
  gtk_text_buffer_get_bounds(buffer, &from, &to);
  g_autofree char *text = gtk_text_buffer_get_text(buffer, &from, &to, FALSE);
  review_desk_set_words(self->desk, text);
}

static void desk_selected(Bar *self)
{
  self->wanted = ENTRY_NOTE;
  draft_show(self);
}

static void desk_told(SoffitReviewDesk *desk, const char *words, gboolean wrong, Bar *self)
{
  (void)desk;
  gtk_label_set_text(GTK_LABEL(self->told), words);
  spoken_name(self->told, words);
  spoken_tooltip(self->told, words); /* all of it, where it is cut */
  (wrong ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(self->told, "wrong");
  buttons_show(self);
}

/* ---- decisions ---- */

static void decide(Bar *self, EntryKind kind)
{
  if (review_desk_lacks_words(self->desk, kind)) {
    self->wanted = kind;
    gtk_widget_grab_focus(self->words);
    buttons_show(self);
    return;
  }
  self->wanted = ENTRY_NOTE;
  if (review_desk_decide(self->desk, kind) && self->list)
    gtk_widget_grab_focus(self->list);
}

void decision_bar_decide(GtkWidget *bar, EntryKind kind)
{
  decide(bar_of(bar), kind);
}

static void pass_clicked(Bar *self)
{
  decide(self, ENTRY_PASS);
}

static void return_clicked(Bar *self)
{
  decide(self, ENTRY_RETURN);
}

static void wait_clicked(Bar *self)
{
  decide(self, ENTRY_WAIT);
}

static gboolean words_key(GtkEventControllerKey *controller, guint key, guint code,
                          GdkModifierType state, Bar *self)
{
  (void)controller, (void)code;
  if (key == GDK_KEY_Escape) {
    self->wanted = ENTRY_NOTE;
    buttons_show(self);
    if (self->list)
      gtk_widget_grab_focus(self->list);
    return TRUE;
  }
  if ((key != GDK_KEY_Return && key != GDK_KEY_KP_Enter) || !(state & GDK_CONTROL_MASK))
    return FALSE;
  decide(self, self->wanted == ENTRY_NOTE ? ENTRY_RETURN : self->wanted);
  return TRUE;
}

/* ---- building ---- */

static GtkWidget *button_new(Bar *self, const char *text, const char *key, const char *class_name,
                             GCallback clicked)
{
  GtkWidget *button = gtk_button_new(), *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 10),
            *label = gtk_label_new(text), *cap = gtk_label_new(key);
  gtk_widget_add_css_class(cap, "key");
  gtk_widget_set_valign(cap, GTK_ALIGN_CENTER);
  gtk_widget_set_halign(box, GTK_ALIGN_CENTER);
  gtk_box_append(GTK_BOX(box), label);
  gtk_box_append(GTK_BOX(box), cap);
  gtk_button_set_child(GTK_BUTTON(button), box);
  gtk_widget_add_css_class(button, class_name);
  g_object_set_data(G_OBJECT(button), "text", label);
  spoken_name(button, text);
  g_signal_connect_swapped(button, "clicked", clicked, self);
  return button;
}

static GtkWidget *words_build(Bar *self)
{
  GtkWidget *left = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6), *frame = gtk_scrolled_window_new(),
            *remarks = gtk_scrolled_window_new();
  self->remarks = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
  self->words = gtk_text_view_new();
  gtk_text_view_set_wrap_mode(GTK_TEXT_VIEW(self->words), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_accepts_tab(GTK_TEXT_VIEW(self->words), FALSE);
  spoken_name(self->words, _("Closing words of the decision"));
  g_signal_connect(buffer_of(self), "changed", G_CALLBACK(words_typed), self);
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE);
  g_signal_connect(keys, "key-pressed", G_CALLBACK(words_key), self);
  gtk_widget_add_controller(self->words, keys);
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(remarks), GTK_POLICY_AUTOMATIC,
                                 GTK_POLICY_NEVER);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(remarks), self->remarks);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(frame), self->words);
  gtk_widget_add_css_class(frame, "lines");
  gtk_widget_set_vexpand(frame, TRUE);
  gtk_widget_set_hexpand(left, TRUE);
  gtk_widget_set_size_request(left, WORDS_LEAST, -1); /* beside a long message, too */
  gtk_box_append(GTK_BOX(left), remarks);
  gtk_box_append(GTK_BOX(left), frame);
  return left;
}

static GtkWidget *buttons_build(Bar *self)
{
  GtkWidget *outer = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *right = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4),
            *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *below = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  self->back = button_new(self, _("Return"), "R", "strong", G_CALLBACK(return_clicked));
  self->pass = button_new(self, _("Pass"), "P", "quiet", G_CALLBACK(pass_clicked));
  self->wait = button_new(self, _("Wait"), "W", "quiet", G_CALLBACK(wait_clicked));
  gtk_box_append(GTK_BOX(row), self->back);
  gtk_box_append(GTK_BOX(row), self->pass);
  gtk_box_append(GTK_BOX(row), self->wait);
  self->hint = part_label("", "note");
  gtk_widget_add_css_class(self->hint, "dim");
  gtk_label_set_xalign(GTK_LABEL(self->hint), 1);
  self->told = part_label("", "note");
  gtk_label_set_xalign(GTK_LABEL(self->told), 1);
  gtk_label_set_lines(GTK_LABEL(self->told), 4);
  gtk_label_set_ellipsize(GTK_LABEL(self->told), PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars(GTK_LABEL(self->told), 36);
  gtk_widget_set_hexpand(self->told, TRUE);
  self->take_over =
      part_button(_("Take over"), "small", G_CALLBACK(review_desk_take_over), self->desk);
  self->take_back =
      part_button(_("Take back"), "small", G_CALLBACK(review_desk_take_back), self->desk);
  gtk_box_append(GTK_BOX(below), self->told);
  gtk_box_append(GTK_BOX(below), self->take_over);
  gtk_box_append(GTK_BOX(below), self->take_back);
  gtk_box_append(GTK_BOX(right), row);
  gtk_box_append(GTK_BOX(right), self->hint);
  gtk_box_append(GTK_BOX(right), below);
  gtk_widget_set_valign(right, GTK_ALIGN_CENTER);
  gtk_widget_set_vexpand(right, TRUE); /* as tall as the words: Tab comes to those first */
  gtk_box_append(GTK_BOX(outer), right);
  gtk_widget_set_hexpand(outer, FALSE); /* the words take what there is */
  return outer;
}

static void bar_free(void *data)
{
  Bar *self = data;
  g_signal_handlers_disconnect_by_data(self->desk, self);
  g_object_unref(self->desk);
  g_free(self);
}

GtkWidget *decision_bar_new(SoffitReviewDesk *desk)
{
  Bar *self = g_new0(Bar, 1);
  GtkWidget *bar = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 16);
  self->desk = g_object_ref(desk);
  gtk_box_append(GTK_BOX(bar), words_build(self));
  gtk_box_append(GTK_BOX(bar), buttons_build(self));
  gtk_widget_add_css_class(bar, "decision-bar");
  g_object_set_data_full(G_OBJECT(bar), "soffit-decision-bar", self, bar_free);
  g_signal_connect_swapped(desk, "selected", G_CALLBACK(desk_selected), self);
  g_signal_connect_swapped(desk, "evidence", G_CALLBACK(draft_show), self);
  g_signal_connect_swapped(desk, "draft", G_CALLBACK(draft_show), self);
  g_signal_connect(desk, "told", G_CALLBACK(desk_told), self);
  desk_selected(self);
  return bar;
}
