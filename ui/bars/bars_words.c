/* bars_words.c - the right column: what the second set gains, how sure, the class, the card.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/bars/bars_parts.h"
#include "casefile/card_folder.h"
#include "strength/iso_class.h"
#include "ui/words.h"

#define COLUMN_PX 300
#define SURE_PERCENT 95

typedef struct {
  SoffitBarsDesk *desk;   /* owned ref */
  SoffitSession *session; /* owned ref */
  GtkWidget *title, *gain, *band, *sure, *moduli, *class[BARS_SETS], *card[BARS_SETS], *card_note,
      *example;
} WordsView;

static GtkWidget *label_new(const char *class_name)
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

static void say(GtkWidget *label, const char *text)
{
  gtk_label_set_text(GTK_LABEL(label), text ? text : "");
  gtk_widget_set_visible(label, text && *text);
}

static void phrase_say(GtkWidget *label, Phrase phrase)
{
  g_autofree char *words = words_phrase(&phrase);
  say(label, words);
}

static void gain_show(WordsView *view, const BarsAnswer *a)
{
  const BarsComparison *c = &a->comparison;
  Banded g = c->gain_percent;
  phrase_say(view->gain, (Phrase){.text = N_("{0+} %"), .value = {g.value}});
  phrase_say(view->band,
             (Phrase){.text = N_("{0} to {1} % (90 in 100)"), .value = {g.low, g.high}});
  if (!c->settled && c->bars_more >= BARS_MORE_MOST)
    say(view->sure, _("No gain is seen, and hardly any number of bars would settle one."));
  else if (!c->settled)
    phrase_say(view->sure, (Phrase){.text = N_("Not settled: the band holds nil. About {0} bars "
                                               "more in each set would settle a gain like this, 4 "
                                               "times of 5."),
                                    .value = {(double)c->bars_more}});
  else if (g.value > 0)
    phrase_say(view->sure,
               (Phrase){.text = N_("Settled: the second set is stronger. Twice as many "
                                   "bars would make the band about a third narrower.")});
  else
    phrase_say(view->sure, (Phrase){.text = N_("Settled: the second set is weaker.")});
  bool spread = c->modulus_ratio.low > 1 || c->modulus_ratio.high < 1;
  phrase_say(
      view->moduli,
      (Phrase){.text = spread ? N_("The spreads differ: m {0.2} times ({1.2} to {2.2}).")
                              : N_("The spreads may be alike: m {0.2} times ({1.2} to "
                                   "{2.2})."),
               .value = {c->modulus_ratio.value, c->modulus_ratio.low, c->modulus_ratio.high}});
}

/* "high gloss: class 5, 97 in 100 sure" */
static void class_show(WordsView *view, const BarsAnswer *a, int which)
{
  const BarsSetAnswer *set = &a->set[which];
  if (set->n_good == 0 || set->fit_fault) {
    say(view->class[which], NULL);
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
  say(view->class[which], text);
}

static void cards_show(WordsView *view, const BarsAnswer *a)
{
  bool open = session_has_case(view->session);
  bool any = false;
  for (int i = 0; i < BARS_SETS; i++) {
    bool there = a && a->set[i].n_good >= BARS_LEAST && !a->set[i].fit_fault;
    g_autofree char *text = g_strdup_printf(_("Card from “%s”"), bars_desk_name(view->desk, i));
    gtk_button_set_label(GTK_BUTTON(view->card[i]), text);
    gtk_widget_set_visible(view->card[i], there);
    gtk_widget_set_sensitive(view->card[i], open);
    any = any || there;
  }
  say(view->card_note, !any   ? _("Ten bars and more can become a material card.")
                       : open ? _("Replaces strength, spread and bars on the case’s material card; "
                                  "can be undone in Trace.")
                              : _("Open a case, and its material card can take these figures."));
}

static void words_show(WordsView *view)
{
  const BarsAnswer *a = bars_desk_answer(view->desk);
  bool both = a && a->set[0].n_good && a->set[1].n_good, none = true;
  for (int i = 0; a && i < BARS_SETS; i++)
    none = none && a->set[i].n == 0;
  gtk_widget_set_visible(view->example, none);
  GtkWidget *const figures[] = {view->gain, view->band, view->sure, view->moduli};
  if (both && !a->compare_fault) {
    g_autofree char *title = g_strdup_printf(
        _("“%s” gains over “%s”"), bars_desk_name(view->desk, 1), bars_desk_name(view->desk, 0));
    say(view->title, title);
    gain_show(view, a);
  } else {
    for (size_t i = 0; i < G_N_ELEMENTS(figures); i++)
      say(figures[i], NULL);
    phrase_say(view->title,
               (Phrase){.text = both ? N_("A comparison needs {0} good bars in each "
                                          "set.")
                                     : N_("Two sets, for example unfinished and "
                                          "polished, show what the finish gains here."),
                        .value = {BARS_LEAST}});
  }
  gtk_widget_set_visible(gtk_widget_get_parent(view->sure), both && !a->compare_fault);
  for (int i = 0; i < BARS_SETS; i++)
    if (a)
      class_show(view, a, i);
  cards_show(view, a);
}

static void card_take(WordsView *view, int which)
{
  const BarsAnswer *a = bars_desk_answer(view->desk);
  if (!a || a->set[which].fit_fault || !session_has_case(view->session))
    return;
  const BarsSetAnswer *set = &a->set[which];
  const BarsInput *in = bars_desk_input(view->desk);
  Case *c = session_edit_begin(view->session, N_("Bars on the material card"));
  if (!c)
    return;
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  g_autofree char *day = g_date_time_format(now, "%Y-%m-%d");
  g_autofree char *name = g_strdup_printf(_("Own bars, %s"), day);
  bool disc = a->setup.test == BAR_DISC;
  Banded strength = set->fit.scale;
  BarCard bars = {.name = name,
                  .test = a->setup.test,
                  .span = a->setup.span,
                  .width = disc ? a->setup.inner : set->width,
                  .thickness = set->thickness,
                  .finish = (FinishState)in->set[which].finish,
                  .strength_mpa = strength.value,
                  .strength_low = isfinite(strength.low) ? strength.low : 0.7 * strength.value,
                  .strength_high = isfinite(strength.high) ? strength.high : 1.3 * strength.value,
                  .weibull = set->fit.modulus.value,
                  .bars = set->n_good,
                  .date = day,
                  .lot = c->blank_batch && *c->blank_batch ? c->blank_batch : _("not recorded"),
                  .who = c->author && *c->author ? c->author : _("not recorded")};
  Material card;
  const char *reason = NULL;
  Fault fault = card_from_bars(&c->material, &bars, &card, &reason);
  if (fault == FAULT_NONE) {
    g_strlcpy(card.id, "own", sizeof card.id);
    g_snprintf(card.source, sizeof card.source, _("%zu bars of this workshop, ISO 6872"),
               set->n_good);
    card.confidence = CONFIDENCE_OWN;
    card.iso_class = iso_class_reached(set->fit.mean.value, NAN);
    c->material = card;
    session_edit_end(view->session);
    say(view->card_note, _("The case has these figures now; see its verdict in Trace (Alt+1)."));
  } else {
    session_edit_cancel(view->session);
    say(view->card_note, words_translate(reason));
  }
}

static void card_clicked(GtkButton *button, WordsView *view)
{
  card_take(view, GTK_WIDGET(button) == view->card[1]);
}

static void example_clicked(GtkButton *button, WordsView *view)
{
  (void)button;
  bars_desk_example(view->desk);
}

static GtkWidget *panel_new(const char *title, bool first)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_add_css_class(box, "panel");
  if (first)
    gtk_widget_add_css_class(box, "first");
  if (title) {
    GtkWidget *label = label_new("title");
    gtk_label_set_text(GTK_LABEL(label), title);
    gtk_box_append(GTK_BOX(box), label);
  }
  return box;
}

