/* best_bar.c - see best_bar.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/canvas/best_bar.h"
#include "ui/canvas/draw_context.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define SCALE_WIDTH 128 /* in German the bar ends before the card */
#define TITLES 38       /* px that the titles of the drawing take */

typedef struct {
  SoffitSession *session; /* owned ref */
  GtkWidget *bar, *scale, *lower, *take, *leave;
  void (*changed)(GtkWidget *parent);
  GtkWidget *parent; /* borrowed */
  bool showing;      /* what is set now is not the person's doing */
} BestBar;

static void bar_show(BestBar *self)
{
  bool shown = session_best_shown(self->session), ready = session_best_ready(self->session);
  bool moved = shown != gtk_widget_get_visible(self->bar);
  self->showing = true;
  gtk_widget_set_visible(self->bar, shown);
  gtk_widget_set_sensitive(self->scale, ready);
  gtk_widget_set_sensitive(self->take, ready);
  bool part = session_best_in_part(self->session); /* Enter keeps what is drawn */
  spoken_tooltip(self->take, part ? NULL : "Enter");
  spoken_tooltip(self->leave, part ? "Enter" : "Esc");
  gtk_button_set_label(GTK_BUTTON(self->leave), part ? _("Keep this part") : _("Leave"));
  (part ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(self->leave, "strong");
  (part ? gtk_widget_remove_css_class : gtk_widget_add_css_class)(self->take, "strong");
  if (!session_editing(self->session))
    gtk_range_set_value(GTK_RANGE(self->scale), 100 * session_best_share(self->session));
  if (!shown)
    gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->lower), FALSE);
  self->showing = false;
  if (moved)
    self->changed(self->parent);
}

static void scaled(GtkRange *range, gpointer data)
{
  BestBar *self = data;
  if (self->showing ||
      !session_edit_begin_series(self->session, N_("Take part of the best outline")))
    return;
  if (session_best_set_share(self->session, gtk_range_get_value(range) / 100))
    session_edit_cancel(self->session);
  else
    session_edit_end(self->session);
}

static void lowered(GtkToggleButton *button, gpointer data)
{
  BestBar *self = data;
  if (!self->showing)
    session_best_begin(self->session, gtk_toggle_button_get_active(button));
}

static void taken(GtkButton *button, gpointer data)
{
  (void)button;
  session_best_take(((BestBar *)data)->session);
}

static void left(GtkButton *button, gpointer data)
{
  (void)button;
  session_preview(((BestBar *)data)->session, NULL);
}

static char *percent(GtkScale *scale, double value, gpointer data)
{
  (void)scale, (void)data;
  return g_strdup_printf("%.0f %%", value);
}

static void bar_free(gpointer data)
{
  BestBar *self = data;
  g_signal_handlers_disconnect_by_data(self->session, self);
  g_object_unref(self->session);
  g_free(self);
}

static GtkWidget *bar_button(BestBar *self, GtkWidget *button, const char *tip)
{
  spoken_tooltip(button, tip);
  gtk_box_append(GTK_BOX(self->bar), button);
  return button;
}

GtkWidget *best_bar_new(SoffitSession *session, void (*changed)(GtkWidget *parent),
                        GtkWidget *parent)
{
  BestBar *self = g_new0(BestBar, 1);
  self->session = g_object_ref(session);
  self->changed = changed;
  self->parent = parent;
  self->bar = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_widget_add_css_class(self->bar, "best-bar");
  gtk_widget_add_css_class(self->bar, "floating");
  self->scale = gtk_scale_new_with_range(GTK_ORIENTATION_HORIZONTAL, 0, 100, 5);
  gtk_scale_set_draw_value(GTK_SCALE(self->scale), TRUE);
  gtk_scale_set_value_pos(GTK_SCALE(self->scale), GTK_POS_RIGHT);
  gtk_scale_set_format_value_func(GTK_SCALE(self->scale), percent, NULL, NULL);
  gtk_widget_set_size_request(self->scale, SCALE_WIDTH, -1);
  spoken_name(self->scale, _("Part of the way to the best outline"));
  gtk_box_append(GTK_BOX(self->bar), self->scale);
  self->lower = bar_button(self, gtk_toggle_button_new_with_label(_("Lower too")),
                           _("The roof may come down as far as the brush allows"));
  self->take = bar_button(self, gtk_button_new_with_label(_("Take whole")), "Enter");
  self->leave = bar_button(self, gtk_button_new_with_label(_("Leave")), "Esc");
  gtk_widget_add_css_class(self->take, "strong");
  gtk_widget_set_visible(self->bar, FALSE);
  g_signal_connect(self->scale, "value-changed", G_CALLBACK(scaled), self);
  g_signal_connect(self->lower, "toggled", G_CALLBACK(lowered), self);
  g_signal_connect(self->take, "clicked", G_CALLBACK(taken), self);
  g_signal_connect(self->leave, "clicked", G_CALLBACK(left), self);
  g_signal_connect_swapped(session, "preview-changed", G_CALLBACK(bar_show), self);
  g_signal_connect_swapped(session, "case-changed", G_CALLBACK(bar_show), self);
  g_object_set_data_full(G_OBJECT(self->bar), "soffit-best-bar", self, bar_free);
  return self->bar;
}

void best_bar_place(GtkWidget *bar, int x, int width)
{
  int wide, high;
  if (!gtk_widget_should_layout(bar))
    return;
  gtk_widget_measure(bar, GTK_ORIENTATION_HORIZONTAL, -1, &wide, NULL, NULL, NULL);
  gtk_widget_measure(bar, GTK_ORIENTATION_VERTICAL, wide, &high, NULL, NULL, NULL);
  float left = (float)(x < 0 ? MAX(0, (width - wide) / 2) : x),
        top = (float)(TITLES * text_scale(bar));
  gtk_widget_allocate(bar, wide, high, -1,
                      gsk_transform_translate(NULL, &GRAPHENE_POINT_INIT(left, top)));
}
