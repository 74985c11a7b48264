/* advice_list.c - rows of key, act, reason, gain; the chosen row is the previewed advice.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/trace/advice_list.h"
#include "ui/spoken.h"
#include "ui/tab_stop.h"
#include "ui/trace/gain_bar.h"
#include "ui/words.h"

typedef struct {
  GtkWidget *row, *act, *why, *gain, *bar;
} AdviceRow;

struct _SoffitAdviceList {
  GtkBox parent;
  SoffitSession *session; /* owned ref */
  size_t most;
  GtkWidget *list, *together, *none;
  AdviceRow row[ADVICE_SHOWN];
  bool showing; /* the list is being filled: selections are not the person's */
};

G_DEFINE_FINAL_TYPE(SoffitAdviceList, advice_list, GTK_TYPE_BOX)

size_t advice_shown(SoffitSession *session, const Advice *shown[ADVICE_SHOWN])
{
  const Assessment *assessment = session_rest_assessment(session);
  size_t n = 0;
  for (size_t i = 0; assessment && i < assessment->n_advice && n < ADVICE_SHOWN; i++)
    if (assessment->advice[i].connector == session_focus(session))
      shown[n++] = &assessment->advice[i];
  return n;
}

bool advice_try(SoffitSession *session, size_t number)
{
  const Advice *shown[ADVICE_SHOWN];
  if (!session_at_rest(session) || number >= advice_shown(session, shown))
    return false;
  session_preview(session, shown[number]);
  return true;
}

static GtkWidget *label_new(const char *class_name, float xalign)
{
  GtkWidget *label = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(label), xalign);
  gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
  if (class_name)
    gtk_widget_add_css_class(label, class_name);
  return label;
}

static GtkWidget *two_lines(GtkWidget *label)
{
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_label_set_lines(GTK_LABEL(label), 2);
  return label;
}

static void row_init(AdviceRow *row, int number)
{
  g_autofree char *digit = g_strdup_printf("%d", number);
  GtkWidget *key = gtk_label_new(digit);
  gtk_widget_add_css_class(key, "key");
  gtk_widget_set_valign(key, GTK_ALIGN_CENTER);
  row->act = two_lines(label_new(NULL, 0));
  row->why = two_lines(label_new("note", 0));
  gtk_widget_add_css_class(row->why, "dim");
  gtk_widget_set_hexpand(row->act, TRUE);
  row->gain = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(row->gain), 1);
  gtk_widget_set_valign(row->gain, GTK_ALIGN_START);
  gtk_widget_add_css_class(row->gain, "gain");
  row->bar = gain_bar_new();
  gtk_widget_set_margin_top(row->bar, 3);
  GtkWidget *first = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8),
            *second = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_box_append(GTK_BOX(first), row->act);
  gtk_box_append(GTK_BOX(first), row->gain);
  gtk_widget_set_hexpand(row->why, TRUE);
  gtk_box_append(GTK_BOX(second), row->why);
  gtk_box_append(GTK_BOX(second), row->bar);
  GtkWidget *words = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append(GTK_BOX(words), first);
  gtk_box_append(GTK_BOX(words), second);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 10);
  gtk_box_append(GTK_BOX(box), key);
  gtk_box_append(GTK_BOX(box), words);
  row->row = gtk_list_box_row_new();
  gtk_list_box_row_set_child(GTK_LIST_BOX_ROW(row->row), box);
}

static void row_show(AdviceRow *row, const Advice *advice, double full)
{
  g_autofree char *act = words_phrase(&advice->act), *why = words_phrase(&advice->why);
  g_autofree char *figure = words_number(advice->gain_percent.value, 0);
  g_autofree char *gain =
      g_strdup_printf("%s%s\302\240%%", advice->gain_percent.value > 0 ? "+" : "", figure);
  g_autofree char *range = words_range(advice->gain_percent, 0);
  g_autofree char *spoken =
      g_strdup_printf(_("%s, carries %s more (%s). %s"), act, gain, range, why);
  gtk_label_set_text(GTK_LABEL(row->act), act);
  gtk_label_set_text(GTK_LABEL(row->why), why);
  gtk_label_set_text(GTK_LABEL(row->gain), gain);
  gain_bar_set(SOFFIT_GAIN_BAR(row->bar), advice->gain_percent, full);
  spoken_tooltip(row->row, spoken);
  spoken_name(row->row, spoken);
}

/* "Together: about 660 N (420–800)", for the weakest connector only: the others carry more than the
 * bridge. */
static void together_show(SoffitAdviceList *self)
{
  const Assessment *assessment = session_rest_assessment(self->session);
  bool known = assessment && self->most == ADVICE_SHOWN && isfinite(assessment->together_n.value) &&
               assessment->weakest == session_focus(self->session);
  gtk_widget_set_visible(self->together, known);
  if (!known)
    return;
  double step = assessment->together_n.value > 100 ? 10 : 1; /* a rough figure is shown rough */
  Banded rough = banded(round(assessment->together_n.value / step) * step,
                        round(assessment->together_n.low / step) * step,
                        round(assessment->together_n.high / step) * step);
  g_autofree char *value = words_number(rough.value, 0), *range = words_range(rough, 0);
  g_autofree char *markup =
      g_markup_printf_escaped(_("Shape and finish together: <b>%s N</b> (%s)"), value, range);
  gtk_label_set_markup(GTK_LABEL(self->together), markup);
}

