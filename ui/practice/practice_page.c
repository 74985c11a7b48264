/* practice_page.c - three columns below the row of steps; keys of the whole page.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/practice/practice_page.h"
#include "ui/practice/practice_columns.h"
#include "ui/practice/practice_parts.h"
#include "ui/words.h"

void practice_follow(SoffitPracticeDesk *desk, GtkWidget *widget, const char *const signal[],
                     GCallback follow, gpointer data)
{
  for (size_t i = 0; signal[i]; i++) {
    GClosure *closure = g_cclosure_new_swap(follow, data, NULL);
    g_object_watch_closure(G_OBJECT(widget), closure);
    g_signal_connect_closure(desk, signal[i], closure, FALSE);
  }
  ((void (*)(gpointer))follow)(data);
}

static gboolean key_pressed(GtkEventControllerKey *keys, guint key, guint code,
                            GdkModifierType state, gpointer data)
{
  (void)code;
  SoffitPracticeDesk *desk = data;
  GtkWidget *page = gtk_event_controller_get_widget(GTK_EVENT_CONTROLLER(keys));
  GtkWidget *focus = gtk_root_get_focus(gtk_widget_get_root(page));
  guint small = gdk_keyval_to_lower(key);
  if ((state & GDK_CONTROL_MASK) && small == GDK_KEY_l) {
    practice_list_open(g_object_get_data(G_OBJECT(page), "list"));
    return TRUE;
  }
  if ((state & GDK_CONTROL_MASK) && small == GDK_KEY_t) {
    practice_desk_open_hint(desk);
    return TRUE;
  }
  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) || (focus && GTK_IS_EDITABLE(focus)))
    return FALSE;
  switch (small) {
  case GDK_KEY_c:
    if (practice_desk_step(desk) != PRACTICE_SEE)
      return FALSE;
    practice_desk_set_cracking(desk, !practice_desk_cracking(desk));
    return TRUE;
  case GDK_KEY_t:
    if (practice_desk_step(desk) != PRACTICE_COMPARE)
      return FALSE;
    practice_desk_go(desk, practice_desk_has_step(desk, PRACTICE_REDRAW) ? PRACTICE_REDRAW
                                                                         : PRACTICE_SEE);
    return TRUE;
  case GDK_KEY_s:
    if (practice_desk_step(desk) != PRACTICE_COMPARE)
      return FALSE;
    practice_desk_set_swiping(desk, !practice_desk_swiping(desk));
    return TRUE;
  case GDK_KEY_x:
    if (practice_desk_step(desk) != PRACTICE_COMPARE)
      return FALSE;
    practice_desk_swap(desk);
    return TRUE;
  case GDK_KEY_n:
    if (practice_desk_step(desk) != PRACTICE_COMPARE)
      return FALSE;
    practice_desk_open_next(desk);
    return TRUE;
  default:
    return FALSE;
  }
}

/* What had the focus may be hidden now: keys would go nowhere. */
static gboolean focus_hold(gpointer data)
{
  GtkWidget *page = data;
  GtkRoot *root = gtk_widget_get_root(page);
  GtkWidget *focus = root ? gtk_root_get_focus(root) : NULL;
  if (root && gtk_widget_get_mapped(page) && (!focus || !gtk_widget_get_mapped(focus)))
    practice_page_enter(page);
  return G_SOURCE_REMOVE;
}

static void step_changed(GtkWidget *page)
{
  g_idle_add_full(G_PRIORITY_DEFAULT_IDLE, focus_hold, g_object_ref(page), g_object_unref);
}

GtkWidget *practice_page_new(const char *data_dir)
{
  SoffitPracticeDesk *desk = practice_desk_new(data_dir);
  GtkWidget *page = gtk_box_new(GTK_ORIENTATION_VERTICAL, 0), *middle = practice_middle_new(desk),
            *list = practice_list_button_new(desk), *task = practice_task_new(desk, list),
            *why = practice_why_new(desk), *columns = practice_columns_new(task, middle, why);
  gtk_widget_add_css_class(page, "practice");
  gtk_widget_set_vexpand(columns, TRUE);
  gtk_box_append(GTK_BOX(page), practice_steps_new(desk));
  GtkWidget *narrow = gtk_scrolled_window_new(); /* a small window shows a part of the columns */
  gtk_scrolled_window_set_policy(GTK_SCROLLED_WINDOW(narrow), GTK_POLICY_AUTOMATIC,
                                 GTK_POLICY_NEVER);
  gtk_scrolled_window_set_child(GTK_SCROLLED_WINDOW(narrow), columns);
  gtk_widget_set_vexpand(narrow, TRUE);
  gtk_box_append(GTK_BOX(page), narrow);
  GtkEventController *keys = gtk_event_controller_key_new();
  gtk_event_controller_set_name(keys, "practice-keys");
  g_signal_connect(keys, "key-pressed", G_CALLBACK(key_pressed), desk);
  gtk_widget_add_controller(page, keys);
  g_object_set_data(G_OBJECT(page), "middle", middle);
  practice_follow(desk, page, (const char *const[]){"exercise-changed", "step-changed", NULL},
                  G_CALLBACK(step_changed), page);
  g_object_set_data(G_OBJECT(page), "list", list);
  g_object_set_data_full(G_OBJECT(page), "desk", desk, g_object_unref);
  return page;
}

SoffitPracticeDesk *practice_page_desk(GtkWidget *page)
{
  return g_object_get_data(G_OBJECT(page), "desk");
}

void practice_page_enter(GtkWidget *page)
{
  gtk_widget_child_focus(g_object_get_data(G_OBJECT(page), "middle"), GTK_DIR_TAB_FORWARD);
}

char *practice_page_title(GtkWidget *page)
{
  const Exercise *e = practice_desk_exercise(practice_page_desk(page));
  return g_strdup_printf("%s %s", e->id, words_translate(e->title));
}
