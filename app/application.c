/* application.c - see application.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/application.h"
#include "app/key_table.h"
#include "ui/focus_ring.h"
#include "ui/theme.h"
#include "ui/window.h"
#include "ui/words.h"

#define APP_ID "org.soffit.Soffit"
#define DEMO "demo/QB-02.xml"
#define RECENT_MOST 10

struct _SoffitApplication {
  GtkApplication parent;
  GMenu *recent; /* owned; the submenu of every window */
};

G_DEFINE_FINAL_TYPE(SoffitApplication, application, GTK_TYPE_APPLICATION)

/* The window to act on: the active one, or a new one. */
static SoffitWindow *window_at_hand(SoffitApplication *self)
{
  GtkWindow *active = gtk_application_get_active_window(GTK_APPLICATION(self));
  while (active && !SOFFIT_IS_WINDOW(active))
    active = gtk_window_get_transient_for(active);
  SoffitWindow *window = active ? SOFFIT_WINDOW(active) : window_new(GTK_APPLICATION(self));
  gtk_window_present(GTK_WINDOW(window));
  return window;
}

/* --- recent files --- */

static int recent_order(const void *a, const void *b)
{
  GtkRecentInfo *left = *(GtkRecentInfo *const *)a, *right = *(GtkRecentInfo *const *)b;
  return g_date_time_compare(gtk_recent_info_get_modified(right),
                             gtk_recent_info_get_modified(left));
}

static void recent_fill(SoffitApplication *self)
{
  GList *items = gtk_recent_manager_get_items(gtk_recent_manager_get_default());
  g_autoptr(GPtrArray) ours = g_ptr_array_new();
  for (GList *item = items; item; item = item->next)
    if (gtk_recent_info_has_application(item->data, "soffit") && gtk_recent_info_exists(item->data))
      g_ptr_array_add(ours, item->data);
  g_ptr_array_sort(ours, recent_order);
  g_menu_remove_all(self->recent);
  for (guint i = 0; i < MIN(ours->len, RECENT_MOST); i++) {
    GtkRecentInfo *info = g_ptr_array_index(ours, i);
    g_autoptr(GMenuItem) item = g_menu_item_new(gtk_recent_info_get_display_name(info), NULL);
    g_menu_item_set_action_and_target(item, "app.open-recent", "s", gtk_recent_info_get_uri(info));
    g_menu_append_item(self->recent, item);
  }
  g_list_free_full(items, (GDestroyNotify)gtk_recent_info_unref);
}

/* --- actions --- */

static void action_new(GSimpleAction *action, GVariant *parameter, void *data)
{
  (void)action, (void)parameter;
  window_new_case(window_at_hand(data));
}

static void action_open(GSimpleAction *action, GVariant *parameter, void *data)
{
  (void)action, (void)parameter;
  window_choose_open(window_at_hand(data));
}

static void action_open_recent(GSimpleAction *action, GVariant *parameter, void *data)
{
  (void)action;
  g_autofree char *path = g_filename_from_uri(g_variant_get_string(parameter, NULL), NULL, NULL);
  if (path)
    window_open(window_at_hand(data), path);
}

static void action_demo(GSimpleAction *action, GVariant *parameter, void *data)
{
  (void)action, (void)parameter;
  window_open_demo(window_at_hand(data), DEMO);
}

static void action_colours(GSimpleAction *action, GVariant *value, void *data)
{
  (void)data;
  ThemeChoice choice;
  if (!theme_from_id(g_variant_get_string(value, NULL), &choice))
    return;
  g_simple_action_set_state(action, value);
  theme_choose(choice);
}

static void action_keys(GSimpleAction *action, GVariant *parameter, void *data)
{
  (void)action, (void)parameter;
  key_table_show(GTK_WINDOW(window_at_hand(data)));
}

