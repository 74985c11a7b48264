/* bench_ink.c - from the pen's event to the end of the frame that shows it, in the real window.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Needs an X display of its own (bench_ink.py starts one) and xdotool, which draws a stroke of
 * STROKE_MS at PEN_HZ.  Event times are the X server's, on the same clock as g_get_monotonic_time.
 * A frame counts as shown at its presentation time where the display tells one, else when its
 * buffers were swapped.  Every report of the pen counts, those that GTK gathers into one event
 * too. */
#include "timing.h"
#include "ui/canvas/canvas.h"
#include "ui/focus_ring.h"
#include "ui/theme.h"
#include "ui/window.h"
#include <math.h>
#include <stdio.h>
#include <time.h>
#include <unistd.h>

#define PEN_HZ 120
#define STROKE_MS 2500
#define REST_MS 3500 /* until the demo case has been assessed */
#define STILL 60     /* frames of a window in which one small sign changes */
#define MOST 4096

typedef struct {
  GtkApplication *application;
  SoffitWindow *window;
  const char *name;
  int width, height;
  double latency[MOST], gap[MOST], work[MOST]; /* ms; work: of the window's own thread in a frame */
  size_t n, n_gap, frames, dropped, presented, answers; /* answers: of the field, while drawn */
  guint waiting[MOST]; /* ms of the server, reports of the frame in work */
  size_t n_waiting;
  gint64 last_frame;
  double last_work;
  bool drawing;
  int still; /* frames to go */
  gint64 still_start;
  double still_work;
} Bench;

static void answered(Bench *bench)
{
  bench->answers += bench->drawing;
}

static gboolean heard(GtkEventControllerLegacy *controller, GdkEvent *event, Bench *bench)
{
  (void)controller;
  GdkEventType type = gdk_event_get_event_type(event);
  if (type == GDK_BUTTON_PRESS)
    bench->drawing = true;
  if (type == GDK_BUTTON_RELEASE)
    bench->drawing = false;
  if (type != GDK_MOTION_NOTIFY || !bench->drawing)
    return FALSE;
  guint n = 0;
  g_autofree GdkTimeCoord *history = gdk_event_get_history(event, &n);
  for (guint i = 0; i < n && bench->n_waiting < MOST; i++)
    bench->waiting[bench->n_waiting++] = history[i].time;
  if (bench->n_waiting < MOST)
    bench->waiting[bench->n_waiting++] = gdk_event_get_time(event);
  return FALSE;
}

/* Processor time of this thread, ms: what other programs do does not count. */
static double worked(void)
{
  struct timespec t;
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return 1e3 * (double)t.tv_sec + 1e-6 * (double)t.tv_nsec;
}

static void painted(GdkFrameClock *clock, Bench *bench)
{
  gint64 now = g_get_monotonic_time(), refresh = 16667, shown = 0;
  gdk_frame_clock_get_refresh_info(clock, 0, &refresh, NULL);
  GdkFrameTimings *timings = gdk_frame_clock_get_current_timings(clock);
  if (timings && gdk_frame_timings_get_complete(timings))
    shown = gdk_frame_timings_get_presentation_time(timings);
  bench->presented += shown > 0;
  for (size_t i = 0; i < bench->n_waiting && bench->n < MOST; i++)
    bench->latency[bench->n++] =
        (double)(guint32)((guint32)((shown > 0 ? shown : now) / 1000) - bench->waiting[i]);
  if (bench->n_waiting > 0) {
    if (bench->last_frame > 0 && bench->n_gap < MOST) {
      double gap = (double)(now - bench->last_frame) / 1000;
      bench->work[bench->n_gap] = worked() - bench->last_work;
      bench->gap[bench->n_gap++] = gap;
      bench->dropped += (size_t)fmax(0, round(gap * 1000 / (double)refresh) - 1);
    }
    bench->frames++;
    bench->last_frame = now;
    bench->last_work = worked();
  }
  bench->n_waiting = 0;
}

static double share(double value[], size_t n, double part)
{
  return n == 0 ? NAN : value[(size_t)fmin((double)n - 1, part * (double)n)];
}

static void report(Bench *bench)
{
  qsort(bench->latency, bench->n, sizeof(double), timing_order);
  qsort(bench->work, bench->n_gap, sizeof(double), timing_order);
  qsort(bench->gap, bench->n_gap, sizeof(double), timing_order);
  printf("%-22s reports %4zu  p50 %5.0f ms  p95 %5.0f ms  most %5.0f ms | frames %4zu  apart p50 "
         "%5.1f ms  p95 %5.1f ms  dropped %3zu | own thread p50 %4.1f ms  p95 %4.1f ms | field "
         "%4.1f a second | %s\n",
         bench->name, bench->n, share(bench->latency, bench->n, 0.5),
         share(bench->latency, bench->n, 0.95), share(bench->latency, bench->n, 1), bench->frames,
         share(bench->gap, bench->n_gap, 0.5), share(bench->gap, bench->n_gap, 0.95),
         bench->dropped, share(bench->work, bench->n_gap, 0.5),
         share(bench->work, bench->n_gap, 0.95), 1e3 * (double)bench->answers / STROKE_MS,
         bench->presented ? "presentation times" : "buffers swapped");
}

static GtkWidget *canvas_of(GtkWidget *widget)
{
  if (SOFFIT_IS_CANVAS(widget))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
       child = gtk_widget_get_next_sibling(child)) {
    GtkWidget *found = canvas_of(child);
    if (found)
      return found;
  }
  return NULL;
}

