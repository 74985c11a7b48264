/* workspaces.c - see workspaces.h.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/spoken.h"
#include "ui/workspaces.h"
#include "ui/words.h"

static const struct {
  const char *id, *name, *key;
} workspace[WORKSPACE_N] = {
    [WORKSPACE_TRACE] = {"trace", N_("Trace"), "Alt+1"},
    [WORKSPACE_REVIEW] = {"review", N_("Review"), "Alt+2"},
    [WORKSPACE_PRACTICE] = {"practice", N_("Practice"), "Alt+3"},
    [WORKSPACE_BARS] = {"bars", N_("Bars"), "Alt+4"},
};

typedef struct {
  GtkWidget *toggle[WORKSPACE_N];
  WorkspaceChosen chosen;
  void *data;
  bool showing;
} Switch;

const char *workspace_id(Workspace which)
{
  return workspace[which].id;
}

bool workspace_from_id(const char *id, Workspace *which)
{
  for (int i = 0; i < WORKSPACE_N; i++)
    if (g_strcmp0(id, workspace[i].id) == 0) {
      *which = (Workspace)i;
      return true;
    }
  return false;
}

static void toggled(GtkToggleButton *button, Switch *self)
{
  for (int i = 0; i < WORKSPACE_N && !self->showing && gtk_toggle_button_get_active(button); i++)
    if (self->toggle[i] == GTK_WIDGET(button))
      self->chosen(self->data, (Workspace)i);
}

GtkWidget *workspace_switch_new(WorkspaceChosen chosen, void *data)
{
  Switch *self = g_new0(Switch, 1);
  GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 0);
  self->chosen = chosen;
  self->data = data;
  gtk_widget_add_css_class(box, "workspaces");
  for (int i = 0; i < WORKSPACE_N; i++) {
    GtkWidget *button = self->toggle[i] =
        gtk_toggle_button_new_with_label(words_translate(workspace[i].name));
    if (i)
      gtk_toggle_button_set_group(GTK_TOGGLE_BUTTON(button), GTK_TOGGLE_BUTTON(self->toggle[0]));
    spoken_tooltip(button, workspace[i].key);
    gtk_box_append(GTK_BOX(box), button);
  }
  for (int i = 0; i < WORKSPACE_N; i++)
    g_signal_connect(self->toggle[i], "toggled", G_CALLBACK(toggled), self);
  g_object_set_data_full(G_OBJECT(box), "switch", self, g_free);
  workspace_switch_show(box, WORKSPACE_TRACE);
  return box;
}

void workspace_switch_show(GtkWidget *box, Workspace now)
{
  Switch *self = g_object_get_data(G_OBJECT(box), "switch");
  self->showing = true;
  gtk_toggle_button_set_active(GTK_TOGGLE_BUTTON(self->toggle[now]), TRUE);
  self->showing = false;
}
