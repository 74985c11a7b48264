/* test_ink.c - the hand on the drawing by synthetic reports: ink, band, blend, eraser, palm,
 * cancel, an arrow key too early. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Needs a display (xvfb-run).  The session answers with the invented assessment. */
#include "fake_assessment.h"
#include "on_screen.h"
#include "ui/canvas/canvas_private.h"
#include "ui/canvas/smoothing.h"
#include "ui/preferences.h"
#include "ui/theme.h"
#include <glib/gstdio.h>
#include <math.h>

#define WAIT_MS 5000

static Fault run_fake(Assessor *assessor, const Case *c, const AssessSettings *settings,
                      Assessment **result)
{
  (void)assessor, (void)c, (void)settings;
  *result = fake_assessment_new();
  return FAULT_NONE;
}

typedef struct {
  SoffitSession *session;
  GtkWidget *window;
  SoffitCanvas *canvas;
} Table;

static void wait_frames(Table *table, int frames)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock(GTK_WIDGET(table->canvas));
  gint64 end = g_get_monotonic_time() + WAIT_MS * 1000,
         until = gdk_frame_clock_get_frame_counter(clock) + frames;
  gtk_widget_queue_draw(GTK_WIDGET(table->canvas));
  while (gdk_frame_clock_get_frame_counter(clock) < until && g_get_monotonic_time() < end) {
    gtk_widget_queue_draw(GTK_WIDGET(table->canvas));
    g_main_context_iteration(NULL, TRUE);
  }
  g_assert_cmpint(gdk_frame_clock_get_frame_counter(clock), >=, until);
}

static Table table_open(void)
{
  Table table = {.session = session_new("", run_fake)};
  Assessment *a = fake_assessment_new();
  g_autoptr(GError) error = NULL;
  session_start(table.session, &a->c, &error);
  g_assert_no_error(error);
  fake_assessment_free(a);
  table.window = gtk_window_new();
  table.canvas = SOFFIT_CANVAS(soffit_canvas_new(table.session));
  gtk_window_set_child(GTK_WINDOW(table.window), GTK_WIDGET(table.canvas));
  gtk_window_set_default_size(GTK_WINDOW(table.window), 872, 600);
  gtk_window_present(GTK_WINDOW(table.window));
  gint64 end = g_get_monotonic_time() + WAIT_MS * 1000;
  while (!(session_assessment(table.session) && gtk_widget_get_mapped(GTK_WIDGET(table.canvas))) &&
         g_get_monotonic_time() < end)
    g_main_context_iteration(NULL, TRUE);
  session_set_focus(table.session, 1);
  wait_frames(&table, 3);
  return table;
}

static void table_close(Table *table)
{
  gtk_window_destroy(GTK_WINDOW(table->window));
  g_object_unref(table->session);
}

static const Outline *gum_line(const Table *table)
{
  return hand_outline(&table->canvas->hand);
}

/* A rounder roof from leg to leg, n reports, up to `part` of them. */
static void draw(Table *table, HandKind kind, size_t n, double part)
{
  for (size_t i = 0; i <= (size_t)(part * (double)n); i++) {
    double u = 2.0 * (double)i / (double)n - 1;
    PenPoint at = {point(1.2 * u, 2.4 - 1.7 * pow(fabs(u), 4)), (double)i / 120, 0.5};
    if (i == 0)
      canvas_press(table->canvas, kind, &at);
    else
      canvas_move(table->canvas, &at, 1);
  }
}

static gint64 frame_now(Table *table)
{
  return gdk_frame_clock_get_frame_time(gtk_widget_get_frame_clock(GTK_WIDGET(table->canvas)));
}

static void motion_set(gboolean on)
{
  g_object_set(gtk_settings_get_default(), "gtk-enable-animations", on, NULL);
}

/* Ink is there in the next frame, stays when the pen lifts, and is gone after the blend; pieces
 * that are done are not rastered again. */
