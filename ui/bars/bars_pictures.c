/* bars_pictures.c - the middle column: Weibull plot or histogram, and the bar with a notch by hand.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/bars/bars_parts.h"
#include "ui/arrow_key.h"
#include "ui/canvas/draw_context.h"
#include "ui/case_form.h"
#include "ui/drawing/picture_notch.h"
#include "ui/drawing/picture_strength.h"
#include "ui/words.h"

#define NOTCH_PX 200
#define PLACE_STEP_MM 0.25
#define DEPTH_STEP_MM 0.02
/* The notched bar is shown at this part of the stress that breaks 63 of 100. */
#define SHOWN_PART 0.3

typedef struct {
  SoffitBarsDesk *desk; /* owned ref */
  GtkWidget *plot, *columns, *notch, *number[4];
  bool filling;
} PicturesView;

static void plot_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  PicturesView *view = data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  const char *const name[BARS_SETS] = {bars_desk_name(view->desk, 0),
                                       bars_desk_name(view->desk, 1)};
  if (GTK_WIDGET(area) == view->plot)
    picture_weibull(cr, width, height, &context, bars_desk_answer(view->desk), name,
                    bars_desk_book(view->desk));
  else
    picture_histogram(cr, width, height, &context, bars_desk_answer(view->desk), name);
}

static NotchPicture notch_picture(PicturesView *view, BarSetup *setup)
{
  const NotchShown *shown = bars_desk_notch(view->desk);
  const BarsInput *in = bars_desk_input(view->desk);
  double limit = bars_desk_limit(view->desk);
  *setup = bars_desk_setup(view->desk);
  return (NotchPicture){.setup = setup,
                        .bar = shown ? &shown->bar : &in->notch,
                        .answer = shown ? shown->answer : NULL,
                        .shaded = shown ? shown->shaded : NULL,
                        .zero = shown ? &shown->zero : NULL,
                        .place = in->place,
                        .reference_mpa = SHOWN_PART * limit,
                        .limit_mpa = limit};
}

static void notch_draw(GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  PicturesView *view = data;
  char font[64];
  DrawContext context = draw_context_for(GTK_WIDGET(area), font);
  BarSetup setup;
  NotchPicture picture = notch_picture(view, &setup);
  if (setup.test == BAR_DISC) {
    TextStyle style = {TEXT_BODY, false, false, COLOUR_DIM, ALIGN_CENTRE};
    text_draw(cr, &context, style, point(width / 2.0, height / 2.0),
              text_word(&context, N_("The notch is shown for bars, not for discs.")));
    return;
  }
  picture_notch(cr, width, height, &context, &picture);
}

/* --- the notch by hand --- */

static void notch_fill(PicturesView *view)
{
  const BarsInput *in = bars_desk_input(view->desk);
  const double value[4] = {in->notch.depth, in->notch.radius, in->notch.open_deg, in->place};
  view->filling = true;
  for (int i = 0; i < 4; i++)
    gtk_spin_button_set_value(GTK_SPIN_BUTTON(view->number[i]), value[i]);
  view->filling = false;
}

static void notch_take(PicturesView *view, double place, double depth)
{
  BarsInput *in = bars_desk_input(view->desk);
  in->place = CLAMP(place, -in->span / 2, in->span / 2);
  in->notch.depth = CLAMP(depth, 0, 0.6 * in->notch.height);
  bars_desk_changed(view->desk);
  notch_fill(view);
  gtk_widget_queue_draw(view->notch);
}

static void pen_at(PicturesView *view, double x, double y)
{
  char font[64];
  DrawContext context = draw_context_for(view->notch, font);
  BarSetup setup;
  NotchPicture picture = notch_picture(view, &setup);
  if (setup.test == BAR_DISC)
    return;
  View scale = notch_view(gtk_widget_get_width(view->notch), gtk_widget_get_height(view->notch),
                          &context, &picture);
  Point mm = view_mm(scale, point(x, y));
  notch_take(view, mm.x, mm.y);
}

