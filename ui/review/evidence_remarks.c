/* evidence_remarks.c - the remarks of a case, numbered as on the drawing; one leads to its place.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/parts.h"
#include "ui/review/review_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

typedef struct {
  SoffitReviewDesk *desk; /* owned ref */
  GtkWidget *block, *rows;
  char shown[65]; /* digest of the file they are of; "" = none */
} Remarks;

static void remark_pressed(GtkButton *button, Remarks *self)
{
  review_desk_set_connector(self->desk,
                            GPOINTER_TO_SIZE(g_object_get_data(G_OBJECT(button), "connector")));
}

/* "RT, settled: round it to 0.75" */
static char *remark_words(const Remark *remark)
{
  const char *who = *remark->initials ? remark->initials : remark->role;
  bool settled = remark->settled == ANSWER_YES;
  return g_strdup_printf("%s%s%s%s%s", who, *who && settled ? ", " : "",
                         settled ? _("settled") : "", *who || settled ? ": " : "", remark->text);
}

static void row_add(Remarks *self, const Case *c, guint i)
{
  const Remark *remark = c->remark->pdata[i];
  bool placed = remark->connector < c->n_unit - 1; /* else: of the bridge */
  char name[12] = "";
  if (placed)
    connector_name(c, remark->connector, '/', name);
  g_autofree char *number = g_strdup_printf("%u  %s", i + 1, placed ? name : _("Bridge")),
                  *words = remark_words(remark),
                  *spoken = g_strdup_printf(_("Remark %s. %s"), number, words);
  GtkWidget *label = part_label(words, "note"), *lead;
  if (placed) {
    lead = gtk_button_new_with_label(number);
    gtk_widget_add_css_class(lead, "plain");
    spoken_tooltip(lead, _("To its place on the drawing"));
    g_object_set_data(G_OBJECT(lead), "connector", GSIZE_TO_POINTER(remark->connector));
    g_signal_connect(lead, "clicked", G_CALLBACK(remark_pressed), self);
    spoken_name(lead, spoken);
  } else
    lead = part_label(number, NULL);
  gtk_widget_add_css_class(lead, "neck");
  gtk_widget_set_valign(lead, GTK_ALIGN_START);
  gtk_label_set_wrap_mode(GTK_LABEL(label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_lines(GTK_LABEL(label), 4);
  gtk_label_set_ellipsize(GTK_LABEL(label), PANGO_ELLIPSIZE_END);
  spoken_tooltip(label, words);
  gtk_widget_set_hexpand(label, TRUE);
  if (remark->settled == ANSWER_YES)
    gtk_widget_add_css_class(label, "dim");
  gtk_grid_attach(GTK_GRID(self->rows), lead, 0, (int)i, 1, 1);
  gtk_grid_attach(GTK_GRID(self->rows), label, 1, (int)i, 1, 1);
}

static void remarks_show(Remarks *self)
{
  const Evidence *e = review_desk_evidence(self->desk);
  const char *of = e && !e->unread ? e->seen : "";
  if (strcmp(self->shown, of) == 0)
    return;
  g_strlcpy(self->shown, of, sizeof self->shown);
  for (GtkWidget *child; (child = gtk_widget_get_first_child(self->rows));)
    gtk_grid_remove(GTK_GRID(self->rows), child);
  for (guint i = 0; *of && i < e->c.remark->len; i++)
    row_add(self, &e->c, i);
  gtk_widget_set_visible(self->block, gtk_widget_get_first_child(self->rows) != NULL);
}

static void remarks_free(void *data)
{
  Remarks *self = data;
  g_signal_handlers_disconnect_by_data(self->desk, self);
  g_object_unref(self->desk);
  g_free(self);
}

GtkWidget *evidence_remarks_new(SoffitReviewDesk *desk)
{
  Remarks *self = g_new0(Remarks, 1);
  self->desk = g_object_ref(desk);
  self->block = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4);
  self->rows = gtk_grid_new();
  gtk_grid_set_column_spacing(GTK_GRID(self->rows), 10);
  gtk_grid_set_row_spacing(GTK_GRID(self->rows), 4);
  gtk_widget_add_css_class(self->block, "panel");
  gtk_box_append(GTK_BOX(self->block), part_label(_("Remarks"), "title"));
  gtk_box_append(GTK_BOX(self->block), self->rows);
  gtk_widget_set_visible(self->block, FALSE);
  g_object_set_data_full(G_OBJECT(self->block), "soffit-evidence-remarks", self, remarks_free);
  g_signal_connect_swapped(desk, "selected", G_CALLBACK(remarks_show), self);
  g_signal_connect_swapped(desk, "evidence", G_CALLBACK(remarks_show), self);
  return self->block;
}
