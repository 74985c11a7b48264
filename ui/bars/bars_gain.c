/* bars_gain.c - what the second set gains over the first, how sure, and the step to a finish
 * factor. SPDX-License-Identifier: GPL-3.0-or-later */
#include "strength/bars_use.h"
#include "casefile/card_folder.h"
#include "casefile/material_xml.h"
#include "ui/bars/bars_parts.h"
#include "ui/card_dialog.h"
#include "ui/parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

typedef struct {
  SoffitBarsDesk *desk;   /* owned ref */
  SoffitSession *session; /* owned ref */
  GtkWidget *title, *gain, *band, *sure, *moduli, *example, *how, *use, *lab, *note, *kept;
} GainView;

static void gain_show(GainView *view, const BarsAnswer *a)
{
  const BarsComparison *c = &a->comparison;
  Banded g = c->gain_percent;
  bars_phrase_say(view->gain, (Phrase){.text = N_("{0+} %"), .value = {g.value}});
  bars_phrase_say(view->band,
                  (Phrase){.text = N_("{0} to {1} % (90 in 100)"), .value = {g.low, g.high}});
  if (!c->settled && c->bars_more >= BARS_MORE_MOST)
    bars_say(view->sure, _("No gain is seen, and hardly any number of bars would settle one."));
  else if (!c->settled)
    bars_phrase_say(view->sure,
                    (Phrase){.text = N_("Not settled: the band holds nil. About {0} bars "
                                        "more in each set would settle a gain like this, 4 "
                                        "times of 5."),
                             .value = {(double)c->bars_more}});
  else if (g.value > 0)
    bars_phrase_say(view->sure,
                    (Phrase){.text = N_("Settled: the second set is stronger. Twice as many "
                                        "bars would make the band about a third narrower.")});
  else
    bars_phrase_say(view->sure, (Phrase){.text = N_("Settled: the second set is weaker.")});
  bool spread = c->modulus_ratio.low > 1 || c->modulus_ratio.high < 1;
  bars_phrase_say(
      view->moduli,
      (Phrase){.text = spread ? N_("The spreads differ: m {0.2} times ({1.2} to {2.2}).")
                              : N_("The spreads may be alike: m {0.2} times ({1.2} to "
                                   "{2.2})."),
               .value = {c->modulus_ratio.value, c->modulus_ratio.low, c->modulus_ratio.high}});
}

/* ---- as a finish factor ---- */

/* The gain as it stands, checked on a copy of the card; false: *reason says why not. */
static bool factor_make(GainView *view, const Material *card, OwnFactor *factor,
                        const char **reason)
{
  const BarsAnswer *a = bars_desk_answer(view->desk);
  const BarsInput *in = bars_desk_input(view->desk);
  Material trial = *card;
  *reason = N_("Two sets with ten good bars each are needed.");
  if (!a || a->compare_fault)
    return false;
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  g_autofree char *day = g_date_time_format(now, "%Y-%m-%d"),
                  *source = g_strdup_printf(_("own bars, %s, %zu and %zu bars"), day,
                                            a->set[0].n_good, a->set[1].n_good);
  return bars_own_factor(a, (FinishState)in->set[0].finish, (FinishState)in->set[1].finish, source,
                         factor) == FAULT_NONE &&
         own_factor_set(&trial, factor, reason) == FAULT_NONE;
}

static void removed(GtkButton *button, GainView *view)
{
  size_t at = GPOINTER_TO_SIZE(g_object_get_data(G_OBJECT(button), "at"));
  Case *c = session_edit_begin(view->session, N_("Remove the own finish factor"));
  if (!c)
    return;
  own_factor_remove(&c->material, at);
  session_edit_end(view->session);
  gtk_widget_grab_focus(view->use);
}

