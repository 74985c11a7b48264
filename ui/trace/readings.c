/* readings.c - six buttons in a grid, filled from reading_text.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/trace/readings.h"
#include "ui/sign.h"
#include "ui/size_rows.h"
#include "ui/spoken.h"
#include "ui/trace/explain.h"
#include "ui/trace/reading_text.h"
#include "ui/words.h"

typedef struct {
  GtkWidget *cell;           /* in the grid: carries the parting line        */
  GtkWidget *button, *inner; /* inner: grid of the labels            */
  GtkWidget *name, *figure, *note_row, *sign, *note;
  ReadingText text;
  ReadingKind kind;
  SoffitSession *session; /* borrowed */
} Reading;

struct _SoffitReadings {
  GtkBox parent;
  SoffitSession *session; /* owned ref */
  GtkWidget *title, *how, *grid;
  GtkWidget *bridge; /* where the whole bridge and the beam differ; else hidden */
  Reading reading[READING_N];
  bool folded;
};

G_DEFINE_FINAL_TYPE(SoffitReadings, readings, GTK_TYPE_BOX)

static GtkWidget *label_new(const char *class_name, float xalign)
{
  GtkWidget *label = gtk_label_new(NULL);
  gtk_label_set_xalign(GTK_LABEL(label), xalign);
  if (class_name)
    gtk_widget_add_css_class(label, class_name);
  return label;
}

static GtkWidget *popover_line(const char *class_name, const char *text)
{
  GtkWidget *label = label_new(class_name, 0);
  gtk_label_set_text(GTK_LABEL(label), text);
  gtk_label_set_wrap(GTK_LABEL(label), TRUE);
  gtk_label_set_max_width_chars(GTK_LABEL(label), 44);
  gtk_widget_set_visible(label, *text != '\0');
  return label;
}

static void popover_closed(GtkPopover *popover)
{
  gtk_widget_unparent(GTK_WIDGET(popover));
}

static void reading_explain(GtkButton *button, Reading *reading)
{
  if (reading->text.name == NULL)
    return;
  ReadingKind kind = reading->kind;
  GtkWidget *popover = gtk_popover_new(), *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append(GTK_BOX(box), popover_line("title", reading->text.name));
  gtk_box_append(GTK_BOX(box), popover_line(NULL, reading->text.detail));
  GtkWidget *source = popover_line("note", reading->text.source);
  gtk_widget_add_css_class(source, "dim");
  gtk_box_append(GTK_BOX(box), source);
  if (kind == READING_NECK || kind == READING_RADIUS) {
    static const SizeKind neck[] = {SIZE_NECK_HEIGHT, SIZE_NECK_WIDTH}, radius[] = {SIZE_RADIUS};
    bool is_neck = kind == READING_NECK;
    gtk_box_append(GTK_BOX(box),
                   size_rows_new(reading->session, is_neck ? neck : radius, is_neck ? 2 : 1));
  }
  gtk_popover_set_child(GTK_POPOVER(popover), box);
  gtk_popover_set_position(GTK_POPOVER(popover), GTK_POS_LEFT);
  gtk_widget_add_css_class(popover, "sources");
  gtk_widget_set_parent(popover, GTK_WIDGET(button));
  g_signal_connect(popover, "closed", G_CALLBACK(popover_closed), NULL);
  gtk_popover_popup(GTK_POPOVER(popover));
}

static gboolean reading_f2(GtkWidget *widget, GVariant *arguments, void *data)
{
  (void)arguments, (void)data;
  return gtk_widget_activate(widget);
}

static void reading_init(Reading *reading)
{
  reading->name = label_new("note", 0);
  gtk_widget_add_css_class(reading->name, "dim");
  reading->figure = label_new(NULL, 0);
  reading->sign = sign_new(15);
  reading->note = label_new("note", 0);
  gtk_label_set_ellipsize(GTK_LABEL(reading->note), PANGO_ELLIPSIZE_END);
  reading->note_row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 5);
  gtk_box_append(GTK_BOX(reading->note_row), reading->sign);
  gtk_box_append(GTK_BOX(reading->note_row), reading->note);
  reading->inner = gtk_grid_new();
  gtk_grid_set_column_spacing(GTK_GRID(reading->inner), 6);
  gtk_widget_set_hexpand(reading->name, TRUE);
  gtk_grid_attach(GTK_GRID(reading->inner), reading->name, 0, 0, 1, 1);
  gtk_grid_attach(GTK_GRID(reading->inner), reading->figure, 0, 1, 1, 1);
  gtk_grid_attach(GTK_GRID(reading->inner), reading->note_row, 0, 2, 1, 1);
  reading->button = gtk_button_new();
  gtk_button_set_child(GTK_BUTTON(reading->button), reading->inner);
  gtk_widget_add_css_class(reading->button, "plain");
  gtk_widget_add_css_class(reading->button, "reading");
  g_signal_connect(reading->button, "clicked", G_CALLBACK(reading_explain), reading);
  GtkEventController *keys = gtk_shortcut_controller_new();
  gtk_shortcut_controller_add_shortcut(
      GTK_SHORTCUT_CONTROLLER(keys),
      gtk_shortcut_new(gtk_keyval_trigger_new(GDK_KEY_F2, 0),
                       gtk_callback_action_new(reading_f2, NULL, NULL)));
  gtk_widget_add_controller(reading->button, keys);
  reading->cell = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_hexpand(reading->button, TRUE);
  gtk_box_append(GTK_BOX(reading->cell), reading->button);
  gtk_widget_add_css_class(reading->cell, "reading-cell");
}

