/* evidence_fired.c - what fired: stop, look or note as a word in a box, what, and where.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/parts.h"
#include "ui/review/review_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

typedef struct {
  SoffitReviewDesk *desk; /* owned ref */
  GtkWidget *title, *rows, *scroller;
  Assessment *told; /* owned ref: what the rows say; NULL */
} Fired;

/* The same rule at several necks is told once. */
static void places_tell(const Evidence *e, guint first, GString *places, bool told[])
{
  const FiredRule *rule = &g_array_index(e->a->fired, FiredRule, first);
  for (guint i = first; i < e->a->fired->len; i++) {
    const FiredRule *other = &g_array_index(e->a->fired, FiredRule, i);
    if (other->rule != rule->rule)
      continue;
    told[i] = true;
    if (other->connector < e->a->n_connector)
      g_string_append_printf(places, "%s%s", places->len ? ", " : "",
                             e->a->connector[other->connector].name);
  }
}

static GtkWidget *row_new(const Evidence *e, guint i, bool told[])
{
  static const char *const class_name[] = {"stop", "look", "note-tag"};
  const FiredRule *fired = &g_array_index(e->a->fired, FiredRule, i);
  GtkWidget *row = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 10),
            *lines = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0),
            *tag = gtk_label_new(_(severity_name(fired->rule->severity)));
  Phrase what = fired_rule_phrase(fired, &e->a->facts, fired->rule->what);
  g_autofree char *words = words_phrase(&what);
  g_autoptr(GString) places = g_string_new(NULL);
  places_tell(e, i, places, told);
  gtk_widget_add_css_class(tag, "tag");
  gtk_widget_add_css_class(tag, class_name[fired->rule->severity]);
  gtk_widget_set_valign(tag, GTK_ALIGN_START);
  gtk_box_append(GTK_BOX(row), tag);
  gtk_box_append(GTK_BOX(lines), part_label(words, NULL));
  const char *act = _(fired->rule->act);
  g_autofree char *second =
      places->len ? g_strdup_printf("%s · %s", places->str, act) : g_strdup(act);
  GtkWidget *note = part_label(second, "note");
  gtk_widget_add_css_class(note, "dim");
  gtk_label_set_lines(GTK_LABEL(note), 1);
  gtk_label_set_ellipsize(GTK_LABEL(note), PANGO_ELLIPSIZE_END);
  spoken_tooltip(note, second);
  gtk_box_append(GTK_BOX(lines), note);
  gtk_widget_set_hexpand(lines, TRUE);
  gtk_box_append(GTK_BOX(row), lines);
  return row;
}

static void fired_show(Fired *self)
{
  const Evidence *e = review_desk_evidence(self->desk);
  if (self->told && e && e->a == self->told)
    return;
  if (self->told)
    assessment_unref(self->told);
  self->told = e && e->a ? assessment_ref(e->a) : NULL;
  for (GtkWidget *child; (child = gtk_widget_get_first_child(self->rows));)
    gtk_flow_box_remove(GTK_FLOW_BOX(self->rows), child);
  guint n = e && e->a ? e->a->fired->len : 0;
  g_autofree bool *told = g_new0(bool, n + 1);
  for (guint i = 0; i < n; i++)
    if (!told[i]) {
      gtk_flow_box_append(GTK_FLOW_BOX(self->rows), row_new(e, i, told));
      gtk_widget_set_focusable(gtk_widget_get_last_child(self->rows), FALSE);
    }
  g_autofree char *title = n ? g_strdup_printf(_("What fired: %u"), n)
                             : g_strdup(e && e->a ? _("No rule fired") : _("What fired"));
  gtk_label_set_text(GTK_LABEL(self->title), title);
  spoken_name(self->scroller, title);
}

static void fired_free(void *data)
{
  Fired *self = data;
  g_signal_handlers_disconnect_by_data(self->desk, self);
  if (self->told)
    assessment_unref(self->told);
  g_object_unref(self->desk);
  g_free(self);
}

GtkWidget *evidence_fired_new(SoffitReviewDesk *desk)
{
  Fired *self = g_new0(Fired, 1);
  self->desk = g_object_ref(desk);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4);
  self->scroller = gtk_scrolled_window_new();
  self->title = part_label("", "title");
  self->rows = gtk_flow_box_new();
  gtk_flow_box_set_selection_mode(GTK_FLOW_BOX(self->rows), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line(GTK_FLOW_BOX(self->rows), 3);
  gtk_flow_box_set_min_children_per_line(GTK_FLOW_BOX(self->rows), 1);
  gtk_flow_box_set_column_spacing(GTK_FLOW_BOX(self->rows), 16);
  gtk_flow_box_set_row_spacing(GTK_FLOW_BOX(self->rows), 4);
  gtk_widget_set_valign(self->rows, GTK_ALIGN_START);
  gtk_widget_set_can_focus(self->rows, FALSE); /* one stop of Tab: the arrows scroll */
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(self->scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(self->scroller), self->rows);
  gtk_widget_set_vexpand(self->scroller, TRUE);
  gtk_box_append(GTK_BOX(box), self->title);
  gtk_box_append(GTK_BOX(box), self->scroller);
  gtk_widget_add_css_class(box, "evidence-fired");
  g_object_set_data_full(G_OBJECT(box), "soffit-evidence-fired", self, fired_free);
  g_signal_connect_swapped(desk, "selected", G_CALLBACK(fired_show), self);
  g_signal_connect_swapped(desk, "evidence", G_CALLBACK(fired_show), self);
  fired_show(self);
  return box;
}