static void test_blend(void)
{
  Table table = table_open();
  motion_set(TRUE);
  draw(&table, HAND_PEN, 200, 1);
  wait_frames(&table, 1);
  CanvasInk *ink = table.canvas->ink;
  g_assert_cmpfloat(canvas_ink_strength(ink, frame_now(&table)), ==, 1);
  g_assert_cmpuint(canvas_ink_rastered(ink), <=, 200 / 24 + 2);
  size_t before = canvas_ink_rastered(ink);
  PenPoint more = {point(1.25, 0.6), 2, 1};
  canvas_move(table.canvas, &more, 1);
  wait_frames(&table, 3);
  g_assert_cmpuint(canvas_ink_rastered(ink), ==, before + 1);
  canvas_release(table.canvas);
  gint64 lifted = frame_now(&table);
  g_assert_cmpfloat(canvas_ink_strength(ink, lifted), ==, 1); /* never vanishes on lifting */
  g_assert_cmpfloat_with_epsilon(canvas_ink_strength(ink, lifted + 500 * INK_BLEND_MS), 0.5, 1e-9);
  g_assert_cmpfloat(canvas_ink_strength(ink, lifted + 1000 * INK_BLEND_MS), ==, 0);
  g_assert_cmpint(INK_BLEND_MS, >=, 120);
  g_assert_cmpint(INK_BLEND_MS, <=, 200);
  gint64 end = g_get_monotonic_time() + WAIT_MS * 1000;
  while (canvas_ink_rastered(ink) > 0 && g_get_monotonic_time() < end)
    g_main_context_iteration(NULL, TRUE);
  g_assert_cmpuint(canvas_ink_rastered(ink), ==, 0); /* its frames came by themselves */
  g_assert_cmpstr(session_undo_name(table.session), ==, "Draw");
  table_close(&table);
}

static void test_less_motion(void)
{
  Table table = table_open();
  motion_set(FALSE);
  draw(&table, HAND_PEN, 60, 1);
  wait_frames(&table, 1);
  canvas_release(table.canvas);
  g_assert_cmpfloat(canvas_ink_strength(table.canvas->ink, frame_now(&table)), ==, 0);
  g_assert_cmpstr(session_undo_name(table.session), ==, "Draw");
  motion_set(TRUE);
  table_close(&table);
}

/* While the pen draws the window's own thread never has to make the whole picture: neither a report
 * of the pen nor a figure beside the drawing that takes more room throws it away. */
static void test_picture_stands(void)
{
  Table table = table_open();
  GtkWidget *widget = GTK_WIDGET(table.canvas);
  draw(&table, HAND_PEN, 200, 0.5);
  wait_frames(&table, 2);
  for (int i = 0; i < 20; i++) {
    PenPoint at = {point(0.01 * i, 2.4), 1 + i / 120.0, 1};
    canvas_move(table.canvas, &at, 1);
    g_assert_nonnull(table.canvas->picture);
    gtk_widget_queue_allocate(widget);
    gtk_widget_allocate(widget, gtk_widget_get_width(widget), gtk_widget_get_height(widget), -1,
                        NULL);
    g_assert_nonnull(table.canvas->picture);
    wait_frames(&table, 1);
  }
  canvas_release(table.canvas);
  g_assert_null(table.canvas->picture); /* now it is drawn at its best */
  wait_frames(&table, 1);
  gtk_widget_queue_allocate(widget);
  gtk_widget_allocate(widget, gtk_widget_get_width(widget) - 1, gtk_widget_get_height(widget), -1,
                      NULL);
  g_assert_null(table.canvas->picture); /* another size is another picture */
  table_close(&table);
}

static void test_cancel(void)
{
  Table table = table_open();
  Outline before = {0};
  g_assert_cmpint(outline_copy(&before, gum_line(&table)), ==, FAULT_NONE);
  g_assert_false(canvas_cancel(table.canvas));
  draw(&table, HAND_PEN, 100, 0.7);
  wait_frames(&table, 1);
  g_assert_false(outline_equal(&before, gum_line(&table), 1e-6)); /* the fit follows the pen */
  g_assert_true(canvas_cancel(table.canvas));
  g_assert_true(outline_equal(&before, gum_line(&table), 0));
  g_assert_cmpfloat(canvas_ink_strength(table.canvas->ink, frame_now(&table)), ==, 0);
  g_assert_null(session_undo_name(table.session));
  outline_clear(&before);
  table_close(&table);
}

/* Legs drawn roughly from foot to foot stand on the knot where they began, and as far from the axis
 * where they ended; with Ctrl where the hand put them. */
