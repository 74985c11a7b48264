/* window_exercise.c - what a teacher does: an exercise of what is at hand, the connector of the
 * open case or in Practice the exercise there; the class. SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ui/practice/class_dialog.h"
#include "ui/practice/exercise_dialog.h"
#include "ui/practice/practice_page.h"
#include "ui/window_private.h"
#include "ui/words.h"

static void action_exercise(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  SoffitWindow *self = SOFFIT_WINDOW(widget);
  SoffitPracticeDesk *desk = practice_page_desk(window_page(self, WORKSPACE_PRACTICE));
  const Case *c = session_case(self->session);
  if (self->at == WORKSPACE_PRACTICE)
    exercise_dialog_edit(GTK_WINDOW(self), desk, practice_desk_exercise(desk));
  else if (session_has_case(self->session) && c->n_unit > 1)
    exercise_dialog_new(GTK_WINDOW(self), desk, c, session_focus(self->session));
  else
    window_error(self, _("An exercise is made from a connector: open a case first, or go to "
                         "Practice and change one."));
}

static void action_class(GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void)name, (void)parameter;
  class_dialog_new(GTK_WINDOW(widget),
                   practice_page_desk(window_page(SOFFIT_WINDOW(widget), WORKSPACE_PRACTICE)));
}

void window_exercise_actions(GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action(widget_class, "win.exercise", NULL, action_exercise);
  gtk_widget_class_install_action(widget_class, "win.class", NULL, action_class);
}