static void kept_show(GainView *view)
{
  const Material *m = &session_case(view->session)->material;
  GtkWidget *row;
  while ((row = gtk_widget_get_first_child(view->kept)) != NULL)
    gtk_box_remove(GTK_BOX(view->kept), row);
  for (size_t i = 0; session_has_case(view->session) && i < m->n_own; i++) {
    g_autofree char *words = words_own_factor(&m->own[i]);
    GtkWidget *label = bars_label_new("note"),
              *remove = gtk_button_new_from_icon_name("list-remove-symbolic");
    row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
    gtk_label_set_text(GTK_LABEL(label), words);
    gtk_label_set_max_width_chars(GTK_LABEL(label), 28);
    gtk_widget_set_hexpand(label, TRUE);
    gtk_widget_add_css_class(remove, "plain");
    gtk_widget_set_valign(remove, GTK_ALIGN_CENTER);
    g_autofree char *name = g_strdup_printf(_("Remove the factor of %s"),
                                            words_translate(finish_name(m->own[i].state)));
    spoken_tooltip(remove, name);
    gtk_accessible_update_property(GTK_ACCESSIBLE(remove), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
    g_object_set_data(G_OBJECT(remove), "at", GSIZE_TO_POINTER(i));
    g_signal_connect(remove, "clicked", G_CALLBACK(removed), view);
    gtk_box_append(GTK_BOX(row), label);
    gtk_box_append(GTK_BOX(row), remove);
    gtk_box_append(GTK_BOX(view->kept), row);
  }
}

/* The case's card is one of the lab's: the gain can be kept there for all cases. */
static bool lab_card(GainView *view, Material *card)
{
  const char *id = session_case(view->session)->material.id;
  g_autofree char *folder = card_folder();
  g_autoptr(GArray) all = cards_all(folder, NULL);
  for (guint i = 0; session_has_case(view->session) && !material_find(id) && i < all->len; i++)
    if (g_str_equal(g_array_index(all, Material, i).id, id)) {
      *card = g_array_index(all, Material, i);
      return true;
    }
  return false;
}

static bool same_factor(const OwnFactor *a, const OwnFactor *b)
{
  return a && a->state == b->state && a->against == b->against && !(a->factor < b->factor) &&
         !(a->factor > b->factor) && !(a->low < b->low) && !(a->low > b->low);
}

static void use_show(GainView *view)
{
  const BarsAnswer *a = bars_desk_answer(view->desk);
  bool compared = a && a->set[0].n_good && a->set[1].n_good && !a->compare_fault,
       open = session_has_case(view->session);
  const Material *m = &session_case(view->session)->material;
  const BarsInput *in = bars_desk_input(view->desk);
  OwnFactor factor;
  Material lab;
  const char *reason = NULL;
  bool good = compared && open && factor_make(view, m, &factor, &reason),
       used = good && same_factor(own_factor_find(m, factor.state, factor.against), &factor);
  gtk_widget_set_visible(view->how, compared);
  gtk_widget_set_visible(view->use, compared);
  gtk_widget_set_visible(view->lab, compared && lab_card(view, &lab));
  gtk_widget_set_sensitive(view->use, good && !used);
  gtk_widget_set_sensitive(view->lab, good);
  g_autofree char *how =
      g_strdup_printf(_("Strength of “%s” over “%s”, as the sets say on the left."),
                      words_translate(finish_name((FinishState)in->set[1].finish)),
                      words_translate(finish_name((FinishState)in->set[0].finish)));
  gtk_label_set_text(GTK_LABEL(view->how), how);
  bars_say(view->note, !compared ? NULL
                       : !open   ? _("Open a case, and its material card can take this gain.")
                       : !good   ? words_translate(reason)
                       : used    ? _("In use: see the case’s verdict in Trace (Alt+1).")
                                 : _("Comes before the factor of the book in this case; can be "
                                        "undone."));
  kept_show(view);
}

static void gain_used(GainView *view)
{
  OwnFactor factor;
  const char *reason = NULL;
  if (!session_has_case(view->session) ||
      !factor_make(view, &session_case(view->session)->material, &factor, &reason))
    return;
  Case *c = session_edit_begin(view->session, N_("Use the gain of the bars"));
  if (!c)
    return;
  if (own_factor_set(&c->material, &factor, &reason) == FAULT_NONE)
    session_edit_end(view->session);
  else
    session_edit_cancel(view->session);
}

static void gain_kept_in_lab(GainView *view)
{
  OwnFactor factor;
  Material card;
  const char *reason = NULL;
  g_autofree char *folder = card_folder();
  g_autoptr(GError) error = NULL;
  if (!lab_card(view, &card) || !factor_make(view, &card, &factor, &reason) ||
      own_factor_set(&card, &factor, &reason))
    bars_say(view->note, reason ? words_translate(reason) : NULL);
  else if (!card_save(folder, &card, &error))
    bars_say(view->note, error->message);
  else {
    g_autofree char *text = g_strdup_printf(_("Kept in the lab’s card “%s”."), card.name);
    bars_say(view->note, text);
  }
}

/* The pen changes the case in Trace many times a second: looked at when it is seen. */
static void case_changed(GainView *view)
{
  if (gtk_widget_get_mapped(view->use) || gtk_widget_get_mapped(view->title))
    use_show(view);
}

/* ---- all ---- */

static void gain_changed(GainView *view)
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
    bars_say(view->title, title);
    gain_show(view, a);
  } else {
    for (size_t i = 0; i < G_N_ELEMENTS(figures); i++)
      bars_say(figures[i], NULL);
    bars_phrase_say(view->title,
                    (Phrase){.text = both ? N_("A comparison needs {0} good bars in each "
                                               "set.")
                                          : N_("Two sets, for example unfinished and "
                                               "polished, show what the finish gains here."),
                             .value = {BARS_LEAST}});
  }
  gtk_widget_set_visible(gtk_widget_get_parent(view->sure), both && !a->compare_fault);
  use_show(view);
}

