/* theme.c - two sets of colours under one set of rules, each with a set for high contrast on top.
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * As the desktop: the portal's colour scheme and contrast where there is one, else what the theme
 * of GTK is called: HighContrast, HighContrastInverse, names with -hc, names with -dark. */
#include "ui/theme.h"
#include "ui/preferences.h"
#include <gio/gio.h>

#define RESOURCE "/org/soffit/Soffit/css/"
#define TEXT_PX 15.0 /* look.md "Type"        */
#define PREFER_DARK "gtk-application-prefer-dark-theme"

typedef struct {
  GtkCssProvider *colours, *rules, *size, *contrast;
  GDBusProxy *portal;
  ThemeChoice choice;
  bool settings_dark;   /* as GTK's settings stood at start */
  int portal_scheme;    /* 0 no preference, 1 dark, 2 light, -1 unknown */
  bool portal_contrast; /* the desktop asks for more of it */
} Theme;

static Theme theme; /* one display, one theme */

static const char *const choice_id[THEME_N] = {"desktop", "light", "dark"};

const char *theme_id(ThemeChoice choice)
{
  return choice_id[choice];
}

bool theme_from_id(const char *id, ThemeChoice *choice)
{
  for (int i = 0; i < THEME_N; i++) {
    if (g_strcmp0(id, choice_id[i]) == 0) {
      *choice = (ThemeChoice)i;
      return true;
    }
  }
  return false;
}

bool theme_dark(void)
{
  gboolean dark = FALSE;
  g_object_get(gtk_settings_get_default(), PREFER_DARK, &dark, NULL);
  return dark;
}

/* Owned: what the desktop, or the variable that GTK itself obeys, calls the theme. */
static char *theme_name(void)
{
  const char *told = g_getenv("GTK_THEME");
  char *name = NULL;
  if (told)
    return g_strdup(told);
  g_object_get(gtk_settings_get_default(), "gtk-theme-name", &name, NULL);
  return name ? name : g_strdup("");
}

bool theme_contrast(void)
{
  g_autofree char *name = theme_name();
  return theme.portal_contrast || g_str_has_prefix(name, "HighContrast") || strstr(name, "-hc") ||
         strstr(name, ":hc");
}

static bool desktop_dark(void)
{
  g_autofree char *name = theme_name();
  if (g_str_has_suffix(name, "-dark") || g_str_has_suffix(name, ":dark") ||
      g_str_equal(name, "HighContrastInverse"))
    return true;
  return theme.portal_scheme > 0 ? theme.portal_scheme == 1 : theme.settings_dark;
}

static void theme_apply(void)
{
  bool dark = theme.choice == THEME_DARK || (theme.choice == THEME_DESKTOP && desktop_dark());
  gtk_css_provider_load_from_resource(theme.colours,
                                      dark ? RESOURCE "dark.css" : RESOURCE "light.css");
  if (!theme_contrast())
    gtk_css_provider_load_from_data(theme.contrast, "", 0);
  else
    gtk_css_provider_load_from_resource(theme.contrast, dark ? RESOURCE "dark-contrast.css"
                                                             : RESOURCE "light-contrast.css");
  g_object_set(gtk_settings_get_default(), PREFER_DARK, dark, NULL);
}

/* The desktop's font size, but not below the size that the look was measured with. */
static void text_size_apply(void)
{
  GtkSettings *settings = gtk_settings_get_default();
  g_autofree char *name = NULL;
  int dpi = 0;
  g_object_get(settings, "gtk-font-name", &name, "gtk-xft-dpi", &dpi, NULL);
  double scale = dpi > 0 ? dpi / 1024.0 / 96.0 : 1;
  PangoFontDescription *font = pango_font_description_from_string(name ? name : "Sans 11");
  double px = pango_font_description_get_size(font) / (double)PANGO_SCALE;
  if (!pango_font_description_get_size_is_absolute(font))
    px *= 96.0 / 72.0 * scale;
  pango_font_description_free(font);
  int thousandths = (int)(1000 * MAX(px, TEXT_PX * scale)); /* no decimal sign of the locale */
  g_autofree char *css =
      g_strdup_printf("window { font-size: %d.%03dpx; }", thousandths / 1000, thousandths % 1000);
  gtk_css_provider_load_from_data(theme.size, css, -1);
}

typedef struct {
  const char *space, *key;
} PortalKey;

static const PortalKey portal_key[] = {
    {"org.freedesktop.appearance", "color-scheme"},
    {"org.freedesktop.appearance", "contrast"},
    {"org.gnome.desktop.a11y.interface", "high-contrast"},
};

