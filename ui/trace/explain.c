/* explain.c - two folds with a picture each, and the same in words for those who hear it.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/trace/explain.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/tornado.h"
#include "ui/drawing/waterfall.h"
#include "ui/spoken.h"
#include "ui/words.h"

typedef struct {
  GtkWidget *fold, *words, *picture;
} Fold;

struct _SoffitExplain {
  GtkBox parent;
  SoffitSession *session; /* owned ref */
  Fold waterfall, drivers;
};

G_DEFINE_FINAL_TYPE(SoffitExplain, explain, GTK_TYPE_BOX)

/* The connector in view: of the answer at rest, which alone knows the waterfall. */
static const ConnectorAssessment *connector_of(SoffitSession *session, const Assessment *a)
{
  size_t focus = session_focus(session);
  return a && focus < a->n_connector ? &a->connector[focus] : NULL;
}

static const ConnectorAssessment *at_rest(SoffitExplain *self)
{
  return connector_of(self->session, session_rest_assessment(self->session));
}

static const ConnectorAssessment *latest(SoffitExplain *self)
{
  return connector_of(self->session, session_assessment(self->session));
}

static void waterfall_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const ConnectorAssessment *k = at_rest(data);
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  if (k)
    picture_waterfall(cr, width, height, &context, &k->waterfall);
}

static void drivers_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const ConnectorAssessment *k = latest(data);
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  if (k)
    picture_tornado(cr, width, height, &context, k);
}

/* One line a step: "× 0,56 (0,53–0,58) Height 3,36 instead of 4,80 mm". */
static char *waterfall_words(const Waterfall *w)
{
  g_autoptr(GString) all = g_string_new(NULL);
  for (int kind = 0; kind < FALL_N; kind++) {
    const FallStep *step = &w->step[kind];
    Phrase phrase = fall_phrase(step);
    g_autofree char *text = words_phrase(&phrase), *factor = words_number(step->factor.value, 2),
                    *band = words_range(step->factor, 2);
    g_string_append_printf(all, "%s× %s (%s) %s", kind ? "\n" : "", factor, band, text);
  }
  return g_string_free(g_steal_pointer(&all), FALSE);
}

static char *driver_words(const ConnectorAssessment *k)
{
  g_autoptr(GString) all = g_string_new(NULL);
  for (size_t i = 0; i < k->n_driver; i++) {
    const ChanceDriver *d = &k->driver[i];
    Phrase phrase = driver_phrase(d);
    double a = d->at_low.service.chance_percent, b = d->at_high.service.chance_percent;
    g_autofree char *name = words_phrase(&phrase),
                    *chance = words_range(banded(a, MIN(a, b), MAX(a, b)), 0);
    g_string_append_printf(all, _("%s%s: chance in service %s %%. %s"), i ? "\n" : "", name, chance,
                           words_translate(d->input.range.source));
  }
  return g_string_free(g_steal_pointer(&all), FALSE);
}

static void fold_show(Fold *fold, const char *words, const char *spoken, double height)
{
  gtk_label_set_text(GTK_LABEL(fold->words), words);
  spoken_name(fold->picture, *spoken ? spoken : words);
  spoken_tooltip(fold->picture, *spoken ? spoken : NULL);
  gtk_widget_set_visible(fold->picture, height > 0);
  gtk_drawing_area_set_content_height(GTK_DRAWING_AREA(fold->picture), (int)(height + 0.5));
  gtk_widget_queue_draw(fold->picture);
}

static void waterfall_update(SoffitExplain *self)
{
  const ConnectorAssessment *k = at_rest(self);
  bool late = session_following(self->session) || !session_at_rest(self->session);
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  if (k && k->waterfall.known) {
    Phrase phrase = waterfall_phrase(&k->waterfall);
    g_autofree char *words = words_phrase(&phrase), *spoken = waterfall_words(&k->waterfall);
    fold_show(&self->waterfall, words, spoken, waterfall_height(&context));
  } else
    fold_show(&self->waterfall,
              late ? _("following") : _("No best connector could be worked out for this room."), "",
              0);
}

