/* card_dialog.c - a list of cards and the fields of the chosen one.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * MPa, mm.  Shipped cards can be read and copied; a copy is the lab's own and is written into its
 * folder by "Save card".  Refusals are told in words above the buttons, nothing is lost. */
#include "ui/card_dialog.h"
#include "casefile/card_folder.h"
#include "casefile/material_xml.h"
#include "strength/iso_class.h"
#include "strength/surface.h"
#include "ui/case_form.h"
#include "ui/dialog_window.h"
#include "ui/file_choice.h"
#include "ui/preferences.h"
#include "ui/spoken.h"
#include "ui/tab_stop.h"
#include "ui/words.h"

#define FOLDER_KEY "card-folder"

typedef struct {
  GtkWidget *window, *list, *page, *message, *save, *where;
  GtkFileChooserNative *chooser;
  GArray *cards;                          /* Material, owned */
  Material card;                          /* being edited */
  int at;                                 /* its place among the cards, -1 = none */
  bool own;                               /* it can be saved */
  char *name, *source, *date, *lot, *who; /* owned: the card's texts as fields hold them */
  char *of[FIGURE_N];                     /* owned */
  double iso_class, bars;
  unsigned finish;
} CardDialog;

char *card_folder(void)
{
  char *chosen = preference_word(FOLDER_KEY);
  if (chosen && *chosen)
    return chosen;
  g_free(chosen);
  return g_build_filename(g_get_user_data_dir(), "soffit", "cards", NULL);
}

static void texts_free(CardDialog *dialog)
{
  char **const text[] = {&dialog->name, &dialog->source, &dialog->date, &dialog->lot, &dialog->who};
  for (size_t i = 0; i < G_N_ELEMENTS(text); i++)
    g_clear_pointer(text[i], g_free);
  for (int i = 0; i < FIGURE_N; i++)
    g_clear_pointer(&dialog->of[i], g_free);
}

static void dialog_free(CardDialog *dialog)
{
  texts_free(dialog);
  g_clear_object(&dialog->chooser);
  g_clear_pointer(&dialog->cards, g_array_unref);
  g_free(dialog);
}

static void tell(CardDialog *dialog, const char *text)
{
  gtk_label_set_text(GTK_LABEL(dialog->message), text);
  gtk_widget_set_visible(dialog->message, *text != '\0');
  spoken_name(dialog->message, text);
}

/* ---- the fields ---- */

static void texts_take(CardDialog *dialog)
{
  const Material *m = &dialog->card;
  FinishState finish;
  texts_free(dialog);
  dialog->name = g_strdup(words_translate(m->name));
  dialog->source = g_strdup(words_translate(m->source));
  dialog->date = g_strdup(m->date);
  dialog->lot = g_strdup(m->lot);
  dialog->who = g_strdup(m->who);
  for (int i = 0; i < FIGURE_N; i++)
    dialog->of[i] = g_strdup(words_translate(m->of[i].source));
  dialog->iso_class = m->iso_class > 0 ? (double)m->iso_class : (double)NAN;
  dialog->bars = m->bar_count > 0 ? (double)m->bar_count : (double)NAN;
  dialog->finish = finish_from_id(m->bar_finish, &finish) ? finish : FINISH_UNKNOWN;
}

/* Cut at a character border where a text is longer than the card has room. */
static void text_put(char *into, size_t room, const char *text)
{
  g_strlcpy(into, text, room);
  const char *end;
  if (!g_utf8_validate(into, -1, &end))
    into[end - into] = '\0';
}

static void texts_give(CardDialog *dialog)
{
  Material *m = &dialog->card;
  text_put(m->name, sizeof m->name, dialog->name);
  text_put(m->source, sizeof m->source, dialog->source);
  text_put(m->date, sizeof m->date, dialog->date);
  text_put(m->lot, sizeof m->lot, dialog->lot);
  text_put(m->who, sizeof m->who, dialog->who);
  for (int i = 0; i < FIGURE_N; i++)
    text_put(m->of[i].source, sizeof m->of[i].source, dialog->of[i]);
  m->iso_class = isnan(dialog->iso_class) ? 0 : (int)dialog->iso_class;
  m->bar_count = isnan(dialog->bars) ? 0 : (int)dialog->bars;
  text_put(m->bar_finish, sizeof m->bar_finish, finish_id((FinishState)dialog->finish));
}

