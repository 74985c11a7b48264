/* bars_card.c - a set of bars as a material card: onto this case's, or among the lab's cards.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Strength, spread and bars come from the set, everything else from the case's card (without a
 * case: from the card that the bars are shown beside). */
#include "casefile/card_folder.h"
#include "strength/iso_class.h"
#include "ui/bars/bars_parts.h"
#include "ui/card_dialog.h"
#include "ui/case_form.h"
#include "ui/parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

typedef struct {
  SoffitBarsDesk *desk;   /* owned ref */
  SoffitSession *session; /* owned ref */
  GtkWidget *fields, *set, *lot, *who, *published, *to_case, *to_lab, *note;
} CardView;

static bool set_enough(const BarsAnswer *a, int which)
{
  return a && a->set[which].n_good >= BARS_LEAST && !a->set[which].fit_fault;
}

static void names_show(CardView *view)
{
  const char *const name[] = {bars_desk_name(view->desk, 0), bars_desk_name(view->desk, 1), NULL};
  GListModel *shown = gtk_drop_down_get_model(GTK_DROP_DOWN(view->set));
  bool same = shown && g_list_model_get_n_items(shown) == BARS_SETS;
  for (guint i = 0; same && i < BARS_SETS; i++)
    same = g_str_equal(gtk_string_list_get_string(GTK_STRING_LIST(shown), i), name[i]);
  if (same)
    return;
  guint at = shown ? gtk_drop_down_get_selected(GTK_DROP_DOWN(view->set)) : BARS_SETS - 1;
  g_autoptr(GtkStringList) names = gtk_string_list_new(name);
  gtk_drop_down_set_model(GTK_DROP_DOWN(view->set), G_LIST_MODEL(names));
  gtk_drop_down_set_selected(GTK_DROP_DOWN(view->set), at);
}

static int chosen(CardView *view)
{
  return gtk_drop_down_get_selected(GTK_DROP_DOWN(view->set)) == 0 ? 0 : 1;
}

static void card_show(CardView *view)
{
  const BarsAnswer *a = bars_desk_answer(view->desk);
  bool open = session_has_case(view->session), any = set_enough(a, 0) || set_enough(a, 1);
  names_show(view);
  gtk_widget_set_visible(view->fields, any);
  gtk_widget_set_sensitive(view->to_case, open && set_enough(a, chosen(view)));
  gtk_widget_set_sensitive(view->to_lab, set_enough(a, chosen(view)));
  bars_say(view->note,
           !any                           ? _("Ten bars and more can become a material card.")
           : !set_enough(a, chosen(view)) ? _("This set has fewer than ten good bars.")
           : open ? _("Replaces strength, spread and bars; the rest stays that of the case’s card.")
                  : _("The rest is that of the card chosen above."));
}

/* Lot and initials as the case has them, where nothing was typed. */
static void case_opened(CardView *view)
{
  const Case *c = session_case(view->session);
  if (session_has_case(view->session)) {
    if (!*gtk_editable_get_text(GTK_EDITABLE(view->lot)))
      gtk_editable_set_text(GTK_EDITABLE(view->lot), c->blank_batch);
    if (!*gtk_editable_get_text(GTK_EDITABLE(view->who)))
      gtk_editable_set_text(GTK_EDITABLE(view->who), c->author);
  }
  card_show(view);
}

/* The card of the chosen set; false: the note says what is missing. */
static bool card_make(CardView *view, Material *card)
{
  const BarsAnswer *a = bars_desk_answer(view->desk);
  int which = chosen(view);
  const Material *like = session_has_case(view->session) ? &session_case(view->session)->material
                                                         : bars_desk_card(view->desk);
  if (!like || !set_enough(a, which))
    return false;
  const BarsSetAnswer *set = &a->set[which];
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  g_autofree char *day = g_date_time_format(now, "%Y-%m-%d"),
                  *name = g_strdup_printf(_("Own bars, %s"), day);
  bool disc = a->setup.test == BAR_DISC;
  BarCard bars = {.name = name,
                  .test = a->setup.test,
                  .span = a->setup.span,
                  .width = disc ? a->setup.inner : set->width,
                  .thickness = set->thickness,
                  .finish = (FinishState)bars_desk_input(view->desk)->set[which].finish,
                  .strength_mpa = set->fit.scale.value,
                  .strength_low = set->fit.scale.low,
                  .strength_high = set->fit.scale.high,
                  .weibull = set->fit.modulus.value,
                  .bars = set->n_good,
                  .date = day,
                  .lot = gtk_editable_get_text(GTK_EDITABLE(view->lot)),
                  .who = gtk_editable_get_text(GTK_EDITABLE(view->who))};
  const char *reason = NULL;
  if (card_from_bars(like, &bars, card, &reason)) {
    bars_say(view->note, words_translate(reason));
    return false;
  }
  card->iso_class = iso_class_reached(set->fit.mean.value, NAN);
  card->of[FIGURE_CLASS] = card->of[FIGURE_STRENGTH];
  return true;
}