/* "3.25 × 3.2 mm" with the figure large, unit and band plain. */
static void figure_show(Reading *reading)
{
  const ReadingText *text = &reading->text;
  g_autofree char *markup = g_markup_printf_escaped(
      "<span size=\"133%%\" weight=\"bold\">%s</span>%s%s%s%s", text->figure,
      *text->unit ? "\302\240" : "", text->unit, *text->band ? " " : "", text->band);
  gtk_label_set_markup(GTK_LABEL(reading->figure), markup);
}

static void reading_show(Reading *reading)
{
  ReadingText *text = &reading->text;
  gtk_label_set_text(GTK_LABEL(reading->name), text->name);
  figure_show(reading);
  gtk_label_set_text(GTK_LABEL(reading->note), text->note);
  sign_set(SOFFIT_SIGN(reading->sign), text->state);
  spoken_tooltip(reading->note, text->note);
  const char *word = text->state == VERDICT_NONE ? "" : words_translate(verdict_name(text->state));
  g_autofree char *spoken = g_strdup_printf(
      "%s: %s%s%s%s%s, %s%s%s", text->name, text->figure, *text->unit ? " " : "", text->unit,
      *text->band ? " " : "", text->band, text->note, *word ? ", " : "", word);
  spoken_name(reading->button, spoken);
  spoken_description(reading->button, text->source);
}

/* "solid, live · 175 N on 36" */
static char *how_text(const Assessment *assessment, size_t connector, bool following)
{
  const ConnectorAssessment *joint = &assessment->connector[connector];
  const Case *c = &assessment->c;
  const char *answer = joint->field == NULL                   ? _("no answer")
                       : joint->field->answer == ANSWER_PLANE ? _("plane")
                       : joint->peak.by_section               ? _("solid and sections")
                                                              : _("solid");
  static const char *const grade[] = {
      [ASSESS_LIVE] = N_("live"), [ASSESS_REST] = N_("at rest"), [ASSESS_FINE] = N_("refined")};
  const char *state = following ? _("following") : _(grade[assessment->grade]);
  double end = 0;
  size_t unit = 0;
  for (; unit + 1 < c->n_unit && assessment->trial_x > end + c->unit[unit].length; unit++)
    end += c->unit[unit].length;
  g_autofree char *force = words_number(c->trial.force_n, 0);
  return g_strdup_printf(_("%s, %s · %s N on %d"), answer, state, force, c->unit[unit].tooth);
}

static void readings_update(SoffitReadings *self)
{
  const Assessment *assessment = session_assessment(self->session);
  size_t connector = session_focus(self->session);
  bool known = assessment && connector < assessment->n_connector;
  gtk_widget_set_visible(GTK_WIDGET(self), known);
  if (!known)
    return;
  bool following = session_following(self->session);
  g_autofree char *title = g_strdup_printf(_("Readings %s"), assessment->connector[connector].name);
  gtk_label_set_text(GTK_LABEL(self->title), title);
  g_autofree char *how = how_text(assessment, connector, following);
  gtk_label_set_text(GTK_LABEL(self->how), how);
  const Field *field = assessment->connector[connector].field;
  spoken_tooltip(self->how,
                 field && field->answer == ANSWER_PLANE
                     ? _("Computed as a plate of varying thickness, not as a solid: wider band.")
                 : assessment->connector[connector].peak.by_section
                     ? _("Twist and sideways bending by section formulas: wider band.")
                     : NULL);
  /* live answers leave that out: what was told at rest stays until the next rest */
  const Assessment *rest = session_rest_assessment(self->session);
  bool same = rest && rest->n_connector == assessment->n_connector;
  g_autofree char *bridge = reading_bridge_text(same ? rest : assessment, connector);
  gtk_label_set_text(GTK_LABEL(self->bridge), bridge);
  gtk_widget_set_visible(self->bridge, *bridge != '\0');
  ReadingText text[READING_N] = {0};
  reading_texts_make(assessment, connector, text);
  for (int i = 0; i < READING_N; i++) {
    reading_text_clear(&self->reading[i].text);
    self->reading[i].text = text[i];
    reading_show(&self->reading[i]);
  }
}

