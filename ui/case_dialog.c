/* case_dialog.c - pages of fields on a draft; "Take over" hands the draft to the session.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/case_dialog.h"
#include "casefile/card_folder.h"
#include "casefile/material_xml.h"
#include "ui/card_dialog.h"
#include "ui/case_form.h"
#include "ui/dialog_window.h"
#include "ui/tab_stop.h"
#include "ui/spoken.h"
#include "ui/words.h"

typedef struct {
  CaseDraft draft;
  SoffitSession *session; /* owned ref */
  bool fresh;             /* a new case, not an edit */
  GtkWidget *window, *message, *card;
  GArray *cards; /* Material, owned: shipped and the lab's */
} CaseDialog;

static void dialog_free(CaseDialog *dialog)
{
  case_clear(&dialog->draft.c);
  if (dialog->draft.answer)
    assessment_unref(dialog->draft.answer);
  g_object_unref(dialog->session);
  g_clear_pointer(&dialog->cards, g_array_unref);
  g_free(dialog);
}

/* --- take over --- */

static bool draft_take(CaseDialog *dialog, GError **error)
{
  if (dialog->fresh)
    return session_start(dialog->session, &dialog->draft.c, error);
  Case *c = session_edit_begin(dialog->session, N_("Edit case"));
  if (c == NULL || case_copy(c, &dialog->draft.c) != FAULT_NONE) {
    session_edit_cancel(dialog->session);
    g_set_error_literal(error, G_FILE_ERROR, G_FILE_ERROR_NOMEM,
                        _(fault_text(session_edit_fault(dialog->session))));
    return false;
  }
  session_edit_end(dialog->session);
  return true;
}

static void take_over(GtkButton *button, CaseDialog *dialog)
{
  (void)button;
  char place[32];
  const char *reason = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *text = NULL;
  if (!case_check(&dialog->draft.c, place, &reason)) {
    g_autofree char *where = words_place(place);
    text = g_strdup_printf("%s: %s", where, words_translate(reason));
  } else if (!draft_take(dialog, &error))
    text = g_strdup(error->message);
  if (text == NULL) {
    gtk_window_destroy(GTK_WINDOW(dialog->window));
    return;
  }
  gtk_label_set_text(GTK_LABEL(dialog->message), text);
  gtk_widget_set_visible(dialog->message, TRUE);
}

/* --- pages --- */

static GtkWidget *order_page(CaseDialog *dialog)
{
  /* as JobStep, which counts from 1 */
  static const char *const step[] = {
      N_("not recorded"), N_("order"),   N_("drawing"),   N_("cutting plan"), N_("soft state"),
      N_("firing"),       N_("fitting"), N_("adjusting"), N_("finishing"),    N_("stain and glaze"),
      N_("last look"),    N_("signing"), N_("hand-over"), N_("broken")};
  static const char *const habit[] = {N_("not asked"), N_("no"), N_("yes")};
  Case *c = &dialog->draft.c;
  GtkWidget *form = form_new();
  form_text(form, _("Case number"), _("no patient name"), &c->number);
  form_text(form, _("Title"), _("a line of your own"), &c->title);
  form_number(form, _("Order’s load"), _("N, pressed on the worst place of the biting edge"),
              &c->order_load_n, 5, 5000, 10, 0);
  form_choice(form, _("Grinding habit"), _("as the order says"), habit, G_N_ELEMENTS(habit),
              (unsigned *)&c->grinding_habit);
  form_number(form, _("Bites a day"), _("at the order’s load; empty: 700"), &c->service.bites_a_day,
              0, SERVICE_BITES_MOST, 100, 0);
  form_number(form, _("Years of service"), _("empty: 10"), &c->service.years, 0, SERVICE_YEARS_MOST,
              1, 0);
  form_number(form, _("Brush to pass"), _("mm, passage hole (ISO 16409)"), &c->brush_mm, 0.6, 5,
              0.1, 1);
  form_number(form, _("Free height"), _("mm, tissue to the highest biting groove"), &c->free_height,
              0, 20, 0.1, 1);
  form_number(form, _("Bow of the arch"), _("mm, pontic beside the line of the abutments"),
              &c->arch_bow, 0, 20, 0.1, 1);
  form_number(form, _("Enlargement"), _("what the bridge is milled with"), &c->enlargement, 1, 1.5,
              0.001, 4);
  form_number(form, _("On the label"), _("read again, from this very blank"), &c->enlargement_label,
              1, 1.5, 0.001, 4);
  form_number(form, _("Cutter"), _("mm, smallest tool for the embrasures"), &c->cutter_diameter,
              0.3, 3, 0.1, 1);
  form_choice(form, _("Step of the job"), _("rules of later steps stay silent"), step,
              G_N_ELEMENTS(step), (unsigned *)&c->step);
  return form;
}

