/* test_figures_window.c - the figures of a lab in their window: read on threads, shown and said.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "on_screen.h"
#include "casefile/shipped.h"
#include "ui/figures_words.h"
#include "ui/review/figures_window.h"
#include "ui/words.h"
#include <glib/gstdio.h>
#include <string.h>

static char *folder;

static void case_put(const char *demo, const char *name)
{
  g_autoptr(GBytes) bytes = shipped_file(demo);
  gsize size;
  const char *text = g_bytes_get_data(bytes, &size);
  g_autofree char *path = g_build_filename(folder, name, NULL);
  g_assert_true(g_file_set_contents(path, text, (gssize)size, NULL));
}

/* The first label below a widget that begins with these words; NULL. */
static GtkWidget *label_find(GtkWidget *widget, const char *words)
{
  if (GTK_IS_LABEL(widget) && g_str_has_prefix(gtk_label_get_text(GTK_LABEL(widget)), words))
    return widget;
  GtkWidget *found = NULL;
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child && !found;
       child = gtk_widget_get_next_sibling(child))
    found = label_find(child, words);
  return found;
}

/* What is folded up is no part of the window. */
static void words_unfold(GtkWidget *widget)
{
  if (GTK_IS_EXPANDER(widget))
    gtk_expander_set_expanded(GTK_EXPANDER(widget), TRUE);
  for (GtkWidget *child = gtk_widget_get_first_child(widget); child;
       child = gtk_widget_get_next_sibling(child))
    words_unfold(child);
}

static GtkWidget *window_open(void)
{
  figures_window_show(NULL, folder);
  GListModel *windows = gtk_window_get_toplevels();
  GtkWidget *window = g_list_model_get_item(windows, 0);
  g_object_unref(window); /* the toolkit's */
  words_unfold(window);
  return window;
}

static GtkWidget *label_await(GtkWidget *window, const char *words)
{
  GtkWidget *label;
  while (!(label = label_find(window, words)))
    g_main_context_iteration(NULL, TRUE);
  return label;
}

static void test_shown(void)
{
  GtkWidget *window = window_open();
  label_await(window, "2 cases in all");
  g_assert_nonnull(label_find(window, "Returned never 2"));
  g_assert_nonnull(label_find(window, "Roof radius: half of them below"));
  GtkWidget *words = label_find(window, "Predicted 0 to 1 in 100");
  g_assert_nonnull(strstr(gtk_label_get_text(GTK_LABEL(words)), "too few to tell"));
  g_assert_nonnull(strstr(gtk_label_get_text(GTK_LABEL(words)), "proves no design"));
  label_await(window, "1 file has no answer");
  GtkWidget *hands = label_find(window, "By technician");
  g_assert_false(gtk_widget_get_visible(gtk_widget_get_parent(hands))); /* off by default */
  gtk_window_destroy(GTK_WINDOW(window));
}

/* Closed while it reads: the threads end, nothing is called any more. */
static void test_closed(void)
{
  GtkWidget *window = window_open();
  gtk_window_destroy(GTK_WINDOW(window));
  while (g_main_context_iteration(NULL, FALSE))
    ;
}

static void test_gone(void)
{
  g_autofree char *kept = folder;
  folder = g_build_filename(kept, "gone", NULL);
  GtkWidget *window = window_open();
  label_await(window, folder);
  gtk_window_destroy(GTK_WINDOW(window));
  g_free(folder);
  folder = g_steal_pointer(&kept);
}

int main(int argc, char **argv)
{
  on_screen();
  g_test_init(&argc, &argv, NULL);
  words_start();
  gtk_init();
  folder = g_dir_make_tmp("figures-XXXXXX", NULL);
  case_put("demo/QB-01.xml", "a.xml");
  case_put("demo/QB-10.xml", "b.xml");
  case_put("materials.xml", "c.xml");
  g_test_add_func("/figures_window/shown", test_shown);
  g_test_add_func("/figures_window/closed", test_closed);
  g_test_add_func("/figures_window/gone", test_gone);
  int status = g_test_run();
  static const char *const name[] = {"a.xml", "b.xml", "c.xml"};
  for (size_t i = 0; i < G_N_ELEMENTS(name); i++) {
    g_autofree char *path = g_build_filename(folder, name[i], NULL);
    g_remove(path);
  }
  g_rmdir(folder);
  g_free(folder);
  return status;
}
