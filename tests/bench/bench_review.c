/* bench_review.c - the Review workspace over a large lab: frames of scrolling, time to evidence.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Usage: bench_review FOLDER [jumps], on an X display; jumps: the time from choosing any case to
 * its weakest connector on the screen, shaded, and nothing else. Frame work is processor time of
 * the window's own thread, so that other programs do not count: 50 frames a second leave 20 ms.
 * Evidence: wall clock. */
#include "ui/review/lab_round.h"
#include "ui/review/review_page.h"
#include "ui/theme.h"
#include "timing.h"
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#define FRAMES 240
#define STEP_PX 240.0 /* three rows a frame */
#define CASES 40
#define MOST_S 120

typedef struct {
  GtkWidget *window, *page;
  GtkAdjustment *adjustment;
  double work[FRAMES], gap[FRAMES];
  guint n;
  double before;
  gint64 last, seen;
} Bench;

static void tell(const char *what, double *value, guint n)
{
  qsort(value, n, sizeof *value, timing_order);
  printf("%-34s median %6.1f ms, 95 of 100 below %6.1f, largest %6.1f (%u)\n", what, value[n / 2],
         value[n * 95 / 100], value[n - 1], n);
}

static GtkWidget *find(GtkWidget *top, GType type)
{
  if (G_TYPE_CHECK_INSTANCE_TYPE(top, type))
    return top;
  for (GtkWidget *child = gtk_widget_get_first_child(top); child;
       child = gtk_widget_get_next_sibling(child)) {
    GtkWidget *found = find(child, type);
    if (found)
      return found;
  }
  return NULL;
}

static gboolean scroll_on(GtkWidget *widget, GdkFrameClock *clock, void *data)
{
  (void)widget, (void)clock;
  Bench *b = data;
  gint64 now = g_get_monotonic_time();
  double work = thread_ms();
  if (b->n < FRAMES && b->last) {
    b->gap[b->n] = 1e-3 * (double)(now - b->last);
    b->work[b->n++] = work - b->before;
  }
  b->last = now;
  b->before = work;
  gtk_adjustment_set_value(b->adjustment, gtk_adjustment_get_value(b->adjustment) + STEP_PX);
  return b->n < FRAMES;
}

static gboolean wake_up(void *data)
{
  (void)data;
  return G_SOURCE_CONTINUE;
}

typedef bool (*Wanted)(SoffitReviewDesk *desk, Bench *bench);

static void wait_for(Bench *b, Wanted wanted)
{
  SoffitReviewDesk *desk = review_page_desk(SOFFIT_REVIEW_PAGE(b->page));
  gint64 end = g_get_monotonic_time() + MOST_S * G_USEC_PER_SEC;
  while (!wanted(desk, b) && g_get_monotonic_time() < end)
    g_main_context_iteration(NULL, TRUE);
}

static bool rows_there(SoffitReviewDesk *desk, Bench *b)
{
  (void)b;
  return lab_desk_progress(review_desk_lab(desk)).listed;
}

static bool rows_read(SoffitReviewDesk *desk, Bench *b)
{
  (void)b;
  LabProgress p = lab_desk_progress(review_desk_lab(desk));
  return p.listed && p.read + p.unreadable == p.files;
}

static bool scrolled(SoffitReviewDesk *desk, Bench *b)
{
  (void)desk;
  return b->n == FRAMES;
}

static bool rows_judged(SoffitReviewDesk *desk, Bench *b)
{
  (void)b;
  return lab_desk_progress(review_desk_lab(desk)).over;
}

/* The picture of the weakest connector is on the screen, shaded. */
static bool evidence_seen(SoffitReviewDesk *desk, Bench *b)
{
  (void)desk;
  return b->seen > 0;
}

static void frame_painted(GdkFrameClock *clock, Bench *b)
{
  (void)clock;
  SoffitReviewDesk *desk = review_page_desk(SOFFIT_REVIEW_PAGE(b->page));
  const Evidence *e = review_desk_evidence(desk);
  size_t k = review_desk_connector(desk);
  bool shaded = evidence_of_connector(e, k) != NULL;
  if (!b->seen && e && (e->unread || shaded))
    b->seen = g_get_monotonic_time();
}