static void test_ends(void)
{
  for (int freely = 0; freely < 2; freely++) {
    Table table = table_open();
    Hand *hand = &table.canvas->hand;
    canvas_set_tool(table.canvas, &tool_starter_u);
    canvas_set_tool(table.canvas, &tool_pen);
    size_t foot = 0; /* the knot where the left leg leaves the tissue line */
    while (gum_line(&table)->knot[foot + 1].at.y < 0.02)
      foot++;
    Point knot = gum_line(&table)->knot[foot].at;
    double reach = 6 / hand->view.scale;
    Point from = point_add(knot, point(-0.6 * reach, 0.4 * reach)), to = point(-from.x + 0.3, 0.03);
    hand->free_hand = freely;
    for (int i = 0; i <= 120; i++) {
      double u = i / 60.0 - 1;
      PenPoint at = {point(from.x + (to.x - from.x) * i / 120, from.y + 2.2 * (1 - pow(u, 4))),
                     i / 120.0, 1};
      if (i == 0)
        canvas_press(table.canvas, HAND_PEN, &at);
      else
        canvas_move(table.canvas, &at, 1);
    }
    canvas_release(table.canvas);
    g_assert_null(hand->trouble);
    double nearest = INFINITY;
    for (size_t i = 0; i < gum_line(&table)->n; i++)
      nearest = fmin(nearest, point_distance(gum_line(&table)->knot[i].at, knot));
    if (freely)
      g_assert_true(isnan(hand->ends[0].x) && isnan(hand->ends[1].x));
    else
      g_assert_cmpfloat(nearest, <, 1e-9);
    if (!freely) {
      double off;
      g_assert_cmpfloat(point_distance(hand->ends[0], knot), <, 1e-9);
      outline_nearest(gum_line(&table), hand->ends[1], &off);
      g_assert_cmpfloat(off, <, 1e-9);
      g_assert_nonnull(hand->snap.word[0]);
    }
    hand->free_hand = false;
    table_close(&table);
  }
}

/* The pen's other end: a pointed roof is rubbed off in one step, the feet stay; undo brings it
 * back.
 */
static void test_eraser(void)
{
  Table table = table_open();
  Outline before = {0};
  double top = 0, off;
  canvas_set_tool(table.canvas, &tool_starter_v);
  g_assert_cmpint(outline_copy(&before, gum_line(&table)), ==, FAULT_NONE);
  for (size_t i = 0; i < before.n; i++)
    top = fmax(top, before.knot[i].at.y);
  for (int i = 0; i <= 40; i++) {
    PenPoint at = {point(-0.4 + 0.02 * i, top - 0.1), i / 120.0, 1};
    if (i == 0)
      canvas_press(table.canvas, HAND_ERASER, &at);
    else
      canvas_move(table.canvas, &at, 1);
  }
  canvas_release(table.canvas);
  g_assert_cmpstr(session_undo_name(table.session), ==, "Erase a stretch");
  outline_nearest(gum_line(&table), point(0, top), &off);
  g_assert_cmpfloat(off, >, 0.1); /* the point is gone */
  outline_nearest(gum_line(&table), before.knot[1].at, &off);
  g_assert_cmpfloat(off, <, 1e-9);
  g_assert_true(canvas_tool(table.canvas) == &tool_pen); /* only while that end draws */
  g_assert_true(session_undo(table.session));
  g_assert_true(outline_equal(&before, gum_line(&table), 0));
  PenPoint away = {point(0, 0.2), 0, 1}; /* touches nothing: no step */
  canvas_press(table.canvas, HAND_ERASER, &away);
  canvas_release(table.canvas);
  g_assert_cmpstr(session_undo_name(table.session), ==, "Start from a V");
  g_assert_null(table.canvas->hand.trouble);
  outline_clear(&before);
  table_close(&table);
}

static void test_palm(void)
{
  Table table = table_open();
  g_assert_true(canvas_finger_down(table.canvas, 100)); /* no pen yet: fingers draw */
  draw(&table, HAND_FINGER, 100, 0.5);
  g_assert_true(table.canvas->hand.busy);
  canvas_pen_near(table.canvas, true, 1000); /* it was the palm */
  g_assert_false(table.canvas->hand.busy);
  g_assert_null(session_undo_name(table.session));
  canvas_finger_up(table.canvas);
  g_assert_false(canvas_finger_down(table.canvas, 1200));
  draw(&table, HAND_PEN, 100, 0.5);
  g_assert_false(canvas_finger_down(table.canvas, 4000));
  g_assert_true(table.canvas->hand.busy); /* the stroke goes on */
  canvas_release(table.canvas);
  canvas_pen_near(table.canvas, false, 5000);
  g_assert_false(canvas_finger_down(table.canvas, 5000 + PALM_AFTER_MS - 1));
  g_assert_true(canvas_finger_down(table.canvas, 5000 + PALM_AFTER_MS));
  g_assert_false(canvas_finger_down(table.canvas, 5000 + PALM_AFTER_MS)); /* the second of two */
  canvas_finger_up(table.canvas);
  canvas_finger_up(table.canvas);
  PalmGuard wraps = {0};
  palm_pen(&wraps, false, UINT32_MAX - 10);
  g_assert_true(palm_rests(&wraps, 100));
  g_assert_false(palm_rests(&wraps, 600));
  table_close(&table);
}