static void example_clicked(GainView *view)
{
  bars_desk_example(view->desk);
}

static void gain_gone(GainView *view)
{
  g_signal_handlers_disconnect_by_data(view->desk, view);
  g_signal_handlers_disconnect_by_data(view->session, view);
  g_object_unref(view->desk);
  g_object_unref(view->session);
  g_free(view);
}

GtkWidget *bars_gain_new(SoffitBarsDesk *desk, SoffitSession *session)
{
  GainView *view = g_new0(GainView, 1);
  view->desk = g_object_ref(desk);
  view->session = g_object_ref(session);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0), *gain = bars_panel_new(NULL, true),
            *sure = bars_panel_new(_("How sure"), false);
  view->title = bars_label_new("dim");
  view->gain = bars_label_new("gain-figure");
  view->band = bars_label_new(NULL);
  view->sure = bars_label_new(NULL);
  view->moduli = bars_label_new("dim");
  view->how = bars_label_new("note");
  view->note = bars_label_new("note");
  gtk_widget_add_css_class(view->note, "dim");
  view->kept = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6);
  view->example = part_button(_("Try an example"), "quiet", G_CALLBACK(example_clicked), view);
  view->use = part_button(_("Use this gain"), "strong", G_CALLBACK(gain_used), view);
  view->lab =
      part_button(_("Keep it in the lab’s card"), "quiet", G_CALLBACK(gain_kept_in_lab), view);
  GtkWidget *const in_gain[] = {view->title, view->gain, view->band, view->example, view->how,
                                view->use,   view->lab,  view->note, view->kept};
  for (size_t i = 0; i < G_N_ELEMENTS(in_gain); i++)
    gtk_box_append(GTK_BOX(gain), in_gain[i]);
  gtk_box_append(GTK_BOX(sure), view->sure);
  gtk_box_append(GTK_BOX(sure), view->moduli);
  gtk_box_append(GTK_BOX(box), gain);
  gtk_box_append(GTK_BOX(box), sure);
  g_signal_connect_swapped(desk, "answer-changed", G_CALLBACK(gain_changed), view);
  g_signal_connect_swapped(session, "case-changed", G_CALLBACK(case_changed), view);
  g_signal_connect_swapped(box, "map", G_CALLBACK(use_show), view);
  gain_changed(view);
  g_object_set_data_full(G_OBJECT(box), "view", view, (GDestroyNotify)gain_gone);
  return box;
}