/* The finish of the card's bars in the words of the bench. */
static const char *bar_finish_text(const Material *card)
{
  FinishState finish;
  return finish_from_id(card->bar_finish, &finish) ? words_translate(finish_name(finish))
                                                   : card->bar_finish;
}

static void card_show(CaseDialog *dialog)
{
  const Material *card = &dialog->draft.c.material;
  g_autofree char *strength = words_number(card->strength_mpa, 0),
                  *band = words_number(card->strength_percent, 0);
  g_autofree char *spread = words_number(card->weibull, 0),
                  *tough = words_number(card->toughness, 1);
  g_autofree char *tough_band = words_number(card->toughness_percent, 0),
                  *stiff = words_number(card->young_mpa / 1000, 0);
  g_autofree char *text =
      g_strdup_printf(_("ISO 6872 class %d. Bars: %s MPa (± %s %%), spread m %s, finished %s. "
                        "Toughness %s MPa√m (± %s %%). Stiffness %s GPa.\n\n%s"),
                      card->iso_class, strength, band, spread, bar_finish_text(card), tough,
                      tough_band, stiff, words_translate(card->source));
  g_autoptr(GString) all = g_string_new(text);
  for (size_t i = 0; i < card->n_own; i++) {
    g_autofree char *factor = words_own_factor(&card->own[i]);
    g_string_append_printf(all, "\n\n%s", factor);
  }
  gtk_label_set_text(GTK_LABEL(dialog->card), all->str);
}

static void card_chosen(GtkDropDown *field, GParamSpec *property, CaseDialog *dialog)
{
  (void)property;
  guint chosen = gtk_drop_down_get_selected(field);
  if (chosen < dialog->cards->len)
    dialog->draft.c.material = g_array_index(dialog->cards, Material, chosen);
  card_show(dialog);
}

static GtkWidget *material_page(CaseDialog *dialog)
{
  Case *c = &dialog->draft.c;
  GtkWidget *form = form_new();
  GtkStringList *names = gtk_string_list_new(NULL);
  g_autofree char *folder = card_folder();
  dialog->cards = cards_all(folder, NULL); /* what cannot be read is told where cards are edited */
  guint n = dialog->cards->len, chosen = n;
  for (guint i = 0; i < n; i++) {
    const Material *card = &g_array_index(dialog->cards, Material, i);
    gtk_string_list_append(names, words_translate(card->name));
    if (g_str_equal(card->id, c->material.id))
      chosen = i;
  }
  if (chosen == n) /* the case carries a card of its own */
    gtk_string_list_append(names, *c->material.name ? c->material.name : _("own values"));
  GtkWidget *field = gtk_drop_down_new(G_LIST_MODEL(names), NULL);
  gtk_drop_down_set_selected(GTK_DROP_DOWN(field), chosen);
  g_signal_connect(field, "notify::selected", G_CALLBACK(card_chosen), dialog);
  form_row(form, _("Material card"), field, _("the case keeps a copy of it"));
  form_text(form, _("Batch of the blank"), "", &c->blank_batch);
  dialog->card = gtk_label_new(NULL);
  gtk_label_set_wrap(GTK_LABEL(dialog->card), TRUE);
  gtk_label_set_xalign(GTK_LABEL(dialog->card), 0);
  gtk_label_set_max_width_chars(GTK_LABEL(dialog->card), 60);
  gtk_grid_attach(GTK_GRID(form), dialog->card, 0, 2, 3, 1);
  card_show(dialog);
  return form;
}

/* --- the window --- */

