/* queue_facets.c - narrowing the queue by what stands in a column: a list each of the values that
 * there are. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What is chosen becomes a word of the search, `hand:"TR"`, so that it is seen, typed and kept like
 * any other. */
#include "ui/parts.h"
#include "ui/review/review_parts.h"
#include "ui/spoken.h"
#include "ui/words.h"

static const struct {
  QueueOrder column;
  const char *name;
} facet[] = {{ORDER_MATERIAL, N_("Material")},
             {ORDER_FINISH, N_("Finish")},
             {ORDER_WAITING, N_("Decision")},
             {ORDER_HAND, N_("Last hand")}};
#define FACETS G_N_ELEMENTS(facet)

typedef struct {
  SoffitReviewDesk *desk; /* owned ref */
  GtkWidget *choice[FACETS];
  GPtrArray *value[FACETS]; /* QueueValue, as the choices show them; NULL */
  bool showing;
} Facets;

static void value_chosen(GtkDropDown *choice, GParamSpec *property, Facets *self)
{
  (void)property;
  if (self->showing)
    return;
  for (size_t i = 0; i < FACETS; i++) {
    guint at = gtk_drop_down_get_selected(choice);
    if (self->choice[i] != GTK_WIDGET(choice) || at > self->value[i]->len)
      continue;
    const QueueValue *value = at ? self->value[i]->pdata[at - 1] : NULL;
    QueueView view = *queue_view(review_desk_queue(self->desk));
    g_autofree char *words =
        queue_words_set(view.words, facet[i].column, value ? value->text : NULL);
    view.words = words;
    queue_set_view(review_desk_queue(self->desk), &view);
  }
}

static void choice_show(Facets *self, size_t i)
{
  SoffitQueue *queue = review_desk_queue(self->desk);
  g_autofree char *now = queue_words_get(queue_view(queue)->words, facet[i].column);
  g_autoptr(GtkStringList) text = gtk_string_list_new(NULL);
  guint at = 0;
  g_clear_pointer(&self->value[i], g_ptr_array_unref);
  self->value[i] = queue_values(queue, facet[i].column);
  gtk_string_list_append(text, _("any"));
  for (guint k = 0; k < self->value[i]->len; k++) {
    const QueueValue *value = self->value[i]->pdata[k];
    g_autofree char *line = g_strdup_printf("%s · %u", value->text, value->rows);
    gtk_string_list_append(text, line);
    at = now && strcmp(now, value->text) == 0 ? k + 1 : at;
  }
  gtk_drop_down_set_model(GTK_DROP_DOWN(self->choice[i]), G_LIST_MODEL(text));
  gtk_drop_down_set_selected(GTK_DROP_DOWN(self->choice[i]), at);
}

/* As the queue is at this moment. */
static void choices_show(Facets *self)
{
  self->showing = true;
  for (size_t i = 0; i < FACETS; i++)
    choice_show(self, i);
  self->showing = false;
}

static void facets_free(void *data)
{
  Facets *self = data;
  for (size_t i = 0; i < FACETS; i++)
    g_clear_pointer(&self->value[i], g_ptr_array_unref);
  g_object_unref(self->desk);
  g_free(self);
}

GtkWidget *queue_facets_new(SoffitReviewDesk *desk)
{
  Facets *self = g_new0(Facets, 1);
  GtkWidget *grid = gtk_grid_new();
  self->desk = g_object_ref(desk);
  gtk_grid_set_column_spacing(GTK_GRID(grid), 12);
  gtk_grid_set_row_spacing(GTK_GRID(grid), 6);
  for (size_t i = 0; i < FACETS; i++) {
    self->choice[i] = gtk_drop_down_new(NULL, NULL);
    gtk_widget_add_css_class(self->choice[i], "order");
    gtk_widget_set_hexpand(self->choice[i], TRUE);
    spoken_name(self->choice[i], _(facet[i].name));
    spoken_name(gtk_widget_get_first_child(self->choice[i]), _(facet[i].name)); /* has the focus */
    g_signal_connect(self->choice[i], "notify::selected", G_CALLBACK(value_chosen), self);
    gtk_grid_attach(GTK_GRID(grid), part_label(_(facet[i].name), NULL), 0, (int)i, 1, 1);
    gtk_grid_attach(GTK_GRID(grid), self->choice[i], 1, (int)i, 1, 1);
  }
  g_signal_connect_swapped(grid, "map", G_CALLBACK(choices_show), self);
  g_object_set_data_full(G_OBJECT(grid), "soffit-facets", self, facets_free);
  return grid;
}
