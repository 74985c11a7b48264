/* bars_beside.c - the lab's bars beside a card of the book: what it would show in their test.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "casefile/card_folder.h"
#include "strength/surface.h"
#include "ui/bars/bars_parts.h"
#include "ui/card_dialog.h"
#include "ui/case_form.h"
#include "ui/words.h"

typedef struct {
  SoffitBarsDesk *desk;   /* owned ref */
  SoffitSession *session; /* owned ref */
  GArray *cards;          /* Material, owned: as in the list */
  GtkWidget *choice, *book, *note, *set[BARS_SETS];
  bool filling;
} BesideView;

/* "four points, 1/4: 20 × 4 × 3 mm" */
static char *bars_words(const Material *m)
{
  static const char *const test[] = {N_("three points"), N_("four points, 1/4"),
                                     N_("four points, 1/3"), N_("disc on three balls")};
  g_autofree char *span = words_number(m->bar_span, 0), *width = words_number(m->bar_width, 1),
                  *thickness = words_number(m->bar_thickness, 1);
  return g_strdup_printf(_("%s, %s × %s × %s mm"), words_translate(test[m->bar]), span, width,
                         thickness);
}

static char *figure_words(Banded b, int decimals)
{
  g_autofree char *value = words_number(b.value, decimals), *range = words_range(b, decimals);
  return *range ? g_strdup_printf("%s (%s)", value, range) : g_steal_pointer(&value);
}

static void book_show(BesideView *view)
{
  const Material *m = bars_desk_card(view->desk);
  const BarsBook *book = bars_desk_book(view->desk);
  bars_say(view->note, NULL);
  if (!book) {
    bars_say(view->book, m ? _("This card says too little for a comparison.") : NULL);
    return;
  }
  g_autofree char
      *scale = figure_words(book->scale, 0),
      *modulus = figure_words(book->modulus, 1), *stated = figure_words(book->card_scale, 0),
      *bars = bars_words(m), *own = words_number(book->card_surface, 1),
      *here = words_number(book->surface, 1),
      *text = g_strdup_printf(_("In your test: 63 of 100 broken at %s MPa, m %s"), scale, modulus),
      *note = g_strdup_printf(
          _("The card states %s MPa: %s, %s. Its effective surface of %s mm² is brought "
            "to your %s mm². Source: %s"),
          stated, bars, words_translate(finish_name(material_bars_finish(m))), own, here,
          words_translate(material_source(m, FIGURE_STRENGTH)));
  bars_say(view->book, text);
  bars_say(view->note, note);
}

/* Above, below, or not to be told apart: by the bands of both. */
static const char *beside_word(Banded own, Banded book)
{
  if (!isfinite(own.low))
    return _("too few bars to tell");
  return own.low > book.high   ? _("above the book")
         : own.high < book.low ? _("below the book: look at sintering and at the origins")
                               : _("not told apart from the book");
}

static void set_show(BesideView *view, int which)
{
  const BarsAnswer *a = bars_desk_answer(view->desk);
  const BarsBook *book = bars_desk_book(view->desk);
  const BarsSetAnswer *set = a ? &a->set[which] : NULL;
  if (!book || !set || !set->n_good || set->fit_fault) {
    bars_say(view->set[which], NULL);
    return;
  }
  FinishState finish = (FinishState)bars_desk_input(view->desk)->set[which].finish,
              of_card = material_bars_finish(bars_desk_card(view->desk));
  g_autofree char *scale = figure_words(set->fit.scale, 0),
                  *modulus = figure_words(set->fit.modulus, 1);
  g_autofree char *text = g_strdup_printf(
      _("“%s”: %s MPa, m %s: %s."), bars_desk_name(view->desk, which), scale, modulus,
      finish == of_card ? beside_word(set->fit.scale, book->scale)
                        : _("another finish than the book’s bars, so no judgement"));
  bars_say(view->set[which], text);
}

static void beside_show(BesideView *view)
{
  book_show(view);
  for (int i = 0; i < BARS_SETS; i++)
    set_show(view, i);
}

/* The case's own card where it is one of the list, else the first. */
static void cards_fill(BesideView *view)
{
  const Material *chosen = bars_desk_card(view->desk);
  const char *id = chosen                            ? chosen->id
                   : session_has_case(view->session) ? session_case(view->session)->material.id
                                                     : "";
  g_autofree char *folder = card_folder(), *wanted = g_strdup(id); /* of a card that may go */
  g_autoptr(GtkStringList) names = gtk_string_list_new(NULL);
  guint at = 0;
  g_clear_pointer(&view->cards, g_array_unref);
  view->cards = cards_all(folder, NULL);
  for (guint i = 0; i < view->cards->len; i++) {
    const Material *m = &g_array_index(view->cards, Material, i);
    gtk_string_list_append(names, words_translate(m->name));
    at = g_str_equal(m->id, wanted) ? i : at;
  }
  view->filling = true;
  gtk_drop_down_set_model(GTK_DROP_DOWN(view->choice), G_LIST_MODEL(names));
  gtk_drop_down_set_selected(GTK_DROP_DOWN(view->choice), at);
  view->filling = false;
  if (view->cards->len > 0)
    bars_desk_set_card(view->desk, &g_array_index(view->cards, Material, at));
}

static void card_chosen(BesideView *view)
{
  guint at = gtk_drop_down_get_selected(GTK_DROP_DOWN(view->choice));
  if (!view->filling && at < view->cards->len)
    bars_desk_set_card(view->desk, &g_array_index(view->cards, Material, at));
}

static void beside_gone(BesideView *view)
{
  g_signal_handlers_disconnect_by_data(view->desk, view);
  g_object_unref(view->desk);
  g_object_unref(view->session);
  g_clear_pointer(&view->cards, g_array_unref);
  g_free(view);
}

GtkWidget *bars_beside_new(SoffitBarsDesk *desk, SoffitSession *session)
{
  BesideView *view = g_new0(BesideView, 1);
  view->desk = g_object_ref(desk);
  view->session = g_object_ref(session);
  GtkWidget *box = bars_panel_new(_("Beside the book"), false);
  view->choice = gtk_drop_down_new(NULL, NULL);
  field_name(view->choice, _("card that the bars are shown beside"));
  view->book = bars_label_new(NULL);
  view->note = bars_label_new("note");
  gtk_widget_add_css_class(view->note, "dim");
  gtk_box_append(GTK_BOX(box), view->choice);
  gtk_box_append(GTK_BOX(box), view->book);
  for (int i = 0; i < BARS_SETS; i++) {
    view->set[i] = bars_label_new(NULL);
    gtk_box_append(GTK_BOX(box), view->set[i]);
  }
  gtk_box_append(GTK_BOX(box), view->note);
  g_signal_connect_swapped(view->choice, "notify::selected", G_CALLBACK(card_chosen), view);
  g_signal_connect_swapped(desk, "answer-changed", G_CALLBACK(beside_show), view);
  g_signal_connect_swapped(box, "map", G_CALLBACK(cards_fill), view);
  g_object_set_data_full(G_OBJECT(box), "view", view, (GDestroyNotify)beside_gone);
  return box;
}