static void drawn(GObject *process, GAsyncResult *result, void *data)
{
  Bench *bench = data;
  g_subprocess_wait_finish(G_SUBPROCESS(process), result, NULL);
  report(bench);
  fflush(stdout);
  _exit(0); /* measured; threads may still solve */
}

/* A hand that draws a rounder roof from foot to foot. */
static void draw(Bench *bench)
{
  GtkWidget *canvas = canvas_of(GTK_WIDGET(bench->window));
  double x0, y0, native_x, native_y;
  gtk_widget_translate_coordinates(canvas, GTK_WIDGET(bench->window), 0, 0, &x0, &y0);
  gtk_native_get_surface_transform(GTK_NATIVE(bench->window), &native_x, &native_y);
  double width = gtk_widget_get_width(canvas), height = gtk_widget_get_height(canvas);
  int n = PEN_HZ * STROKE_MS / 1000;
  g_autoptr(GPtrArray) words = g_ptr_array_new_with_free_func(g_free);
  g_ptr_array_add(words, g_strdup("xdotool"));
  for (int i = 0; i <= n; i++) {
    double u = 2.0 * i / n - 1, fast = 1 - pow(fabs(u), 6);
    double x = x0 + native_x + width * (0.5 + 0.13 * u),
           y = y0 + native_y + height * (0.86 - 0.45 * fast);
    g_ptr_array_add(words, g_strdup("mousemove"));
    g_ptr_array_add(words, g_strdup_printf("%d", (int)x));
    g_ptr_array_add(words, g_strdup_printf("%d", (int)y));
    if (i == 0) {
      g_ptr_array_add(words, g_strdup("mousedown"));
      g_ptr_array_add(words, g_strdup("1"));
    }
    g_ptr_array_add(words, g_strdup("sleep"));
    g_ptr_array_add(words, g_strdup_printf("%.4f", 1.0 / PEN_HZ));
  }
  g_ptr_array_add(words, g_strdup("mouseup"));
  g_ptr_array_add(words, g_strdup("1"));
  g_ptr_array_add(words, NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(GSubprocess) hand = g_subprocess_newv((const char *const *)words->pdata,
                                                  G_SUBPROCESS_FLAGS_STDOUT_SILENCE, &error);
  if (!hand)
    g_error("%s", error->message);
  g_subprocess_wait_async(hand, NULL, drawn, bench);
}

/* What a frame costs on this machine when next to nothing changes. */
static gboolean still(GtkWidget *canvas, GdkFrameClock *clock, void *data)
{
  (void)clock;
  Bench *bench = data;
  if (bench->still == STILL) {
    bench->still_start = g_get_monotonic_time();
    bench->still_work = worked();
  }
  gtk_widget_set_opacity(gtk_widget_get_first_child(gtk_widget_get_first_child(canvas)),
                         bench->still % 2 ? 0.9 : 1);
  if (bench->still-- > 0)
    return G_SOURCE_CONTINUE;
  printf("%-22s unchanged window: frames apart %5.1f ms, own thread %4.1f ms\n", bench->name,
         milliseconds_since(bench->still_start) / STILL, (worked() - bench->still_work) / STILL);
  draw(bench);
  return G_SOURCE_REMOVE;
}

static gboolean rested(void *data)
{
  Bench *bench = data;
  bench->still = STILL;
  gtk_widget_add_tick_callback(canvas_of(GTK_WIDGET(bench->window)), still, bench, NULL);
  return G_SOURCE_REMOVE;
}

static void activate(GtkApplication *application, Bench *bench)
{
  theme_start();
  bench->window = window_new(application);
  /* Without a compositor GTK draws its frame as two shadows over the whole window, which costs
   * software GL several frames; no desktop of today shows that frame. */
  gtk_window_set_decorated(GTK_WINDOW(bench->window), FALSE);
  if (bench->width > 0)
    gtk_window_set_default_size(GTK_WINDOW(bench->window), bench->width, bench->height);
  gtk_window_present(GTK_WINDOW(bench->window));
  window_open_demo(bench->window, "demo/QB-02.xml");
  GtkEventController *ear = gtk_event_controller_legacy_new();
  gtk_event_controller_set_propagation_phase(ear, GTK_PHASE_CAPTURE);
  g_signal_connect(ear, "event", G_CALLBACK(heard), bench);
  gtk_widget_add_controller(GTK_WIDGET(bench->window), ear);
  g_signal_connect_after(gtk_widget_get_frame_clock(GTK_WIDGET(bench->window)), "after-paint",
                         G_CALLBACK(painted), bench);
  g_signal_connect_swapped(window_session(bench->window), "assessment-changed",
                           G_CALLBACK(answered), bench);
  g_timeout_add(REST_MS, rested, bench);
}

int main(int argc, char *argv[])
{
  static Bench bench;
  bench.name = argc > 1 ? argv[1] : "stroke";
  if (argc > 1 && sscanf(argv[1], "%dx%d", &bench.width, &bench.height) != 2)
    bench.width = bench.height = 0;
  bench.application = gtk_application_new(NULL, G_APPLICATION_NON_UNIQUE);
  g_signal_connect(bench.application, "activate", G_CALLBACK(activate), &bench);
  int status = g_application_run(G_APPLICATION(bench.application), 0, NULL);
  g_object_unref(bench.application);
  return status;
}