static void action_about(GSimpleAction *action, GVariant *parameter, void *data)
{
  (void)action, (void)parameter;
  GtkWindow *parent = GTK_WINDOW(window_at_hand(data));
  GtkIconTheme *icons = gtk_icon_theme_get_for_display(gtk_widget_get_display(GTK_WIDGET(parent)));
  GtkWidget *about = g_object_new(
      GTK_TYPE_ABOUT_DIALOG, "transient-for", parent, "modal", TRUE, "destroy-with-parent", TRUE,
      "program-name", "Soffit", "version", SOFFIT_VERSION, "license-type", GTK_LICENSE_GPL_3_0,
      "logo-icon-name", gtk_icon_theme_has_icon(icons, APP_ID) ? APP_ID : NULL, "comments",
      _("Draw the embrasures of a zirconia bridge and see where it is stretched, how much it holds "
        "and what would help most.\n\nSoffit helps, it does not decide: the maker’s "
        "instructions, local rules and the licensed dentist come first. It is no medical device."),
      NULL);
  gtk_widget_add_css_class(about, "soffit");
  gtk_window_present(GTK_WINDOW(about));
}

/* Each window may ask about its changes; one that stays keeps the program alive. */
static void action_quit(GSimpleAction *action, GVariant *parameter, void *data)
{
  (void)action, (void)parameter;
  g_autoptr(GList) windows = g_list_copy(gtk_application_get_windows(data));
  for (GList *window = windows; window; window = window->next)
    if (SOFFIT_IS_WINDOW(window->data))
      gtk_window_close(window->data);
}

static void accelerators_set(GtkApplication *application)
{
  static const struct {
    const char *action, *keys[3];
  } key[] = {
      {"app.new", {"<Control>n"}},
      {"app.open", {"<Control>o"}},
      {"app.quit", {"<Control>q"}},
      {"app.keys", {"<Control>question", "<Control><Shift>question"}},
      {"win.save", {"<Control>s"}},
      {"win.save-as", {"<Control><Shift>s"}},
      {"win.undo", {"<Control>z"}},
      {"win.redo", {"<Control><Shift>z", "<Control>y"}},
      {"win.steps", {"<Control>h"}},
      {"win.side-column", {"F9"}},
      {"win.next-place", {"F6"}},
      {"win.edit-case", {"<Control>e"}},
      {"win.cards", {"<Control>m"}},
      {"win.import", {"<Control>i"}},
      {"win.export-drawing", {"<Control><Shift>e"}},
      {"win.print", {"<Control>p"}},
      {"win.records", {"<Control>b"}},
      {"win.who", {"<Control>u"}},
      {"win.remark", {"<Control>r"}},
      {"win.exercise", {"<Control><Shift>l"}},
      {"win.class", {"<Control><Shift>k"}},
      {"win.close-case", {"<Control>w"}},
      {"win.workspace::trace", {"<Alt>1"}},
      {"win.workspace::review", {"<Alt>2"}},
      {"win.workspace::practice", {"<Alt>3"}},
      {"win.workspace::bars", {"<Alt>4"}},
      {"win.open-lab", {"<Control><Shift>o"}},
  };
  for (size_t i = 0; i < G_N_ELEMENTS(key); i++)
    gtk_application_set_accels_for_action(application, key[i].action,
                                          (const char *const *)key[i].keys);
}

/* --- the application --- */

static void application_startup(GApplication *application)
{
  SoffitApplication *self = SOFFIT_APPLICATION(application);
  static const GActionEntry entry[] = {
      {.name = "new", .activate = action_new},
      {.name = "open", .activate = action_open},
      {.name = "open-recent", .activate = action_open_recent, .parameter_type = "s"},
      {.name = "demo", .activate = action_demo},
      {.name = "colours",
       .parameter_type = "s",
       .state = "'desktop'",
       .change_state = action_colours},
      {.name = "keys", .activate = action_keys},
      {.name = "about", .activate = action_about},
      {.name = "quit", .activate = action_quit},
  };
  G_APPLICATION_CLASS(application_parent_class)->startup(application);
  theme_start();
  focus_ring_start();
  gtk_window_set_default_icon_name(APP_ID);
  g_action_map_add_action_entries(G_ACTION_MAP(self), entry, G_N_ELEMENTS(entry), self);
  GAction *colours = g_action_map_lookup_action(G_ACTION_MAP(self), "colours");
  g_simple_action_set_state(G_SIMPLE_ACTION(colours),
                            g_variant_new_string(theme_id(theme_choice())));
  accelerators_set(GTK_APPLICATION(self));
  g_object_set_data(G_OBJECT(self), "recent-menu", self->recent);
  recent_fill(self);
  g_signal_connect_object(gtk_recent_manager_get_default(), "changed", G_CALLBACK(recent_fill),
                          self, G_CONNECT_SWAPPED);
}

