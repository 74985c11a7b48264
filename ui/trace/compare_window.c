/* compare_window.c - see compare_window.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/trace/compare_window.h"
#include "casefile/variant.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/picture_compare.h"
#include "ui/spoken.h"
#include "ui/trace/compare_list.h"
#include "ui/trace/compare_words.h"
#include "ui/words.h"

#define WIDTH 1060
#define HEIGHT 640
#define LIST_WIDTH 330

typedef struct {
  SoffitSession *session; /* owned ref */
  GtkWidget *window, *drawing, *beside, *cell[COMPARE_LINES + 1][4];
  AssessJob *job;    /* owned: answers for the variant */
  Assessment *other; /* owned ref; NULL: none yet */
  Difference difference;
  bool differs; /* difference is known */
  guint shown;  /* variant; G_MAXUINT = none */
} CompareWindow;

static const Variant *variant_shown(CompareWindow *self)
{
  const GPtrArray *all =
      session_case(self->session)->connector[session_focus(self->session)].variant;
  return self->shown < all->len ? all->pdata[self->shown] : NULL;
}

/* Both answers there, of the same connector. */
static bool both_known(CompareWindow *self)
{
  const Assessment *today = session_assessment(self->session);
  size_t i = session_focus(self->session);
  return today && self->other && variant_shown(self) && i < today->n_connector &&
         i < self->other->n_connector && today->connector[i].field &&
         self->other->connector[i].field;
}

static void words_show(CompareWindow *self)
{
  CompareLine line[COMPARE_LINES] = {0};
  bool known = both_known(self);
  const Variant *variant = variant_shown(self);
  if (known)
    compare_lines_make(session_assessment(self->session), self->other, session_focus(self->session),
                       line);
  gtk_label_set_text(GTK_LABEL(self->cell[0][2]), variant ? variant->name : "");
  gtk_widget_set_visible(gtk_widget_get_parent(self->cell[0][0]), variant != NULL);
  g_autoptr(GString) spoken = g_string_new(variant ? variant->name : "");
  for (int i = 0; i < COMPARE_LINES; i++) {
    const char *const text[4] = {line[i].name, line[i].today, line[i].other, line[i].change};
    for (int k = 0; k < 4; k++)
      gtk_label_set_text(GTK_LABEL(self->cell[i + 1][k]), known ? text[k] : "");
    if (known)
      g_string_append_printf(spoken, "; %s: %s", line[i].name, line[i].change);
    compare_line_clear(&line[i]);
  }
  spoken_name(self->drawing, known ? spoken->str : _("Nothing to compare yet"));
}

static void answers_changed(CompareWindow *self)
{
  difference_clear(&self->difference);
  self->differs = false;
  if (both_known(self)) {
    size_t i = session_focus(self->session);
    const ConnectorAssessment *a = &session_assessment(self->session)->connector[i],
                              *b = &self->other->connector[i];
    self->differs = !difference_make(a->field, a->trial, b->field, b->trial, &self->difference);
  }
  words_show(self);
  gtk_widget_queue_draw(self->drawing);
}

static void other_set(CompareWindow *self, Assessment *other)
{
  if (other)
    assessment_ref(other);
  if (self->other)
    assessment_unref(self->other);
  self->other = other;
  answers_changed(self);
}

static void other_came(Assessment *result, Fault fault, bool current, void *data)
{
  (void)fault, (void)current;
  other_set(data, result);
}

/* The bridge with the variant in its place, under the load as it stands. */
static void other_ask(CompareWindow *self)
{
  const Assessment *today = session_assessment(self->session);
  size_t connector = session_focus(self->session);
  Case c;
  case_init(&c);
  if (!variant_shown(self) || case_copy(&c, session_case(self->session)) ||
      variant_take(&c, connector, self->shown)) {
    assess_job_forget(self->job);
    other_set(self, NULL);
  } else {
    if (today)
      c.trial.x = today->trial_x;
    assess_job_request(self->job, &c, connector);
  }
  case_clear(&c);
}

static void variant_chosen(guint variant, void *data)
{
  CompareWindow *self = data;
  if (variant != self->shown) {
    self->shown = variant;
    other_set(self, NULL);
  }
  other_ask(self);
}

static void picture_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  CompareWindow *self = data;
  const Assessment *today = session_assessment(self->session);
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  if (!today)
    return;
  const Variant *variant = variant_shown(self);
  ComparePicture picture = {.today = today,
                            .other = both_known(self) ? self->other : NULL,
                            .connector = session_focus(self->session),
                            .difference = self->differs ? &self->difference : NULL,
                            .name = variant ? variant->name : "",
                            .beside = gtk_check_button_get_active(GTK_CHECK_BUTTON(self->beside))};
  picture_compare(cr, width, height, &context, &picture);
}