static void cell_place(SoffitReadings *self, int i)
{
  GtkLayoutManager *outer = gtk_widget_get_layout_manager(self->grid);
  Reading *reading = &self->reading[i];
  GtkLayoutManager *inner = gtk_widget_get_layout_manager(reading->inner);
  GtkGridLayoutChild *cell =
      GTK_GRID_LAYOUT_CHILD(gtk_layout_manager_get_layout_child(outer, reading->cell));
  gtk_grid_layout_child_set_column(cell, self->folded ? 0 : i % 2);
  gtk_grid_layout_child_set_row(cell, self->folded ? i : i / 2);
  GtkGridLayoutChild *figure =
      GTK_GRID_LAYOUT_CHILD(gtk_layout_manager_get_layout_child(inner, reading->figure));
  gtk_grid_layout_child_set_column(figure, self->folded ? 1 : 0);
  gtk_grid_layout_child_set_row(figure, self->folded ? 0 : 1);
  GtkGridLayoutChild *note =
      GTK_GRID_LAYOUT_CHILD(gtk_layout_manager_get_layout_child(inner, reading->note_row));
  gtk_grid_layout_child_set_column_span(note, self->folded ? 2 : 1);
  bool first = self->folded ? i == 0 : i < 2;
  (first ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(reading->cell, "first");
  (self->folded ? gtk_widget_remove_css_class : gtk_widget_add_css_class)(reading->name, "note");
  (self->folded ? gtk_widget_remove_css_class : gtk_widget_add_css_class)(reading->name, "dim");
}

void readings_fold(SoffitReadings *self, bool folded)
{
  self->folded = folded;
  gtk_widget_set_visible(self->title, !folded); /* the page is called the same */
  gtk_label_set_xalign(GTK_LABEL(self->how), folded ? 0 : 1);
  for (int i = 0; i < READING_N; i++)
    cell_place(self, i);
}

static void readings_dispose(GObject *object)
{
  SoffitReadings *self = SOFFIT_READINGS(object);
  g_clear_object(&self->session);
  G_OBJECT_CLASS(readings_parent_class)->dispose(object);
}

static void readings_finalize(GObject *object)
{
  SoffitReadings *self = SOFFIT_READINGS(object);
  for (int i = 0; i < READING_N; i++)
    reading_text_clear(&self->reading[i].text);
  G_OBJECT_CLASS(readings_parent_class)->finalize(object);
}

static void readings_class_init(SoffitReadingsClass *class)
{
  G_OBJECT_CLASS(class)->dispose = readings_dispose;
  G_OBJECT_CLASS(class)->finalize = readings_finalize;
}

static void readings_init(SoffitReadings *self)
{
  gtk_orientable_set_orientation(GTK_ORIENTABLE(self), GTK_ORIENTATION_VERTICAL);
  gtk_widget_add_css_class(GTK_WIDGET(self), "panel");
  GtkWidget *head = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  self->title = label_new("title", 0);
  self->how = label_new("note", 1);
  gtk_widget_add_css_class(self->how, "dim");
  gtk_widget_set_hexpand(self->how, TRUE);
  gtk_label_set_ellipsize(GTK_LABEL(self->how), PANGO_ELLIPSIZE_END);
  gtk_box_append(GTK_BOX(head), self->title);
  gtk_box_append(GTK_BOX(head), self->how);
  gtk_box_append(GTK_BOX(self), head);
  self->grid = gtk_grid_new();
  gtk_grid_set_column_spacing(GTK_GRID(self->grid), 16);
  gtk_grid_set_column_homogeneous(GTK_GRID(self->grid), TRUE);
  for (int i = 0; i < READING_N; i++) {
    reading_init(&self->reading[i]);
    gtk_grid_attach(GTK_GRID(self->grid), self->reading[i].cell, i % 2, i / 2, 1, 1);
  }
  gtk_box_append(GTK_BOX(self), self->grid);
  self->bridge = label_new("note", 0);
  gtk_label_set_wrap(GTK_LABEL(self->bridge), TRUE);
  gtk_label_set_max_width_chars(GTK_LABEL(self->bridge), 1); /* as wide as the column, no wider */
  gtk_widget_set_visible(self->bridge, FALSE);
  gtk_box_append(GTK_BOX(self), self->bridge);
  readings_fold(self, false);
}

GtkWidget *readings_new(SoffitSession *session)
{
  SoffitReadings *self = g_object_new(SOFFIT_TYPE_READINGS, NULL);
  self->session = g_object_ref(session);
  for (ReadingKind kind = 0; kind < READING_N; kind++) {
    self->reading[kind].kind = kind;
    self->reading[kind].session = session;
  }
  gtk_box_append(GTK_BOX(self), explain_new(session));
  g_signal_connect_object(session, "assessment-changed", G_CALLBACK(readings_update), self,
                          G_CONNECT_SWAPPED);
  g_signal_connect_object(session, "focus-changed", G_CALLBACK(readings_update), self,
                          G_CONNECT_SWAPPED);
  readings_update(self);
  return GTK_WIDGET(self);
}