static GtkWidget *buttons_build(CaseDialog *dialog)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *take = dialog_button_new(dialog->fresh ? _("Make the case") : _("Take over"), "strong",
                                      G_CALLBACK(take_over), dialog);
  dialog->message = gtk_label_new(NULL);
  gtk_label_set_wrap(GTK_LABEL(dialog->message), TRUE);
  gtk_label_set_xalign(GTK_LABEL(dialog->message), 0);
  gtk_widget_set_hexpand(dialog->message, TRUE);
  gtk_box_append(GTK_BOX(row), dialog->message);
  gtk_box_append(GTK_BOX(row), dialog_button_new(_("Leave"), "quiet", NULL, NULL));
  gtk_box_append(GTK_BOX(row), take);
  gtk_widget_add_css_class(row, "actions");
  gtk_window_set_default_widget(GTK_WINDOW(dialog->window), take);
  return row;
}

/* Takes the dialog over. */
static void dialog_show(CaseDialog *dialog, GtkWindow *parent)
{
  dialog->window =
      dialog_window_new(parent, dialog->fresh ? _("New case") : _("Edit case"), 860, 560);
  GtkWidget *stack = gtk_stack_new(), *pages = dialog_pages_new(stack);
  dialog_page_add(stack, order_page(dialog), "order", _("Order and job"));
  dialog_page_add(stack, case_units_page(&dialog->draft), "units", _("Units"));
  dialog_page_add(stack, case_bites_page(&dialog->draft), "bites", _("Bites"));
  dialog_page_add(stack, material_page(dialog), "material", _("Material"));
  if (!dialog->fresh) {
    dialog_page_add(stack, case_neck_page(&dialog->draft), "neck", _("Connectors"));
    dialog_page_add(stack, case_bridge_page(&dialog->draft), "bridge", _("Firing and fit"));
    dialog_page_add(stack, case_handover_page(&dialog->draft), "handover", _("Hand-over"));
    dialog_page_add(stack, case_break_page(&dialog->draft), "break", _("After a break"));
  }
  dialog_pages_name(pages);
  gtk_widget_set_hexpand(stack, TRUE);
  GtkWidget *middle = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0),
            *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_vexpand(middle, TRUE);
  gtk_box_append(GTK_BOX(middle), tab_stop_new(pages));
  gtk_box_append(GTK_BOX(middle), stack);
  gtk_box_append(GTK_BOX(box), middle);
  gtk_box_append(GTK_BOX(box), buttons_build(dialog));
  gtk_window_set_child(GTK_WINDOW(dialog->window), box);
  g_object_set_data_full(G_OBJECT(dialog->window), "dialog", dialog, (GDestroyNotify)dialog_free);
  gtk_window_present(GTK_WINDOW(dialog->window));
  gtk_widget_child_focus(pages, GTK_DIR_TAB_FORWARD); /* the keys begin at the list of pages */
}

static CaseDialog *dialog_new(SoffitSession *session, bool fresh)
{
  CaseDialog *dialog = g_new0(CaseDialog, 1);
  case_init(&dialog->draft.c);
  dialog->session = g_object_ref(session);
  dialog->fresh = fresh;
  return dialog;
}

void case_dialog_new(GtkWindow *parent, SoffitSession *session)
{
  CaseDialog *dialog = dialog_new(session, true);
  Case *c = &dialog->draft.c;
  const Material *card = material_find("3y");
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  g_free(c->number);
  c->number = g_date_time_format(now, "%y%m%d-%H%M");
  if (card)
    c->material = *card;
  c->brush_mm = 1.1;
  c->enlargement = 1.25;
  c->cutter_diameter = 1.0;
  case_units_propose(c);
  dialog_show(dialog, parent);
}

void case_dialog_edit(GtkWindow *parent, SoffitSession *session)
{
  CaseDialog *dialog = dialog_new(session, false);
  dialog->draft.connector = session_focus(session);
  const Assessment *answer = session_assessment(session);
  if (answer) /* counted, never changed */
    dialog->draft.answer = assessment_ref((Assessment *)(uintptr_t)answer);
  if (case_copy(&dialog->draft.c, session_case(session)) == FAULT_NONE)
    dialog_show(dialog, parent);
  else
    dialog_free(dialog);
}