static void drivers_update(SoffitExplain *self)
{
  const ConnectorAssessment *k = latest(self);
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(self), font);
  if (k == NULL || k->n_driver == 0) {
    fold_show(&self->drivers, _("no answer"), "", 0);
    return;
  }
  Service service = case_service(&session_assessment(self->session)->c);
  g_autofree char *years = words_number(service.years, 0),
                  *bites = words_number(service.bites_a_day, 0), *spoken = driver_words(k);
  g_autofree char *words = g_strdup_printf(
      _("Margin at the order’s load after %s years of %s bites a day, each input at its two ends"),
      years, bites);
  fold_show(&self->drivers, words, spoken, tornado_height(&context, k));
}

/* A closed fold costs nothing. */
static void explain_update(SoffitExplain *self)
{
  if (gtk_expander_get_expanded(GTK_EXPANDER(self->waterfall.fold)))
    waterfall_update(self);
  if (gtk_expander_get_expanded(GTK_EXPANDER(self->drivers.fold)))
    drivers_update(self);
}

static void waterfall_folded(GtkExpander *fold, GParamSpec *property, SoffitExplain *self)
{
  (void)property;
  session_set_waterfall(self->session, gtk_expander_get_expanded(fold));
  explain_update(self);
}

static void drivers_folded(GtkExpander *fold, GParamSpec *property, SoffitExplain *self)
{
  (void)fold, (void)property;
  explain_update(self);
}

static void fold_build(SoffitExplain *self, Fold *fold, const char *title,
                       GtkDrawingAreaDrawFunc draw, GCallback folded)
{
  fold->fold = gtk_expander_new(title);
  fold->words = gtk_label_new(NULL);
  gtk_label_set_wrap(GTK_LABEL(fold->words), TRUE);
  gtk_label_set_xalign(GTK_LABEL(fold->words), 0);
  gtk_widget_add_css_class(fold->words, "note");
  gtk_widget_add_css_class(fold->words, "dim");
  fold->picture = gtk_drawing_area_new();
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(fold->picture), draw, self, NULL);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  gtk_box_append(GTK_BOX(box), fold->words);
  gtk_box_append(GTK_BOX(box), fold->picture);
  gtk_expander_set_child(GTK_EXPANDER(fold->fold), box);
  gtk_widget_add_css_class(fold->fold, "explain");
  spoken_name(fold->fold, title);
  gtk_box_append(GTK_BOX(self), fold->fold);
  g_signal_connect(fold->fold, "notify::expanded", folded, self);
}

static void explain_dispose(GObject *object)
{
  g_clear_object(&SOFFIT_EXPLAIN(object)->session);
  G_OBJECT_CLASS(explain_parent_class)->dispose(object);
}

static void explain_class_init(SoffitExplainClass *class)
{
  G_OBJECT_CLASS(class)->dispose = explain_dispose;
}

static void explain_init(SoffitExplain *self)
{
  gtk_orientable_set_orientation(GTK_ORIENTABLE(self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing(GTK_BOX(self), 4);
}

GtkWidget *explain_new(SoffitSession *session)
{
  SoffitExplain *self = g_object_new(SOFFIT_TYPE_EXPLAIN, NULL);
  self->session = g_object_ref(session);
  fold_build(self, &self->waterfall, _("From the best to this one"), waterfall_draw,
             G_CALLBACK(waterfall_folded));
  fold_build(self, &self->drivers, _("What drives the band"), drivers_draw,
             G_CALLBACK(drivers_folded));
  static const char *const when[] = {"assessment-changed", "focus-changed"};
  for (size_t i = 0; i < G_N_ELEMENTS(when); i++)
    g_signal_connect_object(session, when[i], G_CALLBACK(explain_update), self, G_CONNECT_SWAPPED);
  g_signal_connect_object(gtk_settings_get_default(), "notify::gtk-application-prefer-dark-theme",
                          G_CALLBACK(explain_update), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET(self);
}
