/* evidence_since.c - what changed in a case, since when: the last look of this person, or the
 * approval. SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/parts.h"
#include "ui/review/evidence_words.h"
#include "ui/review/review_parts.h"
#include "ui/words.h"

typedef struct {
  SoffitReviewDesk *desk; /* owned ref */
  GtkWidget *box, *title, *choice, *since[SINCE_N], *changes;
  bool showing;
} Since;

static void since_show(Since *self)
{
  const Evidence *e = review_desk_evidence(self->desk);
  EvidenceSince since = review_desk_since(self->desk);
  bool read = e && !e->unread && since < SINCE_N;
  gtk_widget_set_visible(self->box, read);
  if (!read)
    return;
  g_autofree char *title = evidence_words_since(e, since),
                  *changes = evidence_words_changes(e, since);
  gtk_label_set_text(GTK_LABEL(self->title), title);
  (*changes ? gtk_widget_remove_css_class : gtk_widget_add_css_class)(self->title, "dim");
  gtk_label_set_text(GTK_LABEL(self->changes), changes);
  gtk_widget_set_visible(self->changes, *changes != '\0');
  gtk_widget_set_visible(self->choice, e->base[SINCE_SEEN].there && e->base[SINCE_APPROVED].there);
  self->showing = true;
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->since[since]), TRUE);
  self->showing = false;
}

static void since_chosen(GtkToggleButton *button, Since *self)
{
  if (self->showing || !gtk_toggle_button_get_active(button))
    return;
  bool seen = GTK_WIDGET(button) == self->since[SINCE_SEEN];
  review_desk_set_since(self->desk, seen ? SINCE_SEEN : SINCE_APPROVED);
}

static void since_free(void *data)
{
  Since *self = data;
  g_signal_handlers_disconnect_by_data(self->desk, self);
  g_object_unref(self->desk);
  g_free(self);
}

GtkWidget *evidence_since_new(SoffitReviewDesk *desk)
{
  static const char *const name[SINCE_N] = {N_("since my last look"), N_("since the approval")};
  Since *self = g_new0(Since, 1);
  self->desk = g_object_ref(desk);
  self->box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4);
  self->choice = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
  self->title = part_label("", "note");
  gtk_widget_add_css_class(self->title, "title");
  self->changes = part_label("", "note");
  for (int i = 0; i < SINCE_N; i++) {
    self->since[i] = gtk_toggle_button_new_with_label(_(name[i]));
    gtk_widget_add_css_class(self->since[i], "chip");
    if (i)
      gtk_toggle_button_set_group(GTK_TOGGLE_BUTTON(self->since[i]),
                                  GTK_TOGGLE_BUTTON(self->since[0]));
    gtk_box_append(GTK_BOX(self->choice), self->since[i]);
  }
  for (int i = 0; i < SINCE_N; i++)
    g_signal_connect(self->since[i], "toggled", G_CALLBACK(since_chosen), self);
  gtk_box_append(GTK_BOX(self->box), self->title);
  gtk_box_append(GTK_BOX(self->box), self->choice);
  gtk_box_append(GTK_BOX(self->box), self->changes);
  g_object_set_data_full(G_OBJECT(self->box), "soffit-evidence-since", self, since_free);
  g_signal_connect_swapped(desk, "selected", G_CALLBACK(since_show), self);
  g_signal_connect_swapped(desk, "evidence", G_CALLBACK(since_show), self);
  since_show(self);
  return self->box;
}
