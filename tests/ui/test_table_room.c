/* test_table_room.c - the drawing table in windows of several sizes: words and plates of the
 * drawing keep clear of everything that floats over it. SPDX-License-Identifier: GPL-3.0-or-later
 *
 * px.  Needs a display (xvfb-run).  The session answers with the invented assessment. */
#include "fake_assessment.h"
#include "ui/canvas/canvas_private.h"
#include "ui/preferences.h"
#include "ui/theme.h"
#include "ui/trace/trace_page.h"
#include "on_screen.h"
#include "wait_for.h"
#include <glib/gstdio.h>
#include <math.h>

#define PATIENCE_S 20
#define OF_DRAWING 6 /* places: hot spot, cutter, room, two feet, embrasure */
#define MORE (LAYER_SIZES | LAYER_READING | LAYER_ENVELOPE | LAYER_COMB | LAYER_FLOW)

static Fault run_fake(Assessor *assessor, const Case *c, const AssessSettings *settings,
                      Assessment **result)
{
  (void)assessor, (void)c, (void)settings;
  *result = fake_assessment_new();
  return FAULT_NONE;
}

typedef struct {
  SoffitSession *session;
  GtkWidget *window, *page;
  SoffitCanvas *canvas;
} Table;

static void settle(Table *table)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock(table->page);
  gint64 until = gdk_frame_clock_get_frame_counter(clock) + 6;
  gtk_widget_queue_resize(table->page);
  gtk_widget_queue_draw(GTK_WIDGET(table->canvas));
  WAIT_FOR((gtk_widget_queue_draw(GTK_WIDGET(table->canvas)),
            gdk_frame_clock_get_frame_counter(clock) >= until),
           PATIENCE_S);
}

static Table table_open(int width, int height)
{
  Table table = {.session = session_new("", run_fake)};
  Assessment *a = fake_assessment_new();
  g_autoptr(GError) error = NULL;
  session_start(table.session, &a->c, &error);
  g_assert_no_error(error);
  fake_assessment_free(a);
  table.window = gtk_window_new();
  table.page = trace_page_new(table.session);
  table.canvas = SOFFIT_CANVAS(trace_page_canvas(SOFFIT_TRACE_PAGE(table.page)));
  gtk_window_set_decorated(GTK_WINDOW(table.window), FALSE);
  gtk_window_set_child(GTK_WINDOW(table.window), table.page);
  gtk_window_set_default_size(GTK_WINDOW(table.window), width, height);
  gtk_window_present(GTK_WINDOW(table.window));
  WAIT_FOR(session_assessment(table.session) && gtk_widget_get_mapped(GTK_WIDGET(table.canvas)),
           PATIENCE_S);
  session_set_focus(table.session, 1);
  settle(&table);
  g_assert_cmpint(gtk_widget_get_width(table.page), ==, width);
  return table;
}

static void table_close(Table *table)
{
  gtk_window_destroy(GTK_WINDOW(table->window));
  g_object_unref(table->session);
}

/* What is shown over the drawing, wherever it hangs in the tree. */
static size_t floating(GtkWidget *widget, GtkWidget *canvas, Box box[], size_t n, size_t most)
{
  graphene_rect_t at;
  if (gtk_widget_get_mapped(widget) && gtk_widget_has_css_class(widget, "floating") && n < most &&
      gtk_widget_compute_bounds(widget, canvas, &at))
    box[n++] = (Box){at.origin.x, at.origin.y, at.size.width, at.size.height};
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
       child = gtk_widget_get_next_sibling(child))
    n = floating(child, canvas, box, n, most);
  return n;
}

static bool same(Box a, Box b)
{
  return fabs(a.x - b.x) < 0.5 && fabs(a.y - b.y) < 0.5 && fabs(a.width - b.width) < 0.5 &&
         fabs(a.height - b.height) < 0.5;
}