static void application_activate(GApplication *application)
{
  window_at_hand(SOFFIT_APPLICATION(application));
}

/* Each case has a window of its own; an empty one is used first.  Drawings and surfaces go into the
 * case at hand. */
static void application_open(GApplication *application, GFile **file, int n_file, const char *hint)
{
  (void)hint;
  for (int i = 0; i < n_file; i++) {
    SoffitWindow *window = window_at_hand(SOFFIT_APPLICATION(application));
    g_autofree char *path = g_file_get_path(file[i]);
    if (path && g_file_test(path, G_FILE_TEST_IS_DIR)) {
      window_open_lab(window, path);
      continue;
    }
    if (session_has_case(window_session(window)) && !(path && window_imports(path)))
      window = window_new(GTK_APPLICATION(application));
    if (path)
      window_open(window, path);
    else
      window_error(window,
                   _("Only files on this computer can be opened. Copy the case here first."));
    gtk_window_present(GTK_WINDOW(window));
  }
}

static void window_end(void *window)
{
  gtk_window_destroy(window); /* ends its work in hand first */
}

static void window_drawn(GdkFrameClock *clock, void *window)
{
  g_signal_handlers_disconnect_matched(clock, G_SIGNAL_MATCH_DATA, 0, 0, NULL, NULL, window);
  g_idle_add_once(window_end, window);
}

static int application_command_line(GApplication *application, GApplicationCommandLine *line)
{
  GVariantDict *options = g_application_command_line_get_options_dict(line);
  int n = 0;
  g_auto(GStrv) arguments = g_application_command_line_get_arguments(line, &n);
  g_autoptr(GPtrArray) files = g_ptr_array_new_with_free_func(g_object_unref);
  for (int i = 1; i < n; i++)
    g_ptr_array_add(files, g_application_command_line_create_file_for_arg(line, arguments[i]));
  if (files->len > 0)
    g_application_open(application, (GFile **)files->pdata, (int)files->len, "");
  else
    g_application_activate(application);
  if (g_variant_dict_contains(options, "demo"))
    g_action_group_activate_action(G_ACTION_GROUP(application), "demo", NULL);
  if (g_variant_dict_contains(options, "exit-when-drawn")) {
    GtkWidget *window = GTK_WIDGET(window_at_hand(SOFFIT_APPLICATION(application)));
    g_signal_connect(gtk_widget_get_frame_clock(window), "after-paint", G_CALLBACK(window_drawn),
                     window);
    return 0;
  }
  window_offer_recovery(window_at_hand(SOFFIT_APPLICATION(application)));
  return 0;
}

static void application_dispose(GObject *object)
{
  g_clear_object(&SOFFIT_APPLICATION(object)->recent);
  G_OBJECT_CLASS(application_parent_class)->dispose(object);
}

static void application_class_init(SoffitApplicationClass *class)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS(class);
  G_OBJECT_CLASS(class)->dispose = application_dispose;
  application_class->startup = application_startup;
  application_class->activate = application_activate;
  application_class->open = application_open;
  application_class->command_line = application_command_line;
}

static void application_init(SoffitApplication *self)
{
  const GOptionEntry option[] = {
      {"demo", 0, 0, G_OPTION_ARG_NONE, NULL, _("Open the demo case QB-02"), NULL},
      {"exit-when-drawn", 0, 0, G_OPTION_ARG_NONE, NULL,
       _("Close as soon as the window is drawn, to time the start"), NULL},
      G_OPTION_ENTRY_NULL};
  self->recent = g_menu_new();
  g_application_add_main_option_entries(G_APPLICATION(self), option);
  g_application_set_option_context_parameter_string(G_APPLICATION(self), _("[CASE.xml… | FOLDER]"));
}

SoffitApplication *application_new(void)
{
  return g_object_new(SOFFIT_TYPE_APPLICATION, "application-id", APP_ID, "flags",
                      G_APPLICATION_HANDLES_OPEN | G_APPLICATION_HANDLES_COMMAND_LINE, NULL);
}
