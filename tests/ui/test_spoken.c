/* test_spoken.c - what is shown under a pointer that rests, asked as GTK asks.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "on_screen.h"
#include "ui/spoken.h"

static bool asked(GtkWidget *widget)
{
  GtkTooltip *tooltip = g_object_new(GTK_TYPE_TOOLTIP, NULL);
  gboolean shown = FALSE;
  g_signal_emit_by_name(widget, "query-tooltip", 1, 1, FALSE, tooltip, &shown);
  g_object_unref(tooltip);
  return shown;
}

static void test_tooltip(void)
{
  GtkWidget *widget = g_object_ref_sink(gtk_label_new("3.25 mm"));
  g_assert_false(gtk_widget_get_has_tooltip(widget));
  spoken_tooltip(widget, "Neck height");
  g_assert_true(gtk_widget_get_has_tooltip(widget));
  g_assert_true(asked(widget));
  spoken_tooltip(widget, "Neck width");
  g_assert_true(asked(widget));
  g_assert_cmpuint(g_signal_handlers_disconnect_matched(
                       widget, G_SIGNAL_MATCH_ID | G_SIGNAL_MATCH_DATA,
                       g_signal_lookup("query-tooltip", GTK_TYPE_WIDGET), 0, NULL, NULL, NULL),
                   ==, 1); /* one answers, however often it changed */
  g_object_unref(widget);
}

static void test_tooltip_none(void)
{
  static const char *const none[] = {NULL, ""};
  for (guint i = 0; i < G_N_ELEMENTS(none); i++) {
    GtkWidget *widget = g_object_ref_sink(gtk_label_new("3.25 mm"));
    spoken_tooltip(widget, "Neck height");
    spoken_tooltip(widget, none[i]);
    g_assert_false(gtk_widget_get_has_tooltip(widget));
    g_assert_false(asked(widget));
    g_object_unref(widget);
  }
}

int main(int argc, char **argv)
{
  on_screen();
  g_test_init(&argc, &argv, NULL);
  gtk_init();
  g_test_add_func("/spoken/tooltip", test_tooltip);
  g_test_add_func("/spoken/tooltip/none", test_tooltip_none);
  return g_test_run();
}
