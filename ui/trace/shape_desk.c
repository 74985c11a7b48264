/* shape_desk.c - see shape_desk.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/trace/shape_desk.h"
#include "ui/canvas/draw_context.h"
#include "ui/dialog_window.h"
#include "ui/spoken.h"
#include "ui/words.h"
#include <math.h>

#define REACH_PX 22.0

/* ---- the window ---- */

typedef struct {
  GtkWidget *window;
  SoffitSession *session; /* owned ref */
  const char *title;
  void (*fill)(void *desk);
  void (*free)(void *desk);
  void *desk; /* owned */
} Follower;

static void follow(Follower *follower)
{
  const Case *c = session_case(follower->session);
  size_t connector = session_focus(follower->session);
  char name[12];
  if (!session_has_case(follower->session) || connector + 1 >= c->n_unit) {
    gtk_window_destroy(GTK_WINDOW(follower->window));
    return;
  }
  connector_name(c, connector, '/', name);
  g_autofree char *title = g_strdup_printf(follower->title, name);
  gtk_window_set_title(GTK_WINDOW(follower->window), title);
  if (follower->fill)
    follower->fill(follower->desk);
}

static void follower_free(void *data)
{
  Follower *follower = data;
  g_signal_handlers_disconnect_by_data(follower->session, follower);
  if (follower->free)
    follower->free(follower->desk);
  g_object_unref(follower->session);
  g_free(follower);
}

static gboolean step_asked(GtkWidget *window, GVariant *redo, gpointer session)
{
  (void)window;
  if (g_variant_get_boolean(redo))
    session_redo(session);
  else
    session_undo(session);
  return TRUE;
}

static void step_key_add(GtkEventController *keys, guint key, GdkModifierType with, bool redo,
                         SoffitSession *session)
{
  GtkShortcut *shortcut = gtk_shortcut_new(gtk_keyval_trigger_new(key, with),
                                           gtk_callback_action_new(step_asked, session, NULL));
  gtk_shortcut_set_arguments(shortcut, g_variant_new_boolean(redo));
  gtk_shortcut_controller_add_shortcut(GTK_SHORTCUT_CONTROLLER(keys), shortcut);
}