static void given_to_case(CardView *view)
{
  Material card;
  if (!session_has_case(view->session) || !card_make(view, &card))
    return;
  Case *c = session_edit_begin(view->session, N_("Bars on the material card"));
  if (!c)
    return;
  g_strlcpy(card.id, "own", sizeof card.id);
  c->material = card;
  session_edit_end(view->session);
  bars_say(view->note, _("The case has these figures now; see its verdict in Trace (Alt+1)."));
}

static void given_to_lab(CardView *view)
{
  Material card;
  g_autofree char *folder = card_folder();
  g_autoptr(GError) error = NULL;
  if (!card_make(view, &card))
    return;
  bool published = gtk_check_button_get_active(GTK_CHECK_BUTTON(view->published));
  card.state = published ? CARD_PUBLISHED : CARD_DRAFT;
  card_new_id(folder, card.name, card.id);
  if (!card_save(folder, &card, &error)) {
    bars_say(view->note, error->message);
    return;
  }
  g_autofree char *text = g_strdup_printf(
      published ? _("Among the lab’s cards as “%s”, published.")
                : _("Among the lab’s cards as “%s”, a draft; see “Material cards” in the menu."),
      card.name);
  bars_say(view->note, text);
}

static void card_gone(CardView *view)
{
  g_signal_handlers_disconnect_by_data(view->desk, view);
  g_signal_handlers_disconnect_by_data(view->session, view);
  g_object_unref(view->desk);
  g_object_unref(view->session);
  g_free(view);
}

static GtkWidget *entry_new(GtkWidget *grid, int row, const char *name, int most)
{
  GtkWidget *label = gtk_label_new(name), *entry = gtk_entry_new();
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_entry_set_max_length(GTK_ENTRY(entry), most);
  gtk_editable_set_width_chars(GTK_EDITABLE(entry), 10);
  gtk_widget_set_hexpand(entry, TRUE);
  field_name(entry, name);
  gtk_grid_attach(GTK_GRID(grid), label, 0, row, 1, 1);
  gtk_grid_attach(GTK_GRID(grid), entry, 1, row, 1, 1);
  return entry;
}

GtkWidget *bars_card_new(SoffitBarsDesk *desk, SoffitSession *session)
{
  CardView *view = g_new0(CardView, 1);
  view->desk = g_object_ref(desk);
  view->session = g_object_ref(session);
  GtkWidget *box = bars_panel_new(_("Material card"), false), *grid = gtk_grid_new(),
            *label = gtk_label_new(_("From"));
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_grid_set_row_spacing(GTK_GRID(grid), 4);
  gtk_grid_set_column_spacing(GTK_GRID(grid), 8);
  view->set = gtk_drop_down_new(NULL, NULL);
  field_name(view->set, _("set that the card is made from"));
  gtk_widget_set_hexpand(view->set, TRUE);
  gtk_grid_attach(GTK_GRID(grid), label, 0, 0, 1, 1);
  gtk_grid_attach(GTK_GRID(grid), view->set, 1, 0, 1, 1);
  view->lot = entry_new(grid, 1, _("Lot"), sizeof((Material *)0)->lot / 2);
  view->who = entry_new(grid, 2, _("Entered by"), sizeof((Material *)0)->who / 2);
  spoken_tooltip(view->who, _("initials or role, no name"));
  view->published = gtk_check_button_new_with_label(_("published, for the whole lab"));
  view->to_case = part_button(_("To this case"), "strong", G_CALLBACK(given_to_case), view);
  view->to_lab = part_button(_("To the lab’s cards"), "quiet", G_CALLBACK(given_to_lab), view);
  view->fields = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append(GTK_BOX(view->fields), grid);
  gtk_box_append(GTK_BOX(view->fields), view->to_case);
  gtk_box_append(GTK_BOX(view->fields), view->published);
  gtk_box_append(GTK_BOX(view->fields), view->to_lab);
  view->note = bars_label_new("note");
  gtk_widget_add_css_class(view->note, "dim");
  gtk_box_append(GTK_BOX(box), view->fields);
  gtk_box_append(GTK_BOX(box), view->note);
  g_signal_connect_swapped(view->set, "notify::selected", G_CALLBACK(card_show), view);
  g_signal_connect_swapped(desk, "answer-changed", G_CALLBACK(card_show), view);
  g_signal_connect_swapped(session, "case-opened", G_CALLBACK(case_opened), view);
  case_opened(view);
  g_object_set_data_full(G_OBJECT(box), "view", view, (GDestroyNotify)card_gone);
  return box;
}
