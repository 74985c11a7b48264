/* workspaces.h - the switch in the header: one toggle a workspace.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once
#include <gtk/gtk.h>
#include <stdbool.h>

/* In the order of the switch. */
typedef enum {
  WORKSPACE_TRACE,
  WORKSPACE_REVIEW,
  WORKSPACE_PRACTICE,
  WORKSPACE_BARS,
  WORKSPACE_N
} Workspace;

const char *
workspace_id(Workspace workspace); /* "trace": parameter of win.workspace, name of the page */
bool workspace_from_id(const char *id, Workspace *workspace);

/* chosen(data, workspace) when a person turns to another. */
typedef void (*WorkspaceChosen)(void *data, Workspace workspace);
GtkWidget *workspace_switch_new(WorkspaceChosen chosen, void *data);
void workspace_switch_show(GtkWidget *workspace_switch, Workspace now); /* chosen() is not called */