/* Below a figure: where it is from and how well it is known. */
static void source_rows(GtkWidget *form, CardDialog *dialog, CardFigure figure)
{
  const char *known[CONFIDENCE_N];
  for (int i = 0; i < CONFIDENCE_N; i++)
    known[i] = confidence_name((Confidence)i);
  const char *of = words_translate(card_figure_name(figure));
  g_autofree char *source = g_strdup_printf(_("Source of %s"), of),
                  *sure = g_strdup_printf(_("How well known: %s"), of);
  form_text(form, source, "", &dialog->of[figure]);
  form_choice(form, sure, "", known, CONFIDENCE_N, (unsigned *)&dialog->card.of[figure].confidence);
}

static void figures_add(GtkWidget *form, CardDialog *dialog)
{
  Material *m = &dialog->card;
  form_title(form, _("Figures"));
  form_number(form, _("Stiffness E"), _("MPa"), &m->young_mpa, 1e4, 1e6, 1000, 0);
  source_rows(form, dialog, FIGURE_YOUNG);
  form_number(form, _("Poisson's ratio"), "", &m->poisson, 0, 0.49, 0.01, 2);
  source_rows(form, dialog, FIGURE_POISSON);
  form_number(form, _("Toughness K_Ic"), _("MPa√m"), &m->toughness, 0.3, 20, 0.1, 2);
  form_number(form, _("its band"), _("± percent"), &m->toughness_percent, 0, 90, 1, 0);
  source_rows(form, dialog, FIGURE_TOUGHNESS);
  form_number(form, _("Threshold K_I0"), _("MPa√m, no crack grows below"), &m->threshold, 0.1, 20,
              0.1, 2);
  source_rows(form, dialog, FIGURE_THRESHOLD);
  form_number(form, _("Crack growth n"), _("exponent in water"), &m->growth_n, 5, 200, 1, 1);
  form_number(form, _("n from"), "", &m->growth_low, 5, 200, 1, 1);
  form_number(form, _("n to"), "", &m->growth_high, 5, 200, 1, 1);
  source_rows(form, dialog, FIGURE_GROWTH);
}

static void bars_add(GtkWidget *form, CardDialog *dialog)
{
  static const char *const test[] = {N_("three-point"), N_("four-point, quarter"),
                                     N_("four-point, third"), N_("disc on three balls")};
  const char *finish[FINISH_N];
  for (int i = 0; i < FINISH_N; i++)
    finish[i] = finish_name((FinishState)i);
  Material *m = &dialog->card;
  form_title(form, _("Strength, from bars"));
  form_number(form, _("Strength"), _("MPa, 63 of 100 broken"), &m->strength_mpa, 20, 5000, 10, 0);
  form_number(form, _("its band"), _("± percent"), &m->strength_percent, 0, 90, 1, 0);
  source_rows(form, dialog, FIGURE_STRENGTH);
  form_number(form, _("Spread m"), "", &m->weibull, 1, 100, 0.5, 1);
  source_rows(form, dialog, FIGURE_WEIBULL);
  form_choice(form, _("Test"), "", test, G_N_ELEMENTS(test), (unsigned *)&m->bar);
  form_number(form, _("Span"), _("mm, disc: support circle"), &m->bar_span, 1, 200, 1, 1);
  form_number(form, _("Width"), _("mm, disc: piston"), &m->bar_width, 0.5, 50, 0.1, 2);
  form_number(form, _("Thickness"), _("mm"), &m->bar_thickness, 0.2, 20, 0.1, 2);
  form_choice(form, _("Finish of the bars"), _("the strength holds for it"), finish, FINISH_N,
              &dialog->finish);
  form_number(form, _("Number of bars"), "", &dialog->bars, 1, 100000, 1, 0);
}

