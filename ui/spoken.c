/* spoken.c - see spoken.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/spoken.h"

static void property_set(GtkWidget *widget, GtkAccessibleProperty property, const char *key,
                         const char *text)
{
  if (g_strcmp0(g_object_get_data(G_OBJECT(widget), key), text) == 0)
    return;
  g_object_set_data_full(G_OBJECT(widget), key, g_strdup(text), g_free);
  gtk_accessible_update_property(GTK_ACCESSIBLE(widget), property, text, -1);
}

void spoken_name(GtkWidget *widget, const char *name)
{
  property_set(widget, GTK_ACCESSIBLE_PROPERTY_LABEL, "soffit-spoken-name", name);
}

void spoken_description(GtkWidget *widget, const char *description)
{
  property_set(widget, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, "soffit-spoken-description",
               description);
}

#define TOOLTIP "soffit-tooltip"

static gboolean tooltip_asked(GtkWidget *widget, int x, int y, gboolean keyboard,
                              GtkTooltip *tooltip)
{
  (void)x, (void)y, (void)keyboard;
  const char *text = g_object_get_data(G_OBJECT(widget), TOOLTIP);
  gtk_tooltip_set_text(tooltip, text);
  return text && *text;
}

void spoken_tooltip(GtkWidget *widget, const char *text)
{
  const char *before = g_object_get_data(G_OBJECT(widget), TOOLTIP);
  if (g_strcmp0(before, text) == 0)
    return;
  if (!g_object_get_data(G_OBJECT(widget), TOOLTIP "-asked")) {
    g_signal_connect(widget, "query-tooltip", G_CALLBACK(tooltip_asked), NULL);
    g_object_set_data(G_OBJECT(widget), TOOLTIP "-asked", widget);
  }
  g_object_set_data_full(G_OBJECT(widget), TOOLTIP, g_strdup(text), g_free);
  gtk_widget_set_has_tooltip(widget, text && *text);
}
