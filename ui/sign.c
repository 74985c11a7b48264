/* sign.c - see sign.h; the picture is ui/drawing's.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/sign.h"
#include "ui/canvas/draw_context.h"
#include "ui/drawing/signs.h"

struct _SoffitSign {
  GtkWidget parent;
  int px;
  Verdict verdict;
};

G_DEFINE_FINAL_TYPE(SoffitSign, sign, GTK_TYPE_WIDGET)

static void sign_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  SoffitSign *self = SOFFIT_SIGN(widget);
  if (self->verdict == VERDICT_NONE)
    return;
  char font[64];
  DrawContext context = draw_context_for(widget, font);
  cairo_t *cr = gtk_snapshot_append_cairo(
      snapshot, &GRAPHENE_RECT_INIT(0, 0, (float)gtk_widget_get_width(widget),
                                    (float)gtk_widget_get_height(widget)));
  draw_verdict(cr, self->verdict, self->px, palette_verdict(context.palette, self->verdict));
  cairo_destroy(cr);
}

static void sign_measure(GtkWidget *widget, GtkOrientation orientation, int for_size, int *least,
                         int *natural, int *least_baseline, int *natural_baseline)
{
  (void)orientation, (void)for_size;
  *least = *natural = SOFFIT_SIGN(widget)->px;
  *least_baseline = *natural_baseline = -1;
}

static void sign_class_init(SoffitSignClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS(class);
  widget_class->snapshot = sign_snapshot;
  widget_class->measure = sign_measure;
  gtk_widget_class_set_accessible_role(widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void sign_init(SoffitSign *self)
{
  self->px = 15;
  gtk_widget_set_valign(GTK_WIDGET(self), GTK_ALIGN_CENTER);
  g_signal_connect_object(gtk_settings_get_default(), "notify::gtk-application-prefer-dark-theme",
                          G_CALLBACK(gtk_widget_queue_draw), self, G_CONNECT_SWAPPED);
}

GtkWidget *sign_new(int px)
{
  SoffitSign *self = g_object_new(SOFFIT_TYPE_SIGN, NULL);
  self->px = px;
  gtk_widget_set_visible(GTK_WIDGET(self), FALSE);
  return GTK_WIDGET(self);
}

void sign_set(SoffitSign *self, Verdict verdict)
{
  self->verdict = verdict;
  gtk_widget_set_visible(GTK_WIDGET(self), verdict != VERDICT_NONE);
  gtk_widget_queue_draw(GTK_WIDGET(self));
}
