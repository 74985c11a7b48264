/* queue_row.c - see queue_row.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/review/queue_row.h"
#include "ui/review/row_words.h"
#include "ui/sign.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define SIGN_PX 26
#define SIGN_COLUMN 62
#define SIGN_COLUMN_FOLDED 34

struct _SoffitQueueRow {
  GtkBox parent;
  SoffitLabItem *item; /* owned ref; NULL */
  gulong changed;      /* handler of it */
  GtkWidget *left, *sign, *word, *top, *bottom, *number, *span, *hand, *reason, *counts;
  bool folded;
};

G_DEFINE_FINAL_TYPE(SoffitQueueRow, queue_row, GTK_TYPE_BOX)

static void text_show(GtkWidget *label, char *text)
{
  if (strcmp(gtk_label_get_text(GTK_LABEL(label)), text) != 0)
    gtk_label_set_text(GTK_LABEL(label), text);
  g_free(text);
}

static void class_when(GtkWidget *widget, const char *name, bool on)
{
  (on ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(widget, name);
}

static void row_show(SoffitQueueRow *self)
{
  const LabRow *row = lab_item_row(self->item);
  gint64 now = g_get_real_time();
  sign_set(SOFFIT_SIGN(self->sign), row->state == ROW_READY ? row->verdict : VERDICT_NONE);
  text_show(self->word, g_strdup(row_words_verdict(row)));
  text_show(self->number, row_words_case(row));
  text_show(self->span, row_words_span(row));
  text_show(self->hand, row_words_hand(row, now));
  text_show(self->reason, row_words_reason(row));
  text_show(self->counts, self->folded ? row_words_brief(row) : row_words_counts(row));
  class_when(self->reason, "wrong", *row->trouble != '\0');
  class_when(self->word, "wrong", row->state == ROW_UNREADABLE);
  spoken_tooltip(self->reason, gtk_label_get_text(GTK_LABEL(self->reason)));
  g_autofree char *sentence = row_words_sentence(row, now);
  GtkWidget *place = gtk_widget_get_parent(GTK_WIDGET(self)); /* what the list focuses */
  spoken_name(place ? place : GTK_WIDGET(self), sentence);
}

void queue_row_set(SoffitQueueRow *self, SoffitLabItem *item)
{
  if (self->item)
    g_signal_handler_disconnect(self->item, self->changed);
  g_set_object(&self->item, item);
  if (!item)
    return;
  self->changed = g_signal_connect_swapped(item, "changed", G_CALLBACK(row_show), self);
  row_show(self);
}

SoffitLabItem *queue_row_item(SoffitQueueRow *self)
{
  return self->item;
}

static GtkWidget *label_new(const char *class_name, float align)
{
  GtkWidget *label = gtk_label_new("");
  gtk_label_set_xalign(GTK_LABEL(label), align);
  gtk_label_set_single_line_mode(GTK_LABEL(label), TRUE);
  if (class_name)
    gtk_widget_add_css_class(label, class_name);
  return label;
}

/* Cut at its end where there is no room; widest: takes what there is. */
static void label_cut(GtkWidget *label)
{
  gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand(label, TRUE);
}

static void queue_row_dispose(GObject *object)
{
  queue_row_set(SOFFIT_QUEUE_ROW(object), NULL);
  G_OBJECT_CLASS(queue_row_parent_class)->dispose(object);
}

static void queue_row_class_init(SoffitQueueRowClass *class)
{
  G_OBJECT_CLASS(class)->dispose = queue_row_dispose;
}

/* As wide as the longest word of the language: rows stand in line. */
static int words_widest(GtkWidget *label)
{
  g_autoptr(PangoLayout) layout = gtk_widget_create_pango_layout(label, NULL);
  const char *const word[] = {_("unreadable"), _("newer"), _(verdict_name(VERDICT_REWORK)),
                              _(verdict_name(VERDICT_CLOSE)), _(verdict_name(VERDICT_HOLDS))};
  int widest = SIGN_COLUMN, width;
  for (size_t i = 0; i < G_N_ELEMENTS(word); i++) {
    pango_layout_set_text(layout, word[i], -1);
    pango_layout_get_pixel_size(layout, &width, NULL);
    widest = MAX(widest, width);
  }
  return widest;
}

static void hand_move(SoffitQueueRow *self, GtkWidget *from, GtkWidget *to)
{
  g_object_ref(self->hand);
  gtk_box_remove(GTK_BOX(from), self->hand);
  gtk_box_append(GTK_BOX(to), self->hand);
  g_object_unref(self->hand);
}

void queue_row_fold(SoffitQueueRow *self, bool folded)
{
  if (folded == self->folded)
    return;
  self->folded = folded;
  gtk_widget_set_visible(self->word, !folded);
  gtk_widget_set_size_request(self->left, folded ? SIGN_COLUMN_FOLDED : words_widest(self->word),
                              -1);
  class_when(self->reason, "note", folded);
  class_when(self->counts, "dim", !folded);
  hand_move(self, folded ? self->top : self->bottom, folded ? self->bottom : self->top);
  if (self->item)
    row_show(self);
}

static void queue_row_init(SoffitQueueRow *self)
{
  GtkWidget *lines = gtk_box_new(GTK_ORIENTATION_VERTICAL, 1);
  self->left = gtk_box_new(GTK_ORIENTATION_VERTICAL, 2);
  self->top = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
  self->bottom = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 6);
  self->sign = sign_new(SIGN_PX);
  self->word = label_new("note", 0.5f);
  self->number = label_new("title", 0);
  self->span = label_new("dim", 0);
  self->hand = label_new("note", 1);
  self->reason = label_new(NULL, 0);
  self->counts = label_new("note", 0);
  gtk_widget_add_css_class(self->hand, "dim");
  gtk_widget_add_css_class(self->counts, "dim");
  label_cut(self->span);
  label_cut(self->reason);
  label_cut(self->counts);
  gtk_label_set_ellipsize(GTK_LABEL(self->word), PANGO_ELLIPSIZE_END);
  gtk_widget_set_halign(self->sign, GTK_ALIGN_CENTER);
  gtk_widget_set_size_request(self->left, words_widest(self->word), -1);
  gtk_widget_set_valign(self->left, GTK_ALIGN_CENTER);
  gtk_widget_set_valign(lines, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand(lines, TRUE);
  gtk_box_append(GTK_BOX(self->left), self->sign);
  gtk_box_append(GTK_BOX(self->left), self->word);
  gtk_box_append(GTK_BOX(self->top), self->number);
  gtk_box_append(GTK_BOX(self->top), self->span);
  gtk_box_append(GTK_BOX(self->top), self->hand);
  gtk_box_append(GTK_BOX(lines), self->top);
  gtk_box_append(GTK_BOX(lines), self->reason);
  gtk_box_append(GTK_BOX(self->bottom), self->counts);
  gtk_box_append(GTK_BOX(lines), self->bottom);
  gtk_box_set_spacing(GTK_BOX(self), 8);
  gtk_box_append(GTK_BOX(self), self->left);
  gtk_box_append(GTK_BOX(self), lines);
  gtk_widget_add_css_class(GTK_WIDGET(self), "queue-row");
}

GtkWidget *queue_row_new(void)
{
  return g_object_new(SOFFIT_TYPE_QUEUE_ROW, NULL);
}
