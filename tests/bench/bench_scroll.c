/* bench_scroll.c - frames while the queue of a large lab scrolls.  Usage: bench_scroll FOLDER
 * rows|table, on an X display. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Every case of the folder is shown as judged: some are, the others take their answers by way of
 * the cache, so that nothing works beside the window.  Work of a frame is processor time of the
 * window's own thread: 50 frames a second leave 20 ms.  Frame to frame is the clock's. */
#include "lab/lab_cache.h"
#include "lab/lab_pool.h"
#include "ui/review/lab_round.h"
#include "ui/review/review_page.h"
#include "ui/theme.h"
#include "timing.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define JUDGED 60 /* cases that are really assessed */
#define FRAMES 400
#define ROWS 3 /* that go by in a frame */
#define MOST_S 120

typedef struct {
  GtkWidget *page, *list;
  GtkAdjustment *adjustment;
  double work[FRAMES], gap[FRAMES];
  guint n;
  double before, step, from;
  gint64 last;
} Bench;

/* ---- a lab that is judged already ---- */

typedef struct {
  GMutex lock;
  GPtrArray *row;
} Rows;

static void row_done(LabRow *row, guint64 number, void *data)
{
  Rows *rows = data;
  (void)number;
  g_mutex_lock(&rows->lock);
  g_ptr_array_add(rows->row, row);
  g_mutex_unlock(&rows->lock);
}

static void text_take(char **text, const char *fresh)
{
  g_free(*text);
  *text = g_strdup(fresh);
}

static LabRow *row_for(const LabFile *file, const LabRow *like)
{
  LabRow *row = lab_row_copy(like);
  g_autofree char *number = g_strndup(file->name, strcspn(file->name, "."));
  text_take(&row->file, file->name);
  text_take(&row->number, number);
  row->changed_us = file->changed_us;
  row->size = file->size;
  row->read_us = g_get_real_time();
  return row;
}

static void cache_fill(const char *folder)
{
  g_autofree char *trouble = NULL, *path = lab_cache_path(NULL, folder);
  g_autoptr(LabList) list = lab_list_new(folder, NULL);
  g_autoptr(Lab) lab = lab_new(folder, &trouble);
  g_autoptr(GPtrArray) all = g_ptr_array_new_with_free_func((GDestroyNotify)lab_row_free);
  Rows rows = {.row = g_ptr_array_new_with_free_func((GDestroyNotify)lab_row_free)};
  g_mutex_init(&rows.lock);
  LabPool *pool = lab_pool_new(lab, 0, NULL, row_done, &rows);
  for (guint i = 0; i < list->file->len && i < JUDGED; i++)
    lab_pool_ask(pool, g_array_index(list->file, LabFile, i).name, LAB_ASSESS, URGENCY_DRAWN);
  lab_pool_wait(pool);
  lab_pool_free(pool);
  for (guint i = 0; i < list->file->len; i++)
    g_ptr_array_add(all, row_for(&g_array_index(list->file, LabFile, i),
                                 rows.row->pdata[i * 7 % rows.row->len]));
  g_autoptr(GBytes) packed = lab_cache_pack(all, lab);
  if (!lab_cache_save(path, packed, NULL))
    exit(1);
  g_ptr_array_unref(rows.row);
  g_mutex_clear(&rows.lock);
}

/* ---- scrolling ---- */

static void tell(const char *view, const char *what, double *value, guint n)
{
  qsort(value, n, sizeof *value, timing_order);
  printf("%-6s %-18s median %6.1f ms, 95 of 100 below %6.1f, largest %6.1f (%u)\n", view, what,
         value[n / 2], value[n * 95 / 100], value[n - 1], n);
}

/* The list that shows the queue: a menu has lists too. */
static GtkWidget *list_find(GtkWidget *top)
{
  if (gtk_widget_has_css_class(top, "queue"))
    return top;
  for (GtkWidget *child = gtk_widget_get_first_child(top); child;
       child = gtk_widget_get_next_sibling(child)) {
    GtkWidget *found = list_find(child);
    if (found && gtk_widget_get_mapped(found))
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
  if (b->last) {
    b->gap[b->n] = 1e-3 * (double)(now - b->last);
    b->work[b->n++] = work - b->before;
  }
  b->last = now;
  b->before = work;
  gtk_adjustment_set_value(b->adjustment, gtk_adjustment_get_value(b->adjustment) + b->step);
  return b->n < FRAMES;
}

static gboolean wake_up(void *data)
{
  (void)data;
  return G_SOURCE_CONTINUE;
}

typedef bool (*Wanted)(Bench *bench);

static void wait_for(Bench *b, Wanted wanted)
{
  gint64 end = g_get_monotonic_time() + MOST_S * G_USEC_PER_SEC;
  while (!wanted(b) && g_get_monotonic_time() < end)
    g_main_context_iteration(NULL, TRUE);
  if (!wanted(b))
    exit(1);
}

static bool rows_there(Bench *b)
{
  SoffitReviewDesk *desk = review_page_desk(SOFFIT_REVIEW_PAGE(b->page));
  LabProgress p = lab_desk_progress(review_desk_lab(desk));
  const Evidence *e = review_desk_evidence(desk);
  return p.over && p.files > 0 && e && (e->unread || e->stage == EVIDENCE_WHOLE);
}

static bool list_there(Bench *b)
{
  b->list = list_find(b->page);
  return b->list && gtk_widget_get_height(b->list) > 1;
}

static bool scrolled(Bench *b)
{
  return b->n == FRAMES;
}

int main(int argc, char **argv)
{
  if (argc < 3)
    return 2;
  bool table = strcmp(argv[2], "table") == 0;
  gtk_init();
  theme_start();
  cache_fill(argv[1]);
  GtkWidget *window = gtk_window_new();
  Bench b = {.page = review_page_new()};
  SoffitReviewDesk *desk = review_page_desk(SOFFIT_REVIEW_PAGE(b.page));
  QueueView view = {.waiting = false};
  guint tick = g_timeout_add(5, wake_up, NULL);
  gtk_widget_add_css_class(window, "soffit");
  gtk_window_set_default_size(GTK_WINDOW(window), 1440, 852);
  gtk_window_set_child(GTK_WINDOW(window), b.page);
  gtk_window_present(GTK_WINDOW(window));
  queue_set_view(review_desk_queue(desk), &view);
  review_page_open(SOFFIT_REVIEW_PAGE(b.page), argv[1]);
  wait_for(&b, rows_there);
  if (table)
    gtk_widget_activate_action(b.page, "review.table", NULL);
  wait_for(&b, list_there);
  guint n = g_list_model_get_n_items(G_LIST_MODEL(review_desk_queue(desk)));
  b.adjustment = gtk_scrollable_get_vadjustment(GTK_SCROLLABLE(b.list));
  b.from = gtk_adjustment_get_value(b.adjustment);
  b.step = ROWS * gtk_adjustment_get_upper(b.adjustment) / n;
  gtk_widget_add_tick_callback(b.page, scroll_on, &b, NULL);
  wait_for(&b, scrolled);
  double went = gtk_adjustment_get_value(b.adjustment) - b.from;
  printf("%-6s %u rows of %.0f px, %.0f rows went by\n", argv[2], n, b.step / ROWS,
         went * ROWS / b.step);
  tell(argv[2], "work of a frame", b.work, b.n);
  tell(argv[2], "frame to frame", b.gap, b.n);
  g_source_remove(tick);
  gtk_window_destroy(GTK_WINDOW(window));
  lab_rounds_over(5000);
  return went > FRAMES ? 0 : 1;
}
