/* bars_words.c - the right column of the bars: gain, how sure, beside the book, class, card.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/bars/bars_parts.h"
#include "ui/words.h"

#define COLUMN_PX 300
#define SURE_PERCENT 95

typedef struct {
  SoffitBarsDesk *desk; /* owned ref */
  GtkWidget *class[BARS_SETS];
} ClassView;

GtkWidget *bars_label_new(const char *class_name)
{
  GtkWidget *label = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_label_set_wrap_mode(GTK_LABEL(label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars(GTK_LABEL(label), 34); /* the column keeps its width */
  if (class_name)
    gtk_widget_add_css_class(label, class_name);
  return label;
}

void bars_say(GtkWidget *label, const char *text)
{
  gtk_label_set_text(GTK_LABEL(label), text ? text : "");
  gtk_widget_set_visible(label, text && *text);
}

void bars_phrase_say(GtkWidget *label, Phrase phrase)
{
  g_autofree char *words = words_phrase(&phrase);
  bars_say(label, words);
}

/* "high gloss: class 5, 97 in 100 sure" */
static void class_show(ClassView *view, const BarsAnswer *a, int which)
{
  const BarsSetAnswer *set = &a->set[which];
  if (set->n_good == 0 || set->fit_fault) {
    bars_say(view->class[which], NULL);
    return;
  }
  int class = set->iso.reached;
  Phrase phrase = {.text = N_("no class reached")};
  if (class && !isfinite(set->iso.sure[class - 1]))
    phrase = (Phrase){.text = N_("class {0}, too few bars to be sure"), .value = {class}};
  else if (class)
    phrase = (Phrase){.text = set->iso.sure[class - 1] >= SURE_PERCENT
                                  ? N_("class {0}, {1} in 100 sure")
                                  : N_("class {0}, only {1} in 100 sure"),
                      .value = {class, fmin(floor(set->iso.sure[class - 1]), 99)}};
  g_autofree char *words = words_phrase(&phrase), *area = words_number(set->surface, 1),
                  *text = g_strdup_printf(_("%s: %s. Effective surface %s mm²."),
                                          bars_desk_name(view->desk, which), words, area);
  bars_say(view->class[which], text);
}

GtkWidget *bars_panel_new(const char *title, bool first)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class(box, "panel");
  if (first)
    gtk_widget_add_css_class(box, "first");
  if (title) {
    GtkWidget *label = bars_label_new("title");
    gtk_label_set_text(GTK_LABEL(label), title);
    gtk_box_append(GTK_BOX(box), label);
  }
  return box;
}

static void classes_show(ClassView *view)
{
  const BarsAnswer *a = bars_desk_answer(view->desk);
  for (int i = 0; a && i < BARS_SETS; i++)
    class_show(view, a, i);
}

static void class_gone(ClassView *view)
{
  g_signal_handlers_disconnect_by_data(view->desk, view);
  g_object_unref(view->desk);
  g_free(view);
}

static GtkWidget *class_panel(SoffitBarsDesk *desk)
{
  ClassView *view = g_new0(ClassView, 1);
  view->desk = g_object_ref(desk);
  GtkWidget *box = bars_panel_new(_("Class of ISO 6872, by the mean"), false);
  for (int i = 0; i < BARS_SETS; i++) {
    view->class[i] = bars_label_new(NULL);
    gtk_box_append(GTK_BOX(box), view->class[i]);
  }
  GtkWidget *caution = bars_label_new("note");
  gtk_widget_add_css_class(caution, "dim");
  gtk_label_set_text(
      GTK_LABEL(caution),
      _("The classes are from memory of ISO 6872:2015; the standard in print and the "
        "maker’s instructions come first. The dentist decides."));
  gtk_box_append(GTK_BOX(box), caution);
  g_signal_connect_swapped(desk, "answer-changed", G_CALLBACK(classes_show), view);
  classes_show(view);
  g_object_set_data_full(G_OBJECT(box), "view", view, (GDestroyNotify)class_gone);
  return box;
}

GtkWidget *bars_words_new(SoffitBarsDesk *desk, SoffitSession *session)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0), *scroller = gtk_scrolled_window_new();
  gtk_box_append(GTK_BOX(box), bars_gain_new(desk, session));
  gtk_box_append(GTK_BOX(box), bars_beside_new(desk, session));
  gtk_box_append(GTK_BOX(box), bars_card_new(desk, session));
  gtk_box_append(GTK_BOX(box), class_panel(desk));
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), box);
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_widget_set_size_request(scroller, COLUMN_PX, -1);
  gtk_widget_add_css_class(scroller, "side");
  return scroller;
}
