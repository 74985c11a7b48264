/* walk_slider.c - see walk_slider.h.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A range of GTK: version 4.8 hands the values of no other widget on to readers.  Its value is the
 * way along the line from its left end, mm; the words are its description, since that version
 * hands on no words beside a value. */
#include "ui/canvas/walk_slider.h"
#include "ui/canvas/canvas_private.h"
#include "ui/canvas/walk_words.h"
#include "ui/spoken.h"
#include "ui/words.h"

#define STEP_MM 0.1
#define PAGE_MM 1.0

typedef struct {
  SoffitCanvas *canvas; /* borrowed: the parent */
  bool telling;         /* what is set now is not the reader's doing */
} WalkSlider;

/* A reader moves the slider itself. */
static void moved(GtkRange *range, gpointer data)
{
  WalkSlider *self = data;
  Hand *hand = &self->canvas->hand;
  double to = 0;
  if (!self->telling && !walk_step(hand_outline(hand), 0, gtk_range_get_value(range), &to)) {
    walk_to(hand, to);
    canvas_walk_follow(self->canvas);
  }
}

/* The keys of the walk are the canvas's. */
static gboolean key_pressed(GtkEventControllerKey *keys, guint key, guint code,
                            GdkModifierType state, gpointer data)
{
  (void)key, (void)code, (void)state;
  return gtk_event_controller_key_forward(keys, GTK_WIDGET(((WalkSlider *)data)->canvas));
}

GtkWidget *walk_slider_new(SoffitCanvas *canvas)
{
  WalkSlider *self = g_new0(WalkSlider, 1);
  self->canvas = canvas;
  GtkWidget *slider = gtk_scale_new_with_range(GTK_ORIENTATION_HORIZONTAL, 0, 1, STEP_MM);
  gtk_range_set_increments(GTK_RANGE(slider), STEP_MM, PAGE_MM);
  gtk_widget_add_css_class(slider, "walk"); /* only its ring is seen */
  gtk_widget_set_can_target(slider, FALSE);
  gtk_widget_set_visible(slider, FALSE);
  spoken_name(slider, _("Place on the line"));
  g_signal_connect(slider, "value-changed", G_CALLBACK(moved), self);
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_propagation_phase(keys, GTK_PHASE_CAPTURE);
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), self);
  gtk_widget_add_controller(slider, keys);
  g_object_set_data_full(G_OBJECT(slider), "soffit-walk-slider", self, g_free);
  return slider;
}

void walk_slider_tell(GtkWidget *slider, const Hand *hand, bool walking)
{
  WalkSlider *self = g_object_get_data(G_OBJECT(slider), "soffit-walk-slider");
  const Outline *outline = hand_outline(hand);
  gtk_widget_set_visible(slider, walking);
  if (!walking || !hand->walks || outline->n < 2)
    return;
  g_autofree char *words = walk_sentence(hand);
  self->telling = true;
  spoken_description(slider, words); /* first: the value makes a reader look */
  gtk_range_set_range(GTK_RANGE(slider), 0, walk_way(outline, (double)outline_pieces(outline)));
  gtk_range_set_value(GTK_RANGE(slider), walk_way(outline, hand->walk_t));
  gtk_accessible_update_property(GTK_ACCESSIBLE(slider), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, words,
                                 -1);
  self->telling = false;
}