static void portal_value_read(const char *key, GVariant *value)
{
  g_autoptr(GVariant) inner = g_variant_ref(value);
  while (g_variant_is_of_type(inner, G_VARIANT_TYPE_VARIANT)) {
    GVariant *next = g_variant_get_variant(inner);
    g_variant_unref(inner);
    inner = next;
  }
  bool number = g_variant_is_of_type(inner, G_VARIANT_TYPE_UINT32);
  if (number && g_str_equal(key, "color-scheme"))
    theme.portal_scheme = (int)g_variant_get_uint32(inner);
  else if (number)
    theme.portal_contrast = g_variant_get_uint32(inner) == 1;
  else if (g_variant_is_of_type(inner, G_VARIANT_TYPE_BOOLEAN))
    theme.portal_contrast = g_variant_get_boolean(inner);
  theme_apply();
}

static void portal_signal(GDBusProxy *proxy, const char *sender, const char *signal,
                          GVariant *parameters, void *data)
{
  (void)proxy, (void)sender, (void)data;
  const char *space = NULL, *key = NULL;
  if (g_strcmp0(signal, "SettingChanged") != 0 ||
      !g_variant_is_of_type(parameters, G_VARIANT_TYPE("(ssv)")))
    return;
  g_autoptr(GVariant) value = NULL;
  g_variant_get(parameters, "(&s&sv)", &space, &key, &value);
  for (size_t i = 0; i < G_N_ELEMENTS(portal_key); i++)
    if (g_str_equal(space, portal_key[i].space) && g_str_equal(key, portal_key[i].key))
      portal_value_read(key, value);
}

static void portal_answered(GObject *proxy, GAsyncResult *result, void *data)
{
  const PortalKey *asked = data;
  g_autoptr(GVariant) answer = g_dbus_proxy_call_finish(G_DBUS_PROXY(proxy), result, NULL);
  if (answer == NULL || !g_variant_is_of_type(answer, G_VARIANT_TYPE("(v)")))
    return; /* no portal, or an older one: the name of the theme counts */
  g_autoptr(GVariant) value = g_variant_get_child_value(answer, 0);
  portal_value_read(asked->key, value);
}

static void portal_opened(GObject *source, GAsyncResult *result, void *data)
{
  (void)source, (void)data;
  theme.portal = g_dbus_proxy_new_for_bus_finish(result, NULL);
  if (theme.portal == NULL)
    return;
  g_signal_connect(theme.portal, "g-signal", G_CALLBACK(portal_signal), NULL);
  for (size_t i = 0; i < G_N_ELEMENTS(portal_key); i++)
    g_dbus_proxy_call(
        theme.portal, "Read", g_variant_new("(ss)", portal_key[i].space, portal_key[i].key),
        G_DBUS_CALL_FLAGS_NO_AUTO_START, 2000, NULL, portal_answered, (void *)&portal_key[i]);
}

static GtkCssProvider *provider_add(guint priority)
{
  GtkCssProvider *provider = gtk_css_provider_new();
  gtk_style_context_add_provider_for_display(gdk_display_get_default(),
                                             GTK_STYLE_PROVIDER(provider), priority);
  return provider;
}

void theme_start(void)
{
  if (theme.colours)
    return;
  GtkSettings *settings = gtk_settings_get_default();
  g_autofree char *kept = preference_word("colours");
  theme.settings_dark = theme_dark();
  theme.portal_scheme = -1;
  if (!theme_from_id(kept, &theme.choice))
    theme.choice = THEME_DESKTOP;
  theme.colours = provider_add(GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  theme.size = provider_add(GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  theme.rules = provider_add(GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 1);
  theme.contrast = provider_add(GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 2);
  gtk_css_provider_load_from_resource(theme.rules, RESOURCE "soffit.css");
  theme_apply();
  text_size_apply();
  g_signal_connect(settings, "notify::gtk-theme-name", G_CALLBACK(theme_apply), NULL);
  g_signal_connect(settings, "notify::gtk-font-name", G_CALLBACK(text_size_apply), NULL);
  g_signal_connect(settings, "notify::gtk-xft-dpi", G_CALLBACK(text_size_apply), NULL);
  g_dbus_proxy_new_for_bus(G_BUS_TYPE_SESSION, G_DBUS_PROXY_FLAGS_DO_NOT_AUTO_START, NULL,
                           "org.freedesktop.portal.Desktop", "/org/freedesktop/portal/desktop",
                           "org.freedesktop.portal.Settings", NULL, portal_opened, NULL);
}

ThemeChoice theme_choice(void)
{
  return theme.choice;
}

void theme_choose(ThemeChoice choice)
{
  theme.choice = choice;
  preference_word_set("colours", choice_id[choice]);
  theme_apply();
}
