/* test_practice_motion.c - the school bench on a desktop that wants no motion: the crack sketch and
 * before/after show their end picture at once; with motion the crack grows.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Needs a display (xvfb-run); the real solver answers. */
#include "ui/canvas/canvas_private.h"
#include "ui/practice/practice_page.h"
#include "ui/theme.h"
#include "ui/words.h"
#include "on_screen.h"
#include "wait_for.h"
#include <glib/gstdio.h>

#define PATIENCE_S 60

typedef struct {
  GtkWidget *window;
  SoffitPracticeDesk *desk;
  SoffitCanvas *canvas;
  GtkStack *pages;
} Bench;

static void motion_set(gboolean wanted)
{
  g_object_set(gtk_settings_get_default(), "gtk-enable-animations", wanted, NULL);
}

static GtkWidget *canvas_find(GtkWidget *widget)
{
  GtkWidget *found = SOFFIT_IS_CANVAS(widget) ? widget : NULL;
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child && !found;
       child = gtk_widget_get_next_sibling(child))
    found = canvas_find(child);
  return found;
}

/* 1.1, predicted: the start with its answer. */
static Bench bench_open(void)
{
  Bench b = {.window = gtk_window_new()};
  GtkWidget *page = practice_page_new(g_getenv("XDG_DATA_HOME"));
  b.desk = practice_page_desk(page);
  gtk_window_set_child(GTK_WINDOW(b.window), page);
  gtk_window_set_default_size(GTK_WINDOW(b.window), 1100, 700);
  gtk_window_present(GTK_WINDOW(b.window));
  g_assert_true(practice_desk_open(b.desk, "1.1"));
  practice_desk_set_cross(b.desk, 0, point(0, 2.5));
  practice_desk_set_guess(b.desk, 50);
  practice_desk_go(b.desk, PRACTICE_SEE);
  b.canvas = SOFFIT_CANVAS(canvas_find(page));
  b.pages = GTK_STACK(gtk_widget_get_ancestor(GTK_WIDGET(b.canvas), GTK_TYPE_STACK));
  WAIT_FOR(practice_desk_start(b.desk) && session_assessment(practice_desk_session(b.desk)) &&
               gtk_widget_get_mapped(GTK_WIDGET(b.canvas)),
           PATIENCE_S);
  return b;
}

static void bench_close(Bench *b)
{
  gtk_window_destroy(GTK_WINDOW(b->window));
  while (g_main_context_iteration(NULL, FALSE))
    ;
}

/* The frames that are drawn from now on. */
static void frames_wait(const Bench *b, int frames)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock(GTK_WIDGET(b->canvas));
  gint64 until = gdk_frame_clock_get_frame_counter(clock) + frames;
  gtk_widget_queue_draw(GTK_WIDGET(b->canvas));
  WAIT_FOR((gtk_widget_queue_draw(GTK_WIDGET(b->canvas)),
            gdk_frame_clock_get_frame_counter(clock) >= until),
           PATIENCE_S);
}

static void test_crack_still(void)
{
  motion_set(FALSE);
  Bench b = bench_open();
  g_assert_cmpuint(b.canvas->crack.n, ==, 0);
  practice_desk_set_cracking(b.desk, true); /* no turn of the main loop in between */
  g_assert_cmpuint(b.canvas->crack.n, >, 10);
  g_assert_cmpfloat(b.canvas->crack_share, ==, 1);
  size_t n = b.canvas->crack.n;
  frames_wait(&b, 3);
  g_assert_cmpfloat(b.canvas->crack_share, ==, 1);
  g_assert_cmpuint(b.canvas->crack.n, ==, n);
  /* More load: the way is another's, and whole again. */
  const Assessment *before = session_assessment(practice_desk_session(b.desk));
  practice_desk_set_load(b.desk, 900);
  WAIT_FOR(session_assessment(practice_desk_session(b.desk)) != before, PATIENCE_S);
  g_assert_true(practice_desk_cracking(b.desk));
  g_assert_cmpfloat(b.canvas->crack_share, ==, 1);
  practice_desk_set_cracking(b.desk, false);
  g_assert_cmpuint(b.canvas->crack.n, ==, 0);
  bench_close(&b);
}

static void test_crack_moves(void)
{
  motion_set(TRUE);
  Bench b = bench_open();
  practice_desk_set_cracking(b.desk, true);
  g_assert_cmpfloat(b.canvas->crack_share, <, 0.05);
  WAIT_FOR(b.canvas->crack_share > 0.02, PATIENCE_S);
  double share = b.canvas->crack_share;
  if (share < 1) /* else a very slow machine has drawn two frames in four seconds */
    WAIT_FOR(b.canvas->crack_share > share, PATIENCE_S);
  practice_desk_set_cracking(b.desk, false);
  frames_wait(&b, 2);
  g_assert_cmpuint(b.canvas->crack.n, ==, 0); /* the slow motion ended with it */
  bench_close(&b);
}

/* Start and mine on one drawing: there with the key, no page slides in. */
static void test_before_after(void)
{
  motion_set(FALSE);
  Bench b = bench_open();
  practice_desk_go(b.desk, PRACTICE_REDRAW);
  practice_desk_hand_in(b.desk);
  WAIT_FOR(!practice_desk_busy(b.desk) && practice_desk_step(b.desk) == PRACTICE_COMPARE,
           PATIENCE_S);
  g_assert_cmpint(practice_desk_fault(b.desk), ==, FAULT_NONE);
  g_assert_cmpstr(gtk_stack_get_visible_child_name(b.pages), ==, "duo");
  practice_desk_set_swiping(b.desk, true);
  g_assert_cmpstr(gtk_stack_get_visible_child_name(b.pages), ==, "swipe");
  g_assert_false(gtk_stack_get_transition_running(b.pages));
  GtkWidget *swipe = gtk_stack_get_visible_child(b.pages);
  WAIT_FOR(gtk_widget_get_mapped(swipe) && gtk_widget_get_width(swipe) > 100, PATIENCE_S);
  g_assert_false(gtk_stack_get_transition_running(b.pages));
  practice_desk_set_swiping(b.desk, false);
  g_assert_cmpstr(gtk_stack_get_visible_child_name(b.pages), ==, "duo");
  bench_close(&b);
}

static void folder_remove(const char *path)
{
  g_autoptr(GDir) dir = g_dir_open(path, 0, NULL);
  for (const char *name = dir ? g_dir_read_name(dir) : NULL; name; name = g_dir_read_name(dir)) {
    g_autofree char *below = g_build_filename(path, name, NULL);
    folder_remove(below);
  }
  g_remove(path);
}

int main(int argc, char *argv[])
{
  g_autofree char *home = g_dir_make_tmp("soffit-motion-XXXXXX", NULL);
  g_setenv("XDG_CONFIG_HOME", home, TRUE);
  g_setenv("XDG_DATA_HOME", home, TRUE);
  on_screen();
  gtk_test_init(&argc, &argv, NULL);
  words_start();
  theme_start();
  g_test_add_func("/practice_motion/crack-still", test_crack_still);
  g_test_add_func("/practice_motion/crack-moves", test_crack_moves);
  g_test_add_func("/practice_motion/before-after", test_before_after);
  int status = g_test_run();
  folder_remove(home);
  return status;
}