static bool evidence_whole(SoffitReviewDesk *desk, Bench *b)
{
  (void)b;
  const Evidence *e = review_desk_evidence(desk);
  return e && (e->unread || e->stage == EVIDENCE_WHOLE);
}

static void pause_ms(int ms)
{
  gint64 until = g_get_monotonic_time() + 1000 * (gint64)ms;
  while (g_get_monotonic_time() < until)
    g_main_context_iteration(NULL, TRUE);
}

/* ahead: one after the other, each read to its end; else anywhere, on before the rest is there. */
static void evidence_time(Bench *b, bool ahead)
{
  SoffitReviewDesk *desk = review_page_desk(SOFFIT_REVIEW_PAGE(b->page));
  GListModel *rows = G_LIST_MODEL(review_desk_queue(desk));
  guint n = g_list_model_get_n_items(rows);
  double ms[CASES];
  for (guint i = 0; i < CASES; i++) {
    guint at = ahead ? i : (i * 7919 + 17) % n;
    g_autoptr(SoffitLabItem) item = g_list_model_get_item(rows, at);
    gint64 start = g_get_monotonic_time();
    b->seen = 0;
    review_desk_select(desk, lab_item_row(item)->file);
    wait_for(b, evidence_seen);
    ms[i] = 1e-3 * (double)(b->seen - start);
    if (ahead)
      wait_for(b, evidence_whole); /* the next one is made meanwhile */
    pause_ms(ahead ? 400 : 150);
  }
  tell(ahead ? "next case to its evidence" : "any case to its evidence", ms, CASES);
}

static void scroll_time(Bench *b)
{
  b->adjustment = gtk_scrollable_get_vadjustment(GTK_SCROLLABLE(find(b->page, GTK_TYPE_LIST_VIEW)));
  gtk_widget_add_tick_callback(b->page, scroll_on, b, NULL);
  wait_for(b, scrolled);
  tell("work of a frame, scrolling", b->work, b->n);
  tell("frame to frame, scrolling", b->gap, b->n);
}

int main(int argc, char **argv)
{
  if (argc < 2)
    return 2;
  gtk_init();
  theme_start();
  Bench b = {.window = gtk_window_new(), .page = review_page_new()};
  SoffitReviewDesk *desk = review_page_desk(SOFFIT_REVIEW_PAGE(b.page));
  QueueView view = {.waiting = false};
  guint tick = g_timeout_add(5, wake_up, NULL);
  gtk_widget_add_css_class(b.window, "soffit");
  gtk_window_set_default_size(GTK_WINDOW(b.window), 1440, 852);
  gtk_window_set_child(GTK_WINDOW(b.window), b.page);
  gtk_window_present(GTK_WINDOW(b.window));
  queue_set_view(review_desk_queue(desk), &view);
  gint64 start = g_get_monotonic_time();
  review_page_open(SOFFIT_REVIEW_PAGE(b.page), argv[1]);
  wait_for(&b, rows_there);
  printf("%-34s %6.0f ms\n", "names in the list", 1e-3 * (double)(g_get_monotonic_time() - start));
  wait_for(&b, rows_read);
  printf("%-34s %6.0f ms, %u rows\n", "all rows read",
         1e-3 * (double)(g_get_monotonic_time() - start),
         g_list_model_get_n_items(G_LIST_MODEL(review_desk_queue(desk))));
  bool jumps = argc > 2;
  if (jumps)
    wait_for(&b, rows_judged);
  else
    scroll_time(&b);
  g_signal_connect(gtk_widget_get_frame_clock(b.page), "after-paint", G_CALLBACK(frame_painted),
                   &b);
  if (!jumps)
    evidence_time(&b, true);
  evidence_time(&b, false);
  g_source_remove(tick);
  gtk_window_destroy(GTK_WINDOW(b.window));
  lab_rounds_over(5000);
  return 0;
}