static void class_add(GtkWidget *form, CardDialog *dialog)
{
  Material *m = &dialog->card;
  form_title(form, _("Class and polish"));
  const IsoClass *class = iso_class(m->iso_class);
  g_autofree char *use = class ? g_strdup_printf("%s (%s)", words_translate(class->use),
                                                 words_translate(iso_class_source))
                               : g_strdup(words_translate(iso_class_source));
  form_number(form, _("ISO 6872 class"), use, &dialog->iso_class, 1, 5, 1, 0);
  source_rows(form, dialog, FIGURE_CLASS);
  form_number(form, _("Upper limit of the polish gain"), _("1: none"), &m->polish_gain_top, 1, 3,
              0.05, 2);
  source_rows(form, dialog, FIGURE_GAIN);
}

static void page_fill(CardDialog *dialog);

static void factor_removed(GtkButton *button, CardDialog *dialog)
{
  texts_give(dialog);
  own_factor_remove(&dialog->card, GPOINTER_TO_SIZE(g_object_get_data(G_OBJECT(button), "factor")));
  page_fill(dialog);
  gtk_widget_grab_focus(dialog->save);
  tell(dialog, _("Removed here; save the card to keep it so."));
}

static void factors_add(GtkWidget *form, CardDialog *dialog)
{
  form_title(form, _("Own finish factors"));
  if (!dialog->card.n_own)
    form_wide(form, gtk_label_new(_("None. Two sets compared among the bars make one.")));
  for (size_t i = 0; i < dialog->card.n_own; i++) {
    g_autofree char *words = words_own_factor(&dialog->card.own[i]),
                    *name =
                        g_strdup_printf(_("Remove the factor of %s"),
                                        words_translate(finish_name(dialog->card.own[i].state)));
    GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8), *label = gtk_label_new(words),
              *remove = gtk_button_new_from_icon_name("list-remove-symbolic");
    gtk_label_set_wrap(GTK_LABEL(label), TRUE);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_widget_set_hexpand(label, TRUE);
    gtk_widget_add_css_class(remove, "plain");
    spoken_tooltip(remove, name);
    spoken_name(remove, name);
    g_object_set_data(G_OBJECT(remove), "factor", GSIZE_TO_POINTER(i));
    g_signal_connect(remove, "clicked", G_CALLBACK(factor_removed), dialog);
    gtk_box_append(GTK_BOX(row), label);
    gtk_box_append(GTK_BOX(row), remove);
    form_wide(form, row);
  }
}

static void page_fill(CardDialog *dialog)
{
  static const char *const state[] = {N_("draft"), N_("published")};
  const char *known[CONFIDENCE_N];
  for (int i = 0; i < CONFIDENCE_N; i++)
    known[i] = confidence_name((Confidence)i);
  Material *m = &dialog->card;
  texts_take(dialog);
  GtkWidget *form = form_new();
  form_title(form, _("Card"));
  form_text(form, _("Name"), _("what was tested"), &dialog->name);
  form_choice(form, _("State"), _("published: each figure names its source"), state,
              G_N_ELEMENTS(state), (unsigned *)&m->state);
  form_text(form, _("Day"), _("like 2026-11-25"), &dialog->date);
  form_text(form, _("Lot"), _("of the blanks"), &dialog->lot);
  form_text(form, _("Entered by"), _("initials or role, no name"), &dialog->who);
  form_text(form, _("Source of all"), _("where a figure has none of its own"), &dialog->source);
  form_choice(form, _("How well known"), "", known, CONFIDENCE_N, (unsigned *)&m->confidence);
  figures_add(form, dialog);
  bars_add(form, dialog);
  class_add(form, dialog);
  factors_add(form, dialog);
  gtk_widget_set_sensitive(form, dialog->own);
  gtk_widget_set_visible(dialog->save, dialog->own);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(dialog->page), form);
}

/* ---- list, copy, save, folder ---- */

/* state NULL: as it is on the disk. */
static void row_say(GtkWidget *label, const Material *m, const char *state)
{
  const char *kind = state                        ? state
                     : material_find(m->id)       ? _("shipped")
                     : m->state == CARD_PUBLISHED ? _("published")
                                                  : _("draft");
  g_autofree char *text = g_strdup_printf("%s\n%s", words_translate(m->name), kind);
  gtk_label_set_text(GTK_LABEL(label), text);
  spoken_name(gtk_widget_get_parent(label), text);
}

static void row_add(CardDialog *dialog, const Material *m, const char *state)
{
  GtkWidget *label = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(label), 0);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_list_box_append(GTK_LIST_BOX(dialog->list), label);
  row_say(label, m, state);
}