static bool touch(Box a, Box b)
{
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

/* Words hide no part of the line that is drawn. */
static bool on_line(const Table *table, Box box)
{
  const Outline *line = hand_outline(&table->canvas->hand);
  for (int i = 0; i <= 200; i++) {
    Point p =
        view_px(table->canvas->hand.view, outline_at(line, (double)outline_pieces(line) * i / 200));
    if (p.x > box.x && p.x < box.x + box.width && p.y > box.y && p.y < box.y + box.height)
      return true;
  }
  return false;
}

/* The embrasure itself may lie below a plate: it is where it is.  Words and plates of the drawing,
 * which come after, may not. */
static void look(Table *table, size_t least_floating, size_t least_words)
{
  Box over[8];
  size_t n = floating(table->page, GTK_WIDGET(table->canvas), over, 0, G_N_ELEMENTS(over)),
         words = 0;
  const Places *taken = &table->canvas->taken;
  g_assert_cmpuint(n, >=, least_floating);
  size_t own = 0;
  for (size_t i = 0; i < taken->n; i++)
    for (size_t k = 0; k < n; k++)
      own += same(taken->taken[i], over[k]);
  g_assert_cmpuint(own, ==, n); /* the drawing knows each as it lies */
  Box bounds = taken->bounds;
  for (size_t i = own + OF_DRAWING; i < taken->n; i++) {
    Box word = taken->taken[i];
    words++;
    if (on_line(table, word))
      g_error("words at %.0f, %.0f (%.0f x %.0f) lie on the line", word.x, word.y, word.width,
              word.height);
    g_assert_true(word.x >= bounds.x && word.x + word.width <= bounds.x + bounds.width);
    for (size_t k = 0; k < n; k++)
      if (touch(word, over[k]))
        g_error("words at %.0f, %.0f (%.0f x %.0f) lie below a plate at %.0f, %.0f (%.0f x %.0f)",
                word.x, word.y, word.width, word.height, over[k].x, over[k].y, over[k].width,
                over[k].height);
  }
  g_assert_cmpuint(words, >=, least_words);
}

static void test_clear(void)
{
  static const struct {
    int width, height;

  } size[] = {{900, 596}, {1100, 652}, {1240, 720}, {1440, 852}, {2560, 1392}};
  for (size_t i = 0; i < G_N_ELEMENTS(size); i++) {
    g_test_message("%d x %d", size[i].width, size[i].height);
    Table table = table_open(size[i].width, size[i].height);
    look(&table, size[i].height < 732 ? 3 : 1, 3);
    table.canvas->layers |= MORE;
    canvas_invalidate(table.canvas);
    settle(&table);
    look(&table, size[i].height < 732 ? 3 : 1, 3);
    table_close(&table);
  }
}

/* Tools are as large as the text, where there is room, and lie on no plate; the words of a walk can
 * be read. */
static void test_large_text(void)
{
  static const struct {
    const char *font;
    int width, height, least, most; /* of a button */
  } size[] = {{"Noto Sans 11", 1440, 852, 44, 44}, {"Noto Sans 16", 1100, 652, 44, 44},
              {"Noto Sans 22", 1100, 636, 44, 44}, {"Noto Sans 16", 1440, 852, 48, 63},
              {"Noto Sans 22", 1440, 852, 44, 71}, {"Noto Sans 22", 2560, 1392, 66, 71}};
  g_autofree char *usual = NULL;
  g_object_get(gtk_settings_get_default(), "gtk-font-name", &usual, NULL);
  for (size_t i = 0; i < G_N_ELEMENTS(size); i++) {
    g_object_set(gtk_settings_get_default(), "gtk-font-name", size[i].font, NULL);
    Table table = table_open(size[i].width, size[i].height);
    GtkWidget *row = table.canvas->row, *button = gtk_widget_get_first_child(row);
    Box over[8];
    size_t n = floating(table.page, GTK_WIDGET(table.canvas), over, 0, G_N_ELEMENTS(over));
    for (size_t k = 0; k < n; k++)
      for (size_t j = 0; j < k; j++)
        g_assert_false(touch(over[k], over[j]));
    canvas_set_tool(table.canvas, &tool_walk);
    settle(&table);
    Box plate = table.canvas->told;
    g_assert_cmpfloat(plate.width, >, 0);
    g_assert_true(plate.x >= 0 && plate.y >= 0);
    g_assert_cmpfloat(plate.x + plate.width, <=, gtk_widget_get_width(GTK_WIDGET(table.canvas)));
    g_assert_cmpfloat(plate.y + plate.height, <=, gtk_widget_get_height(GTK_WIDGET(table.canvas)));
    for (size_t k = 0; k < n; k++)
      g_assert_false(touch(plate, over[k]));
    g_test_message("%s in %d x %d: %d px", size[i].font, size[i].width, size[i].height,
                   gtk_widget_get_width(button));
    g_assert_cmpint(gtk_widget_get_width(button), >=, size[i].least);
    g_assert_cmpint(gtk_widget_get_width(button), <=, size[i].most);
    g_assert_cmpint(gtk_widget_get_height(button), >=, gtk_widget_get_width(button));
    table_close(&table);
  }
  g_object_set(gtk_settings_get_default(), "gtk-font-name", usual, NULL);
}

/* Drawn at the size before firing, the feet stay where they are, in sight. */
static void test_soft(void)
{
  Table table = table_open(2560, 1392);
  View fired = table.canvas->hand.view;
  double gum = view_px(fired, point(0, 0)).y,
         enlargement = session_case(table.session)->enlargement;
  g_assert_cmpfloat(enlargement, >, 1);
  g_assert_true(canvas_soft(table.canvas, true));
  View soft = table.canvas->hand.view;
  g_assert_cmpfloat_with_epsilon(soft.scale, fired.scale * enlargement, 1e-9 * fired.scale);
  g_assert_cmpfloat_with_epsilon(view_px(soft, point(0, 0)).y, gum, 1e-6);
  g_assert_true(canvas_soft(table.canvas, false));
  g_assert_cmpfloat_with_epsilon(view_px(table.canvas->hand.view, point(0, 0)).y, gum, 1e-6);
  table_close(&table);
}

int main(int argc, char *argv[])
{
  g_autofree char *home = g_dir_make_tmp("soffit-room-XXXXXX", NULL);
  g_setenv("XDG_CONFIG_HOME", home, TRUE);
  on_screen();
  gtk_test_init(&argc, &argv, NULL);
  theme_start();
  g_test_add_func("/table-room/clear", test_clear);
  g_test_add_func("/table-room/large-text", test_large_text);
  g_test_add_func("/table-room/soft", test_soft);
  int status = g_test_run();
  g_rmdir(home);
  return status;
}