static GtkWidget *table_build(CompareWindow *self)
{
  const char *const head[4] = {"", _("As drawn"), "", _("Change")};
  GtkWidget *grid = gtk_grid_new();
  gtk_grid_set_column_spacing(GTK_GRID(grid), 24);
  gtk_grid_set_row_spacing(GTK_GRID(grid), 3);
  gtk_widget_add_css_class(grid, "form");
  for (int i = 0; i <= COMPARE_LINES; i++)
    for (int k = 0; k < 4; k++) {
      GtkWidget *label = self->cell[i][k] = gtk_label_new(i == 0 ? head[k] : "");
      gtk_label_set_xalign(GTK_LABEL(label), 0);
      gtk_label_set_ellipsize(GTK_LABEL(label),
                              i == 0 ? PANGO_ELLIPSIZE_END : PANGO_ELLIPSIZE_NONE);
      gtk_widget_add_css_class(label, i == 0 || k == 3 ? "title" : k == 0 ? "dim" : "plain");
      gtk_grid_attach(GTK_GRID(grid), label, k, i, 1, 1);
    }
  return grid;
}

static void window_free(gpointer data)
{
  CompareWindow *self = data;
  g_signal_handlers_disconnect_by_data(self->session, self);
  assess_job_free(self->job);
  if (self->other)
    assessment_unref(self->other);
  difference_clear(&self->difference);
  g_object_unref(self->session);
  g_free(self);
}

static GtkWidget *left_build(CompareWindow *self)
{
  GtkWidget *left = gtk_box_new(GTK_ORIENTATION_VERTICAL, 12);
  gtk_widget_set_size_request(left, LIST_WIDTH, -1);
  gtk_widget_add_css_class(left, "form");
  GtkWidget *over = gtk_check_button_new_with_label(_("One on the other, difference shaded"));
  self->beside = gtk_check_button_new_with_label(_("Side by side"));
  gtk_check_button_set_group(GTK_CHECK_BUTTON(self->beside), GTK_CHECK_BUTTON(over));
  gtk_check_button_set_active(GTK_CHECK_BUTTON(over), TRUE);
  g_signal_connect_swapped(self->beside, "toggled", G_CALLBACK(gtk_widget_queue_draw),
                           self->drawing);
  gtk_box_append(GTK_BOX(left), compare_list_new(self->session, variant_chosen, self));
  gtk_box_append(GTK_BOX(left), gtk_separator_new(GTK_ORIENTATION_HORIZONTAL));
  gtk_box_append(GTK_BOX(left), over);
  gtk_box_append(GTK_BOX(left), self->beside);
  return left;
}

static void closed(GtkWidget *parent)
{
  g_object_set_data(G_OBJECT(parent), "soffit-compare", NULL);
}

void compare_window_new(GtkWindow *parent, SoffitSession *session)
{
  GtkWidget *open = g_object_get_data(G_OBJECT(parent), "soffit-compare");
  if (open) {
    gtk_window_present(GTK_WINDOW(open));
    return;
  }
  CompareWindow *self = g_new0(CompareWindow, 1);
  self->session = g_object_ref(session);
  self->shown = G_MAXUINT;
  self->difference = (Difference){.most = NAN, .least = NAN};
  self->job = assess_job_new(NULL, other_came, self);
  self->window = gtk_window_new();
  GtkWindow *window = GTK_WINDOW(self->window);
  gtk_window_set_title(window, _("Compare variants"));
  gtk_window_set_transient_for(window, parent);
  gtk_window_set_destroy_with_parent(window, TRUE);
  gtk_window_set_default_size(window, WIDTH, HEIGHT);
  gtk_widget_add_css_class(self->window, "soffit");
  gtk_widget_add_css_class(self->window, "case-dialog");
  self->drawing = gtk_drawing_area_new();
  gtk_accessible_update_property(GTK_ACCESSIBLE(self->drawing), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                 _("Nothing to compare yet"), -1);
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(self->drawing), picture_draw, self, NULL);
  gtk_widget_set_vexpand(self->drawing, TRUE);
  gtk_widget_set_hexpand(self->drawing, TRUE);
  GtkWidget *right = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *all = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_box_append(GTK_BOX(right), self->drawing);
  gtk_box_append(GTK_BOX(right), table_build(self));
  gtk_box_append(GTK_BOX(all), left_build(self));
  gtk_box_append(GTK_BOX(all), gtk_separator_new(GTK_ORIENTATION_VERTICAL));
  gtk_box_append(GTK_BOX(all), right);
  gtk_window_set_child(window, all);
  GtkEventController *keys = gtk_shortcut_controller_new();
  gtk_shortcut_controller_add_shortcut(GTK_SHORTCUT_CONTROLLER(keys),
                                       gtk_shortcut_new(gtk_keyval_trigger_new(GDK_KEY_Escape, 0),
                                                        gtk_named_action_new("window.close")));
  gtk_widget_add_controller(self->window, keys);
  g_signal_connect_swapped(session, "assessment-changed", G_CALLBACK(answers_changed), self);
  g_object_set_data_full(G_OBJECT(self->window), "soffit-compare-window", self, window_free);
  g_object_set_data(G_OBJECT(parent), "soffit-compare", self->window);
  g_signal_connect_object(self->window, "destroy", G_CALLBACK(closed), parent, G_CONNECT_SWAPPED);
  gtk_window_present(window);
}