static void row_choose(CardDialog *dialog, int at)
{
  gtk_list_box_select_row(GTK_LIST_BOX(dialog->list),
                          gtk_list_box_get_row_at_index(GTK_LIST_BOX(dialog->list), at));
}

/* What was typed stays with its card while the dialog lives, also when another one is looked at. */
static void edit_keep(CardDialog *dialog)
{
  if (dialog->at < 0 || !dialog->own)
    return;
  texts_give(dialog);
  g_array_index(dialog->cards, Material, dialog->at) = dialog->card;
}

static void list_fill(CardDialog *dialog, const char *chosen)
{
  g_autofree char *folder = card_folder();
  g_autoptr(GPtrArray) message = g_ptr_array_new_with_free_func(g_free);
  g_clear_pointer(&dialog->cards, g_array_unref);
  dialog->cards = cards_all(folder, message);
  GtkWidget *row;
  while ((row = gtk_widget_get_first_child(dialog->list)) != NULL)
    gtk_list_box_remove(GTK_LIST_BOX(dialog->list), row);
  int at = 0;
  dialog->at = -1;
  for (guint i = 0; i < dialog->cards->len; i++) {
    const Material *m = &g_array_index(dialog->cards, Material, i);
    row_add(dialog, m, NULL);
    if (chosen && g_str_equal(m->id, chosen))
      at = (int)i;
  }
  gtk_label_set_text(GTK_LABEL(dialog->where), folder);
  row_choose(dialog, at);
  g_ptr_array_add(message, NULL);
  g_autofree char *all = g_strjoinv("\n", (char **)message->pdata);
  tell(dialog, all);
}

static void card_selected(GtkListBox *list, GtkListBoxRow *row, CardDialog *dialog)
{
  (void)list;
  int at = row ? gtk_list_box_row_get_index(row) : -1;
  if (at < 0 || (guint)at >= dialog->cards->len || at == dialog->at)
    return;
  edit_keep(dialog);
  dialog->at = at;
  dialog->card = g_array_index(dialog->cards, Material, at);
  dialog->own = material_find(dialog->card.id) == NULL;
  page_fill(dialog);
}

static bool id_here(const CardDialog *dialog, const char *id)
{
  for (guint i = 0; i < dialog->cards->len; i++)
    if (g_str_equal(g_array_index(dialog->cards, Material, i).id, id))
      return true;
  return false;
}

/* An id that neither the disk nor a copy not saved yet has. */
static void id_make(const CardDialog *dialog, Material *card)
{
  g_autofree char *folder = card_folder();
  card_new_id(folder, card->name, card->id);
  g_autofree char *stem = g_strdup(card->id);
  for (int k = 2; id_here(dialog, card->id); k++)
    g_snprintf(card->id, sizeof card->id, "%.26s-%d", stem, k);
}

static void copy_made(GtkButton *button, CardDialog *dialog)
{
  (void)button;
  g_autoptr(GDateTime) now = g_date_time_new_now_local();
  g_autofree char *day = g_date_time_format(now, "%Y-%m-%d");
  edit_keep(dialog);
  Material copy = dialog->card;
  g_autofree char *name = g_strdup_printf(_("%s, own copy"), words_translate(copy.name));
  text_put(copy.name, sizeof copy.name, name);
  text_put(copy.date, sizeof copy.date, day);
  id_make(dialog, &copy);
  copy.state = CARD_DRAFT;
  g_array_append_val(dialog->cards, copy);
  row_add(dialog, &copy, _("not saved yet"));
  row_choose(dialog, (int)dialog->cards->len - 1);
  tell(dialog, _("A copy: change it, then save it."));
}

static void card_saved(GtkButton *button, CardDialog *dialog)
{
  (void)button;
  g_autofree char *folder = card_folder();
  g_autoptr(GError) error = NULL;
  texts_give(dialog);
  if (!card_save(folder, &dialog->card, &error)) {
    tell(dialog, error->message);
    return;
  }
  GtkListBoxRow *row = gtk_list_box_get_row_at_index(GTK_LIST_BOX(dialog->list), dialog->at);
  row_say(gtk_list_box_row_get_child(row), &dialog->card, NULL);
  tell(dialog, _("Saved."));
}

