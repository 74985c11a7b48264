/* side_column.c - the three panels live in the open column or in the pages of the folded one.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/trace/side_column.h"
#include "ui/trace/advice_list.h"
#include "ui/trace/readings.h"
#include "ui/trace/verdict_head.h"
#include "ui/trace/work_list.h"
#include "ui/words.h"

#define PAGE_MS 160
#define ADVICE_PAGE "advice"
enum { PANEL_READINGS, PANEL_ADVICE, PANEL_LIST, PANEL_N };

struct _SoffitSideColumn {
  GtkBox parent;
  GtkWidget *panel[PANEL_N]; /* owned refs: they change places */
  GtkWidget *head, *open, *open_box;
  GtkWidget *folded, *page[PANEL_N];
  bool is_folded, is_covered;
};

G_DEFINE_FINAL_TYPE(SoffitSideColumn, side_column, GTK_TYPE_BOX)

static GtkWidget *scroller_new(void)
{
  GtkWidget *scroller = gtk_scrolled_window_new();
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(scroller), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_widget_set_vexpand(scroller, TRUE);
  return scroller;
}

static void panels_show(SoffitSideColumn *self)
{
  gtk_widget_set_visible(self->open, !self->is_folded && !self->is_covered);
  gtk_widget_set_visible(self->folded, self->is_folded && !self->is_covered);
}

static void panels_place(SoffitSideColumn *self)
{
  panels_show(self);
  for (int i = 0; i < PANEL_N; i++) {
    GtkWidget *box = self->is_folded ? self->page[i] : self->open_box;
    GtkWidget *at = gtk_widget_get_parent(self->panel[i]);
    if (at)
      gtk_box_remove(GTK_BOX(at), self->panel[i]);
    gtk_box_append(GTK_BOX(box), self->panel[i]);
  }
  readings_fold(SOFFIT_READINGS(self->panel[PANEL_READINGS]), self->is_folded);
  (self->is_folded ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(GTK_WIDGET(self),
                                                                             "folded");
}

void side_column_fold(SoffitSideColumn *self, bool folded)
{
  if (folded == self->is_folded)
    return;
  self->is_folded = folded;
  panels_place(self);
}

void side_column_cover(SoffitSideColumn *self, bool covered)
{
  self->is_covered = covered;
  panels_show(self);
}

int side_column_head(SoffitSideColumn *self)
{
  int height;
  gtk_widget_measure(self->head, GTK_ORIENTATION_VERTICAL, gtk_widget_get_width(GTK_WIDGET(self)),
                     NULL, &height, NULL, NULL);
  return height;
}

/* The two best advices stay below the other pages; the advice page shows them itself. */
static void best_show(GtkStack *stack, GParamSpec *property, GtkWidget *best)
{
  (void)property;
  gtk_widget_set_visible(best,
                         g_strcmp0(gtk_stack_get_visible_child_name(stack), ADVICE_PAGE) != 0);
}

static void folded_build(SoffitSideColumn *self, SoffitSession *session)
{
  static const char *const title[PANEL_N] = {N_("Readings"), N_("What helps"), N_("List")};
  self->folded = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_vexpand(self->folded, TRUE);
  GtkWidget *stack = gtk_stack_new(), *pages = gtk_stack_switcher_new();
  gtk_stack_set_transition_type(GTK_STACK(stack), GTK_STACK_TRANSITION_TYPE_SLIDE_LEFT_RIGHT);
  gtk_stack_set_transition_duration(GTK_STACK(stack), PAGE_MS);
  for (int i = 0; i < PANEL_N; i++) {
    GtkWidget *scroller = scroller_new();
    self->page[i] = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
    gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(scroller), self->page[i]);
    gtk_stack_add_titled(GTK_STACK(stack), scroller, i == PANEL_ADVICE ? ADVICE_PAGE : NULL,
                         _(title[i]));
  }
  gtk_stack_switcher_set_stack(GTK_STACK_SWITCHER(pages), GTK_STACK(stack));
  gtk_widget_add_css_class(pages, "pages");
  for (GtkWidget *tab = gtk_widget_get_first_child(pages); tab;
       tab = gtk_widget_get_next_sibling(tab))
    gtk_widget_set_hexpand(tab, TRUE);
  gtk_box_append(GTK_BOX(self->folded), pages);
  gtk_box_append(GTK_BOX(self->folded), stack);
  GtkWidget *best = advice_list_new(session, 2);
  g_signal_connect(stack, "notify::visible-child", G_CALLBACK(best_show), best);
  gtk_box_append(GTK_BOX(self->folded), best);
}

static void side_column_dispose(GObject *object)
{
  SoffitSideColumn *self = SOFFIT_SIDE_COLUMN(object);
  for (int i = 0; i < PANEL_N; i++)
    g_clear_object(&self->panel[i]);
  G_OBJECT_CLASS(side_column_parent_class)->dispose(object);
}

static void side_column_class_init(SoffitSideColumnClass *class)
{
  G_OBJECT_CLASS(class)->dispose = side_column_dispose;
}

static void side_column_init(SoffitSideColumn *self)
{
  gtk_orientable_set_orientation(GTK_ORIENTABLE(self), GTK_ORIENTATION_VERTICAL);
  gtk_widget_add_css_class(GTK_WIDGET(self), "side");
  gtk_widget_set_overflow(GTK_WIDGET(self), GTK_OVERFLOW_HIDDEN);
}

GtkWidget *side_column_new(SoffitSession *session)
{
  SoffitSideColumn *self = g_object_new(SOFFIT_TYPE_SIDE_COLUMN, NULL);
  self->head = verdict_head_new(session);
  gtk_box_append(GTK_BOX(self), self->head);
  self->panel[PANEL_READINGS] = g_object_ref_sink(readings_new(session));
  self->panel[PANEL_ADVICE] = g_object_ref_sink(advice_list_new(session, ADVICE_SHOWN));
  self->panel[PANEL_LIST] = g_object_ref_sink(work_list_new(session));
  self->open = scroller_new();
  self->open_box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(self->open), self->open_box);
  gtk_box_append(GTK_BOX(self), self->open);
  folded_build(self, session);
  gtk_box_append(GTK_BOX(self), self->folded);
  panels_place(self);
  return GTK_WIDGET(self);
}