GtkWidget *shape_window_new(GtkWindow *parent, SoffitSession *session, const char *title,
                            GtkWidget **box)
{
  Follower *follower = g_new0(Follower, 1);
  follower->session = g_object_ref(session);
  follower->title = title;
  GtkWidget *window = follower->window = dialog_window_new(parent, "", 0, 0);
  *box = gtk_box_new(GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_add_css_class(*box, "form");
  gtk_window_set_child(GTK_WINDOW(window), *box);
  GtkEventController *keys = gtk_shortcut_controller_new();
  step_key_add(keys, GDK_KEY_z, GDK_CONTROL_MASK, false, session);
  step_key_add(keys, GDK_KEY_z, GDK_CONTROL_MASK | GDK_SHIFT_MASK, true, session);
  step_key_add(keys, GDK_KEY_y, GDK_CONTROL_MASK, true, session);
  gtk_widget_add_controller(window, keys);
  g_object_set_data_full(G_OBJECT(window), "follower", follower, follower_free);
  return window;
}

void shape_window_follow(GtkWidget *window, SoffitSession *session, void (*fill)(void *desk),
                         void *desk, void (*free)(void *desk))
{
  Follower *follower = g_object_get_data(G_OBJECT(window), "follower");
  follower->fill = fill;
  follower->free = free;
  follower->desk = desk;
  static const char *const when[] = {"case-changed", "assessment-changed", "focus-changed"};
  for (size_t i = 0; i < G_N_ELEMENTS(when); i++)
    g_signal_connect_swapped(session, when[i], G_CALLBACK(follow), follower);
  follow(follower);
}

/* ---- the picture ---- */

GtkWidget *shape_picture_new(const char *name, int width, int height, const ShapeHand *hand,
                             gpointer desk)
{
  GtkWidget *picture = gtk_drawing_area_new();
  gtk_drawing_area_set_draw_func(GTK_DRAWING_AREA(picture), hand->draw, desk, NULL);
  gtk_widget_set_size_request(picture, width, height);
  gtk_widget_set_vexpand(picture, TRUE);
  gtk_widget_set_focusable(picture, TRUE);
  spoken_name(picture, name);
  GtkGesture *drag = gtk_gesture_drag_new();
  g_signal_connect(drag, "drag-begin", G_CALLBACK(hand->press), desk);
  g_signal_connect(drag, "drag-update", G_CALLBACK(hand->drag), desk);
  g_signal_connect(drag, "drag-end", G_CALLBACK(hand->release), desk);
  gtk_widget_add_controller(picture, GTK_EVENT_CONTROLLER(drag));
  GtkEventController *keys = gtk_event_controller_key_new();
  g_signal_connect(keys, "key-pressed", G_CALLBACK(hand->key), desk);
  gtk_widget_add_controller(picture, keys);
  return picture;
}

double shape_reach_mm(GtkWidget *picture, View view)
{
  return REACH_PX * text_scale(picture) / view.scale;
}

/* ---- words ---- */

GtkWidget *shape_note_new(const char *text)
{
  GtkWidget *note = gtk_label_new(text);
  gtk_label_set_wrap(GTK_LABEL(note), TRUE);
  gtk_label_set_xalign(GTK_LABEL(note), 0);
  gtk_widget_add_css_class(note, "note");
  return note;
}

void shape_tell(GtkWidget *message, const char *text)
{
  gtk_label_set_text(GTK_LABEL(message), text);
  (*text ? gtk_widget_add_css_class : gtk_widget_remove_css_class)(message, "wrong");
  spoken_name(message, *text ? text : _("No message"));
}

void shape_figures_show(GtkWidget *note, SoffitSession *session)
{
  const Assessment *a = session_assessment(session);
  size_t connector = session_focus(session);
  if (!a || connector >= a->n_connector)
    return;
  const ConnectorAssessment *k = &a->connector[connector];
  g_autofree char *text = NULL;
  if (k->fault)
    text = g_strdup(_(fault_text(k->fault)));
  else if (k->field && k->section.area > 0)
    text = g_strdup_printf(_("%.1f mm², most stretched %.0f MPa (%.0f to %.0f)"), k->section.area,
                           k->trial_peak_mpa.value, k->trial_peak_mpa.low, k->trial_peak_mpa.high);
  gtk_label_set_text(GTK_LABEL(note), text ? text : "");
}

void shape_able(GtkWidget *widget, bool able)
{
  if (!able && gtk_widget_has_focus(widget))
    gtk_widget_child_focus(GTK_WIDGET(gtk_widget_get_root(widget)), GTK_DIR_TAB_FORWARD);
  gtk_widget_set_sensitive(widget, able);
}

static void undo_fill(GtkWidget *button)
{
  SoffitSession *session = g_object_get_data(G_OBJECT(button), "session");
  const char *name = session_undo_name(session);
  g_autofree char *words =
      name ? g_strdup_printf("%s: %s", _("Undo"), _(name)) : g_strdup(_("Undo"));
  gtk_button_set_label(GTK_BUTTON(button), words);
  shape_able(button, name != NULL);
}

static void undo_clicked(GtkWidget *button)
{
  session_undo(g_object_get_data(G_OBJECT(button), "session"));
}

GtkWidget *shape_undo_new(SoffitSession *session)
{
  GtkWidget *button = dialog_button_new("", "quiet", G_CALLBACK(undo_clicked), NULL);
  gtk_widget_set_size_request(button, -1, 44);
  gtk_widget_set_halign(button, GTK_ALIGN_START);
  g_object_set_data_full(G_OBJECT(button), "session", g_object_ref(session), g_object_unref);
  g_signal_connect_object(session, "state-changed", G_CALLBACK(undo_fill), button,
                          G_CONNECT_SWAPPED);
  undo_fill(button);
  return button;
}
