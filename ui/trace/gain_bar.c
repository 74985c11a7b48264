/* gain_bar.c - drawn as colour rectangles: crisp at any scale, no picture kept.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/trace/gain_bar.h"
#include <math.h>

#define BAR_PX 7
#define WHISKER_TOP_PX 9
#define WHISKER_END_PX 5

struct _SoffitGainBar {
  GtkWidget parent;
  Banded percent;
  double full;
};

G_DEFINE_FINAL_TYPE(SoffitGainBar, gain_bar, GTK_TYPE_WIDGET)

static float place(const SoffitGainBar *bar, double percent, int width)
{
  double share = isfinite(percent) ? percent / bar->full : 0;
  return (float)(CLAMP(share, 0.0, 1.0) * width);
}

static GdkRGBA named(GtkWidget *widget, const char *name)
{
  GdkRGBA colour;
  if (!gtk_style_context_lookup_color(gtk_widget_get_style_context(widget), name, &colour))
    gtk_style_context_get_color(gtk_widget_get_style_context(widget), &colour);
  return colour;
}

static void rectangle(GtkSnapshot *snapshot, const GdkRGBA *colour, float x, float y, float w,
                      float h)
{
  gtk_snapshot_append_color(snapshot, colour, &GRAPHENE_RECT_INIT(x, y, w, h));
}

static void gain_bar_snapshot(GtkWidget *widget, GtkSnapshot *snapshot)
{
  SoffitGainBar *bar = SOFFIT_GAIN_BAR(widget);
  int width = gtk_widget_get_width(widget);
  GdkRGBA trough = named(widget, "trough"), accent = named(widget, "accent"),
          dim = named(widget, "dim");
  rectangle(snapshot, &trough, 0, 0, (float)width, BAR_PX);
  rectangle(snapshot, &accent, 0, 0, place(bar, bar->percent.value, width), BAR_PX);
  if (!isfinite(bar->percent.low) || !isfinite(bar->percent.high))
    return;
  float low = place(bar, bar->percent.low, width), high = place(bar, bar->percent.high, width);
  high = MAX(high, low + 2);
  rectangle(snapshot, &dim, low, WHISKER_TOP_PX + 2, high - low, 1);
  rectangle(snapshot, &dim, low, WHISKER_TOP_PX, 1, WHISKER_END_PX);
  rectangle(snapshot, &dim, high - 1, WHISKER_TOP_PX, 1, WHISKER_END_PX);
}

static void gain_bar_class_init(SoffitGainBarClass *class)
{
  GTK_WIDGET_CLASS(class)->snapshot = gain_bar_snapshot;
  gtk_widget_class_set_accessible_role(GTK_WIDGET_CLASS(class), GTK_ACCESSIBLE_ROLE_PRESENTATION);
}

static void gain_bar_init(SoffitGainBar *bar)
{
  bar->full = 100;
  gtk_widget_add_css_class(GTK_WIDGET(bar), "gain-bar");
}

GtkWidget *gain_bar_new(void)
{
  return g_object_new(SOFFIT_TYPE_GAIN_BAR, NULL);
}

void gain_bar_set(SoffitGainBar *bar, Banded percent, double full)
{
  bar->percent = percent;
  bar->full = full > 0 ? full : 100;
  gtk_widget_queue_draw(GTK_WIDGET(bar));
}