static void words_gone(WordsView *view)
{
  g_signal_handlers_disconnect_by_data(view->desk, view);
  g_signal_handlers_disconnect_by_data(view->session, view);
  g_object_unref(view->desk);
  g_object_unref(view->session);
  g_free(view);
}

GtkWidget *bars_words_new(SoffitBarsDesk *desk, SoffitSession *session)
{
  WordsView *view = g_new0(WordsView, 1);
  view->desk = g_object_ref(desk);
  view->session = g_object_ref(session);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0), *scroller = gtk_scrolled_window_new(),
            *gain = panel_new(NULL, true), *sure = panel_new(_("How sure"), false),
            *class = panel_new(_("Class of ISO 6872, by the mean"), false),
            *card = panel_new(_("Material card"), false);
  view->title = label_new("dim");
  view->gain = label_new("gain-figure");
  view->band = label_new(NULL);
  view->sure = label_new(NULL);
  view->moduli = label_new("dim");
  view->example = gtk_button_new_with_label(_("Try an example"));
  gtk_widget_add_css_class(view->example, "quiet");
  g_signal_connect(view->example, "clicked", G_CALLBACK(example_clicked), view);
  gtk_box_append(GTK_BOX(gain), view->title);
  gtk_box_append(GTK_BOX(gain), view->gain);
  gtk_box_append(GTK_BOX(gain), view->band);
  gtk_box_append(GTK_BOX(gain), view->example);
  gtk_box_append(GTK_BOX(sure), view->sure);
  gtk_box_append(GTK_BOX(sure), view->moduli);
  view->card_note = label_new("note");
  for (int i = 0; i < BARS_SETS; i++) {
    view->class[i] = label_new(NULL);
    gtk_box_append(GTK_BOX(class), view->class[i]);
    view->card[i] = gtk_button_new();
    gtk_widget_add_css_class(view->card[i], i ? "strong" : "quiet");
    g_signal_connect(view->card[i], "clicked", G_CALLBACK(card_clicked), view);
  }
  GtkWidget *caution = label_new("note");
  gtk_widget_add_css_class(caution, "dim");
  gtk_label_set_text(
      GTK_LABEL(caution),
      _("The classes are from memory of ISO 6872:2015; the standard in print and the "
        "maker’s instructions come first. The dentist decides."));
  gtk_box_append(GTK_BOX(class), caution);
  for (int i = BARS_SETS - 1; i >= 0; i--)
    gtk_box_append(GTK_BOX(card), view->card[i]);
  gtk_box_append(GTK_BOX(card), view->card_note);
  gtk_box_append(GTK_BOX(box), gain);
  gtk_box_append(GTK_BOX(box), sure);
  gtk_box_append(GTK_BOX(box), class);
  gtk_box_append(GTK_BOX(box), card);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), box);
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_widget_set_size_request(scroller, COLUMN_PX, -1);
  gtk_widget_add_css_class(scroller, "side");
  g_signal_connect_swapped(desk, "answer-changed", G_CALLBACK(words_show), view);
  g_signal_connect_swapped(session, "case-opened", G_CALLBACK(words_show), view);
  words_show(view);
  g_object_set_data_full(G_OBJECT(scroller), "view", view, (GDestroyNotify)words_gone);
  return scroller;
}