/* The row of the previewed advice is the chosen one. */
static void chosen_show(SoffitAdviceList *self, const Advice *const shown[], size_t n)
{
  const Advice *tried = session_previewed(self->session);
  GtkListBoxRow *chosen = NULL;
  for (size_t i = 0; tried && i < n; i++)
    if (shown[i]->kind == tried->kind && shown[i]->connector == tried->connector)
      chosen = GTK_LIST_BOX_ROW(self->row[i].row);
  if (chosen)
    gtk_list_box_select_row(GTK_LIST_BOX(self->list), chosen);
  else
    gtk_list_box_unselect_all(GTK_LIST_BOX(self->list));
}

static void advice_list_update(SoffitAdviceList *self)
{
  const Advice *shown[ADVICE_SHOWN];
  size_t n = MIN(advice_shown(self->session, shown), self->most);
  double full = 50;
  for (size_t i = 0; i < n; i++)
    full = fmax(full, fmin(shown[i]->gain_percent.high, 4 * shown[i]->gain_percent.value));
  self->showing = true;
  for (size_t i = 0; i < self->most; i++) {
    gtk_widget_set_visible(self->row[i].row, i < n);
    if (i < n)
      row_show(&self->row[i], shown[i], full);
  }
  chosen_show(self, shown, n);
  self->showing = false;
  bool waits = !session_at_rest(self->session);
  gtk_label_set_text(GTK_LABEL(self->none),
                     waits ? _("trying changes …") : _("No single change brings more here."));
  gtk_widget_set_visible(self->none, n == 0 && session_assessment(self->session) != NULL);
  together_show(self);
  bool late = !session_at_rest(self->session);
  (late ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(self->list, "following");
}

static void row_selected(GtkListBox *list, GtkListBoxRow *row, SoffitAdviceList *self)
{
  (void)list;
  if (self->showing || row == NULL)
    return;
  if (!advice_try(self->session, (size_t)gtk_list_box_row_get_index(row)))
    advice_list_update(self); /* nothing to try while the answer follows */
}

static void row_activated(GtkListBox *list, GtkListBoxRow *row, SoffitAdviceList *self)
{
  (void)list, (void)row;
  session_preview_keep(self->session);
}

static void advice_list_dispose(GObject *object)
{
  g_clear_object(&SOFFIT_ADVICE_LIST(object)->session);
  G_OBJECT_CLASS(advice_list_parent_class)->dispose(object);
}

static void advice_list_class_init(SoffitAdviceListClass *class)
{
  G_OBJECT_CLASS(class)->dispose = advice_list_dispose;
}

static void advice_list_init(SoffitAdviceList *self)
{
  gtk_orientable_set_orientation(GTK_ORIENTABLE(self), GTK_ORIENTATION_VERTICAL);
  gtk_widget_add_css_class(GTK_WIDGET(self), "panel");
  gtk_widget_add_css_class(GTK_WIDGET(self), "listed");
  GtkWidget *head = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_widget_add_css_class(head, "inset");
  GtkWidget *title = label_new("title", 0), *unit = label_new("note", 1);
  gtk_label_set_text(GTK_LABEL(title), _("What helps most"));
  gtk_label_set_text(GTK_LABEL(unit), _("carries more"));
  gtk_widget_add_css_class(unit, "dim");
  gtk_widget_set_hexpand(title, TRUE);
  gtk_box_append(GTK_BOX(head), title);
  gtk_box_append(GTK_BOX(head), unit);
  gtk_box_append(GTK_BOX(self), head);
  self->list = gtk_list_box_new();
  gtk_widget_add_css_class(self->list, "rows");
  gtk_widget_set_margin_top(self->list, 6);
  gtk_list_box_set_activate_on_single_click(GTK_LIST_BOX(self->list), FALSE);
  gtk_accessible_update_property(
      GTK_ACCESSIBLE(self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("What helps most"),
      GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
      _("Choose a row to try it on the drawing, Enter keeps it, Escape leaves it."), -1);
  gtk_box_append(GTK_BOX(self), tab_stop_new(self->list));
  self->none = label_new("dim", 0);
  gtk_widget_add_css_class(self->none, "inset");
  gtk_box_append(GTK_BOX(self), self->none);
  self->together = label_new("note", 0);
  gtk_widget_add_css_class(self->together, "inset");
  gtk_widget_set_margin_top(self->together, 6);
  gtk_label_set_wrap(GTK_LABEL(self->together), TRUE);
  gtk_label_set_ellipsize(GTK_LABEL(self->together), PANGO_ELLIPSIZE_NONE);
  gtk_box_append(GTK_BOX(self), self->together);
}

GtkWidget *advice_list_new(SoffitSession *session, size_t most)
{
  SoffitAdviceList *self = g_object_new(SOFFIT_TYPE_ADVICE_LIST, NULL);
  self->session = g_object_ref(session);
  self->most = CLAMP(most, 1, ADVICE_SHOWN);
  for (size_t i = 0; i < self->most; i++) {
    row_init(&self->row[i], (int)i + 1);
    gtk_list_box_append(GTK_LIST_BOX(self->list), self->row[i].row);
  }
  g_signal_connect(self->list, "row-selected", G_CALLBACK(row_selected), self);
  g_signal_connect(self->list, "row-activated", G_CALLBACK(row_activated), self);
  static const char *const when[] = {"assessment-changed", "focus-changed", "preview-changed"};
  for (size_t i = 0; i < G_N_ELEMENTS(when); i++)
    g_signal_connect_object(session, when[i], G_CALLBACK(advice_list_update), self,
                            G_CONNECT_SWAPPED);
  advice_list_update(self);
  return GTK_WIDGET(self);
}