static void drag_begin(GtkGestureDrag *drag, double x, double y, PicturesView *view)
{
  (void)drag;
  gtk_widget_grab_focus(view->notch);
  pen_at(view, x, y);
}

static void drag_update(GtkGestureDrag *drag, double dx, double dy, PicturesView *view)
{
  double x, y;
  if (gtk_gesture_drag_get_start_point(drag, &x, &y))
    pen_at(view, x + dx, y + dy);
}

static gboolean notch_key(GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state,
                          PicturesView *view)
{
  (void)keys, (void)code;
  const BarsInput *in = bars_desk_input(view->desk);
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  Point way;
  if (!arrow_key(key, 1, &way))
    return FALSE;
  notch_take(view, in->place + way.x * PLACE_STEP_MM, in->notch.depth + way.y * DEPTH_STEP_MM);
  return TRUE;
}

static void number_changed(PicturesView *view)
{
  if (view->filling)
    return;
  bars_desk_changed(view->desk);
  gtk_widget_queue_draw(view->notch);
}

static void pictures_show(PicturesView *view)
{
  gtk_widget_queue_draw(view->plot);
  gtk_widget_queue_draw(view->columns);
  gtk_widget_queue_draw(view->notch);
}

static void notch_changed(PicturesView *view)
{
  notch_fill(view);
  gtk_widget_queue_draw(view->notch);
}

static GtkWidget *area_new(GtkDrawingAreaDrawFunc draw, PicturesView *view, const char *name)
{
  GtkWidget *area = gtk_drawing_area_new();
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(area), draw, view, NULL);
  field_name(area, name);
  return area;
}

static GtkWidget *notch_build(PicturesView *view)
{
  BarsInput *in = bars_desk_input(view->desk);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0), *row = gtk_grid_new();
  view->notch = area_new(notch_draw, view,
                         _("bar in bending: click or drag to place the notch, arrow keys move it"));
  gtk_drawing_area_set_content_height(GTK_DRAWING_AREA(view->notch), NOTCH_PX);
  gtk_widget_set_focusable(view->notch, TRUE);
  GtkGesture *drag = gtk_gesture_drag_new();
  g_signal_connect(drag, "drag-begin", G_CALLBACK(drag_begin), view);
  g_signal_connect(drag, "drag-update", G_CALLBACK(drag_update), view);
  gtk_widget_add_controller(view->notch, GTK_EVENT_CONTROLLER(drag));
  GtkEventController *keys = gtk_event_controller_key_new();
  g_signal_connect(keys, "key-pressed", G_CALLBACK(notch_key), view);
  gtk_widget_add_controller(view->notch, keys);
  const char *const name[4] = {_("deep, mm"), _("radius"), _("open, °"), _("place")};
  view->number[0] = field_number(_("depth of the notch"), &in->notch.depth, 0, 12, 0.02, 2);
  view->number[1] = field_number(_("radius of the notch"), &in->notch.radius, 0.02, 5, 0.02, 2);
  view->number[2] = field_number(_("angle between its flanks"), &in->notch.open_deg, 0, 120, 5, 0);
  view->number[3] = field_number(_("place of the notch"), &in->place, -50, 50, 0.25, 2);
  for (int i = 0; i < 4; i++) {
    GtkWidget *label = gtk_label_new(name[i]);
    gtk_widget_add_css_class(label, "note");
    gtk_editable_set_width_chars(GTK_EDITABLE(view->number[i]), 4);
    gtk_editable_set_max_width_chars(GTK_EDITABLE(view->number[i]), 4);
    g_signal_connect_swapped(view->number[i], "value-changed", G_CALLBACK(number_changed), view);
    gtk_label_set_xalign(GTK_LABEL(label), 0);
    gtk_grid_attach(GTK_GRID(row), label, 2 * (i % 2), i / 2, 1, 1);
    gtk_grid_attach(GTK_GRID(row), view->number[i], 2 * (i % 2) + 1, i / 2, 1, 1);
  }
  gtk_grid_set_column_spacing(GTK_GRID(row), 8);
  gtk_grid_set_row_spacing(GTK_GRID(row), 4);
  gtk_box_append(GTK_BOX(box), view->notch);
  gtk_box_append(GTK_BOX(box), row);
  return box;
}

