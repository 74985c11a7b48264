/* window_print.c - the action that prints the open case.
 * SPDX-License-Identifier: GPL-3.0-or-later */
#include "ui/print_dialog.h"
#include "ui/window_private.h"

static void action_print(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  print_dialog_new(SOFFIT_WINDOW(widget));
}

void window_print_state(SoffitWindow *self)
{
  bool known = session_has_case(self->session) && session_assessment(self->session);
  gtk_widget_action_set_enabled(GTK_WIDGET(self), "win.print", known);
}

void window_print_actions(GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action(widget_class, "win.print", NULL, action_print);
}