static void folder_chosen(GtkNativeDialog *native, int response, CardDialog *dialog)
{
  (void)native;
  g_autofree char *path = file_choice_done(&dialog->chooser, response);
  if (!path)
    return;
  preference_word_set(FOLDER_KEY, path);
  list_fill(dialog, NULL);
}

static void folder_asked(GtkButton *button, CardDialog *dialog)
{
  (void)button;
  GtkFileChooserNative *chooser =
      file_choice_new(&dialog->chooser, GTK_WINDOW(dialog->window), _("Folder of the cards"),
                      GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, _("Choose"));
  if (!chooser)
    return;
  g_signal_connect(chooser, "response", G_CALLBACK(folder_chosen), dialog);
  gtk_native_dialog_show(GTK_NATIVE_DIALOG(chooser));
}

/* ---- the window ---- */

static GtkWidget *buttons_build(CardDialog *dialog)
{
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *leave = dialog_button_new(_("Leave"), "quiet", NULL, NULL);
  dialog->where = gtk_label_new(NULL);
  gtk_label_set_ellipsize(GTK_LABEL(dialog->where), PANGO_ELLIPSIZE_START);
  gtk_label_set_xalign(GTK_LABEL(dialog->where), 0);
  gtk_widget_set_hexpand(dialog->where, TRUE);
  gtk_widget_add_css_class(dialog->where, "dim");
  dialog->save = dialog_button_new(_("Save card"), "strong", G_CALLBACK(card_saved), dialog);
  gtk_box_append(GTK_BOX(row),
                 dialog_button_new(_("Folder…"), "quiet", G_CALLBACK(folder_asked), dialog));
  gtk_box_append(GTK_BOX(row), dialog->where);
  gtk_box_append(GTK_BOX(row), leave);
  gtk_box_append(GTK_BOX(row),
                 dialog_button_new(_("Copy to edit"), "quiet", G_CALLBACK(copy_made), dialog));
  gtk_box_append(GTK_BOX(row), dialog->save);
  gtk_widget_add_css_class(row, "actions");
  return row;
}

static GtkWidget *middle_build(CardDialog *dialog)
{
  GtkWidget *middle = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *left = gtk_scrolled_window_new();
  dialog->list = gtk_list_box_new();
  gtk_list_box_set_selection_mode(GTK_LIST_BOX(dialog->list), GTK_SELECTION_BROWSE);
  gtk_widget_add_css_class(dialog->list, "rows");
  spoken_name(dialog->list, _("Material cards"));
  g_signal_connect(dialog->list, "row-selected", G_CALLBACK(card_selected), dialog);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(left), tab_stop_new(dialog->list));
  gtk_widget_set_size_request(left, 210, -1);
  dialog->page = gtk_scrolled_window_new();
  gtk_widget_set_hexpand(dialog->page, TRUE);
  gtk_widget_set_vexpand(middle, TRUE);
  gtk_box_append(GTK_BOX(middle), left);
  gtk_box_append(GTK_BOX(middle), dialog->page);
  return middle;
}

void card_dialog_new(GtkWindow *parent)
{
  CardDialog *dialog = g_new0(CardDialog, 1);
  dialog->window = dialog_window_new(parent, _("Material cards"), 900, 600);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append(GTK_BOX(box), middle_build(dialog));
  dialog->message = gtk_label_new(NULL);
  gtk_label_set_wrap(GTK_LABEL(dialog->message), TRUE);
  gtk_label_set_xalign(GTK_LABEL(dialog->message), 0);
  gtk_widget_add_css_class(dialog->message, "actions");
  gtk_box_append(GTK_BOX(box), dialog->message);
  gtk_box_append(GTK_BOX(box), buttons_build(dialog));
  gtk_window_set_child(GTK_WINDOW(dialog->window), box);
  g_object_set_data_full(G_OBJECT(dialog->window), "dialog", dialog, (GDestroyNotify)dialog_free);
  list_fill(dialog, NULL);
  gtk_window_present(GTK_WINDOW(dialog->window));
  gtk_widget_child_focus(dialog->list, GTK_DIR_TAB_FORWARD);
}