/* Below the plot: a notch by hand, or the record of a bar that broke. */
static GtkWidget *bar_build(PicturesView *view)
{
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 4), *pages = gtk_stack_new(),
            *switcher = gtk_stack_switcher_new(), *record = gtk_scrolled_window_new();
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(record), bars_record_new(view->desk, NOTCH_PX));
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(record), GTK_POLICY_NEVER,
                                 GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height(GTK_SCROLLED_WINDOW(record), TRUE);
  gtk_scrolled_window_set_min_content_height(GTK_SCROLLED_WINDOW(record), NOTCH_PX);
  gtk_stack_add_titled(GTK_STACK(pages), notch_build(view), "notch",
                       _("What a notch does to a bar"));
  gtk_stack_add_titled(GTK_STACK(pages), record, "record", _("Where a bar broke"));
  gtk_stack_set_vhomogeneous(GTK_STACK(pages), FALSE);
  gtk_stack_set_hhomogeneous(GTK_STACK(pages), FALSE); /* the hidden page asks for no width */
  gtk_stack_switcher_set_stack(GTK_STACK_SWITCHER(switcher), GTK_STACK(pages));
  gtk_widget_set_halign(switcher, GTK_ALIGN_START);
  gtk_widget_add_css_class(switcher, "kinds");
  gtk_widget_add_css_class(box, "bars-notch");
  gtk_box_append(GTK_BOX(box), switcher);
  gtk_box_append(GTK_BOX(box), pages);
  return box;
}

static void pictures_gone(PicturesView *view)
{
  g_signal_handlers_disconnect_by_data(gtk_settings_get_default(), view);
  g_signal_handlers_disconnect_by_data(view->desk, view);
  g_object_unref(view->desk);
  g_free(view);
}

GtkWidget *bars_pictures_new(SoffitBarsDesk *desk)
{
  PicturesView *view = g_new0(PicturesView, 1);
  view->desk = g_object_ref(desk);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0), *stack = gtk_stack_new(),
            *over = gtk_overlay_new(), *switcher = gtk_stack_switcher_new();
  view->plot = area_new(plot_draw, view, _("Weibull plot of the bars"));
  view->columns = area_new(plot_draw, view, _("histogram of the bars"));
  gtk_stack_add_titled(GTK_STACK(stack), view->plot, "plot", _("Weibull plot"));
  gtk_stack_add_titled(GTK_STACK(stack), view->columns, "histogram", _("Histogram"));
  gtk_stack_switcher_set_stack(GTK_STACK_SWITCHER(switcher), GTK_STACK(stack));
  gtk_widget_set_halign(switcher, GTK_ALIGN_END);
  gtk_widget_set_valign(switcher, GTK_ALIGN_START);
  gtk_widget_add_css_class(switcher, "kinds");
  gtk_overlay_set_child(GTK_OVERLAY(over), stack);
  gtk_overlay_add_overlay(GTK_OVERLAY(over), switcher);
  gtk_widget_set_vexpand(over, TRUE);
  gtk_widget_add_css_class(over, "paper");
  gtk_widget_set_size_request(over, 300, 220);
  gtk_box_append(GTK_BOX(box), over);
  gtk_box_append(GTK_BOX(box), bar_build(view));
  g_signal_connect_swapped(desk, "answer-changed", G_CALLBACK(pictures_show), view);
  g_signal_connect_swapped(desk, "notch-changed", G_CALLBACK(notch_changed), view);
  g_signal_connect_swapped(gtk_settings_get_default(), "notify::gtk-application-prefer-dark-theme",
                           G_CALLBACK(pictures_show), view);
  g_object_set_data_full(G_OBJECT(box), "view", view, (GDestroyNotify)pictures_gone);
  return box;
}