/* The setting is the fit's tolerance: a slow wave within the band is smoothed, beyond it stays; it
 * is kept, held inside its range, and told. */
static void test_smoothing(void)
{
  Table table = table_open();
  double wave[2];
  static const double setting[2] = {0.5, 0};
  for (int k = 0; k < 2; k++) {
    canvas_set_smoothing(table.canvas, setting[k]);
    for (int i = 0; i <= 240; i++) {
      double x = 2.4 * i / 240.0 - 1.2;
      PenPoint at = {point(x, 1.6 + 0.05 * sin(2 * M_PI * x / 1.1)), i / 120.0, 1};
      if (i == 0)
        canvas_press(table.canvas, HAND_PEN, &at);
      else
        canvas_move(table.canvas, &at, 1);
    }
    canvas_release(table.canvas);
    wave[k] = 0;
    for (double x = -0.4; x <= 0.4; x += 0.02) {
      double t = outline_nearest(gum_line(&table), point(x, 1.6), NULL);
      wave[k] = fmax(wave[k], fabs(outline_at(gum_line(&table), t).y - 1.6));
    }
    g_assert_true(session_undo(table.session));
  }
  g_test_message("wave of 0.05 mm: %.3f left when strong, %.3f when off", wave[0], wave[1]);
  g_assert_cmpfloat(wave[0], <, 0.025);
  g_assert_cmpfloat(wave[1], >, 0.04);
  canvas_set_smoothing(table.canvas, 7);
  g_assert_cmpfloat(canvas_smoothing(table.canvas), ==, SMOOTHING_MOST_MM);
  canvas_set_smoothing(table.canvas, -1);
  g_assert_cmpfloat(smoothing_kept(), ==, 0);
  canvas_set_smoothing(table.canvas, 0.2);
  g_assert_cmpfloat_with_epsilon(smoothing_kept(), 0.2, 1e-9);
  g_assert_cmpstr(table.canvas->note, ==, "Smoothing 0.20 mm");
  preference_word_set("smoothing-mm", "much");
  g_assert_cmpfloat(smoothing_kept(), ==, stroke_settings_default().tolerance_mm);
  table_close(&table);
}

/* An arrow before the best outline is found changes nothing, and is taken: else it would move the
 * keyboard away from the drawing. */
static void test_early_arrow(void)
{
  Table table = table_open();
  canvas_set_tool(table.canvas, &tool_best);
  g_assert_true(session_best_shown(table.session));
  g_assert_false(session_best_ready(table.session));
  g_assert_true(tool_best.keyed(&table.canvas->hand, GDK_KEY_Right, false));
  g_assert_true(tool_best.keyed(&table.canvas->hand, GDK_KEY_Down, false));
  g_assert_false(tool_best.keyed(&table.canvas->hand, GDK_KEY_Right, true));
  g_assert_false(tool_best.keyed(&table.canvas->hand, GDK_KEY_Tab, false));
  g_assert_null(session_undo_name(table.session));
  table_close(&table);
}

int main(int argc, char *argv[])
{
  g_autofree char *home = g_dir_make_tmp("soffit-ink-XXXXXX", NULL);
  g_setenv("XDG_CONFIG_HOME", home, TRUE);
  on_screen();
  gtk_test_init(&argc, &argv, NULL);
  theme_start();
  g_test_add_func("/ink/blend", test_blend);
  g_test_add_func("/ink/less-motion", test_less_motion);
  g_test_add_func("/ink/cancel", test_cancel);
  g_test_add_func("/ink/picture stands", test_picture_stands);
  g_test_add_func("/ink/ends", test_ends);
  g_test_add_func("/ink/eraser", test_eraser);
  g_test_add_func("/ink/palm", test_palm);
  g_test_add_func("/ink/smoothing", test_smoothing);
  g_test_add_func("/ink/early-arrow", test_early_arrow);
  int status = g_test_run();
  g_autofree char *folder = g_build_filename(home, "soffit", NULL),
                  *file = g_build_filename(folder, "window.ini", NULL);
  g_remove(file);
  g_rmdir(folder);
  g_rmdir(home);
  return status;
}
